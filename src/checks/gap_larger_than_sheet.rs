//! A gap between parts that is larger than the sheets.

use crate::diag::{Finding, Findings, Rule, Severity};
use crate::finished::Finished;
use crate::number::decimal;

pub(super) static RULE: Rule = Rule {
    name: "gap-larger-than-sheet",
    severity: Severity::Error,
    finds: "A tool whose diameter and margin together are at least the shorter side of every sheet of a material.",
    why: "No two parts go on a sheet then: one of the numbers is in the wrong unit, or at the wrong key.",
    failing: "\
bay: {width: 1040, depth: 1050, height: 800}
workshop: {tool: {margin: 1600}}
carcases:
  - {id: main, width: 1000, depth: 900, height: 300, panel: birch-12, cell: {open: {}}}
",
    passing: "\
bay: {width: 1040, depth: 1050, height: 800}
workshop: {tool: {margin: 16}}
carcases:
  - {id: main, width: 1000, depth: 900, height: 300, panel: birch-12, cell: {open: {}}}
",
    source: "arithmetic",
};

pub(super) fn run(finished: &Finished, findings: &mut Findings) {
    let tool = &finished.design.workshop.tool;
    let place = if tool.margin.value > tool.diameter.value { tool.margin.span } else { tool.diameter.span };
    for group in &finished.groups {
        let widest = group.stock.iter().map(|stock| stock.length.min(stock.width)).fold(0.0, f64::max);
        let gap = group.clearances.gap;
        if gap >= widest && !group.stock.is_empty() {
            let message = format!(
                "{} mm between parts (tool diameter and margin) is more than the sheets of `{}` are wide: {} mm",
                decimal(gap, 2),
                group.material.id,
                decimal(widest, 1)
            );
            let help = "give the diameter of the cutter and the margin beside its path";
            findings.push(Finding::new(&RULE, place, message).on(&group.material.id).help(help));
        }
    }
}
