//! What the next lighter board of the same thickness would save.
//!
//! Takes the kit's panels and the catalogue; only says what would weigh less, nothing of strength.

use super::PartMass;
use crate::catalogue::{Catalogue, Material};
use crate::joints::Kit;
use std::collections::BTreeMap;

/// Part of a material's mass that another must save to be worth a word.
const WORTH: f64 = 0.03;

/// What all panels of one board would save.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Saving {
    /// The board's catalogue name.
    pub(crate) from: String,
    /// The lighter one's.
    pub(crate) to: String,
    /// kg.
    pub(crate) saves: f64,
}

/// The heaviest of the materials that are sold in the same thickness and weigh less by area: the next lighter one.
fn next_lighter<'a>(material: &Material, catalogue: &'a Catalogue) -> Option<&'a Material> {
    let own = material.areal_mass();
    let lighter = catalogue.materials.values().filter(|other| {
        (other.nominal - material.nominal).abs() < 1e-9 && other.areal_mass() < own * (1.0 - WORTH)
    });
    lighter.max_by(|a, b| a.areal_mass().total_cmp(&b.areal_mass())).map(AsRef::as_ref)
}

/// Notes for each panel what it would save; gives the sums by board. `parts` begin with the panels, in the kit's order.
pub(super) fn savings(kit: &Kit, parts: &mut [PartMass], catalogue: &Catalogue) -> Vec<Saving> {
    let mut sums: BTreeMap<&str, Saving> = BTreeMap::new();
    for (panel, part) in kit.panels.iter().zip(parts) {
        let Some(lighter) = next_lighter(&panel.material, catalogue) else { continue };
        // Its finish stays, and is a small part of it.
        let saves = part.mass * (1.0 - lighter.areal_mass() / panel.material.areal_mass());
        part.lighter = Some((lighter.id.clone(), saves));
        let sum = sums.entry(&panel.material.id).or_insert_with(|| Saving {
            from: panel.material.id.clone(),
            to: lighter.id.clone(),
            saves: 0.0,
        });
        sum.saves += saves;
    }
    sums.into_values().collect()
}
