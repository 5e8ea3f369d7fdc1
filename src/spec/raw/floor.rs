//! False floors as written.

use schemars::JsonSchema;
use serde::Deserialize;

use crate::spec::value::{Amount, Place};

/// A false floor: a panel that lies on the ribs of the bay's floor, under carcases that stand on it.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "floor panel")]
pub(crate) struct FalseFloor {
    /// Name of the panel, unique in the kit.
    pub(crate) id: Place<String>,
    /// Catalogue name of its material.
    pub(crate) panel: Place<String>,
    /// Where it begins, forward of the rear edge (length).
    pub(crate) from: Place<Amount>,
    /// Where it ends (length).
    pub(crate) to: Place<Amount>,
    /// Across the bay (length).
    pub(crate) width: Place<Amount>,
    /// Its middle, left of the centreline; negative is to the right (length). Default 0.
    pub(crate) y: Option<Place<Amount>>,
}
