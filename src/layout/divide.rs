//! A room along a line, divided among cells with boards between them.

use super::rules;
use crate::diag::{Finding, Findings, Span};
use crate::geom::snap;
use crate::geom::tolerance::SAME_LENGTH;
use crate::number;
use crate::spec::{Cell, CellSize};

/// Clear openings of `cells`, mm, in their order: they and the boards between them, `boards` mm in all, fill `room`
/// exactly.
///
/// Example: room 1005, boards of 12, cells `size: 470` and a share: 470 and 523.
pub(super) fn openings(
    findings: &mut Findings,
    on: &str,
    room: f64,
    boards: f64,
    cells: &[Cell],
    span: Span,
) -> Option<Vec<f64>> {
    let clear: f64 =
        cells.iter().map(|c| if let CellSize::Clear(size) = c.size { size.value } else { 0.0 }).sum();
    let shares: f64 =
        cells.iter().map(|c| if let CellSize::Share(share) = c.size { share.value } else { 0.0 }).sum();
    let left = room - boards - clear;
    let has_shares = cells.iter().any(|c| matches!(c.size, CellSize::Share(_)));
    let told = |value: f64| number::decimal(value, 2);
    if left < -SAME_LENGTH || (has_shares && left < SAME_LENGTH) {
        findings.push(
            Finding::new(
                &rules::CELLS_WIDER_THAN_ROOM,
                span,
                format!(
                    "cells need {} mm and boards between them {} mm, but only {} mm are there",
                    told(clear),
                    told(boards),
                    told(room)
                ),
            )
            .on(on)
            .help(format!("make the sizes {} mm smaller in all, or leave one of them out", told(-left))),
        );
        return None;
    }
    if !has_shares && left > SAME_LENGTH {
        findings.push(
            Finding::new(
                &rules::CELLS_LEAVE_A_GAP,
                span,
                format!(
                    "cells and boards fill {} of {} mm; {} mm are left",
                    told(room - left),
                    told(room),
                    told(left)
                ),
            )
            .on(on)
            .help("leave `size` out of one cell, so that it takes what is left"),
        );
        return None;
    }
    Some(shared_out(cells, left, shares))
}

/// The sizes as given, and shares of what is left. Each share but the last is snapped to the grid and the last
/// takes the remainder, so the sum is exact.
fn shared_out(cells: &[Cell], left: f64, shares: f64) -> Vec<f64> {
    let last_share = cells.iter().rposition(|c| matches!(c.size, CellSize::Share(_)));
    let mut rest = left;
    let mut sizes: Vec<f64> = Vec::with_capacity(cells.len());
    for cell in cells {
        sizes.push(match cell.size {
            CellSize::Clear(size) => size.value,
            CellSize::Share(share) => {
                let part = snap(left * share.value / shares);
                rest -= part;
                part
            }
        });
    }
    if let Some(last) = last_share {
        sizes[last] = snap(sizes[last] + rest);
    }
    sizes
}
