//! A design as it was asked for: typed, in millimetres, every value with its place in the text.
//!
//! Made by `spec::read`, read by every later stage, changed by none. Expressions and inches are gone, ranges
//! and names are checked; names of materials, slides and angles are still only names, for the catalogue to
//! find. A value that the spec left out is `None` where the catalogue or a later stage decides; where a plain
//! default exists the default stands here, at the place of the map that leaves it out.

mod bay;

use crate::diag::{At, Span};
pub(crate) use bay::*;

/// The whole design.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Design {
    /// Name of the kit and of the folder it is written to.
    pub(crate) name: At<String>,
    /// The vehicle it is made for.
    pub(crate) vehicle: Vehicle,
    /// Room that it keeps from the bay.
    pub(crate) clearances: Clearances,
    /// The shop that cuts it.
    pub(crate) workshop: Workshop,
    /// How panels meet, for the whole kit.
    pub(crate) joints: Joints,
    /// How bolts are laid out along joints, for the whole kit.
    pub(crate) bolts: Bolts,
    /// By id. At least one.
    pub(crate) carcases: Vec<Carcase>,
    /// How its panels are laid on sheets.
    pub(crate) nesting: NestingWish,
    /// Warnings that somebody has looked at, by place in the text.
    pub(crate) accept: Vec<Accept>,
    /// Sheets that are cut already, by place in the text.
    pub(crate) frozen: Vec<FrozenKit>,
}

/// Sheets of an earlier run that are cut already.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct FrozenKit {
    /// Name of that run's `kit.json`, as written.
    pub(crate) kit: At<String>,
    /// What stands in it, not looked at.
    pub(crate) text: String,
    /// Names of the sheets; none stands twice in the design.
    pub(crate) sheets: Vec<At<String>>,
}

/// How panels are laid on sheets.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct NestingWish {
    /// How long better layouts are looked for. Default standard.
    pub(crate) effort: At<NestingEffort>,
    /// Where the random numbers start. Default 1.
    pub(crate) seed: At<u32>,
    /// Seconds after which the search stops.
    pub(crate) time_limit: Option<At<f64>>,
}

/// How long better layouts are looked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum NestingEffort {
    /// The first layout as it is.
    Quick,
    /// What a kit ordinarily gets.
    Standard,
    /// Ten times that.
    Long,
    /// So many steps of each of the streams that search side by side.
    Steps(u32),
}

/// The vehicle, as measured.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Vehicle {
    /// What it is called, for reports.
    pub(crate) name: Option<At<String>>,
    /// Its load space.
    pub(crate) bay: Bay,
}

/// How two panels meet at a corner.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum JointKind {
    /// An aluminium angle inside the corner, bolted through both panels.
    Angle,
    /// Tab and slot, with a bolt along the mid-plane into a nut held in a T-shaped slot.
    CaptiveNut,
    /// Two faces back to back, bolted through both.
    Face,
}

/// How panels meet. What is `None` follows from the next wider place: drawer, drawers of the carcase, carcase,
/// kit.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Joints {
    /// The joint of every corner.
    pub(crate) corner: Option<At<JointKind>>,
    /// Name of the angle section in the catalogue.
    pub(crate) angle: Option<At<String>>,
    /// Exceptions, by place in the text. Of several that match a joint, the last one counts.
    pub(crate) named: Vec<NamedJoint>,
}

/// An exception for the joints whose names match a pattern.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct NamedJoint {
    /// `PANEL+PANEL`, where `*` stands for any run of characters.
    pub(crate) pattern: At<String>,
    /// The joint's kind.
    pub(crate) kind: Option<At<JointKind>>,
    /// Name of the angle section.
    pub(crate) angle: Option<At<String>>,
    /// Its bolts.
    pub(crate) bolts: Bolts,
}

/// How bolts are laid out along a joint.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Bolts {
    /// Thread size, e.g. `M6`.
    pub(crate) size: Option<At<String>>,
    /// Most that two neighbouring bolts may be apart, mm.
    pub(crate) spacing: Option<At<f64>>,
    /// Positions given outright, mm from the joint's start, in the order of the text. They go before `spacing`.
    pub(crate) at: Option<At<Vec<At<f64>>>>,
}

/// A box of panels, cut into cells.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Carcase {
    /// Unique in the kit; panels are named after it.
    pub(crate) id: At<String>,
    /// mm over the sides, without the overhang.
    pub(crate) width: At<f64>,
    /// mm over the fronts, from their outer face to the front edge of the carcase.
    pub(crate) depth: At<f64>,
    /// mm from the underside of the base to the upper side of the deck.
    pub(crate) height: At<f64>,
    /// Where it stands.
    pub(crate) at: Position,
    /// Materials of its panels.
    pub(crate) panels: Panels,
    /// Its back panel; `None` leaves it out.
    pub(crate) back: Option<Back>,
    /// mm by which base and deck project past the sides, left and right.
    pub(crate) overhang: At<f64>,
    /// Degrees by which its end towards the seats leans to the tailgate, from the underside up. Default 0.
    pub(crate) rake: At<f64>,
    /// Pieces cut out for the wheel arches, by place in the text; one for both sides stands here twice.
    pub(crate) notches: Vec<Notch>,
    /// The false fronts of its drawers.
    pub(crate) fronts: Fronts,
    /// How its panels meet.
    pub(crate) joints: Joints,
    /// How bolts are laid out along its joints.
    pub(crate) bolts: Bolts,
    /// How the panels of its drawers meet, where the drawer does not say.
    pub(crate) drawer_joints: Joints,
    /// What is inside: one cell, or a tree of columns and rows.
    pub(crate) cell: Cell,
    /// Where it is described.
    pub(crate) span: Span,
}

/// A piece cut out of a carcase's side from below, and out of its base from that side.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Notch {
    /// Whether it is in the left side.
    pub(crate) left: bool,
    /// mm, x of its start in the vehicle.
    pub(crate) from: At<f64>,
    /// mm, x of its end in the vehicle.
    pub(crate) to: At<f64>,
    /// mm, z of its upper edge in the vehicle.
    pub(crate) height: At<f64>,
    /// mm from the outer edge of the base inward.
    pub(crate) depth: At<f64>,
    /// Where it is described.
    pub(crate) span: Span,
}

/// Where a carcase stands in the vehicle's frame.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Position {
    /// mm from the bay's rear edge forward to the rear-most face of the carcase (its fronts).
    pub(crate) x: At<f64>,
    /// mm from the bay's centreline to the carcase's centre plane, left positive.
    pub(crate) y: At<f64>,
    /// mm from the bay's floor to the underside.
    pub(crate) z: At<f64>,
}

/// Catalogue names of the materials of a carcase's panels.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Panels {
    /// The lower panel.
    pub(crate) base: At<String>,
    /// The upper panel.
    pub(crate) deck: At<String>,
    /// Left and right side.
    pub(crate) sides: At<String>,
    /// Uprights between columns.
    pub(crate) dividers: At<String>,
    /// Levels between rows.
    pub(crate) shelves: At<String>,
    /// The back, towards the front of the vehicle.
    pub(crate) back: At<String>,
    /// False fronts of drawers, and blanks.
    pub(crate) fronts: At<String>,
}

/// A carcase's back panel.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Back {
    /// mm from the sides' edge (the one towards the front of the vehicle) to the back's outer face.
    pub(crate) inset: At<f64>,
}

/// How fronts stand to the carcase.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum FrontStyle {
    /// In front of the carcase's edges, covering them.
    Overlay,
    /// Between the panels, flush with their edges.
    Inset,
}

/// False fronts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Fronts {
    /// Over the edges or between them.
    pub(crate) style: At<FrontStyle>,
    /// mm between a front and its neighbour.
    pub(crate) gap: At<f64>,
}

/// A piece of a carcase's inside.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Cell {
    /// The name that the spec gives it, unique in its carcase; the layout names the others.
    pub(crate) id: Option<At<String>>,
    /// How much of the room it takes among its neighbours.
    pub(crate) size: CellSize,
    /// What it holds.
    pub(crate) content: Content,
    /// Where it is described.
    pub(crate) span: Span,
}

/// How much of the room between its neighbours a cell takes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum CellSize {
    /// Clear opening, mm.
    Clear(At<f64>),
    /// Part of what the clear openings leave, in proportion to the neighbours' shares. The default is 1.
    Share(At<f64>),
}

/// What a cell holds.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Content {
    /// A drawer on a pair of slides.
    Drawer(Box<Drawer>),
    /// Nothing: an open pocket.
    Open,
    /// Nothing that opens: a front, bolted on.
    Blank,
    /// Cells side by side, left to right as seen from the tailgate. At least one.
    Columns(Vec<Cell>),
    /// Cells one above the other, top to bottom. At least one.
    Rows(Vec<Cell>),
}

/// A drawer.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Drawer {
    /// Name of a slide in the catalogue, or of a family of slides: the longest that fits.
    pub(crate) slide: At<String>,
    /// Length of the drawer's box, mm.
    pub(crate) depth: Option<At<f64>>,
    /// Height of the box, mm.
    pub(crate) box_height: Option<At<f64>>,
    /// mm from the underside of the box to the slide's centre line.
    pub(crate) slide_height: Option<At<f64>>,
    /// mm that stay free above the box. Default 15.
    pub(crate) clear_above: At<f64>,
    /// mm that stay free below the box. Default 10.
    pub(crate) clear_below: At<f64>,
    /// Material of the box's sides, front and back: the drawer's, else the carcase's `drawers`, else `panel`.
    pub(crate) panel: At<String>,
    /// Material of the bottom: the drawer's, else the carcase's `drawers`, else that of the box.
    pub(crate) bottom: At<String>,
    /// Material of the false front: the drawer's, else the carcase's `fronts`.
    pub(crate) front: At<String>,
    /// How the panels of its box meet, where it differs from its carcase's `drawer_joints`.
    pub(crate) joints: Joints,
    /// Where it is described.
    pub(crate) span: Span,
}

/// A warning that somebody has looked at.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Accept {
    /// Name of the rule.
    pub(crate) rule: At<String>,
    /// Name of the part, joint or bolt; `None` for all.
    pub(crate) on: Option<At<String>>,
    /// Why it is all right.
    pub(crate) reason: At<String>,
    /// Where it is accepted.
    pub(crate) span: Span,
}

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
    /// What prices are in.
    pub(crate) currency: Option<At<String>>,
    /// Sheets and offcuts on the shelf, by material.
    pub(crate) shelf: Vec<ShelfEntry>,
    /// mm. The smallest rectangle of a cut sheet that is worth keeping, either way round. Default 600 x 300.
    pub(crate) smallest_offcut: At<(f64, f64)>,
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
    /// Sheets in which it is bought, in the order of the text; replaces the built-in list as a whole.
    pub(crate) stock: Option<At<Vec<StockEntry>>>,
    /// Where the values come from.
    pub(crate) source: Option<At<String>>,
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
    /// Where the values come from.
    pub(crate) source: Option<At<String>>,
}
