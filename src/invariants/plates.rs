//! Masses add up and follow from the solids; every panel's solid is closed and has as many holes as the panel.

use crate::finished::{Finished, with_solid};
use crate::joints::Panel;
use crate::joints::coating::Coating;
use crate::layout::BoardId;
use crate::mass::{MASS_DECIMALS, PartKind, PartMass};
use crate::number::{decimal, rounded};
use crate::solid;
use std::collections::BTreeSet;

/// Half a milligram: masses are multiples of one.
const HALF_DIGIT: f64 = 0.5e-6;

/// Sums are those of their parts, and a panel's mass is its volume times its density, with its finish.
pub(super) fn sums(finished: &Finished) -> Vec<String> {
    let masses = &finished.masses;
    let kg = |mass: f64| decimal(mass, MASS_DECIMALS);
    let weigh = |parts: &mut dyn Iterator<Item = &PartMass>| parts.map(|part| part.mass).sum::<f64>();
    let mut faults = Vec::new();
    let total = weigh(&mut masses.parts.iter());
    if (total - masses.total.mass).abs() > HALF_DIGIT {
        faults.push(format!("the parts weigh {} kg, the kit {} kg", kg(total), kg(masses.total.mass)));
    }
    for (id, sum) in &masses.carcases {
        let is_own = |part: &&PartMass| &finished.kit.layout.body(part.body).carcase == id;
        let own = weigh(&mut masses.parts.iter().filter(is_own));
        if (own - sum.mass).abs() > HALF_DIGIT {
            faults.push(format!("the parts of `{id}` weigh {} kg, the carcase {} kg", kg(own), kg(sum.mass)));
        }
    }
    let panels = masses.parts.iter().filter(|part| part.kind == PartKind::Panel);
    for (i, (panel, part)) in finished.kit.panels.iter().zip(panels).enumerate() {
        let volume = with_solid(panel, solid::figures).volume;
        let finish: f64 = finished.kit.coatings_of(BoardId(i)).map(Coating::mass).sum();
        let mass = rounded(volume * panel.material.density() * 1e-9 + finish, MASS_DECIMALS);
        if panel.name != part.name || (mass - part.mass).abs() > HALF_DIGIT {
            let (own, name) = (kg(part.mass), &panel.name);
            faults.push(format!(
                "{name}: its solid and its finish weigh {} kg, its row says {own} kg",
                kg(mass)
            ));
        }
    }
    faults
}

/// Each panel's solid, built by the independent kernel; panels of one shape are built once.
pub(super) fn solids(finished: &Finished) -> Vec<String> {
    let mut seen = BTreeSet::new();
    let distinct = finished.kit.panels.iter().filter(|panel| seen.insert(shape(panel)));
    distinct.filter_map(solid_fault).collect()
}

fn solid_fault(panel: &Panel) -> Option<String> {
    let name = &panel.name;
    let solid = match with_solid(panel, solid::build) {
        Ok(solid) => solid,
        Err(fault) => return Some(format!("{name} has no solid: {fault}")),
    };
    let holes = panel.openings.len() + panel.bores.len();
    if !solid.is_closed() {
        Some(format!("the solid of {name} is not closed"))
    } else if solid.genus() != Some(holes) {
        let genus = solid.genus();
        Some(format!("the solid of {name} has {genus:?} holes, the panel has {holes}"))
    } else {
        None
    }
}

/// What makes two panels the same solid, number by number.
fn shape(panel: &Panel) -> Vec<u64> {
    let mut numbers = vec![panel.material.actual.to_bits(), panel.openings.len() as u64];
    for path in std::iter::once(&panel.outline).chain(panel.openings.iter().map(|opening| &opening.path)) {
        numbers.push(path.vertices().len() as u64);
        for vertex in path.vertices() {
            numbers.extend([vertex.point.x, vertex.point.y, vertex.bulge].map(f64::to_bits));
        }
    }
    for bore in &panel.bores {
        let sink = bore.countersink.map_or([0.0, 0.0], |sink| [sink.diameter, sink.depth]);
        numbers.extend([bore.centre.x, bore.centre.y, bore.diameter, sink[0], sink[1]].map(f64::to_bits));
    }
    numbers
}
