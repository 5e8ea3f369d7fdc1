//! Hatches: a rectangular opening in a lying board, a lid that lies loose in it, and strips bolted under its rim.
//!
//! Takes any lying board of a carcase and a rectangle in the vehicle's plan; adds the opening, the lid as a body of its
//! own and the strips, which meet the board face to face. A strip is left out where it has no room; three must stay.
//! The lid of a base that lies on the floor lies there, too, and needs none.

use super::board::{Board, BoardId, Body, BodyId, Opening, OpeningKind, Role};
use super::carcase::{Builder, UP};
use super::hatch_rules::{HATCH_BLOCKED, HATCH_LEDGE_TOO_SMALL, HATCH_OFF_BOARD, HATCH_TOO_SMALL};
use super::join::JointRules;
use super::{Layout, Meeting};
use crate::diag::{At, Finding, Span};
use crate::geom::rounded::{self, Corner};
use crate::geom::stretches::Stroke;
use crate::geom::tolerance::{SAME_LENGTH, TOUCH};
use crate::geom::{Aabb, Path, Point2, Point3, Vector3, VehicleFrame};
use crate::number::decimal;
use crate::spec::Hatch;
use std::sync::Arc;

/// mm. Radius of the opening's corners, where the tool's is not larger: a lid with sharper ones jams and chips. Common
/// practice, no source.
const CORNER: f64 = 12.0;

/// mm of board that must stay between an opening and the board's edge. Common practice, no source.
const LEAST_RIM: f64 = 20.0;

/// mm of ledge under a lid, at least, and on how many sides. Common practice, no source.
const LEAST_LEDGE: f64 = 15.0;
const LEAST_SIDES: usize = 3;

/// Thread of the bolts through board and strip.
const STRIP_SIZE: &str = "M5";

/// mm by which a strip lies under the board: room for one row of its bolts, four diameters from either edge.
const BEARING: f64 = 40.0;

/// mm of a strip, at least: room for two bolts.
const SHORTEST_STRIP: f64 = 60.0;

/// mm above and below a board in which nothing may stand over a hatch.
const AROUND: f64 = 1.0;

/// A hatch as laid out: what its user wants to know.
#[derive(Clone, Debug)]
pub(crate) struct HatchSummary {
    /// The panel that it is in.
    pub(crate) host: BoardId,
    /// The lid.
    pub(crate) lid: BoardId,
    /// The opening in plan: lower right and upper left corner seen from above with x to the right.
    pub(crate) opening: (Point2<VehicleFrame>, Point2<VehicleFrame>),
    /// mm by which the strips reach into the opening.
    pub(crate) ledge: f64,
    /// The sides that have a strip: `rear`, `front`, `left`, `right`; none if the lid lies on the floor.
    pub(crate) sides: Vec<&'static str>,
    /// mm, diameter.
    pub(crate) finger_hole: f64,
}

/// A rectangle in plan.
#[derive(Clone, Copy, Debug)]
struct Rectangle {
    low: Point2<VehicleFrame>,
    high: Point2<VehicleFrame>,
}

impl Rectangle {
    fn grown(self, x: f64, y: f64) -> Self {
        let by = euclid::Vector2D::new(x, y);
        Rectangle { low: self.low - by, high: self.high + by }
    }

    fn corners(self) -> [Point2<VehicleFrame>; 4] {
        let Rectangle { low, high } = self;
        [low, Point2::new(high.x, low.y), high, Point2::new(low.x, high.y)]
    }

    /// Counter-clockwise, its corners rounded; `None` if it is too small for that.
    fn rounded(self, radius: f64) -> Option<Path<VehicleFrame>> {
        let size = self.high - self.low;
        let corners = self.corners().map(|point| Corner { point, radius });
        (size.x > 0.0 && size.y > 0.0).then(|| rounded::closed(&corners).ok()).flatten()
    }

    /// The box over it between two heights.
    fn between(self, low: f64, high: f64) -> Aabb {
        Aabb {
            low: Point3::new(self.low.x, self.low.y, low),
            high: Point3::new(self.high.x, self.high.y, high),
        }
    }
}

/// A strip that could lie under one side of an opening.
struct Strip {
    side: &'static str,
    /// All of it.
    whole: Rectangle,
    /// The part under the board.
    bearing: Rectangle,
    /// mm along the opening's side.
    length: f64,
}

impl Builder<'_> {
    /// The hatches of the carcase.
    pub(super) fn own_hatches(&mut self, base: BoardId, deck: BoardId) -> Option<()> {
        let carcase = self.carcase;
        let in_deck = self.hatches(deck, &carcase.deck_hatches);
        self.hatches(base, &carcase.base_hatches).and(in_deck)
    }

    /// The hatches of one board. Every one is looked at, so that all faults are told.
    pub(super) fn hatches(&mut self, board: BoardId, hatches: &[Hatch]) -> Option<()> {
        let outward = outward(self.layout.board(board));
        let mut complete = Some(());
        for (i, hatch) in hatches.iter().enumerate() {
            let middle = Point2::new(hatch.x.value, outward * hatch.y.value);
            let half = euclid::Vector2D::new(hatch.length.value, hatch.width.value) / 2.0;
            let opening = Rectangle { low: middle - half, high: middle + half };
            complete = complete.and(self.hatch(board, opening, hatch, i + 1));
        }
        complete
    }

    /// Cuts the hatch with the number `number` into a lying board. `None` if it does not fit; the findings say why.
    fn hatch(&mut self, board: BoardId, opening: Rectangle, hatch: &Hatch, number: usize) -> Option<()> {
        let host = self.layout.board(board).clone();
        let name = format!("{}-lid-{number}", host.name);
        let radius = CORNER.max(self.design.workshop.tool.diameter.value / 2.0);
        let on_floor = self.lies_on_floor(&host, opening);
        let ledge = if on_floor { 0.0 } else { hatch.ledge.value };
        let path = self.sound_opening(&host, opening, hatch, (radius, ledge))?;
        self.nothing_stands_there(&host, opening, hatch)?;
        let strips = if on_floor { Vec::new() } else { self.strips(&host, board, opening, hatch)? };
        self.layout.boards[board.0].openings.push(Opening {
            kind: OpeningKind::Hatch,
            path: host.plan_on_board(&path).clockwise(),
            joint: name.clone(),
        });
        let sides = strips.iter().map(|strip| strip.side).collect();
        for strip in strips {
            self.strip(&host, board, &strip, number, hatch.span);
        }
        let lid = self.lid(&host, name, opening, (hatch, radius))?;
        self.layout.hatches.push(HatchSummary {
            host: board,
            lid,
            opening: (opening.low, opening.high),
            ledge,
            sides,
            finger_hole: hatch.finger_hole.value,
        });
        Some(())
    }

    /// Whether a base lies on the vehicle's floor, or on a false one that is under all of the opening.
    fn lies_on_floor(&self, host: &Board, opening: Rectangle) -> bool {
        let z = host.aabb.low.z;
        let carries = |floor: &Board| {
            let Aabb { low, high } = floor.aabb;
            floor.role == Role::Floor
                && (high.z - z).abs() <= SAME_LENGTH
                && low.x <= opening.low.x
                && low.y <= opening.low.y
                && opening.high.x <= high.x
                && opening.high.y <= high.y
        };
        host.role == Role::Base && (z.abs() <= SAME_LENGTH || self.layout.boards.iter().any(carries))
    }

    /// Nothing of the same carcase that does not move stands or hangs where the board is to be cut out.
    fn nothing_stands_there(&mut self, host: &Board, opening: Rectangle, hatch: &Hatch) -> Option<()> {
        let solid = opening.between(host.aabb.low.z - AROUND, host.aabb.high.z + AROUND);
        let of_body = |other: &&Board| other.body == host.body && other.name != host.name;
        let boards = self.layout.boards.iter().filter(of_body).map(|other| (&other.name, other.aabb));
        let legs = legs(self.layout).map(|(meeting, leg)| (&meeting.name, leg));
        let blocking = boards.chain(legs).find(|(_, room)| room.overlap(solid) > TOUCH);
        let Some(name) = blocking.map(|(name, _)| name.clone()) else { return Some(()) };
        let message = format!("`{name}` stands where the opening would be");
        let help = "move the hatch, or make it smaller";
        self.findings.push(Finding::new(&HATCH_BLOCKED, hatch.span, message).on(&host.name).help(help));
        None
    }

    /// The opening's contour in plan, if lid, finger hole and rim have room.
    fn sound_opening(
        &mut self,
        host: &Board,
        opening: Rectangle,
        hatch: &Hatch,
        (radius, ledge): (f64, f64),
    ) -> Option<Path<VehicleFrame>> {
        let size = opening.high - opening.low;
        let free = size.x.min(size.y) - 2.0 * ledge;
        let finger = hatch.finger_hole.value;
        let path = opening.rounded(radius).filter(|_| size.x.min(size.y) > 2.0 * (hatch.gap.value + radius));
        if path.is_none() || free + SAME_LENGTH < finger {
            let [x, y, free, finger] = [size.x, size.y, free, finger].map(|length| decimal(length, 1));
            let message = format!(
                "an opening of {x} x {y} mm leaves {free} mm between its ledges for a finger hole of {finger} mm"
            );
            let help = "make the opening larger, or `ledge`, `gap` or `finger_hole` smaller";
            self.findings.push(Finding::new(&HATCH_TOO_SMALL, hatch.span, message).on(&host.name).help(help));
            return None;
        }
        let path = path?;
        let on_board = host.plan_on_board(&path);
        let inside = on_board.vertices().iter().all(|vertex| host.has_material(vertex.point, 0.0));
        let others = host.openings.iter().map(|opening| &opening.path);
        let rim = std::iter::once(&host.shape).chain(others).map(|other| on_board.apart(other));
        let rim = if inside { rim.fold(f64::INFINITY, f64::min) } else { 0.0 };
        if rim + SAME_LENGTH < LEAST_RIM {
            let message = if inside {
                format!(
                    "the opening comes within {} mm of the edge of `{}`; {LEAST_RIM} mm of board must stay",
                    decimal(rim, 1),
                    host.name
                )
            } else {
                format!("the opening does not lie within `{}`", host.name)
            };
            let Aabb { low, high } = host.aabb;
            let ys = [low.y, high.y].map(|y| y * outward(host));
            let [from, to, right, left] =
                [low.x, high.x, ys[0].min(ys[1]), ys[0].max(ys[1])].map(|length| decimal(length, 1));
            let help =
                format!("the board reaches from x = {from} to {to} mm and from y = {right} to {left} mm");
            self.findings.push(Finding::new(&HATCH_OFF_BOARD, hatch.span, message).on(&host.name).help(help));
            return None;
        }
        Some(path)
    }

    /// The strips that have room; a finding if they are too few or too narrow.
    fn strips(
        &mut self,
        host: &Board,
        board: BoardId,
        opening: Rectangle,
        hatch: &Hatch,
    ) -> Option<Vec<Strip>> {
        let taken = self.taken(board);
        let (low, high) = (host.aabb.low.z - host.thickness(), host.aabb.low.z);
        let fits = |strip: &Strip| {
            let solid = strip.whole.between(low, high);
            strip.length + SAME_LENGTH >= SHORTEST_STRIP
                && lies_under(host, strip.bearing)
                && taken.iter().all(|other| other.overlap(solid) <= TOUCH)
        };
        let mut found: Vec<Strip> = Vec::new();
        let size = opening.high - opening.low;
        let long_along_x = size.x >= size.y;
        let sides = if long_along_x {
            ["right", "left", "rear", "front"]
        } else {
            ["rear", "front", "right", "left"]
        };
        for (i, side) in sides.into_iter().enumerate() {
            // The first two reach past the corners if they can; the others lie between those that there are.
            let is_there = |side: &str| found.iter().any(|strip: &Strip| strip.side == side);
            let inset = [sides[0], sides[1]].map(|side| if is_there(side) { hatch.ledge.value } else { 0.0 });
            let ends: &[[f64; 2]] = if i < 2 { &[[-BEARING; 2], [0.0; 2]] } else { &[inset] };
            let options = ends.iter().map(|&ends| strip_at(opening, side, hatch.ledge.value, ends));
            if let Some(strip) = options.into_iter().find(fits) {
                found.push(strip);
            }
        }
        let missing: Vec<&str> =
            sides.into_iter().filter(|side| !found.iter().any(|strip| strip.side == *side)).collect();
        if found.len() >= LEAST_SIDES && hatch.ledge.value + SAME_LENGTH >= LEAST_LEDGE {
            return Some(found);
        }
        let message = if found.len() < LEAST_SIDES {
            format!(
                "the lid would lie on {} of 4 sides only; {LEAST_SIDES} are needed: no room for a strip at the {} side",
                found.len(),
                missing.join(", ")
            )
        } else {
            format!(
                "a ledge of {} mm; {LEAST_LEDGE} mm are needed so that the lid cannot drop through",
                decimal(hatch.ledge.value, 1)
            )
        };
        let help = format!(
            "a strip lies {BEARING} mm under the board and {} mm under the lid, is {SHORTEST_STRIP} mm long at least and \
             keeps clear of angles and panels: move the opening or make it smaller",
            decimal(hatch.ledge.value.max(LEAST_LEDGE), 1)
        );
        let finding = Finding::new(&HATCH_LEDGE_TOO_SMALL, hatch.span, message);
        self.findings.push(finding.on(&host.name).help(help));
        None
    }

    /// What strips must keep out of: all other boards, and the angles that are to come.
    fn taken(&self, board: BoardId) -> Vec<Aabb> {
        let others = self.layout.boards.iter().enumerate().filter(|(i, _)| *i != board.0);
        others.map(|(_, board)| board.aabb).chain(legs(self.layout).map(|(_, leg)| leg)).collect()
    }

    /// A strip under the board, bolted to it.
    fn strip(&mut self, host: &Board, board: BoardId, strip: &Strip, number: usize, span: Span) {
        let z = host.aabb.low.z;
        let name = format!("{}-ledge-{number}-{}", host.name, strip.side);
        let material = Arc::clone(&host.material);
        let aabb = strip.whole.between(z - host.thickness(), z);
        let ledge = self.push(Board::filling(name, Role::Ledge, host.body, material, aabb, UP, span));
        let rules = JointRules::of_wing(self.design, self.carcase, span);
        self.meet_faces_on(
            &rules,
            (board, ledge),
            strip.bearing.between(z, z),
            At::new(STRIP_SIZE.to_owned(), span),
        );
    }

    /// The lid: what is cut out less the gap, with a finger hole in its middle.
    fn lid(
        &mut self,
        host: &Board,
        name: String,
        opening: Rectangle,
        (hatch, radius): (&Hatch, f64),
    ) -> Option<BoardId> {
        let gap = hatch.gap.value;
        let plan = opening.grown(-gap, -gap);
        let body = BodyId(self.layout.bodies.len());
        let carcase = self.carcase.id.value.clone();
        self.layout.bodies.push(Body {
            name: name.clone(),
            carcase,
            travel: Vector3::zero(),
            drop: 0.0,
            swing: None,
        });
        let material = Arc::clone(&host.material);
        let aabb = plan.between(host.aabb.low.z, host.aabb.high.z);
        let lid = Board::filling(name.clone(), Role::Lid, body, material, aabb, host.normal(), hatch.span);
        // About the same centres as the opening's corners.
        let mut lid = lid.cut_to(&plan.rounded((radius - gap).max(0.0))?);
        let middle = plan.low + (plan.high - plan.low) / 2.0;
        let hole = lid.plan_on_board(&Path::circle(middle, hatch.finger_hole.value / 2.0));
        lid.openings.push(Opening { kind: OpeningKind::FingerHole, path: hole.clockwise(), joint: name });
        Some(self.push(lid))
    }
}

/// The angles that are to come.
pub(super) fn legs(layout: &Layout) -> impl Iterator<Item = (&Meeting, Aabb)> {
    layout.meetings.iter().flat_map(|meeting| {
        let thickness = layout.board(meeting.edge).thickness();
        let inside = meeting.plan.angle.iter().filter_map(|angle| Some((angle, *meeting.inside.first()?)));
        inside.flat_map(move |(angle, inside)| {
            let legs = meeting.legs(angle, inside, thickness, (0.0, meeting.length));
            legs.into_iter().map(move |leg| (meeting, leg))
        })
    })
}

/// Which way the y of a board's hatches counts: in a wing outward on either side, in a carcase leftward.
fn outward(board: &Board) -> f64 {
    if board.role == Role::Wing { (board.aabb.low.y + board.aabb.high.y).signum() } else { 1.0 }
}

/// The strip at one side of an opening, `ledge` mm wide inside it, its ends `ends` mm inside the opening's.
fn strip_at(opening: Rectangle, side: &'static str, ledge: f64, ends: [f64; 2]) -> Strip {
    let Rectangle { low, high } = opening;
    let across = |x: bool, from: f64, to: f64| {
        let [start, end] =
            if x { [low.y + ends[0], high.y - ends[1]] } else { [low.x + ends[0], high.x - ends[1]] };
        if x {
            Rectangle { low: Point2::new(from, start), high: Point2::new(to, end) }
        } else {
            Rectangle { low: Point2::new(start, from), high: Point2::new(end, to) }
        }
    };
    let is_x = matches!(side, "rear" | "front");
    let (edge, outwards) = match side {
        "rear" => (low.x, -1.0),
        "front" => (high.x, 1.0),
        "right" => (low.y, -1.0),
        _ => (high.y, 1.0),
    };
    let (out, inside) = (edge + outwards * BEARING, edge - outwards * ledge);
    let whole = across(is_x, out.min(inside), out.max(inside));
    let bearing = across(is_x, out.min(edge), out.max(edge));
    let size = bearing.high - bearing.low;
    Strip { side, whole, bearing, length: if is_x { size.y } else { size.x } }
}

/// Whether a board has material over all of a rectangle.
fn lies_under(host: &Board, rectangle: Rectangle) -> bool {
    let on_board =
        |p: Point2<VehicleFrame>| host.placement.to_panel(Point3::new(p.x, p.y, host.aabb.low.z)).xy();
    let corners = rectangle.corners();
    let around = (0..4).all(|i| {
        let (a, b) = (on_board(corners[i]), on_board(corners[(i + 1) % 4]));
        let length = (b - a).length();
        let stroke = Stroke { start: a, along: (b - a) / length, length };
        let there: f64 = host.material_along(&stroke).iter().map(|(from, to)| to - from).sum();
        length > 0.0 && there + TOUCH >= length
    });
    let ring = host.plan_on_board(&Path::polygon(corners));
    let holes = host.openings.iter().flat_map(|opening| opening.path.vertices());
    around && !holes.into_iter().any(|vertex| ring.contains(vertex.point))
}
