//! Batteries and gas: the areas that vents need, and what is refused.

use crate::diag::{At, Span};
use crate::example_kits;
use crate::spec::{Battery, Chemistry, Living};

/// A closed locker of one cell, 476 x 576 mm inside at the most, with these cut-outs and this equipment.
fn kit(cutouts: &[&str], equipment: &str) -> String {
    let lines: Vec<String> = cutouts.iter().map(|cutout| format!("  - {{{cutout}}}\n")).collect();
    let cutouts = if lines.is_empty() { String::new() } else { format!("cutouts:\n{}", lines.concat()) };
    format!(
        "bay: {{width: 1040, depth: 1050, height: 800}}\ncarcases:\n  - {{id: main, at: {{x: 100}}, width: 500, depth: 600, height: 540, \
         panel: birch-12, cell: {{id: locker, door: {{hinge: left}}}}}}\n{cutouts}equipment:\n  - {{{equipment}}}\n"
    )
}

fn found(text: &str) -> Vec<(&'static str, String)> {
    let findings = example_kits::built(text).findings;
    findings.into_iter().map(|finding| (finding.rule.name, finding.message)).collect()
}

/// By hand, EN 50272-3: six closed cells of 100 Ah: Q = 0.05 x 6 x 1 x 100 / 100 = 0.3 m3/h, A = 28 x 0.3 = 8.4 cm2. Twelve
/// open ones of 60 Ah: 0.05 x 12 x 2 x 60 / 100 = 0.72 m3/h, 20.16 cm2.
#[test]
fn hydrogen_asks_for_so_much_vent() {
    let vent = |chemistry, cells, capacity| Battery { chemistry, cells, capacity }.vent();
    assert!((vent(Chemistry::LeadAcidSealed, 6.0, 100.0) - 840.0).abs() < 1e-9);
    assert!((vent(Chemistry::LeadAcid, 12.0, 60.0) - 2016.0).abs() < 1e-9);
    assert!(vent(Chemistry::Lithium, 4.0, 200.0).abs() < 1e-12);
}

#[test]
fn a_lead_battery_in_a_closed_locker_needs_vents_and_a_lithium_one_is_not_judged() {
    let lead = found(&kit(&[], "id: power, kind: battery-lead-100, in: main-locker"));
    let short = "`power` gets too little air: 0 of 8.4 cm2 below its middle, 0 of 8.4 cm2 above its middle";
    assert_eq!(lead, [("air-too-little", short.to_owned())]);
    let vents = [
        "id: low, panel: main-side-right, round: {diameter: 40}, middle: {bottom: 60}",
        "id: high, panel: main-side-right, round: {diameter: 40}, middle: {top: 60}",
    ];
    assert_eq!(found(&kit(&vents, "id: power, kind: battery-lead-100, in: main-locker")), []);
    assert_eq!(found(&kit(&[], "id: power, kind: battery-100, in: main-locker")), []);
}

/// Every field of a vented locker counts.
#[test]
fn gas_needs_a_locker_that_is_sealed_and_vented_low_and_high() {
    const LOW: &str = "id: low, panel: main-base, slot: {length: 250, width: 24}, middle: {rear: 90}";
    const HIGH: &str = "id: high, panel: main-side-right, slot: {length: 250, width: 24}, edge: {top: 60}";
    let gas = |cutouts: &[&str], locker: &str| -> Vec<String> {
        let text = kit(cutouts, &format!("id: bottle, kind: gas-cylinder-4, in: main-locker{locker}"));
        let found = found(&text);
        assert!(found.iter().all(|(rule, _)| *rule == "gas-not-vented"), "{found:?}");
        found.into_iter().map(|(_, message)| message.replace("`bottle` holds gas: ", "")).collect()
    };
    let whole = ", locker: {sealed: true, low: [low], high: [high]}";
    assert_eq!(gas(&[LOW, HIGH], whole), [""; 0]);
    assert_eq!(gas(&[LOW, HIGH], ""), ["it may not stand inside the vehicle without a vented locker"]);
    let open = ", locker: {sealed: false, low: [low], high: [high]}";
    assert_eq!(gas(&[LOW, HIGH], open), ["its locker is not sealed towards the inside"]);
    // 31 x 24 with round ends: 7 x 24 and a circle of 24, 168 + 452.4 mm2.
    let small = LOW.replace("length: 250", "length: 31");
    let short = gas(&[&small, HIGH], whole);
    assert!(short.len() == 1 && short[0].starts_with("vents at the floor have 6.2 of 50 cm2"), "{short:?}");
    let raised = LOW.replace("main-base", "main-side-right").replace("{rear: 90}", "{bottom: 60}");
    let found = gas(&[&raised, HIGH], whole);
    assert_eq!(found[0], "`low` does not lie at the floor of `main-locker`");
    let lowered = HIGH.replace("top: 60", "top: 330");
    assert_eq!(gas(&[LOW, &lowered], whole)[0], "`high` does not lie under the ceiling of `main-locker`");
    let unknown = ", locker: {sealed: true, low: [lwo], high: [high]}";
    assert!(gas(&[LOW, HIGH], unknown).contains(&"no cut-out is called `lwo`".to_owned()));
    // Openings to the inside, and one that nobody named.
    let opens = |more: &str| gas(&[LOW, HIGH, more], whole);
    assert_eq!(
        opens("id: door, front_of: main-locker, round: {diameter: 40}"),
        ["`door` opens its locker to the inside through its front"]
    );
    assert_eq!(
        opens("id: more, panel: main-side-left, round: {diameter: 40}"),
        ["`more` opens its locker, and is no vent of it"]
    );
    let twice = kit(
        &[LOW, HIGH],
        "id: bottle, kind: gas-cylinder-4, in: main-locker, locker: {sealed: true, low: [low], high: [low]}",
    );
    assert_eq!(
        self::found(&twice),
        [("equipment-unclear", "`low` is named `low` and `high`; an opening is one vent".to_owned())]
    );
    // On the deck, in no cell.
    let text = kit(&[], "id: bottle, kind: gas-cylinder-4, on: main-deck");
    assert!(self::found(&text).iter().any(|(rule, _)| *rule == "gas-not-vented"));
}

#[test]
fn gas_may_not_share_an_opening_with_the_next_cell() {
    let text = "\
bay: {width: 1040, depth: 1050, height: 800}
carcases:
  - id: main
    at: {x: 100}
    width: 1000
    depth: 600
    height: 540
    panel: birch-12
    columns: [{id: gas, door: {hinge: left}}, {id: beds, open: {}}]
cutouts:
  - {id: low, panel: main-base, slot: {length: 250, width: 24}, middle: {rear: 90, left: 250}}
  - {id: high, panel: main-divider-1, slot: {length: 250, width: 24}, edge: {top: 60}}
equipment: [{id: bottle, kind: gas-cylinder-4, in: main-gas, locker: {sealed: true, low: [low], high: [high]}}]
";
    let found: Vec<String> = found(text).into_iter().map(|(_, message)| message).collect();
    assert_eq!(found, ["`bottle` holds gas: `high` opens its locker to `main-beds`"]);
}

/// By hand: 29 MJ/h and 2 berths, 610 x 29 + 650 x 2 = 18,990 mm2 (the worked example of a public guide to AS/NZS 5601.2); 1 MJ/h
/// and no berth 610, so 4000.
#[test]
fn a_living_space_asks_for_so_much_air() {
    let living = |berths| Living {
        berths: At::new(berths, Span::default()),
        vents: Vec::new(),
        span: Span::default(),
    };
    assert!((living(2).vents_needed(29.0) - 18_990.0).abs() < 1e-9);
    assert!((living(0).vents_needed(1.0) - 4000.0).abs() < 1e-9);
}

/// A van with an open galley, these openings and a stove.
fn galley(living: &str, stove: &str) -> String {
    format!(
        "vehicle:\n  bay: {{width: 1040, depth: 1050, height: 1400}}\n{living}carcases:\n  - {{id: main, width: 700, depth: 900, \
         height: 800, panel: birch-12, cell: {{id: galley, open: {{}}}}}}\nequipment:\n  - {{id: stove, kind: cooker, in: \
         main-galley, {stove}}}\n"
    )
}

#[test]
fn gas_that_burns_needs_openings_low_and_high() {
    const LOW: &str = "{id: low, area: 94.95, bottom: 20, top: 150}";
    const HIGH: &str = "{id: high, area: 94.95, bottom: 1250, top: 1390}";
    let vented = |vents: &str, stove: &str| {
        let living = format!("  living: {{berths: 2, vents: [{vents}]}}\n");
        found(&galley(&living, &format!("heat: {{above: 500, beside: 50}}, {stove}")))
    };
    let both = format!("{LOW}, {HIGH}");
    assert_eq!(vented(&both, "burns: {rate: 29}"), []);
    let of = |found: Vec<(&'static str, String)>| -> Vec<String> {
        assert!(found.iter().all(|(rule, _)| *rule == "living-space-not-vented"), "{found:?}");
        found.into_iter().map(|(_, message)| message).collect()
    };
    let short = |words: &str, has: &str| {
        format!(
            "openings within 150 mm of {words} have {has} of 95 cm2, half of the 189.9 cm2 that the gas appliances and berths ask for"
        )
    };
    // 18,990 / 2 = 9495 mm2, 94.95 cm2.
    assert_eq!(of(vented(LOW, "burns: {rate: 29}")), [short("the roof", "0")]);
    assert_eq!(of(vented(HIGH, "burns: {rate: 29}")), [short("the floor", "0")]);
    // A millimetre too high, and a hair too small.
    assert_eq!(of(vented(&both.replace("top: 150", "top: 151"), "burns: {rate: 29}")).len(), 1);
    assert_eq!(of(vented(&both.replace("94.95", "94.94"), "burns: {rate: 29}")).len(), 2);
    // Sealed from the room, 650 x 2 is less than 4000: 20 cm2 each.
    let small = both.replace("94.95", "20");
    assert_eq!(vented(&small, "burns: {rate: 29, room_sealed: true}"), []);
    assert_eq!(of(vented(&small.replace("20,", "19.9,"), "burns: {rate: 29, room_sealed: true}")).len(), 2);
    // Nothing said of the space.
    let silent = found(&galley("", "heat: {above: 500, beside: 50}, burns: {rate: 29}"));
    assert_eq!(silent[0].0, "living-space-not-vented");
    assert!(silent[0].1.contains("nothing says how the space"), "{silent:?}");
}

#[test]
fn a_cooker_must_say_its_heat_and_what_it_burns() {
    let missing = found(&galley("", "offset: {x: 0}"));
    let words = |key: &str| format!("`stove` has no `{key}`, for which there is no generic value");
    assert_eq!(missing, [("equipment-unclear", words("burns")), ("equipment-unclear", words("heat"))]);
    let electric = galley("", "offset: {x: 0}").replace("kind: cooker", "kind: cooker-electric");
    assert_eq!(found(&electric), [("equipment-unclear", words("heat"))]);
}

/// Inside height 776, the plate 70 high: 706 are free over its top. Inside width 676, the plate 290 wide: 193 beside it, less
/// the angles of 30 in the upper corners.
#[test]
fn what_is_near_a_hot_plate_is_found() {
    let plate = |heat: &str| {
        found(&galley("", &format!("heat: {{{heat}}}")).replace("kind: cooker", "kind: cooker-electric"))
    };
    assert_eq!(plate("above: 706, beside: 163"), []);
    assert_eq!(plate("above: 676, beside: 193"), []);
    let [(rule, message)] = plate("above: 707, beside: 50").try_into().unwrap();
    assert_eq!(rule, "heat-too-near");
    let words = "`stove` needs 707 mm free over its top and 50 mm beside it; `main-deck` is in that room, 706 mm above its top";
    assert_eq!(message, words);
    let [(rule, message)] = plate("above: 100, beside: 194").try_into().unwrap();
    assert!(rule == "heat-too-near" && message.contains("main-side-"), "{message}");
}
