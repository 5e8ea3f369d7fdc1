//! Straight through an opening along x: the best sideways place and lift, exact.
//!
//! Seen along x, each box of a module is a rectangle, and what it passes limits its sides by straight lines over its
//! height: the opening's edges, and an arch as high as that box passes it. So the room to spare is made of straight
//! pieces over the lift, and the best lift is one at which such pieces meet: those are tried, all of them.

use crate::geom::tolerance::SAME_LENGTH;
use crate::geom::{Aabb, Profile};
use crate::spec::{Arch, Bay, Opening, Side};

/// What limits a box on its way in.
pub(super) struct Gate<'a> {
    pub(super) opening: &'a Opening,
    pub(super) bay: &'a Bay,
    /// mm to spare in the opening, in its width and in its height.
    pub(super) spare: f64,
}

/// A way through the opening.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Pass {
    /// mm by which the module is lifted from its place.
    pub(super) lift: f64,
    /// mm that are left at its left and at its right side beyond what is to be spared; negative is lacking. Their
    /// sum is what counts: it may be shifted.
    pub(super) left: f64,
    pub(super) right: f64,
    /// Where they are so: z above the floor, and whether an arch, not the opening, is what is near.
    pub(super) tight: Tight,
}

/// Where it is narrow.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct Tight {
    /// z above the floor.
    pub(super) z: f64,
    /// Whether a wheel arch is what is near on one side.
    pub(super) arch: bool,
}

impl Pass {
    /// mm left in the width beyond what is to be spared.
    pub(super) fn width(&self) -> f64 {
        self.left + self.right
    }
}

/// Lifts between which a module passes, from the lowest; the second less than the first if there are none.
pub(super) fn lifts(gate: &Gate<'_>, boxes: &[Aabb]) -> (f64, f64) {
    let under = boxes.iter().map(|b| b.low.z).fold(f64::INFINITY, f64::min);
    let over = boxes.iter().map(|b| b.high.z).fold(f64::NEG_INFINITY, f64::max);
    let least = gate.opening.sill.value.max(0.0) - under;
    let roof = boxes.iter().map(|b| least_roof(gate.bay, b.high.x) - b.high.z);
    let most = roof.fold(gate.opening.height.value - gate.spare - over, f64::min);
    (least, most)
}

/// The lowest roof from the rear edge to x.
fn least_roof(bay: &Bay, x: f64) -> f64 {
    let roof = &bay.roof.value;
    let inside = roof.points().iter().filter(|point| (0.0..=x).contains(&point.0)).map(|point| point.1);
    inside.chain([roof.at(0.0), roof.at(x)]).fold(f64::INFINITY, f64::min)
}

/// Every lift at which the room to spare can be greatest or just enough, with that room; by lift.
pub(super) fn passes(gate: &Gate<'_>, boxes: &[Aabb], (least, most): (f64, f64)) -> Vec<Pass> {
    let boxes = outermost(boxes);
    let mut turns = vec![least, most, 0.0];
    for b in &boxes {
        let ends = [b.low.z, b.high.z + gate.spare];
        let heights = gate.opening.widths.points().iter().map(|point| point.0);
        turns.extend(heights.flat_map(|z| ends.map(|end| z - end)));
        turns.extend(gate.bay.arches.iter().filter_map(|arch| height_for(arch, b)).map(|z| z - b.low.z));
    }
    in_order(&mut turns, least, most);
    let mut all = turns.clone();
    for pair in turns.windows(2) {
        let [left, right] = lines(gate, &boxes, (pair[0], pair[1]));
        for lines in [&left, &right] {
            all.extend(crossings(lines, (pair[0], pair[1])));
        }
    }
    in_order(&mut all, least, most);
    let passes: Vec<Pass> = all.iter().map(|&lift| pass_at(gate, &boxes, lift)).collect();
    // Between two of these lifts the room runs straight: where it becomes just enough is worth a look, too.
    let enough =
        passes.windows(2).filter(|pair| (pair[0].width() < 0.0) != (pair[1].width() < 0.0)).map(|pair| {
            let share = pair[0].width() / (pair[0].width() - pair[1].width());
            pass_at(gate, &boxes, pair[0].lift + share * (pair[1].lift - pair[0].lift))
        });
    let enough: Vec<Pass> = enough.collect();
    passes.into_iter().chain(enough).collect()
}

fn in_order(lifts: &mut Vec<f64>, least: f64, most: f64) {
    lifts.retain(|lift| (least..=most).contains(lift));
    lifts.sort_by(f64::total_cmp);
    lifts.dedup_by(|a, b| *a - *b < SAME_LENGTH);
}

/// Boxes that no other one hides: seen along x, and as far forward.
fn outermost(boxes: &[Aabb]) -> Vec<Aabb> {
    let hides = |a: &Aabb, b: &Aabb| {
        a.low.y <= b.low.y
            && a.high.y >= b.high.y
            && a.low.z <= b.low.z
            && a.high.z >= b.high.z
            && a.high.x >= b.high.x
    };
    let mut kept: Vec<Aabb> = Vec::new();
    for b in boxes {
        if !kept.iter().any(|other| hides(other, b)) {
            kept.retain(|other| !hides(b, other));
            kept.push(*b);
        }
    }
    kept
}

/// How high an arch is where a box passes it; `None` if the box stays behind it.
fn height_for(arch: &Arch, passing: &Aabb) -> Option<f64> {
    let points = arch.profile.points();
    let (from, end) = (points[0].0, passing.high.x);
    let inside = points.iter().filter(|point| point.0 <= end).map(|point| point.1);
    (end > from + SAME_LENGTH).then(|| inside.fold(arch.profile.at(end), f64::max))
}

/// The room at one lift.
fn pass_at(gate: &Gate<'_>, boxes: &[Aabb], lift: f64) -> Pass {
    let mut sides = [(f64::INFINITY, Tight::default()); 2];
    for b in boxes {
        let (low, high) = (b.low.z + lift, b.high.z + lift + gate.spare);
        let (half, at) = least_half(&gate.opening.widths, low, high);
        for (side, (least, tight)) in [Side::Left, Side::Right].into_iter().zip(&mut sides) {
            let out = outward(side, b);
            let mut limits = vec![(half - gate.spare / 2.0, Tight { z: at, arch: false })];
            for arch in gate.bay.arches.iter().filter(|arch| arch.side == side) {
                if height_for(arch, b).is_some_and(|top| low < top - SAME_LENGTH) {
                    limits.push((arch.from_centre.value, Tight { z: low, arch: true }));
                }
            }
            for (limit, what) in limits {
                if limit - out < *least {
                    (*least, *tight) = (limit - out, what);
                }
            }
        }
    }
    let [(left, on_left), (right, on_right)] = sides;
    let tight = if on_right.arch || right < left { on_right } else { on_left };
    Pass { lift, left, right, tight: Tight { arch: on_left.arch || on_right.arch, ..tight } }
}

/// mm from the centreline to a box's side.
fn outward(side: Side, b: &Aabb) -> f64 {
    if side == Side::Left { b.high.y } else { -b.low.y }
}

/// Half the opening's least width between two heights, and where.
fn least_half(widths: &Profile, low: f64, high: f64) -> (f64, f64) {
    let inside = widths.points().iter().copied().filter(|point| point.0 > low && point.0 < high);
    let ends = [(low, widths.at(low)), (high, widths.at(high))];
    let least = ends.into_iter().chain(inside).min_by(|a, b| a.1.total_cmp(&b.1));
    least.map_or((f64::INFINITY, low), |(z, width)| (width / 2.0, z))
}

/// The straight pieces of the room at the left and the right between two lifts at which nothing turns: values at
/// both ends.
fn lines(gate: &Gate<'_>, boxes: &[Aabb], (from, to): (f64, f64)) -> [Vec<(f64, f64)>; 2] {
    let middle = f64::midpoint(from, to);
    let widths = &gate.opening.widths;
    [Side::Left, Side::Right].map(|side| {
        let mut lines = Vec::new();
        for b in boxes {
            let out = outward(side, b) + gate.spare / 2.0;
            let (low, high) = (b.low.z, b.high.z + gate.spare);
            for end in [low, high] {
                lines.push((widths.at(end + from) / 2.0 - out, widths.at(end + to) / 2.0 - out));
            }
            let inside =
                widths.points().iter().filter(|point| point.0 > low + middle && point.0 < high + middle);
            lines.extend(inside.map(|point| (point.1 / 2.0 - out, point.1 / 2.0 - out)));
            let arches = gate.bay.arches.iter().filter(|arch| arch.side == side);
            let near = arches.filter(|arch| height_for(arch, b).is_some_and(|top| low + middle < top));
            lines.extend(near.map(|arch| {
                let room = arch.from_centre.value - outward(side, b);
                (room, room)
            }));
        }
        lines.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)));
        lines.dedup();
        lines
    })
}

/// Lifts at which two straight pieces cross.
fn crossings(lines: &[(f64, f64)], (from, to): (f64, f64)) -> Vec<f64> {
    let mut found = Vec::new();
    for (i, a) in lines.iter().enumerate() {
        for b in &lines[i + 1..] {
            // `a` is not above `b` at the first lift; above it at the second they have crossed.
            if a.1 > b.1 {
                found.push(from + (to - from) * ((b.0 - a.0) / ((b.0 - a.0) + (a.1 - b.1))));
            }
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::spec::{self, Input, Text};

    fn bay(keys: &str) -> Bay {
        let text = format!(
            "bay: {{depth: 1100, height: 995, sides: {{heights: [0], stations: [{{x: 0, widths: [1400]}}]}}, {keys}}}\n\
             carcases:\n  - {{id: main, width: 800, depth: 600, height: 300, panel: birch-12, cell: {{open: {{}}}}}}\n"
        );
        let input = Input {
            design: Text { name: "design.yaml", text: &text },
            fallback_name: "kit",
            vehicle: None,
            workshop: None,
        };
        let mut findings = crate::diag::Findings::default();
        let mut sources = crate::diag::Sources::default();
        let mut open = |_: &str, path: &str| Err(format!("no file {path}"));
        spec::read(&mut findings, &mut sources, &input, &mut open).unwrap().vehicle.bay
    }

    fn found(bay: &Bay, spare: f64, boxes: &[Aabb]) -> Pass {
        let gate = Gate { opening: bay.opening.as_ref().unwrap(), bay, spare };
        let range = lifts(&gate, boxes);
        let all = passes(&gate, boxes, range);
        all.into_iter()
            .max_by(|a, b| a.width().total_cmp(&b.width()).then(b.lift.total_cmp(&a.lift)))
            .unwrap()
    }

    fn aabb(y: (f64, f64), z: (f64, f64)) -> Aabb {
        Aabb { low: (25.0, y.0, z.0).into(), high: (900.0, y.1, z.1).into() }
    }

    #[test]
    fn a_box_lies_where_the_opening_is_widest() {
        // 1000 wide at 100, 1200 at 500, 1000 at 900; a box 200 high has its ends equally wide off 500: from 400 to
        // 600, where the opening is 1150 wide. 1100 are in it: 50 left.
        let bay = bay(
            "opening: {height: 900, widths: [{z: 100, width: 1000}, {z: 500, width: 1200}, {z: 900, width: 1000}]}",
        );
        let pass = found(&bay, 0.0, &[aabb((-550.0, 550.0), (0.0, 200.0))]);
        assert!((pass.lift - 400.0).abs() < 1e-9 && (pass.width() - 50.0).abs() < 1e-9, "{pass:?}");
        // 15 to spare: 215 high, from 392.5 to 607.5, 1146.25 wide there; 1115 are wanted: 31.25.
        let pass = found(&bay, 15.0, &[aabb((-550.0, 550.0), (0.0, 200.0))]);
        assert!((pass.lift - 392.5).abs() < 1e-9 && (pass.width() - 31.25).abs() < 1e-9, "{pass:?}");
    }

    #[test]
    fn a_stepped_module_passes_where_its_box_would_not() {
        // Base 1000 wide and 100 high, a tower of 600 on it up to 700, off the middle. The opening narrows from 1020
        // at the floor to 620 at 800 by 0.5 a millimetre. On the floor: the base's top at 100 has 970, 30 too little
        // as a whole; so the best is what is lost there.
        let bay = bay("opening: {height: 800, widths: [{z: 0, width: 1020}, {z: 800, width: 620}]}");
        let boxes = [aabb((-480.0, 480.0), (0.0, 100.0)), aabb((-300.0, 300.0), (100.0, 700.0))];
        // The base: 970 - 960 = 10. The tower, at 700: 670 - 600 = 70.
        let pass = found(&bay, 0.0, &boxes);
        assert!(pass.lift.abs() < 1e-9 && (pass.width() - 10.0).abs() < 1e-9, "{pass:?}");
        // The box around both would need 960 at 700, where there are 670.
        let pass = found(&bay, 0.0, &[aabb((-480.0, 480.0), (0.0, 700.0))]);
        assert!((pass.width() + 290.0).abs() < 1e-9, "{pass:?}");
    }

    #[test]
    fn an_arch_is_passed_over_if_the_opening_lets_it_be_lifted() {
        let arches = "arches: {left: {from: 260, to: 820, height: 285, from_centre: 500}, right: {from: 260, to: 820, \
                      height: 285, from_centre: 500}}";
        let wide = [aabb((-600.0, 600.0), (0.0, 300.0))];
        let over = bay(&format!("opening: {{height: 800, widths: [{{z: 0, width: 1300}}]}}, {arches}"));
        let pass = found(&over, 0.0, &wide);
        assert!((pass.lift - 285.0).abs() < 1e-9 && (pass.width() - 100.0).abs() < 1e-9, "{pass:?}");
        // An opening 500 high lets it be lifted by 200 only: 1200 between arches 1000 apart.
        let under = bay(&format!("opening: {{height: 500, widths: [{{z: 0, width: 1300}}]}}, {arches}"));
        let pass = found(&under, 0.0, &wide);
        assert!((pass.width() + 200.0).abs() < 1e-9 && pass.tight.arch, "{pass:?}");
    }
}
