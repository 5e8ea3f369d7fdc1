//! What can be wrong with a door once it is laid out.

use crate::diag::{Rule, Severity};

/// A kit with one locker whose door has these keys beside its hinge's side.
macro_rules! door {
    ($keys:literal) => {
        concat!(
            "bay: {width: 1040, depth: 1050, height: 800}\n",
            "carcases:\n",
            "  - {id: main, width: 500, depth: 600, height: 400, panel: birch-12, cell: {id: locker, door: {hinge: left",
            $keys,
            "}}}\n"
        )
    };
}

const PASSING: &str = door!("");

/// Every rule about doors.
pub(crate) static RULES: [&Rule; 3] = [&DOOR_DOES_NOT_FIT, &HINGE_PANEL_TOO_THIN, &DOOR_OPENS_TOO_FAR];

pub(super) static DOOR_DOES_NOT_FIT: Rule = Rule {
    name: "door-does-not-fit",
    severity: Severity::Error,
    finds: "A door whose strip, hinges, latch or striker have no room: a strip too narrow for a hinge's leaf beside the angle \
            that holds it, a gap so wide that the hinges' bolts come too near the edges beside it, an edge too short for its \
            hinges, a latch over the door's edge.",
    why: "The hinges would have nothing to be bolted to, or the latch no door around it.",
    failing: door!(", strip: 30"),
    passing: PASSING,
    source: "arithmetic",
};

pub(super) static HINGE_PANEL_TOO_THIN: Rule = Rule {
    name: "hinge-panel-too-thin",
    severity: Severity::Error,
    finds: "A hinge on a panel thinner than its row in the catalogue asks for.",
    why: "Its bolts' washers pull through, and the door hangs.",
    failing: door!(", panel: birch-9, hinges: butt-75"),
    passing: PASSING,
    source: "the hinge's row in the catalogue",
};

pub(super) static DOOR_OPENS_TOO_FAR: Rule = Rule {
    name: "door-opens-too-far",
    severity: Severity::Error,
    finds: "A door that is to open further than its hinges do.",
    why: "The hinges would be forced.",
    failing: door!(", hinges: butt-75, open: 180"),
    passing: PASSING,
    source: "the hinge's row in the catalogue",
};
