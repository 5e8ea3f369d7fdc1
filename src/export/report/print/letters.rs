//! How wide the printed letters are, and which there are.

use crate::export::picture;
use crate::typeface;
use ttf_parser::Face;

/// Both weights of the font in the file.
pub(super) struct Letters {
    plain: Face<'static>,
    bold: Face<'static>,
}

/// What stands for a letter that the font does not have.
const UNKNOWN: char = '\u{fffd}';

impl Letters {
    /// Reads the fonts; nothing only if they could not be read.
    pub(super) fn new() -> Option<Self> {
        let [plain, bold] = typeface::faces()?;
        Some(Letters { plain, bold })
    }

    /// mm that a line takes, without kerning.
    pub(super) fn width(&self, line: &str, size: f64, bold: bool) -> f64 {
        let face = if bold { &self.bold } else { &self.plain };
        let units: f64 = line
            .chars()
            .filter_map(|letter| face.glyph_hor_advance(face.glyph_index(letter)?))
            .map(f64::from)
            .sum();
        units / f64::from(face.units_per_em()) * size
    }

    /// The line with a sign in place of each letter that the font does not have.
    pub(super) fn known(&self, line: &str) -> String {
        line.chars()
            .map(|letter| if self.plain.glyph_index(letter).is_some() { letter } else { UNKNOWN })
            .collect()
    }

    /// Lines no wider than so many mm.
    pub(super) fn wrapped(&self, text: &str, size: f64, bold: bool, room: f64) -> Vec<String> {
        picture::wrapped(text, room, |line| self.width(line, size, bold))
    }

    /// mm of the widest piece of a text that is not broken.
    pub(super) fn widest_piece(&self, text: &str, size: f64, bold: bool) -> f64 {
        picture::pieces(text).map(|piece| self.width(piece.trim_end(), size, bold)).fold(0.0, f64::max)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_are_no_wider_than_their_room_and_lose_nothing() {
        let letters = Letters::new().unwrap();
        let text = "main-instruments-box-bottom stands on an incomprehensibilities of 12 mm";
        for room in [8.0, 20.0, 45.0, 500.0] {
            let lines = letters.wrapped(text, 3.0, false, room);
            assert!(lines.iter().all(|line| letters.width(line, 3.0, false) <= room), "{lines:?}");
            let joined: String = lines.concat();
            assert_eq!(joined.replace(' ', ""), text.replace(' ', ""));
        }
        assert_eq!(letters.wrapped("a\nb", 3.0, false, 50.0), ["a", "b"]);
    }

    #[test]
    fn what_the_font_lacks_is_marked() {
        let letters = Letters::new().unwrap();
        assert_eq!(letters.known("Größe Ширина Πλάτος 幅"), "Größe Ширина Πλάτος \u{fffd}");
    }
}
