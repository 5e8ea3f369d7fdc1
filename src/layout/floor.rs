//! False floors: level boards on the ribs of the bay's floor, each a body of its own.
//!
//! They are held by the bolts that hold the carcases on them to the vehicle.

use super::Layout;
use super::board::{Board, Body, BodyId, Role};
use super::carcase::UP;
use crate::catalogue::Catalogue;
use crate::diag::Findings;
use crate::geom::{Aabb, Point3, Vector3};
use crate::spec::Design;

/// Lays all false floors. `None` if a material is unknown; the findings say which.
pub(super) fn floors(
    layout: &mut Layout,
    findings: &mut Findings,
    design: &Design,
    catalogue: &Catalogue,
) -> Option<()> {
    let mut complete = Some(());
    for floor in &design.floors {
        let Some(material) = catalogue.find_material(findings, &floor.panel) else {
            complete = None;
            continue;
        };
        let half = floor.width.value / 2.0;
        let aabb = Aabb {
            low: Point3::new(floor.from.value, floor.y.value - half, 0.0),
            high: Point3::new(floor.to.value, floor.y.value + half, material.actual),
        };
        let name = floor.id.value.clone();
        let body = BodyId(layout.bodies.len());
        layout.bodies.push(Body { name: name.clone(), carcase: name.clone(), travel: Vector3::zero() });
        // What holds the carcases stands on it with its heads inside them.
        layout.boards.push(Board::filling(name, Role::Floor, body, material, aabb, UP, floor.span));
    }
    complete
}
