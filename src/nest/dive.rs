//! A packing on a set number of sheets, chosen sheet by sheet from many that overlap in what they hold.
//!
//! Takes sheets, gives as many of them as there may be, each rectangle on one of them at most. "Diving": a covering by
//! parts of sheets is worked out, the sheet of which most is taken is kept, then the same for the rectangles that are
//! left, with new sheets made for them. It never turns back; who wants another packing asks again.

use super::covering::Covering;
use super::items::Items;
use super::pool::{Held, refill};
use super::random::Random;
use super::room::{Blink, Fit, Room};

/// By how much a covering of what is left by parts of sheets may need more sheets than there are.
const ABOVE: f64 = 0.3;

/// Times that new sheets are made at each choice, and sheets made each time.
const TIMES: usize = 2;
const MADE: usize = 100;

/// A sheet worth less than this is not one that new ones are made from.
const WORTHY: f64 = 0.98;

/// From so much on a sheet counts as taken whole.
const WHOLE: f64 = 0.95;

/// A choice in the making.
struct Dive<'a, R> {
    items: &'a Items,
    held: Vec<Held<R>>,
    /// For each rectangle whether it still needs a sheet.
    waiting: Vec<bool>,
    rooms: Vec<R>,
}

/// The sheets, and what is on none of them; none if that would be much.
pub(super) fn dive<R: Room>(
    items: &Items,
    held: Vec<Held<R>>,
    sheets: usize,
    random: &mut Random,
) -> Option<(Vec<R>, Vec<usize>)> {
    let mut dive = Dive { items, held, waiting: vec![true; items.len()], rooms: Vec::new() };
    while dive.rooms.len() < sheets && dive.waiting.contains(&true) {
        let rest = dive.rest();
        let covering = dive.covering(&rest, random);
        let free = sheets - dive.rooms.len();
        if covering.number() > free as f64 + ABOVE {
            return None;
        }
        dive.keep(&covering, &rest, free, random);
    }
    let empty = R::empty(&items.bins[0]);
    let rest = dive.rest();
    dive.rooms.resize(sheets, empty);
    Some((dive.rooms, rest))
}

impl<R: Room> Dive<'_, R> {
    /// Rectangles that still need a sheet, rising.
    fn rest(&self) -> Vec<usize> {
        (0..self.items.len()).filter(|&item| self.waiting[item]).collect()
    }

    /// Covers what is left by parts of the sheets and of new ones.
    fn covering(&mut self, rest: &[usize], random: &mut Random) -> Covering {
        let mut covering = Covering::new(rest.len());
        let mut sets: Vec<Vec<usize>> = self.held.iter().map(|held| numbers(rest, &held.set)).collect();
        improve(&mut covering, &sets);
        for _ in 0..TIMES {
            let mut values = vec![0.0; self.items.len()];
            rest.iter().zip(covering.values()).for_each(|(&item, value)| values[item] = value);
            let from: Vec<usize> =
                (0..self.held.len()).filter(|&index| self.held[index].worth(&values) > WORTHY).collect();
            if from.is_empty() {
                break;
            }
            for _ in 0..MADE {
                let mut room = self.still_wanted(from[random.below(from.len())]);
                if refill(self.items, &values, &self.waiting, &mut room, random) > 1.0 + LITTLE {
                    let made = Held::new(room);
                    sets.push(numbers(rest, &made.set));
                    self.held.push(made);
                }
            }
            improve(&mut covering, &sets);
        }
        covering
    }

    /// One of the sheets without what lies on those that are kept.
    fn still_wanted(&self, index: usize) -> R {
        let Held { set, room } = &self.held[index];
        let gone: Vec<usize> = set.iter().copied().filter(|&item| !self.waiting[item]).collect();
        let mut room = room.clone();
        if !gone.is_empty() {
            room.remove(&gone);
        }
        room
    }

    /// Keeps the sheet of which most is taken, give or take a little, and all that are taken whole.
    fn keep(&mut self, covering: &Covering, rest: &[usize], free: usize, random: &mut Random) {
        let mut taken: Vec<(f64, &[usize])> =
            covering.taken().map(|(part, set)| (part + random.below(100) as f64 / 1_000.0, set)).collect();
        taken.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(b.1)));
        let whole = taken.iter().filter(|(part, _)| *part >= WHOLE).count().max(1);
        for (_, set) in taken.into_iter().take(whole.min(free)) {
            let index = self.held.iter().position(|held| numbers(rest, &held.set) == set);
            let room = index.map_or_else(|| self.alone(rest[set[0]]), |index| self.still_wanted(index));
            room.laid().iter().for_each(|laid| self.waiting[laid.item] = false);
            self.rooms.push(room);
        }
        let waiting = &self.waiting;
        self.held.retain(|held| held.set.iter().any(|&item| waiting[item]));
    }

    /// A sheet with one rectangle.
    fn alone(&self, item: usize) -> R {
        let mut room = R::empty(&self.items.bins[0]);
        let lies = self.items.lies[self.items.class_of[item]].iter();
        let place = |&size| Some((room.find(size, Fit::Low, &mut Blink::Never)?.1, size));
        if let Some((place, size)) = lies.filter_map(place).next() {
            room.insert(item, size, place);
        }
        room
    }
}

/// What makes a sheet worth more than another beyond rounding.
const LITTLE: f64 = 1e-6;

/// The places in `rest`, which rises, of those of the set that are in it.
fn numbers(rest: &[usize], set: &[usize]) -> Vec<usize> {
    set.iter().filter_map(|item| rest.binary_search(item).ok()).collect()
}

fn improve(covering: &mut Covering, sets: &[Vec<usize>]) {
    let sets: Vec<&[usize]> = sets.iter().map(|set| &set[..]).collect();
    covering.improve(&sets);
}
