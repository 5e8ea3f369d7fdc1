//! Finishes on panels, and those that a workshop adds to the catalogue.

use super::on_panel::strips;
use super::{GAP, Limits, Reader, SIZE};
use crate::diag::At;
use crate::spec::model::{FinishEntry, FinishWish, FinishedFaces};
use crate::spec::raw;
use crate::spec::value::Place;

/// Most finishes of a kit.
const MOST: usize = 100;
/// Most names of panels of one finish.
const MOST_PANELS: usize = 1000;
/// g/m2.
const AREAL: Limits = Limits::more_than_zero(20_000.0, " g/m2");
/// g/m2 of adhesive.
const ADHESIVE: Limits = Limits::from_zero(2000.0, " g/m2");
/// mm. Of a finish.
const THICKNESS: Limits = Limits::more_than_zero(30.0, " mm");

/// All finishes, by place in the text.
pub(crate) fn finishes(
    reader: &mut Reader<'_>,
    list: Option<&Place<Vec<Place<raw::Finish>>>>,
) -> Vec<FinishWish> {
    let finishes = reader.each(list, MOST, |reader, place| Some(one(reader, place)));
    reader.differing(finishes.iter().map(|finish| &finish.id), "finishes");
    finishes
}

fn one(reader: &mut Reader<'_>, place: &Place<raw::Finish>) -> FinishWish {
    let (raw, span) = (place.value(), reader.span(place));
    let faces = raw.faces.as_ref().map(|faces| match faces.value() {
        raw::Faces::A => FinishedFaces::A,
        raw::Faces::B => FinishedFaces::B,
        raw::Faces::Both => FinishedFaces::Both,
    });
    FinishWish {
        id: reader.name(&raw.id),
        kind: reader.name(&raw.kind),
        panels: patterns(reader, &raw.panels),
        faces: faces.unwrap_or(FinishedFaces::A),
        wrap: raw.wrap.as_ref().map(|wrap| *wrap.value()),
        bare: raw.bare.as_ref().map(|bare| strips(reader, bare)).unwrap_or_default(),
        span,
    }
}

/// Names in which `*` stands for any signs.
fn patterns(reader: &mut Reader<'_>, list: &Place<Vec<Place<String>>>) -> Vec<At<String>> {
    reader.counted(list, MOST_PANELS);
    let pattern = |place: &Place<String>| {
        let pattern = reader.plain(place, String::clone);
        // A star stands for what a name may have.
        reader.name_at(&pattern.value.replace('*', "x"), pattern.span);
        pattern
    };
    list.value().iter().map(pattern).collect()
}

/// A finish of the workshop's own.
pub(super) fn finish(reader: &mut Reader<'_>, id: At<String>, raw: &raw::FinishData) -> FinishEntry {
    FinishEntry {
        id,
        title: reader.some_sentence(raw.title.as_ref()),
        thickness: reader.some_length(raw.thickness.as_ref(), THICKNESS),
        under_bolt: reader.some_length(raw.under_bolt.as_ref(), GAP),
        mass: reader.some_number(raw.mass.as_ref(), AREAL),
        adhesive: reader.some_number(raw.adhesive.as_ref(), ADHESIVE),
        roll: reader.some_length(raw.roll.as_ref(), SIZE),
        wraps: raw.wraps.as_ref().map(|wraps| reader.plain(wraps, |wraps| *wraps)),
        source: reader.some_sentence(raw.source.as_ref()),
    }
}
