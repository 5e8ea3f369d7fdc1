//! What can be wrong with loose parts and their sheets, as `baywright explain` tells it. The examples are cut lists, laid
//! on two sheets of 2440 x 1220 mm where they do not name a material.

use crate::diag::{Rule, Severity};

/// Every rule of this stage.
pub(crate) const RULES: &[&Rule] = &[&FILE_UNREADABLE, &TOO_LARGE, &WITHOUT_STOCK, &STOCK_USED_UP];

/// A drawing that cannot be opened.
pub(super) static FILE_UNREADABLE: Rule = Rule {
    name: "drawing-not-found",
    severity: Severity::Error,
    finds: "A drawing that a cut list names and that cannot be opened.",
    why: "The part would be missing.",
    failing: "name,outline\nbracket,brakcet.dxf\n",
    passing: "name,length,width\nbracket,200,100\n",
    source: "a decision of this project",
};

/// A part without a sheet.
pub(super) static TOO_LARGE: Rule = Rule {
    name: "part-larger-than-sheet",
    severity: Severity::Error,
    finds: "A part of a cut list that no sheet holds within its trim, as it may be turned.",
    why: "It cannot be cut from one piece.",
    failing: "name,length,width\ntop,2500,600\n",
    passing: "name,length,width\ntop,2400,600\n",
    source: "arithmetic",
};

/// A material without sheets.
pub(super) static WITHOUT_STOCK: Rule = Rule {
    name: "part-without-stock",
    severity: Severity::Error,
    finds: "Parts of a material that is not in the catalogue, where no size of sheet is given either.",
    why: "Nobody knows how large its sheets are.",
    failing: "name,length,width,material\ntop,800,600,brich-12\n",
    passing: "name,length,width,material\ntop,800,600,birch-12\n",
    source: "a decision of this project",
};

/// Not enough sheets.
pub(super) static STOCK_USED_UP: Rule = Rule {
    name: "stock-used-up",
    severity: Severity::Error,
    finds: "Parts for which there are not enough sheets, where it is said how many there are.",
    why: "What is left over would not be cut.",
    failing: "name,length,width,quantity\ntop,2400,1200,3\n",
    passing: "name,length,width,quantity\ntop,2400,1200,2\n",
    source: "arithmetic",
};
