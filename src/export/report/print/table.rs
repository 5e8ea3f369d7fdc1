//! Tables on pages: columns as wide as what stands in them, words broken where the page is too narrow, heads on every page.

use super::flow::{Flow, LINE};
use super::letters::Letters;
use crate::export::picture::{FILING, Spot};
use crate::export::report::body::{Column, Table};

/// Size of the text, and the least to which it is made smaller where a table is wide, mm.
const SIZE: f64 = 2.6;
const LEAST: f64 = 1.7;
/// mm between columns and above and below the text of a row.
const BETWEEN: f64 = 3.0;
const ABOVE: f64 = 0.6;

/// Draws a table.
pub(super) fn table<'a>(flow: &mut Flow<'a>, table: &'a Table) {
    let (size, widths) = fitted(flow.letters, table, flow.width());
    let heads: Vec<String> = table.columns.iter().map(|column| column.heading().to_owned()).collect();
    let head = cells(flow.letters, table, &heads, &widths, (size, true));
    let first = table.rows.first().map(|row| cells(flow.letters, table, row, &widths, (size, false)));
    flow.need(height(&head, size) + first.map_or(0.0, |row| height(&row, size)) + 2.0);
    draw(flow, table, &head, &widths, (size, "head"));
    rule(flow);
    let rows = table.rows.iter().map(|row| (row, "text"));
    for (i, (row, class)) in rows.chain(table.sums.iter().map(|row| (row, "head"))).enumerate() {
        let row = cells(flow.letters, table, row, &widths, (size, class == "head"));
        if !flow.has(height(&row, size)) {
            flow.page();
            draw(flow, table, &head, &widths, (size, "head"));
            rule(flow);
        }
        if i == table.rows.len() {
            rule(flow);
        }
        draw(flow, table, &row, &widths, (size, class));
    }
    rule(flow);
}

fn rule(flow: &mut Flow<'_>) {
    let y = flow.take(0.0);
    let (left, right) = (FILING, FILING + flow.width());
    flow.canvas().line("rule", &[Spot::new(left, y), Spot::new(right, y)]);
}

/// Lines of each cell of a row.
fn cells(
    letters: &Letters,
    table: &Table,
    row: &[String],
    widths: &[f64],
    (size, bold): (f64, bool),
) -> Vec<Vec<String>> {
    let lines =
        |((_, cell), width): ((&Column, &String), &f64)| letters.wrapped(cell, size, bold, width + 0.01);
    table.columns.iter().zip(row).zip(widths).map(lines).collect()
}

fn height(row: &[Vec<String>], size: f64) -> f64 {
    row.iter().map(Vec::len).max().unwrap_or(0) as f64 * size * LINE + 2.0 * ABOVE
}

fn draw(flow: &mut Flow<'_>, table: &Table, row: &[Vec<String>], widths: &[f64], (size, class): (f64, &str)) {
    let top = flow.take(height(row, size)) - ABOVE;
    let mut x = FILING;
    for ((column, lines), width) in table.columns.iter().zip(row).zip(widths) {
        for (i, line) in lines.iter().enumerate() {
            let right = matches!(column, Column::Figures(_) | Column::Counted(_));
            let spare = if right { width - flow.letters.width(line, size, class == "head") } else { 0.0 };
            flow.line(class, line, (x + spare, top - size * LINE * i as f64), size);
        }
        x += width + BETWEEN;
    }
}

/// The size of the text and the width of each column, so that all of it is no wider than the page.
fn fitted(letters: &Letters, table: &Table, room: f64) -> (f64, Vec<f64>) {
    let mut size = SIZE;
    loop {
        let (least, natural) = extremes(letters, table, size);
        let between = BETWEEN * (table.columns.len().max(1) - 1) as f64;
        let (least_sum, natural_sum): (f64, f64) = (least.iter().sum(), natural.iter().sum());
        if natural_sum + between <= room {
            return (size, natural);
        }
        if least_sum + between <= room {
            // What is left over is shared by how much each column lacks.
            let share = (room - between - least_sum) / (natural_sum - least_sum);
            let widths = least.iter().zip(&natural).map(|(least, natural)| least + (natural - least) * share);
            return (size, widths.collect());
        }
        if size <= LEAST {
            // Wider than the page however small: every column gets its share, and words are broken anywhere.
            let share = (room - between) / least_sum;
            return (size, least.iter().map(|least| least * share).collect());
        }
        size = (size * 0.94).max(LEAST);
    }
}

/// The least and the natural width of each column.
fn extremes(letters: &Letters, table: &Table, size: f64) -> (Vec<f64>, Vec<f64>) {
    let column = |i: usize, column: &Column| {
        let breaks = matches!(column, Column::Words(_) | Column::Headed(_));
        let texts = table.rows.iter().map(|row| (row, false)).chain(table.sums.iter().map(|row| (row, true)));
        let texts = texts.filter_map(|(row, bold)| Some((row.get(i)?.as_str(), bold)));
        let (mut least, mut natural) = (letters.widest_piece(column.heading(), size, true), 0.0_f64);
        natural = natural.max(if breaks { letters.width(column.heading(), size, true) } else { least });
        for (text, bold) in texts {
            let whole = text.split('\n').map(|line| letters.width(line, size, bold)).fold(0.0, f64::max);
            natural = natural.max(whole);
            least = least.max(if breaks { letters.widest_piece(text, size, bold) } else { whole });
        }
        (least, natural.max(least))
    };
    table.columns.iter().enumerate().map(|(i, one)| column(i, one)).unzip()
}
