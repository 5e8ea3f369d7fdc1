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
    /// Round holes that are drilled.
    pub(crate) holes: usize,
    /// Minutes of the machine.
    pub(crate) machine_minutes: f64,
    /// Sum of what is priced.
    pub(crate) total: f64,
    /// How many lines are not priced.
    pub(crate) unpriced: usize,
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
    Quote {
        currency: finished.design.workshop.currency.as_ref().map(|currency| currency.value.clone()),
        cut: rounded(quote.machine.cut, 3),
        holes: quote.machine.holes,
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
