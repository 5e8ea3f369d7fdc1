//! What can be wrong with a tie-down once it is laid out.

use crate::diag::{Rule, Severity};

/// A wide open carcase with tie-downs on its deck.
macro_rules! tied {
    ($($tie_down:literal),*) => {
        concat!(
            "bay: {width: 1040, depth: 1050, height: 800}\n",
            "carcases:\n",
            "  - {id: main, width: 1000, depth: 900, height: 300, panel: birch-12, cell: {open: {}}}\n",
            "tie_downs:\n",
            $("  - ", $tie_down, "\n"),*
        )
    };
}

const PASSING: &str = tied!("{id: ring, kind: tie-ring, panel: main-deck, middle: {left: 120}}");

/// Every rule about tie-downs as laid out.
pub(crate) static RULES: [&Rule; 2] = [&TIE_DOWN_OFF_PANEL, &TIE_DOWN_UNSUPPORTED];

pub(super) static TIE_DOWN_OFF_PANEL: Rule = Rule {
    name: "tie-down-off-panel",
    severity: Severity::Error,
    finds: "A tie-down whose plate or spreader does not lie on its panel with all of its area.",
    why: "The spreader must press on wood everywhere, or it tilts and the bolt pulls through.",
    failing: tied!("{id: ring, kind: tie-ring, panel: main-deck, middle: {left: 30}}"),
    passing: PASSING,
    source: "common practice, no source",
};

pub(super) static TIE_DOWN_UNSUPPORTED: Rule = Rule {
    name: "tie-down-unsupported",
    severity: Severity::Error,
    finds: "A tie-down on a panel that is sold as thinner than 15 mm, with a bolt farther than 150 mm from every panel that the panel is \
            joined to.",
    why: "A thin panel bends where a strap pulls in the middle of it, and the bolts work loose.",
    failing: tied!("{id: ring, kind: tie-ring, panel: main-deck}"),
    passing: PASSING,
    source: "a decision of this project; that unsupported thin panels fail is common practice, no source",
};
