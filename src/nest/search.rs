//! The search for a packing: many plain ways of filling sheets one after the other, and the best of them.
//!
//! Takes classes of rectangles and one kind of sheet, gives the spots on each sheet. A way is an order of the
//! rectangles, a rule for the place and a habit of turning. No clock and no random number: the number of ways
//! tried falls with the number of rectangles, so that the work stays bounded.

use super::free_space::{Fit, FreeSpace, Rect, Score};
use super::problem::{Class, Size, Spot};
use super::skyline::Skyline;
use std::cmp::Reverse;

/// In which order rectangles are offered to a sheet: greatest first.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Order {
    Area,
    LongestSide,
    ShortestSide,
    Perimeter,
    Width,
    Height,
    Slenderness,
}

/// How the place is chosen.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Rule {
    /// Among all largest free rectangles.
    Free(Fit),
    /// On the line along the upper edges.
    Skyline,
    /// The same with the sheet on its side: the line runs along the right edges.
    SkylineAcross,
}

/// How a rectangle that may be turned is laid.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Habit {
    /// Whichever way the rule likes better.
    Either,
    /// Long side along the sheet; the other way only where that has no place.
    Lying,
    /// Long side across the sheet; the other way only where that has no place.
    Standing,
}

/// One way of filling sheets.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Way {
    order: Order,
    rule: Rule,
    habit: Habit,
}

/// Orders, those that give the best packing most often first (as measured on random kits).
const ORDERS: [Order; 7] = [
    Order::Area,
    Order::LongestSide,
    Order::Perimeter,
    Order::ShortestSide,
    Order::Width,
    Order::Height,
    Order::Slenderness,
];

/// Rules, in the same sense.
const RULES: [Rule; 6] = [
    Rule::Free(Fit::ShortSide),
    Rule::Free(Fit::Low),
    Rule::Free(Fit::Left),
    Rule::Free(Fit::Area),
    Rule::Skyline,
    Rule::SkylineAcross,
];

/// Habits, in the same sense.
const HABITS: [Habit; 3] = [Habit::Either, Habit::Lying, Habit::Standing];

/// The spots on each sheet.
pub(super) type Layout = Vec<Vec<Spot>>;

/// The best packing found: fewest sheets, then least area on the least filled sheet, then the largest free
/// rectangle kept on it. The least filled sheet comes last. Every class must fit an empty sheet.
pub(super) fn pack(classes: &[Class], bin: Size) -> Layout {
    let count: usize = classes.iter().map(|class| class.count).sum();
    let mut best: Option<(Cost, Layout)> = None;
    for way in ways(classes, count) {
        let mut layout = fill_sheets(classes, bin, way);
        layout.sort_by_key(|spots| Reverse(used(classes, spots)));
        let cost = cost(classes, bin, &layout);
        if best.as_ref().is_none_or(|(least, _)| cost < *least) {
            best = Some((cost, layout));
        }
    }
    best.map(|(_, layout)| layout).unwrap_or_default()
}

/// Sheets, area used on the last one, largest rectangle left free on it.
type Cost = (usize, i128, Reverse<i128>);

fn cost(classes: &[Class], bin: Size, layout: &Layout) -> Cost {
    let last = layout.last().map(Vec::as_slice).unwrap_or_default();
    let mut space = FreeSpace::new(bin);
    for spot in last {
        space.occupy(rect_of(classes, *spot));
    }
    (layout.len(), used(classes, last), Reverse(space.largest()))
}

fn used(classes: &[Class], spots: &[Spot]) -> i128 {
    spots.iter().map(|spot| classes[spot.class].size.area()).sum()
}

fn rect_of(classes: &[Class], spot: Spot) -> Rect {
    let size = classes[spot.class].size;
    Rect { x: spot.x, y: spot.y, size: if spot.turned { size.turned() } else { size } }
}

/// The ways to try for so many rectangles: all up to 300, then fewer, so that the time grows little faster
/// than with the number of rectangles times the number of sheets.
fn ways(classes: &[Class], count: usize) -> impl Iterator<Item = Way> {
    let limit = match count {
        0..=300 => usize::MAX,
        301..=1_000 => 42,
        1_001..=3_000 => 18,
        3_001..=10_000 => 6,
        _ => 2,
    };
    // Without a turn the habits are all the same.
    let habits = if classes.iter().any(|class| class.free) { &HABITS[..] } else { &HABITS[..1] };
    let mut ways = Vec::new();
    for &habit in habits {
        for &rule in &RULES {
            ways.extend(ORDERS.iter().map(move |&order| Way { order, rule, habit }));
        }
    }
    // A diagonal through orders and rules first, so that a short list still has some of each.
    let n_orders = ORDERS.len();
    ways.sort_by_key(|way| {
        let at = |found: Option<usize>| found.unwrap_or(0);
        let order = at(ORDERS.iter().position(|order| *order == way.order));
        let rule = at(RULES.iter().position(|rule| *rule == way.rule));
        let habit = at(HABITS.iter().position(|habit| *habit == way.habit));
        (order + rule + 2 * habit) * n_orders + order
    });
    ways.into_iter().take(limit)
}

/// Fills one sheet after the other. To offer everything that is left to a sheet before the next one is begun
/// gives the same as putting each rectangle on the first sheet that has a place, sheets being independent.
fn fill_sheets(classes: &[Class], bin: Size, way: Way) -> Layout {
    let mut order: Vec<usize> = (0..classes.len()).collect();
    order.sort_by_key(|&class| (Reverse(rank(classes[class].size, way.order)), class));
    let mut left: Vec<usize> = classes.iter().map(|class| class.count).collect();
    let mut layout = Layout::new();
    while !order.is_empty() {
        let spots = fill_sheet(classes, &order, &mut left, bin, way);
        if spots.is_empty() {
            // Only a class that fits no empty sheet could bring this about; it must not loop for ever.
            break;
        }
        layout.push(spots);
        order.retain(|&class| left[class] > 0);
    }
    layout
}

fn rank(size: Size, order: Order) -> i128 {
    let (width, height) = (i128::from(size.width), i128::from(size.height));
    match order {
        Order::Area => width * height,
        Order::LongestSide => width.max(height) * LONGEST + width.min(height),
        Order::ShortestSide => width.min(height) * LONGEST + width.max(height),
        Order::Perimeter => width + height,
        Order::Width => width * LONGEST + height,
        Order::Height => height * LONGEST + width,
        Order::Slenderness => (width - height).abs() * LONGEST + width * height / LONGEST,
    }
}

/// More than any side in micrometres, to rank by one side and then by the other.
const LONGEST: i128 = 1 << 32;

/// Offers what is left to one empty sheet, in order. A class that once has no place is not offered again: free
/// room only shrinks.
fn fill_sheet(classes: &[Class], order: &[usize], left: &mut [usize], bin: Size, way: Way) -> Vec<Spot> {
    let mut room = Room::new(bin, way.rule);
    let mut spots = Vec::new();
    for &index in order {
        while left[index] > 0 {
            let Some((place, turned)) = room.place(classes[index], bin, way.habit) else { break };
            spots.push(Spot { class: index, x: place.x, y: place.y, turned });
            left[index] -= 1;
        }
    }
    spots
}

/// The free room of a sheet in the form that the rule works on.
enum Room {
    Free(FreeSpace, Fit),
    Line(Skyline),
    /// The line of the sheet on its side: everything goes in and comes out with x and y exchanged.
    LineAcross(Skyline),
}

impl Room {
    fn new(bin: Size, rule: Rule) -> Self {
        match rule {
            Rule::Free(fit) => Room::Free(FreeSpace::new(bin), fit),
            Rule::Skyline => Room::Line(Skyline::new(bin)),
            Rule::SkylineAcross => Room::LineAcross(Skyline::new(bin.turned())),
        }
    }

    /// Finds a place and takes it: (rectangle, turned).
    fn place(&mut self, class: Class, bin: Size, habit: Habit) -> Option<(Rect, bool)> {
        let found = class.lies(bin).filter_map(|(size, turned)| {
            let (score, rect) = self.find(size)?;
            let against_habit = match habit {
                Habit::Either => false,
                Habit::Lying => size.width < size.height,
                Habit::Standing => size.width > size.height,
            };
            Some((against_habit, score, turned, rect))
        });
        let (_, _, turned, rect) =
            found.min_by_key(|&(against, score, turned, _)| (against, score, turned))?;
        match self {
            Room::Free(space, _) => space.occupy(rect),
            Room::Line(line) => line.occupy(rect),
            Room::LineAcross(line) => line.occupy(across(rect)),
        }
        Some((rect, turned))
    }

    fn find(&self, size: Size) -> Option<(Score, Rect)> {
        match self {
            Room::Free(space, fit) => space.find(size, *fit),
            Room::Line(line) => line.find(size),
            Room::LineAcross(line) => line.find(size.turned()).map(|(score, rect)| (score, across(rect))),
        }
    }
}

/// The rectangle with x and y exchanged.
fn across(rect: Rect) -> Rect {
    Rect { x: rect.y, y: rect.x, size: rect.size.turned() }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn class(width: i64, height: i64, free: bool, count: usize) -> Class {
        Class { size: Size { width, height }, free, count }
    }

    #[test]
    fn every_way_places_everything() {
        let classes = [class(5, 3, true, 7), class(4, 4, false, 3), class(2, 6, true, 5)];
        let bin = Size { width: 10, height: 7 };
        let all: Vec<Way> = ways(&classes, 15).collect();
        assert_eq!(all.len(), ORDERS.len() * RULES.len() * HABITS.len());
        for way in all {
            let layout = fill_sheets(&classes, bin, way);
            let mut counts = [0; 3];
            layout.iter().flatten().for_each(|spot| counts[spot.class] += 1);
            assert_eq!(counts, [7, 3, 5], "{way:?}");
        }
    }

    #[test]
    fn a_short_list_of_ways_has_several_orders_and_rules() {
        let classes = [class(5, 3, true, 5_000)];
        let few: Vec<Way> = ways(&classes, 5_000).collect();
        assert_eq!(few.len(), 6);
        assert!(few.iter().any(|way| way.rule != few[0].rule));
        assert!(few.iter().any(|way| way.order != few[0].order));
    }

    #[test]
    fn without_a_turn_nothing_is_turned() {
        let classes = [class(5, 3, false, 9)];
        let layout = pack(&classes, Size { width: 6, height: 12 });
        assert!(layout.iter().flatten().all(|spot| !spot.turned));
        assert_eq!(layout.len(), 3);
    }

    #[test]
    fn the_least_filled_sheet_comes_last() {
        let classes = [class(6, 6, true, 2), class(3, 3, true, 3)];
        let layout = pack(&classes, Size { width: 9, height: 9 });
        let counts: Vec<i128> = layout.iter().map(|spots| used(&classes, spots)).collect();
        assert_eq!(counts, [36 + 27, 36]);
    }
}
