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

/// A packing in the making: one sheet fewer than the last whole one, with what does not fit left over.
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
    /// The fewest sheets that held everything.
    whole: Vec<R>,
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

/// One in so many places is overlooked.
const BLINK: usize = 50;

impl<'a, R: Room> Stream<'a, R> {
    /// A stream that starts from a packing of everything.
    pub(super) fn new(items: &'a Items, whole: &[R], seed: u64) -> Self {
        let mut stream = Stream {
            items,
            random: Random::new(seed),
            rooms: Vec::new(),
            fills: Vec::new(),
            unplaced: Vec::new(),
            cost: 0,
            history: Vec::new(),
            steps: 0,
            whole: Vec::new(),
            saved: Vec::new(),
        };
        stream.start_from(whole.to_vec());
        stream
    }

    /// The best packing of everything so far.
    pub(super) fn whole(&self) -> &[R] {
        &self.whole
    }

    /// Goes on from a packing of everything: its emptiest sheet is given up.
    pub(super) fn start_from(&mut self, whole: Vec<R>) {
        self.rooms.clone_from(&whole);
        self.whole = whole;
        self.unplaced.clear();
        self.fills = self.rooms.iter().map(|room| self.weight_on(room)).collect();
        if let Some(least) = (0..self.rooms.len()).min_by_key(|&room| self.fills[room]) {
            let emptied = self.rooms.remove(least);
            self.fills.remove(least);
            self.unplaced = emptied.laid().into_iter().map(|laid| laid.item).collect();
        }
        self.cost = self.cost();
        self.history = vec![self.cost; par(2) as usize];
    }

    fn weight_on(&self, room: &R) -> i64 {
        room.laid().iter().map(|laid| self.items.weight(laid.item)).sum()
    }

    /// What is left over counts most; then free area is better in one place than spread.
    fn cost(&self) -> i64 {
        let left_over: i64 = self.unplaced.iter().map(|&item| self.items.weight(item)).sum();
        let together: i64 = self.fills.iter().map(|fill| fill * fill / SHEET_WEIGHT).sum();
        left_over * par(0) - par(1) * together
    }

    /// One step. True if the packing has become whole with it, in which case the next sheet has been given up.
    pub(super) fn step(&mut self) -> bool {
        let unplaced = self.unplaced.clone();
        self.saved.clear();
        self.ruin();
        self.recreate();
        if self.unplaced.is_empty() {
            self.start_from(self.rooms.clone());
            return true;
        }
        let cost = self.cost();
        let late = self.steps % par(2) as usize;
        if cost <= self.history[late] || cost <= self.cost {
            self.cost = cost;
        } else {
            self.unplaced = unplaced;
            while let Some((index, room, fill)) = self.saved.pop() {
                self.rooms[index] = room;
                self.fills[index] = fill;
            }
        }
        self.history[late] = self.cost;
        self.steps += 1;
        false
    }

    /// Remembers a sheet as it is, once in a step.
    fn save(&mut self, index: usize) {
        if self.saved.iter().all(|&(saved, ..)| saved != index) {
            self.saved.push((index, self.rooms[index].clone(), self.fills[index]));
        }
    }

    /// Takes neighbours off one to three sheets.
    fn ruin(&mut self) {
        let sheets = [[1, 2, 2, 2, 3],[1,1,2,2,2],[2,2,2,3,4],[1,1,1,2,2],[2,3,4,5,6]][par(4) as usize][self.random.below(5)].min(self.rooms.len());
        while self.saved.len() < sheets {
            let index = self.random.below(self.rooms.len());
            if self.saved.iter().any(|&(saved, ..)| saved == index) {
                continue;
            }
            self.save(index);
            let on_it = self.rooms[index].laid().len();
            let number = if self.random.chance(par(6) as usize, 100) {
                on_it
            } else {
                1 + self.random.below(1 + on_it * par(5) as usize / 100)
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
        let shuffles = self.random.below(3) * waiting.len() * par(7) as usize / 100;
        for _ in 0..shuffles {
            let (a, b) = (self.random.below(waiting.len()), self.random.below(4));
            let last = waiting.len() - 1;
            waiting.swap(a, (a + b).min(last));
        }
        let rooms = self.rooms_to_look_at();
        let mut hopeless = usize::MAX;
        for item in waiting {
            let class = self.items.class_of[item];
            if class == hopeless {
                self.unplaced.push(item);
                continue;
            }
            match self.find(class, &rooms, fit) {
                Some((index, size, place)) => {
                    self.save(index);
                    self.rooms[index].insert(item, size, place);
                    self.fills[index] += self.items.weights[class];
                }
                None => {
                    hopeless = class;
                    self.unplaced.push(item);
                }
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
    fn find(&mut self, class: usize, rooms: &[usize], fit: Fit) -> Option<(usize, Size, R::Place)> {
        let mut best: Option<(Score, (usize, Size, R::Place))> = None;
        let weight = self.items.weights[class];
        for &index in rooms {
            // A little more than a sheet allows for the rounding of weights.
            if self.fills[index] + weight > SHEET_WEIGHT + ROUNDING {
                continue;
            }
            for &size in &self.items.lies[class] {
                let mut blink = Blink::OneIn(&mut self.random, par(3) as usize);
                let Some((score, place)) = self.rooms[index].find(size, fit, &mut blink) else { continue };
                if best.as_ref().is_none_or(|(least, _)| score < *least) {
                    best = Some((score, (index, size, place)));
                }
            }
        }
        best.map(|(_, found)| found)
    }
}

/// What the weights on one sheet may add up to above its own by rounding: each is off by less than one.
const ROUNDING: i64 = 1 << 10;

fn par(i: usize) -> i64 {
    static P: std::sync::OnceLock<Vec<i64>> = std::sync::OnceLock::new();
    P.get_or_init(|| std::env::var("P").unwrap().split(',').map(|x| x.parse().unwrap()).collect())[i]
}
