//! What moving bodies strike of the vehicle: its surfaces, the rim of the opening, the leaves of its doors.
//!
//! A box on a straight way along an axis sweeps a box, so all depths are exact. The closed door and its latches are
//! out of the way, since nothing is opened behind a shut door. Ahead of x = 0 the bay's surfaces count; at x = 0 the
//! opening's rim; rearward of it only the leaves.

use super::open;
use crate::bay::{Surface, Thing, surfaces};
use crate::diag::Span;
use crate::geom::tolerance::TOUCH;
use crate::geom::{Aabb, Block, Plate};
use crate::joints::Kit;
use crate::joints::solids::{Part, Solid};
use crate::layout::BodyId;
use crate::spec::{Design, Opening};

/// A moving part in the vehicle.
#[derive(Clone, Debug)]
pub(crate) struct Strike {
    /// The part that goes deepest of its body.
    pub(crate) part: Part,
    /// Its body.
    pub(crate) body: BodyId,
    /// mm.
    pub(crate) depth: f64,
    /// What it strikes.
    pub(crate) against: Against,
}

/// What is struck.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Against {
    /// As findings call it, with its article.
    pub(crate) name: String,
    /// Where the spec gives it.
    pub(crate) span: Span,
    /// What sort of thing it is.
    pub(crate) kind: Obstacle,
}

/// What sort of thing is struck.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Obstacle {
    /// A surface of the bay, or an edge of the opening other than the sill.
    Bay,
    /// The opening's sill.
    Sill,
    /// A leaf of a door.
    Leaf,
}

/// All strikes, the deepest part of a body for each thing that the body strikes.
pub(super) fn against_vehicle(design: &Design, kit: &Kit, solids: &[Solid]) -> Vec<Strike> {
    let bay = &design.vehicle.bay;
    let in_the_way: Vec<Surface> = surfaces(bay, &design.clearances, false)
        .into_iter()
        .filter(|surface| !matches!(surface.of, Thing::Door | Thing::Latch))
        .collect();
    let leaves: Vec<(Block, Against)> =
        bay.leaves.iter().map(|leaf| (open::swing(leaf).turned(leaf.shut), open::against(leaf))).collect();
    let mut found: Vec<Strike> = Vec::new();
    for solid in solids {
        let travel = kit.layout.body(solid.body).travel;
        if !kit.layout.body(solid.body).slides() {
            continue;
        }
        let way = solid.aabb.swept(travel);
        let mut strike = |depth: f64, against: Against| {
            let strike = Strike { part: solid.part, body: solid.body, depth, against };
            match found.iter_mut().find(|other| other.body == strike.body && other.against == strike.against)
            {
                Some(other) if other.depth < strike.depth => *other = strike,
                Some(_) => {}
                None => found.push(strike),
            }
        };
        for surface in &in_the_way {
            if let Some(depth) = on_way(surface, solid, way) {
                strike(
                    depth,
                    Against { name: surface.name.clone(), span: surface.span, kind: Obstacle::Bay },
                );
            }
        }
        if let Some(opening) = &bay.opening {
            for (depth, edge, kind) in beyond(opening, way) {
                strike(depth, Against { name: edge.to_owned(), span: opening.span, kind });
            }
        }
        for (block, against) in &leaves {
            if let Some(depth) = Block::of(way).overlap_depth(block) {
                strike(depth, against.clone());
            }
        }
    }
    found.sort_by_key(|strike| strike.body);
    found
}

/// How deep a solid goes into a surface on its way through the bay; what is in it shut is another rule's.
fn on_way(surface: &Surface, solid: &Solid, way: Aabb) -> Option<f64> {
    let mut inside = way;
    inside.low.x = way.low.x.max(way.high.x.min(0.0));
    if inside.high.x - inside.low.x <= TOUCH || surface.overlap(&solid.plate, solid.aabb).is_some() {
        return None;
    }
    surface.overlap(&Plate::filling(inside), inside).map(|overlap| overlap.depth)
}

/// How far a way through the opening leads beyond each of its edges.
fn beyond(opening: &Opening, way: Aabb) -> Vec<(f64, &'static str, Obstacle)> {
    if way.low.x >= -TOUCH || way.high.x <= TOUCH {
        return Vec::new();
    }
    let widths = &opening.widths;
    let inside = widths.points().iter().filter(|point| point.0 > way.low.z && point.0 < way.high.z);
    let ends = [widths.at(way.low.z), widths.at(way.high.z)];
    let half = inside.map(|point| point.1).chain(ends).fold(f64::INFINITY, f64::min) / 2.0;
    let edges = [
        (opening.sill.value - way.low.z, "the sill", Obstacle::Sill),
        (way.high.z - opening.height.value, "the opening's upper edge", Obstacle::Bay),
        (way.high.y - half, "the opening's left edge", Obstacle::Bay),
        (-half - way.low.y, "the opening's right edge", Obstacle::Bay),
    ];
    edges.into_iter().filter(|edge| edge.0 > TOUCH).collect()
}
