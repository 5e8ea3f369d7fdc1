//! A sawn sheet's cuts in words: names of pieces and of what a cut leaves, the same in every table and picture.

use crate::finished::SheetGroup;
use crate::nest::{Area, Cut, Edge, Outcome, Runs, What};
use crate::number::decimal;

/// Decimals of lengths in mm: whole micrometres, so that sums in a list come out.
const DECIMALS: usize = 3;

/// A length in mm.
pub(super) fn mm(length: f64) -> String {
    decimal(length, DECIMALS)
}

/// Along the sheet by across, mm.
pub(super) fn size(area: Area) -> String {
    format!("{} x {}", mm(area.length()), mm(area.width()))
}

/// `sheet`, then A to Z, AA, AB and so on.
pub(super) fn piece(number: usize) -> String {
    if number == 0 {
        return "sheet".to_owned();
    }
    let mut letters = Vec::new();
    let mut left = number;
    while left > 0 {
        left -= 1;
        letters.push(char::from(b'A' + u8::try_from(left % 26).unwrap_or_default()));
        left /= 26;
    }
    letters.iter().rev().collect()
}

/// What lies on one side of a cut: `part main-base`, `piece A`, `rest of A`, `offcut 1`, `waste`, `nothing`.
pub(super) fn outcome(group: &SheetGroup, cut: &Cut, outcome: &Outcome) -> String {
    match outcome.what {
        What::Part(part) => format!("part {}", group.parts.get(part).map_or("", |part| part.name.as_str())),
        What::Piece(number) => format!("piece {}", piece(number)),
        What::Rest => format!("rest of {}", piece(cut.piece)),
        What::Offcut(number) => format!("offcut {number}"),
        What::Waste => "waste".to_owned(),
        What::Nothing => "nothing".to_owned(),
    }
}

/// Which way a cut runs on the sheet.
pub(super) fn runs(cut: &Cut) -> &'static str {
    match cut.runs {
        Runs::Along => "along",
        Runs::Across => "across",
    }
}

/// The edge of the piece that lies against the fence, as the sheet's picture has it.
pub(super) fn against(cut: &Cut) -> &'static str {
    match cut.against {
        Edge::Left => "left",
        Edge::Right => "right",
        Edge::Lower => "lower",
        Edge::Upper => "upper",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn pieces_are_lettered_like_columns() {
        let names = [0, 1, 26, 27, 52, 53, 702, 703].map(piece);
        assert_eq!(names, ["sheet", "A", "Z", "AA", "AZ", "BA", "ZZ", "AAA"]);
    }
}
