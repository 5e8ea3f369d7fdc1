//! From the YAML as written to the design: millimetres, ranges, names, and what needs a second value.
//!
//! Collects every fault. A faulty value stands as zero or an empty text meanwhile, so that the rest is checked
//! too; `spec::read` gives no design out when there is an error.

mod bay;
mod carcase;
mod cutout;
mod door;
mod doors;
mod equipment;
mod finish;
mod fitting;
mod fixing;
mod floor;
mod holding;
mod legend;
mod load;
mod nesting;
mod on_panel;
mod rates;
mod run;
mod saw;
mod sizes;
mod stock;
mod strength;
mod tie_down;
mod vehicle;
mod vehicle_masses;
mod weighed;
mod wing;
mod workshop;

use std::collections::BTreeMap;

pub(super) use bay::{bay, clearances};
pub(super) use carcase::{accept, bolts, carcases, joints, slide_factor};
pub(super) use cutout::cutouts;
pub(super) use equipment::equipment;
pub(super) use finish::finishes;
pub(super) use fixing::names;
pub(super) use floor::floors;
pub(super) use legend::legends;
pub(super) use load::{loads, scenarios};
pub(super) use nesting::nesting;
pub(super) use run::runs;
pub(super) use sizes::{Values, resolve};
pub(super) use stock::shelf;
pub(super) use strength::panel_loads;
pub(super) use tie_down::tie_downs;
pub(super) use vehicle::vehicle;
pub(super) use weighed::weighed;
pub(super) use wing::wings;
pub(super) use workshop::{default_workshop, workshop};

use super::expression::{Expression, Fault, Known};
use super::raw;
use super::rules::{self, shown};
use super::value::{Amount, Place};
use crate::diag::{At, Finding, Findings, SourceId, Span, did_you_mean};
use crate::number::decimal;

/// Longest name, characters.
const LONGEST_NAME: usize = 60;
/// Longest free text, characters.
const LONGEST_TEXT: usize = 400;
/// Longest free text that must find room in a title block, characters.
const LONGEST_SHORT_TEXT: usize = 40;
/// Numbers from here on are not worth their digits in a message.
const LONGEST_SHOWN: f64 = 1e9;
/// Longest length that a load bay can have to do with, mm.
const LONGEST_LENGTH: f64 = 20_000.0;

/// What a number may be.
#[derive(Clone, Copy, Debug)]
pub(super) struct Limits {
    /// Least value.
    least: f64,
    /// Whether the least value itself is too little.
    above: bool,
    /// Greatest value.
    most: f64,
    /// Unit for messages; lengths are mm.
    unit: &'static str,
}

impl Limits {
    /// A number of `unit` that is more than nothing.
    const fn more_than_zero(most: f64, unit: &'static str) -> Self {
        Limits { least: 0.0, above: true, most, unit }
    }

    /// A number of `unit` that may be nothing.
    const fn from_zero(most: f64, unit: &'static str) -> Self {
        Limits { least: 0.0, above: false, most, unit }
    }
}

/// A size: more than nothing.
pub(super) const SIZE: Limits = Limits::more_than_zero(LONGEST_LENGTH, " mm");
/// A gap, or a distance in one direction.
pub(super) const GAP: Limits = Limits::from_zero(LONGEST_LENGTH, " mm");
/// A coordinate.
pub(super) const POSITION: Limits =
    Limits { least: -LONGEST_LENGTH, above: false, most: LONGEST_LENGTH, unit: " mm" };

/// Where expressions may use no names.
struct Nothing;

impl Known for Nothing {
    fn value(&self, _: &str) -> Option<f64> {
        None
    }

    fn reading(&self, _: &str, _: f64) -> Option<f64> {
        None
    }
}

/// Reads the values of one file.
pub(super) struct Reader<'a> {
    /// Where faults go.
    pub(super) findings: &'a mut Findings,
    /// The file.
    pub(super) source: SourceId,
    /// The file's text.
    pub(super) text: &'a str,
    /// Ends of maps and lists by their starts.
    pub(super) extents: &'a BTreeMap<u32, u32>,
    /// mm in one unit of length.
    pub(super) unit: f64,
    /// What expressions may use; `None` where they may use no names.
    pub(super) values: Option<&'a Values>,
}

/// mm in a unit of length.
pub(super) fn millimetres(units: Option<&Place<raw::Units>>, default: f64) -> f64 {
    match units.map(Place::value) {
        None => default,
        Some(raw::Units::Mm) => 1.0,
        Some(raw::Units::Inch) => 25.4,
    }
}

impl Reader<'_> {
    /// The place of a value; of a map or list its first line.
    pub(super) fn span<T>(&self, place: &Place<T>) -> Span {
        let mut span = place.span(self.source);
        let first = self.text.as_bytes().get(span.start as usize).copied();
        // An alias keeps its own place: what it stands for is elsewhere.
        if span.end == span.start || matches!(first, Some(b'{' | b'[')) {
            span.end = self.extents.get(&span.start).copied().unwrap_or(span.end).max(span.end);
        } else {
            let written = self.text.get(span.start as usize..span.end as usize).unwrap_or_default();
            let blank = written.len() - written.trim_end().len();
            span.end -= u32::try_from(blank).unwrap_or_default();
        }
        span
    }

    /// The file as a whole.
    pub(super) fn whole(&self) -> Span {
        Span { source: self.source, ..Span::default() }
    }

    /// A value as it is, with its place.
    pub(super) fn plain<T, U>(&self, place: &Place<T>, value: impl FnOnce(&T) -> U) -> At<U> {
        At::new(value(place.value()), self.span(place))
    }

    /// A length in mm.
    pub(super) fn length(&mut self, amount: &Place<Amount>, limits: Limits) -> At<f64> {
        let unit = self.unit;
        self.limited(amount, unit, limits).unwrap_or(At::new(0.0, self.span(amount)))
    }

    /// A length in mm, if it is given.
    pub(super) fn some_length(&mut self, amount: Option<&Place<Amount>>, limits: Limits) -> Option<At<f64>> {
        amount.map(|amount| self.length(amount, limits))
    }

    /// A length in mm; the default, in mm, at `span`.
    pub(super) fn length_or(
        &mut self,
        amount: Option<&Place<Amount>>,
        limits: Limits,
        default: f64,
        span: Span,
    ) -> At<f64> {
        self.some_length(amount, limits).unwrap_or(At::new(default, span))
    }

    /// Degrees, or another number that is no length.
    pub(super) fn degrees(&mut self, amount: &Place<Amount>, limits: Limits) -> At<f64> {
        self.limited(amount, 1.0, limits).unwrap_or(At::new(0.0, self.span(amount)))
    }

    /// A number that is no length, if it is given.
    pub(super) fn some_number(&mut self, amount: Option<&Place<Amount>>, limits: Limits) -> Option<At<f64>> {
        let amount = amount?;
        Some(self.limited(amount, 1.0, limits).unwrap_or(At::new(0.0, self.span(amount))))
    }

    /// Lengths in mm, in the order of the text.
    pub(super) fn some_lengths(
        &mut self,
        list: Option<&Place<Vec<Place<Amount>>>>,
        limits: Limits,
    ) -> Option<At<Vec<At<f64>>>> {
        let list = list?;
        self.counted(list, 200);
        let unit = self.unit;
        let mut lengths: Vec<At<f64>> = Vec::new();
        for amount in list.value() {
            let Some(length) = self.limited(amount, unit, limits) else { continue };
            if let Some(other) = lengths.iter().find(|other| other.value.total_cmp(&length.value).is_eq()) {
                let message = format!("position {} mm stands twice", decimal(length.value, 3));
                let finding = Finding::new(&rules::OUT_OF_RANGE, length.span, message);
                self.findings.push(finding.also(other.span, "first here"));
            }
            lengths.push(length);
        }
        Some(At::new(lengths, self.span(list)))
    }

    /// A list that needs an entry and may not have more than `most`.
    pub(super) fn counted<T>(&mut self, list: &Place<Vec<T>>, most: usize) {
        let count = list.value().len();
        if count == 0 {
            let finding = Finding::new(&rules::EMPTY_LIST, self.span(list), "this list has no entries");
            self.findings.push(finding.help("give at least one, or leave the key out if it has a default"));
        } else if count > most {
            let message = format!("this list has {count} entries; {most} is the limit");
            self.findings.push(Finding::new(&rules::EMPTY_LIST, self.span(list), message));
        }
    }

    /// The entries of a list that may be left out, in the order of the text, without those that are at fault and reported.
    pub(super) fn each<R, T>(
        &mut self,
        list: Option<&Place<Vec<Place<R>>>>,
        most: usize,
        mut read: impl FnMut(&mut Self, &Place<R>) -> Option<T>,
    ) -> Vec<T> {
        let Some(list) = list else { return Vec::new() };
        self.counted(list, most);
        list.value().iter().filter_map(|raw| read(self, raw)).collect()
    }

    /// A number within limits. `None` when it is at fault and reported.
    fn limited(&mut self, amount: &Place<Amount>, unit: f64, limits: Limits) -> Option<At<f64>> {
        let span = self.span(amount);
        let value = self.number(amount)? * unit;
        let shown = |value: f64| {
            let short = value.abs() < LONGEST_SHOWN;
            if short {
                format!("{}{}", decimal(value, 3), limits.unit)
            } else {
                "a number of so many digits".to_owned()
            }
        };
        let fault = if value < limits.least || (limits.above && value <= limits.least) {
            let bound = if limits.above { "must be more than" } else { "must be at least" };
            format!("{} {bound} {}", shown(value), shown(limits.least))
        } else if value > limits.most {
            format!("{} is beyond {}", shown(value), shown(limits.most))
        } else {
            return Some(At::new(value, span));
        };
        let finding = Finding::new(&rules::OUT_OF_RANGE, span, fault);
        let inch = (unit - 1.0).abs() > f64::EPSILON;
        self.findings.push(if inch { finding.help("lengths in this file are in inches") } else { finding });
        None
    }

    /// The value of a number or an expression, in the units of the file. `None` when it is at fault and reported.
    pub(super) fn number(&mut self, amount: &Place<Amount>) -> Option<f64> {
        match amount.value() {
            Amount::Number(number) => Some(*number),
            Amount::Text(text) => {
                let span = self.span(amount);
                let expression = self.parsed(text, span)?;
                self.value(&expression, text, span)
            }
        }
    }

    /// An expression, read.
    pub(super) fn parsed(&mut self, text: &str, span: Span) -> Option<Expression> {
        match Expression::parse(text) {
            Ok(expression) => Some(expression),
            Err(fault) => {
                let help = "an expression has numbers, names, + - * / ^ ( ) and no units, e.g. `bay.width - 2 * gap`";
                self.expression_fault(&rules::UNREADABLE_EXPRESSION, &fault, text, span, Some(help));
                None
            }
        }
    }

    /// The value of an expression. Every unknown name in it is a finding.
    pub(super) fn value(&mut self, expression: &Expression, text: &str, span: Span) -> Option<f64> {
        let mut known = true;
        for (name, at) in expression.names() {
            if let Some(has_value) = self.values.and_then(|values| values.has_value(name)) {
                known &= has_value;
                continue;
            }
            known = false;
            let place = self.within(span, text, at.clone());
            let finding =
                Finding::new(&rules::UNKNOWN_SIZE, place, format!("no size is called `{}`", shown(name)));
            let names = self.values.into_iter().flat_map(Values::names);
            let help =
                match self.values {
                    None => {
                        Some("only plain arithmetic is allowed here, since sizes may depend on it".to_owned())
                    }
                    // Looking for the nearest name takes time, and more findings than these are not listed.
                    Some(_) if self.findings.iter().count() > rules::MOST_LISTED => None,
                    Some(_) => Some(did_you_mean(name, names).unwrap_or_else(|| {
                        "give it a value under `sizes:`, or put the number here".to_owned()
                    })),
                };
            self.findings.push(match help {
                Some(help) => finding.help(help),
                None => finding,
            });
        }
        if !known {
            return None;
        }
        let known: &dyn Known = self.values.map_or(&Nothing, |values| values);
        match expression.value(known) {
            Ok(value) => Some(value),
            Err(fault) => {
                self.expression_fault(&rules::EXPRESSION_WITHOUT_VALUE, &fault, text, span, None);
                None
            }
        }
    }

    fn expression_fault(
        &mut self,
        rule: &'static crate::diag::Rule,
        fault: &Fault,
        text: &str,
        span: Span,
        help: Option<&str>,
    ) {
        let place = self.within(span, text, fault.at.clone());
        let finding = Finding::new(rule, place, fault.message.clone());
        self.findings.push(match help {
            Some(help) => finding.help(help),
            None => finding,
        });
    }

    /// The place of a part of an expression, if the text stands as it is written or in plain quotes; else all.
    fn within(&self, span: Span, text: &str, part: std::ops::Range<usize>) -> Span {
        let written = self.text.get(span.start as usize..span.end as usize).unwrap_or_default();
        let quoted = written.len() == text.len() + 2 && written.get(1..text.len() + 1) == Some(text);
        let shift = match (written == text, quoted) {
            (true, _) => 0,
            (false, true) => 1,
            (false, false) => return span,
        };
        let cut = |at: usize| span.start + u32::try_from(at + shift).unwrap_or_default();
        // What is missing at the end is shown at the last character.
        let start = part.start.min(text.len().saturating_sub(1));
        Span { start: cut(start), end: cut(part.end.max(start + 1).min(text.len().max(1))), ..span }
    }

    /// A name: a carcase, a material, a layer.
    pub(super) fn name(&mut self, place: &Place<String>) -> At<String> {
        let span = self.span(place);
        self.name_at(place.value(), span);
        At::new(place.value().clone(), span)
    }

    /// Checks a name that stands at `span`.
    pub(super) fn name_at(&mut self, name: &str, span: Span) {
        let sign = |c: char| c.is_ascii_alphanumeric() || matches!(c, '-' | '_');
        let sound = name.starts_with(|c: char| c.is_ascii_alphanumeric()) && name.chars().all(sign);
        if !sound || name.len() > LONGEST_NAME {
            let message = format!("`{}` cannot be a name here", shown(name));
            let help = "a name has ASCII letters, digits, - and _, starts with a letter or digit, and has at most 60";
            self.findings.push(Finding::new(&rules::BAD_NAME, span, message).help(help));
        }
    }

    /// A name, if it is given.
    pub(super) fn some_name(&mut self, place: Option<&Place<String>>) -> Option<At<String>> {
        place.map(|place| self.name(place))
    }

    /// A thread size, if it is given.
    pub(super) fn some_thread(&mut self, place: Option<&Place<String>>) -> Option<At<String>> {
        let place = place?;
        let span = self.span(place);
        let digits = place.value().strip_prefix('M').unwrap_or_default();
        let signs = digits.bytes().all(|b| b.is_ascii_digit() || b == b'.');
        let sound = signs && digits.parse::<f64>().is_ok_and(|diameter| diameter > 0.0 && diameter < 100.0);
        if !sound {
            let message = format!("`{}` is no thread size", shown(place.value()));
            self.findings.push(Finding::new(&rules::BAD_NAME, span, message).help("write it like M6"));
        }
        Some(At::new(place.value().clone(), span))
    }

    /// Free text.
    pub(super) fn sentence(&mut self, place: &Place<String>) -> At<String> {
        let (text, span) = (place.value(), self.span(place));
        let fault = if text.trim().is_empty() {
            Some("this text is empty".to_owned())
        } else if text.chars().count() > LONGEST_TEXT {
            Some(format!("this text has more than {LONGEST_TEXT} characters"))
        } else if text.trim_end().chars().any(char::is_control) {
            Some("this text has control characters or more than one line".to_owned())
        } else {
            None
        };
        if let Some(fault) = fault {
            self.findings.push(Finding::new(&rules::BAD_NAME, span, fault));
        }
        At::new(text.trim_end().to_owned(), span)
    }

    /// Free text that must find room in a title block.
    pub(super) fn short_sentence(&mut self, place: &Place<String>) -> At<String> {
        let text = self.sentence(place);
        let length = text.value.chars().count();
        if (LONGEST_SHORT_TEXT + 1..=LONGEST_TEXT).contains(&length) {
            let fault = format!("this text has more than {LONGEST_SHORT_TEXT} characters");
            self.findings.push(Finding::new(&rules::BAD_NAME, text.span, fault));
        }
        text
    }

    /// Free text, if it is given.
    pub(super) fn some_sentence(&mut self, place: Option<&Place<String>>) -> Option<At<String>> {
        place.map(|place| self.sentence(place))
    }

    /// Names that must differ, whatever their case: they become file names.
    pub(super) fn differing<'n>(&mut self, names: impl Iterator<Item = &'n At<String>>, what: &str) {
        let mut seen: BTreeMap<String, Span> = BTreeMap::new();
        for name in names {
            let lower = name.value.to_ascii_lowercase();
            let Some(first) = seen.get(&lower).copied() else {
                seen.insert(lower, name.span);
                continue;
            };
            if !name.value.is_empty() {
                let message = format!("two {what} are called `{}`", shown(&name.value));
                let finding = Finding::new(&rules::NAME_TWICE, name.span, message);
                self.findings.push(finding.also(first, "the first one").help("give each its own"));
            }
        }
    }
}
