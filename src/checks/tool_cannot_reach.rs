//! Bolts that no tool gets to when their step comes.

use std::collections::BTreeMap;

use crate::assembly::{End, Unreachable};
use crate::diag::{Finding, Findings, Rule, Severity};
use crate::finished::Finished;
use crate::joints::solids;

pub(super) static RULE: Rule = Rule {
    name: "tool-cannot-reach",
    severity: Severity::Warning,
    finds: "A bolt whose head or nut has no room for a driver or socket (25 mm across, 120 mm along the axis), nor for an \
            L-shaped key or an open spanner with its swing, at the step at which it is put in.",
    why: "The last bolt that cannot be tightened costs an afternoon of taking apart what was put together.",
    failing: "\
bay: {width: 1040, depth: 1050, height: 800}
carcases:
  - {id: main, width: 1000, depth: 900, height: 300, panel: birch-12, columns: [{drawer: {slide: heavy-800}}, {size: 40, open: {}}, {drawer: {slide: heavy-800}}]}
",
    passing: "\
bay: {width: 1040, depth: 1050, height: 800}
carcases:
  - {id: main, width: 1000, depth: 900, height: 300, panel: birch-12, columns: [{drawer: {slide: heavy-800}}, {size: 200, open: {}}, {drawer: {slide: heavy-800}}]}
",
    source: "room for tools: common practice, no source; arms of hexagon keys: ISO 2936 (from memory)",
};

pub(super) fn run(finished: &Finished, findings: &mut Findings) {
    let kit = &finished.kit;
    // One finding for the bolts of a joint that have the same trouble.
    let mut alike: BTreeMap<(&str, bool), Vec<&Unreachable>> = BTreeMap::new();
    for unreachable in &finished.assembly.unreachable {
        let joint = kit.bolt(unreachable.bolt).joint();
        alike.entry((joint, unreachable.end == End::Head)).or_default().push(unreachable);
    }
    for ((joint, at_head), bolts) in alike {
        let first = bolts[0];
        let bolt = kit.bolt(first.bolt);
        let which = match bolts.len() {
            1 => format!("`{}`", bolt.name),
            n => format!("{n} bolts of `{joint}`, `{}` first", bolt.name),
        };
        let step = finished.assembly.number_of(first.bolt);
        let by = first.by.iter().map(|&part| format!("`{}`", solids::name(kit, part)));
        let message = format!(
            "{which}: no tool gets to the {} at step {step} ({}): {} in the way",
            if at_head { "head" } else { "nut" },
            finished.assembly.step_of(first.bolt).words(kit),
            by.collect::<Vec<_>>().join(", ")
        );
        let help = match first.cure {
            Some((step, panel)) => format!(
                "put {} in at step {} ({}), before `{}` goes on",
                if bolts.len() == 1 { "it" } else { "them" },
                step + 1,
                finished.assembly.steps[step].step.words(kit),
                kit.panel(panel).name
            ),
            None => "give it more room, move it with `at:`, or take another kind of joint".to_owned(),
        };
        findings.push(Finding::new(&RULE, bolt.span, message).on(joint).help(help));
    }
}
