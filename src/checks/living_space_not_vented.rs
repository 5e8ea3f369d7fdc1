//! Gas burnt in a living space whose openings are too small or in the wrong place.

use crate::diag::{Finding, Findings, Rule, Severity};
use crate::finished::Finished;
use crate::geom::tolerance::SAME_LENGTH;
use crate::moves::{LivingAir, NEAR_FLOOR_AND_ROOF};
use crate::number::decimal;

pub(super) static RULE: Rule = Rule {
    name: "living-space-not-vented",
    severity: Severity::Error,
    finds: "Equipment that burns gas in a vehicle that does not say how many sleep in it, or whose openings that nobody can shut have \
            too little free area: half of it low, within 150 mm of the floor, and half high, within 150 mm of the roof.",
    why: "A flame uses up the air that sleepers breathe, and gives off carbon monoxide where it lacks air itself.",
    failing: "\
vehicle:
  bay: {width: 1040, depth: 1050, height: 1400}
  living:
    berths: 2
    vents: [{id: low, area: 95, bottom: 20, top: 120}]
carcases:
  - {id: main, width: 700, depth: 900, height: 800, panel: birch-12, cell: {id: galley, open: {}}}
equipment:
  - {id: stove, kind: cooker, in: main-galley, heat: {above: 500, beside: 50}, burns: {rate: 29}}
",
    passing: "\
vehicle:
  bay: {width: 1040, depth: 1050, height: 1400}
  living:
    berths: 2
    vents: [{id: low, area: 95, bottom: 20, top: 120}, {id: high, area: 95, bottom: 1280, top: 1380}]
carcases:
  - {id: main, width: 700, depth: 900, height: 800, panel: birch-12, cell: {id: galley, open: {}}}
equipment:
  - {id: stove, kind: cooker, in: main-galley, heat: {above: 500, beside: 50}, burns: {rate: 29}}
",
    source: "area and places: AS/NZS 5601.2:2020 section 7 (read in public guides); half low and half high, and the whole of an opening \
             within 150 mm: decisions of this project; a sketch for the licensed person",
};

pub(super) fn run(finished: &Finished, findings: &mut Findings) {
    let mut burning = finished.kit.layout.equipment.iter().filter(|equipment| equipment.burns.is_some());
    let Some(first) = burning.next() else { return };
    let Some(LivingAir { needed, low, high, .. }) = finished.moves.living else {
        let span = finished.kit.layout.fixtures[first.fixture].span;
        let message = format!(
            "`{}` burns gas, and nothing says how the space that people live in is vented",
            first.name
        );
        let help = "give the vehicle `living: {berths: .., vents: [{id: .., area: .., bottom: .., top: ..}]}`: its openings that \
                    nobody can shut";
        findings.push(Finding::new(&RULE, span, message).on(&first.name).help(help));
        return;
    };
    let place = finished.design.vehicle.living.as_ref().map(|living| living.span).unwrap_or_default();
    for (has, words) in [(low, "the floor"), (high, "the roof")] {
        if has + SAME_LENGTH >= needed / 2.0 {
            continue;
        }
        let [has, half, all] = [has, needed / 2.0, needed].map(|area| decimal(area / 100.0, 1));
        let message = format!(
            "openings within {NEAR_FLOOR_AND_ROOF} mm of {words} have {has} of {half} cm2, half of the {all} cm2 that the gas \
             appliances and berths ask for"
        );
        let help =
            "a licensed person must see to more or larger openings; those that can be shut do not count";
        findings.push(Finding::new(&RULE, place, message).help(help));
    }
}
