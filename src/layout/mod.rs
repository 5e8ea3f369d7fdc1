//! A design becomes placed boards: carcases, cells, drawers, their slides, and which board meets which.
//!
//! Takes the spec's design and the catalogue, gives a [`Layout`] in the vehicle frame. Boards are still plain
//! rectangles: holes, tabs and slots come later, from bolts. Carcases stand with their fronts to the tailgate:
//! width along y, depth along x, height along z; columns run from left (+y) to right.

mod apart;
mod board;
mod carcase;
mod cutout;
mod cutout_rules;
mod defaults;
mod divide;
mod door;
mod door_hardware;
mod door_rules;
mod drawer;
mod drawer_boards;
mod equipment;
mod equipment_held;
mod equipment_rules;
mod finish;
mod finish_rules;
mod fixture;
mod floor;
mod hatch;
mod hatch_rules;
mod join;
mod legend;
mod legend_rules;
mod meeting;
mod on_panel;
mod open_top;
pub(crate) mod rules;
mod run;
mod run_hole;
mod run_rules;
mod shell;
mod tie_down;
mod tie_down_rules;
mod wing;
mod wing_rules;

pub(crate) use board::{Board, BoardId, Body, BodyId, Opening, OpeningKind, Role, around};
pub(crate) use cutout::{CutoutSummary, LEAST_WEB};
pub(crate) use defaults::MOVING_CLEARANCE;
pub(crate) use door::DoorSummary;
pub(crate) use equipment::EquipmentSummary;
pub(crate) use finish::Coat;
pub(crate) use fixture::{Fixture, FixtureBolt, FixtureKind, KeepFree};
pub(crate) use hatch::HatchSummary;
pub(crate) use legend::{Engraving, EngravingKind};
pub(crate) use meeting::{FaceMeeting, Meeting};
pub(crate) use on_panel::up_of;
pub(crate) use run::{Crossing, RunSummary};
pub(crate) use run_hole::RUN_CLEAR;
pub(crate) use tie_down::{GRAVITY, RESTRAINT_CASES, RestraintCase, TieDownSummary};
pub(crate) use wing::{MeasuredPlace, RESIDUAL, WingSummary};

use crate::catalogue::{Catalogue, Slide};
use crate::diag::{Findings, Rule, Span};
use crate::geom::{Aabb, Vector3};
use crate::spec::{Design, DrawerKind};
use std::collections::BTreeMap;
use std::sync::Arc;

/// All boards of a kit, placed, with the slides between them and the ways in which they meet.
#[derive(Debug, Default)]
pub(crate) struct Layout {
    /// Rigid bodies: each carcase, each drawer.
    pub(crate) bodies: Vec<Body>,
    /// All boards. A board's id is its index.
    pub(crate) boards: Vec<Board>,
    /// Corners: an edge against a face.
    pub(crate) meetings: Vec<Meeting>,
    /// Face against face: false fronts on their boxes, modules side by side.
    pub(crate) face_meetings: Vec<FaceMeeting>,
    /// Sides of carcases that stand against the side of another.
    sides_behind: BTreeMap<BoardId, BoardId>,
    /// One for each slide (two to a drawer).
    pub(crate) mounts: Vec<SlideMount>,
    /// What a reader wants to know of each drawer.
    pub(crate) drawers: Vec<DrawerSummary>,
    /// What a reader wants to know of each wing, in the order of the spec.
    pub(crate) wings: Vec<WingSummary>,
    /// Every hatch, of carcases and of wings.
    pub(crate) hatches: Vec<HatchSummary>,
    /// Every cut-out, in the order of the spec.
    pub(crate) cutouts: Vec<CutoutSummary>,
    /// Every cell that holds something or nothing.
    pub(crate) cells: Vec<CellSummary>,
    /// Doors of lockers.
    pub(crate) doors: Vec<DoorSummary>,
    /// Tie-downs, in the order of the spec.
    pub(crate) tie_downs: Vec<TieDownSummary>,
    /// Equipment, in the order of the spec.
    pub(crate) equipment: Vec<EquipmentSummary>,
    /// Cables, hoses and ducts, in the order of the spec.
    pub(crate) runs: Vec<RunSummary>,
    /// What is bolted to panels and is neither slide nor angle.
    pub(crate) fixtures: Vec<Fixture>,
    /// Room in which nothing may stand.
    pub(crate) kept_free: Vec<KeepFree>,
}

/// Every rule of this stage.
pub(crate) fn all_rules() -> impl Iterator<Item = &'static Rule> {
    rules::RULES
        .iter()
        .chain(&wing_rules::RULES)
        .chain(&hatch_rules::RULES)
        .chain(&cutout_rules::RULES)
        .chain(&tie_down_rules::RULES)
        .chain(&legend_rules::RULES)
        .chain(&finish_rules::RULES)
        .chain(&equipment_rules::RULES)
        .chain(&door_rules::RULES)
        .chain(&run_rules::RULES)
        .copied()
}

/// A cell as laid out.
#[derive(Clone, Debug)]
pub(crate) struct CellSummary {
    /// Its name, `CARCASE-CELL`; the drawer's or blank's, if it holds one.
    pub(crate) name: String,
    /// The carcase's body.
    pub(crate) body: BodyId,
    /// The clear space.
    pub(crate) room: Aabb,
    /// The boards on its left and right, over and under it and behind it, where there are any.
    pub(crate) around: Vec<BoardId>,
    /// The board under it, if nothing is between.
    pub(crate) below: Option<BoardId>,
    /// Whether a board is over it.
    pub(crate) covered: bool,
}

/// A slide between a carcase board and a drawer side.
#[derive(Clone, Debug)]
pub(crate) struct SlideMount {
    /// Name, e.g. `main-drawer-1-slide-left`.
    pub(crate) name: String,
    /// The slide's data.
    pub(crate) slide: Arc<Slide>,
    /// The upright that carries the fixed member.
    pub(crate) carcase_board: BoardId,
    /// The drawer side that carries the moving member.
    pub(crate) box_board: BoardId,
    /// The drawer's body.
    pub(crate) drawer: BodyId,
    /// Half of the closed slide next to the carcase.
    pub(crate) fixed: Aabb,
    /// Half of the closed slide next to the drawer.
    pub(crate) moving: Aabb,
    /// mm above the bay floor of the slide's centre line.
    pub(crate) height: f64,
    /// +1 if the drawer lies on the left (+y) of the carcase board's face, -1 if on the right.
    pub(crate) side: f64,
    /// Where the spec names the slide.
    pub(crate) span: Span,
}

/// The dimension chain of one drawer, mm: what a joiner checks with a tape.
#[derive(Clone, Debug)]
pub(crate) struct DrawerSummary {
    /// Name of the drawer or tray, e.g. `main-drawer-1`.
    pub(crate) name: String,
    /// A box or a tray.
    pub(crate) kind: DrawerKind,
    /// Its bottom or platform.
    pub(crate) bottom: BoardId,
    /// kg of what the spec puts into it.
    pub(crate) load: f64,
    /// N that its latch holds against opening, if the spec says so.
    pub(crate) latch: Option<f64>,
    /// The drawer's body.
    pub(crate) body: BodyId,
    /// The slide's name.
    pub(crate) slide: Arc<Slide>,
    /// Clear opening, width and height.
    pub(crate) opening: (f64, f64),
    /// Room between opening and box, each side.
    pub(crate) side_space: f64,
    /// Box over its panels: width, height, depth.
    pub(crate) box_size: (f64, f64, f64),
    /// Inside of the box: width, height, depth.
    pub(crate) inside: (f64, f64, f64),
    /// Clear room above and below the box.
    pub(crate) clear: (f64, f64),
    /// Where it is described.
    pub(crate) span: Span,
}

impl DrawerSummary {
    /// kg that its slides may carry if `factor` of their rating is used; nothing if nobody gave it.
    pub(crate) fn most(&self, factor: f64) -> Option<f64> {
        self.slide.rating_pair.map(|rating| rating * factor)
    }
}

impl Layout {
    /// The board with this id.
    pub(crate) fn board(&self, id: BoardId) -> &Board {
        &self.boards[id.0]
    }

    /// The side of another carcase that this side stands against, if there is one.
    pub(crate) fn side_behind(&self, id: BoardId) -> Option<BoardId> {
        self.sides_behind.get(&id).copied()
    }

    /// The body with this id.
    pub(crate) fn body(&self, id: BodyId) -> &Body {
        &self.bodies[id.0]
    }
}

/// Lays out the whole kit. `None` if a name is unknown or a carcase cannot be laid out; the findings say why.
pub(crate) fn lay_out(findings: &mut Findings, design: &Design, catalogue: &Catalogue) -> Option<Layout> {
    let mut layout = Layout::default();
    let mut complete = floor::floors(&mut layout, findings, design, catalogue).is_some();
    for carcase in &design.carcases {
        let body = BodyId(layout.bodies.len());
        let id = carcase.id.value.clone();
        layout.bodies.push(Body {
            name: id.clone(),
            carcase: id,
            travel: Vector3::zero(),
            drop: 0.0,
            swing: None,
        });
        let mut builder = carcase::Builder::new(&mut layout, findings, design, catalogue, carcase, body);
        complete &= builder.build().is_some();
    }
    if !complete {
        return None;
    }
    let winged = wing::wings(&mut layout, findings, design, catalogue);
    meeting::join_modules(&mut layout, design);
    let covered = finish::finishes(&mut layout, findings, design, catalogue);
    let cut = cutout::cutouts(&mut layout, findings, design, catalogue);
    let tied = tie_down::tie_downs(&mut layout, findings, design, catalogue);
    let engraved = legend::legends(&mut layout, findings, design);
    let placed = equipment::equipment(&mut layout, findings, design, catalogue);
    // Stops name equipment and cut-outs, so a run waits for all of them.
    let led = [cut, placed].iter().all(Option::is_some).then(|| run::runs(&mut layout, findings, design));
    rules::report_names(findings, design, &layout);
    let apart = apart::carcases_stand_apart(findings, &layout);
    let room = apart::hardware_has_room(findings, &layout, catalogue);
    let complete = [winged, covered, cut, tied, engraved, placed, led.flatten()].iter().all(Option::is_some);
    (apart && room && complete).then_some(layout)
}
