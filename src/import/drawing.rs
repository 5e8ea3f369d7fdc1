//! A drawing of either kind: how it is to be read, and its one outline.

use super::rules::{CONTOUR_EMPTY, DRAWING_TOO_LARGE, SEVERAL_OUTLINES};
use super::{Fault, Outline, dxf, shown, svg};

/// Most bytes of a drawing.
pub(crate) const MOST_BYTES: usize = 64 * 1024 * 1024;

/// The unit of a drawing's numbers.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Unit {
    /// mm.
    Millimetre,
    /// 25.4 mm.
    Inch,
}

impl Unit {
    pub(super) fn millimetres(self) -> f64 {
        match self {
            Unit::Millimetre => 1.0,
            Unit::Inch => 25.4,
        }
    }
}

/// How a drawing is to be read.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Reading<'a> {
    /// Its unit, whatever the file says; `None` goes by the file, which must say.
    pub(crate) unit: Option<Unit>,
    /// The layers with contours; all if empty. In an SVG a group is a layer, by its id or its label.
    pub(crate) layers: &'a [String],
}

/// Whether a file's name ends as those of drawings do.
pub(crate) fn is_named(file: &std::path::Path) -> bool {
    let ending = file.extension();
    ending.is_some_and(|ending| ["dxf", "svg"].iter().any(|known| ending.eq_ignore_ascii_case(known)))
}

/// The one outline of a drawing. Several are a fault: which of them was meant?
pub(crate) fn read_one(bytes: &[u8], reading: Reading<'_>) -> Result<Outline, Vec<Fault>> {
    let mut outlines = read(bytes, reading)?;
    match (outlines.pop(), outlines.is_empty()) {
        (Some(outline), true) => Ok(outline),
        (Some(last), false) => {
            let n = outlines.len() + 1;
            outlines.push(last);
            let places: Vec<String> =
                outlines.iter().take(4).map(|outline| shown(outline.outline.vertices()[0].point)).collect();
            let more = if n > places.len() { ", ..." } else { "" };
            let message =
                format!("the drawing has {n} separate outer contours, at {}{more}", places.join(", "));
            let help = "draw each part in a file of its own; with --layer only the layers that hold the part are read";
            Err(vec![Fault::new(&SEVERAL_OUTLINES, message, help)])
        }
        (None, _) => Err(vec![Fault::new(
            &CONTOUR_EMPTY,
            "the drawing has no contour",
            "is it on the layers that are read, and not in a paper layout?",
        )]),
    }
}

/// Every outline of a drawing with its openings, in the order of the file. What begins with `<` is an SVG; no DXF in
/// text form does, nor one in binary form.
fn read(bytes: &[u8], reading: Reading<'_>) -> Result<Vec<Outline>, Vec<Fault>> {
    if bytes.len() > MOST_BYTES {
        return Err(vec![too_large(&format!("more than {} MiB", MOST_BYTES / (1024 * 1024)))]);
    }
    let text = bytes.strip_prefix(b"\xEF\xBB\xBF").unwrap_or(bytes);
    if text.trim_ascii_start().starts_with(b"<") {
        svg::read(text, reading)
    } else {
        dxf::read(bytes, reading)
    }
}

pub(super) fn too_large(what: &str) -> Fault {
    Fault::new(
        &DRAWING_TOO_LARGE,
        format!("the drawing has {what}"),
        "export the part alone, without the drawing around it, and curves as arcs",
    )
}
