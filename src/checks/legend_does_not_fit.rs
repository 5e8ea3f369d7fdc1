//! A legend across an edge, an opening or a hole, or under another part.

use crate::diag::{Finding, Findings, Rule, Severity};
use crate::finished::Finished;
use crate::geom::tolerance::TOUCH;
use crate::geom::{Aabb, PanelFrame, Point2, Point3, Vector2};
use crate::joints::solids::{Part, Solid, all, name};
use crate::joints::{Kit, Panel};
use crate::layout::{BoardId, Engraving};
use crate::number::decimal;

/// mm that a stroke keeps from every cut edge. Common practice, no source.
const OFF_EDGES: f64 = 2.0;
/// mm between places of a stroke that are looked at.
const STEP: f64 = 1.0;
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
    let solids = all(kit);
    for (i, panel) in kit.panels.iter().enumerate() {
        for engraving in &panel.engravings {
            let (off, what) = nearest((kit, panel), engraving);
            if off < OFF_EDGES {
                let message = format!(
                    "`{}` comes within {} mm of {what} in `{}`; {OFF_EDGES} mm are needed",
                    engraving.text,
                    decimal(off, 1),
                    panel.name
                );
                let help = "move it away from that, or give it less `height` or fewer letters";
                findings.push(Finding::new(&RULE, engraving.span, message).on(&engraving.name).help(help));
            } else if let Some(cover) = cover(kit, (BoardId(i), panel), engraving, &solids) {
                let message = format!("`{}` is covered by `{}`", engraving.text, name(kit, cover.part));
                let help = "move it beside that, or put it on another panel";
                findings.push(Finding::new(&RULE, engraving.span, message).on(&engraving.name).help(help));
            }
        }
    }
}

/// mm from the strokes to the next edge, opening or hole, and what that is; 0 where a stroke is not on the panel.
fn nearest((kit, panel): (&Kit, &Panel), engraving: &Engraving) -> (f64, String) {
    let sides = engraving.strokes.iter().flat_map(|stroke| stroke.windows(2));
    let places: Vec<Point2<PanelFrame>> = sides
        .flat_map(|side| {
            let (a, b) = (side[0], side[1]);
            let n = ((b - a).length() / STEP).ceil().max(1.0);
            (0..).map(f64::from).take_while(move |i| *i <= n).map(move |i| a.lerp(b, i / n))
        })
        .collect();
    let least = |from: &dyn Fn(Point2<PanelFrame>) -> f64| {
        places.iter().map(|&p| from(p)).fold(f64::INFINITY, f64::min)
    };
    let outline = &panel.outline;
    let edge = least(&|p| if outline.contains(p) { outline.distance_to(p) } else { 0.0 });
    let openings = panel.openings.iter().map(|opening| {
        let path = &opening.path;
        let off = least(&|p| if path.contains(p) { 0.0 } else { path.distance_to(p) });
        (off, format!("the opening of `{}`", opening.joint))
    });
    let holes = panel.bores.iter().map(|bore| {
        let off = least(&|p| ((bore.centre - p).length() - bore.widest() / 2.0).max(0.0));
        (off, format!("the hole for the bolt `{}`", kit.bolt(bore.bolt).name))
    });
    let all = openings.chain(holes);
    all.fold((edge, "an edge".to_owned()), |least, next| if next.0 < least.0 { next } else { least })
}

/// mm. A finish no thicker than this is engraved through: paint, laminate. A decision of this project.
const ENGRAVED_THROUGH: f64 = 1.0;

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
