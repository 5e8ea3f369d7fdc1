//! The workshop's key `lift` as written.

use schemars::JsonSchema;
use serde::Deserialize;

use crate::spec::value::{Amount, Place};

/// What people lift, of a carcase without contents.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "lift")]
pub(crate) struct Lift {
    /// kg that one person lifts. Default 25.
    pub(crate) one: Option<Place<Amount>>,
    /// kg that two persons lift. Default 50.
    pub(crate) two: Option<Place<Amount>>,
}
