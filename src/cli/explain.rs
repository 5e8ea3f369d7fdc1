//! `explain`: what a rule finds and why, and the list of all rules.

use std::fmt::Write as _;

use super::error::Error;
use super::table::wrapped;
use crate::build::all_rules;
use crate::diag::{Rule, did_you_mean};

/// Longest line, characters.
const WIDTH: usize = 96;

/// The text about one rule, or the list of all.
pub(super) fn text(rule: Option<&str>) -> Result<String, Error> {
    let rules = all_rules();
    let Some(name) = rule else { return Ok(list(&rules)) };
    match rules.iter().find(|rule| rule.name == name) {
        Some(rule) => Ok(one(rule)),
        None => {
            let near = did_you_mean(name, rules.iter().map(|rule| rule.name));
            let help = near.unwrap_or_else(|| "`baywright explain` lists them".to_owned());
            Err(Error::Other(format!("there is no rule called `{name}`; {help}")))
        }
    }
}

fn list(rules: &[&Rule]) -> String {
    let longest = rules.iter().map(|rule| rule.name.len()).max().unwrap_or(0);
    let mut text = String::new();
    for rule in rules {
        let start = format!("{:longest$}  {:7}  ", rule.name, rule.severity.word());
        text.push_str(&wrapped(&start, rule.finds, WIDTH));
    }
    text
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
