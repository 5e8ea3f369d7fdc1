//! Kinds of round holes: a letter for each, a line for each row of them, and where letters stand in the drawing.

use super::super::label::{Label, text_width};
use super::super::{Area, Spot};
use super::ladder::said;
use crate::joints::Bore;
use crate::number::decimal;

/// Size of the letters, mm of paper.
const SIZE: f64 = 2.2;
/// mm of paper between a letter and what it must not touch.
const APART: f64 = 0.3;

/// Holes of one kind.
#[derive(Debug)]
pub(super) struct Kind {
    /// A, B, C ...; AA after Z.
    pub(super) letter: String,
    /// mm across, and across the sink at face A.
    pub(super) diameters: (f64, Option<f64>),
    /// Their places from the drawing's corner, mm.
    pub(super) places: Vec<(f64, f64)>,
}

impl Kind {
    /// What it is, in words.
    pub(super) fn words(&self) -> String {
        let sink = self.diameters.1.map_or_else(String::new, |sink| {
            format!(", countersunk to {} at 90 degrees on face A", decimal(sink, 2))
        });
        let number = self.places.len();
        let noun = if number == 1 { "hole" } else { "holes" };
        format!("{number} {noun}, {} mm through{sink}", decimal(self.diameters.0, 2))
    }

    /// Its places, row by row: along the length or across it, whichever takes fewer rows.
    pub(super) fn rows(&self) -> Vec<String> {
        let across = grouped(self.places.iter().map(|&(u, v)| (v, u)));
        let along = grouped(self.places.iter().copied());
        let (name, other, rows) =
            if across.len() <= along.len() { ("up", "right", across) } else { ("right", "up", along) };
        let row = |(at, places): (f64, Vec<f64>)| {
            let places: Vec<String> = places.into_iter().map(said).collect();
            format!("{} {name}: {} {other}", said(at), places.join(" / "))
        };
        rows.into_iter().map(row).collect()
    }
}

/// Pairs by their first number, both ascending.
fn grouped(pairs: impl Iterator<Item = (f64, f64)>) -> Vec<(f64, Vec<f64>)> {
    let mut pairs: Vec<(f64, f64)> = pairs.collect();
    pairs.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)));
    let mut rows: Vec<(f64, Vec<f64>)> = Vec::new();
    for (at, place) in pairs {
        match rows.last_mut() {
            Some((row, places)) if said(*row) == said(at) => places.push(place),
            _ => rows.push((at, vec![place])),
        }
    }
    for (_, places) in &mut rows {
        places.sort_by(f64::total_cmp);
    }
    rows
}

/// The kinds of some holes, the narrowest first; places are measured from `corner`.
pub(super) fn kinds(bores: &[Bore], corner: (f64, f64)) -> Vec<Kind> {
    let size = |bore: &Bore| (bore.diameter, bore.countersink.map(|sink| sink.diameter));
    let mut sizes: Vec<_> = bores.iter().map(size).collect();
    sizes.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.unwrap_or(0.0).total_cmp(&b.1.unwrap_or(0.0))));
    sizes.dedup();
    let kind = |(i, diameters): (usize, (f64, Option<f64>))| {
        let own = bores.iter().filter(|bore| size(bore) == diameters);
        let places = own.map(|bore| (bore.centre.x - corner.0, bore.centre.y - corner.1)).collect();
        Kind { letter: letter(i), diameters, places }
    };
    sizes.into_iter().enumerate().map(kind).collect()
}

const ALPHABET: &str = "ABCDEFGHIJKLMNOPQRSTUVWXYZ";

fn letter(i: usize) -> String {
    let own = &ALPHABET[i % ALPHABET.len()..=i % ALPHABET.len()];
    if i < ALPHABET.len() { own.to_owned() } else { letter(i / ALPHABET.len() - 1) + own }
}

/// A letter beside each hole where there is room for it: inside `within`, off what is `taken` and off the other letters.
/// Holes are given by their middle on paper and half their width.
pub(super) fn letters(holes: &[(Spot, f64, &str)], within: Area, taken: &[Area]) -> Vec<Label> {
    let around = |&(centre, half, _): &(Spot, f64, &str)| Area::new(centre, centre).inflate(half, half);
    let mut taken: Vec<Area> = taken.iter().copied().chain(holes.iter().map(around)).collect();
    let mut labels = Vec::new();
    for &(centre, half, letter) in holes {
        let (width, height) = (text_width(letter, SIZE) / 2.0, SIZE / 2.0);
        let place = WAYS.iter().find_map(|&(x, y)| {
            let at = Spot::new(centre.x + x * (half + APART + width), centre.y + y * (half + APART + height));
            let shape = Area::new(at, at).inflate(width, height);
            let free = within.contains_box(&shape) && !taken.iter().any(|other| other.intersects(&shape));
            free.then_some((at, shape))
        });
        if let Some((at, shape)) = place {
            taken.push(shape);
            labels.push(Label { lines: vec![letter.to_owned()], centre: at, size: SIZE, upright: false });
        }
    }
    labels
}

/// Where a letter may stand beside its hole, best first.
const WAYS: [(f64, f64); 24] = [
    (1.0, 1.0),
    (-1.0, 1.0),
    (1.0, -1.0),
    (-1.0, -1.0),
    (1.0, 0.0),
    (-1.0, 0.0),
    (0.0, 1.0),
    (0.0, -1.0),
    (2.0, 1.0),
    (-2.0, 1.0),
    (2.0, -1.0),
    (-2.0, -1.0),
    (1.0, 2.0),
    (-1.0, 2.0),
    (1.0, -2.0),
    (-1.0, -2.0),
    (0.0, 2.0),
    (0.0, -2.0),
    (2.0, 0.0),
    (-2.0, 0.0),
    (2.0, 2.0),
    (-2.0, 2.0),
    (2.0, -2.0),
    (-2.0, -2.0),
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn holes_stand_in_rows_whichever_way_takes_fewer() {
        let kind = Kind {
            letter: letter(0),
            diameters: (6.6, None),
            places: vec![(40.0, 30.0), (140.0, 30.0), (240.0, 30.04), (40.0, 200.0)],
        };
        assert_eq!(kind.words(), "4 holes, 6.6 mm through");
        assert_eq!(kind.rows(), ["30 up: 40 / 140 / 240 right", "200 up: 40 right"]);
    }

    #[test]
    fn letters_go_on_after_z() {
        assert_eq!([0, 25, 26, 51, 52].map(letter), ["A", "Z", "AA", "AZ", "BA"]);
    }
}
