//! Panels for which the workshop's stock does not suffice.

use crate::diag::{Finding, Findings, Rule, Severity};
use crate::finished::Finished;
use crate::sheets::{self, Told};

pub(super) static RULE: Rule = Rule {
    name: "stock-used-up",
    severity: Severity::Error,
    finds: "Panels that are on no sheet because the quantities of their material's stock are used up.",
    why: "They cannot be cut from what is there.",
    failing: "\
bay: {width: 1040, depth: 1050, height: 800}
workshop: {materials: {birch-12: {stock: [{length: 1525, width: 1525, quantity: 1}]}}}
carcases:
  - {id: main, width: 1000, depth: 900, height: 300, panel: birch-12, cell: {open: {}}}
",
    passing: "\
bay: {width: 1040, depth: 1050, height: 800}
workshop: {materials: {birch-12: {stock: [{length: 1525, width: 1525, quantity: 3}]}}}
carcases:
  - {id: main, width: 1000, depth: 900, height: 300, panel: birch-12, cell: {open: {}}}
",
    source: "arithmetic",
};

pub(super) fn run(finished: &Finished, findings: &mut Findings) {
    for group in &finished.groups {
        let Some(Told { message, would_do }) = sheets::used_up(group) else { continue };
        let first = group.nesting.left_out.first().map(|&part| &finished.kit.panels[group.panels[part]]);
        let help = format!("{would_do}; correct `quantity:`, or buy them");
        if let Some(first) = first {
            findings.push(Finding::new(&RULE, first.span, message).on(&group.material.id).help(help));
        }
    }
}
