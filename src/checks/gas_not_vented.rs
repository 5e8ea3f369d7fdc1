//! Gas inside the vehicle without a locker that is closed to the inside and vented to the outside.

use crate::diag::{At, Finding, Findings, Rule, Severity};
use crate::finished::Finished;
use crate::geom::tolerance::SAME_LENGTH;
use crate::joints::Kit;
use crate::layout::{CellSummary, CutoutSummary, EquipmentSummary, LEAST_WEB};
use crate::moves::{front, gas_vents, leads_into};
use crate::number::decimal;
use crate::spec::VentedLocker;

/// mm that the upper vents are below the ceiling, at most: 12 inches, Indiana 675 IAC 15-2-74 (read).
const BELOW_CEILING: f64 = 304.8;
/// mm that the lower vents' lower edge is above the floor, at most: flush (the same rule), but for the wood that must stay.
const ABOVE_FLOOR: f64 = LEAST_WEB + 5.0;

pub(super) static RULE: Rule = Rule {
    name: "gas-not-vented",
    severity: Severity::Error,
    finds: "Equipment that holds gas and stands elsewhere than in a closed cell with the fields of a vented `locker`: sealed \
            towards the inside, with cut-outs at its floor and under its ceiling that lead outside, each half with 1 % of the \
            floor's area and 50 cm2 at least.",
    why: "Gas that leaks collects at the floor, where people sleep. A locker that is tight to the inside lets it out below.",
    failing: "\
bay: {width: 1040, depth: 1050, height: 800}
carcases:
  - {id: main, width: 500, depth: 600, height: 540, panel: birch-12, cell: {id: gas, door: {hinge: left}}}
equipment: [{id: bottle, kind: gas-cylinder-4, in: main-gas}]
",
    passing: "\
bay: {width: 1040, depth: 1050, height: 800}
carcases:
  - {id: main, at: {x: 100}, width: 500, depth: 600, height: 540, panel: birch-12, cell: {id: gas, door: {hinge: left}}}
cutouts:
  - {id: low, panel: main-base, slot: {length: 250, width: 24}, middle: {rear: 90}}
  - {id: high, panel: main-side-right, slot: {length: 250, width: 24}, edge: {top: 60}}
equipment:
  - {id: bottle, kind: gas-cylinder-4, in: main-gas, locker: {sealed: true, low: [low], high: [high]}}
",
    source: "areas and places: Indiana 675 IAC 15-2-74 (read) and EN 1949 (from memory); a sketch for the licensed person",
};

pub(super) fn run(finished: &Finished, findings: &mut Findings) {
    let layout = &finished.kit.layout;
    for equipment in layout.equipment.iter().filter(|equipment| equipment.gas) {
        for (message, help) in faults(&finished.kit, equipment) {
            let span = layout.fixtures[equipment.fixture].span;
            let message = format!("`{}` holds gas: {message}", equipment.name);
            findings.push(Finding::new(&RULE, span, message).on(&equipment.name).help(help));
        }
    }
}

fn faults(kit: &Kit, equipment: &EquipmentSummary) -> Vec<(String, &'static str)> {
    let cell = equipment.cell.map(|cell| &kit.layout.cells[cell]);
    let (Some(locker), Some(cell)) = (&equipment.locker, cell) else {
        let help = "carry it outside; or put it `in` a closed cell and say what makes that a vented locker (`locker: {sealed: \
                    true, low: [..], high: [..]}`), which a licensed person must check";
        return vec![("it may not stand inside the vehicle without a vented locker".to_owned(), help)];
    };
    let mut faults = Vec::new();
    if !locker.sealed {
        let help = "seal every seam and the door, and say so with `sealed: true`";
        faults.push(("its locker is not sealed towards the inside".to_owned(), help));
    }
    if front(kit, cell).is_none() || !cell.covered {
        let help = "close the cell with a `door`, and leave its deck over it";
        faults.push((format!("`{}` is open at its front or top", cell.name), help));
    }
    faults.extend(vents(kit, cell, locker));
    faults
}

fn vents(kit: &Kit, cell: &CellSummary, locker: &VentedLocker) -> Vec<(String, &'static str)> {
    let needed = gas_vents(cell);
    let mut faults = Vec::new();
    for (names, words, lies) in [
        (&locker.low, "at the floor", at_floor as fn(&CellSummary, &CutoutSummary) -> bool),
        (&locker.high, "under the ceiling", under_ceiling),
    ] {
        let mut area = 0.0;
        for At { value: name, .. } in names {
            let cutout = kit.layout.cutouts.iter().find(|cutout| cutout.name == *name);
            match cutout {
                None => faults.push((format!("no cut-out is called `{name}`"), "`cutouts` lists them")),
                Some(cutout) if !leads_into(kit, cutout, cell) => {
                    let message = format!("`{name}` does not lead out of `{}`", cell.name);
                    faults.push((message, "cut it into a board around the cell that leads outside"));
                }
                Some(cutout) if !lies(cell, cutout) => {
                    let help = "lower vents end at the floor, at most 15 mm above it; upper ones within 304.8 mm of the ceiling";
                    faults.push((format!("`{name}` does not lie {words} of `{}`", cell.name), help));
                }
                Some(cutout) => area += cutout.free_area,
            }
        }
        if area + SAME_LENGTH < needed {
            let [area, needed] = [area, needed].map(|area| decimal(area / 100.0, 1));
            let message = format!("vents {words} have {area} of {needed} cm2");
            faults.push((message, "cut more or larger vents, and name them under `locker`"));
        }
    }
    faults
}

/// The lower and upper edge of a cut-out, mm above the floor of the bay: of all its openings.
fn edges(cutout: &CutoutSummary) -> (f64, f64) {
    let lying = matches!(cutout.facing, crate::spec::Towards::Up | crate::spec::Towards::Down);
    let half = if lying { 0.0 } else { cutout.size[1] / 2.0 };
    let middles = cutout.middles.iter().map(|middle| middle.z);
    middles.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), z| (low.min(z - half), high.max(z + half)))
}

fn at_floor(cell: &CellSummary, cutout: &CutoutSummary) -> bool {
    edges(cutout).0 <= cell.room.low.z + ABOVE_FLOOR
}

fn under_ceiling(cell: &CellSummary, cutout: &CutoutSummary) -> bool {
    edges(cutout).1 >= cell.room.high.z - BELOW_CEILING
}
