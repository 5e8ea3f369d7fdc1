//! A panel that no stock sheet is large enough for.

use crate::diag::{Finding, Findings, Rule, Severity};
use crate::finished::Finished;
use crate::sheets::{self, Told};

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
            let Told { message, would_do } = sheets::too_large(group, &group.parts[part]);
            let help = format!("{would_do}; give it under `materials: stock:`, or divide the carcase");
            findings.push(Finding::new(&RULE, panel.span, message).on(&panel.name).help(help));
        }
    }
}
