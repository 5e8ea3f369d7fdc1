//! A lying panel that breaks or sags under what it bears.

use crate::diag::{Finding, Findings, Rule, Severity};
use crate::finished::Finished;
use crate::number::{decimal, fixed};
use crate::strength::{Item, Press};

pub(super) static RULE: Rule = Rule {
    name: "panel-too-weak",
    severity: Severity::Warning,
    finds: "A deck, shelf, drawer bottom, tray, lid or wing whose stress or sag is beyond what the workshop's `strength` allows under what \
            lies in it, what stands on it, the design's `panel_loads` and, on decks and lids up to 800 mm high, a kneeling person.",
    why: "A deck that bends far breaks at a knee, jams the drawer under it or works its bolts loose.",
    failing: "\
bay: {width: 1040, depth: 1050, height: 800}
carcases:
  - {id: main, width: 1000, depth: 900, height: 300, panel: birch-12, cell: {open: {}}}
",
    passing: "\
bay: {width: 1040, depth: 1050, height: 800}
carcases:
  - {id: main, width: 1000, depth: 900, height: 300, panel: birch-12, columns: [{open: {}}, {open: {}}, {open: {}}]}
",
    source: "strips and plates in bending: textbooks; strength and creep of plywood: EN 1995-1-1, read in open implementations; limits of sag: \
             named settings of the workshop",
};

pub(super) fn run(finished: &Finished, findings: &mut Findings) {
    for check in finished.strength.panels.iter().filter(|check| check.outcome.fails()) {
        let name = &finished.kit.layout.board(check.board).name;
        let Some(worst) = check.worst() else { continue };
        let message = format!(
            "`{name}` {} {}: {} % of what it may{}",
            if worst.sags() { "sags" } else { "is stressed" },
            worst.together.name(),
            fixed(100.0 * worst.used(), 0),
            check.greatest.as_ref().map(most_loaded).unwrap_or_default(),
        );
        let limit =
            check.at_limit.map(|kg| format!("it bears {} kg; ", decimal(kg.floor(), 0))).unwrap_or_default();
        let cure = match &check.would_do {
            Some(board) => format!("{board} would do, a shorter span too"),
            None => "give it a shorter span: no thicker board of its family would do".to_owned(),
        };
        let kneeling = if check.greatest.as_ref().is_some_and(|item| matches!(item.press, Press::Knees(..))) {
            format!("; where nobody kneels on it: `panel_loads: [{{panel: {name}, person: false}}]`")
        } else {
            String::new()
        };
        let help = format!("{limit}{cure}{kneeling}");
        findings.push(Finding::new(&RULE, check.span, message).on(name).help(help));
    }
}

/// The load that does most, in words.
fn most_loaded(item: &Item) -> String {
    format!(" under {} kg, {}", fixed(item.mass, 1), item.what)
}
