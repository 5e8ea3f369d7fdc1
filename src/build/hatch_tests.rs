//! Hatches in the decks and bases of carcases.

use crate::example_kits;
use crate::layout::Role;

/// A carcase of one cell with this hatch, and more of the bay and the carcase.
fn kit(hatch: &str, bay: &str, more: &str) -> String {
    format!(
        "bay: {{width: 1040, depth: 1100, height: 800{bay}}}\ncarcases:\n  - {{id: main, width: 1000, depth: 900, height: \
         300, panel: birch-12, cell: {{open: {{}}}}, hatches: {{{hatch}}}{more}}}\n"
    )
}

fn rules_of(spec: &str) -> Vec<&'static str> {
    example_kits::built(spec).findings.iter().map(|finding| finding.rule.name).collect()
}

#[test]
fn a_decks_lid_lies_on_strips_and_a_bases_on_the_floor() {
    let deck = example_kits::finished(&kit("deck: [{x: 470, y: 100, length: 300, width: 200}]", "", ""));
    let hatch = &deck.kit.layout.hatches[0];
    assert_eq!((hatch.sides.len(), hatch.ledge), (4, 20.0));
    let strips = deck.kit.panels.iter().filter(|panel| panel.role == Role::Ledge);
    assert!(strips.clone().count() == 4 && strips.into_iter().all(|strip| strip.bores.len() >= 2));
    let base = example_kits::finished(&kit("base: [{x: 470, y: 100, length: 300, width: 200}]", "", ""));
    let hatch = &base.kit.layout.hatches[0];
    assert!(hatch.sides.is_empty());
    assert!((hatch.opening.0.x, hatch.opening.0.y, hatch.opening.1.y) == (320.0, 0.0, 200.0));
    assert!(base.kit.panels.iter().all(|panel| panel.role != Role::Ledge));
    let lid = base.kit.panels.iter().find(|panel| panel.name == "main-base-lid-1").unwrap();
    let rounded = |l: f64, w: f64, r: f64| l * w - (4.0 - std::f64::consts::PI) * r * r;
    assert!((lid.outline.area() - rounded(294.0, 194.0, 9.0)).abs() < 1e-6);
    let opening = &base.kit.panels.iter().find(|panel| panel.name == "main-base").unwrap().openings[0];
    assert!((opening.path.area() + rounded(300.0, 200.0, 12.0)).abs() < 1e-6);
}

#[test]
fn a_drawer_under_a_decks_hatch_leaves_room_for_the_strips_bolts() {
    let of = |clear_above: f64| {
        let drawer = format!("{{drawer: {{slide: heavy-800, clear_above: {clear_above}}}}}");
        kit("deck: [{x: 470, y: 100, length: 300, width: 200}]", "", "").replace("{open: {}}", &drawer)
    };
    let findings = example_kits::built(&of(15.0)).findings;
    assert!(!findings.is_empty());
    for finding in findings {
        assert!(finding.help.is_some_and(|help| help.contains("`clear_above`")), "{}", finding.message);
    }
    assert_eq!(rules_of(&of(35.0)), [""; 0]);
}

#[test]
fn what_lies_under_a_base_is_reached_through_its_hatch() {
    let reach = ", reach: [{id: cover, x: 600, y: 0, length: 180, width: 150, height: 60}]";
    let of = |hatch: &str| kit(hatch, reach, "");
    assert_eq!(rules_of(&of("deck: [{x: 600, y: 0, length: 200, width: 200}]")), ["out-of-reach"]);
    let base = of("base: [{x: 600, y: 0, length: 200, width: 200}]");
    assert_eq!(rules_of(&base), [""; 0]);
    let zone = &example_kits::finished(&base).moves.zones[0];
    assert!(!zone.wants_tools(), "{zone:?}");
    // Under a drawer that opens as well.
    let drawer = base.replace("{open: {}}", "{drawer: {slide: heavy-800}}");
    assert_eq!(rules_of(&drawer), [""; 0]);
    // Too small an opening leaves a rim in the way.
    assert_eq!(rules_of(&of("base: [{x: 600, y: 0, length: 160, width: 200}]")), ["out-of-reach"]);
}

#[test]
fn what_is_in_a_hatchs_way_is_named() {
    let divided = kit("base: [{x: 470, y: 0, length: 200, width: 200}]", "", "")
        .replace("cell: {open: {}}", "columns: [{open: {}}, {open: {}}]");
    let findings = example_kits::built(&divided).findings;
    let told: Vec<_> = findings.iter().map(|finding| finding.message.clone()).collect();
    assert_eq!(told, ["`main-divider-1` stands where the opening would be"]);
    // The angle along the side reaches 20 to 40 mm inwards; the rim alone would be wide enough.
    assert_eq!(
        rules_of(&kit("base: [{x: 470, y: 380, length: 200, width: 200}]", "", "")),
        ["hatch-blocked"]
    );
    assert_eq!(
        rules_of(&kit("base: [{x: 470, y: 450, length: 200, width: 200}]", "", "")),
        ["hatch-off-board"]
    );
    let aside =
        example_kits::built(&kit("base: [{x: 470, y: 450, length: 200, width: 200}]", "", "")).findings;
    let help = aside[0].help.as_deref();
    assert_eq!(help, Some("the board reaches from x = 37 to 925 mm and from y = -500 to 500 mm"));
    // Over the false front there is no deck.
    assert_eq!(
        rules_of(&kit("deck: [{x: 100, y: 0, length: 200, width: 200}]", "", "")),
        ["hatch-off-board"]
    );
}

#[test]
fn an_anchor_finds_no_base_in_a_hatch() {
    let bay = ", anchors: [{id: ring, x: 600, y: 50, thread: M8, depth: 18}]";
    let more = ", anchors: [{point: ring}]";
    assert_eq!(rules_of(&kit("base: [{x: 400, y: 50, length: 200, width: 200}]", bay, more)), [""; 0]);
    let found = rules_of(&kit("base: [{x: 600, y: 50, length: 200, width: 200}]", bay, more));
    assert_eq!(found, ["anchor-not-under-base"]);
    // Its washer would hang over the edge.
    let found = rules_of(&kit("base: [{x: 495, y: 50, length: 200, width: 200}]", bay, more));
    assert_eq!(found, ["anchor-not-under-base"]);
}
