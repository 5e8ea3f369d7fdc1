//! A panel without room for its own name.

use crate::diag::{Finding, Findings, Rule, Severity};
use crate::finished::Finished;
use crate::joints::part_mark::{LEAST_HEIGHT, is_on_show};
use crate::layout::EngravingKind;

pub(super) static RULE: Rule = Rule {
    name: "part-mark-does-not-fit",
    severity: Severity::Warning,
    finds: "A panel into which its own name was to be engraved and does not fit, not even 3 mm high. Fronts, doors and lids are \
            left out on purpose unless `fronts: true` is given.",
    why: "Parts without a name are mixed up once they have left the sheet.",
    failing: "\
bay: {width: 1040, depth: 1050, height: 800}
carcases:
  - id: workshop-drawers-between-both-wheel-arches-beside-door
    width: 220
    depth: 300
    height: 220
    panel: birch-12
    cell: {id: cupboard-for-ropes-and-hooks-and-snatch-blocks-and-more-2, blank: {}}
workshop: {part_marks: {fronts: true}}
",
    passing: "\
bay: {width: 1040, depth: 1050, height: 800}
carcases:
  - {id: main, width: 1000, depth: 900, height: 300, panel: birch-12, cell: {id: board, blank: {}}}
workshop: {part_marks: {fronts: true}}
",
    source: "common practice, no source",
};

pub(super) fn run(finished: &Finished, findings: &mut Findings) {
    let Some(wanted) = &finished.design.workshop.part_marks else { return };
    for panel in &finished.kit.panels {
        let marked = panel.engravings.iter().any(|engraving| engraving.kind == EngravingKind::PartMark);
        if marked || (is_on_show(panel) && !wanted.fronts) {
            continue;
        }
        let message = format!("`{}` has no room for its name {LEAST_HEIGHT} mm high", panel.name);
        let help = "give what it is named after a shorter `id`, or label it by hand";
        findings.push(Finding::new(&RULE, panel.span, message).on(&panel.name).help(help));
    }
}
