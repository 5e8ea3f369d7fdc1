//! Running dimensions: the places along one edge of a drawing, all measured from one corner, their numbers side by side.
//!
//! Takes places and the room that their numbers have, gives where each number stands. Numbers never come nearer than a line.

use super::super::canvas::{Along, Canvas};
use super::super::label::{Label, text_width};
use super::super::{Area, Spot};
use crate::number::decimal;

/// Places that are nearer than this are one, mm: a tape does not tell them apart.
const SAME_PLACE: f64 = 0.05;
/// Size of the numbers, mm of paper: 1.8 mm high, the least of ISO 3098.
pub(super) const SIZE: f64 = 2.5;
/// From number to number, mm of paper.
const PITCH: f64 = 2.9;
/// From the thing to where a line bends, and from there to its number, mm of paper.
const STEM: f64 = 1.5;
const BEND: f64 = 3.0;

/// mm of paper by which numbers beside a thing may stand above or below it: half a number less than those above and below it
/// stand off.
pub(super) const CORNER: f64 = 3.0;

/// One side of a drawing with its numbers.
#[derive(Debug)]
pub(super) struct Ladder {
    /// Whether places run across or up.
    pub(super) along: Along,
    /// Whether the numbers stand on the far side: above or to the right.
    pub(super) beyond: bool,
    /// mm from the corner that all is measured from, ascending.
    pub(super) places: Vec<f64>,
}

impl Ladder {
    /// The places without those that count as one, ascending.
    pub(super) fn new(along: Along, beyond: bool, mut places: Vec<f64>) -> Self {
        places.sort_by(f64::total_cmp);
        places.dedup_by(|a, b| *a - *b < SAME_PLACE);
        Ladder { along, beyond, places }
    }

    /// How many numbers have room in so many mm of paper.
    pub(super) fn most(room: f64) -> usize {
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "no less than 0, and mm of paper"
        )]
        let further = (room / PITCH).max(0.0) as usize;
        // The first stands at the room's start.
        1 + further
    }

    /// mm of paper that stems and numbers take beside the thing.
    pub(super) fn depth(&self) -> f64 {
        if self.places.is_empty() { 0.0 } else { STEM + BEND + 1.0 + self.widest() }
    }

    fn widest(&self) -> f64 {
        self.places.iter().map(|place| text_width(&said(*place), SIZE)).fold(0.0, f64::max)
    }

    /// Draws it. `thing` is what is measured, on paper; `scale` mm of paper for a mm of it; `room` what numbers may use of
    /// the paper along the ladder.
    pub(super) fn draw(&self, canvas: &mut Canvas, thing: Area, scale: f64, room: (f64, f64)) {
        let (start, edge) = match (self.along, self.beyond) {
            (Along::X, false) => (thing.min.x, thing.min.y),
            (Along::X, true) => (thing.min.x, thing.max.y),
            (Along::Y, false) => (thing.min.y, thing.min.x),
            (Along::Y, true) => (thing.min.y, thing.max.x),
        };
        let away = if self.beyond { 1.0 } else { -1.0 };
        let spot = |along: f64, across: f64| match self.along {
            Along::X => Spot::new(along, across),
            Along::Y => Spot::new(across, along),
        };
        let targets: Vec<f64> = self.places.iter().map(|place| start + place * scale).collect();
        for ((place, at), stands) in self.places.iter().zip(&targets).zip(spread(&targets, PITCH, room)) {
            let bend = edge + away * STEM;
            let end = bend + away * BEND;
            canvas.line("dim", &[spot(*at, edge), spot(*at, bend), spot(stands, end)]);
            let text = said(*place);
            let middle = end + away * (0.6 + text_width(&text, SIZE) / 2.0);
            let label = Label {
                lines: vec![text],
                centre: spot(stands, middle),
                size: SIZE,
                upright: self.along == Along::X,
            };
            canvas.label("number", &label);
        }
    }
}

/// A place in words: tenths of a millimetre.
pub(super) fn said(place: f64) -> String {
    decimal(place, 1)
}

/// Ascending places moved as little as it takes to stand `pitch` apart within `room`: runs of places that are too near are
/// centred on the middle of what they want.
fn spread(targets: &[f64], pitch: f64, room: (f64, f64)) -> Vec<f64> {
    // Without the pitch between them, places must only not descend; a run stands at the mean of its targets.
    let mut runs: Vec<(f64, usize)> = Vec::new();
    for (i, target) in targets.iter().enumerate() {
        runs.push((target - pitch * i as f64, 1));
        while let [.., (before, n), (last, m)] = runs[..]
            && before >= last
        {
            runs.truncate(runs.len() - 2);
            runs.push(((before * n as f64 + last * m as f64) / (n + m) as f64, n + m));
        }
    }
    let most = room.1 - pitch * targets.len().saturating_sub(1) as f64;
    let free = runs.iter().flat_map(|&(mean, n)| std::iter::repeat_n(mean, n));
    free.enumerate().map(|(i, place)| place.min(most).max(room.0) + pitch * i as f64).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_stand_apart_and_near_what_they_say() {
        // By hand: the two at 10 and 11 share their shift; those at 50 stay; the last is kept inside.
        assert_eq!(spread(&[10.0, 11.0, 50.0], 3.0, (0.0, 100.0)), [9.0, 12.0, 50.0]);
        assert_eq!(spread(&[98.0, 99.0], 3.0, (0.0, 100.0)), [97.0, 100.0]);
        assert_eq!(spread(&[0.0, 1.0], 3.0, (0.0, 100.0)), [0.0, 3.0]);
    }

    #[test]
    fn places_that_no_tape_tells_apart_are_one() {
        assert_eq!(Ladder::new(Along::X, false, vec![8.0, 3.0, 3.04]).places, [3.0, 8.0]);
    }
}
