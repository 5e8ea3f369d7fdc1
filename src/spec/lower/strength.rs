//! Factors and limits of the checks of strength, and what panels bear.

use super::carcase::LOAD;
use super::{Limits, Reader, SIZE};
use crate::diag::Finding;
use crate::number::decimal;
use crate::spec::model::{BoltClass, PanelLoad, Pressing, Setting, StrengthSettings};
use crate::spec::raw;
use crate::spec::rules;
use crate::spec::value::{Amount, Place};

/// Most loads on panels.
const MOST: usize = 200;
/// A factor that only makes a load larger.
const FACTOR: Limits = Limits { least: 1.0, above: false, most: 20.0, unit: "" };
/// A part of something.
const PART: Limits = Limits { least: 0.0, above: false, most: 1.0, unit: "" };
/// Span by sag.
const SAG: Limits = Limits { least: 10.0, above: false, most: 2000.0, unit: "" };
const CLASS: Limits = Limits { least: 1.0, above: false, most: 3.0, unit: "" };
const PERSON: Limits = Limits { least: 30.0, above: false, most: 300.0, unit: " kg" };
const KNEE: Limits = Limits { least: 20.0, above: false, most: 300.0, unit: " mm" };
const APART: Limits = Limits { least: 0.0, above: false, most: 1000.0, unit: " mm" };
const SLOPE: Limits = Limits { least: 0.0, above: false, most: 60.0, unit: " degrees" };
const PULL: Limits = Limits::more_than_zero(100_000.0, " N");

/// All settings. What each default rests on stands in `strength::settings`.
pub(super) fn settings(reader: &mut Reader<'_>, place: Option<&Place<raw::Strength>>) -> StrengthSettings {
    let none = raw::Strength::default();
    let raw = place.map_or(&none, Place::value);
    let bolts = raw.bolts.as_ref().map(|class| match class.value() {
        raw::BoltClass::Class46 => BoltClass::Class46,
        raw::BoltClass::Class88 => BoltClass::Class88,
        raw::BoltClass::A2_70 => BoltClass::A2_70,
    });
    let knee = reader.some_length(raw.knee.as_ref(), KNEE).map(|knee| knee.value);
    let apart = reader.some_length(raw.knees_apart.as_ref(), APART).map(|apart| apart.value);
    let mut or = |amount: &Option<Place<Amount>>, limits: Limits, default: f64| {
        Setting::or(reader.some_number(amount.as_ref(), limits).map(|own| own.value), default)
    };
    let settings = StrengthSettings {
        service_class: or(&raw.service_class, CLASS, 2.0),
        bolts: Setting::or(bolts, BoltClass::Class88),
        person: or(&raw.person, PERSON, 100.0),
        knee: Setting::or(knee, 75.0),
        knees_apart: Setting::or(apart, 250.0),
        load_factor: or(&raw.load_factor, FACTOR, 1.5),
        restraint_factor: or(&raw.restraint_factor, FACTOR, 1.25),
        rough_track: or(&raw.rough_track, FACTOR, 2.0),
        drawer_out: or(&raw.drawer_out, FACTOR, 2.0),
        sag_moment: or(&raw.sag_moment, SAG, 60.0),
        sag_lasting: or(&raw.sag_lasting, SAG, 200.0),
        stored_part: or(&raw.stored_part, PART, 0.8),
        weight_counted: or(&raw.weight_counted, PART, 0.0),
        tipping_factor: or(&raw.tipping_factor, FACTOR, 1.5),
        latch_factor: or(&raw.latch_factor, FACTOR, 1.5),
        latch_slope: or(&raw.latch_slope, SLOPE, 20.0),
        friction: or(&raw.friction, PART, 0.3),
        strap_tension: or(&raw.strap_tension, PULL, 500.0),
        strap_rating: or(&raw.strap_rating, PULL, 2500.0),
    };
    if let Some(class) = raw.service_class.as_ref().filter(|_| settings.service_class.value.fract() != 0.0) {
        let message = format!("there is no service class {}", decimal(settings.service_class.value, 3));
        let finding = Finding::new(&rules::OUT_OF_RANGE, reader.span(class), message);
        reader.findings.push(finding.help("1, 2 or 3: dry, damp at times, wet"));
    }
    settings
}

/// What panels bear, by place in the text.
pub(crate) fn panel_loads(
    reader: &mut Reader<'_>,
    list: Option<&Place<Vec<Place<raw::PanelLoad>>>>,
) -> Vec<PanelLoad> {
    reader.each(list, MOST, |reader, place| {
        let (raw, span) = (place.value(), reader.span(place));
        let mass = reader.some_number(raw.mass.as_ref(), LOAD);
        let person = raw.person.as_ref().map(|person| *person.value());
        if mass.is_none() && person.is_none() {
            let finding = Finding::new(&rules::OUT_OF_RANGE, span, "this load says nothing");
            reader.findings.push(finding.help("give a `mass` in kg, or `person: true` or `false`"));
        }
        Some(PanelLoad {
            panel: reader.name(&raw.panel),
            mass: mass.map(|mass| mass.value),
            pressing: raw.pressing.as_ref().map_or(Pressing::Spread, |pressing| match pressing.value() {
                raw::Pressing::Spread => Pressing::Spread,
                raw::Pressing::Foot => Pressing::Foot,
                raw::Pressing::Line => Pressing::Line,
            }),
            size: reader.some_length(raw.size.as_ref(), SIZE).map(|size| size.value),
            lasting: raw.lasting.as_ref().is_none_or(|lasting| *lasting.value()),
            person,
            span,
        })
    })
}
