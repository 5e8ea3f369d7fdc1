//! A sheet of labels, one for each panel: its name in letters and as a QR code, what it is made of, where it lies and what it meets.

use super::print::{self, Leaf};
use crate::export::cut_files::sheets_of_each;
use crate::export::picture::{Anchor, Area, Canvas, Spot, area, broken, fitted, text_width, wrapped};
use crate::export::words;
use crate::finished::Finished;
use crate::geom::{Vector3, VehicleFrame};
use crate::layout::BoardId;
use crate::number::decimal;
use crate::spec::LabelGrid;
use qrcodegen::{QrCode, QrCodeEcc};
use std::collections::{BTreeMap, BTreeSet};

/// Size of the name and least size of it, and size of what is said, mm.
const NAME: (f64, f64) = (3.6, 2.4);
const SAID: f64 = 2.1;
/// mm from line to line at most.
const PITCH: f64 = 4.2;
/// mm inside a label's edge.
const INSIDE: f64 = 2.5;

/// `labels.pdf`; empty only if the fonts could not be read, which would be our own fault.
pub(crate) fn labels(finished: &Finished) -> Vec<u8> {
    let paper = finished.design.workshop.paper;
    let grid = paper.labels;
    let sheets = sheets_of_each(&finished.groups);
    let neighbours = neighbours(finished);
    let panels: Vec<usize> = (0..finished.kit.panels.len()).collect();
    let leaves: Vec<Leaf<'_>> = panels
        .chunks(grid.columns * grid.rows)
        .map(|own| {
            let mut canvas = Canvas::new(SAID);
            for (place, &panel) in own.iter().enumerate() {
                let shape = cell(paper.size, grid, place);
                let said = said(finished, panel, &sheets, &neighbours);
                label(&mut canvas, shape, &finished.kit.panels[panel].name, &said);
            }
            Leaf { paper: paper.size, canvas, pictures: Vec::new(), foot: false }
        })
        .collect();
    let title = format!("{}: labels", finished.design.name.value);
    print::written(&title, &leaves).unwrap_or_default()
}

/// The place of a label: rows from the top, columns from the left.
fn cell((width, height): (f64, f64), grid: LabelGrid, place: usize) -> Area {
    let (across, up) = (width - 2.0 * grid.margin.0, height - 2.0 * grid.margin.1);
    let size = (across / grid.columns as f64, up / grid.rows as f64);
    let (row, column) = (place / grid.columns, place % grid.columns);
    let left = grid.margin.0 + size.0 * column as f64;
    let top = height - grid.margin.1 - size.1 * row as f64;
    area(left, top - size.1, left + size.0, top)
}

/// Names of the panels that each panel is joined to.
fn neighbours(finished: &Finished) -> BTreeMap<BoardId, BTreeSet<&str>> {
    let layout = &finished.kit.layout;
    let edges = layout.meetings.iter().map(|meeting| (meeting.edge, meeting.face));
    let faces = layout.face_meetings.iter().map(|meeting| (meeting.head, meeting.nut));
    let mut found: BTreeMap<BoardId, BTreeSet<&str>> = BTreeMap::new();
    for (a, b) in edges.chain(faces) {
        found.entry(a).or_default().insert(&layout.board(b).name);
        found.entry(b).or_default().insert(&layout.board(a).name);
    }
    found
}

/// The lines below the name.
fn said(
    finished: &Finished,
    index: usize,
    sheets: &BTreeMap<usize, String>,
    neighbours: &BTreeMap<BoardId, BTreeSet<&str>>,
) -> Vec<String> {
    let panel = &finished.kit.panels[index];
    let (low, high) = panel.outline.bounds();
    let joined = neighbours.get(&BoardId(index)).map_or_else(String::new, |names| {
        format!("joins {}", names.iter().copied().collect::<Vec<_>>().join(", "))
    });
    let facing = words_of_way(finished.kit.layout.board(BoardId(index)).normal());
    vec![
        format!("{} of {}", finished.kit.layout.body(panel.body).name, finished.design.name.value),
        words::board(&panel.material.id, panel.material.nominal, panel.material.actual),
        format!("{} x {} mm", decimal(high.x - low.x, 1), decimal(high.y - low.y, 1)),
        sheets.get(&index).map_or_else(String::new, |sheet| format!("sheet {sheet}")),
        format!("face A {facing}"),
        joined,
    ]
}

/// Which way a face looks in the vehicle.
fn words_of_way(way: Vector3<VehicleFrame>) -> &'static str {
    let sizes = [way.x.abs(), way.y.abs(), way.z.abs()];
    let largest = (0..3).max_by(|&a, &b| sizes[a].total_cmp(&sizes[b])).unwrap_or(2);
    match (largest, [way.x, way.y, way.z][largest] > 0.0) {
        (0, true) => "forward",
        (0, false) => "to the rear",
        (1, true) => "to the left",
        (1, false) => "to the right",
        (_, true) => "up",
        (_, false) => "down",
    }
}

/// One label: the code on the left, the name and what is said beside it.
fn label(canvas: &mut Canvas, shape: Area, name: &str, said: &[String]) {
    let inner = shape.inflate(-INSIDE, -INSIDE);
    let mut left = inner.min.x;
    let side = inner.height().min(inner.width() * 0.3);
    // A name is far shorter than what a code holds; without one the letters are there all the same.
    if let Ok(code) = QrCode::encode_text(name, QrCodeEcc::Medium) {
        let top = inner.center().y + side / 2.0;
        modules(canvas, &code, Spot::new(left, top), side);
        left += side + INSIDE;
    }
    let lines = lines(name, said, inner.max.x - left);
    let pitch = (inner.height() / lines.len() as f64).min(PITCH);
    let mut y = inner.center().y + pitch * (lines.len() as f64 - 1.0) / 2.0;
    for (class, line, size) in lines {
        canvas.words(class, &line, Spot::new(left, y), size.min(pitch), Anchor::Start);
        y -= pitch;
    }
}

/// Class, text and size of every line in so many mm: the name whole, in as few lines as it takes; the rest broken at spaces.
fn lines(name: &str, said: &[String], room: f64) -> Vec<(&'static str, String, f64)> {
    // Bold letters are wider than the estimate for plain ones.
    let bold = room * 0.9;
    let fits = |lines: &Vec<String>| lines.iter().all(|line| text_width(line, NAME.1) <= bold);
    let names = (1..=4).map(|n| broken(name, n)).find(fits).unwrap_or_else(|| broken(name, 4));
    let names = names.iter().map(|line| {
        let (line, size) = fitted(line, NAME, bold);
        ("head", line, size)
    });
    let said = said.iter().filter(|line| !line.is_empty());
    let said = said.flat_map(|line| wrapped(line, room, |line| text_width(line, SAID)));
    names.chain(said.map(|line| ("text", line, SAID))).collect()
}

/// The dark squares of a code, rows of them as one, downwards and to the right from its upper left corner.
fn modules(canvas: &mut Canvas, code: &QrCode, corner: Spot, side: f64) {
    let count = code.size();
    let one = side / f64::from(count);
    for row in 0..count {
        let mut column = 0;
        while column < count {
            let from = column;
            while column < count && code.get_module(column, row) {
                column += 1;
            }
            if column > from {
                let (x0, x1) = (corner.x + one * f64::from(from), corner.x + one * f64::from(column));
                let y = corner.y - one * f64::from(row);
                canvas.rectangle("dark", area(x0, y - one, x1, y));
            }
            column += 1;
        }
    }
}
