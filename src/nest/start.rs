//! The first packing: many plain ways of filling sheets one after the other, and the best of them.
//!
//! Takes the rectangles and one kind of sheet, gives filled rooms. A way is an order of the rectangles, a rule
//! for the place and a habit of turning. No clock and no random number: the number of ways tried falls with the
//! number of rectangles, so that the work stays bounded.

use super::items::{Items, ORDERS};
use super::problem::{Class, Size};
use super::room::{Blink, Fit, Room};
use std::cmp::Reverse;

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
    /// Index into [`ORDERS`].
    order: usize,
    fit: Fit,
    habit: Habit,
}

/// Rules for the place, those that alone do best first: measured like [`ORDERS`]. A skyline instead of the free
/// rectangles saved no sheet in 280 kits of 6 to 200 parts and left a better rest in 8 of them, so there is none.
const FITS: [Fit; 4] = [Fit::ShortSide, Fit::Left, Fit::Low, Fit::Area];

/// Habits, in the same sense.
const HABITS: [Habit; 3] = [Habit::Lying, Habit::Either, Habit::Standing];

/// The best packing found: the one of least [`cost`]. The least filled sheet comes last.
pub(super) fn pack<R: Room>(items: &Items) -> Vec<R> {
    let mut best: Option<(Cost, Vec<R>)> = None;
    for way in ways(&items.classes, items.len()) {
        let rooms = sorted(items, fill_sheets(items, way));
        let cost = cost(items, &rooms);
        if best.as_ref().is_none_or(|(least, _)| cost < *least) {
            best = Some((cost, rooms));
        }
    }
    best.map(|(_, rooms)| rooms).unwrap_or_default()
}

/// Everything on sheets in one way: worse than [`pack`], and soon done.
pub(super) fn plain<R: Room>(items: &Items) -> Vec<R> {
    ways(&items.classes, items.len()).next().map(|way| fill_sheets(items, way)).unwrap_or_default()
}

/// Some of the rectangles on one sheet, if any of the ways lays them all there.
pub(super) fn on_one_sheet<R: Room>(items: &Items, some: &[usize]) -> Option<R> {
    ways(&items.classes, items.len()).find_map(|way| {
        let mut waiting = some.to_vec();
        waiting.sort_unstable_by_key(|&item| (items.ranks[way.order][items.class_of[item]], item));
        let mut room = R::empty(items.bin, items.stages);
        for item in waiting {
            let (size, place) = find(&room, &items.lies[items.class_of[item]], way)?;
            room.insert(item, size, place);
        }
        Some(room)
    })
}

/// Sheets, area used on the last one, largest rectangle left free on it: less is better.
pub(super) type Cost = (usize, i128, Reverse<i128>);

/// How good a packing is whose least filled sheet comes last.
pub(super) fn cost<R: Room>(items: &Items, rooms: &[R]) -> Cost {
    match rooms.last() {
        Some(last) => (rooms.len(), used(items, last), Reverse(last.largest_free())),
        None => (0, 0, Reverse(0)),
    }
}

/// The sheets with the least filled last.
pub(super) fn sorted<R: Room>(items: &Items, rooms: Vec<R>) -> Vec<R> {
    let mut filled: Vec<(Reverse<i128>, R)> =
        rooms.into_iter().map(|room| (Reverse(used(items, &room)), room)).collect();
    filled.sort_by_key(|&(area, _)| area);
    filled.into_iter().map(|(_, room)| room).collect()
}

fn used<R: Room>(items: &Items, room: &R) -> i128 {
    room.laid().iter().map(|laid| items.classes[items.class_of[laid.item]].size.area()).sum()
}

/// The ways to try for so many rectangles: all 72 up to a thousand, then fewer. Measured with all sizes
/// different, the time of one way grows as the number of rectangles to the power of about 1.4 between 3,000 and
/// 20,000, and of 2 above.
fn ways(classes: &[Class], count: usize) -> impl Iterator<Item = Way> {
    let limit = match count {
        0..=1_000 => usize::MAX,
        1_001..=3_000 => 36,
        3_001..=10_000 => 12,
        10_001..=30_000 => 4,
        _ => 2,
    };
    // Without a turn the habits are all the same.
    let habits = if classes.iter().any(|class| class.free) { &HABITS[..] } else { &HABITS[..1] };
    let mut ways = Vec::new();
    for (k, &habit) in habits.iter().enumerate() {
        for (j, &fit) in FITS.iter().enumerate() {
            ways.extend((0..ORDERS.len()).map(|order| (order + j + k, Way { order, fit, habit })));
        }
    }
    // The best of every list first, and soon some of each: a short list must not be all of one kind.
    ways.sort_by_key(|&(place, _)| place);
    ways.into_iter().map(|(_, way)| way).take(limit)
}

/// Fills one sheet after the other. To offer everything that is left to a sheet before the next one is begun
/// gives the same as putting each rectangle on the first sheet that has a place, sheets being independent.
fn fill_sheets<R: Room>(items: &Items, way: Way) -> Vec<R> {
    let mut order: Vec<usize> = (0..items.classes.len()).collect();
    order.sort_by_key(|&class| items.ranks[way.order][class]);
    // The numbers of a class that are still to be laid: the last ones first.
    let mut left: Vec<Vec<usize>> = vec![Vec::new(); items.classes.len()];
    (0..items.len()).for_each(|item| left[items.class_of[item]].push(item));
    let mut rooms = Vec::new();
    while !order.is_empty() {
        let mut room = R::empty(items.bin, items.stages);
        if fill_sheet(items, &order, &mut left, &mut room, way) == 0 {
            // Only a class that fits no empty sheet could bring this about; it must not loop for ever.
            break;
        }
        rooms.push(room);
        order.retain(|&class| !left[class].is_empty());
    }
    rooms
}

/// Offers what is left to one sheet, in order, and says how many it took. A class that once has no place is not
/// offered again: free room only shrinks.
fn fill_sheet<R: Room>(
    items: &Items,
    order: &[usize],
    left: &mut [Vec<usize>],
    room: &mut R,
    way: Way,
) -> usize {
    let mut taken = 0;
    for &class in order {
        while let Some(&item) = left[class].last() {
            let Some((size, place)) = find(room, &items.lies[class], way) else { break };
            room.insert(item, size, place);
            left[class].pop();
            taken += 1;
        }
    }
    taken
}

/// The best place for a rectangle in one of its sizes.
fn find<R: Room>(room: &R, lies: &[Size], way: Way) -> Option<(Size, R::Place)> {
    let found = lies.iter().enumerate().filter_map(|(turned, &size)| {
        let (score, place) = room.find(size, way.fit, &mut Blink::Never)?;
        let against_habit = match way.habit {
            Habit::Either => false,
            Habit::Lying => size.width < size.height,
            Habit::Standing => size.width > size.height,
        };
        Some(((against_habit, score, turned), (size, place)))
    });
    found.min_by_key(|&(key, _)| key).map(|(_, found)| found)
}

#[cfg(test)]
mod tests {
    use super::super::free_space::FreeSpace;
    use super::*;

    fn class(width: i64, height: i64, free: bool, count: usize) -> Class {
        Class { size: Size { width, height }, free, count }
    }

    #[test]
    fn every_way_places_everything() {
        let classes = [class(5, 3, true, 7), class(4, 4, false, 3), class(2, 6, true, 5)];
        let bin = Size { width: 10, height: 7 };
        let all: Vec<Way> = ways(&classes, 15).collect();
        assert_eq!(all.len(), 72);
        for way in all {
            let items = Items::new(&classes, bin);
            let rooms: Vec<FreeSpace> = fill_sheets(&items, way);
            let mut counts = [0; 3];
            rooms.iter().flat_map(|room| items.spots(room)).for_each(|spot| counts[spot.class] += 1);
            assert_eq!(counts, [7, 3, 5], "{way:?}");
        }
    }

    #[test]
    fn a_short_list_of_ways_has_several_orders_and_rules() {
        let classes = [class(5, 3, true, 5_000)];
        let few: Vec<Way> = ways(&classes, 5_000).collect();
        assert_eq!(few.len(), 12);
        assert!(few.iter().any(|way| way.order != few[0].order));
        assert!(few.iter().any(|way| way.fit != few[0].fit));
        assert!(few.iter().any(|way| way.habit != few[0].habit));
    }

    #[test]
    fn without_a_turn_nothing_is_turned() {
        let classes = [class(5, 3, false, 9)];
        let items = Items::new(&classes, Size { width: 6, height: 12 });
        let rooms: Vec<FreeSpace> = pack(&items);
        assert!(rooms.iter().flat_map(|room| items.spots(room)).all(|spot| !spot.turned));
        assert_eq!(rooms.len(), 3);
    }

    #[test]
    fn the_least_filled_sheet_comes_last() {
        // In every order the 7 x 7 is first, and nothing else goes on its sheet.
        let classes = [class(7, 7, true, 1), class(5, 5, true, 4)];
        let items = Items::new(&classes, Size { width: 10, height: 10 });
        let rooms: Vec<FreeSpace> = pack(&items);
        let areas: Vec<i128> = rooms.iter().map(|room| used(&items, room)).collect();
        assert_eq!(areas, [100, 49]);
    }
}
