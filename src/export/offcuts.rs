//! `offcuts.yaml`: what is left of the sheets and worth keeping, as rows of a workshop's stock.
//!
//! Takes what is cut, gives a stock file as the spec reads it: to be pasted, or to be named as the workshop's
//! `stock`. Says nothing of offcuts that were there before, nor of sheets that are cut already.

use crate::finished::CutSet;
use crate::number::decimal;
use std::fmt::Write;

/// Decimals of a length, mm: whole micrometres.
const DECIMALS: usize = 3;

/// Longest name that a stock row may have.
const LONGEST_NAME: usize = 60;

/// The file.
pub(super) fn yaml(set: &CutSet<'_>) -> String {
    let mut text = format!(
        "# Left of the sheets of {} once they are cut. Rows for a workshop's stock: paste them, or name this file\n\
         # as the workshop's `stock`. Sheets and offcuts that were used are still to be taken out of it.\n\
         units: mm\n",
        set.name
    );
    let mut materials = String::new();
    for group in set.groups {
        let mut rows = String::new();
        for named in group.sheets().filter(|named| !named.frozen) {
            for (piece, zone) in (1..).zip(group.offcuts(&named)) {
                let _ = writeln!(
                    rows,
                    "    - {{name: {}, length: {}, width: {}, offcut: true, quantity: 1}}",
                    name(named.name, piece),
                    decimal(zone.length, DECIMALS),
                    decimal(zone.width, DECIMALS)
                );
            }
        }
        if !rows.is_empty() {
            let _ = write!(materials, "  {}:\n{rows}", group.material.id);
        }
    }
    if materials.is_empty() {
        text.push_str("materials: {}\n");
    } else {
        let _ = write!(text, "materials:\n{materials}");
    }
    text
}

/// The sheet's name with the piece's number, its end if it is too long.
fn name(sheet: &str, piece: usize) -> String {
    let name = format!("{sheet}-offcut-{piece}");
    let cut = name.len().saturating_sub(LONGEST_NAME);
    name.get(cut..).unwrap_or(&name).trim_start_matches(['-', '_']).to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::diag::{Findings, Sources};
    use crate::example_kits::{self, ALL, ANGLES};
    use crate::spec::{self, Input, Text};

    #[test]
    fn what_is_written_is_read_back_as_stock() {
        let mut pieces = 0;
        for design in ALL {
            let finished = example_kits::finished(design);
            let text = yaml(&finished.cut_set());
            let with_stock = format!("{ANGLES}workshop: {{stock: offcuts.yaml}}\n");
            let input = Input {
                design: Text { name: "design.yaml", text: &with_stock },
                fallback_name: "kit",
                vehicle: None,
                workshop: None,
            };
            let (mut findings, mut sources) = (Findings::default(), Sources::default());
            let mut open = |from: &str, path: &str| {
                assert_eq!((from, path), ("design.yaml", "offcuts.yaml"));
                Ok((path.to_owned(), text.clone()))
            };
            let read = spec::read(&mut findings, &mut sources, &input, &mut open).unwrap();
            let shelf = read.workshop.shelf;
            for group in &finished.groups {
                let wanted: Vec<(f64, f64)> = group
                    .sheets()
                    .flat_map(|named| group.offcuts(&named))
                    .map(|zone| (zone.length, zone.width))
                    .collect();
                pieces += wanted.len();
                let found = shelf.iter().find(|entry| entry.material.value == group.material.id);
                let rows = found.map(|entry| entry.sheets.as_slice()).unwrap_or_default();
                assert!(rows.iter().all(|row| row.offcut && row.quantity.unwrap().value == 1));
                let sizes: Vec<(f64, f64)> =
                    rows.iter().map(|row| (row.length.value, row.width.value)).collect();
                assert_eq!(sizes, wanted);
            }
        }
        assert!(pieces > 1, "{pieces}");
    }

    #[test]
    fn names_are_cut_to_what_a_row_may_have() {
        assert_eq!(name("birch-12-1", 2), "birch-12-1-offcut-2");
        let long = name(&"a".repeat(60), 1);
        assert!(long.len() == 60 && long.ends_with("aa-offcut-1"));
    }
}
