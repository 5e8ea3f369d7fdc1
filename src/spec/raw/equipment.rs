//! Equipment as written.

use super::{BoltPlace, Facing};
use crate::spec::value::{Amount, Place};
use schemars::JsonSchema;
use serde::Deserialize;

/// A thing that is carried in the kit: a fridge, a tank, a battery. Whatever its `kind` in the catalogue says can be said
/// otherwise here. Lengths are along the bay, widths across it, before it is turned.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "equipment")]
pub(crate) struct Equipment {
    /// Its name, unique in the kit.
    pub(crate) id: Place<String>,
    /// Its name in the catalogue.
    pub(crate) kind: Option<Place<String>>,
    /// The cell in which it stands, named CARCASE-CELL.
    #[serde(rename = "in")]
    pub(crate) within: Option<Place<String>>,
    /// Instead of `in`: the tray or drawer on which it stands, named CARCASE-CELL, or a lying panel.
    pub(crate) on: Option<Place<String>>,
    /// Instead of `in` and `on`: the middle of its underside, in the vehicle.
    pub(crate) at: Option<Place<SpacePosition>>,
    /// From the middle of the cell, tray or panel to its own.
    pub(crate) offset: Option<Place<Offset>>,
    /// Degrees that it is turned, counter-clockwise seen from above: 0, 90, 180 or 270. Default: 0.
    pub(crate) turn: Option<Place<Amount>>,
    /// Over all.
    pub(crate) size: Option<Place<BoxSize>>,
    /// What it weighs.
    pub(crate) mass: Option<Place<EquipmentMass>>,
    /// Litres that it holds, of 1 kg each. Default: 0.
    pub(crate) liquid: Option<Place<Amount>>,
    /// Bolts through its feet, down into the panel under it.
    pub(crate) feet: Option<Place<Feet>>,
    /// How many straps hold it down, each bolted to the panel under it on either side. Default: 0.
    pub(crate) straps: Option<Place<Amount>>,
    /// How many bars over it hold it down, each bolted to the uprights on its left and right. Default: 0. With bars, `straps` of
    /// the catalogue do not count.
    pub(crate) bars: Option<Place<Amount>>,
    /// A lid that opens upward.
    pub(crate) lid: Option<Place<UpwardLid>>,
    /// The air that it needs.
    pub(crate) air: Option<Place<Air>>,
    /// What sort of battery it is, if it is one.
    pub(crate) battery: Option<Place<Battery>>,
    /// Whether it holds gas. Default: as the catalogue says, else false.
    pub(crate) gas: Option<Place<bool>>,
    /// Room that must stay free round its top while it is hot: what its maker asks for. A cooker has no default.
    pub(crate) heat: Option<Place<Heat>>,
    /// What gas it burns. A gas cooker has no default.
    pub(crate) burns: Option<Place<Burns>>,
    /// What makes its cell a vented locker; needed for gas.
    pub(crate) locker: Option<Place<VentedLocker>>,
    /// Faces that must stay in reach.
    pub(crate) reach: Option<Place<Vec<Place<FaceReach>>>>,
}

/// A place in the vehicle.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "space position")]
pub(crate) struct SpacePosition {
    /// Forward of the bay's rear edge (length).
    pub(crate) x: Place<Amount>,
    /// Left of the centreline; negative is to the right (length).
    pub(crate) y: Place<Amount>,
    /// Above the floor (length). Default: 0.
    pub(crate) z: Option<Place<Amount>>,
}

/// A move in plan.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "offset")]
pub(crate) struct Offset {
    /// Forward (length). Default: 0.
    pub(crate) x: Option<Place<Amount>>,
    /// To the left (length). Default: 0.
    pub(crate) y: Option<Place<Amount>>,
}

/// A box by its sides.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "box size")]
pub(crate) struct BoxSize {
    /// Along the bay (length).
    pub(crate) length: Place<Amount>,
    /// Across it (length).
    pub(crate) width: Place<Amount>,
    /// Up (length).
    pub(crate) height: Place<Amount>,
}

/// What equipment weighs.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "equipment mass")]
pub(crate) struct EquipmentMass {
    /// kg.
    pub(crate) empty: Place<Amount>,
    /// kg with what it holds. Default: empty, and 1 kg for each litre.
    pub(crate) full: Option<Place<Amount>>,
}

/// Bolts through feet.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "feet")]
pub(crate) struct Feet {
    /// Thread size, e.g. M6.
    pub(crate) bolt: Place<String>,
    /// Thickness of a foot under the bolt's head (length). Default: 3 mm.
    pub(crate) thickness: Option<Place<Amount>>,
    /// Where the bolts are, from the middle: x forward, y to the left, before it is turned.
    pub(crate) places: Place<Vec<Place<BoltPlace>>>,
}

/// A lid that opens upward.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "upward lid")]
pub(crate) struct UpwardLid {
    /// Room over the equipment that the open lid takes (length).
    pub(crate) height: Place<Amount>,
}

/// A battery.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "battery")]
pub(crate) struct Battery {
    /// What is in it.
    pub(crate) chemistry: Place<Chemistry>,
    /// How many cells in series. Default: 6.
    pub(crate) cells: Option<Place<Amount>>,
    /// Capacity, Ah.
    pub(crate) capacity: Place<Amount>,
}

/// What is in a battery.
#[derive(Clone, Copy, Debug, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub(crate) enum Chemistry {
    /// Lead and acid, with cells that are open to the air.
    LeadAcid,
    /// Lead and acid, closed by valves.
    LeadAcidSealed,
    /// Lithium of any sort.
    Lithium,
}

/// Room that stays free while equipment is hot: over it, and beside its sides above its top. Where it stands on a tray or a
/// drawer, it is used drawn out.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "heat")]
pub(crate) struct Heat {
    /// Over its top (length).
    pub(crate) above: Place<Amount>,
    /// Beside each of its sides, above its top (length).
    pub(crate) beside: Place<Amount>,
}

/// Gas that equipment burns.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "burns")]
pub(crate) struct Burns {
    /// MJ/h with all burners on, from its rating plate.
    pub(crate) rate: Place<Amount>,
    /// Whether it takes its air from outside and lets its fumes out there, apart from the room. Default: false.
    pub(crate) room_sealed: Option<Place<bool>>,
}

/// A cell that is closed towards the living space and open to the outside.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "vented locker")]
pub(crate) struct VentedLocker {
    /// Whether its seams and its door are sealed towards the inside of the vehicle.
    pub(crate) sealed: Place<bool>,
    /// Names of the cut-outs that lead outside at its floor.
    pub(crate) low: Place<Vec<Place<String>>>,
    /// Names of the cut-outs that lead outside under its ceiling.
    pub(crate) high: Place<Vec<Place<String>>>,
}

/// Air that equipment needs.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "air")]
pub(crate) struct Air {
    /// Its faces that must stand off everything, before it is turned.
    pub(crate) faces: Option<Place<Vec<Place<Facing>>>>,
    /// How far (length). Default: 50 mm.
    pub(crate) gap: Option<Place<Amount>>,
    /// Free area below its middle through which air comes in, cm2. Default: 0.
    pub(crate) inlet: Option<Place<Amount>>,
    /// Free area above its middle through which air goes out, cm2. Default: 0.
    pub(crate) outlet: Option<Place<Amount>>,
}

/// A face that must stay in reach.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "face reach")]
pub(crate) struct FaceReach {
    /// The face, before it is turned.
    pub(crate) face: Place<Facing>,
    /// Room for a hand before it (length). Default: 60 mm.
    pub(crate) room: Option<Place<Amount>>,
}
