//! A carcase with hardly any room between it and the bay's sides.

use super::solids::{Solid, all};
use crate::diag::{Finding, Findings, Rule, Severity};
use crate::finished::Finished;
use crate::geom::tolerance::{SAME_LENGTH, TOUCH};
use crate::number::decimal;

pub(super) static RULE: Rule = Rule {
    name: "carcase-tight-in-bay",
    severity: Severity::Warning,
    finds: "Less than 5 mm between a carcase, bolt heads included, and the bay's left or right side.",
    why: "A bay is never quite square, and trim and carpet stand out; a carcase that just fits on paper has to be forced in and chafes.",
    failing: "\
bay: {width: 1040, depth: 1050, height: 800}
carcases:
  - {id: main, width: bay.width - 6, depth: 900, height: 300, panel: birch-12, cell: {open: {}}}
",
    passing: "\
bay: {width: 1040, depth: 1050, height: 800}
carcases:
  - {id: main, width: bay.width - 20, depth: 900, height: 300, panel: birch-12, cell: {open: {}}}
",
    source: "common practice, no source: 5 to 10 mm on each side",
};

/// mm between a carcase and a side of the bay, at least.
const LEAST_ROOM: f64 = 5.0;

pub(super) fn run(finished: &Finished, findings: &mut Findings) {
    let bay = &finished.design.vehicle.bay;
    let half = bay.width.value / 2.0;
    let solids = all(finished);
    for carcase in &finished.design.carcases {
        let id = &carcase.id.value;
        let own = |solid: &&Solid| &finished.kit.layout.body(solid.body).carcase == id;
        let left = solids.iter().filter(own).map(|solid| half - solid.aabb.high.y);
        let right = solids.iter().filter(own).map(|solid| half + solid.aabb.low.y);
        let rooms =
            [("left", left.fold(f64::INFINITY, f64::min)), ("right", right.fold(f64::INFINITY, f64::min))];
        for (side, room) in rooms {
            // What reaches beyond the side is an error of its own.
            if room < -TOUCH || room + SAME_LENGTH >= LEAST_ROOM {
                continue;
            }
            let message = format!(
                "`{id}` leaves {} mm to the bay's {side} side; {LEAST_ROOM} mm are usual at least",
                decimal(room.max(0.0), 2)
            );
            findings.push(
                Finding::new(&RULE, carcase.span, message)
                    .on(id)
                    .also(bay.span, "the bay is given here")
                    .help("make it narrower, or accept this if the bay was measured at its narrowest"),
            );
        }
    }
}
