//! The workshop's key `part_marks` as written.

use schemars::JsonSchema;
use serde::Deserialize;

use crate::spec::value::{Amount, Place};

/// The name of each panel of a kit, engraved into the face that lies up while it is cut, where another part or a finish will
/// cover it if there is such a place.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "part marks")]
pub(crate) struct PartMarks {
    /// Of its capitals (length), from 3 to 20 mm; smaller, to 3 mm, where there is no room. Default: 5 mm.
    pub(crate) height: Option<Place<Amount>>,
    /// Whether fronts, doors and lids have it even where it shows. Default: false.
    pub(crate) fronts: Option<Place<bool>>,
}
