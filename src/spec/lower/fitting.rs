//! Fittings for panels that a workshop adds to the catalogue.

use super::workshop::MASS;
use super::{GAP, Limits, POSITION, Reader, SIZE};
use crate::diag::{At, Finding};
use crate::spec::cutout_rules::ON_PANEL_UNCLEAR;
use crate::spec::model::{OpeningEntry, PanelFittingEntry};
use crate::spec::raw;
use crate::spec::value::Place;

/// Free area for air.
const AIR: Limits = Limits::more_than_zero(100_000.0, " cm2");

pub(super) fn fitting(reader: &mut Reader<'_>, id: At<String>, raw: &raw::PanelFitting) -> PanelFittingEntry {
    let pair = |reader: &mut Reader<'_>, place: &Place<raw::BoltPlace>| {
        [&place.value().x, &place.value().y].map(|amount| reader.length(amount, POSITION).value)
    };
    let bolts = raw.bolts.as_ref().map(|list| {
        reader.counted(list, 20);
        At::new(list.value().iter().map(|place| pair(reader, place)).collect(), reader.span(list))
    });
    let plate = raw.plate.as_ref().map(|place| {
        let sides = [&place.value().width, &place.value().height];
        At::new(sides.map(|amount| reader.length(amount, SIZE).value), reader.span(place))
    });
    PanelFittingEntry {
        id,
        title: reader.some_sentence(raw.title.as_ref()),
        opening: raw.opening.as_ref().and_then(|opening| self::opening(reader, opening)),
        plate,
        flange: reader.some_length(raw.flange.as_ref(), GAP),
        behind: reader.some_length(raw.behind.as_ref(), GAP),
        bolt: reader.some_thread(raw.bolt.as_ref()),
        bolts,
        air: reader.some_number(raw.air.as_ref(), AIR),
        mass: reader.some_number(raw.mass.as_ref(), MASS),
        source: reader.some_sentence(raw.source.as_ref()),
    }
}

fn opening(reader: &mut Reader<'_>, place: &Place<raw::FittingOpening>) -> Option<At<OpeningEntry>> {
    let (raw, span) = (place.value(), reader.span(place));
    let opening = match (&raw.diameter, &raw.width, &raw.height) {
        (Some(diameter), None, None) if raw.radius.is_none() => {
            OpeningEntry::Round(reader.length(diameter, SIZE).value)
        }
        (None, Some(width), Some(height)) => {
            let [width, height] = [width, height].map(|amount| reader.length(amount, SIZE).value);
            let radius = reader.length_or(raw.radius.as_ref(), GAP, 0.0, span).value;
            OpeningEntry::Rectangle(width, height, radius)
        }
        _ => {
            let message = "a fitting's opening has a `diameter`, or `width` and `height`";
            reader
                .findings
                .push(Finding::new(&ON_PANEL_UNCLEAR, span, message).help("e.g. `{diameter: 60}`"));
            return None;
        }
    };
    Some(At::new(opening, span))
}
