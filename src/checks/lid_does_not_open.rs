//! Equipment whose lid opens upward and has no room for it, neither shut in nor drawn out.

use crate::bay::{Surface, Thing, surfaces};
use crate::diag::{Finding, Findings, Rule, Severity};
use crate::finished::Finished;
use crate::geom::tolerance::TOUCH;
use crate::geom::{Aabb, Plate, Vector3, VehicleFrame, overlap_depth};
use crate::joints::solids::{Part, all, name};
use crate::number::decimal;

pub(super) static RULE: Rule = Rule {
    name: "lid-does-not-open",
    severity: Severity::Error,
    finds: "Equipment with a lid that opens upward and strikes the kit or the vehicle where it stands, and on a tray where it \
            comes out as well.",
    why: "Nothing gets in or out of it.",
    failing: "\
bay: {width: 1040, depth: 1050, height: 900}
carcases:
  - {id: main, width: 700, depth: 900, height: 500, panel: birch-12, cell: {id: pocket, open: {}}}
equipment:
  - {id: cooker, kind: cooker, in: main-pocket}
",
    passing: "\
bay: {width: 1040, depth: 1050, height: 900}
carcases:
  - {id: main, width: 700, depth: 900, height: 500, panel: birch-12, cell: {id: pocket, tray: {slide: overtravel-700, comes_clear: true}}}
equipment:
  - {id: cooker, kind: cooker, on: main-pocket, offset: {x: -100}, straps: 0, feet: {bolt: M5, places: [{x: 100, y: 0}, {x: -100, y: 0}]}}
",
    source: "arithmetic",
};

pub(super) fn run(finished: &Finished, findings: &mut Findings) {
    for equipment in &finished.kit.layout.equipment {
        let Some(lid) = equipment.lid else { continue };
        let fixture = &finished.kit.layout.fixtures[equipment.fixture];
        let travel = finished.kit.layout.body(fixture.body).travel;
        let Some((what, free)) = struck(finished, equipment.fixture, lid, Vector3::zero()) else { continue };
        let out = (travel != Vector3::zero()).then(|| struck(finished, equipment.fixture, lid, travel));
        let Some((at_rest, also)) = (match out {
            None => Some((what, None)),
            Some(None) => None,
            Some(Some((other, _))) => Some((what, Some(other))),
        }) else {
            continue;
        };
        let needed = decimal(lid.size().z, 1);
        let also = also.map_or_else(String::new, |also| format!("; drawn out it strikes {also}"));
        let message = format!(
            "the lid of `{}` needs {needed} mm and has {} mm up to {at_rest}{also}",
            equipment.name,
            decimal(free, 1)
        );
        let help = "put it on a tray that comes clear (`comes_clear`), leave the deck out over it (`open_top`), or lower it";
        findings.push(Finding::new(&RULE, fixture.span, message).on(&equipment.name).help(help));
    }
}

/// What the lid strikes with its equipment moved by `by`, and how high it is free up to there: the lowest.
fn struck(
    finished: &Finished,
    fixture: usize,
    lid: Aabb,
    by: Vector3<VehicleFrame>,
) -> Option<(String, f64)> {
    let kit = &finished.kit;
    let own = kit.layout.fixtures[fixture].body;
    let room = Aabb { low: lid.low + by, high: lid.high + by };
    let plate = Plate::filling(room);
    let of_kit = all(kit).into_iter().filter_map(|solid| {
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
    // Nobody opens a lid behind a shut door.
    let stays = |surface: &&Surface| in_vehicle && !matches!(surface.of, Thing::Door | Thing::Latch);
    let of_bay = surfaces.iter().filter(stays).filter_map(|surface| {
        let depth = surface.overlap(&plate, room)?.depth;
        Some((surface.name.clone(), lid.size().z - depth))
    });
    of_kit.chain(of_bay).min_by(|a, b| a.1.total_cmp(&b.1)).map(|(what, free)| (what, free.max(0.0)))
}
