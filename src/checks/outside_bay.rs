//! A kit that does not fit in the bay.

use super::solids::{Solid, all, name};
use crate::diag::{Finding, Findings, Rule, Severity};
use crate::finished::Finished;
use crate::geom::tolerance::TOUCH;
use crate::number::decimal;
use crate::spec::Bay;

pub(super) static RULE: Rule = Rule {
    name: "outside-bay",
    severity: Severity::Error,
    finds: "A carcase whose parts, bolt heads and nuts included, reach beyond the bay's width, depth or height.",
    why: "A kit that is right on paper and does not go into the vehicle is scrap.",
    failing: "\
bay: {width: 990, depth: 1050, height: 800}
carcases:
  - {id: main, width: 1000, depth: 900, height: 300, panel: birch-12, cell: {drawer: {slide: heavy-800}}}
",
    passing: "\
bay: {width: 1040, depth: 1050, height: 800}
carcases:
  - {id: main, width: 1000, depth: 900, height: 300, panel: birch-12, cell: {drawer: {slide: heavy-800}}}
",
    source: "arithmetic",
};

pub(super) fn run(finished: &Finished, findings: &mut Findings) {
    let bay = &finished.design.vehicle.bay;
    let solids = all(finished);
    for carcase in &finished.design.carcases {
        let id = &carcase.id.value;
        let own = solids.iter().filter(|solid| &finished.kit.layout.body(solid.body).carcase == id);
        let own: Vec<&Solid> = own.collect();
        for (side, excess) in sides(bay) {
            // `max_by` keeps the last of equals; the first is the nearer to the spec's order.
            let worst = own.iter().rev().max_by(|a, b| excess(a).total_cmp(&excess(b)));
            let Some(worst) = worst.filter(|solid| excess(solid) > TOUCH) else { continue };
            let message = format!(
                "`{}` reaches {} mm beyond the bay's {side}",
                name(finished, worst.part),
                decimal(excess(worst), 2)
            );
            findings.push(
                Finding::new(&RULE, carcase.span, message)
                    .on(id)
                    .also(bay.span, "the bay is given here")
                    .help("make the carcase smaller or move it with `at:`"),
            );
        }
    }
}

/// How far a solid reaches beyond a plane, mm.
type Excess = Box<dyn Fn(&Solid) -> f64>;

/// The bay's bounding planes: what they are called, and how far a solid reaches beyond them, mm.
fn sides(bay: &Bay) -> [(&'static str, Excess); 6] {
    let (depth, height, half) = (bay.depth.value, bay.height.value, bay.width.value / 2.0);
    [
        ("rear edge", Box::new(|s| -s.aabb.low.x)),
        ("front end", Box::new(move |s| s.aabb.high.x - depth)),
        ("left side", Box::new(move |s| s.aabb.high.y - half)),
        ("right side", Box::new(move |s| -half - s.aabb.low.y)),
        ("floor", Box::new(|s| -s.aabb.low.z)),
        ("roof", Box::new(move |s| s.aabb.high.z - height)),
    ]
}
