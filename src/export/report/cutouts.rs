//! Cut-outs: where they are, what is set into them, how much air they let through.

use super::body::Column::{Figures, Short, Words};
use super::body::{Body, Table, paragraph};
use crate::export::words;
use crate::finished::Finished;
use crate::number::decimal;

/// Every cut-out; nothing in a kit without.
pub(super) fn cutouts(finished: &Finished) -> Body {
    let layout = &finished.kit.layout;
    if layout.cutouts.is_empty() {
        return Body::none();
    }
    let mut table = Table::new([
        Words("Cut-out"),
        Words("In panel"),
        Words("What"),
        Figures("Number"),
        Figures("Width x height"),
        Short("Faces"),
        Words("Middle of the first"),
        Figures("Free behind"),
        Figures("Free area cm2"),
    ]);
    for cutout in &layout.cutouts {
        let [width, height] = cutout.size.map(|length| decimal(length, 1));
        let size = if cutout.what == "round" { width } else { format!("{width} x {height}") };
        table.row([
            cutout.name.clone(),
            layout.board(cutout.host).name.clone(),
            cutout.what.clone(),
            cutout.openings.len().to_string(),
            size,
            words::towards(cutout.facing).to_owned(),
            words::place(cutout.middles.first().copied().unwrap_or_default()),
            if cutout.behind > 0.0 { decimal(cutout.behind, 1) } else { String::new() },
            decimal(cutout.free_area / 100.0, 1),
        ]);
    }
    paragraph(
        "Middles are places in the vehicle: x forward of the rear edge, y left of the centreline, z above the floor. \
         Free behind is counted from the face. Free area is what the fitting lets through, else all that is cut out.",
    ) + table.body()
}
