//! `explain`: what a rule finds and why, and the list of all rules.

use std::fmt::Write as _;

use super::error::Error;
use super::table::wrapped;
use crate::build::all_rules;
use crate::diag::{Rule, did_you_mean};
use crate::{import, loose};

/// Longest line, characters.
const WIDTH: usize = 96;

/// The text about one rule, or the list of all.
pub(super) fn text(rule: Option<&str>) -> Result<String, Error> {
    let rules = known();
    let Some(name) = rule else { return Ok(list(&rules)) };
    if let Some(rule) = rules.iter().find(|rule| rule.name == name) {
        return Ok(one(rule));
    }
    let near = did_you_mean(name, rules.iter().map(|rule| rule.name));
    let help = near.unwrap_or_else(|| "`baywright explain` lists them".to_owned());
    Err(Error::Other(format!("there is no rule called `{name}`; {help}")))
}

/// The rules of designs and those of drawings and cut lists, by name.
fn known() -> Vec<&'static Rule> {
    let mut rules = all_rules();
    rules.extend(import::RULES.iter().chain(loose::RULES));
    rules.sort_by_key(|rule| rule.name);
    rules
}

fn list(rules: &[&Rule]) -> String {
    let longest = rules.iter().map(|rule| rule.name.len()).max().unwrap_or(0);
    let mut text = String::new();
    for rule in rules {
        let start = format!("{:longest$}  {:7}  ", rule.name, rule.severity.word());
        let _ = writeln!(text, "{start}{}", one_line(rule.finds, WIDTH - start.len()));
    }
    text
}

/// The start of a sentence, cut between words where it is longer than `width` characters.
fn one_line(sentence: &str, width: usize) -> String {
    let lines = wrapped("", sentence, width.saturating_sub(4));
    match lines.trim_end().split_once('\n') {
        Some((first, _)) => format!("{first} ..."),
        None => lines.trim_end().to_owned(),
    }
}

fn one(rule: &Rule) -> String {
    let mut text = format!("{} ({})\n\n", rule.name, rule.severity.word());
    for (title, sentence) in [("Finds   ", rule.finds), ("Why     ", rule.why), ("Source  ", rule.source)] {
        text.push_str(&wrapped(title, sentence, WIDTH));
    }
    for (title, example) in [("It finds fault with", rule.failing), ("It is content with", rule.passing)] {
        let _ = write!(text, "\n{title}:\n\n{}", indented(example));
    }
    text
}

/// An example set in, with signs that a terminal would not show made visible, and cut short if it is long.
fn indented(example: &str) -> String {
    let mut lines = String::new();
    for line in example.lines().take(40) {
        let shown: String = line.chars().take(200).flat_map(visible).collect();
        let _ = writeln!(lines, "    {}{}", shown, if line.chars().count() > 200 { " ..." } else { "" });
    }
    lines
}

fn visible(c: char) -> Vec<char> {
    if c.is_control() { c.escape_default().collect() } else { vec![c] }
}
