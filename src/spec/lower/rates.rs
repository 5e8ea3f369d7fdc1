//! Rates and price lists of the workshop.

use super::{Limits, Reader};
use crate::diag::{At, Finding};
use crate::spec::model::{BoardsBy, PriceItem, PriceList, Rates};
use crate::spec::raw;
use crate::spec::rules;
use crate::spec::value::{Amount, Place};

/// In any currency.
const PRICE: Limits = Limits::from_zero(1_000_000.0, "");
/// Speeds and counts that are divided by or multiplied with.
const SPEED: Limits = Limits::more_than_zero(1000.0, "");
/// Seconds and minutes.
const TIME: Limits = Limits::from_zero(10_000.0, "");
/// Per cent.
const PERCENT: Limits = Limits { least: 0.0, above: false, most: 100.0, unit: " %" };
/// Pieces in a pack.
const PACK: Limits = Limits::more_than_zero(100_000.0, "");
/// Most lists, most rows of a list.
const MOST: (usize, usize) = (50, 2000);

/// Rates; defaults are common practice, no source.
pub(super) fn rates(reader: &mut Reader<'_>, place: Option<&Place<raw::Rates>>) -> Rates {
    let raw = place.map(Place::value);
    let minutes = raw.and_then(|raw| raw.minutes.as_ref()).map(Place::value);
    let mut some = |amount: Option<&Option<Place<Amount>>>, limits| {
        reader.some_number(amount.and_then(Option::as_ref), limits).map(|number| number.value)
    };
    Rates {
        machine: some(raw.map(|raw| &raw.machine), PRICE),
        labour: some(raw.map(|raw| &raw.labour), PRICE),
        feed: some(raw.map(|raw| &raw.feed), SPEED).unwrap_or(6.0),
        passes: some(raw.map(|raw| &raw.passes), SPEED).unwrap_or(2.0),
        hole: some(raw.map(|raw| &raw.hole), TIME).unwrap_or(4.0),
        sheet_change: some(raw.map(|raw| &raw.sheet_change), TIME).unwrap_or(5.0),
        saw_cut: some(raw.map(|raw| &raw.saw_cut), TIME).unwrap_or(40.0),
        minutes: [
            some(minutes.map(|minutes| &minutes.panel), TIME),
            some(minutes.map(|minutes| &minutes.bolt), TIME),
            some(minutes.map(|minutes| &minutes.drawer), TIME),
            some(minutes.map(|minutes| &minutes.finish), TIME),
        ],
        boards: match raw.and_then(|raw| raw.boards.as_ref()).map(Place::value) {
            Some(raw::BoardsBy::Share) => BoardsBy::Share,
            Some(raw::BoardsBy::WholeSheets) | None => BoardsBy::WholeSheets,
        },
        waste: some(raw.map(|raw| &raw.waste), PERCENT).unwrap_or(20.0),
        offcut_credit: some(raw.map(|raw| &raw.offcut_credit), PERCENT).unwrap_or(0.0),
    }
}

/// Price lists, in the order of the text.
pub(super) fn price_lists(
    reader: &mut Reader<'_>,
    list: Option<&Place<Vec<Place<raw::PriceList>>>>,
    currency: Option<&At<String>>,
) -> Vec<PriceList> {
    let lists = reader.each(list, MOST.0, |reader, place| {
        let raw = place.value();
        let own = reader.sentence(&raw.currency);
        if currency.is_none_or(|currency| currency.value != own.value) {
            let shop = currency.map_or_else(
                || "the workshop names no `currency`".to_owned(),
                |currency| format!("the workshop's is {}", currency.value),
            );
            let message = format!("these prices are in {}; {shop}", own.value);
            let finding = Finding::new(&rules::CURRENCY_MIXED, own.span, message);
            let finding = match currency {
                Some(currency) => finding.also(currency.span, "the workshop's"),
                None => finding,
            };
            reader.findings.push(finding.help("convert the list, or set the workshop's `currency` to it"));
        }
        let items = reader.each(Some(&raw.items), MOST.1, |reader, place| {
            let raw = place.value();
            Some(PriceItem {
                item: reader.sentence(&raw.item),
                price: reader.some_number(Some(&raw.price), PRICE).map_or(0.0, |price| price.value),
                pack: reader.some_number(raw.pack.as_ref(), PACK).map_or(1.0, |pack| pack.value),
            })
        });
        Some(PriceList { supplier: reader.sentence(&raw.supplier).value, items })
    });
    reader.differing(lists.iter().flat_map(|list| list.items.iter().map(|item| &item.item)), "prices");
    lists
}
