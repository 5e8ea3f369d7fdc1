//! Slide-out trays, open tops, rows without a shelf.

use crate::example_kits;
use crate::geom::Aabb;
use crate::joints::Kit;
use crate::layout::Role;

/// A carcase of 1029 with a column of 470 and what is beside it, all verticals 12 (actual 12 by the workshop).
fn kit(left: &str, right: &str) -> String {
    format!(
        "bay: {{width: 1060, depth: 1100, height: 800}}\nworkshop: {{tool: {{diameter: 4}}, materials: {{birch-12: {{actual: \
         12}}}}}}\ncarcases:\n  - {{id: main, width: 1029, depth: 983, height: 305, panel: birch-12, columns: [{{size: 470, \
         {left}}}, {{id: bay, {right}}}]}}\n"
    )
}

fn board(kit: &Kit, name: &str) -> Aabb {
    let boards = kit.layout.boards.iter();
    boards.clone().find(|board| board.name == name).unwrap_or_else(|| panic!("{name}")).aabb
}

fn rules_of(spec: &str) -> Vec<&'static str> {
    example_kits::built(spec).findings.iter().map(|finding| finding.rule.name).collect()
}

/// The river-gauging wagon's tray: a case of 1029 with three verticals of 12 and openings of 470 and 523; slides of 19.1
/// with 0.35 of play leave 523 - 2 x 19.45 = 484.1.
#[test]
fn a_lipped_tray_is_a_low_box_on_its_slides() {
    let finished = example_kits::finished(&kit("open: {}", "tray: {slide: heavy-700, platform: birch-15}"));
    let tray = &finished.kit.layout.drawers[0];
    assert!((tray.opening.0 - 523.0).abs() < 1e-6 && (tray.box_size.0 - 484.1).abs() < 1e-6, "{tray:?}");
    let platform = board(&finished.kit, "main-bay-platform");
    // Between its sides of 12 and flush with their undersides; the base of 12 has angles that it passes over.
    assert!((platform.size().y - (484.1 - 24.0)).abs() < 1e-6);
    assert!(tray.clear.1 >= 10.0 && (platform.low.z - 12.0 - tray.clear.1).abs() < 1e-6);
    let sides = board(&finished.kit, "main-bay-left");
    assert!((sides.size().x - 702.0).abs() < 1e-6 && sides.high.z > platform.high.z);
    assert!(finished.kit.panels.iter().all(|panel| panel.role != Role::Front));
    // It is one body, out by the slides' travel, and every wall is bolted to its neighbours.
    let body = finished.kit.layout.body(tray.body);
    assert!((body.travel.x + 700.0).abs() < 1e-6);
    for joint in ["bay-front+main-bay-left", "bay-platform+main-bay-right", "bay-back+main-bay-platform"] {
        assert!(finished.kit.bolts.iter().filter(|bolt| bolt.name.contains(joint)).count() >= 2, "{joint}");
    }
}

#[test]
fn a_flat_trays_platform_lies_on_its_sides() {
    let finished =
        example_kits::finished(&kit("open: {}", "tray: {slide: heavy-700, style: flat, platform: birch-15}"));
    let kit = &finished.kit;
    let (platform, side, end) =
        (board(kit, "main-bay-platform"), board(kit, "main-bay-left"), board(kit, "main-bay-front"));
    assert!((platform.size().y - 484.1).abs() < 1e-6 && (platform.size().x - 702.0).abs() < 1e-6);
    assert!((platform.low.z - side.high.z).abs() < 1e-6 && (platform.low.z - end.high.z).abs() < 1e-6);
    // Nothing stands out over the platform: its bolts' heads are sunk.
    let heads = kit.bolts.iter().filter_map(|bolt| bolt.solids.head.map(|head| (head, bolt)));
    for (head, bolt) in heads.filter(|(_, bolt)| bolt.name.contains("main-bay-")) {
        assert!(head.high.z <= platform.high.z + 1e-6, "{}", bolt.name);
    }
    // The angles lie below it.
    let angles = kit.angles.iter().filter(|angle| angle.name.contains("main-bay-platform"));
    let legs: Vec<Aabb> = angles.flat_map(|angle| angle.legs).collect();
    assert!(legs.len() >= 8 && legs.iter().all(|leg| leg.high.z <= platform.low.z + 1e-6));
}

#[test]
fn a_tray_comes_clear_only_on_slides_that_come_out_further() {
    // 702 of tray, flush with the carcase's front edge.
    let of = |slide: &str, more: &str| {
        kit("open: {}", &format!("tray: {{slide: {slide}, comes_clear: true{more}}}"))
    };
    assert_eq!(rules_of(&of("heavy-700", "")), ["tray-stays-inside"]);
    assert_eq!(rules_of(&of("overtravel-700", "")), [""; 0]);
    assert_eq!(rules_of(&of("overtravel-700", ", depth: 751")), ["tray-stays-inside"]);
    assert_eq!(rules_of(&of("overtravel-700", ", depth: 750")), [""; 0]);
}

#[test]
fn an_open_top_cuts_the_deck_over_its_cell() {
    let part = example_kits::finished(&kit("open: {}", "open: {}, open_top: {depth: 720}"));
    let deck = part.kit.panels.iter().find(|panel| panel.role == Role::Deck).unwrap();
    // 971 x 1029 less 720 x (523 + the side's 12), but for the one inside corner that the tool of 4 leaves round.
    let area = 971.0 * 1029.0 - 720.0 * 535.0 + 4.0 * (1.0 - std::f64::consts::FRAC_PI_4);
    assert!((deck.outline.area() - area).abs() < 1e-6, "{} {area}", deck.outline.area());
    // All of it: the deck ends over the divider and the right side meets it nowhere.
    let all = example_kits::finished(&kit("open: {}", "open: {}, open_top: {}"));
    let deck = board(&all.kit, "main-deck");
    assert!((deck.size().y - (12.0 + 470.0 + 12.0)).abs() < 1e-6 && (deck.size().x - 971.0).abs() < 1e-6);
    let meets = |name: &str| all.kit.layout.meetings.iter().any(|meeting| meeting.name == name);
    assert!(meets("main-deck+main-divider-1") && !meets("main-deck+main-side-right"));
    // The angle at the divider lies where there is a deck.
    let angles = all.kit.angles.iter().filter(|angle| angle.name.starts_with("main-deck+main-divider-1"));
    let legs: Vec<Aabb> = angles.flat_map(|angle| angle.legs).collect();
    assert!(!legs.is_empty() && legs.iter().all(|leg| leg.low.y >= deck.low.y - 1e-6), "{legs:?}");
    for (cell, rule) in [
        ("open: {}, open_top: {depth: 950}", "open-top-unclear"),
        ("rows: [{open: {}}, {open: {}, open_top: {}}]", "open-top-unclear"),
        ("rows: [{open: {}, open_top: {}}, {open: {}}]", ""),
    ] {
        let found = rules_of(&kit("open: {}", cell));
        assert_eq!(found.first().copied().unwrap_or_default(), rule, "{cell}");
    }
    let both = kit("open: {}, open_top: {}", "open: {}, open_top: {}");
    assert_eq!(rules_of(&both), ["open-top-unclear"]);
}

/// A worktop on slides of its own over a low tray, with nothing but air between the two.
#[test]
fn rows_without_a_shelf_share_their_room() {
    let rows = "rows: [{id: worktop, size: 130, shelf: false, tray: {slide: ordinary-700, style: flat}}, {id: low, tray: {slide: \
                ordinary-700}}]";
    let finished = example_kits::finished(&kit("open: {}", rows));
    let kit = &finished.kit;
    assert!(kit.panels.iter().all(|panel| panel.role != Role::Shelf));
    let (top, low) = (&kit.layout.drawers[0], &kit.layout.drawers[1]);
    // 281 between base and deck: 130 and the rest.
    assert!((top.opening.1 - 130.0).abs() < 1e-6 && (low.opening.1 - 151.0).abs() < 1e-6);
    let plain = rows.replace("shelf: false, ", "");
    let shelved = example_kits::built(&self::kit("open: {}", &plain)).finished;
    assert!(shelved.is_none_or(|kit| kit.kit.panels.iter().any(|panel| panel.role == Role::Shelf)));
    assert_eq!(
        rules_of(&self::kit("open: {}", "rows: [{open: {}}, {open: {}, shelf: false}]")),
        ["cell-content-unclear"]
    );
}

#[test]
fn drop_slides_need_their_tray_behind_the_vehicle() {
    let of = |x: f64| {
        format!(
            "bay: {{width: 1060, depth: 1100, height: 800}}\ncarcases:\n  - {{id: main, at: {{x: {x}}}, width: 600, depth: 900, \
             height: 305, panel: birch-12, cell: {{tray: {{slide: drop-700}}}}}}\n"
        )
    };
    // 12 of front's room, 702 of tray, 760 of travel: its panels are clear up to 46, heads behind it earlier.
    assert_eq!(rules_of(&of(40.0)), [""; 0]);
    assert_eq!(rules_of(&of(47.0)), ["drop-slide-over-vehicle"]);
}
