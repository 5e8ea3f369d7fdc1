//! Records of a DXF to entities of the plane: what is a contour is kept, remarks are passed over, the rest is named.

use super::Layers;
use super::motion::Motion;
use super::pairs::{Pair, Record};
use crate::import::Fault;
use crate::import::rules::{COORDINATE_BAD, ENTITY_UNREAD};
use crate::import::splines::{Spline, Weighted};

/// What is never a contour: texts, dimensions, marks, fills, views.
const REMARKS: &[&str] = &[
    "TEXT",
    "MTEXT",
    "DIMENSION",
    "ARC_DIMENSION",
    "LEADER",
    "MULTILEADER",
    "MLEADER",
    "TOLERANCE",
    "POINT",
    "HATCH",
    "ATTDEF",
    "ATTRIB",
    "VIEWPORT",
    "IMAGE",
    "WIPEOUT",
    "XLINE",
    "RAY",
    "SEQEND",
    "SOLID",
    "OLE2FRAME",
    "LIGHT",
    "ACAD_TABLE",
];

/// A corner as drawn, and the bulge of the way to the next.
pub(super) type Corner = (f64, f64, f64);

/// An entity that can be part of a contour, in its own plane and unit.
#[derive(Clone, Debug)]
pub(super) enum Shape {
    Line([(f64, f64); 2]),
    /// Centre, radius, start and end in degrees, counter-clockwise.
    Arc {
        centre: (f64, f64),
        radius: f64,
        start: f64,
        end: f64,
    },
    Circle {
        centre: (f64, f64),
        radius: f64,
    },
    Corners {
        corners: Vec<Corner>,
        closed: bool,
    },
    /// Centre, half the long axis, and half the short one, start and end parameter in radians.
    Ellipse {
        centre: (f64, f64),
        long: (f64, f64),
        short: (f64, f64),
        start: f64,
        end: f64,
    },
    Spline(Spline),
    Insert(Insert),
}

/// A block put in.
#[derive(Clone, Debug)]
pub(super) struct Insert {
    pub(super) block: String,
    at: (f64, f64),
    scale: (f64, f64),
    turn: f64,
    /// Columns and rows, and the steps between them.
    count: (i64, i64),
    step: (f64, f64),
}

impl Insert {
    /// Where each copy of the block goes; `base` is the block's own origin.
    pub(super) fn motions(&self, base: (f64, f64)) -> impl Iterator<Item = Motion> + '_ {
        let size = Motion::scaling(self.scale.0, self.scale.0 * self.scale.1 < 0.0)
            .after(Motion::moving(-base.0, -base.1));
        let place = Motion::moving(self.at.0, self.at.1).after(Motion::turning(self.turn));
        let (columns, rows) = (self.count.0.max(1), self.count.1.max(1));
        (0..rows).flat_map(move |row| {
            (0..columns).map(move |column| {
                let step = Motion::moving(column as f64 * self.step.0, row as f64 * self.step.1);
                place.after(step).after(size)
            })
        })
    }
}

/// Where an entity stands in the file.
#[derive(Clone, Copy, Debug)]
pub(super) struct Mark {
    /// Line of the file, from 1.
    line: usize,
    /// The number by which drawing programs know it.
    handle: Option<u64>,
    /// What it is.
    kind: &'static str,
}

impl std::fmt::Display for Mark {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{} at line {}", self.kind, self.line)?;
        self.handle.map_or(Ok(()), |handle| write!(f, ", handle {handle:X}"))
    }
}

/// Whether the layer of an entity is asked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum OnLayer {
    Wanted,
    Unwanted,
    /// Inside a block, layer 0 is the layer on which the block is put.
    Zero,
}

/// An entity with its place.
#[derive(Clone, Debug)]
pub(super) struct Entity {
    pub(super) shape: Shape,
    pub(super) mark: Mark,
    pub(super) layer: OnLayer,
    /// Drawn on the underside.
    pub(super) underside: bool,
}

/// A polyline whose corners follow as records of their own.
#[derive(Debug)]
pub(super) struct Open {
    entity: Entity,
}

/// What a record came to.
#[derive(Debug)]
pub(super) enum Read {
    Nothing,
    Entity(Entity),
    /// Corners follow.
    Begun(Open),
}

/// Reads the record of an entity.
pub(super) fn entity(record: &Record<'_>, layers: Layers<'_>) -> Result<Read, Fault> {
    let kind: &str = &record.kind;
    // In the layout for paper, not in the drawing.
    if REMARKS.contains(&kind) || record.whole(67) == 1 {
        return Ok(Read::Nothing);
    }
    let layer = layers.of(&record.text(8));
    if layer == OnLayer::Unwanted {
        return Ok(Read::Nothing);
    }
    let (kind, shape) = match kind {
        "LINE" => (
            "LINE",
            Shape::Line([
                (record.number(10, 0.0)?, record.number(20, 0.0)?),
                (record.number(11, 0.0)?, record.number(21, 0.0)?),
            ]),
        ),
        "ARC" => (
            "ARC",
            Shape::Arc {
                centre: centre(record)?,
                radius: record.number(40, 0.0)?,
                start: record.number(50, 0.0)?,
                end: record.number(51, 360.0)?,
            },
        ),
        "CIRCLE" => ("CIRCLE", Shape::Circle { centre: centre(record)?, radius: record.number(40, 0.0)? }),
        "LWPOLYLINE" => (
            "LWPOLYLINE",
            Shape::Corners { corners: corners(&record.pairs)?, closed: record.whole(70) & 1 == 1 },
        ),
        "POLYLINE" => ("POLYLINE", Shape::Corners { corners: Vec::new(), closed: record.whole(70) & 1 == 1 }),
        "ELLIPSE" => ("ELLIPSE", ellipse(record)?),
        "SPLINE" => ("SPLINE", Shape::Spline(spline(record)?)),
        "INSERT" => ("INSERT", Shape::Insert(insert(record)?)),
        other => {
            let other: String = other.chars().filter(|c| !c.is_control()).take(30).collect();
            let message = format!("{other} at line {} is nothing that a contour is read from", record.line);
            return Err(unread(message, "explode it to lines, arcs and polylines, or leave it out"));
        }
    };
    let handle = record.first(5).and_then(|pair| u64::from_str_radix(&pair.text(), 16).ok());
    let mark = Mark { line: record.line, handle, kind };
    let underside =
        facing(record, mark)? && !matches!(shape, Shape::Line(_) | Shape::Ellipse { .. } | Shape::Spline(_));
    if kind == "POLYLINE" && record.whole(70) & (16 | 64) != 0 {
        return Err(unread(format!("{mark} is a mesh, not a contour"), "leave it out"));
    }
    if let Shape::Insert(insert) = &shape {
        let (x, y) = insert.scale;
        if (x.abs() - y.abs()).abs() > 1e-9 * x.abs() || x.abs() < 1e-9 {
            return Err(unread(
                format!("{mark} scales its block by {x} along and {y} across"),
                "explode the block in the drawing program",
            ));
        }
    }
    let entity = Entity { shape, mark, layer, underside };
    Ok(if kind == "POLYLINE" { Read::Begun(Open { entity }) } else { Read::Entity(entity) })
}

impl Open {
    /// Takes a further corner; corners that only steer a curve are no part of it.
    pub(super) fn corner(&mut self, record: &Record<'_>) -> Result<(), Fault> {
        let corner = (record.number(10, 0.0)?, record.number(20, 0.0)?, record.number(42, 0.0)?);
        if let Shape::Corners { corners, .. } = &mut self.entity.shape
            && record.whole(70) & 16 == 0
        {
            corners.push(corner);
        }
        Ok(())
    }

    /// The polyline with all its corners.
    pub(super) fn ended(self) -> Entity {
        self.entity
    }
}

fn unread(message: String, help: &str) -> Fault {
    Fault::new(&ENTITY_UNREAD, message, help)
}

fn centre(record: &Record<'_>) -> Result<(f64, f64), Fault> {
    Ok((record.number(10, 0.0)?, record.number(20, 0.0)?))
}

fn corners(pairs: &[Pair<'_>]) -> Result<Vec<Corner>, Fault> {
    let mut corners: Vec<Corner> = Vec::new();
    for pair in pairs {
        match (pair.code, corners.last_mut()) {
            (10, _) => corners.push((pair.number()?, 0.0, 0.0)),
            (20, Some(last)) => last.1 = pair.number()?,
            (42, Some(last)) => last.2 = pair.number()?,
            _ => {}
        }
    }
    Ok(corners)
}

fn ellipse(record: &Record<'_>) -> Result<Shape, Fault> {
    let long = (record.number(11, 1.0)?, record.number(21, 0.0)?);
    let ratio = record.number(40, 1.0)?;
    // Seen from below the short axis lies on the other side of the long one.
    let side = if record.number(230, 1.0)? < 0.0 { -ratio } else { ratio };
    let short = (-long.1 * side, long.0 * side);
    let (start, end) = (record.number(41, 0.0)?, record.number(42, std::f64::consts::TAU)?);
    Ok(Shape::Ellipse { centre: centre(record)?, long, short, start, end })
}

fn insert(record: &Record<'_>) -> Result<Insert, Fault> {
    Ok(Insert {
        block: record.text(2).into_owned(),
        at: centre(record)?,
        scale: (record.number(41, 1.0)?, record.number(42, 1.0)?),
        turn: record.number(50, 0.0)?,
        count: (record.whole(70), record.whole(71)),
        step: (record.number(44, 0.0)?, record.number(45, 0.0)?),
    })
}

/// Whether an entity is drawn on the underside of the plane; an entity that leaves the plane is a fault.
fn facing(record: &Record<'_>, mark: Mark) -> Result<bool, Fault> {
    let (x, y, z) = (record.number(210, 0.0)?, record.number(220, 0.0)?, record.number(230, 1.0)?);
    let flat = x.abs() < 1e-6 && y.abs() < 1e-6 && z.abs() > 0.5;
    let level = mark.kind != "LINE" || (record.number(30, 0.0)? - record.number(31, 0.0)?).abs() < 1e-6;
    if flat && level {
        return Ok(z < 0.0);
    }
    Err(unread(
        format!("{mark} does not lie flat in the drawing's plane"),
        "flatten the drawing to two dimensions",
    ))
}

/// The spline in a record, once it is one.
fn spline(record: &Record<'_>) -> Result<Spline, Fault> {
    let (mut knots, mut weights, mut controls) = (Vec::new(), Vec::new(), Vec::<Weighted>::new());
    for pair in &record.pairs {
        match pair.code {
            40 => knots.push(pair.number()?),
            41 => weights.push(pair.number()?),
            10 => controls.push([pair.number()?, 0.0, 1.0]),
            20 => {
                if let Some(last) = controls.last_mut() {
                    last[1] = pair.number()?;
                }
            }
            _ => {}
        }
    }
    let degree = usize::try_from(record.whole(71)).unwrap_or(0);
    let place = format!("SPLINE at line {}", record.line);
    if controls.is_empty() {
        let message = format!("{place} has no control points");
        return Err(Fault::new(&ENTITY_UNREAD, message, "explode it to a polyline in the drawing program"));
    }
    let message = format!(
        "{place} contradicts itself: degree {degree}, {} control points, {} knots, {} weights",
        controls.len(),
        knots.len(),
        weights.len()
    );
    let weighted = weights.is_empty() || weights.len() == controls.len();
    for (control, weight) in controls.iter_mut().zip(weights) {
        *control = [control[0] * weight, control[1] * weight, weight];
    }
    let spline = Spline::new(degree, knots, controls).filter(|_| weighted);
    spline.ok_or_else(|| Fault::new(&COORDINATE_BAD, message, "draw it again, or explode it to a polyline"))
}
