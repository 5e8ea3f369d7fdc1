//! Fittings that are set into panels, as a workshop writes them.

use crate::spec::value::{Amount, Place};
use schemars::JsonSchema;
use serde::Deserialize;

/// A fitting that is set into an opening of a panel and bolted to it.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "fitting")]
pub(crate) struct PanelFitting {
    /// What people call it.
    pub(crate) title: Option<Place<String>>,
    /// The opening that it needs.
    pub(crate) opening: Option<Place<FittingOpening>>,
    /// What lies on the panel's face.
    pub(crate) plate: Option<Place<Plate>>,
    /// Thickness of that plate (length).
    pub(crate) flange: Option<Place<Amount>>,
    /// Room behind the panel's face, the panel's thickness included (length).
    pub(crate) behind: Option<Place<Amount>>,
    /// Thread size of its bolts, e.g. M4.
    pub(crate) bolt: Option<Place<String>>,
    /// Its bolts, from the opening's middle.
    pub(crate) bolts: Option<Place<Vec<Place<BoltPlace>>>>,
    /// Free area for air, cm2.
    pub(crate) air: Option<Place<Amount>>,
    /// kg.
    pub(crate) mass: Option<Place<Amount>>,
    /// Where the values come from.
    pub(crate) source: Option<Place<String>>,
}

/// The opening for a fitting: round by its `diameter`, or a rectangle.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "fitting opening")]
pub(crate) struct FittingOpening {
    /// Of a round one (length).
    pub(crate) diameter: Option<Place<Amount>>,
    /// Of a rectangle (length).
    pub(crate) width: Option<Place<Amount>>,
    /// Of a rectangle (length).
    pub(crate) height: Option<Place<Amount>>,
    /// Of a rectangle's corners (length). Default: the tool's.
    pub(crate) radius: Option<Place<Amount>>,
}

/// A rectangle by its sides.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "plate")]
pub(crate) struct Plate {
    /// To the right (length).
    pub(crate) width: Place<Amount>,
    /// Up (length).
    pub(crate) height: Place<Amount>,
}

/// Where a bolt is.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "bolt place")]
pub(crate) struct BoltPlace {
    /// To the right (length).
    pub(crate) x: Place<Amount>,
    /// Up (length).
    pub(crate) y: Place<Amount>,
}
