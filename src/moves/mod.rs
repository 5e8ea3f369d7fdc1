//! Whether the kit goes into the vehicle, who lifts it, and whether what moves comes out freely.
//!
//! Takes the design, the finished kit and its masses; gives for each carcase its way in ([`Module`]), for each moving
//! body what it strikes of the vehicle ([`Strike`]), and for each two things that move whether both can be open
//! ([`Pair`]). Only reports. Each carcase is looked at alone, as if the bay were empty.

mod entry;
mod open;
mod passage;
mod split;
mod strikes;
mod ways;

pub(crate) use entry::{Entry, How, Module, Stuck, WayIn};
pub(crate) use open::{Pair, Relation};
pub(crate) use strikes::Strike;
pub(crate) use ways::Lack;

use crate::joints::Kit;
use crate::joints::solids::{Part, Solid, all};
use crate::mass::Masses;
use crate::spec::Design;

/// All about moving.
#[derive(Debug)]
pub(crate) struct Moves {
    /// The carcases, in the order of the design.
    pub(crate) modules: Vec<Module>,
    /// What moving bodies strike of the vehicle, by body.
    pub(crate) strikes: Vec<Strike>,
    /// Every two drawers, and every drawer with every leaf of the doors.
    pub(crate) pairs: Vec<Pair>,
}

/// Looks at all of it.
pub(crate) fn study(design: &Design, kit: &Kit, masses: &Masses) -> Moves {
    let solids: Vec<Solid> =
        all(kit).into_iter().filter(|solid| !matches!(solid.part, Part::Shank(_))).collect();
    Moves {
        modules: entry::modules(design, kit, masses, &solids),
        strikes: strikes::against_vehicle(design, kit, &solids),
        pairs: open::pairs(design, kit, &solids),
    }
}
