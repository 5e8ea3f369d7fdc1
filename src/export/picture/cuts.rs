//! One sawn sheet: parts as the rectangles that are cut, and every cut with its number.
//!
//! Strokes tell the stages apart, so that it can be followed in black and white. As a piece of the report's page, or
//! as a file for the saw.

use super::canvas::Canvas;
use super::label::{Label, Place, text_width};
use super::sheet::{SheetPicture, TEXTS_IN_LENGTH, around, named, spot};
use super::{Area, Spot, area};
use crate::export::cuts::{mm, outcome, size};
use crate::finished::{NamedSheet, SheetGroup};
use crate::nest::{Cut, CutList, What};
use crate::number::decimal;

/// Looks of a file for the saw.
const STYLE: &str = include_str!("../../../templates/cuts.css");

/// Size of a cut's number against that of other texts.
const NUMBER: f64 = 0.85;

/// Places along a cut that are tried for its number, as shares of its length.
const SHARES: [f64; 9] = [0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.1, 0.9];

/// The picture as a file of its own.
pub(crate) fn cuts_file(group: &SheetGroup, sheet: &NamedSheet<'_>, list: &CutList) -> String {
    let SheetPicture { mut canvas, key } = cuts(group, sheet, list);
    let stock = &sheet.stock.name;
    let title = format!("Cuts of {}", sheet.name);
    let kerf = mm(group.clearances.gap);
    let mut lines = vec![format!("{title} ({stock}), {}, blade {kerf} mm", count(list.cuts.len()))];
    lines.extend(key.iter().map(|(number, name)| format!("{number}: {name}")));
    let (size, width) = (canvas.text_size(), sheet.stock.width);
    let longest = lines.iter().map(|line| text_width(line, size)).fold(0.0, f64::max);
    let centre = Spot::new(longest / 2.0, width + size * (2.4 + 0.6 * lines.len() as f64));
    canvas.label("name", &Label { lines, centre, size, upright: false });
    canvas.document(&title, STYLE)
}

fn count(cuts: usize) -> String {
    format!("{cuts} cut{}", if cuts == 1 { "" } else { "s" })
}

/// The sheet with its cuts.
pub(crate) fn cuts(group: &SheetGroup, on: &NamedSheet<'_>, list: &CutList) -> SheetPicture {
    let (length, width) = (on.stock.length, on.stock.width);
    let mut canvas = Canvas::new(length.max(width) / TEXTS_IN_LENGTH);
    canvas.rectangle("sheet", area(0.0, 0.0, length, width));
    let mut named_areas = Vec::new();
    for placed in &on.sheet.placed {
        let part = &group.parts[placed.part];
        let outline = placed.placement.path_to_sheet(&part.outline);
        let (low, high) = outline.bounds();
        let shape = area(low.x, low.y, high.x, high.y);
        canvas.rectangle("part", shape);
        if !part.is_rectangle() {
            canvas.contour("shape", outline.moved(spot));
        }
        let (low, high) = part.outline.bounds();
        let size = format!("{} x {}", decimal(high.x - low.x, 1), decimal(high.y - low.y, 1));
        named_areas.push((shape, part.name.clone(), size));
    }
    for cut in &list.cuts {
        for side in [&cut.kept, &cut.beyond] {
            if let What::Offcut(_) = side.what {
                let (low, high) = (side.area.low(), side.area.high());
                let shape = area(low.x, low.y, high.x, high.y);
                canvas.rectangle("offcut", shape);
                named_areas.push((shape, outcome(group, cut, side), size(side.area)));
            }
        }
        canvas.line(&format!("saw stage-{}", cut.stage.min(4)), &cut.line().map(spot));
    }
    let tags = tags(list, canvas.text_size() * NUMBER);
    for (tag, shape) in &tags {
        canvas.rectangle("tag", *shape);
        canvas.label("number", tag);
    }
    let key = names(&mut canvas, named_areas, &tags);
    around(&mut canvas, group, (length, width));
    SheetPicture { canvas, key }
}

/// The number of each cut with the box around it, where it stands on no other number and on no other cut if that can
/// be had.
fn tags(list: &CutList, size: f64) -> Vec<(Label, Area)> {
    let lines: Vec<Area> = list.cuts.iter().map(|cut| Area::from_points(cut.line().map(spot))).collect();
    let mut tags: Vec<(Label, Area)> = Vec::with_capacity(lines.len());
    for (index, cut) in list.cuts.iter().enumerate() {
        let candidates = SHARES.map(|share| tag(cut, index + 1, share, size));
        let best = candidates.into_iter().min_by_key(|(_, shape)| {
            // `intersects` is false for boxes without extent.
            let crossed = |other: &&Area| other.inflate(0.1, 0.1).intersects(shape);
            let others = lines.iter().enumerate().filter(|&(i, _)| i != index).map(|(_, line)| line);
            (tags.iter().filter(|(_, other)| other.intersects(shape)).count(), others.filter(crossed).count())
        });
        tags.extend(best);
    }
    tags
}

/// A cut's number at a share of its length.
fn tag(cut: &Cut, number: usize, share: f64, size: f64) -> (Label, Area) {
    let [from, to] = cut.line().map(spot);
    let label = Label { lines: vec![number.to_string()], centre: from.lerp(to, share), size, upright: false };
    let shape = label.area().inflate(size * 0.15, size * 0.1);
    (label, shape)
}

/// Writes names into what they name, clear of the numbers; what is too small gets a number, for the key.
fn names(
    canvas: &mut Canvas,
    named_areas: Vec<(Area, String, String)>,
    tags: &[(Label, Area)],
) -> Vec<(usize, String)> {
    let size = canvas.text_size();
    let mut key = Vec::new();
    for (shape, name, extent) in named_areas {
        let covered = tags.iter().map(|&(_, tag)| tag).filter(|tag| tag.intersects(&shape));
        let place = Place::rectangle(shape, covered);
        let number = key.len() + 1;
        let text = format!("({number})");
        if let Some(label) = place.fit(&named(&name, extent), size) {
            canvas.label("name", &label);
        } else if let Some(label) =
            place.squeeze(&text, size).or_else(|| Place::rectangle(shape, []).squeeze(&text, size))
        {
            canvas.label("name", &label);
            key.push((number, name));
        }
    }
    key
}
