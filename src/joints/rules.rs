//! What can be wrong with bolts and joints while they are made.

use crate::diag::{Rule, Severity};

/// All rules of this stage.
pub(crate) const RULES: &[&Rule] = &[
    &UNKNOWN_BOLT_SIZE,
    &NO_BOLT_LENGTH,
    &JOINT_WITHOUT_BOLTS,
    &BOLT_POSITION_OFF_JOINT,
    &FACE_JOINT_AT_CORNER,
    &NUT_WIDER_THAN_PANEL,
    &NUT_SLOT_NARROWER_THAN_TOOL,
    &HEAD_HIGHER_THAN_CHANNEL,
    &SLIDE_BOLT_BLOCKED,
    &FIXTURE_BOLT_BLOCKED,
];

const PASSING: &str = "\
bay: {width: 1040, depth: 1050, height: 800}
carcases:
  - id: main
    width: 1000
    depth: 900
    height: 300
    panel: birch-12
    columns:
      - drawer: {slide: heavy-800}
      - drawer: {slide: heavy-800}
";

macro_rules! one_open_cell {
    ($head:literal, $carcase:literal) => {
        concat!(
            "bay: {width: 1040, depth: 1050, height: 800}\n",
            $head,
            "carcases:\n  - {id: main, width: 1000, depth: 900, height: 300, panel: birch-12, ",
            $carcase,
            "cell: {open: {}}}\n"
        )
    };
}

/// A thread size that the catalogue does not have.
pub(super) static UNKNOWN_BOLT_SIZE: Rule = Rule {
    name: "unknown-bolt-size",
    severity: Severity::Error,
    finds: "A bolt size that the catalogue does not have.",
    why: "Its hole, head and nut are unknown.",
    failing: one_open_cell!("bolts: {size: M7}\n", ""),
    passing: one_open_cell!("bolts: {size: M5}\n", ""),
    source: "the catalogue",
};

/// No nominal length holds the stack.
pub(super) static NO_BOLT_LENGTH: Rule = Rule {
    name: "no-bolt-length",
    severity: Severity::Error,
    finds: "A stack of panels, metal and washers for which no nominal bolt length leaves one to three threads proud of the nut.",
    why: "Fewer threads and the lock nut's insert does not hold; more and the end catches what moves.",
    failing: "\
bay: {width: 1040, depth: 1050, height: 800}
workshop: {materials: {slab: {nominal: 90, actual: 90, density: 600, grain: false, stock: [{length: 2440, width: 1220}]}}}
carcases:
  - {id: main, width: 1000, depth: 900, height: 400, panel: slab, cell: {open: {}}}
",
    passing: PASSING,
    source: "common practice, no source; one code asks for three threads",
};

/// A joint that gets no bolt.
pub(super) static JOINT_WITHOUT_BOLTS: Rule = Rule {
    name: "joint-without-bolts",
    severity: Severity::Error,
    finds: "A joint along which no bolt finds a free place, or a face with fewer than two bolts.",
    why: "There is no screw and no glue in the kit: a joint without bolts is no joint.",
    failing: "\
bay: {width: 1040, depth: 1050, height: 800}
joints: {angle: angle-40x40x4}
carcases:
  - {id: main, width: 1000, depth: 900, height: 90, panel: birch-12, cell: {open: {}}}
",
    passing: PASSING,
    source: "common practice, no source",
};

/// A position beyond its joint.
pub(super) static BOLT_POSITION_OFF_JOINT: Rule = Rule {
    name: "bolt-position-off-joint",
    severity: Severity::Error,
    finds: "A bolt position given with `at:` that lies beyond the joint, or where no angle lies or something stands in the way.",
    why: "The bolt that was asked for would be missing.",
    failing: one_open_cell!(
        "joints: {named: {\"main-base+main-side-left\": {bolts: {at: [60, 2000]}}}}\n",
        ""
    ),
    passing: one_open_cell!(
        "joints: {named: {\"main-base+main-side-left\": {bolts: {at: [60, 600]}}}}\n",
        ""
    ),
    source: "arithmetic",
};

/// A face joint where an edge meets a face.
pub(super) static FACE_JOINT_AT_CORNER: Rule = Rule {
    name: "face-joint-at-corner",
    severity: Severity::Error,
    finds: "The kind `face` for a joint at which an edge meets a face.",
    why: "A bolt cannot go through a face and an edge; only two faces can be bolted back to back.",
    failing: one_open_cell!("joints: {corner: face}\n", ""),
    passing: one_open_cell!("joints: {corner: angle}\n", ""),
    source: "common practice, no source",
};

/// A nut that does not fit inside its panel.
pub(super) static NUT_WIDER_THAN_PANEL: Rule = Rule {
    name: "nut-wider-than-panel",
    severity: Severity::Error,
    finds: "A captive nut that, across its corners, is wider than the panel is actually thick.",
    why: "The nut would stand out of the panel's face, or split it.",
    failing: one_open_cell!(
        "joints: {named: {\"main-back+main-base\": {kind: captive-nut, bolts: {size: M8}}}}\n",
        "back: {inset: 20}, "
    ),
    passing: one_open_cell!(
        "workshop: {tool: {diameter: 3}}\njoints: {named: {\"main-back+main-base\": {kind: captive-nut, bolts: {size: M6}}}}\n",
        "back: {inset: 20}, "
    ),
    source: "ISO 4032 (width across flats; corners = flats / cos 30 degrees)",
};

/// A tool too thick for a nut's slot.
pub(super) static NUT_SLOT_NARROWER_THAN_TOOL: Rule = Rule {
    name: "nut-slot-narrower-than-tool",
    severity: Severity::Error,
    finds: "A nut slot that the workshop's tool cannot cut so that the nut is left a flat shoulder to pull against.",
    why: "The tool rounds inside corners; a nut that pulls on rounded wood crushes it and turns.",
    failing: one_open_cell!(
        "joints: {named: {\"main-back+main-base\": {kind: captive-nut}}}\nworkshop: {tool: {diameter: 8}}\n",
        "back: {inset: 20}, "
    ),
    passing: one_open_cell!(
        "joints: {named: {\"main-back+main-base\": {kind: captive-nut}}}\nworkshop: {tool: {diameter: 3}}\n",
        "back: {inset: 20}, "
    ),
    source: "plane geometry: internal radius = tool radius",
};

/// A head that does not fit in a slide's channel.
pub(super) static HEAD_HIGHER_THAN_CHANNEL: Rule = Rule {
    name: "head-higher-than-channel",
    severity: Severity::Error,
    finds: "A bolt head higher than the room inside a slide's channel.",
    why: "The head scrapes the moving member, or the slide does not shut.",
    failing: "\
bay: {width: 1040, depth: 1050, height: 800}
workshop: {slides: {heavy-800: {head_room: 2}}}
carcases:
  - {id: main, width: 1000, depth: 900, height: 300, panel: birch-12, cell: {drawer: {slide: heavy-800}}}
",
    passing: PASSING,
    source: "common practice, no source",
};

/// A slide's bolt that meets something.
pub(super) static SLIDE_BOLT_BLOCKED: Rule = Rule {
    name: "slide-bolt-blocked",
    severity: Severity::Error,
    finds: "A bolt of a slide whose nut or head stands where something else is, often the slide on the other face of the same upright.",
    why: "A slide's holes are where its maker put them; the bolt cannot be moved aside.",
    failing: "\
bay: {width: 1040, depth: 1050, height: 800}
carcases:
  - id: main
    width: 1000
    depth: 900
    height: 300
    panel: birch-12
    columns:
      - drawer: {slide: heavy-800, slide_height: 110}
      - drawer: {slide: heavy-700, slide_height: 110}
",
    passing: PASSING,
    source: "common practice, no source",
};

/// What is set into a panel or stands on one cannot be bolted.
pub(super) static FIXTURE_BOLT_BLOCKED: Rule = Rule {
    name: "fixture-bolt-blocked",
    severity: Severity::Error,
    finds: "A bolt of a fitting or of equipment that meets a panel, a slide or another bolt.",
    why: "Its holes are where its maker put them: the bolt goes there or nowhere.",
    failing: concat!(
        "bay: {width: 1040, depth: 1050, height: 800}\n",
        "carcases:\n",
        "  - {id: main, width: 1000, depth: 900, height: 300, panel: birch-12, columns: [{size: 300, open: {}}, {open: {}}]}\n",
        "cutouts:\n",
        "  - {id: socket, panel: main-back, fitting: socket-double, middle: {left: 250}}\n"
    ),
    passing: concat!(
        "bay: {width: 1040, depth: 1050, height: 800}\n",
        "carcases:\n",
        "  - {id: main, width: 1000, depth: 900, height: 300, panel: birch-12, columns: [{size: 300, open: {}}, {open: {}}]}\n",
        "cutouts:\n",
        "  - {id: socket, panel: main-back, fitting: socket-double, middle: {left: 150}}\n"
    ),
    source: "a decision of this project",
};
