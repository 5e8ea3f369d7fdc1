//! A small part on which fewer than two holding tabs find a place.

use crate::cutting::Hold;
use crate::diag::{Finding, Findings, Rule, Severity};
use crate::finished::Finished;
use crate::number::decimal;

pub(super) static RULE: Rule = Rule {
    name: "small-part-not-held",
    severity: Severity::Warning,
    finds: "A part that is small by the workshop's `holding`, is to be held by tabs, and has no straight side with \
            room for two of them clear of corners, bores and openings.",
    why: "A part that comes loose under the tool is spoilt, and so may be the tool. With one tab it turns about it.",
    failing: "\
bay: {width: 1040, depth: 1050, height: 800}
workshop: {holding: {small: {width: 400}, tabs: {width: 50}}, tool: {diameter: 300, margin: 2}}
carcases:
  - {id: main, width: 1000, depth: 900, height: 300, panel: birch-12, cell: {open: {}}}
",
    passing: "\
bay: {width: 1040, depth: 1050, height: 800}
workshop: {holding: {small: {width: 400}}}
carcases:
  - {id: main, width: 1000, depth: 900, height: 300, panel: birch-12, cell: {open: {}}}
",
    source: "common practice, no source",
};

pub(super) fn run(finished: &Finished, findings: &mut Findings) {
    let workshop = &finished.design.workshop;
    for group in &finished.groups {
        for named in group.sheets() {
            for part in &named.plan.parts {
                let Hold::Tabs(middles) = &part.hold else { continue };
                let Some(placed) = named.sheet.placed.get(part.placed).filter(|_| middles.len() < 2) else {
                    continue;
                };
                let panel = &finished.kit.panels[group.panels[placed.part]];
                let message = format!(
                    "`{}` is small, and of its holding tabs of {} mm for a tool of {} mm {} a place",
                    panel.name,
                    decimal(workshop.holding.tabs.width.value, 2),
                    decimal(workshop.tool.diameter.value, 2),
                    if middles.is_empty() { "none finds" } else { "only one finds" },
                );
                let help = "hold it by a skin (`holding: {method: skin}`), make the tabs narrower, or see to it by hand";
                findings.push(Finding::new(&RULE, panel.span, message).on(&panel.name).help(help));
            }
        }
    }
}
