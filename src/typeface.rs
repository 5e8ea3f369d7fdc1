//! The typeface of printed pages, and which letters it has.
//!
//! `DejaVu` Sans (crate `dejavu`): Latin, Greek, Cyrillic and some more; embedded in every PDF in part.

use std::collections::BTreeSet;
use ttf_parser::Face;

/// Its files: plain and bold.
pub(crate) fn files() -> [&'static [u8]; 2] {
    [dejavu::sans::regular(), dejavu::sans::bold()]
}

/// Both weights; nothing only if they could not be read.
pub(crate) fn faces() -> Option<[Face<'static>; 2]> {
    let [plain, bold] = files().map(|bytes| Face::parse(bytes, 0).ok());
    Some([plain?, bold?])
}

/// The letters of a text that it does not have, each once. Line ends are no letters.
pub(crate) fn missing(text: &str) -> BTreeSet<char> {
    if text.is_ascii() {
        return BTreeSet::new();
    }
    let Some([face, _]) = faces() else { return BTreeSet::new() };
    text.chars().filter(|letter| !letter.is_control() && face.glyph_index(*letter).is_none()).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn letters_that_cannot_be_printed_are_named_once() {
        assert_eq!(missing("Größe Ширина Πλάτος"), BTreeSet::new());
        assert_eq!(missing("幅 x 奥行, 幅\n"), BTreeSet::from(['奥', '幅', '行']));
    }
}
