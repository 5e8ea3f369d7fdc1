//! The elements of SVG that draw something, as corners on the page.

use super::path::{At, Piece, Run, runs};
use super::{Mark, bad, on_page, parsed};
use crate::geom::tolerance::{JOINED, SAME_LENGTH};
use crate::geom::{PanelFrame, Point2, Vertex};
use crate::import::Fault;
use crate::import::curves::{self, Swing};
use crate::import::rules::{CONTOUR_EMPTY, COORDINATE_BAD, ENTITY_UNREAD};
use geo::AffineTransform;
use roxmltree::Node;
use std::f64::consts::{FRAC_PI_2, PI, TAU};
use svgtypes::{Length, LengthUnit, NumberListParser};

/// What an element draws (SVG 2, chapters 9 and 10).
pub(super) fn runs_of(node: Node<'_, '_>) -> Result<Vec<Run>, Fault> {
    Ok(match node.tag_name().name() {
        "path" => {
            let data = node.attribute("d").unwrap_or_default();
            runs(data).map_err(|error| bad(node, "d", data, &error))?
        }
        "rect" => vec![rectangle(node)?],
        "circle" => vec![round(node, ["r", "r"])?],
        "ellipse" => vec![round(node, ["rx", "ry"])?],
        "line" => {
            let [x1, y1, x2, y2] = numbers(node, ["x1", "y1", "x2", "y2"])?;
            vec![through(&[(x1, y1), (x2, y2)], false)]
        }
        "polyline" => points(node, false)?,
        "polygon" => points(node, true)?,
        _ => {
            let message = format!("{} is not read", Mark(node));
            let help = "in the drawing program unlink clones, convert objects to paths and export plain SVG";
            return Err(Fault::new(&ENTITY_UNREAD, message, help));
        }
    })
}

/// Attributes that are plain numbers; 0 where they are missing.
fn numbers<const N: usize>(node: Node<'_, '_>, names: [&str; N]) -> Result<[f64; N], Fault> {
    let mut values = [0.0; N];
    for (value, name) in values.iter_mut().zip(names) {
        if let Some(text) = node.attribute(name) {
            *value = number(node, name, text)?;
        }
    }
    Ok(values)
}

fn number(node: Node<'_, '_>, name: &str, text: &str) -> Result<f64, Fault> {
    let length: Length = parsed(node, name, text)?;
    if length.unit == LengthUnit::None {
        return Ok(length.number);
    }
    let message = format!("{}: `{name}` is `{text}`, with a unit of its own", Mark(node));
    Err(Fault::new(&COORDINATE_BAD, message, "convert the object to a path in the drawing program"))
}

/// Radii or sides that are more than nothing.
fn sized(node: Node<'_, '_>, size: [f64; 2]) -> Result<(), Fault> {
    if size.iter().all(|length| *length > 0.0) {
        return Ok(());
    }
    let message = format!("{} has the size {} x {}", Mark(node), size[0], size[1]);
    Err(Fault::new(&CONTOUR_EMPTY, message, "delete it, or draw it at its true size"))
}

fn rectangle(node: Node<'_, '_>) -> Result<Run, Fault> {
    let [x, y, width, height, rx, ry] = numbers(node, ["x", "y", "width", "height", "rx", "ry"])?;
    sized(node, [width, height])?;
    // A radius that is not given is the other one; none is more than half a side.
    let given = |name| node.attribute(name).is_some_and(|text| text.trim() != "auto");
    let (rx, ry) = match (given("rx"), given("ry")) {
        (true, false) => (rx, rx),
        (false, true) => (ry, ry),
        _ => (rx, ry),
    };
    let (rx, ry) = (rx.min(width / 2.0), ry.min(height / 2.0));
    if rx <= 0.0 || ry <= 0.0 {
        return Ok(through(&[(x, y), (x + width, y), (x + width, y + height), (x, y + height)], true));
    }
    let (far, low) = (x + width, y + height);
    let mut run = Run { start: (x + rx, y), pieces: Vec::new(), closed: true };
    let around = [
        ((far - rx, y), (far - rx, y + ry), -FRAC_PI_2, (far, y + ry)),
        ((far, low - ry), (far - rx, low - ry), 0.0, (far - rx, low)),
        ((x + rx, low), (x + rx, low - ry), FRAC_PI_2, (x, low - ry)),
        ((x, y + ry), (x + rx, y + ry), PI, (x + rx, y)),
    ];
    for (line, centre, start, end) in around {
        let swing = Swing { centre, long: (rx, 0.0), short: (0.0, ry), start, sweep: FRAC_PI_2 };
        run.pieces.extend([Piece::Line(line), Piece::Swing(swing, end)]);
    }
    Ok(run)
}

fn round(node: Node<'_, '_>, radii: [&str; 2]) -> Result<Run, Fault> {
    let [cx, cy, rx, ry] = numbers(node, ["cx", "cy", radii[0], radii[1]])?;
    sized(node, [rx, ry])?;
    let swing = Swing { centre: (cx, cy), long: (rx, 0.0), short: (0.0, ry), start: 0.0, sweep: TAU };
    let start = (cx + rx, cy);
    Ok(Run { start, pieces: vec![Piece::Swing(swing, start)], closed: true })
}

fn points(node: Node<'_, '_>, closed: bool) -> Result<Vec<Run>, Fault> {
    let text = node.attribute("points").unwrap_or_default();
    let numbers: Result<Vec<f64>, _> = NumberListParser::from(text).collect();
    let numbers = numbers.map_err(|error| bad(node, "points", text, &error))?;
    if !numbers.len().is_multiple_of(2) {
        return Err(bad(node, "points", text, &"the last point has no y"));
    }
    let corners: Vec<At> = numbers.chunks(2).map(|pair| (pair[0], pair[1])).collect();
    Ok(if corners.is_empty() { Vec::new() } else { vec![through(&corners, closed)] })
}

fn through(corners: &[At], closed: bool) -> Run {
    let pieces = corners[1..].iter().map(|corner| Piece::Line(*corner)).collect();
    Run { start: corners[0], pieces, closed }
}

/// A run's corners on the page, with arcs where it is circular there. Too many are a fault as soon as they are.
pub(super) fn corners(run: &Run, to_page: &AffineTransform) -> Result<Vec<Vertex<PanelFrame>>, Fault> {
    let at = |p: At| Vertex { point: on_page(to_page, p), bulge: 0.0 };
    let mut corners: Vec<Vertex<PanelFrame>> = vec![at(run.start)];
    for piece in &run.pieces {
        curves::few_enough(corners.len())?;
        match piece {
            Piece::Line(end) => corners.push(at(*end)),
            Piece::Swing(swing, end) => {
                let swing = moved(swing, to_page);
                match bulge(&swing) {
                    Some((bulge, pieces)) => {
                        for i in 1..=pieces {
                            if let Some(last) = corners.last_mut() {
                                last.bulge = bulge;
                            }
                            let (x, y) = swing.at(f64::from(i) / f64::from(pieces));
                            corners.push(Vertex { point: Point2::new(x, y), bulge: 0.0 });
                        }
                    }
                    None => corners.extend(
                        swing
                            .chords(JOINED)
                            .skip(1)
                            .map(|(x, y)| Vertex { point: Point2::new(x, y), bulge: 0.0 }),
                    ),
                }
                // Exactly where the drawing says.
                if let Some(last) = corners.last_mut() {
                    *last = at(*end);
                }
            }
            Piece::Spline(spline) => {
                // No length grows by more than this, so that chords stay near enough on the page.
                let scale = to_page.a().hypot(to_page.b()).hypot(to_page.d().hypot(to_page.e()));
                corners.extend(spline.flattened(JOINED / scale).into_iter().skip(1).map(at));
            }
        }
    }
    Ok(corners)
}

fn moved(swing: &Swing, to_page: &AffineTransform) -> Swing {
    let centre = on_page(to_page, swing.centre);
    let towards = |(x, y): At| {
        let end = on_page(to_page, (swing.centre.0 + x, swing.centre.1 + y));
        (end.x - centre.x, end.y - centre.y)
    };
    Swing { centre: (centre.x, centre.y), long: towards(swing.long), short: towards(swing.short), ..*swing }
}

/// The bulge of each piece of a swing that is circular, and in how many it goes so that none is more than half a turn.
fn bulge(swing: &Swing) -> Option<(f64, u32)> {
    let ((ax, ay), (bx, by)) = (swing.long, swing.short);
    let (a, b) = (ax.hypot(ay), bx.hypot(by));
    let circular = (a - b).abs() < SAME_LENGTH && (ax * bx + ay * by).abs() < SAME_LENGTH * a;
    let pieces = if swing.sweep.abs() > PI * (1.0 + 1e-9) { 2 } else { 1 };
    // The tangent of a quarter, so that half a circle gives 1 to the last digit.
    let (sin, cos) = (swing.sweep / f64::from(pieces) / 2.0).sin_cos();
    let turn = sin / (1.0 + cos);
    circular.then_some((if ax * by - ay * bx < 0.0 { -turn } else { turn }, pieces))
}
