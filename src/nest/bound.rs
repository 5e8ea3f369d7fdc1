//! A number of sheets below which no packing can go, with a proof.
//!
//! Takes classes of rectangles, the gap already in their sizes, and one size of sheet; for several kinds of
//! sheet the caller gives one that covers every kind, since what fits a kind fits that. Never searches:
//! it tries many pairs of dual feasible functions and takes the best; see [`Dual`] for why each holds.

use super::problem::{Class, Size};
use super::widen::{Lies, widen};

/// A dual feasible function on whole lengths: one that never makes a row that fits the sheet too long. From
/// `sum x <= W` follows `sum f(x) <= f(W)`.
///
/// With such an `f` for widths and a `g` for heights, the sum of f(w) g(h) over the rectangles of one sheet is
/// at most f(W) g(H): cut each rectangle into f(w) upright strips. A level line across the sheet meets
/// rectangles that fit side by side, hence at most f(W) strips; so the strips, as intervals of height, can be
/// dealt into f(W) columns in which none overlap (intervals can always be coloured with as many colours as
/// ever overlap). In a column the heights fit H, so their g is at most g(H). Dividing the sum over all
/// rectangles by f(W) g(H) therefore bounds the number of sheets from below; with f and g the identity it is
/// the area bound. A rectangle that may be turned counts with the smaller of its two products, since in any
/// packing it lies in one of the two ways.
///
/// The families are those of Fekete and Schepers (2001), from memory; each is proved where it stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Dual {
    /// The length itself.
    Identity,
    /// Lengths in steps of 1/(k+1) of the sheet. Rectangles whose length is a whole number of steps keep it;
    /// the others are rounded down to steps and scaled by (k+1)/k. If `s` is the sum of those that keep it, a
    /// row with at least one other has fewer than (k+1)(1-s) whole steps of others, and that number is whole,
    /// so at most (k+1)(1-s) - 1: in all s + ((k+1)(1-s) - 1)/k = 1 - s/k, at most 1.
    Steps(i64),
    /// Lengths below `p` count nothing, those above W - p count as the whole sheet. Beside one of these no room
    /// of p is left, so all others in its row count nothing. `p` is at most half the sheet.
    Threshold(i64),
    /// In units of p, of which m = floor(W/p) fit: a length from p to half the sheet counts one, a longer one
    /// m less the units that fit beside it. Of the longer ones a row has at most one. `p` is at most half the
    /// sheet.
    Units(i64),
}

impl Dual {
    /// The length `x` as the function makes it, in units of which the whole sheet has [`Dual::whole`].
    pub(super) fn of(self, x: i64, sheet: i64) -> i64 {
        match self {
            Dual::Steps(k) => {
                if (k + 1) * x % sheet == 0 {
                    k * x
                } else {
                    (k + 1) * x / sheet * sheet
                }
            }
            Dual::Threshold(p) if x < p => 0,
            Dual::Threshold(p) if x > sheet - p => sheet,
            Dual::Identity | Dual::Threshold(_) => x,
            Dual::Units(p) if 2 * x > sheet => sheet / p - (sheet - x) / p,
            Dual::Units(p) => i64::from(x >= p),
        }
    }

    /// The whole sheet as the function makes it.
    pub(super) fn whole(self, sheet: i64) -> i64 {
        match self {
            Dual::Identity | Dual::Threshold(_) => sheet,
            Dual::Steps(k) => k * sheet,
            Dual::Units(p) => sheet / p,
        }
    }
}

/// Greatest k of [`Dual::Steps`] that is tried.
const MOST_STEPS: i64 = 8;

/// How many products of two values are formed at most, to bound the time (a few hundredths of a second).
const MOST_PRODUCTS: usize = 8_000_000;

/// Rectangles up to which each is looked at alone, so that its lengths can be widened alone.
const MOST_SINGLE: usize = 300;

/// The least number of sheets of the size `bin`, which every class must fit.
pub(super) fn lower_bound(classes: &[Class], bin: Size) -> usize {
    // What is one rectangle each already is looked at alone anyway.
    let single = classes.iter().all(|class| class.count == 1);
    if single || classes.iter().map(|class| class.count).sum::<usize>() > MOST_SINGLE {
        return lower_bound_of(classes, bin);
    }
    let together = lower_bound_of(classes, bin);
    let one = |class: &Class| std::iter::repeat_n(Class { count: 1, ..*class }, class.count);
    let apart: Vec<Class> = classes.iter().flat_map(one).collect();
    together.max(lower_bound_of(&apart, bin))
}

/// The bound for these classes, their lengths widened if each is a single rectangle.
fn lower_bound_of(classes: &[Class], bin: Size) -> usize {
    if classes.is_empty() {
        return 0;
    }
    let along = |size: Size| size.width;
    let across = |size: Size| size.height;
    let limit = (MOST_PRODUCTS / classes.len()).isqrt();
    let widths = values(classes, bin, along, limit);
    let heights = values(classes, bin, across, limit);
    let mut most = 1;
    for (whole_width, width) in &widths {
        for (whole_height, height) in &heights {
            let total: i128 = classes
                .iter()
                .zip(width.iter().zip(height))
                .map(|(class, (w, h))| class.count as i128 * least_product(*w, *h))
                .sum();
            let sheet = i128::from(*whole_width) * i128::from(*whole_height);
            most = most.max((total + sheet - 1) / sheet);
        }
    }
    usize::try_from(most).unwrap_or(usize::MAX)
}

fn least_product(width: Lies, height: Lies) -> i128 {
    let product = |i: usize| Some(i128::from(width[i]?) * i128::from(height[i]?));
    match (product(0), product(1)) {
        (Some(a), Some(b)) => a.min(b),
        (one, other) => one.or(other).unwrap_or(0),
    }
}

/// For each function on one direction of the sheet: its value for the whole sheet, and for every class.
fn values(
    classes: &[Class],
    bin: Size,
    side: impl Fn(Size) -> i64 + Copy,
    limit: usize,
) -> Vec<(i64, Vec<Lies>)> {
    let sheet = side(bin);
    let mut table: Vec<Lies> = classes
        .iter()
        .map(|class| {
            let mut lies = [None, None];
            for (size, turned) in class.lies(bin) {
                lies[usize::from(turned)] = Some(side(size));
            }
            lies
        })
        .collect();
    if classes.iter().all(|class| class.count == 1) {
        widen(&mut table, sheet);
    }
    duals(table.iter().flatten().filter_map(|x| *x), sheet, limit)
        .into_iter()
        .map(|dual| {
            let of_class = |lies: &Lies| lies.map(|x| x.map(|x| dual.of(x, sheet)));
            (dual.whole(sheet), table.iter().map(of_class).collect())
        })
        .collect()
}

/// The functions to try, at most `limit` (and at least the identity): thresholds where one of the lengths
/// changes sides.
pub(super) fn duals(lengths: impl Iterator<Item = i64>, sheet: i64, limit: usize) -> Vec<Dual> {
    let mut duals = vec![Dual::Identity];
    duals.extend((1..=MOST_STEPS).map(Dual::Steps));
    let mut thresholds: Vec<i64> = lengths
        .map(|x| if 2 * x <= sheet { x } else { sheet - x + 1 })
        .filter(|&p| p > 0 && 2 * p <= sheet)
        .collect();
    thresholds.sort_unstable();
    thresholds.dedup();
    let room = limit.saturating_sub(duals.len()) / 2;
    for p in evenly(&thresholds, room) {
        duals.push(Dual::Threshold(p));
        duals.push(Dual::Units(p));
    }
    duals.truncate(limit.max(1));
    duals
}

/// At most `n` of the values, spread evenly.
fn evenly(values: &[i64], n: usize) -> impl Iterator<Item = i64> {
    let n = n.min(values.len());
    (0..n).map(move |i| values[i * values.len() / n])
}

#[cfg(test)]
mod tests {
    use super::super::exact::fewest_free;
    use super::*;
    use proptest::prelude::*;

    fn class(width: i64, height: i64, free: bool, count: usize) -> Class {
        Class { size: Size { width, height }, free, count }
    }

    #[test]
    fn parts_just_over_half_each_way_need_a_sheet_each() {
        let bin = Size { width: 2440, height: 1220 };
        for free in [false, true] {
            // Turned, 1221 would not go across; 1221 x 611 needs a sheet each in either case.
            assert_eq!(lower_bound(&[class(1221, 611, free, 7)], bin), 7);
        }
        assert_eq!(lower_bound(&[class(1220, 610, false, 7)], bin), 2);
    }

    #[test]
    fn the_gap_in_the_sizes_makes_the_difference() {
        // Three parts of 800 with gap 8 do not fit beside each other on 2400 (3 x 808 > 2408), with gap 0 they do.
        let with_gap = Size { width: 2408, height: 1008 };
        assert_eq!(lower_bound(&[class(808, 1008, false, 6)], with_gap), 3);
        let without = Size { width: 2400, height: 1000 };
        assert_eq!(lower_bound(&[class(800, 1000, false, 6)], without), 2);
    }

    #[test]
    fn small_parts_beside_large_ones_count_for_nothing_only_where_they_must() {
        let bin = Size { width: 100, height: 100 };
        // 4 of 60 x 60 take a sheet each; 12 of 40 x 40 then fill the rests: 4 sheets hold it all.
        assert_eq!(lower_bound(&[class(60, 60, true, 4), class(40, 40, true, 12)], bin), 4);
        // 4 of 60 x 100 leave 40 x 100 each: 2 of 40 x 50 go in each, the ninth needs a fifth sheet.
        assert_eq!(lower_bound(&[class(60, 100, false, 4), class(40, 50, false, 8)], bin), 4);
        assert_eq!(lower_bound(&[class(60, 100, false, 4), class(40, 50, false, 9)], bin), 5);
    }

    #[test]
    fn no_class_needs_no_sheet_and_many_classes_stay_within_the_work() {
        let bin = Size { width: 100_000, height: 100_000 };
        assert_eq!(lower_bound(&[], bin), 0);
        let many: Vec<Class> = (1..20_000).map(|i| class(i, 3 * i, true, 1)).collect();
        assert!(lower_bound(&many[..20_000 / 3], bin) > 1);
        assert!(duals(1..50_000, 100_000, 20).len() <= 20);
    }

    /// Worked out by hand from what [`Dual`] says; a value too small would only weaken the bound, and no packing
    /// would tell.
    #[test]
    fn values_of_the_functions() {
        let of = |dual: Dual, sheet: i64, lengths: &[i64]| -> Vec<i64> {
            assert_eq!(dual.of(sheet, sheet), dual.whole(sheet), "{dual:?}");
            lengths.iter().chain([&sheet]).map(|&x| dual.of(x, sheet)).collect()
        };
        // Steps of a third of 12: 4 and 8 keep their length, others are rounded down to steps and grow by 3/2; all in
        // half units, of which 12 has 24.
        assert_eq!(of(Dual::Steps(2), 12, &[3, 4, 5, 7, 8, 9, 11]), [0, 8, 12, 12, 16, 24, 24, 24]);
        // Steps of a half: 6 keeps it, a longer one counts as the whole.
        assert_eq!(of(Dual::Steps(1), 12, &[5, 6, 7]), [0, 6, 12, 12]);
        assert_eq!(of(Dual::Threshold(4), 12, &[3, 4, 8, 9]), [0, 4, 8, 12, 12]);
        // Three of 3 go on 10; beside 6 goes one, beside 8 none.
        assert_eq!(of(Dual::Units(3), 10, &[2, 3, 5, 6, 7, 8]), [0, 1, 1, 2, 2, 3, 3]);
        assert_eq!(of(Dual::Identity, 10, &[2, 7]), [2, 7, 10]);
    }

    #[test]
    fn alike_rectangles_count_one_by_one_where_that_gives_more() {
        let bin = Size { width: 100, height: 100 };
        // Two of 90 x 30 above each other leave a column of 10; above or below one of them 10 x 80 has no room. So
        // of three of these two are on another sheet. As classes they would fit by every function.
        let classes = [class(10, 80, false, 3), class(90, 30, false, 2)];
        assert_eq!((lower_bound_of(&classes, bin), lower_bound(&classes, bin)), (1, 2));
        // Too many to be looked at one by one: the functions alone must tell.
        assert_eq!(lower_bound(&[class(51, 51, false, 301)], bin), 301);
    }

    #[test]
    fn the_functions_that_are_tried() {
        // Of 30 the threshold is 30; 70 changes sides at 31, as 100 - 70 + 1; 50 is the half; of 100 nothing is left.
        let tried = duals([30, 70, 50, 100, 30].into_iter(), 100, 1000);
        let thresholds: Vec<Dual> =
            tried.iter().copied().filter(|dual| matches!(dual, Dual::Threshold(_))).collect();
        assert_eq!(thresholds, [1, 30, 31, 50].map(Dual::Threshold));
        assert_eq!(tried.len(), 1 + 8 + 2 * 4);
        assert_eq!(evenly(&[1, 2, 3, 4, 5, 6], 3).collect::<Vec<_>>(), [1, 3, 5]);
        assert_eq!(evenly(&[1, 2], 9).collect::<Vec<_>>(), [1, 2]);
        assert_eq!(duals([30].into_iter(), 100, 0), [Dual::Identity]);
    }

    proptest! {
        /// The property that makes a function dual feasible, on rows that fit.
        #[test]
        fn a_row_that_fits_still_fits(
            sheet in 2_i64..60, lengths in prop::collection::vec(1_i64..40, 1..8), k in 1_i64..9, p in 1_i64..30,
        ) {
            let mut row: Vec<i64> = lengths;
            while row.iter().sum::<i64>() > sheet {
                row.pop();
            }
            let mut tried = vec![Dual::Identity, Dual::Steps(k)];
            if 2 * p <= sheet {
                tried.extend([Dual::Threshold(p), Dual::Units(p)]);
            }
            for dual in tried {
                let sum: i64 = row.iter().map(|&x| dual.of(x, sheet)).sum();
                prop_assert!(sum <= dual.whole(sheet), "{dual:?} {row:?} on {sheet}");
            }
        }

        /// Against the true optimum of small cases, found by trying everything.
        #[test]
        fn never_above_the_true_optimum(
            sizes in prop::collection::vec((1_i64..6, 1_i64..6, any::<bool>()), 1..6),
        ) {
            let bin = Size { width: 6, height: 5 };
            let classes: Vec<Class> =
                sizes.iter().map(|&(w, h, free)| class(w, h, free, 1)).filter(|c| c.fits(bin)).collect();
            prop_assert!(lower_bound(&classes, bin) <= fewest_free(&classes, bin));
        }
    }
}
