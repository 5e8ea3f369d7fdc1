//! The rectangles one by one, with what the search wants to know of each in a table.
//!
//! Takes classes and kinds of sheet; gives numbers to the rectangles, those of one class side by side, and
//! turns finished rooms back into spots. Never places anything.

use super::bin::{Bin, Reusable};
use super::problem::{Class, Size, Spot};
use super::room::Room;

/// In which order rectangles are offered to sheets: greatest first.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Order {
    Area,
    LongestSide,
    ShortestSide,
    Perimeter,
    Width,
    Height,
}

/// Orders, those that alone do best first: measured on 116 random kits of 20 to 1,000 parts.
pub(super) const ORDERS: [Order; 6] =
    [Order::ShortestSide, Order::Area, Order::Height, Order::LongestSide, Order::Perimeter, Order::Width];

/// The weight of the largest kind of sheet; a rectangle weighs its share of that.
pub(super) const SHEET_WEIGHT: i64 = 1 << 20;

/// The rectangles to be laid.
#[derive(Debug)]
pub(super) struct Items {
    /// What they are.
    pub(super) classes: Vec<Class>,
    /// The kinds of sheet, by number.
    pub(super) bins: Vec<Bin>,
    /// For each kind, the area of a sheet in shares of the largest kind's: see [`SHEET_WEIGHT`]. At least 1.
    pub(super) capacities: Vec<i64>,
    /// What of a sheet is worth keeping.
    pub(super) reusable: Reusable,
    /// The class of each rectangle.
    pub(super) class_of: Vec<usize>,
    /// For each class, the sizes in which it may lie on one of the sheets.
    pub(super) lies: Vec<Vec<Size>>,
    /// For each class, the area of one, in shares of the largest sheet's: see [`SHEET_WEIGHT`]. At least 1.
    pub(super) weights: Vec<i64>,
    /// For each of [`ORDERS`], the rank of each class: 0 is offered first.
    pub(super) ranks: Vec<Vec<usize>>,
}

impl Items {
    /// The table for these classes, each of which must fit an empty sheet of one of the kinds.
    pub(super) fn new(classes: &[Class], bins: &[Bin], reusable: Reusable) -> Self {
        let largest = bins.iter().map(|bin| bin.usable.area()).max().unwrap_or(0).max(1);
        let share = |size: Size| {
            let share = size.area() * i128::from(SHEET_WEIGHT) / largest;
            i64::try_from(share).unwrap_or(SHEET_WEIGHT).max(1)
        };
        let weight = |class: &Class| share(class.size);
        let ranks = ORDERS.map(|order| {
            let mut sorted: Vec<usize> = (0..classes.len()).collect();
            sorted.sort_by_key(|&class| (std::cmp::Reverse(measure(classes[class].size, order)), class));
            let mut ranks = vec![0; classes.len()];
            sorted.into_iter().enumerate().for_each(|(rank, class)| ranks[class] = rank);
            ranks
        });
        Items {
            bins: bins.to_vec(),
            capacities: bins.iter().map(|bin| share(bin.usable)).collect(),
            reusable,
            class_of: classes.iter().enumerate().flat_map(|(i, class)| vec![i; class.count]).collect(),
            lies: classes.iter().map(|class| lies(*class, bins)).collect(),
            weights: classes.iter().map(weight).collect(),
            ranks: ranks.to_vec(),
            classes: classes.to_vec(),
        }
    }

    /// How many there are.
    pub(super) fn len(&self) -> usize {
        self.class_of.len()
    }

    /// The weight of one rectangle.
    pub(super) fn weight(&self, item: usize) -> i64 {
        self.weights[self.class_of[item]]
    }

    /// What lies on a sheet.
    pub(super) fn spots(&self, room: &impl Room) -> Vec<Spot> {
        let spot = |laid: super::room::Laid| {
            let class = self.class_of[laid.item];
            let turned = laid.rect.size != self.classes[class].size;
            Spot { class, x: laid.rect.x, y: laid.rect.y, turned }
        };
        room.laid().into_iter().map(spot).collect()
    }
}

/// The sizes in which the class may lie on any of the sheets.
fn lies(class: Class, bins: &[Bin]) -> Vec<Size> {
    let mut lies: Vec<(bool, Size)> =
        bins.iter().flat_map(|bin| class.lies(bin.usable)).map(|(size, turned)| (turned, size)).collect();
    lies.sort_unstable();
    lies.dedup();
    lies.into_iter().map(|(_, size)| size).collect()
}

/// What an order goes by.
fn measure(size: Size, order: Order) -> i128 {
    let (width, height) = (i128::from(size.width), i128::from(size.height));
    match order {
        Order::Area => width * height,
        Order::LongestSide => width.max(height) * LONGEST + width.min(height),
        Order::ShortestSide => width.min(height) * LONGEST + width.max(height),
        Order::Perimeter => width + height,
        Order::Width => width * LONGEST + height,
        Order::Height => height * LONGEST + width,
    }
}

/// More than any side in micrometres, to rank by one side and then by the other.
const LONGEST: i128 = 1 << 32;

/// What the weights on one sheet may add up to above its own by rounding: each is off by less than one.
pub(super) const ROUNDING: i64 = 1 << 10;

#[cfg(test)]
impl Items {
    /// On one kind of sheet without gap and trim.
    pub(super) fn plain(classes: &[Class], bin: Size) -> Self {
        Items::new(classes, &[Bin::plain(bin)], Reusable::new(0, 0, (0.0, 0.0)))
    }
}
