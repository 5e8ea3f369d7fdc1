//! Factors and limits of the checks of strength, and what panels bear, as asked for.

use crate::diag::{At, Span};

/// A factor or a limit of the checks of strength.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Setting<T = f64> {
    /// In the unit of its name.
    pub(crate) value: T,
    /// Whether the workshop says so; else it is the default.
    pub(crate) own: bool,
}

impl<T> Setting<T> {
    /// What the workshop says, else the default.
    pub(crate) fn or(own: Option<T>, default: T) -> Self {
        Setting { own: own.is_some(), value: own.unwrap_or(default) }
    }
}

/// Factors and limits of the checks of strength. Defaults and what they rest on: `strength::settings`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct StrengthSettings {
    /// Service class after EN 1995-1-1: 1, 2 or 3.
    pub(crate) service_class: Setting,
    /// Class of the bolts.
    pub(crate) bolts: Setting<BoltClass>,
    /// kg of a person who kneels.
    pub(crate) person: Setting,
    /// mm. Side of the square under a knee.
    pub(crate) knee: Setting,
    /// mm between the middles of two knees.
    pub(crate) knees_apart: Setting,
    /// On loads at rest.
    pub(crate) load_factor: Setting,
    /// On forces of braking and cornering.
    pub(crate) restraint_factor: Setting,
    /// On weights, on a rough track.
    pub(crate) rough_track: Setting,
    /// On the weight of a drawer that is out.
    pub(crate) drawer_out: Setting,
    /// Span by sag for a moment.
    pub(crate) sag_moment: Setting,
    /// Span by sag for good.
    pub(crate) sag_lasting: Setting,
    /// Part of what is stored that is always there.
    pub(crate) stored_part: Setting,
    /// Part of the weight that counts against tipping.
    pub(crate) weight_counted: Setting,
    /// For loose modules.
    pub(crate) tipping_factor: Setting,
    /// On the pull on a latch.
    pub(crate) latch_factor: Setting,
    /// Degrees.
    pub(crate) latch_slope: Setting,
    /// Under what is carried.
    pub(crate) friction: Setting,
    /// N.
    pub(crate) strap_tension: Setting,
    /// N.
    pub(crate) strap_rating: Setting,
}

/// Class of steel bolts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum BoltClass {
    /// ISO 898-1, 4.6.
    Class46,
    /// ISO 898-1, 8.8.
    Class88,
    /// ISO 3506-1, stainless.
    A2_70,
}

/// What a panel bears beside what is known of it.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct PanelLoad {
    /// Name of the panel.
    pub(crate) panel: At<String>,
    /// kg, if it bears something.
    pub(crate) mass: Option<f64>,
    /// How that presses.
    pub(crate) pressing: Pressing,
    /// mm, of a foot's side or of a line.
    pub(crate) size: Option<f64>,
    /// Whether it stays for good.
    pub(crate) lasting: bool,
    /// Whether a person may kneel on the panel, if that is said.
    pub(crate) person: Option<bool>,
    /// Where it is described.
    pub(crate) span: Span,
}

/// How a mass presses on a panel.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Pressing {
    /// Evenly over it.
    Spread,
    /// On a square.
    Foot,
    /// On a line across the span.
    Line,
}
