//! Stock sheets and offcuts: of a material, and on the workshop's shelf.

use super::workshop::whole;
use super::{GAP, Limits, Reader, SIZE, millimetres};
use crate::diag::{At, Finding, Span};
use crate::number::decimal;
use crate::spec::model::{Defect, ShelfEntry, StockEntry};
use crate::spec::raw;
use crate::spec::rules;
use crate::spec::value::Place;

/// In any currency.
const PRICE: Limits = Limits::from_zero(1_000_000.0, "");
/// More would not be counted one by one.
const SHEETS: Limits = Limits { least: 1.0, above: false, most: 100_000.0, unit: "" };
/// Most rows of a list.
const MOST_ROWS: usize = 100;
/// Most defects of a sheet.
const MOST_DEFECTS: usize = 20;

/// The shelf, by material, from a map or a file of its own.
pub(crate) fn shelf(reader: &mut Reader<'_>, raw: &raw::StockList) -> Vec<ShelfEntry> {
    let outer = reader.unit;
    reader.unit = millimetres(raw.units.as_ref(), outer);
    let mut entries = Vec::new();
    for (key, list) in &raw.materials.0 {
        let material = reader.name(key);
        entries.push(ShelfEntry { material, sheets: rows(reader, list).value });
    }
    reader.differing(entries.iter().map(|entry| &entry.material), "entries");
    entries.sort_by(|a, b| a.material.value.cmp(&b.material.value));
    reader.unit = outer;
    entries
}

/// The rows of a list, in the order of the text.
pub(super) fn rows(reader: &mut Reader<'_>, list: &Place<Vec<raw::Stock>>) -> At<Vec<StockEntry>> {
    reader.counted(list, MOST_ROWS);
    let rows = list.value().iter().map(|raw| row(reader, raw)).collect();
    At::new(rows, reader.span(list))
}

fn row(reader: &mut Reader<'_>, raw: &raw::Stock) -> StockEntry {
    let (length, width) = (reader.length(&raw.length, SIZE), reader.length(&raw.width, SIZE));
    let quantity = reader.some_number(raw.quantity.as_ref(), SHEETS);
    let quantity = quantity.map(|quantity| whole(reader, quantity, "number of sheets"));
    let offcut = raw.offcut.as_ref().is_some_and(|offcut| *offcut.value());
    let price = reader.some_number(raw.price.as_ref(), PRICE);
    let mut defects = Vec::new();
    if let Some(list) = &raw.defects {
        reader.counted(list, MOST_DEFECTS);
        for place in list.value() {
            let span = reader.span(place);
            defects.push(defect(reader, place.value(), span, (length.value, width.value)));
        }
    }
    StockEntry {
        // An offcut is one piece unless more are counted.
        quantity: quantity.or(offcut.then_some(At::new(1, length.span))),
        name: reader.some_name(raw.name.as_ref()),
        span: length.span,
        length,
        width,
        price,
        defects,
        offcut,
    }
}

fn defect(reader: &mut Reader<'_>, raw: &raw::Defect, span: Span, (length, width): (f64, f64)) -> Defect {
    let defect = Defect {
        x: reader.length(&raw.x, GAP).value,
        y: reader.length(&raw.y, GAP).value,
        length: reader.length(&raw.length, SIZE).value,
        width: reader.length(&raw.width, SIZE).value,
    };
    let reach = [(defect.x + defect.length, length, "along"), (defect.y + defect.width, width, "across")];
    for (end, side, direction) in reach {
        if end > side && side > 0.0 {
            let message = format!(
                "the defect reaches to {} mm {direction} the grain, beyond the sheet's {} mm",
                decimal(end, 3),
                decimal(side, 3)
            );
            let help = "x and y are those of its lower left corner, from the sheet's";
            reader.findings.push(Finding::new(&rules::DEFECT_OUTSIDE_SHEET, span, message).help(help));
        }
    }
    defect
}
