//! Two solids that would stand in each other with everything shut.

use crate::diag::{Finding, Findings};
use crate::finished::Finished;
use crate::geom::tolerance::TOUCH;
use crate::geom::{Vector3, overlap_depth};
use crate::joints::solids::{belong_together, name, near_pairs, span};
use crate::layout::rules::PARTS_OVERLAP;
use crate::number::decimal;

pub(super) fn run(finished: &Finished, findings: &mut Findings) {
    let solids = finished.kit.solids();
    for (i, j) in near_pairs(solids, |_| Vector3::zero()) {
        let (a, b) = (&solids[i], &solids[j]);
        if a.aabb.overlap(b.aabb) <= TOUCH || belong_together(&finished.kit, a.part, b.part) {
            continue;
        }
        if let Some(depth) = overlap_depth(&a.plate, &b.plate) {
            let (first, second) = (name(&finished.kit, a.part), name(&finished.kit, b.part));
            let message = format!("`{first}` and `{second}` reach {} mm into each other", decimal(depth, 2));
            let finding = Finding::new(&PARTS_OVERLAP, span(&finished.kit, a.part), message).on(first);
            findings.push(
                finding
                    .help("move one of them, or make it smaller")
                    .also(span(&finished.kit, b.part), format!("`{second}` comes from here")),
            );
        }
    }
}
