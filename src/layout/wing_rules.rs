//! What can be wrong with a wing once it is laid out.

use crate::diag::{Rule, Severity};

/// A kit with one carcase and a wing.
macro_rules! wing {
    ($bay:literal, $($line:literal),*) => {
        concat!(
            "bay: {width: 1300, depth: 1050, height: 800",
            $bay,
            "}\n",
            "carcases:\n",
            "  - {id: main, width: 1000, depth: 900, height: 300, panel: birch-12, cell: {open: {}}}\n",
            "wings:\n",
            $($line, "\n"),*
        )
    };
}

const PASSING: &str = wing!("", "  - {id: wing, side: left, points: [{x: 60, y: 640}, {x: 900, y: 640}]}");

/// Every rule about wings as laid out.
pub(crate) static RULES: [&Rule; 4] =
    [&WING_SHAPE_LOST, &WING_SIDES_DIFFER, &WING_NOT_JOINED, &WING_NEAR_MEASURED_POINT];

pub(super) static WING_SHAPE_LOST: Rule = Rule {
    name: "wing-shape-lost",
    severity: Severity::Error,
    finds: "A wing whose measured line, moved inward by the clearance, loses a piece, crosses itself, or comes to the \
            carcase; or whose fillets need more than the pieces between its points.",
    why: "What is left would be another shape than the one that was measured.",
    failing: wing!(
        "",
        "  - {id: wing, side: left, points: [{x: 60, y: 640}, {x: 300, y: 640, fillet: 150}, {x: 330, y: 560}, {x: 900, y: 640}]}"
    ),
    passing: PASSING,
    source: "plane geometry",
};

pub(super) static WING_SIDES_DIFFER: Rule = Rule {
    name: "wing-sides-differ",
    severity: Severity::Error,
    finds: "`side: both` where the bay's sides or arches, or the carcase's sides, are not equally far from the \
            centreline along the wing, within 2 mm.",
    why: "One of the two mirror images would not go in, or leave a gap.",
    failing: concat!(
        "bay: {depth: 1050, height: 800, sides: {heights: [0], stations: [{x: 0, left: [650], right: [640]}]}}\n",
        "carcases:\n",
        "  - {id: main, width: 1000, depth: 900, height: 300, panel: birch-12, cell: {open: {}}}\n",
        "wings:\n",
        "  - {id: wing, side: both, points: [{x: 60, y: 636}, {x: 900, y: 636}]}\n"
    ),
    passing: wing!("", "  - {id: wing, side: both, points: [{x: 60, y: 640}, {x: 900, y: 640}]}"),
    source: "a tape in a trimmed bay reads to a millimetre or two: common practice, no source",
};

pub(super) static WING_NOT_JOINED: Rule = Rule {
    name: "wing-not-joined",
    severity: Severity::Warning,
    finds: "A wing whose edge does not come up to the side of its carcase where an angle could hold both.",
    why: "Nothing would hold it.",
    failing: wing!("", "  - {id: wing, side: left, top: 340, points: [{x: 60, y: 640}, {x: 900, y: 640}]}"),
    passing: PASSING,
    source: "a decision of this project",
};

pub(super) static WING_NEAR_MEASURED_POINT: Rule = Rule {
    name: "wing-near-measured-point",
    severity: Severity::Warning,
    finds: "A measured point that lies more than 0.5 mm nearer to the wing's edge than the clearance, since the tool \
            cannot follow so sharp an inside corner.",
    why: "The panel would touch the trim there.",
    failing: concat!(
        "bay: {width: 1300, depth: 1050, height: 800}\n",
        "workshop: {tool: {diameter: 16}}\n",
        "carcases:\n",
        "  - {id: main, width: 1000, depth: 900, height: 300, panel: birch-12, cell: {open: {}}}\n",
        "wings:\n",
        "  - {id: wing, side: left, points: [{x: 60, y: 640}, {x: 400, y: 640}, {x: 400, y: 580}, {x: 480, y: 580}, {x: 480, y: 640}, {x: 900, y: 640}]}\n"
    ),
    passing: PASSING,
    source: "plane geometry",
};
