//! What checks, exporters and reports read: a design with every stage run, and what of it is cut.

use crate::assembly::Assembly;
use crate::budget::Budget;
use crate::catalogue::StockSize;
use crate::cutting::{SheetMaterial, SheetPlan, Workpiece};
use crate::diag::Rule;
use crate::joints::{Kit, Panel};
use crate::mass::{AsWeighed, Masses};
use crate::moves::Moves;
use crate::nest::{Clearances, CutList, Nesting, Part, Settings, Sheet, Stock, Usage, Zone};
use crate::solid::{self, PlateFace, PlateFigures, RoundHole, SolidSpec};
use crate::spec::{Defect, Design, Workshop};
use crate::strength::Strength;

/// Which state of a set this is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Edition {
    /// The design's own word for it, if it has one.
    pub(crate) revision: Option<String>,
    /// The hash of everything that the set was made from, see `export::inputs_hash`.
    pub(crate) inputs: String,
}

/// Digits of the inputs' hash that people are shown.
pub(crate) const SHOWN_DIGITS: usize = 12;

impl Edition {
    /// The first digits of the inputs' hash.
    pub(crate) fn short_hash(&self) -> &str {
        self.inputs.get(..SHOWN_DIGITS).unwrap_or(&self.inputs)
    }

    /// `revision B, inputs 0123456789ab`.
    pub(crate) fn words(&self) -> String {
        let revision = self.revision.as_ref().map(|revision| format!("revision {revision}, "));
        format!("{}inputs {}", revision.unwrap_or_default(), self.short_hash())
    }
}

/// All that is known of a design once every stage has run.
#[derive(Debug)]
pub(crate) struct Finished {
    /// Which state of it this is.
    pub(crate) edition: Edition,
    /// As asked for.
    pub(crate) design: Design,
    /// Panels, bolts, fittings.
    pub(crate) kit: Kit,
    /// Area, volume and centroid of each panel, in the panels' order.
    pub(crate) figures: Vec<PlateFigures>,
    /// Masses and centres of gravity.
    pub(crate) masses: Masses,
    /// What a scale said of it.
    pub(crate) weighed: AsWeighed,
    /// What the loaded vehicle weighs, scenario by scenario.
    pub(crate) budgets: Vec<Budget>,
    /// How it goes in and what moves.
    pub(crate) moves: Moves,
    /// How it is put together.
    pub(crate) assembly: Assembly,
    /// Whether it holds.
    pub(crate) strength: Strength,
    /// Sheets, one group for each material.
    pub(crate) groups: Vec<SheetGroup>,
    /// The rules that the kit was looked at for, by name.
    pub(crate) rules: Vec<&'static Rule>,
}

impl Finished {
    /// What of the kit is cut.
    pub(crate) fn cut_set(&self) -> CutSet<'_> {
        CutSet {
            name: &self.design.name.value,
            edition: Some(&self.edition),
            workshop: &self.design.workshop,
            workpieces: self.kit.panels.iter().map(Workpiece::of).collect(),
            groups: &self.groups,
        }
    }
}

/// What is cut, wherever it comes from: a kit's panels or the parts of a list. What cut files and the pictures of
/// sheets are made from.
#[derive(Debug)]
pub(crate) struct CutSet<'a> {
    /// What it is called.
    pub(crate) name: &'a str,
    /// Which state of it this is; loose parts have none.
    pub(crate) edition: Option<&'a Edition>,
    /// The shop that cuts it.
    pub(crate) workshop: &'a Workshop,
    /// What is cut; groups speak of these by index.
    pub(crate) workpieces: Vec<Workpiece<'a>>,
    /// Sheets, one group for each material.
    pub(crate) groups: &'a [SheetGroup],
}

/// The panels of one material on their sheets.
#[derive(Debug)]
pub(crate) struct SheetGroup {
    /// The material.
    pub(crate) material: SheetMaterial,
    /// For each part the index of its panel: several parts of a list may be alike. Those on frozen sheets come last.
    pub(crate) panels: Vec<usize>,
    /// What is cut, on frozen sheets too.
    pub(crate) parts: Vec<Part>,
    /// How many of the parts, from the first on, were nested.
    pub(crate) nested: usize,
    /// What could be bought.
    pub(crate) stock: Vec<Stock>,
    /// Gap and trim.
    pub(crate) clearances: Clearances,
    /// How they were nested.
    pub(crate) settings: Settings,
    /// Where the parts lie that were nested.
    pub(crate) nesting: Nesting,
    /// Names of the sheets of `nesting`: material and number.
    pub(crate) names: Vec<String>,
    /// How the sheets of `nesting` are cut.
    pub(crate) plans: Vec<SheetPlan>,
    /// For a saw, the cuts of each sheet of `nesting`; for a router, none.
    pub(crate) cuts: Vec<CutList>,
    /// Sheets that are cut already.
    pub(crate) frozen: Vec<FrozenSheet>,
}

/// A sheet that was cut in an earlier run.
#[derive(Debug)]
pub(crate) struct FrozenSheet {
    /// Its name then and now.
    pub(crate) name: String,
    /// Which state of the set it was cut from, if that run said so.
    pub(crate) edition: Option<Edition>,
    /// The parts on it that the kit still has as they were cut; of stock 0.
    pub(crate) sheet: Sheet,
    /// What it was cut from.
    pub(crate) stock: Stock,
    /// Gap and trim with which it was cut.
    pub(crate) clearances: Clearances,
    /// How it is cut.
    pub(crate) plan: SheetPlan,
}

/// A sheet with its name and how it is cut.
#[derive(Clone, Copy, Debug)]
pub(crate) struct NamedSheet<'a> {
    /// Name of its cut files: material and number.
    pub(crate) name: &'a str,
    /// What lies on it.
    pub(crate) sheet: &'a Sheet,
    /// What it is cut from.
    pub(crate) stock: &'a Stock,
    /// Gap and trim.
    pub(crate) clearances: Clearances,
    /// How it is cut.
    pub(crate) plan: &'a SheetPlan,
    /// The cuts, where a saw makes them and has not yet.
    pub(crate) cuts: Option<&'a CutList>,
    /// Whether it is cut already.
    pub(crate) frozen: bool,
    /// Which state of the set it was cut from, if it is cut already and that run said so.
    pub(crate) cut_as: Option<&'a Edition>,
}

impl SheetGroup {
    /// Every sheet, those that are cut already first.
    pub(crate) fn sheets(&self) -> impl Iterator<Item = NamedSheet<'_>> {
        let frozen = self.frozen.iter().map(|frozen| NamedSheet {
            name: &frozen.name,
            sheet: &frozen.sheet,
            stock: &frozen.stock,
            clearances: frozen.clearances,
            plan: &frozen.plan,
            cuts: None,
            frozen: true,
            cut_as: frozen.edition.as_ref(),
        });
        let named = self.names.iter().zip(&self.nesting.sheets).zip(&self.plans);
        let nested = named.enumerate().filter_map(|(i, ((name, sheet), plan))| {
            let (stock, clearances, cuts) = (self.stock.get(sheet.stock)?, self.clearances, self.cuts.get(i));
            Some(NamedSheet { name, sheet, stock, clearances, plan, cuts, frozen: false, cut_as: None })
        });
        frozen.chain(nested)
    }
}

impl<'a> NamedSheet<'a> {
    /// Which state of the set it belongs to: the one that it was cut from, or this one.
    pub(crate) fn edition(&self, now: Option<&'a Edition>) -> Option<&'a Edition> {
        if self.frozen { self.cut_as } else { now }
    }

    /// How much of it is used.
    pub(crate) fn usage(&self, parts: &[Part]) -> Usage {
        let sheet = Sheet { stock: 0, placed: self.sheet.placed.clone() };
        sheet.usage(parts, std::slice::from_ref(self.stock))
    }
}

impl SheetGroup {
    /// How much of its nested sheets is used.
    pub(crate) fn usage(&self) -> Usage {
        self.nesting.usage(&self.parts, &self.stock)
    }

    /// What is left of one of its sheets and worth keeping, the largest first.
    pub(crate) fn offcuts(&self, named: &NamedSheet<'_>) -> Vec<Zone> {
        if let Some(list) = named.cuts {
            return list.offcuts();
        }
        let sheet = Sheet { stock: 0, placed: named.sheet.placed.clone() };
        sheet.offcuts(&self.parts, std::slice::from_ref(named.stock), named.clearances, &self.settings)
    }
}

/// A stock sheet as the nesting sees it.
pub(crate) fn stock_of(size: &StockSize) -> Stock {
    let zone = |zone: &Defect| Zone { x: zone.x, y: zone.y, length: zone.length, width: zone.width };
    Stock {
        name: size.name.clone(),
        length: size.length,
        width: size.width,
        price: size.price,
        quantity: size.quantity.and_then(|quantity| usize::try_from(quantity).ok()),
        defects: size.defects.iter().map(zone).collect(),
        offcut: size.offcut,
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
