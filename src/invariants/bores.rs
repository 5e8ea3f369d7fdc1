//! Every bolt's axis passes through concentric bores in exactly its panels, and every bore belongs to a bolt
//! that lists its panel.

use crate::finished::Finished;
use crate::geom::tolerance::{CONCENTRIC, TOUCH};
use crate::geom::{Aabb, PanelFrame, Point3, Vector3};
use crate::joints::{Bolt, BoltId, Bore, Panel};
use crate::layout::{BoardId, OpeningKind};
use crate::number::decimal;

/// Length of the cross product of two directions that are still the same: what rounding leaves, and a thousandth
/// of a millimetre over a metre.
const SQUARE: f64 = 1e-6;

pub(super) fn faults(finished: &Finished) -> Vec<String> {
    let kit = &finished.kit;
    let mut faults = Vec::new();
    for panel in &kit.panels {
        for slot in panel.openings.iter().filter(|opening| opening.kind == OpeningKind::BoltSlot) {
            let own = kit.bolts.iter().find(|bolt| bolt.name == slot.joint);
            if !own.is_some_and(|bolt| bolt.slack != (0.0, 0.0)) {
                faults.push(format!("{} has a slot for {}, which wants none", panel.name, slot.joint));
            }
        }
        for bore in &panel.bores {
            let lists = kit.bolts.get(bore.bolt.0).is_some_and(|bolt| {
                bolt.panels.iter().any(|id| kit.panels.get(id.0).is_some_and(|own| own.name == panel.name))
            });
            if !lists {
                let name = kit.bolts.get(bore.bolt.0).map_or("no bolt", |bolt| bolt.name.as_str());
                faults.push(format!("{} has a bore of {name}, which does not list it", panel.name));
            }
        }
    }
    let boxes: Vec<Aabb> = kit.panels.iter().map(|panel| panel.plate().aabb()).collect();
    for (i, bolt) in kit.bolts.iter().enumerate() {
        // A panel whose box the grip does not even touch cannot be pierced by it.
        let grip = Aabb::around([bolt.origin, bolt.origin + bolt.direction * bolt.grip]);
        let found = kit.panels.iter().enumerate().filter_map(|(j, panel)| {
            let (bolt_id, id) = (BoltId(i), BoardId(j));
            if grip.overlap(boxes[j]) < 0.0 && !bolt.panels.contains(&id) && bolt.held_in != Some(id) {
                return None;
            }
            if bolt.held_in == Some(id) {
                held(bolt_id, bolt, panel)
            } else if bolt.panels.contains(&id) {
                listed(bolt_id, bolt, panel)
            } else {
                astray(bolt, panel)
            }
        });
        faults.extend(found.map(|fault| format!("bolt {}: {fault}", bolt.name)));
    }
    faults
}

/// Start, end and direction of the grip, as the panel sees them.
fn grip(bolt: &Bolt, panel: &Panel) -> (Point3<PanelFrame>, Point3<PanelFrame>, Vector3<PanelFrame>) {
    let place = panel.placement;
    let end = bolt.origin + bolt.direction * bolt.grip;
    (place.to_panel(bolt.origin), place.to_panel(end), place.direction_to_panel(bolt.direction))
}

/// A panel that the bolt lists has one bore of it, square and concentric, within the grip.
fn listed(id: BoltId, bolt: &Bolt, panel: &Panel) -> Option<String> {
    if bolt.slack != (0.0, 0.0) {
        return slotted(bolt, panel);
    }
    let own: Vec<&Bore> = panel.bores.iter().filter(|bore| bore.bolt == id).collect();
    let [bore] = own.as_slice() else {
        return Some(format!("{} bores in {}, which it lists", own.len(), panel.name));
    };
    let (start, end, along) = grip(bolt, panel);
    if along.x.hypot(along.y) > SQUARE {
        return Some(format!("its axis is not square to {}", panel.name));
    }
    let off = (start.xy() - bore.centre).length();
    if off > CONCENTRIC {
        return Some(format!("the bore in {} is {} mm off the axis", panel.name, decimal(off, 4)));
    }
    let (low, high) = (start.z.min(end.z), start.z.max(end.z));
    if low > CONCENTRIC || high < panel.material.actual - CONCENTRIC {
        return Some(format!("{} lies outside the grip", panel.name));
    }
    (bore.diameter < bolt.hardware.thread.diameter)
        .then(|| format!("the bore in {} is narrower than the bolt", panel.name))
}

/// A panel that the bolt passes with play along x and y has one slot of its name, within which the bolt may be off by
/// that much in every direction.
fn slotted(bolt: &Bolt, panel: &Panel) -> Option<String> {
    let mut own =
        panel.openings.iter().filter(|slot| slot.kind == OpeningKind::BoltSlot && slot.joint == bolt.name);
    let (Some(slot), None) = (own.next(), own.next()) else {
        return Some(format!("not one slot in {}, which it lists", panel.name));
    };
    let (along, across) = bolt.slack;
    let radius = bolt.hardware.thread.diameter / 2.0;
    let corners = [(1.0, 1.0), (1.0, -1.0), (-1.0, -1.0), (-1.0, 1.0)];
    let fits = corners.into_iter().all(|(x, y)| {
        let off = bolt.origin + Vector3::new(x * along, y * across, 0.0);
        let here = panel.placement.to_panel(off).xy();
        slot.path.contains(here) && slot.path.distance_to(here) >= radius
    });
    (!fits).then(|| format!("its slot in {} is too short for it", panel.name))
}

/// The panel that holds the nut has a slot for it on the axis, which lies in its mid-plane.
fn held(id: BoltId, bolt: &Bolt, panel: &Panel) -> Option<String> {
    let (start, _, along) = grip(bolt, panel);
    if (start.z - panel.material.actual / 2.0).abs() > CONCENTRIC || along.z.abs() > SQUARE {
        return Some(format!("its axis is not in the mid-plane of {}", panel.name));
    }
    let off = |slot: &crate::joints::NutSlot| (slot.centre - start.xy()).cross(along.xy()).abs();
    let mut slots = panel.nut_slots.iter().filter(|slot| slot.bolt == id);
    match (slots.next(), slots.next()) {
        (Some(slot), None) if off(slot) <= CONCENTRIC => None,
        _ => Some(format!("the nut in {} is not on its axis", panel.name)),
    }
}

/// No other panel has material where the grip is.
fn astray(bolt: &Bolt, panel: &Panel) -> Option<String> {
    let (start, end, along) = grip(bolt, panel);
    let thickness = panel.material.actual;
    let inside = |from: f64, to: f64, size: f64| from.max(to) > TOUCH && from.min(to) < size - TOUCH;
    if !inside(start.z, end.z, thickness) {
        return None;
    }
    let met = if along.x.hypot(along.y) <= SQUARE {
        is_material(panel, start)
    } else {
        // Along the panel: the ends and the middle of each millimetre.
        let steps = bolt.grip.ceil().clamp(1.0, 1e4);
        let mut step = 0.5;
        let mut met = false;
        while step < steps && !met {
            met = is_material(panel, start + along * (bolt.grip * step / steps));
            step += 1.0;
        }
        met
    };
    met.then(|| format!("it passes through {}, which it does not list", panel.name))
}

fn is_material(panel: &Panel, p: Point3<PanelFrame>) -> bool {
    let (low, high) = panel.outline.bounds();
    let within = p.x > low.x + TOUCH && p.x < high.x - TOUCH && p.y > low.y + TOUCH && p.y < high.y - TOUCH;
    within
        && panel.outline.contains(p.xy())
        && !panel.openings.iter().any(|opening| opening.path.contains(p.xy()))
}
