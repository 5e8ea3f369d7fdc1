//! What lies near strokes on a panel's face A: edges, openings, holes.
//!
//! Takes finished panels; legends are looked at with it, part marks are placed with it.

use super::{Bore, Kit, Panel};
use crate::geom::{Bounds, PanelFrame, Point2, Region, apart, bounds_of};

/// mm that a stroke keeps from every cut edge. Common practice, no source.
pub(crate) const OFF_EDGES: f64 = 2.0;
/// mm. A finish no thicker than this is engraved through: paint, laminate. A decision of this project.
pub(crate) const ENGRAVED_THROUGH: f64 = 1.0;
/// mm between places of a stroke that are looked at.
const STEP: f64 = 1.0;

/// Everything on a face that strokes must keep off.
pub(crate) struct Surroundings<'a> {
    kit: &'a Kit,
    panel: &'a Panel,
    material: Region<PanelFrame>,
}

impl<'a> Surroundings<'a> {
    /// Those of a panel.
    pub(crate) fn of(kit: &'a Kit, panel: &'a Panel) -> Self {
        let openings = panel.openings.iter().map(|opening| opening.path.clone()).collect();
        Surroundings { kit, panel, material: Region::new(panel.outline.clone(), openings) }
    }

    /// mm from the strokes to the next edge, opening or hole, and what that is; 0 where a stroke is not on the panel.
    pub(crate) fn nearest(&self, strokes: &[Vec<Point2<PanelFrame>>]) -> (f64, String) {
        let places: Vec<_> = strokes.iter().flat_map(|stroke| places(stroke)).collect();
        let least = |from: &dyn Fn(Point2<PanelFrame>) -> f64| {
            places.iter().map(|&p| from(p)).fold(f64::INFINITY, f64::min)
        };
        let outline = &self.panel.outline;
        let edge = least(&|p| if outline.contains(p) { outline.distance_to(p) } else { 0.0 });
        let openings = self.panel.openings.iter().map(|opening| {
            let path = &opening.path;
            let off = least(&|p| if path.contains(p) { 0.0 } else { path.distance_to(p) });
            (off, format!("the opening of `{}`", opening.joint))
        });
        let holes = self.panel.bores.iter().map(|bore| {
            let off = least(&|p| ((bore.centre - p).length() - bore.widest() / 2.0).max(0.0));
            (off, format!("the hole for the bolt `{}`", self.kit.bolt(bore.bolt).name))
        });
        let all = openings.chain(holes);
        all.fold((edge, "an edge".to_owned()), |least, next| if next.0 < least.0 { next } else { least })
    }

    /// Whether all of that is at least so many mm away: what [`Surroundings::nearest`] would say, sooner.
    pub(crate) fn are_off(&self, strokes: &[Vec<Point2<PanelFrame>>], least: f64) -> bool {
        let all = bounds_of(strokes.iter().flatten().copied());
        let cut: Vec<_> = self.material.boxed_near(all, least).collect();
        let near = |bore: &Bore, (low, high): Bounds<PanelFrame>| {
            (bore.centre - bore.centre.clamp(low, high)).length() < least + bore.widest() / 2.0
        };
        let holes: Vec<_> = self.panel.bores.iter().filter(|bore| near(bore, all)).collect();
        let is_far = |stroke: &Vec<Point2<PanelFrame>>| {
            let own = bounds_of(stroke.iter().copied());
            let cut: Vec<_> = cut.iter().filter(|(_, bounds)| apart(*bounds, own) <= least).collect();
            let holes: Vec<_> = holes.iter().filter(|bore| near(bore, own)).collect();
            let is_clear = |p: Point2<PanelFrame>| {
                cut.iter().all(|(side, _)| side.distance_to(p) >= least)
                    && holes.iter().all(|bore| (bore.centre - p).length() - bore.widest() / 2.0 >= least)
            };
            (cut.is_empty() && holes.is_empty()) || places(stroke).all(is_clear)
        };
        // No stroke crosses what it keeps off, so where one place of it lies all of it does; and where no side is near, so do
        // all strokes.
        let mut firsts = strokes.iter().filter_map(|stroke| stroke.first());
        let has = |p: &Point2<PanelFrame>| self.material.has(*p);
        strokes.iter().all(is_far)
            && if cut.is_empty() { firsts.next().is_none_or(has) } else { firsts.all(has) }
    }
}

/// Places along a stroke.
fn places(stroke: &[Point2<PanelFrame>]) -> impl Iterator<Item = Point2<PanelFrame>> + '_ {
    stroke.windows(2).flat_map(|side| {
        let (a, b) = (side[0], side[1]);
        let n = ((b - a).length() / STEP).ceil().max(1.0);
        (0..).map(f64::from).take_while(move |i| *i <= n).map(move |i| a.lerp(b, i / n))
    })
}
