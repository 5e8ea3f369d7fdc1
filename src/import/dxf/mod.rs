//! DXF drawings in text form, of any version: bytes to closed outlines in millimetres.
//!
//! Lines, arcs, circles and polylines keep their arcs; ellipses and splines become chords within
//! [`JOINED`] of the curve. Blocks are put in where they are scaled alike in all directions. Texts, dimensions, points
//! and fills are passed over; anything else that could be a contour is a fault. Time and memory are bounded.

mod entities;
mod motion;
mod pairs;
#[cfg(test)]
mod tests;

use super::contours::outlines;
use super::curves::{Curves, Swing};
use super::drawing::{Reading, Unit, too_large};
use super::rules::{BLOCK_MISSING, CONTOUR_EMPTY, DRAWING_UNREADABLE, UNITS_MISSING};
use super::{Fault, Outline};
use crate::geom::tolerance::JOINED;
use crate::geom::{PanelFrame, Point2, Vertex};
use entities::{Entity, Mark, OnLayer, Read, Shape};
use motion::Motion;
use pairs::{Record, Records};
use std::collections::BTreeMap;
use std::f64::consts::TAU;

/// Most entities in a file.
const MOST_ENTITIES: usize = 200_000;

/// Blocks within blocks, at most.
const DEEPEST: usize = 8;

/// Most faults of single entities that are told.
const MOST_TOLD: usize = 10;

/// Which layers are asked for.
#[derive(Clone, Copy, Debug, Default)]
struct Layers<'a>(&'a [String]);

impl Layers<'_> {
    fn of(self, name: &str) -> OnLayer {
        if self.0.is_empty() || self.0.iter().any(|layer| layer.eq_ignore_ascii_case(name)) {
            OnLayer::Wanted
        } else if name == "0" {
            OnLayer::Zero
        } else {
            OnLayer::Unwanted
        }
    }
}

/// Every outline of a drawing with its openings, in the order of the file.
pub(super) fn read(bytes: &[u8], reading: Reading<'_>) -> Result<Vec<Outline>, Vec<Fault>> {
    let drawing = Drawing::read(bytes, Layers(reading.layers))?;
    let unit = match reading.unit {
        Some(unit) => unit,
        None => unit_of(drawing.units).map_err(|fault| vec![fault])?,
    };
    let mut expansion = Expansion { drawing: &drawing, curves: Curves::default() };
    let whole = Motion::scaling(unit.millimetres(), false);
    for entity in drawing.entities.iter().filter(|entity| entity.layer == OnLayer::Wanted) {
        expansion.add(entity, whole, 0).map_err(|fault| vec![fault])?;
    }
    outlines(expansion.curves.into_all())
}

/// The unit that a file states (codes of `$INSUNITS`, DXF reference; from memory).
fn unit_of(code: Option<i64>) -> Result<Unit, Fault> {
    let said = match code {
        Some(4) => return Ok(Unit::Millimetre),
        Some(1) => return Ok(Unit::Inch),
        None | Some(0) => "the drawing does not say its unit ($INSUNITS)".to_owned(),
        Some(code) => {
            let name = match code {
                2 => "feet",
                5 => "centimetres",
                6 => "metres",
                _ => "another unit",
            };
            format!("the drawing is in {name} ($INSUNITS {code}), which is not read")
        }
    };
    Err(Fault::new(
        &UNITS_MISSING,
        said,
        "say --units mm or --units inch (in a design `units:` beside the file) once you know which it is, or save it in millimetres",
    ))
}

/// What of a file can become contours.
#[derive(Debug, Default)]
struct Drawing {
    entities: Vec<Entity>,
    blocks: BTreeMap<String, Block>,
    /// Code of the unit, if the file says.
    units: Option<i64>,
}

/// Entities that can be put in as one.
#[derive(Debug, Default)]
struct Block {
    base: (f64, f64),
    entities: Vec<Entity>,
    /// What in it cannot be read: of no matter as long as nobody puts the block in.
    unread: Option<Fault>,
}

impl Drawing {
    fn read(bytes: &[u8], layers: Layers<'_>) -> Result<Self, Vec<Fault>> {
        let mut records = Records::new(bytes).map_err(|fault| vec![fault])?;
        let mut reader = Reader { layers, ..Reader::default() };
        while let Some(record) = records.next().map_err(|fault| vec![fault])? {
            reader.take(&record).map_err(|fault| vec![fault])?;
        }
        if !reader.faults.is_empty() {
            return Err(reader.faults);
        }
        if reader.section.is_empty() && reader.begun.is_none() {
            return Ok(reader.drawing);
        }
        let what = "the file ends inside a section";
        Err(vec![Fault::new(&DRAWING_UNREADABLE, what, "it was not saved whole; export it again")])
    }
}

/// A drawing while it is read.
#[derive(Debug, Default)]
struct Reader<'a> {
    layers: Layers<'a>,
    drawing: Drawing,
    /// Name of the section; empty between two.
    section: String,
    /// The block that is being read.
    block: Option<(String, Block)>,
    /// The polyline whose corners are being read.
    begun: Option<entities::Open>,
    /// Entities kept so far.
    kept: usize,
    faults: Vec<Fault>,
}

impl Reader<'_> {
    fn take(&mut self, record: &Record<'_>) -> Result<(), Fault> {
        // A polyline's corners end with the first record that is none.
        if let Some(mut open) = self.begun.take() {
            if record.kind == "VERTEX" {
                open.corner(record)?;
                self.begun = Some(open);
                return Ok(());
            }
            self.keep(open.ended())?;
        }
        match (&*record.kind, self.section.as_str()) {
            ("SECTION", _) => {
                self.section = record.text(2).into_owned();
                if self.section == "HEADER" {
                    self.drawing.units = units(record);
                }
            }
            ("ENDSEC", _) => self.section.clear(),
            ("BLOCK", "BLOCKS") => {
                let base = (record.number(10, 0.0)?, record.number(20, 0.0)?);
                self.block = Some((record.text(2).to_uppercase(), Block { base, ..Block::default() }));
            }
            ("ENDBLK", "BLOCKS") => {
                if let Some((name, block)) = self.block.take() {
                    self.drawing.blocks.insert(name, block);
                }
            }
            (_, "ENTITIES") => self.entity(record)?,
            (_, "BLOCKS") if self.block.is_some() => self.entity(record)?,
            _ => {}
        }
        Ok(())
    }

    fn entity(&mut self, record: &Record<'_>) -> Result<(), Fault> {
        match (entities::entity(record, self.layers), &mut self.block) {
            (Ok(Read::Entity(entity)), _) => self.keep(entity)?,
            (Ok(Read::Begun(open)), _) => self.begun = Some(open),
            (Err(fault), Some((_, block))) => block.unread = Some(fault),
            (Err(fault), None) if self.faults.len() < MOST_TOLD => self.faults.push(fault),
            (Ok(Read::Nothing), _) | (Err(_), None) => {}
        }
        Ok(())
    }

    fn keep(&mut self, entity: Entity) -> Result<(), Fault> {
        self.kept += 1;
        if self.kept > MOST_ENTITIES {
            return Err(too_large(&format!("more than {MOST_ENTITIES} lines, arcs and curves")));
        }
        match &mut self.block {
            Some((_, block)) => block.entities.push(entity),
            None => self.drawing.entities.push(entity),
        }
        Ok(())
    }
}

/// The unit's code in the record of the header.
fn units(header: &Record<'_>) -> Option<i64> {
    let mut pairs = header.pairs.iter();
    pairs.find(|pair| pair.code == 9 && pair.text() == "$INSUNITS")?;
    pairs.next().map(pairs::Pair::whole)
}

/// Entities with their blocks put in, as curves in millimetres.
struct Expansion<'a> {
    drawing: &'a Drawing,
    curves: Curves<Mark>,
}

impl Expansion<'_> {
    fn add(&mut self, entity: &Entity, motion: Motion, depth: usize) -> Result<(), Fault> {
        let motion = if entity.underside { motion.after(Motion::underside()) } else { motion };
        if let Shape::Insert(insert) = &entity.shape {
            return self.put_in(insert, entity.mark, motion, depth);
        }
        let (corners, closed) = corners(&entity.shape, motion, entity.mark)?;
        self.curves.add(corners, closed, entity.mark)
    }

    fn put_in(
        &mut self,
        insert: &entities::Insert,
        mark: Mark,
        motion: Motion,
        depth: usize,
    ) -> Result<(), Fault> {
        let drawing = self.drawing;
        let name = &insert.block;
        let Some(block) = drawing.blocks.get(&name.to_uppercase()) else {
            let message = format!("{mark} puts in a block `{name}` that the file does not have");
            return Err(Fault::new(&BLOCK_MISSING, message, "explode the block in the drawing program"));
        };
        if let Some(fault) = &block.unread {
            return Err(fault.clone());
        }
        if depth >= DEEPEST {
            let message = format!("{mark} puts in a block more than {DEEPEST} blocks deep");
            return Err(Fault::new(&BLOCK_MISSING, message, "explode the block in the drawing program"));
        }
        for copy in insert.motions(block.base) {
            // Every copy counts, so that blocks of blocks of nothing come to an end, too.
            self.curves.count(1)?;
            for entity in block.entities.iter().filter(|entity| entity.layer != OnLayer::Unwanted) {
                self.add(entity, motion.after(copy), depth + 1)?;
            }
        }
        Ok(())
    }
}

/// The corners of a shape in millimetres, and whether it is closed.
fn corners(shape: &Shape, motion: Motion, mark: Mark) -> Result<(Vec<Vertex<PanelFrame>>, bool), Fault> {
    let at =
        |(x, y): (f64, f64), bulge: f64| Vertex { point: motion.point(x, y), bulge: motion.bulge(bulge) };
    let sized = |radius: f64| {
        if radius > 0.0 {
            return Ok(());
        }
        let message = format!("{mark} has the radius {radius}");
        Err(Fault::new(&CONTOUR_EMPTY, message, "delete it, or draw it at its true size"))
    };
    Ok(match shape {
        Shape::Line(ends) => (ends.map(|end| at(end, 0.0)).to_vec(), false),
        Shape::Corners { corners, closed } => {
            (corners.iter().map(|&(x, y, bulge)| at((x, y), bulge)).collect(), *closed)
        }
        Shape::Circle { centre: (x, y), radius } => {
            sized(*radius)?;
            (vec![at((x + radius, *y), 1.0), at((x - radius, *y), 1.0)], true)
        }
        Shape::Arc { centre: (x, y), radius, start, end } => {
            sized(*radius)?;
            let sweep = (end - start).rem_euclid(360.0);
            let sweep = if sweep > 0.0 { sweep } else { 360.0 };
            // In two, so that neither comes near a full circle, of which ends and bulge would say nothing.
            let bulge = (sweep.to_radians() / 8.0).tan();
            let on = |degrees: f64| {
                let p: Point2<PanelFrame> = Motion::turning(degrees).point(*radius, 0.0);
                (x + p.x, y + p.y)
            };
            let corners =
                vec![at(on(*start), bulge), at(on(start + sweep / 2.0), bulge), at(on(start + sweep), 0.0)];
            (corners, false)
        }
        Shape::Ellipse { centre, long, short, start, end } => {
            sized(long.0.hypot(long.1))?;
            let sweep = (end - start).rem_euclid(TAU);
            let sweep = if sweep > 1e-9 { sweep } else { TAU };
            let swing = Swing { centre: *centre, long: *long, short: *short, start: *start, sweep };
            let corners = swing.chords(JOINED / motion.scale()).map(|p| at(p, 0.0));
            (corners.collect(), false)
        }
        Shape::Spline(spline) => {
            let points = spline.flattened(JOINED / motion.scale());
            (points.into_iter().map(|point| at(point, 0.0)).collect(), false)
        }
        Shape::Insert(_) => (Vec::new(), false),
    })
}
