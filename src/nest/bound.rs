//! A number of sheets below which no packing can go, with a proof.
//!
//! Takes classes of rectangles, the gap already in their sizes, and one size of sheet; for several kinds of
//! sheet the caller gives one that covers every kind, since what fits a kind fits that. Never searches:
//! it tries many pairs of dual feasible functions ([`Dual`]) and takes the best.
//!
//! With such functions f for widths and g for heights, the sum of f(w) g(h) over the rectangles of one sheet is
//! at most f(W) g(H): cut each rectangle into f(w) upright strips. A level line across the sheet meets rectangles
//! that fit side by side, hence at most f(W) strips; so the strips, as intervals of height, can be dealt into f(W)
//! columns in which none overlap (intervals can always be coloured with as many colours as ever overlap). In a
//! column the heights fit H, so their g is at most g(H). Dividing the sum over all rectangles by f(W) g(H) bounds
//! the number of sheets; with f and g the identity it is the area bound. A rectangle that may be turned counts
//! with the smaller of its two products, since in any packing it lies in one of the two ways. Lengths that were
//! widened serve as well: f after widening is again a function under which every row of these rectangles fits.

use super::dual::Dual;
use super::problem::{Class, Size};
use super::widen::{Lies, widen};

/// Greatest k of [`Dual::Steps`] and [`Dual::Marks`] that is tried.
const MOST_STEPS: i64 = 8;

/// How many products of two values are formed at most, to bound the time (a few hundredths of a second).
const MOST_PRODUCTS: usize = 16_000_000;

/// Rectangles up to which each is looked at alone, so that its lengths can be widened alone.
const MOST_SINGLE: usize = 300;

/// How many lengths in each direction are tried as the least that a rectangle must have to be looked at.
const LEAST_LENGTHS: usize = 8;

/// The least number of sheets of the size `bin`, which every class must fit.
pub(super) fn lower_bound(classes: &[Class], bin: Size) -> usize {
    if classes.is_empty() {
        return 0;
    }
    let rectangles: usize = classes.iter().map(|class| class.count).sum();
    let whole = Lengths::new(classes, bin);
    let mut most = whole.bound(MOST_PRODUCTS);
    if rectangles <= MOST_SINGLE {
        let one = |class: &Class| std::iter::repeat_n(Class { count: 1, ..*class }, class.count);
        let apart: Vec<Class> = classes.iter().flat_map(one).collect();
        let apart = Lengths::new(&apart, bin);
        let subsets = apart.subsets();
        let share = MOST_PRODUCTS / subsets.len().max(1);
        for mut lengths in subsets {
            lengths.widen();
            most = most.max(lengths.bound(share));
        }
    }
    usize::try_from(most).unwrap_or(usize::MAX)
}

/// The lengths of rectangles in both directions of the sheet.
#[derive(Clone, Debug)]
struct Lengths {
    sheet: Size,
    counts: Vec<usize>,
    widths: Vec<Lies>,
    heights: Vec<Lies>,
}

impl Lengths {
    fn new(classes: &[Class], bin: Size) -> Self {
        let table = |side: fn(Size) -> i64| {
            let lies = |class: &Class| {
                let mut lies = [None, None];
                for (size, turned) in class.lies(bin) {
                    lies[usize::from(turned)] = Some(side(size));
                }
                lies
            };
            classes.iter().map(lies).collect()
        };
        Lengths {
            sheet: bin,
            counts: classes.iter().map(|class| class.count).collect(),
            widths: table(|size| size.width),
            heights: table(|size| size.height),
        }
    }

    /// All of them, and those without the rectangles that are short in one direction or the other: what is left
    /// needs no more sheets, but with less to fill gaps its lengths can be widened further.
    fn subsets(&self) -> Vec<Lengths> {
        let mut subsets: Vec<Lengths> = Vec::new();
        for p in least_lengths(&self.widths, self.sheet.width) {
            for q in least_lengths(&self.heights, self.sheet.height) {
                let longest = |lies: &Lies| lies.iter().flatten().copied().max().unwrap_or(0);
                let kept: Vec<usize> = (0..self.counts.len())
                    .filter(|&i| longest(&self.widths[i]) >= p && longest(&self.heights[i]) >= q)
                    .collect();
                if subsets.iter().all(|subset| subset.counts.len() != kept.len()) {
                    subsets.push(Lengths {
                        sheet: self.sheet,
                        counts: kept.iter().map(|&i| self.counts[i]).collect(),
                        widths: kept.iter().map(|&i| self.widths[i]).collect(),
                        heights: kept.iter().map(|&i| self.heights[i]).collect(),
                    });
                }
            }
        }
        subsets
    }

    /// Every rectangle must be one alone.
    fn widen(&mut self) {
        widen(&mut self.widths, self.sheet.width);
        widen(&mut self.heights, self.sheet.height);
    }

    /// The best bound of all pairs of functions, with so many products of two values.
    fn bound(&self, products: usize) -> i128 {
        let limit = (products / self.counts.len().max(1)).isqrt();
        let widths = measures(&self.widths, &self.counts, self.sheet.width, limit);
        let heights = measures(&self.heights, &self.counts, self.sheet.height, limit);
        let mut most = i128::from(!self.counts.is_empty());
        for width in &widths {
            for height in &heights {
                let pairs = width.lengths.iter().zip(&height.lengths).zip(&self.counts);
                let total: i128 = pairs.map(|((w, h), &count)| count as i128 * least_product(*w, *h)).sum();
                let sheet = i128::from(width.whole) * i128::from(height.whole);
                most = most.max((total + sheet - 1) / sheet);
            }
        }
        most
    }
}

/// Half the sheet at most, the shortest left out first; 0 keeps all.
fn least_lengths(table: &[Lies], sheet: i64) -> Vec<i64> {
    let mut least = vec![0];
    let lengths = thresholds(table, sheet);
    least.extend(evenly(&lengths, LEAST_LENGTHS));
    least
}

fn least_product(widths: [i64; 2], heights: [i64; 2]) -> i128 {
    let product = |way: usize| i128::from(widths[way]) * i128::from(heights[way]);
    product(0).min(product(1))
}

/// What one function makes of the lengths in one direction of the sheet.
#[derive(Debug)]
struct Measure {
    /// Its value for the whole sheet.
    whole: i64,
    /// For each rectangle, as it lies and turned; both alike if it may lie in one way only.
    lengths: Vec<[i64; 2]>,
}

impl Measure {
    fn new(dual: &Dual, table: &[Lies], sheet: i64) -> Self {
        let both = |lies: &Lies| {
            let [one, other] = lies.map(|x| x.map(|x| dual.of(x, sheet)));
            [one.or(other).unwrap_or(0), other.or(one).unwrap_or(0)]
        };
        Measure { whole: dual.whole(sheet), lengths: table.iter().map(both).collect() }
    }

    /// Whether every length counts at least as much, as a share of the sheet: then no bound from the other one is
    /// better.
    fn at_least(&self, other: &Measure) -> bool {
        let share = |whole: i64, x: i64| i128::from(whole) * i128::from(x);
        let pairs = self.lengths.iter().flatten().zip(other.lengths.iter().flatten());
        pairs.into_iter().all(|(&own, &others)| share(other.whole, own) >= share(self.whole, others))
    }
}

/// The functions on one direction of the sheet, without those that another one outdoes.
fn measures(table: &[Lies], counts: &[usize], sheet: i64, limit: usize) -> Vec<Measure> {
    let mut kept: Vec<Measure> = Vec::new();
    for dual in duals(table, counts, sheet, limit) {
        let measure = Measure::new(&dual, table, sheet);
        if measure.whole > 0 && !kept.iter().any(|other| other.at_least(&measure)) {
            kept.retain(|other| !measure.at_least(other));
            kept.push(measure);
        }
    }
    kept
}

/// The functions to try, at most `limit` (and at least the identity): thresholds where one of the lengths
/// changes sides.
pub(super) fn duals(table: &[Lies], counts: &[usize], sheet: i64, limit: usize) -> Vec<Dual> {
    let mut duals = vec![Dual::Identity];
    duals.extend((1..=MOST_STEPS).map(Dual::Steps));
    duals.extend((2..=MOST_STEPS).map(Dual::Marks));
    let thresholds = thresholds(table, sheet);
    let room = limit.saturating_sub(duals.len()) / 4;
    for p in evenly(&thresholds, room) {
        let count = Dual::count(table, counts, p, sheet);
        duals.extend([Dual::Threshold(p), Dual::Pieces(p), Dual::Rests(p), count]);
    }
    duals.truncate(limit.max(1));
    duals
}

/// The lengths up to half the sheet at which one of those in the table changes sides, rising.
fn thresholds(table: &[Lies], sheet: i64) -> Vec<i64> {
    let lengths = table.iter().flatten().flatten();
    let mut thresholds: Vec<i64> = lengths
        .map(|&x| if 2 * x <= sheet { x } else { sheet - x + 1 })
        .filter(|&p| p > 0 && 2 * p <= sheet)
        .collect();
    thresholds.sort_unstable();
    thresholds.dedup();
    thresholds
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
        let table: Vec<Lies> = (1..50_000).map(|x| [Some(x), None]).collect();
        assert!(duals(&table, &vec![1; table.len()], 100_000, 20).len() <= 20);
    }

    #[test]
    fn alike_rectangles_count_one_by_one_where_that_gives_more() {
        let bin = Size { width: 100, height: 100 };
        // Two of 90 x 30 above each other leave a column of 10; above or below one of them 10 x 80 has no room. So
        // of three of these two are on another sheet: known only once lengths are widened one by one.
        let classes = [class(10, 80, false, 3), class(90, 30, false, 2)];
        assert_eq!(lower_bound(&classes, bin), 2);
        // Too many to be looked at one by one: the functions alone must tell.
        assert_eq!(lower_bound(&[class(51, 51, false, 301)], bin), 301);
    }

    #[test]
    fn the_functions_that_are_tried() {
        // Of 30 the threshold is 30; 70 changes sides at 31, as 100 - 70 + 1; 50 is the half; of 100 nothing is left.
        let table = |lengths: &[i64]| -> Vec<Lies> { lengths.iter().map(|&x| [Some(x), None]).collect() };
        let tried = duals(&table(&[30, 70, 50, 100, 30]), &[1; 5], 100, 1000);
        let thresholds: Vec<Dual> =
            tried.iter().filter(|dual| matches!(dual, Dual::Threshold(_))).cloned().collect();
        assert_eq!(thresholds, [1, 30, 31, 50].map(Dual::Threshold));
        // The length itself, steps from 1 to 8, marks from 2 to 8, and four for each threshold.
        assert_eq!(tried.len(), 1 + 8 + 7 + 4 * 4);
        assert_eq!(evenly(&[1, 2, 3, 4, 5, 6], 3).collect::<Vec<_>>(), [1, 3, 5]);
        assert_eq!(evenly(&[1, 2], 9).collect::<Vec<_>>(), [1, 2]);
        assert_eq!(duals(&table(&[30]), &[1], 100, 0), [Dual::Identity]);
    }

    proptest! {
        /// Against the true optimum of small cases, found by trying everything.
        #[test]
        fn never_above_the_true_optimum(
            sizes in prop::collection::vec((1_i64..6, 1_i64..6, any::<bool>(), 1_usize..4), 1..6),
        ) {
            let bin = Size { width: 6, height: 5 };
            let mut classes: Vec<Class> =
                sizes.iter().map(|&(w, h, free, n)| class(w, h, free, n)).filter(|c| c.fits(bin)).collect();
            while classes.iter().map(|class| class.count).sum::<usize>() > 6 {
                classes.pop();
            }
            prop_assert!(lower_bound(&classes, bin) <= fewest_free(&classes, bin));
        }
    }
}
