//! Doors of lockers: size, hinges, latch, stay.

use super::body::Column::{Figures, Short, Words};
use super::body::{Body, Table, paragraph};
use crate::export::words;
use crate::finished::Finished;
use crate::number::decimal;

/// Every door; nothing in a kit without.
pub(super) fn doors(finished: &Finished) -> Body {
    let doors = &finished.kit.layout.doors;
    if doors.is_empty() {
        return Body::none();
    }
    let mut table = Table::new([
        Words("Door"),
        Short("Hinged"),
        Figures("Width x height"),
        Figures("Opens by degrees"),
        Words("Hinges"),
        Words("Latch"),
        Figures("Latch holds N"),
        Words("Held open by"),
    ]);
    for door in doors {
        table.row([
            door.name.clone(),
            words::towards(door.hinge).to_owned(),
            door.size.map(|length| decimal(length, 1)).join(" x "),
            decimal(door.swing.degrees.abs(), 1),
            format!("{} {}", door.hinges.1, door.hinges.0),
            door.latch.0.clone(),
            decimal(door.latch.1, 0),
            door.stay.as_ref().map_or_else(String::new, |(stay, _)| stay.clone()),
        ]);
    }
    paragraph(
        "Each door hangs on a fixed strip of front beside it. What a latch holds is its maker's figure. Where a strut's or \
         stay's ends are bolted is for the fitter: it is listed and weighed, and no hole is made for it.",
    ) + table.body()
}
