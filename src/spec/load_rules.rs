//! What can be wrong with masses, loads and scenarios as written.

use crate::diag::{Rule, Severity};

/// A kit in a vehicle with masses, this kerb, these limits and more.
macro_rules! weighed {
    ($kerb:literal, $limits:literal, $more:literal) => {
        concat!(
            "vehicle:\n",
            "  bay: {width: 1040, depth: 1050, height: 800}\n",
            "  masses:\n",
            "    wheelbase: 2850\n",
            "    rear_axle: 540\n",
            "    kerb: {",
            $kerb,
            "}\n",
            "    limits: [{",
            $limits,
            "}]\n",
            "carcases:\n",
            "  - {id: main, width: 700, depth: 800, height: 300, panel: birch-12, cell: {id: pocket, open: {}}}\n",
            $more
        )
    };
}

const PASSING: &str = weighed!(
    "front: 1235, rear: 1095, fuel: 100, driver: 0, weighed: false",
    "id: plate, gross: 3060, front: 1460, rear: 1820",
    "people: {mass: 75, basis: as the customer said}\nloads:\n  - {id: driver, kind: person, at: {x: 2000, y: -380}}\n\
     scenarios:\n  - {id: town, loads: [driver]}\n"
);

/// Every rule about masses, loads and scenarios as written.
pub(crate) static RULES: [&Rule; 5] =
    [&MASSES_UNCLEAR, &AXLE_LIMIT_BELOW_KERB, &LOAD_UNCLEAR, &LOAD_OUTSIDE_VEHICLE, &SCENARIO_UNCLEAR];

pub(crate) static MASSES_UNCLEAR: Rule = Rule {
    name: "masses-unclear",
    severity: Severity::Error,
    finds: "Loads or scenarios for a vehicle that does not say its `masses`; a gross mass below what it weighs empty; a \
            combination mass below the gross mass.",
    why: "Nothing could be said of what it may still carry.",
    failing: weighed!(
        "front: 1235, rear: 1095, fuel: 100, driver: 0, weighed: false",
        "id: plate, gross: 2060, front: 1460, rear: 1820",
        ""
    ),
    passing: PASSING,
    source: "arithmetic; gross vehicle mass and gross combination mass as in the vehicle rules of most countries",
};

pub(crate) static AXLE_LIMIT_BELOW_KERB: Rule = Rule {
    name: "axle-limit-below-kerb",
    severity: Severity::Error,
    finds: "An axle that may carry less than it carries without the kit.",
    why: "One of both numbers is wrong, and all margins with it.",
    failing: weighed!(
        "front: 1235, rear: 1095, fuel: 100, driver: 0, weighed: false",
        "id: plate, gross: 3060, front: 1460, rear: 1020",
        ""
    ),
    passing: PASSING,
    source: "arithmetic",
};

pub(crate) static LOAD_UNCLEAR: Rule = Rule {
    name: "load-unclear",
    severity: Severity::Error,
    finds: "A load without a mass or a place; a trailer without what it puts on the tow ball, or in a vehicle that does not say \
            where its tow ball is.",
    why: "It would count for nothing, or in the wrong place.",
    failing: weighed!(
        "front: 1235, rear: 1095, fuel: 100, driver: 0, weighed: false",
        "id: plate, gross: 3060, front: 1460, rear: 1820",
        "loads:\n  - {id: driver, kind: person, at: {x: 2000, y: -380}}\n"
    ),
    passing: PASSING,
    source: "a decision of this project: what a person weighs differs from rule to rule, so it must be said",
};

pub(crate) static LOAD_OUTSIDE_VEHICLE: Rule = Rule {
    name: "load-outside-vehicle",
    severity: Severity::Error,
    finds: "A load ahead of the vehicle's front end or behind its rear end.",
    why: "Axle loads would come from a place where nothing can be.",
    failing: weighed!(
        "front: 1235, rear: 1095, fuel: 100, driver: 0, weighed: false",
        "id: plate, gross: 3060, front: 1460, rear: 1820",
        "loads:\n  - {id: winch, kind: accessory, mass: 30, at: {x: 20000, y: 0}}\n"
    ),
    passing: PASSING,
    source: "arithmetic",
};

pub(crate) static SCENARIO_UNCLEAR: Rule = Rule {
    name: "scenario-unclear",
    severity: Severity::Error,
    finds: "A scenario with loads or limits that do not exist, or with two trailers.",
    why: "It would show another vehicle than the one that was meant.",
    failing: weighed!(
        "front: 1235, rear: 1095, fuel: 100, driver: 0, weighed: false",
        "id: plate, gross: 3060, front: 1460, rear: 1820",
        "scenarios:\n  - {id: town, loads: [drivr]}\n"
    ),
    passing: PASSING,
    source: "a decision of this project",
};
