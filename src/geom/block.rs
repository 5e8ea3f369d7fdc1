//! A box at any angle, and how deep two of them stand in each other: by separating axes, exact.
//!
//! Two convex bodies are apart just if a plane parts them, and for boxes it is enough to try planes along a face of
//! one of them or along an edge of each (separating axis theorem).

use super::tolerance::TOUCH;
use super::{Aabb, Point3, Vector3, VehicleFrame};

/// A box at any angle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Block {
    /// Its middle.
    pub middle: Point3<VehicleFrame>,
    /// From the middle to the middles of three faces; square to each other.
    pub halves: [Vector3<VehicleFrame>; 3],
}

/// Two directions are one if the square of the sine between them is less.
const PARALLEL: f64 = 1e-12;

impl Block {
    /// The box with its sides along the axes.
    pub fn of(aabb: Aabb) -> Self {
        let half = aabb.size() / 2.0;
        let halves =
            [Vector3::new(half.x, 0.0, 0.0), Vector3::new(0.0, half.y, 0.0), Vector3::new(0.0, 0.0, half.z)];
        Block { middle: aabb.low + half, halves }
    }

    /// Its corners.
    pub fn corners(&self) -> [Point3<VehicleFrame>; 8] {
        let [a, b, c] = self.halves;
        let sign = |i: usize, bit: usize| if i & bit == 0 { -1.0 } else { 1.0 };
        std::array::from_fn(|i| self.middle + a * sign(i, 1) + b * sign(i, 2) + c * sign(i, 4))
    }

    /// mm by which one must be moved to come clear of the other, the shortest way; `None` if they are apart or
    /// only touch.
    pub fn overlap_depth(&self, other: &Block) -> Option<f64> {
        let between = other.middle - self.middle;
        let faces = self.halves.into_iter().chain(other.halves);
        let edges = self.halves.into_iter().flat_map(|a| {
            other.halves.into_iter().filter_map(move |b| {
                let across = a.cross(b);
                let lengths = a.square_length() * b.square_length();
                (across.square_length() > PARALLEL * lengths).then_some(across)
            })
        });
        let mut depth = f64::INFINITY;
        for axis in faces.chain(edges).map(Vector3::normalize) {
            depth = depth.min(self.reach(axis) + other.reach(axis) - between.dot(axis).abs());
            if depth <= TOUCH {
                return None;
            }
        }
        Some(depth)
    }

    /// mm from the middle to the farthest corner along a unit vector.
    fn reach(&self, axis: Vector3<VehicleFrame>) -> f64 {
        self.halves.iter().map(|half| half.dot(axis).abs()).sum()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sin_cos;

    fn block(size: (f64, f64, f64), middle: (f64, f64, f64), about_z: f64) -> Block {
        let (sin, cos) = sin_cos(about_z);
        let half = |x: f64, y: f64, z: f64| Vector3::new(x * cos - y * sin, x * sin + y * cos, z) / 2.0;
        Block {
            middle: middle.into(),
            halves: [half(size.0, 0.0, 0.0), half(0.0, size.1, 0.0), half(0.0, 0.0, size.2)],
        }
    }

    #[test]
    fn a_corner_on_edge_reaches_half_a_diagonal() {
        // A square of side 10 at 45 degrees reaches 10 / sqrt 2 = 7.0711 to its corner; a wall's face at x = 7 is
        // 0.0711 nearer, one at x = 7.08 is not reached.
        let turned = block((10.0, 10.0, 10.0), (0.0, 0.0, 0.0), 45.0);
        let wall = |x: f64| block((0.5, 100.0, 100.0), (x + 0.25, 0.0, 0.0), 0.0);
        assert!((turned.overlap_depth(&wall(7.0)).unwrap() - 0.071_07).abs() < 1e-4);
        assert_eq!(turned.overlap_depth(&wall(7.08)), None);
    }

    #[test]
    fn only_an_edge_across_an_edge_parts_two_rods() {
        // Rods 1 x 1 x 100, one along x, one along y, each turned about its length by 45 degrees: edge faces edge.
        // Each reaches 0.7071 towards the other. With middles 1.40 apart they are 0.0142 in each other, 1.42 apart
        // they are clear, though the boxes' own faces would part them only from 0.7071 + 0.7071 * ... on.
        let tilted = |along: Vector3<VehicleFrame>, z: f64| {
            let up = Vector3::new(0.0, 0.0, 1.0);
            let side = along.cross(up);
            Block {
                middle: Point3::new(0.0, 0.0, z),
                halves: [along * 50.0, (side + up).normalize() / 2.0, (side - up).normalize() / 2.0],
            }
        };
        let along_x = tilted(Vector3::new(1.0, 0.0, 0.0), 0.0);
        let along_y = |z| tilted(Vector3::new(0.0, 1.0, 0.0), z);
        assert!((along_x.overlap_depth(&along_y(1.40)).unwrap() - 0.014_21).abs() < 1e-4);
        assert_eq!(along_x.overlap_depth(&along_y(1.42)), None);
    }

    #[test]
    fn boxes_along_the_axes_agree_with_their_own_overlap() {
        let a = Aabb { low: Point3::new(0.0, 0.0, 0.0), high: Point3::new(100.0, 50.0, 0.5) };
        let b = Aabb { low: Point3::new(98.0, 10.0, 0.2), high: Point3::new(200.0, 20.0, 9.0) };
        assert!((Block::of(a).overlap_depth(&Block::of(b)).unwrap() - 0.3).abs() < 1e-9);
        assert!((a.overlap(b) - 0.3).abs() < 1e-9);
    }
}
