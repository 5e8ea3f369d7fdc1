//! Colours of the models: one for each family of boards, one for each other kind of part.
//!
//! Whoever sees few colours, or prints in grey, tells them apart by lightness: no two are near each other in it.

use std::collections::BTreeSet;

/// Red, green and blue as screens show them, 0 to 255.
pub(super) type Colour = [u8; 3];

/// Colours of board families, from pale to dark.
const BOARDS: [Colour; 6] = [
    [0xF2, 0xE3, 0xC2],
    [0xD9, 0xB7, 0x7E],
    [0x87, 0xAA, 0xC0],
    [0xBB, 0x8A, 0x54],
    [0x51, 0x76, 0x96],
    [0x71, 0x4C, 0x2A],
];

/// What a part is, as far as it shows.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Look {
    /// A panel, by its material's family.
    Board(String),
    /// A piece of angle.
    Angle,
    /// A member of a slide.
    Slide,
    /// A bolt, a turnbuckle.
    Hardware,
    /// A fitting of the kit.
    Fitting,
    /// What is carried.
    Equipment,
}

impl Look {
    /// What it is called in the files.
    pub(super) fn name(&self) -> &str {
        match self {
            Look::Board(family) => family,
            Look::Angle => "angle",
            Look::Slide => "slide",
            Look::Hardware => "hardware",
            Look::Fitting => "fitting",
            Look::Equipment => "equipment",
        }
    }
}

/// The colour of each look. Families take theirs in the order of their names; beyond the last colour they begin anew.
pub(super) fn colours(looks: &BTreeSet<Look>) -> Vec<(&Look, Colour)> {
    let mut boards = BOARDS.iter().copied().cycle();
    let colour = |look| match look {
        &Look::Board(_) => boards.next().unwrap_or(BOARDS[0]),
        Look::Angle => [0xC6, 0xCB, 0xD1],
        Look::Slide => [0x26, 0x2B, 0x31],
        Look::Hardware => [0x59, 0x63, 0x6C],
        Look::Fitting => [0xCB, 0x66, 0x30],
        Look::Equipment => [0x1D, 0x40, 0x83],
    };
    looks.iter().zip(looks.iter().map(colour)).collect()
}

/// The parts of a colour as they add up in light (IEC 61966-2-1), 0 to 1.
pub(super) fn linear(colour: Colour) -> [f64; 3] {
    colour.map(|part| {
        let part = f64::from(part) / 255.0;
        if part <= 0.040_45 { part / 12.92 } else { ((part + 0.055) / 1.055).powf(2.4) }
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_two_colours_are_near_in_lightness() {
        let families = (0..BOARDS.len()).map(|i| Look::Board(i.to_string()));
        let others = [Look::Angle, Look::Slide, Look::Hardware, Look::Fitting, Look::Equipment];
        let looks: BTreeSet<Look> = families.chain(others).collect();
        // L* of CIE 1976, from 0 for black to 100 for white; a step of 5 is plain side by side.
        let lightness = |colour| {
            let [r, g, b] = linear(colour);
            116.0 * (0.2126 * r + 0.7152 * g + 0.0722 * b).cbrt() - 16.0
        };
        let mut all: Vec<f64> = colours(&looks).into_iter().map(|(_, colour)| lightness(colour)).collect();
        all.sort_by(f64::total_cmp);
        assert!(all.windows(2).all(|pair| pair[1] - pair[0] > 5.0), "{all:?}");
    }
}
