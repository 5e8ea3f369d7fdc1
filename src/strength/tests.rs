//! Kits whose strength can be worked out by hand, and what is refused or not checked.

use super::anchors::AnchorCase;
use super::*;
use crate::example_kits::{built_whole, finished};
use crate::finished::Finished;

const G: f64 = 9.806_65;

fn near(value: f64, expected: f64, part: f64) {
    assert!((value - expected).abs() <= part * expected.abs(), "{value} is not {expected}");
}

fn kit(more: &str, carcase: &str) -> String {
    format!(
        "bay: {{width: 1240, depth: 1050, height: 800}}\n{more}\ncarcases:\n  - {{id: main, depth: 900, height: 300, panel: birch-12, {carcase}}}\n"
    )
}

fn panel<'a>(kit: &'a Finished, name: &str) -> &'a PanelCheck {
    let own = |check: &&PanelCheck| kit.kit.layout.board(check.board).name == name;
    kit.strength.panels.iter().find(own).unwrap()
}

fn load<'a>(check: &'a PanelCheck, what: &str) -> &'a PanelResult {
    check.results.iter().find(|result| result.item.what.contains(what)).unwrap()
}

/// A deck on two sides and a back, 424 over the sides, which are 12 thick: 412 from middle to middle. Its grain runs along
/// the longer side, so the strip runs across it: E 6781, across it 10719, f 33.2.
#[test]
fn a_deck_under_a_knee_is_a_strip_across_it() {
    let kit = finished(&kit("", "width: 424, cell: {open: {}}"));
    let deck = panel(&kit, "main-deck");
    let knee = load(deck, "knees");
    assert_eq!((knee.method, knee.way), (Method::Strip, Way::AlongV));
    near(knee.spans[0], 412.0, 1e-9);
    // Both knees 250 apart do less than half of the weight in the middle: 1 - 250 / 412 = 0.39.
    near(knee.force, 0.5 * 100.0 * G, 1e-9);
    let width = 0.65 * 75.0 + 0.14 * 412.0 * (10_719.0_f64 / 6781.0).powf(0.25);
    near(knee.width, width, 1e-9);
    // M = P (L / 4 - c / 8), I = b t3 / 12, w = P L3 / 48 E I.
    let moment = knee.force * (412.0 / 4.0 - 75.0 / 8.0);
    near(knee.moments[1], moment, 1e-9);
    near(knee.stresses[1], 6.0 * moment / (width * 144.0), 1e-9);
    near(knee.sag, knee.force * 412.0_f64.powi(3) / (48.0 * 6781.0 * width * 1728.0 / 12.0), 1e-9);
    // Its own weight, 24.8 kg on a sheet of 1220 x 2440: q on 1 mm of width, 5 q L4 / 384 E I.
    let own = load(deck, "itself");
    let q = own.item.mass * G / (424.0 * own.item.mass / (24.8 / (1220.0 * 2440.0)) / 424.0);
    near(own.sag, 5.0 * q * 412.0_f64.powi(4) / (384.0 * 6781.0 * 144.0), 0.01);
    // k_mod 0.9 for a short load, gamma 1.2, factor 1.5.
    let moment_case = deck.cases.iter().find(|case| case.together == panels::Together::Moment).unwrap();
    near(moment_case.stress_used, 1.5 * (knee.stresses[1] + own.stresses[1]) * 1.2 / (33.2 * 0.9), 1e-9);
    near(moment_case.sag_used.unwrap(), knee.sag * 60.0 / 412.0, 1e-9);
}

/// In proportion: at what `at_limit` says the worst case is just used up, by sag or by stress; and the board that would do does.
#[test]
fn the_load_at_the_limit_uses_all_and_the_thicker_board_does() {
    for (sag_moment, sags, heavy) in [(60.0, true, 100.0), (10.0, false, 160.0)] {
        let used = |person: f64, board: &str| {
            let settings = format!("workshop: {{strength: {{person: {person}, sag_moment: {sag_moment}}}}}");
            let deck = format!("panels: {{deck: {board}}}, width: 560, cell: {{open: {{}}}}");
            let kit = finished(&kit(&settings, &deck));
            let deck = panel(&kit, "main-deck").clone();
            let by_sag = deck.worst().unwrap().sags();
            (deck.outcome.used().unwrap(), deck.at_limit.unwrap(), deck.would_do.clone(), by_sag)
        };
        let (over, limit, would_do, by_sag) = used(heavy, "birch-12");
        assert_eq!(by_sag, sags);
        assert!(over > 1.0 && limit < heavy, "{over} {limit}");
        near(used(limit, "birch-12").0, 1.0, 1e-6);
        let thicker = would_do.unwrap();
        let (holds, _, same, _) = used(heavy, &thicker);
        assert!(holds <= 1.0 && same.as_deref() == Some(thicker.as_str()), "{thicker}: {holds}");
    }
}

/// Plywood whose grain nobody knows: the worse modulus and the worse strength both ways, and it is said.
#[test]
fn an_unknown_grain_counts_as_the_worse_one() {
    let grainless = "workshop: {materials: {birch-12: {grain: false}}}";
    let known = finished(&kit("", "width: 424, cell: {open: {}}"));
    let unknown = finished(&kit(grainless, "width: 424, cell: {open: {}}"));
    let sheet = panel(&unknown, "main-deck").sheet.unwrap();
    assert!(sheet.grain_unknown && !panel(&known, "main-deck").sheet.unwrap().grain_unknown);
    assert_eq!((sheet.modulus, sheet.bending), ([6781.0; 2], [33.2; 2]));
    let built = built_whole(&kit(grainless, "width: 424, cell: {open: {}}"));
    let files = crate::export::bundle(&unknown, &built.findings, &built.sources, &[]);
    assert!(
        String::from_utf8_lossy(&files.files["report.html"])
            .contains("not known: the worse way taken for both")
    );
}

#[test]
fn what_is_not_known_is_not_checked_and_never_passes() {
    let deck = |board: &str, more: &str| {
        let text = kit(more, &format!("width: 424, panels: {{deck: {board}}}, cell: {{open: {{}}}}"));
        let kit = finished(&text);
        let outcome = panel(&kit, "main-deck").outcome.clone();
        (
            outcome,
            built_whole(&text).findings.iter().any(|finding| finding.rule.name == "strength-not-checked"),
        )
    };
    for board in ["composite-6", "poplar-12", "film-faced-12", "hdpe-12"] {
        let (outcome, told) = deck(board, "");
        assert!(matches!(outcome, Outcome::Unknown(_)) && !outcome.fails() && told, "{board}: {outcome:?}");
    }
    // Fibreboard has no k_mod where it is damp at times.
    assert!(matches!(deck("mdf-18", "").0, Outcome::Unknown(_)));
    assert!(deck("mdf-18", "workshop: {strength: {service_class: 1}}").0.used().is_some());
    let own = "workshop: {materials: {poplar-12: {kind: plywood, bending_along: 20, bending_across: 15, shear_modulus: 400}}}";
    assert!(deck("poplar-12", own).0.used().is_some());
}

/// A bottom of aluminium, carried on four sides, is taken as a plate; a wide load on plywood stays a strip.
#[test]
fn a_metal_sheet_on_four_sides_is_a_plate() {
    let drawer = |bottom: &str| {
        kit(
            "",
            &format!(
                "width: 560, drawers: {{bottom: {bottom}}}, cell: {{drawer: {{slide: heavy-800, load: 40}}}}"
            ),
        )
    };
    let metal = finished(&drawer("aluminium-3"));
    let check = panel(&metal, "main-drawer-1-box-bottom");
    let stored = load(check, "lies in it");
    assert_eq!(stored.method, Method::Plate);
    // Timoshenko's alpha for the sides' ratio, between those for 1.5 and 2; E 70000, nu 0.3.
    let [a, b] = stored.spans;
    let (short, ratio) = (a.min(b), a.max(b) / a.min(b));
    assert!((1.5..2.0).contains(&ratio), "{ratio}");
    let board = metal.kit.layout.board(check.board);
    let d = 70_000.0 * 27.0 / (12.0 * (1.0 - 0.09));
    let alpha = stored.sag * d / (40.0 * G / board.shape.area() * short.powi(4));
    assert!((0.00772..0.01013).contains(&alpha), "{alpha}");
}

/// One slide: forces of the bolts add up to its share of the weight and balance it about the front bolt.
#[test]
fn a_slides_bolts_carry_what_hangs_on_it() {
    let kit = finished(&kit("", "width: 560, cell: {drawer: {slide: heavy-800, load: 40}}"));
    let check = &kit.strength.drawers[0];
    near(check.slides.iter().map(|slide| slide.weight).sum::<f64>(), check.carried * G, 1e-9);
    for slide in &check.slides {
        near(slide.out.iter().sum::<f64>(), slide.weight, 1e-9);
        let about_front: f64 = slide.bolts.iter().zip(&slide.out).map(|(x, n)| x * n).sum();
        near(about_front, -slide.weight * check.beyond, 1e-6);
        // The rear bolts are pulled up, the front one bears more than the whole weight.
        assert!(slide.out[slide.out.len() - 1] < 0.0 && slide.out[0] > slide.weight);
    }
    // The bolt at the front, M5 in 12 mm birch under 1.6 mm of steel: 0.4 f_h t d, f_h = 0.11 (1 - 0.05) 630, times 0.9 / 1.3.
    let joint = kit.strength.joints.iter().find(|joint| joint.name.ends_with("slide-left fixed")).unwrap();
    assert_eq!(joint.case, "drawn out");
    near(joint.shear, 2.0 * check.slides[0].out[0], 1e-9);
    let wood = 0.4 * 0.11 * 0.95 * 630.0 * 12.0 * 5.0 * 0.9 / 1.3;
    near(joint.outcome.used().unwrap(), joint.shear / wood, 1e-9);
    assert_eq!(joint.first(), Some(Gives::Wood('a')));
}

/// With as much in it as it is said to take, nothing of a drawer fails and what is said to give first is just used up.
#[test]
fn a_drawer_takes_what_the_weakest_of_it_takes() {
    // Bolted to the vehicle, a module does not tip.
    let corners = [("a", 100, 200), ("b", 100, -200), ("c", 700, 200), ("d", 700, -200)];
    let points = corners
        .map(|(id, x, y)| format!("{{id: {id}, x: {x}, y: {y}, thread: M8, depth: 18, rating: 2400}}"));
    let drawer = |load: f64, (bottom, slide, latch, held): (&str, &str, f64, bool)| {
        let held = if held { "anchors: [{point: a}, {point: b}, {point: c}, {point: d}], " } else { "" };
        finished(&format!(
            "bay: {{width: 1240, depth: 1050, height: 800, anchors: [{}]}}\ncarcases:\n  - {{id: main, width: 560, depth: 900, \
             height: 300, panel: birch-12, {held}drawers: {{bottom: {bottom}}}, \
             cell: {{drawer: {{slide: {slide}, load: {load}, latch: {latch}}}}}}}\n",
            points.join(", ")
        ))
    };
    let mut seen = std::collections::BTreeSet::new();
    for design in [
        ("birch-6", "heavy-800", 900.0, false),
        ("birch-18", "ordinary-450", 900.0, false),
        ("birch-18", "ordinary-450", 900.0, true),
        ("birch-12", "heavy-800", 120.0, true),
    ] {
        for load in [0.0, 5.0] {
            let takes = drawer(load, design).strength.takes[0].clone();
            assert_eq!(takes.unknown, []);
            let (most, first) = takes.most.unwrap();
            seen.insert(first);
            // A hair less, so that no last digit of a sum fails it.
            let full = drawer(most - 1e-5, design);
            let own: Vec<f64> = full
                .strength
                .outcomes(&full.kit)
                .into_iter()
                .filter(|(kind, name, _)| {
                    *kind == first
                        && match first {
                            Kind::Panel => name.contains("bottom"),
                            Kind::LooseModule => !name.contains("all"),
                            _ => true,
                        }
                })
                .filter_map(|(_, _, outcome)| outcome.used())
                .collect();
            // The centre of a drawer that is fuller lies nearer to the module, so it tips a little later than was said.
            let used = own.iter().copied().fold(0.0, f64::max);
            near(used, 1.0, if first == Kind::LooseModule { 0.1 } else { 1e-4 });
            assert!(used <= 1.0, "{first:?}: {used}");
            assert!(full.strength.takes[0].most.unwrap().0 >= most * (1.0 - 1e-4));
        }
    }
    assert_eq!(seen, [Kind::Panel, Kind::LooseModule, Kind::Slides, Kind::Latch].into());
}

/// 60 kg on a slope of 20 degrees pull with 201 N, in braking with 294 N; a latch of 150 N holds neither.
#[test]
fn a_latch_of_150_newtons_holds_no_60_kilograms() {
    let text = |load: f64, latch: f64| {
        kit("", &format!("width: 560, cell: {{drawer: {{slide: heavy-700, load: {load}, latch: {latch}}}}}"))
    };
    let light = finished(&text(40.0, 900.0));
    let own = light.strength.latches[0].mass - 40.0;
    let check = &finished(&text(60.0 - own, 900.0)).strength.latches[0];
    near(check.mass, 60.0, 1e-6);
    near(check.slope, 201.0, 2e-3);
    near(check.braking, 294.0, 2e-3);
    near(check.needed, 1.5 * 294.2, 1e-4);
    near(check.stop, 60.0 * 0.8 * 1.25 * G, 1e-9);
    let told = built_whole(&text(60.0 - own, 150.0)).findings;
    assert!(told.iter().any(|finding| finding.rule.name == "latch-too-weak" && finding.is_error()));
}

/// Whatever the points are: they hold the force, and the moment about the edge over which it tips.
#[test]
fn points_hold_what_braking_asks_for() {
    let points = "anchors: [{id: a, x: 100, y: 400, thread: M8, depth: 18, rating: 2400}, {id: b, x: 100, y: -400, thread: M8, depth: 18, \
                  rating: 2400}, {id: c, x: 700, y: 380, thread: M8, depth: 18, rating: 2400}, {id: d, x: 700, y: -410, thread: M8, depth: 18}]";
    let text = format!(
        "bay: {{width: 1040, depth: 1050, height: 800, {points}}}\ncarcases:\n  - {{id: main, width: 1000, depth: 900, height: 300, panel: \
         birch-12, anchors: [{{point: a}}, {{point: b}}, {{point: c}}, {{point: d}}], columns: [{{drawer: {{slide: heavy-800, load: 40}}}}, {{open: {{}}}}]}}\n"
    );
    let kit = finished(&text);
    let checks = &kit.strength.anchors;
    assert_eq!(checks.len(), 4);
    let weight = checks[0].mass * G;
    for way in 0..4 {
        let cases: Vec<&AnchorCase> = checks.iter().map(|check| &check.cases[way]).collect();
        let force = cases.iter().fold(crate::geom::Vector3::zero(), |sum, case| sum + case.shear);
        near(force.length(), cases[0].share * weight * 1.25, 1e-9);
        // About the vertical through the centre of gravity nothing turns.
        let turns: f64 = checks
            .iter()
            .zip(&cases)
            .map(|(check, case)| {
                let at = kit.kit.bolt(check.bolt).origin;
                (at.x - check.centre.x) * case.shear.y - (at.y - check.centre.y) * case.shear.x
            })
            .sum();
        assert!(turns.abs() < 1e-6 * weight * 1000.0, "{turns}");
        let d = force.normalize();
        let base = checks[0].base;
        let ahead = |p: crate::geom::Point3<crate::geom::VehicleFrame>| p.to_vector().dot(d);
        let pivot = ahead(base.low).max(ahead(base.high));
        let held: f64 = checks
            .iter()
            .zip(&cases)
            .map(|(check, case)| case.tension * (pivot - ahead(kit.kit.bolt(check.bolt).origin)))
            .sum();
        near(held, force.length() * (checks[0].centre.z - base.low.z), 1e-9);
    }
    let up: f64 = checks.iter().map(|check| check.cases[4].tension).sum();
    near(up, 0.2 * weight * 1.25, 1e-9);
    // At 20 g the weight counts, and nothing is multiplied.
    let crash: f64 = checks.iter().map(|check| check.crash.shear.length()).sum();
    assert!(crash >= 20.0 * weight * (1.0 - 1e-9));
    assert!(matches!(checks[3].outcome, Outcome::Unknown(_)), "no rating");
    assert!(checks[..3].iter().all(|check| check.outcome.used().is_some()));
}

/// One drawer out of a loose module: what stays behind its edge against what stands before it.
#[test]
fn a_loose_module_tips_by_the_lever() {
    let kit = finished(&kit("", "width: 500, cell: {drawer: {slide: heavy-800, load: 60}}"));
    let [check] = &kit.strength.tipping[..] else { panic!("{:?}", kit.strength.tipping) };
    near(check.stays.0 + check.out.0, kit.masses.total.mass + 60.0, 1e-6);
    near(check.factor, check.stays.0 * check.stays.1 / (check.out.0 * check.out.1), 1e-9);
    assert!(check.factor < 1.0 && check.outcome.fails());
    assert_eq!(kit.strength.loose, ["main"]);
}

/// Friction alone: (0.8 - 0.3) W 1.25 / (2 x 0.3 sin 80 x 500) straps.
#[test]
fn straps_over_a_load_hold_it_by_friction() {
    let text = |mass: f64, straps: u32| {
        format!(
            "{}equipment:\n  - {{id: case, in: main-pocket, size: {{length: 300, width: 300, height: 150}}, mass: {{empty: {mass}}}, straps: {straps}}}\n",
            kit("", "width: 600, cell: {id: pocket, open: {}}")
        )
    };
    let kit = finished(&text(50.0, 2));
    let check = &kit.strength.straps[0];
    near(
        check.by_friction[0],
        0.5 * 50.0 * G * 1.25 / (2.0 * 0.3 * 80.0_f64.to_radians().sin() * 500.0),
        1e-9,
    );
    near(check.direct[0], 0.8 * 50.0 * G * 1.25 / (2500.0 * 45.0_f64.to_radians().cos()), 1e-9);
    near(check.wanted, 2.0, 1e-9);
    assert!(!check.outcome.fails() && finished(&text(50.0, 1)).strength.straps[0].outcome.fails());
}

/// A joint of tabs and captive nuts: two planes of wood between nut and edge, 2.5 diameters long; tabs between the plies.
#[test]
fn captive_nuts_hold_by_the_wood_before_them() {
    let kit = finished(&kit(
        "workshop: {tool: {diameter: 5}}",
        "width: 560, overhang: 12, back: {inset: 12}, joints: {corner: captive-nut}, cell: {open: {}}",
    ));
    let joint = kit.strength.joints.iter().find(|joint| joint.name == "main-base+main-side-left").unwrap();
    let plug = joint.resistances.iter().find(|way| way.gives == Gives::BeforeNut);
    // M6 in 12 mm: 2 x 15 x 12 x 9.5, times 1.1 / 1.2; the slot has some play.
    near(plug.unwrap().force, 2.0 * 15.0 * 12.0 * 9.5 * 1.1 / 1.2, 0.03);
    assert!(joint.outcome.used().is_some(), "{:?}", joint.outcome);
    assert!(joint.resistances.iter().any(|way| way.gives == Gives::TabsAlong));
}

#[test]
fn loads_that_make_no_sense_are_refused() {
    let said = |loads: &str| {
        let built =
            built_whole(&format!("{}panel_loads: [{loads}]\n", kit("", "width: 424, cell: {open: {}}")));
        built
            .findings
            .iter()
            .filter(|finding| finding.is_error())
            .map(|f| f.message.clone())
            .collect::<Vec<_>>()
    };
    for (load, message) in [
        ("{panel: main-deck, mass: 5000}", "5000 kg is beyond 2000 kg"),
        ("{panel: main-deck}", "this load says nothing"),
        ("{panel: main-deck, mass: 10, pressing: foot, size: 0}", "0 mm must be more than 0 mm"),
        ("{panel: main-side-left, mass: 10}", "no panel called `main-side-left` bears anything"),
    ] {
        assert!(said(load).iter().any(|said| said.contains(message)), "{load}: {:?}", said(load));
    }
    let class = kit("workshop: {strength: {service_class: 1.5}}", "width: 424, cell: {open: {}}");
    assert!(built_whole(&class).findings.iter().any(|f| f.message.contains("no service class 1.5")));
}

/// What stands on a panel, and what the spec says it bears, each in its way.
#[test]
fn loads_of_the_spec_press_as_they_say() {
    let text = format!(
        "{}panel_loads: [{{panel: main-deck, mass: 30}}, {{panel: main-deck, mass: 20, pressing: foot, size: 50}}, {{panel: main-deck, mass: 10, \
         pressing: line, size: 200, lasting: false}}, {{panel: main-deck, person: false}}]\n",
        kit("", "width: 424, cell: {open: {}}")
    );
    let kit = finished(&text);
    let deck = panel(&kit, "main-deck");
    assert!(deck.results.iter().all(|result| !result.item.what.contains("knees")));
    let (spread, foot, line) = (load(deck, "spread"), load(deck, "foot"), load(deck, "line"));
    // Of the board's 424 x 900 whichever way its edges lie.
    let area = kit.kit.layout.board(deck.board).shape.area();
    near(spread.force, 30.0 * G / area, 1e-9);
    near(foot.moments[1], 20.0 * G * (412.0 / 4.0 - 50.0 / 8.0), 1e-9);
    near(line.moments[1], 10.0 * G * 412.0 / 4.0, 1e-9);
    let brief = |result: &PanelResult| result.item.stays == panels::Stays::Moment;
    assert!(brief(line) && !brief(spread) && !brief(foot));
    assert!(kit.strength.panels.iter().all(|check| check.outcome.used().is_none_or(f64::is_finite)));
}

/// A finding about a panel names the load that does most in that case, and says how to leave a person out only where one does.
#[test]
fn a_weak_panel_is_told_from_the_load_that_weakens_it() {
    let said = |loads: &str| {
        let built =
            built_whole(&format!("{}panel_loads: [{loads}]\n", kit("", "width: 1000, cell: {open: {}}")));
        let about = |finding: &&crate::diag::Finding| finding.rule.name == "panel-too-weak";
        let found = built.findings.iter().find(about).unwrap();
        (found.message.clone(), found.help.clone().unwrap())
    };
    let (message, help) = said("{panel: main-deck, mass: 1}");
    assert!(message.contains("for a moment") && message.ends_with("a person on both knees"), "{message}");
    assert!(help.contains("person: false"), "{help}");
    // Lighter than the person, but there for long.
    let (message, help) = said("{panel: main-deck, mass: 60, pressing: foot}");
    assert!(message.contains("at rest") && message.ends_with("60.0 kg, on a foot"), "{message}");
    assert!(!help.contains("person"), "{help}");
}

/// Sentences that cannot take their numbers from the code say the same ones.
#[test]
fn texts_say_the_numbers_that_count() {
    let schema = crate::spec::schema();
    let said = |of: &str, key: &str| {
        let said = &schema["$defs"][of]["properties"][key]["description"];
        said.as_str().unwrap_or_else(|| panic!("{of}.{key}")).to_owned()
    };
    let settings = finished(&kit("", "width: 424, cell: {open: {}}")).design.workshop.strength;
    for row in setting_rows(&settings) {
        let number = row.value.split(' ').next().unwrap();
        let default = [format!("Default: {number}."), format!("Default: {number} mm.")];
        let text = said("Strength", row.key);
        assert!(default.iter().any(|default| text.ends_with(default)), "{}: {text}", row.key);
    }
    let climbed = format!("{} mm", panels::CLIMBED);
    assert!(said("PanelLoad", "person").contains(&climbed));
    let knee = format!("Default: {} mm;", settings.knee.value);
    assert!(said("PanelLoad", "size").contains(&knee));
    let finds =
        |rule: &str| crate::checks::RULES.iter().find(|check| check.rule.name == rule).unwrap().rule.finds;
    assert!(finds("panel-too-weak").contains(&climbed));
    let [_, rearward, ..] = crate::layout::RESTRAINT_CASES;
    assert!(finds("latch-too-weak").contains(&format!("{} of the weight", rearward.share)));
}
