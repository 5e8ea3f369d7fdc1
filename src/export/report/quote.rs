//! What the kit costs, with every assumption, and what to buy for it.

use super::body::Column::{Figures, Short, Words};
use super::body::{Body, Table, heading, list, paragraph};
use crate::export::order::{self, CENTS};
use crate::export::quote::{self, Part, Quote};
use crate::export::words;
use crate::finished::Finished;
use crate::number::{decimal, fixed};

/// What stands where nobody gave a price.
const NOT_PRICED: &str = "not priced";

fn money(amount: Option<f64>) -> String {
    amount.map_or_else(|| NOT_PRICED.to_owned(), |amount| fixed(amount, CENTS))
}

/// The quote.
pub(super) fn quote(finished: &Finished) -> Body {
    let quote = quote::quote(finished);
    let currency = finished.design.workshop.currency.as_ref().map(|currency| currency.value.as_str());
    let currency = currency.unwrap_or("no currency named");
    let mut table = Table::new([
        Short("Part"),
        Words("What"),
        Figures("Quantity"),
        Short("Unit"),
        Figures("Rate"),
        Figures("Amount"),
    ]);
    for line in &quote.lines {
        table.row([
            words::quoted(line.part).to_owned(),
            line.what.clone(),
            decimal(line.quantity, 2),
            line.unit.to_owned(),
            line.rate.map_or_else(String::new, |rate| decimal(rate, 4)),
            money(line.amount),
        ]);
    }
    let sum = |what: &str, amount: f64| {
        [what.to_owned(), String::new(), String::new(), String::new(), String::new(), fixed(amount, CENTS)]
    };
    for part in Part::ALL {
        table.sum(sum(words::quoted(part), quote.sum(part)));
    }
    table.sum(sum("all that is priced", quote.total));
    paragraph(&format!("Amounts in {currency}. {}", unpriced(&quote)))
        + table.body()
        + heading("What it rests on")
        + list(&quote::assumptions(finished, &quote))
}

fn unpriced(quote: &Quote) -> String {
    match quote.unpriced {
        0 => "Every line is priced.".to_owned(),
        1 => "One line is not priced and not in the sum.".to_owned(),
        n => format!("{n} lines are not priced and not in the sum."),
    }
}

/// What to buy.
pub(super) fn orders(finished: &Finished) -> Body {
    let mut table = Table::new([
        Words("Supplier"),
        Short("Item"),
        Words("What"),
        Figures("Needed"),
        Figures("Spares"),
        Figures("In the rack"),
        Short("Unit"),
        Figures("Pack of"),
        Figures("Packs"),
        Figures("Amount"),
    ]);
    let mut lines = order::lines(finished);
    lines.sort_by(|a, b| {
        (a.supplier.is_empty(), &a.supplier, a.sort).cmp(&(b.supplier.is_empty(), &b.supplier, b.sort))
    });
    for line in &lines {
        let supplier = if line.supplier.is_empty() { "no price list" } else { &line.supplier };
        let figures = [line.needed, line.spares, line.in_rack].map(|amount| decimal(amount, 2));
        let [needed, spares, in_rack] = figures;
        table.row([
            supplier.to_owned(),
            line.item.clone(),
            line.what.clone(),
            needed,
            spares,
            in_rack,
            line.unit.to_owned(),
            decimal(line.pack, 2),
            decimal(line.packs(), 0),
            money(line.amount()),
        ]);
    }
    table.body()
}
