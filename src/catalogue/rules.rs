//! What can be wrong with names and rows of the catalogue.

use crate::diag::{Rule, Severity};

/// All rules of this stage.
pub(crate) const RULES: &[&Rule] = &[&UNKNOWN_NAME, &INCOMPLETE_ENTRY, &PRICES_FOR_SOME];

const PASSING: &str = "\
bay: {width: 1040, depth: 1050, height: 800}
carcases:
  - {id: main, width: 1000, depth: 900, height: 300, panel: birch-12, cell: {drawer: {slide: heavy-800}}}
";

/// A name that is not in the catalogue.
pub(super) static UNKNOWN_NAME: Rule = Rule {
    name: "unknown-name",
    severity: Severity::Error,
    finds: "A material, slide, angle or fitting that neither the built-in catalogue nor the workshop file knows.",
    why: "Its thickness, mass and holes are unknown, so nothing can be cut.",
    failing: "\
bay: {width: 1040, depth: 1050, height: 800}
carcases:
  - {id: main, width: 1000, depth: 900, height: 300, panel: brich-12, cell: {drawer: {slide: heavy-800}}}
",
    passing: PASSING,
    source: "the catalogue; `baywright catalogue` lists it",
};

/// A workshop's own row that lacks a value.
pub(super) static INCOMPLETE_ENTRY: Rule = Rule {
    name: "incomplete-entry",
    severity: Severity::Error,
    finds: "A material, slide, angle or fitting in the workshop file that is new to the catalogue and lacks a value.",
    why: "A value left out of a built-in row keeps its old value; a new row has none to keep.",
    failing: "\
bay: {width: 1040, depth: 1050, height: 800}
workshop: {materials: {oak-12: {nominal: 12, actual: 12.1}}}
carcases:
  - {id: main, width: 1000, depth: 900, height: 300, panel: oak-12, cell: {drawer: {slide: heavy-800}}}
",
    passing: "\
bay: {width: 1040, depth: 1050, height: 800}
workshop: {materials: {oak-12: {nominal: 12, actual: 12.1, density: 700, grain: true, stock: [{length: 2440, width: 1220}]}}}
carcases:
  - {id: main, width: 1000, depth: 900, height: 300, panel: oak-12, cell: {drawer: {slide: heavy-800}}}
",
    source: "arithmetic",
};

/// Prices that cannot be compared.
pub(super) static PRICES_FOR_SOME: Rule = Rule {
    name: "prices-for-some-sheets",
    severity: Severity::Note,
    finds: "A material some of whose sheets have a price while others, that are no offcuts, have none.",
    why: "What costs nothing known cannot be compared with what costs something; area decides then.",
    failing: "\
bay: {width: 1040, depth: 1050, height: 800}
workshop: {stock: {materials: {birch-12: [{length: 3000, width: 1500, price: 90}]}}}
carcases:
  - {id: main, width: 1000, depth: 900, height: 300, panel: birch-12, cell: {open: {}}}
",
    passing: "\
bay: {width: 1040, depth: 1050, height: 800}
workshop: {materials: {birch-12: {stock: [{length: 3000, width: 1500, price: 90}, {length: 900, width: 600, offcut: true}]}}}
carcases:
  - {id: main, width: 1000, depth: 900, height: 300, panel: birch-12, cell: {open: {}}}
",
    source: "a decision of this project",
};
