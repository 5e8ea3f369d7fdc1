//! Rows of the catalogue as a workshop writes them: materials, slides, angles.

use super::Stock;
use crate::spec::value::{Amount, Place};
use schemars::JsonSchema;
use serde::Deserialize;

/// A board material.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "material")]
pub(crate) struct Material {
    /// What kind of board.
    pub(crate) family: Option<Place<String>>,
    /// Thickness by which it is sold (length).
    pub(crate) nominal: Option<Place<Amount>>,
    /// Thickness as measured (length).
    pub(crate) actual: Option<Place<Amount>>,
    /// kg/m3.
    pub(crate) density: Option<Place<Amount>>,
    /// Whether its face has a grain.
    pub(crate) grain: Option<Place<bool>>,
    /// Bending modulus along the grain, `MPa`.
    pub(crate) e_along: Option<Place<Amount>>,
    /// Bending modulus across the grain, `MPa`.
    pub(crate) e_across: Option<Place<Amount>>,
    /// What sort of board it is to the checks of strength.
    pub(crate) kind: Option<Place<BoardKind>>,
    /// Bending strength along the grain, `MPa`: the characteristic value of a board, the yield strength of a metal.
    pub(crate) bending_along: Option<Place<Amount>>,
    /// Bending strength across the grain, `MPa`.
    pub(crate) bending_across: Option<Place<Amount>>,
    /// Shear modulus in the sheet's plane, `MPa`.
    pub(crate) shear_modulus: Option<Place<Amount>>,
    /// Shear strength in the sheet's plane, `MPa`, characteristic.
    pub(crate) panel_shear: Option<Place<Amount>>,
    /// Shear strength between the plies, `MPa`, characteristic.
    pub(crate) planar_shear: Option<Place<Amount>>,
    /// Compressive strength across the sheet's plane, `MPa`, characteristic.
    pub(crate) flat_compression: Option<Place<Amount>>,
    /// Characteristic density of a board, kg/m3.
    pub(crate) characteristic_density: Option<Place<Amount>>,
    /// Tensile strength of a metal, `MPa`.
    pub(crate) tensile: Option<Place<Amount>>,
    /// Sheets in which it is bought.
    pub(crate) stock: Option<Place<Vec<Stock>>>,
    /// Where the values come from.
    pub(crate) source: Option<Place<String>>,
}

/// What sort of board a material is to the checks of strength.
#[derive(Clone, Copy, Debug, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub(crate) enum BoardKind {
    /// Plywood.
    Plywood,
    /// Fibreboard of medium density.
    Mdf,
    /// Aluminium.
    Aluminium,
}

/// A slide.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "slide")]
pub(crate) struct Slide {
    /// The family whose lengths belong together.
    pub(crate) family: Option<Place<String>>,
    /// Closed (length).
    pub(crate) length: Option<Place<Amount>>,
    /// From closed to fully open (length).
    pub(crate) travel: Option<Place<Amount>>,
    /// How far it lowers what it carries once it is fully open (length). Default: 0.
    pub(crate) drop: Option<Place<Amount>>,
    /// What one slide takes between drawer and carcase (length).
    pub(crate) thickness: Option<Place<Amount>>,
    /// Over its profile (length).
    pub(crate) height: Option<Place<Amount>>,
    /// What a pair bears, kg.
    pub(crate) rating_pair: Option<Place<Amount>>,
    /// From the slide's end at the fronts to the holes of the member on the carcase (lengths).
    pub(crate) fixed: Option<Place<Vec<Place<Amount>>>>,
    /// From the slide's end at the fronts to the holes of the member on the drawer (lengths).
    pub(crate) moving: Option<Place<Vec<Place<Amount>>>>,
    /// Thread size of its bolts, e.g. M6.
    pub(crate) bolt: Option<Place<String>>,
    /// Metal under a bolt's head (length).
    pub(crate) wall: Option<Place<Amount>>,
    /// Room in the channel for a bolt's head (length).
    pub(crate) head_room: Option<Place<Amount>>,
    /// Mass of a pair, kg.
    pub(crate) mass_pair: Option<Place<Amount>>,
    /// Where the values come from.
    pub(crate) source: Option<Place<String>>,
}

/// An angle section.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "angle")]
pub(crate) struct Angle {
    /// Of a leg, from the heel (length).
    pub(crate) leg: Option<Place<Amount>>,
    /// Of the metal (length).
    pub(crate) thickness: Option<Place<Amount>>,
    /// From the heel to the line of holes in a leg (length).
    pub(crate) gauge: Option<Place<Amount>>,
    /// kg/m.
    pub(crate) mass_per_metre: Option<Place<Amount>>,
    /// Thread size of the largest bolt it takes, e.g. M6.
    pub(crate) bolt: Option<Place<String>>,
    /// Yield strength of its alloy, `MPa`.
    pub(crate) yield_strength: Option<Place<Amount>>,
    /// Tensile strength of its alloy, `MPa`.
    pub(crate) tensile: Option<Place<Amount>>,
    /// Where the values come from.
    pub(crate) source: Option<Place<String>>,
}
