//! What the shop's work and its goods cost, as asked for. Money in the workshop's currency.

use crate::diag::At;

/// How fast the shop works and what its hours cost.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Rates {
    /// An hour of the machine.
    pub(crate) machine: Option<f64>,
    /// An hour at the bench.
    pub(crate) labour: Option<f64>,
    /// m/min of the router.
    pub(crate) feed: f64,
    /// Passes that an edge takes.
    pub(crate) passes: f64,
    /// Seconds for a hole.
    pub(crate) hole: f64,
    /// Minutes to change a sheet.
    pub(crate) sheet_change: f64,
    /// Seconds for a cut of the panel saw.
    pub(crate) saw_cut: f64,
    /// Minutes for a panel, a bolt, a drawer or tray, a square metre of finish.
    pub(crate) minutes: [Option<f64>; 4],
    /// How boards are charged.
    pub(crate) boards: BoardsBy,
    /// Per cent on boards that are charged by their share.
    pub(crate) waste: f64,
    /// Per cent of their price by area that offcuts count off.
    pub(crate) offcut_credit: f64,
}

/// How boards are charged.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum BoardsBy {
    /// Every sheet that is bought.
    WholeSheets,
    /// The part of each sheet that the panels take.
    Share,
}

/// What things cost at one supplier.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct PriceList {
    /// Whom one orders from.
    pub(crate) supplier: String,
    /// Its rows; names differ over all lists.
    pub(crate) items: Vec<PriceItem>,
}

/// What one thing costs.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct PriceItem {
    /// What it is.
    pub(crate) item: At<String>,
    /// Of a pack.
    pub(crate) price: f64,
    /// How many a pack holds.
    pub(crate) pack: f64,
}
