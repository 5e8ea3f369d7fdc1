//! One stream of the search: takes neighbouring rectangles off a few sheets and lays them again, over and over.
//!
//! Takes a packing and looks for a cheaper one; gives packings that are sound at every step. "Ruin and
//! recreate" of Schrimpf et al. (2000) with the blinks of Christiaens and Vanden Berghe (2020), aimed at a set
//! cost with what does not fit left over, as Gardeyn and Wauters (2022) do with a set number of sheets; all from
//! memory, the last from its abstract. Never reads a clock.

use super::bin::Bin;
use super::items::{Items, ORDERS, ROUNDING};
use super::pool::Pool;
use super::problem::Size;
use super::random::Random;
use super::rating::{Rating, Shelf, rating};
use super::room::{Blink, Fit, Room, Score};
use super::search::{Layout, Whole, layout, whole};
use super::start;

/// What the search asks of a stream, whatever its sheets are cut with.
pub(super) trait Runner: Send {
    /// One step. True if it made the packing whole; the stream then aims at a lower cost.
    fn step(&mut self) -> bool;

    /// The cheapest sheets on which it laid everything so far; none if it never did.
    fn cheapest(&self) -> Option<Whole>;

    /// Aims at less than this cost, if it does not do so already.
    fn aim_below(&mut self, cost: i128);

    /// The best packing, with how good it is.
    fn best(&self) -> (Rating, Layout);
}

/// A packing in the making, on sheets of a set cost at most, with what does not fit left over.
#[derive(Debug)]
pub(super) struct Stream<'a, R> {
    items: &'a Items,
    random: Random,
    /// Whether it gives up as little room as it can when it must do with less; else what holds least for its cost.
    /// Neither is always right: a large sheet that holds little may be the one on which all would go.
    keeps_room: bool,
    rooms: Vec<R>,
    /// Cost of all of them, empty ones too.
    spent: i128,
    /// What they may cost.
    budget: i128,
    /// Weight on each sheet.
    fills: Vec<i64>,
    unplaced: Vec<usize>,
    cost: i64,
    /// Costs that were accepted of late, as a ring: late acceptance (Burke and Bykov 2017, from memory).
    history: Vec<i64>,
    steps: usize,
    /// The cheapest sheets that held everything; none before that.
    whole: Option<Vec<R>>,
    /// The least weight that was left over at the present budget, and what the sheets held then.
    least: (i64, Vec<R>, Vec<usize>),
    /// Sheets as they were before the step at hand.
    saved: Vec<(usize, R, i64)>,
    /// What sheets held so far, where few rectangles go on a sheet.
    pool: Option<Pool<R>>,
}

/// Costs remembered by late acceptance.
const HISTORY: usize = 200;

/// Rules for the place that a step chooses from.
pub(super) const FITS: [Fit; 4] = [Fit::ShortSide, Fit::Area, Fit::Left, Fit::Low];

/// Up to so many sheets, all of them are looked at for each rectangle; with more, those that were touched and
/// so many others.
const MOST_ROOMS: usize = 24;
const OTHER_ROOMS: usize = 8;

/// Steps from one sheet that is packed anew to the next. Measured on the published classes of many small
/// rectangles: where a step takes a tenth of a millisecond, half of the time then goes into either.
const BETWEEN_REPACKS: usize = 20;

/// Rectangles on an average sheet from which it is packed anew; with fewer, taking some off reaches as much.
const REPACKED_FROM: usize = 8;

/// Steps from one packing put together from sheets that were seen to the next.
const BETWEEN_RECOMBINED: usize = 5_000;

/// Rectangles up to which that is done: its work grows with the square of their number at least.
const MOST_RECOMBINED: usize = 250;

/// Up to so many rectangles of another sheet may change places with those of the one that is packed anew.
const MOST_OTHERS: usize = 6;

/// One in so many places is overlooked.
const BLINK: usize = 100;

impl<'a, R: Room> Stream<'a, R> {
    /// A stream that starts from a packing, if possible of everything.
    pub(super) fn new(items: &'a Items, rooms: Vec<R>, seed: u64, keeps_room: bool) -> Self {
        let mut on_sheets = vec![false; items.len()];
        rooms.iter().flat_map(items_on).for_each(|item| on_sheets[item] = true);
        let unplaced: Vec<usize> = (0..items.len()).filter(|&item| !on_sheets[item]).collect();
        let mut stream = Stream {
            items,
            random: Random::new(seed),
            keeps_room,
            spent: cost_of(items, &rooms),
            budget: i128::MAX,
            fills: Vec::new(),
            cost: 0,
            history: Vec::new(),
            steps: 0,
            whole: unplaced.is_empty().then(|| rooms.clone()),
            least: (i64::MAX, Vec::new(), Vec::new()),
            saved: Vec::new(),
            pool: (items.bins.len() == 1 && items.len() <= MOST_RECOMBINED).then(|| Pool::new(items.len())),
            unplaced,
            rooms,
        };
        stream.fills = stream.rooms.iter().map(|room| stream.weight_of(&items_on(room))).collect();
        stream.begin();
        stream
    }

    /// Forgets how good things were before.
    fn begin(&mut self) {
        self.cost = self.cost();
        self.history = vec![self.cost; HISTORY];
        self.least.0 = i64::MAX;
        self.remember();
    }

    fn weight_of(&self, items: &[usize]) -> i64 {
        items.iter().map(|&item| self.items.weight(item)).sum()
    }

    /// What is left over counts most; then free area is better in one place than spread.
    fn cost(&self) -> i64 {
        let capacity = |room: &R| self.items.capacities[room.kind()];
        let together: i64 =
            self.fills.iter().zip(&self.rooms).map(|(fill, room)| fill * fill / capacity(room)).sum();
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

    /// Remembers the state if less is left over than ever at this budget.
    fn remember(&mut self) {
        let left_over = self.weight_of(&self.unplaced);
        if left_over < self.least.0 {
            self.least = (left_over, self.rooms.clone(), self.unplaced.clone());
        }
    }

    /// The packing that puts the least that was ever left over on one more sheet, the cheapest that takes it.
    fn with_a_last_sheet(&self) -> Option<Vec<R>> {
        let (_, rooms, left_over) = &self.least;
        let kinds = Shelf::after(self.items, rooms).by_cost();
        let last = kinds.into_iter().find_map(|kind| start::on_one_sheet(self.items, left_over, kind))?;
        let mut rooms: Vec<R> = in_use(rooms);
        rooms.push(last);
        Some(rooms)
    }
}

fn cost_of<R: Room>(items: &Items, rooms: &[R]) -> i128 {
    whole(items, rooms.iter().map(Room::kind)).cost
}

/// Without the sheets on which nothing lies.
fn in_use<R: Room>(rooms: &[R]) -> Vec<R> {
    rooms.iter().filter(|room| !room.laid().is_empty()).cloned().collect()
}

impl<R: Room> Runner for Stream<'_, R> {
    fn step(&mut self) -> bool {
        let (unplaced, spent, number) = (self.unplaced.clone(), self.spent, self.rooms.len());
        self.saved.clear();
        let anew = if self.is_for_repacking() {
            self.steps.is_multiple_of(BETWEEN_REPACKS) && self.repack()
        } else {
            (self.steps + 1).is_multiple_of(BETWEEN_RECOMBINED) && self.recombine()
        };
        if !anew {
            self.ruin();
        }
        self.recreate();
        self.remember_sheets();
        if self.unplaced.is_empty() {
            let whole = in_use(&self.rooms);
            let cost = cost_of(self.items, &whole);
            self.whole = Some(whole);
            self.aim_below(cost);
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
            self.rooms.truncate(number);
            self.fills.truncate(number);
            self.spent = spent;
        }
        false
    }

    fn cheapest(&self) -> Option<Whole> {
        self.whole.as_ref().map(|rooms| whole(self.items, rooms.iter().map(Room::kind)))
    }

    /// Gives up the sheets that hold least for their cost, or as few of what is paid for as will do, and forgets how
    /// good things were before.
    fn aim_below(&mut self, cost: i128) {
        let budget = cost.saturating_sub(1);
        if budget >= self.budget {
            return;
        }
        self.budget = budget;
        while self.spent > budget {
            let costs = |room: usize| self.items.bins[self.rooms[room].kind()].cost;
            let paid = (0..self.rooms.len()).filter(|&room| costs(room) > 0);
            // Weight over cost, compared by cross-multiplying.
            let by_ratio = |&a: &usize, &b: &usize| {
                let ratio = |one: usize, other: usize| i128::from(self.fills[one]) * costs(other);
                ratio(a, b).cmp(&ratio(b, a)).then(a.cmp(&b))
            };
            // What is spent too much, or if no one sheet costs as much, as much of it as one can.
            let over = self.spent - budget;
            let by_room = |a: &usize, b: &usize| {
                let lost = |room: usize| (costs(room) < over, (costs(room) - over).abs());
                lost(*a).cmp(&lost(*b)).then(by_ratio(a, b))
            };
            let least = if self.keeps_room { paid.min_by(by_room) } else { paid.min_by(by_ratio) };
            let Some(least) = least else { break };
            self.spent -= costs(least);
            self.unplaced.extend(items_on(&self.rooms.remove(least)));
            self.fills.remove(least);
        }
        self.begin();
    }

    fn best(&self) -> (Rating, Layout) {
        let (_, rooms, _) = &self.least;
        let packings = [self.whole.clone(), self.with_a_last_sheet(), Some(in_use(rooms))];
        let rated = packings.into_iter().flatten().map(|rooms| (rating(self.items, &rooms), rooms));
        let (rating, rooms) = rated.min_by_key(|&(rating, _)| rating).unwrap_or_else(|| {
            let none: Vec<R> = Vec::new();
            (rating(self.items, &none), none)
        });
        (rating, layout(self.items, &rooms))
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

    /// Whether many rectangles go on a sheet, so that it is worth while to pack it anew; with few, sheets are put
    /// together as they were.
    fn is_for_repacking(&self) -> bool {
        self.items.len() >= REPACKED_FROM * self.rooms.len()
    }

    /// Remembers the sheets that the step changed.
    fn remember_sheets(&mut self) {
        if self.is_for_repacking() {
            return;
        }
        if let Some(pool) = &mut self.pool {
            self.saved.iter().for_each(|&(index, ..)| pool.remember(&self.rooms[index]));
        }
    }

    /// Puts all sheets together anew from those that were seen. Says whether it did.
    fn recombine(&mut self) -> bool {
        let Some(pool) = &mut self.pool else { return false };
        let Some((rooms, unplaced)) = pool.recombined(self.items, self.rooms.len(), &mut self.random) else {
            return false;
        };
        (0..self.rooms.len()).for_each(|index| self.save(index));
        self.fills = rooms.iter().map(|room| self.weight_of(&items_on(room))).collect();
        self.rooms = rooms;
        self.unplaced = unplaced;
        true
    }

    /// Packs one sheet anew from what lies on it, what is left over and some that lie on another sheet. Says
    /// whether it did.
    fn repack(&mut self) -> bool {
        if self.rooms.is_empty() {
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
        let bin = &self.items.bins[self.rooms[index].kind()];
        let found = R::densest(self.items, bin, &some, self.fills[index], &mut self.random);
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
            if self.items.bins.len() > 1 && self.rooms[index].laid().is_empty() {
                self.change_kind(index);
            }
        }
    }

    /// Gives an empty sheet up for one of any kind that the budget allows, now and then.
    fn change_kind(&mut self, index: usize) {
        if self.random.chance(1, 2) {
            return;
        }
        let old = self.items.bins[self.rooms[index].kind()].cost;
        let kinds = self.affordable(self.spent - old);
        if !kinds.is_empty() {
            let kind = kinds[self.random.below(kinds.len())];
            self.rooms[index] = R::empty(&self.items.bins[kind]);
            self.spent += self.items.bins[kind].cost - old;
        }
    }

    /// Kinds of which one more can be had when so much is spent.
    fn affordable(&self, spent: i128) -> Vec<usize> {
        let bins = &self.items.bins;
        if bins.iter().all(|bin| spent.saturating_add(bin.cost) > self.budget) {
            return Vec::new();
        }
        let shelf = Shelf::after(self.items, &self.rooms);
        let fits = |bin: &&Bin| spent + bin.cost <= self.budget && shelf.has(bin.number);
        bins.iter().filter(fits).map(|bin| bin.number).collect()
    }

    /// Opens another sheet for one of a class if the budget allows one that takes it: where an empty sheet lies,
    /// or beside the others.
    fn open(&mut self, class: usize, fit: Fit) -> Option<Found<R::Place>> {
        let empty = if self.items.bins.len() > 1 {
            (0..self.rooms.len()).find(|&room| self.fills[room] == 0)
        } else {
            None
        };
        let freed = empty.map_or(0, |room| self.items.bins[self.rooms[room].kind()].cost);
        let mut kinds = self.affordable(self.spent - freed);
        while !kinds.is_empty() {
            let kind = kinds.swap_remove(self.random.below(kinds.len()));
            let fresh = R::empty(&self.items.bins[kind]);
            let lies = self.items.lies[class].iter();
            let places = lies.filter_map(|&size| Some((fresh.find(size, fit, &mut Blink::Never)?, size)));
            let Some(((_, place), size)) = places.min_by_key(|&((score, _), _)| score) else { continue };
            let room = if let Some(room) = empty {
                self.save(room);
                self.rooms[room] = fresh;
                room
            } else {
                self.rooms.push(fresh);
                self.fills.push(0);
                self.rooms.len() - 1
            };
            self.spent += self.items.bins[kind].cost - freed;
            return Some(Found { room, size, place });
        }
        None
    }

    /// Lays what is left over where it goes best, in one of several orders.
    fn recreate(&mut self) {
        let ranks = &self.items.ranks[self.random.below(ORDERS.len())];
        let fit = FITS[self.random.below(FITS.len())];
        let mut waiting = std::mem::take(&mut self.unplaced);
        waiting.sort_unstable_by_key(|&item| (ranks[self.items.class_of[item]], item));
        let mut rooms = self.rooms_to_look_at();
        let mut hopeless = usize::MAX;
        for item in waiting {
            let class = self.items.class_of[item];
            if class == hopeless {
                self.unplaced.push(item);
                continue;
            }
            let found = self.find(class, &rooms, fit).or_else(|| self.open(class, fit));
            if let Some(Found { room, size, place }) = found {
                self.save(room);
                if !rooms.contains(&room) {
                    rooms.push(room);
                }
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
            if self.fills[index] + weight > self.items.capacities[self.rooms[index].kind()] + ROUNDING {
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
