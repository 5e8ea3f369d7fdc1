//! The order of panels within a step, and the moment for bolts that a later panel would hide.

use super::tool::{Access, InTheWay};
use super::{Scene, Task, Unreachable};
use crate::joints::BoltId;
use crate::joints::solids::Part;
use crate::layout::{BoardId, BodyId};
use crate::spec::JointKind;
use std::collections::{BTreeMap, BTreeSet};

/// Bolts that are tightened before a panel goes on.
#[derive(Debug, PartialEq)]
pub(crate) struct Early {
    /// The panel that would hide them.
    pub(crate) before: BoardId,
    /// The bolts.
    pub(crate) bolts: Vec<BoltId>,
}

/// A bolt with its ends.
type Reached = (BoltId, Vec<Access>);

/// The panels of a body in an order in which a tool gets to every bolt, as far as there is one.
pub(super) fn of_body(
    scene: &Scene<'_>,
    body: BodyId,
    bolts: &[Reached],
    unreachable: &mut Vec<Unreachable>,
) -> Task {
    let kit = scene.kit;
    let all = kit.panels.iter().enumerate().filter(|(_, panel)| panel.body == body);
    let mut left: Vec<BoardId> =
        all.filter(|(_, panel)| !panel.role.is_fitted_inside()).map(|(i, _)| BoardId(i)).collect();
    // Most bolts can be reached whatever is there.
    let hard = |ends: &[Access]| ends.iter().any(|end| end.ways.iter().all(|way| !way.is_empty()));
    let hard: Vec<&Reached> = bolts.iter().filter(|(_, ends)| hard(ends)).collect();
    let joined = joined(scene, body);
    let mut undone = BTreeSet::new();
    let mut off = Vec::new();
    while !left.is_empty() {
        let there: BTreeSet<BoardId> = left.iter().copied().collect();
        let held = |panel: BoardId| {
            let on_it = hard.iter().filter(move |(bolt, _)| kit.bolt(*bolt).panels.contains(&panel));
            on_it.filter(|(bolt, _)| !undone.contains(bolt))
        };
        let hidden = |panel: BoardId| {
            held(panel)
                .filter(|(_, ends)| ends.iter().any(|end| blocked(scene, end, &there).is_some()))
                .count()
        };
        // First of all one that its tabs let go. Of those with the fewest bolts hidden (none, unless there is no order) one that
        // leaves the others in one piece, so that each panel goes onto one that is there; of those the last of the layout.
        let parts_the_rest = |panel: BoardId| {
            let rest: BTreeSet<BoardId> = left.iter().copied().filter(|other| *other != panel).collect();
            !are_in_one_piece(&rest, &joined)
        };
        let ranked = left.iter().rev().copied();
        let Some(next) = ranked
            .min_by_key(|&panel| (is_locked(scene, panel, &there), hidden(panel), parts_the_rest(panel)))
        else {
            break;
        };
        let now: Vec<&Reached> = held(next).copied().collect();
        for (bolt, ends) in now {
            for end in ends {
                if let Some(ways) = blocked(scene, end, &there) {
                    unreachable.push(Unreachable { bolt: *bolt, end: end.end, by: ways, cure: None });
                    break;
                }
            }
            undone.insert(*bolt);
        }
        left.retain(|panel| *panel != next);
        off.push(next);
    }
    off.reverse();
    let early = early(scene, &off, bolts, unreachable);
    Task { step: scene.step, panels: off, early }
}

/// Whether tabs in slots keep a panel between those that are there: tabs let go along their own direction only, so that all of
/// a panel's must point the same way.
fn is_locked(scene: &Scene<'_>, panel: BoardId, there: &BTreeSet<BoardId>) -> bool {
    let tabbed =
        scene.kit.layout.meetings.iter().filter(|meeting| meeting.plan.kind == JointKind::CaptiveNut);
    let mut ways = tabbed.filter_map(|meeting| match panel {
        edge if edge == meeting.edge && there.contains(&meeting.face) => Some(meeting.into_edge),
        face if face == meeting.face && there.contains(&meeting.edge) => Some(-meeting.into_edge),
        _ => None,
    });
    let Some(first) = ways.next() else { return false };
    ways.any(|way| way.dot(first) < 0.5)
}

/// For each panel of a body those that it is bolted to, by itself or with an angle.
fn joined(scene: &Scene<'_>, body: BodyId) -> BTreeMap<BoardId, BTreeSet<BoardId>> {
    let kit = scene.kit;
    let bolts = kit.bolts.iter().filter(|bolt| bolt.body == body).map(|bolt| bolt.panels.clone());
    let angles = kit.angles.iter().filter(|angle| angle.body == body).map(|angle| angle.panels.to_vec());
    let slots = kit.bolts.iter().filter_map(|bolt| Some((bolt.held_in?, bolt)));
    let slots = slots.map(|(held, bolt)| bolt.panels.iter().copied().chain([held]).collect());
    let mut joined: BTreeMap<BoardId, BTreeSet<BoardId>> = BTreeMap::new();
    for together in bolts.chain(angles).chain(slots) {
        for &one in &together {
            joined.entry(one).or_default().extend(together.iter().filter(|other| **other != one));
        }
    }
    joined
}

/// Whether every one of these panels holds to every other.
fn are_in_one_piece(panels: &BTreeSet<BoardId>, joined: &BTreeMap<BoardId, BTreeSet<BoardId>>) -> bool {
    let mut reached: BTreeSet<BoardId> = panels.first().into_iter().copied().collect();
    let mut next: Vec<BoardId> = reached.iter().copied().collect();
    while let Some(panel) = next.pop() {
        for &other in joined.get(&panel).into_iter().flatten() {
            if panels.contains(&other) && reached.insert(other) {
                next.push(other);
            }
        }
    }
    reached.len() == panels.len()
}

/// Bolts that go in when everything else is in place; what is hidden then may still be put in while its body is built.
pub(super) fn at_once(
    scene: &Scene<'_>,
    bolts: &[Reached],
    before: &[Task],
    unreachable: &mut Vec<Unreachable>,
) {
    let there: BTreeSet<BoardId> = (0..scene.kit.panels.len()).map(BoardId).collect();
    for (bolt, ends) in bolts {
        let Some((end, by)) = ends.iter().find_map(|end| Some((end, blocked(scene, end, &there)?))) else {
            continue;
        };
        let panels = &scene.kit.bolt(*bolt).panels;
        let cure = before.iter().enumerate().find_map(|(i, task)| {
            let hides = last_moment(scene, ends, &task.panels)?;
            let place = |id: &BoardId| task.panels.iter().position(|panel| panel == id);
            let own = panels.iter().map(place).collect::<Option<Vec<_>>>()?.into_iter().max()?;
            // A bolt through one panel can be put in while that panel is still loose.
            let before = if own < hides { hides } else { own };
            (own < hides || panels.len() == 1).then(|| (i, task.panels[before]))
        });
        unreachable.push(Unreachable { bolt: *bolt, end: end.end, by, cure });
    }
}

/// Bolts of a body that are hidden once all its panels are on, by the panel before which they are tightened.
fn early(scene: &Scene<'_>, order: &[BoardId], bolts: &[Reached], unreachable: &[Unreachable]) -> Vec<Early> {
    let mut early: Vec<Early> = Vec::new();
    for (bolt, ends) in bolts.iter().filter(|(bolt, _)| unreachable.iter().all(|u| u.bolt != *bolt)) {
        let Some(hides) = last_moment(scene, ends, order) else { continue };
        match early.iter_mut().find(|early| early.before == order[hides]) {
            Some(early) => early.bolts.push(*bolt),
            None => early.push(Early { before: order[hides], bolts: vec![*bolt] }),
        }
    }
    early.sort_by_key(|early| order.iter().position(|panel| *panel == early.before));
    early
}

/// Which panel of an order is the first that leaves no way to some end; `None` if none does.
fn last_moment(scene: &Scene<'_>, ends: &[Access], order: &[BoardId]) -> Option<usize> {
    let hidden_from = |way: &InTheWay| {
        // A part is there once the last of its panels is.
        let from = |&solid: &usize| {
            let panels = scene.panels_of(scene.solids[solid].part);
            panels.iter().filter_map(|id| order.iter().position(|panel| panel == id)).max().unwrap_or(0)
        };
        way.iter().map(from).min()
    };
    let of_end = |end: &Access| end.ways.iter().map(|way| hidden_from(way).unwrap_or(usize::MAX)).max();
    ends.iter().filter_map(of_end).min().filter(|&place| place != usize::MAX)
}

/// What is in the way of the tool that has the least in its way, if every tool has something, with these panels in place.
fn blocked(scene: &Scene<'_>, end: &Access, there: &BTreeSet<BoardId>) -> Option<Vec<Part>> {
    let is_there =
        |solid: &usize| scene.panels_of(scene.solids[*solid].part).iter().all(|panel| there.contains(panel));
    let in_the_way = end.ways.iter().map(|way| way.iter().copied().filter(is_there).collect::<Vec<_>>());
    let least = in_the_way.min_by_key(Vec::len)?;
    let mut parts: Vec<Part> = Vec::new();
    for solid in least {
        if !parts.contains(&scene.solids[solid].part) {
            parts.push(scene.solids[solid].part);
        }
    }
    (!parts.is_empty()).then_some(parts)
}
