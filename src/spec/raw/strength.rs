//! The workshop's key `strength` and the design's `panel_loads` as written.

use crate::spec::value::{Amount, Place};
use schemars::JsonSchema;
use serde::Deserialize;

/// Factors and limits of the checks of strength. The report prints each with what it rests on.
#[derive(Debug, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "strength")]
pub(crate) struct Strength {
    /// Service class of the boards after EN 1995-1-1, 1 to 3: dry, damp at times, wet. Default: 2.
    pub(crate) service_class: Option<Place<Amount>>,
    /// Class of the bolts. Default: 8.8.
    pub(crate) bolts: Option<Place<BoltClass>>,
    /// A person who kneels on a deck or a lid, kg. Default: 100.
    pub(crate) person: Option<Place<Amount>>,
    /// Side of the square that a knee presses on (length). Default: 75 mm.
    pub(crate) knee: Option<Place<Amount>>,
    /// Between the middles of two knees (length). Default: 250 mm.
    pub(crate) knees_apart: Option<Place<Amount>>,
    /// By what loads at rest are multiplied. Default: 1.5.
    pub(crate) load_factor: Option<Place<Amount>>,
    /// By what the forces of braking and cornering are multiplied. Default: 1.25.
    pub(crate) restraint_factor: Option<Place<Amount>>,
    /// By what the weight of everything is multiplied on a rough track. Default: 2.
    pub(crate) rough_track: Option<Place<Amount>>,
    /// By what the weight of a drawer that is out is multiplied: it drops onto its stop, somebody leans on it. Default: 2.
    pub(crate) drawer_out: Option<Place<Amount>>,
    /// Span by the sag under what is there for a moment, at least. Default: 60.
    pub(crate) sag_moment: Option<Place<Amount>>,
    /// Span by the sag under what stays, creep counted, at least. Default: 200.
    pub(crate) sag_lasting: Option<Place<Amount>>,
    /// Part of what is stored that counts as always there, from 0 to 1. Default: 0.8.
    pub(crate) stored_part: Option<Place<Amount>>,
    /// Part of a weight that counts against tipping in braking and cornering, from 0 to 1. Default: 0.
    pub(crate) weight_counted: Option<Place<Amount>>,
    /// How many times what tips a loose module must be held. Default: 1.5.
    pub(crate) tipping_factor: Option<Place<Amount>>,
    /// By what the pull on a latch is multiplied. Default: 1.5.
    pub(crate) latch_factor: Option<Place<Amount>>,
    /// Slope on which latches hold, degrees. Default: 20.
    pub(crate) latch_slope: Option<Place<Amount>>,
    /// Friction between what is carried and what it stands on. Default: 0.3.
    pub(crate) friction: Option<Place<Amount>>,
    /// Pull to which a strap is tightened, N. Default: 500.
    pub(crate) strap_tension: Option<Place<Amount>>,
    /// Pull that a strap bears, N. Default: 2500.
    pub(crate) strap_rating: Option<Place<Amount>>,
}

/// Class of steel bolts.
#[derive(Clone, Copy, Debug, Deserialize, JsonSchema)]
pub(crate) enum BoltClass {
    /// ISO 898-1, 4.6.
    #[serde(rename = "4.6")]
    Class46,
    /// ISO 898-1, 8.8.
    #[serde(rename = "8.8")]
    Class88,
    /// ISO 3506-1, stainless.
    #[serde(rename = "A2-70")]
    A2_70,
}

/// What a panel bears beside what is known of it.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "panel load")]
pub(crate) struct PanelLoad {
    /// Name of a lying panel.
    pub(crate) panel: Place<String>,
    /// kg.
    pub(crate) mass: Option<Place<Amount>>,
    /// How the mass presses. Default: spread.
    pub(crate) pressing: Option<Place<Pressing>>,
    /// Side of the square that a foot presses on (length), or length of the line. Default: 75 mm; a line as long as the panel is
    /// wide.
    pub(crate) size: Option<Place<Amount>>,
    /// Whether it stays for good, so that boards creep under it. Default: true.
    pub(crate) lasting: Option<Place<bool>>,
    /// Whether a person may kneel on the panel. Default: on decks and lids up to 800 mm above the bay's floor.
    pub(crate) person: Option<Place<bool>>,
}

/// How a mass presses on a panel.
#[derive(Clone, Copy, Debug, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub(crate) enum Pressing {
    /// Evenly over the panel.
    Spread,
    /// On a small square, where it does most.
    Foot,
    /// On a line across the span, where it does most.
    Line,
}
