//! What is cut and bought: panels, hardware, angles.

use super::body::Column::{Figures, Short, Words};
use super::body::{Body, Table, paragraph};
use crate::export::cut_files::sheets_of_each;
use crate::export::hardware as list;
use crate::finished::Finished;
use crate::joints::AnglePiece;
use crate::number::{decimal, fixed};
use std::collections::BTreeMap;

/// Panels, as they leave the sheet.
pub(super) fn cut_list(finished: &Finished) -> Body {
    let mut table = Table::new([
        Words("Panel"),
        Short("Material"),
        Figures("Thick"),
        Figures("Length"),
        Figures("Width"),
        Figures("Holes"),
        Figures("Mass kg"),
        Short("Sheet"),
    ]);
    let sheets = sheets_of_each(&finished.groups);
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
    ) + table.body()
}

/// What to order, with spares.
pub(super) fn hardware(finished: &Finished) -> Body {
    let mut table = Table::new([
        Short("Standard"),
        Words("What"),
        Short("Size"),
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
    paragraph(&note) + table.body()
}

/// The hardware in bags, one a step.
pub(super) fn bags(finished: &Finished) -> Body {
    let mut table = Table::new([
        Figures("Bag"),
        Words("Step"),
        Words("What"),
        Short("Size"),
        Figures("Length"),
        Figures("Needed"),
    ]);
    for (i, bag) in list::bags(finished).into_iter().enumerate() {
        for (j, line) in bag.lines.into_iter().enumerate() {
            // Number and step stand at the first line of a bag.
            let (number, step) =
                if j == 0 { ((i + 1).to_string(), bag.name.clone()) } else { Default::default() };
            let length = line.length.map_or_else(String::new, |length| decimal(length, 1));
            table.row([number, step, line.what, line.size, length, line.needed.to_string()]);
        }
    }
    paragraph(
        "Each bag holds what one step of putting the kit together takes, in the order of work; together they are the \
         list of hardware without its spares and its angles.",
    ) + table.body()
}

/// Pieces of angle, alike ones together, with where to drill.
pub(super) fn angles(finished: &Finished) -> Body {
    let pieces = &finished.kit.angles;
    if pieces.is_empty() {
        return paragraph("None.");
    }
    let mut table = Table::new([
        Short("Section"),
        Figures("Length"),
        Figures("Pieces"),
        Figures("Hole"),
        Figures("Gauge"),
        Words("Holes in leg 1"),
        Words("Holes in leg 2"),
        Words("Where, and where leg 1 lies"),
    ]);
    // Sections by name, the longest pieces first.
    let mut order: Vec<&AnglePiece> = pieces.iter().collect();
    order.sort_by(|a, b| a.angle.id.cmp(&b.angle.id).then(b.length.total_cmp(&a.length)));
    let mut alike: Vec<([String; 6], Vec<String>)> = Vec::new();
    let mut metres: BTreeMap<&str, f64> = BTreeMap::new();
    for piece in order {
        let cut = cut_of(piece);
        match alike.iter_mut().find(|(other, _)| *other == cut) {
            Some((_, names)) => names.push(told(finished, piece)),
            None => alike.push((cut, vec![told(finished, piece)])),
        }
        *metres.entry(&piece.angle.id).or_default() += piece.length / 1000.0;
    }
    for ([section, length, hole, gauge, first, second], names) in alike {
        table.row([section, length, names.len().to_string(), hole, gauge, first, second, names.join("\n")]);
    }
    let sums = metres.iter().map(|(id, metres)| format!("{id}: {} m", fixed(*metres, 2)));
    let note = format!(
        "Hole positions are millimetres along the piece from its start, which is the end nearest the tailgate, the \
         vehicle's right side or the floor. Gauge is the distance from the heel to the line of holes, in both legs or in leg 1, leg 2. \
         Net lengths, without saw cuts and ends: {}.",
        sums.collect::<Vec<_>>().join(", ")
    );
    paragraph(&note) + table.body()
}

/// What a piece is cut and drilled to: section, length, diameter of the holes, gauge, positions in both legs.
fn cut_of(piece: &AnglePiece) -> [String; 6] {
    let at = |leg: usize| piece.holes[leg].iter().map(|&at| decimal(at, 1)).collect::<Vec<_>>().join(", ");
    let [length, hole, first, second] = [piece.length, piece.hole_diameter, piece.gauges[0], piece.gauges[1]]
        .map(|length| decimal(length, 1));
    let gauge = if first == second { first } else { format!("{first}, {second}") };
    [piece.angle.id.clone(), length, hole, gauge, at(0), at(1)]
}

/// A piece's name and the panel that its first leg lies on.
fn told(finished: &Finished, piece: &AnglePiece) -> String {
    let layout = &finished.kit.layout;
    let joint = piece.name.rsplit_once('/').map_or("", |(joint, _)| joint);
    let edge = layout.meetings.iter().find(|meeting| meeting.name == joint).map(|meeting| meeting.edge);
    edge.map_or_else(|| piece.name.clone(), |edge| format!("{}: {}", piece.name, layout.board(edge).name))
}
