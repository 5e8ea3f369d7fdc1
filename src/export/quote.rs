//! What the kit costs: boards, machine time, hardware, finishes, work at the bench.
//!
//! Takes a finished design with the rates and prices of its workshop. A line whose rate or price nobody gave has no amount and
//! is counted beside the sum; it is never zero. Amounts are rounded to hundredths, and sums are sums of rounded amounts.

use super::order::{self, CENTS, OrderLine, Sort};
use crate::finished::Finished;
use crate::joints::coating::Coating;
use crate::number::{decimal, rounded};
use crate::spec::{BoardsBy, Cutting};

/// What a line is about, in the order of the quote.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Part {
    /// Sheets.
    Boards,
    /// The router or the saw.
    Machine,
    /// Bolts, slides, fittings, angle.
    Hardware,
    /// Carpet, mats, laminate, paint.
    Finishes,
    /// Work at the bench.
    Labour,
}

impl Part {
    /// Every part, in the order of the quote.
    pub(crate) const ALL: [Part; 5] =
        [Part::Boards, Part::Machine, Part::Hardware, Part::Finishes, Part::Labour];
}

/// A line of a quote.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct QuoteLine {
    /// What it is about.
    pub(crate) part: Part,
    /// What is charged.
    pub(crate) what: String,
    /// How much of it.
    pub(crate) quantity: f64,
    /// What is counted.
    pub(crate) unit: &'static str,
    /// For one; `None` if nobody said.
    pub(crate) rate: Option<f64>,
    /// All of it; `None` if nobody said what one costs.
    pub(crate) amount: Option<f64>,
}

/// What the machine does.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct MachineTime {
    /// m of outlines and openings, once along.
    pub(crate) cut: f64,
    /// m of engraving.
    pub(crate) engraved: f64,
    /// Round holes.
    pub(crate) holes: usize,
    /// Cuts of a saw.
    pub(crate) saw_cuts: usize,
    /// Sheets.
    pub(crate) sheets: usize,
    /// Minutes of all of it.
    pub(crate) minutes: f64,
}

/// What the kit costs.
#[derive(Clone, Debug)]
pub(crate) struct Quote {
    /// In the order of [`Part`].
    pub(crate) lines: Vec<QuoteLine>,
    /// What the machine does.
    pub(crate) machine: MachineTime,
    /// Sum of what is priced.
    pub(crate) total: f64,
    /// How many lines are not.
    pub(crate) unpriced: usize,
}

impl Quote {
    /// The sum of one part, as far as it is priced.
    pub(crate) fn sum(&self, part: Part) -> f64 {
        let own = self.lines.iter().filter(|line| line.part == part);
        rounded(own.filter_map(|line| line.amount).sum(), CENTS)
    }
}

fn line(
    part: Part,
    what: impl Into<String>,
    (quantity, unit): (f64, &'static str),
    rate: Option<f64>,
) -> QuoteLine {
    let amount = rate.map(|rate| rounded(quantity * rate, CENTS));
    QuoteLine { part, what: what.into(), quantity, unit, rate, amount }
}

/// The quote of a kit.
pub(crate) fn quote(finished: &Finished) -> Quote {
    let orders = order::lines(finished);
    let machine = machine_time(finished);
    let rates = &finished.design.workshop.rates;
    let mut lines = boards(finished, &orders);
    lines.push(line(
        Part::Machine,
        "machine with its operator",
        (rounded(machine.minutes / 60.0, 2), "h"),
        rates.machine,
    ));
    let bought = |sort| orders.iter().filter(move |order: &&OrderLine| order.sort == sort);
    let one = |part, order: &OrderLine| {
        let what = format!("{}, {}", order.item, order.what);
        line(part, what, (order.wanted(), order.unit), order.each())
    };
    lines.extend(bought(Sort::Hardware).map(|order| one(Part::Hardware, order)));
    lines.extend(bought(Sort::Finishes).map(|order| one(Part::Finishes, order)));
    lines.extend(labour(finished));
    let total = rounded(lines.iter().filter_map(|line| line.amount).sum(), CENTS);
    let unpriced = lines.iter().filter(|line| line.amount.is_none()).count();
    Quote { lines, machine, total, unpriced }
}

fn boards(finished: &Finished, orders: &[OrderLine]) -> Vec<QuoteLine> {
    let rates = &finished.design.workshop.rates;
    match rates.boards {
        BoardsBy::WholeSheets => {
            let sheets = orders.iter().filter(|order| order.sort == Sort::Boards).map(|order| {
                let what = if order.in_rack > 0.0 {
                    format!("{}, from the rack", order.item)
                } else {
                    order.item.clone()
                };
                // An offcut without a price is paid for.
                let rate = order.price.or((order.in_rack > 0.0).then_some(0.0));
                line(Part::Boards, what, (order.needed, order.unit), rate)
            });
            sheets.chain(credit(finished)).collect()
        }
        BoardsBy::Share => by_share(finished),
    }
}

/// What offcuts worth keeping count off.
fn credit(finished: &Finished) -> Option<QuoteLine> {
    let percent = finished.design.workshop.rates.offcut_credit;
    if percent <= 0.0 {
        return None;
    }
    let (mut area, mut worth, mut priced) = (0.0, 0.0, true);
    for group in &finished.groups {
        for sheet in group.sheets().filter(|sheet| !sheet.frozen && !sheet.stock.offcut) {
            let left: f64 = group.offcuts(&sheet).iter().map(|zone| zone.length * zone.width).sum();
            area += left / 1e6;
            match sheet.stock.price {
                Some(price) => worth += price * left / (sheet.stock.length * sheet.stock.width),
                None => priced &= left <= 0.0,
            }
        }
    }
    let what = format!("offcuts worth keeping, {} % of their price", decimal(percent, 1));
    let amount = priced.then(|| rounded(-worth * percent / 100.0, CENTS));
    Some(QuoteLine { part: Part::Boards, what, quantity: rounded(area, 2), unit: "m2", rate: None, amount })
}

/// Boards by the area that panels take of each sheet, with waste on top.
fn by_share(finished: &Finished) -> Vec<QuoteLine> {
    let waste = finished.design.workshop.rates.waste;
    let mut lines = Vec::new();
    for group in &finished.groups {
        let (mut share, mut worth, mut priced) = (0.0, 0.0, true);
        for sheet in group.sheets().filter(|sheet| !sheet.frozen) {
            let own = sheet.usage(&group.parts).share();
            share += own;
            match sheet.stock.price {
                Some(price) => worth += price * own,
                None => priced &= sheet.stock.offcut,
            }
        }
        let what = format!("{}, by share with {} % waste", group.material.id, decimal(waste, 1));
        let amount = priced.then(|| rounded(worth * (1.0 + waste / 100.0), CENTS));
        lines.push(QuoteLine {
            part: Part::Boards,
            what,
            quantity: rounded(share, 2),
            unit: "sheets",
            rate: None,
            amount,
        });
    }
    lines
}

/// What the machine does, for every sheet that is still to be cut.
fn machine_time(finished: &Finished) -> MachineTime {
    let rates = &finished.design.workshop.rates;
    let mut time = MachineTime { cut: 0.0, engraved: 0.0, holes: 0, saw_cuts: 0, sheets: 0, minutes: 0.0 };
    for group in &finished.groups {
        for sheet in group.sheets().filter(|sheet| !sheet.frozen) {
            time.sheets += 1;
            time.saw_cuts += sheet.cuts.map_or(0, |list| list.cuts.len());
            for placed in &sheet.sheet.placed {
                let panel = &finished.kit.panels[group.panels[placed.part]];
                let openings = panel.openings.iter().map(|opening| opening.path.length());
                let mut cut = openings.sum::<f64>();
                // A saw has cut its outline; what lies inside is milled all the same.
                if sheet.cuts.is_none() {
                    cut += panel.outline.length();
                }
                time.cut += cut / 1000.0;
                time.holes += panel.bores.len();
                let strokes = panel.engravings.iter().flat_map(|engraving| &engraving.strokes);
                let sides =
                    strokes.flat_map(|stroke| stroke.windows(2)).map(|side| (side[1] - side[0]).length());
                time.engraved += sides.sum::<f64>() / 1000.0;
            }
        }
    }
    time.minutes = (time.cut * rates.passes + time.engraved) / rates.feed
        + time.holes as f64 * rates.hole / 60.0
        + time.saw_cuts as f64 * rates.saw_cut / 60.0
        + time.sheets as f64 * rates.sheet_change;
    time
}

/// Work at the bench, for each sort of work that there is.
fn labour(finished: &Finished) -> Vec<QuoteLine> {
    let rates = &finished.design.workshop.rates;
    let kit = &finished.kit;
    let area: f64 = kit.coatings.iter().map(Coating::area).sum();
    let pieces = [
        ("panels cleaned and marked", kit.panels.len() as f64, "panels"),
        ("bolts put in", kit.bolts.len() as f64, "bolts"),
        ("drawers and trays fitted", kit.layout.drawers.len() as f64, "drawers"),
        ("finish glued on", rounded(area / 1e6, 2), "m2"),
    ];
    let work = pieces.into_iter().zip(rates.minutes).filter(|((_, quantity, _), _)| *quantity > 0.0);
    work.map(|((what, quantity, unit), minutes)| {
        let words = minutes.map_or_else(
            || format!("{what}, minutes not given"),
            |minutes| format!("{what}, {} min each", decimal(minutes, 2)),
        );
        let rate = minutes.zip(rates.labour).map(|(minutes, hour)| minutes * hour / 60.0);
        line(Part::Labour, words, (quantity, unit), rate)
    })
    .collect()
}

/// What the quote rests on, a sentence each.
pub(crate) fn assumptions(finished: &Finished, quote: &Quote) -> Vec<String> {
    let workshop = &finished.design.workshop;
    let (rates, machine) = (&workshop.rates, &quote.machine);
    let number = |value: f64| decimal(value, 2);
    let mut all = vec![
        match rates.boards {
            BoardsBy::WholeSheets => "Every sheet that is bought is charged whole.".to_owned(),
            BoardsBy::Share => format!(
                "Of each sheet the share is charged that panels take, and {} % for waste.",
                number(rates.waste)
            ),
        },
        format!(
            "Machine: {} m of edges in {} passes and {} m of engraving at {} m/min; {} holes of {} s; {} sheets of {} min: {} min.",
            number(machine.cut),
            number(rates.passes),
            number(machine.engraved),
            number(rates.feed),
            machine.holes,
            number(rates.hole),
            machine.sheets,
            number(rates.sheet_change),
            number(machine.minutes),
        ),
    ];
    if workshop.cutting.value == Cutting::Saw {
        all.push(format!(
            "Saw: {} cuts of {} s; they are in the minutes above.",
            machine.saw_cuts,
            number(rates.saw_cut)
        ));
    }
    all.push(format!(
        "Hardware with spares: {} % of each line, {} at least; charged by the piece, bought in whole packs.",
        number(workshop.spares.percent.value),
        workshop.spares.at_least.value
    ));
    all.push("Equipment, freight, tax and the fitting into the vehicle are not in it.".to_owned());
    all
}
