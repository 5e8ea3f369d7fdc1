//! SVG drawings: text to closed outlines in millimetres.
//!
//! Lines, rectangles, circles and paths keep their arcs wherever a transform leaves them circular; ellipses and Bezier
//! curves become chords within [`JOINED`](crate::geom::tolerance::JOINED) of the curve. The origin is the lower left
//! corner of the page and y runs up, so that a drawing is never mirrored. Texts, pictures, definitions and what is not
//! displayed are passed over; clones and anything else that could be a contour are faults.

mod path;
mod shapes;
#[cfg(test)]
mod tests;

use super::contours::outlines;
use super::curves::Curves;
use super::drawing::{Reading, Unit, too_large};
use super::rules::{COORDINATE_BAD, DRAWING_UNREADABLE, ENTITY_UNREAD, UNITS_MISSING};
use super::{Fault, Outline};
use crate::geom::{PanelFrame, Point2};
use crate::number::decimal;
use geo::AffineTransform;
use roxmltree::{Document, Node, ParsingOptions};
use std::fmt::Display;
use std::str::FromStr;
use svgtypes::{Length, LengthUnit, ViewBox};

/// Most elements and texts of a file.
const MOST_NODES: u32 = 1_000_000;

/// Groups within groups, at most.
const DEEPEST: usize = 100;

/// Most faults of single elements that are told.
const MOST_TOLD: usize = 10;

/// By how much the two scales of a page may differ, since programs round the page's size.
const SAME_SCALE: f64 = 1e-4;

const NAMESPACE: &str = "http://www.w3.org/2000/svg";

/// What is never a contour of the drawing itself.
const REMARKS: &[&str] = &[
    "defs",
    "symbol",
    "marker",
    "clipPath",
    "mask",
    "pattern",
    "linearGradient",
    "radialGradient",
    "filter",
    "style",
    "script",
    "title",
    "desc",
    "metadata",
    "text",
    "image",
    "view",
    "font",
    "color-profile",
    "animate",
];

/// An element, as messages name it.
#[derive(Clone, Copy)]
struct Mark<'a>(Node<'a, 'a>);

impl Display for Mark<'_> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let place = self.0.document().text_pos_at(self.0.range().start);
        write!(f, "{} at line {}", self.0.tag_name().name(), place.row)?;
        self.0.attribute("id").map_or(Ok(()), |id| write!(f, ", id `{id}`"))
    }
}

/// Every outline of a drawing with its openings, in the order of the file.
pub(super) fn read(bytes: &[u8], reading: Reading<'_>) -> Result<Vec<Outline>, Vec<Fault>> {
    let unreadable = |what: String| {
        vec![Fault::new(&DRAWING_UNREADABLE, what, "was it saved whole? Export it again as plain SVG")]
    };
    let text = std::str::from_utf8(bytes).map_err(|_| unreadable("the file is no UTF-8 text".to_owned()))?;
    let options = ParsingOptions { allow_dtd: true, nodes_limit: MOST_NODES, ..ParsingOptions::default() };
    let document = Document::parse_with_options(text, options).map_err(|error| match error {
        roxmltree::Error::NodesLimitReached => vec![too_large(&format!("more than {MOST_NODES} elements"))],
        other => unreadable(format!("the file is no XML: {other}")),
    })?;
    let root = document.root_element();
    if !is_svg(root) || root.tag_name().name() != "svg" {
        let name = root.tag_name().name();
        return Err(unreadable(format!("the file is no drawing: its outermost element is `{name}`")));
    }
    let page = page(root, reading.unit).map_err(|fault| vec![fault])?;
    let wanted = reading.layers.is_empty();
    let mut walk = Walk { layers: reading.layers, curves: Curves::default(), faults: Vec::new() };
    walk.children(root, page, wanted, 0).map_err(|fault| vec![fault])?;
    if walk.faults.is_empty() { outlines(walk.curves.into_all()) } else { Err(walk.faults) }
}

/// Whether an element is SVG's own; some programs leave the namespace out.
fn is_svg(node: Node<'_, '_>) -> bool {
    node.tag_name().namespace().is_none_or(|namespace| namespace == NAMESPACE)
}

/// From the units of the drawing to millimetres from the lower left corner of its page (SVG 2, chapter 8).
fn page(root: Node<'_, '_>, unit: Option<Unit>) -> Result<AffineTransform, Fault> {
    let seen =
        root.attribute("viewBox").map(|value| parsed::<ViewBox>(root, "viewBox", value)).transpose()?;
    let length = |name| root.attribute(name).map(|value| parsed::<Length>(root, name, value)).transpose();
    let [width, height] = [length("width")?, length("height")?];
    let scale = match (unit, seen, width.and_then(millimetres), height.and_then(millimetres)) {
        (Some(unit), ..) => unit.millimetres(),
        (None, Some(seen), Some(width), Some(height)) => {
            let scales = [width / seen.w, height / seen.h];
            if (scales[0] - scales[1]).abs() > SAME_SCALE * scales[0] {
                let message = format!(
                    "the page is {} x {} mm and its viewBox {} x {}, which is another shape: one unit is {} mm across \
                     and {} mm up",
                    decimal(width, 3),
                    decimal(height, 3),
                    decimal(seen.w, 3),
                    decimal(seen.h, 3),
                    decimal(scales[0], 6),
                    decimal(scales[1], 6)
                );
                return Err(Fault::new(&UNITS_MISSING, message, UNITS_HELP));
            }
            scales[0].min(scales[1])
        }
        (None, seen, ..) => {
            let what = if seen.is_none() { "viewBox" } else { "width and height in mm, cm or in" };
            let message = format!("the drawing does not say its unit: its page has no {what}");
            return Err(Fault::new(&UNITS_MISSING, message, UNITS_HELP));
        }
    };
    let plain = height.filter(|height| height.unit == LengthUnit::None).map_or(0.0, |height| height.number);
    let (left, bottom) = seen.map_or((0.0, plain), |seen| (seen.x, seen.y + seen.h));
    Ok(AffineTransform::new(scale, 0.0, -left * scale, 0.0, -scale, bottom * scale))
}

const UNITS_HELP: &str = "save it with the page's width and height in mm and a viewBox of the same shape, or say --units mm \
                          or --units inch (in a design `units:` beside the file) once you know what one unit of the \
                          viewBox is";

/// A length of paper; pixels and shares are none that everybody reads alike.
fn millimetres(length: Length) -> Option<f64> {
    let factor = match length.unit {
        LengthUnit::Mm => 1.0,
        LengthUnit::Cm => 10.0,
        LengthUnit::In => 25.4,
        LengthUnit::Pt => 25.4 / 72.0,
        LengthUnit::Pc => 25.4 / 6.0,
        LengthUnit::None | LengthUnit::Px | LengthUnit::Em | LengthUnit::Ex | LengthUnit::Percent => {
            return None;
        }
    };
    Some(length.number * factor).filter(|length| length.is_finite() && *length > 0.0)
}

/// An attribute's value, or where it is none.
fn parsed<T: FromStr<Err: Display>>(node: Node<'_, '_>, name: &str, value: &str) -> Result<T, Fault> {
    value.trim().parse().map_err(|error| bad(node, name, value, &error))
}

fn bad(node: Node<'_, '_>, name: &str, value: &str, error: &dyn Display) -> Fault {
    let shown: String = value.chars().take(40).collect();
    let dots = if shown.len() < value.len() { "..." } else { "" };
    let message = format!("{}: `{name}` is `{shown}{dots}`: {error}", Mark(node));
    Fault::new(&COORDINATE_BAD, message, "draw it again, or export the drawing as plain SVG")
}

/// A walk through the elements of a drawing.
struct Walk<'a> {
    layers: &'a [String],
    curves: Curves<Mark<'a>>,
    faults: Vec<Fault>,
}

impl<'a> Walk<'a> {
    /// What lies in a group. `wanted`: whether the layer is asked for.
    fn children(
        &mut self,
        group: Node<'a, 'a>,
        to_page: AffineTransform,
        wanted: bool,
        depth: usize,
    ) -> Result<(), Fault> {
        if depth > DEEPEST {
            return Err(too_large(&format!("groups more than {DEEPEST} deep")));
        }
        for node in group.children().filter(|node| node.is_element() && is_svg(*node)) {
            let name = node.tag_name().name();
            if REMARKS.contains(&name) || is_hidden(node) {
                continue;
            }
            let to_page = match transform(node) {
                Ok(own) => own.compose(&to_page),
                Err(fault) => {
                    self.tell(fault);
                    continue;
                }
            };
            match name {
                "g" | "a" => {
                    let wanted = wanted || (name == "g" && self.is_asked_for(node));
                    self.children(node, to_page, wanted, depth + 1)?;
                }
                _ if !wanted => {}
                _ => match shapes::runs_of(node) {
                    Ok(runs) => {
                        for run in runs {
                            self.curves.add(shapes::corners(&run, &to_page)?, run.closed, Mark(node))?;
                        }
                    }
                    Err(fault) => self.tell(fault),
                },
            }
        }
        Ok(())
    }

    fn tell(&mut self, fault: Fault) {
        if self.faults.len() < MOST_TOLD {
            self.faults.push(fault);
        }
    }

    /// Whether a group is a layer that was asked for, by its id or by the label that drawing programs give it.
    fn is_asked_for(&self, group: Node<'_, '_>) -> bool {
        let mut names = group.attributes().filter(|attribute| matches!(attribute.name(), "id" | "label"));
        names.any(|name| self.layers.iter().any(|layer| layer.eq_ignore_ascii_case(name.value())))
    }
}

/// Whether an element is not displayed.
fn is_hidden(node: Node<'_, '_>) -> bool {
    node.attribute("display") == Some("none") || style(node, "display") == Some("none")
}

/// A property that stands in an element's own style.
fn style<'a>(node: Node<'a, '_>, name: &str) -> Option<&'a str> {
    let mut properties = node.attribute("style")?.split(';').filter_map(|property| property.split_once(':'));
    properties.find(|(property, _)| property.trim() == name).map(|(_, value)| value.trim())
}

/// An element's own transform.
fn transform(node: Node<'_, '_>) -> Result<AffineTransform, Fault> {
    if style(node, "transform").is_some() {
        let message = format!("{} is moved by its style", Mark(node));
        return Err(Fault::new(&ENTITY_UNREAD, message, "apply the transform in the drawing program"));
    }
    let Some(value) = node.attribute("transform") else { return Ok(AffineTransform::identity()) };
    let t: svgtypes::Transform = parsed(node, "transform", value)?;
    Ok(AffineTransform::new(t.a, t.c, t.e, t.b, t.d, t.f))
}

/// A point of an element on the page.
fn on_page(to_page: &AffineTransform, (x, y): (f64, f64)) -> Point2<PanelFrame> {
    let p = to_page.apply(geo::coord! {x: x, y: y});
    Point2::new(p.x, p.y)
}
