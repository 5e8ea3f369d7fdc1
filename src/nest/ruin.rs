//! One stream of the search: takes neighbouring rectangles off a few sheets and lays them again, over and over.
//!
//! Takes a packing and looks for one on fewer sheets; gives packings that are sound at every step. "Ruin and
//! recreate" of Schrimpf et al. (2000) with the blinks of Christiaens and Vanden Berghe (2020), aimed at a set
//! number of sheets with what does not fit left over, as Gardeyn and Wauters (2022) do; all from memory, the last
//! from its abstract. Never reads a clock.

use super::items::{Items, ORDERS, SHEET_WEIGHT};
use super::problem::Size;
use super::random::Random;
use super::room::{Blink, Fit, Room, Score};
use super::search::Layout;
use super::start::{self, Cost};

/// What the search asks of a stream, whatever its sheets are cut with.
pub(super) trait Runner: Send {
    /// One step. True if it made the packing whole; the stream then aims at one sheet fewer.
    fn step(&mut self) -> bool;

    /// The fewest sheets on which it laid everything so far; many if it never did.
    fn sheets(&self) -> usize;

    /// Aims at so many sheets, or at fewer if it already does.
    fn aim(&mut self, sheets: usize);

    /// The best packing of everything, with how good it is.
    fn best(&self) -> Option<(Cost, Layout)>;
}

/// A packing in the making, on a set number of sheets, with what does not fit left over.
#[derive(Debug)]
pub(super) struct Stream<'a, R> {
    items: &'a Items,
    random: Random,
    rooms: Vec<R>,
    /// Weight on each sheet.
    fills: Vec<i64>,
    unplaced: Vec<usize>,
    cost: i64,
    /// Costs that were accepted of late, as a ring: late acceptance (Burke and Bykov 2017, from memory).
    history: Vec<i64>,
    steps: usize,
    /// The fewest sheets that held everything; none before that.
    whole: Vec<R>,
    /// The least weight that was left over at the present number of sheets, and what the sheets held then.
    least: (i64, Vec<R>, Vec<usize>),
    /// Sheets as they were before the step at hand.
    saved: Vec<(usize, R, i64)>,
}

/// Costs remembered by late acceptance.
const HISTORY: usize = 200;

/// Rules for the place that a step chooses from.
const FITS: [Fit; 4] = [Fit::ShortSide, Fit::Area, Fit::Left, Fit::Low];

/// Up to so many sheets, all of them are looked at for each rectangle; with more, those that were touched and
/// so many others.
const MOST_ROOMS: usize = 24;
const OTHER_ROOMS: usize = 8;

/// Steps from one sheet that is packed anew to the next. Measured on the published classes of many small
/// rectangles: where a step takes a tenth of a millisecond, half of the time then goes into either.
const BETWEEN_REPACKS: usize = 20;

/// Rectangles on an average sheet from which it is packed anew; with fewer, taking some off reaches as much.
const REPACKED_FROM: usize = 8;

/// Up to so many rectangles of another sheet may change places with those of the one that is packed anew.
const MOST_OTHERS: usize = 6;

/// One in so many places is overlooked.
const BLINK: usize = 100;

impl<'a, R: Room> Stream<'a, R> {
    /// A stream that starts from a packing of everything.
    pub(super) fn new(items: &'a Items, rooms: Vec<R>, seed: u64) -> Self {
        let mut stream = Stream {
            items,
            random: Random::new(seed),
            fills: Vec::new(),
            unplaced: Vec::new(),
            cost: 0,
            history: Vec::new(),
            steps: 0,
            whole: rooms.clone(),
            least: (i64::MAX, Vec::new(), Vec::new()),
            saved: Vec::new(),
            rooms,
        };
        stream.fills = stream.rooms.iter().map(|room| stream.weight_of(&items_on(room))).collect();
        stream
    }

    fn weight_of(&self, items: &[usize]) -> i64 {
        items.iter().map(|&item| self.items.weight(item)).sum()
    }

    /// What is left over counts most; then free area is better in one place than spread.
    fn cost(&self) -> i64 {
        let together: i64 = self.fills.iter().map(|fill| fill * fill / SHEET_WEIGHT).sum();
        self.weight_of(&self.unplaced) * LEFT_OVER - together
    }

    /// Whether what a step made is kept: late acceptance.
    fn accept(&mut self) -> bool {
        let cost = self.cost();
        let late = self.steps % HISTORY;
        let accepted = cost <= self.history[late] || cost <= self.cost;
        if accepted {
            self.cost = cost;
        }
        self.history[late] = self.cost;
        self.steps += 1;
        accepted
    }

    /// Remembers the state if less is left over than ever at this number of sheets.
    fn remember(&mut self) {
        let left_over = self.weight_of(&self.unplaced);
        if left_over < self.least.0 {
            self.least = (left_over, self.rooms.clone(), self.unplaced.clone());
        }
    }

    /// The packing that puts the least that was ever left over on one more sheet, if it goes on one.
    fn with_a_last_sheet(&self) -> Option<Vec<R>> {
        let (_, rooms, left_over) = &self.least;
        let last = start::on_one_sheet(self.items, left_over)?;
        let mut rooms: Vec<R> = rooms.clone();
        rooms.push(last);
        Some(rooms)
    }
}

impl<R: Room> Runner for Stream<'_, R> {
    fn step(&mut self) -> bool {
        let unplaced = self.unplaced.clone();
        self.saved.clear();
        let anew = self.steps.is_multiple_of(BETWEEN_REPACKS) && self.repack();
        if !anew {
            self.ruin();
        }
        self.recreate();
        if self.unplaced.is_empty() {
            self.whole.clone_from(&self.rooms);
            self.aim(self.rooms.len().saturating_sub(1));
            return true;
        }
        if self.accept() {
            self.remember();
        } else {
            self.unplaced = unplaced;
            while let Some((index, room, fill)) = self.saved.pop() {
                self.rooms[index] = room;
                self.fills[index] = fill;
            }
        }
        false
    }

    fn sheets(&self) -> usize {
        self.whole.len()
    }

    /// Gives up the emptiest sheets, and forgets how good things were before.
    fn aim(&mut self, sheets: usize) {
        if self.rooms.len() <= sheets {
            return;
        }
        while self.rooms.len() > sheets {
            let Some(least) = (0..self.rooms.len()).min_by_key(|&room| self.fills[room]) else { break };
            self.unplaced.extend(items_on(&self.rooms.remove(least)));
            self.fills.remove(least);
        }
        self.cost = self.cost();
        self.history = vec![self.cost; HISTORY];
        self.least.0 = i64::MAX;
        self.remember();
    }

    fn best(&self) -> Option<(Cost, Layout)> {
        let rated = |rooms: Vec<R>| {
            let rooms = start::sorted(self.items, rooms);
            (start::cost(self.items, &rooms), rooms)
        };
        let whole = rated(self.whole.clone());
        let other = self.with_a_last_sheet().map(rated);
        let (cost, rooms) = other.into_iter().chain([whole]).min_by_key(|&(cost, _)| cost)?;
        Some((cost, rooms.iter().map(|room| self.items.spots(room)).collect()))
    }
}

/// Where one rectangle goes.
struct Found<P> {
    /// Index of the sheet.
    room: usize,
    /// The rectangle's size as it lies.
    size: Size,
    place: P,
}

fn items_on(room: &impl Room) -> Vec<usize> {
    room.laid().into_iter().map(|laid| laid.item).collect()
}

/// How much more weight left over counts than weight that lies where there is much.
const LEFT_OVER: i64 = 8;

impl<R: Room> Stream<'_, R> {
    /// Remembers a sheet as it is, once in a step.
    fn save(&mut self, index: usize) {
        if self.saved.iter().all(|&(saved, ..)| saved != index) {
            self.saved.push((index, self.rooms[index].clone(), self.fills[index]));
        }
    }

    /// Packs one sheet anew from what lies on it, what is left over and some that lie on another sheet. Says
    /// whether it did.
    fn repack(&mut self) -> bool {
        if self.items.len() < REPACKED_FROM * self.rooms.len() || self.rooms.is_empty() {
            return false;
        }
        let index = self.random.below(self.rooms.len());
        let mut some = items_on(&self.rooms[index]);
        some.extend(&self.unplaced);
        let other = self.random.below(self.rooms.len());
        let number = self.random.below(MOST_OTHERS + 1);
        let others = if other == index || number == 0 {
            Vec::new()
        } else {
            self.rooms[other].neighbours(number, &mut self.random)
        };
        some.extend(&others);
        let found = R::densest(self.items, &some, self.fills[index], &mut self.random);
        let Some((weight, room)) = found else { return false };
        self.save(index);
        if !others.is_empty() {
            self.save(other);
            self.rooms[other].remove(&others);
            self.fills[other] -= self.weight_of(&others);
        }
        let laid = items_on(&room);
        self.unplaced = some.into_iter().filter(|item| !laid.contains(item)).collect();
        self.rooms[index] = room;
        self.fills[index] = weight;
        true
    }

    /// Takes neighbours off one to three sheets.
    fn ruin(&mut self) {
        let sheets = [1, 2, 2, 2, 3][self.random.below(5)].min(self.rooms.len());
        while self.saved.len() < sheets {
            let index = self.random.below(self.rooms.len());
            if self.saved.iter().any(|&(saved, ..)| saved == index) {
                continue;
            }
            self.save(index);
            let on_it = self.rooms[index].laid().len();
            let number = match self.random.below(10) {
                0 | 1 => on_it,
                2..=5 => 1 + self.random.below(5),
                _ => 1 + self.random.below(1 + on_it * 2 / 3),
            };
            let gone = self.rooms[index].neighbours(number, &mut self.random);
            self.rooms[index].remove(&gone);
            self.fills[index] -= gone.iter().map(|&item| self.items.weight(item)).sum::<i64>();
            self.unplaced.extend(gone);
        }
    }

    /// Lays what is left over where it goes best, in one of several orders.
    fn recreate(&mut self) {
        let ranks = &self.items.ranks[self.random.below(ORDERS.len())];
        let fit = FITS[self.random.below(FITS.len())];
        let mut waiting = std::mem::take(&mut self.unplaced);
        waiting.sort_unstable_by_key(|&item| (ranks[self.items.class_of[item]], item));
        let rooms = self.rooms_to_look_at();
        let mut hopeless = usize::MAX;
        for item in waiting {
            let class = self.items.class_of[item];
            if class == hopeless {
                self.unplaced.push(item);
                continue;
            }
            if let Some(Found { room, size, place }) = self.find(class, &rooms, fit) {
                self.save(room);
                self.rooms[room].insert(item, size, place);
                self.fills[room] += self.items.weights[class];
            } else {
                hopeless = class;
                self.unplaced.push(item);
            }
        }
    }

    fn rooms_to_look_at(&mut self) -> Vec<usize> {
        if self.rooms.len() <= MOST_ROOMS {
            return (0..self.rooms.len()).collect();
        }
        let mut rooms: Vec<usize> = self.saved.iter().map(|&(index, ..)| index).collect();
        rooms.extend((0..OTHER_ROOMS).map(|_| self.random.below(self.rooms.len())));
        rooms.sort_unstable();
        rooms.dedup();
        rooms
    }

    /// The best place on any of the sheets for one of a class.
    fn find(&mut self, class: usize, rooms: &[usize], fit: Fit) -> Option<Found<R::Place>> {
        let mut best: Option<(Score, Found<R::Place>)> = None;
        let weight = self.items.weights[class];
        for &index in rooms {
            // A little more than a sheet allows for the rounding of weights.
            if self.fills[index] + weight > SHEET_WEIGHT + ROUNDING {
                continue;
            }
            for &size in &self.items.lies[class] {
                let mut blink = Blink::OneIn(&mut self.random, BLINK);
                let Some((score, place)) = self.rooms[index].find(size, fit, &mut blink) else { continue };
                if best.as_ref().is_none_or(|(least, _)| score < *least) {
                    best = Some((score, Found { room: index, size, place }));
                }
            }
        }
        best.map(|(_, found)| found)
    }
}

/// What the weights on one sheet may add up to above its own by rounding: each is off by less than one.
const ROUNDING: i64 = 1 << 10;
