//! What could not be checked for strength, and why.

use crate::diag::{Finding, Findings, Rule, Severity};
use crate::finished::Finished;
use crate::strength::{NOT_HELD, Outcome};
use std::collections::BTreeMap;

pub(super) static RULE: Rule = Rule {
    name: "strength-not-checked",
    severity: Severity::Note,
    finds: "Panels, slides, latches, joints and points that the checks of strength say nothing about, since something is not known of them.",
    why: "What is not checked has not passed.",
    failing: "\
bay: {width: 1040, depth: 1050, height: 800}
carcases:
  - {id: main, width: 1000, depth: 900, height: 300, panel: birch-12, cell: {drawer: {slide: heavy-800}}}
",
    passing: "\
bay: {width: 1040, depth: 1050, height: 800, anchors: [{id: left, x: 300, y: 400, thread: M8, depth: 18, rating: 2400}, {id: right, x: 300, y: -400, thread: M8, depth: 18, rating: 2400}]}
carcases:
  - {id: main, width: 1000, depth: 900, height: 300, panel: birch-12, anchors: [{point: left}, {point: right}], cell: {drawer: {slide: heavy-800, latch: 600}}}
",
    source: "our own",
};

pub(super) fn run(finished: &Finished, findings: &mut Findings) {
    let mut by_reason: BTreeMap<(&str, &str), usize> = BTreeMap::new();
    let outcomes = finished.strength.outcomes(&finished.kit);
    for (what, _, outcome) in &outcomes {
        // What no point holds that way is a finding of its own.
        if let Outcome::Unknown(why) = outcome
            && !why.starts_with(NOT_HELD)
        {
            *by_reason.entry((what, why)).or_default() += 1;
        }
    }
    let loose = finished.strength.loose.len();
    if loose > 0 {
        by_reason.insert(
            (
                "module",
                "no point of the vehicle holds it, so nothing says that braking leaves it where it is",
            ),
            loose,
        );
    }
    if by_reason.is_empty() {
        return;
    }
    let reasons: Vec<String> =
        by_reason.into_iter().map(|((what, why), n)| format!("{what}, {n} times: {why}")).collect();
    let message = format!("not everything was checked for strength: {}", reasons.join("; "));
    let help = "the report lists them under `Will it hold`; give what is missing: `latch`, `rating`, strengths under the workshop's \
                `materials`";
    findings.push(Finding::new(&RULE, finished.design.name.span, message).help(help));
}
