//! Equipment.

use super::names;
use super::on_panel::towards;
use super::workshop::whole;
use super::{GAP, Limits, POSITION, Reader, SIZE};
use crate::diag::{At, Finding, Span};
use crate::geom::Point3;
use crate::number::decimal;
use crate::spec::equipment_rules::EQUIPMENT_UNCLEAR;
use crate::spec::model::{
    Air, Battery, Burns, Chemistry, Equipment, EquipmentPlace, Feet, Heat, VentedLocker,
};
use crate::spec::raw;
use crate::spec::value::Place;

/// Most pieces of equipment of a kit.
const MOST: usize = 200;
/// What a vehicle carries.
pub(super) const MASS: Limits = Limits::from_zero(5000.0, " kg");
/// Litres.
const LITRES: Limits = Limits::from_zero(2000.0, " l");
/// Free area.
const AREA: Limits = Limits::from_zero(100_000.0, " cm2");
/// Of gas: a house's boiler burns less than 150.
const RATE: Limits = Limits::more_than_zero(1000.0, " MJ/h");
/// Cells in series.
const CELLS: Limits = Limits { least: 1.0, above: false, most: 100.0, unit: "" };
/// Of a battery of lead and acid of 12 V.
const USUAL_CELLS: f64 = 6.0;
/// Of a battery.
const CAPACITY: Limits = Limits::more_than_zero(10_000.0, " Ah");
/// Straps or bars over one thing.
const STRAPS: Limits = Limits::from_zero(10.0, "");
/// mm. Of a foot, where the spec says nothing: a pressed bracket. Common practice, no source.
const FOOT: f64 = 3.0;
/// mm at vents, where the spec says nothing. Common practice: makers' guides range from 20 to 50.
const AIR_GAP: f64 = 50.0;
/// mm for a hand, where the spec says nothing. Common practice, no source.
const HAND: f64 = 60.0;
/// A full turn.
const TURN: Limits = Limits { least: -360.0, above: false, most: 360.0, unit: " degrees" };

/// All equipment, by place in the text.
pub(crate) fn equipment(
    reader: &mut Reader<'_>,
    list: Option<&Place<Vec<Place<raw::Equipment>>>>,
) -> Vec<Equipment> {
    let equipment = reader.each(list, MOST, one);
    reader.differing(equipment.iter().map(|equipment| &equipment.id), "pieces of equipment");
    equipment
}

fn one(reader: &mut Reader<'_>, place: &Place<raw::Equipment>) -> Option<Equipment> {
    let (raw, span) = (place.value(), reader.span(place));
    let id = reader.name(&raw.id);
    let kind = reader.some_name(raw.kind.as_ref());
    let offset = raw.offset.as_ref().map(Place::value);
    let size = raw.size.as_ref().map(|size| {
        let sides = [&size.value().length, &size.value().width, &size.value().height];
        At::new(sides.map(|side| reader.length(side, SIZE).value), reader.span(size))
    });
    let mass = raw.mass.as_ref().map(Place::value);
    let empty = reader.some_number(mass.map(|mass| &mass.empty), MASS);
    let full = reader.some_number(mass.and_then(|mass| mass.full.as_ref()), MASS);
    if let (Some(empty), Some(full)) = (empty, full)
        && full.value < empty.value
    {
        let message =
            format!("{} kg full is less than {} kg empty", decimal(full.value, 2), decimal(empty.value, 2));
        unclear(reader, full.span, &message, "`full` counts the thing itself and what it holds");
    }
    let straps = reader.some_number(raw.straps.as_ref(), STRAPS);
    let bars = reader.some_number(raw.bars.as_ref(), STRAPS);
    let equipment = Equipment {
        offset: (
            reader.length_or(offset.and_then(|offset| offset.x.as_ref()), POSITION, 0.0, span).value,
            reader.length_or(offset.and_then(|offset| offset.y.as_ref()), POSITION, 0.0, span).value,
        ),
        turns: turns(reader, raw),
        liquid: reader.some_number(raw.liquid.as_ref(), LITRES),
        feet: raw.feet.as_ref().map(|place| feet(reader, place)),
        straps: straps.map(|straps| whole(reader, straps, "number of straps")),
        bars: bars.map(|bars| whole(reader, bars, "number of bars")),
        lid: raw.lid.as_ref().map(|lid| reader.length(&lid.value().height, SIZE)),
        air: raw.air.as_ref().map(|place| air(reader, place)),
        battery: raw.battery.as_ref().map(|place| battery(reader, place)),
        gas: raw.gas.as_ref().map(|gas| *gas.value()),
        heat: raw.heat.as_ref().map(|heat| self::heat(reader, heat.value())),
        burns: raw.burns.as_ref().map(|burns| self::burns(reader, burns.value())),
        locker: raw.locker.as_ref().map(|place| locker(reader, place.value())),
        reach: raw.reach.as_ref().map(|list| {
            let face = |place: &Place<raw::FaceReach>| {
                let room = reader.length_or(place.value().room.as_ref(), SIZE, HAND, span);
                (towards(*place.value().face.value()), room.value)
            };
            list.value().iter().map(face).collect()
        }),
        place: where_it_stands(reader, raw, span)?,
        id,
        kind,
        size,
        empty,
        full,
        span,
    };
    Some(equipment)
}

fn where_it_stands(reader: &mut Reader<'_>, raw: &raw::Equipment, span: Span) -> Option<EquipmentPlace> {
    match (&raw.within, &raw.on, &raw.at) {
        (Some(cell), None, None) => Some(EquipmentPlace::In(reader.name(cell))),
        (None, Some(tray), None) => Some(EquipmentPlace::On(reader.name(tray))),
        (None, None, Some(at)) => {
            let at = at.value();
            let [x, y] = [&at.x, &at.y].map(|place| reader.length(place, POSITION).value);
            let z = reader.length_or(at.z.as_ref(), POSITION, 0.0, span).value;
            Some(EquipmentPlace::At(Point3::new(x, y, z)))
        }
        (within, on, at) => {
            let given = [within.is_some(), on.is_some(), at.is_some()].iter().filter(|given| **given).count();
            let message = format!(
                "equipment stands `in` a cell, `on` a tray or `at` a place; this one has {given} of them"
            );
            unclear(reader, span, &message, "e.g. `on: main-fridge` for the tray of that cell");
            None
        }
    }
}

fn turns(reader: &mut Reader<'_>, raw: &raw::Equipment) -> u8 {
    let Some(turn) = &raw.turn else { return 0 };
    let degrees = reader.degrees(turn, TURN);
    let quarters = degrees.value.rem_euclid(360.0) / 90.0;
    let turns = [0_u8, 1, 2, 3].into_iter().find(|turns| (quarters - f64::from(*turns)).abs() < 1e-9);
    turns.unwrap_or_else(|| {
        let message = format!("{} degrees is no quarter turn", decimal(degrees.value, 2));
        unclear(reader, degrees.span, &message, "equipment is turned by 0, 90, 180 or 270 degrees");
        0
    })
}

fn feet(reader: &mut Reader<'_>, place: &Place<raw::Feet>) -> Feet {
    let (raw, span) = (place.value(), reader.span(place));
    reader.counted(&raw.places, 20);
    let pair = |place: &Place<raw::BoltPlace>| {
        [&place.value().x, &place.value().y].map(|amount| reader.length(amount, POSITION).value)
    };
    let places = raw.places.value().iter().map(pair).collect();
    let size = reader.some_thread(Some(&raw.bolt)).unwrap_or(At::new(String::new(), span));
    Feet { size, thickness: reader.length_or(raw.thickness.as_ref(), GAP, FOOT, span).value, places }
}

fn locker(reader: &mut Reader<'_>, raw: &raw::VentedLocker) -> VentedLocker {
    let [low, high] = [&raw.low, &raw.high].map(|list| names(reader, Some(list)));
    if let Some(twice) = high.iter().find(|high| low.iter().any(|low| low.value == high.value)) {
        let message = format!("`{}` is named `low` and `high`; an opening is one vent", twice.value);
        unclear(reader, twice.span, &message, "cut two, one at the floor and one under the ceiling");
    }
    VentedLocker { sealed: *raw.sealed.value(), low, high }
}

fn heat(reader: &mut Reader<'_>, raw: &raw::Heat) -> Heat {
    let [above, beside] = [&raw.above, &raw.beside].map(|length| reader.length(length, GAP).value);
    Heat { above, beside }
}

fn burns(reader: &mut Reader<'_>, raw: &raw::Burns) -> Burns {
    let rate = reader.some_number(Some(&raw.rate), RATE).map_or(0.0, |rate| rate.value);
    Burns { rate, room_sealed: raw.room_sealed.as_ref().is_some_and(|sealed| *sealed.value()) }
}

fn battery(reader: &mut Reader<'_>, place: &Place<raw::Battery>) -> Battery {
    let raw = place.value();
    let cells = reader.some_number(raw.cells.as_ref(), CELLS);
    let cells = cells.map_or(USUAL_CELLS, |cells| f64::from(whole(reader, cells, "number of cells").value));
    let capacity = reader.some_number(Some(&raw.capacity), CAPACITY).map_or(0.0, |capacity| capacity.value);
    let chemistry = match raw.chemistry.value() {
        raw::Chemistry::LeadAcid => Chemistry::LeadAcid,
        raw::Chemistry::LeadAcidSealed => Chemistry::LeadAcidSealed,
        raw::Chemistry::Lithium => Chemistry::Lithium,
    };
    Battery { chemistry, cells, capacity }
}

fn air(reader: &mut Reader<'_>, place: &Place<raw::Air>) -> Air {
    let (raw, span) = (place.value(), reader.span(place));
    let faces =
        raw.faces.as_ref().map(|faces| faces.value().iter().map(|face| towards(*face.value())).collect());
    let mut area =
        |amount: Option<_>| reader.some_number(amount, AREA).map_or(0.0, |area| area.value * 100.0);
    let (inlet, outlet) = (area(raw.inlet.as_ref()), area(raw.outlet.as_ref()));
    let gap = reader.length_or(raw.gap.as_ref(), GAP, AIR_GAP, span).value;
    Air { faces: faces.unwrap_or_default(), gap, inlet, outlet }
}

fn unclear(reader: &mut Reader<'_>, span: Span, message: &str, help: &str) {
    reader.findings.push(Finding::new(&EQUIPMENT_UNCLEAR, span, message).help(help));
}
