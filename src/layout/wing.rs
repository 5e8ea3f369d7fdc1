//! Wings: panels between a carcase and the vehicle's side, measured or drawn.
//!
//! Takes the design's wings and the boards of their carcases; adds a board with its true contour for each, and its
//! meeting with the carcase's side. Works in the vehicle's plan on the left side; the right one is its mirror image,
//! with the upper face up all the same.

use super::Layout;
use super::board::{Board, BoardId, BodyId, Opening, OpeningKind, Role};
use super::carcase::{Builder, DOWN, UP};
use super::join::JointRules;
use super::wing_rules::{WING_NEAR_MEASURED_POINT, WING_NOT_JOINED, WING_SHAPE_LOST, WING_SIDES_DIFFER};
use crate::catalogue::{Catalogue, Material};
use crate::diag::{Finding, Findings};
use crate::geom::rounded::{self, Corner, Lost};
use crate::geom::tolerance::{SAME_LENGTH, TOUCH};
use crate::geom::{self, Aabb, Path, Point2, Point3, VehicleFrame, snap};
use crate::import::Outline;
use crate::number::decimal;
use crate::spec::{Bay, Design, MeasuredLine, Side, Wing, WingOutline, WingPoint, WingSide};
use std::sync::Arc;

/// mm by which the sides may differ under mirror images: what a tape in a trimmed bay reads to. Common practice, no
/// source.
const SIDES_DIFFER: f64 = 2.0;

/// mm that a carcase's side may begin beside the wing's edge and still carry an angle.
const BESIDE: f64 = 12.0;

/// mm by which a measured point may be off the clearance.
pub(crate) const RESIDUAL: f64 = 0.5;

/// A wing as laid out: what its maker checks with a tape.
#[derive(Clone, Debug)]
pub(crate) struct WingSummary {
    /// The panel.
    pub(crate) board: BoardId,
    /// On which side.
    pub(crate) side: Side,
    /// mm from the measured line to its edge; `None` for a drawn one.
    pub(crate) clearance: Option<f64>,
    /// The measured points, from the tailgate forward; none for a drawn one.
    pub(crate) points: Vec<MeasuredPlace>,
}

/// A measured point and where the panel's edge is.
#[derive(Clone, Copy, Debug)]
pub(crate) struct MeasuredPlace {
    /// In the vehicle's plan.
    pub(crate) at: Point2<VehicleFrame>,
    /// mm. Radius of the corner there.
    pub(crate) fillet: f64,
    /// mm from the panel's edge; negative within the panel.
    pub(crate) distance: f64,
}

/// The boards of a carcase that a wing has to do with.
struct Beside {
    body: BodyId,
    side: BoardId,
    deck: BoardId,
}

/// Lays out all wings. `None` if one cannot be made; the findings say why.
pub(super) fn wings(
    layout: &mut Layout,
    findings: &mut Findings,
    design: &Design,
    catalogue: &Catalogue,
) -> Option<()> {
    let mut complete = Some(());
    for wing in &design.wings {
        let sides: &[(Side, &str)] = match wing.side.value {
            WingSide::Left => &[(Side::Left, "")],
            WingSide::Right => &[(Side::Right, "")],
            WingSide::Both => &[(Side::Left, "-left"), (Side::Right, "-right")],
        };
        let made = sides.iter().map(|(side, suffix)| {
            let name = format!("{}{suffix}", wing.id.value);
            one(layout, findings, (design, catalogue), (wing, *side, name))
        });
        // Every side is looked at, so that all faults are told.
        let made: Vec<Option<BoardId>> = made.collect();
        if let [Some(left), Some(right)] = made[..] {
            complete = complete.and(mirrored(findings, layout, design, wing, [left, right]));
        }
        complete = complete.filter(|()| made.iter().all(Option::is_some));
    }
    complete
}

/// One panel with its joint and its hatches.
fn one(
    layout: &mut Layout,
    findings: &mut Findings,
    (design, catalogue): (&Design, &Catalogue),
    (wing, side, name): (&Wing, Side, String),
) -> Option<BoardId> {
    let carcase = design.carcases.iter().find(|carcase| carcase.id.value == wing.beside.value)?;
    let beside = beside(layout, &wing.beside.value, side)?;
    let material = match &wing.panel {
        Some(name) => catalogue.find_material(findings, name)?,
        None => Arc::clone(&layout.board(beside.deck).material),
    };
    let deck = layout.board(beside.deck).aabb;
    let top = wing.top.map_or(deck.high.z, |top| top.value);
    let bottom = snap(top - material.actual);
    let beside_deck = top > deck.low.z + SAME_LENGTH && bottom < deck.high.z - SAME_LENGTH;
    let reach = |board: BoardId| outer(layout.board(board).aabb, side);
    let inner = if beside_deck { reach(beside.side).max(reach(beside.deck)) } else { reach(beside.side) };
    let tool = design.workshop.tool.diameter.value / 2.0;
    let (plan, openings) = plan(findings, wing, side, (inner, tool))?;
    let board = board((wing, name), (beside.body, material), [bottom, top], (&plan, &openings));
    layout.boards.push(board);
    let id = BoardId(layout.boards.len() - 1);
    let n_meetings = layout.meetings.len();
    let mut builder = Builder::new(layout, findings, design, catalogue, carcase, beside.body);
    let rules = JointRules::of_wing(design, carcase, wing.span);
    builder.meet_beside(&rules, (id, beside.side), &[DOWN, UP], BESIDE);
    let joined = builder.layout.meetings.len() > n_meetings;
    let hatches = builder.hatches(id, &wing.hatches);
    if !joined {
        not_joined(findings, layout, wing, [id, beside.side]);
    }
    let summary = summary(layout, wing, side, id);
    near_points(findings, layout, wing, &summary);
    layout.wings.push(summary);
    hatches.map(|()| id)
}

/// The carcase's deck and its side on that side of the vehicle.
fn beside(layout: &Layout, carcase: &str, side: Side) -> Option<Beside> {
    let body = BodyId(layout.bodies.iter().position(|body| body.name == carcase)?);
    let of_role = |role: Role| {
        let own = layout.boards.iter().enumerate().filter(move |(_, b)| b.body == body && b.role == role);
        own.max_by(|(_, a), (_, b)| outer(a.aabb, side).total_cmp(&outer(b.aabb, side)))
    };
    let (wall, deck) = (of_role(Role::Side)?.0, of_role(Role::Deck)?.0);
    Some(Beside { body, side: BoardId(wall), deck: BoardId(deck) })
}

/// mm from the centreline to the face of a box that looks to one side.
fn outer(aabb: Aabb, side: Side) -> f64 {
    if side.sign() > 0.0 { aabb.high.y } else { -aabb.low.y }
}

/// The board between two heights.
fn board(
    (wing, name): (&Wing, String),
    (body, material): (BodyId, Arc<Material>),
    [bottom, top]: [f64; 2],
    (plan, openings): (&Path<VehicleFrame>, &[Path<VehicleFrame>]),
) -> Board {
    let (low, high) = plan.bounds();
    let aabb = Aabb { low: Point3::new(low.x, low.y, bottom), high: Point3::new(high.x, high.y, top) };
    let mut board =
        Board::filling(name.clone(), Role::Wing, body, material, aabb, UP, wing.span).flush().cut_to(plan);
    for opening in openings {
        let path = board.plan_on_board(opening).clockwise();
        board.openings.push(Opening { kind: OpeningKind::Drawn, path, joint: name.clone() });
    }
    board
}

/// The panel's contour and openings in the vehicle's plan, on its own side.
fn plan(
    findings: &mut Findings,
    wing: &Wing,
    side: Side,
    (inner, tool): (f64, f64),
) -> Option<(Path<VehicleFrame>, Vec<Path<VehicleFrame>>)> {
    match &wing.outline {
        WingOutline::Measured(line) => {
            let path = measured(line, inner, tool);
            let path = path.map_err(|fault| {
                let finding = Finding::new(&WING_SHAPE_LOST, line.points.span, fault).on(&wing.id.value);
                findings.push(finding.help(
                    "leave out a point, make a fillet smaller, or the `clearance`; points go along the vehicle's side",
                ));
            });
            let path = path.ok()?;
            let mirror = |p: Point2<VehicleFrame>| Point2::new(p.x, -p.y);
            Some((if side == Side::Left { path } else { path.mirrored(mirror) }, Vec::new()))
        }
        WingOutline::Drawn { outline: Outline { outline, openings }, at, .. } => {
            // `both` is drawn as the left one.
            let turned = side == Side::Right && wing.side.value == WingSide::Both;
            let place = |p: Point2<geom::PanelFrame>| {
                let y = snap(p.y + at[1].value);
                Point2::<VehicleFrame>::new(snap(p.x + at[0].value), if turned { -y } else { y })
            };
            let placed =
                |path: &Path<geom::PanelFrame>| if turned { path.mirrored(place) } else { path.moved(place) };
            let contour = placed(outline).counter_clockwise().with_round_inside_corners(tool);
            Some((contour, openings.iter().map(placed).collect()))
        }
    }
}

/// The contour of a measured wing on the left side, counter-clockwise from its inner rear corner: the inner edge at
/// `inner` mm from the centreline, the measured line moved inward, the ends straight across.
fn measured(line: &MeasuredLine, inner: f64, tool: f64) -> Result<Path<VehicleFrame>, String> {
    let points = &line.points.value;
    let corner = |point: &WingPoint| Corner {
        point: Point2::new(point.x.value, point.y.value),
        radius: point.fillet.value,
    };
    let clearance = line.clearance.value;
    let along: Vec<Corner<VehicleFrame>> = points.iter().map(corner).collect();
    let lost = |Lost(i): Lost, what: &str| {
        let at = |i: usize| shown(along[i.min(along.len() - 1)].point);
        format!("{what} between {} and {}", at(i), at(i + 1))
    };
    let mut outer = rounded::moved_right(&along, clearance, tool).map_err(|fault| {
        lost(fault, &format!("nothing is left, {} mm inside the measured line,", decimal(clearance, 1)))
    })?;
    let n = outer.len();
    for (end, next) in [(0, 1), (n - 1, n - 2)] {
        let (piece, from) = (along[next].point - along[end].point, along[end].point);
        // A piece that runs along the bay ends where it was measured; one that runs across it keeps its distance.
        if piece.x.abs() >= piece.y.abs() {
            let moved = outer[end].point;
            outer[end].point = Point2::new(from.x, moved.y + piece.y * ((from.x - moved.x) / piece.x));
        }
    }
    if let Some(low) = outer.iter().find(|corner| corner.point.y <= inner + SAME_LENGTH) {
        return Err(format!(
            "the panel's edge at {} does not come out past its inner edge, {} mm from the centreline",
            shown(low.point),
            decimal(inner, 1)
        ));
    }
    for corner in &mut outer {
        corner.point = Point2::new(snap(corner.point.x), snap(corner.point.y));
    }
    let ends = [outer[0].point.x, outer[n - 1].point.x];
    let mut ring: Vec<Corner<VehicleFrame>> = ends.map(|x| Corner::sharp(Point2::new(x, inner))).to_vec();
    ring.extend(outer.into_iter().rev());
    let path = rounded::closed(&ring).map_err(|Lost(i)| {
        // Behind the two inner corners the ring runs back along the line.
        let piece = (n + 1).saturating_sub(i).saturating_sub(1);
        lost(Lost(piece), "the round corners need more than the straight piece")
    })?;
    match crossing(&path) {
        Some(at) => Err(format!("the panel's edge crosses itself at {}", shown(at))),
        None => Ok(path),
    }
}

/// A place where sides of a path meet that are not neighbours.
fn crossing(path: &Path<VehicleFrame>) -> Option<Point2<VehicleFrame>> {
    let sides: Vec<geom::Side<VehicleFrame>> =
        path.sides().map(|(a, b, bulge)| geom::Side::new(a, b, bulge)).collect();
    let n = sides.len();
    (0..n).find_map(|i| {
        let apart = |j: &usize| !(i == 0 && *j == n - 1);
        let met = (i + 2..n).filter(apart).find(|&j| sides[i].distance(&sides[j]) < TOUCH);
        met.map(|_| path.vertices()[i].point)
    })
}

/// A place of the plan, as messages show it.
fn shown(p: Point2<VehicleFrame>) -> String {
    format!("({}, {})", decimal(p.x, 1), decimal(p.y, 1))
}

/// Measured points against the panel's edge.
fn summary(layout: &Layout, wing: &Wing, side: Side, id: BoardId) -> WingSummary {
    let board = layout.board(id);
    let (clearance, points) = match &wing.outline {
        WingOutline::Measured(line) => (Some(line.clearance.value), line.points.value.as_slice()),
        WingOutline::Drawn { .. } => (None, [].as_slice()),
    };
    let place = |point: &WingPoint| {
        let at = Point2::new(point.x.value, side.sign() * point.y.value);
        let on_board = board.placement.to_panel(Point3::new(at.x, at.y, board.aabb.low.z)).xy();
        let distance = board.shape.distance_to(on_board);
        let distance = if board.shape.contains(on_board) { -distance } else { distance };
        MeasuredPlace { at, fillet: point.fillet.value, distance }
    };
    let points = points.iter().map(place).collect();
    WingSummary { board: id, side, clearance, points }
}

/// Sharp measured corners that the panel comes nearer to than it should.
fn near_points(findings: &mut Findings, layout: &Layout, wing: &Wing, summary: &WingSummary) {
    let (WingOutline::Measured(line), Some(clearance)) = (&wing.outline, summary.clearance) else { return };
    for (point, place) in line.points.value.iter().zip(&summary.points) {
        if place.fillet > 0.0 || place.distance >= clearance - RESIDUAL {
            continue;
        }
        let name = &layout.board(summary.board).name;
        let message = format!(
            "the measured point {} is {} mm from the edge of `{name}`, which should keep {} mm",
            shown(Point2::new(point.x.value, point.y.value)),
            decimal(place.distance, 2),
            decimal(clearance, 2)
        );
        let help =
            "measure the corner's radius and give it as `fillet`, or raise `clearance` to the tool's radius";
        findings.push(Finding::new(&WING_NEAR_MEASURED_POINT, point.x.span, message).on(name).help(help));
    }
}

fn not_joined(findings: &mut Findings, layout: &Layout, wing: &Wing, [wing_id, side_id]: [BoardId; 2]) {
    let (board, side) = (layout.board(wing_id), layout.board(side_id));
    let inner = |aabb: Aabb| aabb.low.y.abs().min(aabb.high.y.abs());
    let face = side.aabb.low.y.abs().max(side.aabb.high.y.abs());
    let message = format!(
        "`{}` lies from {} to {} mm above the floor, its inner edge {} mm from the centreline; the outer face of `{}` \
         is at {} mm and reaches from {} to {} mm",
        board.name,
        decimal(board.aabb.low.z, 2),
        decimal(board.aabb.high.z, 2),
        decimal(inner(board.aabb), 2),
        side.name,
        decimal(face, 2),
        decimal(side.aabb.low.z, 2),
        decimal(side.aabb.high.z, 2)
    );
    let help = "bring its straight inner edge to the side's face, at the deck's height or below it, beside a deck \
                without `overhang`; or hold it by other means and accept this";
    findings.push(Finding::new(&WING_NOT_JOINED, wing.span, message).on(&board.name).help(help));
}

/// Whether two mirror images have the same room, as far as the bay was measured.
fn mirrored(
    findings: &mut Findings,
    layout: &Layout,
    design: &Design,
    wing: &Wing,
    [left, right]: [BoardId; 2],
) -> Option<()> {
    let (a, b) = (layout.board(left).aabb, layout.board(right).aabb);
    let bay = &design.vehicle.bay;
    let inner = (a.low.y + b.high.y).abs();
    let (message, note) = if inner > SIDES_DIFFER {
        let message = format!(
            "the sides of `{}` are {} and {} mm from the centreline",
            wing.beside.value,
            decimal(a.low.y, 1),
            decimal(-b.high.y, 1)
        );
        (message, wing.beside.span)
    } else {
        let (x, z, [left, right]) = worst(bay, a);
        if (left - right).abs() <= SIDES_DIFFER {
            return Some(());
        }
        let message = format!(
            "{} mm ahead of the rear edge and {} mm above the floor the bay reaches {} mm to the left and {} mm to \
             the right; mirror images need the same within {SIDES_DIFFER} mm",
            decimal(x, 0),
            decimal(z, 0),
            decimal(left, 1),
            decimal(right, 1)
        );
        (message, bay.right.span)
    };
    let help = "measure each side and give two wings, one `left` and one `right`";
    let finding = Finding::new(&WING_SIDES_DIFFER, wing.side.span, message).on(&wing.id.value).help(help);
    findings.push(finding.also(note, "as given here"));
    None
}

/// Where the bay's sides differ most along a board: x, z, and mm from the centreline to both.
fn worst(bay: &Bay, aabb: Aabb) -> (f64, f64, [f64; 2]) {
    let mut worst: (f64, f64, [f64; 2]) = (aabb.low.x, aabb.low.z, [0.0, 0.0]);
    for z in [aabb.low.z, aabb.high.z] {
        let sides = [&bay.left, &bay.right].map(|relief| relief.value.along(z));
        let mut stations: Vec<f64> = vec![aabb.low.x, aabb.high.x];
        stations.extend(sides.iter().flat_map(crate::geom::Profile::points).map(|point| point.0));
        stations.extend(bay.arches.iter().flat_map(|arch| arch.profile.points()).map(|point| point.0));
        stations.retain(|x| (aabb.low.x..=aabb.high.x).contains(x));
        stations.sort_by(f64::total_cmp);
        for x in stations {
            let both = [Side::Left, Side::Right].map(|side| bay.reach(side, x, z));
            if (both[0] - both[1]).abs() > (worst.2[0] - worst.2[1]).abs() + SAME_LENGTH {
                worst = (x, z, both);
            }
        }
    }
    worst
}
