//! What can be wrong with a wing as written, before anything is laid out.

use crate::diag::{Rule, Severity};

/// A kit with one carcase and some lines more.
macro_rules! beside_main {
    ($($line:literal),*) => {
        concat!(
            "bay: {width: 1300, depth: 1050, height: 800}\n",
            "carcases:\n",
            "  - {id: main, width: 1000, depth: 900, height: 300, panel: birch-12, cell: {open: {}}}\n",
            "wings:\n",
            $($line, "\n"),*
        )
    };
}

const PASSING: &str = beside_main!("  - {id: wing, side: left, points: [{x: 60, y: 640}, {x: 900, y: 640}]}");

/// Every rule about wings as written.
pub(crate) static RULES: [&Rule; 2] = [&WING_OUTLINE_UNCLEAR, &WING_BESIDE_UNCLEAR];

pub(crate) static WING_OUTLINE_UNCLEAR: Rule = Rule {
    name: "wing-outline-unclear",
    severity: Severity::Error,
    finds: "A wing with both `points` and an `outline` or with neither, a `clearance` beside a drawn outline, a measured \
            line with one point only, with a point that stands twice, or whose ends lie at one place along the bay.",
    why: "Its edge must follow from one source, and a line needs a beginning and an end.",
    failing: beside_main!("  - {id: wing, side: left}"),
    passing: PASSING,
    source: "a decision of this project",
};

pub(crate) static WING_BESIDE_UNCLEAR: Rule = Rule {
    name: "wing-beside-unclear",
    severity: Severity::Error,
    finds: "A wing beside a carcase that the kit does not have, or beside none where the kit has several.",
    why: "A wing is bolted to the carcase beside it and level with its deck.",
    failing: beside_main!(
        "  - {id: wing, side: left, beside: mian, points: [{x: 60, y: 640}, {x: 900, y: 640}]}"
    ),
    passing: PASSING,
    source: "a decision of this project",
};
