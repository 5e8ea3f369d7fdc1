//! Stretches of a straight line: where it runs inside a path, and where it runs along a path's straight sides.
//!
//! Takes a path and a line in its plane, gives intervals in mm from the line's start, rising and apart. Never
//! says anything about what lies on one side of the line only.

use super::tolerance::{CHORD, SAME_LENGTH};
use super::{Path, Point2, Vector2, bounds_of};
use itertools::Itertools;

/// Intervals in mm along a line, rising, none touching the next.
pub type Stretches = Vec<(f64, f64)>;

/// A piece of a straight line.
#[derive(Clone, Copy, Debug)]
pub struct Stroke<F> {
    /// Where it starts.
    pub start: Point2<F>,
    /// Unit vector.
    pub along: Vector2<F>,
    /// mm.
    pub length: f64,
}

impl<F: Copy> Stroke<F> {
    /// The same stroke moved sideways: `by` mm to the left of its direction.
    #[must_use]
    pub fn beside(self, by: f64) -> Self {
        Stroke { start: self.start + Vector2::new(-self.along.y, self.along.x) * by, ..self }
    }

    fn at(&self, p: Point2<F>) -> f64 {
        (p - self.start).dot(self.along)
    }

    /// mm to the left of the line.
    fn off(&self, p: Point2<F>) -> f64 {
        self.along.cross(p - self.start)
    }

    /// Where the stroke runs inside the path, arcs as chords.
    pub fn inside(&self, path: &Path<F>) -> Stretches {
        let mut cuts = Vec::new();
        let (low, high) = bounds_of([self.start, self.start + self.along * self.length]);
        let margin = Vector2::new(SAME_LENGTH, SAME_LENGTH);
        for (a, b) in
            path.flattened_near(CHORD, (low - margin, high + margin)).into_iter().circular_tuple_windows()
        {
            let (from, to) = (self.off(a), self.off(b));
            if from.abs() < SAME_LENGTH {
                cuts.push(self.at(a));
            }
            if from * to < 0.0 {
                cuts.push(self.at(a + (b - a) * (from / (from - to))));
            }
        }
        // The ends are exactly the stroke's own.
        cuts.retain(|s| (SAME_LENGTH..self.length - SAME_LENGTH).contains(s));
        cuts.extend([0.0, self.length]);
        cuts.sort_by(f64::total_cmp);
        let middle = |(from, to): (f64, f64)| self.start + self.along * f64::midpoint(from, to);
        joined(cuts.into_iter().tuple_windows().filter(|&piece| path.contains(middle(piece))))
    }

    /// Where the path's straight sides lie on the stroke.
    pub fn on_sides(&self, path: &Path<F>) -> Stretches {
        let on_line = |&(a, b, bulge): &(Point2<F>, Point2<F>, f64)| {
            bulge == 0.0 && self.off(a).abs() < SAME_LENGTH && self.off(b).abs() < SAME_LENGTH
        };
        let clip = |s: f64| s.clamp(0.0, self.length);
        let sides = path.sides().filter(on_line).map(|(a, b, _)| {
            let (from, to) = (self.at(a), self.at(b));
            (clip(from.min(to)), clip(from.max(to)))
        });
        joined(sides.sorted_by(|a, b| a.0.total_cmp(&b.0)))
    }
}

/// What two sets of stretches share.
pub fn common(a: &[(f64, f64)], b: &[(f64, f64)]) -> Stretches {
    let shared = a.iter().cartesian_product(b).map(|(x, y)| (x.0.max(y.0), x.1.min(y.1)));
    joined(shared.sorted_by(|a, b| a.0.total_cmp(&b.0)))
}

/// What of the first set is not in the second, over a line `length` mm long.
pub fn less(a: &[(f64, f64)], b: &[(f64, f64)], length: f64) -> Stretches {
    let ends = b.iter().flat_map(|&(from, to)| [from, to]);
    let ends: Vec<f64> = std::iter::once(0.0).chain(ends).chain([length]).collect();
    let free: Vec<(f64, f64)> = ends.chunks(2).map(|gap| (gap[0], gap[1])).collect();
    common(a, &free)
}

/// All of both.
pub fn either(a: &[(f64, f64)], b: &[(f64, f64)]) -> Stretches {
    joined(a.iter().chain(b).copied().sorted_by(|a, b| a.0.total_cmp(&b.0)))
}

/// Stretches in order of their starts, those that touch made one, those without a length left out.
fn joined(stretches: impl Iterator<Item = (f64, f64)>) -> Stretches {
    let mut whole: Stretches = Vec::new();
    for (from, to) in stretches.filter(|(from, to)| to - from > SAME_LENGTH) {
        match whole.last_mut() {
            Some(last) if from <= last.1 + SAME_LENGTH => last.1 = last.1.max(to),
            _ => whole.push((from, to)),
        }
    }
    whole
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::PanelFrame;

    /// 100 x 50 with a notch of 20 x 10 in its lower side, from 30 to 50.
    fn notched() -> Path<PanelFrame> {
        let corners = [(0, 0), (30, 0), (30, 10), (50, 10), (50, 0), (100, 0), (100, 50), (0, 50)];
        Path::polygon(corners.map(|(x, y)| Point2::new(f64::from(x), f64::from(y))))
    }

    fn stroke(x: f64, y: f64, length: f64) -> Stroke<PanelFrame> {
        Stroke { start: Point2::new(x, y), along: Vector2::new(1.0, 0.0), length }
    }

    #[test]
    fn a_notch_parts_what_lies_inside() {
        assert_eq!(stroke(-10.0, 5.0, 200.0).inside(&notched()), [(10.0, 40.0), (60.0, 110.0)]);
        assert_eq!(stroke(-10.0, 5.0, 200.0).beside(10.0).inside(&notched()), [(10.0, 110.0)]);
        assert_eq!(stroke(0.0, 60.0, 200.0).inside(&notched()), []);
        // Just above the notch's floor, and starting inside.
        assert_eq!(stroke(40.0, 10.001, 20.0).inside(&notched()), [(0.0, 20.0)]);
    }

    #[test]
    fn sides_on_the_line_count_from_its_start() {
        assert_eq!(stroke(10.0, 0.0, 60.0).on_sides(&notched()), [(0.0, 20.0), (40.0, 60.0)]);
        assert_eq!(stroke(0.0, 10.0, 100.0).on_sides(&notched()), [(30.0, 50.0)]);
        assert_eq!(stroke(0.0, 1.0, 100.0).on_sides(&notched()), []);
    }

    #[test]
    fn an_arc_is_no_straight_side_and_ends_the_inside_where_it_is() {
        let disc = Path::circle(Point2::new(50.0, 0.0), 10.0);
        let [(from, to)] = stroke(0.0, 6.0, 100.0).inside(&disc)[..] else { panic!("not one stretch") };
        // 6, 8, 10: a right triangle; a chord may lie 0.005 mm inside its arc.
        assert!((from - 42.0).abs() < 0.02 && (to - 58.0).abs() < 0.02, "{from} to {to}");
        assert_eq!(stroke(40.0, 0.0, 20.0).on_sides(&disc), []);
    }

    #[test]
    fn sets_of_stretches_are_cut_and_joined() {
        let (a, b) = ([(0.0, 10.0), (20.0, 30.0)], [(5.0, 20.0), (25.0, 40.0)]);
        assert_eq!(common(&a, &b), [(5.0, 10.0), (25.0, 30.0)]);
        assert_eq!(either(&a, &b), [(0.0, 40.0)]);
        assert_eq!(less(&a, &b, 50.0), [(0.0, 5.0), (20.0, 25.0)]);
    }
}
