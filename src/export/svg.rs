//! SVG writer: a cut file in, text out, 1:1 in millimetres.
//!
//! The same contours as the DXF, one group for each layer, strokes without fill. y points up in the sheet frame
//! and down in an SVG: it is turned in the coordinates, so no reader has to apply a transformation to a contour.

use super::cutfile::{CutFile, LayerNames, Shape};
use super::drawn::{ARC_DECIMALS, Drawn, GRID_DECIMALS, Layer};
use crate::geom::{Path, Point2, SheetFrame};
use crate::number::decimal;
use svg::node::element::{Circle, Element, Group, Path as Contour, Style, Text, Title};
use svg::{Document, Node};

/// Width of a stroke in mm, for programs that read it: fine enough to stand for a line without width.
const HAIRLINE: f64 = 0.1;

/// On a screen the whole sheet is in sight, and a hairline that would vanish is one pixel at any zoom. On paper
/// and in programs that cut, which know no screen, the size and the width above count.
const ON_SCREEN: &str = "@media screen { svg { max-width: 100vw; max-height: 100vh } \
     path, circle { vector-effect: non-scaling-stroke; stroke-width: 1px } }";

/// Share of a font's size that its capitals are high: 0.716 in common sans-serif fonts (from memory).
const CAPITALS: f64 = 0.716;

/// The cut file as the text of an SVG.
pub(crate) fn write(file: &CutFile, layers: &LayerNames) -> String {
    let drawn = Drawn::new(file, layers);
    let (width, height) = (mm(file.size.0), mm(file.size.1));
    let mut document = Document::new()
        .set("width", format!("{width}mm"))
        .set("height", format!("{height}mm"))
        .set("viewBox", format!("0 0 {width} {height}"))
        .add(Title::new(super::drawn::ascii(&file.title)))
        .add(Style::new(ON_SCREEN));
    for (index, layer) in drawn.layers.iter().enumerate() {
        let mut group = group(layer);
        for (_, shape) in drawn.shapes.iter().filter(|(on, _)| *on == index) {
            group.append(node(shape, file.size.1, layer));
        }
        document.append(group);
    }
    format!("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n{document}\n")
}

fn group(layer: &Layer) -> Group {
    Group::new()
        .set("id", layer.name.as_str())
        .set("fill", "none")
        .set("stroke", layer.look.svg_colour)
        .set("stroke-width", mm(HAIRLINE))
}

/// The element for a shape; `height` of the area turns y over.
fn node(shape: &Shape, height: f64, layer: &Layer) -> Element {
    match shape {
        Shape::Closed(path) => Contour::new().set("d", contour(path, height)).into(),
        Shape::Open(corners) => {
            let whole = contour(&Path::new(corners.clone()), height);
            // The way from the last corner back to the first is not drawn.
            Contour::new().set("d", whole.trim_end_matches(" Z")).into()
        }
        Shape::Circle { centre, diameter } => Circle::new()
            .set("cx", mm(centre.x))
            .set("cy", mm(height - centre.y))
            .set("r", mm(diameter / 2.0))
            .into(),
        Shape::Text { centre, height: capitals, angle, text } => {
            let (x, y) = (mm(centre.x), height - centre.y);
            let mut element = Text::new(text.as_str())
                .set("x", x.as_str())
                // The baseline lies half the capitals' height below the middle, whatever the reader's font.
                .set("y", mm(y + capitals / 2.0))
                .set("font-family", "sans-serif")
                .set("font-size", decimal(capitals / CAPITALS, 3))
                .set("text-anchor", "middle")
                .set("fill", layer.look.svg_colour)
                .set("stroke", "none");
            if *angle != 0.0 {
                element.assign("transform", format!("rotate({} {x} {})", mm(-angle), mm(y)));
            }
            element.into()
        }
    }
}

/// The commands of a closed path. An arc that turns left with y up turns left on the screen too: sweep 0.
pub(super) fn contour(path: &Path<SheetFrame>, height: f64) -> String {
    let point = |p: Point2<SheetFrame>| format!("{} {}", mm(p.x), mm(height - p.y));
    let last = path.vertices().len().saturating_sub(1);
    let mut commands = Vec::with_capacity(last + 3);
    for (i, (a, b, bulge)) in path.sides().enumerate() {
        if i == 0 {
            commands.push(format!("M{}", point(a)));
        }
        if bulge != 0.0 {
            // Radius from chord c and bulge b: c (1 + b^2) / (4 b).
            let radius =
                decimal((b - a).length() * (1.0 + bulge * bulge) / (4.0 * bulge.abs()), ARC_DECIMALS);
            let (large, sweep) = (u8::from(bulge.abs() > 1.0), u8::from(bulge < 0.0));
            commands.push(format!("A{radius} {radius} 0 {large} {sweep} {}", point(b)));
        } else if i < last {
            commands.push(format!("L{}", point(b)));
        }
    }
    commands.push("Z".to_owned());
    commands.join(" ")
}

fn mm(value: f64) -> String {
    decimal(value, GRID_DECIMALS)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::export::cutfile::examples::{layer_names, small_panel};
    use crate::export::cutfile::{Item, Operation};
    use crate::golden;

    #[test]
    fn the_golden_stays() {
        golden::check("cutfile/small-panel.svg", write(&small_panel(), &layer_names()).as_bytes());
    }

    #[test]
    fn a_second_run_gives_the_same_text() {
        assert_eq!(write(&small_panel(), &layer_names()), write(&small_panel(), &layer_names()));
    }

    #[test]
    fn y_is_turned_over_and_arcs_keep_their_side() {
        let text = write(&small_panel(), &layer_names());
        // The bore at y = 20 of 60; the right end bulges out: on the screen from the lower to the upper corner,
        // turning left.
        assert!(text.contains(r#"<circle cx="70" cy="40" r="3.3"/>"#), "{text}");
        assert!(text.contains("M0 60 L170 60 A30 30 0 0 0 170 0 L0 0 Z"), "{text}");
    }

    #[test]
    fn text_is_centred_turned_and_escaped() {
        let shape =
            Shape::Text { centre: Point2::new(10.0, 20.0), height: 7.16, angle: 90.0, text: "a < b".into() };
        let items = vec![Item { operation: Operation::Note, shape }];
        let text = write(&CutFile { title: "t & u".into(), size: (100.0, 50.0), items }, &layer_names());
        assert!(text.contains(r#"font-size="10""#) && text.contains(r#"y="33.58""#), "{text}");
        assert!(text.contains(r#"transform="rotate(-90 10 30)""#) && text.contains("a &lt; b"), "{text}");
        assert!(text.contains("t &amp; u"), "{text}");
    }
}
