//! Single-stroke lettering for engraving: what a cutter follows along the middle of each line.
//!
//! Takes a text, gives open lines in units of a sixth of the capitals' height, baseline at 0, from the left edge of its
//! first sign. The signs were drawn for this project, so no other licence stands on them: straight strokes on a grid, capitals 6
//! high and at most 4 wide, small letters 4 high, tails 2 below the line.

/// Units that capitals are high.
pub(crate) const CAPITALS: f64 = 6.0;
/// Units between two signs.
const GAP: f64 = 1.5;
/// Units that a blank is wide.
const BLANK: f64 = 2.5;
/// Row of the grid on which letters stand.
const BASELINE: u32 = 2;

/// Each sign with its strokes: corners as column and row of the grid, strokes apart by commas.
#[rustfmt::skip]
const SIGNS: &[(char, &str)] = &[
    ('A', "02 28 42,15 35"), ('B', "02 08 38 47 46 35 05,35 44 43 32 02"), ('C', "47 38 18 07 03 12 32 43"),
    ('D', "02 08 28 47 43 22 02"), ('E', "48 08 02 42,05 35"), ('F', "48 08 02,05 35"),
    ('G', "47 38 18 07 03 12 32 43 45 25"), ('H', "02 08,42 48,05 45"), ('I', "02 08"), ('J', "38 33 22 12 03"),
    ('K', "02 08,48 05 42"), ('L', "08 02 42"), ('M', "02 08 25 48 42"), ('N', "02 08 42 48"),
    ('O', "18 07 03 12 32 43 47 38 18"), ('P', "02 08 38 47 46 35 05"),
    ('Q', "18 07 03 12 32 43 47 38 18,24 42"), ('R', "02 08 38 47 46 35 05,25 42"),
    ('S', "47 38 18 07 06 15 35 44 43 32 12 03"), ('T', "08 48,28 22"), ('U', "08 03 12 32 43 48"),
    ('V', "08 22 48"), ('W', "08 12 25 32 48"), ('X', "08 42,02 48"), ('Y', "08 25 48,25 22"), ('Z', "08 48 02 42"),
    ('a', "36 32,35 26 16 05 03 12 22 33"), ('b', "08 02,05 16 26 35 33 22 12 03"), ('c', "35 26 16 05 03 12 22 33"),
    ('d', "38 32,35 26 16 05 03 12 22 33"), ('e', "04 34 35 26 16 05 03 12 22 33"), ('f', "28 17 12,06 26"),
    ('g', "36 31 20 10 01,35 26 16 05 03 12 22 33"), ('h', "08 02,05 16 26 35 32"), ('i', "02 06,07 08"),
    ('j', "16 11 00,17 18"), ('k', "08 02,36 04 32"), ('l', "08 02"), ('m', "02 06,05 16 25 22,25 36 45 42"),
    ('n', "02 06,05 16 26 35 32"), ('o', "16 05 03 12 22 33 35 26 16"), ('p', "00 06,05 16 26 35 33 22 12 03"),
    ('q', "30 36,35 26 16 05 03 12 22 33"), ('r', "02 06,05 16 26"), ('s', "35 26 16 05 14 24 33 22 12 03"),
    ('t', "18 13 22,06 26"), ('u', "06 03 12 22 33,36 32"), ('v', "06 22 46"), ('w', "06 12 24 32 46"),
    ('x', "06 32,02 36"), ('y', "06 22,46 10"), ('z', "06 36 02 32"),
    ('0', "18 07 03 12 22 33 37 28 18"), ('1', "06 28 22"), ('2', "07 18 28 37 36 02 32"),
    ('3', "07 18 28 37 36 25 34 33 22 12 03,15 25"), ('4', "32 38 04 44"), ('5', "38 08 05 25 34 33 22 02"),
    ('6', "37 28 18 07 03 12 22 33 34 25 05"), ('7', "08 38 12"),
    ('8', "15 06 07 18 28 37 36 25 15 04 03 12 22 33 34 25"), ('9', "03 12 22 33 37 28 18 07 06 15 35"),
    ('-', "05 25"), ('.', "02 03"), (',', "13 01"), ('/', "02 38"), ('+', "05 45,23 27"), (':', "03 04,06 07"),
    ('(', "18 07 03 12"), (')', "08 17 13 02"), ('%', "02 48,08 07,43 42"), ('=', "04 34,06 36"),
    ('\'', "08 07"), ('!', "08 04,03 02"), ('_', "02 42"), ('~', "05 16 25 36"), ('°', "18 07 16 27 18"),
    ('±', "06 46,24 28,02 42"), ('<', "37 05 33"), ('>', "07 35 03"), ('*', "14 36,16 34,05 45"),
];

/// A text as lines.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Lettered {
    /// Units from its left edge to its right one.
    pub(crate) width: f64,
    /// Open lines.
    pub(crate) strokes: Vec<Vec<(f64, f64)>>,
}

/// The lines of a text. The error is the signs that the font does not have, each once.
pub(crate) fn lettered(text: &str) -> Result<Lettered, Vec<char>> {
    let mut unknown = Vec::new();
    let mut strokes = Vec::new();
    let (mut at, mut width) = (0.0, 0.0);
    for sign in text.chars() {
        if sign == ' ' {
            at += BLANK;
            continue;
        }
        let Some((_, drawn)) = SIGNS.iter().find(|(known, _)| *known == sign) else {
            if !unknown.contains(&sign) {
                unknown.push(sign);
            }
            continue;
        };
        let mut widest: f64 = 0.0;
        for stroke in drawn.split(',') {
            let corners: Vec<(f64, f64)> = stroke.split(' ').filter_map(corner).collect();
            widest = corners.iter().fold(widest, |widest, corner| widest.max(corner.0));
            strokes.push(corners.into_iter().map(|(x, y)| (at + x, y)).collect());
        }
        width = at + widest;
        at = width + GAP;
    }
    if unknown.is_empty() { Ok(Lettered { width, strokes }) } else { Err(unknown) }
}

/// A corner as written: its column, and its row above the baseline.
fn corner(written: &str) -> Option<(f64, f64)> {
    let mut digits = written.chars().filter_map(|digit| digit.to_digit(10));
    let (column, row) = (digits.next()?, digits.next()?);
    Some((f64::from(column), f64::from(row) - f64::from(BASELINE)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_sign_is_drawn_once_on_the_grid() {
        for (i, (sign, drawn)) in SIGNS.iter().enumerate() {
            assert!(!SIGNS[..i].iter().any(|(other, _)| other == sign), "{sign}");
            for stroke in drawn.split(',') {
                let corners: Vec<_> = stroke.split(' ').map(|written| corner(written).unwrap()).collect();
                assert!(corners.len() >= 2 && stroke.split(' ').all(|written| written.len() == 2), "{sign}");
                assert!(corners.windows(2).all(|pair| pair[0] != pair[1]), "{sign}");
                let on_grid = |(x, y): (f64, f64)| (0.0..=4.0).contains(&x) && (-2.0..=6.0).contains(&y);
                assert!(corners.into_iter().all(on_grid), "{sign}");
            }
            // A sign begins at the left of its box.
            let left = drawn.split([',', ' ']).filter_map(corner).map(|corner| corner.0).fold(9.0, f64::min);
            assert!(left.abs() < 1e-9, "{sign}");
        }
        for sign in ('A'..='Z').chain('a'..='z').chain('0'..='9') {
            assert!(SIGNS.iter().any(|(known, _)| *known == sign), "{sign}");
        }
    }

    #[test]
    fn signs_stand_side_by_side() {
        let text = lettered("IL 1").unwrap();
        // I is a stroke at 0; L begins 1.5 further and is 4 wide; then a gap of 1.5 and a blank of 2.5.
        let first: Vec<(f64, f64)> = text.strokes.iter().map(|stroke| stroke[0]).collect();
        assert_eq!(first, [(0.0, 0.0), (1.5, 6.0), (9.5, 4.0)]);
        assert!((text.width - 11.5).abs() < 1e-9);
    }

    #[test]
    fn what_the_font_does_not_have_is_named() {
        assert_eq!(lettered("Ω 12 V Ω €"), Err(vec!['Ω', '€']));
        assert!(lettered("12 V, 40 A (max) ±5 %").is_ok());
    }
}
