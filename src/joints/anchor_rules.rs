//! What can be wrong with that which holds a carcase to the vehicle.

use crate::diag::{Rule, Severity};

/// Every rule about points of the vehicle.
pub(crate) const RULES: &[&Rule] = &[
    &UNKNOWN_ANCHOR,
    &ANCHOR_HOLDS_PEOPLE,
    &ANCHOR_LEANS,
    &ANCHOR_NOT_UNDER_BASE,
    &ANCHOR_WITHOUT_BOLT,
    &ANCHOR_BLOCKED,
    &TURNBUCKLE_LENGTH,
];

/// A kit with one carcase over a bay with one point.
macro_rules! one_point {
    ($point:literal, $fixing:literal) => {
        one_point!(1040, $point, $fixing)
    };
    ($width:literal, $point:literal, $fixing:literal) => {
        concat!(
            "bay:\n  {width: ",
            $width,
            ", depth: 1050, height: 800, anchors: [{id: left, ",
            $point,
            "}]}\ncarcases:\n  - id: main\n    width: 1000\n    depth: 900\n    height: 300\n    panel: birch-12\n    \
             anchors: [{",
            $fixing,
            "}]\n    cell: {open: {}}\n"
        )
    };
}

const SOUND: &str = one_point!("x: 300, y: 400, thread: M8, depth: 18", "point: left");

/// A point or a panel that is not there.
pub(super) static UNKNOWN_ANCHOR: Rule = Rule {
    name: "unknown-anchor",
    severity: Severity::Error,
    finds: "A fixing at a point that the bay does not list, or a turnbuckle at a panel that the carcase does not have.",
    why: "A hole for a point that is not there is cut for nothing.",
    failing: one_point!("x: 300, y: 400, thread: M8, depth: 18", "point: lift"),
    passing: SOUND,
    source: "a decision of this project",
};

/// A point that holds people.
pub(super) static ANCHOR_HOLDS_PEOPLE: Rule = Rule {
    name: "anchor-holds-people",
    severity: Severity::Error,
    finds: "A fixing at a point of a seat, a seat belt or a child restraint, without the reference of an engineer's approval.",
    why: "Those anchorages are tested and approved as they are; a load of another kind, or a washer between, can make \
          them fail when people depend on them.",
    failing: one_point!("x: 300, y: 400, thread: M8, depth: 18, kind: seat-belt", "point: left"),
    passing: one_point!(
        "x: 300, y: 400, thread: M8, depth: 18, kind: seat-belt",
        "point: left, engineer: approval 17 of the engineer named in the file"
    ),
    source: "vehicle modification rules treat seat and belt anchorages as work for a licensed engineer; ask locally",
};

/// A point on a slope.
pub(super) static ANCHOR_LEANS: Rule = Rule {
    name: "anchor-leans",
    severity: Severity::Error,
    finds: "A bolt through a level base into a point whose axis leans by more than 3 degrees.",
    why: "The head bears on one edge, the bolt is bent, and the thread is started crooked.",
    failing: one_point!("x: 300, y: 400, thread: M8, depth: 18, slope: 22", "point: left"),
    passing: SOUND,
    source: "common practice, no source",
};

/// A point beside the carcase.
pub(super) static ANCHOR_NOT_UNDER_BASE: Rule = Rule {
    name: "anchor-not-under-base",
    severity: Severity::Error,
    finds: "A bolt into a point that is not under the carcase's base, or too near the edge of a panel that it goes \
            through; a turnbuckle's eye off its panel.",
    why: "The wood breaks out, or there is none.",
    failing: one_point!("x: 300, y: 495, thread: M8, depth: 18", "point: left"),
    passing: SOUND,
    source: "three diameters to an edge: common practice, no source",
};

/// No bolt for it.
pub(super) static ANCHOR_WITHOUT_BOLT: Rule = Rule {
    name: "anchor-without-bolt",
    severity: Severity::Error,
    finds: "A point for which no bolt length goes in at least its diameter without reaching the bottom, whose depth \
            nobody has measured, or that was measured too roughly for a slot.",
    why: "Too short and the thread strips; too long and the bolt is tight before the kit is.",
    failing: one_point!("x: 300, y: 400, thread: M8, depth: 9", "point: left"),
    passing: SOUND,
    source: "a diameter of thread: common practice, no source",
};

/// Something stands where its head would be.
pub(super) static ANCHOR_BLOCKED: Rule = Rule {
    name: "anchor-blocked",
    severity: Severity::Error,
    finds: "A bolt into a point whose head would stand in an upright panel, a slide or a drawer's way.",
    why: "It cannot be put in.",
    failing: one_point!("x: 300, y: 475, thread: M8, depth: 18", "point: left"),
    passing: SOUND,
    source: "arithmetic",
};

/// Too long or too short.
pub(super) static TURNBUCKLE_LENGTH: Rule = Rule {
    name: "turnbuckle-length",
    severity: Severity::Error,
    finds: "A turnbuckle whose eyes are nearer together or farther apart than it reaches.",
    why: "It can be neither hooked in nor drawn tight.",
    failing: one_point!(
        1140,
        "x: 300, y: 520, thread: M8, slope: 22",
        "point: left, turnbuckle: {panel: main-side-left, z: 90}"
    ),
    passing: one_point!(
        1140,
        "x: 300, y: 520, thread: M8, slope: 22",
        "point: left, turnbuckle: {panel: main-side-left, z: 210}"
    ),
    source: "the catalogue's row",
};
