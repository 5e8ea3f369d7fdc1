//! A latch that holds less than its drawer pulls.

use crate::diag::{Finding, Findings, Rule, Severity};
use crate::finished::Finished;
use crate::number::{decimal, fixed};

pub(super) static RULE: Rule = Rule {
    name: "latch-too-weak",
    severity: Severity::Error,
    finds: "A drawer, tray or door whose latch (`latch`, of a door the catalogue's) holds less than 0.5 of the weight behind it, or its pull on \
            a slope, times `latch_factor`.",
    why: "A drawer that flies open in a bend is what goes wrong most often.",
    failing: "\
bay: {width: 1040, depth: 1050, height: 800}
carcases:
  - {id: main, width: 1000, depth: 900, height: 300, panel: birch-12, cell: {drawer: {slide: heavy-800, load: 50, latch: 150}}}
",
    passing: "\
bay: {width: 1040, depth: 1050, height: 800}
carcases:
  - {id: main, width: 1000, depth: 900, height: 300, panel: birch-12, cell: {drawer: {slide: heavy-800, load: 50, latch: 600}}}
",
    source: "0.5 g rearward: Australian load restraint performance standards; slope and factor are common practice, no source",
};

pub(super) fn run(finished: &Finished, findings: &mut Findings) {
    for check in finished.strength.latches.iter().filter(|check| check.outcome.fails()) {
        let message = format!(
            "the latch of `{}` holds {} N; {} kg pull {} N at it in braking and {} N on a slope, so it must hold {} N",
            check.name,
            decimal(check.holds.unwrap_or_default(), 0),
            fixed(check.mass, 1),
            decimal(check.braking, 0),
            decimal(check.slope, 0),
            decimal(check.needed.ceil(), 0)
        );
        let help = "take a stronger latch or two, or put less into it";
        findings.push(Finding::new(&RULE, check.span, message).on(&check.name).help(help));
    }
}
