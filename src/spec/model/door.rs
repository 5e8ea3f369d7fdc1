//! Doors of lockers as asked for.

use super::{FrontStyle, Towards};
use crate::diag::{At, Span};

/// A hinged door that closes a cell.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Door {
    /// The edge at which it turns: left, right, up or down.
    pub(crate) hinge: At<Towards>,
    /// Over the carcase's edges or between them.
    pub(crate) style: FrontStyle,
    /// Catalogue name of its hinges.
    pub(crate) hinges: At<String>,
    /// How many; `None` follows from its size.
    pub(crate) count: Option<At<u32>>,
    /// mm of fixed strip inside the opening.
    pub(crate) strip: At<f64>,
    /// Catalogue name of its latch.
    pub(crate) latch: At<String>,
    /// mm along the free edge from its lower or left end; `None` is the middle.
    pub(crate) latch_at: Option<At<f64>>,
    /// Catalogue name of what holds it open.
    pub(crate) stay: Option<At<String>>,
    /// Degrees.
    pub(crate) open: At<f64>,
    /// Material of door and strip.
    pub(crate) panel: At<String>,
    /// Where it is described.
    pub(crate) span: Span,
}
