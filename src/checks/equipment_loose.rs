//! Equipment that nothing holds down.

use crate::diag::{Finding, Findings, Rule, Severity};
use crate::finished::Finished;
use crate::number::fixed;

pub(super) static RULE: Rule = Rule {
    name: "equipment-loose",
    severity: Severity::Warning,
    finds: "Equipment with neither straps, bars nor bolts through its feet.",
    why: "What is not held flies forward when the vehicle stops, at the people before it.",
    failing: "\
bay: {width: 1040, depth: 1050, height: 800}
carcases:
  - {id: main, width: 1000, depth: 900, height: 300, panel: birch-12, cell: {id: pocket, open: {}}}
equipment:
  - {id: case, in: main-pocket, size: {length: 300, width: 300, height: 150}, mass: {empty: 8}}
",
    passing: "\
bay: {width: 1040, depth: 1050, height: 800}
carcases:
  - {id: main, width: 1000, depth: 900, height: 300, panel: birch-12, cell: {id: pocket, open: {}}}
equipment:
  - {id: case, in: main-pocket, size: {length: 300, width: 300, height: 150}, mass: {empty: 8}, straps: 2}
",
    source: "load restraint codes ask for every load to be restrained",
};

pub(super) fn run(finished: &Finished, findings: &mut Findings) {
    for equipment in &finished.kit.layout.equipment {
        if equipment.straps + equipment.bars > 0 || equipment.foot_bolts > 0 {
            continue;
        }
        let span = finished.kit.layout.fixtures[equipment.fixture].span;
        let message =
            format!("`{}`, {} kg full, is held by nothing", equipment.name, fixed(equipment.full, 1));
        let help = "give it `straps` or `bars`, or bolts through its `feet`; accept this where something else holds it";
        findings.push(Finding::new(&RULE, span, message).on(&equipment.name).help(help));
    }
}
