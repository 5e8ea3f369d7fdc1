//! Carcases that are bolted to each other: they stand, tip and are held as one.

use crate::joints::Kit;
use crate::mass::Masses;
use std::collections::BTreeSet;

/// A carcase, or several that are bolted to each other.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Module(BTreeSet<String>);

impl Module {
    /// Whether a carcase belongs to it.
    pub(super) fn has(&self, carcase: &str) -> bool {
        self.0.contains(carcase)
    }

    /// The ids of its carcases.
    pub(super) fn name(&self) -> String {
        self.0.iter().cloned().collect::<Vec<_>>().join(" + ")
    }

    /// Whether a point of the vehicle holds it.
    pub(super) fn is_held(&self, kit: &Kit) -> bool {
        kit.anchorages.iter().any(|anchorage| self.has(&anchorage.carcase))
    }
}

/// All of them, in the order of their carcases' ids.
pub(super) fn modules(kit: &Kit, masses: &Masses) -> Vec<Module> {
    let mut groups: Vec<BTreeSet<String>> =
        masses.carcases.iter().map(|(id, _)| BTreeSet::from([id.clone()])).collect();
    for bolt in &kit.bolts {
        let ids = bolt.panels.iter().map(|&id| &kit.layout.body(kit.panel(id).body).carcase);
        let ids: BTreeSet<String> = ids.cloned().collect();
        if ids.len() < 2 {
            continue;
        }
        let (joined, rest): (Vec<_>, Vec<_>) = groups.into_iter().partition(|group| !group.is_disjoint(&ids));
        groups = rest;
        groups.push(joined.into_iter().flatten().collect());
    }
    groups.sort();
    groups.into_iter().map(Module).collect()
}
