//! Threaded points of the vehicle, what must stay in reach, and how carcases use the points.

use super::{GAP, Limits, POSITION, Reader, SIZE};
use crate::diag::At;
use crate::geom::{Aabb, Point3};
use crate::spec::model::{Anchor, AnchorKind, Fixing, Reach, Turnbuckle};
use crate::spec::raw;
use crate::spec::value::Place;

/// Most points or zones of a bay, and most fixings of a carcase.
const MOST: usize = 60;
/// Degrees; a point that leans more is in a wall.
const LEAN: Limits = Limits::from_zero(90.0, " degrees");
/// A place known no better than this is not known.
const TOLERANCE: Limits = Limits::from_zero(30.0, " mm");
/// N; beyond it the unit is wrong.
const RATING: Limits = Limits::more_than_zero(1e6, " N");

/// All points, by name.
pub(super) fn anchors(reader: &mut Reader<'_>, list: Option<&Place<Vec<Place<raw::Anchor>>>>) -> Vec<Anchor> {
    let Some(list) = list else { return Vec::new() };
    reader.counted(list, MOST);
    let mut anchors: Vec<Anchor> = list.value().iter().map(|place| anchor(reader, place)).collect();
    reader.differing(anchors.iter().map(|anchor| &anchor.id), "anchors");
    anchors.sort_by(|a, b| a.id.value.cmp(&b.id.value));
    anchors
}

fn anchor(reader: &mut Reader<'_>, place: &Place<raw::Anchor>) -> Anchor {
    let (raw, span) = (place.value(), reader.span(place));
    let kind = raw.kind.as_ref().map(|kind| reader.plain(kind, |kind| anchor_kind(*kind)));
    let tolerance = raw.tolerance.as_ref().map(Place::value);
    let mut off = |amount| reader.some_length(amount, TOLERANCE).map_or(0.0, |length| length.value);
    let tolerance = (
        off(tolerance.and_then(|tolerance| tolerance.x.as_ref())),
        off(tolerance.and_then(|tolerance| tolerance.y.as_ref())),
    );
    let x = reader.length(&raw.x, POSITION).value;
    let y = reader.length(&raw.y, POSITION).value;
    let z = reader.length_or(raw.z.as_ref(), POSITION, 0.0, span).value;
    Anchor {
        id: reader.name(&raw.id),
        place: Point3::new(x, y, z),
        thread: reader.some_thread(Some(&raw.thread)).unwrap_or(At::new(String::new(), span)),
        depth: reader.some_length(raw.depth.as_ref(), SIZE),
        kind: kind.unwrap_or(At::new(AnchorKind::TieDown, span)),
        slope: reader.some_number(raw.slope.as_ref(), LEAN).unwrap_or(At::new(0.0, span)),
        tolerance,
        rating: reader.some_number(raw.rating.as_ref(), RATING),
        span,
    }
}

fn anchor_kind(raw: raw::AnchorKind) -> AnchorKind {
    match raw {
        raw::AnchorKind::TieDown => AnchorKind::TieDown,
        raw::AnchorKind::Seat => AnchorKind::Seat,
        raw::AnchorKind::SeatBelt => AnchorKind::SeatBelt,
        raw::AnchorKind::ChildRestraint => AnchorKind::ChildRestraint,
        raw::AnchorKind::Other => AnchorKind::Other,
    }
}

/// All zones, by name.
pub(super) fn reach(reader: &mut Reader<'_>, list: Option<&Place<Vec<Place<raw::Reach>>>>) -> Vec<Reach> {
    let Some(list) = list else { return Vec::new() };
    reader.counted(list, MOST);
    let zone = |place: &Place<raw::Reach>| {
        let (raw, span) = (place.value(), reader.span(place));
        let (x, y) = (reader.length(&raw.x, POSITION).value, reader.length(&raw.y, POSITION).value);
        let z = reader.length_or(raw.z.as_ref(), POSITION, 0.0, span).value;
        let (length, width) = (reader.length(&raw.length, SIZE).value, reader.length(&raw.width, SIZE).value);
        let height = reader.length(&raw.height, SIZE).value;
        let room = Aabb {
            low: Point3::new(x - length / 2.0, y - width / 2.0, z),
            high: Point3::new(x + length / 2.0, y + width / 2.0, z + height),
        };
        Reach { id: reader.name(&raw.id), room, span }
    };
    let mut zones: Vec<Reach> = list.value().iter().map(zone).collect();
    reader.differing(zones.iter().map(|zone| &zone.id), "zones in `reach`");
    zones.sort_by(|a, b| a.id.value.cmp(&b.id.value));
    zones
}

/// How a carcase is held, in the order of the text.
pub(super) fn fixings(reader: &mut Reader<'_>, list: Option<&Place<Vec<Place<raw::Fixing>>>>) -> Vec<Fixing> {
    let Some(list) = list else { return Vec::new() };
    reader.counted(list, MOST);
    let fixing = |place: &Place<raw::Fixing>| {
        let (raw, span) = (place.value(), reader.span(place));
        let turnbuckle = raw.turnbuckle.as_ref().map(Place::value).map(|raw| Turnbuckle {
            panel: reader.name(&raw.panel),
            z: reader.length(&raw.z, GAP),
            at: reader.some_length(raw.at.as_ref(), POSITION),
        });
        Fixing {
            point: reader.name(&raw.point),
            turnbuckle,
            engineer: reader.some_sentence(raw.engineer.as_ref()),
            span,
        }
    };
    let fixings: Vec<Fixing> = list.value().iter().map(fixing).collect();
    reader.differing(fixings.iter().map(|fixing| &fixing.point), "points of this carcase");
    fixings
}

/// Names, each once, in the order of the text.
pub(crate) fn names(reader: &mut Reader<'_>, list: Option<&Place<Vec<Place<String>>>>) -> Vec<At<String>> {
    let Some(list) = list else { return Vec::new() };
    reader.counted(list, 1000);
    let names: Vec<At<String>> = list.value().iter().map(|name| reader.name(name)).collect();
    reader.differing(names.iter(), "entries of this list");
    names
}
