//! What holds a kit to the vehicle, on whole kits.

use crate::example_kits::{built, finished};
use crate::layout::OpeningKind;

/// A carcase 1000 wide, 900 deep, 300 high, from x = 25 on, over a bay with one point.
fn kit(point: &str, fixing: &str) -> String {
    format!(
        "bay:\n  {{width: 1040, depth: 1100, height: 800, anchors: [{{id: left, thread: M8, depth: 18, {point}}}]}}\n\
         carcases:\n  - id: main\n    width: 1000\n    depth: 900\n    height: 300\n    panel: birch-12\n    anchors: \
         [{{point: left{fixing}}}]\n    cell: {{open: {{}}}}\n"
    )
}

fn errors(spec: &str) -> Vec<(String, String)> {
    let findings = built(spec).findings;
    let errors = findings.into_iter().filter(|f| f.rule.severity == crate::diag::Severity::Error);
    errors.map(|f| (f.rule.name.to_owned(), f.message)).collect()
}

#[test]
fn a_bolt_goes_through_the_base_into_its_point() {
    let kit = finished(&kit("x: 300, y: 400", "")).kit;
    let bolt = kit.bolt(kit.anchorages[0].bolt);
    assert_eq!((bolt.origin.x, bolt.origin.y), (300.0, 400.0));
    // Base of 12 and a spreader washer of 3: 15 + 8 = 23, so 25 long and 10 in the thread.
    assert!((bolt.hardware.length - 25.0).abs() < 1e-9 && (bolt.hardware.proud - 10.0).abs() < 1e-9);
    let base = kit.panels.iter().find(|panel| panel.name == "main-base").unwrap();
    let holes: Vec<_> = base.bores.iter().filter(|bore| bore.bolt == kit.anchorages[0].bolt).collect();
    // ISO 273 medium for M8.
    assert!(holes.len() == 1 && (holes[0].diameter - 9.0).abs() < 1e-9);
    let there =
        base.placement.to_vehicle(crate::geom::Point3::new(holes[0].centre.x, holes[0].centre.y, 0.0));
    assert!((there.x - 300.0).abs() < 1e-9 && (there.y - 400.0).abs() < 1e-9);
}

#[test]
fn a_place_known_within_4_and_2_mm_gets_a_slot_as_much_longer() {
    let kit = finished(&kit("x: 300, y: 400, tolerance: {x: 4, y: 2}", "")).kit;
    let base = kit.panels.iter().find(|panel| panel.name == "main-base").unwrap();
    let slots: Vec<_> =
        base.openings.iter().filter(|opening| opening.kind == OpeningKind::BoltSlot).collect();
    let (low, high) = slots[0].path.bounds();
    let size = high - low;
    let sides = [size.x.min(size.y), size.x.max(size.y)];
    // 9 + 2 * 4 along x, 9 + 2 * 2 across; corners of 4.5: 17 * 13 - (4 - pi) 4.5^2.
    assert!(slots.len() == 1 && (sides[0] - 13.0).abs() < 1e-9 && (sides[1] - 17.0).abs() < 1e-9);
    assert!((slots[0].path.area().abs() - (221.0 - (4.0 - std::f64::consts::PI) * 20.25)).abs() < 1e-9);
    assert!(base.bores.iter().all(|bore| bore.bolt != kit.anchorages[0].bolt));
    // 0.5 either way is within the round hole's own play.
    let round = finished(&self::kit("x: 300, y: 400, tolerance: {x: 0.5}", "")).kit;
    assert!(round.panels.iter().all(|panel| panel.openings.is_empty()));
}

#[test]
fn one_sided_tolerance_makes_a_slot_with_round_ends() {
    let kit = finished(&kit("x: 300, y: 400, tolerance: {y: 6}", "")).kit;
    let base = kit.panels.iter().find(|panel| panel.name == "main-base").unwrap();
    let slot = &base.openings[0].path;
    // 9 wide, 12 between the centres.
    let area = 12.0 * 9.0 + std::f64::consts::PI * 20.25;
    assert!((slot.area().abs() - area).abs() < 1e-9 && slot.vertices().len() == 6, "{slot:?}");
    // 13 either way is more than a spreader washer of 40 covers: 20 - 8 = 12.
    let told = errors(&self::kit("x: 300, y: 400, tolerance: {y: 13}", ""));
    assert_eq!(told[0].0, "anchor-without-bolt");
    assert!(told[0].1.contains("12 mm is the most"), "{told:?}");
}

#[test]
fn people_are_not_held_by_what_holds_the_kit() {
    for kind in ["seat", "seat-belt", "child-restraint"] {
        let point = format!("x: 300, y: 400, kind: {kind}");
        let told = errors(&kit(&point, ""));
        assert!(told.iter().any(|(rule, _)| rule == "anchor-holds-people"), "{told:?}");
        let approved = kit(&point, ", engineer: approval 17");
        assert!(errors(&approved).is_empty());
        let finished = finished(&approved);
        assert_eq!(finished.kit.anchorages[0].engineer.as_deref(), Some("approval 17"));
        assert!(finished.moves.zones.is_empty());
    }
}

#[test]
fn what_stands_over_a_point_is_named_and_a_notch_makes_room() {
    // The side stands from 488 to 500; a washer of 40 reaches from 455 to 495.
    let blocked = kit("x: 300, y: 475", "");
    let told = errors(&blocked);
    assert_eq!(told[0].0, "anchor-blocked");
    assert!(told[0].1.contains("main-side-left"), "{told:?}");
    let notched = blocked
        .replace("    cell:", "    notches: [{side: left, from: 270, to: 330, height: 40}]\n    cell:");
    let kit = finished(&notched).kit;
    let filled = |name: &str| kit.layout.boards.iter().find(|b| b.name == name).unwrap().fills_its_box();
    assert!(filled("main-base") && !filled("main-side-left") && filled("main-side-right"));
}

#[test]
fn a_turnbuckle_spans_from_the_point_to_the_panel() {
    let spec = kit("x: 960, y: 300, slope: 22", ", turnbuckle: {panel: main-back, z: 190}");
    let finished = finished(&spec);
    let tie = &finished.kit.ties[0];
    // The eye in the point: half its ring of 36 above it. The one on the back, at 925: for 12 of board, washers of 2
    // on both sides, 8.5 of eye nut and a thread more, 25.75, a bolt of 30 is 4.25 too long; two washers of 1.6 more
    // leave 2.3 proud. So 925 + 2 + 3.2 + 18.
    assert_eq!((tie.from.x, tie.from.z, tie.to.x, tie.to.z), (960.0, 18.0, 948.2, 190.0));
    assert!(finished.masses.parts.iter().any(|part| part.kind == crate::mass::PartKind::Turnbuckle));
    let low = spec.replace("z: 190", "z: 100");
    assert_eq!(errors(&low)[0].0, "turnbuckle-length");
    // The ring ends 948.2 + 18 = 966.2 from the rear, so a seat back at 966 is met and one at 967 is not.
    let bay = |depth: f64| {
        spec.replace("depth: 1100, height", &format!("depth: {depth}, height")).replace("x: 960", "x: 945")
    };
    let outside = |spec: &str| errors(spec).iter().any(|(rule, _)| rule == "outside-bay");
    assert!(outside(&bay(966.0)) && !outside(&bay(967.0)), "{:?}", errors(&bay(967.0)));
}

#[test]
fn a_carcase_stands_on_the_false_floor_under_it_and_one_bolt_holds_both() {
    let floor = "floors: [{id: false-floor, panel: birch-9, from: 20, to: 960, width: 1000}]\n";
    let spec = format!("{}{floor}", kit("x: 300, y: 400, z: -12", ""));
    let finished = finished(&spec);
    let kit = &finished.kit;
    let bolt = kit.bolt(kit.anchorages[0].bolt);
    let names: Vec<&str> = bolt.panels.iter().map(|&id| kit.panel(id).name.as_str()).collect();
    assert_eq!(names, ["main-base", "false-floor"]);
    // Base and floor as thick as they are, and 12 down to the point.
    let thick: f64 = bolt.panels.iter().map(|&id| kit.panel(id).material.actual).sum();
    assert!((bolt.grip - thick - 12.0).abs() < 1e-9, "{}", bolt.grip);
    let warnings = built(&spec).findings;
    assert!(warnings.iter().all(|finding| finding.rule.name != "carcase-loose"), "{warnings:?}");
    let beside = built(&spec.replace("to: 960, width: 1000", "to: 24, width: 1000")).findings;
    let loose: Vec<&str> =
        beside.iter().filter(|f| f.rule.name == "carcase-loose").map(|f| f.on.as_str()).collect();
    assert_eq!(loose, ["false-floor"]);
}
