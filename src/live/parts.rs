//! The table of parts: everything in the model but bolts and what is in them, which are counted at what they hold.

use super::changes::Changes;
use crate::export::model3d::{Occurrence, Scene};
use crate::finished::Finished;
use crate::joints::Panel;
use crate::layout::BoardId;
use crate::mass::PartKind;
use crate::number::rounded;
use serde_json::{Value, json};
use std::collections::BTreeMap;

/// Decimals of a part's mass, kg.
const DECIMALS: usize = 3;

/// Every part of the scene, panels first.
pub(super) fn parts(finished: &Finished, scene: &Scene, changes: &Changes) -> Value {
    let kit = &finished.kit;
    let masses: BTreeMap<&str, f64> =
        finished.masses.parts.iter().map(|part| (part.name.as_str(), part.mass)).collect();
    let panels: BTreeMap<&str, &Panel> =
        kit.panels.iter().map(|panel| (panel.name.as_str(), panel)).collect();
    let (bolts, sheets) = (bolts(finished), sheets(finished));
    let is_panel = |kind: &str| kind == PartKind::Panel.word();
    let mut parts: Vec<_> = scene.parts().filter(|part| part.kind != PartKind::Hardware.word()).collect();
    parts.sort_by_key(|part| !is_panel(part.kind));
    let one = |part: &Occurrence| {
        let (name, kind) = (part.name.as_str(), part.kind);
        let panel = panels.get(name).filter(|_| is_panel(kind));
        let size = panel.map(|panel| {
            let (low, high) = panel.outline.bounds();
            [high.x - low.x, high.y - low.y, panel.material.actual].map(|mm| rounded(mm, 1))
        });
        json!({
            "name": name,
            "kind": kind,
            "body": kit.layout.body(part.body).name,
            "material": panel.map(|panel| &panel.material.id).or(part.designation.as_ref()),
            "size": size,
            "mass": masses.get(name).map(|mass| rounded(*mass, DECIMALS)),
            "bolts": bolts.get(name).copied().unwrap_or(0),
            "sheet": panel.and_then(|_| sheets.get(name)),
            "changed": changes.of(name),
        })
    };
    parts.into_iter().map(one).collect()
}

/// How many bolts go through each panel, angle and fixture.
fn bolts(finished: &Finished) -> BTreeMap<&str, usize> {
    let kit = &finished.kit;
    let mut bolts = BTreeMap::new();
    for bolt in &kit.bolts {
        let panels = bolt.panels.iter().map(|&BoardId(i)| kit.panels[i].name.as_str());
        let fixture = bolt.fixture.map(|i| kit.layout.fixtures[i].name.as_str());
        for name in panels.chain(fixture) {
            *bolts.entry(name).or_default() += 1;
        }
    }
    let angles = kit.angles.iter();
    bolts.extend(angles.map(|angle| (angle.name.as_str(), angle.holes.iter().map(Vec::len).sum())));
    bolts
}

/// The sheet on which each panel lies.
fn sheets(finished: &Finished) -> BTreeMap<&str, &str> {
    let mut on_sheet = BTreeMap::new();
    for group in &finished.groups {
        for sheet in group.sheets() {
            let panel = |part: usize| finished.kit.panels[group.panels[part]].name.as_str();
            on_sheet.extend(sheet.sheet.placed.iter().map(|placed| (panel(placed.part), sheet.name)));
        }
    }
    on_sheet
}
