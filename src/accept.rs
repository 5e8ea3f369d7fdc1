//! Warnings that the spec accepts, each with a reason.
//!
//! Takes the findings of every stage and the design's `accept` entries; marks the findings that they name. Finds
//! fault with entries that can do nothing. Never drops a finding: an accepted one is still reported.

use std::collections::BTreeSet;

use crate::diag::{Finding, Findings, Rule, Severity, did_you_mean, nearest};
use crate::spec::Accept;

/// All rules of this stage.
pub(crate) const RULES: &[&Rule] = &[&UNKNOWN_RULE, &ERROR_ACCEPTED, &NOTHING_TO_ACCEPT];

macro_rules! kit {
    ($spacing:literal, $accept:literal) => {
        concat!(
            "bay: {width: 1040, depth: 1050, height: 800}\n",
            $spacing,
            "carcases:\n",
            "  - {id: main, width: 1000, depth: 900, height: 300, panel: birch-12, cell: {open: {}}}\n",
            $accept
        )
    };
}

const PASSING: &str =
    kit!("bolts: {spacing: 300}\n", "accept:\n  - {rule: bolt-spacing, reason: nothing heavy goes in}\n");

/// A rule that does not exist.
static UNKNOWN_RULE: Rule = Rule {
    name: "accept-unknown-rule",
    severity: Severity::Error,
    finds: "An entry under `accept` that names no rule.",
    why: "The warning that was meant would go on, or come back unseen under its right name.",
    failing: kit!(
        "bolts: {spacing: 300}\n",
        "accept:\n  - {rule: bolt-spaces, reason: nothing heavy goes in}\n"
    ),
    passing: PASSING,
    source: "a decision of this project; `baywright explain` lists the rules",
};

/// An error that the spec would have passed over.
static ERROR_ACCEPTED: Rule = Rule {
    name: "accept-of-error",
    severity: Severity::Error,
    finds: "An entry under `accept` that names a rule whose findings are errors.",
    why: "An error means that the kit cannot be cut, joined or fitted as it stands; a reason does not change that.",
    failing: kit!(
        "bolts: {spacing: 300}\n",
        "accept:\n  - {rule: outside-bay, reason: it will be pressed in}\n"
    ),
    passing: PASSING,
    source: "a decision of this project",
};

/// An entry that no finding answers to.
static NOTHING_TO_ACCEPT: Rule = Rule {
    name: "accept-without-finding",
    severity: Severity::Warning,
    finds: "An entry under `accept` that fits no finding of the finished kit.",
    why: "What it was written for is gone, or its `on` names another part; left in, it could hide the next fault.",
    failing: kit!("", "accept:\n  - {rule: bolt-spacing, reason: nothing heavy goes in}\n"),
    passing: PASSING,
    source: "a decision of this project",
};

/// Reports entries that name no rule, or an error. Needs no finding, so it can be asked of any design.
pub(crate) fn check(findings: &mut Findings, entries: &[Accept], rules: &[&Rule]) {
    for entry in entries {
        let name = &entry.rule.value;
        match rules.iter().find(|rule| rule.name == name) {
            None => {
                let message = format!("there is no rule called `{name}`");
                let warnings = rules.iter().filter(|rule| !rule.is_error());
                let near = nearest(name, rules.iter().map(|rule| rule.name));
                let help = near.map_or_else(
                    || did_you_mean(name, warnings.map(|rule| rule.name)),
                    |near| Some(format!("did you mean `{near}`?")),
                );
                let finding = Finding::new(&UNKNOWN_RULE, entry.rule.span, message);
                findings.push(Finding { help, ..finding });
            }
            Some(rule) if rule.is_error() => {
                let message = format!("`{name}` finds errors, and an error cannot be accepted");
                let help = format!("`baywright explain {name}` says what to change; remove this entry");
                findings.push(Finding::new(&ERROR_ACCEPTED, entry.rule.span, message).help(help));
            }
            Some(_) => {}
        }
    }
}

/// Marks the findings that the entries accept; of two entries that fit a finding the first counts. Reports
/// entries that fit none: only where every stage has run, else the finding may still be to come.
pub(crate) fn apply(findings: &mut Findings, entries: &[Accept], rules: &[&Rule]) {
    let mut idle = Vec::new();
    for entry in entries {
        let mut fits = false;
        for finding in findings.iter_mut().filter(|finding| accepts(entry, finding)) {
            fits = true;
            finding.accepted.get_or_insert_with(|| entry.reason.value.clone());
        }
        let is_rule = rules.iter().any(|rule| rule.name == entry.rule.value && !rule.is_error());
        if !fits && is_rule {
            idle.push(unused(entry, findings));
        }
    }
    for finding in idle {
        findings.push(finding);
    }
}

fn accepts(entry: &Accept, finding: &Finding) -> bool {
    let named = entry.on.as_ref().is_none_or(|on| on.value == finding.on);
    !finding.is_error() && finding.rule.name == entry.rule.value && named
}

fn unused(entry: &Accept, findings: &Findings) -> Finding {
    let rule = &entry.rule.value;
    let on: BTreeSet<&str> =
        findings.iter().filter(|finding| finding.rule.name == rule).map(|f| f.on.as_str()).collect();
    let (message, help) = match &entry.on {
        Some(name) if !on.is_empty() => {
            let near = nearest(&name.value, on.iter().copied()).or_else(|| on.first().copied()).unwrap_or("");
            (format!("no `{rule}` is found on `{}`", name.value), format!("one is found on `{near}`"))
        }
        _ => (format!("no `{rule}` is found"), "remove this entry".to_owned()),
    };
    Finding::new(&NOTHING_TO_ACCEPT, entry.span, message).help(help)
}
