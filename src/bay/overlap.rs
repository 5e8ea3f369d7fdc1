//! How far a plate reaches into a surface: exact, by the corners of what they share.
//!
//! Over one facet the depth of a point is a linear function of its place, so it is greatest at a corner of that
//! part of the plate which lies over the facet: a corner of the plate's rim cut by the walls over the facet, a place
//! where an edge of those walls pierces a face of the plate, or a corner of them inside the plate.

use super::surface::{Axis, Facet, Surface, Way};
use crate::geom::tolerance::{CHORD, TOUCH};
use crate::geom::{Aabb, FAR, PanelFrame, Plate, Point2, Point3, Vector3, VehicleFrame};

/// A plate's deepest place in a surface.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Overlap {
    /// mm by which the plate must be moved, or made smaller, to come clear.
    pub(crate) depth: f64,
    /// Where it is deepest along that way.
    pub(crate) at: Point3<VehicleFrame>,
    /// The shortest way out: a unit vector along an axis.
    pub(crate) out: Vector3<VehicleFrame>,
}

impl Surface {
    /// How far a plate (`aabb` is the box around it) reaches into the surface; `None` if it stays clear or only
    /// touches it.
    pub(crate) fn overlap(&self, plate: &Plate, aabb: Aabb) -> Option<Overlap> {
        let mut least: Option<Overlap> = None;
        for way in &self.ways {
            // A way along which nothing is deep means that nothing reaches in at all.
            let found = way.deepest(plate, aabb)?;
            if least.is_none_or(|least| found.depth < least.depth) {
                least = Some(found);
            }
        }
        least
    }
}

impl Way {
    fn deepest(&self, plate: &Plate, aabb: Aabb) -> Option<Overlap> {
        let mut deepest: Option<(f64, Point3<VehicleFrame>)> = None;
        let mut rim: Option<Vec<[Point3<VehicleFrame>; 4]>> = None;
        let (low, high, (a, b, _)) = (aabb.low.to_array(), aabb.high.to_array(), self.axis.others());
        // Most facets lie nowhere near a plate.
        let is_near = |facet: &&Facet| {
            [a, b]
                .into_iter()
                .zip(facet.bounds)
                .all(|(axis, [least, most])| least <= high[axis] && most >= low[axis])
        };
        for facet in self.facets.iter().filter(is_near) {
            let floor = deepest.map_or(TOUCH, |(depth, _)| depth);
            let over = Over::new(self, facet);
            if over.bound(aabb) <= floor {
                continue;
            }
            let rim = rim.get_or_insert_with(|| rim_of(plate));
            let rims = rim.iter().flat_map(|quad| over.cut(quad));
            for p in rims.chain(over.piercings(plate)) {
                let depth = over.depth(p);
                if depth > deepest.map_or(TOUCH, |(depth, _)| depth) {
                    deepest = Some((depth, p));
                }
            }
        }
        let (depth, at) = deepest?;
        let out = match self.axis {
            Axis::X => Vector3::new(self.sign, 0.0, 0.0),
            Axis::Y => Vector3::new(0.0, self.sign, 0.0),
            Axis::Z => Vector3::new(0.0, 0.0, self.sign),
        };
        Some(Overlap { depth, at, out })
    }
}

/// The faces of a plate's rim, the rims of its openings included.
fn rim_of(plate: &Plate) -> Vec<[Point3<VehicleFrame>; 4]> {
    let place = |p: Point2<_>, w: f64| plate.placement.to_vehicle(Point3::new(p.x, p.y, w));
    let mut quads = Vec::new();
    for path in std::iter::once(&plate.outline).chain(&plate.openings) {
        let points = path.flattened(CHORD);
        for (i, &a) in points.iter().enumerate() {
            let b = points[(i + 1) % points.len()];
            quads.push([place(a, 0.0), place(b, 0.0), place(b, plate.thickness), place(a, plate.thickness)]);
        }
    }
    quads
}

/// What lies over one facet, along a way.
struct Over<'a> {
    facet: &'a Facet,
    /// Indices of the facet's two coordinates and of the way's.
    axes: (usize, usize, usize),
    sign: f64,
    within: [f64; 2],
    /// The surface's coordinate is `base + slope.0 * a + slope.1 * b`.
    base: f64,
    slope: (f64, f64),
}

impl<'a> Over<'a> {
    fn new(way: &Way, facet: &'a Facet) -> Self {
        let ([a0, b0, v0], [a1, b1, v1], [a2, b2, v2]) =
            (facet.corners[0], facet.corners[1], facet.corners[2]);
        let (da, db, dv) = (a1 - a0, b1 - b0, v1 - v0);
        let (ea, eb, ev) = (a2 - a0, b2 - b0, v2 - v0);
        let area = da * eb - db * ea;
        let slope = ((dv * eb - db * ev) / area, (da * ev - dv * ea) / area);
        let base = v0 - slope.0 * a0 - slope.1 * b0;
        Over { facet, axes: way.axis.others(), sign: way.sign, within: way.within, base, slope }
    }

    /// How deep a point lies behind the surface, mm; negative before it.
    fn depth(&self, p: Point3<VehicleFrame>) -> f64 {
        let p = p.to_array();
        let (a, b, c) = self.axes;
        self.sign * (self.base + self.slope.0 * p[a] + self.slope.1 * p[b] - p[c])
    }

    /// No point of the box, part of which lies over the facet, lies deeper over it; -infinity if none is within the way's range.
    fn bound(&self, aabb: Aabb) -> f64 {
        let (low, high) = (aabb.low.to_array(), aabb.high.to_array());
        let (a, b, c) = self.axes;
        let range = |axis: usize, k: usize| {
            let [least, most] = self.facet.bounds[k];
            (least.max(low[axis]), most.min(high[axis]))
        };
        let (over_a, over_b) = (range(a, 0), range(b, 1));
        let along = (low[c].max(self.within[0]), high[c].min(self.within[1]));
        if along.0 > along.1 {
            return f64::NEG_INFINITY;
        }
        let most = |factor: f64, (low, high): (f64, f64)| (factor * low).max(factor * high);
        let sign = self.sign;
        sign * self.base
            + most(sign * self.slope.0, over_a)
            + most(sign * self.slope.1, over_b)
            + most(-sign, along)
    }

    /// The part of a convex polygon that lies over the facet and within the way's range.
    fn cut(&self, quad: &[Point3<VehicleFrame>; 4]) -> Vec<Point3<VehicleFrame>> {
        let (a, b, c) = self.axes;
        let n = self.facet.corners.len();
        let walls = (0..n).fold(quad.to_vec(), |ring, i| {
            let ([a0, b0, _], [a1, b1, _]) = (self.facet.corners[i], self.facet.corners[(i + 1) % n]);
            kept(&ring, |p| (a1 - a0) * (p[b] - b0) - (b1 - b0) * (p[a] - a0))
        });
        let [low, high] = self.within;
        kept(&kept(&walls, |p| p[c] - low), |p| high - p[c])
    }

    /// Where the edges of the walls over the facet pierce the plate's two faces, and which of their corners lie
    /// inside the plate.
    fn piercings(&self, plate: &Plate) -> Vec<Point3<VehicleFrame>> {
        let (a, b, c) = self.axes;
        let corner = |i: usize, along: f64| {
            let mut p = [0.0; 3];
            let corners = &self.facet.corners;
            [p[a], p[b], _] = corners[i % corners.len()];
            p[c] = along;
            plate.placement.to_panel(Point3::from(p))
        };
        let [low, high] = self.within;
        let mut found = Vec::new();
        for i in 0..self.facet.corners.len() {
            found.extend(pierced(plate, corner(i, low), corner(i, high)));
            for along in [low, high].into_iter().filter(|along| along.abs() < FAR) {
                found.extend(pierced(plate, corner(i, along), corner(i + 1, along)));
                let p = corner(i, along);
                if p.z >= 0.0 && p.z <= plate.thickness && has_material(plate, p.xy()) {
                    found.push(p);
                }
            }
        }
        found.into_iter().map(|p| plate.placement.to_vehicle(p)).collect()
    }
}

/// The part of a convex ring where `inside` is not negative.
fn kept(ring: &[Point3<VehicleFrame>], inside: impl Fn([f64; 3]) -> f64) -> Vec<Point3<VehicleFrame>> {
    let mut kept = Vec::with_capacity(ring.len() + 1);
    for (j, &p) in ring.iter().enumerate() {
        let before = ring[(j + ring.len() - 1) % ring.len()];
        let (from, to) = (inside(before.to_array()), inside(p.to_array()));
        if (from < 0.0) != (to < 0.0) {
            kept.push(before + (p - before) * (from / (from - to)));
        }
        if to >= 0.0 {
            kept.push(p);
        }
    }
    kept
}

/// Where a line from `p` to `q` passes through the plate's two faces; all in the panel's frame.
fn pierced(plate: &Plate, p: Point3<PanelFrame>, q: Point3<PanelFrame>) -> Vec<Point3<PanelFrame>> {
    let rise = q.z - p.z;
    // A face that the line runs along is pierced nowhere.
    if rise.abs() < 1e-9 {
        return Vec::new();
    }
    let shares = [0.0, plate.thickness].map(|w| (w - p.z) / rise);
    let inside =
        shares.into_iter().filter(|share| (0.0..=1.0).contains(share)).map(|share| p + (q - p) * share);
    inside.filter(|spot| has_material(plate, spot.xy())).collect()
}

/// Whether the plate has material at a place of its plane.
fn has_material(plate: &Plate, spot: Point2<PanelFrame>) -> bool {
    let (low, high) = plate.outline.bounds();
    let near = spot.x >= low.x && spot.x <= high.x && spot.y >= low.y && spot.y <= high.y;
    near && plate.outline.contains(spot) && !plate.openings.iter().any(|opening| opening.contains(spot))
}
