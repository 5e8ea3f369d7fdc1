//! Points and closed rings of straight sides on the grid of whole micrometres.
//!
//! Takes and gives integers; every decision (side of a line, area, crossing) is exact, because no coordinate
//! leaves [`LONGEST`]. Rings run counter-clockwise around what they enclose, openings clockwise, and the last
//! corner leads back to the first. Never rounds.

/// Micrometres. No coordinate and no difference of two placed ones is larger: products of two such lengths, and
/// sums of a few of those, are exact in an `i64` and in an `f64` as well. A little over 16 m.
pub(super) const LONGEST: i64 = 1 << 24;

/// A point, micrometres.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Point {
    /// Along the sheet.
    pub x: i64,
    /// Across the sheet.
    pub y: i64,
}

impl Point {
    /// The difference of two points.
    pub(super) fn minus(self, other: Point) -> Point {
        Point { x: self.x - other.x, y: self.y - other.y }
    }

    /// The point moved by another.
    pub(super) fn plus(self, other: Point) -> Point {
        Point { x: self.x + other.x, y: self.y + other.y }
    }

    /// Product of the lengths and the sine of the angle from this vector to the other.
    pub(super) fn cross(self, other: Point) -> i64 {
        self.x * other.y - self.y * other.x
    }

    /// Product of the lengths and the cosine of the angle between the two vectors.
    pub(super) fn dot(self, other: Point) -> i64 {
        self.x * other.x + self.y * other.y
    }
}

/// Twice the area of the triangle `a`, `b`, `c`: positive if it runs counter-clockwise.
pub(super) fn side(a: Point, b: Point, c: Point) -> i64 {
    b.minus(a).cross(c.minus(a))
}

/// Twice the enclosed area, square micrometres: positive if the ring runs counter-clockwise.
pub(super) fn doubled_area(ring: &[Point]) -> i64 {
    let Some(&first) = ring.first() else { return 0 };
    ring.windows(2).map(|pair| side(first, pair[0], pair[1])).sum()
}

/// Lower left and upper right corner of the box around some points; `None` if there are none.
pub(super) fn bounds(ring: &[Point]) -> Option<(Point, Point)> {
    let first = *ring.first()?;
    Some(ring.iter().fold((first, first), |(low, high), p| {
        (Point { x: low.x.min(p.x), y: low.y.min(p.y) }, Point { x: high.x.max(p.x), y: high.y.max(p.y) })
    }))
}

/// The ring without corners that repeat or lie straight between their neighbours.
pub(super) fn cleaned(mut ring: Vec<Point>) -> Vec<Point> {
    loop {
        let n = ring.len();
        let needless = (0..n).find(|&i| {
            let (before, here, after) = (ring[(i + n - 1) % n], ring[i], ring[(i + 1) % n]);
            here == after || side(before, here, after) == 0
        });
        match needless {
            Some(i) => drop(ring.remove(i)),
            None => return ring,
        }
    }
}

/// Whether no two sides of the rings meet anywhere but neighbours in their common corner.
pub(super) fn are_simple(rings: &[&[Point]]) -> bool {
    let mut sides = Vec::new();
    for ring in rings {
        let first = sides.len();
        for i in 0..ring.len() {
            let follower = first + (i + 1) % ring.len();
            sides.push((ring[i], ring[(i + 1) % ring.len()], follower));
        }
    }
    // Sorted by their left ends, so that only sides that share a stretch are compared.
    let left = |i: &usize| sides[*i].0.x.min(sides[*i].1.x);
    let mut order: Vec<usize> = (0..sides.len()).collect();
    order.sort_by_key(|i| (left(i), *i));
    order.iter().enumerate().all(|(at, &i)| {
        let (a, b, after_i) = sides[i];
        order[at + 1..].iter().take_while(|j| left(j) <= a.x.max(b.x)).all(|&j| {
            let (c, d, after_j) = sides[j];
            after_i == j || after_j == i || !segments_meet(a, b, c, d)
        })
    })
}

/// Whether two segments have a point in common.
pub(super) fn segments_meet(a: Point, b: Point, c: Point, d: Point) -> bool {
    let apart = |p: i64, q: i64, r: i64, s: i64| p.max(q) < r.min(s) || r.max(s) < p.min(q);
    if apart(a.x, b.x, c.x, d.x) || apart(a.y, b.y, c.y, d.y) {
        return false;
    }
    let (c_side, d_side) = (side(a, b, c).signum(), side(a, b, d).signum());
    let (a_side, b_side) = (side(c, d, a).signum(), side(c, d, b).signum());
    c_side * d_side <= 0 && a_side * b_side <= 0
}

/// Whether a point lies inside a ring (not on it), by the sides that pass to its right.
pub(super) fn is_inside(p: Point, ring: &[Point]) -> bool {
    let mut inside = false;
    for (i, &a) in ring.iter().enumerate() {
        let b = ring[(i + 1) % ring.len()];
        let turn = side(a, b, p);
        if turn == 0 && a.minus(p).dot(b.minus(p)) <= 0 {
            return false;
        }
        if (a.y > p.y) != (b.y > p.y) && (turn > 0) == (b.y > a.y) {
            inside = !inside;
        }
    }
    inside
}

/// How a shape lies: turned over about the v axis if `mirrored`, then turned counter-clockwise by quarters.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Lie {
    /// Quarter turns, 0 to 3.
    pub quarters: u8,
    /// Face down.
    pub mirrored: bool,
}

impl Lie {
    /// The point after turning over and turning.
    pub(super) fn apply(self, p: Point) -> Point {
        let x = if self.mirrored { -p.x } else { p.x };
        match self.quarters % 4 {
            0 => Point { x, y: p.y },
            1 => Point { x: -p.y, y: x },
            2 => Point { x: -x, y: -p.y },
            _ => Point { x: p.y, y: -x },
        }
    }

    /// The ring after turning over and turning, with the same material on its left.
    pub(super) fn apply_to(self, ring: &[Point]) -> Vec<Point> {
        let moved = ring.iter().map(|&p| self.apply(p));
        if self.mirrored { moved.rev().collect() } else { moved.collect() }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn ring(corners: &[(i64, i64)]) -> Vec<Point> {
        corners.iter().map(|&(x, y)| Point { x, y }).collect()
    }

    #[test]
    fn an_l_has_its_area_in_every_lie() {
        let l = ring(&[(0, 0), (30, 0), (30, 10), (10, 10), (10, 20), (0, 20)]);
        for quarters in 0..4 {
            for mirrored in [false, true] {
                assert_eq!(doubled_area(&Lie { quarters, mirrored }.apply_to(&l)), 2 * 400);
            }
        }
        let quarter = Lie { quarters: 1, mirrored: true };
        assert_eq!(quarter.apply(Point { x: 3, y: 2 }), Point { x: -2, y: -3 });
    }

    #[test]
    fn touching_and_crossing_sides_make_a_ring_unsound() {
        let square = ring(&[(0, 0), (10, 0), (10, 10), (0, 10)]);
        let hole = |x: i64| ring(&[(x, 4), (x, 6), (x + 2, 6), (x + 2, 4)]);
        assert!(are_simple(&[&square, &hole(4)]));
        assert!(!are_simple(&[&square, &hole(8)]), "the opening touches the outline");
        assert!(!are_simple(&[&square, &hole(9)]), "the opening crosses the outline");
        assert!(!are_simple(&[&ring(&[(0, 0), (10, 10), (10, 0), (0, 10)])]), "a bow tie");
    }

    #[test]
    fn inside_is_not_on() {
        let l = ring(&[(0, 0), (30, 0), (30, 10), (10, 10), (10, 20), (0, 20)]);
        for (x, y, inside) in [
            (5, 5, true),
            (5, 15, true),
            (15, 15, false),
            (10, 15, false),
            (10, 10, false),
            (15, 10, false),
            (10, 5, true),
        ] {
            assert_eq!(is_inside(Point { x, y }, &l), inside, "({x}, {y})");
        }
    }

    #[test]
    fn needless_corners_go() {
        let noisy = ring(&[(0, 0), (5, 0), (10, 0), (10, 0), (10, 10), (0, 10), (0, 5)]);
        assert_eq!(cleaned(noisy), ring(&[(0, 0), (10, 0), (10, 10), (0, 10)]));
    }
}
