//! What can be wrong with a finish before all parts are there.

use crate::diag::{Rule, Severity};

/// A carcase with finishes.
macro_rules! finished {
    ($($finish:literal),*) => {
        concat!(
            "bay: {width: 1040, depth: 1050, height: 800}\n",
            "carcases:\n",
            "  - {id: main, width: 1000, depth: 900, height: 300, panel: birch-12, cell: {open: {}}}\n",
            "finishes:\n",
            $("  - ", $finish, "\n"),*
        )
    };
}

const PASSING: &str = finished!("{id: deck, kind: carpet, panels: [main-deck], bare: {rear: 40}}");

/// Every rule about finishes as laid out.
pub(crate) static RULES: [&Rule; 2] = [&FINISH_TWICE, &FINISH_LEAVES_NOTHING];

pub(super) static FINISH_TWICE: Rule = Rule {
    name: "finish-twice",
    severity: Severity::Error,
    finds: "Two finishes on one face of a panel.",
    why: "Which of them lies on the other, and how thick both are under a bolt, nobody has said.",
    failing: finished!(
        "{id: deck, kind: carpet, panels: [main-deck]}",
        "{id: all, kind: paint, panels: [\"main-*\"]}"
    ),
    passing: PASSING,
    source: "a decision of this project",
};

pub(super) static FINISH_LEAVES_NOTHING: Rule = Rule {
    name: "finish-leaves-nothing",
    severity: Severity::Error,
    finds: "A finish whose bare strips cover the whole panel.",
    why: "There would be no finish at all; a number is wrong, or the panel is meant to stay bare.",
    failing: finished!("{id: deck, kind: carpet, panels: [main-deck], bare: {left: 500, right: 500}}"),
    passing: PASSING,
    source: "arithmetic",
};
