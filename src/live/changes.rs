//! What is new, what is cut otherwise and what is gone, from one good state to the next.

use super::figures::Figures;
use crate::export::sha256;
use crate::finished::Finished;
use std::collections::BTreeMap;

/// What of a kit is remembered for the next state.
#[derive(Debug)]
pub(super) struct Seen {
    /// For each panel what decides how it is cut, as a hash.
    cuts: BTreeMap<String, String>,
    /// Its figures.
    pub(super) figures: Figures,
}

impl Seen {
    pub(super) fn of(finished: &Finished, figures: Figures) -> Self {
        let panels = finished.kit.panels.iter();
        let cuts = panels.map(|panel| {
            let openings: Vec<_> = panel.openings.iter().map(|opening| opening.path.vertices()).collect();
            let bores: Vec<_> =
                panel.bores.iter().map(|bore| (bore.centre, bore.diameter, bore.countersink)).collect();
            let strokes: Vec<_> = panel.engravings.iter().map(|engraving| &engraving.strokes).collect();
            let (material, outline) = (&panel.material.id, panel.outline.vertices());
            let cut = format!("{material} {outline:?} {openings:?} {bores:?} {strokes:?}");
            (panel.name.clone(), sha256(cut.as_bytes()))
        });
        Seen { cuts: cuts.collect(), figures }
    }

    /// `new`, `changed` or nothing: what became of a panel.
    pub(super) fn change(&self, panel: &str, before: Option<&Seen>) -> &'static str {
        let Some(before) = before else { return "" };
        match (self.cuts.get(panel), before.cuts.get(panel)) {
            (Some(_), None) => "new",
            (Some(now), Some(then)) if now != then => "changed",
            _ => "",
        }
    }
}

/// Panels that the last good state had and this one does not.
pub(super) fn gone<'a>(now: &Seen, before: Option<&'a Seen>) -> Vec<&'a str> {
    let names = before.into_iter().flat_map(|before| before.cuts.keys());
    names.map(String::as_str).filter(|name| !now.cuts.contains_key(*name)).collect()
}
