//! Straight lines from corner to corner, each corner with a radius: moved sideways, and closed to a path.
//!
//! Lengths in mm. Moving is exact: lines stay parallel, and an arc keeps its centre, since the corners of the moved
//! lines are rounded by the radius less, or more, the distance. What does not survive the move is an error, never
//! left out in silence.

use super::tolerance::SAME_LENGTH;
use super::{Path, Point2, Vector2, Vertex};

/// A corner of a line.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Corner<F> {
    /// Where the straight pieces beside it meet.
    pub point: Point2<F>,
    /// mm. Radius of the arc that touches both; 0 for a sharp corner.
    pub radius: f64,
}

/// A piece of a line, by the index of the corner that it begins at, that is too short for the arcs at its ends, or
/// runs back on the one before it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Lost(pub usize);

impl<F: Copy> Corner<F> {
    /// A sharp corner.
    pub fn sharp(point: Point2<F>) -> Self {
        Corner { point, radius: 0.0 }
    }

    /// Angle in radians by which the line turns here, to the left positive.
    fn turn(self, before: Point2<F>, after: Point2<F>) -> f64 {
        let (into, out) = (self.point - before, after - self.point);
        into.cross(out).atan2(into.dot(out))
    }

    /// mm from the corner to where its arc begins and ends: the tangent of half the turn, times the radius.
    fn reach(self, before: Point2<F>, after: Point2<F>) -> f64 {
        self.radius * (self.turn(before, after) / 2.0).tan().abs()
    }
}

/// An open line moved `by` mm to its right. Right turns get tighter, left turns wider, and left turns not tighter than
/// `least` mm, since what they leave is cut by a round tool. The ends move square to their pieces.
///
/// # Errors
///
/// What the move destroys: a side or an arc that is gone.
pub fn moved_right<F: Copy>(line: &[Corner<F>], by: f64, least: f64) -> Result<Vec<Corner<F>>, Lost> {
    let rights: Vec<Vector2<F>> = line
        .windows(2)
        .map(|pair| {
            let along = (pair[1].point - pair[0].point).normalize();
            Vector2::new(along.y, -along.x)
        })
        .collect();
    let mut moved = Vec::with_capacity(line.len());
    for (i, corner) in line.iter().enumerate() {
        let (before, after) = (rights.get(i.wrapping_sub(1)), rights.get(i));
        let (Some(before), Some(after)) = (before, after) else {
            let only = before.or(after).copied().unwrap_or_else(Vector2::zero);
            moved.push(Corner { point: corner.point + only * by, radius: (corner.radius - by).max(0.0) });
            continue;
        };
        let bisected = 1.0 + before.dot(*after);
        if bisected < 1e-6 {
            return Err(Lost(i));
        }
        // Turning left, the right-hand normals turn left too.
        let left = before.cross(*after) > 0.0;
        let radius = if left { (corner.radius + by).max(least) } else { (corner.radius - by).max(0.0) };
        moved.push(Corner { point: corner.point + (*before + *after) * (by / bisected), radius });
    }
    for (i, (old, new)) in line.windows(2).zip(moved.windows(2)).enumerate() {
        if (old[1].point - old[0].point).dot(new[1].point - new[0].point) <= 0.0 {
            return Err(Lost(i));
        }
    }
    Ok(moved)
}

/// A slot, counter-clockwise: what a circle of `radius` mm sweeps that is moved by `half` either way along both axes.
///
/// # Errors
///
/// A slot too short for its round ends.
pub fn slot<F: Copy>(centre: Point2<F>, half: Vector2<F>, radius: f64) -> Result<Path<F>, Lost> {
    let corner = |x: f64, y: f64| Corner {
        point: centre + Vector2::new(x * (half.x + radius), y * (half.y + radius)),
        radius,
    };
    closed(&[corner(-1.0, -1.0), corner(1.0, -1.0), corner(1.0, 1.0), corner(-1.0, 1.0)])
}

/// The closed path along straight lines from corner to corner, each corner rounded by its radius.
///
/// # Errors
///
/// A side too short for its corners' arcs.
pub fn closed<F: Copy>(corners: &[Corner<F>]) -> Result<Path<F>, Lost> {
    let n = corners.len();
    let around = |i: usize| (corners[(i + n - 1) % n].point, corners[(i + 1) % n].point);
    let reach = |i: usize| corners[i].reach(around(i).0, around(i).1);
    let mut vertices = Vec::with_capacity(2 * n);
    for (i, corner) in corners.iter().enumerate() {
        let (before, after) = around(i);
        let own = reach(i);
        if (after - corner.point).length() + SAME_LENGTH < own + reach((i + 1) % n) {
            return Err(Lost(i));
        }
        if own <= SAME_LENGTH {
            vertices.push(Vertex { point: corner.point, bulge: 0.0 });
            continue;
        }
        let start = corner.point + (before - corner.point).normalize() * own;
        let bulge = (corner.turn(before, after) / 4.0).tan();
        vertices.push(Vertex { point: start, bulge });
        vertices.push(Vertex { point: corner.point + (after - corner.point).normalize() * own, bulge: 0.0 });
    }
    // Where two arcs meet without a straight piece between them, one vertex is enough.
    let n = vertices.len();
    let straight = |i: usize| {
        vertices[i].bulge != 0.0 || {
            let next = vertices[(i + 1) % n];
            (next.point - vertices[i].point).length() >= SAME_LENGTH
        }
    };
    let kept = (0..n).filter(|&i| straight(i)).map(|i| vertices[i]).collect();
    Ok(Path::new(kept))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Arc, VehicleFrame};

    fn corner(x: f64, y: f64, radius: f64) -> Corner<VehicleFrame> {
        Corner { point: Point2::new(x, y), radius }
    }

    #[test]
    fn a_right_turn_gets_tighter_about_the_same_centre() {
        // East, then south: the material is on the right. Arc of 30 about (70, 70); moved by 4 an arc of 26 about it.
        let line = [corner(0.0, 100.0, 0.0), corner(100.0, 100.0, 30.0), corner(100.0, 0.0, 0.0)];
        let moved = moved_right(&line, 4.0, 3.0).unwrap();
        assert_eq!(moved, [corner(0.0, 96.0, 0.0), corner(96.0, 96.0, 26.0), corner(96.0, 0.0, 0.0)]);
        let mut ring = moved.clone();
        ring.push(corner(0.0, 0.0, 0.0));
        let path = closed(&ring).unwrap();
        let arcs: Vec<_> = path.sides().filter(|side| side.2 != 0.0).collect();
        let [(a, b, bulge)] = arcs[..] else { panic!("{arcs:?}") };
        let arc = Arc::new(a, b, bulge);
        assert!((arc.centre - Point2::new(70.0, 70.0)).length() < 1e-9 && (arc.radius - 26.0).abs() < 1e-9);
        // Clockwise, less what the round corner takes: (1 - pi/4) r^2.
        let area = 96.0 * 96.0 - (1.0 - std::f64::consts::FRAC_PI_4) * 26.0 * 26.0;
        assert!((path.area() + area).abs() < 1e-6, "{}", path.area());
    }

    #[test]
    fn a_left_turn_gets_wider_and_not_tighter_than_the_tool() {
        let line = |radius| [corner(0.0, 0.0, 0.0), corner(100.0, 0.0, radius), corner(100.0, 100.0, 0.0)];
        let radius = |line: &[Corner<VehicleFrame>], by| moved_right(line, by, 3.0).unwrap()[1];
        assert_eq!(radius(&line(20.0), 4.0), corner(104.0, -4.0, 24.0));
        // A sharp one keeps its distance all round: an arc of 4 about the corner.
        assert_eq!(radius(&line(0.0), 4.0), corner(104.0, -4.0, 4.0));
        assert_eq!(radius(&line(0.0), 1.0), corner(101.0, -1.0, 3.0));
    }

    #[test]
    fn what_the_move_takes_away_is_said() {
        // A step of 5 between two right turns is gone when both its neighbours move by 4 towards each other.
        let line = [
            corner(0.0, 50.0, 0.0),
            corner(60.0, 50.0, 0.0),
            corner(60.0, 45.0, 0.0),
            corner(20.0, 45.0, 0.0),
        ];
        assert_eq!(moved_right(&line, 4.0, 3.0), Err(Lost(1)));
        assert!(moved_right(&line, 2.0, 3.0).is_ok());
        // Straight back.
        let line = [corner(0.0, 0.0, 0.0), corner(60.0, 0.0, 0.0), corner(10.0, 0.0, 0.0)];
        assert_eq!(moved_right(&line, 4.0, 3.0), Err(Lost(1)));
        // Two arcs that need more than the piece between them: 2 x 30 on 50.
        let ring = [
            corner(0.0, 0.0, 0.0),
            corner(50.0, 0.0, 30.0),
            corner(50.0, 50.0, 30.0),
            corner(0.0, 50.0, 0.0),
        ];
        assert_eq!(closed(&ring), Err(Lost(1)));
    }
}
