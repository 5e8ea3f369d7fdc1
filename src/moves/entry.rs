//! Each carcase by itself: what it weighs, who lifts it, how it goes in, what holds it to its neighbours.

use super::split;
use super::ways::{Lack, Left, Piece, Room, around};
use crate::diag::Span;
use crate::geom::{Vector3, VehicleFrame};
use crate::joints::solids::Solid;
use crate::joints::{Bolt, Kit};
use crate::layout::BoardId;
use crate::mass::{MASS_DECIMALS, Masses, PartKind};
use crate::number::rounded;
use crate::spec::{Design, Lift};

/// A carcase with its drawers, as it is carried.
#[derive(Clone, Debug)]
pub(crate) struct Module {
    /// The carcase's id.
    pub(crate) id: String,
    /// Over all, bolt heads and nuts too: along x, y and z, mm.
    pub(crate) size: Vector3<VehicleFrame>,
    /// kg, empty, with its drawers in, without wings.
    pub(crate) mass: f64,
    /// kg, empty, with its drawers taken out; slides stay.
    pub(crate) without_drawers: f64,
    /// Persons who lift it with its drawers in; none if it is more than two may lift.
    pub(crate) persons: Option<u32>,
    /// Bolts that hold it to other carcases, to what was fitted inside, and to the vehicle.
    pub(crate) bolts_to_undo: usize,
    /// How it goes in.
    pub(crate) way: WayIn,
    /// Where it is described.
    pub(crate) span: Span,
}

/// How a carcase goes in.
#[derive(Clone, Debug)]
pub(crate) enum WayIn {
    /// Neither an opening nor a side door was measured.
    NotMeasured,
    /// This way.
    Found(Entry),
    /// Not at all.
    Stuck(Stuck),
}

/// A way in.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Entry {
    /// Which.
    pub(crate) how: How,
    /// What is left on it.
    pub(crate) left: Left,
}

/// Which way in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum How {
    /// As it stands, through the rear.
    Straight,
    /// On its back through the rear, tilted up inside.
    Tilted,
    /// Through a side door, by its index in the bay.
    SideDoor(usize),
}

/// A carcase that stays outside.
#[derive(Clone, Debug)]
pub(crate) struct Stuck {
    /// What lacks straight in at the rear; nothing where no opening at the rear was measured, all zero where it
    /// passes the opening and not what is behind.
    pub(crate) straight: Option<Lack>,
    /// mm that tilting it up takes under the roof, what is to be spared included.
    pub(crate) diagonal: f64,
    /// Dividers from base to deck, with whether both pieces go in if it is split there.
    pub(crate) dividers: Vec<(String, bool)>,
}

/// All carcases, in the order of the design.
pub(super) fn modules(design: &Design, kit: &Kit, masses: &Masses, solids: &[&Solid]) -> Vec<Module> {
    let room = Room::new(design);
    let carcase_of = |solid: &Solid, id: &str| kit.layout.body(solid.body).carcase == id;
    let module = |carcase: &crate::spec::Carcase| {
        let id = carcase.id.value.as_str();
        let own: Vec<&Solid> = solids.iter().copied().filter(|solid| carcase_of(solid, id)).collect();
        let piece: Piece = own.iter().map(|solid| (solid.plate.clone(), solid.aabb)).collect();
        let size = around(&piece).size();
        let mass = masses.carcases.iter().find(|(name, _)| name == id).map_or(0.0, |(_, sum)| sum.mass);
        let mass = rounded(mass - fitted_inside(kit, masses, id), MASS_DECIMALS);
        let drawers = masses.drawers.iter().filter(|(body, _)| kit.layout.body(*body).carcase == id);
        let drawers: f64 = drawers.map(|(_, sum)| sum.mass).sum();
        let bay = &design.vehicle.bay;
        let way = match goes_in(design, &room, &piece) {
            Some(entry) => WayIn::Found(entry),
            None if bay.opening.is_none() && bay.side_doors.is_empty() => WayIn::NotMeasured,
            None => WayIn::Stuck(Stuck {
                straight: bay.opening.as_ref().and_then(|opening| room.straight(opening, &piece).err()),
                diagonal: size.x.hypot(size.z) + room.spare,
                dividers: split::dividers(design, kit, &room, &own, id),
            }),
        };
        Module {
            id: id.to_owned(),
            size,
            mass,
            without_drawers: rounded(mass - drawers, MASS_DECIMALS),
            persons: persons(&design.workshop.lift, mass),
            bolts_to_undo: bolts_to_undo(kit, id),
            way,
            span: carcase.span,
        }
    };
    design.carcases.iter().map(module).collect()
}

/// kg of what is put in once the carcase stands in the vehicle; the bolts of it, some grams, stay with the carcase.
fn fitted_inside(kit: &Kit, masses: &Masses, id: &str) -> f64 {
    let panels = kit.panels.iter().zip(&masses.parts).filter(|(panel, _)| panel.role.is_fitted_inside());
    let panels = panels.map(|(_, part)| part);
    let ties = masses.parts.iter().filter(|part| part.kind == PartKind::Turnbuckle);
    let own = panels.chain(ties).filter(|part| kit.layout.body(part.body).carcase == id);
    own.map(|part| part.mass).sum()
}

/// The first way in of those that need least: straight, through a side door, tilted.
pub(super) fn goes_in(design: &Design, room: &Room<'_>, piece: &Piece) -> Option<Entry> {
    let bay = &design.vehicle.bay;
    let opening = bay.opening.as_ref();
    let straight = opening.and_then(|opening| room.straight(opening, piece).ok());
    let straight = straight.map(|left| Entry { how: How::Straight, left });
    let beside = || {
        let mut doors = bay.side_doors.iter().enumerate();
        doors.find_map(|(i, door)| Some(Entry { how: How::SideDoor(i), left: room.sideways(door, piece)? }))
    };
    let tilted = || Some(Entry { how: How::Tilted, left: room.tilted(opening?, piece)? });
    straight.or_else(beside).or_else(tilted)
}

/// Persons who lift so much.
fn persons(lift: &Lift, mass: f64) -> Option<u32> {
    let limits = [(1, lift.one.value), (2, lift.two.value)];
    limits.into_iter().find(|(_, limit)| mass <= *limit).map(|(persons, _)| persons)
}

/// Bolts that are undone to take a carcase out: through its panels and those of others or of what was fitted inside,
/// and into the vehicle's points. A turnbuckle is unhooked.
fn bolts_to_undo(kit: &Kit, id: &str) -> usize {
    let own = |panel: &BoardId| kit.layout.body(kit.panel(*panel).body).carcase == id;
    let fitted = |panel: &BoardId| kit.panel(*panel).role.is_fitted_inside();
    let stays = |panel: &BoardId| own(panel) && !fitted(panel);
    let held = |bolt: &&Bolt| match bolt.panels.as_slice() {
        // On an angle's other leg is the carcase.
        [only] if fitted(only) => own(only),
        panels => panels.iter().any(stays) && (bolt.hardware.nut.is_none() || !panels.iter().all(stays)),
    };
    kit.bolts.iter().filter(held).count()
}
