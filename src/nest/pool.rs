//! What sheets held in the course of a search, and new sheets made of what goes well together.
//!
//! Takes sheets as the search leaves them, remembers the most useful ones, a bounded number of them, and finds among
//! them, or makes, those from which a packing on few sheets can be put together: the covering in `covering.rs` says
//! what each rectangle is worth, and sheets are filled by worth. Column generation (Gilmore and Gomory 1961), with
//! the search's own sheets as a start. `dive.rs` then chooses.

use super::covering::Covering;
use super::dive::dive;
use super::items::{Items, ROUNDING};
use super::random::Random;
use super::room::{Blink, Room};
use super::ruin::FITS;
use std::collections::BTreeSet;

/// A sheet of the one kind that there is, and the rectangles on it.
#[derive(Clone, Debug)]
pub(super) struct Held<R> {
    /// Numbers of the rectangles, rising.
    pub(super) set: Vec<usize>,
    pub(super) room: R,
}

impl<R: Room> Held<R> {
    pub(super) fn new(room: R) -> Self {
        let mut set: Vec<usize> = room.laid().into_iter().map(|laid| laid.item).collect();
        set.sort_unstable();
        Held { set, room }
    }

    /// What those of the rectangles are worth that are on it.
    pub(super) fn worth(&self, values: &[f64]) -> f64 {
        self.set.iter().map(|&item| values[item]).sum()
    }
}

/// Sheets that were seen.
#[derive(Debug)]
pub(super) struct Pool<R> {
    held: Vec<Held<R>>,
    /// The sets of rectangles on them.
    known: BTreeSet<Vec<usize>>,
    covering: Covering,
}

/// Sheets that are remembered at most: about 1 kB each.
const MOST: usize = 8_000;

/// Sheets that a new one is made from: the most worthy.
const FROM: usize = 300;

/// Times that new sheets are made and their rectangles valued anew, and sheets made each time.
const TIMES: usize = 3;
const MADE: usize = 300;

/// A sheet worth less is not remembered when made.
const WORTHY: f64 = 0.97;

/// By how much a covering by parts of sheets may need more sheets than there are to be and a choice be worth a try.
const ABOVE: f64 = 0.05;

/// Sheets that a choice is made from; all those of the covering are among them.
const CHOSEN_FROM: usize = 2_000;

impl<R: Room> Pool<R> {
    /// Nothing is known of so many rectangles.
    pub(super) fn new(len: usize) -> Self {
        Pool { held: Vec::new(), known: BTreeSet::new(), covering: Covering::new(len) }
    }

    /// Remembers a sheet.
    pub(super) fn remember(&mut self, room: &R) {
        let held = Held::new(room.clone());
        if held.set.is_empty() || !self.known.insert(held.set.clone()) {
            return;
        }
        self.held.push(held);
        if self.held.len() >= MOST {
            self.value();
            self.held = self.most_worthy(MOST / 2);
            self.known = self.held.iter().map(|held| held.set.clone()).collect();
        }
    }

    /// Everything on so many sheets, or nearly: the sheets, and what is on none. None if no choice looks as if it
    /// led there.
    pub(super) fn recombined(
        &mut self,
        items: &Items,
        sheets: usize,
        random: &mut Random,
    ) -> Option<(Vec<R>, Vec<usize>)> {
        self.value();
        for _ in 0..TIMES {
            self.make(items, random);
            self.value();
        }
        if self.covering.number() > sheets as f64 + ABOVE {
            return None;
        }
        dive(items, self.most_worthy(CHOSEN_FROM), sheets, random)
    }

    /// Values the rectangles by the sheets that are known.
    fn value(&mut self) {
        let sets: Vec<&[usize]> = self.held.iter().map(|held| &held.set[..]).collect();
        self.covering.improve(&sets);
    }

    /// Makes sheets of much worth from others, whatever else the rectangles may lie on.
    fn make(&mut self, items: &Items, random: &mut Random) {
        let from = self.most_worthy(FROM);
        if from.is_empty() {
            return;
        }
        let values = self.covering.values();
        let all = vec![true; items.len()];
        for _ in 0..MADE {
            let mut room = from[random.below(from.len())].room.clone();
            if refill(items, &values, &all, &mut room, random) > WORTHY {
                self.remember(&room);
            }
        }
    }

    /// So many sheets: those of the covering first, then by worth, the latest first of equals. In the order in which
    /// they became known.
    fn most_worthy(&self, number: usize) -> Vec<Held<R>> {
        let values = self.covering.values();
        let taken: BTreeSet<&[usize]> = self.covering.taken().map(|(_, set)| set).collect();
        let mut order: Vec<(bool, f64, usize)> = self
            .held
            .iter()
            .enumerate()
            .map(|(index, held)| (taken.contains(&held.set[..]), held.worth(&values), index))
            .collect();
        order.sort_by(|a, b| b.0.cmp(&a.0).then(b.1.total_cmp(&a.1)).then(b.2.cmp(&a.2)));
        order.truncate(number);
        order.sort_by_key(|&(.., index)| index);
        order.into_iter().map(|(.., index)| self.held[index].clone()).collect()
    }
}

/// Takes some neighbours off a sheet and fills it with what is worth most for its area, of what is waiting. Gives what
/// all on it are worth.
pub(super) fn refill<R: Room>(
    items: &Items,
    values: &[f64],
    waiting: &[bool],
    room: &mut R,
    random: &mut Random,
) -> f64 {
    let number = 1 + random.below(3);
    let gone = room.neighbours(number, random);
    room.remove(&gone);
    let laid = room.laid();
    let mut fill: i64 = laid.iter().map(|laid| items.weight(laid.item)).sum();
    let mut worth: f64 = laid.iter().map(|laid| values[laid.item]).sum();
    let absent = (0..items.len()).filter(|&item| waiting[item] && laid.iter().all(|laid| laid.item != item));
    // Half as much to half as much again of its worth, and what is worth nothing by chance.
    let dice = |item: usize| {
        let worth = (values[item] + WORTHLESS) * (50 + random.below(100)) as f64;
        (worth / items.weight(item) as f64, item)
    };
    let mut order: Vec<(f64, usize)> = absent.map(dice).collect();
    order.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(&b.1)));
    let fit = FITS[random.below(FITS.len())];
    for (_, item) in order {
        if fill + items.weight(item) > items.capacities[room.kind()] + ROUNDING {
            continue;
        }
        let lies = items.lies[items.class_of[item]].iter();
        let places = lies.filter_map(|&size| Some((room.find(size, fit, &mut Blink::Never)?, size)));
        if let Some(((_, place), size)) = places.min_by_key(|&((score, _), _)| score) {
            room.insert(item, size, place);
            fill += items.weight(item);
            worth += values[item];
        }
    }
    worth
}

/// What a rectangle without worth counts, lest all of them be equal.
const WORTHLESS: f64 = 1e-6;

#[cfg(test)]
mod tests {
    use super::super::free_space::FreeSpace;
    use super::super::problem::{Class, Size};
    use super::super::room::{Fit, Rect};
    use super::*;

    const BIN: Size = Size { width: 12, height: 10 };

    fn items(sizes: &[(i64, i64)]) -> Items {
        let class =
            |&(width, height): &(i64, i64)| Class { size: Size { width, height }, free: false, count: 1 };
        Items::plain(&sizes.iter().map(class).collect::<Vec<_>>(), BIN)
    }

    fn sheet(items: &Items, set: &[usize]) -> FreeSpace {
        let mut room = FreeSpace::empty(&items.bins[0]);
        for &item in set {
            let size = items.classes[items.class_of[item]].size;
            let (_, place) = room.find(size, Fit::Low, &mut Blink::Never).unwrap();
            room.insert(item, size, place);
        }
        room
    }

    #[test]
    fn sheets_are_made_that_nobody_has_seen() {
        // Two sheets of 12 x 10 without waste, by hand: three columns, and 12 x 4 below 7 x 6 and 5 x 6.
        let items = items(&[(5, 10), (4, 10), (3, 10), (12, 4), (7, 6), (5, 6)]);
        let mut pool = Pool::new(items.len());
        (0..items.len()).for_each(|item| pool.remember(&sheet(&items, &[item])));
        let (rooms, rest) = pool.recombined(&items, 2, &mut Random::new(1)).unwrap();
        assert_eq!(rest, []);
        let mut sets: Vec<Vec<usize>> = rooms.into_iter().map(|room| Held::new(room).set).collect();
        sets.sort();
        assert_eq!(sets, [[0, 1, 2], [3, 4, 5]]);
        assert!(pool.recombined(&items, 1, &mut Random::new(1)).is_none());
    }

    #[test]
    fn a_sheet_is_remembered_once_and_an_empty_one_never() {
        let items = items(&[(5, 10), (4, 10)]);
        let mut pool = Pool::new(items.len());
        for set in [&[0, 1][..], &[1, 0], &[], &[1]] {
            pool.remember(&sheet(&items, set));
        }
        assert_eq!(pool.held.iter().map(|held| &held.set[..]).collect::<Vec<_>>(), [&[0, 1][..], &[1]]);
    }

    #[test]
    fn no_more_is_remembered_than_there_is_room_for() {
        // 130 x 129 / 2 pairs are 8,385, more than the pool takes. All are worth the same; the latest stay.
        let items = items(&[(1, 1); 130]);
        let mut pool = Pool::new(items.len());
        for first in 0..130 {
            (0..first).for_each(|second| pool.remember(&sheet(&items, &[first, second])));
        }
        assert_eq!(pool.held.len(), MOST / 2 + 8_385 - MOST);
        assert_eq!(pool.known.len(), pool.held.len());
    }

    #[test]
    fn a_sheet_is_filled_with_what_is_waiting() {
        let items = items(&[(6, 2), (12, 4), (12, 5), (6, 4), (6, 4)]);
        let values = [0.0, 0.25, 1.0, 0.5, 0.5];
        let waiting = [true, false, false, true, true];
        for seed in 0..50 {
            let mut room = FreeSpace::empty(&items.bins[0]);
            let worth = refill(&items, &values, &waiting, &mut room, &mut Random::new(seed));
            // What is not waiting stays away whatever it is worth; the rest goes on one sheet in any order.
            assert_eq!((worth, Held::new(room.clone()).set), (1.0, vec![0, 3, 4]), "seed {seed}");
            let laid = room.laid();
            let whole = Rect { x: 0, y: 0, size: BIN };
            for (number, one) in laid.iter().enumerate() {
                assert!(whole.contains(one.rect));
                assert!(laid[..number].iter().all(|other| !other.rect.overlaps(one.rect)));
            }
        }
    }
}
