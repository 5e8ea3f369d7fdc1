//! The finished kit: panels with their holes, bolts, fittings. Read by every later stage, changed by none.

use super::coating::Coating;
use super::solids::{self, Solid};
use crate::catalogue::{Angle, Hardware, Material, Turnbuckle};
use crate::diag::Span;
use crate::geom::{Aabb, PanelFrame, Path, Placement, Plate, Point2, Point3, Vector3, VehicleFrame};
use crate::layout::{BoardId, BodyId, Engraving, Layout, Opening, Role};
use std::sync::{Arc, OnceLock};

/// Index of a bolt in its kit.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct BoltId(pub(crate) usize);

/// All parts of a kit.
#[derive(Debug)]
pub(crate) struct Kit {
    /// Boards, bodies, slides and drawers as laid out. A panel's id is its board's.
    pub(crate) layout: Layout,
    /// Panels in the order of the boards.
    pub(crate) panels: Vec<Panel>,
    /// Bolts with their hardware.
    pub(crate) bolts: Vec<Bolt>,
    /// Angles.
    pub(crate) angles: Vec<AnglePiece>,
    /// What holds the carcases to the vehicle, carcase by carcase.
    pub(crate) anchorages: Vec<Anchorage>,
    /// Turnbuckles.
    pub(crate) ties: Vec<Tie>,
    /// Finishes on panels, panel by panel.
    pub(crate) coatings: Vec<Coating>,
    /// Its solids, once somebody has asked for them.
    pub(super) solids: OnceLock<Vec<Solid>>,
}

impl Kit {
    /// Every solid of the finished kit, shut.
    pub(crate) fn solids(&self) -> &[Solid] {
        self.solids.get_or_init(|| solids::all(self))
    }

    /// The panel with this id.
    pub(crate) fn panel(&self, id: BoardId) -> &Panel {
        &self.panels[id.0]
    }

    /// The finishes on a panel.
    pub(crate) fn coatings_of(&self, id: BoardId) -> impl Iterator<Item = &Coating> {
        self.coatings.iter().filter(move |coating| coating.panel == id)
    }

    /// The bolt with this id.
    pub(crate) fn bolt(&self, id: BoltId) -> &Bolt {
        &self.bolts[id.0]
    }

    /// Whether a bolt holds what is put in once its carcase stands in the vehicle. A bolt through the carcase's side that holds
    /// a wing's angle goes in with the wing.
    pub(crate) fn holds_what_is_fitted_inside(&self, bolt: &Bolt) -> bool {
        let fitted = |id: &BoardId| self.panel(*id).role.is_fitted_inside();
        let joint = bolt.joint();
        let mut of_joint = self.layout.meetings.iter().filter(|meeting| meeting.name == joint);
        bolt.panels.iter().any(fitted)
            || of_joint.any(|meeting| fitted(&meeting.edge) || fitted(&meeting.face))
    }
}

/// A board with its true contour and holes.
#[derive(Clone, Debug)]
pub(crate) struct Panel {
    /// The same as its board's.
    pub(crate) name: String,
    /// What it is for.
    pub(crate) role: Role,
    /// The body that it moves with.
    pub(crate) body: BodyId,
    /// What it is made of.
    pub(crate) material: Arc<Material>,
    /// Outer contour with tabs and nut slots, counter-clockwise.
    pub(crate) outline: Path<PanelFrame>,
    /// Openings right through, clockwise.
    pub(crate) openings: Vec<Opening>,
    /// Texts on its face A.
    pub(crate) engravings: Vec<Engraving>,
    /// Round holes, by u, then v.
    pub(crate) bores: Vec<Bore>,
    /// Where nuts are held.
    pub(crate) nut_slots: Vec<NutSlot>,
    /// Where it stands.
    pub(crate) placement: Placement,
    /// Where the spec asks for it.
    pub(crate) span: Span,
}

impl Panel {
    /// The panel as a plate, without its round holes.
    pub(crate) fn plate(&self) -> Plate {
        Plate {
            outline: self.outline.clone(),
            openings: self.openings.iter().map(|opening| opening.path.clone()).collect(),
            thickness: self.material.actual,
            placement: self.placement,
        }
    }
}

/// A round hole right through a panel; it exists because its bolt passes.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Bore {
    /// Its centre.
    pub(crate) centre: Point2<PanelFrame>,
    /// mm.
    pub(crate) diameter: f64,
    /// The sink for a flush head, in face A.
    pub(crate) countersink: Option<Countersink>,
    /// Why it is there.
    pub(crate) bolt: BoltId,
}

impl Bore {
    /// mm across the hole where it is widest, its sink included.
    pub(crate) fn widest(&self) -> f64 {
        self.countersink.map_or(self.diameter, |sink| sink.diameter.max(self.diameter))
    }
}

/// A 90 degree sink for a countersunk head.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Countersink {
    /// mm at the panel's face.
    pub(crate) diameter: f64,
    /// mm from the face to where the sink meets the bore.
    pub(crate) depth: f64,
}

/// A slot at a panel's edge that holds a nut.
#[derive(Clone, Copy, Debug)]
pub(crate) struct NutSlot {
    /// Middle of the nut.
    pub(crate) centre: Point2<PanelFrame>,
    /// The bolt that goes into the nut.
    pub(crate) bolt: BoltId,
}

/// What a bolt does.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Purpose {
    /// Holds a corner or two faces together.
    Joint,
    /// Holds a slide's fixed member to the carcase.
    SlideFixed,
    /// Holds a slide's moving member to the drawer.
    SlideMoving,
    /// Holds a fixture: something set into a panel or standing on it.
    Fixture,
    /// Holds a carcase to the vehicle, by itself or with a turnbuckle.
    Anchor,
}

/// A bolt, placed once, in the vehicle frame.
#[derive(Clone, Debug)]
pub(crate) struct Bolt {
    /// Name, e.g. `main-base+main-side-left/1`.
    pub(crate) name: String,
    /// What it does.
    pub(crate) purpose: Purpose,
    /// Where the axis enters the first panel or metal under the head (or its washer).
    pub(crate) origin: Point3<VehicleFrame>,
    /// Unit vector from head to nut.
    pub(crate) direction: Vector3<VehicleFrame>,
    /// Bolt, washers, nut.
    pub(crate) hardware: Hardware,
    /// mm from `origin` to the bearing face of the nut or its washer.
    pub(crate) grip: f64,
    /// The panels that it passes through, from head to nut.
    pub(crate) panels: Vec<BoardId>,
    /// The panel whose slot holds the nut.
    pub(crate) held_in: Option<BoardId>,
    /// Slides in whose channels its head or nut lies, by their index among the mounts.
    pub(crate) slides: Vec<usize>,
    /// The fixture that it holds, by its index in the layout.
    pub(crate) fixture: Option<usize>,
    /// mm of finish under its head.
    pub(crate) padding: f64,
    /// mm by which its holes are longer than round ones along x and y, either way.
    pub(crate) slack: (f64, f64),
    /// The body that it moves with.
    pub(crate) body: BodyId,
    /// Space that head and nut take outside the panels.
    pub(crate) solids: BoltSolids,
    /// Where the spec asks for it.
    pub(crate) span: Span,
}

impl Bolt {
    /// The name of its joint, slide, fixture or point, and its number there.
    pub(crate) fn parted_name(&self) -> (&str, &str) {
        self.name.rsplit_once('/').unwrap_or((&self.name, ""))
    }

    /// The name of its joint, slide, fixture or point.
    pub(crate) fn joint(&self) -> &str {
        self.parted_name().0
    }
}

/// The boxes that a bolt's parts fill, square on the axis: a little more than the round parts themselves.
#[derive(Clone, Copy, Debug)]
pub(crate) struct BoltSolids {
    /// Head and washer; `None` for a flush head.
    pub(crate) head: Option<Aabb>,
    /// Washers, nut and thread's end; `None` for a nut inside a panel and where there is none.
    pub(crate) nut: Option<Aabb>,
    /// The shank, over the grip.
    pub(crate) shank: Aabb,
}

/// A cut piece of aluminium angle with its holes.
#[derive(Clone, Debug)]
pub(crate) struct AnglePiece {
    /// Name, e.g. `main-base+main-side-left/angle-1`.
    pub(crate) name: String,
    /// The section.
    pub(crate) angle: Arc<Angle>,
    /// mm.
    pub(crate) length: f64,
    /// The body that it moves with.
    pub(crate) body: BodyId,
    /// The edge board, then the face board.
    pub(crate) panels: [BoardId; 2],
    /// The leg on the edge board, then the leg on the face board.
    pub(crate) legs: [Aabb; 2],
    /// mm from the heel's outside corner to the line of holes: in the leg on the edge board, then in the other.
    pub(crate) gauges: [f64; 2],
    /// Hole positions, mm from the piece's start, in the leg on the edge board, then in the other.
    pub(crate) holes: [Vec<f64>; 2],
    /// mm.
    pub(crate) hole_diameter: f64,
    /// Where the spec asks for its joint.
    pub(crate) span: Span,
}

impl AnglePiece {
    /// kg after drilling.
    pub(crate) fn mass(&self) -> f64 {
        let holes = self.holes.iter().map(Vec::len).sum::<usize>() as f64;
        let drilled = holes * std::f64::consts::PI * self.hole_diameter.powi(2) / 4.0 * self.angle.thickness;
        // kg/m and mm; drilled volume in mm3 at the angle's density.
        self.angle.mass_per_metre() * self.length / 1e3 - drilled * self.angle.density * 1e-9
    }
}

/// What holds a carcase to a point of the vehicle.
#[derive(Clone, Debug)]
pub(crate) struct Anchorage {
    /// Name of the point.
    pub(crate) point: String,
    /// Id of the carcase.
    pub(crate) carcase: String,
    /// Reference of an engineer's approval.
    pub(crate) engineer: Option<String>,
    /// Its bolt: into the point, or the one that holds the eye on a panel.
    pub(crate) bolt: BoltId,
    /// The turnbuckle between two eyes, if that is how it is held, by its index among the kit's.
    pub(crate) tie: Option<usize>,
}

/// A turnbuckle, hooked into an eye in the vehicle's point and into one on a panel.
#[derive(Clone, Debug)]
pub(crate) struct Tie {
    /// Name, e.g. `main+front-left/turnbuckle`.
    pub(crate) name: String,
    /// Its data.
    pub(crate) turnbuckle: Arc<Turnbuckle>,
    /// Middle of the eye in the point.
    pub(crate) from: Point3<VehicleFrame>,
    /// Middle of the eye on the panel.
    pub(crate) to: Point3<VehicleFrame>,
    /// The bolt that holds the eye on the panel.
    pub(crate) bolt: BoltId,
    /// The box around the eye in the point.
    pub(crate) eye: Aabb,
    /// The body that it holds.
    pub(crate) body: BodyId,
}
