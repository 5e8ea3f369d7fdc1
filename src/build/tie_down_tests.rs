//! Tie-downs: their bolts and spreaders, what they can hold, what is refused.

use crate::example_kits;
use crate::joints::Purpose;

/// A carcase with an open cell, 1000 wide, and these tie-downs.
fn kit(tie_downs: &[&str]) -> String {
    let lines: Vec<String> = tie_downs.iter().map(|tie_down| format!("  - {{{tie_down}}}")).collect();
    format!(
        "bay: {{width: 1040, depth: 1050, height: 800}}\ncarcases:\n  - {{id: main, width: 1000, depth: 900, height: 300, \
         panel: birch-12, cell: {{open: {{}}}}}}\ntie_downs:\n{}\n",
        lines.join("\n")
    )
}

fn found(text: &str) -> Vec<(&'static str, String)> {
    let findings = example_kits::built(text).findings;
    findings.into_iter().map(|finding| (finding.rule.name, finding.message)).collect()
}

#[test]
fn bolts_go_through_panel_and_spreader() {
    let kit =
        example_kits::finished(&kit(&["id: ring, kind: tie-ring, panel: main-deck, middle: {left: 120}"]))
            .kit;
    let bolts: Vec<_> = kit.bolts.iter().filter(|bolt| bolt.purpose == Purpose::Fixture).collect();
    assert_eq!(bolts.len(), 2);
    let deck = kit.panels.iter().find(|panel| panel.name == "main-deck").unwrap();
    let thickness = deck.material.actual;
    for bolt in bolts {
        // 4 mm of ring under the head, the deck, 3 mm of spreader; the nut presses on steel.
        assert!((bolt.grip - (4.0 + thickness + 3.0)).abs() < 1e-9, "{}", bolt.grip);
        assert!(bolt.direction.z < -0.5);
    }
    let fixture = &kit.layout.fixtures[0];
    let (plate, spreader) = (fixture.solids[0], fixture.solids[1]);
    let top = deck.plate().aabb().high.z;
    assert!((plate.low.z - top).abs() < 1e-9 && (plate.high.z - top - 12.0).abs() < 1e-9);
    assert!((spreader.high.z - (top - thickness)).abs() < 1e-9 && (spreader.size().z - 3.0).abs() < 1e-9);
    // 120 from the deck's left edge, half way along it.
    let aabb = deck.plate().aabb();
    let middle = kit.layout.tie_downs[0].middles[0];
    assert!((aabb.high.y - middle.y - 120.0).abs() < 1e-9);
    assert!((middle.x - f64::midpoint(aabb.low.x, aabb.high.x)).abs() < 1e-9);
}

/// By hand: 2500 N at 45 degrees pull with 1767.8 N along the deck and as much off it. Divided by 9.80665: 180.26 kg of
/// force; over 0.8, 0.5 and 0.2 that is 225.3, 360.5 and 901.3 kg.
#[test]
fn a_strap_holds_what_its_parts_along_and_off_the_panel_pull() {
    let near = |found: [f64; 4], wanted: [f64; 4]| {
        assert!(found.iter().zip(wanted).all(|(a, b)| (a - b).abs() < 0.06), "{found:?}");
    };
    let finished = example_kits::finished(&kit(&[
        "id: ring, kind: tie-ring, panel: main-deck, middle: {left: 120}",
        "id: low, kind: tie-ring, panel: main-deck, middle: {right: 120}, strap_angle: 30, rating: 1000",
        "id: side, kind: tie-ring, panel: main-side-left, facing: right, strap_angle: 30, rating: 1000",
    ]));
    let tie_downs = &finished.kit.layout.tie_downs;
    near(tie_downs[0].masses(), [225.3, 360.5, 360.5, 901.3]);
    // 1000 N at 30 degrees: 866.0 N along, 500 N off the panel; 88.31 and 50.99 kg of force.
    near(tie_downs[1].masses(), [110.4, 176.6, 176.6, 254.9]);
    // On an upright panel that looks sideways, off the panel is sideways, and up is along it.
    near(tie_downs[2].masses(), [110.4, 176.6, 102.0, 441.5]);
}

#[test]
fn what_cannot_hold_is_refused() {
    let of = |tie_down: &str| found(&kit(&[tie_down]));
    let thick = |text: &str| text.replace("birch-12", "birch-15");
    let middle = "id: a, kind: tie-ring, panel: main-deck";
    // The deck is 976 wide between its sides; 474.5 mm from the middle's nearer bolt.
    let finding = &of(middle)[0];
    assert_eq!(finding.0, "tie-down-unsupported");
    assert!(finding.1.contains("main-deck"), "{}", finding.1);
    assert_eq!(found(&thick(&kit(&[middle]))), []);
    assert_eq!(of("id: a, kind: tie-ring, panel: main-deck, middle: {left: 30}")[0].0, "tie-down-off-panel");
    // Of several it is said which: two rings, 600 apart in all.
    let several = "id: a, kind: tie-ring, panel: main-deck, middle: {left: 200}, repeat: {across: {count: 2, pitch: 600}}";
    let finding = &of(several)[0];
    assert!(finding.0 == "tie-down-off-panel" && finding.1.contains("`a-1`"), "{finding:?}");
    assert_eq!(of("id: a, kind: tie-rang, panel: main-deck")[0].0, "unknown-name");
    assert_eq!(of("id: a, kind: tie-ring, panel: main-dock")[0].0, "panel-unknown");
    assert_eq!(of("id: a, kind: tie-ring")[0].0, "on-panel-unclear");
    assert_eq!(
        of("id: a, kind: tie-ring, panel: main-deck, middle: {left: 120}, holds: 226")[0].0,
        "tie-down-overloaded"
    );
    assert_eq!(of("id: a, kind: tie-ring, panel: main-deck, middle: {left: 120}, holds: 225"), []);
    assert_ne!(of("id: a, kind: tie-ring, panel: main-deck, middle: {left: 120}, strap_angle: 91"), []);
    // Over the deck's angle along its side the spreader has no room.
    let over_angle = of("id: a, kind: tie-ring, panel: main-deck, middle: {left: 50}");
    assert!(
        over_angle.iter().any(|(rule, _)| ["parts-overlap", "fixture-bolt-blocked"].contains(rule)),
        "{over_angle:?}"
    );
    // A slot that crosses the spreader from side to side has no corner under it.
    let text = kit(&["id: a, kind: tie-ring, panel: main-deck, middle: {left: 150}"])
        + "cutouts: [{id: slot, panel: main-deck, slot: {length: 200, width: 10, upright: true}, middle: {left: 150}}]\n";
    assert_eq!(found(&text)[0].0, "tie-down-off-panel");
    // In an opening there is nothing to bolt it to.
    let text = kit(&["id: a, kind: tie-ring, panel: main-deck, middle: {left: 150}"])
        + "cutouts: [{id: hole, panel: main-deck, round: {diameter: 20}, middle: {left: 150}}]\n";
    assert_eq!(found(&text)[0].0, "tie-down-off-panel");
}

#[test]
fn a_group_is_placed_as_a_whole_and_turned() {
    let kit = example_kits::finished(&kit(&[
        "id: track, kind: tie-track-500, panel: main-deck, upright: true, middle: {left: 120}, \
         repeat: {across: {count: 1, pitch: 50}, up: {count: 1, pitch: 50}}",
        "id: pair, kind: tie-ring, panel: main-deck, middle: {right: 120, rear: 400}, repeat: {up: {count: 2, pitch: 300}}",
    ]))
    .kit;
    let names: Vec<&str> = kit.layout.fixtures.iter().map(|fixture| fixture.name.as_str()).collect();
    assert_eq!(names, ["track", "pair-1", "pair-2"]);
    let size = kit.layout.fixtures[0].solids[0].size();
    assert!((size.x - 500.0).abs() < 1e-9 && (size.y - 34.0).abs() < 1e-9);
    let middles = &kit.layout.tie_downs[1].middles;
    assert!((middles[1].x - middles[0].x - 300.0).abs() < 1e-9);
}
