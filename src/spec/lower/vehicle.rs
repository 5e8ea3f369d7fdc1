//! The vehicle and its bay.

use super::{Reader, SIZE, millimetres};
use crate::spec::model::{Bay, Vehicle};
use crate::spec::raw;
use crate::spec::value::Place;

/// A vehicle, from a map or a file of its own.
pub(crate) fn vehicle(reader: &mut Reader<'_>, raw: &raw::Vehicle) -> Vehicle {
    reader.unit = millimetres(raw.units.as_ref(), reader.unit);
    Vehicle { name: reader.some_sentence(raw.name.as_ref()), bay: bay(reader, &raw.bay) }
}

/// A bay.
pub(crate) fn bay(reader: &mut Reader<'_>, place: &Place<raw::Bay>) -> Bay {
    let raw = place.value();
    Bay {
        width: reader.length(&raw.width, SIZE),
        depth: reader.length(&raw.depth, SIZE),
        height: reader.length(&raw.height, SIZE),
        span: reader.span(place),
    }
}
