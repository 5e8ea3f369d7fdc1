//! The vehicle.

use super::{Reader, bay, millimetres};
use crate::spec::model::Vehicle;
use crate::spec::raw;

/// A vehicle, from a map or a file of its own.
pub(crate) fn vehicle(reader: &mut Reader<'_>, raw: &raw::Vehicle) -> Vehicle {
    reader.unit = millimetres(raw.units.as_ref(), reader.unit);
    Vehicle { name: reader.some_sentence(raw.name.as_ref()), bay: bay(reader, &raw.bay) }
}
