//! Gas inside the vehicle without a locker that is closed to the inside and vented to the outside.

use crate::diag::{At, Finding, Findings, Rule, Severity};
use crate::finished::Finished;
use crate::geom::tolerance::SAME_LENGTH;
use crate::joints::Kit;
use crate::layout::{CellSummary, CutoutSummary, EquipmentSummary, LEAST_WEB};
use crate::moves::{BELOW_CEILING, front, gas_vents, leads_into};
use crate::number::decimal;
use crate::spec::{Towards, VentedLocker};

/// mm that the lower vents' lower edge is above the floor, at most: flush (the same rule), but for the wood that must stay.
const ABOVE_FLOOR: f64 = LEAST_WEB + 5.0;

pub(super) static RULE: Rule = Rule {
    name: "gas-not-vented",
    severity: Severity::Error,
    finds: "Equipment that holds gas and stands elsewhere than in a closed cell with the fields of a vented `locker`: sealed \
            towards the inside, with cut-outs at its floor and under its ceiling that lead outside, each half with 1 % of the \
            floor's area and 50 cm2 at least; or whose locker has another cut-out, or one to the inside.",
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

fn faults(kit: &Kit, equipment: &EquipmentSummary) -> Vec<(String, String)> {
    let cell = equipment.cell.map(|cell| &kit.layout.cells[cell]);
    let (Some(locker), Some(cell)) = (&equipment.locker, cell) else {
        let help = "carry it outside; or put it `in` a closed cell and say what makes that a vented locker (`locker: {sealed: \
                    true, low: [..], high: [..]}`), which a licensed person must check";
        let message = "it may not stand inside the vehicle without a vented locker";
        return vec![(message.to_owned(), help.to_owned())];
    };
    let mut faults = Vec::new();
    let mut fault = |message: String, help: &str| faults.push((message, help.to_owned()));
    if !locker.sealed {
        let help = "seal every seam and the door, and say so with `sealed: true`";
        fault("its locker is not sealed towards the inside".to_owned(), help);
    }
    if front(kit, cell).is_none() || !cell.covered {
        let help = "close the cell with a `door`, and leave its deck over it";
        fault(format!("`{}` is open at its front or top", cell.name), help);
    }
    for cutout in kit.layout.cutouts.iter().filter(|cutout| leads_into(kit, cutout, cell)) {
        let named = locker.low.iter().chain(&locker.high).any(|name| name.value == cutout.name);
        let inside = to_inside(kit, cutout, cell);
        if let Some(inside) = inside {
            let help =
                "gas locker and living space may share no opening: move it to a board that looks outside";
            fault(format!("`{}` opens its locker to {inside}", cutout.name), help);
        } else if !named {
            let help = "name it under `low` or `high` if it leads outside, else leave it out";
            fault(format!("`{}` opens its locker, and is no vent of it", cutout.name), help);
        }
    }
    faults.extend(vents(kit, cell, locker));
    faults
}

/// What inside the vehicle a cut-out of a cell opens it to: another cell, or what lies before its front.
fn to_inside(kit: &Kit, cutout: &CutoutSummary, cell: &CellSummary) -> Option<String> {
    if front(kit, cell) == Some(cutout.host) {
        return Some("the inside through its front".to_owned());
    }
    let other =
        kit.layout.cells.iter().find(|other| other.name != cell.name && leads_into(kit, cutout, other));
    other.map(|other| format!("`{}`", other.name))
}

fn vents(kit: &Kit, cell: &CellSummary, locker: &VentedLocker) -> Vec<(String, String)> {
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
                None => {
                    faults
                        .push((format!("no cut-out is called `{name}`"), "`cutouts` lists them".to_owned()));
                }
                Some(cutout) if !leads_into(kit, cutout, cell) => {
                    let message = format!("`{name}` does not lead out of `{}`", cell.name);
                    let help = "cut it into a board around the cell that leads outside";
                    faults.push((message, help.to_owned()));
                }
                Some(cutout) if !lies(cell, cutout) => {
                    let help = format!(
                        "lower vents end at the floor, at most {ABOVE_FLOOR} mm above it; upper ones within {BELOW_CEILING} mm of \
                         the ceiling"
                    );
                    faults.push((format!("`{name}` does not lie {words} of `{}`", cell.name), help));
                }
                Some(cutout) => area += cutout.free_area,
            }
        }
        if area + SAME_LENGTH < needed {
            let [area, needed] = [area, needed].map(|area| decimal(area / 100.0, 1));
            let message = format!("vents {words} have {area} of {needed} cm2");
            faults.push((message, "cut more or larger vents, and name them under `locker`".to_owned()));
        }
    }
    faults
}

/// The lower and upper edge of a cut-out, mm above the floor of the bay: of all its openings.
fn edges(cutout: &CutoutSummary) -> (f64, f64) {
    let lying = matches!(cutout.facing, Towards::Up | Towards::Down);
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
