//! Budgets against worked examples, and what is refused.

use super::{Budget, Limited, LineKind, Verdict};
use crate::example_kits;

/// A vehicle with these masses, a kit that stays at home, and these loads.
fn spec(masses: &str, loads: &[&str], more: &str) -> String {
    let lines: Vec<String> = loads.iter().map(|load| format!("  - {{{load}}}\n")).collect();
    let loads = if loads.is_empty() { String::new() } else { format!("loads:\n{}", lines.concat()) };
    format!(
        "vehicle:\n  bay: {{width: 1040, depth: 1500, height: 800}}\n  masses: {{{masses}}}\ncarcases:\n  - {{id: main, width: 700, \
         depth: 800, height: 300, panel: birch-12, cell: {{id: pocket, open: {{}}}}}}\n{loads}{more}"
    )
}

/// A scenario of loads only, over limits or not.
const ALONE: &str = "scenarios: [{id: one, kit: false, comparison: true}]\n";

fn budget(masses: &str, loads: &[&str]) -> Budget {
    example_kits::finished(&spec(masses, loads, ALONE)).budgets.remove(0)
}

fn found(text: &str) -> Vec<(&'static str, String)> {
    let findings = example_kits::built(text).findings;
    findings.into_iter().map(|finding| (finding.rule.name, finding.message)).collect()
}

fn near(found: f64, wanted: f64) {
    // Every line is rounded to 0.01.
    assert!((found - wanted).abs() < 0.03, "{found} against {wanted}");
}

fn verdict(budget: &Budget, what: Limited) -> Verdict {
    *budget.verdicts.iter().find(|verdict| verdict.what == what).unwrap()
}

/// A certifier's example in a trade paper: 2900 kg on the weighbridge, four people of 80 kg, 75 l of water, limit 3300 kg: 3295,
/// 5 kg left.
#[test]
fn people_and_water_on_top_of_a_weighbridge_reading() {
    let masses = "wheelbase: 2850, rear_axle: 540, kerb: {front: 1500, rear: 1400, fuel: 100, driver: 0, weighed: true}, limits: [{id: \
                  plate, gross: 3300, front: 3000, rear: 3000}]";
    let seats: Vec<String> =
        (0..4).map(|i| format!("id: seat-{i}, kind: person, mass: 80, at: {{x: 1800, y: 0}}")).collect();
    let mut loads: Vec<&str> = seats.iter().map(String::as_str).collect();
    loads.push("id: water, kind: contents, mass: 75, at: {x: 900, y: 0}");
    let budget = budget(masses, &loads);
    assert!((budget.total - 3295.0).abs() < 1e-9);
    assert!((verdict(&budget, Limited::Gross).margin() - 5.0).abs() < 1e-9);
}

/// Loading steps of a federal placard: a capacity of 1400 lb and five people of 150 lb leave 650 lb; 453 kg leave 317 kg beside
/// two people of 68 kg and 113 kg beside five. The capacity is the limit less the kerb mass.
#[test]
fn what_people_leave_of_a_capacity() {
    for (capacity, person, n, left) in
        [(635.0, 68.0, 5, 295.0), (453.0, 68.0, 2, 317.0), (453.0, 68.0, 5, 113.0)]
    {
        let masses = format!(
            "wheelbase: 2850, rear_axle: 540, kerb: {{front: 1000, rear: 1000, fuel: 100, driver: 0, weighed: false}}, limits: [{{id: \
             plate, gross: {}, front: 2000, rear: 2000}}]",
            2000.0 + capacity
        );
        let seats: Vec<String> = (0..n)
            .map(|i| format!("id: seat-{i}, kind: person, mass: {person}, at: {{x: 1800, y: 0}}"))
            .collect();
        let loads: Vec<&str> = seats.iter().map(String::as_str).collect();
        assert!((verdict(&budget(&masses, &loads), Limited::Gross).margin() - left).abs() < 1e-9);
    }
}

/// A body builder's example (its printed front share is a misprint): wheelbase 214 in, 100 lb at 133 in behind the front axle, 81
/// in ahead of the rear one: 37.85 lb on the front axle, 62.15 lb on the rear one. And 6000 lb at 190 of 220 in.
#[test]
fn a_mass_between_the_axles_is_shared_by_the_lever_rule() {
    for (wheelbase, behind_front, mass, front, rear) in
        [(214.0, 133.0, 100.0, 37.85, 62.15), (220.0, 190.0, 6000.0, 818.18, 5181.82)]
    {
        let (wheelbase, ahead) = (wheelbase * 25.4, (wheelbase - behind_front) * 25.4);
        let masses = format!(
            "wheelbase: {wheelbase}, rear_axle: 0, kerb: {{front: 1, rear: 1, fuel: 100, driver: 0, weighed: false}}, limits: [{{id: \
             plate, gross: 9000, front: 9000, rear: 9000}}]"
        );
        let load = format!("id: body, kind: contents, mass: {mass}, at: {{x: {ahead}, y: 0}}");
        // Contents may weigh 5000 at most; the heavier one is two.
        let half = load.replace(&format!("mass: {mass}"), &format!("mass: {}", mass / 2.0));
        let budget = budget(&masses, &[&half, &half.replace("body", "body-2")]);
        let sum = |of: fn(&super::Line) -> f64| budget.lines[1..].iter().map(of).sum::<f64>();
        near(sum(|line| line.front), front);
        near(sum(|line| line.rear), rear);
    }
}

/// Weight guide: 1800 kg at 1.35 m ahead of the rear axle, 160 at 2.05, 250 at 0.60, 50 at 1.45, 90 at -0.60; wheelbase 2.70 m
/// (assumed): moments 2926.5 kg m, front 1083.89, rear 1266.11.
#[test]
fn moments_of_several_masses_add() {
    let masses = "wheelbase: 2700, rear_axle: 0, kerb: {front: 900, rear: 900, fuel: 100, driver: 0, weighed: false}, limits: [{id: plate, \
                  gross: 3000, front: 2000, rear: 2000}]";
    let loads = [
        "id: a, kind: person, mass: 160, at: {x: 2050, y: 0}",
        "id: b, kind: contents, mass: 250, at: {x: 600, y: 0}",
        "id: c, kind: accessory, mass: 50, at: {x: 1450, y: 0}",
        "id: d, kind: contents, mass: 90, at: {x: -600, y: 0}",
    ];
    let budget = budget(masses, &loads);
    near(budget.front, 1083.89);
    near(budget.rear, 1266.11);
}

/// Measured by a towing magazine: 1233 kg on the rear axle unhitched, 270 kg on the ball, 1650 hitched: 417 more on the rear axle,
/// 147 off the front one, so the ball is 0.5444 wheelbases behind the rear axle.
#[test]
fn a_ball_load_lifts_the_front_axle() {
    let masses = "wheelbase: 3000, rear_axle: 900, coupling: 3000 * 0.5444, kerb: {front: 1300, rear: 1233, fuel: 100, driver: 0, weighed: \
                  true}, limits: [{id: plate, gross: 3500, front: 1600, rear: 1700, ball: 300, combination: 6000}]";
    let budget = budget(masses, &["id: van, kind: trailer, mass: 2700, ball: 270"]);
    assert!(
        (budget.rear - 1650.0).abs() < 0.1 && (budget.front - (1300.0 - 147.0)).abs() < 0.1,
        "{budget:?}"
    );
    assert!((verdict(&budget, Limited::Ball).margin() - 30.0).abs() < 1e-9);
    // 2533 + 2700: what is on the ball counts once.
    assert!((verdict(&budget, Limited::Combination).value - 5233.0).abs() < 1e-9);
}

/// By hand: wheelbase 2.85 m; kerb 1180 and 1020; 150 kg at 1.45 m, 85 at 0.30, 120 at 0.25, 45 at 0.55, 200 on the ball at -1.15;
/// limits 3050, 1500, 1850: front 1203.77, rear 1596.23, total 2800; margins 250, 296.23, 253.77; the ball alone 280.70 on the rear.
#[test]
fn kerb_people_loads_and_ball_together() {
    let masses = "wheelbase: 2850, rear_axle: 0, coupling: 1150, kerb: {front: 1180, rear: 1020, fuel: 100, driver: 0, weighed: false}, \
                  limits: [{id: plate, gross: 3050, front: 1500, rear: 1850}]";
    let loads = [
        "id: a, kind: person, mass: 150, at: {x: 1450, y: 0}",
        "id: b, kind: contents, mass: 85, at: {x: 300, y: 0}",
        "id: c, kind: contents, mass: 120, at: {x: 250, y: 0}",
        "id: d, kind: contents, mass: 45, at: {x: 550, y: 0}",
        "id: e, kind: trailer, mass: 2000, ball: 200",
    ];
    let budget = budget(masses, &loads);
    near(budget.front, 1203.77);
    near(budget.rear, 1596.23);
    assert!((budget.total - 2800.0).abs() < 1e-9);
    near(verdict(&budget, Limited::Gross).margin(), 250.0);
    near(verdict(&budget, Limited::Front).margin(), 296.23);
    near(verdict(&budget, Limited::Rear).margin(), 253.77);
    let ball = budget.lines.iter().find(|line| line.name == "e").unwrap();
    near(ball.rear, 280.70);
}

/// 100 kg half a metre behind the rear axle, wheelbase 2.8 m: 117.9 more on the rear axle, 17.9 less on the front one.
#[test]
fn behind_the_rear_axle_the_front_is_unloaded() {
    let masses = "wheelbase: 2800, rear_axle: 900, track: 1600, kerb: {front: 1000, rear: 1000, fuel: 100, driver: 0, weighed: false}, limits: \
                  [{id: plate, gross: 3000, front: 1500, rear: 1500}]";
    let budget = budget(masses, &["id: a, kind: contents, mass: 100, at: {x: 400, y: 400}"]);
    near(budget.rear, 1117.86);
    near(budget.front, 982.14);
    assert!((budget.front_of_kerb() - 98.2).abs() < 1e-9);
    // A quarter of the track to the left: three quarters of it on the left wheels.
    let (left, right) = budget.sides.unwrap();
    assert!((left - 1075.0).abs() < 1e-9 && (right - 1025.0).abs() < 1e-9);
}

/// A row of 42 kg taken out where it sat counts less than nothing there.
#[test]
fn what_was_taken_out_counts_off() {
    let masses = "wheelbase: 2800, rear_axle: 900, kerb: {front: 1000, rear: 1000, fuel: 100, driver: 0, weighed: false}, limits: [{id: plate, \
                  gross: 3000, front: 1500, rear: 1500, roof: 75}]";
    let loads = [
        "id: seats, kind: taken-out, mass: 42, at: {x: 1600, y: 0}",
        "id: tent, kind: roof, mass: 60, at: {x: 1600, y: 0, z: 1800}",
    ];
    let budget = budget(masses, &loads);
    assert!((budget.total - 2018.0).abs() < 1e-9 && (budget.lines[1].front + 10.5).abs() < 1e-9);
    assert!((verdict(&budget, Limited::Roof).margin() - 15.0).abs() < 1e-9);
}

/// The kit, its equipment and what drawers hold come in by themselves; sums are sums of what is printed.
#[test]
fn the_kit_counts_with_all_that_is_in_it() {
    let masses = "wheelbase: 2800, rear_axle: 900, kerb: {front: 1000, rear: 1000, fuel: 100, driver: 0, weighed: false}, limits: [{id: plate, \
                  gross: 3000, front: 1500, rear: 1500}]";
    let equipment = "equipment: [{id: tank, kind: water-tank-20, in: main-pocket, turn: 90}]\n";
    let scenarios = "scenarios: [{id: full}, {id: dry, equipment: empty}, {id: bare, equipment: out}, {id: without, kit: false}]\n";
    let finished = example_kits::finished(&spec(masses, &[], &format!("{equipment}{scenarios}")));
    let [full, dry, bare, without] = [0, 1, 2, 3].map(|i| &finished.budgets[i]);
    assert!((full.total - dry.total - 20.0).abs() < 1e-9);
    assert!((dry.total - bare.total - 2.4).abs() < 1e-9);
    assert!((without.total - 2000.0).abs() < 1e-9);
    assert!((bare.total - 2000.0 - finished.masses.total.mass).abs() < 0.0051);
    for budget in &finished.budgets {
        let sum = |of: fn(&super::Line) -> f64| budget.lines.iter().map(of).sum::<f64>();
        let sums = [sum(|line| line.mass), sum(|line| line.front), sum(|line| line.rear)];
        assert!((sums[0] - budget.total).abs() < 1e-9 && (sums[1] + sums[2] - budget.total).abs() < 1e-9);
        assert!((budget.front + budget.rear - budget.total).abs() < 1e-9);
    }
    let kinds: Vec<LineKind> = full.lines.iter().map(|line| line.kind).collect();
    assert_eq!(kinds, [LineKind::Kerb, LineKind::Kit, LineKind::Equipment]);
}

/// 120 kg, 240 mm behind the rear axle of 2850 mm: 130.1 on it; 25.1 over 1200. Forward by 25.1 x 2850 / 120 = 596 it is cured,
/// and by no less than 600 in steps of 10; or with 25.1 / 1.0842 = 23.2, so 24 kg less.
#[test]
fn what_cures_an_axle_is_told() {
    let masses = |rear: f64| {
        format!(
            "wheelbase: 2850, rear_axle: 540, kerb: {{front: 1235, rear: 1095, fuel: 100, driver: 0, weighed: false}}, limits: [{{id: plate, \
             gross: 3060, front: 1460, rear: {rear}}}]"
        )
    };
    let loads = ["id: ropes, kind: contents, mass: 120, at: {x: 300, y: 0}"];
    let text = |rear| spec(&masses(rear), &loads, "scenarios: [{id: trip, kit: false}]\n");
    let findings = example_kits::built(&text(1200.0)).findings;
    let [finding] = &findings[..] else { panic!("{findings:?}") };
    assert_eq!(finding.rule.name, "over-limit");
    assert_eq!(finding.message, "`trip`: rear axle is 1225.11 kg, 25.11 kg over the limit of 1200.00 kg");
    let help = finding.help.as_deref().unwrap();
    assert_eq!(help, "any one of these cures it: move `ropes` forward by 600 mm; take 24 kg less of `ropes`");
    assert_eq!(found(&text(1225.11)), []);
    assert_eq!(found(&text(1225.10)).len(), 1);
}

/// The four stages of the farm vet's ute: totals and rear loads of the trade's notes, all inputs invented to meet them. The third
/// passes the gross mass and fails the rear axle.
#[test]
fn four_stages_of_a_ute() {
    let masses = "wheelbase: 3220, rear_axle: 900, coupling: 1290, kerb: {front: 1205, rear: 975, fuel: 100, driver: 0, weighed: false}, limits: \
                  [{id: plate, gross: 3200, front: 1480, rear: 1850}]";
    // 739 kg of people and gear, 495.5 mm ahead of the rear axle.
    let loads = [
        "id: others, kind: contents, mass: 739, at: {x: 1395.5, y: 0}",
        "id: trailer, kind: trailer, mass: 1200, ball: 120",
        "id: tank-100, kind: contents, mass: 112, at: {x: 142, y: 0}",
        "id: tank-60, kind: contents, mass: 67.2, at: {x: 1390, y: 0}",
        "id: kit-104, kind: contents, mass: 104, at: {x: 780, y: 0}",
        "id: kit-104-forward, kind: contents, mass: 104, at: {x: 840, y: 0}",
        "id: kit-78, kind: contents, mass: 78, at: {x: 840, y: 0}",
    ];
    let scenarios = "scenarios:\n  \
        - {id: draft, kit: false, comparison: true, loads: [others, trailer, tank-100, kit-104]}\n  \
        - {id: tank-forward, kit: false, comparison: true, loads: [others, trailer, tank-60, kit-104-forward]}\n  \
        - {id: lighter, kit: false, comparison: true, loads: [others, trailer, tank-60, kit-78]}\n  \
        - {id: no-trailer, kit: false, comparison: true, loads: [others, tank-60, kit-78]}\n";
    let budgets = example_kits::finished(&spec(masses, &loads, scenarios)).budgets;
    let stages = [
        (3255.0, -55.0, 2014.6, -164.6),
        (3210.2, -10.2, 1931.3, -81.3),
        (3184.2, 15.8, 1904.8, -54.8),
        (3064.2, 135.8, 1736.7, 113.3),
    ];
    for (budget, (total, left, rear, rear_left)) in budgets.iter().zip(stages) {
        let (gross, axle) = (verdict(budget, Limited::Gross), verdict(budget, Limited::Rear));
        assert!((budget.total - total).abs() < 1e-9 && (gross.margin() - left).abs() < 1e-9);
        assert!(
            (budget.rear - rear).abs() < 0.1 && (axle.margin() - rear_left).abs() < 0.1,
            "{}",
            budget.rear
        );
    }
    assert!(verdict(&budgets[2], Limited::Gross).passes() && !verdict(&budgets[2], Limited::Rear).passes());
    let ball = budgets[2].lines.iter().find(|line| line.name == "trailer").unwrap();
    assert!((ball.rear - 168.1).abs() < 0.05, "{ball:?}");
}

#[test]
fn what_makes_no_sense_is_refused() {
    let sound = "wheelbase: 2850, rear_axle: 540, kerb: {front: 1235, rear: 1095, fuel: 100, driver: 0, weighed: false}, limits: [{id: plate, \
                 gross: 3060, front: 1460, rear: 1820}]";
    let of = |masses: &str, loads: &[&str], more: &str| -> Vec<&'static str> {
        found(&spec(masses, loads, more)).into_iter().map(|(rule, _)| rule).collect()
    };
    assert_eq!(of(sound, &[], ""), [""; 0]);
    for (from, to, rule) in [
        ("rear: 1820", "rear: 1020", "axle-limit-below-kerb"),
        ("front: 1460", "front: 1200", "axle-limit-below-kerb"),
        ("wheelbase: 2850", "wheelbase: 0", "out-of-range"),
        ("fuel: 100", "fuel: 101", "out-of-range"),
        ("fuel: 100, ", "", "missing-key"),
        ("driver: 0, ", "", "missing-key"),
        ("gross: 3060", "gross: 2300", "masses-unclear"),
        ("gross: 3060", "gross: 3060, combination: 3000", "masses-unclear"),
    ] {
        assert_eq!(of(&sound.replace(from, to), &[], ""), [rule], "{to}");
    }
    for (load, rule) in [
        ("id: a, kind: person, at: {x: 0, y: 0}", "load-unclear"),
        ("id: a, kind: contents, mass: 5", "load-unclear"),
        ("id: a, kind: trailer, mass: 500, ball: 50", "load-unclear"),
        ("id: a, kind: contents, mass: 5, at: {x: -870, y: 0}", "load-outside-vehicle"),
        ("id: a, kind: contents, mass: 5, at: {x: 4400, y: 0}", "load-outside-vehicle"),
    ] {
        assert_eq!(of(sound, &[load], ""), [rule], "{load}");
    }
    let trailer = "id: a, kind: trailer, mass: 500, ball: 50";
    let towing = sound.replace("rear_axle: 540", "rear_axle: 540, coupling: 1200");
    assert_eq!(of(&towing, &[trailer], ""), [""; 0]);
    assert_eq!(
        of(&towing, &[&trailer.replace("50}", "501}").replace("ball: 50", "ball: 501")], ""),
        ["load-unclear"]
    );
    assert_eq!(of(&towing, &[trailer, &trailer.replace("id: a", "id: b")], ""), ["scenario-unclear"]);
    assert_eq!(of(sound, &[], "scenarios: [{id: a, loads: [ropes]}]\n"), ["scenario-unclear"]);
    assert_eq!(of(sound, &[], "scenarios: [{id: a, limits: upgraded}]\n"), ["scenario-unclear"]);
    let text = spec(sound, &["id: a, kind: contents, mass: 5, at: {x: 0, y: 0}"], "");
    let bare = text.replace(&format!("  masses: {{{sound}}}\n"), "");
    assert_eq!(found(&bare)[0].0, "masses-unclear");
}
