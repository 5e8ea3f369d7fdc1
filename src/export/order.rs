//! What to buy for the kit: sheets, hardware, angle, slides, fittings, finishes, by supplier.
//!
//! Takes a finished design with the price lists of its workshop; gives lines with what is needed, spares, what the rack
//! covers and packs. What has no price has none here either.

use super::finish;
use super::hardware::{self, Line};
use super::words;
use crate::finished::Finished;
use crate::nest::Stock;
use crate::number::rounded;
use crate::spec::PriceItem;
use std::collections::BTreeMap;

/// Decimals of money.
pub(crate) const CENTS: usize = 2;
/// m to which angle is rounded up.
const METRES: f64 = 0.1;
/// Under what sheets stand that no price list has: they have their price from the workshop's stock.
const SHEETS: &str = "sheets";

/// What sort of thing a line is, in the order of the list.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Sort {
    /// Sheets and offcuts.
    Boards,
    /// Bolts, washers, nuts, slides, fittings, angle.
    Hardware,
    /// Carpet, mats, laminate, paint.
    Finishes,
}

/// One thing to buy, or to take from the rack.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct OrderLine {
    /// What sort of thing it is.
    pub(crate) sort: Sort,
    /// Whom it is ordered from, or that it is a sheet; empty if no price list has it.
    pub(crate) supplier: String,
    /// What price lists call it.
    pub(crate) item: String,
    /// What it is, in words.
    pub(crate) what: String,
    /// How much the kit needs.
    pub(crate) needed: f64,
    /// How much beyond that.
    pub(crate) spares: f64,
    /// How much of it the rack has.
    pub(crate) in_rack: f64,
    /// What is counted.
    pub(crate) unit: &'static str,
    /// How many a pack holds.
    pub(crate) pack: f64,
    /// What a pack costs.
    pub(crate) price: Option<f64>,
}

impl OrderLine {
    /// How much is to be bought, without whole packs.
    pub(crate) fn wanted(&self) -> f64 {
        rounded((self.needed + self.spares - self.in_rack).max(0.0), 3)
    }

    /// Whole packs to buy.
    pub(crate) fn packs(&self) -> f64 {
        (self.wanted() / self.pack - 1e-9).ceil().max(0.0)
    }

    /// What one piece costs.
    pub(crate) fn each(&self) -> Option<f64> {
        self.price.map(|price| price / self.pack)
    }

    /// What whole packs cost; nothing if nothing is to be bought.
    pub(crate) fn amount(&self) -> Option<f64> {
        if self.packs() == 0.0 {
            return Some(0.0);
        }
        self.price.map(|price| rounded(price * self.packs(), CENTS))
    }
}

/// All lines: boards by material and size, hardware in the order of its list, angle, finishes.
pub(crate) fn lines(finished: &Finished) -> Vec<OrderLine> {
    let prices = Prices::of(finished);
    let mut lines = boards(finished, &prices);
    lines.extend(hardware::lines(finished).iter().map(|line| of_hardware(line, &prices)));
    lines.extend(angles(finished, &prices));
    lines.extend(finish::orders(finished).into_iter().map(|order| {
        let (needed, unit) = match order.length {
            Some(length) => (length / 1000.0, "m"),
            None => (order.area / 1e6, "m2"),
        };
        prices.line(Sort::Finishes, &order.finish.id, &order.finish.title, (rounded(needed, 2), 0.0, unit))
    }));
    lines
}

/// Price lists by item.
struct Prices<'a>(BTreeMap<String, (&'a str, &'a PriceItem)>);

impl<'a> Prices<'a> {
    fn of(finished: &'a Finished) -> Self {
        let lists = &finished.design.workshop.price_lists;
        let items = lists.iter().flat_map(|list| {
            list.items.iter().map(|item| (item.item.value.to_lowercase(), (list.supplier.as_str(), item)))
        });
        Prices(items.collect())
    }

    fn line(&self, sort: Sort, item: &str, what: &str, amounts: (f64, f64, &'static str)) -> OrderLine {
        let (needed, spares, unit) = amounts;
        let found = self.0.get(&item.to_lowercase());
        OrderLine {
            sort,
            supplier: found.map_or_else(String::new, |(supplier, _)| (*supplier).to_owned()),
            item: item.to_owned(),
            what: what.to_owned(),
            needed,
            spares,
            in_rack: 0.0,
            unit,
            pack: found.map_or(1.0, |(_, item)| item.pack),
            price: found.map(|(_, item)| item.price),
        }
    }
}

fn boards(finished: &Finished, prices: &Prices<'_>) -> Vec<OrderLine> {
    let mut lines = Vec::new();
    for group in &finished.groups {
        let mut kinds: Vec<(&Stock, f64)> = Vec::new();
        for sheet in group.sheets().filter(|sheet| !sheet.frozen) {
            match kinds.iter_mut().find(|(stock, _)| std::ptr::eq(*stock, sheet.stock)) {
                Some((_, number)) => *number += 1.0,
                None => kinds.push((sheet.stock, 1.0)),
            }
        }
        lines.extend(kinds.into_iter().map(|(stock, number)| {
            let item = format!("{} {}", group.material.id, stock.name);
            let mut line = prices.line(Sort::Boards, &item, &group.material.title, (number, 0.0, "sheets"));
            // An offcut is there already.
            line.in_rack = if stock.offcut { number } else { 0.0 };
            line.price = stock.price.or(line.price);
            if line.supplier.is_empty() {
                SHEETS.clone_into(&mut line.supplier);
            }
            line
        }));
    }
    lines
}

/// What price lists call a piece of hardware: `ISO 7380-1 M6x30`, `ISO 7089 M6`, or its name in the catalogue.
fn item_of(line: &Line) -> String {
    match (line.standard.as_str(), line.length) {
        ("", _) if line.size.is_empty() => line.what.clone(),
        ("", _) => line.size.clone(),
        (standard, length) => words::designation(standard, &line.size, length),
    }
}

fn of_hardware(line: &Line, prices: &Prices<'_>) -> OrderLine {
    let amounts = (line.needed as f64, line.spares as f64, line.unit);
    prices.line(Sort::Hardware, &item_of(line), &line.what, amounts)
}

fn angles(finished: &Finished, prices: &Prices<'_>) -> Vec<OrderLine> {
    let mut metres: BTreeMap<&str, f64> = BTreeMap::new();
    for piece in &finished.kit.angles {
        *metres.entry(&piece.angle.id).or_default() += piece.length / 1000.0;
    }
    let line = |(id, metres): (&str, f64)| {
        let metres = rounded((metres / METRES - 1e-9).ceil() * METRES, 1);
        prices.line(Sort::Hardware, id, "angle, net length", (metres, 0.0, "m"))
    };
    metres.into_iter().map(line).collect()
}
