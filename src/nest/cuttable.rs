//! Whether a panel saw can cut a sheet apart: every cut straight through the piece that it divides.
//!
//! Takes the rectangles around placed parts, in millimetres, and the gap that a cut takes; gives the names of a
//! piece that no cut divides. Part of the independent check: shares nothing with the search.

use super::faults::Outlined;
use crate::geom::tolerance::SAME_LENGTH;

/// The parts of the first piece that holds several and that no cut divides without touching one; none if all come
/// apart. Any cut that touches no part is as good as another to begin with: what could be cut apart before it
/// can be cut apart on both of its sides.
pub(super) fn inseparable<'a>(boxes: &[Outlined<'a>], gap: f64) -> Option<Vec<&'a str>> {
    let mut pieces = vec![boxes.to_vec()];
    while let Some(mut piece) = pieces.pop() {
        if piece.len() < 2 {
            continue;
        }
        let mut parts = divided(&mut piece, |one| (one.low.x, one.high.x), gap);
        if parts.len() < 2 {
            parts = divided(&mut piece, |one| (one.low.y, one.high.y), gap);
        }
        if parts.len() < 2 {
            return Some(piece.iter().map(|one| one.name).collect());
        }
        pieces.extend(parts);
    }
    None
}

/// The piece cut wherever a cut across the given direction touches nothing.
fn divided<'a>(
    piece: &mut [Outlined<'a>],
    extent: impl Fn(&Outlined) -> (f64, f64),
    gap: f64,
) -> Vec<Vec<Outlined<'a>>> {
    piece.sort_by(|a, b| extent(a).0.total_cmp(&extent(b).0));
    let mut parts: Vec<Vec<Outlined>> = Vec::new();
    let mut end = f64::NEG_INFINITY;
    for one in piece.iter() {
        let (low, high) = extent(one);
        match parts.last_mut() {
            Some(part) if low < end + gap - SAME_LENGTH => part.push(*one),
            _ => parts.push(vec![*one]),
        }
        end = end.max(high);
    }
    parts
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geom::Point2;

    fn boxes(corners: &[(f64, f64, f64, f64)]) -> Vec<Outlined<'static>> {
        corners
            .iter()
            .zip(["a", "b", "c", "d", "e", "f"])
            .map(|(&(x, y, right, top), name)| Outlined {
                name,
                low: Point2::new(x, y),
                high: Point2::new(right, top),
            })
            .collect()
    }

    /// Four around a fifth, each blocking the next one's cut.
    const WHEEL: [(f64, f64, f64, f64); 5] = [
        (0.0, 0.0, 20.0, 10.0),
        (20.0, 0.0, 30.0, 20.0),
        (10.0, 20.0, 30.0, 30.0),
        (0.0, 10.0, 10.0, 30.0),
        (10.0, 10.0, 20.0, 20.0),
    ];

    #[test]
    fn a_wheel_cannot_be_cut_and_without_one_of_its_four_it_can() {
        assert_eq!(inseparable(&boxes(&WHEEL), 0.0).map(|names| names.len()), Some(5));
        assert_eq!(inseparable(&boxes(&WHEEL[1..]), 0.0), None);
        assert_eq!(inseparable(&[], 0.0), None);
    }

    #[test]
    fn a_wheel_beside_something_is_found_too() {
        let mut corners = vec![(40.0, 0.0, 50.0, 30.0)];
        corners.extend(WHEEL);
        assert_eq!(inseparable(&boxes(&corners), 0.0).map(|names| names.len()), Some(5));
    }

    #[test]
    fn a_cut_takes_the_gap() {
        let row = boxes(&[(0.0, 0.0, 10.0, 10.0), (14.0, 0.0, 20.0, 10.0)]);
        assert_eq!(inseparable(&row, 4.0), None);
        assert_eq!(inseparable(&row, 4.001), Some(vec!["a", "b"]));
    }
}
