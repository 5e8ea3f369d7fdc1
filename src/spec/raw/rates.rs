//! The workshop's keys `rates` and `price_lists` as written.

use schemars::JsonSchema;
use serde::Deserialize;

use crate::spec::value::{Amount, Place};

/// How fast the shop works and what its hours cost, in its currency. What is left out and has no default is shown as not priced.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "rates")]
pub(crate) struct Rates {
    /// An hour of the machine, its operator with it.
    pub(crate) machine: Option<Place<Amount>>,
    /// An hour of work at the bench.
    pub(crate) labour: Option<Place<Amount>>,
    /// Feed of the router, m/min. Default: 6.
    pub(crate) feed: Option<Place<Amount>>,
    /// Passes that an edge takes. Default: 2.
    pub(crate) passes: Option<Place<Amount>>,
    /// Seconds for a hole. Default: 4.
    pub(crate) hole: Option<Place<Amount>>,
    /// Minutes to change a sheet. Default: 5.
    pub(crate) sheet_change: Option<Place<Amount>>,
    /// Seconds for a cut of the panel saw. Default: 40.
    pub(crate) saw_cut: Option<Place<Amount>>,
    /// Minutes at the bench.
    pub(crate) minutes: Option<Place<Minutes>>,
    /// How boards are charged. Default: whole sheets.
    pub(crate) boards: Option<Place<BoardsBy>>,
    /// Per cent that is charged on boards by their share. Default: 20.
    pub(crate) waste: Option<Place<Amount>>,
    /// Per cent of their price by area that offcuts worth keeping count off whole sheets. Default: 0.
    pub(crate) offcut_credit: Option<Place<Amount>>,
}

/// Minutes at the bench for each piece.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "minutes")]
pub(crate) struct Minutes {
    /// To clean the edges of a panel and mark it.
    pub(crate) panel: Option<Place<Amount>>,
    /// To put in a bolt.
    pub(crate) bolt: Option<Place<Amount>>,
    /// To fit and adjust a drawer or tray.
    pub(crate) drawer: Option<Place<Amount>>,
    /// To glue on a square metre of finish.
    pub(crate) finish: Option<Place<Amount>>,
}

/// How boards are charged.
#[derive(Clone, Copy, Debug, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub(crate) enum BoardsBy {
    /// Every sheet that is bought.
    WholeSheets,
    /// The part of each sheet that the panels take.
    Share,
}

/// What things cost at one supplier.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "price list")]
pub(crate) struct PriceList {
    /// Whom one orders from, or what sort of things they are, e.g. fasteners.
    pub(crate) supplier: Place<String>,
    /// What its prices are in; must be the workshop's `currency`.
    pub(crate) currency: Place<String>,
    /// Its rows.
    pub(crate) items: Place<Vec<Place<PriceItem>>>,
}

/// What one thing costs.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "price")]
pub(crate) struct PriceItem {
    /// What it is, as `order.csv` calls it: `ISO 7380-1 M6x30`, `ISO 7089 M6`, or a name of the catalogue.
    pub(crate) item: Place<String>,
    /// Of a pack. Slides by the pair, angle and rolls of finish by the metre.
    pub(crate) price: Place<Amount>,
    /// How many a pack holds. Default: 1.
    pub(crate) pack: Option<Place<Amount>>,
}
