//! Doors of lockers.

use super::workshop::whole;
use super::{GAP, Limits, Reader, SIZE};
use crate::diag::At;
use crate::spec::model::{Door, FrontStyle, Towards};
use crate::spec::raw;
use crate::spec::value::Place;

/// mm of fixed strip, where the spec says nothing: a leg of the angle that holds it, a hinge's leaf, and room for the
/// nuts of both. Common practice, no source.
const STRIP: f64 = 60.0;
/// Degrees that a door opens, where the spec says nothing.
const OPEN: f64 = 95.0;
/// A door opens at least so far that something goes through, and at most round to the front beside it.
const DEGREES: Limits = Limits { least: 30.0, above: false, most: 180.0, unit: " degrees" };
/// Hinges of one door.
const HINGES: Limits = Limits { least: 2.0, above: false, most: 12.0, unit: "" };

/// A door in a carcase whose fronts are of this material and style.
pub(super) fn door(
    reader: &mut Reader<'_>,
    place: &Place<raw::CellDoor>,
    (front, style): (&At<String>, FrontStyle),
) -> Door {
    let (raw, span) = (place.value(), reader.span(place));
    let count = reader.some_number(raw.count.as_ref(), HINGES);
    let mut named = |name: Option<&Place<String>>, default: &str| {
        reader.some_name(name).unwrap_or_else(|| At::new(default.to_owned(), span))
    };
    let hinges = named(raw.hinges.as_ref(), "butt-50");
    let latch = named(raw.latch.as_ref(), "turn-latch");
    Door {
        hinge: reader.plain(&raw.hinge, |hinge| match hinge {
            raw::HingeSide::Left => Towards::Left,
            raw::HingeSide::Right => Towards::Right,
            raw::HingeSide::Up => Towards::Up,
            raw::HingeSide::Down => Towards::Down,
        }),
        style: raw.style.as_ref().map_or(style, |style| match style.value() {
            raw::FrontStyle::Overlay => FrontStyle::Overlay,
            raw::FrontStyle::Inset => FrontStyle::Inset,
        }),
        hinges,
        count: count.map(|count| whole(reader, count, "number of hinges")),
        strip: reader.length_or(raw.strip.as_ref(), SIZE, STRIP, span),
        latch,
        latch_at: reader.some_length(raw.latch_at.as_ref(), GAP),
        stay: reader.some_name(raw.stay.as_ref()),
        open: reader.some_number(raw.open.as_ref(), DEGREES).unwrap_or(At::new(OPEN, span)),
        panel: reader.some_name(raw.panel.as_ref()).unwrap_or_else(|| front.clone()),
        span,
    }
}
