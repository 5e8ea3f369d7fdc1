//! Tie-downs as written.

use super::cutout::{Facing, FromEdges, Repeat};
use crate::spec::value::{Amount, Place};
use schemars::JsonSchema;
use serde::Deserialize;

/// What a strap hooks into: bolted through a panel to a steel plate on its other side.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "tie-down")]
pub(crate) struct TieDown {
    /// Its name, unique in the kit.
    pub(crate) id: Place<String>,
    /// What it is, from the catalogue, e.g. `tie-ring`.
    pub(crate) kind: Place<String>,
    /// Name of the panel that it is on.
    pub(crate) panel: Option<Place<String>>,
    /// Instead of `panel`: the front of this cell, named CARCASE-CELL as its drawer, door or blank is.
    pub(crate) front_of: Option<Place<String>>,
    /// From the panel's edges to its middle. Default: in the panel's middle.
    pub(crate) middle: Option<Place<FromEdges>>,
    /// Instead of `middle`: from the panel's edges to the edges of its plate.
    pub(crate) edge: Option<Place<FromEdges>>,
    /// Several alike, in rows; the place is that of the whole group.
    pub(crate) repeat: Option<Place<Repeat>>,
    /// The side of the panel that it is on. Default: the panel's face A.
    pub(crate) facing: Option<Place<Facing>>,
    /// Whether its length goes up, on a lying panel forward. Default: false.
    pub(crate) upright: Option<Place<bool>>,
    /// Pull that it bears, N, from the supplier's sheet. Default: the catalogue's.
    pub(crate) rating: Option<Place<Amount>>,
    /// Between the strap and the panel, degrees. Default: 45.
    pub(crate) strap_angle: Option<Place<Amount>>,
    /// Mass that one strap from here holds by itself, kg.
    pub(crate) holds: Option<Place<Amount>>,
}
