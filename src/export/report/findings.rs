//! What the rules found, and which rules ran.

use super::body::Column::{Figures, Words};
use super::body::{Body, Table, heading, paragraph};
use crate::diag::{Finding, Rule, Severity, Sources};

/// Findings that stand, then those that the spec accepts.
pub(super) fn findings(findings: &[Finding], sources: &Sources) -> Body {
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
    let mut html = if open.is_empty() { paragraph("Nothing is left to look at.") } else { table.body() };
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
        html.push(heading("Accepted in the spec"));
        html.push(table.body());
    }
    html
}

/// Every rule with the number of its findings.
pub(super) fn rules(findings: &[Finding], rules: &[&'static Rule]) -> Body {
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
    )) + table.body()
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

#[cfg(test)]
mod tests {
    use super::super::page::written;
    use super::*;
    use crate::diag::Span;

    static SHARP: Rule = Rule {
        name: "edge-sharp",
        severity: Severity::Warning,
        finds: "an edge that cuts",
        why: "",
        failing: "",
        passing: "",
        source: "",
    };

    #[test]
    fn what_stands_and_what_is_accepted_are_told_apart() {
        let mut sources = Sources::default();
        let source = sources.add("kit.yaml", "a: 1\nb: <2>\n");
        let at = Span { source, start: 8, end: 11 };
        let open = Finding::new(&SHARP, at, "edge < 1 mm").on("main-deck").help("round it");
        let accepted = Finding { accepted: Some("nobody goes there".to_owned()), ..open.clone() };
        let html = written(&findings(&[open, accepted], &sources));
        let (standing, rest) = html.split_once("Accepted in the spec").unwrap();
        assert!(standing.contains("edge &lt; 1 mm") && standing.contains("round it"), "{html}");
        assert!(standing.contains("kit.yaml:2:4") && !standing.contains("nobody goes there"), "{html}");
        assert!(rest.contains("nobody goes there"), "{html}");
    }

    #[test]
    fn a_rule_that_found_nothing_is_listed_all_the_same() {
        let html = written(&rules(&[], &[&SHARP]));
        assert!(html.contains("<td>edge-sharp</td>") && html.contains("<td class=\"n\">0</td>"), "{html}");
    }
}
