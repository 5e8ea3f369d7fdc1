//! Questions about plane regions, answered on flattened copies by `geo`.
//!
//! `geo`'s booleans run on an integer grid: results are off by some 5e-8 mm, so areas and lengths are compared
//! with a tolerance, never exactly.

use super::tolerance::CHORD;
use super::{Path, Point2};
use geo::{Area, BooleanOps, Centroid, LineString, MultiPolygon, Polygon, Simplify, Validation};

/// The region inside `outline` less the `openings`, arcs flattened to within `chord` mm.
pub(crate) fn to_polygon<F: Copy>(outline: &Path<F>, openings: &[Path<F>], chord: f64) -> Polygon<f64> {
    let ring = |path: &Path<F>| ring_of(path.flattened(chord));
    Polygon::new(ring(outline), openings.iter().map(ring).collect())
}

/// A closed ring through points of any frame.
pub(crate) fn ring_of<F>(points: impl IntoIterator<Item = Point2<F>>) -> LineString<f64> {
    points.into_iter().map(|p| (p.x, p.y)).collect()
}

/// What is left of the region inside `outline` less the `openings` where nothing of `off` lies: its area, mm2, and its
/// middle. The regions of `off` may overlap each other and reach over the outline.
pub fn material_less<F: Copy>(outline: &Path<F>, openings: &[Path<F>], off: &[Path<F>]) -> (f64, Point2<F>) {
    let whole = MultiPolygon::new(vec![to_polygon(outline, &[], CHORD)]);
    let taken = openings.iter().chain(off);
    let left = taken.fold(whole, |left, taken| left.difference(&to_polygon(taken, &[], CHORD)));
    let middle = left.centroid().map_or_else(Point2::origin, |middle| Point2::new(middle.x(), middle.y()));
    (left.unsigned_area(), middle)
}

/// The part of a closed path inside a rectangle, its arcs flattened. Where it leaves and comes back, the pieces stay joined
/// along the rectangle's side.
pub fn within_rectangle<F: Copy>(path: &Path<F>, low: Point2<F>, high: Point2<F>) -> Path<F> {
    let window = [low, Point2::new(high.x, low.y), high, Point2::new(low.x, high.y)];
    Path::polygon(clipped(path.flattened(CHORD), window))
}

/// Contours of the region inside `outline` less the `openings`, with no more corners than it takes to stay within `within` mm of
/// them, and without openings that are narrower than `narrow` mm. Where such contours would touch each other, they are all left
/// as they are.
pub fn seen_from_afar<F: Copy>(
    outline: &Path<F>,
    openings: &[Path<F>],
    within: f64,
    narrow: f64,
) -> (Path<F>, Vec<Path<F>>) {
    let is_wide = |path: &&Path<F>| {
        let (low, high) = path.bounds();
        (high.x - low.x).min(high.y - low.y) >= narrow
    };
    let wide: Vec<Path<F>> = openings.iter().filter(is_wide).cloned().collect();
    // Half of what is allowed for arcs as chords, half for corners that are left out.
    let fewer = to_polygon(outline, &wide, within / 2.0).simplify(within / 2.0);
    if !fewer.is_valid() {
        return (outline.clone(), wide);
    }
    let path = |ring: &LineString<f64>| {
        let corners = &ring.0[..ring.0.len() - 1];
        Path::polygon(corners.iter().map(|corner| Point2::new(corner.x, corner.y)))
    };
    (path(fewer.exterior()), fewer.interiors().iter().map(path).collect())
}

/// Area in mm2 that two regions share.
pub(crate) fn overlap_area(a: &Polygon<f64>, b: &Polygon<f64>) -> f64 {
    a.intersection(b).unsigned_area()
}

/// The part of a ring inside a convex `window` (corners in order, either way round): the ring cut by one side of
/// the window after the other. Where the ring leaves and comes back, the pieces stay joined along the window's
/// edge, which takes no area.
pub(crate) fn clipped<F: Copy>(ring: Vec<Point2<F>>, window: [Point2<F>; 4]) -> Vec<Point2<F>> {
    let turn = (window[1] - window[0]).cross(window[2] - window[1]).signum();
    (0..4).fold(ring, |ring, side| {
        let (a, b) = (window[side], window[(side + 1) % 4]);
        let inside = |p: Point2<F>| (b - a).cross(p - a) * turn;
        let mut kept = Vec::with_capacity(ring.len());
        for (i, &p) in ring.iter().enumerate() {
            let before = ring[(i + ring.len() - 1) % ring.len()];
            let (from, to) = (inside(before), inside(p));
            if (from < 0.0) != (to < 0.0) {
                kept.push(before + (p - before) * (from / (from - to)));
            }
            if to >= 0.0 {
                kept.push(p);
            }
        }
        kept
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::PanelFrame;
    use proptest::prelude::*;

    #[test]
    fn from_afar_small_corners_and_narrow_openings_go_and_nothing_crosses() {
        let polygon = |corners: &[(f64, f64)]| {
            Path::<PanelFrame>::polygon(corners.iter().map(|&(x, y)| Point2::new(x, y)))
        };
        // A square with a notch of 1 mm in one side and a step of 30 mm in another; one opening is 10 mm wide, one 60.
        let step = [(300.0, 300.0), (200.0, 300.0), (200.0, 270.0), (0.0, 270.0)];
        let notch = [(0.0, 0.0), (300.0, 0.0), (300.0, 100.0), (299.0, 101.0), (300.0, 102.0)];
        let openings = [(50.0, 60.0), (100.0, 160.0)]
            .map(|(left, right)| Path::rectangle(left, 50.0, right, 150.0).clockwise());
        let (outline, left) = seen_from_afar(&polygon(&[&notch[..], &step].concat()), &openings, 3.0, 20.0);
        assert_eq!(outline, polygon(&[&notch[..2], &step].concat()));
        assert_eq!(left.len(), 1);
        assert!((left[0].area() + 6000.0).abs() < 1e-9);
        // Without the corner at its top a tip from below would stand out of it, by 0.9 mm.
        let tip = [
            (0.0, 100.0),
            (0.0, 90.0),
            (100.0, 90.0),
            (150.0, 100.9),
            (200.0, 90.0),
            (200.0, 100.0),
            (100.0, 102.0),
        ];
        assert_eq!(seen_from_afar(&polygon(&tip), &[], 6.0, 20.0).0, polygon(&tip));
    }

    proptest! {
        /// Against `geo`'s booleans, on stars that may leave the window many times.
        #[test]
        fn clipping_keeps_the_area_that_booleans_find(
            radii in prop::collection::vec(1_u32..40, 3..12), x in -30_i32..30, y in -30_i32..30,
        ) {
            let n = radii.len() as f64;
            let ring: Vec<Point2<PanelFrame>> = radii.iter().enumerate().map(|(i, &r)| {
                let angle = std::f64::consts::TAU * i as f64 / n;
                Point2::new(f64::from(x) + f64::from(r) * angle.cos(), f64::from(y) + f64::from(r) * angle.sin())
            }).collect();
            let window = [(-10.0, -10.0), (10.0, -10.0), (10.0, 10.0), (-10.0, 10.0)].map(|(x, y)| Point2::new(x, y));
            let polygon = |points: Vec<Point2<PanelFrame>>| Polygon::new(ring_of(points), vec![]);
            let expected = overlap_area(&polygon(ring.clone()), &polygon(window.to_vec()));
            let found = polygon(clipped(ring, window)).unsigned_area();
            prop_assert!((found - expected).abs() < 1e-4, "{found} {expected}");
        }
    }
}
