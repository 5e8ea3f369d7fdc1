//! A tie-down that is to hold more than its rating allows.

use crate::diag::{Finding, Findings, Rule, Severity};
use crate::finished::Finished;
use crate::layout::RESTRAINT_CASES;
use crate::number::decimal;

pub(super) static RULE: Rule = Rule {
    name: "tie-down-overloaded",
    severity: Severity::Error,
    finds: "A tie-down that is to hold (`holds`) more than one strap from it can, pulled to its rating at its angle: against \
            0.8 of the load's weight forward, 0.5 sideways and rearward, 0.2 up.",
    why: "These are the forces of hard braking and cornering; what is held by less comes loose. They are no crash.",
    failing: "\
bay: {width: 1040, depth: 1050, height: 800}
carcases:
  - {id: main, width: 1000, depth: 900, height: 300, panel: birch-12, cell: {open: {}}}
tie_downs:
  - {id: ring, kind: tie-ring, panel: main-deck, middle: {left: 120}, holds: 300}
",
    passing: "\
bay: {width: 1040, depth: 1050, height: 800}
carcases:
  - {id: main, width: 1000, depth: 900, height: 300, panel: birch-12, cell: {open: {}}}
tie_downs:
  - {id: ring, kind: tie-ring, panel: main-deck, middle: {left: 120}, holds: 200}
",
    source: "forces: Australian load restraint performance standards (Load Restraint Guide 2018); directly pulling straps, F = a m g",
};

pub(super) fn run(finished: &Finished, findings: &mut Findings) {
    for tie_down in &finished.kit.layout.tie_downs {
        let Some(mass) = tie_down.holds else { continue };
        let held = tie_down.masses();
        let least = RESTRAINT_CASES.iter().zip(held).min_by(|a, b| a.1.total_cmp(&b.1));
        let Some((case, least)) = least.filter(|(_, least)| *least < mass) else { continue };
        let message = format!(
            "one strap at {} degrees from `{}` ({} N) holds {} kg against {} g {}, not {} kg",
            decimal(tie_down.strap_angle, 1),
            tie_down.name,
            decimal(tie_down.rating, 0),
            decimal(least, 1),
            case.share,
            case.way,
            decimal(mass, 1)
        );
        let help = "hold it by more straps, each with its share, or take a tie-down with a higher `rating`";
        findings.push(Finding::new(&RULE, tie_down.span, message).on(&tie_down.name).help(help));
    }
}
