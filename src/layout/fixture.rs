//! What is bolted to panels and is neither slide nor angle, and room that must stay free.
//!
//! Only data: a fixture is placed by what asks for it, and its bolts are placed from it by the joints.

use super::board::{BoardId, BodyId};
use crate::diag::Span;
use crate::geom::{Aabb, Point3, Vector3, VehicleFrame};

/// What sort of fixture it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum FixtureKind {
    /// A part of the kit: set into a panel, or holding something down.
    Fitting,
    /// The other half of a fitting that is listed already: a hinge's leaf on the door, a latch's striker.
    OtherHalf,
    /// Carried in the kit, and none of its mass.
    Equipment,
}

/// A thing that takes room and is bolted to panels.
#[derive(Clone, Debug)]
pub(crate) struct Fixture {
    /// Its name, unique in the kit.
    pub(crate) name: String,
    /// A part of the kit, or carried in it.
    pub(crate) kind: FixtureKind,
    /// What it is, in words.
    pub(crate) title: String,
    /// Its name in the catalogue; empty for what the spec describes by itself.
    pub(crate) item: String,
    /// The panel that it is set into, or stands on.
    pub(crate) host: Option<BoardId>,
    /// What it moves with.
    pub(crate) body: BodyId,
    /// The boxes that it fills, shut.
    pub(crate) solids: Vec<Aabb>,
    /// Its bolts.
    pub(crate) bolts: Vec<FixtureBolt>,
    /// kg, empty.
    pub(crate) mass: f64,
    /// kg of what it holds when it is full.
    pub(crate) fill: f64,
    /// Its centre of gravity, shut.
    pub(crate) centre: Point3<VehicleFrame>,
    /// Where it is described.
    pub(crate) span: Span,
}

impl Fixture {
    /// Whether it is a part of the kit, and counts in its mass.
    pub(crate) fn is_of_kit(&self) -> bool {
        self.kind != FixtureKind::Equipment
    }
}

/// A bolt through a fixture's flange and panels.
#[derive(Clone, Debug)]
pub(crate) struct FixtureBolt {
    /// The panels, from head to nut.
    pub(crate) boards: Vec<BoardId>,
    /// Thread size.
    pub(crate) size: String,
    /// Where the axis enters the flange under the head.
    pub(crate) origin: Point3<VehicleFrame>,
    /// From head to nut.
    pub(crate) direction: Vector3<VehicleFrame>,
    /// mm of flange between the head and the first panel.
    pub(crate) flange: f64,
    /// mm of steel between the last panel and the nut.
    pub(crate) spreader: f64,
}

/// Room in which nothing may stand or pass.
#[derive(Clone, Debug)]
pub(crate) struct KeepFree {
    /// What findings call it.
    pub(crate) name: String,
    /// The room, shut.
    pub(crate) aabb: Aabb,
    /// What it moves with.
    pub(crate) body: BodyId,
    /// Whether it is for air only: heads and nuts, angles, straps and the low sides of the tray that moves with it take
    /// nothing of it that counts.
    pub(crate) for_air: bool,
    /// Where it is asked for.
    pub(crate) span: Span,
}
