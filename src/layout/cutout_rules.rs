//! What can be wrong with a cut-out once it is laid out.

use crate::diag::{Rule, Severity};

/// A kit with two columns and cut-outs.
macro_rules! cutouts {
    ($($cutout:literal),*) => {
        concat!(
            "bay: {width: 1040, depth: 1050, height: 800}\n",
            "carcases:\n",
            "  - {id: main, width: 1000, depth: 900, height: 300, panel: birch-12, columns: [{open: {}}, {open: {}}]}\n",
            "cutouts:\n",
            $("  - ", $cutout, "\n"),*
        )
    };
}

const PASSING: &str = cutouts!("{id: vent, panel: main-back, round: {diameter: 60}, middle: {left: 200}}");

/// Every rule about cut-outs as laid out.
pub(crate) static RULES: [&Rule; 4] =
    [&PANEL_UNKNOWN, &CUTOUT_OFF_PANEL, &CUTOUT_BLOCKED, &CUTOUT_CORNER_TOO_TIGHT];

pub(super) static PANEL_UNKNOWN: Rule = Rule {
    name: "panel-unknown",
    severity: Severity::Error,
    finds: "A cut-out or tie-down on a panel that the kit does not have, on the front of a cell that has none, placed from an edge \
            that its panel does not have, or facing along its panel.",
    why: "It would be nowhere.",
    failing: cutouts!("{id: vent, panel: main-bakc, round: {diameter: 60}}"),
    passing: PASSING,
    source: "a decision of this project",
};

pub(super) static CUTOUT_OFF_PANEL: Rule = Rule {
    name: "cutout-off-panel",
    severity: Severity::Error,
    finds: "A cut-out that does not lie within its panel, or leaves less than 10 mm of it to an edge or another opening.",
    why: "The strip that stays breaks when it is cut, or when somebody leans on it.",
    failing: cutouts!("{id: vent, panel: main-back, round: {diameter: 60}, middle: {left: 200, top: 35}}"),
    passing: PASSING,
    source: "common practice, no source",
};

pub(super) static CUTOUT_BLOCKED: Rule = Rule {
    name: "cutout-blocked",
    severity: Severity::Error,
    finds: "A cut-out where another panel ends on its panel, or where a slide or an angle lies on it.",
    why: "That panel would lose its joint, the slide its fixing, and nothing could pass through.",
    failing: cutouts!("{id: vent, panel: main-back, round: {diameter: 60}}"),
    passing: PASSING,
    source: "a decision of this project",
};

pub(super) static CUTOUT_CORNER_TOO_TIGHT: Rule = Rule {
    name: "cutout-corner-too-tight",
    severity: Severity::Error,
    finds: "A cut-out with a corner sharper than the workshop's tool is round, or narrower than the tool.",
    why: "A round tool cannot cut it: the opening would be smaller than drawn, and what goes in jams.",
    failing: cutouts!(
        "{id: vent, panel: main-back, rectangle: {width: 80, height: 60, radius: 1}, middle: {left: 200}}"
    ),
    passing: cutouts!(
        "{id: vent, panel: main-back, rectangle: {width: 80, height: 60, radius: 3}, middle: {left: 200}}"
    ),
    source: "plane geometry",
};
