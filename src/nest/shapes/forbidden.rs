//! Where one shape may not lie, seen from another, and how deep in that it lies.
//!
//! Takes two shapes and the gap; gives the set of differences of their positions at which they would be nearer
//! than the gap: for each pair of convex pieces the convex ring of differences, grown by the gap (no-fit
//! polygons, from memory). All corners are whole micrometres and all sides are compared in whole numbers, held in
//! `f64` because products stay below 2^53: so "no depth" is exact. The growth contains the true one, by at most
//! the tolerance at corners and by a micrometre along sides.

use super::convex::{hull, sum};
use super::ring::Point;

/// A shape as it may lie: turned, and in pieces.
#[derive(Clone, Debug)]
pub(super) struct Lying {
    /// Convex pieces.
    pub(super) pieces: Vec<Vec<Point>>,
    /// Box around the true outline.
    pub(super) low: Point,
    /// Its other corner.
    pub(super) high: Point,
    /// Micrometres by which the true shape may stand out of the pieces.
    pub(super) slack: i64,
}

/// The differences of positions (second less first) at which two shapes are too near.
#[derive(Clone, Debug)]
pub(super) struct Forbidden {
    pieces: Vec<Piece>,
    sides: Vec<Side>,
}

/// A convex ring of differences: its box and its sides.
#[derive(Clone, Copy, Debug)]
struct Piece {
    low: [f64; 2],
    high: [f64; 2],
    sides: (u32, u32),
}

/// A side: the products of its inward normal with a point inside exceed `at`.
#[derive(Clone, Copy, Debug)]
struct Side {
    normal: [f64; 2],
    at: f64,
    /// One over the normal's length.
    scale: f64,
}

impl Forbidden {
    /// Where `second` may not lie, seen from `first`; both at most `gap` micrometres from each other.
    pub(super) fn new(first: &Lying, second: &Lying, gap: i64, tolerance: f64) -> Self {
        let mut forbidden = Forbidden { pieces: Vec::new(), sides: Vec::new() };
        let gap = gap + first.slack + second.slack;
        let turned: Vec<Vec<Point>> = second
            .pieces
            .iter()
            .map(|piece| piece.iter().map(|p| Point { x: -p.x, y: -p.y }).collect())
            .collect();
        for piece in &first.pieces {
            for other in &turned {
                forbidden.add(&grown(&hull(sum(piece, other)), gap, tolerance));
            }
        }
        forbidden
    }

    fn add(&mut self, ring: &[Point]) {
        let first = self.sides.len();
        let (mut low, mut high) = ([f64::INFINITY; 2], [f64::NEG_INFINITY; 2]);
        for (i, &a) in ring.iter().enumerate() {
            let along = ring[(i + 1) % ring.len()].minus(a);
            let normal = Point { x: -along.y, y: along.x };
            let length = (normal.dot(normal) as f64).sqrt();
            let normal_f = [normal.x as f64, normal.y as f64];
            self.sides.push(Side { normal: normal_f, at: normal.dot(a) as f64, scale: 1.0 / length });
            for (axis, value) in [a.x as f64, a.y as f64].into_iter().enumerate() {
                low[axis] = low[axis].min(value);
                high[axis] = high[axis].max(value);
            }
        }
        let index = |at: usize| u32::try_from(at).unwrap_or(u32::MAX);
        self.pieces.push(Piece { low, high, sides: (index(first), index(self.sides.len())) });
    }

    /// How many sides there are: what a look at them costs.
    pub(super) fn n_sides(&self) -> usize {
        self.sides.len()
    }

    /// How far the difference (`x`, `y`) lies in the forbidden set, micrometres: for each pair of pieces the way
    /// to the nearest side, summed. 0 only if the shapes are not too near.
    pub(super) fn depth(&self, x: f64, y: f64) -> f64 {
        let mut sum = 0.0;
        for piece in &self.pieces {
            if x <= piece.low[0] || x >= piece.high[0] || y <= piece.low[1] || y >= piece.high[1] {
                continue;
            }
            let mut least = f64::INFINITY;
            for side in &self.sides[piece.sides.0 as usize..piece.sides.1 as usize] {
                let inside = side.normal[0] * x + side.normal[1] * y - side.at;
                if inside <= 0.0 {
                    least = 0.0;
                    break;
                }
                least = least.min(inside * side.scale);
            }
            sum += least;
        }
        sum
    }
}

/// A convex ring grown outward by so many micrometres: it contains every point so near to the ring, and its
/// corners stand out by at most `tolerance` micrometres more, or by what a square corner's mitre does where that is less.
pub(super) fn grown(ring: &[Point], by: i64, tolerance: f64) -> Vec<Point> {
    let n = ring.len();
    if by == 0 || n < 3 {
        return ring.to_vec();
    }
    let axis_parallel = (0..n).all(|i| {
        let along = ring[(i + 1) % n].minus(ring[i]);
        along.x == 0 || along.y == 0
    });
    // Rounding a corner moves it by less than a micrometre; along the axes nothing is rounded.
    let reach = if axis_parallel { by } else { by + 1 } as f64;
    let mut corners = Vec::with_capacity(3 * n);
    for i in 0..n {
        let (before, here, after) = (ring[(i + n - 1) % n], ring[i], ring[(i + 1) % n]);
        let (from, to) = (outward(before, here), outward(here, after));
        let mut normals = vec![from];
        halve(from, to, reach, tolerance, &mut normals);
        for pair in normals.windows(2) {
            let ([ax, ay], [bx, by]) = (pair[0], pair[1]);
            let share = reach / (1.0 + ax * bx + ay * by);
            let (x, y) = ((ax + bx) * share, (ay + by) * share);
            #[expect(clippy::cast_possible_truncation, reason = "at most a few gaps")]
            corners.push(here.plus(Point { x: x.round() as i64, y: y.round() as i64 }));
        }
    }
    hull(corners)
}

/// Normals between two, the last one among them, so near together that their tangents to a circle cross near it.
fn halve(from: [f64; 2], to: [f64; 2], radius: f64, tolerance: f64, normals: &mut Vec<[f64; 2]>) {
    let cos = from[0] * to[0] + from[1] * to[1];
    // The crossing of tangents stands out by radius (1/cos(t/2) - 1), and cos^2(t/2) = (1 + cos t)/2.
    let stands_out = radius * ((2.0 / (1.0 + cos)).sqrt() - 1.0);
    if cos > 0.0 && stands_out <= tolerance.max(1.0) {
        normals.push(to);
        return;
    }
    let (x, y) =
        if cos < -0.9 { (from[1] - to[1], to[0] - from[0]) } else { (from[0] + to[0], from[1] + to[1]) };
    // For nearly opposite normals their sum is too short to be trusted: a quarter turn of their difference.
    let (x, y) = if cos < -0.9 && x * -from[1] + y * from[0] < 0.0 { (-x, -y) } else { (x, y) };
    let length = (x * x + y * y).sqrt();
    let middle = [x / length, y / length];
    halve(from, middle, radius, tolerance, normals);
    halve(middle, to, radius, tolerance, normals);
}

/// The unit vector to the right of the way from `a` to `b`.
fn outward(a: Point, b: Point) -> [f64; 2] {
    let along = b.minus(a);
    let (x, y) = (along.x as f64, along.y as f64);
    let length = (x * x + y * y).sqrt();
    [y / length, -x / length]
}
