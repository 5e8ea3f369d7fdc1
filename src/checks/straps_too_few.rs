//! Equipment that its straps do not hold.

use crate::diag::{Finding, Findings, Rule, Severity};
use crate::finished::Finished;
use crate::number::{decimal, fixed};

pub(super) static RULE: Rule = Rule {
    name: "straps-too-few",
    severity: Severity::Warning,
    finds: "Equipment that only straps hold, fewer than friction under it wants in braking and cornering, tightened as the workshop's `strength` \
            says.",
    why: "A strap over a load holds it only by pressing it down; a heavy load slides out from under one.",
    failing: "\
bay: {width: 1040, depth: 1050, height: 800}
carcases:
  - {id: main, width: 1000, depth: 900, height: 300, panel: birch-18, cell: {id: pocket, open: {}}}
equipment:
  - {id: case, in: main-pocket, size: {length: 300, width: 300, height: 150}, mass: {empty: 70}, straps: 1}
",
    passing: "\
bay: {width: 1040, depth: 1050, height: 800}
carcases:
  - {id: main, width: 1000, depth: 900, height: 300, panel: birch-18, cell: {id: pocket, open: {}}}
equipment:
  - {id: case, in: main-pocket, size: {length: 300, width: 300, height: 150}, mass: {empty: 30}, straps: 1}
",
    source: "EN 12195-1, friction lashing, read on a supplier's page; friction and tension are common practice, no source",
};

pub(super) fn run(finished: &Finished, findings: &mut Findings) {
    for check in finished.strength.straps.iter().filter(|check| check.outcome.fails()) {
        let message = format!(
            "`{}`, {} kg, is to be held by friction under its straps: they are {}, and it wants {}",
            check.name,
            fixed(check.mass, 1),
            check.straps,
            decimal(check.wanted, 0)
        );
        let help = "give it more `straps`, `bars` or bolts through its `feet`";
        findings.push(Finding::new(&RULE, check.span, message).on(&check.name).help(help));
    }
}
