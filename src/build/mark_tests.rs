//! Part marks: where they come to lie, and which panels have none.

use crate::example_kits;
use crate::finished::Finished;
use crate::geom::{Point3, bounds_of};
use crate::joints::Panel;
use crate::joints::on_face::{OFF_EDGES, Surroundings};
use crate::layout::{Engraving, EngravingKind};

/// A carcase with a drawer and a fixed front, and what the workshop says of part marks.
fn kit(marks: &str) -> Finished {
    let text = format!(
        "bay: {{width: 1040, depth: 1050, height: 800}}\n\
         carcases:\n  - id: main\n    at: {{x: 50}}\n    width: 1000\n    depth: 900\n    height: 300\n    panel: birch-12\n    \
         cell: {{columns: [{{id: tools, drawer: {{slide: ordinary-700}}}}, {{id: board, blank: {{}}}}]}}\n\
         legends: [{{id: l, text: Fuses, front_of: main-board, height: 12}}]\n{marks}\n"
    );
    example_kits::finished(&text)
}

fn mark(panel: &Panel) -> Option<&Engraving> {
    panel.engravings.iter().find(|engraving| engraving.kind == EngravingKind::PartMark)
}

#[test]
fn without_the_key_no_panel_is_marked() {
    let kit = kit("").kit;
    let texts: Vec<&str> =
        kit.panels.iter().flat_map(|panel| &panel.engravings).map(|one| one.text.as_str()).collect();
    assert_eq!(texts, ["Fuses"]);
}

#[test]
fn every_panel_but_the_fronts_has_its_name_off_edges_and_holes() {
    let finished = kit("workshop: {part_marks: {height: 6}}");
    let kit = &finished.kit;
    for panel in &kit.panels {
        let Some(mark) = mark(panel) else {
            assert!(panel.name.ends_with("-front") || panel.name == "main-board", "{}", panel.name);
            continue;
        };
        assert_eq!(mark.text, panel.name);
        let (off, what) = Surroundings::of(kit, panel).nearest(&mark.strokes);
        assert!(off >= OFF_EDGES, "{}: {off} from {what}", panel.name);
        assert!((mark.height - 6.0).abs() < 1e-9, "{}: {}", panel.name, mark.height);
    }
    assert!(kit.panels.iter().filter(|panel| mark(panel).is_some()).count() > 8);
}

#[test]
fn a_front_has_its_name_only_where_asked_for_or_where_carpet_covers_it() {
    let of = |marks: &str| {
        let finished = kit(marks);
        finished
            .kit
            .panels
            .iter()
            .filter(|panel| mark(panel).is_none())
            .map(|panel| panel.name.clone())
            .collect()
    };
    let bare: Vec<String> = of("workshop: {part_marks: {}}");
    assert_eq!(bare, ["main-board", "main-tools-front"]);
    let asked: Vec<String> = of("workshop: {part_marks: {fronts: true}}");
    assert!(asked.is_empty(), "{asked:?}");
    let carpet: Vec<String> = of(
        "workshop: {part_marks: {}}\nfinishes: [{id: felt, kind: carpet, panels: [main-tools-front], faces: a, wrap: false}]",
    );
    assert_eq!(carpet, ["main-board"]);
}

/// The base's ends are covered by the uprights that stand on it: 12 mm wide strips, in which letters 5 mm high fit upright.
#[test]
fn a_name_goes_where_another_part_will_cover_it() {
    let finished = kit("workshop: {part_marks: {}}");
    let kit = &finished.kit;
    let base = kit.panels.iter().find(|panel| panel.name == "main-base").unwrap();
    let strokes = &mark(base).unwrap().strokes;
    let place =
        |p: crate::geom::Point2<_>| base.placement.to_vehicle(Point3::new(p.x, p.y, base.material.actual));
    let under = |other: &Panel| {
        let aabb = other.plate().aabb();
        strokes.iter().flatten().all(|&p| {
            let p = place(p);
            (aabb.low.x..=aabb.high.x).contains(&p.x) && (aabb.low.y..=aabb.high.y).contains(&p.y)
        })
    };
    assert!(kit.panels.iter().any(|other| other.name != base.name && under(other)), "{strokes:?}");
}

/// The text is some 36 letters of about 4.5 units of 20/6 mm, 540: too long for a front of 450 by 200 mm either way.
#[test]
fn a_long_name_gets_smaller_until_it_fits() {
    let text = "bay: {width: 1040, depth: 1050, height: 800}\ncarcases:\n  - {id: main, width: 450, depth: 900, height: 200, \
                panel: birch-12, cell: {id: a-name-that-is-as-long-as-the-front, blank: {}}}\n\
                workshop: {part_marks: {fronts: true, height: 20}}\n";
    let finished = example_kits::finished(text);
    let front = finished.kit.panels.iter().find(|panel| panel.name.ends_with("the-front")).unwrap();
    let mark = mark(front).unwrap();
    assert!((3.0..20.0).contains(&mark.height), "{}", mark.height);
    let (low, high) = bounds_of(mark.strokes.iter().flatten().copied());
    // One step more would be too long.
    let step = (high - low).x.max((high - low).y) * (mark.height + 1.0) / mark.height;
    assert!(step > 450.0 - 2.0 * OFF_EDGES - 10.0, "{step}");
    assert!(finished.kit.panels.iter().filter_map(|panel| self::mark(panel)).any(|one| one.height > 19.9));
}

/// An upright of 900 by 160 mm has its name along its length, whichever way that lies on the sheet.
#[test]
fn a_name_runs_along_a_narrow_strip() {
    let text = "bay: {width: 1040, depth: 1050, height: 800}\ncarcases:\n  - {id: a-carcase, width: 450, depth: 900, height: 160, \
                panel: birch-12, cell: {id: b, blank: {}}}\nworkshop: {part_marks: {height: 16}}\n";
    let finished = example_kits::finished(text);
    for panel in finished.kit.panels.iter().filter(|panel| panel.name.contains("side")) {
        let (low, high) = panel.outline.bounds();
        let mark = mark(panel).unwrap();
        let (a, b) = bounds_of(mark.strokes.iter().flatten().copied());
        assert_eq!(high.x - low.x > high.y - low.y, b.x - a.x > b.y - a.y, "{}", panel.name);
    }
}

/// No two letterings of one panel come near each other.
#[test]
fn a_name_keeps_off_a_legend() {
    let finished = kit("workshop: {part_marks: {fronts: true, height: 8}}");
    let board = finished.kit.panels.iter().find(|panel| panel.name == "main-board").unwrap();
    let [a, b] = [&board.engravings[0], &board.engravings[1]]
        .map(|one| bounds_of(one.strokes.iter().flatten().copied()));
    let gap = (a.0.x - b.1.x).max(b.0.x - a.1.x).max(a.0.y - b.1.y).max(b.0.y - a.1.y);
    assert!(gap >= OFF_EDGES, "{gap}");
}
