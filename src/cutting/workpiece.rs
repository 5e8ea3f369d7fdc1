//! A panel as the machine that cuts it sees it: a kit's panel or a loose part.

use crate::catalogue::Material;
use crate::geom::{PanelFrame, Path};
use crate::joints::{Bore, Panel};
use crate::layout::Engraving;

/// What a machine and a picture need to know of a panel.
#[derive(Clone, Debug)]
pub(crate) struct Workpiece<'a> {
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
    /// Texts on its upper face.
    pub(crate) engravings: &'a [Engraving],
    /// Round holes.
    pub(crate) bores: &'a [Bore],
}

impl<'a> Workpiece<'a> {
    /// A panel of a kit.
    pub(crate) fn of(panel: &'a Panel) -> Self {
        Workpiece {
            name: &panel.name,
            file: &panel.name,
            material: SheetMaterial::of(&panel.material),
            outline: &panel.outline,
            openings: panel.openings.iter().map(|opening| &opening.path).collect(),
            engravings: &panel.engravings,
            bores: &panel.bores,
        }
    }
}

/// What sheets are of, as far as names and depths go.
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
