//! The vehicle's key `masses` as written: what it weighs, and what it may weigh.

use crate::spec::value::{Amount, Place};
use schemars::JsonSchema;
use serde::Deserialize;

/// What the vehicle weighs by itself, and what its plate allows.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "vehicle masses")]
pub(crate) struct VehicleMasses {
    /// From axle to axle (length).
    pub(crate) wheelbase: Place<Amount>,
    /// The rear axle, forward of the bay's rear edge (length).
    pub(crate) rear_axle: Place<Amount>,
    /// From the middle of a left tyre to that of a right one (length); for what lies on the left and on the right.
    pub(crate) track: Option<Place<Amount>>,
    /// The tow ball, behind the rear axle (length); needed for a trailer.
    pub(crate) coupling: Option<Place<Amount>>,
    /// How far the vehicle reaches ahead of its front axle (length). Default: 1000 mm.
    pub(crate) front_overhang: Option<Place<Amount>>,
    /// How far it reaches behind its rear axle (length). Default: 1400 mm.
    pub(crate) rear_overhang: Option<Place<Amount>>,
    /// What stands on its axles without the kit, and what is in it then.
    pub(crate) kerb: Place<Kerb>,
    /// What it may weigh: its plate, and any upgrade of it.
    pub(crate) limits: Place<Vec<Place<MassLimits>>>,
}

/// Axle loads of the vehicle without the kit.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "kerb")]
pub(crate) struct Kerb {
    /// kg on the front axle.
    pub(crate) front: Place<Amount>,
    /// kg on the rear axle.
    pub(crate) rear: Place<Amount>,
    /// How full the fuel tank is then, per cent.
    pub(crate) fuel: Place<Amount>,
    /// kg of a driver who is counted in it; 0 if nobody sits in it.
    pub(crate) driver: Place<Amount>,
    /// Whether it was weighed, axle by axle, rather than taken from papers.
    pub(crate) weighed: Place<bool>,
}

/// What the vehicle may weigh, kg.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "mass limits")]
pub(crate) struct MassLimits {
    /// Its name, e.g. plate.
    pub(crate) id: Place<String>,
    /// Gross vehicle mass.
    pub(crate) gross: Place<Amount>,
    /// On the front axle.
    pub(crate) front: Place<Amount>,
    /// On the rear axle.
    pub(crate) rear: Place<Amount>,
    /// Gross combination mass: the vehicle and its trailer.
    pub(crate) combination: Option<Place<Amount>>,
    /// On the tow ball.
    pub(crate) ball: Option<Place<Amount>>,
    /// On the roof.
    pub(crate) roof: Option<Place<Amount>>,
}
