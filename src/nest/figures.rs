//! How much of the sheets the parts use.
//!
//! Takes a packing with the parts and the stock that it was made from; gives areas in mm2. Never changes a
//! packing.

use super::{Nesting, Part, Sheet, Stock};

/// Areas of one sheet or of all of them.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Usage {
    /// mm2 inside the outlines of the parts; what is cut out of a part still counts as used.
    pub used: f64,
    /// mm2 of sheet, trim included.
    pub sheet: f64,
}

impl Usage {
    /// Used area as a share of the sheets' area, 0 to 1; 0 without a sheet.
    pub fn share(self) -> f64 {
        if self.sheet > 0.0 { self.used / self.sheet } else { 0.0 }
    }
}

impl Sheet {
    /// How much of this sheet is used.
    pub fn usage(&self, parts: &[Part], stock: &[Stock]) -> Usage {
        let area = |part: usize| parts.get(part).map_or(0.0, |part| part.outline.area().abs());
        Usage {
            used: self.placed.iter().map(|placed| area(placed.part)).sum(),
            sheet: stock.get(self.stock).map_or(0.0, |kind| kind.length * kind.width),
        }
    }
}

impl Nesting {
    /// How much of all sheets together is used.
    pub fn usage(&self, parts: &[Part], stock: &[Stock]) -> Usage {
        self.sheets.iter().map(|sheet| sheet.usage(parts, stock)).fold(Usage::default(), |sum, one| Usage {
            used: sum.used + one.used,
            sheet: sum.sheet + one.sheet,
        })
    }
}
