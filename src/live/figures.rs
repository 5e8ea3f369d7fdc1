//! What a change costs: mass, sheets, money, and what each scenario leaves.

use crate::export::{quote, words};
use crate::finished::Finished;
use crate::number::fixed;
use serde_json::{Value, json};

/// A figure.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Figure {
    what: String,
    value: String,
    unit: String,
}

/// Figures under their titles.
pub(super) type Figures = Vec<(String, Vec<Figure>)>;

fn figure(what: impl Into<String>, value: String, unit: &str) -> Figure {
    Figure { what: what.into(), value, unit: unit.to_owned() }
}

/// Every figure of a kit. Where no sheets are laid yet, what follows from them is left out.
pub(super) fn figures(finished: &Finished) -> Figures {
    let kit = &finished.kit;
    let total = finished.masses.total;
    let mut figures = vec![(
        "Kit".to_owned(),
        vec![
            figure("mass, empty", fixed(total.mass, 1), "kg"),
            figure("centre, from the tailgate", fixed(total.centre.x, 0), "mm"),
            figure("centre, to the left", fixed(total.centre.y, 0), "mm"),
            figure("centre, above the floor", fixed(total.centre.z, 0), "mm"),
            figure("panels", kit.panels.len().to_string(), ""),
            figure("bolts", kit.bolts.len().to_string(), ""),
        ],
    )];
    figures.push(("Will it hold, most used".to_owned(), strength(finished)));
    if !finished.groups.is_empty() {
        let sheets = finished.groups.iter().flat_map(|group| {
            let used = group.usage().share();
            [
                figure(format!("{}, sheets", group.material.id), group.nesting.sheets.len().to_string(), ""),
                figure(format!("{}, used", group.material.id), fixed(100.0 * used, 1), "%"),
            ]
        });
        figures.push(("Sheets".to_owned(), sheets.collect()));
        figures.push(("Cost and time".to_owned(), cost(finished)));
    }
    for budget in &finished.budgets {
        let scenario = &finished.design.scenarios[budget.scenario];
        let verdicts = budget.verdicts.iter();
        let rows =
            verdicts.map(|verdict| figure(words::limited(verdict.what), fixed(verdict.margin(), 1), "kg"));
        figures.push((format!("Left in {}", scenario.title), rows.collect()));
    }
    figures
}

/// Of each kind of check the part that is used where it is most.
fn strength(finished: &Finished) -> Vec<Figure> {
    let (most, unknown) = finished.strength.most_used(&finished.kit);
    let figures = most.into_iter().map(|(kind, used)| figure(kind.word(), fixed(100.0 * used, 0), "%"));
    figures.chain([figure("not checked", unknown.to_string(), "")]).collect()
}

fn cost(finished: &Finished) -> Vec<Figure> {
    let quote = quote::quote(finished);
    let currency = finished.design.workshop.currency.as_ref().map_or("", |currency| currency.value.as_str());
    let mut rows = vec![figure("machine time", fixed(quote.machine.minutes, 0), "min")];
    if quote.lines.iter().any(|line| line.amount.is_some()) {
        rows.insert(0, figure("priced lines", fixed(quote.total, 2), currency));
    }
    if quote.unpriced > 0 {
        rows.push(figure("lines without a price", quote.unpriced.to_string(), ""));
    }
    rows
}

/// The figures, each with what it was before where that differs.
pub(super) fn json(now: &Figures, before: Option<&Figures>) -> Value {
    let earlier = |title: &str, what: &str| {
        let groups = before.into_iter().flatten().filter(|(own, _)| own == title);
        groups.flat_map(|(_, rows)| rows).find(|row| row.what == what).map(|row| row.value.as_str())
    };
    let groups = now.iter().map(|(title, rows)| {
        let rows = rows.iter().map(|row| {
            let before = earlier(title, &row.what).filter(|before| *before != row.value);
            json!({"what": row.what, "value": row.value, "unit": row.unit, "before": before})
        });
        json!({"title": title, "rows": rows.collect::<Vec<Value>>()})
    });
    groups.collect()
}
