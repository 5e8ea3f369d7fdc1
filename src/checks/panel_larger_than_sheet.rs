//! A panel that no stock sheet is large enough for.

use crate::diag::{Finding, Findings, Rule, Severity};
use crate::finished::Finished;
use crate::number::decimal;

pub(super) static RULE: Rule = Rule {
    name: "panel-larger-than-sheet",
    severity: Severity::Error,
    finds: "A panel that, with its grain kept, is larger than every stock sheet of its material less the trim.",
    why: "It cannot be cut from one piece.",
    failing: "\
bay: {width: 1040, depth: 3300, height: 800}
carcases:
  - {id: main, width: 1000, depth: 3200, height: 300, panel: birch-12, cell: {open: {}}}
",
    passing: "\
bay: {width: 1040, depth: 3300, height: 800}
carcases:
  - {id: main, width: 1000, depth: 2900, height: 300, panel: birch-12, cell: {open: {}}}
",
    source: "arithmetic",
};

pub(super) fn run(finished: &Finished, findings: &mut Findings) {
    for group in &finished.groups {
        for &part in &group.nesting.too_large {
            let panel = &finished.kit.panels[group.panels[part]];
            let (low, high) = panel.outline.bounds();
            let size = high - low;
            let trim = 2.0 * group.clearances.trim;
            let sheets: Vec<String> = group.stock.iter().map(|stock| stock.name.clone()).collect();
            let message = format!(
                "`{}` is {} x {} mm; no sheet of `{}` ({}) holds it within {} mm of trim",
                panel.name,
                decimal(size.x, 1),
                decimal(size.y, 1),
                group.material.id,
                sheets.join(", "),
                decimal(group.clearances.trim, 1)
            );
            let help = format!(
                "a sheet of at least {} x {} mm would do (first along the grain); give it under `materials: stock:`, or divide the carcase",
                decimal(size.x + trim, 1),
                decimal(size.y + trim, 1)
            );
            findings.push(Finding::new(&RULE, panel.span, message).on(&panel.name).help(help));
        }
    }
}
