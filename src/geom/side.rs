//! One side of a path, a straight line or an arc of a circle: nearest points and the distance between two sides.
//!
//! Takes ends and bulges, gives points and lengths in mm. Worked out from the ends and not from the circle's
//! centre, which for a nearly straight arc lies kilometres away and would cost every digit. Never flattens.

use super::tolerance::NEARLY_STRAIGHT;
use super::{Point2, Vector2};

/// Cosines that differ by more than this are those of different angles, whatever was rounded.
const FAR_OFF: f64 = 1e-9;

/// Bulge below which an arc counts as flat where its centre is asked for: a radius of 25 chords.
const FLAT: f64 = 0.01;

/// A side of a path.
#[derive(Clone, Copy, Debug)]
pub struct Side<F> {
    start: Point2<F>,
    end: Point2<F>,
    /// 0 for a line; also for an arc that stands off its chord by nothing that counts.
    bulge: f64,
}

/// The circle of an arc.
struct Circle<F> {
    /// From the arc's start to the centre.
    to_centre: Vector2<F>,
    radius: f64,
}

impl<F: Copy> Side<F> {
    /// The side from `start` to `end` with the bulge of a path's vertex.
    pub fn new(start: Point2<F>, end: Point2<F>, bulge: f64) -> Self {
        let rise = (end - start).length() * bulge.abs() / 2.0;
        Side { start, end, bulge: if rise > NEARLY_STRAIGHT { bulge } else { 0.0 } }
    }

    /// The smallest rectangle around it: (lower left, upper right). Who asks often, keeps it.
    pub fn bounds(&self) -> (Point2<F>, Point2<F>) {
        let chord = (self.start.min(self.end), self.start.max(self.end));
        if self.bulge == 0.0 {
            return chord;
        }
        self.extreme_points().fold(chord, |(low, high), p| (low.min(p), high.max(p)))
    }

    /// The point of the side nearest to `p`.
    pub fn nearest(&self, p: Point2<F>) -> Point2<F> {
        let Some(circle) = self.circle() else {
            let along = self.end - self.start;
            let square = along.square_length();
            let t = if square > 0.0 { (p - self.start).dot(along) / square } else { 0.0 };
            return if t >= 1.0 { self.end } else { self.start + along * t.max(0.0) };
        };
        let from_centre = p - self.start - circle.to_centre;
        let beyond = self.beyond(&circle, p);
        // In the centre itself every direction is the nearest: an end is as near as any.
        if from_centre.length() > NEARLY_STRAIGHT {
            let on_circle = p - from_centre.normalize() * beyond;
            if self.is_on_the_arcs_side(on_circle) {
                return on_circle;
            }
        }
        let nearer_start = (p - self.start).length() <= (p - self.end).length();
        if nearer_start { self.start } else { self.end }
    }

    /// The distance from `p` to the side, mm.
    pub fn distance_to(&self, p: Point2<F>) -> f64 {
        (p - self.nearest(p)).length()
    }

    /// The distance between two sides, mm; 0, but for rounding, where they cross.
    pub fn distance(&self, other: &Self) -> f64 {
        // Each candidate is brought onto both sides, so none gives less than the true distance.
        let through = |p| other.distance_to(self.nearest(p));
        self.candidates(other).map(through).fold(f64::INFINITY, f64::min)
    }

    /// Where two sides are nearer than `within`, shares of the way along this one: crossings, and the ends of
    /// stretches in which they run along each other.
    pub fn contacts(&self, other: &Self, within: f64) -> impl Iterator<Item = f64> {
        let near = move |p| Some(self.nearest(p)).filter(|&q| other.distance_to(q) <= within);
        self.candidates(other).filter_map(near).map(|q| self.share_of(q))
    }

    /// The point at the share `t` (0 to 1) of the way, and the direction of travel there.
    pub fn at(&self, t: f64) -> (Point2<F>, Vector2<F>) {
        let chord = self.end - self.start;
        if self.bulge == 0.0 {
            return (self.start + chord * t, chord);
        }
        let half = 2.0 * self.bulge.atan();
        // The chord to a point of the arc stands, by the angle at the circumference, at half the arc's rest from
        // the whole chord, and is as long as the sine of half its arc.
        let chord_to = turned(chord, half * (t - 1.0)) * ((half * t).sin() / half.sin());
        (self.start + chord_to, turned(chord, half * (2.0 * t - 1.0)))
    }

    /// What the side adds to the number of turns that a closed walk makes about `p`, counter-clockwise positive; the sum over
    /// all sides is 0 outside. A line counts where it crosses the level of `p` to the right of it, an arc as its chord, and
    /// once more for a point between chord and arc. On the walk itself `p` is taken to be on one side, the same for chord
    /// and arc.
    pub fn turns_about(&self, p: Point2<F>) -> i32 {
        let chord = self.end - self.start;
        let across = chord.cross(p - self.start);
        let upward = self.start.y <= p.y && self.end.y > p.y;
        let downward = self.start.y > p.y && self.end.y <= p.y;
        let is_left = across > 0.0 || (across == 0.0 && (chord.y < 0.0 || (chord.y == 0.0 && chord.x > 0.0)));
        let of_chord = i32::from(upward && is_left) - i32::from(downward && !is_left);
        let between = is_left != (self.bulge > 0.0)
            && self.circle().is_some_and(|circle| self.beyond(&circle, p) < 0.0);
        let of_arc = if self.bulge > 0.0 { 1 } else { -1 };
        of_chord + if between { of_arc } else { 0 }
    }

    /// Where an arc runs along an axis, which is where it reaches farthest across it. Not for a line.
    fn extreme_points(self) -> impl Iterator<Item = Point2<F>> {
        let chord = self.end - self.start;
        // Of a flat arc the centre is too far away for its digits, so angles are taken.
        let circle = self.circle().filter(|_| self.bulge.abs() > FLAT);
        let included = if circle.is_some() { 0.0 } else { 4.0 * self.bulge.atan() };
        // An axis farther from the chord's direction than the ends' own directions are is left out before its angle is taken.
        let square = self.bulge * self.bulge;
        let least = chord.length() * ((1.0 - square) / (1.0 + square) - FAR_OFF);
        [(1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0)].into_iter().filter_map(move |(x, y)| {
            let axis = Vector2::new(x, y);
            if chord.dot(axis) < least {
                return None;
            }
            if let Some(circle) = &circle {
                // To the right of the direction of travel, where the arc turns left.
                let out = Vector2::new(y, -x) * circle.radius.copysign(self.bulge);
                let p = self.start + circle.to_centre + out;
                return self.is_on_the_arcs_side(p).then_some(p);
            }
            let t = 0.5 + chord.cross(axis).atan2(chord.dot(axis)) / included;
            (0.0..=1.0).contains(&t).then(|| self.at(t).0)
        })
    }

    /// The share of the way at which a point of the side lies; the inverse of [`Side::at`].
    fn share_of(&self, p: Point2<F>) -> f64 {
        let (chord, to_p) = (self.end - self.start, p - self.start);
        if to_p.square_length() == 0.0 {
            return 0.0;
        }
        if self.bulge == 0.0 {
            return to_p.dot(chord) / chord.square_length();
        }
        let angle = chord.cross(to_p).atan2(chord.dot(to_p));
        (1.0 + angle / (2.0 * self.bulge.atan())).clamp(0.0, 1.0)
    }

    fn circle(&self) -> Option<Circle<F>> {
        if self.bulge == 0.0 {
            return None;
        }
        let (chord, bulge) = (self.end - self.start, self.bulge);
        let left = Vector2::new(-chord.y, chord.x);
        Some(Circle {
            to_centre: chord / 2.0 + left * ((1.0 - bulge * bulge) / (4.0 * bulge)),
            radius: chord.length() * (1.0 + bulge * bulge) / (4.0 * bulge.abs()),
        })
    }

    /// How far `p` is outside the arc's circle, mm, negative inside: its power over the sum of both radii, since
    /// the difference of two large radii would keep no digit.
    fn beyond(&self, circle: &Circle<F>, p: Point2<F>) -> f64 {
        let from_start = p - self.start;
        let power = from_start.square_length() - 2.0 * from_start.dot(circle.to_centre);
        power / ((from_start - circle.to_centre).length() + circle.radius)
    }

    /// Whether `p` lies on that side of the chord on which the arc is. Of a point of the circle it says whether
    /// the arc has it.
    fn is_on_the_arcs_side(&self, p: Point2<F>) -> bool {
        (self.end - self.start).cross(p - self.start) * self.bulge <= 0.0
    }

    /// Points among whose feet on the two sides is a nearest pair: the ends, the crossings, and the points where
    /// both run square to the line between them.
    fn candidates(&self, other: &Self) -> impl Iterator<Item = Point2<F>> {
        let inner = match (self.circle(), other.circle()) {
            (None, None) => [self.crossing_of_lines(other), None, None, None],
            (None, Some(circle)) => other.beside_a_line(&circle, self.start, self.end - self.start),
            (Some(circle), None) => self.beside_a_line(&circle, other.start, other.end - other.start),
            (Some(one), Some(two)) => self.beside_a_circle(&one, other, &two),
        };
        let ends = [self.start, self.end, other.start, other.end].map(Some);
        ends.into_iter().chain(inner).flatten()
    }

    fn crossing_of_lines(&self, other: &Self) -> Option<Point2<F>> {
        let (along, across) = (self.end - self.start, other.end - other.start);
        let t = (other.start - self.start).cross(across) / along.cross(across);
        (0.0..=1.0).contains(&t).then(|| self.start + along * t)
    }

    /// For the line through `from` along `along`: the foot of the circle's centre and both crossings.
    fn beside_a_line(
        &self,
        circle: &Circle<F>,
        from: Point2<F>,
        along: Vector2<F>,
    ) -> [Option<Point2<F>>; 4] {
        if along.square_length() == 0.0 {
            return [None; 4];
        }
        let along = along.normalize();
        let from_start = from - self.start;
        // t with t^2 + 2 b t + power = 0; the smaller root by the product of both, to keep its digits.
        let b = (from_start - circle.to_centre).dot(along);
        let power = from_start.square_length() - 2.0 * from_start.dot(circle.to_centre);
        let foot = Some(from - along * b);
        let inside = b * b - power;
        if inside < 0.0 {
            return [foot, None, None, None];
        }
        let far = -(b + inside.sqrt().copysign(b));
        let near = if far == 0.0 { 0.0 } else { power / far };
        [foot, Some(from + along * far), Some(from + along * near), None]
    }

    /// For two arcs: both crossings of their circles, and on the line of centres this arc's points on either
    /// side.
    fn beside_a_circle(
        &self,
        circle: &Circle<F>,
        other: &Self,
        other_circle: &Circle<F>,
    ) -> [Option<Point2<F>>; 4] {
        let apart = other.start - self.start;
        let centres = apart + other_circle.to_centre - circle.to_centre;
        // Of circles about one centre an end of one arc is as near as any other point, or none is beside.
        if centres.length() <= NEARLY_STRAIGHT {
            return [None; 4];
        }
        let out = centres.normalize() * circle.radius;
        let centre = self.start + circle.to_centre;
        // The line of equal power to both circles has their crossings.
        let power = apart.square_length() + 2.0 * apart.dot(other_circle.to_centre);
        let on_line = self.start + centres * (power / (2.0 * centres.square_length()));
        let [_, one, two, _] = self.beside_a_line(circle, on_line, Vector2::new(-centres.y, centres.x));
        [Some(centre + out), Some(centre - out), one, two]
    }
}

/// The vector turned counter-clockwise by an angle in radians.
fn turned<F>(vector: Vector2<F>, angle: f64) -> Vector2<F> {
    let (sin, cos) = angle.sin_cos();
    Vector2::new(vector.x * cos - vector.y * sin, vector.x * sin + vector.y * cos)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::PanelFrame;
    use proptest::prelude::*;

    type S = Side<PanelFrame>;

    fn side(a: (f64, f64), b: (f64, f64), bulge: f64) -> S {
        Side::new(Point2::new(a.0, a.1), Point2::new(b.0, b.1), bulge)
    }

    /// The lower half of the circle about (x, y), run from left to right.
    fn bowl(x: f64, y: f64, radius: f64) -> S {
        side((x - radius, y), (x + radius, y), 1.0)
    }

    fn assert_apart(one: S, other: S, distance: f64) {
        for found in [one.distance(&other), other.distance(&one)] {
            assert!((found - distance).abs() < 1e-9, "{found} is not {distance}: {one:?} {other:?}");
        }
    }

    #[test]
    fn lines() {
        let level = side((0.0, 0.0), (10.0, 0.0), 0.0);
        // Parallel, end to end by Pythagoras, an end above the middle, crossing, a point.
        assert_apart(level, side((2.0, 3.0), (20.0, 3.0), 0.0), 3.0);
        assert_apart(level, side((13.0, 4.0), (20.0, 9.0), 0.0), 5.0);
        assert_apart(level, side((5.0, 0.5), (5.0, 9.0), 0.0), 0.5);
        assert_apart(level, side((4.0, -1.0), (7.0, 2.0), 0.0), 0.0);
        assert_apart(level, side((5.0, 2.0), (5.0, 2.0), 0.0), 2.0);
        assert_apart(level, side((12.0, 0.0), (15.0, 0.0), 0.0), 2.0);
    }

    #[test]
    fn a_line_and_an_arc() {
        // The bowl about (0, 10) with radius 5 comes down to y = 5 at x = 0.
        let bowl = bowl(0.0, 10.0, 5.0);
        assert_apart(bowl, side((-9.0, 2.0), (9.0, 2.0), 0.0), 3.0);
        // Above it, the ends of the bowl are nearest, not the circle's missing top.
        assert_apart(bowl, side((-9.0, 16.0), (9.0, 16.0), 0.0), 6.0);
        // Inside: from (0, 9) straight down to y = 5; a level chord inside is nearest by its ends: the distance
        // of (3, 8) from the centre is the root of 13.
        assert_apart(bowl, side((0.0, 9.0), (0.0, 12.0), 0.0), 4.0);
        assert_apart(bowl, side((-1.0, 8.0), (3.0, 8.0), 0.0), 5.0 - 13.0_f64.sqrt());
        // Across it once, across it twice, touching it.
        assert_apart(bowl, side((0.0, 8.0), (0.0, 0.0), 0.0), 0.0);
        assert_apart(bowl, side((-9.0, 7.0), (9.0, 7.0), 0.0), 0.0);
        assert_apart(bowl, side((-9.0, 5.0), (9.0, 5.0), 0.0), 0.0);
        // A 3-4-5 slope: the line 3x + 4y = 0 passes the centre at 40 / 5 = 8.
        assert_apart(bowl, side((-8.0, 6.0), (8.0, -6.0), 0.0), 3.0);
    }

    #[test]
    fn two_arcs() {
        let low = bowl(0.0, 0.0, 5.0);
        // About one centre, off it, side by side, an end (5, 0) to a small one about (0, 3), crossing.
        assert_apart(low, bowl(0.0, 0.0, 3.0), 2.0);
        assert_apart(low, bowl(0.0, -1.0, 3.0), 1.0);
        assert_apart(low, bowl(12.0, 0.0, 5.0), 2.0);
        assert_apart(low, bowl(0.0, 3.0, 1.0), 34.0_f64.sqrt() - 1.0);
        assert_apart(low, bowl(6.0, 0.0, 5.0), 0.0);
        // Back to back: the upper half about (0, -12) reaches up to y = -7.
        let hill = side((-5.0, -12.0), (5.0, -12.0), -1.0);
        assert_apart(low, hill, 2.0);
        // On the line of centres (3-4-5, 20 apart) both arcs have the nearest point: 20 - 5 - 5.
        assert_apart(low, side((7.0, -16.0), (17.0, -16.0), -1.0), 10.0);
    }

    #[test]
    fn a_nearly_straight_arc_keeps_its_digits() {
        // 2000 long and 0.00002 high: its circle has a radius of 25 000 km.
        let rise = 2e-5;
        let flat = side((0.0, 0.0), (2000.0, 0.0), 2.0 * rise / 2000.0);
        let found = flat.distance_to(Point2::new(1000.0, -3.0));
        assert!((found - (3.0 - rise)).abs() < 1e-9, "{found}");
        assert!((flat.bounds().0.y + rise).abs() < 1e-9, "{:?}", flat.bounds());
        assert_apart(flat, side((990.0, -1.0), (1010.0, -1.0), 0.0), 1.0 - rise);
        let above = side((0.0, 0.5), (2000.0, 0.5), 2.0 * rise / 2000.0);
        assert!((flat.distance(&above) - 0.5).abs() < 1e-9, "{}", flat.distance(&above));
        assert_apart(flat, bowl(1000.0, -9.0, 1.0), 9.0 - rise);
    }

    #[test]
    fn more_than_half_a_circle_reaches_past_its_chord() {
        // 270 degrees about (0, 0), radius 5, from (5, 0) counter-clockwise to (0, -5).
        let three_quarters = side((5.0, 0.0), (0.0, -5.0), (3.0 * std::f64::consts::PI / 8.0).tan());
        let (low, high) = three_quarters.bounds();
        for (found, wanted) in [(low.x, -5.0), (low.y, -5.0), (high.x, 5.0), (high.y, 5.0)] {
            assert!((found - wanted).abs() < 1e-9, "{low:?} {high:?}");
        }
        for (x, y, distance) in
            [(0.0, 7.0, 2.0), (-8.0, 0.0, 3.0), (4.0, -4.0, 17.0_f64.sqrt()), (0.0, 0.0, 5.0)]
        {
            let found = three_quarters.distance_to(Point2::new(x, y));
            assert!((found - distance).abs() < 1e-9, "({x}, {y}): {found}");
        }
    }

    #[test]
    fn turns_about_points_beside_and_on_the_chord() {
        // The bowl about (0, 0) runs below its chord, from left to right; closed by its chord it turns once about what lies
        // between, whichever side points of the chord are on.
        let (bowl, chord) = (bowl(0.0, 0.0, 5.0), side((5.0, 0.0), (-5.0, 0.0), 0.0));
        let closed = |x: f64, y: f64| {
            let p = Point2::new(x, y);
            bowl.turns_about(p) + chord.turns_about(p)
        };
        let found = [(0.0, -1.0), (3.0, -3.9), (0.0, 0.1), (0.0, 5.0), (0.0, -5.1), (9.0, 0.0), (-9.0, 0.0)];
        assert_eq!(found.map(|(x, y)| closed(x, y)), [1, 1, 0, 0, 0, 0, 0]);
    }

    fn any_side() -> impl Strategy<Value = S> {
        let corner = || (-12_i32..12, -12_i32..12);
        let bulge = prop::sample::select(vec![0.0, 0.0, 1.0, -1.0, 0.3, -0.5, 2.5, -0.01]);
        (corner(), corner(), bulge).prop_filter("two ends", |(a, b, _)| a != b).prop_map(|(a, b, bulge)| {
            side((f64::from(a.0), f64::from(a.1)), (f64::from(b.0), f64::from(b.1)), bulge)
        })
    }

    proptest! {
        /// Against many points of both sides: the distance is no more than between any two of them, and no less
        /// than the nearest two less what lies between neighbours.
        #[test]
        fn distances_are_those_of_many_points(one in any_side(), other in any_side()) {
            let points = |side: &S| -> Vec<Point2<PanelFrame>> {
                (0..=400).map(|i| side.at(f64::from(i) / 400.0).0).collect()
            };
            let (these, those) = (points(&one), points(&other));
            let least = these.iter().flat_map(|p| those.iter().map(move |q| (*p - *q).length())).fold(f64::INFINITY, f64::min);
            let step = |points: &[Point2<PanelFrame>]| points.windows(2).map(|w| (w[1] - w[0]).length()).fold(0.0, f64::max);
            let found = one.distance(&other);
            let slack = f64::midpoint(step(&these), step(&those));
            prop_assert!(found <= least + 1e-9 && found >= least - slack - 1e-9, "{found} {least} {one:?} {other:?}");
            prop_assert!((found - other.distance(&one)).abs() < 1e-9);
        }

        #[test]
        fn a_point_of_the_side_is_found_where_it_was_taken(side in any_side(), share in 0_u32..=20) {
            let t = f64::from(share) / 20.0;
            let (p, _) = side.at(t);
            prop_assert!(side.distance_to(p) < 1e-9);
            prop_assert!((side.share_of(p) - t).abs() < 1e-9, "{} {t}", side.share_of(p));
        }
    }
}
