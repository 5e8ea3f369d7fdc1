//! A skin that leaves little or nothing of a board to cut.

use crate::cutting::Hold;
use crate::diag::{Finding, Findings, Rule, Severity};
use crate::finished::Finished;
use crate::number::decimal;

/// Most of a board's thickness that may stay as skin: common practice, no source.
const MOST: f64 = 0.5;

pub(super) static RULE: Rule = Rule {
    name: "skin-too-thick",
    severity: Severity::Error,
    finds: "A skin that is to hold small parts and is thicker than half the board that they are cut from.",
    why: "The first pass would cut a groove, or nothing, and what is left cannot be parted with a knife.",
    failing: "\
bay: {width: 1040, depth: 1050, height: 800}
workshop: {holding: {small: {width: 400}, method: skin, skin: {thickness: 5}}}
carcases:
  - {id: main, width: 1000, depth: 900, height: 300, panel: birch-9, cell: {open: {}}}
",
    passing: "\
bay: {width: 1040, depth: 1050, height: 800}
workshop: {holding: {small: {width: 400}, method: skin, skin: {thickness: 0.4}}}
carcases:
  - {id: main, width: 1000, depth: 900, height: 300, panel: birch-12, cell: {open: {}}}
",
    source: "common practice, no source",
};

pub(super) fn run(finished: &Finished, findings: &mut Findings) {
    let skin = finished.design.workshop.holding.skin;
    for group in &finished.groups {
        let skinned = group.plans.iter().flat_map(|plan| &plan.parts).any(|part| part.hold == Hold::Skin);
        let Some((_, actual)) = group.material.thickness else { continue };
        if skinned && skin.value > MOST * actual {
            let message = format!(
                "a skin of {} mm is more than half of {}, which is {} mm thick",
                decimal(skin.value, 2),
                group.material.id,
                decimal(actual, 2)
            );
            let finding = Finding::new(&RULE, skin.span, message).on(&group.material.id);
            findings.push(finding.help("0.3 to 0.8 mm hold a part and can be cut with a knife"));
        }
    }
}
