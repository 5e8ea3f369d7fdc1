//! What goes into the nesting and what comes out: parts, stock, clearances, sheets.
//!
//! Plain data in millimetres. Knows nothing of the search, of bolts or of files.

use super::effort::Cutting;
use crate::geom::{PanelFrame, Path, SheetPlacement};

/// How a part may be turned against the sheet's length (along which the sheet's face grain runs).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Turns {
    /// The part lies as it is drawn: a pattern or a grain with a direction.
    Fixed,
    /// The part's u stays along the sheet: 0 or 180 degrees.
    GrainKept,
    /// Quarter turns are allowed.
    Free,
}

/// A part to be cut.
#[derive(Clone, Debug)]
pub struct Part {
    /// The panel's name.
    pub name: String,
    /// Outer contour in the panel's frame.
    pub outline: Path<PanelFrame>,
    /// Contours cut out of it. Other parts may lie in them.
    pub openings: Vec<Path<PanelFrame>>,
    /// How it may be turned.
    pub turns: Turns,
    /// Whether it may be laid face down: both faces are alike and nothing is machined from one of them.
    pub either_face: bool,
}

impl Part {
    /// Whether the rectangle around it is the part itself: what a saw cuts.
    pub fn is_rectangle(&self) -> bool {
        let (low, high) = self.outline.bounds();
        let around = (high.x - low.x) * (high.y - low.y);
        // What is missing at a corner a tenth of a millimetre wide: far below what a saw holds.
        around - self.outline.area().abs() < 0.01
    }
}

/// A size of sheet, new or left over.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Stock {
    /// Name for tables and files, e.g. `2440x1220`.
    pub name: String,
    /// mm along the grain.
    pub length: f64,
    /// mm.
    pub width: f64,
    /// What one costs, in the workshop's currency.
    pub price: Option<f64>,
    /// How many there are; `None` for as many as are wanted.
    pub quantity: Option<usize>,
    /// Where no part may lie.
    pub defects: Vec<Zone>,
    /// Left over from earlier work: without a price it costs nothing.
    pub offcut: bool,
}

/// A rectangle on a sheet, its lower left corner at (x, y), in mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Zone {
    /// Along the sheet.
    pub x: f64,
    /// Across the sheet.
    pub y: f64,
    /// Extent along the sheet.
    pub length: f64,
    /// Extent across the sheet.
    pub width: f64,
}

/// What the cutting needs between and around parts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Clearances {
    /// mm between the outlines of two parts: tool diameter plus margin, or a saw's kerf.
    pub gap: f64,
    /// mm of the sheet's edge, all round, that no part may use.
    pub trim: f64,
}

/// A part on a sheet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Placed {
    /// Index into the parts that were given.
    pub part: usize,
    /// Where it lies.
    pub placement: SheetPlacement,
}

/// One stock sheet with the parts on it.
#[derive(Clone, Debug, PartialEq)]
pub struct Sheet {
    /// Index into the stock that was given.
    pub stock: usize,
    /// The parts, from left to right, those at one x from the bottom up.
    pub placed: Vec<Placed>,
}

/// A packing of all parts that fit any sheet, with what is known about cheaper ones.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Nesting {
    /// Sheets by kind, in the order of the stock; of a kind the least filled last.
    pub sheets: Vec<Sheet>,
    /// No packing of the parts that are not too large can use fewer sheets than this, of whichever kinds. 0 if
    /// parts were left out: then nothing is known of packings of them all.
    pub bound: usize,
    /// What the sheets cost, and what no packing can cost less than.
    pub cost: Cost,
    /// Indices of parts that fit no sheet in any allowed turn, rising; they are on none.
    pub too_large: Vec<usize>,
    /// Indices of parts for which the stock did not suffice, rising; they are on no sheet.
    pub left_out: Vec<usize>,
    /// How many more of which kind (index into the stock) would hold what was left out.
    pub missing: Vec<(usize, usize)>,
    /// How every sheet can be cut.
    pub cutting: Cutting,
    /// Most stages of cuts that were allowed to a saw.
    pub stages: Option<usize>,
}

/// What stock is compared by.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum CostBy {
    /// Prices, if everything that is not left over from earlier work has one.
    Price,
    /// Area, mm2, if a price is wanting.
    #[default]
    Area,
}

/// The cost of the sheets of a packing. An offcut without a price costs nothing: it is there already.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Cost {
    /// What it is counted in.
    pub by: CostBy,
    /// Of the sheets used, in the workshop's currency or in mm2.
    pub used: f64,
    /// No packing of the parts that are not too large can cost less. 0 if parts were left out.
    pub least: f64,
}
