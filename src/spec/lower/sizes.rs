//! Names for expressions: the bay's measurements, the clearances, and named sizes, each worked out once.

use std::collections::{BTreeMap, BTreeSet};

use super::Reader;
use crate::diag::{Finding, Span};
use crate::spec::expression::{Expression, FUNCTIONS, Known, READINGS};
use crate::spec::model::{Bay, Clearances, Side};
use crate::spec::rules::{self, shown};
use crate::spec::value::{Amount, Entries, Place};

/// Most named sizes; keeps the search for rings small.
const MOST_SIZES: usize = 300;
/// Longest name of a size, characters.
const LONGEST_NAME: usize = 60;

/// What expressions may use, in the units of the file.
pub(crate) struct Values {
    /// `None` for a name whose value is at fault and reported.
    named: BTreeMap<String, Option<f64>>,
    /// For readings at heights; `None` if it is at fault and reported.
    bay: Option<Bay>,
    /// mm in one unit of length.
    unit: f64,
}

impl Values {
    /// Whether there is such a name, and if so, whether it has a value.
    pub(crate) fn has_value(&self, name: &str) -> Option<bool> {
        if READINGS.contains(&name) {
            return Some(self.bay.is_some());
        }
        self.named.get(name).map(Option::is_some)
    }

    /// Every name.
    pub(crate) fn names(&self) -> impl Iterator<Item = &str> {
        self.named.keys().map(String::as_str).chain(READINGS)
    }

    /// The measurements of the bay and the clearances. Those of a bay at fault are there, but without a value.
    fn measured(bay: Option<&Bay>, clearances: &Clearances, unit: f64) -> Self {
        let side = |side: Side| bay.map(|bay| bay.reach_at(side, 0.0));
        let mut lengths = vec![
            ("bay.width", bay.map(|bay| bay.width.value)),
            ("bay.depth", bay.map(|bay| bay.depth.value)),
            ("bay.height", bay.map(|bay| bay.height.value)),
            ("bay.left", side(Side::Left)),
            ("bay.right", side(Side::Right)),
            ("bay.ribs", bay.map(|bay| bay.ribs.value)),
            ("clearances.arch", Some(clearances.arch.value)),
            ("clearances.seat_back", Some(clearances.seat_back.value)),
            ("clearances.door", Some(clearances.door.value)),
            ("clearances.latch", Some(clearances.latch.value)),
            ("clearances.trim", Some(clearances.trim.value)),
            ("clearances.opening", Some(clearances.opening.value)),
        ];
        if bay.is_none_or(|bay| bay.folded_seats.is_some()) {
            lengths.push(("bay.folded_seats", bay.and_then(|bay| bay.folded_seats).map(|seats| seats.value)));
        }
        if bay.is_none_or(|bay| bay.opening.is_some()) {
            lengths.push((
                "bay.sill",
                bay.and_then(|bay| bay.opening.as_ref()).map(|opening| opening.sill.value),
            ));
        }
        let named = lengths.into_iter().map(|(name, mm)| (name.to_owned(), mm.map(|mm| mm / unit)));
        Values { named: named.collect(), bay: bay.cloned(), unit }
    }
}

impl Known for Values {
    fn value(&self, name: &str) -> Option<f64> {
        self.named.get(name).copied().flatten()
    }

    fn reading(&self, name: &str, height: f64) -> Option<f64> {
        let (bay, z) = (self.bay.as_ref()?, height * self.unit);
        let mm = match name {
            "bay.length_at" => bay.length_at(z),
            "bay.width_at" => bay.width_at(z),
            "bay.left_at" => bay.reach_at(Side::Left, z),
            _ => bay.reach_at(Side::Right, z),
        };
        Some(mm / self.unit)
    }
}

/// All names that expressions may use, with their values.
pub(crate) fn resolve(
    reader: &mut Reader<'_>,
    sizes: Option<&Entries<Place<Amount>>>,
    bay: Option<&Bay>,
    clearances: &Clearances,
) -> Values {
    let mut values = Values::measured(bay, clearances, reader.unit);
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
        values.named.insert(key.value().clone(), None);
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
    let taken = matches!(name.as_str(), "bay" | "clearances") || FUNCTIONS.contains(&name.as_str());
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
        self.values.named.insert(name.to_owned(), value);
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
