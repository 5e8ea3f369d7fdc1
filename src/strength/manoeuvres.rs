//! What driving asks of what the vehicle carries: braking, reversing, cornering to either side, a bump.

use crate::geom::{Point3, Vector3, VehicleFrame};
use crate::layout::{GRAVITY, RESTRAINT_CASES, RestraintCase};
use crate::mass::Sum;
use baywright_formulas::group;

/// Something that the vehicle does.
#[derive(Clone, Copy, Debug)]
pub(super) struct Manoeuvre {
    /// What it does, in words.
    pub(super) does: &'static str,
    /// Where the load goes, in words.
    pub(super) goes: &'static str,
    /// The force as a part of the load's weight.
    pub(super) share: f64,
    /// Where the load goes.
    pub(super) along: Vector3<VehicleFrame>,
}

/// All of them: those along the floor first. Shares and ways are those of [`RESTRAINT_CASES`].
pub(super) fn all() -> [Manoeuvre; 5] {
    let [forward, rearward, sideways, up] = RESTRAINT_CASES;
    let one = |does, goes, case: RestraintCase| Manoeuvre { does, goes, share: case.share, along: case.axis };
    let to_left = one("cornering, to the left", "to the left", sideways);
    [
        one("braking", forward.way, forward),
        one("braking in reverse", rearward.way, rearward),
        to_left,
        Manoeuvre { does: "cornering, to the right", goes: "to the right", along: -to_left.along, ..to_left },
        one("over a bump", up.way, up),
    ]
}

/// Those along the floor.
pub(super) fn level() -> impl Iterator<Item = Manoeuvre> {
    all().into_iter().filter(Manoeuvre::is_level)
}

impl Manoeuvre {
    /// Whether the load goes along the floor.
    pub(super) fn is_level(&self) -> bool {
        self.along.z.abs() < 0.5
    }

    /// mm that a place lies ahead, the way that the load goes.
    pub(super) fn ahead(&self, place: Point3<VehicleFrame>) -> f64 {
        place.to_vector().dot(self.along)
    }

    /// N on a mass.
    pub(super) fn force(&self, mass: f64, factor: f64) -> f64 {
        self.share * mass * GRAVITY * factor
    }
}

/// A load along the floor that tips a rigid thing about an edge ahead.
#[derive(Clone, Copy, Debug)]
pub(super) struct Tipped<'a> {
    pub(super) manoeuvre: &'a Manoeuvre,
    /// N, at the thing's centre of gravity.
    pub(super) force: f64,
    pub(super) sum: Sum,
    /// Part of its weight that counts against tipping.
    pub(super) counted: f64,
    /// z of what it stands on.
    pub(super) level: f64,
    /// Where the edge is: mm ahead.
    pub(super) edge: f64,
}

impl Tipped<'_> {
    /// N mm that hold it back must come from what holds it down.
    pub(super) fn moment(&self) -> f64 {
        let (height, weight) = (self.sum.centre.z - self.level, self.sum.mass * GRAVITY * self.counted);
        let behind = (self.edge - self.manoeuvre.ahead(self.sum.centre)).max(0.0);
        group::overturning(self.force, height.max(0.0), weight, behind)
    }

    /// mm that a place lies behind the edge.
    pub(super) fn lever(&self, place: Point3<VehicleFrame>) -> f64 {
        (self.edge - self.manoeuvre.ahead(place)).max(0.0)
    }

    /// N up at each of the places that hold it down.
    pub(super) fn tensions(&self, places: impl IntoIterator<Item = Point3<VehicleFrame>>) -> Vec<f64> {
        let levers: Vec<f64> = places.into_iter().map(|place| self.lever(place)).collect();
        group::tensions(&levers, self.moment())
    }
}
