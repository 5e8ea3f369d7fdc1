//! Boundaries of what a kit is made of: plates with holes, boxes, turned bodies, pieces of angle.

use super::boundary::{Boundary, Curve, Edge, Point, Rings, Surface, Use, Vector, chords};
use crate::geom::tolerance::SAME_LENGTH;
use crate::geom::{Arc, PanelFrame, Path, Point2, Vertex};
use crate::solid::{PlateFace, RoundHole, SolidSpec};

/// Direction out of face A.
const UP: Vector = Vector::new(0.0, 0.0, 1.0);

/// A piece of angle, its heel's outside corner along w from the origin, one leg along u, one along v.
pub(super) struct AngleShape {
    /// Width of the legs, mm.
    pub(super) leg: f64,
    /// mm.
    pub(super) thickness: f64,
    /// mm.
    pub(super) length: f64,
    /// mm from the heel to the holes of the leg along v, then of the leg along u.
    pub(super) gauges: [f64; 2],
    /// Levels of the holes, mm, in the leg along v, then in the leg along u.
    pub(super) holes: [Vec<f64>; 2],
    /// mm.
    pub(super) hole_diameter: f64,
}

/// The edges of a contour at both levels of a prism, and its walls.
struct Walls {
    /// Along the contour, at the lower level.
    lower: Vec<usize>,
    /// The same at the upper level.
    upper: Vec<usize>,
    /// A face for each.
    faces: Vec<usize>,
}

/// A plate with openings and round bores, face B at w = 0.
pub(super) fn plate(spec: &SolidSpec<'_>) -> Boundary {
    let mut solid = Boundary::default();
    let (mut upper, mut lower) = (Vec::new(), Vec::new());
    for path in std::iter::once(spec.outline).chain(spec.openings) {
        let walls = prism_walls(&mut solid, path, spec.thickness);
        upper.push(walls.upper.iter().map(|&edge| Use::forward(edge)).collect());
        lower.push(walls.lower.iter().rev().map(|&edge| Use::backward(edge)).collect());
    }
    for bore in &spec.bores {
        let centre = Point::new(bore.centre.x, bore.centre.y, 0.0);
        let levels = bore_levels(bore, spec.thickness);
        let (first, last) = solid.rings(&Rings { centre, axis: UP, levels: &levels, hollow: true });
        lower.push(vec![Use::backward(first)]);
        upper.push(vec![Use::forward(last)]);
    }
    solid.face(Surface::Plane { normal: -UP }, lower);
    solid.face(Surface::Plane { normal: UP }, upper);
    solid
}

/// A box from the origin.
pub(super) fn cuboid(size: Vector) -> Boundary {
    let outline = Path::rectangle(0.0, 0.0, size.x, size.y);
    plate(&SolidSpec { outline: &outline, openings: &[], bores: Vec::new(), thickness: size.z })
}

/// A body turned about w: levels and radii from its lower end up, mm.
pub(super) fn turned(levels: &[(f64, f64)]) -> Boundary {
    let mut solid = Boundary::default();
    let (first, last) = solid.rings(&Rings { centre: Point::origin(), axis: UP, levels, hollow: false });
    solid.face(Surface::Plane { normal: -UP }, vec![vec![Use::backward(first)]]);
    solid.face(Surface::Plane { normal: UP }, vec![vec![Use::forward(last)]]);
    solid
}

/// A piece of angle with its holes, sharp inside as its section is reckoned.
pub(super) fn angle(shape: &AngleShape) -> Boundary {
    let (leg, t) = (shape.leg, shape.thickness);
    let section = [(0.0, 0.0), (leg, 0.0), (leg, t), (t, t), (t, leg), (0.0, leg)];
    let section = Path::polygon(section.map(|(u, v)| Point2::new(u, v)));
    let mut solid = Boundary::default();
    let walls = prism_walls(&mut solid, &section, shape.length);
    let lower = walls.lower.iter().rev().map(|&edge| Use::backward(edge)).collect();
    let upper = walls.upper.iter().map(|&edge| Use::forward(edge)).collect();
    solid.face(Surface::Plane { normal: -UP }, vec![lower]);
    solid.face(Surface::Plane { normal: UP }, vec![upper]);
    // Outside and inside face of the leg along v, then of the leg along u, by their places in the section.
    let legs = [(5, 3, Vector::new(1.0, 0.0, 0.0)), (0, 2, Vector::new(0.0, 1.0, 0.0))];
    for ((near, far, axis), (gauge, holes)) in legs.into_iter().zip(shape.gauges.iter().zip(&shape.holes)) {
        let along = UP.cross(axis).abs();
        for &level in holes {
            let centre = Point::origin() + along * *gauge + UP * level;
            let radius = shape.hole_diameter / 2.0;
            let levels = [(0.0, radius), (t, radius)];
            let (first, last) = solid.rings(&Rings { centre, axis, levels: &levels, hollow: true });
            solid.faces[walls.faces[near]].loops.push(vec![Use::backward(first)]);
            solid.faces[walls.faces[far]].loops.push(vec![Use::forward(last)]);
        }
    }
    solid
}

/// Levels and radii of a bore from face B up: two for a plain one, three with a countersink.
fn bore_levels(bore: &RoundHole, thickness: f64) -> Vec<(f64, f64)> {
    let radius = bore.diameter / 2.0;
    let mut levels = vec![(0.0, radius), (thickness, radius)];
    if let Some(cone) = bore.countersink {
        match cone.face {
            PlateFace::A => {
                levels[1].1 = cone.diameter / 2.0;
                levels.insert(1, (thickness - cone.depth, radius));
            }
            PlateFace::B => {
                levels[0].1 = cone.diameter / 2.0;
                levels.insert(1, (cone.depth, radius));
            }
        }
    }
    levels
}

/// The walls over a contour from w = 0 up, with the material on the contour's left.
fn prism_walls(solid: &mut Boundary, path: &Path<PanelFrame>, height: f64) -> Walls {
    let path = without_flat_corners(path);
    let n = path.vertices().len();
    let corners: Vec<[usize; 2]> = path
        .vertices()
        .iter()
        .map(|vertex| [0.0, height].map(|w| solid.corner(Point::new(vertex.point.x, vertex.point.y, w))))
        .collect();
    let uprights: Vec<usize> = corners.iter().map(|&[low, high]| solid.line(low, high)).collect();
    let mut walls = Walls { lower: Vec::with_capacity(n), upper: Vec::with_capacity(n), faces: Vec::new() };
    for (i, (a, b, bulge)) in path.sides().enumerate() {
        let next = (i + 1) % n;
        let round = (!is_straight(a, b, bulge)).then(|| Arc::new(a, b, bulge));
        let [lower, upper] = [(0, 0.0), (1, height)].map(|(end, w)| {
            let curve = round.as_ref().map_or(Curve::Line, |arc| Curve::Arc {
                centre: Point::new(arc.centre.x, arc.centre.y, w),
                axis: UP * arc.included.signum(),
                included: arc.included.abs(),
                chords: chords(arc.radius, arc.included),
            });
            solid.edge(Edge { from: corners[i][end], to: corners[next][end], curve })
        });
        let surface = match round {
            None => Surface::Plane { normal: Vector::new(b.y - a.y, a.x - b.x, 0.0).normalize() },
            Some(arc) => Surface::Round {
                base: Point::new(arc.centre.x, arc.centre.y, 0.0),
                axis: UP,
                radius: arc.radius,
                slope: 0.0,
                hollow: bulge < 0.0,
            },
        };
        let rim = [
            Use::forward(lower),
            Use::forward(uprights[next]),
            Use::backward(upper),
            Use::backward(uprights[i]),
        ];
        walls.faces.push(solid.face(surface, vec![rim.to_vec()]));
        walls.lower.push(lower);
        walls.upper.push(upper);
    }
    walls
}

/// Whether a side leaves its chord by less than tells two lengths apart.
fn is_straight(a: Point2<PanelFrame>, b: Point2<PanelFrame>, bulge: f64) -> bool {
    (bulge * (b - a).length() / 2.0).abs() <= SAME_LENGTH
}

/// The path without corners at which it goes straight on.
fn without_flat_corners(path: &Path<PanelFrame>) -> Path<PanelFrame> {
    let vertices = path.vertices();
    let mut kept: Vec<Vertex<PanelFrame>> = Vec::with_capacity(vertices.len());
    for (i, &here) in vertices.iter().enumerate() {
        let before = *kept.last().unwrap_or(&vertices[vertices.len() - 1]);
        let after = vertices[(i + 1) % vertices.len()];
        let (into, out) = (here.point - before.point, after.point - here.point);
        let straight = is_straight(before.point, here.point, before.bulge)
            && is_straight(here.point, after.point, here.bulge)
            && into.dot(out) > 0.0;
        if !straight || into.cross(out).abs() > SAME_LENGTH * (into + out).length() {
            kept.push(here);
        }
    }
    Path::new(kept)
}
