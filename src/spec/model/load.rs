//! What the vehicle weighs, may weigh, and carries, as asked for. Masses in kg.

use crate::diag::{At, Span};
use crate::geom::{Point3, VehicleFrame};

/// What the vehicle weighs by itself, and what it may weigh.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct VehicleMasses {
    /// mm from axle to axle.
    pub(crate) wheelbase: At<f64>,
    /// mm. x of the rear axle.
    pub(crate) rear_axle: At<f64>,
    /// mm from the middle of a left tyre to that of a right one.
    pub(crate) track: Option<At<f64>>,
    /// mm. The tow ball, behind the rear axle.
    pub(crate) coupling: Option<At<f64>>,
    /// mm. How far the vehicle reaches ahead of its front axle, and behind its rear one.
    pub(crate) overhangs: (f64, f64),
    /// What stands on the axles without the kit.
    pub(crate) kerb: Kerb,
    /// At least one set.
    pub(crate) limits: Vec<MassLimits>,
    /// Where they are described.
    pub(crate) span: Span,
}

/// Axle loads of the vehicle without the kit.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Kerb {
    /// On the front axle.
    pub(crate) front: At<f64>,
    /// On the rear axle.
    pub(crate) rear: At<f64>,
    /// Per cent of the fuel tank.
    pub(crate) fuel: f64,
    /// Of the driver who is counted in it.
    pub(crate) driver: f64,
    /// Whether it was weighed.
    pub(crate) weighed: bool,
}

/// What the vehicle may weigh.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct MassLimits {
    /// Its name.
    pub(crate) id: At<String>,
    /// Gross vehicle mass.
    pub(crate) gross: At<f64>,
    /// On the front axle.
    pub(crate) front: At<f64>,
    /// On the rear axle.
    pub(crate) rear: At<f64>,
    /// The vehicle and its trailer.
    pub(crate) combination: Option<At<f64>>,
    /// On the tow ball.
    pub(crate) ball: Option<At<f64>>,
    /// On the roof.
    pub(crate) roof: Option<At<f64>>,
}

/// What a person weighs.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct People {
    /// kg.
    pub(crate) mass: f64,
    /// Whose rule or habit that is.
    pub(crate) basis: String,
}

/// Something that the vehicle carries, or that was taken out of it.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Load {
    /// Its name.
    pub(crate) id: At<String>,
    /// What it is.
    pub(crate) kind: LoadKind,
    /// kg; of a trailer its whole mass. Not less than 0, of what was taken out neither.
    pub(crate) mass: f64,
    /// Its centre of gravity; of a trailer the tow ball.
    pub(crate) at: Point3<VehicleFrame>,
    /// kg on the tow ball.
    pub(crate) ball: f64,
    /// Where it is described.
    pub(crate) span: Span,
}

/// What a load is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum LoadKind {
    /// Somebody who travels in it.
    Person,
    /// Fixed to the vehicle.
    Accessory,
    /// Carried inside it.
    Contents,
    /// Carried on its roof.
    Roof,
    /// Taken out of it.
    TakenOut,
    /// Drawn by it.
    Trailer,
}

/// Loads and limits that go together.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Scenario {
    /// Its name.
    pub(crate) id: String,
    /// What it is.
    pub(crate) title: String,
    /// Index of the vehicle's limits.
    pub(crate) limits: usize,
    /// Whether the kit is in the vehicle.
    pub(crate) kit: bool,
    /// What its equipment weighs.
    pub(crate) equipment: EquipmentFill,
    /// Whether drawers and trays hold their load.
    pub(crate) drawers: bool,
    /// Indices of loads, in the order of the design.
    pub(crate) loads: Vec<usize>,
    /// Whether what is over a limit is only shown.
    pub(crate) comparison: bool,
    /// Where it is described.
    pub(crate) span: Span,
}

/// How the kit's equipment travels.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum EquipmentFill {
    /// With all that it holds.
    Full,
    /// Without.
    Empty,
    /// Left at home.
    Out,
}
