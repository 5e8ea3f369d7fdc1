//! The quote of `kit.json`.

use crate::export::quote;
use crate::export::words;
use crate::finished::Finished;
use crate::number::rounded;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// What the kit costs, in the workshop's currency.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub(crate) struct Quote {
    /// The currency, if the workshop names one.
    pub(crate) currency: Option<String>,
    /// In the order of the report.
    pub(crate) lines: Vec<QuoteLine>,
    /// m of outlines and openings that are cut, once along.
    pub(crate) cut: f64,
    /// m of engraving.
    pub(crate) engraved: f64,
    /// Round holes that are drilled.
    pub(crate) holes: usize,
    /// Cuts of a panel saw.
    pub(crate) saw_cuts: usize,
    /// Sheets that are cut.
    pub(crate) sheets: usize,
    /// How fast the machine is.
    pub(crate) speeds: Speeds,
    /// Minutes of the machine.
    pub(crate) machine_minutes: f64,
    /// Sum of what is priced.
    pub(crate) total: f64,
    /// How many lines are not priced.
    pub(crate) unpriced: usize,
}

/// What the machine's time is worked out with.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub(crate) struct Speeds {
    /// m/min.
    pub(crate) feed: f64,
    /// Passes that an edge takes; engraving takes one.
    pub(crate) passes: f64,
    /// Seconds for a hole.
    pub(crate) hole: f64,
    /// Minutes to change a sheet.
    pub(crate) sheet_change: f64,
    /// Seconds for a cut of the saw.
    pub(crate) saw_cut: f64,
}

/// A line of the quote.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub(crate) struct QuoteLine {
    /// Boards, machine, hardware, finishes or labour.
    pub(crate) part: String,
    /// What is charged.
    pub(crate) what: String,
    /// How much of it.
    pub(crate) quantity: f64,
    /// What is counted.
    pub(crate) unit: String,
    /// For one; null if nobody said.
    pub(crate) rate: Option<f64>,
    /// All of it; null if it is not priced.
    pub(crate) amount: Option<f64>,
}

/// The quote of a kit.
pub(super) fn quote(finished: &Finished) -> Quote {
    let quote = quote::quote(finished);
    let rates = &finished.design.workshop.rates;
    Quote {
        currency: finished.design.workshop.currency.as_ref().map(|currency| currency.value.clone()),
        cut: rounded(quote.machine.cut, 3),
        engraved: rounded(quote.machine.engraved, 3),
        holes: quote.machine.holes,
        saw_cuts: quote.machine.saw_cuts,
        sheets: quote.machine.sheets,
        speeds: Speeds {
            feed: rates.feed,
            passes: rates.passes,
            hole: rates.hole,
            sheet_change: rates.sheet_change,
            saw_cut: rates.saw_cut,
        },
        machine_minutes: rounded(quote.machine.minutes, 2),
        total: quote.total,
        unpriced: quote.unpriced,
        lines: quote
            .lines
            .into_iter()
            .map(|line| QuoteLine {
                part: words::quoted(line.part).to_owned(),
                what: line.what,
                quantity: rounded(line.quantity, 2),
                unit: line.unit.to_owned(),
                rate: line.rate.map(|rate| rounded(rate, 4)),
                amount: line.amount,
            })
            .collect(),
    }
}
