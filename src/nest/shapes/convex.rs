//! Polygons with openings cut into convex pieces, and the sums of convex pieces.
//!
//! Takes rings that are simple, gives convex rings between corners of those: no new points, so nothing is
//! rounded. The pieces cover the polygon exactly. Triangles by cutting off ears, openings joined to the outline
//! by a bridge first (both textbook methods), then neighbours put together as long as they stay convex (Hertel
//! and Mehlhorn, from memory).

use super::ring::{Point, bounds, segments_meet, side};
use std::collections::BTreeMap;

/// The convex pieces of a polygon; `None` if no bridge or ear is found, which a simple polygon always has.
pub(super) fn convex_pieces(outline: &[Point], openings: &[Vec<Point>]) -> Option<Vec<Vec<Point>>> {
    Some(merged(triangles(bridged(outline, openings)?)?))
}

/// One ring around everything: each opening joined to the outline by a way there and back.
fn bridged(outline: &[Point], openings: &[Vec<Point>]) -> Option<Vec<Point>> {
    let mut ring = outline.to_vec();
    let mut left: Vec<&Vec<Point>> = openings.iter().collect();
    left.sort_by_key(|opening| bounds(opening).map(|(_, high)| (-high.x, high.y)));
    for (number, opening) in left.iter().enumerate() {
        let start = (0..opening.len()).max_by_key(|&i| opening[i])?;
        let from = opening[start];
        let mut ends: Vec<usize> = (0..ring.len()).collect();
        ends.sort_by_key(|&i| (ring[i].minus(from).dot(ring[i].minus(from)), i));
        let blocked = |to: Point, ring: &[Point]| {
            let crosses = |other: &[Point]| {
                (0..other.len()).any(|i| {
                    let (a, b) = (other[i], other[(i + 1) % other.len()]);
                    let ends = [a, b].iter().all(|&end| end != from && end != to);
                    let beyond = |end: Point, far: Point| end == to && between(from, to, far);
                    (ends && segments_meet(from, to, a, b)) || beyond(a, b) || beyond(b, a)
                })
            };
            crosses(ring) || left[number..].iter().any(|other| crosses(other))
        };
        let end = ends.into_iter().find(|&i| enters(&ring, i, from) && !blocked(ring[i], &ring))?;
        let around = (0..=opening.len()).map(|i| opening[(start + i) % opening.len()]);
        let way: Vec<Point> = around.chain([ring[end]]).collect();
        ring.splice(end + 1..=end, way);
    }
    Some(ring)
}

/// Whether `p` lies on the segment from `a` to `b`, its ends left out.
fn between(a: Point, b: Point, p: Point) -> bool {
    p != a && p != b && side(a, b, p) == 0 && a.minus(p).dot(b.minus(p)) < 0
}

/// Whether the way from a ring's corner to `to` begins inside the corner's angle. A corner that bridges use
/// stands in the ring several times, each time with another angle.
fn enters(ring: &[Point], corner: usize, to: Point) -> bool {
    let n = ring.len();
    let (before, here, after) = (ring[(corner + n - 1) % n], ring[corner], ring[(corner + 1) % n]);
    let (left_of_after, left_of_before) = (side(here, after, to) > 0, side(before, here, to) > 0);
    if side(before, here, after) > 0 {
        left_of_after && left_of_before
    } else {
        left_of_after || left_of_before
    }
}

/// Triangles that cover the ring, whose sides may touch where bridges run.
fn triangles(mut ring: Vec<Point>) -> Option<Vec<[Point; 3]>> {
    let mut found = Vec::with_capacity(ring.len());
    let mut at = 0;
    let mut without = 0;
    while ring.len() > 3 {
        let n = ring.len();
        let i = at % n;
        let (a, b, c) = (ring[(i + n - 1) % n], ring[i], ring[(i + 1) % n]);
        let turn = side(a, b, c);
        let flat = turn == 0 && a != c && (b == a || b == c || between(a, c, b));
        if flat || (turn > 0 && ring.iter().all(|&p| !in_the_way(p, [a, b, c]))) {
            if !flat {
                found.push([a, b, c]);
            }
            ring.remove(i);
            without = 0;
            // The next corner but one, so that triangles do not all fan out from one corner.
            at = i + 1;
            continue;
        }
        at = i + 1;
        without += 1;
        if without > n {
            return None;
        }
    }
    if let [a, b, c] = ring[..]
        && side(a, b, c) > 0
    {
        found.push([a, b, c]);
    }
    Some(found)
}

/// Whether a corner of the ring lies in the triangle, its own corners left out.
fn in_the_way(p: Point, [a, b, c]: [Point; 3]) -> bool {
    p != a && p != b && p != c && side(a, b, p) >= 0 && side(b, c, p) >= 0 && side(c, a, p) >= 0
}

/// Neighbours put together across their common side where the result is convex, longest sides first: those
/// separate the largest pieces.
fn merged(triangles: Vec<[Point; 3]>) -> Vec<Vec<Point>> {
    let mut pieces: Vec<Vec<Point>> = triangles.into_iter().map(|triangle| triangle.to_vec()).collect();
    let mut owners: BTreeMap<(Point, Point), usize> = BTreeMap::new();
    for (number, piece) in pieces.iter().enumerate() {
        for i in 0..piece.len() {
            owners.insert((piece[i], piece[(i + 1) % piece.len()]), number);
        }
    }
    let mut shared: Vec<(Point, Point)> =
        owners.keys().copied().filter(|&(a, b)| a < b && owners.contains_key(&(b, a))).collect();
    shared.sort_by_key(|&(a, b)| (-b.minus(a).dot(b.minus(a)), a, b));
    for (a, b) in shared {
        let (Some(&one), Some(&other)) = (owners.get(&(a, b)), owners.get(&(b, a))) else { continue };
        if one == other {
            continue;
        }
        if let Some(both) = joined(&pieces[one], &pieces[other], a, b) {
            for i in 0..both.len() {
                owners.insert((both[i], both[(i + 1) % both.len()]), one);
            }
            pieces[one] = both;
            pieces[other].clear();
        }
    }
    pieces.retain(|piece| !piece.is_empty());
    pieces
}

/// Two convex rings across the side from `a` to `b` of the first; `None` if the result is not convex.
fn joined(one: &[Point], other: &[Point], a: Point, b: Point) -> Option<Vec<Point>> {
    let from_b = one.iter().position(|&p| p == b)?;
    let from_a = other.iter().position(|&p| p == a)?;
    let mut ring: Vec<Point> = (0..one.len()).map(|i| one[(from_b + i) % one.len()]).collect();
    ring.extend((1..other.len() - 1).map(|i| other[(from_a + i) % other.len()]));
    let n = ring.len();
    let convex = (0..n).all(|i| side(ring[i], ring[(i + 1) % n], ring[(i + 2) % n]) >= 0);
    // What turns left everywhere could still run around twice; joined across one side it cannot.
    convex.then_some(ring)
}

/// The convex ring of all sums of a point of the one with a point of the other.
pub(super) fn sum(a: &[Point], b: &[Point]) -> Vec<Point> {
    let (n, m) = (a.len(), b.len());
    let (a0, b0) = (lowest(a), lowest(b));
    let mut ring = Vec::with_capacity(n + m);
    let (mut i, mut j) = (0, 0);
    while i < n || j < m {
        let (p, q) = (a[(a0 + i) % n], b[(b0 + j) % m]);
        ring.push(p.plus(q));
        let turn = a[(a0 + i + 1) % n].minus(p).cross(b[(b0 + j + 1) % m].minus(q));
        let (step_a, step_b) = (i < n && (j >= m || turn >= 0), j < m && (i >= n || turn <= 0));
        i += usize::from(step_a);
        j += usize::from(step_b);
    }
    ring
}

/// Index of the lowest corner, the leftmost of those: sides run from there by rising angle.
fn lowest(ring: &[Point]) -> usize {
    (0..ring.len()).min_by_key(|&i| (ring[i].y, ring[i].x)).unwrap_or(0)
}

/// The convex ring around some points, without corners on straight sides (Andrew's chain, from memory).
pub(super) fn hull(mut points: Vec<Point>) -> Vec<Point> {
    points.sort_unstable();
    points.dedup();
    if points.len() < 3 {
        return points;
    }
    let chain = |points: &mut dyn Iterator<Item = Point>| {
        let mut chain: Vec<Point> = Vec::new();
        for p in points {
            while let [.., a, b] = chain[..]
                && side(a, b, p) <= 0
            {
                chain.pop();
            }
            chain.push(p);
        }
        chain.pop();
        chain
    };
    let mut ring = chain(&mut points.iter().copied());
    ring.extend(chain(&mut points.iter().rev().copied()));
    ring
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::random::Random;
    use crate::shapes::ring::{are_simple, doubled_area};

    fn ring(corners: &[(i64, i64)]) -> Vec<Point> {
        corners.iter().map(|&(x, y)| Point { x, y }).collect()
    }

    fn area(pieces: &[Vec<Point>]) -> i64 {
        pieces.iter().map(|piece| doubled_area(piece)).sum()
    }

    #[test]
    fn a_frame_with_two_openings_falls_into_pieces_of_its_area() {
        let outline = ring(&[(0, 0), (100, 0), (100, 60), (0, 60)]);
        let openings = [
            ring(&[(10, 10), (10, 50), (40, 50), (40, 10)]),
            ring(&[(60, 10), (60, 50), (90, 50), (90, 10)]),
        ];
        let pieces = convex_pieces(&outline, &openings).unwrap();
        assert_eq!(area(&pieces), 2 * (6000 - 2 * 1200));
        assert!(pieces.len() <= 9, "{pieces:?}");
    }

    #[test]
    fn a_convex_ring_stays_one_piece() {
        let hexagon = ring(&[(10, 0), (20, 0), (30, 10), (20, 20), (10, 20), (0, 10)]);
        assert_eq!(convex_pieces(&hexagon, &[]).unwrap().len(), 1);
    }

    /// Stars with openings: the pieces are convex, have the polygon's area together, and their corners are its.
    #[test]
    fn random_polygons_fall_into_convex_pieces_of_their_area() {
        let mut random = Random::new(3);
        let mut seen = 0;
        for _ in 0..400 {
            let corners = 3 + random.below(14);
            let star = |random: &mut Random, least: usize, spread: usize| -> Vec<Point> {
                let corner = |i: usize, radius: usize| {
                    let angle = std::f64::consts::TAU * i as f64 / corners as f64;
                    let (x, y) = (radius as f64 * angle.cos(), radius as f64 * angle.sin());
                    #[expect(clippy::cast_possible_truncation, reason = "a few thousand")]
                    Point { x: x as i64, y: y as i64 }
                };
                (0..corners).map(|i| corner(i, least + random.below(spread))).collect()
            };
            let outline = star(&mut random, 900, 4000);
            let mut opening = star(&mut random, 50, 350);
            opening.reverse();
            let openings = if random.chance(1, 2) { vec![opening] } else { vec![] };
            let rings: Vec<&[Point]> =
                std::iter::once(&outline[..]).chain(openings.iter().map(|ring| &ring[..])).collect();
            if doubled_area(&outline) <= 0 || !are_simple(&rings) {
                continue;
            }
            seen += 1;
            let pieces = convex_pieces(&outline, &openings).unwrap();
            let expected = doubled_area(&outline) + area(&openings);
            assert_eq!(area(&pieces), expected, "{outline:?} {openings:?}");
            for piece in &pieces {
                let n = piece.len();
                assert!((0..n).all(|i| side(piece[i], piece[(i + 1) % n], piece[(i + 2) % n]) >= 0));
                assert!(piece.iter().all(|p| rings.iter().any(|ring| ring.contains(p))));
            }
        }
        assert!(seen > 200, "{seen}");
    }

    #[test]
    fn the_sum_of_a_square_and_a_triangle() {
        let square = ring(&[(0, 0), (10, 0), (10, 10), (0, 10)]);
        let triangle = ring(&[(0, 0), (4, 0), (0, 6)]);
        let found = hull(sum(&square, &triangle));
        assert_eq!(found, ring(&[(0, 0), (14, 0), (14, 10), (10, 16), (0, 16)]));
    }
}
