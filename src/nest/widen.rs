//! Makes lengths longer where nothing that could lie beside them would fill the room that they leave.
//!
//! Takes, for each rectangle, its lengths along one direction of the sheet, as it lies and turned; gives lengths
//! with which every row that fitted still fits, so that a bound on them is a bound on the packing. Bounded in
//! time: with too many rectangles, or lengths on too fine a grid, it leaves everything as it is.

/// Lengths of one rectangle, as it lies and turned; `None` if it may not lie so.
pub(super) type Lies = [Option<i64>; 2];

/// Words of bits that are shifted at most, to bound the time to some hundredths of a second.
const MOST_WORDS: usize = 40_000_000;

/// Widens the lengths one after the other, the longest first. If the greatest sum of other lengths that fits
/// beside a length x is s, then x may grow to the sheet less s: in a row with x, the others add up to s at most.
/// What was widened before counts with its new length, since every row still fits with it. (Boschetti and
/// Mingozzi 2003, from memory; the argument is our own.)
pub(super) fn widen(table: &mut [Lies], sheet: i64) {
    let step = table.iter().flatten().flatten().fold(0, |step, &x| gcd(step, x));
    if step == 0 {
        return;
    }
    let words = usize::try_from(sheet / step / 64 + 1).unwrap_or(usize::MAX);
    // Two ways to lie for each and for each of the others.
    if table.len().saturating_mul(table.len()).saturating_mul(4).saturating_mul(words) > MOST_WORDS {
        return;
    }
    let mut order: Vec<(usize, usize)> = (0..table.len()).flat_map(|i| [(i, 0), (i, 1)]).collect();
    order.sort_by_key(|&(i, way)| std::cmp::Reverse(table[i][way]));
    for (i, way) in order {
        let Some(x) = table[i][way].filter(|&x| x < sheet) else { continue };
        let others = table.iter().enumerate().filter(|&(other, _)| other != i).map(|(_, lies)| *lies);
        table[i][way] = Some(sheet - greatest_sum(others, sheet - x));
    }
}

/// The greatest sum, at most `room`, of lengths of which each rectangle gives one or none.
fn greatest_sum(others: impl Iterator<Item = Lies> + Clone, room: i64) -> i64 {
    let step = others.clone().flatten().flatten().fold(0, gcd);
    let Some(end) = room.checked_div(step).and_then(|end| usize::try_from(end).ok()) else { return 0 };
    // Bit k stands for the sum of k steps.
    let mut sums = vec![0_u64; end / 64 + 1];
    sums[0] = 1;
    for lies in others {
        let before = sums.clone();
        for x in lies.into_iter().flatten() {
            if let Ok(shift) = usize::try_from(x / step) {
                add(&mut sums, &before, shift);
            }
        }
        if sums[end / 64] >> (end % 64) & 1 == 1 {
            break;
        }
    }
    let reached = (0..=end).rev().find(|&k| sums[k / 64] >> (k % 64) & 1 == 1).unwrap_or(0);
    i64::try_from(reached).unwrap_or(0) * step
}

/// Adds the sums that come of the sums before with one more length of so many steps.
fn add(sums: &mut [u64], before: &[u64], shift: usize) {
    let (words, bits) = (shift / 64, shift % 64);
    for k in words..sums.len() {
        let low = before[k - words] << bits;
        let carried = if bits > 0 && k > words { before[k - words - 1] >> (64 - bits) } else { 0 };
        sums[k] |= low | carried;
    }
}

fn gcd(a: i64, b: i64) -> i64 {
    if b == 0 { a } else { gcd(b, a % b) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn what_nothing_can_fill_up_is_added() {
        // Beside 60, on 100, only one of 30 goes: 60 may be 70. Then beside 30 stand 30 or 70.
        let mut table = [[Some(60), None], [Some(30), None], [Some(30), None]];
        widen(&mut table, 100);
        assert_eq!(table, [[Some(70), None], [Some(30), None], [Some(30), None]]);
        // Turned, the second could be 40 long and fill the row.
        let mut table = [[Some(60), None], [Some(30), Some(40)]];
        widen(&mut table, 100);
        assert_eq!(table[0], [Some(60), None]);
    }

    #[test]
    fn nothing_at_all_and_too_much_stay_as_they_are() {
        widen(&mut [], 100);
        let mut fine: Vec<Lies> = (0..500).map(|i| [Some(1_000_003 + i), None]).collect();
        let before = fine.clone();
        widen(&mut fine, 1_000_000_000);
        assert_eq!(fine, before);
    }

    proptest! {
        /// Every choice of rectangles and ways to lie that fits a row fits with the new lengths.
        #[test]
        fn rows_that_fit_still_fit(
            sheet in 5_i64..150, lengths in prop::collection::vec((1_i64..60, 1_i64..60, any::<bool>()), 1..7),
        ) {
            let table: Vec<Lies> =
                lengths.iter().map(|&(a, b, turns)| [Some(a), turns.then_some(b)]).collect();
            let mut wide = table.clone();
            widen(&mut wide, sheet);
            for choice in 0..3_usize.pow(u32::try_from(table.len()).unwrap()) {
                let sum = |table: &[Lies]| -> i64 {
                    let way = |i: usize| choice / 3_usize.pow(u32::try_from(i).unwrap()) % 3;
                    (0..table.len()).filter_map(|i| table[i].get(way(i)).copied().flatten()).sum()
                };
                prop_assert!(sum(&table) > sheet || sum(&wide) <= sheet, "{table:?} {wide:?}");
            }
        }
    }
}
