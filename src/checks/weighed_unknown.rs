//! A reading of a scale of something that the kit does not have.

use crate::diag::{Finding, Findings, Rule, Severity, did_you_mean};
use crate::finished::Finished;

pub(super) static RULE: Rule = Rule {
    name: "weighed-unknown",
    severity: Severity::Error,
    finds: "A reading of a scale whose `of` is no panel, part, drawer or carcase of the kit, nor `kit`.",
    why: "It could be set against nothing.",
    failing: "\
bay: {width: 1040, depth: 1050, height: 800}
carcases:
  - {id: main, width: 700, depth: 900, height: 300, panel: birch-12, cell: {open: {}}}
weighed: [{of: main-dek, mass: 5.2, resolution: 0.05}]
",
    passing: "\
bay: {width: 1040, depth: 1050, height: 800}
carcases:
  - {id: main, width: 700, depth: 900, height: 300, panel: birch-12, cell: {open: {}}}
weighed: [{of: main-deck, mass: 5.2, resolution: 0.05}]
",
    source: "a decision of this project",
};

pub(super) fn run(finished: &Finished, findings: &mut Findings) {
    for &unknown in &finished.weighed.unknown {
        let of = &finished.design.weighed[unknown].of;
        let names = finished.masses.parts.iter().map(|part| part.name.as_str());
        let help = did_you_mean(&of.value, names).unwrap_or_else(|| "`mass.csv` lists every part".to_owned());
        findings.push(
            Finding::new(&RULE, of.span, format!("nothing in the kit is called `{}`", of.value)).help(help),
        );
    }
}
