//! Plane and space geometry: frames, closed paths with arcs, placements, plates.
//!
//! Units: millimetres. Sides and signs, for everything in this crate:
//! - vehicle frame: x forward, y left, z up (axes of ISO 8855); origin at the bay floor, centreline, rear edge;
//! - panel frame: u along the panel's length, v across, w out of face A; face A is `w = thickness`, face B `w = 0`;
//! - sheet frame: x along the sheet, y across, origin at the lower left corner;
//! - outlines run counter-clockwise seen from face A (positive area), openings clockwise (negative area).
//!
//! Nothing here knows a panel's purpose, a bolt or a file format.

mod block;
mod frame;
pub mod number;
mod path;
mod plate;
mod polygon;
mod profile;
mod region;
pub mod rounded;
mod side;
pub mod stretches;
mod swing;
pub mod tolerance;
mod triangles;

pub use block::Block;
pub use frame::{Axes, PanelFrame, Placement, SheetFrame, SheetPlacement, VehicleFrame, sin_cos};
pub use path::{Arc, Path, Vertex};
pub use plate::{Aabb, Plate, overlap_depth};
pub use polygon::{material_less, seen_from_afar, within_rectangle};
pub use profile::{FAR, Profile, Relief};
pub use region::{Bounds, Contours, Region, apart, bounds_of};
pub use side::Side;
pub use swing::Swing;
pub use triangles::triangles_inside;

/// A point in space, in the frame `F`.
pub type Point3<F> = euclid::Point3D<f64, F>;
/// A direction or a difference of points in space, in the frame `F`.
pub type Vector3<F> = euclid::Vector3D<f64, F>;
/// A point in the plane of the frame `F`.
pub type Point2<F> = euclid::Point2D<f64, F>;
/// A difference of points in the plane of the frame `F`.
pub type Vector2<F> = euclid::Vector2D<f64, F>;

/// A length snapped to the grid on which every derived length stands (whole micrometres), so that sums of
/// them, printed, add up.
pub fn snap(length: f64) -> f64 {
    (length * 1000.0).round() / 1000.0
}
