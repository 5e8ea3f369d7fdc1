//! Surfaces against plates, worked out by hand and by dense sampling.

use proptest::prelude::*;

use super::*;
use crate::diag::{Findings, Sources};
use crate::geom::{Aabb, Axes, PanelFrame, Path, Placement, Plate, Point2, Vector3};
use crate::spec::{self, Design, Input, Text};

/// The kit does not matter here.
fn design(bay: &str) -> Design {
    let text = format!(
        "bay: {bay}\ncarcases:\n  - {{id: a, width: 9, depth: 9, height: 9, panel: p, cell: {{open: }}}}\n"
    );
    let (mut findings, mut sources) = (Findings::default(), Sources::default());
    let design = Text { name: "kit.yaml", text: &text };
    let input = Input { design, fallback_name: "kit", vehicle: None, workshop: None };
    let read = spec::read(&mut findings, &mut sources, &input, &mut |_, _| Err(String::new()));
    read.unwrap_or_else(|| panic!("{}", crate::diag::human(&findings.sorted(), &sources, false)))
}

fn of(bay: &str, grown: bool) -> Vec<Surface> {
    let design = design(bay);
    surfaces(&design.vehicle.bay, &design.clearances, grown)
}

fn space(low: (f64, f64, f64), high: (f64, f64, f64)) -> Aabb {
    Aabb { low: Point3::new(low.0, low.1, low.2), high: Point3::new(high.0, high.1, high.2) }
}

/// What a box reaches into: surface, depth, way out, in thousandths of mm.
fn found(surfaces: &[Surface], aabb: Aabb) -> Vec<(String, f64, [f64; 3])> {
    let plate = Plate::filling(aabb);
    surfaces
        .iter()
        .filter_map(|surface| {
            let overlap = surface.overlap(&plate, aabb)?;
            Some((surface.name.clone(), (overlap.depth * 1e3).round() / 1e3, overlap.out.to_array()))
        })
        .collect()
}

const RAKED: &str = "{width: 1000, depth: 1000, height: 800, seat_back: {rake: 15}}";

#[test]
fn a_raked_seat_back_takes_length_at_height() {
    // tan 15 degrees = 0.2679492 (any table); 1000 - 300 * 0.2679492 = 919.615.
    let bay = design(RAKED).vehicle.bay;
    assert!((bay.length_at(300.0) - 919.615).abs() < 1e-3, "{}", bay.length_at(300.0));
    // A carcase 925 deep whose highest place is at 300: 925 - 919.615 = 5.385.
    let surfaces = of(RAKED, false);
    let carcase = space((0.0, -400.0, 0.0), (925.0, 400.0, 300.0));
    assert_eq!(found(&surfaces, carcase), [("the seat back".to_owned(), 5.385, [-1.0, 0.0, 0.0])]);
    let plate = Plate::filling(carcase);
    let at = surfaces[0].overlap(&plate, carcase).unwrap().at;
    assert_eq!((at.x, at.z), (925.0, 300.0));
    // One that ends 300 above its foot, 20 lower, loses 5.359 less.
    let lower = found(&surfaces, space((0.0, -400.0, 0.0), (925.0, 400.0, 280.0)));
    assert_eq!(lower, [("the seat back".to_owned(), 0.026, [-1.0, 0.0, 0.0])]);
    assert_eq!(found(&surfaces, space((0.0, -400.0, 0.0), (919.6, 400.0, 300.0))), []);
}

#[test]
fn every_side_of_a_box_is_found_with_its_way_out() {
    let surfaces = of("{width: 1000, depth: 900, height: 800}", false);
    let reaching = found(&surfaces, space((-1.0, -502.0, -3.0), (904.0, 505.0, 806.0)));
    let expected = [
        ("the seat back", 4.0, [-1.0, 0.0, 0.0]),
        ("the closed door", 1.0, [1.0, 0.0, 0.0]),
        ("the left side", 5.0, [0.0, -1.0, 0.0]),
        ("the right side", 2.0, [0.0, 1.0, 0.0]),
        ("the roof", 6.0, [0.0, 0.0, -1.0]),
        ("the floor", 3.0, [0.0, 0.0, 1.0]),
    ];
    assert_eq!(reaching, expected.map(|(name, depth, out)| (name.to_owned(), depth, out)));
    assert_eq!(found(&surfaces, space((0.0, -500.0, 0.0), (900.0, 500.0, 800.0))), []);
}

/// Arches 200 to 700 along, 280 high, 500 left and 510 right of the centreline.
const ARCHED: &str = "{depth: 1100, height: 900, sides: {heights: [0], stations: [{x: 0, widths: [1300]}]}, arches: \
                      {left: {from: 200, to: 700, height: 280, from_centre: 500}, right: {from_centre: 510, profile: \
                      [{x: 200, z: 0}, {x: 450, z: 280}, {x: 700, z: 0}]}}}";

#[test]
fn an_arch_is_left_by_its_nearest_way() {
    let surfaces = of(ARCHED, false);
    let left = |low, high| found(&surfaces, space(low, high));
    let name = "the left wheel arch".to_owned();
    // 5 beyond the inner face; 7 below the top; 4 past the rear end; 9 past the front end.
    assert_eq!(left((100.0, 0.0, 0.0), (900.0, 505.0, 200.0)), [(name.clone(), 5.0, [0.0, -1.0, 0.0])]);
    assert_eq!(left((100.0, 0.0, 273.0), (900.0, 640.0, 400.0)), [(name.clone(), 7.0, [0.0, 0.0, 1.0])]);
    assert_eq!(left((100.0, 520.0, 0.0), (204.0, 640.0, 400.0)), [(name.clone(), 4.0, [-1.0, 0.0, 0.0])]);
    assert_eq!(left((691.0, 520.0, 0.0), (900.0, 640.0, 400.0)), [(name, 9.0, [1.0, 0.0, 0.0])]);
    // Over it, beside it, behind it.
    assert_eq!(left((100.0, 0.0, 280.0), (900.0, 640.0, 400.0)), []);
    assert_eq!(left((100.0, 0.0, 0.0), (900.0, 500.0, 400.0)), []);
    assert_eq!(left((0.0, 520.0, 0.0), (200.0, 640.0, 400.0)), []);
}

#[test]
fn a_profile_is_followed() {
    let surfaces = of(ARCHED, false);
    let right = |low, high| found(&surfaces, space(low, high));
    // At x = 325 the roof of the arch is half way up, 140: a box from there on down to 130 is 10 too low there, but
    // at 335, its end, the arch stands at 151.2, so 21.2; the way past the rear end is shorter where 335 - 200 is less.
    let name = "the right wheel arch".to_owned();
    assert_eq!(
        right((300.0, -600.0, 130.0), (335.0, -520.0, 200.0)),
        [(name.clone(), 21.2, [0.0, 0.0, 1.0])]
    );
    // Its own corner under a long shelf: the peak, 280, is 5 above the shelf's underside.
    assert_eq!(right((0.0, -640.0, 275.0), (1100.0, 0.0, 287.0)), [(name, 5.0, [0.0, 0.0, 1.0])]);
    assert_eq!(right((300.0, -600.0, 152.0), (335.0, -520.0, 200.0)), []);
}

#[test]
fn grown_surfaces_keep_the_clearances() {
    let grown = of(ARCHED, true);
    // 8 to the arches: 492 left and 502 right; 12 to the seat back: 1088; 25 to the door; 4 to the sides.
    assert_eq!(found(&grown, space((25.0, -502.0, 0.0), (1088.0, 492.0, 300.0))), []);
    let close = found(&grown, space((24.0, -503.0, 0.0), (1090.0, 494.0, 300.0)));
    let depths: Vec<(&str, f64)> = close.iter().map(|(name, depth, _)| (name.as_str(), *depth)).collect();
    let expected = [
        ("the seat back", 2.0),
        ("the closed door", 1.0),
        ("the left wheel arch", 2.0),
        ("the right wheel arch", 1.0),
    ];
    assert_eq!(depths, expected);
}

#[test]
fn a_latch_is_a_box_at_the_door() {
    let latched = "{width: 1000, depth: 1100, height: 900, door: {latches: [{reach: 48, y: -12, width: 110, height: 60}]}}";
    let surfaces = of(latched, false);
    let name = "the latch".to_owned();
    let front = |x: f64, y: f64, z: f64| found(&surfaces, space((x, -400.0, z), (x + 12.0, y, z + 200.0)));
    // It stands from y = -67 to 43 and up to 60.
    assert_eq!(front(45.0, 400.0, 10.0), [(name.clone(), 3.0, [1.0, 0.0, 0.0])]);
    assert_eq!(front(25.0, 400.0, 58.0), [(name.clone(), 2.0, [0.0, 0.0, 1.0])]);
    assert_eq!(front(25.0, -60.0, 10.0), [(name, 7.0, [0.0, -1.0, 0.0])]);
    assert_eq!(front(48.0, 400.0, 10.0), []);
    assert_eq!(front(25.0, 400.0, 60.0), []);
}

#[test]
fn a_notch_and_an_opening_count() {
    // A floor 12 thick from x = 0 to 900, y = -400 to 600, notched round the left arch, which begins at y = 500.
    let corners = [
        (0.0, -400.0),
        (900.0, -400.0),
        (900.0, 600.0),
        (700.0, 600.0),
        (700.0, 498.0),
        (200.0, 498.0),
        (200.0, 600.0),
        (0.0, 600.0),
    ];
    let placement = Placement {
        origin: Point3::new(0.0, 0.0, 0.0),
        axes: Axes::from_length_and_face(Vector3::new(1.0, 0.0, 0.0), Vector3::new(0.0, 0.0, 1.0)),
    };
    let path = |points: &[(f64, f64)]| Path::polygon(points.iter().map(|&(u, v)| Point2::new(u, v)));
    let mut plate = Plate { outline: path(&corners), openings: vec![], thickness: 12.0, placement };
    let surfaces = of(ARCHED, false);
    let arch = surfaces.iter().find(|surface| surface.name == "the left wheel arch").unwrap();
    assert_eq!(arch.overlap(&plate, plate.aabb()), None);
    plate.placement.origin.x = 1.5;
    assert!((arch.overlap(&plate, plate.aabb()).unwrap().depth - 1.5).abs() < 1e-9);
    // The same as an opening in a wider floor.
    plate.placement.origin.x = 0.0;
    plate.outline = path(&[(0.0, -400.0), (900.0, -400.0), (900.0, 640.0), (0.0, 640.0)]);
    let hole: Path<PanelFrame> = path(&[(200.0, 499.0), (700.0, 499.0), (700.0, 635.0), (200.0, 635.0)]);
    plate.openings = vec![hole.clockwise()];
    // The strip beyond the opening, from 635 to 640, stands in the arch; inwards it is 140 to where that begins.
    let overlap = arch.overlap(&plate, plate.aabb()).unwrap();
    assert_eq!((overlap.depth, overlap.out.y), (140.0, -1.0));
}

#[test]
fn a_place_is_told_by_its_sides() {
    let told = place(Point3::new(-20.4, 0.3, 137.0));
    assert_eq!(told, "20 mm behind the floor's rear edge, on the centreline, 137 mm above the floor");
    assert!(place(Point3::new(469.0, -12.0, 1.0)).contains("12 mm right of"));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    /// Against every point of a fine grid over the plate: never less deep than the deepest of them, and no deeper
    /// than a grid that fine can miss.
    #[test]
    fn no_point_of_a_plate_lies_deeper(
        turn in 0.0..90.0_f64, x in 600.0..1100.0_f64, y in 200.0..600.0_f64, z in 0.0..500.0_f64,
        length in 50.0..300.0_f64, width in 50.0..300.0_f64,
    ) {
        let bay = "{depth: 1000, height: 900, seat_back: {lengths: [{z: 200, length: 950}, {z: 500, length: 960}]}, \
                   sides: {heights: [0, 250, 700], stations: [{x: 0, left: [560, 590, 520], right: [500, 510, 480]}, \
                   {x: 700, left: [500, 610, 560], right: [510, 500, 490]}, {x: 1000, left: [580, 560, 500], right: \
                   [500, 500, 500]}]}}";
        let (sin, cos) = turn.to_radians().sin_cos();
        let axes = Axes::from_length_and_face(Vector3::new(cos, sin, 0.0), Vector3::new(-sin * 0.6, cos * 0.6, 0.8));
        let plate = Plate {
            outline: Path::rectangle(0.0, 0.0, length, width),
            openings: vec![],
            thickness: 18.0,
            placement: Placement { origin: Point3::new(x, y, z), axes },
        };
        let design = design(bay);
        let bay = &design.vehicle.bay;
        let surfaces = surfaces(bay, &design.clearances, false);
        let steps = 40;
        let (mut seat, mut side) = (f64::NEG_INFINITY, f64::NEG_INFINITY);
        for i in 0..=steps {
            for j in 0..=steps {
                for w in [0.0, 18.0] {
                    let share = |n: i32| f64::from(n) / f64::from(steps);
                    let p = plate.placement.to_vehicle(Point3::new(length * share(i), width * share(j), w));
                    seat = seat.max(p.x - bay.length_at(p.z));
                    // The left side at this place: `along` gives it at a height, exactly between its breaks.
                    side = side.max(p.y - bay.left.value.along(p.z).at(p.x));
                }
            }
        }
        for (name, sampled) in [("the seat back", seat), ("the left side", side)] {
            let surface = surfaces.iter().find(|surface| surface.name == name).unwrap();
            let exact = surface.overlap(&plate, plate.aabb()).map_or(0.0, |overlap| overlap.depth);
            prop_assert!(exact >= sampled - 0.011, "{name}: {exact} {sampled}");
            prop_assert!(exact <= sampled.max(0.0) + 8.0, "{name}: {exact} {sampled}");
        }
    }
}
