//! Legends: where their strokes come to lie, and what is refused.

use crate::example_kits;
use crate::export::cut_files;
use crate::export::cutfile::{Operation, Shape};
use crate::geom::{Aabb, Point3};

/// A carcase with a fixed front, 1000 wide, and these legends.
fn kit(legends: &[&str]) -> String {
    let lines: Vec<String> = legends.iter().map(|legend| format!("  - {{{legend}}}")).collect();
    format!(
        "bay: {{width: 1040, depth: 1050, height: 800}}\ncarcases:\n  - {{id: main, at: {{x: 50}}, width: 1000, depth: 900, \
         height: 300, panel: birch-12, cell: {{id: board, blank: {{}}}}}}\nlegends:\n{}\n",
        lines.join("\n")
    )
}

fn found(text: &str) -> Vec<(&'static str, String)> {
    let findings = example_kits::built(text).findings;
    findings.into_iter().map(|finding| (finding.rule.name, finding.message)).collect()
}

/// Each legend's box in the vehicle.
fn boxes(text: &str, panel: &str) -> Vec<(String, Aabb)> {
    let kit = example_kits::finished(text).kit;
    let panel = kit.panels.iter().find(|one| one.name == panel).unwrap();
    let face = panel.material.actual;
    let of = |engraving: &crate::layout::Engraving| {
        let corners = engraving.strokes.iter().flatten();
        let corners = corners.map(|p| panel.placement.to_vehicle(Point3::new(p.x, p.y, face)));
        (engraving.text.clone(), Aabb::around(corners))
    };
    panel.engravings.iter().map(of).collect()
}

#[test]
fn a_legend_reads_from_left_to_right_before_its_panel() {
    let text = kit(&["id: l, text: LI, front_of: main-board, height: 12, edge: {left: 30, top: 20}"]);
    let front = example_kits::finished(&text).kit;
    let front = front.panels.iter().find(|panel| panel.name == "main-board").unwrap();
    let (plate, (_, lettered)) = (front.plate().aabb(), boxes(&text, "main-board").remove(0));
    // Seen from the tailgate left is +y. L is 4 units wide, a gap of 1.5, then I: 5.5 units of 12/6 = 2 mm.
    assert!((plate.high.y - lettered.high.y - 30.0).abs() < 1e-9, "{lettered:?}");
    assert!((lettered.size().y - 11.0).abs() < 1e-9 && (lettered.size().z - 12.0).abs() < 1e-9);
    assert!((plate.high.z - lettered.high.z - 20.0).abs() < 1e-9);
    // On the face towards the tailgate.
    assert!((lettered.low.x - plate.low.x).abs() < 1e-9 && lettered.size().x < 1e-9);
    // The first stroke of L begins at its top, to the left of I.
    let stroke = &front.engravings[0].strokes;
    let place = |p: crate::geom::Point2<_>| front.placement.to_vehicle(Point3::new(p.x, p.y, 0.0));
    let (l, i) = (place(stroke[0][0]), place(stroke[1][0]));
    assert!(l.y > i.y && (l.z - lettered.high.z).abs() < 1e-9 && (i.z - lettered.low.z).abs() < 1e-9);
}

#[test]
fn the_front_of_a_locker_is_its_door() {
    let text = kit(&["id: l, text: LI, front_of: main-board"]).replace("blank: {}", "door: {hinge: left}");
    assert_eq!(boxes(&text, "main-board-door").len(), 1);
    let finding = &found(&text.replace("front_of: main-board", "front_of: main-bord"))[0];
    assert_eq!(finding.0, "panel-unknown");
}

#[test]
fn an_upright_legend_reads_upwards() {
    let text = kit(&["id: l, text: LI, front_of: main-board, height: 12, upright: true"]);
    let (_, lettered) = boxes(&text, "main-board").remove(0);
    assert!((lettered.size().z - 11.0).abs() < 1e-9 && (lettered.size().y - 12.0).abs() < 1e-9);
}

#[test]
fn cut_files_show_strokes_on_their_own_layer_before_all_cuts() {
    let finished = example_kits::finished(&kit(&["id: l, text: Fuses 12 V, front_of: main-board"]));
    let files = cut_files::all(&finished.cut_set());
    let file = &files.iter().find(|file| file.stem == "parts/main-board").unwrap().file;
    let strokes = file.items.iter().take_while(|item| item.operation == Operation::Engrave).count();
    // F 2, u 2, s 1, e 1, s 1; 1 and 2 one each; V 1.
    assert_eq!(strokes, 10);
    assert_eq!(file.items.iter().filter(|item| item.operation == Operation::Engrave).count(), 10);
    let open = |item: &crate::export::cutfile::Item| matches!(item.shape, Shape::Open(_));
    assert!(file.items.iter().take(strokes).all(open));
}

#[test]
fn what_cannot_be_engraved_or_read_is_refused() {
    let of = |legend: &str| found(&kit(&[legend]));
    assert_eq!(of("id: a, text: Fuses, front_of: main-board"), []);
    let finding = &of("id: a, text: \"10 \u{2126}\", front_of: main-board")[0];
    assert!(finding.0 == "legend-outside-font" && finding.1.contains('\u{2126}'), "{finding:?}");
    assert_eq!(of("id: a, text: Fuses, front_of: main-board, facing: front")[0].0, "legend-on-far-face");
    assert_eq!(of("id: a, text: Fuses, panel: main-bord")[0].0, "panel-unknown");
    assert_eq!(of("id: a, text: Fuses")[0].0, "on-panel-unclear");
    for place in ["edge: {left: 1}", "middle: {top: 3}", "height: 200"] {
        let found = of(&format!("id: a, text: Fuses for everything, front_of: main-board, {place}"));
        assert_eq!(found[0].0, "legend-does-not-fit", "{place}");
    }
    // Across an opening; under a socket's plate.
    let hole = "cutouts: [{id: hole, front_of: main-board, round: {diameter: 60}}]\n";
    let text = kit(&["id: a, text: Fuses, front_of: main-board"]) + hole;
    let finding = &found(&text)[0];
    assert!(finding.0 == "legend-does-not-fit" && finding.1.contains("the opening of `hole`"), "{finding:?}");
    let socket = "cutouts: [{id: s, front_of: main-board, fitting: socket-double, middle: {left: 200}}]\n";
    let text = kit(&["id: a, text: I, front_of: main-board, middle: {left: 200, top: 105}"]) + socket;
    assert!(found(&text).iter().any(|(rule, _)| *rule == "legend-does-not-fit"), "{:?}", found(&text));
    let text = kit(&["id: a, text: I, front_of: main-board, middle: {left: 200, top: 50}"]) + socket;
    assert_eq!(found(&text), []);
}
