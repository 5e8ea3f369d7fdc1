//! What checks, exporters and reports read: a design with every stage run.

use crate::catalogue::Material;
use crate::diag::Rule;
use crate::joints::{Kit, Panel};
use crate::mass::Masses;
use crate::nest::{Clearances, Nesting, Part, Settings, Sheet, Stock, Zone};
use crate::solid::{self, PlateFace, PlateFigures, RoundHole, SolidSpec};
use crate::spec::Design;
use std::sync::Arc;

/// All that is known of a design once every stage has run.
#[derive(Debug)]
pub(crate) struct Finished {
    /// As asked for.
    pub(crate) design: Design,
    /// Panels, bolts, fittings.
    pub(crate) kit: Kit,
    /// Area, volume and centroid of each panel, in the panels' order.
    pub(crate) figures: Vec<PlateFigures>,
    /// Masses and centres of gravity.
    pub(crate) masses: Masses,
    /// Sheets, one group for each material.
    pub(crate) groups: Vec<SheetGroup>,
    /// The rules that the kit was looked at for, by name.
    pub(crate) rules: Vec<&'static Rule>,
}

/// The panels of one material on their sheets.
#[derive(Debug)]
pub(crate) struct SheetGroup {
    /// The material.
    pub(crate) material: Arc<Material>,
    /// Indices of its panels; `parts` are the same in the same order.
    pub(crate) panels: Vec<usize>,
    /// What was nested.
    pub(crate) parts: Vec<Part>,
    /// What could be bought.
    pub(crate) stock: Vec<Stock>,
    /// Gap and trim.
    pub(crate) clearances: Clearances,
    /// How they were nested.
    pub(crate) settings: Settings,
    /// Where the parts lie.
    pub(crate) nesting: Nesting,
}

impl SheetGroup {
    /// What is left of one of its sheets and worth keeping, the largest first.
    pub(crate) fn rests(&self, sheet: &Sheet) -> Vec<Zone> {
        sheet.rests(&self.parts, &self.stock, self.clearances, &self.settings)
    }
}

/// Asks something of the solid that a panel is.
pub(crate) fn with_solid<T>(panel: &Panel, ask: impl FnOnce(&SolidSpec) -> T) -> T {
    let openings: Vec<_> = panel.openings.iter().map(|opening| opening.path.clone()).collect();
    let bores = panel.bores.iter().map(|bore| RoundHole {
        centre: bore.centre,
        diameter: bore.diameter,
        countersink: bore.countersink.map(|sink| solid::Countersink {
            diameter: sink.diameter,
            depth: sink.depth,
            face: PlateFace::A,
        }),
    });
    ask(&SolidSpec {
        outline: &panel.outline,
        openings: &openings,
        bores: bores.collect(),
        thickness: panel.material.actual,
    })
}
