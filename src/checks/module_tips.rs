//! A module that nothing holds to the vehicle and that its open drawers tip.

use crate::diag::{Finding, Findings, Rule, Severity};
use crate::finished::Finished;
use crate::number::{decimal, fixed};

pub(super) static RULE: Rule = Rule {
    name: "module-tips",
    severity: Severity::Warning,
    finds: "A module that no point of the vehicle holds and that a loaded drawer tips when it is drawn out, or all of them together: held less \
            than `tipping_factor` times.",
    why: "A chest of drawers comes down on whoever opens it.",
    failing: "\
bay: {width: 1040, depth: 1050, height: 800}
carcases:
  - {id: main, width: 500, depth: 900, height: 300, panel: birch-12, cell: {drawer: {slide: heavy-800, load: 60}}}
",
    passing: "\
bay: {width: 1040, depth: 1050, height: 800}
carcases:
  - {id: main, width: 500, depth: 900, height: 300, panel: birch-12, cell: {drawer: {slide: heavy-800}}}
",
    source: "statics; the factor is a decision of this project",
};

pub(super) fn run(finished: &Finished, findings: &mut Findings) {
    let mut told: Vec<&str> = Vec::new();
    for check in finished.strength.tipping.iter().filter(|check| check.outcome.fails()) {
        // One drawer that tips it says more than all of them.
        if told.contains(&check.module.as_str()) {
            continue;
        }
        told.push(&check.module);
        let out = check.drawer.as_ref().map_or_else(|| "all drawers".to_owned(), |name| format!("`{name}`"));
        let message = format!(
            "with {out} out, {} kg stand {} mm before its edge: `{}` is held {} times",
            fixed(check.out.0, 1),
            decimal(check.out.1, 0),
            check.module,
            fixed(check.factor, 2)
        );
        let help = format!(
            "bolt it to the vehicle (`anchors`); {} N down at its far end would hold it",
            decimal(check.hold_down.ceil(), 0)
        );
        findings.push(Finding::new(&RULE, check.span, message).on(&check.module).help(help));
    }
}
