//! Equipment: fridges, tanks, batteries and their like, with generic sizes; and the straps that hold them down.
//!
//! Takes rows of `data/equipment.yaml`, gives [`EquipmentKind`]s. Does not place them.

use crate::spec::{Battery, Towards};
use serde::Deserialize;

/// A kind of equipment.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct EquipmentKind {
    /// What a spec calls it.
    pub(crate) id: String,
    /// What people call it.
    pub(crate) title: String,
    /// mm. Along the bay, across it, up.
    #[serde(rename = "size_mm")]
    pub(crate) size: [f64; 3],
    /// What it weighs.
    #[serde(rename = "mass_kg")]
    pub(crate) mass: KindMass,
    /// Litres that it holds.
    #[serde(rename = "liquid_l", default)]
    pub(crate) liquid: f64,
    /// Bolts through its feet.
    pub(crate) feet: Option<KindFeet>,
    /// How many straps hold it.
    #[serde(default)]
    pub(crate) straps: u32,
    /// mm over it for its open lid.
    #[serde(rename = "lid_mm")]
    pub(crate) lid: Option<f64>,
    /// Air that it needs.
    pub(crate) air: Option<KindAir>,
    /// What sort of battery it is.
    pub(crate) battery: Option<Battery>,
    /// Whether it holds gas.
    #[serde(default)]
    pub(crate) gas: bool,
    /// What whoever places it must say, since it has no generic value.
    #[serde(default)]
    pub(crate) asks: Vec<Asked>,
    /// Faces that must stay in reach.
    #[serde(default)]
    pub(crate) reach: Vec<KindReach>,
    /// Where the row comes from.
    pub(crate) source: String,
}

/// A key of equipment without a generic value.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub(crate) enum Asked {
    /// Room that stays free while it is hot.
    Heat,
    /// What gas it burns.
    Burns,
}

/// kg.
#[derive(Clone, Copy, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct KindMass {
    /// By itself.
    pub(crate) empty: f64,
    /// With what it holds; by default a kg for each litre more.
    pub(crate) full: Option<f64>,
}

/// Bolts through feet.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct KindFeet {
    /// Thread size.
    pub(crate) bolt: String,
    /// mm under a head.
    #[serde(rename = "thickness_mm")]
    pub(crate) thickness: f64,
    /// mm from the middle, forward and to the left.
    #[serde(rename = "places_mm")]
    pub(crate) places: Vec<[f64; 2]>,
}

/// Air that equipment needs.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct KindAir {
    /// Faces that stand off everything.
    pub(crate) faces: Vec<Towards>,
    /// mm.
    #[serde(rename = "gap_mm")]
    pub(crate) gap: f64,
    /// cm2.
    #[serde(rename = "inlet_cm2")]
    pub(crate) inlet: f64,
    /// cm2.
    #[serde(rename = "outlet_cm2")]
    pub(crate) outlet: f64,
}

/// A face that must stay in reach.
#[derive(Clone, Copy, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct KindReach {
    /// The face.
    pub(crate) face: Towards,
    /// mm for a hand.
    #[serde(rename = "room_mm")]
    pub(crate) room: f64,
}

/// A strap over equipment, with a bolted plate on either side.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Strap {
    /// mm. Of the webbing.
    #[serde(rename = "width_mm")]
    pub(crate) width: f64,
    /// mm. Of the webbing.
    #[serde(rename = "thickness_mm")]
    pub(crate) thickness: f64,
    /// Thread size of the plates' bolts.
    pub(crate) bolt: String,
    /// mm. A plate, along and across the strap.
    #[serde(rename = "plate_mm")]
    pub(crate) plate: [f64; 2],
    /// mm. Of a plate's metal.
    #[serde(rename = "plate_thickness_mm")]
    pub(crate) plate_thickness: f64,
    /// mm from the equipment's side to the plate's bolt.
    #[serde(rename = "from_side_mm")]
    pub(crate) from_side: f64,
    /// kg with both plates.
    #[serde(rename = "mass_kg")]
    pub(crate) mass: f64,
    /// Where the row comes from.
    pub(crate) source: String,
}

/// A flat bar over equipment, with a tab at either end.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Bar {
    /// mm.
    #[serde(rename = "width_mm")]
    pub(crate) width: f64,
    /// mm.
    #[serde(rename = "thickness_mm")]
    pub(crate) thickness: f64,
    /// mm. Length of a tab, the bar's own thickness included.
    #[serde(rename = "tab_mm")]
    pub(crate) tab: f64,
    /// Thread size of a tab's bolt.
    pub(crate) bolt: String,
    /// kg/m3.
    #[serde(rename = "density_kg_m3")]
    pub(crate) density: f64,
    /// Where the row comes from.
    pub(crate) source: String,
}

/// `data/equipment.yaml` as written.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct EquipmentFile {
    pub(super) equipment: Vec<EquipmentKind>,
    pub(super) strap: Strap,
    pub(super) bar: Bar,
}
