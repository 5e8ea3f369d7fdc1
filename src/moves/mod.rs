//! Whether the kit goes into the vehicle, who lifts it, and whether what moves comes out freely.
//!
//! Takes the design, the finished kit and its masses; gives for each carcase its way in ([`Module`]), for each moving
//! body what it strikes of the vehicle ([`Strike`]), and for each two things that move whether both can be open
//! ([`Pair`]), what equipment gets of air ([`Airing`]). Only reports. Each carcase is looked at alone, as if the bay were empty.

mod air;
mod entry;
mod living;
mod open;
mod passage;
mod reach;
mod split;
mod strikes;
mod ways;

pub(crate) use air::{Airing, BELOW_CEILING, front, gas_vents, leads_into};
pub(crate) use entry::{Entry, How, Module, Stuck, WayIn};
pub(crate) use living::{LivingAir, NEAR_FLOOR_AND_ROOF};
pub(crate) use open::{Pair, Relation};
pub(crate) use reach::Zone;
pub(crate) use strikes::{Obstacle, Strike};
pub(crate) use ways::Lack;

use crate::joints::solids::{Part, Solid};
use crate::joints::{Kit, Purpose};
use crate::layout::{BoardId, FixtureKind};
use crate::mass::Masses;
use crate::spec::Design;

/// All about moving.
#[derive(Debug)]
pub(crate) struct Moves {
    /// The carcases, in the order of the design.
    pub(crate) modules: Vec<Module>,
    /// What moving bodies strike of the vehicle, by body.
    pub(crate) strikes: Vec<Strike>,
    /// Drawers in each other's way, and every drawer with every leaf of the doors.
    pub(crate) pairs: Vec<Pair>,
    /// What must stay in reach.
    pub(crate) zones: Vec<Zone>,
    /// Equipment that needs air, with what it gets.
    pub(crate) airings: Vec<Airing>,
    /// Air of the space in which people live, where gas is burnt in it.
    pub(crate) living: Option<LivingAir>,
}

/// Looks at all of it.
pub(crate) fn study(design: &Design, kit: &Kit, masses: &Masses) -> Moves {
    let solids: Vec<Solid> =
        kit.solids().iter().filter(|solid| !matches!(solid.part, Part::Shank(_))).cloned().collect();
    let carried: Vec<&Solid> = solids.iter().filter(|solid| !fitted_inside(kit, solid.part)).collect();
    Moves {
        zones: reach::zones(design, kit, &solids),
        airings: air::airings(kit, &solids),
        living: living::living_air(design, &kit.layout.equipment),
        modules: entry::modules(design, kit, masses, &carried),
        strikes: strikes::against_vehicle(design, kit, &solids),
        pairs: open::pairs(design, kit, &solids),
    }
}

/// Whether a part is put in once its carcase stands in the vehicle: wings, their lids, ledges and bolts, and what holds
/// the carcase to the vehicle.
fn fitted_inside(kit: &Kit, part: Part) -> bool {
    let of_wing = |id: BoardId| kit.panel(id).role.is_fitted_inside();
    match part {
        Part::Panel(id) => of_wing(id),
        Part::Hardware(id) | Part::Shank(id) => {
            let bolt = kit.bolt(id);
            bolt.purpose == Purpose::Anchor || kit.holds_what_is_fitted_inside(bolt)
        }
        Part::Angle(i) => kit.angles[i].panels.into_iter().any(of_wing),
        Part::Coat(i) => of_wing(kit.coatings[i].panel),
        Part::Slide(_) => false,
        Part::Fixture(i) if kit.layout.fixtures[i].kind == FixtureKind::Equipment => true,
        Part::Fixture(i) => {
            kit.layout.fixtures[i].bolts.iter().flat_map(|bolt| &bolt.boards).any(|id| of_wing(*id))
        }
        // What is to stay free is nothing that is carried in.
        Part::Tie(_) | Part::Room(_) => true,
    }
}
