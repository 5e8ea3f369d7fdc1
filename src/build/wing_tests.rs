//! Whole kits with wings and hatches.

#![expect(clippy::float_cmp, reason = "lengths lie on the grid of whole micrometres")]

use super::*;
use crate::export;
use crate::geom::{Point3, VehicleFrame};
use crate::joints::Panel;
use crate::spec::Text;
use proptest::prelude::*;

/// A wing 956 mm long beside each side of a carcase, from 500 out to 640 and 660 less the clearance.
const BOTH: &str = "\
bay: {width: 1330, depth: 1100, height: 900}
carcases:
  - {id: main, width: 1000, depth: 900, height: 305, panel: birch-12, cell: {drawer: {slide: heavy}}}
wings:
  - id: wing
    side: both
    points: [{x: 40, y: 620}, {x: 230, y: 640, fillet: 30}, {x: 340, y: 660}, {x: 1000, y: 656}]
";

/// A square of 160 x 800 beside the left side, as a drawing in millimetres.
const DRAWING: &str = "0\nSECTION\n2\nHEADER\n9\n$INSUNITS\n70\n4\n0\nENDSEC\n0\nSECTION\n2\nENTITIES\n0\nLWPOLYLINE\n70\n1\n\
                       10\n0\n20\n0\n10\n800\n20\n0\n10\n800\n20\n140\n10\n0\n20\n140\n0\nENDSEC\n0\nEOF\n";

/// The same square on a page in millimetres.
const SVG: &str = "<svg width='1000mm' height='300mm' viewBox='0 0 1000 300'><rect width='800' y='160' height='140'/></svg>";

fn built(text: &str) -> Built {
    let design = Text { name: "design.yaml", text };
    let input = Input { design, fallback_name: "kit", vehicle: None, workshop: None };
    let mut open = |_: &str, path: &str| match path {
        "wing.dxf" => Ok((path.to_owned(), DRAWING.to_owned())),
        "wing.svg" => Ok((path.to_owned(), SVG.to_owned())),
        _ => Err("there is no such file".to_owned()),
    };
    let built = build(&input, &mut open, crate::build::Laying::AsAsked, &mut crate::sheets::unwatched);
    crate::example_kits::strength_aside(built)
}

/// The finished kit of a spec in which nothing is found.
fn sound(text: &str) -> (Finished, Sources) {
    let built = built(text);
    assert!(built.findings.is_empty(), "{}", crate::diag::human(&built.findings, &built.sources, false));
    (built.finished.unwrap(), built.sources)
}

fn rules_of(text: &str) -> Vec<&'static str> {
    built(text).findings.iter().map(|finding| finding.rule.name).collect()
}

fn panel<'a>(finished: &'a Finished, name: &str) -> &'a Panel {
    finished.kit.panels.iter().find(|panel| panel.name == name).unwrap()
}

/// Corners of a panel's upper face in the vehicle.
fn corners(panel: &Panel) -> Vec<Point3<VehicleFrame>> {
    let up = panel.material.actual;
    let place =
        |v: &crate::geom::Vertex<_>| panel.placement.to_vehicle(Point3::new(v.point.x, v.point.y, up));
    panel.outline.vertices().iter().map(place).collect()
}

#[test]
fn both_wings_are_mirror_images_with_their_upper_faces_up_and_level_with_the_deck() {
    let (finished, _) = sound(BOTH);
    let (left, right) = (panel(&finished, "wing-left"), panel(&finished, "wing-right"));
    for wing in [left, right] {
        assert_eq!((wing.placement.axes.w.z, wing.placement.axes.u.x), (1.0, 1.0));
        assert!(wing.outline.area() > 0.0 && corners(wing).iter().all(|p| (p.z - 305.0).abs() < 1e-9));
    }
    let right = corners(right);
    for p in corners(left) {
        assert!(right.iter().any(|q| (p.x - q.x).hypot(p.y + q.y) < 1e-6), "{p:?} {right:?}");
    }
    assert_eq!(right.len(), left.outline.vertices().len());
}

#[test]
fn a_fillet_of_30_is_26_in_the_panel_and_the_ends_are_where_they_were_measured() {
    let (finished, _) = sound(BOTH);
    let wing = panel(&finished, "wing-left");
    let arcs: Vec<f64> = wing
        .outline
        .sides()
        .filter(|side| side.2 != 0.0)
        .map(|(a, b, bulge)| crate::geom::Arc::new(a, b, bulge).radius)
        .collect();
    // At x = 230 the line turns left, from 20/190 to 20/110: the arc is wider by the clearance, 30 + 4. At x = 340 it
    // turns right: sharp.
    assert!(arcs.len() == 1 && (arcs[0] - 34.0).abs() < 1e-3, "{arcs:?}");
    let all = corners(wing);
    let reach = |best: fn(f64, f64) -> f64, start| all.iter().map(|p| p.x).fold(start, best);
    assert_eq!((reach(f64::min, 1e9), reach(f64::max, 0.0)), (40.0, 1000.0));
}

#[test]
fn a_wings_angle_lies_back_to_back_with_the_decks_and_shares_its_bolts() {
    let (finished, _) = sound(BOTH);
    let piece =
        finished.kit.angles.iter().find(|piece| piece.name == "main-side-left+wing-left/angle-1").unwrap();
    // The deck's bolts are 18 below its underside, as is the wing's heel: 305 - 12 - 18 = 275.
    assert_eq!(piece.gauges, [18.0, 18.0]);
    let shared: Vec<_> =
        finished.kit.bolts.iter().filter(|bolt| bolt.panels.len() == 1 && bolt.grip == 18.0).collect();
    // 3 mm of angle, 12 of side, 3 of angle; seven on each side, the head outside on the wing's angle.
    assert_eq!(shared.len(), 14);
    assert!(shared.iter().all(|bolt| bolt.origin.y.abs() == 503.0 && bolt.origin.z == 275.0));
    assert_eq!(piece.holes[1].len(), 7);
    // A thinner wing's heel is higher, and so are the holes of its leg farther from it.
    let (thin, _) = sound(&BOTH.replace("side: both", "side: both\n    panel: birch-9"));
    let wing = panel(&thin, "wing-left").material.actual;
    let piece = thin.kit.angles.iter().find(|piece| piece.name.contains("wing-left")).unwrap();
    assert!((piece.gauges[1] - (305.0 - wing - 275.0)).abs() < 1e-9, "{:?}", piece.gauges);
}

#[test]
fn a_wing_too_thin_to_share_the_decks_bolts_is_told_and_one_as_thick_shares_them() {
    let of = |deck: &str, wing: &str| {
        BOTH.replace("panel: birch-12", &format!("panel: {deck}"))
            .replace("side: both", &format!("side: both\n    panel: {wing}"))
    };
    let thin = built(&of("birch-18", "birch-9"));
    let found: Vec<_> = thin.findings.iter().filter(|f| f.rule.name == "joint-without-bolts").collect();
    assert_eq!(found.len(), 2, "{}", crate::diag::human(&thin.findings, &thin.sources, false));
    assert!(found.iter().all(|finding| {
        finding.help.as_ref().is_some_and(|help| help.contains("as thick as the carcase's deck"))
    }));
    sound(&of("birch-18", "birch-18"));
}

#[test]
fn a_wing_with_nothing_to_hold_it_is_told() {
    let over = BOTH.replace("cell:", "overhang: 12, cell:");
    assert_eq!(rules_of(&over), ["wing-not-joined", "wing-not-joined"]);
    // Under the deck, and clear of its angle, it comes up to the side's face.
    let under =
        over.replace("drawer: {slide: heavy}", "open: {}").replace("side: both", "side: both\n    top: 230");
    assert_eq!(rules_of(&under), [""; 0]);
}

#[test]
fn a_drawn_wing_lies_where_its_origin_is_put() {
    let text = "\
bay: {width: 1330, depth: 1100, height: 900}
carcases:
  - {id: main, width: 1000, depth: 900, height: 305, panel: birch-12, cell: {open: {}}}
wings:
  - {id: wing, side: both, outline: {file: wing.dxf, at: {x: 60, y: 500}}}
";
    for text in [text, &text.replace("wing.dxf", "wing.svg")] {
        let (finished, _) = sound(text);
        for (name, sign) in [("wing-left", 1.0), ("wing-right", -1.0)] {
            let wing = panel(&finished, name);
            assert!((wing.outline.area() - 800.0 * 140.0).abs() < 1e-6);
            let places = corners(wing);
            assert!(places.iter().any(|p| p.x == 60.0 && p.y == sign * 500.0), "{places:?}");
            assert!(places.iter().any(|p| p.x == 860.0 && p.y == sign * 640.0), "{places:?}");
        }
    }
}

#[test]
fn sides_that_differ_are_told_where_they_differ_most() {
    let uneven = BOTH.replace(
        "width: 1330, ",
        "sides: {heights: [0], stations: [{x: 0, left: [665], right: [665]}, {x: 500, left: [668], right: [664]}]}, ",
    );
    let findings = built(&uneven).findings;
    assert_eq!(findings.len(), 1);
    assert_eq!(
        findings[0].message,
        "500 mm ahead of the rear edge and 293 mm above the floor the bay reaches 668 mm to the left and 664 mm to the \
         right; mirror images need the same within 2 mm"
    );
}

/// A wing of 250 mm with a hatch.
const HATCH: &str = "\
bay: {width: 1520, depth: 1100, height: 900}
carcases:
  - {id: main, width: 1000, depth: 900, height: 305, panel: birch-12, cell: {open: {}}}
wings:
  - id: wing
    side: right
    points: [{x: 40, y: 754}, {x: 940, y: 754}]
    hatches: [{x: 450, y: 640, length: 300, width: 120}]
";

#[test]
fn a_lid_fills_its_hatch_less_the_gap_and_lies_on_bolted_strips() {
    let (finished, sources) = sound(HATCH);
    let wing = panel(&finished, "wing");
    let opening = &wing.openings[0].path;
    // 300 x 120 with corners of 12, lid 6 less each way with corners of 9: (4 - pi) r^2 taken off.
    let rounded = |l: f64, w: f64, r: f64| l * w - (4.0 - std::f64::consts::PI) * r * r;
    assert!((opening.area() + rounded(300.0, 120.0, 12.0)).abs() < 1e-6);
    let lid = panel(&finished, "wing-lid-1");
    assert!((lid.outline.area() - rounded(294.0, 114.0, 9.0)).abs() < 1e-6);
    assert!(lid.bores.is_empty() && lid.openings.len() == 1 && lid.body != wing.body);
    let summary = &finished.kit.layout.hatches[0];
    assert_eq!(summary.sides, ["right", "left", "rear", "front"]);
    for side in &summary.sides {
        let strip = panel(&finished, &format!("wing-ledge-1-{side}"));
        assert!(strip.bores.len() >= 2 && strip.body == wing.body, "{side}");
        let top = strip.placement.origin.z + strip.material.actual;
        assert!((top - (305.0 - 12.0)).abs() < 1e-9);
    }
    let bundle = export::bundle(&finished, &[], &sources, &[]);
    let page = String::from_utf8(bundle.get("report.html").unwrap().to_vec()).unwrap();
    // No arch: 305 straight down to the floor.
    assert!(page.contains("<section id=\"wings\">") && page.contains("300 x 120"), "no hatch in the report");
    let template = String::from_utf8(bundle.get("templates/wing.svg").unwrap().to_vec()).unwrap();
    // 900 long, 254 to the measured points, margins of 15, and the check square's band of 100 + 2 x 15 below.
    assert!(
        template.contains("width=\"930mm\"") && template.contains("viewBox=\"0 0 930 399\""),
        "{template}"
    );
    assert!(template.contains("id=\"check-square\"") && template.contains("this side up"));
    let table = String::from_utf8(bundle.get("wings.csv").unwrap().to_vec()).unwrap();
    assert!(table.contains("wing,right,1,40.00,754.00,0.00,4.00,4.00,\n"), "{table}");
}

#[test]
fn a_kit_without_wings_has_no_files_about_them() {
    let (finished, sources) = sound(crate::example_kits::ANGLES);
    let bundle = export::bundle(&finished, &[], &sources, &[]);
    assert!(bundle.files.keys().all(|path| path != "wings.csv" && !path.starts_with("templates/")));
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 12, ..ProptestConfig::default() })]
    /// Lines that turn by up to some 35 degrees at each point: the edge keeps its distance from every point, and is
    /// farther only where the line turns inward, by 1 / cos of half the turn at most.
    #[test]
    fn measured_points_lie_outside_by_the_clearance(
        rises in prop::collection::vec(-30_i32..30, 3..7), clearance in 0_u32..9,
    ) {
        let mut points = vec![(40.0, 660.0)];
        for rise in &rises {
            let (x, y) = points[points.len() - 1];
            points.push((x + 100.0, y + f64::from(*rise)));
        }
        let list: Vec<String> = points.iter().map(|(x, y)| format!("{{x: {x}, y: {y}}}")).collect();
        let text = format!(
            "bay: {{width: 1800, depth: 1100, height: 900}}\ncarcases:\n  - {{id: main, width: 1000, depth: 900, height: \
             305, panel: birch-12, cell: {{open: {{}}}}}}\nwings:\n  - {{id: w, side: left, clearance: {clearance}, \
             points: [{}]}}\n",
            list.join(", ")
        );
        let (finished, _) = sound(&text);
        let clearance = f64::from(clearance);
        let places = &finished.kit.layout.wings[0].points;
        let steepest = rises.iter().map(|rise| (f64::from(*rise) / 100.0).atan().abs()).fold(0.0, f64::max);
        let most = clearance / steepest.cos();
        for place in places {
            // The tool's radius of 3 in an inside corner takes less than 0.2 off a smaller clearance.
            prop_assert!(place.distance >= clearance - 0.2 && place.distance <= most + 0.01, "{place:?}");
        }
    }
}
