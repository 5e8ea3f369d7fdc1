//! A panel that is no rectangle, to be cut on a panel saw.

use crate::diag::{Finding, Findings, Rule, Severity};
use crate::finished::Finished;
use crate::nest::Cutting;
use crate::number::decimal;

pub(super) static RULE: Rule = Rule {
    name: "shaped-panel-on-saw",
    severity: Severity::Note,
    finds: "A panel whose outline is no rectangle, e.g. one with tabs, in a workshop that cuts with a panel saw.",
    why: "The saw cuts the rectangle around it; the outline has to be milled or sawn by hand afterwards, from the \
          panel's own cut file.",
    failing: "\
bay: {width: 1040, depth: 1050, height: 800}
workshop: {cutting: saw, tool: {diameter: 3}}
carcases:
  - id: main
    width: 1000
    depth: 900
    height: 300
    panel: birch-12
    overhang: 12
    back: {inset: 12}
    joints: {corner: captive-nut}
    cell: {open: {}}
",
    passing: "\
bay: {width: 1040, depth: 1050, height: 800}
workshop: {cutting: saw}
carcases:
  - {id: main, width: 1000, depth: 900, height: 300, panel: birch-12, cell: {open: {}}}
",
    source: "common practice, no source",
};

pub(super) fn run(finished: &Finished, findings: &mut Findings) {
    for group in finished.groups.iter().filter(|group| group.nesting.cutting == Cutting::Guillotine) {
        for (&index, part) in group.panels.iter().zip(&group.parts) {
            if part.is_rectangle() {
                continue;
            }
            let panel = &finished.kit.panels[index];
            let (low, high) = part.outline.bounds();
            let message = format!(
                "`{}` is no rectangle: the saw cuts {} x {} mm, and its shape is left to be cut",
                panel.name,
                decimal(high.x - low.x, 1),
                decimal(high.y - low.y, 1)
            );
            let help = format!(
                "mill it from `parts/{0}.dxf` or `parts/{0}.svg`, or join its panels by angles",
                panel.name
            );
            findings.push(Finding::new(&RULE, panel.span, message).on(&panel.name).help(help));
        }
    }
}
