//! What could not be checked for strength, and why.

use crate::diag::{Finding, Findings, Rule, Severity};
use crate::finished::Finished;
use crate::strength::{Kind, NOT_HELD, Outcome};
use std::collections::BTreeMap;

pub(super) static RULE: Rule = Rule {
    name: "strength-not-checked",
    severity: Severity::Note,
    finds: "Panels, slides, latches, joints and points that the checks of strength say nothing about, since something is not known of them.",
    why: "What is not checked has not passed.",
    failing: "\
bay: {width: 1040, depth: 1050, height: 800}
carcases:
  - {id: main, width: 1000, depth: 900, height: 300, panel: birch-12, panels: {deck: composite-6}, columns: [{open: {}}, {open: {}}, {open: {}}]}
",
    passing: "\
bay: {width: 1040, depth: 1050, height: 800}
carcases:
  - {id: main, width: 1000, depth: 900, height: 300, panel: birch-12, columns: [{open: {}}, {open: {}}, {open: {}}]}
",
    source: "our own",
};

pub(super) fn run(finished: &Finished, findings: &mut Findings) {
    let mut by_reason: BTreeMap<(&str, &str), usize> = BTreeMap::new();
    let outcomes = finished.strength.outcomes(&finished.kit);
    let latches = finished.strength.latches.iter().any(|latch| latch.holds.is_some());
    for (kind, _, outcome) in &outcomes {
        // A design that speaks of no latch at all is told in the report.
        if *kind == Kind::Latch && !latches {
            continue;
        }
        // What no point holds that way is a finding of its own.
        if let Outcome::Unknown(why) = outcome
            && !why.starts_with(NOT_HELD)
        {
            *by_reason.entry((kind.word(), why)).or_default() += 1;
        }
    }
    // Where the bay has no points for it, the report says that nothing holds it.
    let loose = finished.strength.loose.len();
    if loose > 0 && !finished.strength.anchors.is_empty() {
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
    let reason = |((what, why), n)| match n {
        1 => format!("{what}: {why}"),
        n => format!("{what}, {n} times: {why}"),
    };
    let reasons: Vec<String> = by_reason.into_iter().map(reason).collect();
    let message = format!("not everything was checked for strength: {}", reasons.join("; "));
    let help = "the report lists them under `Will it hold`; give what is missing: `latch`, `rating`, strengths under the workshop's \
                `materials`";
    findings.push(Finding::new(&RULE, finished.design.name.span, message).help(help));
}
