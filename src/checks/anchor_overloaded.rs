//! A point of the vehicle that must hold more than its rating.

use crate::diag::{Finding, Findings, Rule, Severity};
use crate::finished::Finished;
use crate::number::{decimal, fixed};
use crate::strength::{NOT_HELD, Outcome};

pub(super) static RULE: Rule = Rule {
    name: "anchor-overloaded",
    severity: Severity::Error,
    finds: "A point of the vehicle whose `rating` is less than its part of what braking, cornering and bumps ask of the loaded module that it \
            holds, tipping counted.",
    why: "A point that tears out lets the kit come forward when the driver brakes.",
    failing: "\
bay: {width: 1040, depth: 1050, height: 800, anchors: [{id: left, x: 300, y: 400, thread: M8, depth: 18, rating: 80}, {id: right, x: 300, y: -400, thread: M8, depth: 18, rating: 80}]}
carcases:
  - {id: main, width: 1000, depth: 900, height: 300, panel: birch-12, anchors: [{point: left}, {point: right}], cell: {open: {}}}
",
    passing: "\
bay: {width: 1040, depth: 1050, height: 800, anchors: [{id: left, x: 300, y: 400, thread: M8, depth: 18, rating: 2400}, {id: right, x: 300, y: -400, thread: M8, depth: 18, rating: 2400}]}
carcases:
  - {id: main, width: 1000, depth: 900, height: 300, panel: birch-12, anchors: [{point: left}, {point: right}], cell: {open: {}}}
",
    source: "0.8 g forward, 0.5 g rearward and sideways, 0.2 g up: Australian load restraint performance standards; shared by statics",
};

pub(super) static UNHELD: Rule = Rule {
    name: "not-held-that-way",
    severity: Severity::Warning,
    finds: "A module that points of the vehicle hold, but in some direction none of them can: a turnbuckle only pulls, and only one way.",
    why: "What nothing holds forward comes forward when the driver brakes.",
    failing: "\
bay: {width: 1040, depth: 1050, height: 800, anchors: [{id: front, x: 1000, y: 0, thread: M8, rating: 2400}]}
carcases:
  - {id: main, width: 1000, depth: 850, height: 300, panel: birch-12, anchors: [{point: front, turnbuckle: {panel: main-back, z: 150, at: 120}}], cell: {open: {}}}
",
    passing: "\
bay: {width: 1040, depth: 1050, height: 800, anchors: [{id: left, x: 300, y: 400, thread: M8, depth: 18, rating: 2400}, {id: right, x: 300, y: -400, thread: M8, depth: 18, rating: 2400}]}
carcases:
  - {id: main, width: 1000, depth: 900, height: 300, panel: birch-12, anchors: [{point: left}, {point: right}], cell: {open: {}}}
",
    source: "statics",
};

pub(super) fn run(finished: &Finished, findings: &mut Findings) {
    for check in finished.strength.anchors.iter().filter(|check| check.outcome.fails()) {
        let worst = check.cases.iter().max_by(|a, b| a.force.total_cmp(&b.force));
        let (Some(worst), Some(rating)) = (worst, check.rating) else { continue };
        let message = format!(
            "`{}` must hold {} N against {} g {}; its rating is {} N",
            check.point,
            decimal(worst.force.ceil(), 0),
            fixed(worst.share, 1),
            worst.way,
            decimal(rating, 0)
        );
        let help = "hold the module by more points, or spread them wider; a turnbuckle bears least along the way it points";
        findings.push(Finding::new(&RULE, check.span, message).on(&check.point).help(help));
    }
}

pub(super) fn unheld(finished: &Finished, findings: &mut Findings) {
    let mut told: Vec<&str> = Vec::new();
    for check in &finished.strength.anchors {
        let Outcome::Unknown(why) = &check.outcome else { continue };
        if !why.starts_with(NOT_HELD) || told.contains(&check.carcase.as_str()) {
            continue;
        }
        told.push(&check.carcase);
        let help =
            "bolt it down to a point, or set the eye of a turnbuckle so that it pulls against that way";
        let message = format!("`{}`: {why}", check.carcase);
        findings.push(Finding::new(&UNHELD, check.span, message).on(&check.carcase).help(help));
    }
}
