//! Part marks: the name of each panel, engraved into its face A where it does not show once the kit stands.
//!
//! Takes a kit with all its holes, gives its panels a lettering each. A place under another part or a finish comes first, then
//! one beside an edge. Where nothing fits, the panel stays without; the checks tell.

use super::on_face::{ENGRAVED_THROUGH, OFF_EDGES, Surroundings};
use super::solids::{Part, Solid, all};
use super::{Kit, Panel};
use crate::abreast;
use crate::geom::{Block, PanelFrame, Point2, Point3, Vector2, bounds_of};
use crate::layout::{BoardId, Engraving, EngravingKind, Role};
use crate::lettering::{self, Lettered};
use crate::spec::PartMarks;

/// mm. Capitals that are smaller cannot be read in plywood. Common practice, no source.
pub(crate) const LEAST_HEIGHT: f64 = 3.0;
/// mm beyond the least distance, so that rounding in files keeps it.
const BEYOND: f64 = 0.1;
/// mm between two places that are tried, along a line of text and across it.
const STEPS: (f64, f64) = (10.0, 5.0);
/// mm before a face within which another part covers it.
const BEFORE: f64 = 0.5;
/// mm by which letters get smaller where they do not fit.
const SMALLER: f64 = 1.0;

/// A rectangle on a face, by its lower left and its upper right corner.
type Field = (Point2<PanelFrame>, Point2<PanelFrame>);

/// Whether a panel is seen and touched by those who use the kit, so that its name is not to show on it.
pub(crate) fn is_on_show(panel: &Panel) -> bool {
    matches!(panel.role, Role::Front | Role::Lid)
}

/// Gives every panel its mark.
pub(super) fn add(kit: &mut Kit, wanted: &PartMarks) {
    let solids = all(kit);
    let found = abreast::each(kit.panels.len(), |i| mark(kit, BoardId(i), &solids, wanted));
    for (panel, mark) in kit.panels.iter_mut().zip(found) {
        panel.engravings.extend(mark);
    }
}

fn mark(kit: &Kit, id: BoardId, solids: &[Solid], wanted: &PartMarks) -> Option<Engraving> {
    let panel = kit.panel(id);
    let lettered = lettering::lettered(&panel.name).ok()?;
    let mut fields = covered(kit, id, solids);
    if wanted.fronts || !is_on_show(panel) {
        fields.push(panel.outline.bounds());
    }
    let around = Surroundings::of(kit, panel);
    let mut height = wanted.height.value;
    loop {
        for field in &fields {
            if let Some(strokes) = place((&around, panel), *field, &lettered, height) {
                return Some(Engraving {
                    kind: EngravingKind::PartMark,
                    name: panel.name.clone(),
                    text: panel.name.clone(),
                    height,
                    strokes,
                    span: panel.span,
                });
            }
        }
        if height <= LEAST_HEIGHT {
            return None;
        }
        height = (height - SMALLER).max(LEAST_HEIGHT);
    }
}

/// The parts of a face that something covers which moves with the panel.
fn covered(kit: &Kit, id: BoardId, solids: &[Solid]) -> Vec<Field> {
    let panel = kit.panel(id);
    let face = panel.material.actual;
    let (low, high) = panel.outline.bounds();
    let covers = solids.iter().filter(|solid| solid.body == panel.body && hides(kit, id, solid.part));
    covers
        .filter_map(|solid| {
            let corners = Block::of(solid.aabb).corners().map(|corner| panel.placement.to_panel(corner));
            let above = corners.iter().any(|corner| corner.z > face + BEFORE);
            let below = corners.iter().any(|corner| corner.z < face + BEFORE);
            let over = bounds_of(corners.map(Point3::xy));
            let field = (over.0.max(low), over.1.min(high));
            (above && below && field.0.x < field.1.x && field.0.y < field.1.y).then_some(field)
        })
        .collect()
}

/// Whether such a part hides what is engraved under it.
fn hides(kit: &Kit, id: BoardId, part: Part) -> bool {
    match part {
        Part::Panel(other) => other != id,
        Part::Angle(_) | Part::Slide(_) => true,
        Part::Coat(i) => {
            kit.coatings[i].panel == id && kit.coatings[i].coat.finish.thickness > ENGRAVED_THROUGH
        }
        // What is bolted on may be left off, and what is loose may be taken out.
        Part::Fixture(_) | Part::Room(_) | Part::Hardware(_) | Part::Tie(_) | Part::Shank(_) => false,
    }
}

/// The first place in a field where the text fits, lying or upright, from the field's lower left corner on.
fn place(
    (around, panel): (&Surroundings<'_>, &Panel),
    field: Field,
    lettered: &Lettered,
    height: f64,
) -> Option<Vec<Vec<Point2<PanelFrame>>>> {
    let unit = height / lettering::CAPITALS;
    [false, true].into_iter().find_map(|upright| {
        let turned = |&(x, y): &(f64, f64)| {
            let (x, y) = (x * unit, y * unit);
            if upright { Vector2::new(-y, x) } else { Vector2::new(x, y) }
        };
        let drawn: Vec<Vec<Vector2<PanelFrame>>> =
            lettered.strokes.iter().map(|stroke| stroke.iter().map(turned).collect()).collect();
        let (low, high) = bounds_of(drawn.iter().flatten().map(|v| v.to_point()));
        let size = high - low;
        let steps = if upright { (STEPS.1, STEPS.0) } else { STEPS };
        let room = field.1 - field.0 - size;
        let off = OFF_EDGES + BEYOND;
        let along = |step: f64, room: f64| {
            (0..).map(move |i| off + step * f64::from(i)).take_while(move |at| at + off <= room)
        };
        along(steps.1, room.y).flat_map(|y| along(steps.0, room.x).map(move |x| (x, y))).find_map(|(x, y)| {
            let corner = field.0 + Vector2::new(x, y);
            let by = corner - low;
            if !is_free(panel, (corner, corner + size)) {
                return None;
            }
            let strokes: Vec<Vec<Point2<PanelFrame>>> =
                drawn.iter().map(|stroke| stroke.iter().map(|&v| by.to_point() + v).collect()).collect();
            around.are_off(&strokes, off).then_some(strokes)
        })
    })
}

/// Whether holes and legends keep off a rectangle: quick to see before all strokes are looked at.
fn is_free(panel: &Panel, (low, high): Field) -> bool {
    let apart = |a: Field, by: f64| {
        a.0.x - by > high.x || a.1.x + by < low.x || a.0.y - by > high.y || a.1.y + by < low.y
    };
    let holes = panel.bores.iter().all(|bore| {
        let off = bore.centre - bore.centre.clamp(low, high);
        off.length() >= bore.widest() / 2.0 + OFF_EDGES
    });
    let legends = panel.engravings.iter().all(|engraving| {
        let bounds = bounds_of(engraving.strokes.iter().flatten().copied());
        apart(bounds, OFF_EDGES)
    });
    holes && legends
}
