//! Slide-out trays as written.

use super::{Joints, TrayStyle};
use crate::spec::value::{Amount, Place};
use schemars::JsonSchema;
use serde::Deserialize;

/// A slide-out tray: a platform on a pair of slides, for a fridge, a cooker, a worktop.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "tray")]
pub(crate) struct Tray {
    /// Catalogue name of a slide, or of a family of slides: the longest that fits.
    pub(crate) slide: Place<String>,
    /// Whether sides stand up around the platform or it lies flat on them. Default: lipped.
    pub(crate) style: Option<Place<TrayStyle>>,
    /// Length of the tray (length). Default: as long as the slide and the carcase allow.
    pub(crate) depth: Option<Place<Amount>>,
    /// Height over its panels (length). Default: what the slide needs.
    pub(crate) height: Option<Place<Amount>>,
    /// From the underside to the slide's centre line (length).
    pub(crate) slide_height: Option<Place<Amount>>,
    /// What stays free below it (length). Default: 10 mm.
    pub(crate) clear_below: Option<Place<Amount>>,
    /// Catalogue name of the material of its sides and ends. Default: that of the carcase's drawers.
    pub(crate) panel: Option<Place<String>>,
    /// Catalogue name of the material of the platform. Default: that of its sides.
    pub(crate) platform: Option<Place<String>>,
    /// Catalogue name of the material of a false front. Default: it has none.
    pub(crate) front: Option<Place<String>>,
    /// Whether it must come out so far that its rear end stands clear of the carcase. Default: false.
    pub(crate) comes_clear: Option<Place<bool>>,
    /// What is put on it beside the equipment that stands there, kg.
    pub(crate) load: Option<Place<Amount>>,
    /// Pull that its latch holds against coming out, N, from the supplier's sheet.
    pub(crate) latch: Option<Place<Amount>>,
    /// How its panels meet.
    pub(crate) joints: Option<Joints>,
}

/// A cell without a deck over it.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "open top")]
pub(crate) struct OpenTop {
    /// From the fronts on so much of the deck is left out (length). Default: all of it.
    pub(crate) depth: Option<Place<Amount>>,
}
