//! A cable at a battery without a fuse or breaker near it.

use crate::diag::{Finding, Findings, Rule, Severity};
use crate::finished::Finished;
use crate::number::decimal;
use crate::spec::RunKind;

/// mm along the cable from the battery (AS/NZS 3001.2, overview read).
const BARE: f64 = 200.0;
/// mm, for a cable that is encased up to there (the same).
const ENCASED: f64 = 1000.0;

pub(super) static RULE: Rule = Rule {
    name: "battery-cable-unprotected",
    severity: Severity::Warning,
    finds: "A cable that begins or ends at a battery, and of which the spec does not say that its fuse or breaker is within 200 mm \
            of it, or within 1000 mm of a cable that is encased up to there.",
    why: "Nothing ends the current of a battery's own short circuit ahead of its fuse; the cable glows. The licensed person decides.",
    failing: "\
bay: {width: 1040, depth: 1050, height: 800}
carcases:
  - {id: main, width: 1000, depth: 900, height: 320, panel: birch-12, cell: {id: pocket, open: {}}}
equipment:
  - {id: battery, kind: battery-100, in: main-pocket}
runs:
  - {id: feed, kind: cable, bundle: 12, from: {of: battery}, to: {at: {x: 850, y: -400, z: 100}}}
",
    passing: "\
bay: {width: 1040, depth: 1050, height: 800}
carcases:
  - {id: main, width: 1000, depth: 900, height: 320, panel: birch-12, cell: {id: pocket, open: {}}}
equipment:
  - {id: battery, kind: battery-100, in: main-pocket}
runs:
  - {id: feed, kind: cable, bundle: 12, from: {of: battery}, to: {at: {x: 850, y: -400, z: 100}}, protected_within: 150}
",
    source: "AS/NZS 3001.2, as a public overview tells it",
};

pub(super) fn run(finished: &Finished, findings: &mut Findings) {
    let cables = finished.kit.layout.runs.iter().filter(|run| run.kind == RunKind::Cable && run.at_battery);
    for run in cables {
        let most = if run.encased { ENCASED } else { BARE };
        let message = match run.protected_within {
            None => "no fuse or breaker is told of for a cable at a battery".to_owned(),
            Some(within) if within > most => format!(
                "its fuse or breaker is {} mm from the battery; {} mm is the most",
                decimal(within, 1),
                decimal(most, 0)
            ),
            Some(_) => continue,
        };
        let help = format!(
            "put one within {BARE} mm of the battery and say so with `protected_within`; {ENCASED} mm with `encased: true`"
        );
        findings.push(Finding::new(&RULE, run.span, message).on(&run.name).help(help));
    }
}
