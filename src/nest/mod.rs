//! Panels of one material and thickness onto stock sheets.
//!
//! Takes outlines and stock, gives placements and a proven lower bound; knows nothing of bolts or files. The
//! search stands behind [`nest`] and can be replaced without touching anything else.

use crate::geom::{PanelFrame, Path, SheetPlacement};

/// How a part may be turned against the sheet's length (along which the sheet's face grain runs).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Turns {
    /// The part's u stays along the sheet: 0 or 180 degrees.
    GrainKept,
    /// Quarter turns are allowed.
    Free,
}

/// A part to be cut.
#[derive(Clone, Debug)]
pub(crate) struct Part {
    /// The panel's name.
    pub(crate) name: String,
    /// Outer contour in the panel's frame.
    pub(crate) outline: Path<PanelFrame>,
    /// How it may be turned. A part is never flipped: face A is up.
    pub(crate) turns: Turns,
}

/// A size of sheet that can be bought in any number.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Stock {
    /// Name for tables and files, e.g. `2440x1220`.
    pub(crate) name: String,
    /// mm along the grain.
    pub(crate) length: f64,
    /// mm.
    pub(crate) width: f64,
}

/// What the cutting needs between and around parts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Clearances {
    /// mm between the outlines of two parts: tool diameter plus margin.
    pub(crate) gap: f64,
    /// mm of the sheet's edge, all round, that no part may use.
    pub(crate) trim: f64,
}

/// A part on a sheet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Placed {
    /// Index into the parts that were given.
    pub(crate) part: usize,
    /// Where it lies.
    pub(crate) placement: SheetPlacement,
}

/// One stock sheet with the parts on it.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Sheet {
    /// Index into the stock that was given.
    pub(crate) stock: usize,
    /// The parts, in cutting order.
    pub(crate) placed: Vec<Placed>,
}

/// A packing of all parts that fit any sheet, with what is known about fewer sheets.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Nesting {
    /// Sheets in order.
    pub(crate) sheets: Vec<Sheet>,
    /// No packing of these parts can use fewer sheets than this.
    pub(crate) bound: usize,
    /// Indices of parts that fit no sheet in any allowed turn; they are on none.
    pub(crate) too_large: Vec<usize>,
}
