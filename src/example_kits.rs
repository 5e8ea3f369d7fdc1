//! Kits for tests: specs that between them have every joint, slide, head and nut, and the way to build one.

use crate::build::{self, Built};
use crate::finished::Finished;
use crate::spec::{Input, Text};

/// The smallest useful spec: angles at every corner, two drawers on heavy slides.
pub(crate) const ANGLES: &str = "\
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

/// Everything that a run of a spec gives.
pub(crate) fn built(text: &str) -> Built {
    let input = Input {
        design: Text { name: "design.yaml", text },
        fallback_name: "kit",
        vehicle: None,
        workshop: None,
    };
    build::build(&input, &mut |path| Err(format!("no file {path}")))
}

/// The kit of a spec that has no error.
pub(crate) fn finished(text: &str) -> Finished {
    let built = built(text);
    let findings = crate::diag::human(&built.findings, &built.sources, false);
    built.finished.unwrap_or_else(|| panic!("{findings}"))
}
