//! What can be wrong with equipment as written.

use crate::diag::{Rule, Severity};

/// A kit with one carcase and a piece of equipment.
macro_rules! equipment {
    ($equipment:literal) => {
        concat!(
            "bay: {width: 1040, depth: 1050, height: 800}\n",
            "carcases:\n",
            "  - {id: main, width: 1000, depth: 900, height: 320, panel: birch-12, cell: {id: pocket, open: {}}}\n",
            "equipment:\n",
            "  - ",
            $equipment,
            "\n"
        )
    };
}

/// Every rule about equipment as written.
pub(crate) static RULES: [&Rule; 1] = [&EQUIPMENT_UNCLEAR];

pub(crate) static EQUIPMENT_UNCLEAR: Rule = Rule {
    name: "equipment-unclear",
    severity: Severity::Error,
    finds: "Equipment with no place or several, turned by other than quarter turns, lighter full than empty, without a size, a \
            mass or what its kind asks for (a cooker's `heat` and `burns`), or with a vent that is low and high at once.",
    why: "It could not be placed, drawn, bolted or weighed.",
    failing: equipment!("{id: battery, kind: battery-100}"),
    passing: equipment!("{id: battery, kind: battery-100, in: main-pocket}"),
    source: "a decision of this project",
};
