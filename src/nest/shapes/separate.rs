//! Pieces that overlap moved apart: guided local search.
//!
//! Takes a lot, sheets and places where pieces may overlap; moves one piece at a time to the place where its
//! weighted overlaps are least, and weighs what still overlaps more heavily from pass to pass, so that no
//! arrangement holds the search for long. The methods are published (guided local search on overlaps: Egeblad,
//! Nielsen and Odgaard 2007; weights, sampled places and strips that shrink: Umetani and others 2009, Gardeyn
//! and Wauters 2024; all from memory). Positions are whole micrometres, and no overlap means none.

use super::lot::Lot;
use crate::random::Random;

/// Where a piece lies.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Place {
    /// Which sheet.
    pub(super) bin: usize,
    /// Which lie of the lot.
    pub(super) variant: usize,
    /// Micrometres along the sheet, whole.
    pub(super) x: f64,
    /// Micrometres across the sheet, whole.
    pub(super) y: f64,
}

/// How long moving goes on without success.
#[derive(Clone, Copy, Debug)]
pub(super) struct Patience {
    /// Passes without progress.
    pub(super) passes: usize,
    /// Times that the best state is taken up again.
    pub(super) strikes: usize,
}

/// Places that are tried for a piece: anywhere, around where it lies, and how many of the best are refined.
const ANYWHERE: usize = 30;
const NEARBY: usize = 15;
const REFINED: usize = 3;

/// Tries to find a sheet and a lie in which a piece fits.
const THROWS: usize = 200;

/// The state of a search.
#[derive(Clone, Debug)]
pub(super) struct Separation<'a> {
    lot: &'a Lot,
    /// Width and height of each sheet.
    pub(super) bins: Vec<[f64; 2]>,
    /// Sheets on which pieces may come to lie.
    open: Vec<usize>,
    /// Where each piece lies.
    pub(super) places: Vec<Place>,
    /// Box around each piece: left, lower, right, upper edge.
    boxes: Vec<[f64; 4]>,
    /// The pieces on each sheet.
    members: Vec<Vec<usize>>,
    /// For each pair, how deep they overlap.
    overlap: Vec<f64>,
    /// For each pair, how heavily that counts.
    weight: Vec<f64>,
    /// Pieces from this one on stay where they are.
    movable: usize,
    random: Random,
    /// Pieces moved so far.
    pub(super) moves: usize,
}

/// What an overlap counts at least, as a share of the smaller shape's side: so that the last micrometre of an
/// overlap still matters.
const LEAST_OVERLAP: f64 = 0.01;

impl<'a> Separation<'a> {
    /// Pieces at their places; those from `movable` on never move.
    pub(super) fn new(
        lot: &'a Lot,
        bins: Vec<[f64; 2]>,
        places: &[Place],
        movable: usize,
        random: Random,
    ) -> Self {
        let n = places.len();
        let mut separation = Separation {
            lot,
            open: (0..bins.len()).collect(),
            bins,
            places: Vec::new(),
            boxes: vec![[0.0; 4]; n],
            members: Vec::new(),
            overlap: vec![0.0; n * n],
            weight: vec![1.0; n * n],
            movable,
            random,
            moves: 0,
        };
        separation.set_places(places);
        separation
    }

    /// Puts every piece elsewhere; the weights stay.
    pub(super) fn set_places(&mut self, places: &[Place]) {
        self.places = places.to_vec();
        self.members = vec![Vec::new(); self.bins.len()];
        for (piece, place) in places.iter().enumerate() {
            self.boxes[piece] = self.box_at(*place);
            self.members[place.bin].push(piece);
        }
        self.overlap.fill(0.0);
        for piece in 0..places.len() {
            self.measure(piece);
        }
    }

    /// No piece comes to lie on this sheet any more.
    pub(super) fn close(&mut self, bin: usize) {
        self.open.retain(|&other| other != bin);
    }

    /// Puts a piece on a random place of any sheet; false if none is found.
    pub(super) fn throw(&mut self, piece: usize) -> bool {
        // In some lies, and on some sheets, the piece may not fit: enough tries to meet one where it does.
        let place = (0..THROWS).find_map(|_| self.anywhere(piece));
        place.inspect(|&place| self.put(piece, place)).is_some()
    }

    /// Forgets what was learned.
    pub(super) fn forget_weights(&mut self) {
        self.weight.fill(1.0);
    }

    /// The source of random numbers.
    pub(super) fn random(&mut self) -> &mut Random {
        &mut self.random
    }

    /// Overlaps of all pairs.
    pub(super) fn total(&self) -> f64 {
        self.overlap.iter().sum::<f64>() / 2.0
    }

    fn box_at(&self, place: Place) -> [f64; 4] {
        let variant = &self.lot.variants[place.variant];
        [
            variant.low[0] + place.x,
            variant.low[1] + place.y,
            variant.high[0] + place.x,
            variant.high[1] + place.y,
        ]
    }

    /// The least and the greatest position of a lie on a sheet; `None` if it does not go on it.
    pub(super) fn range(&self, bin: usize, variant: usize) -> Option<([f64; 2], [f64; 2])> {
        let Lot { variants, .. } = self.lot;
        let variant = &variants[variant];
        let low = [-variant.low[0], -variant.low[1]];
        let high = [self.bins[bin][0] - variant.high[0], self.bins[bin][1] - variant.high[1]];
        (low[0] <= high[0] && low[1] <= high[1]).then_some((low, high))
    }

    /// Works out the overlaps of one piece.
    fn measure(&mut self, piece: usize) {
        let n = self.places.len();
        let place = self.places[piece];
        for other in 0..n {
            // What stays where it is cannot be moved apart: two defects may overlap.
            let still = piece >= self.movable && other >= self.movable;
            let apart = other == piece || still || self.places[other].bin != place.bin;
            let overlap = if apart { 0.0 } else { self.pair(piece, place, other) };
            self.overlap[piece * n + other] = overlap;
            self.overlap[other * n + piece] = overlap;
        }
    }

    /// How deep a piece would overlap another, if it lay at `place` on the same sheet.
    #[inline]
    fn pair(&self, piece: usize, place: Place, other: usize) -> f64 {
        let (a, b) = (self.box_at(place), self.boxes[other]);
        let gap = self.lot.gap;
        if a[0] >= b[2] + gap || b[0] >= a[2] + gap || a[1] >= b[3] + gap || b[1] >= a[3] + gap {
            return 0.0;
        }
        let there = self.places[other];
        let depth = self.lot.depth((place.variant, place.x, place.y), (there.variant, there.x, there.y));
        if depth == 0.0 {
            return 0.0;
        }
        let side = |piece: usize| self.lot.sides[self.lot.kind_of[piece]];
        depth + LEAST_OVERLAP * side(piece).min(side(other))
    }

    /// Weighted overlaps of a piece at `place`; whatever is not below `limit` if it is not.
    fn cost(&self, piece: usize, place: Place, limit: f64) -> f64 {
        let n = self.places.len();
        let weights = &self.weight[piece * n..(piece + 1) * n];
        let mut sum = 0.0;
        for &other in &self.members[place.bin] {
            if other == piece {
                continue;
            }
            let overlap = self.pair(piece, place, other);
            if overlap > 0.0 {
                sum += overlap * weights[other];
                if sum >= limit {
                    return sum;
                }
            }
        }
        sum
    }

    /// Moves every piece that overlaps, once, in random order, and then weighs what still does more heavily.
    pub(super) fn pass(&mut self) {
        let n = self.places.len();
        let overlaps = |separation: &Self, piece: usize| {
            separation.overlap[piece * n..(piece + 1) * n].iter().any(|&overlap| overlap > 0.0)
        };
        let mut order: Vec<usize> = (0..self.movable).filter(|&piece| overlaps(self, piece)).collect();
        for i in (1..order.len()).rev() {
            order.swap(i, self.random.below(i + 1));
        }
        for piece in order {
            if overlaps(self, piece) {
                self.relocate(piece);
            }
        }
        self.reweigh();
    }

    /// Moves pieces until none overlap; the best state met is left where that fails.
    pub(super) fn settle(&mut self, patience: Patience, over: &dyn Fn(&Separation) -> bool) -> bool {
        let mut best = (self.total(), self.places.clone());
        if best.0 == 0.0 {
            return true;
        }
        let mut strikes = 0;
        while strikes < patience.strikes {
            let before = best.0;
            let mut idle = 0;
            while idle < patience.passes {
                self.pass();
                let total = self.total();
                if total == 0.0 {
                    return true;
                }
                idle = if total < 0.98 * best.0 { 0 } else { idle + 1 };
                if total < best.0 {
                    best = (total, self.places.clone());
                }
                if over(self) {
                    self.set_places(&best.1);
                    return false;
                }
            }
            strikes = if best.0 < 0.98 * before { 0 } else { strikes + 1 };
            self.set_places(&best.1);
        }
        false
    }

    /// Raises the weight of pairs that overlap, the deepest most; lets that of others fall again.
    fn reweigh(&mut self) {
        let deepest = self.overlap.iter().copied().fold(0.0, f64::max);
        if deepest == 0.0 {
            return;
        }
        for (weight, &overlap) in self.weight.iter_mut().zip(&self.overlap) {
            if overlap > 0.0 {
                *weight *= 1.2 + 0.8 * overlap / deepest;
            } else {
                *weight = (*weight * 0.95).max(1.0);
            }
        }
    }

    /// Moves a piece to the best place that is found for it.
    fn relocate(&mut self, piece: usize) {
        self.moves += 1;
        let here = self.places[piece];
        let mut found: Vec<(f64, Place)> = Vec::with_capacity(REFINED + 1);
        for trial in 0..ANYWHERE + NEARBY {
            let place = if trial < ANYWHERE { self.anywhere(piece) } else { self.nearby(piece) };
            let Some(place) = place else { continue };
            let limit = if found.len() < REFINED { f64::INFINITY } else { found[REFINED - 1].0 };
            let cost = self.cost(piece, place, limit);
            if cost < limit {
                let at = found.partition_point(|&(other, _)| other <= cost);
                found.insert(at, (cost, place));
                found.truncate(REFINED);
            }
        }
        let size = self.lot.sides[self.lot.kind_of[piece]];
        let cost = self.cost(piece, here, f64::INFINITY);
        let mut best = self.refined(piece, (cost, here), size * 0.05, size * 0.001);
        for start in found {
            if best.0 == 0.0 {
                break;
            }
            let near = self.refined(piece, start, size * 0.25, size * 0.02);
            if near.0 < best.0 {
                best = near;
            }
        }
        if best.0 > 0.0 {
            best = self.refined(piece, best, size * 0.02, 1.0);
        }
        self.put(piece, best.1);
    }

    /// Puts a piece elsewhere.
    pub(super) fn put(&mut self, piece: usize, place: Place) {
        let before = self.places[piece];
        if before.bin != place.bin {
            self.members[before.bin].retain(|&other| other != piece);
            self.members[place.bin].push(piece);
        }
        self.places[piece] = place;
        self.boxes[piece] = self.box_at(place);
        self.measure(piece);
    }

    /// A random place in any lie on any sheet.
    fn anywhere(&mut self, piece: usize) -> Option<Place> {
        let bin = *self.open.get(self.random.below(self.open.len()))?;
        let variant = self.any_lie(piece);
        let (low, high) = self.range(bin, variant)?;
        Some(Place { bin, variant, x: self.between(low[0], high[0]), y: self.between(low[1], high[1]) })
    }

    /// A random place near to where the piece lies, in any lie.
    fn nearby(&mut self, piece: usize) -> Option<Place> {
        let here = self.boxes[piece];
        let bin = self.places[piece].bin;
        let variant = self.any_lie(piece);
        let (low, high) = self.range(bin, variant)?;
        let reach = (here[2] - here[0]).min(here[3] - here[1]) / 2.0;
        let lie = &self.lot.variants[variant];
        let mut coordinate = |axis: usize| {
            // The middle of the piece stays within reach.
            let middle =
                f64::midpoint(here[axis], here[axis + 2]) - f64::midpoint(lie.low[axis], lie.high[axis]);
            let (from, to) = ((middle - reach).max(low[axis]), (middle + reach).min(high[axis]));
            if from < to { self.between(from, to) } else { middle.clamp(low[axis], high[axis]).round() }
        };
        let (x, y) = (coordinate(0), coordinate(1));
        Some(Place { bin, variant, x: x.clamp(low[0], high[0]), y: y.clamp(low[1], high[1]) })
    }

    fn any_lie(&mut self, piece: usize) -> usize {
        let choices = &self.lot.choices[self.lot.kind_of[piece]];
        choices[self.random.below(choices.len())]
    }

    /// A whole number from `low` to `high`, both of them among the possible ones.
    fn between(&mut self, low: f64, high: f64) -> f64 {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "at most LONGEST")]
        let span = (high - low) as usize;
        low.round() + self.random.below(span + 1) as f64
    }

    /// A place from which no small step leads downward: steps along the axes and diagonals, halved when none does.
    fn refined(
        &mut self,
        piece: usize,
        start: (f64, Place),
        first_step: f64,
        last_step: f64,
    ) -> (f64, Place) {
        const WAYS: [[f64; 2]; 4] = [[1.0, 0.0], [0.0, 1.0], [1.0, 1.0], [1.0, -1.0]];
        let (mut best, mut place) = start;
        let Some((low, high)) = self.range(place.bin, place.variant) else { return start };
        let mut step = first_step;
        while step >= last_step && best > 0.0 {
            let way = WAYS[self.random.below(4)];
            let mut moved = false;
            for sign in [1.0, -1.0] {
                let x = (place.x + way[0] * step * sign).round().clamp(low[0], high[0]);
                let y = (place.y + way[1] * step * sign).round().clamp(low[1], high[1]);
                let there = Place { x, y, ..place };
                let cost = self.cost(piece, there, best);
                if cost < best {
                    (best, place, moved) = (cost, there, true);
                    break;
                }
            }
            step *= if moved { 1.1 } else { 0.5 };
        }
        (best, place)
    }
}
