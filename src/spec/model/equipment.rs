//! Equipment as asked for. What is `None` is as the catalogue says.

use super::Towards;
use crate::diag::{At, Span};
use crate::geom::{Point3, VehicleFrame};
use serde::Deserialize;

/// A thing that is carried in the kit.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Equipment {
    /// Unique in the kit.
    pub(crate) id: At<String>,
    /// Its name in the catalogue.
    pub(crate) kind: Option<At<String>>,
    /// Where it stands.
    pub(crate) place: EquipmentPlace,
    /// mm, forward and to the left, from the middle of its place.
    pub(crate) offset: (f64, f64),
    /// Quarter turns, counter-clockwise seen from above.
    pub(crate) turns: u8,
    /// mm. Along, across and up, before it is turned.
    pub(crate) size: Option<At<[f64; 3]>>,
    /// kg, empty.
    pub(crate) empty: Option<At<f64>>,
    /// kg, full.
    pub(crate) full: Option<At<f64>>,
    /// Litres.
    pub(crate) liquid: Option<At<f64>>,
    /// Bolts through its feet.
    pub(crate) feet: Option<Feet>,
    /// How many straps hold it.
    pub(crate) straps: Option<At<u32>>,
    /// How many bars over it hold it.
    pub(crate) bars: Option<At<u32>>,
    /// mm over it for its open lid.
    pub(crate) lid: Option<At<f64>>,
    /// Air that it needs.
    pub(crate) air: Option<Air>,
    /// What sort of battery it is.
    pub(crate) battery: Option<Battery>,
    /// Whether it holds gas.
    pub(crate) gas: Option<bool>,
    /// Room that stays free while it is hot.
    pub(crate) heat: Option<Heat>,
    /// What gas it burns.
    pub(crate) burns: Option<Burns>,
    /// What makes its cell a vented locker.
    pub(crate) locker: Option<VentedLocker>,
    /// Faces that must stay in reach, and mm of room before each.
    pub(crate) reach: Option<Vec<(Towards, f64)>>,
    /// Where it is described.
    pub(crate) span: Span,
}

/// Where equipment stands.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum EquipmentPlace {
    /// In the cell of this name.
    In(At<String>),
    /// On the tray, drawer or panel of this name.
    On(At<String>),
    /// The middle of its underside.
    At(Point3<VehicleFrame>),
}

/// Bolts through feet.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Feet {
    /// Thread size.
    pub(crate) size: At<String>,
    /// mm. Thickness of a foot.
    pub(crate) thickness: f64,
    /// mm from the middle: forward and to the left, before it is turned.
    pub(crate) places: Vec<[f64; 2]>,
}

/// Air that equipment needs.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Air {
    /// Faces that must stand off everything.
    pub(crate) faces: Vec<Towards>,
    /// mm.
    pub(crate) gap: f64,
    /// mm2 of free area below its middle.
    pub(crate) inlet: f64,
    /// mm2 of free area above its middle.
    pub(crate) outlet: f64,
}

impl Air {
    /// mm2 of free area below and above its middle, for its own air and for what a battery frees.
    pub(crate) fn needed(air: Option<&Air>, battery: Option<Battery>) -> (f64, f64) {
        let (inlet, outlet) = air.map_or((0.0, 0.0), |air| (air.inlet, air.outlet));
        let vent = battery.map_or(0.0, |battery| battery.vent());
        (inlet.max(vent), outlet.max(vent))
    }
}

/// Room that stays free while equipment is hot, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Heat {
    /// Over its top.
    pub(crate) above: f64,
    /// Beside its sides, above its top.
    pub(crate) beside: f64,
}

/// Gas that equipment burns.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Burns {
    /// MJ/h.
    pub(crate) rate: f64,
    /// Whether its air and its fumes are apart from the room.
    pub(crate) room_sealed: bool,
}

/// A battery.
#[derive(Clone, Copy, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Battery {
    /// What is in it.
    pub(crate) chemistry: Chemistry,
    /// Cells in series.
    pub(crate) cells: f64,
    /// Ah.
    #[serde(rename = "capacity_ah")]
    pub(crate) capacity: f64,
}

/// What is in a battery.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub(crate) enum Chemistry {
    /// Lead and acid, with cells that are open to the air.
    LeadAcid,
    /// Lead and acid, closed by valves.
    LeadAcidSealed,
    /// Lithium of any sort.
    Lithium,
}

impl Battery {
    /// mm2 of free area low and as much high, for the hydrogen that charging frees; nothing for lithium.
    ///
    /// `Q = 0.05 n I C / 100` m3/h with `I` = 1 A per 100 Ah for cells closed by valves and 2 for open ones charged with
    /// limited voltage, and `A = 28 Q` cm2 (EN 50272-3, read in public copies; one copy of IEC 62485-3 has 0.055).
    pub(crate) fn vent(&self) -> f64 {
        let per_100_ah = match self.chemistry {
            Chemistry::LeadAcid => 2.0,
            Chemistry::LeadAcidSealed => 1.0,
            Chemistry::Lithium => 0.0,
        };
        let flow = 0.05 * self.cells * per_100_ah * self.capacity / 100.0;
        28.0 * flow * 100.0
    }
}

/// A cell that is closed towards the living space and open to the outside.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct VentedLocker {
    /// Whether it is sealed towards the inside.
    pub(crate) sealed: bool,
    /// Cut-outs that lead outside at its floor.
    pub(crate) low: Vec<At<String>>,
    /// Cut-outs that lead outside under its ceiling.
    pub(crate) high: Vec<At<String>>,
}
