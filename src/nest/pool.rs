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
