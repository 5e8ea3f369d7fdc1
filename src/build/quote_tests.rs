//! What a kit costs and what is ordered: by hand, and never zero for what nobody priced.

use crate::example_kits;
use crate::export::order::{self, OrderLine};
use crate::export::quote::{self, Part, Quote};
use crate::finished::Finished;

/// A box of five boards of one sheet, 24 kg, with these lines of its workshop.
fn kit(workshop: &str) -> Finished {
    example_kits::finished(&format!(
        "bay: {{width: 1040, depth: 1050, height: 800}}\ncarcases:\n  - {{id: main, width: 700, depth: 600, height: 300, panel: birch-12, \
         cell: {{id: pocket, open: {{}}}}}}\nworkshop:\n  currency: EUR\n{workshop}"
    ))
}

const SHEET: &str = "  materials: {birch-12: {stock: [{length: 2440, width: 1220, price: 94}]}}\n";

fn priced(workshop: &str) -> (Finished, Quote) {
    let finished = kit(workshop);
    let quote = quote::quote(&finished);
    (finished, quote)
}

fn amounts(quote: &Quote, part: Part) -> Vec<Option<f64>> {
    quote.lines.iter().filter(|line| line.part == part).map(|line| line.amount).collect()
}

#[test]
fn what_nobody_priced_is_not_zero() {
    let (_, quote) = priced("  trim: 10\n");
    assert!(quote.lines.iter().all(|line| line.amount.is_none()), "{:?}", quote.lines);
    assert!(quote.unpriced == quote.lines.len() && quote.lines.len() > 6 && quote.total.abs() < 1e-12);
    // A price of nothing is a price.
    let (_, quote) = priced("  rates: {machine: 0}\n");
    assert_eq!(amounts(&quote, Part::Machine), [Some(0.0)]);
}

#[test]
fn sheets_are_charged_whole_or_by_share() {
    let (_, quote) = priced(SHEET);
    assert_eq!(amounts(&quote, Part::Boards), [Some(94.0)]);
    // Fronts would take 12 of the depth: base and deck 700 x 588, sides 588 x 276, back 676 x 276.
    let (finished, quote) = priced(&format!("{SHEET}  rates: {{boards: share, waste: 15}}\n"));
    let area: f64 = finished.kit.panels.iter().map(|panel| panel.outline.area()).sum();
    let by_hand = 2.0 * 700.0 * 588.0 + 2.0 * 588.0 * 276.0 + 676.0 * 276.0;
    assert!((area - by_hand).abs() < 1e-6, "{area} {by_hand}");
    let amount = (94.0 * by_hand / (2440.0 * 1220.0) * 1.15 * 100.0_f64).round() / 100.0;
    assert_eq!(amounts(&quote, Part::Boards), [Some(amount)]);
    // What is worth keeping counts off at half its price: no more than half of what is left.
    let (_, quote) = priced(&format!("{SHEET}  rates: {{offcut_credit: 50}}\n"));
    let [Some(sheet), Some(credit)] = amounts(&quote, Part::Boards)[..] else { panic!("{:?}", quote.lines) };
    let most = 0.5 * 94.0 * (1.0 - by_hand / (2440.0 * 1220.0));
    assert!((sheet - 94.0).abs() < 1e-9 && credit < -5.0 && credit > -most, "{credit}");
}

/// Machine: edges once along, times passes, over feed; holes; a sheet. Twice the feed halves the first, and so on.
#[test]
fn machine_time_is_edges_holes_and_sheets() {
    let minutes = |rates: &str| priced(&format!("  rates: {{{rates}}}\n")).1.machine;
    let base = minutes("feed: 6, passes: 2, hole: 0, sheet_change: 0");
    // Outlines 2 x 2576, 2 x 1728, 1904 mm; there are no openings.
    assert!((base.cut - (2.0 * 2.576 + 2.0 * 1.728 + 1.904)).abs() < 1e-9, "{base:?}");
    assert!((base.minutes - base.cut * 2.0 / 6.0).abs() < 1e-9);
    assert!(
        (minutes("feed: 12, passes: 2, hole: 0, sheet_change: 0").minutes * 2.0 - base.minutes).abs() < 1e-9
    );
    let holes = minutes("hole: 6, sheet_change: 0").minutes - base.minutes;
    assert!(base.holes > 20 && (holes - base.holes as f64 * 0.1).abs() < 1e-9);
    assert!((minutes("hole: 0, sheet_change: 7").minutes - base.minutes - 7.0).abs() < 1e-9);
    let (finished, quote) = priced("  rates: {labour: 48, machine: 60, minutes: {panel: 5, bolt: 1.5}}\n");
    let hours = (quote.machine.minutes / 60.0 * 100.0).round() / 100.0;
    assert_eq!(amounts(&quote, Part::Machine), [Some((hours * 60.0 * 100.0).round() / 100.0)]);
    // Five panels of 5 min at 48 an hour: 20; each bolt 1.2.
    let bolts = finished.kit.bolts.len() as f64;
    let [Some(panels), Some(bolting)] = amounts(&quote, Part::Labour)[..] else {
        panic!("{:?}", quote.lines)
    };
    assert!((panels - 20.0).abs() < 1e-9 && (bolting - bolts * 1.2).abs() < 0.006);
    // Minutes without a rate, a rate without minutes.
    for rates in ["labour: 48", "minutes: {panel: 5, bolt: 1.5}"] {
        let (_, quote) = priced(&format!("  rates: {{{rates}}}\n"));
        assert_eq!(amounts(&quote, Part::Labour), [None, None]);
    }
}

#[test]
fn hardware_is_bought_in_packs_and_charged_by_the_piece() {
    let plain = kit("  trim: 10\n");
    let lines = order::lines(&plain);
    let washer = lines.iter().find(|line| line.item == "ISO 7089 M6").unwrap();
    let bolt = lines.iter().find(|line| line.item.starts_with("ISO 7380-1 M6x")).unwrap();
    assert!(washer.price.is_none() && washer.supplier.is_empty() && washer.amount().is_none());
    let (finished, quote) = priced(&format!(
        "  price_lists:\n    - {{supplier: bolts and nuts, currency: EUR, items: [{{item: iso 7089 m6, price: 4, pack: 100}}, {{item: {}, \
         price: 0.2}}]}}\n",
        bolt.item
    ));
    let lines: Vec<OrderLine> = order::lines(&finished);
    let washer = lines.iter().find(|line| line.item == "ISO 7089 M6").unwrap();
    let wanted = washer.needed + washer.spares;
    assert_eq!((washer.supplier.as_str(), washer.packs(), washer.amount()), {
        let packs = (wanted / 100.0).ceil();
        ("bolts and nuts", packs, Some(4.0 * packs))
    });
    let charged: Vec<f64> = amounts(&quote, Part::Hardware).into_iter().flatten().collect();
    let by_hand =
        (wanted * 0.04 * 100.0).round() / 100.0 + ((bolt.needed + bolt.spares) * 0.2 * 100.0).round() / 100.0;
    assert!(charged.len() == 2 && (charged.iter().sum::<f64>() - by_hand).abs() < 1e-9, "{charged:?}");
    assert!((quote.total - by_hand).abs() < 1e-9 && (quote.sum(Part::Hardware) - by_hand).abs() < 1e-9);
    assert_eq!(quote.unpriced, quote.lines.len() - 2);
}

/// An offcut in the rack that takes all parts costs nothing and is not bought.
#[test]
fn what_the_rack_covers_is_not_bought() {
    let (finished, quote) = priced(
        "  materials: {birch-12: {stock: [{length: 2440, width: 1220, price: 94}, {name: rack, length: 2000, width: 1220, offcut: true}]}}\n",
    );
    assert_eq!(amounts(&quote, Part::Boards), [Some(0.0)]);
    let board = &order::lines(&finished)[0];
    assert_eq!(
        (board.item.as_str(), board.needed, board.in_rack, board.packs()),
        ("birch-12 rack", 1.0, 1.0, 0.0)
    );
}

/// The list and `hardware.csv` count the same pieces.
#[test]
fn the_order_counts_what_the_hardware_list_counts() {
    for text in example_kits::ALL {
        let finished = example_kits::finished(text);
        let listed: usize = crate::export::hardware::lines(&finished).iter().map(|line| line.needed).sum();
        let lines = order::lines(&finished);
        let pieces = lines.iter().filter(|line| matches!(line.unit, "pcs" | "pairs")).map(|line| line.needed);
        assert!((pieces.sum::<f64>() - listed as f64).abs() < 1e-9);
    }
}
