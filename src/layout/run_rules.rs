//! What can be wrong with a run once it is laid out.

use crate::diag::{Rule, Severity};

/// A kit with two pockets, a cut-out between them and a run.
macro_rules! led {
    ($($run:literal),*) => {
        concat!(
            "bay: {width: 1040, depth: 1050, height: 800}\n",
            "carcases:\n",
            "  - {id: main, width: 1000, depth: 900, height: 240, panel: birch-12, columns: [{id: one, open: {}}, \
             {id: two, open: {}}]}\n",
            "cutouts:\n",
            "  - {id: pass, panel: main-divider-1, round: {diameter: 30}}\n",
            "runs:\n",
            $("  - ", $run, "\n"),*
        )
    };
}

const PASSING: &str = led!(
    "{id: feed, kind: cable, bundle: 12, from: {at: {x: 800, y: 200, z: 100}}, to: {at: {x: 800, y: -200, z: 100}}}"
);

/// Every rule about runs as laid out.
pub(crate) static RULES: [&Rule; 5] =
    [&RUN_STOP_UNKNOWN, &RUN_STOP_IN_PANEL, &RUN_HOLE_WITHOUT_PLACE, &RUN_TOO_THICK, &GAS_NOT_ALONE];

pub(super) static RUN_STOP_UNKNOWN: Rule = Rule {
    name: "run-stop-unknown",
    severity: Severity::Error,
    finds: "A run that begins or ends at neither equipment nor a cut-out of the kit, or goes through no cut-out of it.",
    why: "It leads nowhere.",
    failing: led!(
        "{id: feed, kind: cable, bundle: 12, from: {of: fridge}, to: {at: {x: 800, y: -200, z: 100}}}"
    ),
    passing: PASSING,
    source: "a decision of this project",
};

pub(super) static RUN_STOP_IN_PANEL: Rule = Rule {
    name: "run-stop-in-panel",
    severity: Severity::Error,
    finds: "A stop of a run inside the wood of a panel.",
    why: "A run crosses panels; it cannot lie in one.",
    failing: led!(
        "{id: feed, kind: cable, bundle: 12, from: {at: {x: 800, y: 200, z: 6}}, to: {at: {x: 800, y: -200, z: 100}}}"
    ),
    passing: PASSING,
    source: "arithmetic",
};

pub(super) static RUN_HOLE_WITHOUT_PLACE: Rule = Rule {
    name: "run-hole-without-place",
    severity: Severity::Error,
    finds: "A run that crosses a panel where, within 150 mm, no hole for it keeps 20 mm from edges, openings and what is bolted \
            there, and off equipment and moving parts.",
    why: "A hole at an edge breaks out, one at a joint or a slide meets its bolts.",
    failing: led!(
        "{id: feed, kind: duct, bundle: 180, from: {at: {x: 450, y: 200, z: 120}}, to: {at: {x: 450, y: -200, z: 120}}}"
    ),
    passing: PASSING,
    source: "20 mm from edges and bolts: common practice, from memory; 150 mm: a decision of this project",
};

pub(super) static RUN_TOO_THICK: Rule = Rule {
    name: "run-too-thick",
    severity: Severity::Error,
    finds: "A bundle thicker than a cut-out that it is to go through; or several that together fill more than half of its square \
            width.",
    why: "It does not pass.",
    failing: led!(
        "{id: feed, kind: hose, bundle: 40, from: {at: {x: 800, y: 200, z: 100}}, via: [{of: pass}], \
         to: {at: {x: 800, y: -200, z: 100}}}"
    ),
    passing: led!(
        "{id: feed, kind: hose, bundle: 20, from: {at: {x: 800, y: 200, z: 100}}, via: [{of: pass}], \
         to: {at: {x: 800, y: -200, z: 100}}}"
    ),
    source: "arithmetic",
};

pub(super) static GAS_NOT_ALONE: Rule = Rule {
    name: "gas-not-alone",
    severity: Severity::Error,
    finds: "A gas pipe through an opening that a cable, a hose, a duct or another pipe goes through, too.",
    why: "A chafed cable beside a gas pipe can light what leaks. Gas work is for the licensed person.",
    failing: led!(
        "{id: feed, kind: cable, bundle: 8, from: {at: {x: 800, y: 200, z: 100}}, via: [{of: pass}], \
         to: {at: {x: 800, y: -200, z: 100}}}",
        "{id: burner, kind: gas, bundle: 8, from: {at: {x: 700, y: 200, z: 100}}, via: [{of: pass}], \
         to: {at: {x: 700, y: -200, z: 100}}}"
    ),
    passing: led!(
        "{id: feed, kind: cable, bundle: 8, from: {at: {x: 800, y: 200, z: 100}}, via: [{of: pass}], \
         to: {at: {x: 800, y: -200, z: 100}}}",
        "{id: burner, kind: gas, bundle: 8, from: {at: {x: 700, y: 200, z: 100}}, to: {at: {x: 700, y: -200, z: 100}}}"
    ),
    source: "common practice, from memory",
};
