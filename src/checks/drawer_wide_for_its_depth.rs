//! A drawer so wide for the length of its slides that it racks.

use crate::diag::{Finding, Findings, Rule, Severity};
use crate::finished::Finished;
use crate::number::decimal;

pub(super) static RULE: Rule = Rule {
    name: "drawer-wide-for-its-depth",
    severity: Severity::Warning,
    finds: "A drawer whose box is more than 1.5 times as wide as its slides are long.",
    why: "Pulled at one end, a wide and shallow drawer turns on its slides and jams.",
    failing: "\
bay: {width: 1040, depth: 1050, height: 800}
carcases:
  - {id: main, width: 1000, depth: 600, height: 300, panel: birch-12, cell: {drawer: {slide: heavy-500}}}
",
    passing: "\
bay: {width: 1040, depth: 1050, height: 800}
carcases:
  - {id: main, width: 1000, depth: 900, height: 300, panel: birch-12, cell: {drawer: {slide: heavy-800}}}
",
    source: "common practice, no source: wide shallow drawers rack; the figure is ours",
};

/// Width of a box over the length of its slides, at most.
const MOST: f64 = 1.5;

pub(super) fn run(finished: &Finished, findings: &mut Findings) {
    for drawer in &finished.kit.layout.drawers {
        let (width, length) = (drawer.box_size.0, drawer.slide.length);
        if width <= MOST * length {
            continue;
        }
        let message = format!(
            "the box of `{}` is {} mm wide on slides of {} mm, {} times their length",
            drawer.name,
            decimal(width, 1),
            decimal(length, 1),
            decimal(width / length, 2)
        );
        findings.push(Finding::new(&RULE, drawer.span, message).on(&drawer.name).help(
            "take longer slides, divide the cell into two columns, or pull it in the middle and accept this",
        ));
    }
}
