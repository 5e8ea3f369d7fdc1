//! Cables, hoses and ducts: how long they are, and the holes that they go through.

use super::body::Column::{Figures, Words};
use super::body::{Body, Table, heading, paragraph};
use crate::export::words;
use crate::finished::Finished;
use crate::number::decimal;

/// Every run with its holes; nothing in a kit without.
pub(super) fn runs(finished: &Finished) -> Body {
    let layout = &finished.kit.layout;
    if layout.runs.is_empty() {
        return Body::none();
    }
    let mut table = Table::new([
        Words("Run"),
        Words("What"),
        Words("From"),
        Words("To"),
        Figures("Bundle"),
        Figures("Length"),
        Figures("Slack for what moves"),
        Words("Fuse or breaker"),
    ]);
    let mut holes = Table::new([
        Words("Run"),
        Words("Through panel"),
        Words("Opening"),
        Figures("Diameter"),
        Words("Middle"),
    ]);
    for run in &layout.runs {
        let [from, to] = &run.ends;
        let fuse = match run.protected_within {
            Some(within) if run.encased => format!("within {} mm, encased", decimal(within, 1)),
            Some(within) => format!("within {} mm", decimal(within, 1)),
            None => String::new(),
        };
        table.row([
            run.name.clone(),
            run.kind.word().to_owned(),
            from.clone(),
            to.clone(),
            decimal(run.bundle, 1),
            decimal(run.length(), 0),
            if run.slack > 0.0 { decimal(run.slack, 0) } else { String::new() },
            fuse,
        ]);
        for crossing in &run.crossings {
            let own = layout.cutouts.iter().all(|cutout| !cutout.openings.contains(&crossing.opening));
            holes.row([
                run.name.clone(),
                layout.board(crossing.panel).name.clone(),
                crossing.opening.clone(),
                if own { decimal(run.hole, 1) } else { "as cut out".to_owned() },
                words::place(crossing.middle),
            ]);
        }
    }
    let note = "Lengths run straight from stop to stop and square through each panel, mm, without what the ends take and without \
                sagging: lead a cable with a drip loop, and buy more. Slack is what the end on a drawer, a tray or a door moves. \
                The grommets are in the hardware list. Wiring, gas and water are designed, installed and tested by people \
                licensed for that; holes here are only places left in panels.";
    let crossed = layout.runs.iter().any(|run| !run.crossings.is_empty());
    let holes = if crossed { heading("Holes for them") + holes.body() } else { Body::none() };
    paragraph(note) + table.body() + holes
}
