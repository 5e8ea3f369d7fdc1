//! What can be open together: drawers with drawers, with lockers' doors, with the leaves of the vehicle's doors.
//!
//! Drawers move straight, so two of them are in each other's way just if what they sweep overlaps. A leaf turns: its
//! shut board, its open board and all that it sweeps in between are held against what the drawer sweeps.

use super::strikes::{Against, Obstacle};
use crate::geom::tolerance::TOUCH;
use crate::geom::{Aabb, Block, Point3, Swing};
use crate::joints::Kit;
use crate::joints::solids::{Part, Solid};
use crate::layout::{BodyId, DoorSummary};
use crate::number::decimal;
use crate::spec::{Design, Hinge, Leaf};

/// Two things that move.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Pair {
    /// A drawer's name, or of two doors the first one's.
    pub(crate) drawer: String,
    /// Another drawer's or a door's name, or a leaf's id.
    pub(crate) other: String,
    /// How they go together.
    pub(crate) relation: Relation,
}

/// How two things that move go together.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Relation {
    /// Two drawers or doors, one of which must be shut.
    OneAtATime,
    /// A drawer and a leaf.
    Leaf {
        /// The drawer is opened only with the leaf open.
        needs_it_open: bool,
        /// The leaf is turned only with the drawer shut.
        holds_it: bool,
        /// The drawer strikes the leaf where it stands open.
        strikes_it: bool,
    },
}

/// The turn from shut to open, outwards.
pub(super) fn swing(leaf: &Leaf) -> Swing {
    let (low, high, degrees) = (leaf.shut.low, leaf.shut.high, leaf.open.value);
    // Positive turns lead from z to x about y, and from x to y about z; outwards is rearward.
    match leaf.hinge {
        Hinge::Left => Swing { axis: 2, pivot: Point3::new(0.0, high.y, low.z), degrees: -degrees },
        Hinge::Right => Swing { axis: 2, pivot: Point3::new(0.0, low.y, low.z), degrees },
        Hinge::Top => Swing { axis: 1, pivot: Point3::new(0.0, low.y, high.z), degrees },
        Hinge::Bottom => Swing { axis: 1, pivot: Point3::new(0.0, low.y, low.z), degrees: -degrees },
    }
}

/// A leaf as findings call it.
pub(super) fn against(leaf: &Leaf) -> Against {
    let name = format!("the leaf `{}`, open by {} degrees", leaf.id.value, decimal(leaf.open.value, 1));
    Against { name, span: leaf.span, kind: Obstacle::Leaf }
}

/// Drawers that are in each other's way, and every drawer with every leaf: drawers in the order of the layout, leaves in
/// that of the spec.
pub(super) fn pairs(design: &Design, kit: &Kit, solids: &[Solid]) -> Vec<Pair> {
    let drawers: Vec<(&str, Vec<Aabb>)> = kit
        .layout
        .drawers
        .iter()
        .map(|drawer| (drawer.name.as_str(), ways(kit, drawer.body, solids)))
        .collect();
    let mut pairs = Vec::new();
    for (i, (drawer, own)) in drawers.iter().enumerate() {
        for (other, its) in &drawers[i + 1..] {
            let near = around(own).overlap(around(its)) > TOUCH;
            if near && own.iter().any(|a| its.iter().any(|b| a.overlap(*b) > TOUCH)) {
                let (drawer, other) = ((*drawer).to_owned(), (*other).to_owned());
                pairs.push(Pair { drawer, other, relation: Relation::OneAtATime });
            }
        }
        for door in &kit.layout.doors {
            if turns_into(kit, solids, door, own) {
                let (drawer, other) = ((*drawer).to_owned(), door.name.clone());
                pairs.push(Pair { drawer, other, relation: Relation::OneAtATime });
            }
        }
        for leaf in &design.vehicle.bay.leaves {
            let (swing, shut) = (swing(leaf), leaf.shut);
            let open = swing.turned(shut);
            let relation = Relation::Leaf {
                needs_it_open: own.iter().any(|way| way.overlap(shut) > TOUCH),
                holds_it: own.iter().any(|way| swing.strikes(shut, *way)),
                strikes_it: own.iter().any(|way| Block::of(*way).overlap_depth(&open).is_some()),
            };
            pairs.push(Pair { drawer: (*drawer).to_owned(), other: leaf.id.value.clone(), relation });
        }
    }
    for (i, door) in kit.layout.doors.iter().enumerate() {
        for other in &kit.layout.doors[i + 1..] {
            let open = |door: &DoorSummary| -> Vec<Aabb> {
                let own = solids.iter().filter(|solid| solid.body == door.body);
                own.map(|solid| Aabb::around(door.swing.turned(solid.aabb).corners())).collect()
            };
            if turns_into(kit, solids, door, &open(other)) || turns_into(kit, solids, other, &open(door)) {
                let (drawer, other) = (door.name.clone(), other.name.clone());
                pairs.push(Pair { drawer, other, relation: Relation::OneAtATime });
            }
        }
    }
    pairs
}

/// Whether a door, as it turns, strikes what takes some boxes.
fn turns_into(kit: &Kit, solids: &[Solid], door: &DoorSummary, boxes: &[Aabb]) -> bool {
    let own = solids.iter().filter(|solid| solid.body == door.body && !matches!(solid.part, Part::Room(_)));
    let swing = kit.layout.body(door.body).swing;
    let mut own = own.map(|solid| solid.aabb);
    swing.is_some_and(|swing| own.any(|aabb| boxes.iter().any(|other| swing.strikes(aabb, *other))))
}

/// The box around some.
fn around(boxes: &[Aabb]) -> Aabb {
    Aabb::around(boxes.iter().flat_map(|aabb| [aabb.low, aabb.high]))
}

/// What the solids of a body sweep from shut to open.
fn ways(kit: &Kit, body: BodyId, solids: &[Solid]) -> Vec<Aabb> {
    let travel = kit.layout.body(body).travel;
    solids.iter().filter(|solid| solid.body == body).map(|solid| solid.aabb.swept(travel)).collect()
}
