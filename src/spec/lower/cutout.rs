//! Cut-outs in panels.

use super::on_panel::{on_panel, unclear, written};
use super::wing::Opened;
use super::{GAP, POSITION, Reader, SIZE};
use crate::diag::{At, Span};
use crate::geom::rounded::{self, Corner};
use crate::geom::{PanelFrame, Path, Point2};
use crate::import::drawing;
use crate::spec::model::{Cutout, CutoutShape};
use crate::spec::raw;
use crate::spec::value::Place;

/// Most cut-outs of a kit.
const MOST_CUTOUTS: usize = 200;
/// Most corners of a free shape.
const MOST_CORNERS: usize = 200;

/// All cut-outs, by place in the text. Corners without a radius get that of the tool, mm.
pub(crate) fn cutouts(
    reader: &mut Reader<'_>,
    list: Option<&Place<Vec<Place<raw::Cutout>>>>,
    tool_radius: f64,
    opened: &mut Opened<'_>,
) -> Vec<Cutout> {
    let cutouts = reader.each(list, MOST_CUTOUTS, |reader, raw| cutout(reader, raw, tool_radius, opened));
    reader.differing(cutouts.iter().map(|cutout| &cutout.on.id), "cut-outs");
    cutouts
}

fn cutout(
    reader: &mut Reader<'_>,
    place: &Place<raw::Cutout>,
    tool_radius: f64,
    opened: &mut Opened<'_>,
) -> Option<Cutout> {
    let (raw, span) = (place.value(), reader.span(place));
    let on = on_panel(reader, span, &written!(raw, raw.repeat.as_ref()));
    let shape = shape(reader, raw, (tool_radius, span), opened);
    let through = raw.through.as_ref().is_some_and(|through| *through.value());
    let behind = reader.some_length(raw.behind.as_ref(), GAP);
    Some(Cutout { on: on?, shape: shape?, through, behind })
}

fn shape(
    reader: &mut Reader<'_>,
    raw: &raw::Cutout,
    (tool_radius, span): (f64, Span),
    opened: &mut Opened<'_>,
) -> Option<CutoutShape> {
    let mut shapes: Vec<Option<CutoutShape>> = Vec::new();
    if let Some(round) = &raw.round {
        shapes.push(Some(CutoutShape::Round(reader.length(&round.value().diameter, SIZE))));
    }
    if let Some(rectangle) = &raw.rectangle {
        let rectangle = rectangle.value();
        shapes.push(Some(CutoutShape::Rectangle {
            width: reader.length(&rectangle.width, SIZE),
            height: reader.length(&rectangle.height, SIZE),
            radius: reader.some_length(rectangle.radius.as_ref(), GAP),
        }));
    }
    if let Some(slot) = &raw.slot {
        let slot = slot.value();
        shapes.push(Some(CutoutShape::Slot {
            length: reader.length(&slot.length, SIZE),
            width: reader.length(&slot.width, SIZE),
            upright: slot.upright.as_ref().is_some_and(|upright| *upright.value()),
        }));
    }
    if let Some(free) = &raw.outline {
        shapes.push(free_shape(reader, free, tool_radius, opened));
    }
    if let Some(fitting) = &raw.fitting {
        shapes.push(Some(CutoutShape::Fitting(reader.name(fitting))));
    }
    if shapes.len() != 1 {
        let message = format!(
            "a cut-out has one of round, rectangle, slot, outline and fitting; this one has {}",
            shapes.len()
        );
        unclear(reader, span, &message, "e.g. `round: {diameter: 60}`");
        return None;
    }
    shapes.pop().flatten()
}

fn free_shape(
    reader: &mut Reader<'_>,
    place: &Place<raw::FreeShape>,
    tool_radius: f64,
    opened: &mut Opened<'_>,
) -> Option<CutoutShape> {
    let (raw, span) = (place.value(), reader.span(place));
    let path = match (&raw.file, &raw.points) {
        (Some(file), None) => {
            let file = reader.sentence(file);
            drawn(reader, (&file, raw.units.as_ref()), opened)?
        }
        (None, Some(list)) => from_points(reader, list, tool_radius)?,
        (file, _) => {
            let given = if file.is_some() { "both" } else { "neither" };
            let message = format!("an outline has a `file` or `points`; this one has {given}");
            unclear(reader, span, &message, "`points: [{x: 0, y: 0}, {x: 80, y: 0}, {x: 40, y: 60}]`");
            return None;
        }
    };
    Some(CutoutShape::Free { path: path.counter_clockwise(), span })
}

fn drawn(
    reader: &mut Reader<'_>,
    (file, units): (&At<String>, Option<&Place<raw::Units>>),
    opened: &mut Opened<'_>,
) -> Option<Path<PanelFrame>> {
    let text = match opened(&file.value) {
        Ok(text) => text,
        Err(reason) => {
            reader.findings.push(crate::spec::unreadable(&file.value, file.span, &reason));
            return None;
        }
    };
    let unit = units.map(|units| match units.value() {
        raw::Units::Mm => drawing::Unit::Millimetre,
        raw::Units::Inch => drawing::Unit::Inch,
    });
    match drawing::read_one(text.as_bytes(), drawing::Reading { unit, layers: &[] }) {
        Ok(outline) if outline.openings.is_empty() => Some(outline.outline),
        Ok(_) => {
            unclear(
                reader,
                file.span,
                "this drawing has openings inside its outline",
                "draw the outline alone",
            );
            None
        }
        Err(faults) => {
            for fault in faults {
                reader.findings.push(fault.found(file.span, &file.value));
            }
            None
        }
    }
}

fn from_points(
    reader: &mut Reader<'_>,
    list: &Place<Vec<Place<raw::ShapePoint>>>,
    tool_radius: f64,
) -> Option<Path<PanelFrame>> {
    let span = reader.span(list);
    reader.counted(list, MOST_CORNERS);
    let corner = |place: &Place<raw::ShapePoint>, reader: &mut Reader<'_>| {
        let (raw, at) = (place.value(), reader.span(place));
        let x = reader.length(&raw.x, POSITION).value;
        let y = reader.length(&raw.y, POSITION).value;
        let radius = reader.length_or(raw.radius.as_ref(), GAP, tool_radius, at).value;
        Corner { point: Point2::new(x, y), radius }
    };
    let mut corners: Vec<Corner<PanelFrame>> =
        list.value().iter().map(|place| corner(place, reader)).collect();
    let area = Path::polygon(corners.iter().map(|corner| corner.point)).area();
    if area < 0.0 {
        corners.reverse();
    }
    let path = rounded::closed(&corners).ok().filter(|_| corners.len() >= 3 && area.abs() > 0.0);
    if path.is_none() {
        let message = "these points make no shape with room for its round corners";
        let help = "give three corners at least, further apart, or a smaller `radius`";
        unclear(reader, span, message, help);
    }
    path
}
