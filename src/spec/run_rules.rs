//! What can be wrong with a run as written.

use crate::diag::{Rule, Severity};

/// A kit with one carcase and a run.
macro_rules! led {
    ($run:literal) => {
        concat!(
            "bay: {width: 1040, depth: 1050, height: 800}\n",
            "carcases:\n",
            "  - {id: main, width: 1000, depth: 900, height: 320, panel: birch-12, columns: [{open: {}}, {open: {}}]}\n",
            "runs:\n",
            "  - ",
            $run,
            "\n"
        )
    };
}

/// Every rule about runs as written.
pub(crate) static RULES: [&Rule; 1] = [&RUN_UNCLEAR];

pub(crate) static RUN_UNCLEAR: Rule = Rule {
    name: "run-unclear",
    severity: Severity::Error,
    finds: "A run with a stop that is neither `of` something nor `at` a place, or both; with a face of a place; or with a fuse of \
            what is no cable.",
    why: "It could not be led anywhere.",
    failing: led!("{id: feed, kind: cable, bundle: 12, from: {}, to: {at: {x: 800, y: -200, z: 100}}}"),
    passing: led!(
        "{id: feed, kind: cable, bundle: 12, from: {at: {x: 800, y: 200, z: 100}}, to: {at: {x: 800, y: -200, z: 100}}}"
    ),
    source: "a decision of this project",
};
