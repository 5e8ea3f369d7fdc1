//! What the shop that cuts the kit has and wants, as asked for: tools, sheets, names of layers, rows of its own.
//!
//! As in `model.rs`: millimetres, every value with its place, defaults filled in.

use super::{PriceList, Rates, StrengthSettings};
use crate::diag::{At, Span};

/// What the shop that cuts the kit has and wants.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Workshop {
    /// What it is called, for reports.
    pub(crate) name: Option<At<String>>,
    /// The milling tool.
    pub(crate) tool: Tool,
    /// What the sheets are cut with. Default router.
    pub(crate) cutting: At<Cutting>,
    /// The panel saw.
    pub(crate) saw: Saw,
    /// mm of a sheet's edge, all round, that no part may use. Default 10.
    pub(crate) trim: At<f64>,
    /// Clearance holes. Default medium.
    pub(crate) hole_class: At<HoleClass>,
    /// mm of side play beside each slide. Default 0.35.
    pub(crate) slide_allowance: At<f64>,
    /// mm by which a slot is wider than the tab in it. Default 0.2.
    pub(crate) slot_fit: At<f64>,
    /// Hardware bought beyond what is needed.
    pub(crate) spares: Spares,
    /// What the DXF files are. Default R2000.
    pub(crate) dxf_version: At<DxfVersion>,
    /// Layer names in cut files.
    pub(crate) layers: Layers,
    /// How small parts are held while they are cut free.
    pub(crate) holding: Holding,
    /// Least distance from a hole's centre to a panel's edge, in bolt diameters. Default 3.
    pub(crate) edge_distance: At<f64>,
    /// Materials that it adds or amends, by id.
    pub(crate) materials: Vec<MaterialEntry>,
    /// Slides that it adds or amends, by id.
    pub(crate) slides: Vec<SlideEntry>,
    /// Angle sections that it adds or amends, by id.
    pub(crate) angles: Vec<AngleEntry>,
    /// Fittings for panels that it adds or amends, by id.
    pub(crate) fittings: Vec<PanelFittingEntry>,
    /// Finishes that it adds or overrides.
    pub(crate) finishes: Vec<FinishEntry>,
    /// What prices are in.
    pub(crate) currency: Option<At<String>>,
    /// Sheets and offcuts on the shelf, by material.
    pub(crate) shelf: Vec<ShelfEntry>,
    /// mm. The smallest rectangle of a cut sheet that is worth keeping, either way round. Default 600 x 300.
    pub(crate) smallest_offcut: At<(f64, f64)>,
    /// What people lift.
    pub(crate) lift: Lift,
    /// How fast it works and what its hours cost.
    pub(crate) rates: Rates,
    /// What things cost, in the order of the text.
    pub(crate) price_lists: Vec<PriceList>,
    /// Each panel's name in itself. Default: none.
    pub(crate) part_marks: Option<PartMarks>,
    /// What drawings and lists are printed on. Default A4, first-angle.
    pub(crate) paper: Paper,
    /// Factors and limits of the checks of strength.
    pub(crate) strength: StrengthSettings,
}

/// What drawings and lists are printed on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Paper {
    /// mm across and up, held upright.
    pub(crate) size: (f64, f64),
    /// Whether the view from the right stands on the right (third-angle, ISO 5456-2) instead of on the left.
    pub(crate) third_angle: bool,
    /// How labels stand on their sheet.
    pub(crate) labels: LabelGrid,
}

/// How labels stand on a sheet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct LabelGrid {
    /// Beside each other, 1 at least.
    pub(crate) columns: usize,
    /// Below each other, 1 at least.
    pub(crate) rows: usize,
    /// mm left free on the left and on the right, and above and below.
    pub(crate) margin: (f64, f64),
}

/// The name of each panel, engraved into it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct PartMarks {
    /// mm. Of its capitals, where there is room. Default 5.
    pub(crate) height: At<f64>,
    /// Whether fronts, doors and lids have it even where it shows. Default: no.
    pub(crate) fronts: bool,
}

/// What people lift, kg.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Lift {
    /// One person. Default 25.
    pub(crate) one: At<f64>,
    /// Two persons, no less than one does. Default 50, or what one lifts if that is more.
    pub(crate) two: At<f64>,
}

/// Sheets and offcuts of one material on the shelf.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct ShelfEntry {
    /// Catalogue name of the material.
    pub(crate) material: At<String>,
    /// In the order of the text.
    pub(crate) sheets: Vec<StockEntry>,
}

/// The milling tool.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Tool {
    /// mm. Default 6.
    pub(crate) diameter: At<f64>,
    /// mm left between two parts beside the tool's own path. Default 2.
    pub(crate) margin: At<f64>,
}

/// What the sheets are cut with.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Cutting {
    /// A router.
    Router,
    /// A panel saw.
    Saw,
}

/// The panel saw.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Saw {
    /// mm that the blade takes. Default 3.2.
    pub(crate) kerf: At<f64>,
    /// Most stages of cuts, at least 2. Default 3.
    pub(crate) stages: At<u32>,
}

/// Width of clearance holes, after ISO 273.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum HoleClass {
    /// Fine series.
    Fine,
    /// Medium series.
    Medium,
    /// Coarse series.
    Coarse,
}

/// Hardware bought beyond what is needed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Spares {
    /// Per cent of each line of the list. Default 5.
    pub(crate) percent: At<f64>,
    /// At least so many pieces of each line, a whole number. Default 2.
    pub(crate) at_least: At<u32>,
}

/// Dialect of the DXF files.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum DxfVersion {
    /// Polylines as POLYLINE and VERTEX.
    R12,
    /// Polylines as LWPOLYLINE.
    R2000,
}

/// How small parts are held while they are cut free. All defaults: common practice, no source.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Holding {
    /// mm2. A part of less area is small. Default 45,000, a square of 212 mm.
    pub(crate) small_area: At<f64>,
    /// mm. A part less wide is small. Default 80.
    pub(crate) small_width: At<f64>,
    /// How. Default tabs.
    pub(crate) method: At<HoldingMethod>,
    /// The tabs.
    pub(crate) tabs: Tabs,
    /// mm that the first pass leaves. Default 0.5.
    pub(crate) skin: At<f64>,
}

/// How small parts are held.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum HoldingMethod {
    /// Pieces of the sheet stay between the part and what is around it.
    Tabs,
    /// The first pass does not go right through.
    Skin,
    /// By what the machine has.
    None,
}

/// Holding tabs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Tabs {
    /// mm of a tab along the outline, as it stays. Default 6.
    pub(crate) width: At<f64>,
    /// How many. Default by a spacing of 200 mm.
    pub(crate) count: TabCount,
    /// How the files show them. Default as marks on a layer: the outlines stay closed.
    pub(crate) shown_as: At<TabsAs>,
}

/// How many tabs a part has.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum TabCount {
    /// So many that two are at most this many mm apart along the outline; two at least.
    Spacing(f64),
    /// So many, from 2 on.
    Number(u32),
}

/// How the files show tabs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum TabsAs {
    /// As gaps in the outline.
    Gaps,
    /// As marks on a layer of their own.
    Layer,
}

/// Layer names in cut files; what is `None` is named by the export.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Layers {
    /// Outer contours.
    pub(crate) outline: Option<At<String>>,
    /// Slots and openings.
    pub(crate) opening: Option<At<String>>,
    /// Holes right through.
    pub(crate) bore: Option<At<String>>,
    /// Sunk heads.
    pub(crate) countersink: Option<At<String>>,
    /// Marks of holding tabs.
    pub(crate) tab: Option<At<String>>,
    /// Outer contours that leave a skin.
    pub(crate) skin: Option<At<String>>,
    /// Legends.
    pub(crate) engraving: Option<At<String>>,
    /// Names and remarks, not cut.
    pub(crate) note: Option<At<String>>,
    /// The sheet's edge, not cut.
    pub(crate) stock: Option<At<String>>,
}

/// A material that the workshop adds, or the values that it amends in a built-in one.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct MaterialEntry {
    /// Its name in the catalogue.
    pub(crate) id: At<String>,
    /// What kind of board, e.g. `birch-plywood`.
    pub(crate) family: Option<At<String>>,
    /// Thickness by which it is sold, mm.
    pub(crate) nominal: Option<At<f64>>,
    /// Thickness as measured, mm.
    pub(crate) actual: Option<At<f64>>,
    /// kg/m3.
    pub(crate) density: Option<At<f64>>,
    /// Whether its face has a grain, so that parts may be turned by half turns only.
    pub(crate) grain: Option<At<bool>>,
    /// Bending modulus along the grain, `MPa`.
    pub(crate) e_along: Option<At<f64>>,
    /// Bending modulus across the grain, `MPa`.
    pub(crate) e_across: Option<At<f64>>,
    /// What sort of board it is to the checks of strength.
    pub(crate) kind: Option<At<BoardKind>>,
    /// Bending strength along the grain, `MPa`.
    pub(crate) bending_along: Option<At<f64>>,
    /// Bending strength across the grain, `MPa`.
    pub(crate) bending_across: Option<At<f64>>,
    /// Shear modulus in the plane, `MPa`.
    pub(crate) shear_modulus: Option<At<f64>>,
    /// Shear strength in the plane, `MPa`.
    pub(crate) panel_shear: Option<At<f64>>,
    /// Shear strength between the plies, `MPa`.
    pub(crate) planar_shear: Option<At<f64>>,
    /// Compressive strength across the plane, `MPa`.
    pub(crate) flat_compression: Option<At<f64>>,
    /// kg/m3.
    pub(crate) characteristic_density: Option<At<f64>>,
    /// Tensile strength of a metal, `MPa`.
    pub(crate) tensile: Option<At<f64>>,
    /// Sheets in which it is bought, in the order of the text; replaces the built-in list as a whole.
    pub(crate) stock: Option<At<Vec<StockEntry>>>,
    /// Where the values come from.
    pub(crate) source: Option<At<String>>,
}

/// What sort of board a material is to the checks of strength.
#[derive(Clone, Copy, Debug, PartialEq, Eq, serde::Deserialize)]
#[serde(rename_all = "kebab-case")]
pub(crate) enum BoardKind {
    /// Plywood.
    Plywood,
    /// Fibreboard of medium density.
    Mdf,
    /// Aluminium.
    Aluminium,
}

/// A sheet that can be bought, or one that is left over.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct StockEntry {
    /// mm along the grain.
    pub(crate) length: At<f64>,
    /// mm across.
    pub(crate) width: At<f64>,
    /// For tables and files.
    pub(crate) name: Option<At<String>>,
    /// What one costs.
    pub(crate) price: Option<At<f64>>,
    /// How many there are; `None` for any number.
    pub(crate) quantity: Option<At<u32>>,
    /// Where no part may lie.
    pub(crate) defects: Vec<Defect>,
    /// Left over from earlier work.
    pub(crate) offcut: bool,
    /// Where it is written.
    pub(crate) span: Span,
}

/// A rectangle on a sheet, mm from its lower left corner.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Defect {
    /// Along the grain.
    pub(crate) x: f64,
    /// Across it.
    pub(crate) y: f64,
    /// Extent along the grain.
    pub(crate) length: f64,
    /// Extent across it.
    pub(crate) width: f64,
}

/// A slide that the workshop adds, or the values that it amends in a built-in one.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct SlideEntry {
    /// Its name in the catalogue.
    pub(crate) id: At<String>,
    /// The family whose lengths belong together.
    pub(crate) family: Option<At<String>>,
    /// mm, closed.
    pub(crate) length: Option<At<f64>>,
    /// mm from closed to fully open.
    pub(crate) travel: Option<At<f64>>,
    /// mm by which it lowers what it carries once it is open.
    pub(crate) drop: Option<At<f64>>,
    /// mm that one slide takes between drawer and carcase.
    pub(crate) thickness: Option<At<f64>>,
    /// mm over its profile.
    pub(crate) height: Option<At<f64>>,
    /// kg that a pair bears.
    pub(crate) rating_pair: Option<At<f64>>,
    /// mm from the slide's rear end (at the fronts) to the holes of the member on the carcase.
    pub(crate) fixed: Option<At<Vec<At<f64>>>>,
    /// mm from the slide's rear end (at the fronts) to the holes of the member on the drawer.
    pub(crate) moving: Option<At<Vec<At<f64>>>>,
    /// Thread size of its bolts, e.g. `M6`.
    pub(crate) bolt: Option<At<String>>,
    /// mm of metal under a bolt's head.
    pub(crate) wall: Option<At<f64>>,
    /// mm in the channel for a bolt's head.
    pub(crate) head_room: Option<At<f64>>,
    /// kg of a pair.
    pub(crate) mass_pair: Option<At<f64>>,
    /// Where the values come from.
    pub(crate) source: Option<At<String>>,
}

/// An angle section that the workshop adds, or the values that it amends in a built-in one.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct AngleEntry {
    /// Its name in the catalogue.
    pub(crate) id: At<String>,
    /// mm of a leg, from the heel.
    pub(crate) leg: Option<At<f64>>,
    /// mm of metal.
    pub(crate) thickness: Option<At<f64>>,
    /// mm from the heel to the line of holes in a leg.
    pub(crate) gauge: Option<At<f64>>,
    /// kg/m.
    pub(crate) mass_per_metre: Option<At<f64>>,
    /// Thread size of the largest bolt it takes, e.g. `M6`.
    pub(crate) bolt: Option<At<String>>,
    /// `MPa`, of its alloy.
    pub(crate) yield_strength: Option<At<f64>>,
    /// `MPa`, of its alloy.
    pub(crate) tensile: Option<At<f64>>,
    /// Where the values come from.
    pub(crate) source: Option<At<String>>,
}

/// A fitting for panels that the workshop adds, or the values that it amends in a built-in one.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct PanelFittingEntry {
    /// Its name in the catalogue.
    pub(crate) id: At<String>,
    /// What people call it.
    pub(crate) title: Option<At<String>>,
    /// mm. The opening: its diameter, or width, height and the radius of the corners.
    pub(crate) opening: Option<At<OpeningEntry>>,
    /// mm. Width and height of what lies on the panel's face.
    pub(crate) plate: Option<At<[f64; 2]>>,
    /// mm. Thickness of that plate.
    pub(crate) flange: Option<At<f64>>,
    /// mm. Room behind the panel's face.
    pub(crate) behind: Option<At<f64>>,
    /// Thread size of its bolts.
    pub(crate) bolt: Option<At<String>>,
    /// mm. Its bolts, from the opening's middle: to the right, up.
    pub(crate) bolts: Option<At<Vec<[f64; 2]>>>,
    /// cm2 for air.
    pub(crate) air: Option<At<f64>>,
    /// kg.
    pub(crate) mass: Option<At<f64>>,
    /// Where the values come from.
    pub(crate) source: Option<At<String>>,
}

/// The opening for a fitting, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum OpeningEntry {
    /// By its diameter.
    Round(f64),
    /// By width, height and the radius of its corners.
    Rectangle(f64, f64, f64),
}

/// A finish that a workshop adds to the catalogue, or values that differ from a built-in one.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct FinishEntry {
    /// Its name in the catalogue.
    pub(crate) id: At<String>,
    /// What people call it.
    pub(crate) title: Option<At<String>>,
    /// mm at rest.
    pub(crate) thickness: Option<At<f64>>,
    /// mm under a head, a washer or a nut. Default: its thickness.
    pub(crate) under_bolt: Option<At<f64>>,
    /// g/m2 without adhesive.
    pub(crate) mass: Option<At<f64>>,
    /// g/m2 of adhesive. Default: none.
    pub(crate) adhesive: Option<At<f64>>,
    /// mm. Width of the roll or sheet.
    pub(crate) roll: Option<At<f64>>,
    /// Whether it is taken round free edges. Default: no.
    pub(crate) wraps: Option<At<bool>>,
    /// Where the values come from.
    pub(crate) source: Option<At<String>>,
}
