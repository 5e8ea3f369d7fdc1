//! Wings: measured lines, drawings, hatches.

use super::{GAP, Limits, POSITION, Reader, SIZE};
use crate::diag::{At, Finding, Span, did_you_mean};
use crate::import::drawing;
use crate::number::decimal;
use crate::spec::model::{Carcase, Hatch, MeasuredLine, Wing, WingOutline, WingPoint, WingSide};
use crate::spec::raw;
use crate::spec::rules::shown;
use crate::spec::value::Place;
use crate::spec::wing_rules;

/// Most wings of a kit.
const MOST_WINGS: usize = 50;
/// Most points of a measured line.
const MOST_POINTS: usize = 200;
/// Most hatches of a panel.
const MOST_HATCHES: usize = 20;
/// Two points nearer than this, mm, are one that was written twice.
const SAME_POINT: f64 = 0.5;
/// mm between a lid and its opening, where the spec says nothing. Common practice, no source.
const HATCH_GAP: f64 = 3.0;
/// mm of ledge under a lid, where the spec says nothing. Common practice, no source.
const LEDGE: f64 = 20.0;
/// mm. A finger hole: a thumb goes through. Common practice, no source.
const FINGER_HOLE: f64 = 30.0;
/// What a finger goes through, and what a lid can do without.
const FINGER: Limits = Limits { least: 20.0, above: false, most: 120.0, unit: " mm" };

/// Gives the text of a file that the design names, or the reason why not.
pub(crate) type Opened<'a> = dyn FnMut(&str) -> Result<String, String> + 'a;

/// All wings, by place in the text. `trim` mm is kept from a measured line that does not say what is.
pub(crate) fn wings(
    reader: &mut Reader<'_>,
    list: Option<&Place<Vec<Place<raw::Wing>>>>,
    (carcases, trim): (&[Carcase], f64),
    opened: &mut Opened<'_>,
) -> Vec<Wing> {
    let Some(list) = list else { return Vec::new() };
    reader.counted(list, MOST_WINGS);
    let wing = |place| wing(reader, place, (carcases, trim), opened);
    let wings: Vec<Option<Wing>> = list.value().iter().map(wing).collect();
    let wings: Vec<Wing> = wings.into_iter().flatten().collect();
    reader.differing(wings.iter().map(|wing| &wing.id), "wings");
    wings
}

fn wing(
    reader: &mut Reader<'_>,
    place: &Place<raw::Wing>,
    (carcases, trim): (&[Carcase], f64),
    opened: &mut Opened<'_>,
) -> Option<Wing> {
    let (raw, span) = (place.value(), reader.span(place));
    let id = reader.name(&raw.id);
    let side = reader.plain(&raw.side, |side| match side {
        raw::NotchSide::Left => WingSide::Left,
        raw::NotchSide::Right => WingSide::Right,
        raw::NotchSide::Both => WingSide::Both,
    });
    let beside = beside(reader, raw.beside.as_ref(), carcases, span);
    let top = reader.some_length(raw.top.as_ref(), SIZE);
    let panel = reader.some_name(raw.panel.as_ref());
    let hatches = hatches(reader, raw.hatches.as_ref());
    let outline = outline(reader, raw, (trim, span), opened);
    Some(Wing { id, side, beside: beside?, top, panel, outline: outline?, hatches, span })
}

/// The carcase that it names, or the only one.
fn beside(
    reader: &mut Reader<'_>,
    place: Option<&Place<String>>,
    carcases: &[Carcase],
    span: Span,
) -> Option<At<String>> {
    let ids = || carcases.iter().map(|carcase| carcase.id.value.as_str());
    let (at, message) = match (place.map(|place| reader.name(place)), carcases) {
        (None, [only]) => return Some(At::new(only.id.value.clone(), span)),
        (Some(name), _) if ids().any(|id| id == name.value) => return Some(name),
        (Some(name), _) => (name.span, format!("no carcase is called `{}`", shown(&name.value))),
        (None, _) => (span, "beside which carcase does this wing lie?".to_owned()),
    };
    let near = place.and_then(|place| did_you_mean(place.value(), ids()));
    let help = near.unwrap_or_else(|| format!("`beside:` one of {}", ids().collect::<Vec<_>>().join(", ")));
    reader.findings.push(Finding::new(&wing_rules::WING_BESIDE_UNCLEAR, at, message).help(help));
    None
}

fn outline(
    reader: &mut Reader<'_>,
    raw: &raw::Wing,
    (trim, span): (f64, Span),
    opened: &mut Opened<'_>,
) -> Option<WingOutline> {
    match (&raw.points, &raw.outline) {
        (Some(list), None) => {
            let clearance = reader.length_or(raw.clearance.as_ref(), GAP, trim, span);
            let points = points(reader, list)?;
            Some(WingOutline::Measured(MeasuredLine { points, clearance }))
        }
        (None, Some(place)) => {
            if let Some(clearance) = &raw.clearance {
                let message = "a drawn outline is the panel's edge as it is cut; nothing is kept from it";
                let at = reader.span(clearance);
                let finding = Finding::new(&wing_rules::WING_OUTLINE_UNCLEAR, at, message);
                reader
                    .findings
                    .push(finding.help("leave `clearance` out and draw the edge where it is to be"));
            }
            drawn(reader, place, opened)
        }
        (points, _) => {
            let given = if points.is_some() { "both" } else { "neither" };
            let message = format!("a wing has `points` or an `outline`; this one has {given}");
            let finding = Finding::new(&wing_rules::WING_OUTLINE_UNCLEAR, span, message);
            reader
                .findings
                .push(finding.help("`points: [{x: .., y: ..}, ..]` as measured along the vehicle's side"));
            None
        }
    }
}

fn points(reader: &mut Reader<'_>, list: &Place<Vec<Place<raw::WingPoint>>>) -> Option<At<Vec<WingPoint>>> {
    let span = reader.span(list);
    reader.counted(list, MOST_POINTS);
    let mut points: Vec<WingPoint> = Vec::new();
    for place in list.value() {
        let (raw, at) = (place.value(), reader.span(place));
        let point = WingPoint {
            x: reader.length(&raw.x, POSITION),
            y: reader.length(&raw.y, SIZE),
            fillet: reader.length_or(raw.fillet.as_ref(), GAP, 0.0, at),
        };
        let last = points.last().map(|last| (last.x.value - point.x.value, last.y.value - point.y.value));
        if last.is_some_and(|(x, y)| x.hypot(y) < SAME_POINT) {
            let place = format!("({}, {})", decimal(point.x.value, 1), decimal(point.y.value, 1));
            let message = format!("the point {place} stands twice");
            reader
                .findings
                .push(Finding::new(&wing_rules::WING_OUTLINE_UNCLEAR, at, message).help("remove one"));
            continue;
        }
        points.push(point);
    }
    if points.len() < 2 {
        let message = "a measured line needs two points at least";
        let finding = Finding::new(&wing_rules::WING_OUTLINE_UNCLEAR, span, message);
        reader
            .findings
            .push(finding.help("measure the vehicle's side at both ends of the panel and between"));
        return None;
    }
    let ends = (points[0].x.value, points[points.len() - 1].x.value);
    if (ends.0 - ends.1).abs() < SAME_POINT {
        let message = format!("the line begins and ends at x = {} mm", decimal(ends.0, 1));
        let finding = Finding::new(&wing_rules::WING_OUTLINE_UNCLEAR, span, message);
        reader
            .findings
            .push(finding.help("points go from one end of the panel along the vehicle's side to the other"));
        return None;
    }
    if ends.0 > ends.1 {
        points.reverse();
    }
    Some(At::new(points, span))
}

fn drawn(
    reader: &mut Reader<'_>,
    place: &Place<raw::DrawnOutline>,
    opened: &mut Opened<'_>,
) -> Option<WingOutline> {
    let (raw, span) = (place.value(), reader.span(place));
    let at = raw.at.as_ref().map(Place::value);
    let x = reader.length_or(at.and_then(|at| at.x.as_ref()), POSITION, 0.0, span);
    let y = reader.length_or(at.and_then(|at| at.y.as_ref()), POSITION, 0.0, span);
    let file = reader.sentence(&raw.file);
    let text = match opened(&file.value) {
        Ok(text) => text,
        Err(reason) => {
            reader.findings.push(crate::spec::unreadable(&file.value, file.span, &reason));
            return None;
        }
    };
    let unit = raw.units.as_ref().map(|units| match units.value() {
        raw::Units::Mm => drawing::Unit::Millimetre,
        raw::Units::Inch => drawing::Unit::Inch,
    });
    match drawing::read_one(text.as_bytes(), drawing::Reading { unit, layers: &[] }) {
        Ok(outline) => Some(WingOutline::Drawn { outline, at: [x, y], span }),
        Err(faults) => {
            for fault in faults {
                reader.findings.push(fault.found(file.span, &file.value));
            }
            None
        }
    }
}

/// The hatches of a wing or of a carcase's panel.
pub(super) fn hatches(reader: &mut Reader<'_>, list: Option<&Place<Vec<Place<raw::Hatch>>>>) -> Vec<Hatch> {
    let Some(list) = list else { return Vec::new() };
    reader.counted(list, MOST_HATCHES);
    list.value()
        .iter()
        .map(|place| {
            let (raw, span) = (place.value(), reader.span(place));
            Hatch {
                x: reader.length(&raw.x, POSITION),
                y: reader.length(&raw.y, POSITION),
                length: reader.length(&raw.length, SIZE),
                width: reader.length(&raw.width, SIZE),
                gap: reader.length_or(raw.gap.as_ref(), GAP, HATCH_GAP, span),
                ledge: reader.length_or(raw.ledge.as_ref(), SIZE, LEDGE, span),
                finger_hole: reader.length_or(raw.finger_hole.as_ref(), FINGER, FINGER_HOLE, span),
                span,
            }
        })
        .collect()
}
