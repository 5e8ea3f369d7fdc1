//! What a true shape takes up for certain, so that proven bounds hold for it as well.
//!
//! Takes parts in millimetres; gives for each a rectangle that lies inside it, and an area that no packing can
//! give it less of; whole micrometres, rounded to the safe side. Places nothing.
//!
//! What is proved: no packing of the true shapes, their contours the gap apart whichever way that is measured,
//! on sheets of a size uses fewer of them. Not proved: that so few suffice.

use super::ring::{Point, are_simple, bounds, cleaned, doubled_area, is_inside, side};
use super::shape::traced;
use crate::bin::Bin;
use crate::cost_bound::{self, Bounds};
use crate::geom::Path;
use crate::problem::{Class, Size, up};
use crate::{Clearances, Cutting, Part, Turns};
use std::f64::consts::{FRAC_1_SQRT_2, PI};

/// What some parts take up for certain.
#[derive(Clone, Debug)]
pub(crate) struct Sure {
    /// Rectangles inside the parts, grown on two sides by what is surely free beside them.
    pub(crate) classes: Vec<Class>,
    /// Square micrometres of sheets grown by the gap.
    pub area: i128,
}

impl Sure {
    /// What the parts take up but for those `left_aside`; `None` if all are rectangles: then their boxes count.
    pub(crate) fn of(parts: &[Part], left_aside: &[usize], clearances: Clearances) -> Option<Self> {
        if parts.iter().all(is_rectangle) {
            return None;
        }
        let gap = up(clearances.gap).unwrap_or(0).max(0);
        // Two rectangles that are the gap apart from corner to corner are apart by at least this along or across.
        #[expect(clippy::cast_possible_truncation, reason = "not more than the gap")]
        let apart = (gap as f64 * FRAC_1_SQRT_2).floor() as i64;
        let mut sure = Sure { classes: Vec::new(), area: 0 };
        for (_, part) in parts.iter().enumerate().filter(|(number, _)| !left_aside.contains(number)) {
            let openings: f64 = part.openings.iter().map(|opening| opening.area().abs()).sum();
            sure.area += least_area(part.outline.area().abs() - openings, gap);
            let Some((low, high)) = inner_rectangle(&part.outline, &part.openings) else { continue };
            let size = Size { width: high.x - low.x + apart, height: high.y - low.y + apart };
            sure.classes.push(Class { size, free: part.turns == Turns::Free, count: 1 });
        }
        sure.classes.sort_by_key(|class| (class.size, class.free));
        sure.classes.dedup_by(|next, kept| {
            let same = next.size == kept.size && next.free == kept.free;
            kept.count += if same { next.count } else { 0 };
            same
        });
        Some(sure)
    }

    /// No packing on these kinds of sheet uses fewer of them, or costs less.
    pub(crate) fn bounds(&self, bins: &[Bin]) -> Bounds {
        let by_rectangles = cost_bound::bounds(&self.classes, bins, Cutting::Free);
        let largest = bins.iter().map(|bin| bin.usable.area()).max().unwrap_or(0).max(1);
        let by_area = self.area / largest + i128::from(self.area % largest > 0);
        // Whatever sheets are used, their area is no less than the parts', and none costs less for its area than
        // the cheapest kind does.
        let for_area = |bin: &Bin| bin.cost * self.area / bin.usable.area().max(1);
        let cost = bins.iter().map(for_area).min().unwrap_or(0);
        Bounds {
            sheets: by_rectangles.sheets.max(usize::try_from(by_area).unwrap_or(0)),
            cost: by_rectangles.cost.max(cost),
        }
    }
}

/// Whether the outline fills its box and nothing is cut out of it.
fn is_rectangle(part: &Part) -> bool {
    let (low, high) = part.outline.bounds();
    let of_box = (high.x - low.x) * (high.y - low.y);
    part.openings.is_empty() && part.outline.area().abs() >= of_box * (1.0 - 1e-9)
}

/// A rectangle inside a part, its sides along the part's axes: (lower left, upper right). Any packing of the
/// parts is one of such rectangles too, so a bound on rectangles holds for them. `None` if none is found, for
/// an outline that is not one closed line.
fn inner_rectangle<F: Copy>(outline: &Path<F>, openings: &[Path<F>]) -> Option<(Point, Point)> {
    let within = |path: Path<F>| -> Option<(Vec<Point>, i64)> {
        // Traced as the boundary of what is not the part: so the polygon lies inside it.
        let (mut ring, slack) = traced(&path.reversed(), TOLERANCE)?;
        ring.reverse();
        Some((cleaned(ring), slack))
    };
    let (outer, mut slack) = within(outline.clone().counter_clockwise())?;
    let mut rings = vec![outer];
    for opening in openings {
        let (ring, off_grid) = within(opening.clone().clockwise())?;
        slack = slack.max(off_grid);
        if ring.len() >= 3 {
            rings.push(ring);
        }
    }
    let borrowed: Vec<&[Point]> = rings.iter().map(|ring| &ring[..]).collect();
    let sound = doubled_area(&rings[0]) > 0
        && are_simple(&borrowed)
        && rings[1..].iter().all(|ring| is_inside(ring[0], &rings[0]));
    if !sound {
        return None;
    }
    let (low, high) = largest_inside(&rings)?;
    // A corner that was rounded may lie outside by less than a micrometre.
    let (low, high) =
        (Point { x: low.x + slack, y: low.y + slack }, Point { x: high.x - slack, y: high.y - slack });
    (low.x < high.x && low.y < high.y).then_some((low, high))
}

/// Square micrometres that a shape of so many mm2 takes of a sheet that is grown by the gap: the shape grown by
/// half the gap, which is never less than a disc of the shape's area grown so (Brunn and Minkowski's inequality).
fn least_area(true_area: f64, gap: i64) -> i128 {
    let (root, half) = ((true_area.max(0.0) * 1e6).sqrt(), gap as f64 / 2.0);
    let grown = (root + half * PI.sqrt()).powi(2);
    // A millionth less than computed covers what the last digits of sums and roots may be off by.
    #[expect(clippy::cast_possible_truncation, reason = "a square kilometre is 1e18")]
    {
        (grown * (1.0 - 1e-6)) as i128
    }
}

/// mm between an arc and the straight sides inside it.
const TOLERANCE: f64 = 0.5;

/// Lines of the grid between which rectangles are looked for, each way.
const LINES: usize = 40;

/// The largest rectangle inside the rings among those with sides on a grid of lines through corners and between.
fn largest_inside(rings: &[Vec<Point>]) -> Option<(Point, Point)> {
    let (low, high) = bounds(&rings[0])?;
    let corners = || rings.iter().flatten();
    let xs = lines(corners().map(|p| p.x).collect(), low.x, high.x);
    let ys = lines(corners().map(|p| p.y).collect(), low.y, high.y);
    // For each column of cells, how many free ones lie below the present row, that one included.
    let mut heights = vec![0; xs.len() - 1];
    let mut best: Option<(i64, Point, Point)> = None;
    for row in 0..ys.len() - 1 {
        let inside = cells_inside(&xs, (ys[row], ys[row + 1]), rings);
        for (height, inside) in heights.iter_mut().zip(inside) {
            *height = if inside { *height + 1 } else { 0 };
        }
        for left in 0..heights.len() {
            let mut least = usize::MAX;
            for right in left..heights.len() {
                least = least.min(heights[right]);
                if least == 0 {
                    break;
                }
                let low = Point { x: xs[left], y: ys[row + 1 - least] };
                let high = Point { x: xs[right + 1], y: ys[row + 1] };
                let area = (high.x - low.x) * (high.y - low.y);
                if best.is_none_or(|(most, ..)| area > most) {
                    best = Some((area, low, high));
                }
            }
        }
    }
    best.map(|(_, low, high)| (low, high))
}

/// Grid lines: those through corners, evenly thinned if they are many, with lines between if they are few.
fn lines(mut corners: Vec<i64>, low: i64, high: i64) -> Vec<i64> {
    corners.sort_unstable();
    corners.dedup();
    let step = corners.len().div_ceil(LINES);
    let mut lines: Vec<i64> = corners.into_iter().step_by(step.max(1)).collect();
    let between = i64::try_from(LINES).unwrap_or(1);
    lines.extend((0..=between).map(|i| low + (high - low) * i / between));
    lines.sort_unstable();
    lines.dedup();
    lines
}

/// For each cell of a row between two heights: whether no side runs through it and its middle lies inside. Only sides that
/// reach between the heights decide about either.
fn cells_inside(xs: &[i64], (bottom, top): (i64, i64), rings: &[Vec<Point>]) -> Vec<bool> {
    let columns = xs.len() - 1;
    let mut inside = vec![false; columns];
    let mut crossed = vec![false; columns];
    for (number, ring) in rings.iter().enumerate() {
        let mut within = vec![false; columns];
        for (i, &a) in ring.iter().enumerate() {
            let b = ring[(i + 1) % ring.len()];
            if a.y.max(b.y) <= bottom || a.y.min(b.y) >= top {
                continue;
            }
            mark_crossed(&mut crossed, xs, (bottom, top), (a, b));
            // In halves of micrometres, so that the middle is on the grid. To the right of where the side passes the middle
            // height it counts for no cell.
            let middle = bottom + top;
            if (2 * a.y > middle) == (2 * b.y > middle) {
                continue;
            }
            let doubled = |p: Point| Point { x: 2 * p.x, y: 2 * p.y };
            for (column, within) in within.iter_mut().enumerate() {
                let p = Point { x: xs[column] + xs[column + 1], y: middle };
                let passes_right = (side(doubled(a), doubled(b), p) > 0) == (b.y > a.y);
                if !passes_right {
                    break;
                }
                *within = !*within;
            }
        }
        // The first ring is the outline, the others are openings.
        for (inside, within) in inside.iter_mut().zip(within) {
            *inside = if number == 0 { within } else { *inside && !within };
        }
    }
    inside.into_iter().zip(crossed).map(|(inside, crossed)| inside && !crossed).collect()
}

/// Marks the cells of a row through which a side runs.
fn mark_crossed(crossed: &mut [bool], xs: &[i64], (bottom, top): (i64, i64), (a, b): (Point, Point)) {
    let first = xs.partition_point(|&x| x <= a.x.min(b.x)).saturating_sub(1);
    for (column, crossed) in crossed.iter_mut().enumerate().skip(first) {
        let (left, right) = (xs[column], xs[column + 1]);
        if a.x.max(b.x) <= left {
            break;
        }
        if a.x.min(b.x) >= right || *crossed {
            continue;
        }
        let corners = [(left, bottom), (right, bottom), (right, top), (left, top)];
        let sides = corners.map(|(x, y)| side(a, b, Point { x, y }));
        *crossed = sides.iter().any(|&side| side > 0) && sides.iter().any(|&side| side < 0);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geom::{PanelFrame, Point2};
    use crate::problem::Problem;
    use crate::{Settings, Stock};

    fn polygon(corners: &[(f64, f64)]) -> Path<PanelFrame> {
        Path::polygon(corners.iter().map(|&(x, y)| Point2::new(x, y)))
    }

    fn size((low, high): (Point, Point)) -> (i64, i64) {
        (high.x - low.x, high.y - low.y)
    }

    #[test]
    fn the_larger_leg_of_an_l_and_the_strip_beside_an_opening() {
        let l =
            polygon(&[(0.0, 0.0), (300.0, 0.0), (300.0, 100.0), (80.0, 100.0), (80.0, 200.0), (0.0, 200.0)]);
        assert_eq!(inner_rectangle(&l, &[]).map(size), Some((300_000, 100_000)));
        let plate = Path::<PanelFrame>::rectangle(0.0, 0.0, 500.0, 300.0);
        let opening = Path::rectangle(50.0, 50.0, 450.0, 200.0);
        assert_eq!(inner_rectangle(&plate, &[opening]).map(size), Some((500_000, 100_000)));
    }

    /// Cell by cell, all sides asked: what the rows' shorter way must say too.
    fn cell_is_inside(low: Point, high: Point, rings: &[Vec<Point>]) -> bool {
        let crossed = rings.iter().any(|ring| {
            (0..ring.len()).any(|i| {
                let (a, b) = (ring[i], ring[(i + 1) % ring.len()]);
                let beside = a.x.max(b.x) <= low.x
                    || a.x.min(b.x) >= high.x
                    || a.y.max(b.y) <= low.y
                    || a.y.min(b.y) >= high.y;
                let corners = [low, Point { x: high.x, y: low.y }, high, Point { x: low.x, y: high.y }];
                let sides = corners.map(|corner| side(a, b, corner));
                !beside && sides.iter().any(|&side| side > 0) && sides.iter().any(|&side| side < 0)
            })
        });
        let doubled = |p: &Point| Point { x: 2 * p.x, y: 2 * p.y };
        let middle = low.plus(high);
        let inside = |ring: &Vec<Point>| is_inside(middle, &ring.iter().map(doubled).collect::<Vec<_>>());
        !crossed && inside(&rings[0]) && !rings[1..].iter().any(inside)
    }

    #[test]
    fn rows_of_cells_are_inside_where_each_cell_by_itself_is() {
        let point = |(x, y): (i64, i64)| Point { x, y };
        let star = [
            (0, -97),
            (23, -31),
            (95, -29),
            (38, 12),
            (59, 80),
            (0, 40),
            (-61, 79),
            (-37, 13),
            (-96, -30),
            (-22, -33),
        ];
        let opening = [(-9, 3), (2, 14), (11, 1), (1, -17)];
        let rings = [star.map(point).to_vec(), opening.map(point).to_vec()];
        for step in [1, 3, 7, 20] {
            let lines: Vec<i64> = (-100..=100).step_by(step).collect();
            let mut inside = 0;
            for ys in lines.windows(2) {
                let row = cells_inside(&lines, (ys[0], ys[1]), &rings);
                for (xs, found) in lines.windows(2).zip(row) {
                    let (low, high) = (Point { x: xs[0], y: ys[0] }, Point { x: xs[1], y: ys[1] });
                    assert_eq!(found, cell_is_inside(low, high, &rings), "{low:?} {high:?}");
                    inside += usize::from(found);
                }
            }
            assert!(inside > 0, "{step}");
        }
    }

    /// The largest square in a disc of radius 100 has sides of 141.4; the grid's lines are 5 apart.
    #[test]
    fn a_square_in_a_disc_stays_in_it() {
        let disc: Path<PanelFrame> = Path::circle(Point2::new(7.0, 3.0), 100.0);
        let (low, high) = inner_rectangle(&disc, &[]).unwrap();
        for (x, y) in [(low.x, low.y), (high.x, low.y), (high.x, high.y), (low.x, high.y)] {
            assert!(((x as f64 / 1000.0 - 7.0).powi(2) + (y as f64 / 1000.0 - 3.0).powi(2)).sqrt() <= 100.0);
        }
        assert!((high.x - low.x) * (high.y - low.y) > 18_000_000_000, "{low:?} {high:?}");
    }

    /// A square of 100 grown by 4 each way, corners round, has 100^2 + 4 * 100 * 4 + 4^2 pi = 11650.3 mm2; a disc
    /// of that area grows by less, and the bound lies between the square alone and that.
    #[test]
    fn the_grown_area_is_not_more_than_the_true_one() {
        let area = least_area(10_000.0, 8_000);
        assert!((11_400_000_000..11_650_300_000).contains(&area), "{area}");
        assert!(least_area(0.0, 0) == 0);
    }

    #[test]
    fn two_half_squares_are_not_promised_a_sheet_each() {
        let half = polygon(&[(0.0, 0.0), (100.0, 0.0), (0.0, 100.0)]);
        let part = Part {
            name: "half".to_owned(),
            outline: half,
            openings: vec![],
            turns: Turns::Free,
            either_face: false,
        };
        let clearances = Clearances { gap: 0.0, trim: 0.0 };
        let parts = [part.clone(), part.clone(), part.clone()];
        let sure = Sure::of(&parts, &[], clearances).unwrap();
        let square = Stock { length: 100.0, width: 100.0, price: Some(40.0), ..Stock::default() };
        let problem = Problem::new(&parts, &[square], clearances, &Settings::ordinary(3));
        // Three halves are more than one square: two sheets of it. Their area alone costs one and a half, less rounding.
        let bounds = sure.bounds(&problem.bins);
        assert_eq!(bounds.sheets, 2);
        assert!((59_999..=80_000).contains(&bounds.cost), "{bounds:?}");
        let box_of_it = Part { outline: Path::rectangle(0.0, 0.0, 100.0, 100.0), ..part };
        assert!(Sure::of(&[box_of_it], &[], clearances).is_none());
    }
}
