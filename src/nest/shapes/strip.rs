//! Pieces on a strip of given height, as short as can be found.
//!
//! Takes kinds of shapes and a height, gives a length and places that are exactly free of overlap. Whenever the
//! pieces have been moved apart the strip is shortened; where that fails, pieces change places and it is tried
//! again. Effort is counted in moves; only a time limit that is asked for reads a clock.

use super::lot::{Kind, Lot};
use super::ring::{LONGEST, Lie};
use super::separate::{Patience, Place, Separation};
use crate::random::Random;
use std::time::{Duration, Instant};

/// A question: pieces and a strip.
#[derive(Clone, Debug)]
pub(crate) struct Strip {
    /// What is to be laid.
    pub kinds: Vec<Kind>,
    /// How many there are of each kind.
    pub counts: Vec<usize>,
    /// Height of the strip, micrometres.
    pub height: i64,
    /// Micrometres between pieces.
    pub gap: i64,
    /// Start of the random numbers.
    pub seed: u64,
    /// Pieces that each stream moves.
    pub moves: usize,
    /// Streams side by side, each in a thread of its own.
    pub streams: usize,
    /// Most time; gives up repeatability.
    pub time_limit: Option<Duration>,
}

/// A piece on the strip.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Laid {
    /// Index of its kind.
    pub kind: usize,
    /// How it lies.
    pub lie: Lie,
    /// Where its origin comes to lie, micrometres along the strip.
    pub x: i64,
    /// And across it.
    pub y: i64,
}

/// The shortest strip found: its length in micrometres and where the pieces lie. `None` if a piece is higher
/// than the strip in every lie, or the shapes are too many and too finely drawn.
pub(crate) fn shortest(strip: &Strip) -> Option<(i64, Vec<Laid>)> {
    let counts = strip.counts.iter().enumerate();
    let kind_of = counts.flat_map(|(kind, &count)| std::iter::repeat_n(kind, count)).collect();
    let lot = Lot::new(&strip.kinds, kind_of, strip.gap, GAP_TOLERANCE)?;
    let first = shelves(&lot, strip.height as f64)?;
    let deadline = strip.time_limit.map(|limit| Instant::now() + limit);
    let run = |number: usize| {
        let seed = strip.seed.wrapping_mul(0x9E37_79B9_7F4A_7C15).wrapping_add(number as u64);
        Stream::new(&lot, strip.height as f64, first.clone(), seed).run(strip.moves, deadline)
    };
    let streams = strip.streams.max(1);
    let mut found = Vec::with_capacity(streams);
    std::thread::scope(|scope| {
        let handles: Vec<_> = (0..streams).map(|number| scope.spawn(move || run(number))).collect();
        found.extend(handles.into_iter().filter_map(|handle| handle.join().ok()));
    });
    let (length, places) = found.into_iter().min_by(|a, b| a.0.total_cmp(&b.0))?;
    Some((whole(length), laid(&lot, &places)))
}

#[expect(clippy::cast_possible_truncation, reason = "whole and at most LONGEST")]
fn whole(micrometres: f64) -> i64 {
    micrometres as i64
}

fn laid(lot: &Lot, places: &[Place]) -> Vec<Laid> {
    let one = |(piece, place): (usize, &Place)| Laid {
        kind: lot.kind_of[piece],
        lie: lot.variants[place.variant].lie,
        x: whole(place.x),
        y: whole(place.y),
    };
    places.iter().enumerate().map(one).collect()
}

/// A first packing: boxes side by side in columns, the longest first.
fn shelves(lot: &Lot, height: f64) -> Option<Vec<Place>> {
    let size =
        |variant: usize, axis: usize| lot.variants[variant].high[axis] - lot.variants[variant].low[axis];
    let fitting = |&piece: &usize| {
        let choices = &lot.choices[lot.kind_of[piece]];
        choices
            .iter()
            .copied()
            .filter(|&variant| size(variant, 1) <= height)
            .min_by(|&a, &b| size(a, 0).total_cmp(&size(b, 0)))
    };
    let mut order: Vec<(usize, usize)> =
        (0..lot.kind_of.len()).map(|piece| Some((piece, fitting(&piece)?))).collect::<Option<_>>()?;
    order.sort_by(|a, b| size(b.1, 0).total_cmp(&size(a.1, 0)).then(a.0.cmp(&b.0)));
    let mut places = vec![Place { bin: 0, variant: 0, x: 0.0, y: 0.0 }; order.len()];
    let (mut left, mut right, mut low) = (0.0_f64, 0.0_f64, 0.0_f64);
    for (piece, variant) in order {
        if low + size(variant, 1) > height {
            (left, low) = (right + lot.gap, 0.0);
        }
        let [x, y] = lot.variants[variant].low;
        places[piece] = Place { bin: 0, variant, x: left - x, y: low - y };
        right = right.max(left + size(variant, 0));
        low += size(variant, 1) + lot.gap;
    }
    (right <= LONGEST as f64).then_some(places)
}

/// Share of the length below which a strip is not shortened in one step.
const LEAST_SHRINK: f64 = 0.0001;

/// Micrometres by which the corners of a grown contour may stand out of the true one.
pub(super) const GAP_TOLERANCE: f64 = 200.0;

/// One search.
struct Stream<'a> {
    lot: &'a Lot,
    separation: Separation<'a>,
    best: (f64, Vec<Place>),
}

impl<'a> Stream<'a> {
    fn new(lot: &'a Lot, height: f64, first: Vec<Place>, seed: u64) -> Self {
        let movable = first.len();
        let length = used_length(lot, &first);
        let separation = Separation::new(lot, vec![[length, height]], &first, movable, Random::new(seed));
        Stream { lot, separation, best: (length, first) }
    }

    fn run(mut self, moves: usize, deadline: Option<Instant>) -> (f64, Vec<Place>) {
        let begun = Instant::now();
        let over = |separation: &Separation, share: f64| {
            let late = deadline.is_some_and(|deadline| begun.elapsed() >= (deadline - begun).mul_f64(share));
            late || separation.moves as f64 >= share * moves as f64
        };
        self.explore(&|separation| over(separation, 0.7));
        self.compress(&|separation| over(separation, 1.0));
        self.best
    }

    /// Shortens the strip by large steps; failures are disturbed and tried again.
    fn explore(&mut self, over: &dyn Fn(&Separation) -> bool) {
        let patience = Patience { passes: 60, strikes: 2 };
        let mut length = self.best.0;
        let mut shrink = 0.05;
        while !over(&self.separation) {
            length = (length * (1.0 - shrink)).floor();
            if !self.set_length(length) {
                return;
            }
            let mut failed = 0;
            let mut pool: Vec<(f64, Vec<Place>)> = Vec::new();
            loop {
                self.separation.forget_weights();
                if self.separation.settle(patience, over) {
                    self.keep();
                    length = self.best.0;
                    shrink = if failed == 0 { (shrink * 1.2).min(0.05) } else { shrink };
                    break;
                }
                if over(&self.separation) {
                    return;
                }
                failed += 1;
                shrink = (shrink * 0.5_f64).max(0.003);
                if pool.is_empty() && length < self.best.0 * 0.99 {
                    // Too bold a step: a smaller one from the last success.
                    length = self.best.0;
                    let places = self.best.1.clone();
                    self.separation.bins[0][0] = length;
                    self.separation.set_places(&places);
                    break;
                }
                let state = (self.separation.total(), self.separation.places.clone());
                let at = pool.partition_point(|(total, _)| *total <= state.0);
                pool.insert(at, state);
                pool.truncate(20);
                // One of the better ones, the best most likely.
                let n = pool.len();
                let random = self.separation.random();
                let pick = random.below(n).min(random.below(n)).min(random.below(n));
                let places = pool[pick].1.clone();
                self.separation.set_places(&places);
                self.disturb();
            }
        }
    }

    /// Shortens the best strip by ever smaller steps.
    fn compress(&mut self, over: &dyn Fn(&Separation) -> bool) {
        let patience = Patience { passes: 30, strikes: 2 };
        let mut shrink = 0.005;
        while !over(&self.separation) {
            let places = self.best.1.clone();
            self.separation.bins[0][0] = self.best.0;
            self.separation.set_places(&places);
            let shorter = self.set_length((self.best.0 * (1.0 - shrink)).floor());
            self.separation.forget_weights();
            if shorter && self.separation.settle(patience, over) {
                self.keep();
            } else {
                shrink *= 0.8;
                if shrink < LEAST_SHRINK && !shorter {
                    return;
                }
                shrink = shrink.max(LEAST_SHRINK);
            }
        }
    }

    /// Keeps the present state, which is free of overlap.
    fn keep(&mut self) {
        let length = used_length(self.lot, &self.separation.places);
        if length < self.best.0 {
            self.best = (length, self.separation.places.clone());
        }
    }

    /// Another length: what lies right of a random place moves by the difference, and nothing stays outside. False
    /// if a piece is longer than that in every lie.
    fn set_length(&mut self, length: f64) -> bool {
        let before = self.separation.bins[0][0];
        self.separation.bins[0][0] = length;
        let cut = self.separation.random().below(1000) as f64 / 1000.0 * before;
        let mut places = self.separation.places.clone();
        let mut too_long = Vec::new();
        for (piece, place) in places.iter_mut().enumerate() {
            let variant = &self.lot.variants[place.variant];
            if f64::midpoint(variant.low[0], variant.high[0]) + place.x > cut {
                place.x += length - before;
            }
            match self.separation.range(0, place.variant) {
                Some((low, high)) => place.x = place.x.clamp(low[0], high[0]),
                None => too_long.push(piece),
            }
        }
        self.separation.set_places(&places);
        too_long.into_iter().all(|piece| self.separation.throw(piece))
    }

    /// Two large pieces change places.
    fn disturb(&mut self) {
        let n = self.separation.places.len();
        let mut by_size: Vec<usize> = (0..n).collect();
        by_size.sort_by(|&a, &b| {
            let side = |piece: usize| self.lot.sides[self.lot.kind_of[piece]];
            side(b).total_cmp(&side(a)).then(a.cmp(&b))
        });
        let large = n.div_ceil(2).max(2).min(n);
        let one = by_size[self.separation.random().below(large)];
        for _ in 0..20 {
            let other = by_size[self.separation.random().below(large)];
            if self.lot.kind_of[one] != self.lot.kind_of[other] {
                let (a, b) = (self.separation.places[one], self.separation.places[other]);
                self.put_at(one, b);
                self.put_at(other, a);
                return;
            }
        }
    }

    /// Puts the middle of a piece where that of another was.
    fn put_at(&mut self, piece: usize, there: Place) {
        let middle = |variant: usize, axis: usize| {
            let variant = &self.lot.variants[variant];
            f64::midpoint(variant.low[axis], variant.high[axis])
        };
        let mut place = self.separation.places[piece];
        place.x = (there.x + middle(there.variant, 0) - middle(place.variant, 0)).round();
        place.y = (there.y + middle(there.variant, 1) - middle(place.variant, 1)).round();
        if let Some((low, high)) = self.separation.range(0, place.variant) {
            place.x = place.x.clamp(low[0], high[0]);
            place.y = place.y.clamp(low[1], high[1]);
        }
        self.separation.put(piece, place);
    }
}

/// The right edge of the rightmost piece.
fn used_length(lot: &Lot, places: &[Place]) -> f64 {
    places.iter().map(|place| place.x + lot.variants[place.variant].high[0]).fold(0.0, f64::max)
}
