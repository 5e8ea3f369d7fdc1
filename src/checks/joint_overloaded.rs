//! A group of bolts that gives under the loads that reach it.

use crate::diag::{Finding, Findings, Rule, Severity};
use crate::finished::Finished;
use crate::number::{decimal, fixed};
use crate::strength::Gives;

pub(super) static RULE: Rule = Rule {
    name: "joint-overloaded",
    severity: Severity::Warning,
    finds: "A joint, a slide's member, a fixture or an anchor whose worst bolt is used beyond its design strength: the bolt, the wood around it, \
            the angle on it, or the washer on the wood, under drawers that are out, braking, cornering and rough tracks.",
    why: "In 12 to 18 mm plywood the wood gives before the bolt does: holes grow long, washers sink in, and a loaded drawer comes off its slide.",
    failing: "\
bay: {width: 1040, depth: 1050, height: 800}
workshop: {slides: {heavy-700: {rating_pair: 400}}}
carcases:
  - {id: main, width: 600, depth: 800, height: 300, panel: birch-9, cell: {drawer: {slide: heavy-700, load: 180}}}
",
    passing: "\
bay: {width: 1040, depth: 1050, height: 800}
workshop: {slides: {heavy-700: {rating_pair: 400}}}
carcases:
  - {id: main, width: 600, depth: 800, height: 300, panel: birch-9, cell: {drawer: {slide: heavy-700, load: 40}}}
",
    source: "EN 1995-1-1 8.2, 8.5 and 8.36, EN 1993-1-8 Table 3.4, EN 1999-1-1 Table 8.5, read in open implementations and textbooks; \
             reactions by statics",
};

pub(super) fn run(finished: &Finished, findings: &mut Findings) {
    for check in finished.strength.joints.iter().filter(|check| check.outcome.fails()) {
        let used = check.outcome.used().unwrap_or_default();
        let message = format!(
            "`{}` is used to {} % ({}): {} N across and {} N along `{}`; first comes: {}",
            check.name,
            fixed(100.0 * used, 0),
            check.case,
            decimal(check.shear, 0),
            decimal(check.tension, 0),
            check.worst,
            check.first().map(Gives::name).unwrap_or_default()
        );
        let help = "load it less, take a thicker board there, more or larger bolts (`bolts: {size: .., spacing: ..}`)";
        findings.push(Finding::new(&RULE, check.span, message).on(&check.name).help(help));
    }
}
