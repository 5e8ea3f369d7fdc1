//! Doors of the bay, raw to model: the leaves at the rear as they turn, and doors in the sides.

use super::bay::{MOST_READINGS, SAME_READING};
use super::{GAP, Limits, POSITION, Reader, SIZE};
use crate::diag::Finding;
use crate::geom::{Aabb, Point3};
use crate::number::decimal;
use crate::spec::bay_rules as rules;
use crate::spec::model::{Hinge, Leaf, Side, SideDoor};
use crate::spec::raw;
use crate::spec::value::Place;

/// Degrees that a leaf can be open.
const OPEN: Limits = Limits { least: 0.0, above: true, most: 270.0, unit: " degrees" };

/// The leaves of the tailgate or doors.
pub(super) fn leaves(reader: &mut Reader<'_>, list: Option<&Place<Vec<Place<raw::Leaf>>>>) -> Vec<Leaf> {
    let Some(list) = list else { return Vec::new() };
    reader.counted(list, MOST_READINGS);
    let leaves: Vec<Leaf> = list.value().iter().map(|place| leaf(reader, place)).collect();
    reader.differing(leaves.iter().map(|leaf| &leaf.id), "leaves");
    leaves
}

fn leaf(reader: &mut Reader<'_>, place: &Place<raw::Leaf>) -> Leaf {
    let (raw, span) = (place.value(), reader.span(place));
    let (from, to) = (reader.length(&raw.from, POSITION), reader.length(&raw.to, POSITION));
    let (bottom, top) = (reader.length(&raw.bottom, POSITION), reader.length(&raw.top, POSITION));
    let thickness = reader.length(&raw.thickness, SIZE).value;
    for (what, less, more) in [("`from`", from, to), ("`bottom`", bottom, top)] {
        if more.value <= less.value {
            let [a, b] = [less.value, more.value].map(|length| decimal(length, 1));
            let message = format!("the leaf begins at {a} mm ({what}) and ends at {b} mm");
            let finding = Finding::new(&rules::READINGS_NOT_RISING, more.span, message);
            let help = "`from` is the leaf's right edge and `to` its left one, both left of the centreline";
            reader.findings.push(finding.also(less.span, "where it begins").help(help));
        }
    }
    let hinge = match raw.hinge.value() {
        raw::Hinge::Left => Hinge::Left,
        raw::Hinge::Right => Hinge::Right,
        raw::Hinge::Top => Hinge::Top,
        raw::Hinge::Bottom => Hinge::Bottom,
    };
    let open = reader.degrees(&raw.open, OPEN);
    let shut = Aabb {
        low: Point3::new(-thickness, from.value, bottom.value),
        high: Point3::new(0.0, to.value, top.value),
    };
    Leaf { id: reader.name(&raw.id), hinge, shut, open, span }
}

/// Doors in the sides, in a bay so high and deep.
pub(super) fn side_doors(
    reader: &mut Reader<'_>,
    list: Option<&Place<Vec<Place<raw::SideDoor>>>>,
    bay_height: f64,
    bay_depth: f64,
) -> Vec<SideDoor> {
    let Some(list) = list else { return Vec::new() };
    reader.counted(list, MOST_READINGS);
    let mut doors = Vec::new();
    for place in list.value() {
        let (raw, span) = (place.value(), reader.span(place));
        let side = match raw.side.value() {
            raw::DoorSide::Left => Side::Left,
            raw::DoorSide::Right => Side::Right,
        };
        let door = SideDoor {
            side,
            from: reader.length(&raw.from, POSITION),
            width: reader.length(&raw.width, SIZE),
            height: reader.length(&raw.height, SIZE),
            sill: reader.length_or(raw.sill.as_ref(), GAP, 0.0, span),
            span,
        };
        let end = door.from.value + door.width.value;
        for (is, than, what) in [
            (door.height.value, bay_height, "ends above the floor at"),
            (end, bay_depth, "ends ahead of the rear edge at"),
        ] {
            if is > than + SAME_READING {
                let [is, than] = [is, than].map(|length| decimal(length, 1));
                let message = format!("the side door {what} {is} mm, the bay at {than} mm");
                let finding = Finding::new(&rules::OPENING_LARGER, span, message);
                reader.findings.push(finding.help("measure both again"));
            }
        }
        if door.sill.value >= door.height.value {
            let [sill, top] = [door.sill.value, door.height.value].map(|length| decimal(length, 1));
            let message =
                format!("the side door's sill stands {sill} mm above the floor, its upper edge {top} mm");
            reader
                .findings
                .push(Finding::new(&rules::OPENING_LARGER, span, message).help("measure both again"));
        }
        doors.push(door);
    }
    doors
}
