//! Boxes on paper: which way one looks, and in which order boxes are painted so that the nearer hides the
//! farther.
//!
//! Takes axis-aligned boxes that do not reach into each other, which is what a kit is made of; gives flat shapes
//! from back to front.

use super::{Area, Spot};
use crate::geom::tolerance::SAME_LENGTH;
use crate::geom::{Aabb, Point3, VehicleFrame};

/// Where the reader stands, looking square onto a face of the bay.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Look {
    /// Behind the vehicle: the left side is on the left.
    Tailgate,
    /// Over it: the tailgate is at the bottom of the page, the left side on the left.
    Above,
    /// On the vehicle's right: the tailgate is on the left.
    Right,
}

/// A box of the kit, to be painted.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Solid {
    /// Class in the style sheet.
    pub(super) class: &'static str,
    /// What it fills.
    pub(super) shape: Aabb,
    /// Text on it, best first; may be empty.
    pub(super) texts: Vec<Vec<String>>,
}

impl Look {
    /// A point of the vehicle on paper.
    fn spot(self, p: Point3<VehicleFrame>) -> Spot {
        match self {
            Look::Tailgate => Spot::new(-p.y, p.z),
            Look::Above => Spot::new(-p.y, p.x),
            Look::Right => Spot::new(p.x, p.z),
        }
    }

    /// A box on paper.
    pub(super) fn area(self, shape: Aabb) -> Area {
        Area::from_points([self.spot(shape.low), self.spot(shape.high)])
    }

    /// How near the box's face is to the reader; greater is nearer.
    fn nearness(self, shape: Aabb) -> f64 {
        match self {
            Look::Tailgate => -shape.low.x,
            Look::Above => shape.high.z,
            Look::Right => -shape.low.y,
        }
    }

    /// The solids that can be seen, the farthest first. What a single nearer one hides wholly is left out.
    pub(super) fn painted(self, solids: &[Solid]) -> Vec<(Area, &Solid)> {
        let mut order: Vec<(Area, &Solid)> =
            solids.iter().map(|solid| (self.area(solid.shape), solid)).collect();
        order.sort_by(|a, b| self.nearness(a.1.shape).total_cmp(&self.nearness(b.1.shape)));
        let hidden = |i: usize| {
            let shape = order[i].0.inflate(-SAME_LENGTH, -SAME_LENGTH);
            order[i + 1..].iter().any(|(nearer, _)| nearer.contains_box(&shape))
        };
        (0..order.len()).filter(|&i| !hidden(i)).map(|i| order[i]).collect()
    }
}

/// Sine and cosine of 30 degrees: how far to the right of the tailgate the reader of a slanting view stands.
const ROUND: (f64, f64) = (0.5, 0.866_025_403_784_438_6);
/// Sine and cosine of 25 degrees: how far above the floor.
const UP: (f64, f64) = (0.422_618_261_740_699_4, 0.906_307_787_036_65);

/// A point of the vehicle as seen from behind, from the right and from above, without perspective.
pub(super) fn slanting(p: Point3<VehicleFrame>) -> Spot {
    let across = ROUND.0 * p.x - ROUND.1 * p.y;
    let away = ROUND.1 * p.x + ROUND.0 * p.y;
    Spot::new(across, UP.0 * away + UP.1 * p.z)
}

/// The three faces of a box that the slanting view shows, each with its tone: rear, right, upper.
pub(super) fn faces(shape: Aabb) -> [(&'static str, [Spot; 4]); 3] {
    let Aabb { low, high } = shape;
    let corners = |points: [(f64, f64, f64); 4]| points.map(|(x, y, z)| slanting(Point3::new(x, y, z)));
    [
        (
            "rear",
            corners([
                (low.x, low.y, low.z),
                (low.x, high.y, low.z),
                (low.x, high.y, high.z),
                (low.x, low.y, high.z),
            ]),
        ),
        (
            "right",
            corners([
                (low.x, low.y, low.z),
                (high.x, low.y, low.z),
                (high.x, low.y, high.z),
                (low.x, low.y, high.z),
            ]),
        ),
        (
            "upper",
            corners([
                (low.x, low.y, high.z),
                (high.x, low.y, high.z),
                (high.x, high.y, high.z),
                (low.x, high.y, high.z),
            ]),
        ),
    ]
}

/// Whether `b` stands before `a` in the slanting view. Boxes apart along two axes that say different things
/// hide nothing of each other, so neither stands before the other.
fn stands_before(b: Aabb, a: Aabb) -> bool {
    let at_most = |low: f64, high: f64| low <= high + SAME_LENGTH;
    let before = [at_most(b.high.x, a.low.x), at_most(b.high.y, a.low.y), at_most(a.high.z, b.low.z)];
    let behind = [at_most(a.high.x, b.low.x), at_most(a.high.y, b.low.y), at_most(b.high.z, a.low.z)];
    before.contains(&true) && !behind.contains(&true)
}

/// The order in which boxes are painted in the slanting view, as indices: always one that no box left stands
/// behind. Boxes in a ring (each before the next) go on with the first that is left.
pub(super) fn slanting_order(shapes: &[Aabb]) -> Vec<usize> {
    let n = shapes.len();
    let mut behind_it: Vec<usize> = vec![0; n];
    let mut before_it: Vec<Vec<usize>> = vec![Vec::new(); n];
    for a in 0..n {
        for b in 0..n {
            if a != b && stands_before(shapes[b], shapes[a]) {
                before_it[a].push(b);
                behind_it[b] += 1;
            }
        }
    }
    let mut left: std::collections::BTreeSet<usize> = (0..n).collect();
    let mut free: std::collections::BTreeSet<usize> = (0..n).filter(|&i| behind_it[i] == 0).collect();
    let mut order = Vec::with_capacity(n);
    while let Some(next) = free.pop_first().or_else(|| left.first().copied()) {
        left.remove(&next);
        order.push(next);
        for &nearer in &before_it[next] {
            behind_it[nearer] = behind_it[nearer].saturating_sub(1);
            if behind_it[nearer] == 0 && left.contains(&nearer) {
                free.insert(nearer);
            }
        }
    }
    order
}

#[cfg(test)]
mod tests {
    use super::super::area;
    use super::*;

    fn cube(low: (f64, f64, f64), size: f64) -> Aabb {
        let low = Point3::new(low.0, low.1, low.2);
        Aabb { low, high: low + crate::geom::Vector3::new(size, size, size) }
    }

    fn solid(class: &'static str, shape: Aabb) -> Solid {
        Solid { class, shape, texts: Vec::new() }
    }

    #[test]
    fn the_nearer_is_painted_later_and_what_it_hides_is_left_out() {
        let near = solid("near", cube((0.0, 0.0, 0.0), 100.0));
        let far = solid("far", cube((200.0, 50.0, 0.0), 100.0));
        let hidden = solid("hidden", cube((150.0, 10.0, 10.0), 20.0));
        let classes = |look: Look| -> Vec<_> {
            let solids = [near.clone(), far.clone(), hidden.clone()];
            look.painted(&solids).iter().map(|(_, solid)| solid.class).collect()
        };
        assert_eq!(classes(Look::Tailgate), ["far", "near"]);
        assert_eq!(classes(Look::Right), ["far", "hidden", "near"]);
    }

    #[test]
    fn left_is_left_from_the_tailgate_and_the_tailgate_is_left_from_the_right() {
        let shape = Aabb { low: Point3::new(0.0, 400.0, 0.0), high: Point3::new(900.0, 500.0, 300.0) };
        assert_eq!(Look::Tailgate.area(shape), area(-500.0, 0.0, -400.0, 300.0));
        assert_eq!(Look::Above.area(shape), area(-500.0, 0.0, -400.0, 900.0));
        assert_eq!(Look::Right.area(shape), area(0.0, 0.0, 900.0, 300.0));
    }

    #[test]
    fn the_slanting_order_paints_what_stands_behind_first() {
        // On the floor, on top of it, behind it, to its right.
        let shapes = [
            cube((0.0, 0.0, 0.0), 10.0),
            cube((0.0, 0.0, 10.0), 10.0),
            cube((10.0, 0.0, 0.0), 10.0),
            cube((0.0, -10.0, 0.0), 10.0),
        ];
        let order = slanting_order(&shapes);
        let place = |i: usize| order.iter().position(|&at| at == i).unwrap();
        assert!(place(2) < place(0) && place(0) < place(1) && place(0) < place(3), "{order:?}");
    }

    #[test]
    fn a_ring_of_boxes_is_painted_all_the_same() {
        // Three bars, each lying before one and behind another.
        let bar = |low: (f64, f64, f64), high: (f64, f64, f64)| Aabb {
            low: Point3::new(low.0, low.1, low.2),
            high: Point3::new(high.0, high.1, high.2),
        };
        let shapes = [
            bar((0.0, 0.0, 0.0), (3.0, 1.0, 1.0)),
            bar((2.0, -2.0, 1.0), (3.0, 1.0, 2.0)),
            bar((0.0, -2.0, 0.5), (1.0, -0.5, 3.0)),
        ];
        let mut order = slanting_order(&shapes);
        order.sort_unstable();
        assert_eq!(order, [0, 1, 2]);
    }
}
