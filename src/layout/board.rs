//! A board: a panel before its holes, and the rigid body that it belongs to.

use super::finish::Coat;
use super::legend::Engraving;
use crate::catalogue::Material;
use crate::diag::Span;
use crate::geom::stretches::{self, Stretches, Stroke};
use crate::geom::tolerance::{SAME_LENGTH, TOUCH};
use crate::geom::{
    Aabb, Axes, PanelFrame, Path, Placement, Plate, Point2, Point3, Swing, Vector3, VehicleFrame, snap,
};
use std::sync::Arc;

/// mm along a line in a board between places that are looked at.
const ALONG_RUN: f64 = 1.0;

/// Index of a board in its layout.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(crate) struct BoardId(pub(crate) usize);

/// Index of a body in its layout.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(crate) struct BodyId(pub(crate) usize);

/// Boards that move together.
#[derive(Clone, Debug)]
pub(crate) struct Body {
    /// The carcase's id, or the drawer's name.
    pub(crate) name: String,
    /// Id of the carcase that it is or belongs to.
    pub(crate) carcase: String,
    /// From shut to fully open; zero for what is bolted down.
    pub(crate) travel: Vector3<VehicleFrame>,
    /// mm by which it goes down once it is open.
    pub(crate) drop: f64,
    /// How it turns, if it is a door.
    pub(crate) swing: Option<Swing>,
}

impl Body {
    /// Whether it moves.
    pub(crate) fn moves(&self) -> bool {
        self.slides() || self.swing.is_some()
    }

    /// Whether it moves straight.
    pub(crate) fn slides(&self) -> bool {
        self.travel != Vector3::zero()
    }
}

/// What a board is for. Its words name the panels.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Role {
    /// A false floor.
    Floor,
    /// Lower board of a carcase.
    Base,
    /// Upper board of a carcase.
    Deck,
    /// Outer upright.
    Side,
    /// Board at the end away from the tailgate.
    Back,
    /// Upright between columns.
    Divider,
    /// Level between rows.
    Shelf,
    /// A false front, or the fixed front of a blank cell.
    Front,
    /// A drawer box's side.
    BoxSide,
    /// A drawer box's front or back.
    BoxEnd,
    /// A drawer box's bottom.
    BoxBottom,
    /// A tray's platform.
    Platform,
    /// Fills the room between a carcase and the vehicle's side.
    Wing,
    /// Lies loose in a hatch.
    Lid,
    /// A strip under the rim of a hatch, on which its lid lies.
    Ledge,
}

impl Role {
    /// Whether such a board is put in once its carcase stands in the vehicle: what fills the room beside it.
    pub(crate) fn is_fitted_inside(self) -> bool {
        matches!(self, Role::Wing | Role::Lid | Role::Ledge)
    }
}

/// What an opening is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum OpeningKind {
    /// Takes another panel's tab.
    TabSlot,
    /// A bolt into a point of the vehicle, whose place is known only so well.
    BoltSlot,
    /// Closed by a lid.
    Hatch,
    /// A finger goes through it to lift the panel out.
    FingerHole,
    /// For air, a cable, a fitting.
    Cutout,
    /// As drawn; what for, the drawing does not say.
    Drawn,
}

impl OpeningKind {
    /// The word in `kit.json` and tables.
    pub(crate) fn word(self) -> &'static str {
        match self {
            OpeningKind::TabSlot => "tab-slot",
            OpeningKind::BoltSlot => "bolt-slot",
            OpeningKind::Hatch => "hatch",
            OpeningKind::FingerHole => "finger-hole",
            OpeningKind::Cutout => "cutout",
            OpeningKind::Drawn => "drawn",
        }
    }
}

/// A cut-out right through a panel.
#[derive(Clone, Debug)]
pub(crate) struct Opening {
    /// What it is for.
    pub(crate) kind: OpeningKind,
    /// Clockwise.
    pub(crate) path: Path<PanelFrame>,
    /// The joint or the bolt that it belongs to; for a hatch and a finger hole the lid, for a cut-out its
    /// name, for what is drawn the panel.
    pub(crate) joint: String,
}

/// A board, placed, without holes.
#[derive(Clone, Debug)]
pub(crate) struct Board {
    /// The panel's name, the same everywhere.
    pub(crate) name: String,
    /// What it is for.
    pub(crate) role: Role,
    /// The body that it moves with.
    pub(crate) body: BodyId,
    /// What it is made of.
    pub(crate) material: Arc<Material>,
    /// The box that it fills.
    pub(crate) aabb: Aabb,
    /// The panel frame: origin at the corner with the least u, v and w.
    pub(crate) placement: Placement,
    /// Its contour before tabs and nut slots, counter-clockwise; it reaches from 0 to the box's size along u
    /// and v.
    pub(crate) shape: Path<PanelFrame>,
    /// What is cut out of it whatever its joints are: hatches, finger holes, cut-outs.
    pub(crate) openings: Vec<Opening>,
    /// Texts on its face A.
    pub(crate) engravings: Vec<Engraving>,
    /// What covers its faces; one for each at most.
    pub(crate) coats: Vec<Coat>,
    /// Whether bolt heads on face A must lie flush: another part lies or moves close to it.
    pub(crate) flush_face_a: bool,
    /// Where the spec asks for it.
    pub(crate) span: Span,
}

/// The box around some boards.
pub(crate) fn around<'a>(boards: impl IntoIterator<Item = &'a Board>) -> Aabb {
    Aabb::around(boards.into_iter().flat_map(|board| [board.aabb.low, board.aabb.high]))
}

impl Board {
    /// A board that fills `aabb`, with face A looking along `face` (a unit vector along an axis). Its u runs
    /// along the longer side, so that a grain gives its strength to the longer span; a square board's runs
    /// along the earlier of x, y, z.
    pub(crate) fn filling(
        name: String,
        role: Role,
        body: BodyId,
        material: Arc<Material>,
        aabb: Aabb,
        face: Vector3<VehicleFrame>,
        span: Span,
    ) -> Self {
        // On the grid, so that what is printed of sizes and places adds up.
        let grid = |p: Point3<VehicleFrame>| Point3::new(snap(p.x), snap(p.y), snap(p.z));
        let aabb = Aabb { low: grid(aabb.low), high: grid(aabb.high) };
        let size = aabb.size();
        let axes = [Vector3::new(1.0, 0.0, 0.0), Vector3::new(0.0, 1.0, 0.0), Vector3::new(0.0, 0.0, 1.0)];
        let mut in_plane = axes.into_iter().filter(|axis| axis.dot(face).abs() < 0.5);
        let (first, second) = (in_plane.next().unwrap_or(face), in_plane.next().unwrap_or(face));
        let (along_first, along_second) = (size.dot(first), size.dot(second));
        let (u, length, width) = if along_first + SAME_LENGTH >= along_second {
            (first, along_first, along_second)
        } else {
            (second, along_second, along_first)
        };
        let axes = Axes::from_length_and_face(u, face);
        let origin = least_corner(aabb, axes);
        Board {
            name,
            role,
            body,
            material,
            aabb,
            placement: Placement { origin, axes },
            shape: Path::rectangle(0.0, 0.0, snap(length), snap(width)),
            openings: Vec::new(),
            engravings: Vec::new(),
            coats: Vec::new(),
            flush_face_a: false,
            span,
        }
    }

    /// The same board, with flush bolt heads on face A.
    pub(crate) fn flush(mut self) -> Self {
        self.flush_face_a = true;
        self
    }

    /// The same board with another contour, given as places in the vehicle on any level of its thickness, in
    /// either order. It must reach to all four sides of the board's box. Inside corners are rounded by `radius`
    /// mm, since the tool is round.
    pub(crate) fn shaped(
        mut self,
        corners: impl IntoIterator<Item = Point3<VehicleFrame>>,
        radius: f64,
    ) -> Self {
        let in_plane = |p| {
            let p = self.placement.to_panel(p);
            Point2::new(snap(p.x), snap(p.y))
        };
        let sharp = Path::polygon(corners.into_iter().map(in_plane)).counter_clockwise();
        self.shape = sharp.with_round_inside_corners(radius);
        self
    }

    /// A closed path in the vehicle's plan (x forward, y left, seen from above) on this lying board, counter-clockwise
    /// seen from face A.
    pub(crate) fn plan_on_board(&self, plan: &Path<VehicleFrame>) -> Path<PanelFrame> {
        let z = self.aabb.low.z;
        let place = |p: Point2<VehicleFrame>| self.placement.to_panel(Point3::new(p.x, p.y, z)).xy();
        let path = if self.normal().z > 0.0 { plan.moved(place) } else { plan.mirrored(place) };
        path.counter_clockwise()
    }

    /// The same lying board with the contour that `plan` has in the vehicle's plan; it must reach to all four sides of
    /// the board's box.
    pub(crate) fn cut_to(mut self, plan: &Path<VehicleFrame>) -> Self {
        self.shape = self.plan_on_board(plan);
        self
    }

    /// Whether the board is the whole rectangle of its box.
    pub(crate) fn fills_its_box(&self) -> bool {
        let (low, high) = self.shape.bounds();
        let sides = high - low;
        self.openings.is_empty() && sides.x * sides.y - self.shape.area() < SAME_LENGTH * (sides.x + sides.y)
    }

    /// mm of material around `p`, to the contour or an opening; nothing where there is none.
    pub(crate) fn to_edge(&self, p: Point2<PanelFrame>) -> f64 {
        if !self.has_material(p, 0.0) {
            return 0.0;
        }
        let to_openings = self.openings.iter().map(|opening| opening.path.distance_to(p));
        to_openings.fold(self.shape.distance_to(p), f64::min)
    }

    /// Whether there is material at `p` and `margin` mm around it.
    pub(crate) fn has_material(&self, p: Point2<PanelFrame>, margin: f64) -> bool {
        let off_openings =
            |opening: &Opening| !opening.path.contains(p) && opening.path.distance_to(p) >= margin;
        self.shape.contains(p)
            && self.shape.distance_to(p) >= margin
            && self.openings.iter().all(off_openings)
    }

    /// Whether there is material under all that a contour goes around: no edge of the board or of an opening touches it.
    pub(crate) fn has_all_of(&self, contour: &Path<PanelFrame>) -> bool {
        let inside = contour.vertices().iter().all(|vertex| self.has_material(vertex.point, 0.0));
        let off = |rim: &Path<PanelFrame>| {
            rim.apart(contour) > TOUCH && !rim.vertices().iter().any(|vertex| contour.contains(vertex.point))
        };
        inside && off(&self.shape) && self.openings.iter().all(|opening| off(&opening.path))
    }

    /// Where a straight line from one place to another first runs within the contour, between the faces, as a share of the
    /// way. Openings count as wood, but for those of the joints or cut-outs in `through`.
    pub(crate) fn crossed_by(
        &self,
        from: Point3<VehicleFrame>,
        to: Point3<VehicleFrame>,
        through: &[&str],
    ) -> Option<f64> {
        let [a, b] = [from, to].map(|place| self.placement.to_panel(place));
        let (low, high) = (SAME_LENGTH, self.thickness() - SAME_LENGTH);
        // The part of the way between the faces.
        let (start, end) = if (b.z - a.z).abs() < TOUCH {
            if !(low..=high).contains(&a.z) {
                return None;
            }
            (0.0, 1.0)
        } else {
            let [one, other] = [low, high].map(|level| (level - a.z) / (b.z - a.z));
            (one.min(other).max(0.0), one.max(other).min(1.0))
        };
        if start > end {
            return None;
        }
        let steps = ((to - from).length() * (end - start) / ALONG_RUN).ceil().max(1.0);
        let shares =
            (0..).map(f64::from).take_while(|i| *i <= steps).map(|i| start + (end - start) * i / steps);
        let goes_through = |p| {
            let open =
                |opening: &Opening| through.contains(&opening.joint.as_str()) && opening.path.contains(p);
            self.openings.iter().any(open)
        };
        let mut shares = shares.filter(|&share| {
            let p = a.lerp(b, share).xy();
            self.shape.contains(p) && !goes_through(p)
        });
        shares.next()
    }

    /// Where a stroke runs through material.
    pub(crate) fn material_along(&self, stroke: &Stroke<PanelFrame>) -> Stretches {
        let inside = stroke.inside(&self.shape);
        let without = |left: Stretches, opening: &Opening| {
            stretches::less(&left, &stroke.inside(&opening.path), stroke.length)
        };
        self.openings.iter().fold(inside, without)
    }

    /// The board as a plate.
    pub(crate) fn plate(&self) -> Plate {
        Plate {
            outline: self.shape.clone(),
            openings: Vec::new(),
            thickness: self.thickness(),
            placement: self.placement,
        }
    }

    /// Direction out of face A.
    pub(crate) fn normal(&self) -> Vector3<VehicleFrame> {
        self.placement.axes.w
    }

    /// mm.
    pub(crate) fn thickness(&self) -> f64 {
        self.material.actual
    }
}

/// The corner of a box where u, v and w are all least.
fn least_corner(aabb: Aabb, axes: Axes) -> Point3<VehicleFrame> {
    let pick = |low: f64, high: f64, forwards: bool| if forwards { low } else { high };
    let sum = axes.u + axes.v + axes.w;
    Point3::new(
        pick(aabb.low.x, aabb.high.x, sum.x > 0.0),
        pick(aabb.low.y, aabb.high.y, sum.y > 0.0),
        pick(aabb.low.z, aabb.high.z, sum.z > 0.0),
    )
}
