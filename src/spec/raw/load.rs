//! Loads and scenarios as written: what is in the vehicle beside the kit, and when.

use super::SpacePosition;
use crate::spec::value::{Amount, Place};
use schemars::JsonSchema;
use serde::Deserialize;

/// What a person weighs.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "people")]
pub(crate) struct People {
    /// kg of a person that has no mass of its own.
    pub(crate) mass: Place<Amount>,
    /// Whose rule or habit that is, for the report.
    pub(crate) basis: Place<String>,
}

/// Something that the vehicle carries beside the kit and its equipment, or that was taken out of it.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "load")]
pub(crate) struct Load {
    /// Its name.
    pub(crate) id: Place<String>,
    /// What it is.
    pub(crate) kind: Place<LoadKind>,
    /// kg; of a trailer its whole mass. Default, for a person only: that of `people`.
    pub(crate) mass: Option<Place<Amount>>,
    /// Where its centre of gravity is: of a person the seat. Not for a trailer.
    pub(crate) at: Option<Place<SpacePosition>>,
    /// kg that a trailer puts on the tow ball.
    pub(crate) ball: Option<Place<Amount>>,
}

/// What a load is.
#[derive(Clone, Copy, Debug, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub(crate) enum LoadKind {
    /// Somebody who travels in it.
    Person,
    /// Fixed to the vehicle: a bull bar, a canopy, a winch.
    Accessory,
    /// Carried inside it.
    Contents,
    /// Carried on its roof.
    Roof,
    /// Taken out of it, so that its mass is less: a row of seats.
    TakenOut,
    /// Drawn by it.
    Trailer,
}

/// Loads and limits that go together.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "scenario")]
pub(crate) struct Scenario {
    /// Its name.
    pub(crate) id: Place<String>,
    /// What it is, for tables. Default: its name.
    pub(crate) title: Option<Place<String>>,
    /// Name of the vehicle's limits. Default: the first.
    pub(crate) limits: Option<Place<String>>,
    /// Whether the kit is in the vehicle. Default: true.
    pub(crate) kit: Option<Place<bool>>,
    /// What the kit's equipment weighs. Default: full.
    pub(crate) equipment: Option<Place<EquipmentFill>>,
    /// Whether drawers and trays hold their `load`. Default: true.
    pub(crate) drawers: Option<Place<bool>>,
    /// Names of loads. Default: all.
    pub(crate) loads: Option<Place<Vec<Place<String>>>>,
    /// Only to compare: what is over a limit is shown and is no error. Default: false.
    pub(crate) comparison: Option<Place<bool>>,
}

/// How the kit's equipment travels.
#[derive(Clone, Copy, Debug, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub(crate) enum EquipmentFill {
    /// With all that it holds.
    Full,
    /// Without.
    Empty,
    /// Left at home.
    Out,
}
