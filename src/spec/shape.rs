//! A tree against the schema: every fault of shape at once, in plain words.
//!
//! Knows only what our schemas use: references, types, properties, items, required keys, choices between kinds
//! and choices between words.

use serde_json::Value;

use super::rules::{self, shown};
use super::tree::{Entry, Kind, Node};
use crate::diag::{Finding, Findings, Span, did_you_mean};

/// Finds all faults of a tree against a schema. Whether there were none.
pub(crate) fn check(findings: &mut Findings, tree: &Node, schema: &Value) -> bool {
    let mut checker = Checker { findings, root: schema, faults: 0 };
    let name = schema["title"].as_str().unwrap_or("this file");
    checker.node(tree, schema, name, tree.span);
    checker.faults == 0
}

/// What the schema says of the last of the values that lead into one another from the tree, each with its key; of an entry
/// of a list what it says of the list.
pub(crate) fn description(tree: &Node, way: &[(Option<&str>, &Node)], schema: &Value) -> Option<String> {
    let mut findings = Findings::default();
    let checker = Checker { findings: &mut findings, root: schema, faults: 0 };
    let (mut node, mut at, mut said) = (tree, schema, None);
    for (key, next) in way {
        let here = checker.for_kind(node, checker.resolved(at))?;
        at = match key {
            Some(key) => here["properties"].get(key).unwrap_or(&here["additionalProperties"]),
            None => &here["items"],
        };
        said = at["description"].as_str().or(said);
        node = next;
    }
    said.map(str::to_owned)
}

struct Checker<'a> {
    findings: &'a mut Findings,
    root: &'a Value,
    faults: usize,
}

impl<'a> Checker<'a> {
    /// Makes and keeps a finding. One more than is listed is enough: making them takes time.
    fn fault(&mut self, make: impl FnOnce() -> Finding) {
        if self.faults <= rules::MOST_LISTED {
            self.findings.push(make());
        }
        self.faults += 1;
    }

    /// Checks one value. `name` is what it is called, `key` where its key stands.
    fn node(&mut self, node: &Node, schema: &'a Value, name: &str, key: Span) {
        let schema = self.resolved(schema);
        if let Some(words) = words(schema) {
            return self.word(node, &words, name, key);
        }
        let Some(schema) = self.for_kind(node, schema) else {
            return self.wrong_kind(node, schema, name, key);
        };
        match &node.kind {
            Kind::Map(entries) => self.map(node, entries, schema, (name, key)),
            Kind::List(nodes) => {
                for node in nodes {
                    self.node(node, &schema["items"], &format!("entry of {name}"), node.span);
                }
            }
            Kind::Text(_) | Kind::Number(_) | Kind::Bool | Kind::Null => {}
        }
    }

    fn map(&mut self, node: &Node, entries: &[Entry], schema: &'a Value, (name, key): (&str, Span)) {
        let what = schema["title"].as_str().unwrap_or(name);
        let known = schema["properties"].as_object();
        for entry in entries {
            let name = format!("`{}`", shown(&entry.key));
            if let Some(value) = known.and_then(|known| known.get(&entry.key)) {
                self.node(&entry.value, value, &name, entry.key_span);
            } else if schema["additionalProperties"].is_object() {
                self.node(&entry.value, &schema["additionalProperties"], &name, entry.key_span);
            } else {
                self.fault(|| {
                    let names = known.into_iter().flat_map(|known| known.keys().map(String::as_str));
                    let message = format!("{what} has no key {name}");
                    let finding = Finding::new(&rules::UNKNOWN_KEY, entry.key_span, message);
                    match did_you_mean(&entry.key, names) {
                        Some(help) => finding.help(help),
                        None => finding,
                    }
                });
            }
        }
        for required in schema["required"].as_array().into_iter().flatten().filter_map(Value::as_str) {
            if node.get(required).is_none() {
                let at = if node.span.end > node.span.start { node.span } else { key };
                let meaning = known.and_then(|known| known.get(required)?["description"].as_str());
                self.fault(|| {
                    let message = format!("{what} has no `{required}`");
                    let finding = Finding::new(&rules::MISSING_KEY, at, message);
                    match meaning {
                        Some(meaning) => finding.help(format!("add `{required}`: {}", begun_small(meaning))),
                        None => finding,
                    }
                });
            }
        }
    }

    fn word(&mut self, node: &Node, words: &[&str], name: &str, key: Span) {
        match &node.kind {
            Kind::Text(text) if words.contains(&text.as_str()) => {}
            Kind::Text(text) => self.fault(|| {
                let message = format!("{name} cannot be `{}`", shown(text));
                let finding = Finding::new(&rules::UNKNOWN_WORD, node.span, message);
                match did_you_mean(text, words.iter().copied()) {
                    Some(help) => finding.help(help),
                    None => finding,
                }
            }),
            _ => {
                let at = visible(node, key);
                let message = format!("{name} must be {}, not {}", words.join(" or "), kind_of(node));
                self.fault(|| Finding::new(&rules::WRONG_KIND, at, message));
            }
        }
    }

    fn wrong_kind(&mut self, node: &Node, schema: &Value, name: &str, key: Span) {
        let kinds = self.kinds(schema);
        let at = visible(node, key);
        let empty = matches!(node.kind, Kind::Null);
        let help = match node.kind {
            Kind::Null => Some("give it one, or leave the key out".to_owned()),
            Kind::Number(_) | Kind::Bool if kinds.contains(&"string") => Some("put it in quotes".to_owned()),
            _ => None,
        };
        self.fault(|| {
            let message = if empty {
                format!("{name} has no value; {} is due", wanted(&kinds))
            } else {
                format!("{name} must be {}, not {}", wanted(&kinds), kind_of(node))
            };
            let finding = Finding::new(&rules::WRONG_KIND, at, message);
            match help {
                Some(help) => finding.help(help),
                None => finding,
            }
        });
    }

    /// The schema that a reference means.
    fn resolved(&self, mut schema: &'a Value) -> &'a Value {
        // Our schemas never refer in a ring without a map between; two steps reach everything.
        for _ in 0..4 {
            match schema["$ref"].as_str().and_then(|path| self.root.pointer(path.trim_start_matches('#'))) {
                Some(target) => schema = target,
                None => break,
            }
        }
        schema
    }

    /// The choice that takes values of the node's kind.
    fn for_kind(&self, node: &Node, schema: &'a Value) -> Option<&'a Value> {
        let kind = schema_kind(node);
        match schema["anyOf"].as_array() {
            Some(choices) => choices
                .iter()
                .map(|choice| self.resolved(choice))
                .find(|choice| self.kinds(choice).contains(&kind)),
            None => self.kinds(schema).contains(&kind).then_some(schema),
        }
    }

    /// The kinds of value that a schema takes, in JSON Schema's words.
    fn kinds<'s>(&self, schema: &'s Value) -> Vec<&'s str>
    where
        'a: 's,
    {
        if let Some(choices) = schema["anyOf"].as_array() {
            return choices.iter().flat_map(|choice| self.kinds(choice)).collect();
        }
        if let Some(target) =
            schema["$ref"].as_str().and_then(|path| self.root.pointer(path.trim_start_matches('#')))
        {
            return self.kinds(target);
        }
        match &schema["type"] {
            Value::String(kind) => vec![kind],
            Value::Array(kinds) => kinds.iter().filter_map(Value::as_str).collect(),
            _ => Vec::new(),
        }
    }
}

/// The words between which a schema lets one choose, if it is of that sort.
fn words(schema: &Value) -> Option<Vec<&str>> {
    if let Some(words) = schema["enum"].as_array() {
        return Some(words.iter().filter_map(Value::as_str).collect());
    }
    let choices = schema["oneOf"].as_array()?;
    choices.iter().map(|choice| choice["const"].as_str()).collect()
}

/// The value's place, or its key's where there is nothing to see.
fn visible(node: &Node, key: Span) -> Span {
    if node.span.end > node.span.start { node.span } else { key }
}

fn schema_kind(node: &Node) -> &'static str {
    match node.kind {
        Kind::Map(_) => "object",
        Kind::List(_) => "array",
        Kind::Text(_) => "string",
        Kind::Number(_) => "number",
        Kind::Bool => "boolean",
        Kind::Null => "null",
    }
}

/// What a value is, in plain words.
pub(crate) fn kind_of(node: &Node) -> &'static str {
    match node.kind {
        Kind::Map(_) => "a map",
        Kind::List(_) => "a list",
        Kind::Text(_) => "text",
        Kind::Number(_) => "a number",
        Kind::Bool => "true or false",
        Kind::Null => "nothing",
    }
}

/// Kinds in plain words.
fn wanted(kinds: &[&str]) -> String {
    match kinds {
        ["number", "string"] => "a number or an expression".to_owned(),
        ["string", "object"] => "a file name or a map".to_owned(),
        ["object", "null"] => "nothing or {}".to_owned(),
        _ => {
            let word = |kind: &&str| match *kind {
                "object" => "a map",
                "array" => "a list",
                "string" => "text",
                "number" => "a number",
                "boolean" => "true or false",
                _ => "nothing",
            };
            kinds.iter().map(word).collect::<Vec<_>>().join(" or ")
        }
    }
}

/// A description within a sentence: without its full stop, its first word small unless it is an abbreviation.
fn begun_small(description: &str) -> String {
    let description = description.trim_end_matches('.');
    let mut letters = description.chars();
    match (letters.next(), letters.next()) {
        (Some(first), Some(second)) if second.is_lowercase() || second == ' ' => {
            first.to_lowercase().chain([second]).chain(letters).collect()
        }
        _ => description.to_owned(),
    }
}
