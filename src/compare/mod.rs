//! What changed from one kit to another.
//!
//! Takes documents as `kit.json` has them, whether they were read from there or have just been built, and gives plain
//! data: what is cut again, what is needed more or less, what it comes to. Numbers are compared as they are printed
//! there. Prints nothing.

mod counts;
mod model;
mod panels;
#[cfg(test)]
mod tests;

pub(crate) use model::{Change, Compared, Comparison, Counted, Figures, Margin, Panels, Piece, Told};
pub(crate) use panels::compare as panels;

use crate::budget;
use crate::export::kit_json::{self, KitDocument};
use crate::mass::MASS_DECIMALS;
use crate::number::rounded;
use model::MarginChange;
use serde::Deserialize;
use serde_json::Value;
use std::collections::BTreeMap;

/// Version of the format. It rises when a field changes its meaning or goes; new fields alone do not raise it.
pub(crate) const VERSION: u32 = 1;

/// Decimals of money and minutes.
const CENTS: usize = 2;

/// Decimals of places, mm.
const PLACE_DECIMALS: usize = 6;

/// A kit and what it was given as.
#[derive(Debug)]
pub(crate) struct Given {
    /// The spec, folder or file as it was typed.
    pub(crate) of: String,
    /// The kit.
    pub(crate) kit: KitDocument,
}

/// What is read of a document first.
#[derive(Deserialize)]
struct Versioned {
    version: u32,
}

/// JSON Schema of the format.
pub(crate) fn schema() -> Value {
    schemars::schema_for!(Compared).to_value()
}

/// The kit of a `kit.json`; else what is wrong with it and what to do.
pub(crate) fn read(text: &[u8]) -> Result<KitDocument, String> {
    let remedy = "give a spec, a folder that `make` wrote, or the kit.json in it";
    let versioned: Versioned = serde_json::from_slice(text)
        .map_err(|error| format!("it is no kit.json of ours ({error}); {remedy}"))?;
    if versioned.version != kit_json::VERSION {
        return Err(format!(
            "it is of version {} of kit.json, and this program reads version {}; make that kit anew from its spec \
             with this program, or compare the specs themselves",
            versioned.version,
            kit_json::VERSION
        ));
    }
    serde_json::from_slice(text).map_err(|error| {
        format!(
            "its kit.json was written by another state of this program or has been changed ({error}); make that kit \
             anew from its spec"
        )
    })
}

/// The first kit against each of the others.
pub(crate) fn compare(kits: &[Given]) -> Compared {
    let comparisons = match kits {
        [first, others @ ..] => others.iter().map(|other| comparison(first, other)).collect(),
        [] => Vec::new(),
    };
    Compared { version: VERSION, kits: kits.iter().map(figures).collect(), comparisons }
}

fn figures(given: &Given) -> Figures {
    let kit = &given.kit;
    let findings = told(kit);
    let count = |wanted: &dyn Fn(&Told) -> bool| findings.iter().filter(|told| wanted(told)).count();
    let margin = |((scenario, limits, what), left): ((&str, &str, &str), f64)| Margin {
        scenario: scenario.to_owned(),
        limits: limits.to_owned(),
        what: what.to_owned(),
        left,
    };
    Figures {
        of: given.of.clone(),
        name: kit.name.clone(),
        revision: kit.edition.as_ref().and_then(|edition| edition.revision.clone()),
        inputs_sha256: kit.edition.as_ref().map(|edition| edition.inputs_sha256.clone()),
        vehicle: kit.vehicle.name.clone(),
        panels: kit.panels.len(),
        bolts: kit.bolts.len(),
        mass: kit.mass.total,
        centre: kit.mass.centre,
        sheets: counts::sheets_of(kit),
        currency: kit.quote.currency.clone(),
        cost: cost(kit),
        unpriced: kit.quote.unpriced,
        machine_minutes: kit.quote.machine_minutes,
        margins: margins(kit).into_iter().map(margin).collect(),
        warnings: count(&|told| told.severity == "warning" && !told.accepted),
        accepted: count(&|told| told.accepted),
        notes: count(&|told| told.severity == "note"),
    }
}

/// What is priced; nothing if nobody priced anything.
fn cost(kit: &KitDocument) -> Option<f64> {
    kit.quote.lines.iter().any(|line| line.amount.is_some()).then_some(kit.quote.total)
}

/// By scenario, limits and what, in the document's order.
fn margins(kit: &KitDocument) -> Vec<((&str, &str, &str), f64)> {
    let budgets = kit.budgets.iter().flat_map(|budget| {
        let key = (budget.scenario.as_str(), budget.limits.as_str());
        budget.verdicts.iter().map(move |verdict| ((key.0, key.1, verdict.what.as_str()), verdict.margin))
    });
    budgets.collect()
}

/// The findings of a kit, sorted.
fn told(kit: &KitDocument) -> Vec<Told> {
    let findings = kit.findings.as_array().into_iter().flatten();
    let text = |value: &Value| value.as_str().unwrap_or_default().to_owned();
    let mut all: Vec<Told> = findings
        .map(|finding| Told {
            severity: text(&finding["severity"]),
            accepted: !finding["accepted"].is_null(),
            rule: text(&finding["rule"]),
            on: text(&finding["on"]),
            message: text(&finding["message"]),
        })
        .collect();
    all.sort();
    all
}

fn comparison(old: &Given, new: &Given) -> Comparison {
    let (a, b) = (&old.kit, &new.kit);
    let some = |pick: &dyn Fn(&KitDocument) -> f64, decimals| change(Some(pick(a)), Some(pick(b)), decimals);
    let one_currency = a.quote.currency == b.quote.currency;
    let cost = change(cost(a), cost(b), CENTS);
    let (before, after) = (told(a), told(b));
    let mut comparison = Comparison {
        old: old.of.clone(),
        new: new.of.clone(),
        same: false,
        panels: panels::compare(&a.panels, &b.panels),
        hardware: counts::hardware(a, b),
        fittings: counts::fittings(a, b),
        sheets: counts::sheets(a, b),
        mass: some(&|kit| kit.mass.total, MASS_DECIMALS),
        centre: [0, 1, 2].map(|axis| some(&|kit| kit.mass.centre[axis], PLACE_DECIMALS)),
        cost: Change { by: cost.by.filter(|_| one_currency), ..cost },
        unpriced: some(&|kit| kit.quote.unpriced as f64, 0),
        machine_minutes: some(&|kit| kit.quote.machine_minutes, CENTS),
        margins: margin_changes(a, b),
        came: lacking(&after, &before),
        went: lacking(&before, &after),
        elsewhere: Vec::new(),
    };
    comparison.elsewhere = elsewhere(a, b, &comparison);
    comparison.same = is_same(&comparison);
    comparison
}

fn change(old: Option<f64>, new: Option<f64>, decimals: usize) -> Change {
    let by = old.zip(new).map(|(old, new)| rounded(new - old, decimals));
    Change { old, new, by }
}

fn margin_changes(old: &KitDocument, new: &KitDocument) -> Vec<MarginChange> {
    let (was, is) = (margins(old), margins(new));
    let mut keys: Vec<(&str, &str, &str)> = was.iter().chain(&is).map(|(key, _)| *key).collect();
    keys.sort_unstable();
    keys.dedup();
    let (was, is): (BTreeMap<_, _>, BTreeMap<_, _>) = (was.into_iter().collect(), is.into_iter().collect());
    let changes = keys.into_iter().map(|key @ (scenario, limits, what)| MarginChange {
        scenario: scenario.to_owned(),
        limits: limits.to_owned(),
        what: what.to_owned(),
        margin: change(was.get(&key).copied(), is.get(&key).copied(), budget::DECIMALS),
    });
    changes.filter(|change| !change.margin.is_none()).collect()
}

/// Those of the findings that the others lack, one for one.
fn lacking(findings: &[Told], others: &[Told]) -> Vec<Told> {
    let mut others = others.to_vec();
    let mut lacking = Vec::new();
    for finding in findings {
        match others.iter().position(|other| other == finding) {
            Some(at) => {
                others.remove(at);
            }
            None => lacking.push(finding.clone()),
        }
    }
    lacking
}

/// Fields that say who and when, or whose places in a text are no part of the kit.
const IDENTITY: [&str; 5] = ["name", "edition", "version", "generator", "findings"];

/// Fields of the documents that differ although the comparison says nothing of what they are about.
fn elsewhere(old: &KitDocument, new: &KitDocument, comparison: &Comparison) -> Vec<String> {
    let about = |field: &str| match field {
        "panels" => !comparison.panels.are_same(),
        // Bolts lie where their bores are.
        "bolts" => !comparison.hardware.is_empty() || !comparison.panels.are_same(),
        "fittings" => !comparison.fittings.is_empty() || !comparison.panels.are_same(),
        "sheets" | "sheet_totals" => !comparison.sheets.is_empty() || !comparison.panels.are_same(),
        "mass" => !comparison.mass.is_none() || comparison.centre.iter().any(|axis| !axis.is_none()),
        "budgets" => !comparison.margins.is_empty(),
        "quote" => !comparison.cost.is_none() || !comparison.machine_minutes.is_none(),
        _ => IDENTITY.contains(&field),
    };
    let [old, new] = [old, new].map(|kit| serde_json::to_value(kit).unwrap_or_default());
    let fields = old.as_object().into_iter().flatten();
    let differ = fields.filter(|(field, value)| {
        !about(field) && levelled((*value).clone()) != levelled(new[field.as_str()].clone())
    });
    differ.map(|(field, _)| field.clone()).collect()
}

/// A value with its lists of things in an order that does not depend on the spec's, and without editions.
fn levelled(value: Value) -> Value {
    match value {
        Value::Array(items) => {
            let mut items: Vec<Value> = items.into_iter().map(levelled).collect();
            if items.iter().all(Value::is_object) {
                items.sort_by_cached_key(Value::to_string);
            }
            Value::Array(items)
        }
        Value::Object(map) => {
            let fields = map.into_iter().filter(|(field, _)| field != "edition");
            Value::Object(fields.map(|(field, value)| (field, levelled(value))).collect())
        }
        plain => plain,
    }
}

fn is_same(comparison: &Comparison) -> bool {
    let Comparison { mass, centre, cost, unpriced, machine_minutes, .. } = comparison;
    let figures = [mass, cost, unpriced, machine_minutes].into_iter().chain(centre);
    let counts = [&comparison.hardware, &comparison.fittings, &comparison.sheets];
    comparison.panels.are_same()
        && counts.iter().all(|counts| counts.is_empty())
        && figures.into_iter().all(Change::is_none)
        && comparison.margins.is_empty()
        && [&comparison.came, &comparison.went].iter().all(|findings| findings.is_empty())
        && comparison.elsewhere.is_empty()
}
