//! Kits for tests: specs that between them have every joint, slide, head and nut, and the way to build one.

use crate::build::{self, Built};
use crate::finished::Finished;
use crate::spec::{Input, Text};

/// The smallest useful spec: angles at every corner, two drawers on heavy slides.
pub(crate) const ANGLES: &str = "\
name: two-drawers
bay: {width: 1040, depth: 1050, height: 800}
carcases:
  - id: main
    width: bay.width - 16
    depth: 900
    height: 300
    panel: birch-12
    columns:
      - drawer: {slide: heavy-800}
      - drawer: {slide: heavy-800}
";

/// Five drawers one above the other, shelves with captive nuts: parts with tabs and slots.
pub(crate) const TOWER: &str = "\
name: tower
bay: {width: 1040, depth: 1050, height: 1200}
workshop: {tool: {diameter: 3}}
joints: {named: {'*+*shelf*': {kind: captive-nut}, '*shelf*+*': {kind: captive-nut}, '*-back+*-side-*': {kind: captive-nut}}}
carcases:
  - id: tower
    width: 500
    depth: 500
    height: 1100
    back: {inset: 12}
    panel: birch-15
    rows:
      - drawer: {slide: ordinary}
      - drawer: {slide: ordinary}
      - drawer: {slide: ordinary}
      - drawer: {slide: ordinary}
      - drawer: {slide: ordinary}
";

/// Two carcases side by side, of different heights and materials.
pub(crate) const SIDE_BY_SIDE: &str = "\
name: side-by-side
vehicle: {name: 'Estate <long> & \"low\"', bay: {width: 1240, depth: 1350, height: 900}}
carcases:
  - id: left
    width: 560
    depth: 900
    height: 300
    at: {y: 285}
    panel: birch-12
    cell: {drawer: {slide: heavy-700}}
  - id: right
    width: 560
    depth: 700
    height: 420
    at: {y: -285}
    panel: birch-15
    rows:
      - drawer: {slide: heavy-500}
      - open: {}
";

/// Tabs, slots and captive nuts in the carcase, angles in the drawers.
pub(crate) const CAPTIVE_NUTS: &str = "\
name: captive
bay: {width: 1040, depth: 1050, height: 800}
workshop: {tool: {diameter: 3}}
carcases:
  - id: main
    width: 1000
    depth: 900
    height: 300
    panel: birch-12
    overhang: 12
    back: {inset: 12}
    joints: {corner: captive-nut}
    drawers: {joints: {corner: angle}}
    columns:
      - drawer: {slide: heavy-800}
      - drawer: {slide: heavy-800}
";

/// A wide and high kit: three stacks of drawers, thicker bases and decks, thinner bottoms, an open pocket.
pub(crate) const LARGE: &str = "\
name: large
bay: {width: 1410, depth: 1250, height: 1000}
carcases:
  - id: left
    width: 440
    depth: 900
    height: 720
    at: {y: 475}
    panel: birch-12
    panels: {base: birch-15, deck: birch-15}
    drawers: {bottom: birch-9}
    rows: [{drawer: {slide: heavy-800}}, {drawer: {slide: heavy-800}}, {drawer: {slide: heavy-800}}]
  - id: middle
    width: 440
    depth: 900
    height: 720
    at: {y: 0}
    panel: birch-12
    panels: {base: birch-15, deck: birch-15}
    drawers: {bottom: birch-9}
    rows: [{drawer: {slide: heavy-800}}, {open: {}}, {drawer: {slide: heavy-800}}]
  - id: right
    width: 440
    depth: 900
    height: 720
    at: {y: -475}
    panel: birch-12
    panels: {base: birch-15, deck: birch-15}
    drawers: {bottom: birch-9}
    rows: [{drawer: {slide: heavy-800}}, {drawer: {slide: heavy-800}}, {drawer: {slide: heavy-800}}]
";

/// All of them.
pub(crate) const ALL: [&str; 3] = [ANGLES, CAPTIVE_NUTS, LARGE];

/// Warnings and notes about strength, which most kits here are not made for.
const ABOUT_STRENGTH: [&str; 6] = [
    "panel-too-weak",
    "joint-overloaded",
    "module-tips",
    "straps-too-few",
    "not-held-that-way",
    "strength-not-checked",
];

/// A run without what it says about strength.
pub(crate) fn strength_aside(mut built: Built) -> Built {
    built.findings.retain(|finding| !ABOUT_STRENGTH.contains(&finding.rule.name));
    built
}

/// Everything that a run of a spec gives, but for what it says about strength.
pub(crate) fn built(text: &str) -> Built {
    strength_aside(built_whole(text))
}

/// Everything that a run of a spec gives.
pub(crate) fn built_whole(text: &str) -> Built {
    let input = Input {
        design: Text { name: "design.yaml", text },
        fallback_name: "kit",
        vehicle: None,
        workshop: None,
    };
    build::build(
        &input,
        &mut |_, path| Err(format!("no file {path}")),
        crate::build::Laying::AsAsked,
        &mut crate::sheets::unwatched,
    )
}

/// The kit of a spec that has no error.
pub(crate) fn finished(text: &str) -> Finished {
    let built = built(text);
    let findings = crate::diag::human(&built.findings, &built.sources, false);
    built.finished.unwrap_or_else(|| panic!("{findings}"))
}
