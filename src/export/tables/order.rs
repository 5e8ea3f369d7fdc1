//! What to buy: by supplier, with spares, what the rack covers, and whole packs.

use super::csv;
use crate::export::order::{self, CENTS};
use crate::finished::Finished;
use crate::number::{decimal, fixed};

const HEAD: [&str; 11] = [
    "supplier",
    "item",
    "kind",
    "needed",
    "spares",
    "in the rack",
    "unit",
    "pack of",
    "packs",
    "price of a pack",
    "amount",
];

/// All lines; price and amount are empty where no price list has the item.
pub(crate) fn order(finished: &Finished) -> String {
    let money = |amount: Option<f64>| amount.map_or_else(String::new, |amount| fixed(amount, CENTS));
    let rows = order::lines(finished).into_iter().map(|line| {
        let [needed, spares, in_rack, pack] =
            [line.needed, line.spares, line.in_rack, line.pack].map(|n| decimal(n, 2));
        let (packs, price, amount) = (decimal(line.packs(), 0), money(line.price), money(line.amount()));
        [
            line.supplier,
            line.item,
            line.what,
            needed,
            spares,
            in_rack,
            line.unit.to_owned(),
            pack,
            packs,
            price,
            amount,
        ]
    });
    csv(HEAD, rows)
}
