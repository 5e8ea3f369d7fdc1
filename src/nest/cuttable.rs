//! Whether a panel saw can cut a sheet apart, every cut straight through the piece that it divides, and in how many
//! stages.
//!
//! Takes the rectangles around placed parts, in millimetres, and the gap that a cut takes; gives the names of a
//! piece that no cut divides, and the least number of stages. Part of the independent check: shares nothing with
//! the search.

use super::faults::Outlined;
use crate::geom::tolerance::SAME_LENGTH;
use crate::geom::{Point2, SheetFrame};

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

/// Least number of stages that cut everything out of the piece between two corners: a stage is all cuts in one
/// direction, through whatever pieces the stage before it left. The last trimming of a part to its size counts.
/// None if that cannot be done.
///
/// In every stage each piece is cut wherever a cut touches no part. That is best: whatever can be cut out of a piece
/// in so many stages can be cut out of any slab of it in the same stages, by the same cuts as far as they go through
/// the slab. And two stages in one direction are one, so directions take turns; which one begins is tried.
pub(super) fn least_stages(
    boxes: &[Outlined],
    (low, high): (Point2<SheetFrame>, Point2<SheetFrame>),
    gap: f64,
) -> Option<usize> {
    let whole = Piece { low: [low.x, low.y], high: [high.x, high.y], boxes: boxes.to_vec() };
    [0, 1].into_iter().filter_map(|first| stages_from(whole.clone(), first, gap)).min()
}

/// A piece of the sheet: corners by axis, along and across, and what lies on it.
#[derive(Clone, Debug)]
struct Piece<'a> {
    low: [f64; 2],
    high: [f64; 2],
    boxes: Vec<Outlined<'a>>,
}

/// Stages if the first one divides along the given axis.
fn stages_from(whole: Piece, first: usize, gap: f64) -> Option<usize> {
    let mut open = vec![(whole, first, 0_usize, false)];
    let mut most = 0;
    while let Some((mut piece, axis, done, stuck)) = open.pop() {
        most = most.max(done);
        let extent = |one: &Outlined| {
            if axis == 0 { (one.low.x, one.high.x) } else { (one.low.y, one.high.y) }
        };
        let slabs = divided(&mut piece.boxes, extent, gap);
        let mut ends: Vec<(f64, f64)> = Vec::with_capacity(slabs.len());
        for slab in &slabs {
            let low = slab.iter().map(|one| extent(one).0).fold(f64::INFINITY, f64::min);
            ends.push((low, slab.iter().map(|one| extent(one).1).fold(f64::NEG_INFINITY, f64::max)));
        }
        // What is no number differs from nothing, so that it cannot be cut for ever.
        let differ = |a: f64, b: f64| (a - b).abs() > SAME_LENGTH;
        let whole = matches!(ends[..], [(low, high)] if !differ(low, piece.low[axis]) && !differ(high, piece.high[axis]));
        if whole && stuck {
            // Nothing to cut either way: a part, or parts that no cut divides.
            if piece.boxes.len() > 1 {
                return None;
            }
            continue;
        }
        for (boxes, (low, high)) in slabs.into_iter().zip(ends) {
            let mut slab = Piece { boxes, ..piece.clone() };
            (slab.low[axis], slab.high[axis]) = (low, high);
            open.push((slab, 1 - axis, done + usize::from(!whole), whole));
        }
    }
    Some(most)
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
    use proptest::prelude::*;

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

    fn stages(size: (f64, f64), corners: &[(f64, f64, f64, f64)], gap: f64) -> Option<usize> {
        least_stages(&boxes(corners), (Point2::new(0.0, 0.0), Point2::new(size.0, size.1)), gap)
    }

    #[test]
    fn stages_are_counted_with_the_last_trimming() {
        assert_eq!(stages((10.0, 10.0), &[(0.0, 0.0, 10.0, 10.0)], 1.0), Some(0));
        assert_eq!(stages((10.0, 10.0), &[(0.0, 0.0, 9.5, 10.0)], 1.0), Some(1));
        assert_eq!(stages((10.0, 10.0), &[(0.0, 0.5, 10.0, 10.0)], 1.0), Some(1));
        assert_eq!(stages((10.0, 10.0), &[(0.0, 0.0, 5.0, 5.0)], 1.0), Some(2));
        // Two strips up the sheet, both as high as it is.
        let strips = [(0.0, 0.0, 4.0, 10.0), (5.0, 0.0, 10.0, 10.0)];
        assert_eq!(stages((10.0, 10.0), &strips, 1.0), Some(1));
        // Two rows of which each is divided elsewhere.
        let rows =
            [(0.0, 0.0, 4.0, 4.0), (5.0, 0.0, 10.0, 4.0), (0.0, 5.0, 6.0, 10.0), (7.0, 5.0, 10.0, 10.0)];
        assert_eq!(stages((10.0, 10.0), &rows, 1.0), Some(2));
        // The last one a little lower than its row.
        let mut lower = rows;
        lower[3].3 = 9.0;
        assert_eq!(stages((10.0, 10.0), &lower, 1.0), Some(3));
        assert_eq!(stages((30.0, 30.0), &WHEEL, 0.0), None);
        assert_eq!(stages((40.0, 40.0), &WHEEL, 0.0), None);
    }

    /// Every choice of cuts on a grid of units, the kerf being one: in a stage, a piece is cut into slabs at any of
    /// the places where a cut touches no part, or left as it is.
    fn by_trying(low: [i64; 2], high: [i64; 2], parts: &[[i64; 4]], axis: usize, stages: usize) -> bool {
        let part_is_all = |p: &[i64; 4]| [p[0], p[1]] == low && [p[2], p[3]] == high;
        if parts.is_empty() || (parts.len() == 1 && part_is_all(&parts[0])) {
            return true;
        }
        if stages == 0 {
            return false;
        }
        // The low end of what is left of the piece moves on from cut to cut.
        let rest_goes = |begin: i64| {
            let rest: Vec<[i64; 4]> = parts.iter().copied().filter(|p| p[axis] >= begin).collect();
            let mut from = low;
            from[axis] = begin;
            by_trying(from, high, &rest, axis, stages)
        };
        let uncut = by_trying(low, high, parts, 1 - axis, stages - 1);
        uncut
            || (low[axis]..high[axis]).any(|cut| {
                let clear = parts.iter().all(|p| p[axis + 2] <= cut || p[axis] > cut);
                let slab: Vec<[i64; 4]> = parts.iter().copied().filter(|p| p[axis + 2] <= cut).collect();
                let mut top = high;
                top[axis] = cut;
                clear && by_trying(low, top, &slab, 1 - axis, stages - 1) && rest_goes(cut + 1)
            })
    }

    proptest! {
        #[test]
        fn no_choice_of_cuts_needs_fewer_stages(
            corners in prop::collection::vec((0_i64..6, 0_i64..5, 1_i64..4, 1_i64..4), 1..5),
        ) {
            let size = [7_i64, 6];
            let mut parts: Vec<[i64; 4]> = Vec::new();
            for (x, y, length, width) in corners {
                let one = [x, y, x + length, y + width];
                let apart = |o: &[i64; 4]| one[0] > o[2] || o[0] > one[2] || one[1] > o[3] || o[1] > one[3];
                if one[2] <= size[0] && one[3] <= size[1] && parts.iter().all(apart) {
                    parts.push(one);
                }
            }
            let tried = (0..7).find(|&n| (0..2).any(|axis| by_trying([0, 0], size, &parts, axis, n)));
            #[expect(clippy::cast_precision_loss, reason = "single digits")]
            let floats: Vec<(f64, f64, f64, f64)> =
                parts.iter().map(|p| (p[0] as f64, p[1] as f64, p[2] as f64, p[3] as f64)).collect();
            prop_assert_eq!(stages((7.0, 6.0), &floats, 1.0), tried);
        }
    }

    #[test]
    fn a_cut_takes_the_gap() {
        let row = boxes(&[(0.0, 0.0, 10.0, 10.0), (14.0, 0.0, 20.0, 10.0)]);
        assert_eq!(inseparable(&row, 4.0), None);
        assert_eq!(inseparable(&row, 4.001), Some(vec!["a", "b"]));
    }
}
