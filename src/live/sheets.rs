//! Sheets as outlines that the page draws itself, so that a part on them can be pointed at.

use super::changes::Changes;
use crate::finished::Finished;
use crate::geom::{Path, SheetFrame};
use crate::number::{decimal, rounded};
use serde_json::{Value, json};
use std::fmt::Write;

/// mm between an arc and the chords that the page draws for it.
const CHORD: f64 = 0.5;

/// Every sheet with what lies on it.
pub(super) fn sheets(finished: &Finished, changes: &Changes) -> Value {
    let groups = finished.groups.iter();
    let sheets = groups.flat_map(|group| {
        group.sheets().map(move |sheet| {
            let parts = sheet.sheet.placed.iter().map(|placed| {
                let panel = &finished.kit.panels[group.panels[placed.part]];
                let openings = panel.openings.iter().map(|opening| &opening.path);
                let paths = std::iter::once(&panel.outline).chain(openings);
                let paths: Vec<_> = paths.map(|path| placed.placement.path_to_sheet(path)).collect();
                let (low, high) = paths[0].bounds();
                let middle = low.lerp(high, 0.5);
                json!({
                    "name": panel.name,
                    "path": drawn(&paths, sheet.stock.width),
                    "x": rounded(middle.x, 1),
                    "y": rounded(sheet.stock.width - middle.y, 1),
                    "changed": changes.of(&panel.name),
                })
            });
            json!({
                "name": sheet.name,
                "material": group.material.id,
                "length": sheet.stock.length,
                "width": sheet.stock.width,
                "used": rounded(sheet.usage(&group.parts).share(), 4),
                "parts": parts.collect::<Vec<Value>>(),
            })
        })
    });
    sheets.collect()
}

/// Closed paths as SVG path data, y down from the sheet's upper edge.
fn drawn(paths: &[Path<SheetFrame>], width: f64) -> String {
    let mut data = String::new();
    for path in paths {
        for (i, p) in path.flattened(CHORD).iter().enumerate() {
            let command = if i == 0 { 'M' } else { 'L' };
            let _ = write!(data, "{command}{} {}", decimal(p.x, 1), decimal(width - p.y, 1));
        }
        data.push('Z');
    }
    data
}
