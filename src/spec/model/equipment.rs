//! Equipment as asked for. What is `None` is as the catalogue says.

use super::Towards;
use crate::diag::{At, Span};
use crate::geom::{Point3, VehicleFrame};

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
    /// mm over it for its open lid.
    pub(crate) lid: Option<At<f64>>,
    /// Air that it needs.
    pub(crate) air: Option<Air>,
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
