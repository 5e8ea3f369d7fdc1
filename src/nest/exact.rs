//! Exact answers for a handful of rectangles, by trying everything; for tests.
//!
//! Takes classes and a sheet, gives the fewest sheets, for a router or for a saw; or several kinds of sheet, and
//! gives the least cost. Shares nothing with the search.

use super::bin::Bin;
use super::problem::{Class, Size};
use itertools::Itertools;

/// Fewest sheets, wherever the rectangles may lie: every place on a grid of units is tried. A sheet has 64 units
/// at most.
pub(super) fn fewest_free(classes: &[Class], bin: Size) -> usize {
    let single = singles(classes);
    (0..=single.len()).find(|&n| placeable(&single, &mut vec![(bin, 0_u64); n])).unwrap()
}

/// Least cost and, apart from that, fewest sheets; none if the quantities do not suffice. Every choice of sheets is
/// tried, with no more of a kind than there are rectangles. A defect counts as a taken square.
pub(super) fn cheapest_free(classes: &[Class], bins: &[Bin]) -> Option<(i128, usize)> {
    let single = singles(classes);
    let choices = bins.iter().map(|bin| 0..=bin.quantity.min(single.len()));
    let holding: Vec<Vec<usize>> = choices
        .multi_cartesian_product()
        .filter(|choice| {
            let sheet = |bin: &Bin| {
                let taken = bin.taken.iter().map(|zone| mask(bin.usable, zone.x, zone.y, zone.size));
                (bin.usable, taken.fold(0, |all, zone| all | zone))
            };
            let sheets = bins.iter().zip(choice).flat_map(|(bin, &n)| vec![sheet(bin); n]);
            placeable(&single, &mut sheets.collect())
        })
        .collect();
    let cost =
        |choice: &Vec<usize>| bins.iter().zip(choice).map(|(bin, &n)| bin.cost * n as i128).sum::<i128>();
    let number = |choice: &Vec<usize>| choice.iter().sum::<usize>();
    Some((holding.iter().map(cost).min()?, holding.iter().map(number).min()?))
}

/// Fewest sheets that a saw can cut: for every set of rectangles, the sizes of pieces that hold it, joined from
/// those of any two halves.
pub(super) fn fewest_sawn(classes: &[Class], bin: Size) -> usize {
    let single = singles(classes);
    let sets = 1_usize << single.len();
    let mut pieces: Vec<Vec<Size>> = vec![Vec::new(); sets];
    let mut sheets = vec![0; sets];
    for set in 1..sets {
        if set.is_power_of_two() {
            pieces[set] = single[set.trailing_zeros() as usize].lies(bin).map(|(size, _)| size).collect();
        }
        let mut half = (set - 1) & set;
        while half > 0 {
            let joined = joined(&pieces[half], &pieces[set ^ half], bin);
            pieces[set].extend(joined);
            half = (half - 1) & set;
        }
        pieces[set].sort_unstable();
        pieces[set].dedup();
        sheets[set] = usize::MAX;
        let mut one = set;
        while one > 0 {
            if !pieces[one].is_empty() {
                sheets[set] = sheets[set].min(1 + sheets[set ^ one]);
            }
            one = (one - 1) & set;
        }
    }
    sheets[sets - 1]
}

fn joined(some: &[Size], others: &[Size], bin: Size) -> Vec<Size> {
    let pairs = some.iter().flat_map(|a| others.iter().map(move |b| (a, b)));
    pairs
        .flat_map(|(a, b)| {
            let beside = Size { width: a.width + b.width, height: a.height.max(b.height) };
            let above = Size { width: a.width.max(b.width), height: a.height + b.height };
            [beside, above]
        })
        .filter(|size| size.within(bin))
        .collect()
}

fn singles(classes: &[Class]) -> Vec<Class> {
    classes.iter().flat_map(|class| vec![Class { count: 1, ..*class }; class.count]).collect()
}

/// Whether the rectangles go onto the sheets; of each its size, and the set of taken unit squares.
fn placeable(classes: &[Class], sheets: &mut Vec<(Size, u64)>) -> bool {
    let Some((first, rest)) = classes.split_first() else { return true };
    for i in 0..sheets.len() {
        let (bin, taken) = sheets[i];
        // Of sheets that are alike only the first is worth a try.
        if i > 0 && sheets[i - 1] == sheets[i] {
            continue;
        }
        for (size, _) in first.lies(bin) {
            for y in 0..=bin.height - size.height {
                for x in 0..=bin.width - size.width {
                    let cells = mask(bin, x, y, size);
                    if taken & cells == 0 {
                        sheets[i].1 |= cells;
                        let found = placeable(rest, sheets);
                        sheets[i].1 = taken;
                        if found {
                            return true;
                        }
                    }
                }
            }
        }
    }
    false
}

fn mask(bin: Size, x: i64, y: i64, size: Size) -> u64 {
    let mut cells = 0;
    for row in y..y + size.height {
        for column in x..x + size.width {
            cells |= 1 << (row * bin.width + column);
        }
    }
    cells
}
