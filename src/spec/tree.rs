//! YAML text to a plain tree in which every key and value has its place.
//!
//! This is what the shape is checked against, since the typed reading stops at its first fault. Bounded in size,
//! depth and aliases; text that is no YAML gives one finding.

use std::collections::BTreeMap;
use std::fmt;

use serde::de::{self, Deserialize, DeserializeOwned, Deserializer, MapAccess, SeqAccess, Visitor};
use serde_yaml::budget::BudgetBreach;
use serde_yaml::options::{DuplicateKeyPolicy, MergeKeyPolicy, NonFiniteFloatPolicy};

use super::rules;
use super::value::{Place, token};
use crate::diag::{Finding, Findings, SourceId, Span};

/// Largest text, bytes. A large kit's spec has some 20 kB.
const LARGEST_TEXT: usize = 4_000_000;
/// Most values, aliases followed. A large kit's spec has some 5,000.
const MOST_NODES: usize = 250_000;
/// Deepest nesting: cells of cells some 25 levels deep.
const DEEPEST_NESTING: usize = 64;

/// A value and its place.
#[derive(Debug)]
pub(crate) struct Node {
    /// Of a map or list: from its start to its end, but at most to the end of its first line.
    pub(crate) span: Span,
    /// What it is.
    pub(crate) kind: Kind,
}

/// What a value is.
#[derive(Debug)]
pub(crate) enum Kind {
    /// Keys with values, in the order of the text, repeated keys too.
    Map(Vec<Entry>),
    /// Values in order.
    List(Vec<Node>),
    /// Text.
    Text(String),
    /// A number, perhaps not finite.
    Number(f64),
    /// True or false.
    Bool,
    /// Nothing.
    Null,
}

/// A key with its value.
#[derive(Debug)]
pub(crate) struct Entry {
    /// The key as text.
    pub(crate) key: String,
    /// Where the key stands.
    pub(crate) key_span: Span,
    /// Its value.
    pub(crate) value: Node,
}

impl Node {
    /// The value of a key of a map.
    pub(crate) fn get(&self, key: &str) -> Option<&Node> {
        match &self.kind {
            Kind::Map(entries) => entries.iter().find(|entry| entry.key == key).map(|entry| &entry.value),
            _ => None,
        }
    }
}

/// Reads a text as a tree. `None` when it is no YAML or too much of it; the finding says why.
pub(crate) fn read(findings: &mut Findings, source: SourceId, text: &str) -> Option<Node> {
    if text.len() > LARGEST_TEXT {
        let message = format!("the file has {} bytes; {LARGEST_TEXT} is the limit", text.len());
        let whole = Span { source, ..Span::default() };
        findings.push(Finding::new(&rules::TOO_LARGE, whole, message).help("is this the right file?"));
        return None;
    }
    match parse::<Place<Loose>>(text) {
        Ok(loose) => Some(Builder { source, text }.node(loose)),
        Err(error) => {
            findings.push(fault(source, text, &error));
            None
        }
    }
}

/// Reads a text as any type, with the bounds and habits that hold for all our texts.
pub(crate) fn parse<T: DeserializeOwned>(text: &str) -> Result<T, serde_yaml::Error> {
    let options = serde_yaml::options! {
        budget: serde_yaml::budget! {
            max_nodes: MOST_NODES,
            max_depth: DEEPEST_NESTING,
            flow_nesting_limit: DEEPEST_NESTING,
        },
        // All of them are wanted, not the first one.
        duplicate_keys: DuplicateKeyPolicy::PassThrough,
        // `<<` is no key of ours, and is reported like any other.
        merge_keys: MergeKeyPolicy::AsOrdinary,
        // `yes` and `on` are text.
        strict_booleans: true,
        reject_unsupported_tags: true,
        // Reported with its place, together with all other faults.
        non_finite_float_policy: NonFiniteFloatPolicy::PassThrough,
        with_snippet: false,
    };
    serde_yaml::from_str_with_options(text, options)
}

/// Where maps and lists end, by where they start; the typed reading knows starts only.
pub(crate) fn extents(node: &Node, found: &mut BTreeMap<u32, u32>) {
    match &node.kind {
        Kind::Map(entries) => {
            found.insert(node.span.start, node.span.end);
            for entry in entries {
                extents(&entry.value, found);
            }
        }
        Kind::List(nodes) => {
            found.insert(node.span.start, node.span.end);
            for node in nodes {
                extents(node, found);
            }
        }
        Kind::Text(_) | Kind::Number(_) | Kind::Bool | Kind::Null => {}
    }
}

/// Keys that stand twice in one map, keys that are no plain word, numbers that are not finite: whatever is wrong
/// without knowing what the values mean.
pub(crate) fn check(findings: &mut Findings, node: &Node) {
    match &node.kind {
        Kind::Map(entries) => {
            let mut first: BTreeMap<&str, Span> = BTreeMap::new();
            for entry in entries {
                match first.get(entry.key.as_str()) {
                    None => {
                        first.insert(&entry.key, entry.key_span);
                    }
                    Some(span) => {
                        let message = format!("key `{}` stands twice", rules::shown(&entry.key));
                        let finding = Finding::new(&rules::KEY_TWICE, entry.key_span, message);
                        findings.push(finding.also(*span, "first here").help("keep one of them"));
                    }
                }
                check(findings, &entry.value);
            }
        }
        Kind::List(nodes) => nodes.iter().for_each(|node| check(findings, node)),
        Kind::Number(number) if !number.is_finite() => {
            let finding = Finding::new(&rules::NOT_FINITE, node.span, "this is not a finite number");
            findings.push(finding.help("give a number, e.g. 12.5"));
        }
        Kind::Text(_) | Kind::Number(_) | Kind::Bool | Kind::Null => {}
    }
}

/// The tree as the parser gives it, before ends and keys are worked out.
#[derive(Debug)]
enum Loose {
    Map(Vec<(Place<Loose>, Place<Loose>)>),
    List(Vec<Place<Loose>>),
    Text(String),
    Number(f64),
    Bool,
    Null,
}

impl<'de> Deserialize<'de> for Loose {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_any(LooseVisitor)
    }
}

struct LooseVisitor;

impl<'de> Visitor<'de> for LooseVisitor {
    type Value = Loose;

    fn expecting(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.write_str("a value")
    }

    fn visit_bool<E: de::Error>(self, _: bool) -> Result<Loose, E> {
        Ok(Loose::Bool)
    }

    fn visit_f64<E: de::Error>(self, number: f64) -> Result<Loose, E> {
        Ok(Loose::Number(number))
    }

    fn visit_i64<E: de::Error>(self, number: i64) -> Result<Loose, E> {
        Ok(Loose::Number(number as f64))
    }

    fn visit_u64<E: de::Error>(self, number: u64) -> Result<Loose, E> {
        Ok(Loose::Number(number as f64))
    }

    fn visit_str<E: de::Error>(self, text: &str) -> Result<Loose, E> {
        Ok(Loose::Text(text.to_owned()))
    }

    fn visit_unit<E: de::Error>(self) -> Result<Loose, E> {
        Ok(Loose::Null)
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut list: A) -> Result<Loose, A::Error> {
        let mut nodes = Vec::new();
        while let Some(node) = list.next_element()? {
            nodes.push(node);
        }
        Ok(Loose::List(nodes))
    }

    fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Loose, A::Error> {
        let mut entries = Vec::new();
        while let Some(entry) = map.next_entry()? {
            entries.push(entry);
        }
        Ok(Loose::Map(entries))
    }
}

struct Builder<'a> {
    source: SourceId,
    text: &'a str,
}

impl Builder<'_> {
    fn node(&self, loose: Place<Loose>) -> Node {
        let span = self.trimmed(loose.span(self.source));
        match loose.0.value {
            Loose::Map(entries) => {
                let entries: Vec<Entry> =
                    entries.into_iter().map(|(key, value)| self.entry(&key, value)).collect();
                let end =
                    entries.last().map_or(span.end, |entry| entry.key_span.end.max(entry.value.span.end));
                Node { span: self.extended(span, end), kind: Kind::Map(entries) }
            }
            Loose::List(nodes) => {
                let nodes: Vec<Node> = nodes.into_iter().map(|node| self.node(node)).collect();
                let end = nodes.last().map_or(span.end, |node| node.span.end);
                Node { span: self.extended(span, end), kind: Kind::List(nodes) }
            }
            Loose::Text(text) => Node { span, kind: Kind::Text(text) },
            Loose::Number(number) => Node { span, kind: Kind::Number(number) },
            Loose::Bool => Node { span, kind: Kind::Bool },
            Loose::Null => Node { span, kind: Kind::Null },
        }
    }

    /// A key that is not text is taken as it is written: no key of ours looks like it, so it is unknown.
    fn entry(&self, key: &Place<Loose>, value: Place<Loose>) -> Entry {
        let key_span = self.trimmed(key.span(self.source));
        let written = || self.text.get(key_span.start as usize..key_span.end as usize).unwrap_or_default();
        let key = match key.value() {
            Loose::Text(text) => text.clone(),
            _ => written().to_owned(),
        };
        Entry { key, key_span, value: self.node(value) }
    }

    /// A token without the line ends that block texts have behind them.
    fn trimmed(&self, span: Span) -> Span {
        let written = self.text.get(span.start as usize..span.end as usize).unwrap_or_default();
        let blank = written.len() - written.trim_end().len();
        Span { end: span.end - u32::try_from(blank).unwrap_or_default(), ..span }
    }

    /// The start of a map or list, made longer up to `end` and over its bracket, within its first line. An alias
    /// stands for all behind it and stays as it is.
    fn extended(&self, span: Span, end: u32) -> Span {
        let rest = self.text.get(span.start as usize..).unwrap_or_default();
        let first = rest.as_bytes().first().copied().unwrap_or_default();
        if span.end > span.start && !matches!(first, b'{' | b'[') {
            return span;
        }
        let mut end = end.max(span.end) as usize;
        if span.end > span.start {
            let behind = self.text.get(end..).unwrap_or_default();
            let skipped = behind.len() - behind.trim_start_matches([' ', '\t', '\n', '\r', ',']).len();
            let closed = behind[skipped..].starts_with(if first == b'{' { '}' } else { ']' });
            end += if closed { skipped + 1 } else { 0 };
        }
        let line_end = span.start as usize + rest.find('\n').unwrap_or(rest.len());
        let end = u32::try_from(end.min(line_end)).unwrap_or(u32::MAX);
        self.trimmed(Span { end, ..span })
    }
}

/// The parser's fault in plain words.
pub(crate) fn fault(source: SourceId, text: &str, error: &serde_yaml::Error) -> Finding {
    use serde_yaml::Error;
    let error = error.without_snippet();
    let at =
        error.location().map_or(Span { source, ..Span::default() }, |location| place(source, text, location));
    let not_yaml = |message: String| Finding::new(&rules::NOT_YAML, at, message);
    match error {
        Error::Budget { breach, .. } => too_large(at, breach),
        Error::AliasReplayLimitExceeded { .. }
        | Error::AliasExpansionLimitExceeded { .. }
        | Error::AliasReplayStackDepthExceeded { .. } => {
            Finding::new(&rules::TOO_LARGE, at, "aliases make the file larger than can be read")
        }
        Error::MultipleDocuments { .. } => not_yaml("a second document starts here".to_owned())
            .help("keep one design in one file: remove `---`"),
        Error::UnknownAnchor { .. } => {
            not_yaml("this alias has no anchor".to_owned()).help("put a text that starts with `*` in quotes")
        }
        Error::ExternalMessage { msg, .. } if msg.contains("recursion limit") => {
            Finding::new(&rules::TOO_LARGE, at, format!("nested deeper than {DEEPEST_NESTING} levels"))
        }
        Error::ExternalMessage { msg, .. } | Error::Message { msg, .. } => {
            let finding = not_yaml(format!("this is not YAML: {}", rules::shown(msg)));
            match help(msg) {
                Some(help) => finding.help(help),
                None => finding,
            }
        }
        Error::UnsupportedTag { tag, .. } => {
            not_yaml(format!("the tag `{}` has no meaning here", rules::shown(tag)))
                .help("remove it, or put the text in quotes")
        }
        other => {
            let message = other.to_string();
            let message = message.split_once(" at line ").map_or(message.as_str(), |(message, _)| message);
            // A bound that is passed inside an alias comes as text.
            if message.contains("budget breached") {
                let message = "aliases make the file larger than can be read";
                return Finding::new(&rules::TOO_LARGE, at, message).help("write the values out");
            }
            not_yaml(format!("this is not YAML: {}", rules::shown(message)))
        }
    }
}

fn too_large(at: Span, breach: &BudgetBreach) -> Finding {
    let message = match breach {
        BudgetBreach::Depth { .. } => format!("nested deeper than {DEEPEST_NESTING} levels"),
        BudgetBreach::Nodes { .. } => format!("more than {MOST_NODES} values, aliases followed"),
        _ => "more than can be read with certainty".to_owned(),
    };
    Finding::new(&rules::TOO_LARGE, at, message).help("is this the right file?")
}

/// What to do about the parser's commonest faults.
fn help(message: &str) -> Option<&'static str> {
    const HELPS: [(&str, &str); 5] = [
        ("tab", "indent with spaces"),
        ("mapping values are not allowed", "put a text that has `: ` in it in quotes"),
        ("illegal placement of ':'", "is a bracket or brace above still open?"),
        ("unclosed quote", "close the quote"),
        ("simple key", "is there a `:` missing behind a key, or is the line indented wrongly?"),
    ];
    HELPS.iter().find(|(part, _)| message.contains(part)).map(|(_, help)| *help)
}

/// A fault's place. The scanner counts characters where it has no bytes.
fn place(source: SourceId, text: &str, location: serde_yaml::Location) -> Span {
    if location.span().byte_offset().is_some() {
        return token(source, location);
    }
    let characters = usize::try_from(location.span().offset()).unwrap_or(usize::MAX);
    let rest = text.char_indices().nth(characters);
    let (start, length) = rest.map_or((text.len(), 0), |(at, character)| (at, character.len_utf8()));
    let cut = |at: usize| u32::try_from(at).unwrap_or(u32::MAX);
    Span { source, start: cut(start), end: cut(start + length) }
}
