//! A hole for a run so near to a bolt that the panel between them is weak.

use crate::diag::{Finding, Findings, Rule, Severity};
use crate::finished::Finished;
use crate::layout::RUN_CLEAR;
use crate::number::decimal;

pub(super) static RULE: Rule = Rule {
    name: "run-hole-near-bolt",
    severity: Severity::Warning,
    finds: "A hole for a cable, hose or duct with less than 20 mm of panel between its rim and that of a bolt's hole.",
    why: "The panel tears from one hole to the other, and the bundle chafes on the bolt.",
    failing: "\
bay: {width: 1300, depth: 1050, height: 800}
carcases:
  - {id: left, width: 600, depth: 900, height: 300, panel: birch-12, at: {y: 300}, cell: {open: {}}}
  - {id: right, width: 600, depth: 900, height: 300, panel: birch-12, at: {y: -300}, cell: {open: {}}}
runs:
  - {id: feed, kind: cable, bundle: 12, from: {at: {x: 60, y: 200, z: 60}}, to: {at: {x: 60, y: -200, z: 60}}}
",
    passing: "\
bay: {width: 1300, depth: 1050, height: 800}
carcases:
  - {id: left, width: 600, depth: 900, height: 300, panel: birch-12, at: {y: 300}, cell: {open: {}}}
  - {id: right, width: 600, depth: 900, height: 300, panel: birch-12, at: {y: -300}, cell: {open: {}}}
runs:
  - {id: feed, kind: cable, bundle: 12, from: {at: {x: 200, y: 200, z: 150}}, to: {at: {x: 200, y: -200, z: 150}}}
",
    source: "common practice, from memory",
};

pub(super) fn run(finished: &Finished, findings: &mut Findings) {
    let kit = &finished.kit;
    for run in &kit.layout.runs {
        for crossing in &run.crossings {
            let panel = kit.panel(crossing.panel);
            let Some(opening) = panel.openings.iter().find(|opening| opening.joint == crossing.opening)
            else {
                continue;
            };
            let web =
                |bore: &crate::joints::Bore| opening.path.distance_to(bore.centre) - bore.widest() / 2.0;
            let nearest = panel.bores.iter().min_by(|a, b| web(a).total_cmp(&web(b)));
            let Some(bore) = nearest.filter(|bore| web(bore) < RUN_CLEAR) else { continue };
            let message = format!(
                "the hole `{}` in `{}` comes within {} mm of the hole for the bolt `{}`; {RUN_CLEAR} mm should stay",
                crossing.opening,
                panel.name,
                decimal(web(bore), 1),
                kit.bolt(bore.bolt).name
            );
            let help = "lead the run through another place of the panel with `via`";
            findings.push(Finding::new(&RULE, run.span, message).on(&run.name).help(help));
        }
    }
}
