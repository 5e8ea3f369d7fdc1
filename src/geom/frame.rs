//! Frames as types, and the rigid motions that lead from one to another.
//!
//! A point in the wrong frame does not compile; only a [`Placement`] (panel to vehicle) or a
//! [`SheetPlacement`] (panel to sheet) turns one into another.

use super::{Path, Point2, Point3, Vector3, Vertex};

/// Tag of the vehicle frame: x forward, y left, z up; origin at the bay floor, centreline, rear edge.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum VehicleFrame {}

/// Tag of a panel's own frame: u along its length, v across, w out of face A.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PanelFrame {}

/// Tag of a stock sheet's frame: x along its length, y across, origin at the lower left corner.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SheetFrame {}

/// The directions of a panel's u, v and w in the vehicle frame: orthonormal and right-handed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Axes {
    /// Direction of the panel's length.
    pub u: Vector3<VehicleFrame>,
    /// Direction across the panel.
    pub v: Vector3<VehicleFrame>,
    /// Direction out of face A.
    pub w: Vector3<VehicleFrame>,
}

impl Axes {
    /// The axes with the given u and w; v completes the right-handed set.
    pub fn from_length_and_face(u: Vector3<VehicleFrame>, w: Vector3<VehicleFrame>) -> Self {
        debug_assert!(u.dot(w).abs() < 1e-12, "the face direction must stand square on the length");
        Axes { u, v: w.cross(u), w }
    }
}

/// Where a panel stands in the vehicle: a rigid motion from the panel frame to the vehicle frame.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Placement {
    /// The panel's origin (u = v = w = 0) in the vehicle frame.
    pub origin: Point3<VehicleFrame>,
    /// The panel's directions in the vehicle frame.
    pub axes: Axes,
}

impl Placement {
    /// A point of the panel, in the vehicle frame.
    pub fn to_vehicle(self, p: Point3<PanelFrame>) -> Point3<VehicleFrame> {
        self.origin + self.axes.u * p.x + self.axes.v * p.y + self.axes.w * p.z
    }

    /// A point of the vehicle, in the panel frame.
    pub fn to_panel(self, p: Point3<VehicleFrame>) -> Point3<PanelFrame> {
        let d = p - self.origin;
        Point3::new(d.dot(self.axes.u), d.dot(self.axes.v), d.dot(self.axes.w))
    }

    /// A direction of the vehicle, in the panel frame.
    pub fn direction_to_panel(self, d: Vector3<VehicleFrame>) -> Vector3<PanelFrame> {
        Vector3::new(d.dot(self.axes.u), d.dot(self.axes.v), d.dot(self.axes.w))
    }

    /// The 4x4 matrix of the motion, row-major: applied to the column (u, v, w, 1) it gives (x, y, z, 1).
    pub fn matrix(self) -> [[f64; 4]; 4] {
        let Axes { u, v, w } = self.axes;
        let o = self.origin;
        [[u.x, v.x, w.x, o.x], [u.y, v.y, w.y, o.y], [u.z, v.z, w.z, o.z], [0.0, 0.0, 0.0, 1.0]]
    }
}

/// Where a panel lies on a sheet: turned over about its v axis if `flipped`, then turned counter-clockwise by
/// `angle`, then moved by (`x`, `y`). So (`x`, `y`) is where the panel's origin comes to lie.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SheetPlacement {
    /// mm along the sheet.
    pub x: f64,
    /// mm across the sheet.
    pub y: f64,
    /// Degrees, counter-clockwise.
    pub angle: f64,
    /// Face B up. A panel with a face that must be up is never flipped.
    pub flipped: bool,
}

impl SheetPlacement {
    /// A point of the panel's plane, on the sheet.
    pub fn to_sheet(self, p: Point2<PanelFrame>) -> Point2<SheetFrame> {
        let u = if self.flipped { -p.x } else { p.x };
        let (sin, cos) = sin_cos(self.angle);
        Point2::new(self.x + u * cos - p.y * sin, self.y + u * sin + p.y * cos)
    }

    /// A closed path of the panel, on the sheet. Flipping turns arcs the other way; the order of the vertices
    /// is reversed then, so that outlines stay counter-clockwise.
    pub fn path_to_sheet(self, path: &Path<PanelFrame>) -> Path<SheetFrame> {
        let moved = Path::new(
            path.vertices()
                .iter()
                .map(|v| Vertex {
                    point: self.to_sheet(v.point),
                    bulge: if self.flipped { -v.bulge } else { v.bulge },
                })
                .collect(),
        );
        if self.flipped { moved.reversed() } else { moved }
    }
}

/// Sine and cosine of an angle in degrees, exact for quarter turns (and so the same on every machine).
pub fn sin_cos(degrees: f64) -> (f64, f64) {
    match degrees.rem_euclid(360.0) {
        0.0 => (0.0, 1.0),
        90.0 => (1.0, 0.0),
        180.0 => (0.0, -1.0),
        270.0 => (-1.0, 0.0),
        other => other.to_radians().sin_cos(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_placement_and_its_inverse_cancel() {
        let axes = Axes::from_length_and_face(Vector3::new(0.0, 1.0, 0.0), Vector3::new(0.0, 0.0, -1.0));
        let placement = Placement { origin: Point3::new(10.0, -20.0, 30.0), axes };
        let p = Point3::new(1.0, 2.0, 3.0);
        assert_eq!(placement.to_panel(placement.to_vehicle(p)), p);
        // w points down: face A of a base that is drilled from below.
        assert!((placement.to_vehicle(Point3::new(0.0, 0.0, 12.0)).z - 18.0).abs() < 1e-12);
    }

    #[test]
    fn a_quarter_turn_is_exact() {
        let placement = SheetPlacement { x: 100.0, y: 50.0, angle: 90.0, flipped: false };
        assert_eq!(placement.to_sheet(Point2::new(30.0, 10.0)), Point2::new(90.0, 80.0));
    }

    #[test]
    fn a_flipped_outline_stays_counter_clockwise() {
        let path: Path<PanelFrame> = Path::rectangle(0.0, 0.0, 30.0, 10.0);
        let placement = SheetPlacement { x: 0.0, y: 0.0, angle: 0.0, flipped: true };
        assert!((placement.path_to_sheet(&path).area() - 300.0).abs() < 1e-9);
    }
}
