//! Doors of lockers as written.

use super::FrontStyle;
use crate::spec::value::{Amount, Place};
use schemars::JsonSchema;
use serde::Deserialize;

/// A hinged door that closes a cell. It hangs on a fixed strip of front beside it, which is bolted to the board where the
/// hinges are; a latch holds its other edge to the board opposite.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "cell door")]
pub(crate) struct CellDoor {
    /// Where its hinges are.
    pub(crate) hinge: Place<HingeSide>,
    /// Over the carcase's edges or between them. Default: as the carcase's `fronts`.
    pub(crate) style: Option<Place<FrontStyle>>,
    /// Catalogue name of its hinges. Default: butt-50.
    pub(crate) hinges: Option<Place<String>>,
    /// How many hinges. Default: 2, and one more for each 600 mm of its edge.
    pub(crate) count: Option<Place<Amount>>,
    /// How wide the fixed strip is inside the opening (length). Default: 60 mm.
    pub(crate) strip: Option<Place<Amount>>,
    /// Catalogue name of its latch. Default: turn-latch.
    pub(crate) latch: Option<Place<String>>,
    /// Where the latch is along the free edge, from its lower or left end (length). Default: in its middle.
    pub(crate) latch_at: Option<Place<Amount>>,
    /// Catalogue name of a gas strut or stay that holds it open.
    pub(crate) stay: Option<Place<String>>,
    /// Degrees by which it opens. Default: 95.
    pub(crate) open: Option<Place<Amount>>,
    /// Catalogue name of the material of door and strip. Default: that of the carcase's fronts.
    pub(crate) panel: Option<Place<String>>,
}

/// The edge at which a door turns.
#[derive(Clone, Copy, Debug, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub(crate) enum HingeSide {
    /// At its left.
    Left,
    /// At its right.
    Right,
    /// At its upper edge: it opens up.
    Up,
    /// At its lower edge: it opens down.
    Down,
}
