//! What is proved of rectangles whose gap counts straight from contour to contour.
//!
//! Takes classes and kinds of sheet as the search has them, the gap put on both of their sides; gives bounds. The search
//! keeps the gap along the sheet or across it, which is more than it must: corner to corner two parts may come nearer
//! both ways, and no bound may rest on what only the search keeps to. Places nothing.

use super::Cutting;
use super::bin::Bin;
use super::cost_bound::{self, Bounds};
use super::problem::{Class, Size};

/// Bounds for these classes however they lie. `most` is what they are for rectangles that keep the gap along or across:
/// nothing better comes of trying on once that is proved.
///
/// Two rectangles at least the gap apart are b apart along the sheet or a apart across it, for any a and b with
/// a2 + b2 at most the gap's square: if both fell short, the straight distance would be less than the gap. So grown by b
/// along and a across they do not overlap, on a sheet grown likewise, and what is proved of those holds. With b the whole
/// gap and a none this says all that there is to say of parts beside each other, with a the whole of parts above each
/// other.
pub(super) fn bounds(classes: &[Class], bins: &[Bin], gap: i64, most: Bounds) -> Bounds {
    let mut proved = Bounds { cost: 0, sheets: 0 };
    for (along, across) in splits(gap) {
        if proved.sheets >= most.sheets && proved.cost >= most.cost {
            break;
        }
        let grown = |size: Size| Size { width: size.width - gap + along, height: size.height - gap + across };
        let classes: Vec<Class> = classes.iter().map(|class| shrunk(*class, gap, (along, across))).collect();
        let bins: Vec<Bin> = bins.iter().map(|bin| bin.with_usable(grown(bin.usable))).collect();
        let found = cost_bound::bounds(&classes, &bins, Cutting::Free);
        proved.sheets = proved.sheets.max(found.sheets);
        proved.cost = proved.cost.max(found.cost);
    }
    proved
}

/// Pairs of shares of the gap, along and across, whose squares add up to no more than its own.
fn splits(gap: i64) -> Vec<(i64, i64)> {
    if gap == 0 {
        return vec![(0, 0)];
    }
    let half = (gap * gap / 2).isqrt();
    let (four_fifths, three_fifths) = (gap * 4 / 5, gap * 3 / 5);
    vec![(gap, 0), (0, gap), (half, half), (four_fifths, three_fifths), (three_fifths, four_fifths)]
}

/// The class grown by shares of the gap. One that may be turned grows by the lesser share both ways: so it is within
/// what it would be either way round.
fn shrunk(class: Class, gap: i64, (along, across): (i64, i64)) -> Class {
    let least = along.min(across);
    let (along, across) = if class.free { (least, least) } else { (along, across) };
    let size = Size { width: class.size.width - gap + along, height: class.size.height - gap + across };
    Class { size, ..class }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn proved(sizes: &[(i64, i64, bool)], sheet: (i64, i64), gap: i64) -> usize {
        let size = |width, height| Size { width: width + gap, height: height + gap };
        let class = |&(w, h, free): &(i64, i64, bool)| Class { size: size(w, h), free, count: 1 };
        let classes: Vec<Class> = sizes.iter().map(class).collect();
        let bins = [Bin::plain(size(sheet.0, sheet.1))];
        let most = cost_bound::bounds(&classes, &bins, Cutting::Free);
        bounds(&classes, &bins, gap, most).sheets
    }

    /// Squares of 40 in opposite corners of 85 x 85 are 5 apart along and across, 7.07 straight: with a gap of 7 both go
    /// on one sheet, though their grown boxes (47 of 92) overlap.
    #[test]
    fn corner_to_corner_is_not_promised_a_second_sheet() {
        let two = [(40, 40, false), (40, 40, false)];
        assert_eq!(proved(&two, (85, 85), 7), 1);
        // As boxes that keep the gap along or across they need two.
        let classes = [Class { size: Size { width: 47, height: 47 }, free: false, count: 2 }];
        let by_boxes =
            cost_bound::bounds(&classes, &[Bin::plain(Size { width: 92, height: 92 })], Cutting::Free);
        assert_eq!(by_boxes.sheets, 2);
    }

    #[test]
    fn beside_and_above_each_other_the_whole_gap_counts() {
        // Three of 800 with gap 8 on 2400 in one row, and likewise in one column.
        assert_eq!(proved(&[(800, 1000, false); 3], (2400, 1000), 8), 2);
        assert_eq!(proved(&[(1000, 800, false); 3], (1000, 2400), 8), 2);
        assert_eq!(proved(&[(800, 1000, false); 3], (2416, 1000), 8), 1);
    }

    proptest! {
        /// A straight distance of the gap is enough for the grown rectangles to be apart.
        #[test]
        fn what_is_apart_stays_apart(gap in 1_i64..10_000, dx in 0_i64..10_000, dy in 0_i64..10_000) {
            prop_assume!(dx * dx + dy * dy >= gap * gap);
            for (along, across) in splits(gap) {
                prop_assert!(dx >= along || dy >= across, "{along} {across}");
            }
        }
    }
}
