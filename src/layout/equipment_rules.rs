//! What can be wrong with equipment once it is laid out.

use crate::diag::{Rule, Severity};

/// A kit with a pocket, a tray and a piece of equipment.
macro_rules! equipment {
    ($equipment:literal) => {
        concat!(
            "bay: {width: 1040, depth: 1050, height: 800}\n",
            "carcases:\n",
            "  - {id: main, width: 1000, depth: 900, height: 300, panel: birch-12, columns: [{id: pocket, open: {}}, \
             {id: tray, tray: {slide: heavy-700}}]}\n",
            "equipment:\n",
            "  - ",
            $equipment,
            "\n"
        )
    };
}

const PASSING: &str = equipment!("{id: tank, kind: water-tank-20, in: main-pocket, turn: 90}");

/// Every rule about equipment as laid out.
pub(crate) static RULES: [&Rule; 4] =
    [&EQUIPMENT_PLACE_UNKNOWN, &EQUIPMENT_DOES_NOT_FIT, &STRAP_WITHOUT_PANEL, &BAR_WITHOUT_UPRIGHT];

pub(super) static EQUIPMENT_PLACE_UNKNOWN: Rule = Rule {
    name: "equipment-place-unknown",
    severity: Severity::Error,
    finds: "Equipment in a cell, on a tray or on a panel that the kit does not have.",
    why: "It stands nowhere.",
    failing: equipment!("{id: tank, kind: water-tank-20, in: main-poket, turn: 90}"),
    passing: PASSING,
    source: "a decision of this project",
};

pub(super) static EQUIPMENT_DOES_NOT_FIT: Rule = Rule {
    name: "equipment-does-not-fit",
    severity: Severity::Error,
    finds: "Equipment larger than the cell, the tray or the panel that it stands on, or reaching over its edge.",
    why: "It cannot be put there.",
    failing: equipment!("{id: fridge, kind: fridge-50, in: main-pocket}"),
    passing: PASSING,
    source: "arithmetic",
};

pub(super) static STRAP_WITHOUT_PANEL: Rule = Rule {
    name: "strap-without-panel",
    severity: Severity::Error,
    finds: "A strap or a foot of equipment with no panel under its bolt.",
    why: "What is not bolted to the kit does not hold anything down.",
    failing: equipment!("{id: tank, kind: water-tank-20, at: {x: 500, y: 0, z: 320}}"),
    passing: equipment!("{id: tank, kind: water-tank-20, at: {x: 500, y: 0, z: 320}, straps: 0}"),
    source: "a decision of this project",
};

pub(super) static BAR_WITHOUT_UPRIGHT: Rule = Rule {
    name: "bar-without-upright",
    severity: Severity::Error,
    finds: "A bar over equipment with no upright panel on its left or its right where the bar's tab would be bolted.",
    why: "What is not bolted to the kit does not hold anything down.",
    failing: equipment!("{id: tank, kind: water-tank-20, on: main-deck, bars: 1}"),
    passing: equipment!("{id: tank, kind: water-tank-20, in: main-pocket, turn: 90, bars: 1}"),
    source: "a decision of this project",
};
