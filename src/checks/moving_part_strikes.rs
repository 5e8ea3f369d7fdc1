//! A drawer that would strike something on its way out.

use super::solids::{Solid, all, belong_together, name, near_pairs, span};
use crate::diag::{Finding, Findings, Rule, Severity};
use crate::finished::Finished;
use crate::geom::{Plate, overlap_depth};
use crate::number::decimal;

pub(super) static RULE: Rule = Rule {
    name: "moving-part-strikes",
    severity: Severity::Error,
    finds: "A part of a drawer whose way from shut to fully open leads through another part of the kit.",
    why: "The drawer jams half-way, or tears off what it strikes.",
    failing: "\
bay: {width: 1040, depth: 1500, height: 800}
carcases:
  - {id: front, width: 1000, depth: 600, height: 300, at: {x: 850, z: 194}, panel: birch-12, cell: {drawer: {slide: heavy-500}}}
  - {id: rear, width: 1000, depth: 600, height: 200, at: {x: 100}, panel: birch-12, cell: {open: {}}}
",
    passing: "\
bay: {width: 1040, depth: 1500, height: 800}
carcases:
  - {id: front, width: 1000, depth: 600, height: 300, at: {x: 850, z: 206}, panel: birch-12, cell: {drawer: {slide: heavy-500}}}
  - {id: rear, width: 1000, depth: 600, height: 200, at: {x: 100}, panel: birch-12, cell: {open: {}}}
",
    source: "arithmetic",
};

pub(super) fn run(finished: &Finished, findings: &mut Findings) {
    let solids = all(finished);
    let travel = |body| finished.kit.layout.body(body).travel;
    let moves = |solid: &Solid| finished.kit.layout.body(solid.body).moves();
    for (i, j) in near_pairs(&solids, travel) {
        let (a, b) = (&solids[i], &solids[j]);
        if a.body == b.body || !(moves(a) || moves(b)) || belong_together(finished, a.part, b.part) {
            continue;
        }
        // What a moving part sweeps on its straight way is a box as wide and high as its own; a part at rest
        // keeps its true shape.
        let swept = |solid: &Solid| {
            if moves(solid) {
                Plate::filling(solid.aabb.swept(travel(solid.body)))
            } else {
                solid.plate.clone()
            }
        };
        if let Some(depth) = overlap_depth(&swept(a), &swept(b)) {
            let (mover, other) = if moves(a) { (a, b) } else { (b, a) };
            let (first, second) = (name(finished, mover.part), name(finished, other.part));
            let message =
                format!("`{first}` strikes `{second}` on its way out, {} mm deep", decimal(depth, 2));
            let finding = Finding::new(&RULE, span(finished, mover.part), message).on(first);
            let help = "move one of them, give the drawer more clearance, or take a shorter travel";
            findings.push(
                finding.help(help).also(span(finished, other.part), format!("`{second}` comes from here")),
            );
        }
    }
}
