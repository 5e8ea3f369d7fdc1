//! A part's true shape as a polygon on the micrometre grid, safe to decide with.
//!
//! Takes an outline and openings with arcs, in millimetres; gives a polygon that contains the part: an arc that
//! bulges out of the part becomes tangents around it, one that bulges into it chords, so openings only shrink.
//! Corners are rounded to whole micrometres; by how much a true point may stand out because of that is kept as
//! [`Shape::slack`]. Only square roots are taken, which are the same on every machine.

use super::convex::convex_pieces;
use super::ring::{LONGEST, Point, are_simple, bounds, cleaned, doubled_area, is_inside};
use crate::geom::{Path, Point2, Vector2};
use crate::problem::{down, up};

/// Corners above which a shape is taken for its rectangle: pieces and their sums would take too long.
const MOST_CORNERS: usize = 600;

/// A polygon with openings, cut into convex pieces.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Shape {
    /// The outline, counter-clockwise.
    pub(super) outline: Vec<Point>,
    /// The openings, clockwise.
    pub(super) openings: Vec<Vec<Point>>,
    /// Convex rings that cover it exactly.
    pub(super) pieces: Vec<Vec<Point>>,
    /// Lower left corner of the box around the true outline, rounded outward.
    pub(super) low: Point,
    /// Upper right corner of that box.
    pub(super) high: Point,
    /// Micrometres by which the true shape may stand out of the polygon: 0 if every corner is on the grid.
    pub(super) slack: i64,
}

impl Shape {
    /// The polygon around an outline (either way round) less its openings; arcs within `tolerance` mm. `None` if
    /// the outline is not one closed line with area, too large or too finely drawn: then its rectangle serves.
    pub(crate) fn new<F: Copy>(outline: &Path<F>, openings: &[Path<F>], tolerance: f64) -> Option<Self> {
        let (low, high) = outline.bounds();
        let low = Point { x: down(low.x)?, y: down(low.y)? };
        let high = Point { x: up(high.x)?, y: up(high.y)? };
        let mut slack = 0;
        let mut ring = |path: Path<F>| {
            let (ring, off_grid) = traced(&path, tolerance)?;
            slack = slack.max(off_grid);
            Some(cleaned(ring))
        };
        let outline = ring(outline.clone().counter_clockwise())?;
        let openings: Option<Vec<Vec<Point>>> =
            openings.iter().map(|opening| ring(opening.clone().clockwise())).collect();
        // An opening that is too small for the grid is none.
        let openings = openings?.into_iter().filter(|ring| ring.len() >= 3).collect();
        Shape::of_rings(outline, openings, low, high, slack)
    }

    /// The rectangle between two corners.
    pub(crate) fn rectangle(low: Point, high: Point) -> Option<Self> {
        let corners = [(low.x, low.y), (high.x, low.y), (high.x, high.y), (low.x, high.y)];
        let ring = cleaned(corners.into_iter().map(|(x, y)| Point { x, y }).collect());
        Shape::of_rings(ring, Vec::new(), low, high, 0)
    }

    fn of_rings(
        outline: Vec<Point>,
        openings: Vec<Vec<Point>>,
        low: Point,
        high: Point,
        slack: i64,
    ) -> Option<Self> {
        let rings: Vec<&[Point]> =
            std::iter::once(&outline[..]).chain(openings.iter().map(|ring| &ring[..])).collect();
        let corners: usize = rings.iter().map(|ring| ring.len()).sum();
        let (inner_low, inner_high) = bounds(&outline)?;
        let far = |p: Point| p.x.abs() > LONGEST || p.y.abs() > LONGEST;
        if corners > MOST_CORNERS || [inner_low, inner_high, low, high].into_iter().any(far) {
            return None;
        }
        let sound = doubled_area(&outline) > 0
            && are_simple(&rings)
            && openings.iter().all(|ring| doubled_area(ring) < 0 && is_inside(ring[0], &outline));
        if !sound {
            return None;
        }
        let pieces = convex_pieces(&outline, &openings)?;
        Some(Shape { outline, openings, pieces, low, high, slack })
    }

    /// Twice the area inside the outline less the openings, square micrometres.
    pub(crate) fn doubled_area(&self) -> i64 {
        doubled_area(&self.outline) + self.openings.iter().map(|ring| doubled_area(ring)).sum::<i64>()
    }
}

/// A path of the part's material on its left as a ring of whole micrometres, and by how many of those a true
/// point may stand out of it.
pub(super) fn traced<F: Copy>(path: &Path<F>, tolerance: f64) -> Option<(Vec<Point>, i64)> {
    let mut points = Vec::new();
    // Below a micrometre the grid is coarser than the arc's chords.
    let tolerance = tolerance.max(0.001);
    for (a, b, bulge) in path.sides() {
        if !bulge.is_finite() {
            return None;
        }
        points.push(a);
        if bulge != 0.0 {
            around_arc(a, b, bulge, tolerance, &mut points);
        }
        if points.len() > 2 * MOST_CORNERS {
            return None;
        }
    }
    let mut slack = 0;
    let mut ring = Vec::with_capacity(points.len());
    for p in points {
        let (x, y) = ((p.x * 1000.0).round(), (p.y * 1000.0).round());
        if !(x.abs() <= LONGEST as f64 && y.abs() <= LONGEST as f64) {
            return None;
        }
        if (p.x * 1000.0 - x).abs() > ON_GRID || (p.y * 1000.0 - y).abs() > ON_GRID {
            slack = 1;
        }
        #[expect(clippy::cast_possible_truncation, reason = "whole and at most LONGEST")]
        ring.push(Point { x: x as i64, y: y as i64 });
    }
    Some((ring, slack))
}

/// Micrometres. A corner this near to a point of the grid is on it: what sums of binary fractions are off by.
const ON_GRID: f64 = 1e-6;

/// The corners between the ends of an arc: crossings of tangents if the arc bulges out of the material (to the
/// right of the way), points of the arc itself if it bulges into it. The arc is halved until `tolerance` holds.
fn around_arc<F: Copy>(a: Point2<F>, b: Point2<F>, bulge: f64, tolerance: f64, points: &mut Vec<Point2<F>>) {
    let chord = b - a;
    // To the right of the way, as long as the chord.
    let right = Vector2::new(chord.y, -chord.x);
    // Heights over the chord: of the arc, and of the crossing of the tangents at its ends.
    let arc_height = bulge / 2.0;
    let tangent_height = bulge / (1.0 - bulge * bulge);
    let error = if bulge > 0.0 { tangent_height - arc_height } else { -arc_height };
    // More than a third of a circle is always halved: tangents would cross far away or not at all.
    if bulge.abs() < THIRD && error * chord.length() <= tolerance {
        if bulge > 0.0 {
            points.push(a + chord / 2.0 + right * tangent_height);
        }
        return;
    }
    let middle = a + chord / 2.0 + right * arc_height;
    // tan(t/2) from tan(t).
    let half = bulge / (1.0 + (1.0 + bulge * bulge).sqrt());
    around_arc(a, middle, half, tolerance, points);
    points.push(middle);
    around_arc(middle, b, half, tolerance, points);
}

/// The bulge of a third of a circle: tan(30 degrees).
const THIRD: f64 = 0.577;
