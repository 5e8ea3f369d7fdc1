//! Legends as asked for.

use super::OnPanel;
use crate::diag::At;

/// A text engraved into a panel.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Legend {
    /// Where it is; never several.
    pub(crate) on: OnPanel,
    /// What it says.
    pub(crate) text: At<String>,
    /// mm. Of its capitals. Default 6.
    pub(crate) height: At<f64>,
    /// Whether it reads upwards.
    pub(crate) upright: bool,
}
