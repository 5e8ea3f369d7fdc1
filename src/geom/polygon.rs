//! Questions about plane regions, answered on flattened copies by `geo`.
//!
//! `geo`'s booleans run on an integer grid: results are off by some 5e-8 mm, so areas and lengths are compared
//! with a tolerance, never exactly.

use super::{Path, Point2};
use geo::{Area, BooleanOps, LineString, MultiPolygon, Polygon};

/// The region inside `outline` less the `openings`, arcs flattened to within `chord` mm.
pub(crate) fn to_polygon<F: Copy>(outline: &Path<F>, openings: &[Path<F>], chord: f64) -> Polygon<f64> {
    let ring = |path: &Path<F>| ring_of(path.flattened(chord));
    Polygon::new(ring(outline), openings.iter().map(ring).collect())
}

/// A closed ring through points of any frame.
pub(crate) fn ring_of<F>(points: impl IntoIterator<Item = Point2<F>>) -> LineString<f64> {
    points.into_iter().map(|p| (p.x, p.y)).collect()
}

/// Area in mm2 that two regions share.
pub(crate) fn overlap_area(a: &Polygon<f64>, b: &Polygon<f64>) -> f64 {
    a.intersection(b).unsigned_area()
}

/// The parts of `region` inside the convex `window`.
pub(crate) fn clipped(region: &Polygon<f64>, window: &Polygon<f64>) -> MultiPolygon<f64> {
    region.intersection(window)
}
