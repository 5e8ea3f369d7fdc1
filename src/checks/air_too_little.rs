//! Equipment that needs air and gets too little of it.

use crate::diag::{Finding, Findings, Rule, Severity};
use crate::finished::Finished;
use crate::moves::Airing;
use crate::number::decimal;

pub(super) static RULE: Rule = Rule {
    name: "air-too-little",
    severity: Severity::Error,
    finds: "Equipment in a cell or on a tray whose free area for air is less than it needs, below its middle or above it. \
            Cut-outs in the boards around count, an open front and an open top; not a cut-out with a panel or a drawer \
            within 20 mm before it.",
    why: "A fridge in a closed box runs hot, then stops.",
    failing: "\
bay: {width: 1040, depth: 1050, height: 800}
carcases:
  - {id: main, width: 500, depth: 900, height: 400, panel: birch-12, cell: {id: box, tray: {slide: heavy-700, front: birch-12}}}
equipment:
  - {id: charger, kind: charger, on: main-box, feet: {bolt: M5, places: [{x: 112, y: 40}, {x: -112, y: -40}]}}
",
    passing: "\
bay: {width: 1040, depth: 1050, height: 800}
carcases:
  - {id: main, width: 500, depth: 900, height: 400, panel: birch-12, cell: {id: box, tray: {slide: heavy-700, front: birch-12}}}
equipment:
  - {id: charger, kind: charger, on: main-box, feet: {bolt: M5, places: [{x: 112, y: 40}, {x: -112, y: -40}]}}
cutouts:
  - {id: low, panel: main-back, slot: {length: 200, width: 20}, middle: {bottom: 60}}
  - {id: high, panel: main-back, slot: {length: 200, width: 20}, middle: {top: 60}}
",
    source: "areas: common practice, no source (makers' guides range from 200 to 320 cm2 for fridges); arithmetic",
};

pub(super) fn run(finished: &Finished, findings: &mut Findings) {
    for airing in &finished.moves.airings {
        let Airing { equipment, needed, low, high, blocked } = airing;
        let short = [("below", needed.0, *low), ("above", needed.1, *high)];
        let short: Vec<String> = short
            .into_iter()
            .filter(|(_, needed, there)| there < needed)
            .map(|(where_, needed, there)| {
                let [needed, there] = [needed, there].map(|area| decimal(area / 100.0, 1));
                format!("{there} of {needed} cm2 {where_} its middle")
            })
            .collect();
        if short.is_empty() {
            continue;
        }
        let equipment = &finished.kit.layout.equipment[*equipment];
        let span = finished.kit.layout.fixtures[equipment.fixture].span;
        let too_little = format!("`{}` gets too little air: {}", equipment.name, short.join(", "));
        let blocked =
            blocked.iter().map(|(cutout, by)| format!("`{cutout}` does not count, `{by}` is before it"));
        let message = std::iter::once(too_little).chain(blocked).collect::<Vec<_>>().join("; ");
        let help = "cut vents into the boards around it (`cutouts`), low and high, leave its front or top open, or give the \
                    areas that its maker asks for (`air`)";
        findings.push(Finding::new(&RULE, span, message).on(&equipment.name).help(help));
    }
}
