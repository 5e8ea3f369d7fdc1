//! Whether shapes are a gap apart: the last word on a packing, in whole numbers.
//!
//! Takes convex pieces of two placed shapes and the gap, gives yes or no. Shares nothing with the forbidden sets
//! that the search goes by: here distances of corners and sides decide, squared and compared as `i128`.

use super::ring::{Point, bounds, side};

/// Whether every point of the one is at least `gap` micrometres from every point of the other; at a gap of 0 they
/// may touch. Pieces are convex and run counter-clockwise.
pub(super) fn are_apart(a: &[Vec<Point>], b: &[Vec<Point>], gap: i64) -> bool {
    a.iter().all(|one| b.iter().all(|other| convex_apart(one, other, gap)))
}

fn convex_apart(a: &[Point], b: &[Point], gap: i64) -> bool {
    let (Some((a_low, a_high)), Some((b_low, b_high))) = (bounds(a), bounds(b)) else { return true };
    let boxes_apart = a_low.x - b_high.x >= gap
        || b_low.x - a_high.x >= gap
        || a_low.y - b_high.y >= gap
        || b_low.y - a_high.y >= gap;
    boxes_apart
        || ((separated(a, b) || separated(b, a)) && corners_apart(a, b, gap) && corners_apart(b, a, gap))
}

/// Whether all of `b` lies on the right of a side of `a`, or on it: two convex rings have no area in common just
/// if that is so of a side of one of them.
fn separated(a: &[Point], b: &[Point]) -> bool {
    (0..a.len()).any(|i| b.iter().all(|&p| side(a[i], a[(i + 1) % a.len()], p) <= 0))
}

/// Whether the corners of `b` are at least `gap` from the sides of `a`.
fn corners_apart(a: &[Point], b: &[Point], gap: i64) -> bool {
    let squared = i128::from(gap) * i128::from(gap);
    (0..a.len()).all(|i| {
        let (from, to) = (a[i], a[(i + 1) % a.len()]);
        let along = to.minus(from);
        b.iter().all(|&p| {
            let (near, far) = (p.minus(from), p.minus(to));
            if near.dot(along) <= 0 {
                i128::from(near.dot(near)) >= squared
            } else if far.dot(along) >= 0 {
                i128::from(far.dot(far)) >= squared
            } else {
                let height = i128::from(along.cross(near));
                height * height >= squared * i128::from(along.dot(along))
            }
        })
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn ring(corners: &[(i64, i64)]) -> Vec<Vec<Point>> {
        vec![corners.iter().map(|&(x, y)| Point { x, y }).collect()]
    }

    #[test]
    fn squares_corner_to_corner_and_side_by_side() {
        let square = ring(&[(0, 0), (10, 0), (10, 10), (0, 10)]);
        let at = |x: i64, y: i64| ring(&[(x, y), (x + 10, y), (x + 10, y + 10), (x, y + 10)]);
        // Corner to corner 3-4-5; side by side the gap itself; touching at no gap.
        for (x, y, gap, apart) in [
            (13, 14, 5, true),
            (13, 14, 6, false),
            (15, 3, 5, true),
            (14, 3, 5, false),
            (10, 0, 0, true),
            (9, 0, 0, false),
            (0, 0, 0, false),
        ] {
            assert_eq!(are_apart(&square, &at(x, y), gap), apart, "({x}, {y}), gap {gap}");
        }
    }

    /// From the point (8, 6) the line 3x + 4y = 25 is (24 + 24 - 25) / 5 = 4.6 away.
    #[test]
    fn a_corner_before_a_slanted_side() {
        let below = ring(&[(7, 1), (3, 4), (-1, 1)]);
        let corner = ring(&[(8, 6), (20, 6), (20, 20)]);
        let larger: Vec<Vec<Point>> = [&below, &corner]
            .map(|ring| ring[0].iter().map(|p| Point { x: 10 * p.x, y: 10 * p.y }).collect())
            .to_vec();
        assert!(are_apart(&larger[..1], &larger[1..], 46) && !are_apart(&larger[..1], &larger[1..], 47));
    }
}
