//! What is cut and bought: panels, hardware, angles.

use super::page::Column::{Figures, Words};
use super::page::{Table, paragraph};
use crate::export::hardware as list;
use crate::finished::{Finished, SheetGroup};
use crate::joints::AnglePiece;
use crate::number::{decimal, fixed};
use std::collections::BTreeMap;

/// Panels, as they leave the sheet.
pub(super) fn cut_list(finished: &Finished) -> String {
    let mut table = Table::new([
        Words("Panel"),
        Words("Material"),
        Figures("Thick"),
        Figures("Length"),
        Figures("Width"),
        Figures("Holes"),
        Figures("Mass kg"),
        Words("Sheet"),
    ]);
    let sheets = sheet_of_each(finished);
    let mut sum = 0.0;
    for (i, (panel, weighed)) in finished.kit.panels.iter().zip(&finished.masses.parts).enumerate() {
        let (low, high) = panel.outline.bounds();
        sum += weighed.mass;
        table.row([
            panel.name.clone(),
            panel.material.id.clone(),
            decimal(panel.material.actual, 2),
            decimal(high.x - low.x, 2),
            decimal(high.y - low.y, 2),
            panel.bores.len().to_string(),
            fixed(weighed.mass, 3),
            sheets.get(&i).cloned().unwrap_or_default(),
        ]);
    }
    let blank = String::new;
    table.sum(["All panels".to_owned(), blank(), blank(), blank(), blank(), blank(), fixed(sum, 3), blank()]);
    paragraph(
        "Thickness is the sheet's actual one, measured or published, not the one that it is sold by. Length runs \
         along the face grain where the material has one; tabs are included. Holes are the round ones.",
    ) + &table.html()
}

/// Name of the sheet that each panel lies on, by the panel's index.
fn sheet_of_each(finished: &Finished) -> BTreeMap<usize, String> {
    let on = |group: &SheetGroup| -> Vec<(usize, String)> {
        let sheets = group.nesting.sheets.iter().enumerate();
        sheets
            .flat_map(|(n, sheet)| {
                let name = format!("{}-{}", group.material.id, n + 1);
                sheet.placed.iter().map(move |placed| (group.panels[placed.part], name.clone()))
            })
            .collect()
    };
    finished.groups.iter().flat_map(on).collect()
}

/// What to order, with spares.
pub(super) fn hardware(finished: &Finished) -> String {
    let mut table = Table::new([
        Words("Standard"),
        Words("What"),
        Words("Size"),
        Figures("Length"),
        Figures("Needed"),
        Figures("Spares"),
        Figures("Order"),
        Words("Remark"),
    ]);
    for line in list::lines(finished) {
        table.row([
            line.standard,
            line.what,
            line.size,
            line.length.map_or_else(String::new, |length| decimal(length, 1)),
            line.needed.to_string(),
            line.spares.to_string(),
            (line.needed + line.spares).to_string(),
            line.remark,
        ]);
    }
    let spares = finished.design.workshop.spares;
    let note = format!(
        "Spares: {} % of each line, rounded up, and at least {}.",
        decimal(spares.percent.value, 1),
        spares.at_least.value
    );
    paragraph(&note) + &table.html()
}

/// Pieces of angle, alike ones together, with where to drill.
pub(super) fn angles(finished: &Finished) -> String {
    let pieces = &finished.kit.angles;
    if pieces.is_empty() {
        return paragraph("None.");
    }
    let mut table = Table::new([
        Words("Section"),
        Figures("Length"),
        Figures("Pieces"),
        Figures("Hole"),
        Figures("Gauge"),
        Words("Holes in leg 1"),
        Words("Holes in leg 2"),
        Words("Where, and where leg 1 lies"),
    ]);
    let mut alike: BTreeMap<[String; 6], Vec<String>> = BTreeMap::new();
    let mut metres: BTreeMap<&str, f64> = BTreeMap::new();
    for piece in pieces {
        let at =
            |leg: usize| piece.holes[leg].iter().map(|&at| decimal(at, 1)).collect::<Vec<_>>().join(", ");
        let section = piece.angle.id.clone();
        // The leading length, padded, puts the longest first.
        let order = format!("{:012}", 1e9 - piece.length);
        let hole = decimal(piece.hole_diameter, 1);
        alike
            .entry([section, order, decimal(piece.length, 1), hole, at(0), at(1)])
            .or_default()
            .push(told(finished, piece));
        *metres.entry(&piece.angle.id).or_default() += piece.length / 1000.0;
    }
    for ([section, _, length, hole, first, second], names) in alike {
        let gauge =
            finished.catalogue.angle(&section).map_or_else(String::new, |angle| decimal(angle.gauge, 1));
        let number = names.len().to_string();
        table.row([section, length, number, hole, gauge, first, second, names.join("\n")]);
    }
    let sums = metres.iter().map(|(id, metres)| format!("{id}: {} m", fixed(*metres, 2)));
    let note = format!(
        "Hole positions are millimetres along the piece from its start, which is the end nearest the tailgate, the \
         vehicle's right side or the floor. Gauge is the distance from the heel to the line of holes, in both legs. \
         Net lengths, without saw cuts and ends: {}.",
        sums.collect::<Vec<_>>().join(", ")
    );
    paragraph(&note) + &table.html()
}

/// A piece's name and the panel that its first leg lies on.
fn told(finished: &Finished, piece: &AnglePiece) -> String {
    let layout = &finished.kit.layout;
    let joint = piece.name.rsplit_once('/').map_or("", |(joint, _)| joint);
    let edge = layout.meetings.iter().find(|meeting| meeting.name == joint).map(|meeting| meeting.edge);
    edge.map_or_else(|| piece.name.clone(), |edge| format!("{}: {}", piece.name, layout.board(edge).name))
}
