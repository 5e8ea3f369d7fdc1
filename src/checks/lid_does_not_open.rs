//! Equipment whose lid opens upward and has no room for it, neither shut in nor drawn out.

use super::room_in_use::struck;
use crate::diag::{Finding, Findings, Rule, Severity};
use crate::finished::Finished;
use crate::geom::Vector3;
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
  - {id: cooker, size: {length: 350, width: 560, height: 120}, mass: {empty: 6}, lid: {height: 400}, in: main-pocket}
",
    passing: "\
bay: {width: 1040, depth: 1050, height: 900}
carcases:
  - {id: main, width: 700, depth: 900, height: 500, panel: birch-12, cell: {id: pocket, tray: {slide: overtravel-700, comes_clear: true}}}
equipment:
  - {id: cooker, size: {length: 350, width: 560, height: 120}, mass: {empty: 6}, lid: {height: 400}, on: main-pocket, offset: {x: -100}, feet: {bolt: M5, places: [{x: 100, y: 0}, {x: -100, y: 0}]}}
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
