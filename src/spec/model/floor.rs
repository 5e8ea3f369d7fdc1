//! False floors: panels on the ribs of the bay's floor.

use crate::diag::{At, Span};

/// A panel that lies on the ribs of the bay's floor, under carcases that stand on it.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct FalseFloor {
    /// Name of the panel.
    pub(crate) id: At<String>,
    /// Name of its material.
    pub(crate) panel: At<String>,
    /// mm, x of its rear edge.
    pub(crate) from: At<f64>,
    /// mm, x of its front edge.
    pub(crate) to: At<f64>,
    /// mm across.
    pub(crate) width: At<f64>,
    /// mm, y of its middle.
    pub(crate) y: At<f64>,
    /// Where it is described.
    pub(crate) span: Span,
}
