//! What can be wrong with a legend before the holes are known.

use crate::diag::{Rule, Severity};

/// A carcase with a fixed front and legends on it.
macro_rules! lettered {
    ($($legend:literal),*) => {
        concat!(
            "bay: {width: 1040, depth: 1050, height: 800}\n",
            "carcases:\n",
            "  - {id: main, width: 1000, depth: 900, height: 300, panel: birch-12, cell: {id: board, blank: {}}}\n",
            "legends:\n",
            $("  - ", $legend, "\n"),*
        )
    };
}

const PASSING: &str = lettered!("{id: fuses, text: Fuses 12 V, front_of: main-board}");

/// Every rule about legends as laid out.
pub(crate) static RULES: [&Rule; 2] = [&LEGEND_OUTSIDE_FONT, &LEGEND_ON_FAR_FACE];

pub(super) static LEGEND_OUTSIDE_FONT: Rule = Rule {
    name: "legend-outside-font",
    severity: Severity::Error,
    finds: "A legend with a sign that the single-stroke lettering does not have, or with none at all.",
    why: "It would be left out, and the legend would say something else.",
    failing: lettered!("{id: fuses, text: \"100 \\u2126\", front_of: main-board}"),
    passing: PASSING,
    source: "a decision of this project",
};

pub(super) static LEGEND_ON_FAR_FACE: Rule = Rule {
    name: "legend-on-far-face",
    severity: Severity::Error,
    finds: "A legend on the face of its panel that lies down while the panel is cut.",
    why: "Panels are cut with face A up. What is engraved from below would need the panel turned over and found again.",
    failing: lettered!("{id: fuses, text: Fuses 12 V, front_of: main-board, facing: front}"),
    passing: PASSING,
    source: "a decision of this project",
};
