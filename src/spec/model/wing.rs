//! Wings as asked for: measured or drawn, with their hatches.

use crate::diag::{At, Span};
use crate::import::Outline;

/// A panel between a carcase and the vehicle's side.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Wing {
    /// Unique in the kit. The panel's name, or the stem of both panels' names.
    pub(crate) id: At<String>,
    /// On which side.
    pub(crate) side: At<WingSide>,
    /// Id of a carcase of the design.
    pub(crate) beside: At<String>,
    /// mm, z of its upper face; `None` is the carcase's deck.
    pub(crate) top: Option<At<f64>>,
    /// Name of its material; `None` is the deck's.
    pub(crate) panel: Option<At<String>>,
    /// Its shape.
    pub(crate) outline: WingOutline,
    /// Openings with lids, by place in the text.
    pub(crate) hatches: Vec<Hatch>,
    /// Where it is described.
    pub(crate) span: Span,
}

/// Where a wing lies.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum WingSide {
    /// y > 0.
    Left,
    /// y < 0.
    Right,
    /// One on each side, mirror images.
    Both,
}

/// A wing's shape.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum WingOutline {
    /// The vehicle's side along it, as measured.
    Measured(MeasuredLine),
    /// Its edge, from a drawing.
    Drawn {
        /// In mm, from the drawing's origin: x forward, y to the left, seen from above.
        outline: Outline,
        /// mm, where the drawing's origin lies: x forward, y left of the centreline.
        at: [At<f64>; 2],
        /// Where the drawing is asked for.
        span: Span,
    },
}

/// The vehicle's side along a wing.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct MeasuredLine {
    /// At least two, in the order of the text.
    pub(crate) points: At<Vec<WingPoint>>,
    /// mm from it to the panel's edge.
    pub(crate) clearance: At<f64>,
}

/// A measured place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct WingPoint {
    /// mm forward.
    pub(crate) x: At<f64>,
    /// mm outward from the centreline.
    pub(crate) y: At<f64>,
    /// mm. Radius of the corner that the lines through the points make here.
    pub(crate) fillet: At<f64>,
}

/// An opening with a lid.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Hatch {
    /// mm forward to its middle.
    pub(crate) x: At<f64>,
    /// mm from the centreline to its middle: of a wing's outward, of a carcase's leftward.
    pub(crate) y: At<f64>,
    /// mm forward.
    pub(crate) length: At<f64>,
    /// mm across.
    pub(crate) width: At<f64>,
    /// mm between lid and opening. Default 3.
    pub(crate) gap: At<f64>,
    /// mm by which the strips reach into the opening. Default 20.
    pub(crate) ledge: At<f64>,
    /// mm, diameter. Default 30.
    pub(crate) finger_hole: At<f64>,
    /// Where it is described.
    pub(crate) span: Span,
}
