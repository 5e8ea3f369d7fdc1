//! What can be wrong with a hatch.

use crate::diag::{Rule, Severity};

/// A kit with a wing of 250 mm that has a hatch.
macro_rules! hatch {
    ($hatch:literal) => {
        concat!(
            "bay: {width: 1520, depth: 1050, height: 800}\n",
            "carcases:\n",
            "  - {id: main, width: 1000, depth: 900, height: 300, panel: birch-12, cell: {open: {}}}\n",
            "wings:\n",
            "  - id: wing\n",
            "    side: left\n",
            "    points: [{x: 60, y: 754}, {x: 900, y: 754}]\n",
            "    hatches: [",
            $hatch,
            "]\n"
        )
    };
}

const PASSING: &str = hatch!("{x: 350, y: 635, length: 300, width: 110}");

/// Every rule about hatches.
pub(crate) static RULES: [&Rule; 4] =
    [&HATCH_TOO_SMALL, &HATCH_OFF_BOARD, &HATCH_BLOCKED, &HATCH_LEDGE_TOO_SMALL];

pub(super) static HATCH_BLOCKED: Rule = Rule {
    name: "hatch-blocked",
    severity: Severity::Error,
    finds: "A hatch where another panel of the carcase, or an angle between two of them, stands on its panel or hangs \
            under it.",
    why: "That panel would lose its joint, and the lid could not be lifted.",
    failing: concat!(
        "bay: {width: 1040, depth: 1050, height: 800}\n",
        "carcases:\n",
        "  - {id: main, width: 1000, depth: 900, height: 300, panel: birch-12, columns: [{open: {}}, {open: {}}], \
         hatches: {base: [{x: 500, y: 0, length: 200, width: 200}]}}\n"
    ),
    passing: concat!(
        "bay: {width: 1040, depth: 1050, height: 800}\n",
        "carcases:\n",
        "  - {id: main, width: 1000, depth: 900, height: 300, panel: birch-12, columns: [{open: {}}, {open: {}}], \
         hatches: {base: [{x: 500, y: 250, length: 200, width: 200}]}}\n"
    ),
    source: "a decision of this project",
};

pub(super) static HATCH_TOO_SMALL: Rule = Rule {
    name: "hatch-too-small",
    severity: Severity::Error,
    finds: "A hatch so small that its finger hole would lie on its ledges, or that its lid has no length between its \
            round corners.",
    why: "A hole over a ledge has no depth for a finger, and the lid stays where it is.",
    failing: hatch!("{x: 350, y: 620, length: 300, width: 60}"),
    passing: PASSING,
    source: "arithmetic",
};

pub(super) static HATCH_OFF_BOARD: Rule = Rule {
    name: "hatch-off-board",
    severity: Severity::Error,
    finds: "A hatch that does not lie within its panel, or leaves less than 20 mm of it to an edge or another hatch.",
    why: "The strip that stays breaks when somebody leans on it.",
    failing: hatch!("{x: 350, y: 690, length: 300, width: 100}"),
    passing: PASSING,
    source: "common practice, no source",
};

pub(super) static HATCH_LEDGE_TOO_SMALL: Rule = Rule {
    name: "hatch-ledge-too-small",
    severity: Severity::Error,
    finds: "A hatch whose lid lies on less than 15 mm of ledge, or has room for strips under fewer than three sides.",
    why: "A lid that is pushed to one side, or stepped on, drops through.",
    failing: hatch!("{x: 350, y: 635, length: 300, width: 110, ledge: 10}"),
    passing: PASSING,
    source: "common practice, no source",
};
