//! Two solids that would stand in each other with everything shut.

use super::solids::{all, belong_together, name, near_pairs, span};
use crate::diag::{Finding, Findings, Rule, Severity};
use crate::finished::Finished;
use crate::geom::{Vector3, overlap_depth};
use crate::number::decimal;

pub(super) static RULE: Rule = Rule {
    name: "parts-overlap",
    severity: Severity::Error,
    finds: "Two parts whose solids share space with everything shut: panels, angles, slides, bolt heads, nuts.",
    why: "They cannot both be there; one of them has been cut for nothing.",
    failing: "\
bay: {width: 1040, depth: 1050, height: 800}
carcases:
  - {id: left, width: 500, depth: 900, height: 300, at: {y: 248, z: 295}, panel: birch-12, cell: {open: {}}}
  - {id: right, width: 500, depth: 900, height: 300, at: {y: -248}, panel: birch-12, cell: {open: {}}}
",
    passing: "\
bay: {width: 1040, depth: 1050, height: 800}
carcases:
  - {id: left, width: 500, depth: 900, height: 300, at: {y: 260}, panel: birch-12, cell: {open: {}}}
  - {id: right, width: 500, depth: 900, height: 300, at: {y: -260}, panel: birch-12, cell: {open: {}}}
",
    source: "arithmetic",
};

pub(super) fn run(finished: &Finished, findings: &mut Findings) {
    let solids = all(finished);
    for (i, j) in near_pairs(&solids, |_| Vector3::zero()) {
        let (a, b) = (&solids[i], &solids[j]);
        if belong_together(finished, a.part, b.part) {
            continue;
        }
        if let Some(depth) = overlap_depth(&a.plate, &b.plate) {
            let (first, second) = (name(finished, a.part), name(finished, b.part));
            let message = format!("`{first}` and `{second}` reach {} mm into each other", decimal(depth, 2));
            let finding = Finding::new(&RULE, span(finished, a.part), message).on(first);
            findings.push(
                finding
                    .help("move one of them, or make it smaller")
                    .also(span(finished, b.part), format!("`{second}` comes from here")),
            );
        }
    }
}
