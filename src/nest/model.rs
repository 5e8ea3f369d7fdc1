//! What goes into the nesting and what comes out: parts, stock, clearances, sheets.
//!
//! Plain data in millimetres. Knows nothing of the search, of bolts or of files.

use super::effort::Cutting;
use crate::geom::{PanelFrame, Path, SheetPlacement};

/// How a part may be turned against the sheet's length (along which the sheet's face grain runs).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Turns {
    /// The part lies as it is drawn: a pattern or a grain with a direction.
    #[cfg_attr(
        not(test),
        expect(dead_code, reason = "for cut lists; a kit's panels may always turn by a half")
    )]
    Fixed,
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
    /// Contours cut out of it. Other parts may lie in them.
    pub(crate) openings: Vec<Path<PanelFrame>>,
    /// How it may be turned.
    pub(crate) turns: Turns,
    /// Whether it may be laid face down: both faces are alike and nothing is machined from one of them.
    pub(crate) either_face: bool,
}

/// A size of sheet, new or left over.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Stock {
    /// Name for tables and files, e.g. `2440x1220`.
    pub(crate) name: String,
    /// mm along the grain.
    pub(crate) length: f64,
    /// mm.
    pub(crate) width: f64,
    /// What one costs, in the workshop's currency.
    pub(crate) price: Option<f64>,
    /// How many there are; `None` for as many as are wanted.
    pub(crate) quantity: Option<usize>,
    /// Where no part may lie.
    pub(crate) defects: Vec<Zone>,
    /// Left over from earlier work: without a price it costs nothing.
    pub(crate) offcut: bool,
}

/// A rectangle on a sheet, its lower left corner at (x, y), in mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Zone {
    /// Along the sheet.
    pub(crate) x: f64,
    /// Across the sheet.
    pub(crate) y: f64,
    /// Extent along the sheet.
    pub(crate) length: f64,
    /// Extent across the sheet.
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
    /// The parts, from left to right, those at one x from the bottom up.
    pub(crate) placed: Vec<Placed>,
}

/// A packing of all parts that fit any sheet, with what is known about fewer sheets.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Nesting {
    /// Sheets in order, the least filled of a kind last.
    pub(crate) sheets: Vec<Sheet>,
    /// No packing of the parts that are not too large can use fewer sheets than this: fewer sheets of the kind
    /// that was used, or, where no one kind holds every part, fewer of whichever kinds.
    pub(crate) bound: usize,
    /// Indices of parts that fit no sheet in any allowed turn, rising; they are on none.
    pub(crate) too_large: Vec<usize>,
    /// How every sheet can be cut.
    pub(crate) cutting: Cutting,
}
