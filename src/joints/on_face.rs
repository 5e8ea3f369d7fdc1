//! What lies near strokes on a panel's face A: edges, openings, holes.
//!
//! Takes finished panels; legends are looked at with it, part marks are placed with it.

use super::{Kit, Panel};
use crate::geom::{PanelFrame, Point2};

/// mm that a stroke keeps from every cut edge. Common practice, no source.
pub(crate) const OFF_EDGES: f64 = 2.0;
/// mm. A finish no thicker than this is engraved through: paint, laminate. A decision of this project.
pub(crate) const ENGRAVED_THROUGH: f64 = 1.0;
/// mm between places of a stroke that are looked at.
const STEP: f64 = 1.0;

/// mm from the strokes to the next edge, opening or hole, and what that is; 0 where a stroke is not on the panel.
pub(crate) fn nearest((kit, panel): (&Kit, &Panel), strokes: &[Vec<Point2<PanelFrame>>]) -> (f64, String) {
    let sides = strokes.iter().flat_map(|stroke| stroke.windows(2));
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
