//! Finishes as asked for.

use super::Towards;
use crate::diag::{At, Span};

/// What covers faces of panels.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct FinishWish {
    /// Its name, unique in the kit.
    pub(crate) id: At<String>,
    /// Name of the finish in the catalogue.
    pub(crate) kind: At<String>,
    /// Names of panels, in which `*` stands for any run of characters. At least one.
    pub(crate) panels: Vec<At<String>>,
    /// The faces that it is on. Default: face A, which shows.
    pub(crate) faces: FinishedFaces,
    /// Whether it is taken round free edges. Default: as is ordinary for the finish.
    pub(crate) wrap: Option<bool>,
    /// mm of strips along the panels' edges that stay bare.
    pub(crate) bare: Vec<(Towards, At<f64>)>,
    /// Where it is described.
    pub(crate) span: Span,
}

/// Faces of a panel.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum FinishedFaces {
    /// The face that is up while the panel is cut, and that shows.
    A,
    /// The other one.
    B,
    /// Both.
    Both,
}
