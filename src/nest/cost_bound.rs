//! A cost below which no packing can go, and a number of sheets, for several kinds of sheet; with a proof.
//!
//! Takes classes of rectangles and kinds of sheet with their costs and quantities. Never searches for a packing.
//!
//! Give every rectangle a value, and let `V` be the most value that one sheet of a kind can hold. Then whatever
//! sheets are used, their `V` add up to at least the value of all rectangles. The cheapest choice of sheets that
//! does so, no kind above its quantity, is a covering knapsack; its cost is a bound. Values are products of two
//! dual feasible functions (see `bound.rs`), taken on a sheet as long and as wide as any kind; a smaller kind holds
//! as much as the functions give rows of its own length: see [`most_in`]. Rectangles that fit some kinds only are
//! looked at once more by themselves, with those kinds alone, everything else counting nothing.

use super::bin::Bin;
use super::bound::{duals, lower_bound};
use super::dual::{Dual, most_of};
use super::effort::Cutting;
use super::problem::{Class, Size};
use super::widen::Lies;

/// What is proved.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Bounds {
    /// Least cost.
    pub(super) cost: i128,
    /// Least number of sheets, of whichever kinds.
    pub(super) sheets: usize,
}

/// Most products of two values that are formed for one set of kinds, to bound the time.
const MOST_PRODUCTS: usize = 2_000_000;

/// Sets of kinds that are looked at by themselves, at most.
const MOST_SETS: usize = 12;

/// Values whose knapsack is solved and not only relaxed.
const MOST_SOLVED: usize = 24;

/// Bounds for these classes, each of which must go on an empty sheet of some kind. If the stock cannot hold them
/// all, what is said is of no use but still true: there is no such packing.
pub(super) fn bounds(classes: &[Class], bins: &[Bin], cutting: Cutting) -> Bounds {
    let kinds_of: Vec<Vec<usize>> = classes
        .iter()
        .map(|class| bins.iter().filter(|bin| bin.holds(*class, cutting)).map(|bin| bin.number).collect())
        .collect();
    let mut sets: Vec<&Vec<usize>> = kinds_of.iter().collect();
    let all: Vec<usize> = (0..bins.len()).collect();
    sets.push(&all);
    sets.sort_unstable_by_key(|set| (set.len(), *set));
    sets.dedup();
    // Small sets say something of their own, and that of all kinds must not be missing.
    let last = sets.pop();
    sets.truncate(MOST_SETS);
    let proved: Vec<(&[usize], Bounds)> = sets
        .into_iter()
        .chain(last)
        .map(|set| {
            let own = classes
                .iter()
                .zip(&kinds_of)
                .filter(|(_, kinds)| kinds.iter().all(|kind| set.contains(kind)));
            let own: Vec<Class> = own.map(|(class, _)| *class).collect();
            let kinds: Vec<&Bin> = set.iter().map(|&kind| &bins[kind]).collect();
            (set.as_slice(), bounds_of(&own, &kinds))
        })
        .collect();
    Bounds {
        cost: together(&proved, |bounds| bounds.cost),
        sheets: together(&proved, |bounds| bounds.sheets),
    }
}

/// Sets that have no kind in common need their sheets one beside the other, so their bounds add up.
fn together<T: Copy + Ord + Default + std::ops::Add<Output = T>>(
    proved: &[(&[usize], Bounds)],
    value: impl Fn(&Bounds) -> T,
) -> T {
    let mut sorted: Vec<(T, &[usize])> = proved.iter().map(|(set, bounds)| (value(bounds), *set)).collect();
    sorted.sort_by_key(|(value, _)| std::cmp::Reverse(*value));
    let mut most = T::default();
    for first in 0..sorted.len() {
        let mut sum = T::default();
        let mut used: Vec<usize> = Vec::new();
        for (value, set) in &sorted[first..] {
            if set.iter().all(|kind| !used.contains(kind)) {
                used.extend_from_slice(set);
                sum = sum + *value;
            }
        }
        most = most.max(sum);
    }
    most
}

/// Bounds for classes that go on these kinds only.
fn bounds_of(classes: &[Class], kinds: &[&Bin]) -> Bounds {
    let (Some(first), false) = (kinds.first(), classes.is_empty()) else {
        return Bounds { cost: 0, sheets: 0 };
    };
    if kinds.len() == 1 {
        let sheets = lower_bound(classes, first.usable);
        return Bounds { cost: first.cost * sheets as i128, sheets };
    }
    // One kind that covers all of them: what fits any of them fits it.
    let cover = kinds
        .iter()
        .map(|kind| kind.usable)
        .reduce(|a, b| Size { width: a.width.max(b.width), height: a.height.max(b.height) });
    let covered = cover.map_or(0, |size| lower_bound(classes, size));
    let needs = needs(classes, kinds, cover.unwrap_or(first.usable));
    let costs: Vec<i128> = kinds.iter().map(|kind| kind.cost).collect();
    let ones = vec![1; kinds.len()];
    let sheets = usize::try_from(cheapest(&needs, kinds, &ones)).unwrap_or(usize::MAX);
    Bounds { cost: cheapest(&needs, kinds, &costs), sheets: sheets.max(covered) }
}

/// Values of all rectangles together, and of what each kind can hold at most.
struct Need {
    value: i128,
    held: Vec<i128>,
}

/// The needs for every pair of functions.
fn needs(classes: &[Class], kinds: &[&Bin], cover: Size) -> Vec<Need> {
    let limit = (MOST_PRODUCTS / classes.len().max(1)).isqrt();
    // For each class the sizes in which it lies on any of the kinds.
    let lies: Vec<Vec<Size>> = classes
        .iter()
        .map(|class| {
            let mut lies: Vec<Size> =
                kinds.iter().flat_map(|kind| class.lies(kind.usable)).map(|(size, _)| size).collect();
            lies.sort_unstable();
            lies.dedup();
            lies
        })
        .collect();
    let counts: Vec<usize> = classes.iter().map(|class| class.count).collect();
    let table = |side: fn(&Size) -> i64| -> Vec<Lies> {
        lies.iter().map(|lies| [lies.first().map(side), lies.get(1).map(side)]).collect()
    };
    let along = duals(&table(|size| size.width), &counts, cover.width, limit);
    let across = duals(&table(|size| size.height), &counts, cover.height, limit);
    let mut needs = vec![area(classes, kinds)];
    for f in &along {
        for g in &across {
            let product = |size: &Size| {
                i128::from(f.of(size.width, cover.width)) * i128::from(g.of(size.height, cover.height))
            };
            let value = classes
                .iter()
                .zip(&lies)
                .map(|(class, lies)| class.count as i128 * lies.iter().map(product).min().unwrap_or(0))
                .sum();
            let held = |kind: &&Bin| {
                i128::from(most_in(f, kind.usable.width, cover.width))
                    * i128::from(most_in(g, kind.usable.height, cover.height))
            };
            needs.push(Need { value, held: kinds.iter().map(held).collect() });
        }
    }
    needs
}

/// Plain area; what defects take counts on no sheet.
fn area(classes: &[Class], kinds: &[&Bin]) -> Need {
    Need {
        value: classes.iter().map(|class| class.count as i128 * class.size.area()).sum(),
        held: kinds.iter().map(|kind| kind.strips.iter().map(|strip| strip.rect.size.area()).sum()).collect(),
    }
}

/// The most that the function can give the lengths of a row that fits `length`, which is at most `sheet`.
///
/// Where the function is superadditive (a sum never gets less than its terms), a row gets at most what its length
/// would. So it is with one made from a superadditive `g`, `L` being the length: a row with `x` above half the sheet
/// gets at most `2 g(W) - 2 g(W - x) + 2 g(L - x)`, and `g(L - x) + g(W - L) <= g(W - x)`; one with half a sheet gets
/// `g(W) + 2 g(L - W/2)`, and `2 g(L - W/2) + 2 g(W - L) <= 2 g(W/2) <= g(W)`; one of short ones `2 g(L)`, and
/// `g(L) + g(W - L) <= g(W)`: never more than `2 g(W) - 2 g(W - L)`. With `L` up to half the sheet it gets `2 g(L)`.
///
/// Of the counted ones no more than fit go on up to half the sheet; above, a long one may stand for all that fit the
/// whole.
fn most_in(dual: &Dual, length: i64, sheet: i64) -> i64 {
    match dual {
        _ if length == sheet => dual.whole(sheet),
        Dual::Count { sums, .. } if 2 * length <= sheet => most_of(sums, length),
        Dual::Count { .. } => dual.whole(sheet),
        _ => dual.of(length, sheet),
    }
}

/// The greatest, over the needs, of the least cost that covers it.
fn cheapest(needs: &[Need], kinds: &[&Bin], costs: &[i128]) -> i128 {
    let covers = needs.iter().filter_map(|need| Cover::new(need, kinds, costs));
    let mut relaxed: Vec<(i128, Cover)> = covers.map(|cover| (cover.relaxed(), cover)).collect();
    relaxed.sort_by_key(|(cost, _)| std::cmp::Reverse(*cost));
    let unit = costs.iter().copied().fold(0, greatest_divisor).max(1);
    let rounded = |cost: i128| (cost + unit - 1) / unit * unit;
    let most = relaxed.first().map_or(0, |(cost, _)| rounded(*cost));
    relaxed.iter().take(MOST_SOLVED).map(|(_, cover)| cover.solved()).fold(most, i128::max)
}

fn greatest_divisor(a: i128, b: i128) -> i128 {
    if b == 0 { a } else { greatest_divisor(b, a % b) }
}

/// Choices of sheets that together hold a value.
struct Cover {
    value: i128,
    /// For each kind that holds anything: what one costs, what it holds, how many there are; least cost for its
    /// value first.
    kinds: Vec<(i128, i128, i128)>,
}

/// Steps of a search for the cheapest choice, after which only its relaxation counts.
const MOST_CHOICES: usize = 4_000;

impl Cover {
    /// None for numbers beyond all sheets, whose products would not be exact.
    fn new(need: &Need, kinds: &[&Bin], costs: &[i128]) -> Option<Cover> {
        let most = need.held.iter().copied().fold(need.value, i128::max);
        costs.iter().copied().max()?.checked_mul(most)?;
        let mut held: Vec<(i128, i128, i128)> = kinds
            .iter()
            .zip(costs)
            .zip(&need.held)
            .filter(|&(_, &held)| held > 0)
            .map(|((kind, &cost), &held)| (cost, held, i128::try_from(kind.quantity).unwrap_or(i128::MAX)))
            .collect();
        held.sort_by(|a, b| (a.0 * b.1).cmp(&(b.0 * a.1)));
        Some(Cover { value: need.value, kinds: held })
    }

    /// A cost that no choice is below: parts of sheets are allowed. 0 if there is no choice.
    fn relaxed(&self) -> i128 {
        self.relaxed_from(0, self.value).unwrap_or(0)
    }

    fn relaxed_from(&self, first: usize, mut value: i128) -> Option<i128> {
        let mut cost: i128 = 0;
        for &(each, held, quantity) in &self.kinds[first..] {
            if value <= 0 {
                break;
            }
            // So many at most, the last of them in part.
            if (value + held - 1) / held <= quantity {
                return Some(cost + (each * value + held - 1) / held);
            }
            cost += each * quantity;
            value -= held * quantity;
        }
        (value <= 0).then_some(cost)
    }

    /// The cost of the cheapest choice, or of the relaxation if that is not found soon. 0 if there is no choice.
    fn solved(&self) -> i128 {
        let mut search = Choice { cover: self, best: None, left: MOST_CHOICES };
        search.choose(0, self.value, 0);
        if search.left == 0 { self.relaxed() } else { search.best.unwrap_or(0) }
    }
}

struct Choice<'a> {
    cover: &'a Cover,
    best: Option<i128>,
    left: usize,
}

impl Choice<'_> {
    /// Tries every number of sheets of one kind that is worth trying, the greatest first, and then the next kind.
    fn choose(&mut self, kind: usize, value: i128, cost: i128) {
        if value <= 0 {
            self.best = Some(self.best.map_or(cost, |best| best.min(cost)));
            return;
        }
        if self.left == 0 {
            return;
        }
        self.left -= 1;
        let Some(&(each, held, quantity)) = self.cover.kinds.get(kind) else { return };
        let mut number = ((value + held - 1) / held).min(quantity);
        while number >= 0 && self.left > 0 {
            let (value, cost) = (value - number * held, cost + number * each);
            number -= 1;
            let least = self.cover.relaxed_from(kind + 1, value).map(|rest| cost + rest);
            if least.is_some_and(|least| self.best.is_none_or(|best| least < best)) {
                self.choose(kind + 1, value, cost);
            } else if value > 0 {
                // With fewer of this kind, which is the cheapest for its value, nothing gets cheaper either.
                return;
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::exact::cheapest_free;
    use super::*;
    use proptest::prelude::*;

    fn bin(number: usize, size: (i64, i64), cost: i128, quantity: usize) -> Bin {
        let plain = Bin::plain(Size { width: size.0, height: size.1 });
        Bin { number, stock: number, cost, quantity, ..plain }
    }

    fn class(width: i64, height: i64, free: bool, count: usize) -> Class {
        Class { size: Size { width, height }, free, count }
    }

    fn proved(classes: &[Class], bins: &[Bin]) -> (i128, usize) {
        let bounds = bounds(classes, bins, Cutting::Free);
        (bounds.cost, bounds.sheets)
    }

    #[test]
    fn area_alone_over_two_kinds() {
        // 10 x 10 at 50 and 10 x 5 at 30: 240 of area need 100 + 100 + 50 (130); two large ones are too little.
        let bins = [bin(0, (10, 10), 50, 99), bin(1, (10, 5), 30, 99)];
        assert_eq!(proved(&[class(2, 2, true, 60)], &bins), (130, 3));
        // With one of the large ones only, which holds 25 of the squares, four small ones take 10 each.
        let bins = [bin(0, (10, 10), 50, 1), bin(1, (10, 5), 30, 99)];
        assert_eq!(proved(&[class(2, 2, true, 60)], &bins), (170, 5));
        // An offcut that costs nothing takes its part.
        let bins = [bin(0, (10, 10), 50, 99), bin(1, (10, 5), 0, 1)];
        assert_eq!(proved(&[class(2, 2, true, 60)], &bins), (100, 3));
    }

    #[test]
    fn parts_just_over_half_of_either_kind_need_a_sheet_each() {
        let bins = [bin(0, (20, 10), 7, 99), bin(1, (16, 10), 5, 99)];
        // 11 x 6: one on either kind, and the cheaper takes it.
        assert_eq!(proved(&[class(11, 6, false, 4)], &bins), (20, 4));
    }

    #[test]
    fn parts_that_fit_different_kinds_need_sheets_of_both() {
        let bins = [bin(0, (30, 5), 8, 99), bin(1, (15, 15), 9, 99)];
        assert_eq!(proved(&[class(25, 1, false, 1), class(14, 14, false, 1)], &bins), (17, 2));
        // The second does not fit the first kind: one cheap sheet is not enough, whatever its area.
        assert_eq!(proved(&[class(14, 14, false, 3), class(1, 1, false, 1)], &bins).0, 27);
    }

    proptest! {
        /// A row that fits a smaller kind gets no more than is claimed for that kind.
        #[test]
        fn rows_of_smaller_kinds_are_bounded(
            sheet in 2_i64..60, percent in 10_i64..100, lengths in prop::collection::vec(1_i64..40, 1..8),
            k in 1_i64..9, p in 1_i64..30,
        ) {
            let length = (sheet * percent / 100).max(1);
            let mut row: Vec<i64> = lengths;
            while row.iter().sum::<i64>() > length {
                row.pop();
            }
            let mut tried = vec![Dual::Identity, Dual::Steps(k), Dual::Marks(k + 1)];
            if 2 * p <= sheet {
                let table: Vec<Lies> = row.iter().map(|&x| [Some(x), None]).collect();
                let count = Dual::count(&table, &vec![1; table.len()], p, sheet);
                tried.extend([Dual::Threshold(p), Dual::Pieces(p), Dual::Rests(p), count]);
            }
            for dual in &tried {
                let sum: i64 = row.iter().map(|&x| dual.of(x, sheet)).sum();
                prop_assert!(sum <= most_in(dual, length, sheet), "{dual:?} {row:?} of {length} on {sheet}");
            }
        }

        /// Against every choice of so many sheets.
        #[test]
        fn the_cheapest_choice_is_found(
            kinds in prop::collection::vec((0_i128..9, 1_i128..9, 1_usize..4), 1..4), value in 1_i128..40,
        ) {
            let bins: Vec<Bin> = kinds.iter().enumerate().map(|(i, &(cost, _, n))| bin(i, (1, 1), cost, n)).collect();
            let bins: Vec<&Bin> = bins.iter().collect();
            let need = Need { value, held: kinds.iter().map(|kind| kind.1).collect() };
            let costs: Vec<i128> = kinds.iter().map(|kind| kind.0).collect();
            let mut best: Option<i128> = None;
            let choices = kinds.iter().map(|kind| 0..=kind.2);
            for choice in itertools::Itertools::multi_cartesian_product(choices) {
                let sum = |of: &dyn Fn(usize) -> i128| (0..kinds.len()).map(|i| of(i) * choice[i] as i128).sum::<i128>();
                if sum(&|i| kinds[i].1) >= value {
                    let cost = sum(&|i| kinds[i].0);
                    best = Some(best.map_or(cost, |best| best.min(cost)));
                }
            }
            let cover = Cover::new(&need, &bins, &costs).unwrap();
            prop_assert_eq!(cover.solved(), best.unwrap_or(0));
            prop_assert!(cover.relaxed() <= best.unwrap_or(0));
        }

        /// Against the true optimum of small cases, found by trying everything.
        #[test]
        fn never_above_the_true_optimum(
            sizes in prop::collection::vec((1_i64..5, 1_i64..5, any::<bool>()), 1..5),
            kinds in prop::collection::vec((2_i64..6, 2_i64..6, 0_i128..9, 1_usize..4), 1..4),
        ) {
            let bins: Vec<Bin> =
                kinds.iter().enumerate().map(|(i, &(w, h, cost, n))| bin(i, (w, h), cost, n)).collect();
            let classes: Vec<Class> = sizes
                .iter()
                .map(|&(w, h, free)| class(w, h, free, 1))
                .filter(|class| bins.iter().any(|bin| bin.holds(*class, Cutting::Free)))
                .collect();
            if let Some((cost, sheets)) = cheapest_free(&classes, &bins) {
                let bounds = bounds(&classes, &bins, Cutting::Free);
                prop_assert!(bounds.cost <= cost && bounds.sheets <= sheets, "{bounds:?}: {cost}, {sheets}");
            }
        }
    }
}
