//! Doors of lockers: strips, hinges, latches, and what turning one over changes.

use crate::example_kits;
use crate::geom::Aabb;
use crate::joints::{Kit, Purpose};

/// Three columns, the middle one a locker with a door of these keys.
fn kit(door: &str) -> String {
    format!(
        "bay: {{width: 1300, depth: 1050, height: 1000}}\ncarcases:\n  - {{id: main, at: {{x: 500}}, width: 1200, depth: 500, height: \
         500, panel: birch-12, columns: [{{size: 300, open: {{}}}}, {{id: locker, door: {{{door}}}}}, {{size: 300, open: {{}}}}]}}\n"
    )
}

fn found(door: &str) -> Vec<(&'static str, String)> {
    let findings = example_kits::built(&kit(door)).findings;
    findings.into_iter().map(|finding| (finding.rule.name, finding.message)).collect()
}

fn board(kit: &Kit, name: &str) -> Aabb {
    kit.layout.boards.iter().find(|board| board.name == name).unwrap_or_else(|| panic!("{name}")).aabb
}

/// Contour, openings and holes of each panel, to a micrometre.
fn panels(spec: &str) -> Vec<(String, String)> {
    let kit = example_kits::finished(spec).kit;
    let shape = |panel: &crate::joints::Panel| {
        let holes: Vec<_> = panel
            .bores
            .iter()
            .map(|bore| format!("{:.3} {:.3} {:.3}", bore.centre.x, bore.centre.y, bore.diameter))
            .collect();
        let openings: Vec<_> = panel.openings.iter().map(|opening| format!("{:?}", opening.path)).collect();
        format!("{:?} {:?} {openings:?} {holes:?}", panel.placement, panel.outline)
    };
    kit.panels.iter().map(|panel| (panel.name.clone(), shape(panel))).collect()
}

#[test]
fn turning_a_door_over_changes_its_own_boards_and_the_two_beside_it() {
    let (left, right) = (panels(&kit("hinge: left")), panels(&kit("hinge: right")));
    let names = |panels: &[(String, String)]| panels.iter().map(|(name, _)| name.clone()).collect::<Vec<_>>();
    assert_eq!(names(&left), names(&right));
    let pairs = left.iter().zip(&right);
    let changed: Vec<&str> = pairs.filter(|(a, b)| a != b).map(|(a, _)| a.0.as_str()).collect();
    assert_eq!(changed, ["main-divider-1", "main-divider-2", "main-locker-strip", "main-locker-door"]);
}

#[test]
fn a_door_hinged_right_is_the_mirror_image_of_one_hinged_left() {
    let kits = ["left", "right"].map(|hinge| example_kits::finished(&kit(&format!("hinge: {hinge}"))).kit);
    let mirrored = |aabb: Aabb| {
        let mut other = aabb;
        (other.low.y, other.high.y) = (-aabb.high.y, -aabb.low.y);
        other
    };
    // The cell stands in the middle of the bay.
    for name in ["main-locker-strip", "main-locker-door"] {
        let [a, b] = [board(&kits[0], name), mirrored(board(&kits[1], name))];
        assert!((a.low - b.low).length() < 1e-6 && (a.high - b.high).length() < 1e-6, "{name}: {a:?} {b:?}");
    }
    let places = |kit: &Kit, sign: f64| {
        let bolts = kit.bolts.iter().filter(|bolt| bolt.purpose == Purpose::Fixture);
        let mut places: Vec<String> = bolts
            .map(|bolt| {
                format!(
                    "{:.3} {:.3} {:.3} {}",
                    bolt.origin.x,
                    sign * bolt.origin.y,
                    bolt.origin.z,
                    bolt.panels.len()
                )
            })
            .collect();
        places.sort();
        places
    };
    assert_eq!(places(&kits[0], 1.0), places(&kits[1], -1.0));
    assert_eq!(kits[0].layout.fixtures.len(), kits[1].layout.fixtures.len());
}

/// Room of 1200 - 4 x 12 - 600 = 552 (actual thickness of birch 12 apart): a strip of 60, a gap of 3 and the door.
#[test]
fn strip_gap_and_door_fill_the_front() {
    for (style, hinge) in [("overlay", "left"), ("inset", "right"), ("overlay", "up"), ("inset", "down")] {
        let kit = example_kits::finished(&kit(&format!("hinge: {hinge}, style: {style}"))).kit;
        let room = kit.layout.cells.iter().find(|cell| cell.name == "main-locker").unwrap().room;
        let (strip, door) = (board(&kit, "main-locker-strip"), board(&kit, "main-locker-door"));
        let upright = ["left", "right"].contains(&hinge);
        let along = |aabb: Aabb| if upright { (aabb.low.y, aabb.high.y) } else { (aabb.low.z, aabb.high.z) };
        let (room, strip, door) = (along(room), along(strip), along(door));
        let first = ["left", "up"].contains(&hinge);
        // The strip reaches 60 into the opening.
        let inner = if first { room.1 - strip.0 } else { strip.1 - room.0 };
        assert!((inner - 60.0).abs() < 1e-6, "{style} {hinge}: {inner}");
        let gap = if first { strip.0 - door.1 } else { door.0 - strip.1 };
        assert!((gap - 3.0).abs() < 1e-6, "{style} {hinge}: {gap}");
        let beyond = if first { room.0 - door.0 } else { door.1 - room.1 };
        if style == "inset" {
            assert!((beyond + 3.0).abs() < 1e-6, "{style} {hinge}: {beyond}");
        } else {
            assert!(beyond > 3.0, "{style} {hinge}: {beyond}");
        }
    }
}

#[test]
fn hinges_hold_strip_and_door_and_the_striker_is_on_a_fixed_board() {
    let finished = example_kits::finished(&kit("hinge: left, stay: gas-strut-100"));
    let kit = &finished.kit;
    let door = &kit.layout.doors[0];
    assert_eq!(door.hinges.1, 2);
    let bolts =
        |prefix: &str| kit.bolts.iter().filter(|bolt| bolt.name.starts_with(prefix)).collect::<Vec<_>>();
    let (fixed, moving) = (bolts("main-locker-hinge-1/"), bolts("main-locker-hinge-leaf-1/"));
    assert_eq!((fixed.len(), moving.len()), (2, 2));
    let panels = |bolt: &crate::joints::Bolt| {
        bolt.panels.iter().map(|id| kit.panel(*id).name.clone()).collect::<Vec<_>>()
    };
    assert!(fixed.iter().all(|bolt| panels(bolt) == ["main-locker-strip"] && bolt.body != door.body));
    assert!(moving.iter().all(|bolt| panels(bolt) == ["main-locker-door"] && bolt.body == door.body));
    // Both lines 16 from the axis in the middle of the gap: 32 apart.
    assert!(((fixed[0].origin.y - moving[0].origin.y).abs() - 32.0).abs() < 1e-6);
    let striker = bolts("main-locker-striker/");
    assert_eq!(striker.len(), 2);
    assert!(striker.iter().all(|bolt| panels(bolt) == ["main-divider-2"] && bolt.direction.y.abs() > 0.5));
    assert!(!kit.layout.body(striker[0].body).moves());
    let lines = crate::export::hardware::lines(&finished);
    let needed = |size: &str| lines.iter().find(|line| line.size == size).map(|line| line.needed);
    assert_eq!(
        (needed("butt-50"), needed("turn-latch"), needed("gas-strut-100")),
        (Some(2), Some(1), Some(1))
    );
    // Halves weigh what the whole weighs.
    let mass: f64 = kit.layout.fixtures.iter().map(|fixture| fixture.mass).sum();
    assert!((mass - (2.0 * 0.05 + 0.12 + 0.16)).abs() < 1e-9, "{mass}");
}

#[test]
fn each_fault_of_a_door_is_told() {
    for (door, rule, text) in [
        ("hinge: left, strip: 30", "door-does-not-fit", "a strip of 30 mm"),
        ("hinge: left, strip: 480", "door-does-not-fit", "left for the door"),
        ("hinge: left, count: 12", "door-does-not-fit", "too short for 12 hinges"),
        ("hinge: left, latch_at: 10", "door-does-not-fit", "its latch lies 10 mm"),
        ("hinge: left, panel: birch-9, hinges: butt-75", "hinge-panel-too-thin", "needs 12 mm"),
        ("hinge: left, hinges: butt-75, open: 180", "door-opens-too-far", "opens by 170"),
        ("hinge: left, hinges: but-50", "unknown-name", "`but-50`"),
        ("hinge: left, latch: turn-lach", "unknown-name", "`turn-lach`"),
        ("hinge: left, stay: strut", "unknown-name", "`strut`"),
        ("hinge: left, open: 20", "out-of-range", "must be at least 30"),
        ("hinge: left, count: 1", "out-of-range", "must be at least 2"),
    ] {
        let found = found(door);
        assert!(
            found.iter().any(|(name, message)| *name == rule && message.contains(text)),
            "{door}: {found:?}"
        );
    }
    assert_eq!(found("hinge: left"), []);
}

/// A butt hinge's bolts are 16 from its axis, which lies in the middle of the gap; bolts of 4 want 12 to an edge: 8 at most.
#[test]
fn a_gap_too_wide_for_its_hinges_is_told_once() {
    let with_gap = |gap: &str| {
        let text = kit("hinge: left")
            .replace("panel: birch-12,", &format!("panel: birch-12, fronts: {{gap: {gap}}},"));
        let findings = example_kits::built(&text).findings;
        findings.into_iter().map(|finding| (finding.rule.name, finding.message)).collect::<Vec<_>>()
    };
    assert_eq!(with_gap("8"), []);
    let found = with_gap("10");
    assert!(
        found.len() == 1
            && found[0].0 == "door-does-not-fit"
            && found[0].1.contains("come 11 mm from their edges; 12 mm"),
        "{found:?}"
    );
}
