//! Brings small parts away from a sheet's edges, where a vacuum table holds least and a clamp may stand.
//!
//! Takes a packing and which parts are small; changes places only: the arrangement of the parts within a rectangle is
//! mirrored, where all others are far enough away. A part itself is never mirrored. No sheet more, no legal packing
//! made illegal, the largest rectangle that is left over no smaller.

use super::{Clearances, Cutting, Nesting, Part, Placed, Sheet, Stock};
use crate::geom::number::rounded;
use crate::geom::tolerance::SAME_LENGTH;
use crate::geom::{Point2, SheetFrame};

/// Most parts of a sheet that is looked at: the work grows with the fourth power of their number.
const MOST_PARTS: usize = 60;

/// Decimals of a place in mm.
const DECIMALS: usize = 6;

/// A rectangle on the sheet: lower left and upper right corner.
#[derive(Clone, Copy, Debug)]
struct Area {
    low: Point2<SheetFrame>,
    high: Point2<SheetFrame>,
}

/// Mirrors arrangements while that leaves fewer small parts at the edges. `small` goes by part. What a saw cuts is
/// left alone: its parts are clamped, and its cuts go from edge to edge.
pub fn inward(
    nesting: &mut Nesting,
    parts: &[Part],
    small: &[bool],
    stock: &[Stock],
    clearances: Clearances,
) {
    if nesting.cutting != Cutting::Free {
        return;
    }
    for sheet in &mut nesting.sheets {
        // A sheet with zones that are not to be used stays as the search laid it around them.
        let Some(kind) = stock.get(sheet.stock).filter(|kind| kind.defects.is_empty()) else { continue };
        improve(sheet, parts, small, kind, clearances);
    }
}

fn improve(sheet: &mut Sheet, parts: &[Part], small: &[bool], kind: &Stock, clearances: Clearances) {
    let is_small = |placed: &Placed| small.get(placed.part).copied().unwrap_or_default();
    let is_small: Vec<bool> = sheet.placed.iter().map(is_small).collect();
    let mut areas: Vec<Area> = sheet.placed.iter().map(|placed| area(parts, placed)).collect();
    let at_edge = |area: &Area| is_at_edge(area, kind, clearances);
    let mut moved = false;
    loop {
        let exposed: Vec<usize> = (0..areas.len()).filter(|&i| is_small[i] && at_edge(&areas[i])).collect();
        if exposed.is_empty() || areas.len() > MOST_PARTS {
            break;
        }
        let rest = largest_free(&areas, kind, clearances);
        let mut best: Option<(usize, Vec<(usize, Area)>)> = None;
        for frame in frames(&areas, &exposed) {
            let members = members(&areas, frame);
            for way in [(true, false), (false, true), (true, true)] {
                let mirrored: Vec<(usize, Area)> =
                    members.iter().map(|&i| (i, mirror(areas[i], frame, way))).collect();
                let count = |area: &dyn Fn(&(usize, Area)) -> Area| {
                    mirrored.iter().filter(|pair| is_small[pair.0] && at_edge(&area(pair))).count()
                };
                let (then, now) = (count(&|pair| areas[pair.0]), count(&|pair| pair.1));
                let gained = then.saturating_sub(now);
                if gained > best.as_ref().map_or(0, |best| best.0)
                    && is_legal(&areas, &members, &mirrored, clearances.gap)
                    // What is left may be wanted later, which counts for more.
                    && largest_free(&after(&areas, &mirrored), kind, clearances) >= rest - SAME_LENGTH
                {
                    best = Some((gained, mirrored));
                }
            }
        }
        let Some((_, mirrored)) = best else { break };
        for (i, area) in mirrored {
            let by = area.low - areas[i].low;
            let placement = &mut sheet.placed[i].placement;
            placement.x = rounded(placement.x + by.x, DECIMALS);
            placement.y = rounded(placement.y + by.y, DECIMALS);
            areas[i] = area;
        }
        moved = true;
    }
    if moved {
        let mut order: Vec<usize> = (0..areas.len()).collect();
        let key = |i: usize| (rounded(areas[i].low.x, DECIMALS), rounded(areas[i].low.y, DECIMALS));
        order.sort_by(|&a, &b| {
            let ((ax, ay), (bx, by)) = (key(a), key(b));
            ax.total_cmp(&bx).then(ay.total_cmp(&by))
        });
        sheet.placed = order.into_iter().map(|i| sheet.placed[i]).collect();
    }
}

/// Whether a rectangle is nearer to the sheet's edge than trim and gap together.
fn is_at_edge(area: &Area, kind: &Stock, clearances: Clearances) -> bool {
    let band = clearances.trim + clearances.gap - SAME_LENGTH;
    let (low, high) = (area.low, area.high);
    low.x < band || low.y < band || kind.length - high.x < band || kind.width - high.y < band
}

fn area(parts: &[Part], placed: &Placed) -> Area {
    let outline = parts.get(placed.part).map(|part| placed.placement.path_to_sheet(&part.outline));
    let (low, high) = outline.map_or((Point2::origin(), Point2::origin()), |outline| outline.bounds());
    Area { low, high }
}

/// Rectangles to mirror in: around all parts, and around an exposed one and any other.
fn frames(areas: &[Area], exposed: &[usize]) -> Vec<Area> {
    let around = |a: Area, b: Area| Area { low: a.low.min(b.low), high: a.high.max(b.high) };
    let mut frames = Vec::new();
    frames.extend(areas.iter().copied().reduce(around));
    frames.extend(exposed.iter().flat_map(|&i| areas.iter().map(move |&other| around(areas[i], other))));
    frames
}

/// The parts that lie in a rectangle.
fn members(areas: &[Area], frame: Area) -> Vec<usize> {
    let slack = SAME_LENGTH;
    let inside = |area: &Area| {
        area.low.x >= frame.low.x - slack
            && area.low.y >= frame.low.y - slack
            && area.high.x <= frame.high.x + slack
            && area.high.y <= frame.high.y + slack
    };
    (0..areas.len()).filter(|&i| inside(&areas[i])).collect()
}

/// All rectangles, those that were mirrored in their new places.
fn after(areas: &[Area], mirrored: &[(usize, Area)]) -> Vec<Area> {
    let mut after = areas.to_vec();
    for &(i, area) in mirrored {
        after[i] = area;
    }
    after
}

/// mm2 of the largest rectangle within the trim that is the gap from all parts.
fn largest_free(areas: &[Area], kind: &Stock, clearances: Clearances) -> f64 {
    let Clearances { gap, trim } = clearances;
    let mut by_height = areas.to_vec();
    by_height.sort_by(|a, b| a.low.y.total_cmp(&b.low.y));
    let lefts = std::iter::once(trim).chain(areas.iter().map(|area| area.high.x + gap));
    let mut largest = 0.0_f64;
    for left in lefts {
        for right in std::iter::once(kind.length - trim).chain(areas.iter().map(|area| area.low.x - gap)) {
            if right <= left {
                continue;
            }
            let (mut height, mut up_to) = (0.0_f64, trim);
            let within = |area: &&Area| {
                area.low.x - gap < right - SAME_LENGTH && area.high.x + gap > left + SAME_LENGTH
            };
            for area in by_height.iter().filter(within) {
                height = height.max(area.low.y - gap - up_to);
                up_to = up_to.max(area.high.y + gap);
            }
            height = height.max(kind.width - trim - up_to);
            largest = largest.max(height * (right - left));
        }
    }
    largest
}

/// Whether parts may be mirrored: they are the gap from each other, and where they come to lie the gap from all
/// others. Parts that are nearer by their boxes lie in each other's bays or openings and stay where they are.
fn is_legal(areas: &[Area], members: &[usize], mirrored: &[(usize, Area)], gap: f64) -> bool {
    let clear = |a: Area, b: Area| apart(a, b) >= gap - SAME_LENGTH;
    let among = |(at, &i): (usize, &usize)| members[..at].iter().all(|&j| clear(areas[i], areas[j]));
    let to_others = |(_, area): &(usize, Area)| {
        let others = (0..areas.len()).filter(|i| !members.contains(i));
        others.into_iter().all(|other| clear(*area, areas[other]))
    };
    members.iter().enumerate().all(among) && mirrored.iter().all(to_others)
}

/// mm between two rectangles along the axis on which they are farther apart.
fn apart(a: Area, b: Area) -> f64 {
    let x = (a.low.x - b.high.x).max(b.low.x - a.high.x);
    let y = (a.low.y - b.high.y).max(b.low.y - a.high.y);
    x.max(y)
}

/// Where a rectangle comes to lie when its frame is mirrored along x, along y or along both.
fn mirror(area: Area, frame: Area, (along_x, along_y): (bool, bool)) -> Area {
    let (low, high) = (area.low, area.high);
    let (from, to) = (frame.low, frame.high);
    let turned = |low: f64, high: f64, from: f64, to: f64, turn: bool| {
        if turn { (from + (to - high), from + (to - low)) } else { (low, high) }
    };
    let (x0, x1) = turned(low.x, high.x, from.x, to.x, along_x);
    let (y0, y1) = turned(low.y, high.y, from.y, to.y, along_y);
    Area { low: Point2::new(x0, y0), high: Point2::new(x1, y1) }
}

#[cfg(test)]
mod tests {
    use super::super::{Settings, Turns, faults, nest};
    use super::*;
    use crate::geom::Path;
    use proptest::prelude::*;

    const CLEARANCES: Clearances = Clearances { gap: 8.0, trim: 10.0 };

    fn part(i: usize, length: f64, width: f64) -> Part {
        let outline = Path::rectangle(0.0, 0.0, length, width);
        Part {
            name: format!("part-{i}"),
            outline,
            openings: vec![],
            turns: Turns::GrainKept,
            either_face: false,
        }
    }

    fn sheet_of(length: f64, width: f64) -> Vec<Stock> {
        vec![Stock { name: "sheet".to_owned(), length, width, ..Stock::default() }]
    }

    /// Small parts nearer to an edge than 18 mm, counted from the placed outlines by themselves.
    fn exposed(nesting: &Nesting, parts: &[Part], small: &[bool], stock: &[Stock]) -> usize {
        let near = |sheet: &Sheet, placed: &Placed| {
            let (low, high) = placed.placement.path_to_sheet(&parts[placed.part].outline).bounds();
            let kind = &stock[sheet.stock];
            let room = [low.x, low.y, kind.length - high.x, kind.width - high.y];
            small[placed.part] && room.into_iter().fold(f64::INFINITY, f64::min) < 17.999
        };
        nesting.sheets.iter().map(|sheet| sheet.placed.iter().filter(|p| near(sheet, p)).count()).sum()
    }

    #[test]
    fn a_row_with_its_small_part_at_the_edge_is_turned_about() {
        let (stock, parts) = (sheet_of(1000.0, 300.0), [part(0, 100.0, 200.0), part(1, 600.0, 280.0)]);
        let at = |part, x: f64, y| {
            let placement = crate::geom::SheetPlacement { x, y, angle: 0.0, flipped: false };
            Placed { part, placement }
        };
        let placed = vec![at(0, 10.0, 50.0), at(1, 118.0, 10.0)];
        let sheets = vec![Sheet { stock: 0, placed }];
        let mut nesting = Nesting { sheets, bound: 1, ..Nesting::default() };
        let small = [true, false];
        let mut for_a_saw = Nesting { cutting: Cutting::Guillotine, ..nesting.clone() };
        inward(&mut nesting, &parts, &small, &stock, CLEARANCES);
        assert_eq!(nesting.sheets[0].placed, [at(1, 10.0, 10.0), at(0, 618.0, 50.0)]);
        inward(&mut for_a_saw, &parts, &small, &stock, CLEARANCES);
        assert_eq!(for_a_saw.sheets[0].placed, [at(0, 10.0, 50.0), at(1, 118.0, 10.0)]);
    }

    #[test]
    fn the_largest_rectangle_left_over_stays() {
        let stock = sheet_of(1000.0, 1000.0);
        let parts = [part(0, 400.0, 800.0), part(1, 100.0, 100.0), part(2, 700.0, 100.0)];
        let at = |part, x: f64, y| {
            let placement = crate::geom::SheetPlacement { x, y, angle: 0.0, flipped: false };
            Placed { part, placement }
        };
        let placed = vec![at(0, 10.0, 10.0), at(1, 10.0, 818.0), at(2, 118.0, 818.0)];
        let areas: Vec<Area> = placed.iter().map(|placed| area(&parts, placed)).collect();
        // Beside the large part: from 418 to 990 and from 10 to 810.
        assert!((largest_free(&areas, &stock[0], CLEARANCES) - 572.0 * 800.0).abs() < 1e-6);
        let sheets = vec![Sheet { stock: 0, placed }];
        let mut nesting = Nesting { sheets, bound: 1, ..Nesting::default() };
        inward(&mut nesting, &parts, &[false, true, false], &stock, CLEARANCES);
        // The upper row alone is mirrored: with the large part the free room would be cut in two.
        assert_eq!(nesting.sheets[0].placed, [at(0, 10.0, 10.0), at(2, 10.0, 818.0), at(1, 718.0, 818.0)]);
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(48))]
        #[test]
        fn never_more_small_parts_at_the_edge_and_never_an_illegal_sheet(
            sizes in prop::collection::vec((1_i32..12, 1_i32..8), 1..24),
        ) {
            let stock = sheet_of(1250.0, 820.0);
            let parts: Vec<Part> = sizes.iter().enumerate()
                .map(|(i, &(l, w))| part(i, f64::from(l) * 50.0, f64::from(w) * 50.3)).collect();
            let small: Vec<bool> = sizes.iter().map(|&(l, w)| l.min(w) < 2 || l * w < 9).collect();
            let mut nesting = nest(&parts, &stock, CLEARANCES, &Settings::ordinary(parts.len()));
            let (before, sheets) = (exposed(&nesting, &parts, &small, &stock), nesting.sheets.len());
            inward(&mut nesting, &parts, &small, &stock, CLEARANCES);
            prop_assert!(exposed(&nesting, &parts, &small, &stock) <= before);
            prop_assert_eq!(nesting.sheets.len(), sheets);
            prop_assert_eq!(faults(&parts, &stock, CLEARANCES, &nesting), Vec::<String>::new());
            let again = nesting.clone();
            inward(&mut nesting, &parts, &small, &stock, CLEARANCES);
            prop_assert_eq!(nesting, again);
        }
    }
}
