//! Plans of the example kits and of panels made for the purpose: order, beginnings, tabs.

use super::*;
use crate::diag::{At, Span};
use crate::example_kits::{ALL, CAPTIVE_NUTS, finished};
use crate::finished::Finished;
use crate::geom::Vertex;
use crate::joints::Panel;
use crate::nest::Placed;
use crate::spec::TabCount;
use proptest::prelude::*;
use std::sync::LazyLock;

/// A kit to take panels from, made once.
static KIT: LazyLock<Finished> = LazyLock::new(|| finished(CAPTIVE_NUTS));

/// A panel with this outline and these openings, otherwise like the first of a kit, without bores.
fn panel(outline: Path<PanelFrame>, openings: &[Path<PanelFrame>]) -> Panel {
    let kit = &KIT.kit;
    let slot = kit.panels.iter().flat_map(|panel| &panel.openings).next().unwrap().clone();
    let opening = |path: &Path<PanelFrame>| {
        let mut opening = slot.clone();
        opening.path = path.reversed();
        opening
    };
    let openings = openings.iter().map(opening).collect();
    Panel { outline, openings, bores: vec![], ..kit.panels[0].clone() }
}

fn board(length: f64, width: f64) -> Path<PanelFrame> {
    Path::rectangle(0.0, 0.0, length, width)
}

fn at(part: usize, x: f64, y: f64) -> Placed {
    Placed { part, placement: SheetPlacement { x, y, angle: 0.0, flipped: false } }
}

fn holding() -> Holding {
    KIT.design.workshop.holding
}

/// The order of the parts, by the index of the part.
fn order(panels: &[Panel], placed: &[Placed], holding: &Holding) -> Vec<usize> {
    let panels: Vec<Workpiece<'_>> = panels.iter().map(Workpiece::of).collect();
    let sheet = Sheet { stock: 0, placed: placed.to_vec() };
    let shop = Shop { panels: &panels, tool: 6.0, holding, sawn: false };
    let plan = plan(&sheet, (2440.0, 1220.0), 8.0, &shop);
    plan.parts.iter().map(|part| sheet.placed[part.placed].part).collect()
}

fn each_sheet(finished: &Finished, mut see: impl FnMut(&Sheet, &SheetPlan, &dyn Fn(usize) -> Panel)) {
    for group in &finished.groups {
        for named in group.sheets() {
            let panel = |part: usize| finished.kit.panels[group.panels[part]].clone();
            see(named.sheet, named.plan, &panel);
        }
    }
}

#[test]
fn every_part_every_bore_and_every_opening_is_cut_once_and_the_travel_is_that_of_the_order() {
    for text in ALL {
        each_sheet(&finished(text), |sheet, plan, panel| {
            let mut seen: Vec<usize> = plan.parts.iter().map(|part| part.placed).collect();
            seen.sort_unstable();
            assert_eq!(seen, (0..sheet.placed.len()).collect::<Vec<_>>());
            let (mut way, mut from) = (0.0, Point2::origin());
            for part in &plan.parts {
                let Placed { part: index, placement } = sheet.placed[part.placed];
                let panel = panel(index);
                let mut bores = part.bores.clone();
                bores.sort_unstable();
                assert_eq!(bores, (0..panel.bores.len()).collect::<Vec<_>>());
                assert_eq!(part.openings.len(), panel.openings.len());
                let area = |paths: &[Path<PanelFrame>]| paths.iter().map(Path::area).sum::<f64>();
                let own: Vec<_> = panel.openings.iter().map(|opening| opening.path.clone()).collect();
                assert!((area(&part.openings) - area(&own)).abs() < 1e-6);
                assert!((part.outline.area() - panel.outline.area()).abs() < 1e-6);
                let sunk = part.bores.iter().filter(|&&i| panel.bores[i].countersink.is_some());
                let drilled = part.bores.iter().chain(sunk).map(|&i| panel.bores[i].centre);
                let begins = part.openings.iter().chain([&part.outline]).map(|path| path.vertices()[0].point);
                for p in drilled.chain(begins).map(|p| placement.to_sheet(p)) {
                    way += (p - from).length();
                    from = p;
                }
            }
            assert!((way - plan.travel).abs() < 1e-6, "{way} {}", plan.travel);
        });
    }
}

#[test]
fn a_part_inside_an_opening_is_cut_before_it_though_the_way_is_longer() {
    let panels = [
        panel(board(600.0, 400.0), &[Path::rectangle(100.0, 50.0, 500.0, 350.0)]),
        panel(board(300.0, 200.0), &[]),
    ];
    let none = Holding { small_area: At::new(0.0, Span::default()), ..holding() };
    let none = Holding { small_width: At::new(0.0, Span::default()), ..none };
    assert_eq!(order(&panels, &[at(0, 10.0, 10.0), at(1, 160.0, 110.0)], &none), [1, 0]);
    // Beside it, the nearer one first.
    assert_eq!(order(&panels, &[at(0, 10.0, 10.0), at(1, 1000.0, 10.0)], &none), [0, 1]);
}

#[test]
fn a_small_part_is_cut_before_its_larger_neighbour_and_not_before_a_distant_one() {
    let panels = [panel(board(600.0, 400.0), &[]), panel(board(100.0, 60.0), &[])];
    assert_eq!(order(&panels, &[at(0, 10.0, 10.0), at(1, 618.0, 10.0)], &holding()), [1, 0]);
    assert_eq!(order(&panels, &[at(0, 10.0, 10.0), at(1, 1200.0, 10.0)], &holding()), [0, 1]);
}

#[test]
fn the_tool_goes_in_where_there_is_room() {
    // The lower side is 10 mm from the sheet's edge, the upper one 8 mm from a neighbour; the right one is free.
    let panels = [panel(board(400.0, 390.0), &[]), panel(board(400.0, 300.0), &[])];
    let panels: Vec<Workpiece<'_>> = panels.iter().map(Workpiece::of).collect();
    let sheet = Sheet { stock: 0, placed: vec![at(0, 10.0, 10.0), at(1, 10.0, 408.0)] };
    let shop = Shop { panels: &panels, tool: 6.0, holding: &holding(), sawn: false };
    let plan = plan(&sheet, (2440.0, 1220.0), 8.0, &shop);
    let lower = plan.parts.iter().find(|part| part.placed == 0).unwrap();
    assert_eq!(lower.outline.vertices()[0].point, Point2::new(400.0, 195.0));
}

#[test]
fn small_is_by_area_or_by_width() {
    let is = |outline, openings: &[Path<PanelFrame>]| {
        let holding = holding();
        let shop = |sawn| Shop { panels: &[], tool: 6.0, holding: &holding, sawn };
        let panel = panel(outline, openings);
        assert!(!shop(true).is_small(&Workpiece::of(&panel)), "a saw holds every part");
        shop(false).is_small(&Workpiece::of(&panel))
    };
    assert!(is(board(1000.0, 79.0), &[]) && !is(board(1000.0, 80.0), &[]));
    assert!(is(board(299.0, 150.0), &[]) && !is(board(300.0, 150.0), &[]));
    // 300 x 300 with a window of 250 x 250: 27,500 mm2 are left.
    assert!(is(board(300.0, 300.0), &[Path::rectangle(25.0, 25.0, 275.0, 275.0)]));
}

#[test]
fn tabs_stand_on_straight_sides_clear_of_corners_bores_and_the_way_in() {
    let mut small_parts = 0;
    for text in ALL {
        let finished = finished(text);
        let tool = finished.design.workshop.tool.diameter.value;
        // Half of what is left open, and what stays clear beside it.
        let clear = 3.0 + tool / 2.0 + 5.0;
        let mut holding = holding();
        holding.small_width.value = 280.0;
        let panels: Vec<Workpiece<'_>> = finished.kit.panels.iter().map(Workpiece::of).collect();
        let placed = (0..panels.len()).map(|i| at(i, 3000.0 * i as f64, 0.0)).collect();
        let shop = Shop { panels: &panels, tool, holding: &holding, sawn: false };
        for part in plan(&Sheet { stock: 0, placed }, (9e5, 1e4), 8.0, &shop).parts {
            let panel = &panels[part.placed];
            let Hold::Tabs(middles) = &part.hold else {
                assert!(!shop.is_small(panel));
                continue;
            };
            small_parts += 1;
            assert!(middles.len() >= 2, "{} has {middles:?}", panel.name);
            for &middle in middles {
                let mark = mark(&part.outline, middle, 6.0, tool).unwrap();
                assert!((mark.area() - 3.0 * tool).abs() < 1e-6, "{mark:?}");
                let [a, .., b] = mark.vertices() else { panic!("{mark:?}") };
                let p = a.point + (b.point - a.point) / 2.0;
                assert!(panel.outline.distance_to(p) < 1e-9);
                let corners = part.outline.vertices().iter().map(|vertex| (vertex.point - p).length());
                let bores = panel.bores.iter().map(|bore| (bore.centre - p).length() - bore.diameter / 2.0);
                let nearest = corners.chain(bores).fold(f64::INFINITY, f64::min);
                assert!(nearest >= clear - 1e-9, "{}: {nearest}", panel.name);
                assert!(!panel.outline.contains(mark.vertices()[1].point));
            }
        }
    }
    assert!(small_parts > 30, "{small_parts}");
}

#[test]
fn without_a_gap_the_marks_of_neighbours_lie_each_in_its_own_part() {
    let (low, high) = (Path::rectangle(0.0, 0.0, 60.0, 40.0), Path::rectangle(0.0, 40.0, 60.0, 80.0));
    // Both in the middle of the side that they share: the first's third side, the other's first.
    let marks = [mark(&low, 60.0 + 40.0 + 30.0, 6.0, 0.0).unwrap(), mark(&high, 30.0, 6.0, 0.0).unwrap()];
    for (mark, (from, to)) in marks.iter().zip([(39.0, 40.0), (40.0, 41.0)]) {
        let (least, most) = mark.bounds();
        assert_eq!((least.x, least.y, most.x, most.y), (27.0, from, 33.0, to));
        assert!((mark.area() - 6.0).abs() < 1e-9, "{mark:?}");
    }
}

#[test]
fn tabs_are_as_many_as_asked_for_and_spread_around() {
    let strip = panel(board(600.0, 100.0), &[]);
    let count = |count: TabCount| {
        let mut holding = holding();
        holding.tabs.count = count;
        let shop = Shop { panels: &[], tool: 6.0, holding: &holding, sawn: false };
        tabs::places(&Workpiece::of(&strip), &plan_alone(&Workpiece::of(&strip)).outline, &shop)
    };
    // The outline is 1400 mm long: seven at 200 mm.
    assert_eq!(count(TabCount::Spacing(200.0)).len(), 7);
    assert_eq!(count(TabCount::Spacing(5000.0)).len(), 2);
    assert_eq!(count(TabCount::Number(4)).len(), 4);
    let two = count(TabCount::Number(2));
    assert!((two[0] - 350.0).abs() <= 50.0 && (two[1] - 1050.0).abs() <= 50.0, "{two:?}");
    // A disc has no straight side.
    let disc = panel(Path::circle(Point2::new(0.0, 0.0), 60.0), &[]);
    let shop = Shop { panels: &[], tool: 6.0, holding: &holding(), sawn: false };
    assert_eq!(
        tabs::places(&Workpiece::of(&disc), &plan_alone(&Workpiece::of(&disc)).outline, &shop),
        Vec::<f64>::new()
    );
}

proptest! {
    /// An outline with gaps, its gaps closed by straight lines, is the outline: same area, same extent; and what
    /// is drawn is the whole length less the gaps.
    #[test]
    fn closing_the_gaps_gives_the_outline_back(
        length in 12_i32..80, width in 12_i32..80, number in 2_u32..6, turned in any::<bool>(), gap in 1_i32..12,
    ) {
        let quarter = (std::f64::consts::PI / 8.0).tan();
        let (l, w) = (f64::from(length) * 10.0, f64::from(width) * 10.0);
        let vertex = |x, y, bulge| Vertex { point: Point2::new(x, y), bulge };
        let outline = Path::new(vec![
            vertex(0.0, 0.0, 0.0), vertex(l, 0.0, 0.0), vertex(l, w - 20.0, quarter), vertex(l - 20.0, w, 0.0),
            vertex(0.0, w, 0.0),
        ]);
        let part = panel(outline, &[]);
        let mut holding = holding();
        holding.tabs.count = TabCount::Number(number);
        holding.tabs.width.value = f64::from(gap);
        let shop = Shop { panels: &[], tool: 6.0, holding: &holding, sawn: false };
        let begun = plan_alone(&Workpiece::of(&part)).outline;
        let middles = tabs::places(&Workpiece::of(&part), &begun, &shop);
        prop_assert!(!middles.is_empty());
        let angle = if turned { 90.0 } else { 0.0 };
        let placement = SheetPlacement { x: 700.0, y: 3.0, angle, flipped: false };
        let on_sheet = placement.path_to_sheet(&begun);
        let open = gap_width(&holding, 6.0);
        let pieces = pieces(&on_sheet, &middles, open);
        prop_assert_eq!(pieces.len(), middles.len() + 1);
        let closed = Path::new(pieces.concat());
        prop_assert!((closed.area() - on_sheet.area()).abs() < 1e-6);
        prop_assert_eq!(closed.bounds(), on_sheet.bounds());
        let drawn: f64 = pieces.iter().map(|piece| {
            let line = Path::new(piece.clone());
            let back = (piece[0].point - piece[piece.len() - 1].point).length();
            line.length() - back
        }).sum();
        prop_assert!((drawn + open * middles.len() as f64 - on_sheet.length()).abs() < 1e-6);
    }
}
