//! A design as it was asked for: typed, in millimetres, every value with its place in the text.
//!
//! Made by `spec::read`, read by every later stage, changed by none. Expressions and inches are gone, ranges
//! and names are checked; names of materials, slides and angles are still only names, for the catalogue to
//! find. A value that the spec left out is `None` where the catalogue or a later stage decides; where a plain
//! default exists the default stands here, at the place of the map that leaves it out.

mod bay;
mod cutout;
mod door;
mod equipment;
mod fixing;
mod finish;
mod floor;
mod legend;
mod living;
mod load;
mod rates;
mod run;
mod strength;
mod tie_down;
mod weighed;
mod wing;
mod workshop;

use crate::diag::{At, Span};
pub(crate) use bay::*;
pub(crate) use cutout::*;
pub(crate) use door::*;
pub(crate) use equipment::*;
pub(crate) use finish::*;
pub(crate) use fixing::*;
pub(crate) use floor::*;
pub(crate) use legend::*;
pub(crate) use living::*;
pub(crate) use load::*;
pub(crate) use rates::*;
pub(crate) use run::*;
pub(crate) use strength::*;
pub(crate) use tie_down::*;
pub(crate) use weighed::*;
pub(crate) use wing::*;
pub(crate) use workshop::*;

/// The whole design.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Design {
    /// Name of the kit and of the folder it is written to.
    pub(crate) name: At<String>,
    /// Which state of the design this is, if it says so.
    pub(crate) revision: Option<At<String>>,
    /// The vehicle it is made for.
    pub(crate) vehicle: Vehicle,
    /// Most that slides may carry, as a part of their rating. Default 0.7.
    pub(crate) slide_factor: At<f64>,
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
    /// False floors, in the order of the text.
    pub(crate) floors: Vec<FalseFloor>,
    /// Names of panels that may be taken off.
    pub(crate) removable: Vec<At<String>>,
    /// Panels between carcases and the vehicle's sides, by place in the text.
    pub(crate) wings: Vec<Wing>,
    /// Openings in its panels, by place in the text.
    pub(crate) cutouts: Vec<Cutout>,
    /// What covers its panels, by place in the text.
    pub(crate) finishes: Vec<FinishWish>,
    /// Texts engraved into its panels, by place in the text.
    pub(crate) legends: Vec<Legend>,
    /// What straps hook into, by place in the text.
    pub(crate) tie_downs: Vec<TieDown>,
    /// What is carried in it, by place in the text.
    pub(crate) equipment: Vec<Equipment>,
    /// Cables, hoses and ducts, by place in the text.
    pub(crate) runs: Vec<Run>,
    /// What panels bear beside what is known of them, by place in the text.
    pub(crate) panel_loads: Vec<PanelLoad>,
    /// What a person weighs who has no mass of its own.
    pub(crate) people: Option<People>,
    /// What the vehicle carries beside the kit and its equipment, by place in the text.
    pub(crate) loads: Vec<Load>,
    /// By place in the text. Empty if the vehicle does not say its masses.
    pub(crate) scenarios: Vec<Scenario>,
    /// What a scale said, by place in the text.
    pub(crate) weighed: Vec<Weighed>,
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
    /// The space in which people live.
    pub(crate) living: Option<Living>,
    /// What it weighs, and what it may weigh.
    pub(crate) masses: Option<VehicleMasses>,
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
    /// Openings with lids in its deck, in the order of the text.
    pub(crate) deck_hatches: Vec<Hatch>,
    /// Openings with lids in its base, in the order of the text.
    pub(crate) base_hatches: Vec<Hatch>,
    /// The vehicle's points that hold it, in the order of the text.
    pub(crate) anchors: Vec<Fixing>,
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
    /// mm from the outer edge of the base inward; 0 leaves the base whole.
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
    /// mm from the bay's floor, or the false floor under it, to the underside.
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
    /// Whether a shelf lies between it and the row below.
    pub(crate) shelf: bool,
    /// Whether the deck is left out over it.
    pub(crate) open_top: Option<OpenTop>,
    /// What it holds.
    pub(crate) content: Content,
    /// Where it is described.
    pub(crate) span: Span,
}

/// A cell without a deck over it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct OpenTop {
    /// mm from the fronts on; `None` for the whole depth.
    pub(crate) depth: Option<At<f64>>,
    /// Where it is asked for.
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
    /// A drawer or a tray on a pair of slides.
    Drawer(Box<Drawer>),
    /// A locker closed by a door.
    Door(Box<Door>),
    /// Nothing: an open pocket.
    Open,
    /// Nothing that opens: a front, bolted on.
    Blank,
    /// Cells side by side, left to right as seen from the tailgate. At least one.
    Columns(Vec<Cell>),
    /// Cells one above the other, top to bottom. At least one.
    Rows(Vec<Cell>),
}

/// What sort of drawer it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum DrawerKind {
    /// A box.
    Box,
    /// A tray: a platform with sides that stand up around it.
    Lipped,
    /// A tray: a platform on its sides.
    Flat,
}

/// A drawer, or a slide-out tray, whose box is low and whose bottom is called its platform.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Drawer {
    /// A box or a tray.
    pub(crate) kind: DrawerKind,
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
    /// Material of the false front: the drawer's, else the carcase's `fronts`; a tray has one only if it says so.
    pub(crate) front: Option<At<String>>,
    /// Whether its rear end must stand clear of the carcase when it is open, and where that is said.
    pub(crate) comes_clear: Option<Span>,
    /// kg of what is put into it.
    pub(crate) load: Option<At<f64>>,
    /// N that its latch holds against opening.
    pub(crate) latch: Option<At<f64>>,
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
