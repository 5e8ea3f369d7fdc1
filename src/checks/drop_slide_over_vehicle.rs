//! A drop slide that would lower its tray onto the vehicle.

use crate::diag::{Finding, Findings, Rule, Severity};
use crate::finished::Finished;
use crate::geom::tolerance::TOUCH;
use crate::joints::solids::name;
use crate::number::decimal;

pub(super) static RULE: Rule = Rule {
    name: "drop-slide-over-vehicle",
    severity: Severity::Error,
    finds: "A tray on drop slides, part of which is still ahead of the bay's rear edge when the slides are fully out.",
    why: "It is lowered onto the sill. How far a bumper or a lowered tailgate stands out behind the bay is for you to measure: \
          the slides must clear that, too.",
    failing: "\
bay: {width: 1040, depth: 1050, height: 800}
carcases:
  - {id: main, at: {x: 100}, width: 1000, depth: 900, height: 300, panel: birch-12, cell: {tray: {slide: drop-700}}}
",
    passing: "\
bay: {width: 1040, depth: 1050, height: 800}
carcases:
  - {id: main, at: {x: 25}, width: 1000, depth: 900, height: 300, panel: birch-12, cell: {tray: {slide: drop-700}}}
",
    source: "arithmetic",
};

pub(super) fn run(finished: &Finished, findings: &mut Findings) {
    let kit = &finished.kit;
    let solids = kit.solids();
    for drawer in &kit.layout.drawers {
        let body = kit.layout.body(drawer.body);
        if body.drop <= 0.0 {
            continue;
        }
        let of_body = solids.iter().filter(|solid| solid.body == drawer.body);
        let last = of_body.max_by(|a, b| a.aabb.high.x.total_cmp(&b.aabb.high.x));
        let Some(last) = last else { continue };
        let end = last.aabb.high.x + body.travel.x;
        if end > TOUCH {
            let message = format!(
                "`{}` is still {} mm ahead of the bay's rear edge when the slides are out by {} mm and go down by {} mm",
                name(kit, last.part),
                decimal(end, 1),
                decimal(body.travel.length(), 1),
                decimal(body.drop, 1)
            );
            let help = "move the carcase rearward, make the tray shorter, or take slides with more travel";
            findings.push(Finding::new(&RULE, drawer.span, message).on(&drawer.name).help(help));
        }
    }
}
