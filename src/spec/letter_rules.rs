//! Letters that printed pages cannot show.

use super::tree::{Kind, Node};
use crate::diag::{Finding, Findings, Rule, Severity};
use crate::typeface;

/// Most letters that a message names.
const MOST_NAMED: usize = 8;

pub(crate) static LETTERS_NOT_PRINTED: Rule = Rule {
    name: "letters-not-printed",
    severity: Severity::Warning,
    finds: "A text with letters that the typeface of the PDF files does not have.",
    why: "The printed page shows a sign in their place; files for screens (HTML, SVG, JSON, STEP, GLB) keep them.",
    failing: "\
bay: {width: 1040, depth: 1050, height: 800}
carcases:
  - {id: main, width: 1000, depth: 900, height: 300, panel: birch-12, cell: {open: {}}}
revision: 甲
",
    passing: "\
bay: {width: 1040, depth: 1050, height: 800}
carcases:
  - {id: main, width: 1000, depth: 900, height: 300, panel: birch-12, cell: {open: {}}}
revision: B
",
    source: "the typeface itself",
};

/// Looks through every text of a file.
pub(super) fn check(findings: &mut Findings, node: &Node) {
    match &node.kind {
        Kind::Map(entries) => entries.iter().for_each(|entry| check(findings, &entry.value)),
        Kind::List(nodes) => nodes.iter().for_each(|node| check(findings, node)),
        Kind::Text(text) => {
            let missing = typeface::missing(text);
            if missing.is_empty() {
                return;
            }
            let named: String = missing.iter().take(MOST_NAMED).collect();
            let more = if missing.len() > MOST_NAMED { " and more" } else { "" };
            let message = format!("the printed pages have no letters for {named}{more}");
            let help =
                "they show a sign in their place; write it in Latin, Greek or Cyrillic letters for them";
            findings.push(Finding::new(&LETTERS_NOT_PRINTED, node.span, message).help(help));
        }
        Kind::Number(_) | Kind::Bool | Kind::Null => {}
    }
}
