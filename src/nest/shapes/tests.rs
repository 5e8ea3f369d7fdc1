//! True shapes against other people's geometry: `geo`'s booleans and distances on finely flattened contours.

use super::apart::are_apart;
use super::forbidden::{Forbidden, Lying, grown};
use super::ring::{Lie, Point};
use super::{Kind, Shape, Strip, improved, shortest};
use crate::geom::tolerance::CHORD;
use crate::geom::{PanelFrame, Path, Point2, SheetFrame, SheetPlacement, Vertex};
use crate::model::Zone;
use crate::random::Random;
use crate::{Clearances, Cutting, Effort, Nesting, Part, Placed, Settings, Sheet, Stock, Turns, nest};
use geo::{Area, BooleanOps, Distance, Euclidean, LineString, Polygon};
use proptest::prelude::*;

/// An outline and its openings.
type Contours = (Path<PanelFrame>, Vec<Path<PanelFrame>>);

/// An outline of one of several sorts, some tens to hundreds of mm large, and perhaps an opening.
fn any_shape() -> impl Strategy<Value = Contours> {
    (0_u8..5, 6_u32..30, 6_u32..30, 0_u64..1000).prop_map(|(sort, w, h, seed)| {
        let (w, h) = (f64::from(w) * 10.0, f64::from(h) * 10.0);
        let at = |x: f64, y: f64, bulge: f64| Vertex { point: Point2::new(x, y), bulge };
        let mut random = Random::new(seed);
        let outline = match sort {
            0 => Path::new(vec![at(0.0, 0.0, 0.0), at(w, 0.0, 0.3), at(w, h, 0.0), at(0.0, h, -0.2)]),
            1 => Path::polygon(
                [(0.0, 0.0), (w, 0.0), (w * 0.3, h * 0.3), (0.0, h)].map(|(x, y)| Point2::new(x, y)),
            ),
            2 => Path::circle(Point2::new(13.37, -4.2), w / 2.0),
            3 => Path::rectangle(0.0, 0.0, w, h),
            _ => Path::polygon((0..9).map(|i| {
                let angle = std::f64::consts::TAU * f64::from(i) / 9.0;
                let radius = 20.0 + random.below(120) as f64;
                Point2::new(radius * angle.cos(), radius * angle.sin())
            })),
        };
        let opening = Path::circle(Point2::new(w * 0.4, h * 0.4), w.min(h) * 0.25);
        let openings = if sort == 3 { vec![opening.clockwise()] } else { vec![] };
        (outline, openings)
    })
}

fn ring<F: Copy>(path: &Path<F>) -> LineString<f64> {
    path.flattened(CHORD).into_iter().map(|p| (p.x, p.y)).collect()
}

fn region<F: Copy>(outline: &Path<F>, openings: &[Path<F>]) -> Polygon<f64> {
    Polygon::new(ring(outline), openings.iter().map(ring).collect())
}

fn of_points(points: &[Point], at: (i64, i64)) -> LineString<f64> {
    points.iter().map(|p| ((p.x + at.0) as f64 / 1000.0, (p.y + at.1) as f64 / 1000.0)).collect()
}

fn traced(shape: &Shape, at: (i64, i64)) -> Polygon<f64> {
    let openings = shape.openings.iter().map(|ring| of_points(ring, at)).collect();
    Polygon::new(of_points(&shape.outline, at), openings)
}

fn lying(shape: &Shape) -> Lying {
    let Shape { pieces, low, high, slack, .. } = shape.clone();
    Lying { pieces, low, high, slack }
}

#[test]
fn a_rectangle_grows_by_exactly_the_gap_and_keeps_round_corners_within_the_tolerance() {
    let square: Vec<Point> =
        [(0, 0), (1000, 0), (1000, 1000), (0, 1000)].map(|(x, y)| Point { x, y }).to_vec();
    let ring = grown(&square, 300, 10.0);
    let (low, high) = super::ring::bounds(&ring).unwrap();
    assert_eq!((low, high), (Point { x: -300, y: -300 }, Point { x: 1300, y: 1300 }));
    // 1000^2 + 4 * 1000 * 300 + pi 300^2, and at most 10 more all round.
    let area = super::ring::doubled_area(&ring) as f64 / 2.0;
    assert!(area > 2_482_743.0 && area < 2_482_743.0 + 10.0 * 5885.0, "{area}");
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    /// The polygon contains the true shape, and is larger by no more than the tolerance along its contour.
    #[test]
    fn polygons_contain_the_true_shape((outline, openings) in any_shape()) {
        let outline = outline.counter_clockwise();
        let shape = Shape::new(&outline, &openings, 0.05).unwrap();
        let (truth, polygon) = (region(&outline, &openings), traced(&shape, (0, 0)));
        let contour = outline.length() + openings.iter().map(Path::length).sum::<f64>();
        // Rounding moves a corner by less than a micrometre; the flattened truth is within CHORD itself.
        let missing = truth.difference(&polygon).unsigned_area();
        prop_assert!(missing <= contour * (0.001 + CHORD * f64::from(u8::from(!openings.is_empty()))), "{missing}");
        let excess = polygon.unsigned_area() - truth.unsigned_area();
        prop_assert!(excess <= contour * (0.05 + CHORD + 0.001), "{excess}");
    }

    /// No depth means at least the gap apart, by the exact check and by `geo`; depth means nearer than the gap, or
    /// nearly so.
    #[test]
    fn depth_is_none_just_where_shapes_are_a_gap_apart(
        (a, a_openings) in any_shape(), (b, b_openings) in any_shape(),
        gap in 0_i64..12_000, places in prop::collection::vec((-320_000_i64..320_000, -320_000_i64..320_000), 40),
    ) {
        let (a, b) = (a.counter_clockwise(), b.counter_clockwise());
        let first = Shape::new(&a, &a_openings, 0.05).unwrap();
        let second = Shape::new(&b, &b_openings, 0.05).unwrap();
        let forbidden = Forbidden::new(&lying(&first), &lying(&second), gap, 200.0);
        let one = traced(&first, (0, 0));
        for (x, y) in places {
            let moved = |ring: &Vec<Point>| ring.iter().map(|p| p.plus(Point { x, y })).collect();
            let pieces: Vec<Vec<Point>> = second.pieces.iter().map(moved).collect();
            let distance = Euclidean.distance(&one, &traced(&second, (x, y)));
            let free = forbidden.depth(x as f64, y as f64) == 0.0;
            if free {
                prop_assert!(are_apart(&first.pieces, &pieces, gap));
                prop_assert!(distance >= gap as f64 / 1000.0 - 1e-6, "{distance} at ({x}, {y})");
            } else {
                prop_assert!(distance < gap as f64 / 1000.0 + 0.21, "{distance} at ({x}, {y})");
            }
        }
    }
}

fn part(name: &str, (outline, openings): Contours, turns: Turns) -> Part {
    Part { name: name.to_owned(), outline, openings, turns, either_face: false }
}

fn sheet(length: f64, width: f64) -> Vec<Stock> {
    vec![Stock { name: "sheet".to_owned(), length, width, ..Stock::default() }]
}

fn settings(threads: usize) -> Settings {
    let ordinary = Settings::ordinary(1);
    let effort = Effort { steps: 1000, seed: 3, streams: 3, threads, time_limit: None, proves: true };
    Settings { effort, ..ordinary }
}

/// Sentences for each two parts that are nearer than the gap, and each part outside the trim: by `geo`.
fn wrongs(parts: &[Part], stock: &[Stock], clearances: Clearances, nesting: &Nesting) -> Vec<String> {
    let mut wrongs = Vec::new();
    for sheet in &nesting.sheets {
        let laid: Vec<(usize, Polygon<f64>)> = sheet
            .placed
            .iter()
            .map(|placed| {
                let part = &parts[placed.part];
                let outline: Path<SheetFrame> = placed.placement.path_to_sheet(&part.outline);
                let (low, high) = outline.bounds();
                let kind = &stock[sheet.stock];
                let trim = clearances.trim - 1e-6;
                if low.x < trim || low.y < trim || high.x > kind.length - trim || high.y > kind.width - trim {
                    wrongs.push(format!("{} outside the trim", part.name));
                }
                let openings: Vec<_> =
                    part.openings.iter().map(|path| placed.placement.path_to_sheet(path)).collect();
                (placed.part, region(&outline, &openings))
            })
            .collect();
        for (i, (a, one)) in laid.iter().enumerate() {
            for (b, other) in &laid[i + 1..] {
                let distance = Euclidean.distance(one, other);
                // Flattening takes up to CHORD from each side of a gap, and adds as much.
                let common = one.intersection(other).unsigned_area();
                if distance < clearances.gap - 2.0 * CHORD || common > 0.01 * CHORD {
                    wrongs.push(format!("{} and {} are {distance} mm apart", parts[*a].name, parts[*b].name));
                }
            }
        }
    }
    let mut placed: Vec<usize> =
        nesting.sheets.iter().flat_map(|sheet| &sheet.placed).map(|p| p.part).collect();
    placed.extend(&nesting.too_large);
    placed.sort_unstable();
    if placed != (0..parts.len()).collect::<Vec<_>>() {
        wrongs.push("parts missing or twice".to_owned());
    }
    wrongs
}

#[test]
fn a_part_goes_into_the_opening_of_another() {
    let frame = (
        Path::rectangle(0.0, 0.0, 500.0, 400.0),
        vec![Path::rectangle(50.0, 50.0, 450.0, 350.0).clockwise()],
    );
    let inlay = (Path::rectangle(0.0, 0.0, 380.0, 280.0), vec![]);
    let parts = [part("frame", frame, Turns::GrainKept), part("inlay", inlay, Turns::GrainKept)];
    let (stock, clearances) = (sheet(520.0, 420.0), Clearances { gap: 8.0, trim: 10.0 });
    let nesting = nest(&parts, &stock, clearances, &settings(1));
    assert_eq!(wrongs(&parts, &stock, clearances, &nesting), Vec::<String>::new());
    assert_eq!((nesting.sheets.len(), nesting.bound), (1, 1));
    // Rectangles alone, as a saw would have them, need two.
    let sawn = nest(&parts, &stock, clearances, &Settings { cutting: Cutting::Guillotine, ..settings(1) });
    assert_eq!(sawn.sheets.len(), 2);
}

/// Two halves of a rectangle, cut along its diagonal, with a gap of 5 between them.
#[test]
fn two_triangles_share_a_sheet_unless_one_would_have_to_turn() {
    let half = |turns| {
        let corners = [(0.0, 0.0), (300.0, 0.0), (0.0, 200.0)].map(|(x, y)| Point2::new(x, y));
        part("half", (Path::polygon(corners), vec![]), turns)
    };
    let (stock, clearances) = (sheet(312.0, 208.0), Clearances { gap: 5.0, trim: 0.0 });
    let sheets = [Turns::GrainKept, Turns::Fixed].map(|turns| {
        let parts = [half(turns), half(turns)];
        let nesting = nest(&parts, &stock, clearances, &settings(1));
        assert_eq!(wrongs(&parts, &stock, clearances, &nesting), Vec::<String>::new());
        nesting.sheets.len()
    });
    assert_eq!(sheets, [1, 2]);
}

#[test]
fn what_is_left_of_the_sheet_grows() {
    let ell = || {
        let corners = [(0.0, 0.0), (400.0, 0.0), (400.0, 60.0), (60.0, 60.0), (60.0, 300.0), (0.0, 300.0)];
        (Path::polygon(corners.map(|(x, y)| Point2::new(x, y))), vec![])
    };
    let parts: Vec<Part> = (0..4).map(|i| part(&format!("ell-{i}"), ell(), Turns::GrainKept)).collect();
    let (stock, clearances) = (sheet(2000.0, 310.0), Clearances { gap: 5.0, trim: 0.0 });
    let reach = |settings: &Settings| {
        let nesting = nest(&parts, &stock, clearances, settings);
        assert_eq!(wrongs(&parts, &stock, clearances, &nesting), Vec::<String>::new());
        let right = |p: &crate::Placed| p.placement.path_to_sheet(&parts[p.part].outline).bounds().1.x;
        nesting.sheets[0].placed.iter().map(right).fold(0.0, f64::max)
    };
    // Side by side they reach 4 * 400 + 3 * 5; in each other's corners far less.
    assert!((reach(&Settings { cutting: Cutting::Guillotine, ..settings(1) }) - 1615.0).abs() < 1e-9);
    assert!(reach(&settings(1)) < 1200.0);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(12))]

    /// Random shapes on small sheets: nothing overlaps, gaps are kept, threads and order change nothing.
    #[test]
    fn packings_of_shapes_are_sound_and_repeatable(
        (shapes, shuffled) in prop::collection::vec((any_shape(), any::<bool>()), 1..9).prop_flat_map(|shapes| {
            let numbered: Vec<_> = shapes.into_iter().enumerate().collect();
            (Just(numbered.clone()), Just(numbered).prop_shuffle())
        }),
        gap in 0_i32..4, trim in 0_i32..3,
    ) {
        let parts = |shapes: Vec<(usize, (Contours, bool))>| -> Vec<Part> {
            let one = |(number, (shape, free))| {
                let turns = if free { Turns::Free } else { Turns::GrainKept };
                part(&format!("part-{number}"), shape, turns)
            };
            shapes.into_iter().map(one).collect()
        };
        let (parts, shuffled) = (parts(shapes), parts(shuffled));
        let stock = sheet(620.0, 410.0);
        let clearances = Clearances { gap: f64::from(gap) * 2.1, trim: f64::from(trim) * 5.0 };
        let settings = |threads| Settings { effort: Effort { steps: 60, ..settings(threads).effort }, ..settings(threads) };
        let nesting = nest(&parts, &stock, clearances, &settings(1));
        prop_assert_eq!(wrongs(&parts, &stock, clearances, &nesting), Vec::<String>::new());
        prop_assert!(nesting.bound <= nesting.sheets.len());
        prop_assert_eq!(&nesting, &nest(&parts, &stock, clearances, &settings(3)));
        let named = |parts: &[Part], nesting: &Nesting| -> Vec<Vec<(String, String)>> {
            let of_sheet = |sheet: &crate::Sheet| {
                let one = |p: &crate::Placed| (parts[p.part].name.clone(), format!("{:?}", p.placement));
                sheet.placed.iter().map(one).collect()
            };
            nesting.sheets.iter().map(of_sheet).collect()
        };
        let other = nest(&shuffled, &stock, clearances, &settings(1));
        prop_assert_eq!(named(&parts, &nesting), named(&shuffled, &other));
    }
}

/// Four triangles that fill a square of 100 have no shorter strip than that; the search comes near.
#[test]
fn a_strip_of_triangles_comes_near_its_area_and_is_repeatable() {
    let corners = [(0.0, 0.0), (100.0, 0.0), (50.0, 50.0)].map(|(x, y)| Point2::new(x, y));
    let triangle: Path<PanelFrame> = Path::polygon(corners);
    let lies = (0..4).map(|quarters| Lie { quarters, mirrored: false }).collect();
    let strip = Strip {
        kinds: vec![Kind { shape: Shape::new(&triangle, &[], 0.05).unwrap(), lies }],
        counts: vec![4],
        height: 100_000,
        gap: 0,
        seed: 1,
        moves: 4000,
        streams: 2,
        time_limit: None,
    };
    let (length, laid) = shortest(&strip).unwrap();
    assert!((100_000..103_000).contains(&length), "{length}");
    assert_eq!(laid.len(), 4);
    assert_eq!(shortest(&strip), Some((length, laid)));
}

/// No strip is shorter than its longest piece: the search must see that it is done.
#[test]
fn a_single_piece_ends_the_search() {
    let shape = Shape::rectangle(Point { x: 0, y: 0 }, Point { x: 70_000, y: 30_000 }).unwrap();
    let strip = |height| Strip {
        kinds: vec![Kind { shape: shape.clone(), lies: vec![Lie { quarters: 0, mirrored: false }] }],
        counts: vec![1],
        height,
        gap: 0,
        seed: 1,
        moves: 100,
        streams: 1,
        time_limit: None,
    };
    assert_eq!(shortest(&strip(30_000)).map(|(length, _)| length), Some(70_000));
    assert_eq!(shortest(&strip(29_999)), None);
}

/// Two defects that overlap, and a part that has to go round them into the opening of another.
#[test]
fn parts_keep_off_defects() {
    let frame = (
        Path::rectangle(0.0, 0.0, 500.0, 400.0),
        vec![Path::rectangle(50.0, 50.0, 450.0, 350.0).clockwise()],
    );
    let inlay = (Path::rectangle(0.0, 0.0, 180.0, 280.0), vec![]);
    let parts = [part("frame", frame, Turns::GrainKept), part("inlay", inlay, Turns::GrainKept)];
    let zone = |x: f64, length: f64| Zone { x, y: 200.0, length, width: 20.0 };
    let mut stock = sheet(500.0, 400.0);
    stock[0].defects = vec![zone(70.0, 60.0), zone(100.0, 80.0)];
    let clearances = Clearances { gap: 5.0, trim: 0.0 };
    let boards = [("frame", 0.0, 0.0), ("inlay", 190.0, 60.0)];
    let sheets: Vec<Sheet> = boards
        .iter()
        .enumerate()
        .map(|(part, &(_, x, y))| {
            let placement = SheetPlacement { x, y, angle: 0.0, flipped: false };
            Sheet { stock: 0, placed: vec![Placed { part, placement }] }
        })
        .collect();
    let fewer =
        improved(&parts, &stock, clearances, &settings(1), &sheets, 1, std::time::Instant::now()).unwrap();
    let nesting = Nesting { sheets: fewer, ..Nesting::default() };
    assert_eq!(wrongs(&parts, &stock, clearances, &nesting), Vec::<String>::new());
    let inlay = nesting.sheets[0].placed.iter().find(|placed| placed.part == 1).unwrap();
    let left = inlay.placement.path_to_sheet(&parts[1].outline).bounds().0.x;
    assert_eq!(nesting.sheets.len(), 1);
    assert!(left >= 185.0, "a gap beside the defects, which end at 180: {left}");
}
