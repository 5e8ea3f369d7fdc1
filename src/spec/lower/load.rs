//! Loads and scenarios.

use super::equipment::MASS;
use super::{POSITION, Reader, names};
use crate::diag::{At, Finding, Rule, Span, did_you_mean};
use crate::geom::Point3;
use crate::number::decimal;
use crate::spec::load_rules::{LOAD_OUTSIDE_VEHICLE, LOAD_UNCLEAR, MASSES_UNCLEAR, SCENARIO_UNCLEAR};
use crate::spec::model::{EquipmentFill, Load, LoadKind, People, Scenario, Vehicle, VehicleMasses};
use crate::spec::raw;
use crate::spec::value::Place;

/// Most loads of a design.
const MOST_LOADS: usize = 200;
/// Most scenarios of a design.
const MOST_SCENARIOS: usize = 20;

/// What people weigh, and everything that the vehicle carries beside the kit.
pub(crate) fn loads(
    reader: &mut Reader<'_>,
    file: &raw::Spec,
    vehicle: Option<&Vehicle>,
) -> (Option<People>, Vec<Load>) {
    let people = file.people.as_ref().map(|place| {
        let raw = place.value();
        let mass = reader.some_number(Some(&raw.mass), MASS).map_or(0.0, |mass| mass.value);
        People { mass, basis: reader.sentence(&raw.basis).value }
    });
    let masses = vehicle.and_then(|vehicle| vehicle.masses.as_ref());
    let loads = reader
        .each(file.loads.as_ref(), MOST_LOADS, |reader, place| load(reader, place, people.as_ref(), masses));
    reader.differing(loads.iter().map(|load| &load.id), "loads");
    let wanted = [
        file.loads.as_ref().map(|list| reader.span(list)),
        file.scenarios.as_ref().map(|list| reader.span(list)),
    ];
    if let (Some(span), Some(Vehicle { masses: None, .. })) = (wanted.into_iter().flatten().next(), vehicle) {
        let message = "loads and scenarios are asked for, and nothing says what the vehicle weighs";
        let help = "give the vehicle `masses: {wheelbase: .., rear_axle: .., kerb: {..}, limits: [..]}`";
        reader.findings.push(Finding::new(&MASSES_UNCLEAR, span, message).help(help));
    }
    (people, loads)
}

fn load(
    reader: &mut Reader<'_>,
    place: &Place<raw::Load>,
    people: Option<&People>,
    masses: Option<&VehicleMasses>,
) -> Option<Load> {
    let (raw, span) = (place.value(), reader.span(place));
    let id = reader.name(&raw.id);
    let kind = kind(*raw.kind.value());
    let fault = |reader: &mut Reader<'_>, message: String, help: &str| {
        reader.findings.push(Finding::new(&LOAD_UNCLEAR, span, message).on(&id.value).help(help));
        None::<f64>
    };
    let own = reader.some_number(raw.mass.as_ref(), MASS).map(|mass| mass.value);
    let of_people = people.filter(|_| kind == LoadKind::Person).map(|people| people.mass);
    let mass = own.or(of_people).or_else(|| {
        let help = "give it a `mass` in kg; people may share one: `people: {mass: .., basis: ..}`";
        fault(reader, format!("`{}` has no mass", id.value), help)
    });
    let ball = reader.some_number(raw.ball.as_ref(), MASS).map(|mass| mass.value);
    let at = raw.at.as_ref().map(|at| {
        let at = at.value();
        let [x, y] = [&at.x, &at.y].map(|place| reader.length(place, POSITION).value);
        Point3::new(x, y, reader.length_or(at.z.as_ref(), POSITION, 0.0, span).value)
    });
    let coupling =
        masses.and_then(|masses| masses.coupling.map(|coupling| masses.rear_axle.value - coupling.value));
    let (at, ball) = match (kind, at, ball) {
        (LoadKind::Trailer, None, Some(ball)) => {
            let Some(x) = coupling else {
                let help = "give the vehicle's masses the tow ball: `coupling`, from the rear axle back";
                fault(reader, format!("nothing says where `{}` is coupled", id.value), help);
                return None;
            };
            (Point3::new(x, 0.0, 0.0), ball)
        }
        (LoadKind::Trailer, ..) => {
            let help = "write it like {id: trailer, kind: trailer, mass: 1200, ball: 100}, without `at`";
            fault(
                reader,
                format!("`{}` must say what it puts on the tow `ball`, and no place", id.value),
                help,
            );
            return None;
        }
        (_, Some(at), None) => (at, 0.0),
        (..) => {
            let help = "give it `at: {x: .., y: ..}`, its centre of gravity; only a trailer has a `ball`";
            fault(reader, format!("`{}` must say where it is, and nothing of a `ball`", id.value), help);
            return None;
        }
    };
    let mass = mass?;
    if kind == LoadKind::Trailer && ball > mass {
        let [ball, mass] = [ball, mass].map(|mass| decimal(mass, 2));
        let help = "`mass` is the whole trailer's, what it puts on the ball with it";
        fault(reader, format!("`{}` puts {ball} of its {mass} kg on the ball", id.value), help);
    }
    if let Some(masses) = masses.filter(|_| kind != LoadKind::Trailer) {
        within(reader, (&id, span), at.x, masses);
    }
    Some(Load { id, kind, mass, at, ball, span })
}

/// Sees that a load lies between the vehicle's ends.
fn within(reader: &mut Reader<'_>, (id, span): (&At<String>, Span), x: f64, masses: &VehicleMasses) {
    let rear = masses.rear_axle.value - masses.overhangs.1;
    let front = masses.rear_axle.value + masses.wheelbase.value + masses.overhangs.0;
    if (rear..=front).contains(&x) {
        return;
    }
    let [x, rear, front] = [x, rear, front].map(|x| decimal(x, 1));
    let message = format!("`{}` is at x = {x}; the vehicle reaches from {rear} to {front}", id.value);
    let help = "x is forward of the bay's rear edge; `front_overhang` and `rear_overhang` of the vehicle's masses say how \
                far it reaches beyond its axles";
    reader.findings.push(Finding::new(&LOAD_OUTSIDE_VEHICLE, span, message).on(&id.value).help(help));
}

fn kind(kind: raw::LoadKind) -> LoadKind {
    match kind {
        raw::LoadKind::Person => LoadKind::Person,
        raw::LoadKind::Accessory => LoadKind::Accessory,
        raw::LoadKind::Contents => LoadKind::Contents,
        raw::LoadKind::Roof => LoadKind::Roof,
        raw::LoadKind::TakenOut => LoadKind::TakenOut,
        raw::LoadKind::Trailer => LoadKind::Trailer,
    }
}

/// The scenarios, in the order of the text; where the vehicle says its masses and no scenario is given, one with everything.
pub(crate) fn scenarios(
    reader: &mut Reader<'_>,
    list: Option<&Place<Vec<Place<raw::Scenario>>>>,
    loads: &[Load],
    masses: Option<&VehicleMasses>,
) -> Vec<Scenario> {
    let Some(masses) = masses else { return Vec::new() };
    let scenarios = match list {
        None => vec![everything(loads, masses.span)],
        Some(_) => {
            reader.each(list, MOST_SCENARIOS, |reader, place| Some(scenario(reader, place, loads, masses)))
        }
    };
    for scenario in &scenarios {
        trailers(reader, scenario, loads);
    }
    let ids: Vec<At<String>> =
        scenarios.iter().map(|scenario| At::new(scenario.id.clone(), scenario.span)).collect();
    reader.differing(ids.iter(), "scenarios");
    scenarios
}

/// The kit as it travels, with all loads.
fn everything(loads: &[Load], span: Span) -> Scenario {
    Scenario {
        id: "loaded".to_owned(),
        title: "loaded".to_owned(),
        limits: 0,
        kit: true,
        equipment: EquipmentFill::Full,
        drawers: true,
        loads: (0..loads.len()).collect(),
        comparison: false,
        span,
    }
}

fn scenario(
    reader: &mut Reader<'_>,
    place: &Place<raw::Scenario>,
    loads: &[Load],
    masses: &VehicleMasses,
) -> Scenario {
    let (raw, span) = (place.value(), reader.span(place));
    let id = reader.name(&raw.id).value;
    let limits = raw.limits.as_ref().and_then(|place| {
        let name = reader.name(place);
        let known = masses.limits.iter().map(|limits| limits.id.value.as_str());
        named(reader, &name, known, "set of limits")
    });
    let own = raw.loads.as_ref().map(|list| {
        let names = names(reader, Some(list));
        let known = || loads.iter().map(|load| load.id.value.as_str());
        let mut found: Vec<usize> =
            names.iter().filter_map(|name| named(reader, name, known(), "load")).collect();
        found.sort_unstable();
        found.dedup();
        found
    });
    let yes = |place: &Option<Place<bool>>, default: bool| place.as_ref().map_or(default, |yes| *yes.value());
    Scenario {
        title: reader.some_sentence(raw.title.as_ref()).map_or_else(|| id.clone(), |title| title.value),
        id,
        limits: limits.unwrap_or_default(),
        kit: yes(&raw.kit, true),
        equipment: raw.equipment.as_ref().map_or(EquipmentFill::Full, |fill| match fill.value() {
            raw::EquipmentFill::Full => EquipmentFill::Full,
            raw::EquipmentFill::Empty => EquipmentFill::Empty,
            raw::EquipmentFill::Out => EquipmentFill::Out,
        }),
        drawers: yes(&raw.drawers, true),
        loads: own.unwrap_or_else(|| (0..loads.len()).collect()),
        comparison: yes(&raw.comparison, false),
        span,
    }
}

/// The place of a name in a list; a finding if it is not there.
fn named<'n>(
    reader: &mut Reader<'_>,
    name: &At<String>,
    known: impl Iterator<Item = &'n str> + Clone,
    what: &str,
) -> Option<usize> {
    let found = known.clone().position(|known| known == name.value);
    if found.is_none() {
        let help = did_you_mean(&name.value, known).unwrap_or_else(|| "give one that is listed".to_owned());
        fault(
            reader,
            &SCENARIO_UNCLEAR,
            name.span,
            &format!("there is no {what} called `{}`", name.value),
            &help,
        );
    }
    found
}

/// One vehicle draws one trailer.
fn trailers(reader: &mut Reader<'_>, scenario: &Scenario, loads: &[Load]) {
    let trailers = scenario.loads.iter().filter(|&&load| loads[load].kind == LoadKind::Trailer).count();
    if trailers > 1 {
        let message = format!("`{}` has {trailers} trailers", scenario.id);
        fault(
            reader,
            &SCENARIO_UNCLEAR,
            scenario.span,
            &message,
            "name the loads that go with it under `loads`",
        );
    }
}

fn fault(reader: &mut Reader<'_>, rule: &'static Rule, span: Span, message: &str, help: &str) {
    reader.findings.push(Finding::new(rule, span, message).help(help));
}
