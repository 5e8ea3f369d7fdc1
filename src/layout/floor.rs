//! False floors: level boards on the ribs of the bay's floor, each a body of its own.
//!
//! Carcases over them stand on them. They are held by the bolts that hold those carcases to the vehicle.

use super::Layout;
use super::board::{Board, Body, BodyId, Role};
use super::carcase::DOWN;
use crate::catalogue::Catalogue;
use crate::diag::Findings;
use crate::geom::{Aabb, Point3, Vector3};
use crate::spec::{Carcase, Design};

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
        layout.bodies.push(Body {
            name: name.clone(),
            carcase: name.clone(),
            travel: Vector3::zero(),
            drop: 0.0,
            swing: None,
        });
        // What holds the carcases stands on it with its heads inside them; what is bolted to it lies flush below, where the ribs
        // are.
        layout.boards.push(Board::filling(name, Role::Floor, body, material, aabb, DOWN, floor.span).flush());
    }
    complete
}

/// mm above the bay's floor of what a carcase stands on: the false floor under it, or nothing.
pub(super) fn under(layout: &Layout, carcase: &Carcase) -> f64 {
    let half = carcase.width.value / 2.0 + carcase.overhang.value;
    let (x, y) = (carcase.at.x.value, carcase.at.y.value);
    let [rear, front, right, left] = [x, x + carcase.depth.value, y - half, y + half];
    let floors = layout.boards.iter().filter(|board| board.role == Role::Floor).map(|board| board.aabb);
    let below = floors.filter(|floor| {
        floor.low.x < front && rear < floor.high.x && floor.low.y < left && right < floor.high.y
    });
    below.map(|floor| floor.high.z).fold(0.0, f64::max)
}
