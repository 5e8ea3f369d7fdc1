//! What a vehicle offers to bolt a kit to, what must stay in reach, and how a carcase uses the points; mm and degrees.

use crate::diag::{At, Span};
use crate::geom::{Aabb, Point3, VehicleFrame};

/// A threaded point in the load bay.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Anchor {
    /// Unique in the bay.
    pub(crate) id: At<String>,
    /// The upper end of its axis.
    pub(crate) place: Point3<VehicleFrame>,
    /// Thread size, e.g. `M8`.
    pub(crate) thread: At<String>,
    /// mm that a bolt may go in.
    pub(crate) depth: Option<At<f64>>,
    /// What it belongs to.
    pub(crate) kind: At<AnchorKind>,
    /// Degrees by which its axis leans from upright.
    pub(crate) slope: At<f64>,
    /// mm by which its place may be off along x and y, either way.
    pub(crate) tolerance: (f64, f64),
    /// N that the vehicle's maker allows.
    pub(crate) rating: Option<At<f64>>,
    /// Where it is described.
    pub(crate) span: Span,
}

/// What a threaded point belongs to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum AnchorKind {
    /// A point for tying loads down.
    TieDown,
    /// A seat's fixing.
    Seat,
    /// A seat belt's anchorage.
    SeatBelt,
    /// A child restraint's anchorage.
    ChildRestraint,
    /// Something else that carries nothing by law.
    Other,
}

impl AnchorKind {
    /// Whether it holds people, so that only a licensed engineer may say what is bolted to it.
    pub(crate) fn holds_people(self) -> bool {
        matches!(self, AnchorKind::Seat | AnchorKind::SeatBelt | AnchorKind::ChildRestraint)
    }

    /// In words.
    pub(crate) fn words(self) -> &'static str {
        match self {
            AnchorKind::TieDown => "tie-down point",
            AnchorKind::Seat => "seat fixing",
            AnchorKind::SeatBelt => "seat-belt anchorage",
            AnchorKind::ChildRestraint => "child-restraint anchorage",
            AnchorKind::Other => "threaded point",
        }
    }
}

/// Room that must stay in reach.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Reach {
    /// Unique in the bay.
    pub(crate) id: At<String>,
    /// The room.
    pub(crate) room: Aabb,
    /// Where it is described.
    pub(crate) span: Span,
}

/// How a carcase is held by a point of the vehicle.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Fixing {
    /// Name of the point.
    pub(crate) point: At<String>,
    /// A turnbuckle instead of a bolt down through the base.
    pub(crate) turnbuckle: Option<Turnbuckle>,
    /// Reference of an engineer's approval.
    pub(crate) engineer: Option<At<String>>,
    /// Where it is asked for.
    pub(crate) span: Span,
}

/// Where a turnbuckle holds the carcase.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Turnbuckle {
    /// Name of an upright panel of the carcase.
    pub(crate) panel: At<String>,
    /// mm above the floor of the eye's bolt.
    pub(crate) z: At<f64>,
    /// mm along the panel, in the vehicle: x on a side, y on a back; `None` for the point's own.
    pub(crate) at: Option<At<f64>>,
}
