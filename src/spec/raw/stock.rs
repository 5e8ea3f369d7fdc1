//! The YAML of stock and of nesting, as written: sheets with price and quantity, offcuts, effort.
//!
//! As in `raw.rs`: shape only, and the doc comments are the schema's descriptions.

use super::{FrozenKit, Units};
use crate::spec::value::{Amount, Entries, Place};
use schemars::JsonSchema;
use serde::Deserialize;

/// How panels are laid on sheets.
#[derive(Debug, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "nesting")]
pub(crate) struct Nesting {
    /// How long better layouts are looked for: quick, standard, long, or a number of steps. The same effort and seed
    /// give the same sheets on every machine. Default: standard.
    pub(crate) effort: Option<Place<Amount>>,
    /// Where the random numbers of the search start: a whole number. Default: 1.
    pub(crate) seed: Option<Place<Amount>>,
    /// Seconds after which the search stops, whatever the effort. With it, sheets may differ from run to run.
    pub(crate) time_limit: Option<Place<Amount>>,
    /// Sheets that are cut already. What lies on them is not laid again.
    pub(crate) frozen: Option<Place<Vec<Place<FrozenKit>>>>,
}

/// Sheets and offcuts on the shelf.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "stock")]
pub(crate) struct StockList {
    /// Unit of the lengths. Default: mm in a file of its own, else that of the workshop.
    pub(crate) units: Option<Place<Units>>,
    /// By catalogue name of the material.
    pub(crate) materials: Entries<Place<Vec<Stock>>>,
}

/// What of a cut sheet is worth keeping.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "offcuts")]
pub(crate) struct Offcuts {
    /// The smallest rectangle, either way round (two lengths). Default: 600 x 300 mm.
    pub(crate) smallest: Place<Vec<Place<Amount>>>,
}

/// A sheet that can be bought, or one that is left over.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "stock sheet")]
pub(crate) struct Stock {
    /// Along the grain (length).
    pub(crate) length: Place<Amount>,
    /// Across the grain (length).
    pub(crate) width: Place<Amount>,
    /// For tables and files. Default: made of the sizes.
    pub(crate) name: Option<Place<String>>,
    /// What one costs, in the workshop's currency. If a sheet of the material has none, area is compared instead.
    pub(crate) price: Option<Place<Amount>>,
    /// How many there are. Default: as many as are wanted; of an offcut 1.
    pub(crate) quantity: Option<Place<Amount>>,
    /// Rectangles on which no part may lie.
    pub(crate) defects: Option<Place<Vec<Place<Defect>>>>,
    /// Left over from earlier work: without a price it costs nothing. Default: false.
    pub(crate) offcut: Option<Place<bool>>,
}

/// A rectangle on a sheet, from its lower left corner, on which no part may lie.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "defect")]
pub(crate) struct Defect {
    /// Along the grain, from the sheet's corner (length).
    pub(crate) x: Place<Amount>,
    /// Across the grain, from the sheet's corner (length).
    pub(crate) y: Place<Amount>,
    /// Along the grain (length).
    pub(crate) length: Place<Amount>,
    /// Across the grain (length).
    pub(crate) width: Place<Amount>,
}
