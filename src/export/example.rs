//! Finished designs for the tests of exporters. Compiled for tests only.

use crate::build;
use crate::finished::Finished;
use crate::spec::{Input, Text};

/// The whole result of a spec, findings and sources included.
pub(crate) fn built(text: &str) -> build::Built {
    let design = Text { name: "design.yaml", text };
    let input = Input { design, fallback_name: "kit", vehicle: None, workshop: None };
    build::build(&input, &mut |path| Err(format!("no file {path}")))
}

/// A finished design; fails with its findings if it has errors.
pub(crate) fn finished(text: &str) -> Finished {
    let built = built(text);
    let findings = crate::diag::human(&built.findings, &built.sources, false);
    built.finished.unwrap_or_else(|| panic!("{findings}"))
}

/// Two drawers side by side in one carcase, corners with angles.
pub(crate) const TWO_DRAWERS: &str = "\
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

/// [`TWO_DRAWERS`], finished.
pub(crate) fn two_drawers() -> Finished {
    finished(TWO_DRAWERS)
}
