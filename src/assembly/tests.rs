//! Tools against plates at known distances, and orders of panels of whole kits.

use super::tool::{self, End};
use super::*;
use crate::example_kits;
use crate::geom::{Aabb, Plate, Point3};

/// Two drawers with a narrow column between them: the nuts of the inner slides lie in it.
fn narrow() -> &'static str {
    let rules = crate::build::all_rules();
    rules.into_iter().find(|rule| rule.name == "tool-cannot-reach").expect("there is such a rule").failing
}

fn box_of(low: [f64; 3], high: [f64; 3]) -> Plate {
    let aabb =
        Aabb { low: Point3::new(low[0], low[1], low[2]), high: Point3::new(high[0], high[1], high[2]) };
    Plate::filling(aabb)
}

/// A bolt of a kit that stands on end, moved to the origin: its head looks down.
fn upright_bolt() -> Bolt {
    let finished = example_kits::finished(example_kits::ANGLES);
    let bolts = finished.kit.bolts.iter();
    let upright =
        |bolt: &&Bolt| bolt.direction.z > 0.5 && bolt.solids.head.is_some() && bolt.solids.nut.is_some();
    let mut bolt = bolts.into_iter().find(upright).expect("a base is bolted from below").clone();
    bolt.origin = Point3::origin();
    bolt
}

/// For head and nut, in how many of the ways that were looked at a tool gets there.
fn free_ways(bolt: &Bolt, plates: &[Plate]) -> Vec<(End, usize)> {
    let accesses = accesses(bolt, plates);
    accesses.iter().map(|a| (a.end, a.ways.iter().filter(|way| way.is_empty()).count())).collect()
}

fn accesses(bolt: &Bolt, plates: &[Plate]) -> Vec<tool::Access> {
    let solids: Vec<Obstacle> =
        plates.iter().map(|plate| Obstacle::new(Part::Room(0), BodyId(0), plate)).collect();
    let near: Vec<_> = solids.iter().enumerate().collect();
    tool::accesses(bolt, &near)
}

#[test]
fn in_the_open_a_driver_gets_to_both_ends() {
    assert_eq!(free_ways(&upright_bolt(), &[]), [(End::Head, 1), (End::Nut, 1)]);
}

#[test]
fn a_ceiling_stops_the_driver_and_leaves_the_key_and_the_spanner() {
    let bolt = upright_bolt();
    let stack = bolt.grip + bolt.hardware.nut_height();
    let ceiling = |gap: f64| box_of([-500.0, -500.0, stack + gap], [500.0, 500.0, stack + gap + 9.0]);
    // 120 from the nut's foot and more: the driver. 60: the spanner all round. 20: no room for fingers.
    let nut = |gap: f64| free_ways(&bolt, &[ceiling(gap)])[1].1;
    assert_eq!([nut(150.0), nut(60.0), nut(20.0)], [1, 24, 0]);
    let floor = |gap: f64| {
        let z = -bolt.hardware.head_height() - gap;
        box_of([-500.0, -500.0, z - 9.0], [500.0, 500.0, z])
    };
    let head = |gap: f64| free_ways(&bolt, &[floor(gap)])[0].1;
    // A 4 mm key is 25 high and its fingers reach 36 below its elbow.
    assert_eq!([head(125.0), head(70.0), head(30.0)], [1, 24, 0]);
}

#[test]
fn a_hole_above_the_nut_lets_a_slim_socket_through() {
    let bolt = upright_bolt();
    let mut ceiling = box_of([-100.0, -100.0, 60.0], [100.0, 100.0, 69.0]);
    let hole = |radius| crate::geom::Path::circle(crate::geom::Point2::new(100.0, 100.0), radius).clockwise();
    let low = box_of([-500.0, -500.0, 35.0], [500.0, -30.0, 44.0]);
    let walls = [low, box_of([-500.0, 30.0, 35.0], [500.0, 500.0, 44.0])];
    let nut = |ceiling: &Plate| {
        let plates = [&walls[..], std::slice::from_ref(ceiling)].concat();
        accesses(&bolt, &plates)[1].ways.iter().take(2).map(BTreeSet::is_empty).collect::<Vec<_>>()
    };
    // The ratchet of the slim socket stays above 100.
    assert_eq!(nut(&ceiling), [false, false]);
    ceiling.openings = vec![hole(9.0)];
    assert_eq!(nut(&ceiling), [false, true]);
    ceiling.openings = vec![hole(14.0)];
    assert_eq!(nut(&ceiling), [true]);
}

#[test]
fn bolts_that_a_false_front_hides_are_tightened_before_it_goes_on() {
    let finished = example_kits::finished(narrow());
    let (kit, assembly) = (&finished.kit, &finished.assembly);
    let name = |id: BoardId| kit.panel(id).name.as_str();
    let task = &assembly.steps[0];
    assert_eq!(task.step.words(kit), "put main-drawer-1 together");
    assert_eq!(task.panels.last().map(|&id| name(id)), Some("main-drawer-1-front"));
    let early = &task.early[0];
    assert_eq!((task.early.len(), name(early.before)), (1, "main-drawer-1-front"));
    let through = |id: BoltId| kit.bolt(id).panels.iter().map(|&id| name(id)).collect::<Vec<_>>();
    let through: BTreeSet<Vec<&str>> = early.bolts.iter().map(|&id| through(id)).collect();
    // Heads in the box's front lie under the false front; nuts beside its bolts are hidden by those.
    let sides = ["main-drawer-1-box-front", "main-drawer-1-box-left", "main-drawer-1-box-right"];
    assert_eq!(through, BTreeSet::from(sides.map(|side| vec![side])));
}

#[test]
fn nuts_in_a_narrow_gap_are_found_with_the_step_that_cures_it() {
    let finished = example_kits::finished(narrow());
    let (kit, assembly) = (&finished.kit, &finished.assembly);
    let found: BTreeSet<(&str, &str, Vec<String>)> = assembly
        .unreachable
        .iter()
        .map(|u| {
            let (step, panel) = u.cure.expect("a loose divider can be reached from all sides");
            assert_eq!(
                (u.end, assembly.steps[step].step.words(kit)),
                (End::Nut, "put main together".to_owned())
            );
            let joint = kit.bolt(u.bolt).joint();
            let by = u.by.iter().map(|&part| crate::joints::solids::name(kit, part));
            (joint, kit.panel(panel).name.as_str(), by.collect())
        })
        .collect();
    let divider = |n: u8| vec![format!("main-divider-{n}")];
    let expected = [
        ("main-drawer-1-slide-right-fixed", "main-divider-1", divider(2)),
        ("main-drawer-2-slide-left-fixed", "main-divider-1", divider(1)),
    ];
    assert_eq!(found, BTreeSet::from(expected));
    // With a hand's room between the dividers all is well.
    let wide = example_kits::finished(&narrow().replace("size: 40", "size: 200"));
    assert!(wide.assembly.unreachable.is_empty(), "{:?}", wide.assembly.unreachable);
}

/// Every panel that a step puts together is in its order once, and no bolt is tightened before its own panels are there.
#[test]
fn orders_are_whole_and_can_be_done() {
    for text in [narrow(), example_kits::SIDE_BY_SIDE, example_kits::CAPTIVE_NUTS] {
        let finished = example_kits::finished(text);
        let (kit, assembly) = (&finished.kit, &finished.assembly);
        let mut seen = BTreeSet::new();
        for task in &assembly.steps {
            for &panel in &task.panels {
                assert!(seen.insert(panel), "{} goes on twice", kit.panel(panel).name);
                assert_eq!(Some(kit.panel(panel).body), task.step.built());
            }
            let place = |id: &BoardId| task.panels.iter().position(|panel| panel == id);
            // Each goes onto one that is there, but where a gap is so narrow that angles come first.
            let held = |one: BoardId, other: BoardId| {
                let bolts =
                    kit.bolts.iter().map(|bolt| bolt.panels.iter().chain(&bolt.held_in).copied().collect());
                let angles = kit.angles.iter().map(|angle| angle.panels.to_vec());
                bolts.chain(angles).any(|ids: Vec<BoardId>| ids.contains(&one) && ids.contains(&other))
            };
            for (i, &panel) in task.panels.iter().enumerate().skip(1).filter(|_| text != narrow()) {
                let there = task.panels[..i].iter();
                assert!(
                    there.into_iter().any(|&other| held(panel, other)),
                    "{} floats",
                    kit.panel(panel).name
                );
            }
            for early in &task.early {
                for bolt in &early.bolts {
                    let own = kit.bolt(*bolt).panels.iter().map(place).max().flatten();
                    assert!(own < place(&early.before), "{}", kit.bolt(*bolt).name);
                }
            }
        }
        assert_eq!(seen.len(), kit.panels.len());
    }
}

/// A shelf with tabs on both sides goes in before the second of them, and a back between four boards before the last.
#[test]
fn panels_with_tabs_go_on_while_their_slots_can_still_be_reached() {
    let finished = example_kits::finished(example_kits::CAPTIVE_NUTS);
    let (kit, assembly) = (&finished.kit, &finished.assembly);
    let tabbed: Vec<_> = kit
        .layout
        .meetings
        .iter()
        .filter(|meeting| meeting.plan.kind == crate::spec::JointKind::CaptiveNut)
        .collect();
    let mut held = 0;
    for task in &assembly.steps {
        for (i, &panel) in task.panels.iter().enumerate() {
            let there = |id: BoardId| task.panels[..i].contains(&id);
            let ways = tabbed.iter().filter_map(|meeting| match panel {
                edge if edge == meeting.edge && there(meeting.face) => Some(meeting.into_edge),
                face if face == meeting.face && there(meeting.edge) => Some(-meeting.into_edge),
                _ => None,
            });
            let ways: Vec<_> = ways.collect();
            held += ways.len();
            let same = ways.windows(2).all(|pair| pair[0].dot(pair[1]) > 0.5);
            assert!(same, "{} does not go on", kit.panel(panel).name);
        }
    }
    assert!(held > 3, "the example has tabs");
}
