//! What came of a run, in a few lines for people and as an object for machines.

use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::path::Path;

use serde_json::{Value, json};

use super::table::counted;
use crate::build::Built;
use crate::diag::{self, Counts, Finding};
use crate::export::words;
use crate::finished::{Finished, SheetGroup};
use crate::mass::MASS_DECIMALS;
use crate::number::{decimal, fixed, rounded};
use crate::spec::Workshop;

/// What came of a design, and where it went.
pub(super) struct Outcome<'a> {
    /// The design file as the user gave it.
    pub(super) spec: &'a str,
    /// What was found and made.
    pub(super) built: &'a Built,
    /// The set's folder and the number of files in it, if it was written.
    pub(super) written: Option<(&'a Path, usize)>,
}

/// `1 error, 2 warnings`; `no findings`.
pub(super) fn counts_in_words(findings: &[Finding]) -> String {
    let counts = Counts::of(findings);
    let counts = [
        (counts.errors, "error", "errors"),
        (counts.warnings, "warning", "warnings"),
        (counts.notes, "note", "notes"),
        (counts.accepted, "accepted warning", "accepted warnings"),
    ];
    let told: Vec<String> =
        counts.iter().filter(|(n, ..)| *n > 0).map(|(n, one, many)| counted(*n, one, many)).collect();
    if told.is_empty() { "no findings".to_owned() } else { told.join(", ") }
}

/// The lines for people.
pub(super) fn text(outcome: &Outcome<'_>) -> String {
    let counts = counts_in_words(&outcome.built.findings);
    let Some(finished) = &outcome.built.finished else {
        return format!("{}: {counts}; nothing is written until the errors are gone\n", outcome.spec);
    };
    let kit = &finished.kit;
    let mut text = format!(
        "{}: {}, {}, {} kg\n",
        finished.design.name.value,
        counted(kit.panels.len(), "panel", "panels"),
        counted(kit.bolts.len(), "bolt", "bolts"),
        fixed(finished.masses.total.mass, 1)
    );
    for group in &finished.groups {
        let _ = writeln!(text, "  {}", sheets(group, &finished.design.workshop));
    }
    let _ = writeln!(text, "{counts}");
    if let Some((folder, n)) = outcome.written {
        let _ = writeln!(text, "written to {} ({})", folder.display(), counted(n, "file", "files"));
    }
    text
}

/// The object for machines: counts, findings, and what the kit comes to.
pub(super) fn json(outcome: &Outcome<'_>) -> Value {
    let built = outcome.built;
    let counts = Counts::of(&built.findings);
    json!({
        "spec": outcome.spec,
        "errors": counts.errors,
        "warnings": counts.warnings,
        "notes": counts.notes,
        "accepted": counts.accepted,
        "written": outcome.written.map(|(folder, _)| folder.display().to_string()),
        "kit": built.finished.as_ref().map(kit),
        "findings": diag::json(&built.findings, &built.sources),
    })
}

fn kit(finished: &Finished) -> Value {
    let sheets: Vec<Value> = finished.groups.iter().map(group_json).collect();
    json!({
        "name": finished.design.name.value,
        "panels": finished.kit.panels.len(),
        "bolts": finished.kit.bolts.len(),
        "mass_kg": rounded(finished.masses.total.mass, MASS_DECIMALS),
        "materials": sheets,
    })
}

/// The sheets of one material for machines.
pub(super) fn group_json(group: &SheetGroup) -> Value {
    let share = group.usage().share();
    json!({
        "material": group.material.id,
        "sheets": group.nesting.sheets.len(),
        "cut_already": group.frozen.len(),
        "at_least": group.nesting.bound,
        "cost": group.nesting.cost.used,
        "least_cost": group.nesting.cost.least,
        "used": rounded(share, 4),
        "stock": kinds(group),
    })
}

/// `2 sheets of birch-12 (2440x1220), 61 % used; at least 1 is needed`.
pub(super) fn sheets(group: &SheetGroup, workshop: &Workshop) -> String {
    let n = group.nesting.sheets.len();
    let cut = match group.frozen.len() {
        0 => String::new(),
        frozen => format!("; {} cut already", counted(frozen, "sheet is", "sheets are")),
    };
    if n == 0 {
        return format!("no sheet of {} left to cut{cut}", group.material.id);
    }
    let kinds: Vec<(&str, usize)> = kinds(group).into_iter().collect();
    let sizes: Vec<String> = match kinds.as_slice() {
        [(size, _)] => vec![(*size).to_owned()],
        several => several.iter().map(|(size, n)| format!("{n} of {size}")).collect(),
    };
    let share = group.usage().share();
    let currency = workshop.currency.as_ref().map(|currency| currency.value.as_str());
    let proof = words::proof(&group.nesting, &group.stock, currency);
    let (sheets, material) = (counted(n, "sheet", "sheets"), &group.material.id);
    format!(
        "{sheets} of {material} ({}), {} % used; {proof}{cut}",
        sizes.join(", "),
        decimal(100.0 * share, 0)
    )
}

/// How many sheets of each size there are.
fn kinds(group: &SheetGroup) -> BTreeMap<&str, usize> {
    let mut kinds = BTreeMap::new();
    for sheet in &group.nesting.sheets {
        if let Some(stock) = group.stock.get(sheet.stock) {
            *kinds.entry(stock.name.as_str()).or_default() += 1;
        }
    }
    kinds
}
