//! A hole whose centre comes too near a panel's edge breaks out when it is drilled or loaded.

use crate::diag::{Finding, Findings, Rule, Severity};
use crate::finished::Finished;
use crate::geom::Contours;
use crate::geom::tolerance::SAME_LENGTH;
use crate::joints::Purpose;
use crate::layout::OpeningKind;
use crate::number::decimal;

pub(super) static RULE: Rule = Rule {
    name: "hole-too-near-edge",
    severity: Severity::Error,
    finds: "A bolt hole nearer to its panel's edge than the workshop's `edge_distance` (3 bolt diameters), nearer to a slot than 2, or nearer to an angle's edge or end than 1.2 hole diameters.",
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
    source: "EN 1995-1-1 Table 8.4, a4,c = 3 d (read in an open implementation); EN 1993-1-8 Table 3.3, 1.2 d0 in metal (read on two public pages); 2 d to slots: common practice, no source",
};

/// Bolt diameters between a hole's centre and the rim of a slot, at least: a tab fills the slot.
const TO_SLOT: f64 = 2.0;

/// Hole diameters between a hole's centre and an aluminium angle's edge or end, at least.
const IN_METAL: f64 = 1.2;

pub(super) fn run(finished: &Finished, findings: &mut Findings) {
    panels(finished, findings);
    angles(finished, findings);
}

fn angles(finished: &Finished, findings: &mut Findings) {
    for piece in &finished.kit.angles {
        let needed = IN_METAL * piece.hole_diameter;
        let ends = piece.holes.iter().flatten().map(|&at| at.min(piece.length - at));
        let to_end = (ends.fold(f64::INFINITY, f64::min), "end");
        let outer = piece.gauges[0].max(piece.gauges[1]);
        let to_edge = (piece.angle.leg - outer, "free edge");
        for (distance, what) in [to_end, to_edge] {
            if distance + SAME_LENGTH >= needed {
                continue;
            }
            let [distance, needed] = [distance, needed].map(|length| decimal(length, 2));
            let message = format!(
                "a hole of the angle `{}` is {distance} mm from its {what}; {needed} mm are needed",
                piece.name
            );
            let help = "take a wider angle, a smaller bolt, or move the bolt with `at:`";
            findings.push(Finding::new(&RULE, piece.span, message).on(&piece.name).help(help));
        }
    }
}

fn panels(finished: &Finished, findings: &mut Findings) {
    let kit = &finished.kit;
    let to_edge = finished.design.workshop.edge_distance.value;
    for panel in &kit.panels {
        let is_slot = |kind| matches!(kind, OpeningKind::TabSlot | OpeningKind::BoltSlot);
        let (slots, others): (Vec<_>, Vec<_>) =
            panel.openings.iter().partition(|opening| is_slot(opening.kind));
        let others = others.iter().map(|opening| &opening.path);
        // What is cut out for a lid or a finger stays open: its rim is an edge like the panel's.
        let edges = Contours::of(std::iter::once(&panel.outline).chain(others));
        let slots = Contours::of(slots.iter().map(|opening| &opening.path));
        for bore in &panel.bores {
            let bolt = kit.bolt(bore.bolt);
            let diameter = bolt.hardware.thread.diameter;
            let edge = (edges.distance_to(bore.centre), to_edge * diameter, "edge");
            let slot = (slots.distance_to(bore.centre), TO_SLOT * diameter, "nearest slot");
            for (distance, needed, what) in [edge, slot] {
                if distance + SAME_LENGTH >= needed {
                    continue;
                }
                let [distance, needed] = [distance, needed].map(|length| decimal(length, 2));
                let message = format!(
                    "the hole of `{}` is {distance} mm from the {what} of `{}`; this {} bolt needs {needed} mm",
                    bolt.name, panel.name, bolt.hardware.thread.size
                );
                let help = if bolt.purpose == Purpose::Fixture {
                    "move what this bolt holds away from there, or take another"
                } else {
                    "take a smaller bolt, a wider angle, an `inset` or `overhang`, or move it with `at:`"
                };
                findings.push(Finding::new(&RULE, bolt.span, message).on(&bolt.name).help(help));
            }
        }
    }
}
