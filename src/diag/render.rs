//! Findings to text for people and to JSON for machines.
//!
//! The only place that knows lines, columns and colour. Takes sorted findings and the texts they speak of;
//! decides nothing about them.

use std::collections::BTreeMap;
use std::ops::Range;

use annotate_snippets::{AnnotationKind, Group, Level, Origin, Renderer, Snippet};
use serde_json::{Value, json};

use super::{Finding, Severity, SourceId, Sources, Span};

/// Longest text of a span that JSON repeats, characters.
const LONGEST_TEXT: usize = 120;

/// The findings as a terminal shows them: the text underlined, with its remedy. Without `colour` plain ASCII.
pub(crate) fn human(findings: &[Finding], sources: &Sources, colour: bool) -> String {
    let renderer = if colour { Renderer::styled() } else { Renderer::plain() };
    let mut text = String::new();
    for finding in findings {
        if let Some(reason) = &finding.accepted {
            text.push_str(&accepted(finding, reason, sources));
        } else {
            text.push_str(&renderer.render(&[group(finding, sources)]));
            text.push_str("\n\n");
        }
    }
    text
}

/// The findings as an array of objects.
pub(crate) fn json(findings: &[Finding], sources: &Sources) -> Value {
    findings.iter().map(|finding| object(finding, sources)).collect()
}

/// An accepted warning takes one line.
fn accepted(finding: &Finding, reason: &str, sources: &Sources) -> String {
    let (line, column) = sources.line_and_column(finding.at);
    let (name, rule) = (sources.name(finding.at.source), finding.rule.name);
    format!("accepted[{rule}]: {} ({reason})\n  --> {name}:{line}:{column}\n\n", finding.message)
}

fn group<'a>(finding: &'a Finding, sources: &'a Sources) -> Group<'a> {
    let level = match finding.rule.severity {
        Severity::Error => Level::ERROR,
        Severity::Warning => Level::WARNING,
        Severity::Note => Level::NOTE,
    };
    let mut group = Group::with_title(level.primary_title(&finding.message).id(finding.rule.name));
    // One picture for each text; the one with the fault comes first.
    let mut others: BTreeMap<SourceId, Vec<(Span, Option<&str>)>> = BTreeMap::new();
    for (span, note) in &finding.also {
        others.entry(span.source).or_default().push((*span, Some(note)));
    }
    let mut first = vec![(finding.at, None)];
    first.extend(others.remove(&finding.at.source).unwrap_or_default());
    let name = sources.name(finding.at.source);
    if finding.at.end > 0 && !name.is_empty() {
        group = group.element(picture(finding.at.source, &first, sources));
    } else if !name.is_empty() {
        group = group.element(Origin::path(name));
    }
    for (source, spans) in &others {
        group = group.element(picture(*source, spans, sources));
    }
    if let Some(help) = &finding.help {
        group = group.element(Level::HELP.message(help));
    }
    group
}

/// The lines around the spans of one text. A span without a note is the fault itself.
fn picture<'a>(
    source: SourceId,
    spans: &[(Span, Option<&'a str>)],
    sources: &'a Sources,
) -> Snippet<'a, annotate_snippets::Annotation<'a>> {
    let text = sources.text(source);
    let ranges: Vec<Range<usize>> = spans.iter().map(|(span, _)| within(text, *span)).collect();
    // Only the lines in question are handed on, since the renderer's time grows with the text.
    let start = ranges.iter().map(|range| range.start).min().unwrap_or_default();
    let end = ranges.iter().map(|range| range.end).max().unwrap_or_default();
    let start = text[..start].rfind('\n').map_or(0, |at| at + 1);
    let end = text[end..].find('\n').map_or(text.len(), |at| end + at);
    let line = text[..start].matches('\n').count() + 1;
    let annotations = ranges.iter().zip(spans).map(|(range, (_, note))| {
        let kind = if note.is_none() { AnnotationKind::Primary } else { AnnotationKind::Context };
        kind.span(range.start - start..range.end - start).label(*note)
    });
    Snippet::source(&text[start..end]).line_start(line).path(sources.name(source)).annotations(annotations)
}

/// A span as bytes that surely lie in the text, on the borders of characters.
fn within(text: &str, span: Span) -> Range<usize> {
    let border = |at: u32| {
        let mut at = (at as usize).min(text.len());
        while !text.is_char_boundary(at) {
            at -= 1;
        }
        at
    };
    let start = border(span.start);
    start..border(span.end).max(start)
}

fn object(finding: &Finding, sources: &Sources) -> Value {
    let also: Vec<Value> = finding
        .also
        .iter()
        .map(|(span, note)| {
            let mut other = place(*span, sources);
            other["note"] = json!(note);
            other
        })
        .collect();
    let mut object = json!({ "rule": finding.rule.name, "severity": finding.rule.severity.word() });
    if let (Some(object), Value::Object(place)) = (object.as_object_mut(), place(finding.at, sources)) {
        object.extend(place);
    }
    object["message"] = json!(finding.message);
    object["help"] = json!(finding.help);
    object["on"] = json!(finding.on);
    object["accepted"] = json!(finding.accepted);
    object["also"] = json!(also);
    object
}

fn place(span: Span, sources: &Sources) -> Value {
    let (line, column) = sources.line_and_column(span);
    let (end_line, end_column) = sources.line_and_column(Span { start: span.end, ..span });
    let text: String = sources.snippet(span).chars().take(LONGEST_TEXT).collect();
    json!({
        "file": sources.name(span.source), "line": line, "column": column, "end_line": end_line,
        "end_column": end_column, "text": text,
    })
}

#[cfg(test)]
mod tests {
    use insta::assert_snapshot;

    use super::*;
    use crate::diag::{Findings, Rule};

    static RULE: Rule = Rule {
        name: "slide-too-long",
        severity: Severity::Warning,
        finds: "",
        why: "",
        failing: "",
        passing: "",
        source: "",
    };

    fn span(sources: &Sources, source: SourceId, text: &str) -> Span {
        let start = sources.text(source).find(text).unwrap();
        let cut = |at: usize| u32::try_from(at).unwrap();
        Span { source, start: cut(start), end: cut(start + text.len()) }
    }

    fn example() -> (Vec<Finding>, Sources) {
        let mut sources = Sources::default();
        let design = sources.add("kit.yaml", "carcases:\n  - id: é\n    depth: 700\n    slide: heavy-800\n");
        let vehicle = sources.add("van.yaml", "bay:\n  depth: 750\n");
        let mut findings = Findings::default();
        findings.push(
            Finding::new(
                &RULE,
                span(&sources, design, "heavy-800"),
                "slide of 800 mm in a carcase of 700 mm",
            )
            .help("take a slide of 650 mm or less")
            .also(span(&sources, design, "700"), "the carcase ends here")
            .also(span(&sources, vehicle, "750"), "the bay ends here")
            .on("main"),
        );
        let mut known = Finding::new(&RULE, span(&sources, design, "é"), "odd name");
        known.accepted = Some("we like it".to_owned());
        findings.push(known);
        findings.push(Finding::new(&RULE, Span { source: vehicle, ..Span::default() }, "file is odd"));
        findings.push(Finding::new(&RULE, Span { source: SourceId(9), start: 7, end: 3 }, "no such file"));
        (findings.sorted(), sources)
    }

    #[test]
    fn people_see_the_text_underlined() {
        let (findings, sources) = example();
        assert_snapshot!(human(&findings, &sources, false), @r"
        accepted[slide-too-long]: odd name (we like it)
          --> kit.yaml:2:9

        warning[slide-too-long]: slide of 800 mm in a carcase of 700 mm
         --> kit.yaml:4:12
          |
        3 |     depth: 700
          |            --- the carcase ends here
        4 |     slide: heavy-800
          |            ^^^^^^^^^
          |
         ::: van.yaml:2:10
          |
        2 |   depth: 750
          |          --- the bay ends here
          |
          = help: take a slide of 650 mm or less

        warning[slide-too-long]: file is odd
        --> van.yaml

        warning[slide-too-long]: no such file
        ");
        assert!(human(&findings, &sources, true).contains("\u{1b}["));
    }

    #[test]
    fn machines_get_lines_and_columns() {
        let (findings, sources) = example();
        assert_snapshot!(serde_json::to_string_pretty(&json(&findings[1..2], &sources)).unwrap(), @r#"
        [
          {
            "rule": "slide-too-long",
            "severity": "warning",
            "file": "kit.yaml",
            "line": 4,
            "column": 12,
            "end_line": 4,
            "end_column": 21,
            "text": "heavy-800",
            "message": "slide of 800 mm in a carcase of 700 mm",
            "help": "take a slide of 650 mm or less",
            "on": "main",
            "accepted": null,
            "also": [
              {
                "file": "kit.yaml",
                "line": 3,
                "column": 12,
                "end_line": 3,
                "end_column": 15,
                "text": "700",
                "note": "the carcase ends here"
              },
              {
                "file": "van.yaml",
                "line": 2,
                "column": 10,
                "end_line": 2,
                "end_column": 13,
                "text": "750",
                "note": "the bay ends here"
              }
            ]
          }
        ]
        "#);
    }
}
