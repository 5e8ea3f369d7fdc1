//! The vehicle's key `living` as written.

use schemars::JsonSchema;
use serde::Deserialize;

use crate::spec::value::{Amount, Place};

/// The space in which people live and gas is burnt.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "living space")]
pub(crate) struct Living {
    /// How many sleep in it.
    pub(crate) berths: Place<Amount>,
    /// Openings of the vehicle to the outside that nobody can shut; no windows, no hatches.
    pub(crate) vents: Place<Vec<Place<LivingVent>>>,
}

/// An opening of the vehicle to the outside.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "living vent")]
pub(crate) struct LivingVent {
    /// Its name.
    pub(crate) id: Place<String>,
    /// Free area, cm2: what is left beside louvres and mesh.
    pub(crate) area: Place<Amount>,
    /// Its lower edge above the floor (length).
    pub(crate) bottom: Place<Amount>,
    /// Its upper edge above the floor (length).
    pub(crate) top: Place<Amount>,
}
