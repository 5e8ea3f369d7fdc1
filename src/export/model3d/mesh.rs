//! Triangles of a solid: arcs as chords, corners and normals for flat and round shading.
//!
//! Every edge is cut into chords once, for both faces that meet in it: so the triangles of all faces together have no gap.

use super::boundary::{Boundary, Curve, Edge, Face, Point, Surface, Use, Vector};
use crate::geom::{PanelFrame, Point2, snap, triangles_inside};
use std::f64::consts::TAU;

/// How finely round things are cut into triangles.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) enum Fineness {
    /// What the eye does not see of a panel that it looks at.
    #[default]
    Fine,
    /// Half as many chords, down to six for a whole circle: for a picture that must be there at once, on a screen whose dots
    /// are about as large as what is left out.
    Coarse,
}

impl Fineness {
    /// How many chords stand for an arc that has so many where it is fine. It goes by these two numbers alone, so that both
    /// arcs of a round face have as many.
    fn chords(self, fine: u32, included: f64) -> u32 {
        match self {
            Fineness::Fine => fine,
            Fineness::Coarse => {
                let least = (1..fine).find(|&n| included.abs() <= f64::from(n) * TAU / 6.0 + 1e-9);
                fine.div_ceil(2).max(least.unwrap_or(fine))
            }
        }
    }
}

/// Triangles with shared corners. A corner has one normal, so corners on edges are there once for each face.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Mesh {
    /// Corners, mm, on whole micrometres.
    pub(super) positions: Vec<Point>,
    /// Unit vectors out of the solid, corner by corner.
    pub(super) normals: Vec<Vector>,
    /// Indices of corners, counter-clockwise seen from outside.
    pub(super) triangles: Vec<[usize; 3]>,
}

/// The triangles of several solids as one mesh.
pub(super) fn mesh(solids: &[Boundary], fineness: Fineness) -> Mesh {
    let mut mesh = Mesh::default();
    for solid in solids {
        let edges: Vec<Vec<Point>> =
            solid.edges.iter().map(|edge| chords_of(solid, edge, fineness)).collect();
        for face in &solid.faces {
            match face.surface {
                Surface::Plane { normal } => mesh.flat(face, normal, &edges),
                Surface::Round { .. } => mesh.round(face, &edges),
            }
        }
    }
    mesh
}

/// Places along an edge, both ends included, on whole micrometres: what the last digits of a sine are, differs from machine to
/// machine.
fn chords_of(solid: &Boundary, edge: &Edge, fineness: Fineness) -> Vec<Point> {
    let (from, to) = (solid.corners[edge.from], solid.corners[edge.to]);
    let mut places = vec![from];
    if let Curve::Arc { centre, axis, included, chords } = edge.curve {
        let chords = fineness.chords(chords, included);
        let (out, beside) = (from - centre, axis.cross(from - centre));
        places.extend((1..chords).map(|i| {
            let (sin, cos) = (included * f64::from(i) / f64::from(chords)).sin_cos();
            centre + out * cos + beside * sin
        }));
    }
    places.push(to);
    places.iter().map(|place| Point::from(place.to_array().map(snap))).collect()
}

/// The places along an edge, the way that a loop runs.
fn along(edges: &[Vec<Point>], used: Use) -> Vec<Point> {
    let mut places = edges[used.edge].clone();
    if !used.forward {
        places.reverse();
    }
    places
}

impl Mesh {
    fn corner(&mut self, place: Point, normal: Vector) -> usize {
        self.positions.push(place);
        self.normals.push(normal);
        self.positions.len() - 1
    }

    /// A piece of cylinder or cone: its two arcs have as many chords, with two triangles between each and the other.
    fn round(&mut self, face: &Face, edges: &[Vec<Point>]) {
        let rim = &face.loops[0];
        let (one, mut other) = (along(edges, rim[0]), along(edges, rim[2]));
        other.reverse();
        let rows = [one, other].map(|row| {
            let corner = |place: &Point| self.corner(*place, normal_at(face.surface, *place));
            row.iter().map(corner).collect::<Vec<usize>>()
        });
        for i in 1..rows[0].len() {
            let (a, b, c, d) = (rows[0][i - 1], rows[0][i], rows[1][i], rows[1][i - 1]);
            self.triangles.extend([[a, b, c], [a, c, d]]);
        }
    }

    /// A plane face with its holes.
    fn flat(&mut self, face: &Face, normal: Vector, edges: &[Vec<Point>]) {
        let rings: Vec<Vec<Point>> = face
            .loops
            .iter()
            .map(|uses| {
                // The end of one edge is the start of the next.
                let steps = uses.iter().map(|&used| along(edges, used));
                steps.flat_map(|places| places[..places.len() - 1].to_vec()).collect()
            })
            .collect();
        let first = self.positions.len();
        for &place in rings.iter().flatten() {
            self.corner(place, normal);
        }
        let flat: Vec<Vec<Point2<PanelFrame>>> = rings
            .iter()
            .map(|ring| ring.iter().map(|&place| seen_against(normal, place)).collect())
            .collect();
        self.triangles
            .extend(triangles_inside(&flat).into_iter().map(|corners| corners.map(|corner| first + corner)));
    }
}

/// The unit vector out of the solid at a place of a round face.
fn normal_at(surface: Surface, place: Point) -> Vector {
    match surface {
        Surface::Plane { normal } => normal,
        Surface::Round { base, axis, slope, hollow, .. } => {
            let out = place - base;
            let normal = ((out - axis * out.dot(axis)).normalize() - axis * slope).normalize();
            if hollow { -normal } else { normal }
        }
    }
}

/// A place of a plane as seen from where its normal points, without the coordinate along which one sees it least slanted.
fn seen_against(normal: Vector, place: Point) -> Point2<PanelFrame> {
    let size = normal.abs();
    let (a, b, towards) = if size.z >= size.x && size.z >= size.y {
        (place.x, place.y, normal.z)
    } else if size.y >= size.x {
        (place.z, place.x, normal.y)
    } else {
        (place.y, place.z, normal.x)
    };
    if towards > 0.0 { Point2::new(a, b) } else { Point2::new(b, a) }
}
