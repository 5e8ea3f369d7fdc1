//! Where the tool goes into a closed contour: in the middle of a long straight side, never at a corner.
//!
//! Takes a path, gives the same path begun at that point; its shape does not change. Going in and out leaves a
//! mark, which a corner shows most and a straight side can be sanded off.

use crate::geom::{Path, Point2, Vertex, snap};

/// mm. More room beside the tool than this is no better for going in.
pub(super) const PLENTY: f64 = 50.0;

/// Share of the longest straight side that a side must have to be chosen for its room.
const LONG: f64 = 0.5;

/// The path begun in the middle of one of its long straight sides: the one with the most `room` beside its
/// middle, of those the longest, of those the first. Where no side is straight, of the longest arc.
pub(super) fn begun<F: Copy>(path: &Path<F>, room: impl Fn(Point2<F>) -> f64) -> Path<F> {
    let sides: Vec<(usize, f64, bool)> = path
        .sides()
        .enumerate()
        .map(|(i, (a, b, bulge))| (i, side_length(a, b, bulge), bulge == 0.0))
        .collect();
    let any_straight = sides.iter().any(|&(_, length, straight)| straight && length > 0.0);
    let suits = |&&(_, _, straight): &&(usize, f64, bool)| straight || !any_straight;
    let longest = sides.iter().filter(suits).map(|&(_, length, _)| length).fold(0.0, f64::max);
    let long = sides.iter().filter(suits).filter(|&&(_, length, _)| length >= LONG * longest);
    let mut best: Option<((f64, f64), usize)> = None;
    for &(i, length, _) in long {
        // On the grid of micrometres, so that equal ones stay equal on every machine.
        let worth = (snap(room(middle(path, i).0).min(PLENTY)), snap(length));
        if best.is_none_or(|(most, _)| worth.0 > most.0 || (worth.0 >= most.0 && worth.1 > most.1)) {
            best = Some((worth, i));
        }
    }
    best.map_or_else(|| path.clone(), |(_, side)| begun_in_the_middle_of(path, side))
}

/// Length of a side, mm.
pub(super) fn side_length<F: Copy>(a: Point2<F>, b: Point2<F>, bulge: f64) -> f64 {
    match bulge {
        0.0 => (b - a).length(),
        // Radius from chord c and bulge t: c (1 + t^2) / (4 t); the included angle is four times atan t.
        _ => (b - a).length() * (1.0 + bulge * bulge) / bulge.abs() * bulge.abs().atan(),
    }
}

/// The point half way along a side, and the bulge of each half.
fn middle<F: Copy>(path: &Path<F>, side: usize) -> (Point2<F>, f64) {
    let vertices = path.vertices();
    let (a, b) = (vertices[side], vertices[(side + 1) % vertices.len()].point);
    let chord = b - a.point;
    // An arc that turns left lies to the right of its chord, by half the chord times the bulge.
    let out = euclid::Vector2D::new(chord.y, -chord.x) * (a.bulge / 2.0);
    // tan(x / 2) = tan x / (1 + sqrt(1 + tan^2 x))
    let half = a.bulge / (1.0 + (1.0 + a.bulge * a.bulge).sqrt());
    (a.point + chord / 2.0 + out, half)
}

fn begun_in_the_middle_of<F: Copy>(path: &Path<F>, side: usize) -> Path<F> {
    let (point, bulge) = middle(path, side);
    let mut vertices = path.vertices().to_vec();
    vertices[side].bulge = bulge;
    let n = vertices.len();
    vertices.rotate_left((side + 1) % n);
    // The side that was split is now the last one: its second half comes first.
    vertices.insert(0, Vertex { point, bulge });
    Path::new(vertices)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geom::PanelFrame;
    use proptest::prelude::*;

    type P = Path<PanelFrame>;

    fn first(path: &P) -> (f64, f64) {
        (path.vertices()[0].point.x, path.vertices()[0].point.y)
    }

    #[test]
    fn the_middle_of_the_longest_side_is_taken_and_of_equal_ones_the_one_with_room() {
        let board = P::rectangle(0.0, 0.0, 300.0, 100.0);
        assert_eq!(first(&begun(&board, |_| 9.0)), (150.0, 0.0));
        assert_eq!(first(&begun(&board, |p| p.y)), (150.0, 100.0));
        // A short side is not chosen, whatever its room.
        assert_eq!(first(&begun(&board, |p| if p.x > 299.0 { 50.0 } else { 1.0 })), (150.0, 0.0));
        // Beyond plenty more room counts for nothing.
        let square = P::rectangle(0.0, 0.0, 300.0, 290.0);
        assert_eq!(first(&begun(&square, |p| 60.0 + p.y)), (150.0, 0.0));
    }

    #[test]
    fn a_disc_is_begun_on_its_rim() {
        let disc = P::circle(Point2::new(10.0, 20.0), 5.0);
        let begun = begun(&disc, |_| 0.0);
        assert!((begun.vertices()[0].point - Point2::new(10.0, 25.0)).length() < 1e-9, "{begun:?}");
        assert!((begun.area() - disc.area()).abs() < 1e-9);
    }

    proptest! {
        /// Area, extent and every old corner stay; one corner more, which is on the old path.
        #[test]
        fn a_start_changes_no_shape(
            corners in prop::collection::vec((0_i32..40, 0_i32..40, -3_i32..4), 3..12),
            room in 0_i32..40,
        ) {
            let vertex = |&(x, y, bulge): &(i32, i32, i32)| Vertex {
                point: Point2::new(f64::from(x) * 7.0, f64::from(y) * 5.0), bulge: f64::from(bulge) / 4.0,
            };
            let path = P::new(corners.iter().map(vertex).collect());
            let begun = begun(&path, |p| (p.x - f64::from(room)).abs());
            prop_assert!((begun.area() - path.area()).abs() < 1e-6);
            prop_assert!((begun.length() - path.length()).abs() < 1e-6);
            prop_assert!(path.distance_to(begun.vertices()[0].point) < 1e-9);
            for old in path.vertices() {
                prop_assert!(begun.vertices().iter().any(|new| new.point == old.point));
            }
            prop_assert!(begun.vertices().len() <= path.vertices().len() + 1);
        }
    }
}
