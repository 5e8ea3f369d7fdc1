//! A drawer that would strike something on its way out.

use super::solids::{Solid, all, belong_together, name, near_pairs, span};
use crate::diag::{Finding, Findings};
use crate::finished::Finished;
use crate::geom::tolerance::TOUCH;
use crate::geom::{Plate, overlap_depth};
use crate::layout::rules::MOVING_PART_STRIKES;
use crate::number::decimal;

pub(super) fn run(finished: &Finished, findings: &mut Findings) {
    let solids = all(finished);
    let travel = |body| finished.kit.layout.body(body).travel;
    let moves = |solid: &Solid| finished.kit.layout.body(solid.body).moves();
    for (i, j) in near_pairs(&solids, travel) {
        let (a, b) = (&solids[i], &solids[j]);
        let way = |solid: &Solid| solid.aabb.swept(travel(solid.body));
        if a.body == b.body
            || !(moves(a) || moves(b))
            || way(a).overlap(way(b)) <= TOUCH
            || belong_together(finished, a.part, b.part)
        {
            continue;
        }
        // What a moving part sweeps on its straight way is a box as wide and high as its own; a part at rest
        // keeps its true shape.
        let swept = |solid: &Solid| {
            if moves(solid) { Plate::filling(way(solid)) } else { solid.plate.clone() }
        };
        if let Some(depth) = overlap_depth(&swept(a), &swept(b)) {
            let (mover, other) = if moves(a) { (a, b) } else { (b, a) };
            let (first, second) = (name(finished, mover.part), name(finished, other.part));
            let message =
                format!("`{first}` strikes `{second}` on its way out, {} mm deep", decimal(depth, 2));
            let finding = Finding::new(&MOVING_PART_STRIKES, span(finished, mover.part), message).on(first);
            let help = "move one of them, give the drawer more clearance, or take a shorter travel";
            findings.push(
                finding.help(help).also(span(finished, other.part), format!("`{second}` comes from here")),
            );
        }
    }
}
