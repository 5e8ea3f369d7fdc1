//! Cut-outs: where they come to lie, what gives way to them, what is bolted into them.

use crate::example_kits;
use crate::geom::{Aabb, Point3};
use crate::joints::{Kit, Panel, Purpose};

/// A carcase with two columns and these cut-outs, one a line.
fn kit(cutouts: &[&str]) -> String {
    let lines: Vec<String> = cutouts.iter().map(|cutout| format!("  - {{{cutout}}}")).collect();
    let lines = lines.join("\n");
    format!(
        "bay: {{width: 1040, depth: 1050, height: 800}}\ncarcases:\n  - {{id: main, at: {{x: 50}}, width: 1000, depth: 900, \
         height: 300, panel: birch-12, columns: [{{size: 400, id: left, blank: {{}}}}, {{id: tools, drawer: {{slide: \
         heavy-800}}}}]}}\ncutouts:\n{lines}\n"
    )
}

fn found(cutouts: &[&str]) -> Vec<(&'static str, String)> {
    let findings = example_kits::built(&kit(cutouts)).findings;
    findings.into_iter().map(|finding| (finding.rule.name, finding.message)).collect()
}

fn panel<'a>(kit: &'a Kit, name: &str) -> &'a Panel {
    kit.panels.iter().find(|panel| panel.name == name).unwrap()
}

/// The boxes of a panel's openings in the vehicle.
fn openings(kit: &Kit, name: &str) -> Vec<Aabb> {
    let panel = panel(kit, name);
    let corners = |opening: &crate::layout::Opening| {
        let (low, high) = opening.path.bounds();
        Aabb::around([low, high].map(|p| panel.placement.to_vehicle(Point3::new(p.x, p.y, 0.0))))
    };
    panel.openings.iter().map(corners).collect()
}

#[test]
fn places_count_from_the_panels_edges_whatever_way_it_faces() {
    let kit = example_kits::finished(&kit(&[
        "id: air, panel: main-back, round: {diameter: 60}, middle: {left: 200, bottom: 80}",
        "id: edge, panel: main-back, rectangle: {width: 80, height: 40}, edge: {left: 300, top: 30}",
        "id: inside, panel: main-back, rectangle: {width: 50, height: 30}, middle: {right: 150, top: 100}, facing: rear",
        "id: deck, panel: main-deck, rectangle: {width: 100, height: 60}, edge: {rear: 40, right: 60}",
    ]));
    let back = panel(&kit.kit, "main-back");
    let aabb = back.plate().aabb();
    let (left, right, bottom, top) = (aabb.high.y, aabb.low.y, aabb.low.z, aabb.high.z);
    let is = |aabb: &Aabb, y: [f64; 2], z: [f64; 2]| {
        let off = [aabb.low.y - y[0], aabb.high.y - y[1], aabb.low.z - z[0], aabb.high.z - z[1]];
        assert!(off.iter().all(|off| off.abs() < 1e-6), "{aabb:?} {y:?} {z:?}");
    };
    let [air, edge, inside] = openings(&kit.kit, "main-back").try_into().unwrap();
    is(&air, [left - 230.0, left - 170.0], [bottom + 50.0, bottom + 110.0]);
    is(&edge, [left - 380.0, left - 300.0], [top - 70.0, top - 30.0]);
    is(&inside, [right + 125.0, right + 175.0], [top - 115.0, top - 85.0]);
    // Width across the vehicle, height forward; the deck begins behind the fronts, 62 from the bay's rear edge.
    let deck = openings(&kit.kit, "main-deck")[0];
    assert!((deck.low.x - 102.0).abs() < 1e-6 && (deck.high.x - 162.0).abs() < 1e-6, "{deck:?}");
    assert!((deck.low.y + 440.0).abs() < 1e-6 && (deck.high.y + 340.0).abs() < 1e-6, "{deck:?}");
    // A circle of 60: area by hand.
    assert!((back.openings[0].path.area() + std::f64::consts::PI * 900.0).abs() < 1e-6);
}

#[test]
fn a_group_has_its_place_as_a_whole() {
    let kit = example_kits::finished(&kit(&[
        "id: louvre, panel: main-side-left, slot: {length: 80, width: 8}, edge: {rear: 100, bottom: 60}, \
         repeat: {across: {count: 2, pitch: 100}, up: {count: 4, pitch: 20}}",
    ]));
    let side = panel(&kit.kit, "main-side-left").plate().aabb();
    let all = openings(&kit.kit, "main-side-left");
    let around = all.iter().copied().reduce(Aabb::joined).unwrap();
    // 80 + 100 long, 3 x 20 + 8 high.
    assert_eq!(all.len(), 8);
    assert!((around.low.x - side.low.x - 100.0).abs() < 1e-6 && (around.size().x - 180.0).abs() < 1e-6);
    assert!((around.low.z - side.low.z - 60.0).abs() < 1e-6 && (around.size().z - 68.0).abs() < 1e-6);
    // A slot of 80 x 8 is a rectangle of 72 x 8 and a circle of 8.
    let area = 8.0 * (72.0 * 8.0 + std::f64::consts::PI * 16.0);
    assert!((kit.kit.layout.cutouts[0].free_area - area).abs() < 1e-6);
}

#[test]
fn bolts_give_way_to_a_cut_out() {
    // 25 mm below the deck, where the angle's bolts go: they keep three diameters from its rim, and none is lost from
    // the joint's ends.
    let spec = kit(&["id: air, panel: main-side-right, round: {diameter: 40}, edge: {top: 40, rear: 400}"]);
    let built = example_kits::built(&spec);
    assert!(built.findings.is_empty(), "{:?}", built.findings);
    let kit = built.finished.unwrap().kit;
    let side = panel(&kit, "main-side-right");
    let rim = side.openings.iter().find(|opening| opening.joint == "air").unwrap();
    for bore in &side.bores {
        let diameter = kit.bolt(bore.bolt).hardware.thread.diameter;
        assert!(rim.path.distance_to(bore.centre) >= 3.0 * diameter - 1e-6);
    }
}

#[test]
fn a_fittings_bolts_go_through_flange_and_panel() {
    let kit = example_kits::finished(&kit(&[
        "id: socket, front_of: main-left, fitting: socket-double, middle: {left: 120, bottom: 100}",
    ]));
    let bolts: Vec<_> = kit.kit.bolts.iter().filter(|bolt| bolt.purpose == Purpose::Fixture).collect();
    let front = panel(&kit.kit, "main-left");
    let aabb = front.plate().aabb();
    assert_eq!(bolts.len(), 2);
    for (bolt, y) in bolts.iter().zip([120.0 - 60.3, 120.0 + 60.3]) {
        // 12 of panel (actual) and 5 of flange; the head lies on the flange, 5 before the front's face.
        assert!((bolt.grip - (front.material.actual + 5.0)).abs() < 1e-6);
        assert!((bolt.origin.x - (aabb.low.x - 5.0)).abs() < 1e-6);
        assert!(
            (bolt.origin.y - (aabb.high.y - y)).abs() < 1e-6
                && (bolt.origin.z - aabb.low.z - 100.0).abs() < 1e-6
        );
        assert_eq!(
            bolt.panels,
            [crate::layout::BoardId(kit.kit.panels.iter().position(|p| p.name == "main-left").unwrap())]
        );
        assert!(bolt.direction.x > 0.5);
    }
    let socket = &kit.kit.layout.fixtures[0];
    assert_eq!((socket.item.as_str(), socket.solids.len()), ("socket-double", 2));
    let lines = crate::export::hardware::lines(&kit);
    assert!(lines.iter().any(|line| (line.what.as_str(), line.needed) == ("double socket", 1)), "{lines:?}");
}

#[test]
fn a_handhole_goes_through_front_and_box() {
    let handhole = "id: handhole, front_of: main-tools, slot: {length: 110, width: 35}, through: true";
    let kit = example_kits::finished(&kit(&[handhole]));
    let (front, inner) = (openings(&kit.kit, "main-tools-front"), openings(&kit.kit, "main-tools-box-front"));
    let inner: Vec<_> = inner.into_iter().filter(|inner| inner.size().y > 100.0).collect();
    assert_eq!((front.len(), inner.len()), (1, 1));
    for edge in [front[0].low - inner[0].low, front[0].high - inner[0].high] {
        assert!(edge.y.abs() < 1e-6 && edge.z.abs() < 1e-6, "{front:?} {inner:?}");
    }
    let alone = found(&[&handhole.replace(", through: true", "")]);
    assert_eq!(alone[0].0, "cutout-blocked");
    assert!(alone[0].1.contains("`main-tools-box-front`"), "{alone:?}");
}

#[test]
fn what_stands_behind_a_cut_out_is_named() {
    // The drawer's slide on the divider, the back's meeting with it, and the drawer's box 19 off the divider.
    let divider = |more: &str| format!("id: air, panel: main-divider-1, round: {{diameter: 60}}{more}");
    assert_eq!(found(&[&divider("")])[0].0, "cutout-blocked");
    let back = found(&["id: air, panel: main-back, round: {diameter: 60}, middle: {left: 404}"]);
    assert_eq!(back[0].0, "cutout-blocked");
    assert!(back[0].1.contains("main-divider-1") || back[0].1.contains("main-back"), "{back:?}");
    let behind = |room: f64| {
        format!(
            "id: air, panel: main-side-right, rectangle: {{width: 60, height: 40}}, edge: {{rear: 300, bottom: 40}}, behind: {room}"
        )
    };
    assert_eq!(found(&[&behind(14.0)]), []);
    let struck = found(&[&behind(60.0)]);
    assert!(struck.iter().any(|(_, message)| message.contains("air (room behind)")), "{struck:?}");
    // The bay's side is 20 from the carcase's.
    let outside = found(&[
        "id: air, panel: main-side-left, round: {diameter: 60}, middle: {rear: 450}, facing: right, behind: 40",
    ]);
    assert!(outside.iter().any(|(rule, _)| *rule == "outside-bay"), "{outside:?}");
}

#[test]
fn corners_are_no_tighter_than_the_tool() {
    let points = |radius: &str| {
        format!(
            "id: tri, front_of: main-left, outline: {{points: [{{x: 0, y: 0{radius}}}, {{x: 80, y: 0}}, {{x: 40, y: 60}}]}}"
        )
    };
    assert_eq!(found(&[&points("")]), []);
    assert_eq!(found(&[&points(", radius: 0")])[0].0, "cutout-corner-too-tight");
    assert_eq!(found(&["id: r, front_of: main-left, round: {diameter: 5}"])[0].0, "cutout-corner-too-tight");
    assert_eq!(
        found(&["id: r, front_of: main-left, slot: {length: 50, width: 5.9}"])[0].0,
        "cutout-corner-too-tight"
    );
    assert_eq!(found(&["id: r, front_of: main-left, slot: {length: 50, width: 6}"]), []);
    // The radius of one corner is more than its sides have room for.
    assert_eq!(found(&[&points(", radius: 200")])[0].0, "on-panel-unclear");
}

#[test]
fn each_unclear_cut_out_says_what_is_wrong() {
    for (cutout, rule, text) in [
        ("id: a, panel: main-back", "on-panel-unclear", "one of round, rectangle"),
        ("id: a, round: {diameter: 60}", "on-panel-unclear", "neither"),
        ("id: a, panel: main-back, front_of: main-left, round: {diameter: 60}", "on-panel-unclear", "both"),
        (
            "id: a, panel: main-back, round: {diameter: 60}, middle: {left: 1}, edge: {left: 1}",
            "on-panel-unclear",
            "`middle`",
        ),
        (
            "id: a, panel: main-back, round: {diameter: 60}, middle: {left: 1, right: 1}",
            "on-panel-unclear",
            "`left` and `right`",
        ),
        (
            "id: a, panel: main-back, round: {diameter: 60}, middle: {rear: 1}",
            "panel-unknown",
            "no rear edge",
        ),
        ("id: a, panel: main-back, round: {diameter: 60}, facing: left", "panel-unknown", "not that way"),
        ("id: a, front_of: main-lefty, round: {diameter: 60}", "panel-unknown", "no front"),
        ("id: a, panel: main-back, fitting: sockt", "unknown-name", "`sockt`"),
        ("id: a, panel: main-back, round: {diameter: 400}", "cutout-off-panel", "does not lie within"),
        (
            "id: a, panel: main-back, round: {diameter: 30}, middle: {left: 100, top: 100}, repeat: {across: {count: 3, pitch: 39}}",
            "cutout-off-panel",
            "9 mm",
        ),
        ("id: a, panel: main-back, round: {diameter: -1}", "out-of-range", "more than 0"),
        (
            "id: a, panel: main-back, round: {diameter: 60}, repeat: {up: {count: 1.5, pitch: 39}}",
            "out-of-range",
            "no whole number",
        ),
    ] {
        let found = found(&[cutout]);
        assert!(
            found.iter().any(|(name, message)| *name == rule && message.contains(text)),
            "{cutout}: {found:?}"
        );
    }
}
