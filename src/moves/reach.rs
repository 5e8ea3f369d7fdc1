//! What lies over the room that must stay in reach, and what of it can be moved away.
//!
//! Takes the design, the kit and its solids, gives for each zone what is in it: drawers that open, panels that come off, and what stays.

use crate::diag::Span;
use crate::geom::{Aabb, Plate, Vector3, overlap_depth};
use crate::joints::solids::{Part, Solid, name};
use crate::joints::{BoltId, Kit};
use crate::layout::{BoardId, Role};
use crate::spec::{AnchorKind, Design};

/// mm around the point of a belt or a child restraint that a hand and its hook need, all round and above. Common
/// practice, no source.
const AROUND_POINT: f64 = 40.0;

/// Room that must stay in reach, with what is in it.
#[derive(Clone, Debug)]
pub(crate) struct Zone {
    /// Its name.
    pub(crate) name: String,
    /// What it is, where it is no zone of the spec's but a point that holds people.
    pub(crate) point: Option<&'static str>,
    /// Whether it lies before a face of equipment, not in the bay.
    pub(crate) of_equipment: bool,
    /// The room.
    pub(crate) room: Aabb,
    /// Drawers that lie over it shut and leave it free open.
    pub(crate) open: Vec<String>,
    /// Drawers that lie over it open, too, and are taken out.
    pub(crate) take_out: Vec<String>,
    /// Lids that lift out.
    pub(crate) lift_out: Vec<String>,
    /// Panels that come off, with the bolts to undo.
    pub(crate) take_off: Vec<(String, usize)>,
    /// Panels and fittings that stay.
    pub(crate) blocked_by: Vec<String>,
    /// Where it is described.
    pub(crate) span: Span,
}

impl Zone {
    /// Whether a tool is needed to reach it.
    pub(crate) fn wants_tools(&self) -> bool {
        !self.take_off.is_empty()
    }
}

/// Every zone of the bay and before equipment; points of belts and child restraints that nobody uses by approval count as zones.
pub(super) fn zones(design: &Design, kit: &Kit, solids: &[Solid]) -> Vec<Zone> {
    let bay = &design.vehicle.bay;
    let named = bay.reach.iter().map(|zone| (zone.id.value.clone(), None, zone.room, zone.span));
    let used = |id: &str| kit.anchorages.iter().any(|anchorage| anchorage.point == id);
    let belts = bay.anchors.iter().filter(|anchor| {
        matches!(anchor.kind.value, AnchorKind::SeatBelt | AnchorKind::ChildRestraint)
            && !used(&anchor.id.value)
    });
    let belts = belts.map(|anchor| {
        let around = Vector3::new(AROUND_POINT, AROUND_POINT, 0.0);
        let room = Aabb {
            low: anchor.place - around,
            high: anchor.place + around + Vector3::new(0.0, 0.0, AROUND_POINT),
        };
        (anchor.id.value.clone(), Some(anchor.kind.value.words()), room, anchor.span)
    });
    let of_bay = named.chain(belts).map(|zone| looked_at((design, kit), solids, zone));
    // What stands on a tray is reached with the tray drawn out.
    let still = |fixture: usize| !kit.layout.body(kit.layout.fixtures[fixture].body).moves();
    let equipment = kit.layout.equipment.iter().filter(|equipment| still(equipment.fixture));
    let faces = equipment.flat_map(|equipment| {
        let span = kit.layout.fixtures[equipment.fixture].span;
        equipment.reach.iter().map(move |(face, room)| {
            let name = format!("{} ({} face)", equipment.name, face.side());
            Zone { of_equipment: true, ..looked_at((design, kit), solids, (name, None, *room, span)) }
        })
    });
    of_bay.chain(faces).collect()
}

fn looked_at(
    (design, kit): (&Design, &Kit),
    solids: &[Solid],
    (name, point, room, span): (String, Option<&'static str>, Aabb, Span),
) -> Zone {
    let mut zone = Zone {
        name,
        point,
        of_equipment: false,
        room,
        open: Vec::new(),
        take_out: Vec::new(),
        lift_out: Vec::new(),
        take_off: Vec::new(),
        blocked_by: Vec::new(),
        span,
    };
    let filled = Plate::filling(room);
    for solid in solids {
        if matches!(solid.part, Part::Room(_) | Part::Coat(_))
            || overlap_depth(&filled, &solid.plate).is_none()
        {
            continue;
        }
        let body = kit.layout.body(solid.body);
        if body.moves() {
            let mut opened = solid.plate.clone();
            opened.placement.origin += body.travel;
            // A door that stands open is out of the way of what it closed.
            let out = body.slides() && overlap_depth(&filled, &opened).is_some();
            noted(if out { &mut zone.take_out } else { &mut zone.open }, &body.name);
            continue;
        }
        if let Part::Panel(id) = solid.part
            && kit.panel(id).role == Role::Lid
        {
            noted(&mut zone.lift_out, &kit.panel(id).name);
            continue;
        }
        match comes_off((design, kit), solid.part) {
            Some(panel) => {
                let bolts = kit.bolts.iter().filter(|bolt| bolt.panels.contains(&panel)).count();
                let entry = (kit.panel(panel).name.clone(), bolts);
                if !zone.take_off.contains(&entry) {
                    zone.take_off.push(entry);
                }
            }
            None => noted(&mut zone.blocked_by, &self::name(kit, solid.part)),
        }
    }
    let out = std::mem::take(&mut zone.open);
    zone.open = out.into_iter().filter(|drawer| !zone.take_out.contains(drawer)).collect();
    zone
}

fn noted(list: &mut Vec<String>, name: &str) {
    if !list.iter().any(|other| other == name) {
        list.push(name.to_owned());
    }
}

/// The removable panel that a part is, or comes off with.
fn comes_off((design, kit): (&Design, &Kit), part: Part) -> Option<BoardId> {
    let removable = |id: &BoardId| {
        let name = &kit.panel(*id).name;
        design.removable.iter().any(|panel| panel.value == *name)
    };
    let of_bolt = |id: BoltId| kit.bolt(id).panels.iter().copied().find(removable);
    match part {
        Part::Panel(id) => Some(id).filter(removable),
        Part::Hardware(id) | Part::Shank(id) => of_bolt(id),
        Part::Angle(i) => kit.angles[i].panels.into_iter().find(removable),
        Part::Coat(i) => Some(kit.coatings[i].panel).filter(removable),
        Part::Slide(_) | Part::Tie(_) | Part::Fixture(_) | Part::Room(_) => None,
    }
}
