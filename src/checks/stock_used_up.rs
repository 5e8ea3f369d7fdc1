//! Panels for which the workshop's stock does not suffice.

use crate::diag::{Finding, Findings, Rule, Severity};
use crate::finished::Finished;

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

/// Most panels that are named.
const MOST_NAMED: usize = 6;

pub(super) fn run(finished: &Finished, findings: &mut Findings) {
    for group in &finished.groups {
        let left_out: Vec<_> =
            group.nesting.left_out.iter().map(|&part| &finished.kit.panels[group.panels[part]]).collect();
        let Some(first) = left_out.first() else { continue };
        let name = |stock: usize| group.stock.get(stock).map_or("", |stock| stock.name.as_str());
        let there: Vec<String> = group
            .stock
            .iter()
            .filter_map(|stock| Some(format!("{} of {}", stock.quantity?, stock.name)))
            .collect();
        let mut names: Vec<String> =
            left_out.iter().take(MOST_NAMED).map(|panel| format!("`{}`", panel.name)).collect();
        if left_out.len() > MOST_NAMED {
            names.push(format!("{} more", left_out.len() - MOST_NAMED));
        }
        let message = format!(
            "the stock of `{}` ({}) is used up without {}",
            group.material.id,
            there.join(", "),
            names.join(", ")
        );
        let missing: Vec<String> =
            group.nesting.missing.iter().map(|&(stock, n)| format!("{n} of {}", name(stock))).collect();
        let help = format!("{} more would do; correct `quantity:`, or buy them", missing.join(" and "));
        findings.push(Finding::new(&RULE, first.span, message).on(&group.material.id).help(help));
    }
}
