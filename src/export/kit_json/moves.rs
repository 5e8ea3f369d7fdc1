//! How the kit goes in and what moves, in `kit.json`. Shape and content.

use super::{kg, mm, vector};
use crate::finished::Finished;
use crate::moves::{self, How, Relation, WayIn};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// A carcase with its drawers as it is carried into the vehicle.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub(crate) struct Module {
    /// The carcase's id.
    pub(crate) name: String,
    /// Over all, bolt heads and nuts too, along x, y and z, mm.
    pub(crate) size: [f64; 3],
    /// kg, empty, with its drawers in.
    pub(crate) mass: f64,
    /// kg, empty, with its drawers taken out; slides stay.
    pub(crate) mass_without_drawers: f64,
    /// Persons who lift it with its drawers in by the workshop's limits; null if it is more than two may lift.
    pub(crate) persons: Option<u32>,
    /// Bolts to undo to take it out: to other carcases, to wings, into the vehicle's points. Turnbuckles are unhooked.
    pub(crate) bolts_to_undo: usize,
    /// `straight` or `tilted` through the rear, `side-door`; null if no opening was measured.
    pub(crate) way_in: Option<String>,
    /// What is left in the opening on that way: width, height, mm.
    pub(crate) left: Option<[f64; 2]>,
    /// Lifted by so much above where it belongs while it goes through the opening, mm; negative below it.
    pub(crate) lift: Option<f64>,
}

/// Two things that move, and whether both can be open.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[expect(clippy::struct_excessive_bools, reason = "each answers a question of its own")]
pub(crate) struct Together {
    /// A drawer, or of two doors the first.
    pub(crate) drawer: String,
    /// Another drawer, a locker's door, or a leaf of the vehicle's doors.
    pub(crate) other: String,
    /// Whether the other one is a leaf.
    pub(crate) leaf: bool,
    /// Whether both can be open; a leaf as far as the spec says.
    pub(crate) both_open: bool,
    /// Whether the drawer comes out only with the leaf open.
    pub(crate) needs_open: bool,
    /// Whether the leaf turns only with the drawer shut.
    pub(crate) shut_first: bool,
}

/// The carcases, in the order of the design.
pub(super) fn modules(finished: &Finished) -> Vec<Module> {
    let module = |module: &moves::Module| {
        let entry = match &module.way {
            WayIn::Found(entry) => Some(entry),
            WayIn::NotMeasured | WayIn::Stuck(_) => None,
        };
        let word = |how: How| match how {
            How::Straight => "straight",
            How::Tilted => "tilted",
            How::SideDoor(_) => "side-door",
        };
        Module {
            name: module.id.clone(),
            size: vector(module.size),
            mass: kg(module.mass),
            mass_without_drawers: kg(module.without_drawers),
            persons: module.persons,
            bolts_to_undo: module.bolts_to_undo,
            way_in: entry.map(|entry| word(entry.how).to_owned()),
            left: entry.map(|entry| [mm(entry.left.width), mm(entry.left.height)]),
            lift: entry.map(|entry| mm(entry.left.lift)),
        }
    };
    finished.moves.modules.iter().map(module).collect()
}

/// Every two drawers that are in each other's way, every drawer with every leaf.
pub(super) fn together(finished: &Finished) -> Vec<Together> {
    let pair = |pair: &moves::Pair| {
        let (leaf, both_open, needs_open, shut_first) = match pair.relation {
            Relation::OneAtATime => (false, false, false, false),
            Relation::Leaf { needs_it_open, holds_it, strikes_it } => {
                (true, !strikes_it, needs_it_open, holds_it)
            }
        };
        let (drawer, other) = (pair.drawer.clone(), pair.other.clone());
        Together { drawer, other, leaf, both_open, needs_open, shut_first }
    };
    finished.moves.pairs.iter().map(pair).collect()
}
