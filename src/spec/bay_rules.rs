//! The rules that the readings of a bay can break: what cannot be true of one bay.

use crate::diag::{Rule, Severity};

/// A whole small spec whose bay has the given keys.
macro_rules! bay {
    ($keys:literal) => {
        concat!(
            "bay: {",
            $keys,
            "}\n",
            "carcases:\n",
            "  - {id: main, width: 800, depth: 700, height: 250, panel: birch-12, cell: {open: {}}}\n"
        )
    };
}

const TAPE: &str = "arithmetic; 3 mm for the tape is common practice, no source";

/// Every rule about the readings of a bay.
pub(super) static RULES: [&Rule; 7] = [
    &READING_MISSING,
    &READINGS_NOT_RISING,
    &READINGS_DISAGREE,
    &SIDES_CROSS,
    &ARCH_NOT_IN_BAY,
    &SEAT_BACK_MEETS_DOOR,
    &OPENING_LARGER,
];

/// Half a measurement.
pub(super) static READING_MISSING: Rule = Rule {
    name: "bay-reading-missing",
    severity: Severity::Error,
    finds: "A bay without width or sides, wheel arches without the sides that they stand in, a seat back with neither \
            rake nor lengths, an arch with neither a box nor a profile, or a list of readings that has not one for \
            each height.",
    why: "What is not measured cannot be kept clear of.",
    failing: bay!(
        "width: 1045, depth: 1100, height: 995, arches: {left: {from: 260, to: 820, height: 285, from_centre: 520}}"
    ),
    passing: bay!(
        "depth: 1100, height: 995, arches: {left: {from: 260, to: 820, height: 285, from_centre: 520}}, sides: {heights: [0, 300], stations: [{x: 0, widths: [1330, 1290]}]}"
    ),
    source: "a decision of this project",
};

/// Stations or heights out of order.
pub(super) static READINGS_NOT_RISING: Rule = Rule {
    name: "bay-readings-not-rising",
    severity: Severity::Error,
    finds: "Readings whose heights or stations do not rise from one to the next, or an arch that ends before it begins.",
    why: "What lies between two readings is worked out from their order; a number in the wrong row bends a side.",
    failing: bay!(
        "width: 1045, depth: 1100, height: 995, seat_back: {lengths: [{z: 300, length: 1020}, {z: 200, length: 1010}]}"
    ),
    passing: bay!(
        "width: 1045, depth: 1100, height: 995, seat_back: {lengths: [{z: 200, length: 1045}, {z: 300, length: 1020}]}"
    ),
    source: "a decision of this project",
};

/// Two readings of one length.
pub(super) static READINGS_DISAGREE: Rule = Rule {
    name: "bay-readings-disagree",
    severity: Severity::Error,
    finds: "Two readings of one length that differ by more than 3 mm: a rake and lengths at heights, `width` and what \
            sides and arches leave, `height` and the lowest reading of the roof, `depth` and a length at the floor.",
    why: "One of them is wrong, and the kit is cut to it.",
    failing: bay!(
        "width: 1045, depth: 1100, height: 995, seat_back: {rake: 14.9, lengths: [{z: 300, length: 1035}]}"
    ),
    passing: bay!(
        "width: 1045, depth: 1100, height: 995, seat_back: {rake: 14.9, lengths: [{z: 300, length: 1020}]}"
    ),
    source: TAPE,
};

/// Left beyond right.
pub(super) static SIDES_CROSS: Rule = Rule {
    name: "bay-sides-cross",
    severity: Severity::Error,
    finds: "Side lines that meet or cross: the left side right of the right one.",
    why: "There is no room between them; a sign or a column is mixed up.",
    failing: bay!(
        "depth: 1100, height: 995, sides: {heights: [0], stations: [{x: 0, left: [-600], right: [580]}]}"
    ),
    passing: bay!(
        "depth: 1100, height: 995, sides: {heights: [0], stations: [{x: 0, left: [600], right: [580]}]}"
    ),
    source: "arithmetic",
};

/// An arch elsewhere.
pub(super) static ARCH_NOT_IN_BAY: Rule = Rule {
    name: "arch-not-in-bay",
    severity: Severity::Error,
    finds: "A wheel arch whose inner face lies outside the side of the bay, that begins beyond the floor's end, or that \
            is as high as the roof.",
    why: "It would keep nothing clear: the arch that is there in truth would be met at fitting.",
    failing: bay!(
        "depth: 1100, height: 995, sides: {heights: [0], stations: [{x: 0, widths: [1330]}]}, arches: {left: {from: 260, to: 820, height: 285, from_centre: 1045}}"
    ),
    passing: bay!(
        "depth: 1100, height: 995, sides: {heights: [0], stations: [{x: 0, widths: [1330]}]}, arches: {left: {from: 260, to: 820, height: 285, from_centre: 522}}"
    ),
    source: "arithmetic",
};

/// No room left.
pub(super) static SEAT_BACK_MEETS_DOOR: Rule = Rule {
    name: "seat-back-meets-door",
    severity: Severity::Error,
    finds: "A seat back that leans so far into the bay that it reaches the closed door below the roof.",
    why: "The rake is wrong, or the seat back ends lower than the roof and nobody has said where.",
    failing: bay!("width: 1045, depth: 900, height: 1300, seat_back: {rake: 40}"),
    passing: bay!("width: 1045, depth: 900, height: 1300, seat_back: {rake: 15, top: 600}"),
    source: "arithmetic",
};

/// A hole larger than what it leads to.
pub(super) static OPENING_LARGER: Rule = Rule {
    name: "opening-larger-than-bay",
    severity: Severity::Error,
    finds: "An opening that is wider or higher than the bay behind it by more than 3 mm, or whose sill is above its \
            upper edge.",
    why: "A kit that passes such an opening on paper can stay outside.",
    failing: bay!(
        "width: 1045, depth: 1100, height: 995, opening: {height: 815, widths: [{z: 50, width: 1900}]}"
    ),
    passing: bay!(
        "width: 1045, depth: 1100, height: 995, opening: {height: 815, widths: [{z: 50, width: 1040}]}"
    ),
    source: TAPE,
};
