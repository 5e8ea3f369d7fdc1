//! The cuts of each sawn sheet: its picture and the table that a sawyer follows, one sheet to a printed page.

use super::body::{Block, Body, Column, Table, figure, paragraph};
use super::pictures::count;
use crate::export::cuts::{against, mm, outcome, piece, runs, size};
use crate::export::picture;
use crate::finished::{CutSet, NamedSheet, SheetGroup};
use crate::nest::{CutList, Outcome, What};
use crate::number::fixed;

/// Every sawn sheet; nothing for a router.
pub(super) fn cuts(set: &CutSet<'_>) -> Body {
    let mut html = Body::none();
    for group in set.groups {
        for named in group.sheets() {
            if let Some(list) = named.cuts {
                html.push(of_sheet(group, &named, list));
            }
        }
    }
    if html.is_empty() {
        return html;
    }
    paragraph(
        "The fence is set to the size that stays between it and the blade, and the edge named lies against it; the blade takes \
         its kerf beyond. Stage 0 \
         trims the sheet's edges. All cuts of a stage run one way on the sheet, those of the next the other way: \
         along its length or across. The rest of a piece is cut on under the same letter. Sizes are along the sheet by \
         across, as in the pictures. Holes, openings and shapes are milled afterwards, from the files in parts/.",
    ) + html
}

fn of_sheet(group: &SheetGroup, named: &NamedSheet<'_>, list: &CutList) -> Body {
    let title = format!("Cuts of {}", named.name);
    let drawn = picture::cuts(group, named, list);
    let stock = &named.stock.name;
    let note = format!(
        "{stock}; {} in {}, {} m long, {} of the fence; the blade takes {} mm",
        count(list.cuts.len(), "cut"),
        count(list.stages(), "stage"),
        fixed(list.length() / 1000.0, 1),
        count(list.settings(), "setting"),
        mm(group.clearances.gap)
    );
    let (width, height) = drawn.canvas.size();
    let full = width.max(height * 0.8);
    let picture: Body = figure("sheet", drawn.canvas, full, (&title, &note), drawn.key).into();
    Block::Group { class: "cuts", body: picture + table(group, list) }.into()
}

fn table(group: &SheetGroup, list: &CutList) -> Body {
    let mut table = Table::new([
        Column::Figures("cut"),
        Column::Figures("stage"),
        Column::Short("piece (mm)"),
        Column::Short("runs"),
        Column::Figures("fence (mm)"),
        Column::Short("edge"),
        Column::Words("at the fence (mm)"),
        Column::Words("beyond the blade (mm)"),
    ]);
    let mut before = None;
    for (number, cut) in (1..).zip(&list.cuts) {
        let side = |side: &Outcome| match side.what {
            What::Nothing => "nothing".to_owned(),
            _ => format!("{}, {}", outcome(group, cut, side), size(side.area)),
        };
        let fence = mm(cut.fence());
        // What is set already need not be set again, or read twice.
        let set = before.replace((cut.runs, fence.clone())) == Some((cut.runs, fence.clone()));
        table.row([
            number.to_string(),
            cut.stage.to_string(),
            format!("{}, {}", piece(cut.piece), size(cut.whole)),
            runs(cut).to_owned(),
            if set { format!("as set: {fence}") } else { fence },
            against(cut).to_owned(),
            side(&cut.kept),
            side(&cut.beyond),
        ]);
    }
    table.body()
}
