//! A plate in space: a plane region with a thickness and a placement; boxes are plates too.
//!
//! Overlap is decided exactly for plates whose faces are parallel or square to each other, which is all that
//! an upright kit is made of.

use super::polygon::{clipped, overlap_area, ring_of, to_polygon};
use super::tolerance::{CHORD, TOUCH};
use super::{PanelFrame, Path, Placement, Point2, Point3, Vector3, VehicleFrame, apart, bounds_of};
use geo::{Area, BooleanOps, IsConvex, MultiPolygon, Polygon};

/// An axis-aligned box in the vehicle frame.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Aabb {
    /// Corner with the least coordinates.
    pub low: Point3<VehicleFrame>,
    /// Corner with the greatest coordinates.
    pub high: Point3<VehicleFrame>,
}

impl Aabb {
    /// The smallest box around some points; empty (low above high) for none.
    pub fn around(points: impl IntoIterator<Item = Point3<VehicleFrame>>) -> Self {
        let mut aabb = Aabb {
            low: Point3::new(f64::INFINITY, f64::INFINITY, f64::INFINITY),
            high: Point3::new(f64::NEG_INFINITY, f64::NEG_INFINITY, f64::NEG_INFINITY),
        };
        for p in points {
            aabb.low = aabb.low.min(p);
            aabb.high = aabb.high.max(p);
        }
        aabb
    }

    /// The smallest box around two boxes.
    #[must_use]
    pub fn joined(self, other: Aabb) -> Aabb {
        Aabb { low: self.low.min(other.low), high: self.high.max(other.high) }
    }

    /// The box together with its copy moved by `travel`: all that a box sweeps on a straight way along an axis.
    #[must_use]
    pub fn swept(self, travel: Vector3<VehicleFrame>) -> Aabb {
        self.joined(Aabb { low: self.low + travel, high: self.high + travel })
    }

    /// How far two boxes reach into each other along the axis where they do so least, mm; negative or zero if
    /// they are apart or only touch.
    #[inline]
    pub fn overlap(self, other: Aabb) -> f64 {
        let reach = self.high.min(other.high) - self.low.max(other.low);
        reach.x.min(reach.y).min(reach.z)
    }

    /// Whether a straight line from one place to another passes through it by more than it takes to touch it.
    pub fn is_crossed_by(self, from: Point3<VehicleFrame>, to: Point3<VehicleFrame>) -> bool {
        let (from, to) = (from.to_array(), to.to_array());
        let (low, high) = (self.low.to_array(), self.high.to_array());
        let mut range = (0.0_f64, 1.0_f64);
        for axis in 0..3 {
            let (low, high) = (low[axis] + TOUCH, high[axis] - TOUCH);
            let way = to[axis] - from[axis];
            if way.abs() < TOUCH {
                if from[axis] <= low || from[axis] >= high {
                    return false;
                }
            } else {
                let (a, b) = ((low - from[axis]) / way, (high - from[axis]) / way);
                range = (range.0.max(a.min(b)), range.1.min(a.max(b)));
            }
        }
        range.0 < range.1
    }

    /// From where to where it reaches along a unit vector on one of the axes, mm.
    pub fn reach(self, way: Vector3<VehicleFrame>) -> (f64, f64) {
        let (a, b) = (self.low.to_vector().dot(way), self.high.to_vector().dot(way));
        (a.min(b), a.max(b))
    }

    /// Size along x, y and z, mm.
    pub fn size(self) -> Vector3<VehicleFrame> {
        self.high - self.low
    }
}

/// A plane region with a thickness, placed in the vehicle.
#[derive(Clone, Debug, PartialEq)]
pub struct Plate {
    /// Outer contour, counter-clockwise seen from face A.
    pub outline: Path<PanelFrame>,
    /// Through openings, clockwise.
    pub openings: Vec<Path<PanelFrame>>,
    /// mm.
    pub thickness: f64,
    /// Where it stands.
    pub placement: Placement,
}

impl Plate {
    /// The plate that fills an axis-aligned box, lying flat.
    pub fn filling(aabb: Aabb) -> Self {
        let size = aabb.size();
        Plate {
            outline: Path::rectangle(0.0, 0.0, size.x, size.y),
            openings: Vec::new(),
            thickness: size.z,
            placement: Placement {
                origin: aabb.low,
                axes: super::Axes::from_length_and_face(
                    Vector3::new(1.0, 0.0, 0.0),
                    Vector3::new(0.0, 0.0, 1.0),
                ),
            },
        }
    }

    /// The box around the plate, openings not considered.
    pub fn aabb(&self) -> Aabb {
        let (low, high) = self.outline.bounds();
        let corners = [(low.x, low.y), (high.x, low.y), (high.x, high.y), (low.x, high.y)];
        Aabb::around(corners.iter().flat_map(|&(u, v)| {
            [0.0, self.thickness].map(|w| self.placement.to_vehicle(Point3::new(u, v, w)))
        }))
    }

    fn polygon(&self) -> Polygon<f64> {
        to_polygon(&self.outline, &self.openings, CHORD)
    }
}

/// How far two plates reach into each other, mm (the least extent of what their boxes share), or `None` if
/// their solids are apart or only touch. Openings count: a tab inside a slot is no overlap.
pub fn overlap_depth(a: &Plate, b: &Plate) -> Option<f64> {
    let (box_a, box_b) = (a.aabb(), b.aabb());
    let depth = box_a.overlap(box_b);
    if depth <= TOUCH {
        return None;
    }
    let across = a.placement.axes.w.dot(b.placement.axes.w).abs();
    let really = if across > 0.999_999 {
        faces_overlap(a, b)
    } else if across < 1e-6 {
        edges_overlap(a, b, Aabb { low: box_a.low.max(box_b.low), high: box_a.high.min(box_b.high) })
    } else {
        // Plates at a slant do not occur in an upright kit; to call the boxes' overlap one is on the safe side.
        true
    };
    really.then_some(depth)
}

/// Parallel plates at the same level: do their regions share an area?
fn faces_overlap(a: &Plate, b: &Plate) -> bool {
    let in_plane_of_a = |path: &Path<PanelFrame>| {
        ring_of(path.flattened(CHORD).into_iter().map(|p| {
            let p = a.placement.to_panel(b.placement.to_vehicle(Point3::new(p.x, p.y, 0.0)));
            Point2::<PanelFrame>::new(p.x, p.y)
        }))
    };
    let b_here = Polygon::new(in_plane_of_a(&b.outline), b.openings.iter().map(in_plane_of_a).collect());
    overlap_area(&a.polygon(), &b_here) > TOUCH
}

/// Plates square to each other: along the line in which they cross, is there a place where both have material?
/// `shared` is what their boxes share.
fn edges_overlap(a: &Plate, b: &Plate, shared: Aabb) -> bool {
    let line = a.placement.axes.w.cross(b.placement.axes.w);
    let of_a = intervals_within(a, b, shared, line);
    if of_a.is_empty() {
        return false;
    }
    let of_b = intervals_within(b, a, shared, line);
    of_a.iter().any(|x| of_b.iter().any(|y| x.1.min(y.1) - x.0.max(y.0) > TOUCH))
}

/// mm around what two plates share that is still looked at.
const GENEROUS: f64 = 1.0;

/// Where along `line` (vehicle coordinates) the plate has material between the faces of `other`. Only what lies near
/// what their boxes share is looked at, since a panel may have hundreds of openings.
fn intervals_within(
    plate: &Plate,
    other: &Plate,
    reach: Aabb,
    line: Vector3<VehicleFrame>,
) -> Vec<(f64, f64)> {
    let place = plate.placement;
    let across = place.direction_to_panel(other.placement.axes.w).xy();
    let along = place.direction_to_panel(line).xy();
    let face_b = place.to_panel(other.placement.origin).xy().to_vector().dot(across);
    let ends = [reach.low, reach.high].map(|p| place.to_panel(p).xy().to_vector().dot(along));
    let (start, end) = (ends[0].min(ends[1]), ends[0].max(ends[1]));
    let corner = |s: f64, t: f64| Point2::<PanelFrame>::origin() + across * s + along * t;
    let window = |margin: f64| {
        let (near, far) = (face_b - margin, face_b + other.thickness + margin);
        let (first, last) = (start - margin, end + margin);
        [corner(near, first), corner(far, first), corner(far, last), corner(near, last)]
    };
    // Clipped generously first: the edges without area that clipping leaves lie on the larger window's rim, well
    // away from the strip that is then cut out.
    let generous = window(GENEROUS);
    let near = bounds_of(generous);
    let clip = |path: &Path<PanelFrame>| clipped(path.flattened_near(CHORD, near), generous);
    let polygon = |ring: Vec<Point2<PanelFrame>>| Polygon::new(ring_of(ring), vec![]);
    let strip = window(0.0);
    let outline = clip(&plate.outline);
    // What bulges nowhere inwards can be cut without edges being left.
    let outline = if polygon(outline.clone()).exterior().is_convex() {
        MultiPolygon::from(polygon(clipped(outline, strip)))
    } else {
        polygon(outline).intersection(&polygon(strip.to_vec()))
    };
    let reaches = |path: &&Path<PanelFrame>| apart(path.bounds(), bounds_of(strip)) < 0.0;
    let openings = plate.openings.iter().filter(reaches).map(|path| polygon(clip(path)));
    let material = openings.fold(outline, |left, opening| left.difference(&opening));
    material
        .into_iter()
        .filter(|part| part.unsigned_area() > TOUCH * TOUCH)
        .map(|part| {
            let stations = part
                .exterior()
                .coords()
                .map(|c| place.to_vehicle(Point3::new(c.x, c.y, 0.0)).to_vector().dot(line));
            stations.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), s| (low.min(s), high.max(s)))
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Axes;
    use proptest::prelude::*;

    fn floor(openings: Vec<Path<PanelFrame>>) -> Plate {
        let mut plate =
            Plate::filling(Aabb { low: Point3::new(0.0, 0.0, 0.0), high: Point3::new(900.0, 500.0, 12.0) });
        plate.openings = openings;
        plate
    }

    /// A wall 12 thick, standing at y = 100 along x, with a tab from x = 200 to 260 that goes down through the
    /// floor.
    fn wall() -> Plate {
        let points = [
            (0.0, 0.0),
            (200.0, 0.0),
            (200.0, -12.0),
            (260.0, -12.0),
            (260.0, 0.0),
            (900.0, 0.0),
            (900.0, 300.0),
            (0.0, 300.0),
        ];
        Plate {
            outline: Path::polygon(points.map(|(x, y)| Point2::new(x, y))),
            openings: vec![],
            thickness: 12.0,
            placement: Placement {
                origin: Point3::new(0.0, 112.0, 12.0),
                axes: Axes::from_length_and_face(Vector3::new(1.0, 0.0, 0.0), Vector3::new(0.0, -1.0, 0.0)),
            },
        }
    }

    #[test]
    fn a_tab_in_its_slot_does_not_overlap() {
        let slot = Path::rectangle(199.9, 99.9, 260.1, 112.1).clockwise();
        assert_eq!(overlap_depth(&floor(vec![slot]), &wall()), None);
    }

    #[test]
    fn a_tab_without_a_slot_or_beside_it_does() {
        assert!(overlap_depth(&floor(vec![]), &wall()).is_some());
        let beside = Path::rectangle(219.9, 99.9, 280.1, 112.1).clockwise();
        assert!(overlap_depth(&floor(vec![beside]), &wall()).is_some());
    }

    /// Round a middle, with corners as far from it as is said: it bulges inwards or not, as it comes.
    fn star(radii: &[f64]) -> Path<PanelFrame> {
        let corner = |(i, &radius): (usize, &f64)| {
            let (sin, cos) = (std::f64::consts::TAU * i as f64 / radii.len() as f64).sin_cos();
            Point2::new(450.0 + radius * cos, 250.0 + radius * sin)
        };
        Path::polygon(radii.iter().enumerate().map(corner))
    }

    proptest! {
        /// A wall through a floor of any shape shares with it what their contours share seen from above.
        #[test]
        fn plates_square_to_each_other_overlap_where_both_have_material(
            radii in prop::collection::vec(20.0..240.0_f64, 3..12),
            opening in prop::option::of(prop::collection::vec(2.0..15.0_f64, 3..8)),
            (at, from, length) in (10.0..480.0_f64, 200.0..700.0_f64, 1.0..300.0_f64),
        ) {
            let openings: Vec<_> = opening.iter().map(|radii| star(radii).clockwise()).collect();
            let mut floor = floor(openings.clone());
            floor.outline = star(&radii);
            let mut wall = wall();
            wall.outline = Path::rectangle(from, -30.0, from + length, 30.0);
            wall.placement.origin.y = at;
            let above = to_polygon(&Path::<PanelFrame>::rectangle(from, at - 12.0, from + length, at), &[], CHORD);
            let shared = to_polygon(&floor.outline, &openings, CHORD).intersection(&above).unsigned_area();
            // What is thinner than lengths are compared may be found or not.
            prop_assume!(shared == 0.0 || shared > 1.0);
            prop_assert_eq!(overlap_depth(&floor, &wall).is_some(), shared > 0.0);
        }
    }

    #[test]
    fn plates_face_to_face_only_touch() {
        let mut upper = floor(vec![]);
        upper.placement.origin.z = 12.0;
        assert_eq!(overlap_depth(&floor(vec![]), &upper), None);
        upper.placement.origin.z = 11.0;
        assert!((overlap_depth(&floor(vec![]), &upper).unwrap() - 1.0).abs() < 1e-9);
    }
}
