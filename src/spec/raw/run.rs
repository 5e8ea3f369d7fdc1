//! Runs of cables, hoses and ducts as written.

use super::{Facing, SpacePosition};
use crate::spec::value::{Amount, Place};
use schemars::JsonSchema;
use serde::Deserialize;

/// A cable, hose or duct from one place to another, straight from stop to stop; every panel that it crosses gets a hole with
/// a grommet.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "run")]
pub(crate) struct Run {
    /// Its name, unique in the kit.
    pub(crate) id: Place<String>,
    /// What is led there.
    pub(crate) kind: Place<RunKind>,
    /// Where it begins.
    pub(crate) from: Place<RunStop>,
    /// Where it goes through, in that order: places in the vehicle, cut-outs.
    pub(crate) via: Option<Place<Vec<Place<RunStop>>>>,
    /// Where it ends.
    pub(crate) to: Place<RunStop>,
    /// Diameter of the whole bundle over its sheaths (length).
    pub(crate) bundle: Place<Amount>,
    /// Wall of the grommet between the bundle and the panel (length). Default: 2 mm.
    pub(crate) wall: Option<Place<Amount>>,
    /// For a cable at a battery: how far along it from the battery its fuse or breaker is (length).
    pub(crate) protected_within: Option<Place<Amount>>,
    /// Whether the cable between the battery and its fuse or breaker lies in a conduit or casing of its own. Default: false.
    pub(crate) encased: Option<Place<bool>>,
}

/// What a run is.
#[derive(Clone, Copy, Debug, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
#[schemars(title = "kind of run")]
pub(crate) enum RunKind {
    /// Electric wires.
    Cable,
    /// Water, air, waste.
    Hose,
    /// Warm or spent air.
    Duct,
    /// Gas that burns.
    Gas,
}

/// Where a run begins, ends or goes through.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "stop of a run")]
pub(crate) struct RunStop {
    /// Name of equipment or of a cut-out.
    pub(crate) of: Option<Place<String>>,
    /// The equipment's face, before it is turned. Default: the side whose middle is nearest to the next stop.
    pub(crate) face: Option<Place<Facing>>,
    /// Instead of `of`: a place in the vehicle.
    pub(crate) at: Option<Place<SpacePosition>>,
}
