//! How what is drawn looks on paper: line, dash and fill by the classes that the page's style sheet knows, for black and white too.
//!
//! Pages in PDF are drawn with these pens, and pages in SVG get their style sheet from them.

use crate::number::decimal;
use std::collections::BTreeSet;
use std::fmt::Write;

/// Red, green, blue.
pub(crate) type Colour = (u8, u8, u8);

const INK: Colour = (0x1c, 0x22, 0x26);
const SOFT: Colour = (0x56, 0x60, 0x68);
const ACCENT: Colour = (0x0b, 0x5a, 0x6b);
const WARN: Colour = (0x8a, 0x3b, 0x00);
const WHITE: Colour = (0xff, 0xff, 0xff);

/// A way to draw.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Pen {
    /// What an area is filled with.
    pub(crate) fill: Option<Colour>,
    /// Colour and mm of a line.
    pub(crate) stroke: Option<(Colour, f64)>,
    /// mm of strokes and gaps in turn; empty for a whole line.
    pub(crate) dash: &'static [f64],
}

const fn line(colour: Colour, width: f64) -> Pen {
    Pen { fill: None, stroke: Some((colour, width)), dash: &[] }
}

const fn dashed(colour: Colour, width: f64, dash: &'static [f64]) -> Pen {
    Pen { fill: None, stroke: Some((colour, width)), dash }
}

const fn filled(fill: Colour, width: f64) -> Pen {
    Pen { fill: Some(fill), stroke: Some((INK, width)), dash: &[] }
}

const fn area(fill: Colour) -> Pen {
    Pen { fill: Some(fill), stroke: None, dash: &[] }
}

/// By how much a level of grey is darker than the one before it: ink can still be read on the ninth.
const SHADE: f64 = 0.05;

/// The pen of a class, or of several with spaces between: the first says what it is, the second how it is changed.
pub(crate) fn pen(classes: &str) -> Pen {
    let mut classes = classes.split(' ');
    let mut pen = of(classes.next().unwrap_or(""));
    for change in classes {
        match change {
            "right" => pen.fill = pen.fill.map(|fill| shaded(fill, 0.86)),
            "upper" => pen.fill = pen.fill.map(|fill| shaded(fill, 1.04)),
            "stage-0" => pen.dash = &[2.0, 0.8, 0.3, 0.8],
            "stage-1" => pen.stroke = Some((INK, 0.7)),
            "stage-2" => pen.stroke = Some((INK, 0.45)),
            "stage-3" => pen.stroke = Some((INK, 0.28)),
            "stage-4" => pen.dash = &[1.0, 0.5],
            _ => {
                let level = change.strip_prefix("level-").and_then(|level| level.parse().ok());
                pen.fill = level.map(|level: u8| shaded(WHITE, 1.0 - SHADE * f64::from(level))).or(pen.fill);
            }
        }
    }
    pen
}

fn of(class: &str) -> Pen {
    match class {
        "bay" => dashed(SOFT, 0.25, &[1.3, 0.8]),
        "arch" => line(INK, 0.3),
        "run" => line(ACCENT, 0.5),
        "keep" => dashed(ACCENT, 0.2, &[0.4, 0.7]),
        "hole" => dashed(SOFT, 0.25, &[2.4, 0.8, 0.5, 0.8]),
        "carcase" => filled((0xe4, 0xe8, 0xe9), 0.25),
        "front" => filled((0xf6, 0xe7, 0xc8), 0.25),
        "box" => filled((0xfb, 0xf7, 0xec), 0.25),
        "metal" => filled((0xa9, 0xb4, 0xba), 0.16),
        "fixture" => filled((0xcf, 0xdf, 0xe3), 0.2),
        "opening" => filled(SOFT, 0.2),
        "sheet" => filled(WHITE, 0.35),
        // A sixth of the soft colour and a quarter of the ink on white.
        "offcut" => area((0xe3, 0xe5, 0xe6)),
        "defect" => area((0xbf, 0xc1, 0xc2)),
        "trim" => dashed(SOFT, 0.18, &[0.8, 0.8]),
        "part" => filled((0xf3, 0xec, 0xdd), 0.3),
        "cut" => filled(WHITE, 0.18),
        "tag" => filled(WHITE, 0.16),
        "shape" => dashed(INK, 0.16, &[0.5, 0.5]),
        "saw" => line(INK, 0.22),
        "tick" => line(INK, 0.25),
        "frame" => line(INK, 0.5),
        "axis" => dashed(INK, 0.13, &[2.0, 0.6, 0.4, 0.6]),
        "dim" => line(SOFT, 0.16),
        "rule" => line(SOFT, 0.2),
        "series" => line(INK, 0.4),
        "shade" => filled(WHITE, 0.1),
        "dark" => area((0x00, 0x00, 0x00)),
        "base" => area((0xa9, 0xb4, 0xba)),
        "more" => area(ACCENT),
        "left" => line(ACCENT, 0.25),
        "less" => dashed(ACCENT, 0.25, &[1.0, 0.5]),
        "over" => area(WARN),
        "limit" => line(WARN, 0.4),
        "blank" => Pen { fill: None, stroke: None, dash: &[] },
        // Thin lines: what is engraved, sunk, or belongs to a frame.
        _ => line(INK, 0.18),
    }
}

fn shaded((r, g, b): Colour, by: f64) -> Colour {
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "from 0 to 255")]
    let shade = |c: u8| (f64::from(c) * by).round().min(255.0) as u8;
    (shade(r), shade(g), shade(b))
}

/// Colour of a text, and whether it is bold.
pub(crate) fn text(class: &str) -> (Colour, bool) {
    match class {
        "small" | "note" => (SOFT, false),
        "head" | "title" => (INK, true),
        _ => (INK, false),
    }
}

/// The style sheet of a page that has marks of these classes.
pub(crate) fn style(classes: &BTreeSet<&str>) -> String {
    let hex = |(r, g, b): Colour| format!("#{r:02x}{g:02x}{b:02x}");
    let mut css = String::from(
        "svg { background: #fff; font-family: \"DejaVu Sans\", \"Liberation Sans\", Arial, Helvetica, sans-serif; }\n\
         * { stroke-linejoin: round; }\ntext { stroke: none; text-anchor: middle; }\n",
    );
    for class in classes {
        let Pen { fill, stroke, dash } = pen(class);
        let fill = fill.map_or_else(|| "none".to_owned(), hex);
        let stroke = stroke.map_or_else(String::new, |(colour, width)| {
            format!(" stroke: {}; stroke-width: {};", hex(colour), decimal(width, 3))
        });
        let dash: Vec<String> = dash.iter().map(|mm| decimal(*mm, 2)).collect();
        let dash =
            if dash.is_empty() { String::new() } else { format!(" stroke-dasharray: {};", dash.join(" ")) };
        let _ = writeln!(css, ":not(text).{} {{ fill: {fill};{stroke}{dash} }}", class.replace(' ', "."));
        let (colour, bold) = text(class);
        let weight = if bold { " font-weight: bold;" } else { "" };
        let _ = writeln!(css, "text.{} {{ fill: {};{weight} }}", class.replace(' ', "."), hex(colour));
    }
    css
}
