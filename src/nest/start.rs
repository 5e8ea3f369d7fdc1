//! The first packing: many plain ways of filling sheets one after the other, and the best of them.
//!
//! Takes the rectangles and the kinds of sheet, gives filled rooms. A way is an order of the rectangles, a rule
//! for the place and a habit of turning; a plan says which kind of sheet comes next. No clock and no random
//! number: the number of ways tried falls with the number of rectangles, so that the work stays bounded.

use super::items::{Items, ORDERS};
use super::problem::{Class, Size};
use super::rating::{Rating, Shelf, rating};
use super::room::{Blink, Fit, Room};

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

/// Which kind of sheet comes next.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Plan {
    /// The kind that takes most for what it costs, each being tried.
    Best,
    /// This kind as long as there are any and it takes something; else as above.
    First(usize),
}

/// Rules for the place, those that alone do best first: measured like [`ORDERS`]. A skyline instead of the free
/// rectangles saved no sheet in 280 kits of 6 to 200 parts and left a better rest in 8 of them, so there is none.
const FITS: [Fit; 4] = [Fit::ShortSide, Fit::Left, Fit::Low, Fit::Area];

/// Habits, in the same sense.
const HABITS: [Habit; 3] = [Habit::Lying, Habit::Either, Habit::Standing];

/// The best of the packings that were tried, and the one to search on from.
#[derive(Debug)]
pub(super) struct First<R> {
    /// The best.
    pub(super) best: Vec<R>,
    /// The one whose least filled sheet is nearest to being empty: see [`Rating::nearness`].
    pub(super) nearest: Vec<R>,
}

/// The first packings. Where the stock does not suffice, some rectangles are on no sheet.
pub(super) fn pack<R: Room>(items: &Items) -> First<R> {
    let mut best: Option<(Rating, Vec<R>)> = None;
    let mut nearest: Option<(Rating, Vec<R>)> = None;
    let plans = plans(items);
    for way in ways(&items.classes, items.len(), plans.len()) {
        for &plan in &plans {
            let rooms = fill_sheets(items, way, plan);
            let rating = rating(items, &rooms);
            if best.as_ref().is_none_or(|(least, _)| rating < *least) {
                best = Some((rating, rooms.clone()));
            }
            if nearest.as_ref().is_none_or(|(least, _)| rating.nearness() < least.nearness()) {
                nearest = Some((rating, rooms));
            }
        }
    }
    let rooms = |found: Option<(Rating, Vec<R>)>| {
        let mut rooms = found.map(|(_, rooms)| rooms).unwrap_or_default();
        if plans.len() > 1 {
            exchange(items, &mut rooms);
        }
        rooms
    };
    First { best: rooms(best), nearest: rooms(nearest) }
}

/// Everything on sheets in one way: worse than [`pack`], and soon done.
pub(super) fn plain<R: Room>(items: &Items) -> Vec<R> {
    let way = ways(&items.classes, items.len(), 1).next();
    let plan = plans(items).pop();
    way.zip(plan).map(|(way, plan)| fill_sheets(items, way, plan)).unwrap_or_default()
}

/// Some of the rectangles on one sheet of a kind, if any of the ways lays them all there.
pub(super) fn on_one_sheet<R: Room>(items: &Items, some: &[usize], kind: usize) -> Option<R> {
    let weight: i64 = some.iter().map(|&item| items.weight(item)).sum();
    if weight > items.capacities[kind] + super::items::ROUNDING {
        return None;
    }
    ways(&items.classes, items.len(), 1).find_map(|way| {
        let mut waiting = some.to_vec();
        waiting.sort_unstable_by_key(|&item| (items.ranks[way.order][items.class_of[item]], item));
        let mut room = R::empty(&items.bins[kind]);
        for item in waiting {
            let (size, place) = find(&room, &items.lies[items.class_of[item]], way)?;
            room.insert(item, size, place);
        }
        Some(room)
    })
}

/// Changes each sheet for the cheapest kind, still to be had, that holds the same.
fn exchange<R: Room>(items: &Items, rooms: &mut [R]) {
    let mut shelf = Shelf::after(items, rooms);
    for room in rooms {
        let on_it: Vec<usize> = room.laid().into_iter().map(|laid| laid.item).collect();
        let cost = items.bins[room.kind()].cost;
        let cheaper = shelf.by_cost().into_iter().take_while(|&kind| items.bins[kind].cost < cost);
        if let Some(other) = cheaper.take(MOST_TRIED).find_map(|kind| on_one_sheet::<R>(items, &on_it, kind))
        {
            shelf.give_back(room.kind());
            shelf.take(other.kind());
            *room = other;
        }
    }
}

/// Kinds tried for one sheet at most.
const MOST_TRIED: usize = 8;

/// Plans that begin with a set kind at most.
const MOST_FIRST: usize = 4;

/// The plans to try, the one that is soonest done last. With one kind there is only one.
fn plans(items: &Items) -> Vec<Plan> {
    // A kind of which one sheet is to be had is no way to begin.
    let mut first: Vec<usize> = (0..items.bins.len()).filter(|&kind| items.bins[kind].quantity > 1).collect();
    // Cheapest for its area first, by cross-multiplying.
    first.sort_by(|&a, &b| {
        let (a, b) = (&items.bins[a], &items.bins[b]);
        (a.cost * b.usable.area()).cmp(&(b.cost * a.usable.area()))
    });
    first.truncate(MOST_FIRST);
    let mut plans: Vec<Plan> = first.into_iter().map(Plan::First).collect();
    if items.bins.len() > 1 || plans.is_empty() {
        plans.insert(0, Plan::Best);
    }
    plans
}

/// The ways to try for so many rectangles: with one plan all 72 up to a thousand, then fewer. Measured with all sizes
/// different, the time of one way grows as the number of rectangles to the power of about 1.4 between 3,000 and
/// 20,000, and of 2 above.
fn ways(classes: &[Class], count: usize, plans: usize) -> impl Iterator<Item = Way> {
    let limit = match count {
        0..=1_000 => 72,
        1_001..=3_000 => 36,
        3_001..=10_000 => 12,
        10_001..=30_000 => 4,
        _ => 2,
    };
    let limit = usize::max(limit / plans.max(1), 2);
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
fn fill_sheets<R: Room>(items: &Items, way: Way, plan: Plan) -> Vec<R> {
    let mut order: Vec<usize> = (0..items.classes.len()).collect();
    order.sort_by_key(|&class| items.ranks[way.order][class]);
    // The numbers of a class that are still to be laid: the last ones first.
    let mut left: Vec<Vec<usize>> = vec![Vec::new(); items.classes.len()];
    (0..items.len()).for_each(|item| left[items.class_of[item]].push(item));
    let mut shelf = Shelf::after::<R>(items, &[]);
    let mut rooms = Vec::new();
    while !order.is_empty() {
        let mut room = None;
        if let Plan::First(kind) = plan
            && shelf.has(kind)
        {
            let mut first = R::empty(&items.bins[kind]);
            if fill_sheet(items, &order, &mut left, &mut first, way) > 0 {
                room = Some(first);
            }
        }
        // None takes anything once the stock is used up.
        let Some(room) = room.or_else(|| best_filled(items, &order, &mut left, way, &shelf)) else { break };
        shelf.take(room.kind());
        rooms.push(room);
        order.retain(|&class| !left[class].is_empty());
    }
    rooms
}

/// A sheet of the kind that takes most for its cost.
fn best_filled<R: Room>(
    items: &Items,
    order: &[usize],
    left: &mut Vec<Vec<usize>>,
    way: Way,
    shelf: &Shelf,
) -> Option<R> {
    let mut best: Option<(i64, R, Vec<Vec<usize>>)> = None;
    let mut tried = 0;
    for kind in shelf.by_cost() {
        let mut room = R::empty(&items.bins[kind]);
        let mut rest = left.clone();
        if fill_sheet(items, order, &mut rest, &mut room, way) == 0 {
            continue;
        }
        let weight: i64 = room.laid().iter().map(|laid| items.weight(laid.item)).sum();
        let cost = |kind: usize| items.bins[kind].cost;
        let better = best.as_ref().is_none_or(|(most, other, _)| {
            let (own, others) = (i128::from(weight) * cost(other.kind()), i128::from(*most) * cost(kind));
            own > others || (own == others && weight > *most)
        });
        if better {
            best = Some((weight, room, rest));
        }
        tried += 1;
        if tried == MOST_TRIED {
            break;
        }
    }
    best.map(|(_, room, rest)| {
        *left = rest;
        room
    })
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
        let all: Vec<Way> = ways(&classes, 15, 1).collect();
        assert_eq!(all.len(), 72);
        for way in all {
            let items = Items::plain(&classes, bin);
            let rooms: Vec<FreeSpace> = fill_sheets(&items, way, Plan::First(0));
            let mut counts = [0; 3];
            rooms.iter().flat_map(|room| items.spots(room)).for_each(|spot| counts[spot.class] += 1);
            assert_eq!(counts, [7, 3, 5], "{way:?}");
        }
    }

    #[test]
    fn a_short_list_of_ways_has_several_orders_and_rules() {
        let classes = [class(5, 3, true, 5_000)];
        let few: Vec<Way> = ways(&classes, 5_000, 1).collect();
        assert_eq!(few.len(), 12);
        assert!(few.iter().any(|way| way.order != few[0].order));
        assert!(few.iter().any(|way| way.fit != few[0].fit));
        assert!(few.iter().any(|way| way.habit != few[0].habit));
    }

    #[test]
    fn without_a_turn_nothing_is_turned() {
        let classes = [class(5, 3, false, 9)];
        let items = Items::plain(&classes, Size { width: 6, height: 12 });
        let rooms: Vec<FreeSpace> = pack(&items).best;
        assert!(rooms.iter().flat_map(|room| items.spots(room)).all(|spot| !spot.turned));
        assert_eq!(rooms.len(), 3);
    }
}
