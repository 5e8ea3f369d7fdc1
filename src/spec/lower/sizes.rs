//! Named sizes: expressions over one another and over the bay, each worked out once.

use std::collections::{BTreeMap, BTreeSet};

use super::{Reader, Values};
use crate::diag::{Finding, Span};
use crate::spec::expression::{Expression, FUNCTIONS};
use crate::spec::model::Bay;
use crate::spec::rules::{self, shown};
use crate::spec::value::{Amount, Entries, Place};

/// Most named sizes; keeps the search for rings small.
const MOST_SIZES: usize = 300;
/// Longest name of a size, characters.
const LONGEST_NAME: usize = 60;

/// All names that expressions may use, with their values in the units of the file. Without a bay its names are
/// there, but without a value.
pub(crate) fn resolve(
    reader: &mut Reader<'_>,
    sizes: Option<&Entries<Place<Amount>>>,
    bay: Option<&Bay>,
) -> Values {
    let mut values = Values::new();
    for (name, side) in [
        ("bay.width", bay.map(|bay| bay.width.value)),
        ("bay.depth", bay.map(|bay| bay.depth.value)),
        ("bay.height", bay.map(|bay| bay.height.value)),
    ] {
        values.insert(name.to_owned(), side.map(|mm| mm / reader.unit));
    }
    let entries = sizes.map(|sizes| sizes.0.as_slice()).unwrap_or_default();
    if let Some((key, _)) = entries.get(MOST_SIZES) {
        let message = format!("{} named sizes; {MOST_SIZES} is the limit", entries.len());
        reader.findings.push(Finding::new(&rules::EMPTY_LIST, reader.span(key), message));
        return values;
    }
    let mut open = BTreeMap::new();
    for (key, amount) in entries {
        check_name(reader, key);
        let span = reader.span(amount);
        let size = match amount.value() {
            Amount::Number(number) => Size::Done(Some(*number)),
            Amount::Text(text) => match reader.parsed(text, span) {
                Some(expression) => Size::Open(text.clone(), expression),
                None => Size::Done(None),
            },
        };
        open.insert(key.value().clone(), (span, size));
        // Names are known before their values, so that a mistyped one is compared with all of them.
        values.insert(key.value().clone(), None);
    }
    let mut sizes = Sizes { reader, open, values, done: BTreeSet::new() };
    for (key, _) in entries {
        sizes.visit(key.value(), &mut Vec::new());
    }
    sizes.values
}

fn check_name(reader: &mut Reader<'_>, key: &Place<String>) {
    let name = key.value();
    let sign = |c: char| c.is_ascii_alphanumeric() || c == '_';
    let sound = name.starts_with(|c: char| c.is_ascii_alphabetic()) && name.chars().all(sign);
    let taken = name == "bay" || FUNCTIONS.contains(&name.as_str());
    if !sound || taken || name.len() > LONGEST_NAME {
        let message = if taken {
            format!("`{name}` has a meaning of its own in expressions")
        } else {
            format!("no expression can use the name `{}`", shown(name))
        };
        let help = "a size's name has a letter, then letters, digits and _";
        let finding = Finding::new(&rules::BAD_SIZE_NAME, reader.span(key), message);
        reader.findings.push(finding.help(help));
    }
}

/// A size on its way to a value.
enum Size {
    /// Not yet worked out: the expression, as text and read.
    Open(String, Expression),
    /// Its value, or none where it is at fault.
    Done(Option<f64>),
}

struct Sizes<'a, 'r> {
    reader: &'a mut Reader<'r>,
    open: BTreeMap<String, (Span, Size)>,
    values: Values,
    /// Sizes that have their value, or are given up.
    done: BTreeSet<String>,
}

impl Sizes<'_, '_> {
    /// Works out a size after those that it needs. `path` is the chain of sizes that led here.
    fn visit(&mut self, name: &str, path: &mut Vec<String>) {
        if self.done.contains(name) {
            return;
        }
        if let Some(start) = path.iter().position(|other| other == name) {
            return self.ring(&path[start..]);
        }
        let (span, text, expression) = match self.open.get(name) {
            None => return,
            Some((_, Size::Done(value))) => return self.finish(name, *value),
            Some((span, Size::Open(text, expression))) => (*span, text.clone(), expression.clone()),
        };
        path.push(name.to_owned());
        for (needed, _) in expression.names() {
            self.visit(needed, path);
        }
        path.pop();
        // A ring may have given this size up meanwhile.
        if self.done.contains(name) {
            return;
        }
        let values = Some(&self.values);
        let value = Reader { values, findings: &mut *self.reader.findings, ..*self.reader }.value(
            &expression,
            &text,
            span,
        );
        self.finish(name, value);
    }

    fn finish(&mut self, name: &str, value: Option<f64>) {
        self.values.insert(name.to_owned(), value);
        self.done.insert(name.to_owned());
    }

    /// Reports a ring and gives all its sizes up.
    fn ring(&mut self, names: &[String]) {
        let chain: Vec<String> = names.iter().chain(names.first()).map(|name| format!("`{name}`")).collect();
        let message = format!("sizes need one another: {}", chain.join(" needs "));
        let places: Vec<Span> =
            names.iter().filter_map(|name| self.open.get(name)).map(|(span, _)| *span).collect();
        if let [first, rest @ ..] = places.as_slice() {
            let mut finding = Finding::new(&rules::SIZES_IN_A_RING, *first, message);
            for span in rest {
                finding = finding.also(*span, "part of the ring");
            }
            self.reader.findings.push(finding.help("give one of them a number"));
        }
        for name in names {
            self.finish(name, None);
        }
    }
}
