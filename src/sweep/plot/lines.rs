//! Charts one below the other over one varied thing: a measure as a line with a mark at each variant, and hatched where there
//! is no kit, with a letter for the rule that says why.

use super::axis::{Axis, Ticks, every};
use super::{Column, LINE, Row, SIZE, Table, extremes, list, measures, rules};
use crate::export::picture::{Anchor, Area, Canvas, Spot, area, text_width};

/// mm. Width of the charts and height of each.
const CHART: (f64, f64) = (150.0, 26.0);
/// Steps of a chart's axis.
const STEPS: f64 = 3.0;
/// mm. Radius of a mark, and how near two may be.
const MARK: (f64, f64) = (0.8, 2.0);
/// mm between the lines of a hatch.
const HATCH: f64 = 2.2;
/// Most stretches of the axis that are named for a rule.
const MOST_NAMED: usize = 6;

/// Neighbouring variants without a kit for one rule: first and last of them, and which rule it is.
struct Gap {
    rows: (usize, usize),
    rule: usize,
}

/// Draws the charts.
pub(super) fn draw(table: &Table) -> Canvas {
    let mut canvas = Canvas::new(SIZE);
    let numbers: Vec<f64> = table.rows.iter().map(value).collect();
    let ends = (numbers.first().copied().unwrap_or(0.0), numbers.last().copied().unwrap_or(1.0));
    let between = numbers.len().saturating_sub(1).max(1) as f64;
    let half = if ends.1 > ends.0 { (ends.1 - ends.0) / between / 2.0 } else { 0.5 };
    let across = Axis { ends: (ends.0 - half, ends.1 + half), paper: (0.0, CHART.0) };
    let rules = rules(table);
    let gaps = gaps(table, &rules);
    let bands: Vec<(f64, f64)> = gaps
        .iter()
        .map(|gap| (across.at(numbers[gap.rows.0] - half), across.at(numbers[gap.rows.1] + half)))
        .collect();
    let mut top = 0.0;
    if !gaps.is_empty() {
        letters(&mut canvas, &gaps, &bands);
        top -= SIZE * 1.6;
    }
    let measures = measures(table);
    let mut bottom = top;
    for (column, title) in &measures {
        let (low, high) = extremes(table, *column);
        // There is no half sheet.
        let steps = if *column == Column::Sheets { STEPS.min(high - low).max(1.0) } else { STEPS };
        let ticks = Ticks::over((low, high), steps);
        let frame = frame(&mut canvas, title, top, &bands);
        chart(&mut canvas, table, (*column, &ticks), (&across, &numbers), frame);
        bottom = frame.min.y;
        top = bottom - SIZE;
    }
    if measures.is_empty() {
        bottom = frame(&mut canvas, "no variant is without errors", top, &bands).min.y;
    }
    below(&mut canvas, table, (&across, &numbers), bottom);
    let lines = key(table, &rules, &gaps);
    list(&mut canvas, (0.0, bottom - SIZE * 6.0), &lines);
    canvas
}

fn value(row: &Row) -> f64 {
    row.values.first().and_then(|value| value.parse().ok()).unwrap_or(0.0)
}

fn gaps(table: &Table, rules: &[&str]) -> Vec<Gap> {
    let mut gaps: Vec<Gap> = Vec::new();
    for (i, row) in table.rows.iter().enumerate().filter(|(_, row)| !row.is_feasible()) {
        let rule = rules.iter().position(|own| *own == row.rule()).unwrap_or(0);
        match gaps.last_mut() {
            Some(last) if last.rule == rule && last.rows.1 + 1 == i => last.rows.1 = i,
            _ => gaps.push(Gap { rows: (i, i), rule }),
        }
    }
    gaps
}

/// `a` for the first rule; numbers once there are no more letters.
fn letter(rule: usize) -> String {
    let letter = u8::try_from(rule).ok().and_then(|rule| b'a'.checked_add(rule)).filter(|&l| l <= b'z');
    letter.map_or_else(|| (rule + 1).to_string(), |letter| char::from(letter).to_string())
}

/// The letter of each gap's rule above it; where two would stand in each other, the first.
fn letters(canvas: &mut Canvas, gaps: &[Gap], bands: &[(f64, f64)]) {
    let mut free = f64::NEG_INFINITY;
    for (gap, (from, to)) in gaps.iter().zip(bands) {
        let (letter, middle) = (letter(gap.rule), f64::midpoint(*from, *to));
        let half = text_width(&letter, SIZE) / 2.0;
        if middle - half > free {
            canvas.words("number", &letter, Spot::new(middle, -SIZE * 0.6), SIZE, Anchor::Middle);
            free = middle + half + 0.3;
        }
    }
}

/// A chart's title and frame, hatched where there is no kit.
fn frame(canvas: &mut Canvas, title: &str, top: f64, bands: &[(f64, f64)]) -> Area {
    canvas.words("head", title, Spot::new(0.0, top - SIZE * 0.6), SIZE, Anchor::Start);
    let high = top - SIZE * 1.9;
    let frame = area(0.0, high - CHART.1, CHART.0, high);
    for (from, to) in bands {
        hatch(canvas, area(*from, frame.min.y, *to, frame.max.y));
    }
    canvas.rectangle("chart", frame);
    frame
}

/// Slanting lines over a rectangle, on one pattern for the whole page.
fn hatch(canvas: &mut Canvas, shape: Area) {
    let Area { min, max } = shape;
    let mut sum = ((min.x + min.y) / HATCH).ceil() * HATCH;
    while sum < max.x + max.y {
        let (from, to) = (min.x.max(sum - max.y), max.x.min(sum - min.y));
        if to > from {
            canvas.line("hatch", &[Spot::new(from, sum - from), Spot::new(to, sum - to)]);
        }
        sum += HATCH;
    }
    for x in [min.x, max.x] {
        canvas.line("hatch", &[Spot::new(x, min.y), Spot::new(x, max.y)]);
    }
}

/// A measure's line with its marks, and the numbers at its axis.
fn chart(
    canvas: &mut Canvas,
    table: &Table,
    (column, ticks): (Column, &Ticks),
    (across, numbers): (&Axis, &[f64]),
    frame: Area,
) {
    let up = Axis { ends: ticks.ends(), paper: (frame.min.y, frame.height()) };
    for &number in &ticks.numbers {
        let y = up.at(number);
        canvas.line("dim", &[Spot::new(-1.0, y), Spot::new(frame.max.x, y)]);
        canvas.words("number", &ticks.words(number), Spot::new(-1.8, y), SIZE, Anchor::End);
    }
    let spots: Vec<Option<Spot>> = table
        .rows
        .iter()
        .zip(numbers)
        .map(|(row, number)| Some(Spot::new(across.at(*number), up.at(row.number(column)?))))
        .collect();
    for run in spots.split(Option::is_none) {
        let run: Vec<Spot> = run.iter().copied().flatten().collect();
        if run.len() > 1 {
            canvas.line("series", &run);
        }
    }
    let spacing = CHART.0 / spots.len().max(1) as f64;
    let alone = |i: usize| {
        let is_gap = |at: Option<usize>| at.and_then(|at| spots.get(at)).is_none_or(Option::is_none);
        is_gap(i.checked_sub(1)) && is_gap(Some(i + 1))
    };
    for (i, spot) in spots.iter().enumerate() {
        // Marks that would run into one another are left out, but for values that no line shows.
        if let Some(spot) = spot.filter(|_| spacing >= MARK.1 || alone(i)) {
            canvas.circle("dark", spot, MARK.0);
        }
    }
}

/// The varied thing's values below the charts, and what it is.
fn below(canvas: &mut Canvas, table: &Table, (across, numbers): (&Axis, &[f64]), bottom: f64) {
    let words = |row: &Row| row.values.first().cloned().unwrap_or_default();
    let widest = table.rows.iter().map(|row| text_width(&words(row), SIZE)).fold(0.0, f64::max);
    let every = every(CHART.0 / table.rows.len().max(1) as f64, widest + 1.5);
    for (row, number) in table.rows.iter().zip(numbers).step_by(every) {
        let x = across.at(*number);
        canvas.line("tick", &[Spot::new(x, bottom), Spot::new(x, bottom - 1.2)]);
        canvas.words("number", &words(row), Spot::new(x, bottom - 1.8 - SIZE / 2.0), SIZE, Anchor::Middle);
    }
    let title = table.varied.first().map_or("", String::as_str);
    canvas.words("head", title, Spot::new(CHART.0 / 2.0, bottom - 1.8 - SIZE * 2.0), SIZE, Anchor::Middle);
}

/// What the letters mean, and where.
fn key(table: &Table, rules: &[&str], gaps: &[Gap]) -> Vec<String> {
    if gaps.is_empty() {
        return Vec::new();
    }
    let value =
        |row: usize| table.rows.get(row).and_then(|row| row.values.first()).map_or("", String::as_str);
    let mut lines = vec!["hatched: no kit; the rule of the first error:".to_owned()];
    for (i, rule) in rules.iter().enumerate() {
        let own = gaps.iter().filter(|gap| gap.rule == i).map(|gap| match gap.rows {
            (one, last) if one == last => value(one).to_owned(),
            (one, last) => format!("{} to {}", value(one), value(last)),
        });
        let mut places: Vec<String> = own.collect();
        if places.len() > MOST_NAMED {
            let more = places.len() - MOST_NAMED;
            places.truncate(MOST_NAMED);
            places.push(format!("{more} stretches more"));
        }
        lines.push(format!("{} = {rule}: {}", letter(i), places.join(", ")));
    }
    lines
}

const _: () = assert!(CHART.1 / (STEPS + 1.0) > SIZE && LINE > SIZE);
