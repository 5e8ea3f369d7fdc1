//! A box that turns about an axis: where it stands at an angle, and whether it strikes a box on its way there.
//!
//! Exact, without steps. Seen along the axis both are rectangles. If they are apart at first, the first touch has a
//! corner of one on the other's rim, so it is enough to ask, for each corner, whether its arc of a circle meets the
//! other rectangle: an intersection of a circle with four straight edges, in closed form.

use super::tolerance::TOUCH;
use super::{Aabb, Block, Point3, Vector3, VehicleFrame, sin_cos};

/// A turn about an axis along x, y or z.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Swing {
    /// 0 for an axis along x, 1 along y, 2 along z.
    pub axis: usize,
    /// A place on the axis.
    pub pivot: Point3<VehicleFrame>,
    /// Degrees, from -360 to 360; positive turns y to z, z to x, x to y.
    pub degrees: f64,
}

/// A place or direction in the plane that one sees along the axis, from the pivot.
type Flat = [f64; 2];

/// A rectangle in that plane.
#[derive(Clone, Copy)]
struct Rectangle {
    low: Flat,
    high: Flat,
}

impl Swing {
    /// The box after the turn.
    pub fn turned(&self, shut: Aabb) -> Block {
        let (sin, cos) = sin_cos(self.degrees);
        let (a, b) = self.plane();
        let turn = |v: Vector3<VehicleFrame>| {
            let from = v.to_array();
            let mut to = from;
            (to[a], to[b]) = (from[a] * cos - from[b] * sin, from[a] * sin + from[b] * cos);
            Vector3::from(to)
        };
        let block = Block::of(shut);
        Block { middle: self.pivot + turn(block.middle - self.pivot), halves: block.halves.map(turn) }
    }

    /// A place after the turn.
    pub fn point(&self, p: Point3<VehicleFrame>) -> Point3<VehicleFrame> {
        let (sin, cos) = sin_cos(self.degrees);
        let (a, b) = self.plane();
        let from = (p - self.pivot).to_array();
        let mut to = from;
        (to[a], to[b]) = (from[a] * cos - from[b] * sin, from[a] * sin + from[b] * cos);
        self.pivot + Vector3::from(to)
    }

    /// The box around all that the box sweeps: its corners' arcs, and where they go farthest.
    pub fn swept(&self, shut: Aabb) -> Aabb {
        let (a, b) = self.plane();
        let seen = self.seen(shut);
        let quarter = [[1.0, 0.0], [0.0, 1.0], [-1.0, 0.0], [0.0, -1.0]];
        let farthest = seen.corners().into_iter().flat_map(|corner| {
            let radius = (corner[0] * corner[0] + corner[1] * corner[1]).sqrt();
            let tops = quarter.map(|way| way.map(|part| part * radius));
            tops.into_iter().filter(move |top| within_turn(corner, *top, self.degrees))
        });
        let farthest = farthest.map(|flat| {
            let mut place = self.pivot.to_array();
            (place[a], place[b]) = (place[a] + flat[0], place[b] + flat[1]);
            place[self.axis] = shut.low.to_array()[self.axis];
            Point3::from(place)
        });
        let turned = self.turned(shut).corners();
        Aabb::around(farthest.chain(turned).chain([shut.low, shut.high]))
    }

    /// Whether the box, turning, strikes the other, by more than a touch.
    pub fn strikes(&self, shut: Aabb, other: Aabb) -> bool {
        let along = |aabb: Aabb| (aabb.low.to_array()[self.axis], aabb.high.to_array()[self.axis]);
        let (own, its) = (along(shut), along(other));
        if own.1.min(its.1) - own.0.max(its.0) <= TOUCH {
            return false;
        }
        let (moving, still) = (self.seen(shut), self.seen(other).shrunk());
        still.low[0] < still.high[0]
            && still.low[1] < still.high[1]
            && (moving.meets(still)
                || moving.corners().into_iter().any(|corner| still.on_way(corner, self.degrees))
                || still.corners().into_iter().any(|corner| moving.on_way(corner, -self.degrees)))
    }

    /// The two other axes, so that a positive turn leads from the first to the second.
    fn plane(&self) -> (usize, usize) {
        ((self.axis + 1) % 3, (self.axis + 2) % 3)
    }

    fn seen(&self, aabb: Aabb) -> Rectangle {
        let (a, b) = self.plane();
        let flat = |p: Point3<VehicleFrame>| {
            let d = (p - self.pivot).to_array();
            [d[a], d[b]]
        };
        Rectangle { low: flat(aabb.low), high: flat(aabb.high) }
    }
}

impl Rectangle {
    /// Less what a touch may be, all round.
    fn shrunk(self) -> Self {
        Rectangle { low: self.low.map(|s| s + TOUCH), high: self.high.map(|s| s - TOUCH) }
    }

    fn corners(self) -> [Flat; 4] {
        let (low, high) = (self.low, self.high);
        [low, [high[0], low[1]], high, [low[0], high[1]]]
    }

    fn holds(self, p: Flat) -> bool {
        (0..2).all(|i| self.low[i] <= p[i] && p[i] <= self.high[i])
    }

    fn meets(self, other: Rectangle) -> bool {
        (0..2).all(|i| self.low[i] <= other.high[i] && other.low[i] <= self.high[i])
    }

    /// Whether a place, turned about the pivot by so many degrees, comes into the rectangle.
    fn on_way(self, start: Flat, degrees: f64) -> bool {
        if self.holds(start) {
            return true;
        }
        let square = start[0] * start[0] + start[1] * start[1];
        // From outside it comes in over an edge: a place where the circle crosses that edge's line.
        (0..2).any(|i| {
            [self.low[i], self.high[i]].into_iter().any(|line| {
                let rest = square - line * line;
                let other = if rest >= 0.0 { rest.sqrt() } else { return false };
                [other, -other].into_iter().any(|across| {
                    let mut place = [line, across];
                    if i == 1 {
                        place.reverse();
                    }
                    let on_edge = self.low[1 - i] <= across && across <= self.high[1 - i];
                    on_edge && within_turn(start, place, degrees)
                })
            })
        })
    }
}

/// Whether a turn of `start` by so many degrees passes `place`, at the same distance from the pivot.
fn within_turn(start: Flat, place: Flat, degrees: f64) -> bool {
    let ahead = start[0] * place[0] + start[1] * place[1];
    let aside = (start[0] * place[1] - start[1] * place[0]) * degrees.signum();
    let (sin, cos) = sin_cos(degrees.abs());
    let before_end = ahead * sin - aside * cos >= 0.0;
    match degrees.abs() {
        full if full >= 360.0 => true,
        more if more > 180.0 => aside >= 0.0 || before_end,
        _ => aside >= 0.0 && before_end,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn aabb(low: (f64, f64, f64), high: (f64, f64, f64)) -> Aabb {
        Aabb { low: low.into(), high: high.into() }
    }

    /// A door 692 wide and 90 thick, hinged on the left at y = 692, that opens rearward (x < 0).
    fn door(degrees: f64) -> (Swing, Aabb) {
        let swing = Swing { axis: 2, pivot: Point3::new(0.0, 692.0, 0.0), degrees: -degrees };
        (swing, aabb((-90.0, 0.0, 0.0), (0.0, 692.0, 1240.0)))
    }

    #[test]
    fn a_door_at_a_right_angle_stands_beside_its_hinge() {
        let (swing, shut) = door(90.0);
        let block = swing.turned(shut);
        // Inner face along y = 692, from x = 0 to -692; 90 thick away from the opening.
        let all = Aabb::around((0..8).map(|i| {
            let sign = |bit: usize| if i >> bit & 1 == 1 { 1.0 } else { -1.0 };
            block.middle + block.halves[0] * sign(0) + block.halves[1] * sign(1) + block.halves[2] * sign(2)
        }));
        assert_eq!(all, aabb((-692.0, 692.0, 0.0), (0.0, 782.0, 1240.0)));
    }

    #[test]
    fn a_rod_of_half_a_millimetre_is_met_on_the_way() {
        // The outer corner of the door's free edge lies sqrt(692^2 + 90^2) = 697.828 from the hinge; half-way, at 45
        // degrees, that circle passes x = -493.439 at y = 692 - 493.439. A rod there is met; one beyond it is not.
        let (swing, shut) = door(90.0);
        let rod = |beyond: f64| {
            let (x, y) = (-493.439 - beyond, 692.0 - 493.439 - beyond);
            aabb((x - 0.25, y - 0.25, 100.0), (x + 0.25, y + 0.25, 101.0))
        };
        assert!(swing.strikes(shut, rod(0.0)));
        assert!(!swing.strikes(shut, rod(0.3)));
        // Higher than the door, it is passed under.
        let mut high = rod(0.0);
        (high.low.z, high.high.z) = (1240.0, 1241.0);
        assert!(!swing.strikes(shut, high));
    }

    #[test]
    fn a_turn_ends_where_it_ends() {
        // At 30 degrees the free edge's inner corner is at x = -692 sin 30 = -346; a sheet of 0.5 standing across at
        // x = -400 to -399.5 is met only by the outer corner: 692 sin a + 90 cos a = 399.5 at a = 27.5 degrees.
        let sheet = aabb((-400.0, 0.0, 0.0), (-399.5, 300.0, 10.0));
        let (swing, shut) = door(30.0);
        assert!(swing.strikes(shut, sheet));
        let (swing, _) = door(27.0);
        assert!(!swing.strikes(shut, sheet));
    }

    #[test]
    fn a_half_turn_and_more_passes_all_on_its_way() {
        let beside = aabb((-10.0, 1200.0, 0.0), (-9.5, 1201.0, 10.0));
        // Seen from the hinge it lies 508 along the body and 10 off it, 1.1 degrees short of a half turn. The outer
        // face, 90 ahead of the inner one, is there when 508 sin(178.9 - a) = 90: at a = 168.7 degrees.
        let (swing, shut) = door(168.0);
        assert!(!swing.strikes(shut, beside));
        let (swing, _) = door(169.0);
        assert!(swing.strikes(shut, beside));
        let (swing, _) = door(190.0);
        assert!(swing.strikes(shut, beside));
        let (swing, _) = door(270.0);
        assert!(swing.strikes(shut, beside));
    }

    #[test]
    fn a_lid_needs_its_own_width_above_it() {
        // A lid 380 wide, 12 thick, hinged at its lower edge at the back, opened by 90 degrees: it sweeps up to its
        // corner's circle, sqrt(380^2 + 12^2) = 380.189. A shelf 340 above it is struck, one 380.2 above is not.
        let swing = Swing { axis: 1, pivot: Point3::new(0.0, 0.0, 0.0), degrees: 90.0 };
        let lid = aabb((-380.0, 0.0, 0.0), (0.0, 500.0, 12.0));
        let shelf = |z: f64| aabb((-600.0, 0.0, z), (100.0, 500.0, z + 0.5));
        assert!(swing.strikes(lid, shelf(340.0)));
        assert!(swing.strikes(lid, shelf(380.1)));
        assert!(!swing.strikes(lid, shelf(380.2)));
    }

    proptest! {
        /// A box that meets the mover at any angle of the turn is struck: never fewer than steps find.
        #[test]
        fn steps_find_nothing_more(
            degrees in -300.0..300.0_f64, share in 0.0..1.0_f64,
            x in -900.0..900.0_f64, y in -900.0..900.0_f64, size in 0.5..200.0_f64,
        ) {
            let (mut swing, shut) = door(0.0);
            let other = aabb((x, y + 692.0, 0.0), (x + size, y + 692.0 + size, 10.0));
            swing.degrees = degrees;
            let whole = swing.strikes(shut, other);
            swing.degrees = degrees * share;
            let met = swing.turned(shut).overlap_depth(&Block::of(other)).is_some_and(|depth| depth > 0.05);
            prop_assert!(whole || !met);
        }

        /// What is struck is met at some angle of a fine row of steps, if it is not only grazed.
        #[test]
        fn what_is_struck_is_met_at_some_step(
            degrees in -300.0..300.0_f64, x in -900.0..900.0_f64, y in -900.0..900.0_f64,
        ) {
            let (mut swing, shut) = door(0.0);
            let other = aabb((x, y + 692.0, 0.0), (x + 100.0, y + 792.0, 10.0));
            let larger = aabb((x - 3.0, y + 689.0, 0.0), (x + 103.0, y + 795.0, 10.0));
            swing.degrees = degrees;
            if swing.strikes(shut, other) {
                let met = (0..=600).any(|i| {
                    swing.degrees = degrees * f64::from(i) / 600.0;
                    swing.turned(shut).overlap_depth(&Block::of(larger)).is_some()
                });
                prop_assert!(met);
            }
        }
    }
}
