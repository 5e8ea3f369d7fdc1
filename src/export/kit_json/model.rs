//! The shape of `kit.json`, field by field; its JSON Schema is made from these structs and their comments.
//!
//! Only data: what each field holds is decided in [`super`]. Lengths are mm, masses kg, angles degrees. Frames:
//! the vehicle's (x forward, y left, z up; origin at the bay floor, centreline, rear edge), a panel's (u along
//! its length, v across, w out of face A; face A is w = thickness), a sheet's (x along, y across, origin at its
//! lower left corner).

use super::bay::Bay;
use super::budget::Budget;
use super::edition::Edition;
use super::fitting::{Cutout, Engraving, Finish, Fitting, Run, TieDown};
use super::fixing::{Anchor, Reach};
use super::moves::{Module, Together};
use super::quote::Quote;
use super::strength::Strength;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use serde_json::Value;
use std::collections::BTreeMap;

/// A kit as one JSON document.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[schemars(title = "kit.json")]
pub(crate) struct KitDocument {
    /// The kit's name.
    pub(crate) name: String,
    /// Which state of the kit this is; null if the program that wrote it did not say.
    pub(crate) edition: Option<Edition>,
    /// Version of this format. A reader refuses a number that it does not know.
    pub(crate) version: u32,
    /// What wrote the file.
    pub(crate) generator: Generator,
    /// The units of every number in the file.
    pub(crate) units: Units,
    /// The vehicle that the kit is made for.
    pub(crate) vehicle: Vehicle,
    /// The workshop that the kit is cut by.
    pub(crate) workshop: Workshop,
    /// Every panel, in the order of the layout.
    pub(crate) panels: Vec<Panel>,
    /// Every bolt with its washers and nut.
    pub(crate) bolts: Vec<Bolt>,
    /// Angles, slides, turnbuckles and fixtures.
    pub(crate) fittings: Vec<Fitting>,
    /// What moves as one: each carcase, each drawer.
    pub(crate) bodies: Vec<Body>,
    /// The dimension chain of every drawer.
    pub(crate) drawers: Vec<Drawer>,
    /// Openings for air, cables and fittings.
    pub(crate) cutouts: Vec<Cutout>,
    /// What straps hook into.
    pub(crate) tie_downs: Vec<TieDown>,
    /// Cables, hoses and ducts, in the order of the design.
    pub(crate) runs: Vec<Run>,
    /// Every carcase as it is carried in.
    pub(crate) modules: Vec<Module>,
    /// Drawers that cannot be open together, and every drawer with every leaf of the doors.
    pub(crate) together: Vec<Together>,
    /// Stock sheets with the panels on them.
    pub(crate) sheets: Vec<Sheet>,
    /// How many sheets each material takes.
    pub(crate) sheet_totals: Vec<SheetTotal>,
    /// The layers of the cut files.
    pub(crate) layers: LayerSet,
    /// Masses and centres of gravity, all drawers shut.
    pub(crate) mass: Mass,
    /// What a scale said of the kit or parts of it.
    pub(crate) weighed: Vec<WeighedPart>,
    /// Densities that the readings bear out.
    pub(crate) densities: Vec<FittedDensity>,
    /// What the loaded vehicle weighs, scenario by scenario; empty if nothing says what it weighs by itself.
    pub(crate) budgets: Vec<Budget>,
    /// Whether it holds.
    pub(crate) strength: Strength,
    /// What it costs.
    pub(crate) quote: Quote,
    /// Warnings and notes: rule, severity, file, line, column, `end_line`, `end_column`, text, message, help, on
    /// (the part that it is about), accepted (the reason with which the design accepts it, or null), also.
    #[schemars(with = "Vec<BTreeMap<String, Value>>")]
    pub(crate) findings: Value,
}

/// What wrote the file.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub(crate) struct Generator {
    /// The program.
    pub(crate) name: String,
    /// The program's version.
    pub(crate) version: String,
}

/// Units of all numbers.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub(crate) struct Units {
    /// Always `mm`; areas are mm2, volumes mm3.
    pub(crate) length: String,
    /// Always `kg`; densities are kg/m3.
    pub(crate) mass: String,
    /// Always `degree`.
    pub(crate) angle: String,
}

/// The vehicle.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub(crate) struct Vehicle {
    /// What it is called, if the design says so.
    pub(crate) name: Option<String>,
    /// Its load space.
    pub(crate) bay: Bay,
    /// Room that the kit keeps from the bay's surfaces.
    pub(crate) clearances: Clearances,
    /// Its threaded points.
    pub(crate) anchors: Vec<Anchor>,
    /// What must stay in reach.
    pub(crate) reach: Vec<Reach>,
}

/// Room that the kit keeps, mm.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub(crate) struct Clearances {
    /// To a wheel arch.
    pub(crate) arch: f64,
    /// To the seat back, along x.
    pub(crate) seat_back: f64,
    /// To the closed door, along x.
    pub(crate) door: f64,
    /// To a latch box, all round.
    pub(crate) latch: f64,
    /// To the sides and the roof.
    pub(crate) trim: f64,
    /// To spare in an opening's width and in its height on the way in.
    pub(crate) opening: f64,
}

/// The workshop.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub(crate) struct Workshop {
    /// What it is called, if the design says so.
    pub(crate) name: Option<String>,
    /// What prices are in.
    pub(crate) currency: Option<String>,
    /// The milling tool.
    pub(crate) tool: Tool,
    /// Edge of each sheet that no panel may use, all round, mm.
    pub(crate) trim: f64,
    /// Least distance between two outlines on a sheet, mm.
    pub(crate) gap: f64,
    /// Series of the clearance holes after ISO 273: `fine`, `medium` or `coarse`.
    pub(crate) hole_class: String,
    /// By how much a slot is wider than the tab in it, mm.
    pub(crate) slot_fit: f64,
    /// Play beside each slide, mm.
    pub(crate) slide_allowance: f64,
    /// Least distance from a hole's centre to a panel's edge, in bolt diameters.
    pub(crate) edge_distance: f64,
    /// Dialect of the DXF files: `R12` or `R2000`.
    pub(crate) dxf_version: String,
    /// How small parts are held.
    pub(crate) holding: Holding,
    /// kg that one person and that two persons lift.
    pub(crate) lift: [f64; 2],
}

/// How small parts are held while they are cut free.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub(crate) struct Holding {
    /// A panel of less area is small, mm2.
    pub(crate) small_area: f64,
    /// A panel whose lesser side is less is small, mm.
    pub(crate) small_width: f64,
    /// `tabs`, `skin` or `none`.
    pub(crate) method: String,
    /// Of what stays of a tab, along the outline, mm.
    pub(crate) tab_width: f64,
    /// How the sheets' cut files show tabs: `gaps`, each as wide as a tab and the tool together, or `layer`.
    pub(crate) tabs_as: String,
    /// What a first pass leaves of a small panel's outline, mm.
    pub(crate) skin: f64,
}

/// A milling tool.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub(crate) struct Tool {
    /// Diameter, mm.
    pub(crate) diameter: f64,
    /// Distance left between two parts beside the tool's own path, mm.
    pub(crate) margin: f64,
}

/// A panel with its contours and holes.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub(crate) struct Panel {
    /// Its name, the same in every file.
    pub(crate) name: String,
    /// What it is for, e.g. `base`, `side`, `box-bottom`.
    pub(crate) role: String,
    /// The carcase that it is part of.
    pub(crate) carcase: String,
    /// The body that it moves with, see `bodies`.
    pub(crate) body: String,
    /// Name of its material in the catalogue.
    pub(crate) material: String,
    /// Actual thickness, mm.
    pub(crate) thickness: f64,
    /// Thickness by which the material is sold, mm.
    pub(crate) nominal_thickness: f64,
    /// kg/m3 at the actual thickness.
    pub(crate) density: f64,
    /// Whether the face has a grain, along u, that must lie along the sheet.
    pub(crate) grain: bool,
    /// Rigid motion from the panel's frame to the vehicle's: 4 rows of 4, applied to the column (u, v, w, 1).
    pub(crate) placement: [[f64; 4]; 4],
    /// Extent of the outline along u and v, mm.
    pub(crate) size: [f64; 2],
    /// Outer contour, counter-clockwise seen from face A: corners [u, v, bulge], mm. The bulge belongs to the side
    /// that begins at the corner: tangent of a quarter of its included angle, positive to the left, 0 for a line.
    pub(crate) outline: Vec<[f64; 3]>,
    /// Openings right through, other than round holes.
    pub(crate) openings: Vec<Opening>,
    /// What covers its faces.
    pub(crate) finishes: Vec<Finish>,
    /// Texts on face A.
    pub(crate) engravings: Vec<Engraving>,
    /// Where nuts are held. Their slots are open to the panel's edge and part of the outline.
    pub(crate) nut_slots: Vec<NutSlot>,
    /// Round holes.
    pub(crate) bores: Vec<Bore>,
    /// Area of a face without openings and bores, countersinks not taken off, mm2.
    pub(crate) area: f64,
    /// mm3, countersinks taken off.
    pub(crate) volume: f64,
    /// kg, with its finishes.
    pub(crate) mass: f64,
    /// Centre of gravity in the vehicle's frame, mm.
    pub(crate) centre: [f64; 3],
}

/// A cut-out right through a panel.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub(crate) struct Opening {
    /// What it is for, e.g. `tab-slot`.
    pub(crate) kind: String,
    /// The joint that it belongs to; for a hatch and a finger hole the lid, for a cut-out its
    /// name, for what is drawn the panel.
    pub(crate) joint: String,
    /// Corners [u, v, bulge], clockwise, as in `outline`.
    pub(crate) points: Vec<[f64; 3]>,
}

/// Where a nut is held in the thickness of a panel.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub(crate) struct NutSlot {
    /// Middle of the nut along u, mm.
    pub(crate) u: f64,
    /// Middle of the nut along v, mm.
    pub(crate) v: f64,
    /// The bolt that goes into the nut.
    pub(crate) bolt: String,
}

/// A round hole.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub(crate) struct Bore {
    /// Centre along u, mm.
    pub(crate) u: f64,
    /// Centre along v, mm.
    pub(crate) v: f64,
    /// mm.
    pub(crate) diameter: f64,
    /// mm from the face; null for a hole right through.
    pub(crate) depth: Option<f64>,
    /// The face that is up while it is made: `A`.
    pub(crate) face: String,
    /// The bolt that passes through it.
    pub(crate) bolt: String,
    /// The sink for a flush head in that face, or null.
    pub(crate) countersink: Option<Countersink>,
}

/// A 90 degree sink.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub(crate) struct Countersink {
    /// At the face, mm.
    pub(crate) diameter: f64,
    /// mm from the face to where the cone meets the bore.
    pub(crate) depth: f64,
}

/// A bolt with its washers and nut.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub(crate) struct Bolt {
    /// Its name.
    pub(crate) name: String,
    /// What it does: `joint`, `slide-fixed`, `slide-moving`, `fixture` or `anchor`.
    pub(crate) purpose: String,
    /// Where the axis enters the first panel or metal under the head or its washer, vehicle frame, mm.
    pub(crate) origin: [f64; 3],
    /// Unit vector from head to nut, vehicle frame.
    pub(crate) direction: [f64; 3],
    /// Thread size, e.g. `M6`.
    pub(crate) thread: String,
    /// Nominal diameter of the thread, mm.
    pub(crate) diameter: f64,
    /// Nominal length as its standard measures it, mm.
    pub(crate) length: f64,
    /// mm from `origin` to the bearing face of the nut or of its washer.
    pub(crate) grip: f64,
    /// Form of the head: `button`, `countersunk`, `hexagon` or `cap`.
    pub(crate) head: String,
    /// Standard of the bolt.
    pub(crate) head_standard: String,
    /// The washer under the head, or null.
    pub(crate) head_washer: Option<Washer>,
    /// Form of the nut: `hexagon`, `lock`, `low-lock`, `thin` or `eye`; null where the thread is the vehicle's.
    pub(crate) nut: Option<String>,
    /// Standard of the nut, or null.
    pub(crate) nut_standard: Option<String>,
    /// Washers under the nut, from the panel outwards.
    pub(crate) nut_washers: Vec<Washer>,
    /// Thread beyond the nut, or in the vehicle's thread, mm.
    pub(crate) proud: f64,
    /// The panels that it passes through, from head to nut: each has a bore of this bolt.
    pub(crate) panels: Vec<String>,
    /// By how much its holes are longer than round ones along x and y, either way, mm. Where they are, each of its
    /// panels has a `bolt-slot` of its name instead of a bore.
    pub(crate) slack: [f64; 2],
    /// The panel in whose slot the nut is held, or null.
    pub(crate) held_in: Option<String>,
    /// kg of bolt, washers and nut.
    pub(crate) mass: f64,
}

/// A washer.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub(crate) struct Washer {
    /// `plain` or `large`.
    pub(crate) kind: String,
    /// Its standard.
    pub(crate) standard: String,
    /// Outside diameter, mm.
    pub(crate) outer: f64,
    /// mm.
    pub(crate) thickness: f64,
}

/// Parts that move as one.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub(crate) struct Body {
    /// The carcase's id, or the drawer's name.
    pub(crate) name: String,
    /// The carcase that it is or belongs to.
    pub(crate) carcase: String,
    /// From shut to fully open, vehicle frame, mm; zero for what is bolted down.
    pub(crate) travel: [f64; 3],
}

/// What a joiner checks of a drawer with a tape, mm.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub(crate) struct Drawer {
    /// Its name.
    pub(crate) name: String,
    /// `box`, or of a tray `lipped` or `flat`.
    pub(crate) kind: String,
    /// Its bottom or platform.
    pub(crate) bottom: String,
    /// What the design puts into it, kg.
    pub(crate) load: f64,
    /// What its slides carry, kg: itself, what stands on it, filled, and its load.
    pub(crate) carried: f64,
    /// Name of its slides in the catalogue.
    pub(crate) slide: String,
    /// Clear opening: width, height, mm.
    pub(crate) opening: [f64; 2],
    /// Room between opening and box, each side, mm.
    pub(crate) side_space: f64,
    /// Over the panels of the box: width, height, depth, mm.
    pub(crate) box_size: [f64; 3],
    /// Inside the box: width, height, depth, mm.
    pub(crate) inside: [f64; 3],
    /// Clear room above the box, mm.
    pub(crate) clear_above: f64,
    /// Clear room below the box, mm.
    pub(crate) clear_below: f64,
}

/// A stock sheet with the panels on it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub(crate) struct Sheet {
    /// Name of its cut files: material and number.
    pub(crate) name: String,
    /// The kit's, or, of a sheet that is cut already, that of the kit it was cut from; null if that did not say.
    pub(crate) edition: Option<Edition>,
    /// The material.
    pub(crate) material: String,
    /// Name of the size in which it is bought.
    pub(crate) stock: String,
    /// Along the grain and across, mm.
    pub(crate) size: [f64; 2],
    /// What it costs, in the workshop's currency, if that is known.
    pub(crate) price: Option<f64>,
    /// Whether it is left over from earlier work.
    pub(crate) offcut: bool,
    /// Where no part may lie.
    pub(crate) defects: Vec<Zone>,
    /// What is left of it and worth keeping, the largest first; they do not overlap.
    pub(crate) offcuts: Vec<Zone>,
    /// Edge that no panel may use, all round, mm.
    pub(crate) trim: f64,
    /// Least distance between two outlines, mm.
    pub(crate) gap: f64,
    /// Whether it was cut in an earlier run.
    pub(crate) frozen: bool,
    /// For a panel saw, what its cuts keep to; null for a router. Its cuts stand in `cuts/`.
    pub(crate) saw: Option<Sawn>,
    /// The panels on it.
    pub(crate) placed: Vec<Placed>,
    /// Area inside the outlines as a share of the sheet's, 0 to 1.
    #[serde(rename = "yield")]
    pub(crate) used_share: f64,
    /// The panels in the order in which the cut files have them.
    pub(crate) order: Vec<String>,
    /// What the tool travels in the air in that order, from the sheet's origin on, mm.
    pub(crate) travel: f64,
}

/// What the cuts of a sawn sheet keep to.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub(crate) struct Sawn {
    /// What the blade takes, mm.
    pub(crate) kerf: f64,
    /// Most stages of cuts, the trimming of the sheet's edges apart; null without a limit.
    pub(crate) stages: Option<usize>,
}

/// A rectangle on a sheet, from the sheet's lower left corner, mm.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub(crate) struct Zone {
    /// Along the grain.
    pub(crate) x: f64,
    /// Across it.
    pub(crate) y: f64,
    /// Extent along the grain.
    pub(crate) length: f64,
    /// Extent across it.
    pub(crate) width: f64,
}

/// A panel on a sheet: turned over about its v axis if `flipped`, then turned, then moved.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub(crate) struct Placed {
    /// The panel's name.
    pub(crate) panel: String,
    /// Where the panel's origin lies along the sheet, mm.
    pub(crate) x: f64,
    /// Where the panel's origin lies across the sheet, mm.
    pub(crate) y: f64,
    /// Degrees, counter-clockwise.
    pub(crate) angle: f64,
    /// Whether face B is up.
    pub(crate) flipped: bool,
    /// How it is held while it is cut free: by its `size`, or, if it is small, by `tabs`, by a `skin` or by
    /// `nothing`.
    pub(crate) held: String,
    /// How many tabs it has.
    pub(crate) tabs: usize,
}

/// The sheets of one material.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub(crate) struct SheetTotal {
    /// The material.
    pub(crate) material: String,
    /// How many sheets are used, without those that are cut already.
    pub(crate) sheets: usize,
    /// How many are cut already.
    pub(crate) frozen: usize,
    /// No way of laying the panels of the former out needs fewer sheets than this; proved, not always reached.
    pub(crate) lower_bound: usize,
    /// What costs are counted in: `currency` (the workshop's), or `mm2` where a price is wanting.
    pub(crate) cost_in: String,
    /// Of the sheets; an offcut without a price costs nothing.
    pub(crate) cost: f64,
    /// No way of laying these panels out costs less than this; proved, not always reached.
    pub(crate) least_cost: f64,
    /// Area inside the outlines as a share of the sheets', 0 to 1.
    #[serde(rename = "yield")]
    pub(crate) used_share: f64,
}

/// Names of the layers in the cut files, one for each operation (and depth).
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub(crate) struct LayerSet {
    /// Outer contours, cut through along their outside.
    pub(crate) outline: String,
    /// Outer contours of small panels that leave a skin; `{depth}` as for countersinks.
    pub(crate) skin: String,
    /// Marks of holding tabs, not cut.
    pub(crate) tab: String,
    /// Slots and openings, cut through along their inside.
    pub(crate) opening: String,
    /// Round holes right through.
    pub(crate) bore: String,
    /// Countersinks; `{depth}` stands for the depth in mm with at most two decimals, `_` for the point.
    pub(crate) countersink: String,
    /// Legends, open lines.
    pub(crate) engraving: String,
    /// Names and remarks, not cut.
    pub(crate) note: String,
    /// The sheet's edge and its trim line, not cut.
    pub(crate) stock: String,
}

/// Masses, all drawers shut.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub(crate) struct Mass {
    /// kg of the whole kit.
    pub(crate) total: f64,
    /// Its centre of gravity, vehicle frame, mm.
    pub(crate) centre: [f64; 3],
    /// By carcase, drawers and slides included.
    pub(crate) carcases: Vec<MassOf>,
    /// By drawer: what moves when it is opened, without the slides.
    pub(crate) drawers: Vec<MassOf>,
    /// By carcase, with equipment full and what drawers and trays hold.
    pub(crate) loaded: Vec<MassOf>,
    /// The kit empty and loaded, with drawers shut and drawn out.
    pub(crate) states: Vec<MassState>,
    /// kg m2 about the axes through its centre of gravity that run forward, to the left and up; empty, shut.
    pub(crate) inertia: [f64; 3],
    /// By board what the next lighter one of its thickness would save.
    pub(crate) lighter: Vec<LighterBoard>,
}

/// The kit in a state.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub(crate) struct MassState {
    /// Whether equipment is full and drawers hold their loads.
    pub(crate) loaded: bool,
    /// `nothing`, a drawer's name or `every drawer and tray`.
    pub(crate) drawn_out: String,
    /// kg.
    pub(crate) mass: f64,
    /// Centre of gravity, vehicle frame, mm.
    pub(crate) centre: [f64; 3],
}

/// A reading of a scale beside what was calculated, kg.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub(crate) struct WeighedPart {
    /// What was on it.
    pub(crate) of: String,
    /// What it said.
    pub(crate) weighed: f64,
    /// What it tells apart.
    pub(crate) resolution: f64,
    /// What was calculated.
    pub(crate) calculated: f64,
    /// What the densities that were fitted leave over.
    pub(crate) unexplained: f64,
    /// Whether the other readings do not bear it out.
    pub(crate) suspect: bool,
}

/// A board's density by the readings, kg/m3.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub(crate) struct FittedDensity {
    /// The board.
    pub(crate) material: String,
    /// As published.
    pub(crate) published: f64,
    /// By the readings.
    pub(crate) fitted: f64,
}

/// What a lighter board would save.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub(crate) struct LighterBoard {
    /// The board that the kit is made of.
    pub(crate) from: String,
    /// The next lighter one of its thickness.
    pub(crate) to: String,
    /// kg.
    pub(crate) saves: f64,
}

/// The mass of a named part of the kit.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub(crate) struct MassOf {
    /// Name of the carcase or drawer.
    pub(crate) name: String,
    /// kg.
    pub(crate) mass: f64,
    /// Centre of gravity, vehicle frame, mm.
    pub(crate) centre: [f64; 3],
}
