//! Tie-downs.

use super::on_panel::{on_panel, written};
use super::{Limits, Reader};
use crate::diag::At;
use crate::spec::model::TieDown;
use crate::spec::raw;
use crate::spec::value::Place;

/// Most tie-downs of a kit.
const MOST: usize = 200;
/// N that a strap may pull.
const RATING: Limits = Limits::more_than_zero(100_000.0, " N");
/// kg that one strap may hold.
const HELD: Limits = Limits::more_than_zero(5000.0, " kg");
/// Between a strap and the panel.
const ANGLE: Limits = Limits { least: 0.0, above: false, most: 90.0, unit: " degrees" };
/// Degrees where the spec says nothing: half way between along and off the panel.
const STRAP_ANGLE: f64 = 45.0;

/// All tie-downs, by place in the text.
pub(crate) fn tie_downs(
    reader: &mut Reader<'_>,
    list: Option<&Place<Vec<Place<raw::TieDown>>>>,
) -> Vec<TieDown> {
    let tie_downs = reader.each(list, MOST, one);
    reader.differing(tie_downs.iter().map(|tie_down| &tie_down.on.id), "tie-downs");
    tie_downs
}

fn one(reader: &mut Reader<'_>, place: &Place<raw::TieDown>) -> Option<TieDown> {
    let (raw, span) = (place.value(), reader.span(place));
    let on = on_panel(reader, span, &written!(raw, raw.repeat.as_ref()));
    let kind = reader.name(&raw.kind);
    let rating = reader.some_number(raw.rating.as_ref(), RATING);
    let strap_angle = raw.strap_angle.as_ref().map(|angle| reader.degrees(angle, ANGLE));
    let holds = reader.some_number(raw.holds.as_ref(), HELD);
    Some(TieDown {
        on: on?,
        kind,
        upright: raw.upright.as_ref().is_some_and(|upright| *upright.value()),
        rating,
        strap_angle: strap_angle.unwrap_or(At::new(STRAP_ANGLE, span)),
        holds,
    })
}
