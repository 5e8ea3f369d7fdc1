//! The plate's boundary as a shell of faces in the kernel `truck`.
//!
//! Takes a plate, validates it in the plane, and builds walls between levels along every contour and the two
//! faces with the contours as their boundaries. Circles are kept as arcs. Asks the kernel's topology whether
//! the shell is closed and how many holes go through it.

use super::validate::validate;
use super::{Flaw, PlateFace, RoundHole, SolidFault, SolidSpec};
use crate::geom::tolerance::SAME_LENGTH;
use crate::geom::{PanelFrame, Path, Point2};
use std::collections::HashSet;
use truck_modeling as truck;
use truck_modeling::builder;

/// A plate as the kernel sees it.
pub(crate) struct PlateSolid {
    /// All faces; walls first, then face B and face A.
    pub(super) shell: truck::Shell,
}

/// Builds the plate's shell, or says why it has none.
pub(crate) fn build(spec: &SolidSpec) -> Result<PlateSolid, SolidFault> {
    validate(spec)?;
    let at = spec.outline.vertices().first().map_or(Point2::origin(), |vertex| vertex.point);
    let refused = |error: String| SolidFault { flaw: Flaw::Kernel(error), at };
    let mut shell = truck::Shell::new();
    let mut lowest = Vec::new();
    let mut highest = Vec::new();
    let prisms = std::iter::once(spec.outline)
        .chain(spec.openings)
        .map(|path| vec![contour_wire(path, 0.0), contour_wire(path, spec.thickness)]);
    let bores = spec.bores.iter().map(|bore| bore_wires(bore, spec.thickness));
    for levels in prisms.chain(bores) {
        for pair in levels.windows(2) {
            let mut walls =
                builder::try_wire_homotopy(&pair[0], &pair[1]).map_err(|error| refused(error.to_string()))?;
            shell.append(&mut walls);
        }
        let mut levels = levels.into_iter();
        // Seen from outside, face B's contours run the other way round.
        lowest.extend(levels.next().map(|wire| wire.inverse()));
        highest.extend(levels.next_back());
    }
    for (wires, level, up) in [(lowest, 0.0, false), (highest, spec.thickness, true)] {
        let face = truck::Face::try_new(wires, level_plane(level, up).into());
        shell.push(face.map_err(|error| refused(error.to_string()))?);
    }
    Ok(PlateSolid { shell })
}

impl PlateSolid {
    /// Whether every edge of the connected shell lies between exactly two faces that run along it in opposite
    /// directions: a boundary without a hole and without a face turned inside out.
    pub(crate) fn is_closed(&self) -> bool {
        self.shell.shell_condition() == truck::ShellCondition::Closed && self.shell.is_connected()
    }

    /// How many holes go through the solid; `None` if the count shows that the shell is no closed surface.
    ///
    /// For a closed connected surface cut into faces that are discs, corners - edges + faces = 2 - 2 genus
    /// (Euler, Poincare). A face with inner boundaries becomes a disc by one cut to each of them, which adds an
    /// edge for each; hence corners - edges + faces - inner boundaries = 2 - 2 genus.
    pub(crate) fn genus(&self) -> Option<usize> {
        let corners: HashSet<truck::VertexID> = self.shell.vertex_iter().map(|vertex| vertex.id()).collect();
        let edges: HashSet<truck::EdgeID> = self.shell.edge_iter().map(|edge| edge.id()).collect();
        let inner: usize = self.shell.face_iter().map(|face| face.boundary_iters().len() - 1).sum();
        let twice = (edges.len() + inner + 2).checked_sub(corners.len() + self.shell.len())?;
        (twice % 2 == 0).then_some(twice / 2)
    }
}

/// The contour at a level, as one closed wire.
fn contour_wire(path: &Path<PanelFrame>, level: f64) -> truck::Wire {
    let lifted = |p: Point2<PanelFrame>| truck::Point3::new(p.x, p.y, level);
    let corners: Vec<truck::Vertex> =
        path.vertices().iter().map(|vertex| builder::vertex(lifted(vertex.point))).collect();
    let edges = path.sides().enumerate().map(|(i, (a, b, bulge))| {
        let (from, to) = (&corners[i], &corners[(i + 1) % corners.len()]);
        let chord = b - a;
        // Through three points on almost a line the kernel finds no circle.
        if (bulge * chord.length() / 2.0).abs() <= SAME_LENGTH {
            return builder::line(from, to);
        }
        // The middle of the arc lies bulge times half the chord to the right of the chord's middle.
        let middle = a.lerp(b, 0.5) + crate::geom::Vector2::new(chord.y, -chord.x) * (bulge / 2.0);
        builder::circle_arc(from, to, lifted(middle))
    });
    edges.collect()
}

/// The wires of a bore from face B up: two for a plain one, three with a countersink.
fn bore_wires(bore: &RoundHole, thickness: f64) -> Vec<truck::Wire> {
    let (low, high) = (bore.radius_at(PlateFace::B), bore.radius_at(PlateFace::A));
    let mut levels = vec![(0.0, low), (thickness, high)];
    if let Some(cone) = bore.countersink {
        let level = match cone.face {
            PlateFace::A => thickness - cone.depth,
            PlateFace::B => cone.depth,
        };
        levels.insert(1, (level, bore.diameter / 2.0));
    }
    levels
        .into_iter()
        .map(|(level, radius)| contour_wire(&Path::circle(bore.centre, radius).clockwise(), level))
        .collect()
}

/// The plane at a level with its normal up or down.
fn level_plane(level: f64, up: bool) -> truck::Plane {
    let along_u = truck::Point3::new(1.0, 0.0, level);
    let along_v = truck::Point3::new(0.0, 1.0, level);
    let (one, another) = if up { (along_u, along_v) } else { (along_v, along_u) };
    truck::Plane::new(truck::Point3::new(0.0, 0.0, level), one, another)
}
