//! Kits against each other: what a change of a spec does, and what each number of a document counts as.

use super::*;
use crate::example_kits::{self, ANGLES, SIDE_BY_SIDE};
use crate::export::kit_json::{Fitting, Panel};
use crate::number::decimal;
use serde_json::json;

/// The kit of a spec, as its kit.json has it.
fn given(spec: &str) -> Given {
    let built = example_kits::built(spec);
    let findings = crate::diag::json(&built.findings, &built.sources);
    let document = kit_json::document(built.finished.as_ref().unwrap(), findings);
    Given { of: "kit".to_owned(), kit: read(kit_json::write(&document).as_bytes()).unwrap() }
}

fn against(old: &str, new: &str) -> Comparison {
    compare(&[given(old), given(new)]).comparisons.remove(0)
}

/// A kit against itself with something else in its document.
fn edited(old: &Given, edit: impl Fn(&mut KitDocument)) -> Comparison {
    let mut kit = old.kit.clone();
    edit(&mut kit);
    comparison(old, &Given { of: "edited".to_owned(), kit })
}

fn names(recut: &Comparison) -> Vec<&str> {
    recut.panels.recut.iter().map(|recut| recut.name.as_str()).collect()
}

/// Every panel of the new kit is in one list, every one of the old kit is used once or gone.
fn adds_up(comparison: &Comparison, old: usize, new: usize) {
    let Panels { recut, new: fresh, gone, renamed, refinished, moved, unchanged } = &comparison.panels;
    let kept = renamed.len() + refinished.len() + moved.len() + unchanged.len();
    assert_eq!(recut.len() + fresh.len() + kept, new);
    // One that is cut again stands for what is left of the old one, unless that has found another name.
    assert!(gone.len() + kept <= old && gone.len() + kept + recut.len() >= old);
}

#[test]
fn the_same_spec_twice_is_the_same_kit() {
    for spec in [ANGLES, SIDE_BY_SIDE] {
        let comparison = against(spec, &format!("# another comment\n{spec}revision: B\n"));
        assert!(comparison.same, "{comparison:?}");
        assert!(comparison.panels.unchanged.len() > 17 && comparison.panels.are_same());
    }
}

#[test]
fn the_order_of_a_spec_is_no_change() {
    let (head, carcases) = SIDE_BY_SIDE.split_once("  - id: left").unwrap();
    let (left, right) = carcases.split_once("  - id: right").unwrap();
    let turned = format!("{head}  - id: right{right}  - id: left{left}name: side-by-side\n").replacen(
        "name: side-by-side\n",
        "",
        1,
    );
    assert_ne!(turned, SIDE_BY_SIDE);
    let comparison = against(SIDE_BY_SIDE, &turned);
    assert!(comparison.same, "{comparison:?}");
}

#[test]
fn another_gap_round_the_fronts_changes_the_fronts_only() {
    let comparison = against(ANGLES, &format!("{ANGLES}    fronts: {{gap: 4}}\n"));
    assert_eq!(names(&comparison), ["main-drawer-1-front", "main-drawer-2-front"]);
    let Panels { recut, unchanged, .. } = &comparison.panels;
    assert_eq!(unchanged.len(), 16);
    // Half a gap less on the side of the other front, a whole one less on the three others: from 3 to 4 mm.
    for front in recut {
        let by = [0, 1].map(|side| front.new.size[side] - front.old.size[side]);
        assert_eq!(by.map(|by| decimal(by, 6)), ["-1.5", "-2"], "{front:?}");
        assert_eq!(front.differs.first(), Some(&model::Difference::Size));
    }
    assert!(comparison.panels.new.is_empty() && comparison.hardware.is_empty() && !comparison.same);
}

/// A locker between two open columns.
fn locker(hinge: &str) -> String {
    format!(
        "bay: {{width: 1300, depth: 1050, height: 1000}}\ncarcases:\n  - {{id: main, at: {{x: 500}}, width: 1200, depth: 500, height: \
         500, panel: birch-12, columns: [{{size: 300, open: {{}}}}, {{id: locker, door: {{hinge: {hinge}}}}}, {{size: 300, open: {{}}}}]}}\n"
    )
}

#[test]
fn a_door_turned_over_changes_itself_and_what_is_beside_it() {
    let comparison = against(&locker("left"), &locker("right"));
    assert_eq!(names(&comparison), ["main-divider-2", "main-locker-door", "main-locker-strip"]);
    // What bore the latch on one side bears it on the other: the same holes. The strip's bolts lie otherwise.
    let Panels { renamed, gone, new, moved, unchanged, .. } = &comparison.panels;
    let pairs: Vec<_> = renamed.iter().map(|pair| (pair.old.as_str(), pair.new.as_str())).collect();
    assert_eq!(pairs, [("main-divider-2", "main-divider-1")]);
    assert_eq!(gone.iter().map(|piece| piece.name.as_str()).collect::<Vec<_>>(), ["main-divider-1"]);
    assert!(new.is_empty() && moved.is_empty());
    assert_eq!(unchanged.len() + 4, given(&locker("left")).kit.panels.len());
}

#[test]
fn another_name_for_the_same_shape_is_no_cut() {
    let comparison = against(ANGLES, &ANGLES.replace("id: main", "id: other"));
    let Panels { recut, new, gone, renamed, .. } = &comparison.panels;
    assert!(recut.is_empty() && new.is_empty() && gone.is_empty(), "{comparison:?}");
    assert_eq!(renamed.len(), 18);
    // Left and right boards of a box may be alike; a base is like nothing else here.
    assert!(renamed.iter().any(|pair| (pair.old.as_str(), pair.new.as_str()) == ("main-base", "other-base")));
    assert!(!renamed[0].other_mark);
    let marks = "workshop: {part_marks: {height: 5}}\n";
    let marked = format!("{ANGLES}{marks}");
    let comparison = against(&marked, &marked.replace("id: main", "id: other"));
    assert!(comparison.panels.renamed.iter().any(|pair| pair.other_mark));
    // With a mark where there was none a panel is engraved again under its own name.
    let comparison = against(ANGLES, &marked);
    assert!(names(&comparison).contains(&"main-base") && comparison.panels.renamed.is_empty());
    assert_eq!(comparison.panels.recut[0].differs, [model::Difference::Engravings]);
    adds_up(&comparison, 18, 18);
}

#[test]
fn panels_that_change_names_among_themselves_are_not_cut_again() {
    let angles = given(ANGLES);
    let swap = |kit: &mut KitDocument| {
        let at = |name: &str, kit: &KitDocument| kit.panels.iter().position(|p| p.name == name).unwrap();
        let (base, back) = (at("main-base", kit), at("main-back", kit));
        (kit.panels[base].name, kit.panels[back].name) = ("main-back".to_owned(), "main-base".to_owned());
    };
    let comparison = edited(&angles, swap);
    assert_eq!(comparison.panels.renamed.len(), 2);
    assert!(comparison.panels.recut.is_empty());
    // One takes the other's name, and the other is not needed any more.
    let comparison = edited(&angles, |kit| {
        swap(kit);
        kit.panels.retain(|panel| panel.name != "main-back");
    });
    let Panels { renamed, gone, .. } = &comparison.panels;
    assert_eq!((renamed[0].old.as_str(), renamed[0].new.as_str()), ("main-back", "main-base"));
    assert_eq!(gone.iter().map(|piece| piece.name.as_str()).collect::<Vec<_>>(), ["main-base"]);
    adds_up(&comparison, 18, 17);
}

/// Each number by itself: what it counts as.
#[test]
fn every_number_that_decides_a_cut_counts_to_the_last_digit() {
    use model::Difference::{Bores, Contour, Countersinks, Material, Openings, Size, Thickness};
    let nuts = given(example_kits::CAPTIVE_NUTS);
    let first = |edit: fn(&mut Panel)| edited(&nuts, |kit| edit(&mut kit.panels[0]));
    let bore = |edit: fn(&mut kit_json::Bore)| {
        edited(&nuts, |kit| {
            let sunk = |panel: &&mut Panel| panel.bores.iter().any(|bore| bore.countersink.is_some());
            let panel = kit.panels.iter_mut().find(sunk).unwrap();
            edit(panel.bores.iter_mut().find(|bore| bore.countersink.is_some()).unwrap());
        })
    };
    for (comparison, difference) in [
        (first(|panel| panel.material = "poplar-12".to_owned()), Material),
        (first(|panel| panel.thickness += 1e-6), Thickness),
        (first(|panel| panel.size[1] += 1e-6), Size),
        (first(|panel| panel.outline[2][0] += 1e-6), Contour),
        (first(|panel| panel.outline[0][2] = 1e-12), Contour),
        (first(|panel| panel.openings.clear()), Openings),
        (first(|panel| panel.openings[0].points[1][1] -= 1e-6), Openings),
        (bore(|bore| bore.diameter += 1e-6), Bores),
        (bore(|bore| bore.depth = Some(5.0)), Bores),
        (bore(|bore| bore.countersink.as_mut().unwrap().depth += 1e-6), Countersinks),
    ] {
        assert_eq!(comparison.panels.recut.len(), 1, "{difference:?}");
        assert_eq!(comparison.panels.recut[0].differs, [difference]);
    }
    let moved = bore(|bore| bore.u += 1e-6).panels.recut.remove(0);
    assert_eq!(moved.differs, [Bores, Countersinks]);
    assert_eq!((moved.bores_gone, moved.bores_new), (1, 1));
}

#[test]
fn what_does_not_decide_a_cut_is_no_cut() {
    let nuts = given(example_kits::CAPTIVE_NUTS);
    let first = |edit: fn(&mut Panel)| edited(&nuts, |kit| edit(&mut kit.panels[0]));
    let edits: [fn(&mut Panel); 6] = [
        |panel| panel.outline.rotate_left(3),
        |panel| panel.bores.reverse(),
        |panel| panel.openings.reverse(),
        |panel| panel.openings[0].points.rotate_left(1),
        |panel| panel.bores[0].bolt = "another".to_owned(),
        |panel| panel.outline[0][2] = -0.0,
    ];
    for edit in edits {
        assert!(first(edit).panels.are_same());
    }
    let moved = first(|panel| panel.placement[2][3] += 1.0);
    assert_eq!((moved.panels.moved.len(), moved.panels.recut.len(), moved.same), (1, 0, false));
    let carpet = "finishes: [{id: top, kind: carpet, panels: [main-deck], wrap: false}]\n";
    let mat = "finishes: [{id: top, kind: rubber-mat, panels: [main-deck], wrap: false}]\n";
    let covered = against(&format!("{ANGLES}{carpet}"), &format!("{ANGLES}{mat}"));
    assert_eq!(covered.panels.refinished, ["main-deck"]);
}

#[test]
fn pieces_are_counted_by_designation() {
    let angles = given(ANGLES);
    let comparison = edited(&angles, |kit| {
        kit.bolts[0].length += 5.0;
        kit.bolts[1].nut = None;
        let mut angles = kit.fittings.iter_mut().filter_map(|fitting| match fitting {
            Fitting::Angle { length, holes, .. } => Some((length, holes)),
            _ => None,
        });
        *angles.next().unwrap().0 += 1.0;
        angles.next_back().unwrap().1[0][0] += 1e-6;
        kit.drawers[0].slide = "heavy-700".to_owned();
        kit.sheets[0].offcut = true;
    });
    let told = |list: &[Counted]| -> Vec<(String, i64, usize)> {
        let by = |c: &Counted| i64::try_from(c.new).unwrap() - i64::try_from(c.old).unwrap();
        list.iter().map(|c| (c.kind.clone(), by(c), c.redrilled)).collect()
    };
    let kind = |kind: &str, by, redrilled| (kind.to_owned(), by, redrilled);
    assert_eq!(told(&comparison.hardware), [kind("bolt", -1, 0), kind("bolt", 1, 0), kind("nut", -1, 0)]);
    let fittings = told(&comparison.fittings);
    assert_eq!(fittings.iter().filter(|(kind, ..)| kind == "slides").count(), 2);
    assert_eq!(fittings.iter().map(|(_, by, _)| by).sum::<i64>(), 0);
    assert_eq!(fittings.iter().map(|(.., redrilled)| redrilled).sum::<usize>(), 1);
    assert_eq!(told(&comparison.sheets), [kind("sheet", -1, 0), kind("sheet", 1, 0)]);
    assert!(comparison.panels.are_same() && !comparison.same);
}

#[test]
fn figures_margins_and_findings_are_told() {
    let finding = |line: u32, message: &str| json!({"rule": "near-bay", "severity": "warning", "line": line, "on": "main", "message": message, "accepted": null});
    let (mut old, mut new) = (given(ANGLES), given(ANGLES));
    old.kit.findings = json!([finding(1, "a"), finding(1, "a"), finding(2, "b")]);
    new.kit.findings = json!([finding(7, "a"), finding(8, "c")]);
    new.kit.mass.total = old.kit.mass.total + 0.25;
    old.kit.quote.currency = Some("EUR".to_owned());
    let lines = [("front", 12.5), ("rear", -3.25)];
    let verdict = |(what, margin): (&str, f64)| json!({"what": what, "value": 1.0, "limit": 1.0, "margin": margin, "passes": true});
    let mut budget = json!({"scenario": "all", "title": "", "limits": "plate", "comparison": false, "wheelbase": 1.0, "lines": [],
        "total": 1.0, "front": 1.0, "rear": 1.0, "front_of_kerb": 1.0, "cures": [], "verdicts": lines.map(verdict)});
    old.kit.budgets = vec![serde_json::from_value(budget.clone()).unwrap()];
    budget["verdicts"] = json!([verdict(("front", 12.5)), verdict(("rear", -3.0)), verdict(("gross", 9.0))]);
    new.kit.budgets = vec![serde_json::from_value(budget).unwrap()];
    let compared = compare(&[old, new]);
    let [comparison] = compared.comparisons.as_slice() else { panic!("one") };
    let messages = |told: &[Told]| told.iter().map(|told| told.message.clone()).collect::<Vec<_>>();
    assert_eq!(
        (messages(&comparison.came), messages(&comparison.went)),
        (vec!["c".into()], vec!["a".into(), "b".into()])
    );
    assert_eq!(comparison.mass.by, Some(0.25));
    // Nothing is priced here, and currencies differ.
    assert_eq!((comparison.cost.by, compared.kits[0].cost), (None, None));
    let margins: Vec<_> =
        comparison.margins.iter().map(|m| (m.what.as_str(), m.margin.old, m.margin.by)).collect();
    assert_eq!(margins, [("gross", None, None), ("rear", Some(-3.25), Some(0.25))]);
    assert_eq!((compared.kits[0].warnings, compared.kits[1].warnings), (3, 2));
    assert!(!comparison.same);
}

#[test]
fn a_change_that_nothing_else_tells_is_told_by_its_field() {
    let angles = given(ANGLES);
    let comparison = edited(&angles, |kit| kit.drawers[0].load += 1.0);
    assert_eq!(
        (comparison.elsewhere.as_slice(), comparison.same),
        (["drawers".to_owned()].as_slice(), false)
    );
    let laid = edited(&angles, |kit| kit.sheets[0].placed[0].x += 1.0);
    assert_eq!(laid.elsewhere, ["sheets"]);
    let identity = edited(&angles, |kit| {
        kit.edition = None;
        kit.sheets[0].edition = None;
        kit.name = "other".to_owned();
        kit.generator.version = "0".to_owned();
    });
    assert!(identity.same);
}

#[test]
fn documents_of_other_versions_are_refused_with_the_remedy() {
    let text = kit_json::write(&given(ANGLES).kit);
    let other = read(text.replacen("\"version\": 1", "\"version\": 2", 1).as_bytes()).unwrap_err();
    assert!(
        other.starts_with(
            "it is of version 2 of kit.json, and this program reads version 1; make that kit anew"
        ),
        "{other}"
    );
    assert!(read(b"{}").unwrap_err().starts_with("it is no kit.json of ours (missing field `version`"));
    assert!(read(b"%PDF").unwrap_err().contains("give a spec, a folder that `make` wrote"));
    let lacking = read(text.replacen("\"bolts\"", "\"screws\"", 1).as_bytes()).unwrap_err();
    assert!(lacking.contains("missing field `bolts`") && lacking.contains("make that kit anew"), "{lacking}");
    // A kit that was made before sets had editions.
    let mut value: Value = serde_json::from_str(&text).unwrap();
    value.as_object_mut().unwrap().remove("edition");
    assert_eq!(read(value.to_string().as_bytes()).unwrap().edition, None);
}

#[test]
fn what_is_written_is_read_back_equal_and_every_field_is_described() {
    let compared = compare(&[given(ANGLES), given(SIDE_BY_SIDE), given(example_kits::CAPTIVE_NUTS)]);
    assert_eq!((compared.kits.len(), compared.comparisons.len()), (3, 2));
    let text = serde_json::to_string(&compared).unwrap();
    assert_eq!(serde_json::from_str::<Compared>(&text).unwrap(), compared);
    let schema = schema();
    let mut found = 0;
    for definition in schema["$defs"].as_object().unwrap().values().chain([&schema]) {
        for (name, field) in definition["properties"].as_object().into_iter().flatten() {
            found += 1;
            assert!(!field["description"].is_null(), "{name}");
        }
    }
    assert!(found > 50, "{found}");
    for (comparison, kit) in compared.comparisons.iter().zip(&compared.kits[1..]) {
        adds_up(comparison, compared.kits[0].panels, kit.panels);
    }
}
