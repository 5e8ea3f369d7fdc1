//! A carcase that nothing holds to the vehicle.

use crate::diag::{Finding, Findings, Rule, Severity};
use crate::finished::Finished;
use std::collections::BTreeSet;

pub(super) static RULE: Rule = Rule {
    name: "carcase-loose",
    severity: Severity::Warning,
    finds: "A carcase or false floor that is bolted neither to a point of the vehicle nor to another carcase that is, where the bay lists \
            points for it.",
    why: "A kit that only stands in the bay comes forward when the driver brakes.",
    failing: "\
bay: {width: 1040, depth: 1050, height: 800, anchors: [{id: left, x: 300, y: 400, thread: M8, depth: 18}]}
carcases:
  - {id: main, width: 1000, depth: 900, height: 300, panel: birch-12, cell: {open: {}}}
",
    passing: "\
bay: {width: 1040, depth: 1050, height: 800, anchors: [{id: left, x: 300, y: 400, thread: M8, depth: 18}]}
carcases:
  - {id: main, width: 1000, depth: 900, height: 300, panel: birch-12, anchors: [{point: left}], cell: {open: {}}}
",
    source: "common practice, no source",
};

pub(super) fn run(finished: &Finished, findings: &mut Findings) {
    let bay = &finished.design.vehicle.bay;
    if bay.anchors.iter().all(|anchor| anchor.kind.value.holds_people()) {
        return;
    }
    let kit = &finished.kit;
    let mut held: BTreeSet<&str> =
        kit.anchorages.iter().map(|anchorage| anchorage.carcase.as_str()).collect();
    let carcase = |id: crate::layout::BoardId| kit.layout.body(kit.panel(id).body).carcase.as_str();
    loop {
        let before = held.len();
        for bolt in &kit.bolts {
            if bolt.panels.iter().any(|&id| held.contains(carcase(id))) {
                held.extend(bolt.panels.iter().map(|&id| carcase(id)));
            }
        }
        if held.len() == before {
            break;
        }
    }
    let carcases = finished.design.carcases.iter().map(|carcase| (&carcase.id.value, carcase.span));
    let floors = finished.design.floors.iter().map(|floor| (&floor.id.value, floor.span));
    for (id, span) in carcases.chain(floors).filter(|(id, _)| !held.contains(id.as_str())) {
        let message = format!("`{id}` is held by none of the vehicle's points");
        let help = "list the points that hold it as `anchors: [{point: ..}]`, or accept this warning with the reason";
        findings.push(Finding::new(&RULE, span, message).on(id).help(help));
    }
}
