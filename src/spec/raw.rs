//! The YAML as written: structs that mirror it key by key, from which the JSON Schema is made too.
//!
//! Shape only. Ranges, names and everything that needs a second value are `lower`'s. Every value keeps its place,
//! so nothing here is flattened, untagged or internally tagged: those lose the place without a word. The doc
//! comments are the schema's descriptions.

mod bay;
mod cutout;
mod door;
mod drawer;
mod equipment;
mod fitting;
mod fixing;
mod finish;
mod floor;
mod holding;
mod legend;
mod lift;
mod living;
mod load;
mod paper;
mod part_marks;
mod notch;
mod rates;
mod rows;
mod run;
mod tie_down;
mod tray;
mod vehicle_masses;
mod weighed;
mod wing;

pub(crate) use cutout::{Cutout, Facing, FreeShape, FromEdges, Repeat, Row, ShapePoint};
pub(crate) use door::{CellDoor, HingeSide};
pub(crate) use drawer::{Drawer, Drawers};
pub(crate) use equipment::{
    Air, Battery, Burns, Chemistry, Equipment, FaceReach, Feet, Heat, SpacePosition, VentedLocker,
};
pub(crate) use finish::{Faces, Finish, FinishData};
pub(crate) use fitting::{BoltPlace, FittingOpening, PanelFitting};
pub(crate) use fixing::{Anchor, AnchorKind, Fixing, Reach};
pub(crate) use floor::FalseFloor;
pub(crate) use holding::{Holding, HoldingMethod, Tabs, TabsAs};
pub(crate) use legend::Legend;
pub(crate) use lift::Lift;
pub(crate) use living::Living;
pub(crate) use load::{EquipmentFill, Load, LoadKind, People, Scenario};
pub(crate) use notch::{Notch, NotchSide};
pub(crate) use paper::{Paper, PaperSize, Projection};
pub(crate) use part_marks::PartMarks;
pub(crate) use rates::{BoardsBy, PriceList, Rates};
pub(crate) use rows::{Angle, BoardKind, Material, Slide};
pub(crate) use run::{Run, RunKind, RunStop};
pub(crate) use tie_down::TieDown;
pub(crate) use tray::{OpenTop, Tray};
pub(crate) use vehicle_masses::{Kerb, MassLimits, VehicleMasses};
pub(crate) use weighed::Weighed;

use schemars::JsonSchema;
use serde::Deserialize;

mod stock;
mod strength;

pub(crate) use stock::{Defect, Nesting, Offcuts, Stock, StockList};
pub(crate) use strength::{BoltClass, PanelLoad, Pressing, Strength};

use super::value::{Amount, Entries, FileOr, Mark, Place, mark};
pub(crate) use bay::*;
pub(crate) use wing::*;

/// A drawer system for a load bay. Lengths are in `units`; a text where a number is due is an expression over
/// `sizes`, `clearances` and the bay: `bay.width`, `bay.depth`, `bay.height`, `bay.length_at(300)` and the like.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "design")]
pub(crate) struct Spec {
    /// Version of this language: 1.
    // Checked on the tree, before anything else is made of the text.
    #[serde(rename = "baywright")]
    pub(crate) _baywright: Option<Place<f64>>,
    /// Name of the kit and of the folder it is written to. Default: the file's name.
    pub(crate) name: Option<Place<String>>,
    /// Which state of the design this is, e.g. B or 2026-11; stands in title blocks and on sheets.
    pub(crate) revision: Option<Place<String>>,
    /// Unit of the lengths in this file. Default: mm.
    pub(crate) units: Option<Place<Units>>,
    /// Named sizes for expressions: numbers, or expressions over each other and over the bay.
    pub(crate) sizes: Option<Entries<Place<Amount>>>,
    /// The vehicle: a file, or a map.
    pub(crate) vehicle: Option<Place<FileOr<Vehicle>>>,
    /// The load space; short for a vehicle that has nothing else.
    pub(crate) bay: Option<Place<Bay>>,
    /// The shop that cuts the kit: a file, or a map. Without it the defaults.
    pub(crate) workshop: Option<Place<FileOr<Workshop>>>,
    /// Most that slides may carry, as a part of the rating that their maker gives. Default: 0.7; 0.6 for rough tracks.
    pub(crate) slide_factor: Option<Place<Amount>>,
    /// Room that the kit keeps from the bay.
    pub(crate) clearances: Option<Place<Clearances>>,
    /// How panels meet, in the whole kit.
    pub(crate) joints: Option<Joints>,
    /// How bolts are laid out along joints, in the whole kit.
    pub(crate) bolts: Option<Bolts>,
    /// The boxes that the kit is made of, in any order.
    pub(crate) carcases: Place<Vec<Place<Carcase>>>,
    /// Panels on the ribs of the bay's floor, under carcases that stand on them.
    pub(crate) floors: Option<Place<Vec<Place<FalseFloor>>>>,
    /// Names of panels that may be taken off to reach what lies behind them.
    pub(crate) removable: Option<Place<Vec<Place<String>>>>,
    /// Panels between carcases and the vehicle's sides.
    pub(crate) wings: Option<Place<Vec<Place<Wing>>>>,
    /// Openings in its panels: for air, cables, fittings.
    pub(crate) cutouts: Option<Place<Vec<Place<Cutout>>>>,
    /// Carpet, mats, laminate, paint on its panels.
    pub(crate) finishes: Option<Place<Vec<Place<Finish>>>>,
    /// Texts engraved into its panels.
    pub(crate) legends: Option<Place<Vec<Place<Legend>>>>,
    /// What straps hook into.
    pub(crate) tie_downs: Option<Place<Vec<Place<TieDown>>>>,
    /// What is carried in it: fridges, tanks, batteries and their like.
    pub(crate) equipment: Option<Place<Vec<Place<Equipment>>>>,
    /// Cables, hoses and ducts through its panels.
    pub(crate) runs: Option<Place<Vec<Place<Run>>>>,
    /// What panels bear beside what lies in drawers, stands on them and kneels on them.
    pub(crate) panel_loads: Option<Place<Vec<Place<PanelLoad>>>>,
    /// What a person weighs who has no mass of its own.
    pub(crate) people: Option<Place<People>>,
    /// What the vehicle carries beside the kit and its equipment.
    pub(crate) loads: Option<Place<Vec<Place<Load>>>>,
    /// Loads and limits that go together. Default: one scenario with everything.
    pub(crate) scenarios: Option<Place<Vec<Place<Scenario>>>>,
    /// What a scale said of the finished kit or parts of it.
    pub(crate) weighed: Option<Place<Vec<Place<Weighed>>>>,
    /// How its panels are laid on sheets.
    pub(crate) nesting: Option<Place<Nesting>>,
    /// Warnings that somebody has looked at.
    pub(crate) accept: Option<Vec<Place<Accept>>>,
}

/// Sheets of an earlier run that are cut already.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "frozen sheets")]
pub(crate) struct FrozenKit {
    /// The `kit.json` of that run, from the folder of the design.
    pub(crate) kit: Place<String>,
    /// Names of the sheets, e.g. birch-12-1.
    pub(crate) sheets: Place<Vec<Place<String>>>,
}

/// A unit of length.
#[derive(Clone, Copy, Debug, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub(crate) enum Units {
    /// Millimetres.
    Mm,
    /// Inches of 25.4 mm.
    Inch,
}

/// The vehicle, as measured.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "vehicle")]
pub(crate) struct Vehicle {
    /// What it is called, for reports.
    pub(crate) name: Option<Place<String>>,
    /// Unit of the lengths. Default: mm in a file of its own, else that of the design.
    pub(crate) units: Option<Place<Units>>,
    /// Its load space.
    pub(crate) bay: Place<Bay>,
    /// The space in which people live; asked for where equipment burns gas.
    pub(crate) living: Option<Place<Living>>,
    /// What it weighs, and what it may weigh.
    pub(crate) masses: Option<Place<VehicleMasses>>,
}

/// How panels meet. What is left out follows from the next wider place.
#[derive(Debug, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "joints")]
pub(crate) struct Joints {
    /// The joint of every corner.
    pub(crate) corner: Option<Place<JointKind>>,
    /// Catalogue name of the angle section.
    pub(crate) angle: Option<Place<String>>,
    /// Exceptions. The key is a joint's name `PANEL+PANEL`; `*` stands for any run of characters.
    pub(crate) named: Option<Entries<NamedJoint>>,
}

/// How two panels meet.
#[derive(Clone, Copy, Debug, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub(crate) enum JointKind {
    /// An aluminium angle inside the corner, bolted through both panels.
    Angle,
    /// Tab and slot, with a bolt into a nut held in a T-shaped slot.
    CaptiveNut,
    /// Two faces back to back, bolted through both.
    Face,
}

/// An exception for the joints whose names match.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "named joint")]
pub(crate) struct NamedJoint {
    /// The joint's kind.
    pub(crate) kind: Option<Place<JointKind>>,
    /// Catalogue name of the angle section.
    pub(crate) angle: Option<Place<String>>,
    /// Its bolts.
    pub(crate) bolts: Option<Bolts>,
}

/// How bolts are laid out along a joint.
#[derive(Debug, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "bolts")]
pub(crate) struct Bolts {
    /// Thread size, e.g. M6.
    pub(crate) size: Option<Place<String>>,
    /// Most that two neighbouring bolts may be apart (length).
    pub(crate) spacing: Option<Place<Amount>>,
    /// Positions given outright, from the joint's start (lengths). They go before `spacing`.
    pub(crate) at: Option<Place<Vec<Place<Amount>>>>,
}

/// A box of panels, cut into cells.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "carcase")]
pub(crate) struct Carcase {
    /// Unique in the kit; panels are named after it.
    pub(crate) id: Place<String>,
    /// Over the sides (length).
    pub(crate) width: Place<Amount>,
    /// Over the fronts (length).
    pub(crate) depth: Place<Amount>,
    /// From the underside of the base to the upper side of the deck (length).
    pub(crate) height: Place<Amount>,
    /// Where it stands. Default: at the bay's rear edge, on its centreline, on its floor.
    pub(crate) at: Option<Place<Position>>,
    /// Catalogue name of the material of everything that `panels` does not name.
    pub(crate) panel: Option<Place<String>>,
    /// Materials of single panels.
    pub(crate) panels: Option<Panels>,
    /// The back panel.
    pub(crate) back: Option<Place<Back>>,
    /// By how much base and deck project past the sides, left and right (length). Default: 0.
    pub(crate) overhang: Option<Place<Amount>>,
    /// By how many degrees its end towards the seats leans to the tailgate, as a seat back does; `depth` is then
    /// that of the underside, and the deck is shorter. Default: 0.
    pub(crate) rake: Option<Place<Amount>>,
    /// Pieces cut out of base and sides for the wheel arches.
    pub(crate) notches: Option<Place<Vec<Place<Notch>>>>,
    /// Openings with loose lids in its deck and its base.
    pub(crate) hatches: Option<CarcaseHatches>,
    /// The vehicle's points that it is bolted to.
    pub(crate) anchors: Option<Place<Vec<Place<Fixing>>>>,
    /// The false fronts of its drawers.
    pub(crate) fronts: Option<Place<Fronts>>,
    /// Defaults for its drawers.
    pub(crate) drawers: Option<Drawers>,
    /// How its panels meet.
    pub(crate) joints: Option<Joints>,
    /// How bolts are laid out along its joints.
    pub(crate) bolts: Option<Bolts>,
    /// Its inside as cells side by side, left to right as seen from the tailgate.
    pub(crate) columns: Option<Place<Vec<Place<Cell>>>>,
    /// Its inside as cells one above the other, top to bottom.
    pub(crate) rows: Option<Place<Vec<Place<Cell>>>>,
    /// Its inside as one cell.
    pub(crate) cell: Option<Place<Cell>>,
}

/// Where a carcase stands in the bay.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "position")]
pub(crate) struct Position {
    /// From the bay's rear edge forward to the fronts (length). Default: 25 mm, clear of the closed tailgate's trim.
    pub(crate) x: Option<Place<Amount>>,
    /// From the bay's centreline to the carcase's, left positive (length). Default: 0.
    pub(crate) y: Option<Place<Amount>>,
    /// From the bay's floor, or the false floor under it, to the underside (length). Default: 0.
    pub(crate) z: Option<Place<Amount>>,
}

/// Catalogue names of the materials of single panels. Default: the carcase's `panel`.
#[derive(Debug, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "panels")]
pub(crate) struct Panels {
    /// The lower panel.
    pub(crate) base: Option<Place<String>>,
    /// The upper panel.
    pub(crate) deck: Option<Place<String>>,
    /// Left and right side.
    pub(crate) sides: Option<Place<String>>,
    /// Uprights between columns.
    pub(crate) dividers: Option<Place<String>>,
    /// Levels between rows.
    pub(crate) shelves: Option<Place<String>>,
    /// The back.
    pub(crate) back: Option<Place<String>>,
    /// False fronts of drawers, and blanks.
    pub(crate) fronts: Option<Place<String>>,
}

/// A carcase's back panel.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "back")]
pub(crate) struct Back {
    /// From the edge of the sides to the back's outer face (length). Default: 0.
    pub(crate) inset: Option<Place<Amount>>,
    /// Leaves the back out. Default: false.
    pub(crate) omit: Option<Place<bool>>,
}

/// False fronts.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "fronts")]
pub(crate) struct Fronts {
    /// How they stand to the carcase. Default: overlay.
    pub(crate) style: Option<Place<FrontStyle>>,
    /// Between a front and its neighbour (length). Default: 3 mm.
    pub(crate) gap: Option<Place<Amount>>,
}

/// How fronts stand to the carcase.
#[derive(Clone, Copy, Debug, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub(crate) enum FrontStyle {
    /// In front of the carcase's edges, covering them.
    Overlay,
    /// Between the panels, flush with their edges.
    Inset,
}

/// A piece of a carcase's inside. It holds exactly one of drawer, tray, door, open, blank, columns and rows.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "cell")]
pub(crate) struct Cell {
    /// Name of the cell, unique in its carcase.
    pub(crate) id: Option<Place<String>>,
    /// Clear opening (length).
    pub(crate) size: Option<Place<Amount>>,
    /// Share of what the sizes of its neighbours leave. Default: 1.
    pub(crate) share: Option<Place<Amount>>,
    /// Whether a shelf lies between this cell and the one below it, in `rows`. Default: true.
    pub(crate) shelf: Option<Place<bool>>,
    /// Leaves the deck out over this cell, for a column or the uppermost row of a carcase.
    pub(crate) open_top: Option<Place<OpenTop>>,
    /// A drawer on a pair of slides.
    pub(crate) drawer: Option<Place<Drawer>>,
    /// A slide-out tray.
    pub(crate) tray: Option<Place<Tray>>,
    /// A locker closed by a hinged door.
    pub(crate) door: Option<Place<CellDoor>>,
    /// An open pocket.
    #[serde(default, deserialize_with = "mark")]
    pub(crate) open: Option<Place<Mark>>,
    /// Closed by a front that is bolted on.
    #[serde(default, deserialize_with = "mark")]
    pub(crate) blank: Option<Place<Mark>>,
    /// Cells side by side, left to right as seen from the tailgate.
    pub(crate) columns: Option<Place<Vec<Place<Cell>>>>,
    /// Cells one above the other, top to bottom.
    pub(crate) rows: Option<Place<Vec<Place<Cell>>>>,
}

/// How a tray's sides stand to its platform.
#[derive(Clone, Copy, Debug, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub(crate) enum TrayStyle {
    /// Sides and ends stand around the platform and up over it.
    Lipped,
    /// The platform lies on sides and ends.
    Flat,
}

/// A warning that somebody has looked at. Errors cannot be accepted.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "accept")]
pub(crate) struct Accept {
    /// Name of the rule, as findings show it.
    pub(crate) rule: Place<String>,
    /// Name of the part, joint or bolt. Default: all.
    pub(crate) on: Option<Place<String>>,
    /// Why it is all right.
    pub(crate) reason: Place<String>,
}

/// What the shop that cuts the kit has and wants. Plain numbers or arithmetic without names.
#[derive(Debug, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "workshop")]
pub(crate) struct Workshop {
    /// What it is called, for reports.
    pub(crate) name: Option<Place<String>>,
    /// Unit of the lengths. Default: mm in a file of its own, else that of the design.
    pub(crate) units: Option<Place<Units>>,
    /// The milling tool.
    pub(crate) tool: Option<Place<Tool>>,
    /// What the sheets are cut with. Default: router.
    pub(crate) cutting: Option<Place<Cutting>>,
    /// The panel saw, for `cutting: saw`.
    pub(crate) saw: Option<Place<Saw>>,
    /// Edge of a sheet that no part may use, all round (length). Default: 10 mm.
    pub(crate) trim: Option<Place<Amount>>,
    /// Clearance holes after ISO 273. Default: medium.
    pub(crate) hole_class: Option<Place<HoleClass>>,
    /// Side play beside each slide (length), from 0.2 to 0.5 mm. Default: 0.35 mm.
    pub(crate) slide_allowance: Option<Place<Amount>>,
    /// By how much a slot is wider than the tab in it (length). Default: 0.2 mm.
    pub(crate) slot_fit: Option<Place<Amount>>,
    /// Hardware bought beyond what is needed.
    pub(crate) spares: Option<Place<Spares>>,
    /// What the DXF files are.
    pub(crate) dxf: Option<Place<Dxf>>,
    /// Layer names in cut files.
    pub(crate) layers: Option<Layers>,
    /// How small parts are held while they are cut free.
    pub(crate) holding: Option<Place<Holding>>,
    /// Least distance from a hole's centre to a panel's edge, in bolt diameters. Default: 3.
    pub(crate) edge_distance: Option<Place<Amount>>,
    /// Materials added to the catalogue; for a built-in name, the values that differ.
    pub(crate) materials: Option<Entries<Material>>,
    /// Slides added to the catalogue; for a built-in name, the values that differ.
    pub(crate) slides: Option<Entries<Slide>>,
    /// Angle sections added to the catalogue; for a built-in name, the values that differ.
    pub(crate) angles: Option<Entries<Angle>>,
    /// Fittings for panels added to the catalogue; for a built-in name, the values that differ.
    pub(crate) fittings: Option<Entries<PanelFitting>>,
    /// Finishes added to the catalogue; for a built-in name, the values that differ.
    pub(crate) finishes: Option<Entries<FinishData>>,
    /// What prices are in, for reports, e.g. EUR.
    pub(crate) currency: Option<Place<String>>,
    /// Sheets and offcuts on the shelf, beside those that the materials name: a file, or a map.
    pub(crate) stock: Option<Place<FileOr<StockList>>>,
    /// What of a cut sheet is worth keeping.
    pub(crate) offcuts: Option<Place<Offcuts>>,
    /// What people lift.
    pub(crate) lift: Option<Place<Lift>>,
    /// How fast it works and what its hours cost.
    pub(crate) rates: Option<Place<Rates>>,
    /// What hardware, slides, fittings and finishes cost.
    pub(crate) price_lists: Option<Place<Vec<Place<PriceList>>>>,
    /// Each panel's name, engraved into it.
    pub(crate) part_marks: Option<Place<PartMarks>>,
    /// What drawings and lists are printed on, and how views stand on it.
    pub(crate) paper: Option<Place<Paper>>,
    /// Factors and limits of the checks of strength.
    pub(crate) strength: Option<Place<Strength>>,
}

/// The milling tool.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "tool")]
pub(crate) struct Tool {
    /// Its diameter (length). Default: 6 mm.
    pub(crate) diameter: Option<Place<Amount>>,
    /// Left between two parts beside the tool's own path (length). Default: 2 mm.
    pub(crate) margin: Option<Place<Amount>>,
}

/// What the sheets are cut with.
#[derive(Clone, Copy, Debug, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub(crate) enum Cutting {
    /// A router: parts lie anywhere, a tool's width and a margin apart.
    Router,
    /// A panel saw: every cut goes from edge to edge of the piece, and parts lie a kerf apart. Each part is cut as a
    /// rectangle; holes, openings and shapes are milled afterwards.
    Saw,
}

/// The panel saw.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "saw")]
pub(crate) struct Saw {
    /// What the blade takes (length), at most 12 mm. Default: 3.2 mm.
    pub(crate) kerf: Option<Place<Amount>>,
    /// Most stages of cuts, from 2 to 20: a stage is the cuts of all pieces in one direction. Trimming the sheet's
    /// edges does not count; the last trimming of a part to its size does. Default: 3.
    pub(crate) stages: Option<Place<Amount>>,
}

/// Width of clearance holes, after ISO 273.
#[derive(Clone, Copy, Debug, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub(crate) enum HoleClass {
    /// Fine series.
    Fine,
    /// Medium series.
    Medium,
    /// Coarse series.
    Coarse,
}

/// Hardware bought beyond what is needed.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "spares")]
pub(crate) struct Spares {
    /// Per cent of each line of the list. Default: 5.
    pub(crate) percent: Option<Place<Amount>>,
    /// At least so many pieces of each line. Default: 2.
    pub(crate) at_least: Option<Place<Amount>>,
}

/// What the DXF files are.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "dxf")]
pub(crate) struct Dxf {
    /// Dialect. Default: R2000.
    pub(crate) version: Option<Place<DxfVersion>>,
}

/// Dialect of the DXF files.
#[derive(Clone, Copy, Debug, Deserialize, JsonSchema)]
pub(crate) enum DxfVersion {
    /// For old software.
    R12,
    /// For everything else.
    R2000,
}

/// Layer names in cut files.
#[derive(Debug, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "layers")]
pub(crate) struct Layers {
    /// Outer contours.
    pub(crate) outline: Option<Place<String>>,
    /// Slots and openings.
    pub(crate) opening: Option<Place<String>>,
    /// Holes right through.
    pub(crate) bore: Option<Place<String>>,
    /// Sunk heads.
    pub(crate) countersink: Option<Place<String>>,
    /// Marks of holding tabs, not cut.
    pub(crate) tab: Option<Place<String>>,
    /// Outer contours that leave a skin.
    pub(crate) skin: Option<Place<String>>,
    /// Legends.
    pub(crate) engraving: Option<Place<String>>,
    /// Names and remarks, not cut.
    pub(crate) note: Option<Place<String>>,
    /// The sheet's edge, not cut.
    pub(crate) stock: Option<Place<String>>,
}
