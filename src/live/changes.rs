//! What is new, what is cut otherwise and what is gone, from one good state to the next, as `compare` sees it.

use super::figures::Figures;
use crate::compare;
use crate::export::kit_json::{self, Panel};
use crate::finished::Finished;
use std::collections::BTreeSet;

/// What of a kit is remembered for the next state.
#[derive(Debug)]
pub(super) struct Seen {
    /// Its panels, as documents have them.
    panels: Vec<Panel>,
    /// Its figures.
    pub(super) figures: Figures,
}

impl Seen {
    pub(super) fn of(finished: &Finished, figures: Figures) -> Self {
        Seen { panels: kit_json::panels(finished), figures }
    }
}

/// What became of panels since an earlier state.
#[derive(Debug, Default)]
pub(super) struct Changes {
    new: BTreeSet<String>,
    changed: BTreeSet<String>,
    /// Panels that the earlier state had and this one does not.
    pub(super) gone: BTreeSet<String>,
}

impl Changes {
    /// None where there is no earlier state. A panel with another name is a new one, and the old one is gone.
    pub(super) fn between(before: Option<&Seen>, now: &Seen) -> Self {
        let Some(before) = before else { return Changes::default() };
        let found = compare::panels(&before.panels, &now.panels);
        let (old, new): (Vec<_>, Vec<_>) =
            found.renamed.into_iter().map(|renamed| (renamed.old, renamed.new)).unzip();
        Changes {
            new: found.new.into_iter().map(|piece| piece.name).chain(new).collect(),
            changed: found.recut.into_iter().map(|recut| recut.name).collect(),
            gone: found.gone.into_iter().map(|piece| piece.name).chain(old).collect(),
        }
    }

    /// `new`, `changed` or nothing: what became of a panel.
    pub(super) fn of(&self, panel: &str) -> &'static str {
        if self.new.contains(panel) {
            "new"
        } else if self.changed.contains(panel) {
            "changed"
        } else {
            ""
        }
    }
}
