//! The vehicle.

use super::vehicle_masses::masses;
use super::workshop::whole;
use super::{GAP, Limits, Reader, bay, millimetres};
use crate::diag::{At, Finding};
use crate::number::decimal;
use crate::spec::model::{Living, LivingVent, Vehicle};
use crate::spec::value::Place;
use crate::spec::{raw, rules};

/// Of one vehicle.
const BERTHS: Limits = Limits::from_zero(100.0, "");
/// Free area.
const AREA: Limits = Limits::more_than_zero(100_000.0, " cm2");
/// Most openings.
const MOST: usize = 50;

/// A vehicle, from a map or a file of its own.
pub(crate) fn vehicle(reader: &mut Reader<'_>, raw: &raw::Vehicle) -> Vehicle {
    reader.unit = millimetres(raw.units.as_ref(), reader.unit);
    Vehicle {
        name: reader.some_sentence(raw.name.as_ref()),
        bay: bay(reader, &raw.bay),
        masses: raw.masses.as_ref().map(|place| masses(reader, place)),
        living: raw.living.as_ref().map(|place| living(reader, place)),
    }
}

fn living(reader: &mut Reader<'_>, place: &Place<raw::Living>) -> Living {
    let (raw, span) = (place.value(), reader.span(place));
    let berths = reader.some_number(Some(&raw.berths), BERTHS).unwrap_or(At::new(0.0, span));
    let vents = reader.each(Some(&raw.vents), MOST, |reader, place| {
        let raw = place.value();
        let heights = [&raw.bottom, &raw.top].map(|height| reader.length(height, GAP));
        if heights[0].value >= heights[1].value {
            let [low, high] = heights.map(|height| decimal(height.value, 2));
            let message = format!("an opening from {low} to {high} mm above the floor has no height");
            let finding = Finding::new(&rules::OUT_OF_RANGE, heights[0].span, message);
            reader.findings.push(finding.help("`bottom` is its lower edge, `top` its upper one"));
        }
        Some(LivingVent {
            id: reader.name(&raw.id),
            area: reader.some_number(Some(&raw.area), AREA).map_or(0.0, |area| area.value * 100.0),
            heights: (heights[0].value, heights[1].value),
        })
    });
    reader.differing(vents.iter().map(|vent| &vent.id), "openings");
    Living { berths: whole(reader, berths, "number of berths"), vents, span }
}
