//! False floors.

use super::{POSITION, Reader, SIZE};
use crate::diag::{At, Finding};
use crate::number::decimal;
use crate::spec::model::FalseFloor;
use crate::spec::value::Place;
use crate::spec::{raw, rules};

/// Most false floors of a kit.
const MOST: usize = 20;

/// All false floors, in the order of the text.
pub(crate) fn floors(
    reader: &mut Reader<'_>,
    list: Option<&Place<Vec<Place<raw::FalseFloor>>>>,
) -> Vec<FalseFloor> {
    let Some(list) = list else { return Vec::new() };
    reader.counted(list, MOST);
    let floors: Vec<FalseFloor> = list.value().iter().map(|place| floor(reader, place)).collect();
    reader.differing(floors.iter().map(|floor| &floor.id), "floors");
    floors
}

fn floor(reader: &mut Reader<'_>, place: &Place<raw::FalseFloor>) -> FalseFloor {
    let (raw, span) = (place.value(), reader.span(place));
    let floor = FalseFloor {
        id: reader.name(&raw.id),
        panel: reader.name(&raw.panel),
        from: reader.length(&raw.from, POSITION),
        to: reader.length(&raw.to, POSITION),
        width: reader.length(&raw.width, SIZE),
        y: reader.some_length(raw.y.as_ref(), POSITION).unwrap_or(At::new(0.0, span)),
        span,
    };
    if floor.from.value >= floor.to.value && !reader.findings.has_errors() {
        let [from, to] = [floor.from.value, floor.to.value].map(|x| decimal(x, 1));
        let message = format!("the floor begins at {from} mm and ends at {to} mm");
        let finding = Finding::new(&rules::OUT_OF_RANGE, floor.to.span, message);
        reader.findings.push(finding.help("`from` is the end at the tailgate, `to` the one at the seats"));
    }
    floor
}
