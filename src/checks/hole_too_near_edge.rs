//! A hole whose centre comes too near a panel's edge breaks out when it is drilled or loaded.

use crate::diag::{Finding, Findings, Rule, Severity};
use crate::finished::Finished;
use crate::geom::tolerance::SAME_LENGTH;
use crate::number::decimal;

pub(super) static RULE: Rule = Rule {
    name: "hole-too-near-edge",
    severity: Severity::Error,
    finds: "A bolt hole nearer to its panel's edge than the workshop's `edge_distance` (3 bolt diameters), or nearer to a slot than 2.",
    why: "The strip between hole and edge shears out under load, or splits while drilling.",
    failing: "\
bay: {width: 1040, depth: 1050, height: 800}
workshop: {tool: {diameter: 3}}
carcases:
  - {id: main, width: 1000, depth: 900, height: 300, panel: birch-12, joints: {corner: captive-nut}, cell: {open: {}}}
",
    passing: "\
bay: {width: 1040, depth: 1050, height: 800}
workshop: {tool: {diameter: 3}}
carcases:
  - {id: main, width: 1000, depth: 900, height: 300, panel: birch-12, overhang: 12, back: {inset: 12}, joints: {corner: captive-nut}, cell: {open: {}}}
",
    source: "EN 1995-1-1 Table 8.4, a4,c = 3 d (read in an open implementation); 2 d to slots: common practice, no source",
};

/// Bolt diameters between a hole's centre and the rim of an opening, at least: the opening is filled by a tab.
const TO_OPENING: f64 = 2.0;

pub(super) fn run(finished: &Finished, findings: &mut Findings) {
    let kit = &finished.kit;
    let to_edge = finished.design.workshop.edge_distance.value;
    for panel in &kit.panels {
        for bore in &panel.bores {
            let bolt = kit.bolt(bore.bolt);
            let diameter = bolt.hardware.thread.diameter;
            let edge = (panel.outline.distance_to(bore.centre), to_edge * diameter, "edge");
            let slots = panel.openings.iter().map(|opening| opening.path.distance_to(bore.centre));
            let slot = (slots.fold(f64::INFINITY, f64::min), TO_OPENING * diameter, "nearest slot");
            for (distance, needed, what) in [edge, slot] {
                if distance + SAME_LENGTH >= needed {
                    continue;
                }
                let [distance, needed] = [distance, needed].map(|length| decimal(length, 2));
                let message = format!(
                    "the hole of `{}` is {distance} mm from the {what} of `{}`; this {} bolt needs {needed} mm",
                    bolt.name, panel.name, bolt.hardware.thread.size
                );
                findings.push(Finding::new(&RULE, bolt.span, message).on(&bolt.name).help(
                    "take a smaller bolt, a wider angle, an `inset` or `overhang`, or move it with `at:`",
                ));
            }
        }
    }
}
