//! Plain transforms of the plane: mirroring, turning, scaling alike in all directions, moving. They keep arcs arcs.

use crate::geom::{PanelFrame, Point2};

/// The transform: mirrored about the x axis if so, then turned and scaled by (`a`, `b`), then moved.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Motion {
    a: f64,
    b: f64,
    mirrored: bool,
    x: f64,
    y: f64,
}

impl Motion {
    /// Scaling about the origin; a negative `x` turns by half a turn.
    pub(super) fn scaling(x: f64, mirrored: bool) -> Self {
        Motion { a: x, b: 0.0, mirrored, x: 0.0, y: 0.0 }
    }

    /// Moving.
    pub(super) fn moving(x: f64, y: f64) -> Self {
        Motion { a: 1.0, b: 0.0, mirrored: false, x, y }
    }

    /// Turning about the origin, degrees counter-clockwise. Quarter turns are exact.
    pub(super) fn turning(degrees: f64) -> Self {
        let (a, b) = match degrees.rem_euclid(360.0) {
            0.0 => (1.0, 0.0),
            90.0 => (0.0, 1.0),
            180.0 => (-1.0, 0.0),
            270.0 => (0.0, -1.0),
            other => (other.to_radians().cos(), other.to_radians().sin()),
        };
        Motion { a, b, mirrored: false, x: 0.0, y: 0.0 }
    }

    /// What drawing on the underside of the plane (extrusion 0, 0, -1) comes to: x runs the other way (arbitrary
    /// axis algorithm of the DXF reference; from memory).
    pub(super) fn underside() -> Self {
        Motion::scaling(-1.0, true)
    }

    /// This transform after `first`.
    pub(super) fn after(self, first: Motion) -> Self {
        let (x, y) = self.apply(first.x, first.y);
        let b = if self.mirrored { -first.b } else { first.b };
        Motion {
            a: self.a * first.a - self.b * b,
            b: self.b * first.a + self.a * b,
            mirrored: self.mirrored != first.mirrored,
            x,
            y,
        }
    }

    /// A point moved.
    pub(super) fn point(self, x: f64, y: f64) -> Point2<PanelFrame> {
        let (x, y) = self.apply(x, y);
        Point2::new(x, y)
    }

    /// A bulge as it is after the transform.
    pub(super) fn bulge(self, bulge: f64) -> f64 {
        if self.mirrored { -bulge } else { bulge }
    }

    /// By how much lengths grow.
    pub(super) fn scale(self) -> f64 {
        self.a.hypot(self.b)
    }

    fn apply(self, x: f64, y: f64) -> (f64, f64) {
        let y = if self.mirrored { -y } else { y };
        (self.a * x - self.b * y + self.x, self.b * x + self.a * y + self.y)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_after_the_other_is_both() {
        let motions = [
            Motion::scaling(-2.0, true),
            Motion::moving(3.0, -1.0),
            Motion::turning(30.0),
            Motion::turning(90.0),
            Motion::underside(),
        ];
        for first in motions {
            for second in motions {
                let between = first.point(0.7, 1.9);
                let expected = second.point(between.x, between.y);
                assert!(
                    (second.after(first).point(0.7, 1.9) - expected).length() < 1e-12,
                    "{first:?} {second:?}"
                );
            }
        }
        assert_eq!(Motion::underside().point(2.0, 3.0), Point2::new(-2.0, 3.0));
    }
}
