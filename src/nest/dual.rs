//! Dual feasible functions: ways to measure lengths anew in which no row that fits becomes too long.
//!
//! Takes lengths along one direction of the sheet and gives values; which functions are worth a try follows from
//! the lengths. Each is proved where it stands; what follows from them is in [`bound`](super::bound). Never
//! searches.

use super::widen::Lies;

/// A dual feasible function on whole lengths: from `sum x <= W` follows `sum f(x) <= f(W)`.
///
/// Where a function is made from a superadditive `g` (one with `g(x) + g(y) <= g(x + y)` and `g(0) = 0`), a
/// length below half the sheet counts `2 g(x)`, one above `2 g(W) - 2 g(W - x)` and half a sheet `g(W)`. A row has
/// at most one length above half; the others then add up to at most W - x, so count at most `2 g(W - x)`
/// together. Without such a one they count at most `2 g(W)`; beside one half the others count at most
/// `2 g(W/2) <= g(W)`; beside two nothing is left.
///
/// The families are those of Fekete and Schepers (2001), Carlier, Clautiaux and Moukrim (2007), Vanderbeck (2000)
/// and Burdett and Johnson (1977), as named in the survey of Clautiaux, Alves and Valério de Carvalho (2010); all
/// from memory, the proofs written for this place.
#[derive(Clone, Debug, PartialEq, Eq)]
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
    /// From `g(x) = floor(x / p)`: whole pieces of p that a length holds.
    Pieces(i64),
    /// From `g(x) = ceil(k x / W) - 1`, 0 for 0: the marks at every k-th part of the sheet that lie strictly
    /// inside a length. Superadditive, as ceil(a) + ceil(b) - 1 <= ceil(a + b).
    Marks(i64),
    /// Whole pieces of p count p - r each, where r is what W has beyond whole pieces, and of the rest of a length
    /// only what is above r counts. Superadditive: if two rests together stay below p, so does what counts of
    /// them; if they make a piece, it counts p - r, and of the two rests at most p - r counts, or, if both are
    /// above r, their sum less 2r, which is at most p - r and what the new rest has above r, together.
    Rests(i64),
    /// Lengths from `p` to half the sheet count one, the others nothing, but above half the sheet they count by
    /// how many fewer of the short ones go in a row with them: a row has one of those at most. `sums[k]` is the
    /// length of the k shortest, so the most that fit any length t is the greatest k with `sums[k] <= t`.
    Count { p: i64, sums: Vec<i64> },
}

impl Dual {
    /// The one that counts lengths from `p` on, where there are so many rectangles of each of the lengths. A
    /// rectangle is once in a row, so its shortest one counts.
    pub(super) fn count(table: &[Lies], counts: &[usize], p: i64, sheet: i64) -> Self {
        let mut lengths = Vec::new();
        for (lies, &count) in table.iter().zip(counts) {
            let short = lies.iter().flatten().copied().filter(|x| (p..=sheet / 2).contains(x)).min();
            // No more than the sheet's worth of one length is ever in a row.
            let most = usize::try_from(sheet / p).unwrap_or(usize::MAX);
            lengths.extend(short.into_iter().flat_map(|x| std::iter::repeat_n(x, count.min(most))));
        }
        lengths.sort_unstable();
        let mut sums = vec![0];
        sums.extend(lengths.iter().scan(0, |sum, x| {
            *sum += x;
            Some(*sum)
        }));
        Dual::Count { p, sums }
    }

    /// The length `x` as the function makes it, in units of which the whole sheet has [`Dual::whole`].
    pub(super) fn of(&self, x: i64, sheet: i64) -> i64 {
        match self {
            Dual::Steps(k) => {
                if (k + 1) * x % sheet == 0 {
                    k * x
                } else {
                    (k + 1) * x / sheet * sheet
                }
            }
            Dual::Threshold(p) if x < *p => 0,
            Dual::Threshold(p) if x > sheet - p => sheet,
            Dual::Identity | Dual::Threshold(_) => x,
            Dual::Pieces(_) | Dual::Marks(_) if 2 * x < sheet => 2 * self.half(x, sheet),
            Dual::Pieces(_) | Dual::Marks(_) if 2 * x == sheet => self.half(sheet, sheet),
            Dual::Pieces(_) | Dual::Marks(_) => 2 * (self.half(sheet, sheet) - self.half(sheet - x, sheet)),
            Dual::Rests(p) => x / p * (p - sheet % p) + (x % p - sheet % p).max(0),
            Dual::Count { p, .. } if 2 * x <= sheet => i64::from(x >= *p),
            Dual::Count { sums, .. } => most_of(sums, sheet) - most_of(sums, sheet - x),
        }
    }

    /// The whole sheet as the function makes it.
    pub(super) fn whole(&self, sheet: i64) -> i64 {
        match self {
            Dual::Identity | Dual::Threshold(_) => sheet,
            Dual::Steps(k) => k * sheet,
            Dual::Pieces(_) | Dual::Marks(_) => 2 * self.half(sheet, sheet),
            Dual::Rests(p) => sheet / p * (p - sheet % p),
            Dual::Count { sums, .. } => most_of(sums, sheet),
        }
    }

    /// The superadditive function behind the one, if there is one.
    fn half(&self, x: i64, sheet: i64) -> i64 {
        match self {
            Dual::Pieces(p) => x / p,
            Dual::Marks(k) => ((k * x + sheet - 1) / sheet - 1).max(0),
            _ => x,
        }
    }
}

/// How many of the shortest fit.
pub(super) fn most_of(sums: &[i64], room: i64) -> i64 {
    i64::try_from(sums.partition_point(|&sum| sum <= room)).unwrap_or(i64::MAX) - 1
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// By hand, on a sheet of 10.
    #[test]
    fn values_of_each_function() {
        let of = |dual: &Dual| [2, 4, 5, 6, 8, 10].map(|x| dual.of(x, 10));
        // In steps of 5: only 5 and 10 are whole steps; 6 and 8 hold one, scaled by two.
        assert_eq!(of(&Dual::Steps(1)), [0, 0, 5, 10, 10, 10]);
        assert_eq!(of(&Dual::Threshold(3)), [0, 4, 5, 6, 10, 10]);
        // Three pieces of 3 go on the sheet, each counting 2: 4 holds one; beside 6 one more goes, beside 8 none.
        assert_eq!(of(&Dual::Pieces(3)), [0, 2, 3, 4, 6, 6]);
        // Marks at 10/3 and 20/3, each counting 2.
        assert_eq!(of(&Dual::Marks(3)), [0, 2, 2, 2, 4, 4]);
        // Pieces of 4, 2 beyond two of them: each counts 2, and of the rests only what is above 2.
        assert_eq!(of(&Dual::Rests(4)), [0, 2, 2, 2, 4, 4]);
        // 3 and 4 are short; both fit 10, one fits the 4 beside 6, none the 2 beside 8.
        let count = Dual::count(&[[Some(3), None], [Some(4), None], [Some(8), None]], &[1, 1, 1], 3, 10);
        assert_eq!(of(&count), [0, 1, 1, 1, 2, 2]);
        // Three of 3 fit 10, one of them beside 6.
        let count = Dual::count(&[[Some(3), None]], &[5], 3, 10);
        assert_eq!(of(&count), [0, 1, 1, 2, 3, 3]);
    }

    /// By hand; a value too small would only weaken the bound, and no packing would tell.
    #[test]
    fn steps_and_thresholds_on_a_sheet_of_12() {
        let of = |dual: &Dual, lengths: &[i64]| -> Vec<i64> {
            lengths.iter().chain([&12]).map(|&x| dual.of(x, 12)).collect()
        };
        // Steps of a third: 4 and 8 keep their length, others are rounded down to steps and grow by 3/2; all in half
        // units, of which 12 has 24.
        assert_eq!(of(&Dual::Steps(2), &[3, 4, 5, 7, 8, 9, 11]), [0, 8, 12, 12, 16, 24, 24, 24]);
        // Steps of a half: 6 keeps it, a longer one counts as the whole.
        assert_eq!(of(&Dual::Steps(1), &[5, 6, 7]), [0, 6, 12, 12]);
        assert_eq!(of(&Dual::Threshold(4), &[3, 4, 8, 9]), [0, 4, 8, 12, 12]);
        assert_eq!(of(&Dual::Identity, &[2, 7]), [2, 7, 12]);
    }

    proptest! {
        /// The property that makes a function dual feasible, on rows that fit.
        #[test]
        fn a_row_that_fits_still_fits(
            sheet in 2_i64..60, lengths in prop::collection::vec(1_i64..40, 1..8), k in 1_i64..9, p in 1_i64..30,
        ) {
            let table: Vec<Lies> = lengths.iter().map(|&x| [Some(x), None]).collect();
            let mut row: Vec<i64> = lengths;
            while row.iter().sum::<i64>() > sheet {
                row.pop();
            }
            let mut tried = vec![Dual::Identity, Dual::Steps(k), Dual::Marks(k + 1)];
            if 2 * p <= sheet {
                tried.extend([Dual::Threshold(p), Dual::Pieces(p), Dual::Rests(p), Dual::count(&table, &vec![1; table.len()], p, sheet)]);
            }
            for dual in tried {
                let sum: i64 = row.iter().map(|&x| dual.of(x, sheet)).sum();
                prop_assert!(sum <= dual.whole(sheet), "{dual:?} {row:?} on {sheet}");
            }
        }
    }
}
