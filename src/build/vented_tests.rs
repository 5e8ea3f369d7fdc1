//! Batteries and gas: the areas that vents need, and what is refused.

use crate::example_kits;
use crate::spec::{Battery, Chemistry};

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
