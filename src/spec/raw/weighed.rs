//! Readings of a scale as written.

use crate::spec::value::{Amount, Place};
use schemars::JsonSchema;
use serde::Deserialize;

/// What a scale said.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "reading")]
pub(crate) struct Weighed {
    /// What was on it: a panel or another part by its name, a drawer without its slides, a carcase with all that belongs to it,
    /// or `kit`; empty.
    pub(crate) of: Place<String>,
    /// kg.
    pub(crate) mass: Place<Amount>,
    /// kg that the scale tells apart.
    pub(crate) resolution: Place<Amount>,
}
