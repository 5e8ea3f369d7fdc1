//! Readings of a scale.

use super::{Limits, Reader};
use crate::spec::model::Weighed;
use crate::spec::raw;
use crate::spec::value::Place;

/// On a scale.
const MASS: Limits = Limits::more_than_zero(10_000.0, " kg");
/// Most readings.
const MOST: usize = 500;

/// All readings, in the order of the text.
pub(crate) fn weighed(
    reader: &mut Reader<'_>,
    list: Option<&Place<Vec<Place<raw::Weighed>>>>,
) -> Vec<Weighed> {
    reader.each(list, MOST, |reader, place| {
        let raw = place.value();
        Some(Weighed {
            of: reader.name(&raw.of),
            mass: reader.some_number(Some(&raw.mass), MASS)?.value,
            resolution: reader.some_number(Some(&raw.resolution), MASS)?.value,
        })
    })
}
