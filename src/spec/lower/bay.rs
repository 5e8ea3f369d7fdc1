//! The bay: readings to lines and surfaces, and whether they can be readings of one bay.
//!
//! A list of readings at fault is left out, so that what follows from it is not faulty again.

use super::{GAP, Limits, POSITION, Reader, SIZE, doors, fixing};
use crate::diag::{At, Finding, Span};
use crate::geom::{Aabb, Point3, Profile, Relief, snap};
use crate::number::decimal;
use crate::spec::bay_rules as rules;
use crate::spec::model::{Arch, Bay, Clearances, Opening, Side};
use crate::spec::raw;
use crate::spec::value::{Amount, Place};

/// mm by which two readings of one length may differ: what a tape in a trimmed bay can be trusted with. Common
/// practice, no source.
pub(super) const SAME_READING: f64 = 3.0;
/// Degrees from upright; a seat back beyond it is folded.
const RAKE: Limits = Limits { least: -45.0, above: false, most: 60.0, unit: " degrees" };
/// Degrees of a floor.
const SLOPE: Limits = Limits { least: -15.0, above: false, most: 15.0, unit: " degrees" };
/// Ribs higher than a hand is wide are something else.
const RIBS: Limits = Limits::from_zero(100.0, " mm");
/// Most readings in one list.
pub(super) const MOST_READINGS: usize = 30;

/// A bay.
pub(crate) fn bay(reader: &mut Reader<'_>, place: &Place<raw::Bay>) -> Bay {
    let (raw, span) = (place.value(), reader.span(place));
    let given = reader.some_length(raw.width.as_ref(), SIZE);
    let depth = reader.length(&raw.depth, SIZE);
    let height = reader.length(&raw.height, SIZE);
    let half = Relief::level(given.map_or(0.0, |width| width.value / 2.0));
    let sides = raw.sides.as_ref().and_then(|place| sides(reader, place, height.value));
    let sides_span = sides.as_ref().map_or(given.map_or(span, |width| width.span), |sides| sides.0.span);
    let (left, right) = sides.unwrap_or((At::new(half.clone(), sides_span), At::new(half, sides_span)));
    let roof = raw.roof.as_ref().map(|list| height_readings(reader, list));
    let floor = raw.floor.as_ref().map(Place::value);
    let floor_span = raw.floor.as_ref().map_or(span, |place| reader.span(place));
    let slope = reader.some_number(floor.and_then(|floor| floor.slope.as_ref()), SLOPE);
    let folded = Limits::more_than_zero(height.value.max(1.0), " mm");
    let mut bay = Bay {
        width: given.unwrap_or(At::new(0.0, span)),
        depth,
        height,
        seat_back: seat_back(reader, raw.seat_back.as_ref(), depth, height.value),
        left,
        right,
        roof: roof.unwrap_or(At::new(Profile::level(height.value), height.span)),
        door: door(reader, raw.door.as_ref(), span),
        arches: Vec::new(),
        latches: latches(reader, raw.door.as_ref()),
        opening: raw.opening.as_ref().map(|place| opening(reader, place)),
        leaves: doors::leaves(reader, raw.door.as_ref().and_then(|door| door.value().leaves.as_ref())),
        side_doors: doors::side_doors(reader, raw.side_doors.as_ref(), height.value, depth.value),
        ribs: reader.length_or(floor.and_then(|floor| floor.ribs.as_ref()), RIBS, 0.0, floor_span),
        slope: slope.unwrap_or(At::new(0.0, floor_span)),
        folded_seats: reader.some_length(raw.folded_seats.as_ref(), folded),
        anchors: fixing::anchors(reader, raw.anchors.as_ref()),
        reach: fixing::reach(reader, raw.reach.as_ref()),
        span,
    };
    if let Some(place) = &raw.arches {
        bay.arches = arches(reader, place);
    }
    if reader.findings.has_errors() {
        return bay;
    }
    width(reader, raw, &mut bay);
    makes_sense(reader, &bay);
    bay
}

/// Clearances; defaults where the design says nothing.
pub(crate) fn clearances(
    reader: &mut Reader<'_>,
    place: Option<&Place<raw::Clearances>>,
    outer: Span,
) -> Clearances {
    let raw = place.map(Place::value);
    let span = place.map_or(outer, |place| reader.span(place));
    let mut length =
        |amount: Option<&Place<Amount>>, default: f64| reader.length_or(amount, GAP, default, span);
    // Common practice, no source.
    Clearances {
        arch: length(raw.and_then(|raw| raw.arch.as_ref()), 8.0),
        seat_back: length(raw.and_then(|raw| raw.seat_back.as_ref()), 12.0),
        door: length(raw.and_then(|raw| raw.door.as_ref()), 25.0),
        latch: length(raw.and_then(|raw| raw.latch.as_ref()), 15.0),
        trim: length(raw.and_then(|raw| raw.trim.as_ref()), 4.0),
        opening: length(raw.and_then(|raw| raw.opening.as_ref()), 15.0),
    }
}

/// The width as given, held against what the sides and arches come to; or that.
fn width(reader: &mut Reader<'_>, raw: &raw::Bay, bay: &mut Bay) {
    let measured = snap(bay.width_at(0.0));
    match (&raw.width, &raw.sides) {
        (None, None) => {
            let finding =
                Finding::new(&rules::READING_MISSING, bay.span, "the bay has neither `width` nor `sides`");
            reader.findings.push(finding.help("add `width`, clear at the floor where it is narrowest"));
        }
        (None, Some(_)) => bay.width.value = measured,
        (Some(_), _) => {
            let what = if bay.arches.is_empty() { "the sides are" } else { "sides and arches leave" };
            let other = bay.arches.first().map_or(bay.left.span, |arch| arch.span);
            agree(reader, (bay.width, "`width`"), (measured, what, other));
        }
    }
    if let (Some(arch), None) = (bay.arches.first(), &raw.sides) {
        let message = "there are wheel arches, but no `sides`: how wide is the bay above and beside them?";
        let finding = Finding::new(&rules::READING_MISSING, arch.span, message);
        reader
            .findings
            .push(finding.help("add `sides: {heights: [..], stations: [{x: .., widths: [..]}, ..]}`"));
    }
}

/// Reports two readings of one length that differ by more than a tape does.
fn agree(reader: &mut Reader<'_>, given: (At<f64>, &str), other: (f64, &str, Span)) {
    let difference = (given.0.value - other.0).abs();
    if difference > SAME_READING {
        let [a, b, off] = [given.0.value, other.0, difference].map(|length| decimal(length, 1));
        let message = format!("{} is {a} mm, but {} {b} mm: they differ by {off} mm", given.1, other.1);
        let finding = Finding::new(&rules::READINGS_DISAGREE, given.0.span, message);
        let help = format!("measure again; up to {} mm is taken for the tape's", decimal(SAME_READING, 1));
        reader.findings.push(finding.also(other.2, "the other reading").help(help));
    }
}

/// Readings whose stations must rise; those that do.
fn rising(reader: &mut Reader<'_>, points: &[(At<f64>, f64)]) -> Vec<(f64, f64)> {
    let mut kept: Vec<(At<f64>, f64)> = Vec::new();
    for &(station, value) in points {
        match kept.last() {
            Some((before, _)) if station.value <= before.value => {
                let [here, there] = [station.value, before.value].map(|length| decimal(length, 1));
                let message = format!("the reading at {here} mm stands behind the one at {there} mm");
                let finding = Finding::new(&rules::READINGS_NOT_RISING, station.span, message);
                reader.findings.push(
                    finding.also(before.span, "the one before it").help("put them in order, each place once"),
                );
            }
            _ => kept.push((station, value)),
        }
    }
    kept.into_iter().map(|(station, value)| (station.value, value)).collect()
}

fn seat_back(
    reader: &mut Reader<'_>,
    place: Option<&Place<raw::SeatBack>>,
    depth: At<f64>,
    height: f64,
) -> At<Profile> {
    let Some(place) = place else { return At::new(Profile::level(depth.value), depth.span) };
    let (raw, span) = (place.value(), reader.span(place));
    let rake = reader.some_number(raw.rake.as_ref(), RAKE);
    let top = reader.some_length(raw.top.as_ref(), SIZE);
    let raked = |rake: f64, z: f64| snap(depth.value - z * rake.to_radians().tan());
    let Some(list) = &raw.lengths else {
        let Some(rake) = rake else {
            let finding =
                Finding::new(&rules::READING_MISSING, span, "the seat back has neither a rake nor lengths");
            reader.findings.push(finding.help("add `rake` in degrees, or `lengths: [{z: .., length: ..}]`"));
            return At::new(Profile::level(depth.value), span);
        };
        let top = top.map_or(height, |top| top.value);
        let points =
            if top > 0.0 { vec![(0.0, depth.value), (top, raked(rake.value, top))] } else { Vec::new() };
        return At::new(Profile::through(points), span);
    };
    reader.counted(list, MOST_READINGS);
    let mut readings: Vec<(At<f64>, At<f64>)> = Vec::new();
    for place in list.value() {
        let raw = place.value();
        readings.push((reader.length(&raw.z, GAP), reader.length(&raw.length, SIZE)));
    }
    for (z, length) in &readings {
        if z.value <= 0.0 {
            agree(reader, (*length, "the length at the floor"), (depth.value, "`depth` is", depth.span));
        } else if let Some(rake) = rake {
            let what = format!("a rake of {} degrees gives", decimal(rake.value, 2));
            let expected = raked(rake.value, z.value);
            agree(reader, (*length, "the length at this height"), (expected, &what, rake.span));
        }
    }
    let above: Vec<(At<f64>, f64)> =
        readings.iter().filter(|(z, _)| z.value > 0.0).map(|&(z, length)| (z, length.value)).collect();
    let mut points = vec![(0.0, depth.value)];
    points.extend(rising(reader, &above));
    carried_on(&mut points, top.map_or(height, |top| top.value));
    At::new(Profile::through(points), span)
}

/// Goes on in the line of the last two points up to `top`, if it leans into the bay; upright if it leans out, since
/// nobody has measured that there is more room.
fn carried_on(points: &mut Vec<(f64, f64)>, top: f64) {
    if let [.., a, b] = points[..] {
        let slope = (b.1 - a.1) / (b.0 - a.0);
        if slope < 0.0 && top > b.0 {
            points.push((top, snap(b.1 + slope * (top - b.0))));
        }
    }
}

/// The side lines, left and right.
fn sides(
    reader: &mut Reader<'_>,
    place: &Place<raw::Sides>,
    height: f64,
) -> Option<(At<Relief>, At<Relief>)> {
    let (raw, span) = (place.value(), reader.span(place));
    reader.counted(&raw.heights, MOST_READINGS);
    reader.counted(&raw.stations, MOST_READINGS);
    let heights: Vec<(At<f64>, f64)> =
        raw.heights.value().iter().map(|amount| (reader.length(amount, GAP), 0.0)).collect();
    let mut stations: Vec<(At<f64>, f64)> = Vec::new();
    let (mut left, mut right) = (Vec::new(), Vec::new());
    for place in raw.stations.value() {
        stations.push((reader.length(&place.value().x, POSITION), 0.0));
        let (on_left, on_right) = station(reader, place, heights.len())?;
        left.push(on_left);
        right.push(on_right);
    }
    let count = (heights.len(), stations.len());
    let mut heights: Vec<f64> = rising(reader, &heights).into_iter().map(|(z, _)| z).collect();
    let stations: Vec<f64> = rising(reader, &stations).into_iter().map(|(x, _)| x).collect();
    if (heights.len(), stations.len()) != count || heights.is_empty() || stations.is_empty() {
        return None;
    }
    sides_apart(reader, span, &heights, &left, &right);
    if heights.last().is_some_and(|&last| last < height) {
        for row in left.iter_mut().chain(&mut right) {
            let mut points: Vec<(f64, f64)> = heights.iter().copied().zip(row.iter().copied()).collect();
            carried_on(&mut points, height);
            row.push(Profile::through(points).at(height));
        }
        heights.push(height);
    }
    let relief =
        |values: Vec<Vec<f64>>| At::new(Relief::new(stations.clone(), heights.clone(), values), span);
    Some((relief(left), relief(right)))
}

/// Distances from the centreline at one station, by height: left, right.
fn station(
    reader: &mut Reader<'_>,
    place: &Place<raw::Station>,
    heights: usize,
) -> Option<(Vec<f64>, Vec<f64>)> {
    let (raw, span) = (place.value(), reader.span(place));
    let mut list = |list: &Place<Vec<Place<Amount>>>, limits: Limits| -> Option<Vec<f64>> {
        let count = list.value().len();
        if count != heights {
            let message = format!("{count} readings stand here, but `heights` has {heights}");
            let finding = Finding::new(&rules::READING_MISSING, reader.span(list), message);
            reader.findings.push(finding.help("give one for each height, in the same order"));
            return None;
        }
        Some(list.value().iter().map(|amount| reader.length(amount, limits).value).collect())
    };
    match (&raw.widths, &raw.left, &raw.right) {
        (Some(widths), None, None) => {
            let half: Vec<f64> = list(widths, SIZE)?.into_iter().map(|width| width / 2.0).collect();
            Some((half.clone(), half))
        }
        (None, Some(left), Some(right)) => {
            let (left, right) = (list(left, POSITION), list(right, POSITION));
            Some((left?, right?))
        }
        _ => {
            let message = "a station has either `widths`, or both `left` and `right`";
            reader.findings.push(Finding::new(&rules::READING_MISSING, span, message));
            None
        }
    }
}

/// Side lines that meet or cross.
fn sides_apart(reader: &mut Reader<'_>, span: Span, heights: &[f64], left: &[Vec<f64>], right: &[Vec<f64>]) {
    for (i, (left, right)) in left.iter().zip(right).enumerate() {
        for (z, (left, right)) in heights.iter().zip(left.iter().zip(right)) {
            if left + right <= 0.0 {
                let message = format!(
                    "at station {} and {} mm above the floor the left side is {} mm left of the centreline and the \
                     right side {} mm right of it: they cross",
                    i + 1,
                    decimal(*z, 1),
                    decimal(*left, 1),
                    decimal(*right, 1)
                );
                let finding = Finding::new(&rules::SIDES_CROSS, span, message);
                reader.findings.push(finding.help("both are measured outwards from the centreline"));
            }
        }
    }
}

/// Heights at stations.
fn height_readings(reader: &mut Reader<'_>, list: &Place<Vec<Place<raw::RoofReading>>>) -> At<Profile> {
    reader.counted(list, MOST_READINGS);
    let mut points = Vec::new();
    for place in list.value() {
        let raw = place.value();
        // An arch's outline may end on the floor.
        points.push((reader.length(&raw.x, POSITION), reader.length(&raw.z, GAP).value));
    }
    let points = rising(reader, &points);
    At::new(Profile::through(points), reader.span(list))
}

fn arches(reader: &mut Reader<'_>, place: &Place<raw::Arches>) -> Vec<Arch> {
    let raw = place.value();
    let sides = [(Side::Left, &raw.left), (Side::Right, &raw.right)];
    sides.into_iter().filter_map(|(side, place)| arch(reader, side, place.as_ref()?)).collect()
}

fn arch(reader: &mut Reader<'_>, side: Side, place: &Place<raw::Arch>) -> Option<Arch> {
    let (raw, span) = (place.value(), reader.span(place));
    let from_centre = reader.length(&raw.from_centre, SIZE);
    let profile = match (&raw.profile, &raw.from, &raw.to, &raw.height) {
        (Some(list), None, None, None) => height_readings(reader, list).value,
        (None, Some(from), Some(to), Some(height)) => {
            let (from, to) = (reader.length(from, POSITION), reader.length(to, POSITION));
            let height = reader.length(height, SIZE).value;
            Profile::through(rising(reader, &[(from, height), (to, height)]))
        }
        _ => {
            let message = "an arch has either `from`, `to` and `height`, or a `profile`";
            reader.findings.push(Finding::new(&rules::READING_MISSING, span, message));
            return None;
        }
    };
    Some(Arch { side, from_centre, profile, span })
}

fn door(reader: &mut Reader<'_>, place: Option<&Place<raw::Door>>, outer: Span) -> At<Profile> {
    let Some(list) = place.and_then(|place| place.value().profile.as_ref()) else {
        let span = place.map_or(outer, |place| reader.span(place));
        return At::new(Profile::level(0.0), span);
    };
    reader.counted(list, MOST_READINGS);
    let mut points = Vec::new();
    for place in list.value() {
        let raw = place.value();
        points.push((reader.length(&raw.z, GAP), reader.length(&raw.x, POSITION).value));
    }
    let points = rising(reader, &points);
    At::new(Profile::through(points), reader.span(list))
}

fn latches(reader: &mut Reader<'_>, place: Option<&Place<raw::Door>>) -> Vec<At<Aabb>> {
    let Some(list) = place.and_then(|place| place.value().latches.as_ref()) else { return Vec::new() };
    reader.counted(list, MOST_READINGS);
    let latch = |place: &Place<raw::Latch>| {
        let (raw, span) = (place.value(), reader.span(place));
        let y = reader.length_or(raw.y.as_ref(), POSITION, 0.0, span).value;
        let z = reader.length_or(raw.z.as_ref(), POSITION, 0.0, span).value;
        let (reach, height) = (reader.length(&raw.reach, SIZE).value, reader.length(&raw.height, SIZE).value);
        let half = reader.length(&raw.width, SIZE).value / 2.0;
        let low = Point3::new(0.0, y - half, z);
        At::new(Aabb { low, high: Point3::new(reach, y + half, z + height) }, span)
    };
    list.value().iter().map(latch).collect()
}

fn opening(reader: &mut Reader<'_>, place: &Place<raw::Opening>) -> Opening {
    let (raw, span) = (place.value(), reader.span(place));
    reader.counted(&raw.widths, MOST_READINGS);
    let mut points = Vec::new();
    for place in raw.widths.value() {
        let raw = place.value();
        points.push((reader.length(&raw.z, GAP), reader.length(&raw.width, SIZE).value));
    }
    Opening {
        widths: Profile::through(rising(reader, &points)),
        height: reader.length(&raw.height, SIZE),
        sill: reader.length_or(raw.sill.as_ref(), GAP, 0.0, span),
        span,
    }
}

/// Whether the readings can be of one bay.
fn makes_sense(reader: &mut Reader<'_>, bay: &Bay) {
    agree(
        reader,
        (bay.height, "`height`"),
        (bay.roof.value.least(), "the roof's lowest reading is", bay.roof.span),
    );
    seat_back_clear_of_door(reader, bay);
    for arch in &bay.arches {
        if let Some((message, help)) = arch_fault(bay, arch) {
            let finding = Finding::new(&rules::ARCH_NOT_IN_BAY, arch.span, message);
            reader.findings.push(finding.also(bay.span, "the bay is given here").help(help));
        }
    }
    if let Some(opening) = &bay.opening {
        for message in opening_faults(bay, opening) {
            let finding = Finding::new(&rules::OPENING_LARGER, opening.span, message);
            reader.findings.push(finding.also(bay.span, "the bay is given here").help("measure both again"));
        }
    }
}

fn seat_back_clear_of_door(reader: &mut Reader<'_>, bay: &Bay) {
    let (seat_back, door) = (&bay.seat_back.value, &bay.door.value);
    let heights = seat_back.points().iter().chain(door.points()).map(|point| point.0);
    let heights = heights.filter(|z| *z < bay.height.value).chain([bay.height.value]);
    let nearest = heights.map(|z| (z, seat_back.at(z) - door.at(z))).min_by(|a, b| a.1.total_cmp(&b.1));
    if let Some((z, room)) = nearest.filter(|nearest| nearest.1 <= 0.0) {
        let message = format!(
            "{} mm above the floor the seat back stands {} mm behind the closed door",
            decimal(z, 1),
            decimal(-room, 1)
        );
        let finding = Finding::new(&rules::SEAT_BACK_MEETS_DOOR, bay.seat_back.span, message);
        let help = "a seat back that does not reach the roof has an upper end: give it as `top`";
        reader.findings.push(finding.help(help).also(bay.door.span, "the door is given here"));
    }
}

/// Why an arch cannot stand in the bay, and what to look at.
fn arch_fault(bay: &Bay, arch: &Arch) -> Option<(String, &'static str)> {
    let side = if arch.side == Side::Left { &bay.left } else { &bay.right };
    let farthest = side.value.along(0.0).greatest();
    let points = arch.profile.points();
    let (from, to) = (points[0].0, points[points.len() - 1].0);
    let word = arch.side.word();
    if arch.from_centre.value >= farthest {
        let [face, side] = [arch.from_centre.value, farthest].map(|length| decimal(length, 1));
        let message =
            format!("the {word} arch's inner face is {face} mm from the centreline, its side only {side} mm");
        return Some((message, "`from_centre` is measured from the centreline to the arch's inner face"));
    }
    if from >= bay.depth.value || to <= 0.0 {
        let [from, to, depth] = [from, to, bay.depth.value].map(|length| decimal(length, 1));
        let message = format!("the {word} arch from {from} to {to} mm lies outside the floor of {depth} mm");
        return Some((message, "stations are measured forward from the rear edge of the floor"));
    }
    if arch.profile.greatest() >= bay.roof.value.greatest() {
        let [arch, roof] = [arch.profile.greatest(), bay.roof.value.greatest()].map(|z| decimal(z, 1));
        let message = format!("the {word} arch is {arch} mm high, the roof {roof} mm");
        return Some((message, "both are measured up from the floor"));
    }
    None
}

/// In what the opening is larger than the bay behind it.
fn opening_faults(bay: &Bay, opening: &Opening) -> Vec<String> {
    let mut faults = Vec::new();
    for &(z, width) in opening.widths.points() {
        let side = |side: &At<Relief>| side.value.along(z).greatest();
        let inside = side(&bay.left) + side(&bay.right);
        if width > inside + SAME_READING {
            let [z, width, inside] = [z, width, inside].map(|length| decimal(length, 1));
            faults
                .push(format!("{z} mm above the floor the opening is {width} mm wide, the bay {inside} mm"));
        }
    }
    let (top, roof) = (opening.height.value, bay.roof.value.greatest());
    if top > roof + SAME_READING {
        let [top, roof] = [top, roof].map(|length| decimal(length, 1));
        faults.push(format!("the opening ends {top} mm above the floor, the roof is {roof} mm high"));
    }
    if opening.sill.value >= top {
        let [sill, top] = [opening.sill.value, top].map(|length| decimal(length, 1));
        faults.push(format!("the sill stands {sill} mm above the floor, the opening ends at {top} mm"));
    }
    faults
}
