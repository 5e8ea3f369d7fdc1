//! Room that equipment needs while it is used, held against the kit and the vehicle.

use crate::bay::{Surface, Thing, surfaces};
use crate::finished::Finished;
use crate::geom::tolerance::TOUCH;
use crate::geom::{Aabb, Plate, Vector3, VehicleFrame, overlap_depth};
use crate::joints::solids::{Part, name};

/// What a room over a fixture strikes with the fixture moved by `by`, and how high it is free up to there: the lowest. What the
/// fixture itself is made of does not count.
pub(super) fn struck(
    finished: &Finished,
    fixture: usize,
    room: Aabb,
    by: Vector3<VehicleFrame>,
) -> Option<(String, f64)> {
    let kit = &finished.kit;
    let own = kit.layout.fixtures[fixture].body;
    let height = room.size().z;
    let room = Aabb { low: room.low + by, high: room.high + by };
    let plate = Plate::filling(room);
    let of_kit = kit.solids().iter().filter_map(|solid| {
        if solid.part == Part::Fixture(fixture) || matches!(solid.part, Part::Room(_) | Part::Shank(_)) {
            return None;
        }
        let mut other = solid.plate.clone();
        let mut low = solid.aabb.low.z;
        if solid.body == own {
            other.placement.origin += by;
            low += by.z;
        }
        overlap_depth(&plate, &other).map(|_| (format!("`{}`", name(kit, solid.part)), low - room.low.z))
    });
    // Behind the vehicle only its own tailgate could be in the way, and that is open.
    let in_vehicle = room.high.x > TOUCH;
    let surfaces = surfaces(&finished.design.vehicle.bay, &finished.design.clearances, false);
    // Nobody uses it behind a shut door.
    let stays = |surface: &&Surface| in_vehicle && !matches!(surface.of, Thing::Door | Thing::Latch);
    let of_bay = surfaces.iter().filter(stays).filter_map(|surface| {
        let depth = surface.overlap(&plate, room)?.depth;
        Some((surface.name.clone(), height - depth))
    });
    of_kit.chain(of_bay).min_by(|a, b| a.1.total_cmp(&b.1)).map(|(what, free)| (what, free.max(0.0)))
}
