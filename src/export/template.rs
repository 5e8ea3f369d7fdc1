//! Templates of wings on paper, 1:1: the panel's edge, the measured points, and a square to check the scale of the print.
//!
//! Seen from above, as the panel lies in the vehicle, in millimetres; one file for each wing.

use super::drawn::ascii;
use super::svg::contour;
use crate::finished::Finished;
use crate::geom::{Point2, Point3, SheetPlacement};
use crate::layout::WingSummary;
use crate::number::decimal;
use svg::node::element::{Group, Line, Path as Contour, Rectangle, Text, Title};
use svg::{Document, Node};

/// mm of paper around the drawing.
const MARGIN: f64 = 15.0;

/// mm, sides of the square that is measured on the print.
const CHECK_SQUARE: f64 = 100.0;

/// mm. Half the size of a measured point's cross.
const CROSS: f64 = 4.0;

/// mm, height of letters.
const LETTERS: f64 = 7.0;

/// The template of one wing.
pub(super) fn template(finished: &Finished, wing: &WingSummary) -> String {
    let board = finished.kit.layout.board(wing.board);
    let points: Vec<Point2<_>> = wing
        .points
        .iter()
        .map(|place| board.placement.to_panel(Point3::new(place.at.x, place.at.y, board.aabb.low.z)).xy())
        .collect();
    let (mut low, mut high) = board.shape.bounds();
    for point in &points {
        (low, high) = (low.min(*point), high.max(*point));
    }
    // The check square and the words stand below the panel.
    let foot = MARGIN + CHECK_SQUARE + MARGIN;
    let width = (high.x - low.x).max(2.5 * CHECK_SQUARE) + 2.0 * MARGIN;
    let height = high.y - low.y + MARGIN + foot;
    let on_paper = SheetPlacement { x: MARGIN - low.x, y: foot - low.y, angle: 0.0, flipped: false };
    let mut document = Document::new()
        .set("width", format!("{}mm", mm(width)))
        .set("height", format!("{}mm", mm(height)))
        .set("viewBox", format!("0 0 {} {}", mm(width), mm(height)))
        .add(Title::new(ascii(&format!("{}, template 1:1", board.name))));
    let mut lines =
        Group::new().set("id", "edge").set("fill", "none").set("stroke", "black").set("stroke-width", "0.3");
    let openings = board.openings.iter().map(|opening| &opening.path);
    for path in std::iter::once(&board.shape).chain(openings) {
        lines.append(Contour::new().set("d", contour(&on_paper.path_to_sheet(path), height)));
    }
    document.append(lines);
    let mut crosses = Group::new().set("id", "measured").set("stroke", "black").set("stroke-width", "0.2");
    for (i, point) in points.iter().enumerate() {
        let p = on_paper.to_sheet(*point);
        let (x, y) = (p.x, height - p.y);
        for (dx, dy) in [(CROSS, 0.0), (0.0, CROSS)] {
            let line = Line::new().set("x1", mm(x - dx)).set("y1", mm(y - dy));
            crosses.append(line.set("x2", mm(x + dx)).set("y2", mm(y + dy)));
        }
        crosses.append(words(&(i + 1).to_string(), x + 1.5, y - 1.5, LETTERS / 2.0).set("stroke", "none"));
    }
    document.append(crosses);
    let top = height - MARGIN - CHECK_SQUARE;
    let square = Rectangle::new().set("x", mm(MARGIN)).set("y", mm(top)).set("id", "check-square");
    let square = square.set("width", mm(CHECK_SQUARE)).set("height", mm(CHECK_SQUARE));
    document.append(square.set("fill", "none").set("stroke", "black").set("stroke-width", "0.3"));
    let beside = MARGIN + CHECK_SQUARE + 6.0;
    let said = [
        board.name.clone(),
        "this side up (face A)".to_owned(),
        format!("{} mm, {}", decimal(board.thickness(), 2), board.material.id),
        "print at 100 %: the square".to_owned(),
        format!("measures {} mm each way", mm(CHECK_SQUARE)),
    ];
    for (line, y) in said.iter().zip([10.0, 25.0, 40.0, 65.0, 77.0]) {
        document.append(words(line, beside, top + y, LETTERS));
    }
    format!("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n{document}\n")
}

fn words(text: &str, x: f64, y: f64, size: f64) -> Text {
    Text::new(ascii(text))
        .set("x", mm(x))
        .set("y", mm(y))
        .set("font-family", "sans-serif")
        .set("font-size", mm(size))
}

fn mm(length: f64) -> String {
    decimal(length, 3)
}
