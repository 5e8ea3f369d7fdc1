//! The table of parts: everything with a name but bolts, which are counted at what they hold.

use super::changes::Seen;
use crate::finished::Finished;
use crate::layout::{BoardId, FixtureKind};
use crate::mass::PartKind;
use crate::number::rounded;
use serde_json::{Value, json};
use std::collections::BTreeMap;

/// Decimals of a part's mass, kg.
const DECIMALS: usize = 3;

/// Every part, panels first, in the kit's order.
pub(super) fn parts(finished: &Finished, now: &Seen, before: Option<&Seen>) -> Value {
    let kit = &finished.kit;
    let masses: BTreeMap<&str, f64> =
        finished.masses.parts.iter().map(|part| (part.name.as_str(), part.mass)).collect();
    let mut bolts = vec![0_usize; kit.panels.len()];
    for BoardId(panel) in kit.bolts.iter().flat_map(|bolt| &bolt.panels) {
        bolts[*panel] += 1;
    }
    let mut on_sheet: BTreeMap<usize, &str> = BTreeMap::new();
    for group in &finished.groups {
        for sheet in group.sheets() {
            let placed = sheet.sheet.placed.iter();
            on_sheet.extend(placed.map(|placed| (group.panels[placed.part], sheet.name)));
        }
    }
    let mass = |name: &str| masses.get(name).map(|mass| rounded(*mass, DECIMALS));
    let body = |id| kit.layout.body(id).name.as_str();
    let panels = kit.panels.iter().enumerate().map(|(i, panel)| {
        let (low, high) = panel.outline.bounds();
        let size = [high.x - low.x, high.y - low.y, panel.material.actual].map(|mm| rounded(mm, 1));
        json!({
            "name": panel.name, "kind": PartKind::Panel.word(), "body": body(panel.body),
            "material": panel.material.id, "size": size,
            "mass": mass(&panel.name), "bolts": bolts[i], "sheet": on_sheet.get(&i),
            "changed": now.change(&panel.name, before),
        })
    });
    let other = |name: &str, kind: &str, of, material: &str, mass: Option<f64>, bolts: usize| {
        json!({
            "name": name, "kind": kind, "body": body(of), "material": material, "size": Value::Null,
            "mass": mass, "bolts": bolts, "sheet": Value::Null, "changed": "",
        })
    };
    let angles = kit.angles.iter().map(|angle| {
        let holes = angle.holes.iter().map(Vec::len).sum();
        let own = rounded(angle.mass(), DECIMALS);
        other(&angle.name, PartKind::Angle.word(), angle.body, &angle.angle.id, Some(own), holes)
    });
    let slides = kit.layout.mounts.iter().flat_map(|mount| {
        let fixed = kit.layout.board(mount.carcase_board).body;
        [("fixed", fixed), ("moving", mount.drawer)].map(|(member, of)| {
            let name = format!("{}/{member}", mount.name);
            other(&name, PartKind::Slide.word(), of, &mount.slide.id, None, 0)
        })
    });
    let fixtures = kit.layout.fixtures.iter().enumerate().filter(|(_, fixture)| !fixture.solids.is_empty());
    let fixtures = fixtures.map(|(i, fixture)| {
        let kind =
            if fixture.kind == FixtureKind::Equipment { "equipment" } else { PartKind::Fixture.word() };
        let held = kit.bolts.iter().filter(|bolt| bolt.fixture == Some(i)).count();
        other(&fixture.name, kind, fixture.body, &fixture.item, mass(&fixture.name), held)
    });
    panels.chain(angles).chain(slides).chain(fixtures).collect()
}
