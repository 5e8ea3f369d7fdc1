//! What checks, exporters and reports read: a design with every stage run, and what of it is cut.

use crate::catalogue::Material;
use crate::diag::Rule;
use crate::geom::{PanelFrame, Path};
use crate::joints::{Bore, Kit, Panel};
use crate::mass::Masses;
use crate::nest::{Clearances, Nesting, Part, Stock};
use crate::solid::{self, PlateFace, PlateFigures, RoundHole, SolidSpec};
use crate::spec::{Design, Workshop};

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

impl Finished {
    /// What of the kit is cut.
    pub(crate) fn cut_set(&self) -> CutSet<'_> {
        CutSet {
            name: &self.design.name.value,
            workshop: &self.design.workshop,
            blanks: self
                .kit
                .panels
                .iter()
                .map(|panel| Blank {
                    name: &panel.name,
                    file: &panel.name,
                    material: SheetMaterial::of(&panel.material),
                    outline: &panel.outline,
                    openings: panel.openings.iter().map(|opening| &opening.path).collect(),
                    bores: &panel.bores,
                })
                .collect(),
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
    /// The shop that cuts it.
    pub(crate) workshop: &'a Workshop,
    /// What is cut; groups speak of these by index.
    pub(crate) blanks: Vec<Blank<'a>>,
    /// Sheets, one group for each material.
    pub(crate) groups: &'a [SheetGroup],
}

/// A panel as the machine that cuts it sees it.
#[derive(Clone, Debug)]
pub(crate) struct Blank<'a> {
    /// What is written on it.
    pub(crate) name: &'a str,
    /// Name of its own file, without the ending.
    pub(crate) file: &'a str,
    /// What it is cut from.
    pub(crate) material: SheetMaterial,
    /// Outer contour, counter-clockwise.
    pub(crate) outline: &'a Path<PanelFrame>,
    /// Openings right through, clockwise.
    pub(crate) openings: Vec<&'a Path<PanelFrame>>,
    /// Round holes.
    pub(crate) bores: &'a [Bore],
}

/// What sheets are of, as far as names and titles go.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct SheetMaterial {
    /// Begins the names of its sheets' files.
    pub(crate) id: String,
    /// For people; may be empty.
    pub(crate) title: String,
    /// mm as sold and mm as measured, if anybody said.
    pub(crate) thickness: Option<(f64, f64)>,
    /// Whether its parts keep a direction.
    pub(crate) grain: bool,
}

impl SheetMaterial {
    /// A material of the catalogue.
    pub(crate) fn of(material: &Material) -> Self {
        SheetMaterial {
            id: material.id.clone(),
            title: material.title.clone(),
            thickness: Some((material.nominal, material.actual)),
            grain: material.grain,
        }
    }
}

/// The panels of one material on their sheets.
#[derive(Debug)]
pub(crate) struct SheetGroup {
    /// The material.
    pub(crate) material: SheetMaterial,
    /// For each part the index of its panel: several parts of a list may be alike.
    pub(crate) panels: Vec<usize>,
    /// What was nested.
    pub(crate) parts: Vec<Part>,
    /// What could be bought.
    pub(crate) stock: Vec<Stock>,
    /// Gap and trim.
    pub(crate) clearances: Clearances,
    /// Where the parts lie.
    pub(crate) nesting: Nesting,
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
