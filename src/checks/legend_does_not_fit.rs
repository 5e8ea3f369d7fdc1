//! A legend across an edge, an opening or a hole, or under another part.

use crate::diag::{Finding, Findings, Rule, Severity};
use crate::finished::Finished;
use crate::geom::tolerance::TOUCH;
use crate::geom::{Aabb, PanelFrame, Point2, Point3, Vector2};
use crate::joints::on_face::{ENGRAVED_THROUGH, OFF_EDGES, Surroundings};
use crate::joints::solids::{Part, Solid, name};
use crate::joints::{Kit, Panel};
use crate::layout::{BoardId, Engraving, EngravingKind};
use crate::number::decimal;

/// mm before the face and beside a stroke in which nothing may lie.
const BEFORE: f64 = 0.5;

pub(super) static RULE: Rule = Rule {
    name: "legend-does-not-fit",
    severity: Severity::Error,
    finds: "A legend with a stroke nearer than 2 mm to an edge of its panel, an opening or a hole, or covered by another part.",
    why: "A stroke across a cut edge splinters, and what is covered cannot be read.",
    failing: "\
bay: {width: 1040, depth: 1050, height: 800}
carcases:
  - {id: main, width: 1000, depth: 900, height: 300, panel: birch-12, cell: {id: board, blank: {}}}
legends:
  - {id: fuses, text: Fuses 12 V, front_of: main-board, height: 200}
",
    passing: "\
bay: {width: 1040, depth: 1050, height: 800}
carcases:
  - {id: main, width: 1000, depth: 900, height: 300, panel: birch-12, cell: {id: board, blank: {}}}
legends:
  - {id: fuses, text: Fuses 12 V, front_of: main-board}
",
    source: "common practice, no source",
};

pub(super) fn run(finished: &Finished, findings: &mut Findings) {
    let kit = &finished.kit;
    if kit.panels.iter().all(|panel| panel.engravings.is_empty()) {
        return;
    }
    let solids = kit.solids();
    for (i, panel) in kit.panels.iter().enumerate() {
        let around = Surroundings::of(kit, panel);
        for engraving in &panel.engravings {
            if !around.are_off(&engraving.strokes, OFF_EDGES) {
                let (off, what) = around.nearest(&engraving.strokes);
                let message = format!(
                    "`{}` comes within {} mm of {what} in `{}`; {OFF_EDGES} mm are needed",
                    engraving.text,
                    decimal(off, 1),
                    panel.name
                );
                let help = "move it away from that, or give it less `height` or fewer letters";
                findings.push(Finding::new(&RULE, engraving.span, message).on(&engraving.name).help(help));
            } else if engraving.kind == EngravingKind::PartMark {
                // It may be covered; that is where it is put.
            } else if let Some(cover) = cover(kit, (BoardId(i), panel), engraving, solids) {
                let message = format!("`{}` is covered by `{}`", engraving.text, name(kit, cover.part));
                let help = "move it beside that, or put it on another panel";
                findings.push(Finding::new(&RULE, engraving.span, message).on(&engraving.name).help(help));
            }
        }
    }
}

/// What lies on the strokes. What a door or a drawer covers while it is shut does not count: only what moves with the panel.
fn cover<'a>(
    kit: &Kit,
    (id, panel): (BoardId, &Panel),
    engraving: &Engraving,
    solids: &'a [Solid],
) -> Option<&'a Solid> {
    let thin = |part: Part| matches!(part, Part::Coat(i) if kit.coatings[i].coat.finish.thickness <= ENGRAVED_THROUGH);
    let thickness = panel.material.actual;
    let place = |p: Point2<PanelFrame>, w: f64| panel.placement.to_vehicle(Point3::new(p.x, p.y, w));
    let around = Vector2::new(BEFORE, BEFORE);
    let corners = engraving.strokes.iter().flatten();
    let over = corners.flat_map(|&p| [place(p - around, thickness), place(p + around, thickness + BEFORE)]);
    let over = Aabb::around(over);
    solids.iter().find(|solid| {
        solid.part != Part::Panel(id)
            && !matches!(solid.part, Part::Room(_))
            && !thin(solid.part)
            && solid.body == panel.body
            && solid.aabb.overlap(over) > TOUCH
    })
}
