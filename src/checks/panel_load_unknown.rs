//! A load on a panel that is not there.

use crate::diag::{Finding, Findings, Rule, Severity, did_you_mean};
use crate::finished::Finished;

pub(super) static RULE: Rule = Rule {
    name: "panel-load-unknown",
    severity: Severity::Error,
    finds: "An entry of `panel_loads` whose panel is none that bears: no deck, shelf, drawer bottom, tray, lid or wing of the kit.",
    why: "A load that no panel bears is a check that nobody makes.",
    failing: "\
bay: {width: 1040, depth: 1050, height: 800}
carcases:
  - {id: main, width: 1000, depth: 900, height: 300, panel: birch-12, cell: {open: {}}}
panel_loads: [{panel: main-dek, mass: 40}]
",
    passing: "\
bay: {width: 1040, depth: 1050, height: 800}
carcases:
  - {id: main, width: 1000, depth: 900, height: 300, panel: birch-12, cell: {open: {}}}
panel_loads: [{panel: main-deck, mass: 40}]
",
    source: "our own: names must be known",
};

pub(super) fn run(finished: &Finished, findings: &mut Findings) {
    let layout = &finished.kit.layout;
    let known = || finished.strength.panels.iter().map(|check| layout.board(check.board).name.as_str());
    for load in &finished.design.panel_loads {
        let name = &load.panel.value;
        if known().any(|known| known == name) {
            continue;
        }
        let help = did_you_mean(name, known())
            .unwrap_or_else(|| "the report lists the panels that bear under `Will it hold`".to_owned());
        let message = format!("no panel called `{name}` bears anything");
        findings.push(Finding::new(&RULE, load.panel.span, message).on(name).help(help));
    }
}
