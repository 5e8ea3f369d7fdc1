//! What the rules found, and which rules ran.

use super::page::Column::{Figures, Words};
use super::page::{Table, heading, paragraph};
use crate::diag::{Finding, Rule, Severity, Sources};

/// Findings that stand, then those that the spec accepts.
pub(super) fn findings(findings: &[Finding], sources: &Sources) -> String {
    let (accepted, open): (Vec<_>, Vec<_>) = findings.iter().partition(|finding| finding.accepted.is_some());
    let mut table = Table::new([
        Words("Rule"),
        Words("Severity"),
        Words("On"),
        Words("Finding"),
        Words("Remedy"),
        Words("Place"),
    ]);
    for finding in &open {
        table.row([
            finding.rule.name.to_owned(),
            finding.rule.severity.word().to_owned(),
            finding.on.clone(),
            finding.message.clone(),
            finding.help.clone().unwrap_or_default(),
            place(finding, sources),
        ]);
    }
    let mut html = if open.is_empty() { paragraph("Nothing is left to look at.") } else { table.html() };
    if !accepted.is_empty() {
        let mut table =
            Table::new([Words("Rule"), Words("On"), Words("Finding"), Words("Reason given"), Words("Place")]);
        for finding in &accepted {
            table.row([
                finding.rule.name.to_owned(),
                finding.on.clone(),
                finding.message.clone(),
                finding.accepted.clone().unwrap_or_default(),
                place(finding, sources),
            ]);
        }
        html.push_str(&heading("Accepted in the spec"));
        html.push_str(&table.html());
    }
    html
}

/// Every rule with the number of its findings.
pub(super) fn rules(findings: &[Finding], rules: &[&'static Rule]) -> String {
    let mut table =
        Table::new([Words("Rule"), Words("Severity"), Words("What it finds"), Figures("Findings")]);
    for rule in rules {
        let number = findings.iter().filter(|finding| finding.rule.name == rule.name).count();
        let (name, severity) = (rule.name.to_owned(), rule.severity.word().to_owned());
        table.row([name, severity, rule.finds.to_owned(), number.to_string()]);
    }
    let errors = rules.iter().filter(|rule| rule.severity == Severity::Error).count();
    paragraph(&format!(
        "{} rules ran, {errors} of which stop the work when they find something. A design that passes them all can be \
         cut and put together; that says nothing about its strength beyond what the rules name.",
        rules.len()
    )) + &table.html()
}

/// File, line and column.
fn place(finding: &Finding, sources: &Sources) -> String {
    let name = sources.name(finding.at.source);
    if finding.at.end == 0 {
        return name.to_owned();
    }
    let (line, column) = sources.line_and_column(finding.at);
    format!("{name}:{line}:{column}")
}
