//! A time limit for the nesting, which gives up that a second run gives the same sheets.

use crate::diag::{Finding, Findings, Rule, Severity};
use crate::finished::Finished;
use crate::number::decimal;

pub(super) static RULE: Rule = Rule {
    name: "nesting-time-limit",
    severity: Severity::Note,
    finds: "A `time_limit` for the nesting.",
    why: "How many steps go into a second depends on the machine and on what else it does, so another run may lay the \
          panels out otherwise.",
    failing: "\
bay: {width: 1040, depth: 1050, height: 800}
nesting: {effort: 50, time_limit: 60}
carcases:
  - {id: main, width: 1000, depth: 900, height: 300, panel: birch-12, cell: {open: {}}}
",
    passing: "\
bay: {width: 1040, depth: 1050, height: 800}
nesting: {effort: 50, seed: 7}
carcases:
  - {id: main, width: 1000, depth: 900, height: 300, panel: birch-12, cell: {open: {}}}
",
    source: "a decision of this project",
};

pub(super) fn run(finished: &Finished, findings: &mut Findings) {
    if let Some(limit) = finished.design.nesting.time_limit {
        let message =
            format!("with a limit of {} s the sheets may differ from run to run", decimal(limit.value, 3));
        let help = "give an `effort:` instead where the same sheets are wanted again";
        findings.push(Finding::new(&RULE, limit.span, message).on("nesting").help(help));
    }
}
