//! Equipment: where it stands, what holds it, what it needs.

use crate::example_kits;
use crate::geom::Aabb;
use crate::joints::Purpose;

/// A carcase of `height` with a pocket of 480 and a tray beside it, this equipment and more.
fn kit(height: f64, equipment: &[&str], more: &str) -> String {
    let lines: Vec<String> = equipment.iter().map(|one| format!("  - {{{one}}}")).collect();
    let lines = lines.join("\n");
    format!(
        "bay: {{width: 1060, depth: 1100, height: 1000}}\ncarcases:\n  - {{id: main, width: 1029, depth: 983, height: {height}, \
         panel: birch-12, columns: [{{size: 480, id: pocket, open: {{}}}}, {{id: tray, tray: {{slide: heavy-800}}}}]}}\n\
         equipment:\n{lines}\n{more}"
    )
}

fn found(spec: &str) -> Vec<(&'static str, String)> {
    let findings = example_kits::built(spec).findings.into_iter();
    // Bolts that gave way to something may be further apart than usual.
    let told = findings.filter(|finding| finding.rule.name != "bolt-spacing");
    told.map(|finding| (finding.rule.name, finding.message)).collect()
}

const CASE: &str = "size: {length: 300, width: 200, height: 150}, mass: {empty: 8, full: 20}";

#[test]
fn it_stands_where_it_is_put_and_turns_about_its_middle() {
    let spec = kit(
        400.0,
        &[
            &format!("id: a, in: main-pocket, {CASE}, straps: 0, offset: {{x: -200}}"),
            &format!("id: b, in: main-pocket, {CASE}, straps: 0, turn: 90, offset: {{x: 150, y: 20}}"),
            &format!("id: c, on: main-tray, {CASE}, straps: 0"),
            &format!("id: d, on: main-deck, {CASE}, straps: 0, turn: -180"),
            &format!("id: e, at: {{x: 700, y: 0, z: 700}}, {CASE}, straps: 0, turn: 90"),
        ],
        "",
    );
    let built = example_kits::built(&spec);
    // Nothing else is wrong than that nothing holds them.
    assert!(
        built.findings.iter().all(|finding| finding.rule.name == "equipment-loose"),
        "{:?}",
        built.findings
    );
    let kit = built.finished.unwrap().kit;
    let at = |name: &str| kit.layout.equipment.iter().find(|one| one.name == name).unwrap().aabb;
    let board = |name: &str| kit.layout.boards.iter().find(|board| board.name == name).unwrap().aabb;
    let middle = |aabb: Aabb| aabb.low + aabb.size() / 2.0;
    let cell = kit.layout.cells.iter().find(|cell| cell.name == "main-pocket").unwrap().room;
    assert!((middle(at("a")).x - middle(cell).x + 200.0).abs() < 1e-6);
    assert!((at("a").low.z - board("main-base").high.z).abs() < 1e-6);
    assert!((at("a").size().x - 300.0).abs() < 1e-6 && (at("b").size().x - 200.0).abs() < 1e-6);
    assert!((middle(at("b")).y - middle(cell).y - 20.0).abs() < 1e-6);
    let platform = board("main-tray-platform");
    assert!(
        (at("c").low.z - platform.high.z).abs() < 1e-6
            && (middle(at("c")).x - middle(platform).x).abs() < 1e-6
    );
    assert!(
        (at("d").low.z - board("main-deck").high.z).abs() < 1e-6 && (at("d").size().x - 300.0).abs() < 1e-6
    );
    assert!((middle(at("e")).x - 700.0).abs() < 1e-6 && (at("e").low.z - 700.0).abs() < 1e-6);
}

/// 1 kg a litre: 40 l weigh 40 kg and their shell.
#[test]
fn a_tank_weighs_its_shell_and_its_water() {
    let spec = kit(
        400.0,
        &[
            "id: tank, kind: water-tank-20, in: main-pocket, turn: 90",
            "id: other, kind: water-tank-20, on: main-deck, liquid: 40",
        ],
        "",
    );
    let finished = example_kits::finished(&spec);
    let of = |name: &str| finished.kit.layout.equipment.iter().find(|one| one.name == name).unwrap().clone();
    assert!((of("tank").full - 22.4).abs() < 1e-9 && (of("tank").empty - 2.4).abs() < 1e-9);
    assert!((of("other").full - 42.4).abs() < 1e-9);
    // They are carried: the kit itself weighs what it weighs without them, but for the straps that hold them.
    let bare = example_kits::finished(spec.split("equipment:").next().unwrap());
    let parts = |finished: &crate::finished::Finished| {
        let parts = finished
            .masses
            .parts
            .iter()
            .filter(|part| !part.name.contains("strap") && !part.name.contains("hardware"));
        parts.map(|part| part.mass).sum::<f64>()
    };
    // Holes for the straps' bolts are missing from panels: 6.6 mm through 12 mm of birch are 0.3 g each.
    assert!((parts(&finished) - parts(&bare)).abs() < 0.01);
}

#[test]
fn straps_are_bolted_down_beside_it_or_into_the_trays_sides() {
    let tank = example_kits::finished(&kit(
        400.0,
        &["id: tank, kind: water-tank-20, in: main-pocket, turn: 90"],
        "",
    ));
    let bolts: Vec<_> = tank.kit.bolts.iter().filter(|bolt| bolt.purpose == Purpose::Fixture).collect();
    assert_eq!(bolts.len(), 4);
    let aabb = tank.kit.layout.equipment[0].aabb;
    for bolt in &bolts {
        // Down through the base; no nut may stand out under it, so the head is sunk there and the nut above.
        assert!(bolt.direction.z > 0.5 && bolt.hardware.head.length_is_overall, "{}", bolt.name);
        let beside =
            (bolt.origin.y - aabb.high.y - 22.0).abs().min((aabb.low.y - 22.0 - bolt.origin.y).abs());
        assert!(beside < 1e-6, "{}", bolt.name);
        let panels: Vec<&str> = bolt.panels.iter().map(|id| tank.kit.panel(*id).name.as_str()).collect();
        assert_eq!(panels, ["main-base"]);
    }
    // A fridge as long as its tray leaves no room but at the tray's sides.
    let fridge = kit(400.0, &["id: fridge, kind: fridge-50, on: main-tray, offset: {x: 3}, air: {}"], "")
        .replace("tray: {slide: heavy-800}", "open_top: {depth: 850}, tray: {slide: heavy-800}");
    let finished = example_kits::finished(&fridge);
    let bolts: Vec<_> = finished.kit.bolts.iter().filter(|bolt| bolt.purpose == Purpose::Fixture).collect();
    assert_eq!(bolts.len(), 4);
    assert!(bolts.iter().all(|bolt| bolt.direction.y.abs() > 0.5));
    let lines = crate::export::hardware::lines(&finished);
    let straps = lines.iter().find(|line| line.size == "strap").unwrap();
    assert_eq!(straps.needed, 2);
    // 50 kg of fridge and the tray on a pair rated 100 kg, of which 0.7 count.
    let carried = finished.masses.carried[0];
    assert!(
        (carried.equipment - 50.0).abs() < 1e-9 && carried.full > 56.0 && carried.full < 70.0,
        "{carried:?}"
    );
    let heavier = fridge.replace("air: {}", "air: {}, mass: {empty: 22, full: 70}");
    assert_eq!(found(&heavier)[0].0, "slide-overloaded");
}

#[test]
fn a_bar_is_bolted_to_the_uprights_on_either_side() {
    let finished =
        example_kits::finished(&kit(320.0, &[&format!("id: a, in: main-pocket, {CASE}, bars: 1")], ""));
    let kit = &finished.kit;
    let pocket = kit.layout.cells.iter().find(|cell| cell.name == "main-pocket").unwrap().room;
    let case = kit.layout.equipment[0].aabb;
    let bar = kit.layout.fixtures.iter().find(|fixture| fixture.name == "a-bar-1").unwrap();
    // It lies on the case, from upright to upright; its tabs go up along them by 40 mm.
    let [flat, left, right] = [bar.solids[0], bar.solids[1], bar.solids[2]];
    assert!((flat.low.z - case.high.z).abs() < 1e-9 && (flat.size().z - 4.0).abs() < 1e-9);
    assert!((flat.high.y - pocket.high.y).abs() < 1e-9 && (flat.low.y - pocket.low.y).abs() < 1e-9);
    assert!((left.high.y - pocket.high.y).abs() < 1e-9 && (right.low.y - pocket.low.y).abs() < 1e-9);
    assert!((left.size().z - 40.0).abs() < 1e-9 && (left.low.z - case.high.z).abs() < 1e-9);
    // A bolt through either upright, across the bay, and the steel's mass: 30 x 4 mm of 7850 kg/m3.
    let bolts: Vec<_> = kit.bolts.iter().filter(|bolt| bolt.name.starts_with("a-bar-1/")).collect();
    assert_eq!(bolts.len(), 2);
    assert!(bolts.iter().all(|bolt| bolt.direction.y.abs() > 0.5 && bolt.panels.len() == 1));
    let length = pocket.size().y + 80.0;
    assert!((bar.mass - length * 120.0 * 7.85e-6).abs() < 1e-9, "{}", bar.mass);
    // Under a low deck there is no upright over it: the tabs go down beside it.
    let low = example_kits::finished(&self::kit(
        240.0,
        &["id: a, in: main-pocket, size: {length: 300, width: 200, height: 180}, mass: {empty: 8}, bars: 1"],
        "",
    ));
    let bar = low.kit.layout.fixtures.iter().find(|fixture| fixture.name == "a-bar-1").unwrap();
    assert!(bar.solids[1].low.z < low.kit.layout.equipment[0].aabb.high.z - 30.0, "{:?}", bar.solids);
    // Nothing asks for straps any more.
    let tank = example_kits::finished(&self::kit(
        320.0,
        &["id: tank, kind: water-tank-20, in: main-pocket, turn: 90, bars: 1"],
        "",
    ));
    assert_eq!((tank.kit.layout.equipment[0].straps, tank.kit.layout.equipment[0].bars), (0, 1));
}

#[test]
fn what_does_not_fit_says_by_how_much() {
    for (equipment, rule, text) in [
        (
            "id: a, in: main-pocket, size: {length: 300, width: 500, height: 150}, mass: {empty: 8}",
            "equipment-does-not-fit",
            "10 mm to the right, 10 mm to the left",
        ),
        (
            "id: a, in: main-pocket, size: {length: 300, width: 200, height: 400}, mass: {empty: 8}",
            "equipment-does-not-fit",
            "mm up",
        ),
        (
            "id: a, in: main-pocket, offset: {x: 400}, size: {length: 300, width: 200, height: 100}, mass: {empty: 8}",
            "equipment-does-not-fit",
            "mm forward",
        ),
        (
            "id: a, in: main-pocket, size: {length: 300, width: 200, height: 100}",
            "equipment-unclear",
            "no mass",
        ),
        ("id: a, in: main-pocket, mass: {empty: 8}", "equipment-unclear", "no size"),
        ("id: a, kind: pump, in: main-pocket, on: main-tray", "equipment-unclear", "has 2 of them"),
        ("id: a, kind: pump, in: main-pocket, turn: 45", "equipment-unclear", "no quarter turn"),
        ("id: a, kind: pump, in: main-pocket, mass: {empty: 5, full: 3}", "equipment-unclear", "less than"),
        ("id: a, kind: pmup, in: main-pocket", "unknown-name", "`pmup`"),
        ("id: a, kind: pump, in: main-poket", "equipment-place-unknown", "`main-poket`"),
        ("id: a, kind: pump, on: main-poket", "equipment-place-unknown", "`main-poket`"),
        ("id: a, kind: pump, in: main-pocket, air: {gap: -5}", "out-of-range", "must be at least 0"),
        ("id: a, kind: pump, at: {x: 500, y: 0, z: 500}", "strap-without-panel", "a foot"),
        (
            "id: a, in: main-pocket, size: {length: 300, width: 470, height: 100}, mass: {empty: 8}, straps: 1, offset: {x: -325}",
            "strap-without-panel",
            "no room for a strap",
        ),
    ] {
        let found = found(&kit(400.0, &[equipment], ""));
        assert!(
            found.iter().any(|(name, message)| *name == rule && message.contains(text)),
            "{equipment}: {found:?}"
        );
    }
    let twice = kit(
        400.0,
        &[
            &format!("id: a, in: main-pocket, {CASE}"),
            &format!("id: b, in: main-pocket, {CASE}, offset: {{x: 250}}"),
        ],
        "",
    );
    let overlap = found(&twice).into_iter().find(|(rule, _)| *rule == "parts-overlap").unwrap();
    // 300 long each and 250 apart.
    assert_eq!(overlap.1, "`a` and `b` reach 50 mm into each other");
}

/// A lid needing 380 above a gap of 340 fails.
#[test]
fn a_lid_opens_where_it_stands_or_where_it_comes_out() {
    let case = |tray: &str, deck: f64, on: &str| {
        format!(
            "bay: {{width: 1060, depth: 1100, height: 1400}}\ncarcases:\n  - {{id: main, width: 700, depth: 983, height: {deck}, \
             panel: {{}}birch-12, cell: {{id: cell, {tray}}}}}\nequipment:\n  - {{id: chest, {on}, size: {{length: 500, width: \
             300, height: 200}}, mass: {{empty: 8}}, straps: 0, lid: {{height: 380}}}}\n"
        )
        .replace("{}birch", "birch")
    };
    let lids = |spec: &str| -> Vec<String> {
        found(spec)
            .into_iter()
            .filter(|(rule, _)| *rule == "lid-does-not-open")
            .map(|(_, message)| message)
            .collect()
    };
    let birch = example_kits::finished(&case("open: {}", 900.0, "in: main-cell")).kit.layout.boards[0]
        .material
        .actual;
    let low = lids(&case("open: {}", 540.0 + 2.0 * birch, "in: main-cell"));
    assert_eq!(low, ["the lid of `chest` needs 380 mm and has 340 mm up to `main-deck`"]);
    assert_eq!(lids(&case("open: {}", 580.0 + 2.0 * birch, "in: main-cell")), [""; 0]);
    // On a tray the lid counts where the tray comes to.
    let tray = "tray: {slide: overtravel-700, comes_clear: true}";
    assert_eq!(lids(&case(tray, 540.0, "on: main-cell")), [""; 0]);
    let half = "tray: {slide: heavy-300, depth: 700}";
    let shut = lids(&case(half, 540.0, "on: main-cell"));
    assert!(shut[0].contains("drawn out it strikes `main-deck`"), "{shut:?}");
}

#[test]
fn air_counts_what_is_open_and_not_what_is_blocked() {
    let closed = "columns: [{size: 400, id: box, blank: {}}, {id: tools, drawer: {slide: heavy-800}}]";
    let spec = |cutouts: &str| {
        format!(
            "bay: {{width: 1060, depth: 1100, height: 1000}}\ncarcases:\n  - {{id: main, width: 1000, depth: 900, height: 400, panel: \
             birch-12, {closed}}}\nequipment:\n  - {{id: charger, kind: charger, in: main-box, size: {{length: 200, width: 130, height: 200}}, \
             air: {{inlet: 30, outlet: 30}}, offset: {{x: 60}}}}\ncutouts:\n  - {{id: spare, panel: main-deck, round: {{diameter: 20}}, middle: {{right: 200}}}}\n{cutouts}"
        )
    };
    let none = found(&spec(""));
    assert_eq!(none.len(), 1, "{none:?}");
    assert_eq!(
        none[0].1,
        "`charger` gets too little air: 0 of 30 cm2 below its middle, 0 of 30 cm2 above its middle"
    );
    // 200 x 16 with round ends: 184 x 16 + 8 x 8 x pi = 3145 mm2.
    let low =
        "  - {id: low, panel: main-back, slot: {length: 200, width: 16}, middle: {left: 200, bottom: 60}}\n";
    let high =
        "  - {id: high, panel: main-back, slot: {length: 200, width: 16}, middle: {left: 200, top: 60}}\n";
    assert_eq!(found(&spec(&format!("{low}{high}"))), []);
    let finished = example_kits::finished(&spec(&format!("{low}{high}")));
    let airing = &finished.moves.airings[0];
    let area = 184.0 * 16.0 + 64.0 * std::f64::consts::PI;
    assert!((airing.low - area).abs() < 1e-6 && (airing.high - area).abs() < 1e-6, "{airing:?}");
    // Through the divider into the cell of a shut drawer: nothing passes.
    let into_drawer =
        "  - {id: low, panel: main-divider-1, slot: {length: 200, width: 16}, middle: {bottom: 44}}\n";
    let blocked = found(&spec(&format!("{into_drawer}{high}")));
    let air = blocked.iter().find(|(rule, _)| *rule == "air-too-little").map(|(_, message)| message.clone());
    assert!(air.is_some_and(|message| message.contains("`low` does not count")), "{blocked:?}");
}

#[test]
fn what_must_be_reached_is_found_behind_a_panel() {
    let board = |offset: f64| {
        kit(
            400.0,
            &[&format!(
                "id: breakers, kind: breaker-board, in: main-pocket, turn: 180, offset: {{x: {offset}}}"
            )],
            "",
        )
    };
    // Turned, its front looks at the back panel: 100 must be free before it.
    assert_eq!(found(&board(200.0)), []);
    let behind = found(&board(380.0));
    assert_eq!(behind.len(), 1, "{behind:?}");
    assert!(behind[0].1.contains("`breakers (front face)` cannot be reached: `main-back`"), "{behind:?}");
}
