//! Notches as written.

use schemars::JsonSchema;
use serde::Deserialize;

use crate::spec::value::{Amount, Place};

/// A piece cut out of a carcase's side from below, and out of its base from that side.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "notch")]
pub(crate) struct Notch {
    /// The side that is notched.
    pub(crate) side: Place<NotchSide>,
    /// From the bay's rear edge forward to where it starts (length).
    pub(crate) from: Place<Amount>,
    /// From the bay's rear edge forward to where it ends (length).
    pub(crate) to: Place<Amount>,
    /// From the bay's floor up to its upper edge (length).
    pub(crate) height: Place<Amount>,
    /// From the outer edge of the base inward (length). Left out, the base stays whole: room for the head of a bolt
    /// that holds the kit down.
    pub(crate) depth: Option<Place<Amount>>,
}

/// Which side of a carcase, as seen from the tailgate.
#[derive(Clone, Copy, Debug, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub(crate) enum NotchSide {
    /// Left.
    Left,
    /// Right.
    Right,
    /// Both, alike.
    Both,
}
