//! What a vehicle offers to bolt a kit to, what must stay in reach, and how a carcase uses the points: as written.

use schemars::JsonSchema;
use serde::Deserialize;

use crate::spec::value::{Amount, Place};

/// A threaded point in the load bay.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "anchor")]
pub(crate) struct Anchor {
    /// Its name, unique in the bay.
    pub(crate) id: Place<String>,
    /// Its axis, forward of the rear edge (length).
    pub(crate) x: Place<Amount>,
    /// Its axis, left of the centreline; negative is to the right (length).
    pub(crate) y: Place<Amount>,
    /// Its upper end above what the kit stands on; negative lies lower (length). Default 0.
    pub(crate) z: Option<Place<Amount>>,
    /// Thread size, e.g. M8.
    pub(crate) thread: Place<String>,
    /// How deep a bolt may go in, measured with a rod (length). Needed where a bolt is used.
    pub(crate) depth: Option<Place<Amount>>,
    /// What it belongs to. Default: tie-down.
    pub(crate) kind: Option<Place<AnchorKind>>,
    /// Degrees by which its axis leans from upright. Default 0.
    pub(crate) slope: Option<Place<Amount>>,
    /// How far off its place may have been measured, either way (lengths). Default 0.
    pub(crate) tolerance: Option<Place<Tolerance>>,
    /// N that the vehicle's maker allows at this point, for the report.
    pub(crate) rating: Option<Place<Amount>>,
}

/// How far off a place may be.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "tolerance")]
pub(crate) struct Tolerance {
    /// Along the bay, either way (length). Default 0.
    pub(crate) x: Option<Place<Amount>>,
    /// Across the bay, either way (length). Default 0.
    pub(crate) y: Option<Place<Amount>>,
}

/// What a threaded point belongs to.
#[derive(Clone, Copy, Debug, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
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

/// Room that must stay in reach: a jack's pocket, a pump's cover, a tether's anchorage. A box.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "reach")]
pub(crate) struct Reach {
    /// Its name, unique in the bay.
    pub(crate) id: Place<String>,
    /// Its middle, forward of the rear edge (length).
    pub(crate) x: Place<Amount>,
    /// Its middle, left of the centreline; negative is to the right (length).
    pub(crate) y: Place<Amount>,
    /// Its lower end above what the kit stands on (length). Default 0.
    pub(crate) z: Option<Place<Amount>>,
    /// Along the bay (length).
    pub(crate) length: Place<Amount>,
    /// Across the bay (length).
    pub(crate) width: Place<Amount>,
    /// Upwards, with the room that a hand or a tool needs (length).
    pub(crate) height: Place<Amount>,
}

/// How a carcase is held by a point of the vehicle: a bolt down through its base, unless a turnbuckle is asked for.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "fixing")]
pub(crate) struct Fixing {
    /// Name of the point among the bay's `anchors`.
    pub(crate) point: Place<String>,
    /// A turnbuckle from an eye in the point to an eye on a panel, for points on a slope or beside the carcase.
    pub(crate) turnbuckle: Option<Place<Turnbuckle>>,
    /// Reference of the licensed engineer's approval, for points of seats, belts and child restraints; it is printed.
    pub(crate) engineer: Option<Place<String>>,
}

/// Where a turnbuckle holds the carcase.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "turnbuckle")]
pub(crate) struct Turnbuckle {
    /// Name of an upright panel of the carcase.
    pub(crate) panel: Place<String>,
    /// Height of the eye's bolt above the floor (length).
    pub(crate) z: Place<Amount>,
    /// Its place along the panel, in the vehicle: x on a side, y on a back (length). Default: the point's own.
    pub(crate) at: Option<Place<Amount>>,
}
