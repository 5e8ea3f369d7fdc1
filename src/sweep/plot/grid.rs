//! A grid of cells for each measure over two varied things: the first one upwards, the second one across, each cell a shade of
//! grey and its number, crossed where there is no kit.

use super::axis::every;
use super::{Column, Row, SIZE, Table, extremes, list, measures, rules, short};
use crate::export::picture::{Anchor, Canvas, Spot, area, text_width};

/// Most cells across and up that have numbers in them.
const MOST_NUMBERED: (usize, usize) = (40, 60);
/// mm. Size of the numbers in cells; least width and height of such a cell.
const NUMBER: f64 = 2.6;
const NUMBERED: (f64, f64) = (8.0, 5.0);
/// mm. Width and height of a grid without numbers, and the least of a cell.
const GRID: (f64, f64) = (160.0, 120.0);
const LEAST: f64 = 0.6;
/// The darkest shade of grey.
const LEVELS: usize = 8;

/// How the cells lie.
struct Layout {
    across: usize,
    up: usize,
    /// mm.
    cell: (f64, f64),
    numbered: bool,
}

/// Draws the grids, one below the other.
pub(super) fn draw(table: &Table) -> Canvas {
    let mut canvas = Canvas::new(SIZE);
    let measures = measures(table);
    let layout = layout(table, &measures);
    let mut top = 0.0;
    for (column, title) in &measures {
        let (low, high) = extremes(table, *column);
        let title = if high > low {
            format!("{title}: {} light to {} dark", short(low), short(high))
        } else {
            format!("{title}: {} everywhere", short(low))
        };
        top = grid(&mut canvas, table, &layout, (Some(*column), &title), top);
    }
    if measures.is_empty() {
        top = grid(&mut canvas, table, &layout, (None, "no variant is without errors"), top);
    }
    let crossed = |named: &&str| {
        let n = table.rows.iter().filter(|row| !row.is_feasible() && row.rule() == *named).count();
        format!("{named}: {n}")
    };
    let rules = rules(table);
    if !rules.is_empty() {
        let mut lines = vec!["crossed: no kit; variants by the rule of the first error:".to_owned()];
        lines.extend(rules.iter().map(crossed));
        list(&mut canvas, (0.0, top), &lines);
    }
    canvas
}

fn layout(table: &Table, measures: &[(Column, String)]) -> Layout {
    let first = table.rows.first().and_then(|row| row.values.first());
    let across = table.rows.iter().take_while(|row| row.values.first() == first).count().max(1);
    let up = table.rows.len().div_ceil(across);
    let numbered = across <= MOST_NUMBERED.0 && up <= MOST_NUMBERED.1;
    let numbers =
        table.rows.iter().flat_map(|row| measures.iter().filter_map(|(column, _)| row.number(*column)));
    let widest = numbers.map(|number| text_width(&short(number), NUMBER)).fold(0.0, f64::max);
    let cell = if numbered {
        ((widest + 1.6).max(NUMBERED.0), NUMBERED.1)
    } else {
        ((GRID.0 / across as f64).max(LEAST), (GRID.1 / up as f64).max(LEAST))
    };
    Layout { across, up, cell, numbered }
}

/// One grid with its title and axes, from `top` down. Where the next may begin.
fn grid(
    canvas: &mut Canvas,
    table: &Table,
    layout: &Layout,
    (column, title): (Option<Column>, &str),
    top: f64,
) -> f64 {
    let value = |row: usize, at: usize| {
        table.rows.get(row).and_then(|row| row.values.get(at)).map_or("", String::as_str)
    };
    let heading = |at: usize| table.varied.get(at).map_or("", String::as_str);
    let (width, height) = layout.cell;
    let ups: Vec<&str> = (0..layout.up).map(|up| value(up * layout.across, 0)).collect();
    let widest = |texts: &[&str]| texts.iter().map(|text| text_width(text, SIZE)).fold(0.0, f64::max);
    let left = -widest(&ups) - 1.8;
    canvas.words("head", title, Spot::new(left, top - SIZE * 0.6), SIZE, Anchor::Start);
    canvas.words("head", heading(0), Spot::new(left, top - SIZE * 2.2), SIZE, Anchor::Start);
    let bottom = top - SIZE * 3.6 - height * layout.up as f64;
    let shades = column.map(|column| (column, extremes(table, column)));
    for (i, row) in table.rows.iter().enumerate() {
        let (x, y) = (width * (i % layout.across) as f64, bottom + height * (i / layout.across) as f64);
        cell(canvas, row, layout, shades, (x, y));
    }
    for (up, text) in ups.iter().enumerate().step_by(every(height, SIZE * 1.1)) {
        let y = bottom + height * (up as f64 + 0.5);
        canvas.words("number", text, Spot::new(-1.2, y), SIZE, Anchor::End);
    }
    let acrosses: Vec<&str> = (0..layout.across).map(|across| value(across, 1)).collect();
    for (across, text) in acrosses.iter().enumerate().step_by(every(width, widest(&acrosses) + 1.5)) {
        let at = Spot::new(width * (across as f64 + 0.5), bottom - 1.0 - SIZE / 2.0);
        canvas.words("number", text, at, SIZE, Anchor::Middle);
    }
    let middle = width * layout.across as f64 / 2.0;
    canvas.words("head", heading(1), Spot::new(middle, bottom - 1.0 - SIZE * 2.0), SIZE, Anchor::Middle);
    bottom - SIZE * 4.6
}

fn cell(
    canvas: &mut Canvas,
    row: &Row,
    layout: &Layout,
    shades: Option<(Column, (f64, f64))>,
    (x, y): (f64, f64),
) {
    let (width, height) = layout.cell;
    let shape = area(x, y, x + width, y + height);
    if !row.is_feasible() {
        canvas.rectangle("shade", shape);
        canvas.line("tick", &[Spot::new(x, y), Spot::new(x + width, y + height)]);
        canvas.line("tick", &[Spot::new(x, y + height), Spot::new(x + width, y)]);
        return;
    }
    let number = shades.and_then(|(column, ends)| Some((row.number(column)?, ends)));
    let Some((number, (low, high))) = number else {
        canvas.rectangle("shade", shape);
        return;
    };
    let share = if high > low { (number - low) / (high - low) * LEVELS as f64 } else { 0.0 };
    let level = (1..=LEVELS).filter(|&level| share >= level as f64 - 0.5).count();
    canvas.rectangle(&format!("shade level-{level}"), shape);
    if layout.numbered {
        canvas.words("number", &short(number), shape.center(), NUMBER, Anchor::Middle);
    }
}
