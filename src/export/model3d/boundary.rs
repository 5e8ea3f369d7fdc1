//! A solid by its boundary: corners, edges and faces on true curves and surfaces, mm.
//!
//! What both exporters read. Faces are planes, cylinders and cones only. An edge lies between exactly two faces (or twice in
//! one: the seam of a whole cylinder), which run along it in opposite directions; every loop is counter-clockwise
//! seen from outside, the first one of a face is its rim, the others are holes in it.

use crate::geom::tolerance::MESH_CHORD;
use crate::geom::{Arc, PanelFrame, Point2, Point3, Vector3, snap};
use std::f64::consts::{FRAC_PI_4, TAU};

/// A place in the solid's own frame, mm.
pub(super) type Point = Point3<PanelFrame>;

/// A direction in the solid's own frame.
pub(super) type Vector = Vector3<PanelFrame>;

/// All faces of a solid.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Boundary {
    /// Where edges end.
    pub(super) corners: Vec<Point>,
    /// Where faces meet.
    pub(super) edges: Vec<Edge>,
    /// What the solid is within.
    pub(super) faces: Vec<Face>,
}

/// A line or an arc between two corners.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Edge {
    /// Index of the corner where it starts.
    pub(super) from: usize,
    /// Index of the corner where it ends; for a whole circle the same.
    pub(super) to: usize,
    /// The way from one to the other.
    pub(super) curve: Curve,
}

/// The way along an edge.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Curve {
    /// Straight.
    Line,
    /// Counter-clockwise about an axis.
    Arc {
        /// Middle of its circle.
        centre: Point,
        /// Unit vector, square to its plane.
        axis: Vector,
        /// Included angle, radians, up to a whole turn.
        included: f64,
        /// How many equal chords stand for it in a mesh.
        chords: u32,
    },
}

/// A piece of a surface.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Face {
    /// What it lies on.
    pub(super) surface: Surface,
    /// Its rim, then the holes in it.
    pub(super) loops: Vec<Vec<Use>>,
}

/// An edge as a loop runs along it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Use {
    /// Index of the edge.
    pub(super) edge: usize,
    /// Whether the loop runs the edge's own way.
    pub(super) forward: bool,
}

/// What a face lies on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Surface {
    /// A plane.
    Plane {
        /// Unit vector out of the solid.
        normal: Vector,
    },
    /// A cylinder or a cone. Its face's loop is an arc, a line, an arc with as many chords, a line.
    Round {
        /// A place on its axis.
        base: Point,
        /// Unit vector along its axis.
        axis: Vector,
        /// mm, at the base.
        radius: f64,
        /// mm by which the radius grows with each mm along the axis: 0 for a cylinder.
        slope: f64,
        /// Whether the solid lies outside of it: the wall of a hole.
        hollow: bool,
    },
}

/// Circles at levels along an axis, from a first face to a last one.
pub(super) struct Rings<'a> {
    /// The axis' place at the level 0.
    pub(super) centre: Point,
    /// Unit vector along which levels count.
    pub(super) axis: Vector,
    /// Level and radius, mm, levels rising. Two of one level are a step.
    pub(super) levels: &'a [(f64, f64)],
    /// Whether it is a hole.
    pub(super) hollow: bool,
}

impl Use {
    /// The edge's own way.
    pub(super) fn forward(edge: usize) -> Self {
        Use { edge, forward: true }
    }

    /// The other way.
    pub(super) fn backward(edge: usize) -> Self {
        Use { edge, forward: false }
    }
}

impl Boundary {
    /// Adds a corner.
    pub(super) fn corner(&mut self, place: Point) -> usize {
        self.corners.push(place);
        self.corners.len() - 1
    }

    /// Adds a straight edge.
    pub(super) fn line(&mut self, from: usize, to: usize) -> usize {
        self.edge(Edge { from, to, curve: Curve::Line })
    }

    /// Adds an edge.
    pub(super) fn edge(&mut self, edge: Edge) -> usize {
        self.edges.push(edge);
        self.edges.len() - 1
    }

    /// Adds a face.
    pub(super) fn face(&mut self, surface: Surface, loops: Vec<Vec<Use>>) -> usize {
        self.faces.push(Face { surface, loops });
        self.faces.len() - 1
    }

    /// The corner where a loop's use of an edge starts.
    pub(super) fn start(&self, used: Use) -> Point {
        let edge = &self.edges[used.edge];
        self.corners[if used.forward { edge.from } else { edge.to }]
    }

    /// Adds the round walls and steps between rings; gives the first ring and the last one. Rings of a hole run clockwise seen against
    /// the axis, those of a body counter-clockwise, so that the face at the first level has its ring backward and
    /// the face at the last level has it forward.
    pub(super) fn rings(&mut self, rings: &Rings<'_>) -> (usize, usize) {
        let Rings { centre, axis, hollow, .. } = *rings;
        let side = across(axis);
        let widest = rings.levels.iter().map(|level| level.1).fold(0.0, f64::max);
        let turn = if hollow { -axis } else { axis };
        let circles: Vec<usize> = rings
            .levels
            .iter()
            .map(|&(level, radius)| {
                let middle = centre + axis * level;
                let corner = self.corner(middle + side * radius);
                let curve =
                    Curve::Arc { centre: middle, axis: turn, included: TAU, chords: chords(widest, TAU) };
                self.edge(Edge { from: corner, to: corner, curve })
            })
            .collect();
        for (pair, at) in rings.levels.windows(2).zip(circles.windows(2)) {
            let [(low, below), (high, above)] = [pair[0], pair[1]];
            if high > low {
                let seam = self.line(self.edges[at[0]].from, self.edges[at[1]].from);
                let slope = (above - below) / (high - low);
                let surface =
                    Surface::Round { base: centre + axis * low, axis, radius: below, slope, hollow };
                let rim =
                    [Use::forward(at[0]), Use::forward(seam), Use::backward(at[1]), Use::backward(seam)];
                self.face(surface, vec![rim.to_vec()]);
            } else {
                let (under, over) = (vec![Use::forward(at[0])], vec![Use::backward(at[1])]);
                // The wider ring is the rim of the step.
                let up = below > above;
                let loops = if up { vec![under, over] } else { vec![over, under] };
                let normal = if up == hollow { -axis } else { axis };
                self.face(Surface::Plane { normal }, loops);
            }
        }
        (circles[0], circles[circles.len() - 1])
    }

    /// The solid moved by some mm.
    pub(super) fn moved(mut self, by: Vector) -> Self {
        for corner in &mut self.corners {
            *corner += by;
        }
        for edge in &mut self.edges {
            if let Curve::Arc { centre, .. } = &mut edge.curve {
                *centre += by;
            }
        }
        for face in &mut self.faces {
            if let Surface::Round { base, .. } = &mut face.surface {
                *base += by;
            }
        }
        self
    }

    /// What makes the solid what it is, to a micrometre: two with the same numbers are the same solid.
    pub(super) fn key(&self) -> Vec<u64> {
        let mut key = vec![self.corners.len() as u64, self.edges.len() as u64, self.faces.len() as u64];
        // Adding nought makes one of both noughts.
        let micrometres = |value: f64| (snap(value) + 0.0).to_bits();
        key.extend(self.corners.iter().flat_map(|corner| corner.to_array()).map(micrometres));
        for edge in &self.edges {
            key.extend([edge.from as u64, edge.to as u64]);
            if let Curve::Arc { centre, axis, included, .. } = edge.curve {
                let numbers = centre.to_array().into_iter().chain(axis.to_array()).chain([included]);
                key.extend(numbers.map(micrometres));
            }
        }
        key
    }
}

/// A unit vector square to another.
pub(super) fn across(axis: Vector) -> Vector {
    // Along the axis of the frame that lies most across, so that upright things have exact numbers.
    let [x, y, z] = axis.abs().to_array();
    let way = if x <= y && x <= z {
        Vector::new(1.0, 0.0, 0.0)
    } else if y <= z {
        Vector::new(0.0, 1.0, 0.0)
    } else {
        Vector::new(0.0, 0.0, 1.0)
    };
    (way - axis * way.dot(axis)).normalize()
}

/// How many equal chords stand for an arc in a mesh: within the tolerance, and never more than an eighth of a turn each, so
/// that the smallest hole stays a hole.
pub(super) fn chords(radius: f64, included: f64) -> u32 {
    let arc = Arc::<PanelFrame> { centre: Point2::origin(), radius, start: 0.0, included };
    let mut chords = arc.n_chords(MESH_CHORD);
    while included.abs() / f64::from(chords) > FRAC_PI_4 + 1e-9 {
        chords += 1;
    }
    chords
}
