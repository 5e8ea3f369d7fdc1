//! Legends as written.

use super::cutout::{Facing, FromEdges};
use crate::spec::value::{Amount, Place};
use schemars::JsonSchema;
use serde::Deserialize;

/// A text engraved into a panel in single strokes.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "legend")]
pub(crate) struct Legend {
    /// Its name, unique in the kit.
    pub(crate) id: Place<String>,
    /// What it says.
    pub(crate) text: Place<String>,
    /// Name of the panel that it is on.
    pub(crate) panel: Option<Place<String>>,
    /// Instead of `panel`: the front of this cell, named CARCASE-CELL as its drawer, door or blank is.
    pub(crate) front_of: Option<Place<String>>,
    /// From the panel's edges to its middle. Default: in the panel's middle.
    pub(crate) middle: Option<Place<FromEdges>>,
    /// Instead of `middle`: from the panel's edges to its own edges.
    pub(crate) edge: Option<Place<FromEdges>>,
    /// The side of the panel that it is on; panels are cut with face A up. Default: face A.
    pub(crate) facing: Option<Place<Facing>>,
    /// Height of its capitals (length). Default: 6 mm.
    pub(crate) height: Option<Place<Amount>>,
    /// Whether it reads upwards, on a lying panel forward. Default: false.
    pub(crate) upright: Option<Place<bool>>,
}
