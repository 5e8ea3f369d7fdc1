//! The page around a drawing: its frame, the title block at its foot (fields of ISO 7200), the sign of the projection.
//!
//! All in mm of paper, the origin at the page's lower left corner.

use super::super::canvas::{Anchor, Canvas};
use super::super::label::fitted;
use super::super::{Area, Spot, area};

/// mm of paper outside the frame: 20 on the left, where pages are filed, 10 elsewhere (ISO 5457).
pub(crate) const FILING: f64 = 20.0;
const EDGE: f64 = 10.0;
/// Height of a row of the title block, mm.
const ROW: f64 = 9.5;
/// Sizes of a field's name and of what it says, mm.
const NAME: f64 = 1.9;
const VALUE: f64 = 2.8;
/// Least size to which what a field says is made smaller before it is cut short, mm.
const LEAST: f64 = 1.9;

/// A field of the title block.
#[derive(Debug)]
pub(super) struct Field {
    /// Its name.
    pub(super) name: &'static str,
    /// What it says.
    pub(super) value: String,
    /// Its share of the row's width.
    pub(super) share: f64,
}

/// Shorthand for a field.
pub(super) fn field(name: &'static str, value: impl Into<String>, share: f64) -> Field {
    Field { name, value: value.into(), share }
}

/// What the frame leaves free above a title block of `rows` rows.
pub(super) fn inside((width, height): (f64, f64), rows: usize) -> Area {
    area(FILING, EDGE + ROW * rows as f64, width - EDGE, height - EDGE)
}

/// Draws frame and title block; the projection's sign stands at the right end of the last row.
pub(super) fn draw(canvas: &mut Canvas, paper: (f64, f64), rows: &[Vec<Field>], third_angle: bool) {
    let free = inside(paper, rows.len());
    let outer = area(FILING, EDGE, paper.0 - EDGE, paper.1 - EDGE);
    canvas.rectangle("frame", outer);
    for (i, row) in rows.iter().enumerate() {
        let top = free.min.y - ROW * i as f64;
        canvas.line("frame", &[Spot::new(outer.min.x, top), Spot::new(outer.max.x, top)]);
        let last = i + 1 == rows.len();
        let sign = if last { SIGN } else { 0.0 };
        let whole: f64 = row.iter().map(|field| field.share).sum();
        let mut left = outer.min.x;
        for (j, field) in row.iter().enumerate() {
            let right = left + field.share / whole * (outer.width() - sign);
            if j > 0 {
                canvas.line("thin", &[Spot::new(left, top), Spot::new(left, top - ROW)]);
            }
            cell(canvas, field, area(left, top - ROW, right, top));
            left = right;
        }
        if last {
            canvas.line("thin", &[Spot::new(left, top), Spot::new(left, top - ROW)]);
            projection(canvas, area(left, top - ROW, outer.max.x, top), third_angle);
        }
    }
}

/// Width of the sign's field, mm.
const SIGN: f64 = 20.0;

fn cell(canvas: &mut Canvas, field: &Field, shape: Area) {
    let name = Spot::new(shape.min.x + 1.0, shape.max.y - 0.5 - NAME / 2.0);
    canvas.words("small", field.name, name, NAME, Anchor::Start);
    let room = shape.width() - 2.0;
    let (value, size) = fitted(&field.value, (VALUE, LEAST), room);
    let place = Spot::new(shape.min.x + 1.0, shape.min.y + 1.2 + size / 2.0);
    canvas.words("value", &value, place, size, Anchor::Start);
}

/// The sign of ISO 5456-2: a cone from the side and from its small end, which stands on the side where that view would.
fn projection(canvas: &mut Canvas, shape: Area, third_angle: bool) {
    let middle = shape.center();
    let (round, side) = if third_angle { (-4.5, 3.5) } else { (4.5, -3.5) };
    let centre = Spot::new(middle.x + round, middle.y);
    canvas.circle("line", centre, 1.6);
    canvas.circle("line", centre, 3.2);
    let x = middle.x + side;
    let cone = [(-3.2, 1.6), (3.2, 3.2), (3.2, -3.2), (-3.2, -1.6)];
    canvas.polygon("line", &cone.map(|(along, up)| Spot::new(x + along, middle.y + up)));
    canvas.line("axis", &[Spot::new(x - 4.2, middle.y), Spot::new(x + 4.2, middle.y)]);
    canvas.line("axis", &[Spot::new(centre.x - 4.0, middle.y), Spot::new(centre.x + 4.0, middle.y)]);
    canvas.line("axis", &[Spot::new(centre.x, middle.y - 4.0), Spot::new(centre.x, middle.y + 4.0)]);
}
