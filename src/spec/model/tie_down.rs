//! Tie-downs as asked for.

use super::OnPanel;
use crate::diag::At;

/// What a strap hooks into, or several alike.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct TieDown {
    /// Where it is.
    pub(crate) on: OnPanel,
    /// Its name in the catalogue.
    pub(crate) kind: At<String>,
    /// Whether its length goes up.
    pub(crate) upright: bool,
    /// N; `None` is the catalogue's.
    pub(crate) rating: Option<At<f64>>,
    /// Degrees between the strap and the panel. Default 45.
    pub(crate) strap_angle: At<f64>,
    /// kg that one strap from here is to hold by itself.
    pub(crate) holds: Option<At<f64>>,
}
