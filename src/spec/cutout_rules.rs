//! What can be wrong with a cut-out, or another thing on a panel, as written, before anything is laid out.

use crate::diag::{Rule, Severity};

/// A kit with one carcase and cut-outs.
macro_rules! cutouts {
    ($($cutout:literal),*) => {
        concat!(
            "bay: {width: 1040, depth: 1050, height: 800}\n",
            "carcases:\n",
            "  - {id: main, width: 1000, depth: 900, height: 300, panel: birch-12, cell: {open: {}}}\n",
            "cutouts:\n",
            $("  - ", $cutout, "\n"),*
        )
    };
}

const PASSING: &str = cutouts!("{id: vent, panel: main-back, round: {diameter: 60}}");

/// Every rule about cut-outs as written.
pub(crate) static RULES: [&Rule; 1] = [&ON_PANEL_UNCLEAR];

pub(crate) static ON_PANEL_UNCLEAR: Rule = Rule {
    name: "on-panel-unclear",
    severity: Severity::Error,
    finds: "A cut-out or tie-down with no panel or two, placed by its middle and by its edge, or twice along one direction \
            of its panel; a cut-out with no shape or several; or a free shape with fewer than three corners, with corners \
            whose radii have no room, or with openings in it.",
    why: "What is cut must follow from one source.",
    failing: cutouts!("{id: vent, panel: main-back}"),
    passing: PASSING,
    source: "a decision of this project",
};
