//! How good a packing is, and what stock is left beside it.
//!
//! Takes filled sheets, gives a value that compares: first what found no place, then the cost of the stock, then
//! what is left of it. Moves nothing.

use super::items::Items;
use super::room::Room;
use std::cmp::Reverse;

/// A packing's worth; less is better, the fields in their order.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Rating {
    /// Weight of the rectangles that are on no sheet.
    pub(super) left_out: i64,
    /// Of the sheets used.
    pub(super) cost: i128,
    /// Square micrometres of the largest rectangle worth keeping that is left of any sheet, or of an untouched
    /// offcut that costs nothing.
    largest: Reverse<i128>,
    /// The same over all sheets, one rectangle of each.
    together: Reverse<i128>,
    /// How many there are: each is work.
    sheets: usize,
    /// Area used on the least filled sheet: what is free is better in one place, even if too small to keep.
    last: i128,
    /// Area of the largest free rectangle on that sheet, worth keeping or not.
    free: Reverse<i128>,
}

impl Rating {
    /// How near a packing is to doing without its least filled sheet, so that a search may start from it.
    pub(super) fn nearness(&self) -> (i64, i128, i128, Reverse<i128>) {
        (self.left_out, self.cost, self.last, self.free)
    }
}

/// Rates a packing. The length of what the tool cuts is not compared: it is that of the parts' contours, which is
/// the same however they lie.
pub(super) fn rating<R: Room>(items: &Items, rooms: &[R]) -> Rating {
    let mut laid_weight = 0;
    let (mut cost, mut largest, mut together) = (0, 0, 0);
    let mut last: Option<(i128, Reverse<i128>)> = None;
    for room in rooms {
        let bin = &items.bins[room.kind()];
        let unused = room.unused();
        let pieces = unused.iter().filter_map(|rest| items.reusable.piece(*rest, bin.usable));
        let piece = pieces.map(|piece| piece.size.area()).max().unwrap_or(0);
        cost += bin.cost;
        largest = largest.max(piece);
        together += piece - bin.kept;
        let mut used = 0;
        for laid in room.laid() {
            laid_weight += items.weight(laid.item);
            used += items.classes[items.class_of[laid.item]].size.area();
        }
        let free = Reverse(unused.iter().map(|rest| rest.size.area()).max().unwrap_or(0));
        last = Some(last.map_or((used, free), |last| last.min((used, free))));
    }
    let shelf = Shelf::after(items, rooms);
    let untouched = items.bins.iter().filter(|bin| shelf.has(bin.number)).map(|bin| bin.kept).max();
    let all: i64 = (0..items.len()).map(|item| items.weight(item)).sum();
    let (last, free) = last.unwrap_or((0, Reverse(0)));
    Rating {
        left_out: all - laid_weight,
        cost,
        largest: Reverse(largest.max(untouched.unwrap_or(0))),
        together: Reverse(together),
        sheets: rooms.len(),
        last,
        free,
    }
}

/// What is left of the stock, by kind.
#[derive(Debug)]
pub(super) struct Shelf {
    left: Vec<usize>,
    /// Kinds, cheapest first, the larger first of those that cost the same.
    by_cost: Vec<usize>,
}

impl Shelf {
    /// The whole stock but for these sheets.
    pub(super) fn after<R: Room>(items: &Items, rooms: &[R]) -> Shelf {
        let mut by_cost: Vec<usize> = (0..items.bins.len()).collect();
        by_cost.sort_by_key(|&kind| (items.bins[kind].cost, Reverse(items.bins[kind].usable.area()), kind));
        let mut shelf = Shelf { left: items.bins.iter().map(|bin| bin.quantity).collect(), by_cost };
        for room in rooms {
            shelf.take(room.kind());
        }
        shelf
    }

    /// Whether there is another of the kind.
    pub(super) fn has(&self, kind: usize) -> bool {
        self.left[kind] > 0
    }

    /// Kinds of which there is another, cheapest first.
    pub(super) fn by_cost(&self) -> Vec<usize> {
        self.by_cost.iter().copied().filter(|&kind| self.has(kind)).collect()
    }

    /// Takes one.
    pub(super) fn take(&mut self, kind: usize) {
        self.left[kind] = self.left[kind].saturating_sub(1);
    }

    /// Puts one back.
    pub(super) fn give_back(&mut self, kind: usize) {
        self.left[kind] = self.left[kind].saturating_add(1);
    }
}
