//! How wide the printed letters are, and which there are.

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
        let face = |bytes| Face::parse(bytes, 0).ok();
        Some(Letters { plain: face(dejavu::sans::regular())?, bold: face(dejavu::sans::bold())? })
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

    /// Lines no wider than so many mm: broken at spaces, else after hyphens, else anywhere. Line feeds begin lines.
    pub(super) fn wrapped(&self, text: &str, size: f64, bold: bool, room: f64) -> Vec<String> {
        let wide = |line: &str| self.width(line.trim_end(), size, bold);
        let mut lines = Vec::new();
        for part in text.split('\n') {
            let mut line = String::new();
            for word in pieces(part) {
                if !line.is_empty() && wide(&(line.clone() + word)) > room {
                    lines.push(std::mem::take(&mut line).trim_end().to_owned());
                }
                line.push_str(word);
                while wide(&line) > room && line.chars().count() > 1 {
                    let fitting = (1..line.chars().count()).rev().find(|&n| wide(&first(&line, n)) <= room);
                    let head = first(&line, fitting.unwrap_or(1));
                    line = line[head.len()..].to_owned();
                    lines.push(head);
                }
            }
            lines.push(line.trim_end().to_owned());
        }
        lines
    }

    /// mm of the widest piece of a text that is not broken.
    pub(super) fn widest_piece(&self, text: &str, size: f64, bold: bool) -> f64 {
        pieces(text).map(|piece| self.width(piece.trim_end(), size, bold)).fold(0.0, f64::max)
    }
}

/// The first letters of a line.
fn first(line: &str, n: usize) -> String {
    line.chars().take(n).collect()
}

/// Pieces that stay whole: words, and names up to their hyphens.
fn pieces(text: &str) -> impl Iterator<Item = &str> {
    text.split_inclusive([' ', '-', '\n', '/', '+'])
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
