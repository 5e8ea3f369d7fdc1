//! What the vehicle weighs and may weigh.

use super::{GAP, Limits, POSITION, Reader, SIZE};
use crate::diag::{At, Finding};
use crate::number::decimal;
use crate::spec::load_rules::{AXLE_LIMIT_BELOW_KERB, MASSES_UNCLEAR};
use crate::spec::model::{Kerb, MassLimits, VehicleMasses};
use crate::spec::raw;
use crate::spec::value::{Amount, Place};

/// On an axle, on a plate.
const MASS: Limits = Limits::more_than_zero(100_000.0, " kg");
/// Of a driver: nobody is 0.
const DRIVER: Limits = Limits::from_zero(300.0, " kg");
/// Of a tank.
const PERCENT: Limits = Limits { least: 0.0, above: false, most: 100.0, unit: " %" };
/// Most sets of limits.
const MOST: usize = 20;
/// mm ahead of the front axle and behind the rear one. Common practice, no source.
const OVERHANGS: (f64, f64) = (1000.0, 1400.0);

/// The vehicle's masses.
pub(super) fn masses(reader: &mut Reader<'_>, place: &Place<raw::VehicleMasses>) -> VehicleMasses {
    let (raw, span) = (place.value(), reader.span(place));
    let kerb = kerb(reader, raw.kerb.value());
    let limits = reader.each(Some(&raw.limits), MOST, |reader, place| {
        let limits = limits(reader, place.value());
        sound(reader, &kerb, &limits);
        Some(limits)
    });
    reader.differing(limits.iter().map(|limits| &limits.id), "sets of limits");
    VehicleMasses {
        wheelbase: reader.length(&raw.wheelbase, SIZE),
        rear_axle: reader.length(&raw.rear_axle, POSITION),
        track: reader.some_length(raw.track.as_ref(), SIZE),
        coupling: reader.some_length(raw.coupling.as_ref(), SIZE),
        overhangs: (
            reader.length_or(raw.front_overhang.as_ref(), GAP, OVERHANGS.0, span).value,
            reader.length_or(raw.rear_overhang.as_ref(), GAP, OVERHANGS.1, span).value,
        ),
        kerb,
        limits,
        span,
    }
}

fn mass(reader: &mut Reader<'_>, amount: &Place<Amount>, limits: Limits) -> At<f64> {
    let span = reader.span(amount);
    reader.some_number(Some(amount), limits).unwrap_or(At::new(0.0, span))
}

fn kerb(reader: &mut Reader<'_>, raw: &raw::Kerb) -> Kerb {
    Kerb {
        front: mass(reader, &raw.front, MASS),
        rear: mass(reader, &raw.rear, MASS),
        fuel: mass(reader, &raw.fuel, PERCENT).value,
        driver: mass(reader, &raw.driver, DRIVER).value,
        weighed: *raw.weighed.value(),
    }
}

fn limits(reader: &mut Reader<'_>, raw: &raw::MassLimits) -> MassLimits {
    let mut some = |amount: &Option<Place<Amount>>| reader.some_number(amount.as_ref(), MASS);
    let (combination, ball, roof) = (some(&raw.combination), some(&raw.ball), some(&raw.roof));
    MassLimits {
        id: reader.name(&raw.id),
        gross: mass(reader, &raw.gross, MASS),
        front: mass(reader, &raw.front, MASS),
        rear: mass(reader, &raw.rear, MASS),
        combination,
        ball,
        roof,
    }
}

/// Sees that limits and kerb mass can belong to one vehicle.
fn sound(reader: &mut Reader<'_>, kerb: &Kerb, limits: &MassLimits) {
    let kg = |mass: f64| decimal(mass, 2);
    for (axle, limit, load) in [("front", limits.front, kerb.front), ("rear", limits.rear, kerb.rear)] {
        if limit.value > 0.0 && limit.value < load.value {
            let message = format!(
                "the {axle} axle may carry {} kg and carries {} kg before anything is loaded",
                kg(limit.value),
                kg(load.value)
            );
            let finding = Finding::new(&AXLE_LIMIT_BELOW_KERB, limit.span, message);
            let help = "read the plate and the weighbridge's slip again: one of both is of the other axle";
            reader.findings.push(finding.also(load.span, "what it carries empty").help(help));
        }
    }
    let empty = kerb.front.value + kerb.rear.value;
    if limits.gross.value > 0.0 && limits.gross.value < empty {
        let message =
            format!("a gross mass of {} kg is less than {} kg empty", kg(limits.gross.value), kg(empty));
        let finding = Finding::new(&MASSES_UNCLEAR, limits.gross.span, message);
        reader.findings.push(finding.help("the gross mass counts the vehicle itself"));
    }
    if let Some(combination) = limits.combination.filter(|combination| combination.value < limits.gross.value)
    {
        let message = format!(
            "a combination mass of {} kg is less than the gross mass of {} kg",
            kg(combination.value),
            kg(limits.gross.value)
        );
        let finding = Finding::new(&MASSES_UNCLEAR, combination.span, message);
        reader.findings.push(finding.help("it counts the vehicle and its trailer"));
    }
}
