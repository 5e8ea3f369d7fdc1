//! A kind of sheet as the search sees it: what is usable of it, what it costs, how many there are.
//!
//! Takes a stock sheet and clearances, gives whole micrometres, rounded to the safe side, the gap already in
//! them as in `problem.rs`. Places nothing.
//!
//! A defect counts as a part that already lies there: others keep the gap from it, so that the tool stays out
//! of it too (a nail, a clamp, a chipped corner).

use super::free_space::unoccupied;
use super::problem::{Class, Size, down, up};
use super::room::Rect;
use super::slices::LEAST_STAGES;
use super::{CostBy, Cutting, Stock, Zone};
use std::sync::Arc;

/// A kind of sheet.
#[derive(Clone, Debug)]
pub(super) struct Bin {
    /// Its place among the kinds.
    pub(super) number: usize,
    /// Index into the stock that was given.
    pub(super) stock: usize,
    /// What is left of it inside the trim, grown by the gap.
    pub(super) usable: Size,
    /// Its defects, grown by the gap.
    pub(super) taken: Vec<Rect>,
    /// The largest free rectangles of an empty sheet; they overlap.
    pub(super) free: Arc<[Rect]>,
    /// An empty sheet cut from edge to edge into rectangles without a defect; they do not overlap.
    pub(super) strips: Arc<[Strip]>,
    /// What one costs: thousandths of the currency, or square micrometres of the whole sheet.
    pub(super) cost: i128,
    /// How many there are; `usize::MAX` for any number.
    pub(super) quantity: usize,
    /// Square micrometres that the shop could have kept if the sheet is not used: the whole of an offcut that
    /// costs nothing. Of what is bought nothing is kept by not buying it.
    pub(super) kept: i128,
}

/// A piece of a sheet that a saw cuts out between defects.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Strip {
    /// Where it lies on the usable sheet.
    pub(super) rect: Rect,
    /// Most stages of cuts once it is cut out.
    pub(super) stages: usize,
}

/// Thousandths: prices are compared as whole numbers.
const PER_UNIT: f64 = 1000.0;

impl CostBy {
    /// Prices decide if everything has one that is no offcut, and anything has one at all.
    pub(super) fn of(stock: &[Stock]) -> CostBy {
        let priced = stock.iter().any(|kind| kind.price.is_some());
        if priced && stock.iter().all(|kind| kind.price.is_some() || kind.offcut) {
            CostBy::Price
        } else {
            CostBy::Area
        }
    }

    /// The cost as a number for people: currency, or mm2.
    pub(super) fn shown(self, cost: i128) -> f64 {
        match self {
            CostBy::Price => cost as f64 / PER_UNIT,
            CostBy::Area => cost as f64 / 1e6,
        }
    }
}

impl Bin {
    /// The kind; none if trim leaves nothing of it, or if there is none.
    pub(super) fn new(
        index: usize,
        kind: &Stock,
        gap: i64,
        trim: i64,
        by: CostBy,
        stages: usize,
    ) -> Option<Bin> {
        let whole = Size { width: down(kind.length)?, height: down(kind.width)? };
        let inside = Size { width: whole.width - 2 * trim, height: whole.height - 2 * trim };
        let quantity = kind.quantity.unwrap_or(usize::MAX);
        if inside.width <= 0 || inside.height <= 0 || quantity == 0 {
            return None;
        }
        let usable = Size { width: inside.width + gap, height: inside.height + gap };
        let taken: Vec<Rect> =
            kind.defects.iter().map(|zone| taken(*zone, gap, trim)).collect::<Option<_>>()?;
        let owned = kind.offcut && kind.price.is_none();
        let cost = match by {
            _ if owned => 0,
            CostBy::Price => i128::from(up(kind.price?)?),
            CostBy::Area => whole.area(),
        };
        let mut strips = Vec::new();
        let all = Rect { x: 0, y: 0, size: usable };
        part_around(all, &taken, stages.max(LEAST_STAGES), &mut strips);
        let kept = if owned { whole.area() } else { 0 };
        let free = unoccupied(usable, &taken).into();
        Some(Bin {
            number: 0,
            stock: index,
            usable,
            taken,
            free,
            strips: strips.into(),
            cost,
            quantity,
            kept,
        })
    }

    /// The kind with another usable size, all of it free: as a bound may see it.
    pub(super) fn with_usable(&self, usable: Size) -> Bin {
        let all = Rect { x: 0, y: 0, size: usable };
        let strips = Arc::new([Strip { rect: all, stages: usize::MAX }]);
        Bin { usable, taken: Vec::new(), free: Arc::new([all]), strips, ..self.clone() }
    }

    /// Whether one of the class goes on an empty sheet.
    pub(super) fn holds(&self, class: Class, cutting: Cutting) -> bool {
        match cutting {
            Cutting::Free => self.free.iter().any(|free| class.fits(free.size)),
            Cutting::Guillotine => self.strips.iter().any(|strip| class.fits(strip.rect.size)),
        }
    }
}

/// The zone grown by the gap as a part is, from the lower left corner of the usable sheet.
fn taken(zone: Zone, gap: i64, trim: i64) -> Option<Rect> {
    let (x, y) = (down(zone.x)?, down(zone.y)?);
    let (right, top) = (up(zone.x + zone.length)?, up(zone.y + zone.width)?);
    let size = Size { width: right - x + gap, height: top - y + gap };
    Some(Rect { x: x - trim, y: y - trim, size })
}

/// Cuts a piece along one taken zone, either way, whichever leaves the larger single piece, and then on. Two cuts
/// go through the piece at the zone's sides, two more, in a stage of their own, through the stripe between them. A
/// piece for which too few stages are left then is no strip.
fn part_around(piece: Rect, taken: &[Rect], stages: usize, strips: &mut Vec<Strip>) {
    let Some(zone) = taken.iter().find(|zone| zone.overlaps(piece)) else {
        if stages >= LEAST_STAGES {
            strips.push(Strip { rect: piece, stages });
        }
        return;
    };
    let upright = around(piece, *zone);
    let level = around(piece.mirrored(), zone.mirrored()).map(Rect::mirrored);
    let largest = |pieces: &[Rect]| pieces.iter().map(|piece| piece.size.area()).max();
    let pieces = if largest(&upright) >= largest(&level) { upright } else { level };
    for (piece, used) in pieces.into_iter().zip([1, 1, 2, 2]) {
        if piece.size.width > 0 && piece.size.height > 0 {
            let left = if stages == usize::MAX { stages } else { stages.saturating_sub(used) };
            part_around(piece, taken, left, strips);
        }
    }
}

/// Left and right of the zone over the whole height, and below and above it between those. Some have no extent.
fn around(piece: Rect, zone: Rect) -> [Rect; 4] {
    let (left, right) = (zone.x.max(piece.x), zone.right().min(piece.right()));
    let between = |x: i64, end: i64, y: i64, top: i64| Rect {
        x,
        y,
        size: Size { width: (end - x).max(0), height: (top - y).max(0) },
    };
    [
        between(piece.x, left, piece.y, piece.top()),
        between(right, piece.right(), piece.y, piece.top()),
        between(left, right, piece.y, zone.y),
        between(left, right, zone.top(), piece.top()),
    ]
}

/// What of a sheet is worth keeping, micrometres.
#[derive(Clone, Copy, Debug)]
pub(super) struct Reusable {
    gap: i64,
    trim: i64,
    /// Shorter and longer side.
    smallest: (i64, i64),
}

impl Reusable {
    /// From the least size in mm, either way round.
    pub(super) fn new(gap: i64, trim: i64, (a, b): (f64, f64)) -> Self {
        let (a, b) = (up(a).unwrap_or(i64::MAX), up(b).unwrap_or(i64::MAX));
        Reusable { gap, trim, smallest: (a.min(b), a.max(b)) }
    }

    /// A free rectangle as it is once cut off, from the corner of the whole sheet: the gap to what lies at its
    /// right and above is the tool's, and the trim along the sheet's edge belongs to the piece. None if it is
    /// too small to keep.
    pub(super) fn piece(&self, free: Rect, usable: Size) -> Option<Rect> {
        let edge = |at_edge: bool| if at_edge { self.trim } else { 0 };
        let (left, below) = (edge(free.x == 0), edge(free.y == 0));
        let (right, above) = (edge(free.right() == usable.width), edge(free.top() == usable.height));
        let size = Size {
            width: free.size.width - self.gap + left + right,
            height: free.size.height - self.gap + below + above,
        };
        let (shorter, longer) = (size.width.min(size.height), size.width.max(size.height));
        let kept = shorter >= self.smallest.0.max(1) && longer >= self.smallest.1;
        kept.then_some(Rect { x: self.trim + free.x - left, y: self.trim + free.y - below, size })
    }
}

#[cfg(test)]
impl Bin {
    /// One kind of sheet alone, without gap, trim and defects; it costs its area.
    pub(super) fn plain(usable: Size) -> Bin {
        let whole: Arc<[Rect]> = Arc::new([Rect { x: 0, y: 0, size: usable }]);
        Bin {
            number: 0,
            stock: 0,
            usable,
            taken: Vec::new(),
            free: Arc::clone(&whole),
            strips: Arc::new([Strip { rect: whole[0], stages: usize::MAX }]),
            cost: usable.area(),
            quantity: usize::MAX,
            kept: 0,
        }
    }

    /// The same, to be cut in so many stages.
    pub(super) fn in_stages(self, stages: usize) -> Bin {
        let strips = self.strips.iter().map(|strip| Strip { stages, ..*strip }).collect();
        Bin { strips, ..self }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn rect(x: i64, y: i64, width: i64, height: i64) -> Rect {
        Rect { x, y, size: Size { width, height } }
    }

    fn stock(price: Option<f64>, offcut: bool) -> Stock {
        Stock { length: 2.0, width: 1.0, price, offcut, ..Stock::default() }
    }

    #[test]
    fn prices_decide_only_if_all_that_is_bought_has_one() {
        let by = |kinds: &[(Option<f64>, bool)]| {
            let kinds: Vec<Stock> = kinds.iter().map(|&(price, offcut)| stock(price, offcut)).collect();
            let cost = |kind| Bin::new(0, kind, 0, 0, CostBy::of(&kinds), usize::MAX).unwrap().cost;
            (CostBy::of(&kinds), kinds.iter().map(cost).collect::<Vec<_>>())
        };
        assert_eq!(by(&[(Some(40.5), false), (Some(60.0), false)]), (CostBy::Price, vec![40_500, 60_000]));
        assert_eq!(by(&[(Some(40.5), false), (None, true)]), (CostBy::Price, vec![40_500, 0]));
        // 2 mm x 1 mm are 2e6 square micrometres.
        assert_eq!(by(&[(Some(40.5), false), (None, false)]), (CostBy::Area, vec![2_000_000, 2_000_000]));
        assert_eq!(by(&[(None, false), (None, true)]), (CostBy::Area, vec![2_000_000, 0]));
    }

    #[test]
    fn a_defect_keeps_the_gap_as_a_part_does() {
        let defects = vec![Zone { x: 40.0, y: 30.0, length: 20.0, width: 10.0 }];
        let kind = Stock { length: 100.0, width: 80.0, defects, ..Stock::default() };
        let sawn = |stages| Bin::new(0, &kind, 4_000, 5_000, CostBy::Area, stages).unwrap();
        let bin = sawn(usize::MAX);
        // Inside the trim 90 x 70, with the gap 94 x 74; the zone at 35, 25, with the gap 24 x 14.
        let left = rect(0, 0, 35_000, 74_000);
        let right = rect(59_000, 0, 35_000, 74_000);
        let (below, above) = (rect(0, 0, 94_000, 25_000), rect(0, 39_000, 94_000, 35_000));
        assert_eq!(&bin.free[..], [left, right, below, above]);
        // Below and above over the whole length have 94 x 35 as the largest; left and right only 35 x 74.
        let beside = [rect(0, 25_000, 35_000, 14_000), rect(59_000, 25_000, 35_000, 14_000)];
        let strips =
            |bin: &Bin| bin.strips.iter().map(|strip| (strip.rect, strip.stages)).collect::<Vec<_>>();
        assert_eq!(strips(&bin), [below, above, beside[0], beside[1]].map(|rect| (rect, usize::MAX)));
        // Below and above are cut out in one stage, what lies beside in two; with fewer than two left, a part of its
        // own size could not be had.
        assert_eq!(strips(&sawn(4)), [(below, 3), (above, 3), (beside[0], 2), (beside[1], 2)]);
        assert_eq!(strips(&sawn(3)), [(below, 2), (above, 2)]);
    }

    #[test]
    fn a_piece_is_what_is_cut_off() {
        let reusable = Reusable::new(4, 10, (0.03, 0.05));
        let usable = Size { width: 104, height: 84 };
        // At the right edge: from the tool's path to the sheet's own edge, over its whole width.
        let piece = reusable.piece(rect(60, 0, 44, 84), usable).unwrap();
        assert_eq!(piece, rect(70, 0, 50, 100));
        // In the middle the tool takes the gap on the right and above; 26 is too little, 30 is enough.
        assert_eq!(reusable.piece(rect(20, 20, 30, 54), usable), None);
        assert_eq!(reusable.piece(rect(20, 20, 34, 54), usable), Some(rect(30, 30, 30, 50)));
    }

    proptest! {
        /// Strips do not overlap, meet no taken zone, and fill the rest of the sheet.
        #[test]
        fn strips_fill_what_is_not_taken(
            zones in prop::collection::vec((0_i64..12, 0_i64..9, 1_i64..5, 1_i64..5), 0..4),
        ) {
            let taken: Vec<Rect> = zones.into_iter().map(|(x, y, w, h)| rect(x, y, w, h)).collect();
            let mut strips = Vec::new();
            part_around(rect(0, 0, 12, 9), &taken, usize::MAX, &mut strips);
            let strips: Vec<Rect> = strips.into_iter().map(|strip| strip.rect).collect();
            for x in 0..12 {
                for y in 0..9 {
                    let unit = rect(x, y, 1, 1);
                    let on = |rects: &[Rect]| rects.iter().filter(|rect| rect.overlaps(unit)).count();
                    prop_assert_eq!(on(&strips), usize::from(on(&taken) == 0), "at {}, {}", x, y);
                }
            }
        }
    }
}
