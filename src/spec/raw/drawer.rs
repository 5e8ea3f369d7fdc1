//! Drawers as written, and what those of a carcase share.

use super::Joints;
use crate::spec::value::{Amount, Place};
use schemars::JsonSchema;
use serde::Deserialize;

/// Defaults for the drawers of a carcase.
#[derive(Debug, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "drawers")]
pub(crate) struct Drawers {
    /// Catalogue name of the material of the boxes. Default: the carcase's `panel`.
    pub(crate) panel: Option<Place<String>>,
    /// Catalogue name of the material of the bottoms. Default: that of the boxes.
    pub(crate) bottom: Option<Place<String>>,
    /// What stays free above a box (length). Default: 15 mm.
    pub(crate) clear_above: Option<Place<Amount>>,
    /// What stays free below a box (length). Default: 10 mm.
    pub(crate) clear_below: Option<Place<Amount>>,
    /// How the panels of the boxes meet.
    pub(crate) joints: Option<Joints>,
}

/// A drawer.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "drawer")]
pub(crate) struct Drawer {
    /// Catalogue name of a slide, or of a family of slides: the longest that fits.
    pub(crate) slide: Place<String>,
    /// Length of the box (length). Default: as long as the slide and the carcase allow.
    pub(crate) depth: Option<Place<Amount>>,
    /// Height of the box (length). Default: what the clearances leave.
    pub(crate) box_height: Option<Place<Amount>>,
    /// From the underside of the box to the slide's centre line (length).
    pub(crate) slide_height: Option<Place<Amount>>,
    /// What stays free above the box (length).
    pub(crate) clear_above: Option<Place<Amount>>,
    /// What stays free below the box (length).
    pub(crate) clear_below: Option<Place<Amount>>,
    /// Catalogue name of the material of the box.
    pub(crate) panel: Option<Place<String>>,
    /// Catalogue name of the material of the bottom.
    pub(crate) bottom: Option<Place<String>>,
    /// Catalogue name of the material of the false front.
    pub(crate) front: Option<Place<String>>,
    /// What is put into it, kg.
    pub(crate) load: Option<Place<Amount>>,
    /// Pull that its latch holds against opening, N, from the supplier's sheet.
    pub(crate) latch: Option<Place<Amount>>,
    /// How the panels of the box meet.
    pub(crate) joints: Option<Joints>,
}
