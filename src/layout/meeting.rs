//! Which board meets which, and how they are to be joined.

use super::board::{Board, BoardId, Role};
use super::{Layout, defaults};
use crate::catalogue::Angle;
use crate::diag::{At, Span};
use crate::geom::stretches::{self, Stroke};
use crate::geom::tolerance::{SAME_LENGTH, TOUCH};
use crate::geom::{Aabb, Point3, Vector3, VehicleFrame};
use crate::spec::{Design, JointKind};
use std::sync::Arc;

/// How a joint is to be made, after every rule that applies to it.
#[derive(Clone, Debug)]
pub(crate) struct JointPlan {
    /// Its kind.
    pub(crate) kind: JointKind,
    /// The angle section, for joints of that kind.
    pub(crate) angle: Option<Arc<Angle>>,
    /// Thread size that the spec asks for; otherwise it follows from the angle or from the nut that fits.
    pub(crate) size: Option<At<String>>,
    /// mm. Most that two neighbouring bolts may be apart.
    pub(crate) spacing: f64,
    /// Positions given outright, mm from the joint's start.
    pub(crate) at: Option<At<Vec<At<f64>>>>,
    /// Where the rule stands that asks for it, or the carcase.
    pub(crate) span: Span,
}

/// An edge of one board against a face of another.
#[derive(Clone, Debug)]
pub(crate) struct Meeting {
    /// `PANEL+PANEL`, the names in alphabetical order.
    pub(crate) name: String,
    /// The board whose edge meets.
    pub(crate) edge: BoardId,
    /// The board whose face is met.
    pub(crate) face: BoardId,
    /// Middle of the edge's thickness in the plane of the face, where the joint starts: at the least x, y or z.
    pub(crate) start: Point3<VehicleFrame>,
    /// Unit vector along the joint.
    pub(crate) along: Vector3<VehicleFrame>,
    /// mm.
    pub(crate) length: f64,
    /// Unit vector from the met face into the edge board.
    pub(crate) into_edge: Vector3<VehicleFrame>,
    /// mm from the edge board's face, on the angle's side, to where the met board begins: 0 where the edge stands on
    /// it, more where the edge lies past it, as a wing's does beside the deck over a carcase's side.
    pub(crate) face_from: f64,
    /// Sides of the edge board on which an angle may lie, in order of preference.
    pub(crate) inside: Vec<Vector3<VehicleFrame>>,
    /// How it is made.
    pub(crate) plan: JointPlan,
}

impl Meeting {
    /// The boxes of an angle's legs on the edge board and on the met one, from `s0` to `s1` mm along the joint, with
    /// the angle on the side `inside` of the edge board, which is `thickness` mm thick.
    pub(crate) fn legs(
        &self,
        angle: &Angle,
        inside: Vector3<VehicleFrame>,
        thickness: f64,
        (s0, s1): (f64, f64),
    ) -> [Aabb; 2] {
        let corner = self.start + inside * (thickness / 2.0);
        let part = |out: f64, up: f64| {
            Aabb::around([
                corner + self.along * s0,
                corner + self.along * s1 + inside * out + self.into_edge * up,
            ])
        };
        [part(angle.thickness, angle.leg), part(angle.leg, angle.thickness)]
    }
}

/// A face against a face, bolted through both.
#[derive(Clone, Debug)]
pub(crate) struct FaceMeeting {
    /// `PANEL+PANEL`, the names in alphabetical order.
    pub(crate) name: String,
    /// The board on whose side the heads lie.
    pub(crate) head: BoardId,
    /// The board on whose side the nuts lie.
    pub(crate) nut: BoardId,
    /// Both faces' common rectangle: a flat box in the plane where they touch.
    pub(crate) contact: Aabb,
    /// How it is made.
    pub(crate) plan: JointPlan,
}

/// Name of the joint of two boards.
pub(super) fn joint_name(layout: &Layout, a: BoardId, b: BoardId) -> String {
    let (a, b) = (&layout.board(a).name, &layout.board(b).name);
    if a <= b { format!("{a}+{b}") } else { format!("{b}+{a}") }
}

/// The line along which the edge of one board meets the face of another.
pub(super) struct ContactLine {
    /// Middle of the edge's thickness, at the least x, y or z.
    pub(super) start: Point3<VehicleFrame>,
    /// Unit vector along it.
    pub(super) along: Vector3<VehicleFrame>,
    /// mm.
    pub(super) length: f64,
    /// Unit vector from the met face into the edge board.
    pub(super) into_edge: Vector3<VehicleFrame>,
    /// How the face lies to the edge's thickness.
    pub(super) cover: Cover,
}

/// How a face lies to the thickness of the edge that comes up to it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Cover {
    /// It covers all of it.
    Whole,
    /// It covers a part of it.
    Part,
    /// It lies in the plane of the edge, but begins beside it.
    Beside {
        /// mm from the edge board's nearer face.
        from: f64,
        /// Unit vector from the edge board towards it.
        towards: Vector3<VehicleFrame>,
    },
}

/// Where the edge of one board meets the face of another: along one line, in as many pieces as notches in either
/// board leave of it; none if they do not touch. A face that begins no more than `beside` mm past the edge's
/// thickness counts, too.
pub(super) fn contact_lines(
    layout: &Layout,
    edge: BoardId,
    face: BoardId,
    beside: Option<f64>,
) -> Vec<ContactLine> {
    let (edge, face) = (layout.board(edge), layout.board(face));
    let low = edge.aabb.low.max(face.aabb.low);
    let high = edge.aabb.high.min(face.aabb.high);
    let across = positive(face.normal());
    let along = positive(edge.normal().cross(face.normal()));
    let reach = high - low;
    if reach.dot(across).abs() > SAME_LENGTH || reach.dot(along) <= SAME_LENGTH {
        return Vec::new();
    }
    let centre = |aabb: Aabb| (aabb.low.to_vector() + aabb.high.to_vector()) / 2.0;
    let towards_edge = (centre(edge.aabb) - centre(face.aabb)).dot(across);
    let thickness = positive(edge.normal());
    // The edge's own mid-plane, even where the face covers only a part of the edge.
    let start = low + thickness * (centre(edge.aabb) - low.to_vector()).dot(thickness);
    let into_edge = across * towards_edge.signum();
    let line = |board: &Board, start: Point3<VehicleFrame>| Stroke {
        start: board.placement.to_panel(start).xy(),
        along: board.placement.direction_to_panel(along).xy(),
        length: reach.dot(along),
    };
    let shared = reach.dot(thickness);
    let (cover, covering) = if shared > SAME_LENGTH || beside.is_none() {
        let on_face = line(face, start);
        let to_rim = edge.thickness() / 2.0 - TOUCH;
        // Where the face covers only a part of the edge, the mid-plane itself may lie beside it.
        let covering = [-to_rim, 0.0, to_rim]
            .map(|by| face.material_along(&on_face.beside(by)))
            .iter()
            .fold(Vec::new(), |all, some| stretches::either(&all, some));
        let whole = shared >= edge.thickness() - SAME_LENGTH;
        (if whole { Cover::Whole } else { Cover::Part }, covering)
    } else if -shared <= beside.unwrap_or_default() {
        let from = (-shared).max(0.0);
        let towards = thickness * (centre(face.aabb) - centre(edge.aabb)).dot(thickness).signum();
        let begins = start + towards * (edge.thickness() / 2.0 + from + TOUCH);
        (Cover::Beside { from, towards }, face.material_along(&line(face, begins)))
    } else {
        return Vec::new();
    };
    stretches::common(&line(edge, start).on_sides(&edge.shape), &covering)
        .into_iter()
        .map(|(from, to)| ContactLine {
            start: start + along * from,
            along,
            length: to - from,
            into_edge,
            cover,
        })
        .collect()
}

/// The axis direction of `v` that points to larger coordinates.
fn positive(v: Vector3<VehicleFrame>) -> Vector3<VehicleFrame> {
    Vector3::new(v.x.abs(), v.y.abs(), v.z.abs())
}

/// The side of another carcase that a side stands against, with the rectangle where they touch.
pub(super) fn side_behind(layout: &Layout, id: BoardId) -> Option<(BoardId, Aabb)> {
    let board = layout.board(id);
    if board.role != Role::Side {
        return None;
    }
    layout.boards.iter().enumerate().find_map(|(i, other)| {
        if other.role != Role::Side || other.body == board.body {
            return None;
        }
        let contact =
            Aabb { low: board.aabb.low.max(other.aabb.low), high: board.aabb.high.min(other.aabb.high) };
        let size = contact.size();
        let touches = size.y.abs() < SAME_LENGTH && size.x > SAME_LENGTH && size.z > SAME_LENGTH;
        touches.then_some((BoardId(i), contact))
    })
}

/// Carcases that stand side by side, touching, are bolted together through their sides; one that stands on another's deck is bolted
/// down through its base. Other bolt heads in the faces that touch lie flush.
pub(super) fn join_modules(layout: &mut Layout, design: &Design) {
    for head in (0..layout.boards.len()).map(BoardId) {
        let Some((nut, contact)) = side_behind(layout, head) else { continue };
        layout.boards[head.0].flush_face_a = true;
        layout.sides_behind.insert(head, nut);
        // The right side of the module on the left carries the heads.
        if layout.board(head).aabb.low.y < layout.board(nut).aabb.low.y {
            continue;
        }
        bolt_through(layout, design, (head, nut), contact);
    }
    for head in (0..layout.boards.len()).map(BoardId) {
        for (nut, contact) in decks_below(layout, head) {
            layout.boards[nut.0].flush_face_a = true;
            bolt_through(layout, design, (head, nut), contact);
        }
    }
}

/// mm inside a carcase's outer faces within which walls and their angles stand on its base: 18 and 30 with a little room. Common
/// practice, no source.
const WALLS: f64 = 55.0;

/// The decks of other carcases on which a base stands, and where a bolt may hold it there: inside its walls.
fn decks_below(layout: &Layout, id: BoardId) -> Vec<(BoardId, Aabb)> {
    let base = layout.board(id);
    if base.role != Role::Base {
        return Vec::new();
    }
    let decks = layout.boards.iter().enumerate();
    let decks = decks.filter(|(_, other)| other.role == Role::Deck && other.body != base.body);
    let on = decks.map(|(i, deck)| {
        let contact =
            Aabb { low: base.aabb.low.max(deck.aabb.low), high: base.aabb.high.min(deck.aabb.high) };
        (BoardId(i), contact)
    });
    on.filter_map(|(nut, contact)| {
        let walls = Vector3::new(WALLS, WALLS, 0.0);
        let inner = Aabb { low: contact.low + walls, high: contact.high - walls };
        let size = inner.size();
        let stands = size.z.abs() < SAME_LENGTH && size.x > SAME_LENGTH && size.y > SAME_LENGTH;
        stands.then_some((nut, inner))
    })
    .collect()
}

/// Bolts two modules together where they touch.
fn bolt_through(layout: &mut Layout, design: &Design, (head, nut): (BoardId, BoardId), contact: Aabb) {
    let plan = JointPlan {
        kind: JointKind::Face,
        angle: None,
        size: design.bolts.size.clone(),
        spacing: design.bolts.spacing.map_or(defaults::BOLT_SPACING, |spacing| spacing.value) * 2.0,
        at: None,
        span: layout.board(head).span,
    };
    let name = joint_name(layout, head, nut);
    layout.face_meetings.push(FaceMeeting { name, head, nut, contact, plan });
}
