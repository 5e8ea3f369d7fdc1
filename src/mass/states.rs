//! The kit's mass and centre of gravity empty and loaded, with its drawers shut and drawn out.

use super::{PartMass, Sum};
use crate::geom::{Point3, Vector3, VehicleFrame};
use crate::layout::{BoardId, BodyId, FixtureKind, Layout};

/// The kit in one state.
#[derive(Clone, Debug)]
pub(crate) struct State {
    /// Whether its equipment is full and its drawers hold their loads.
    pub(crate) loaded: bool,
    /// What is drawn out.
    pub(crate) open: Open,
    /// What it weighs so, and where that acts.
    pub(crate) sum: Sum,
}

/// What is drawn out.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Open {
    /// Nothing.
    Shut,
    /// One drawer or tray, by name.
    One(String),
    /// Every drawer and tray.
    All,
}

/// Something in the kit that is no part of it: equipment, filled, or what lies in a drawer.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Content {
    /// kg.
    pub(crate) mass: f64,
    /// Its centre of gravity, shut.
    pub(crate) centre: Point3<VehicleFrame>,
    /// What it goes with.
    pub(crate) body: BodyId,
    /// The panel that it stands or lies on; none at a place of its own.
    pub(crate) on: Option<BoardId>,
}

/// What is in the kit, without the kit.
pub(super) fn contents(layout: &Layout) -> Vec<Content> {
    let equipment = layout.fixtures.iter().filter(|fixture| fixture.kind == FixtureKind::Equipment);
    let equipment = equipment.map(|fixture| Content {
        mass: fixture.mass + fixture.fill,
        centre: fixture.centre,
        body: fixture.body,
        on: fixture.host,
    });
    let drawers = layout.drawers.iter().filter(|drawer| drawer.load > 0.0);
    let drawers = drawers.map(|drawer| {
        let bottom = layout.board(drawer.bottom).aabb;
        let centre = bottom.low + bottom.size() / 2.0;
        Content { mass: drawer.load, centre, body: drawer.body, on: Some(drawer.bottom) }
    });
    equipment.chain(drawers).collect()
}

/// Empty and loaded, each shut, with one drawer after the other drawn out, and with all. Slides count as shut.
pub(super) fn states(layout: &Layout, parts: &[PartMass], contents: &[Content]) -> Vec<State> {
    let mut opens = vec![Open::Shut];
    if layout.drawers.len() > 1 {
        opens.extend(layout.drawers.iter().map(|drawer| Open::One(drawer.name.clone())));
    }
    if !layout.drawers.is_empty() {
        opens.push(Open::All);
    }
    let mut states = Vec::new();
    for loaded in [false, true] {
        if loaded && contents.is_empty() {
            continue;
        }
        for open in &opens {
            let out = |body: BodyId| -> Vector3<VehicleFrame> {
                let drawer = layout.drawers.iter().find(|drawer| drawer.body == body);
                let is_out = drawer.is_some_and(|drawer| match open {
                    Open::Shut => false,
                    Open::One(name) => drawer.name == *name,
                    Open::All => true,
                });
                if is_out { layout.body(body).travel } else { Vector3::zero() }
            };
            let own = parts.iter().map(|part| (part.mass, part.centre, part.body));
            let held = contents.iter().filter(|_| loaded).map(|held| (held.mass, held.centre, held.body));
            let all = own.chain(held).map(|(mass, centre, body)| (mass, centre + out(body)));
            states.push(State { loaded, open: open.clone(), sum: Sum::of_masses(all) });
        }
    }
    states
}
