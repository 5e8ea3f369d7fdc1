//! The cuts of one sheet on a panel saw, in order.

use super::csv;
use crate::export::cuts::{against, mm, outcome, piece, runs};
use crate::finished::SheetGroup;
use crate::nest::{CutList, Outcome, What};

const HEAD: [&str; 13] = [
    "cut",
    "stage",
    "piece",
    "runs",
    "fence (mm)",
    "edge at the fence",
    "length of cut (mm)",
    "at the fence",
    "its length (mm)",
    "its width (mm)",
    "beyond the blade",
    "length (mm)",
    "width (mm)",
];

/// One row for each cut. Lengths run along the sheet, widths across it.
pub(crate) fn cuts(group: &SheetGroup, list: &CutList) -> String {
    let sides = |side: &Outcome| match side.what {
        What::Nothing => [String::new(), String::new()],
        _ => [mm(side.area.length()), mm(side.area.width())],
    };
    csv(
        HEAD,
        (1..).zip(&list.cuts).map(|(number, cut)| {
            let [kept_length, kept_width] = sides(&cut.kept);
            let [length, width] = sides(&cut.beyond);
            [
                number.to_string(),
                cut.stage.to_string(),
                piece(cut.piece),
                runs(cut).to_owned(),
                mm(cut.fence()),
                against(cut).to_owned(),
                mm(cut.length()),
                outcome(group, cut, &cut.kept),
                kept_length,
                kept_width,
                outcome(group, cut, &cut.beyond),
                length,
                width,
            ]
        }),
    )
}
