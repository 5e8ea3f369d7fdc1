//! The picture of a sweep: small charts over one varied thing, or a grid of cells for each measure over two.
//!
//! Takes a whole table, gives an SVG of black and white with greys, 1:1 in millimetres. Reads the table's cells only, so that
//! the same table gives the same picture wherever its rows were made. Three varied things and more have no picture.

mod axis;
mod grid;
mod lines;

use super::short;
use super::table::{Column, Row, Table};
use crate::export::picture::{Anchor, Canvas, Spot};

/// mm. Size of the texts.
const SIZE: f64 = 3.0;
/// mm from line to line of a list.
const LINE: f64 = 4.4;
/// What is shown where there is any of it, in this order.
const SHOWN: [Column; 6] =
    [Column::Mass, Column::Sheets, Column::Yield, Column::Cost, Column::Gross, Column::Axle];

/// The picture of a whole table; nothing if it cannot be shown on paper.
pub(crate) fn plot(table: &Table) -> Option<String> {
    Some(drawn(table)?.own_page(&format!("Sweep of {}", table.varied.join(" and "))))
}

fn drawn(table: &Table) -> Option<Canvas> {
    match table.varied.as_slice() {
        [_] => Some(lines::draw(table)),
        [_, _] => Some(grid::draw(table)),
        _ => None,
    }
}

/// What is shown of this table, each with its title.
fn measures(table: &Table) -> Vec<(Column, String)> {
    let has = |column: &Column| table.rows.iter().any(|row| row.number(*column).is_some());
    SHOWN.into_iter().filter(has).map(|column| (column, title(table, column))).collect()
}

/// A measure with its unit.
fn title(table: &Table, column: Column) -> String {
    let currency = table.rows.iter().map(|row| row.cell(Column::Currency)).find(|word| !word.is_empty());
    match (column, currency) {
        (Column::Cost, Some(currency)) => format!("{} ({currency})", column.heading()),
        _ => column.heading().to_owned(),
    }
}

/// Least and greatest number of a column.
fn extremes(table: &Table, column: Column) -> (f64, f64) {
    let numbers = table.rows.iter().filter_map(|row| row.number(column));
    numbers.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), n| (low.min(n), high.max(n)))
}

/// The rules for which there is no kit, in the order in which the variants meet them.
fn rules(table: &Table) -> Vec<&str> {
    let mut rules: Vec<&str> = Vec::new();
    for row in table.rows.iter().filter(|row| !row.is_feasible()) {
        if !rules.contains(&row.rule()) {
            rules.push(row.rule());
        }
    }
    rules
}

/// Lines of a list from `top` down, beginning at `left`.
fn list(canvas: &mut Canvas, (left, top): (f64, f64), lines: &[String]) {
    for (i, line) in lines.iter().enumerate() {
        canvas.words("small", line, Spot::new(left, top - LINE * (i as f64 + 0.5)), SIZE, Anchor::Start);
    }
}

#[cfg(test)]
mod tests;
