//! What carries a lying panel, and how far it spans at a place.
//!
//! Takes a board and the boards that it meets; gives lines in the panel's plane along which it is carried, and at any place the
//! free span along the grain and across it. Openings and edges end a span: beyond them nothing carries.

use crate::geom::stretches::{self, Stroke};
use crate::geom::tolerance::SAME_LENGTH;
use crate::geom::{PanelFrame, Point2, Point3, Vector2, VehicleFrame};
use crate::layout::{Board, BoardId, HatchSummary, Layout, Meeting, Opening, Role};
use crate::spec::JointKind;

/// mm off the end of a line within which it still carries.
const NEAR_END: f64 = 15.0;

/// A direction in the panel's plane.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Way {
    /// Along u: along the face grain.
    AlongU,
    /// Along v: across it.
    AlongV,
}

impl Way {
    /// Both.
    pub(super) const BOTH: [Way; 2] = [Way::AlongU, Way::AlongV];

    pub(super) fn vector(self) -> Vector2<PanelFrame> {
        match self {
            Way::AlongU => Vector2::new(1.0, 0.0),
            Way::AlongV => Vector2::new(0.0, 1.0),
        }
    }

    /// The part of a place along this way.
    pub(super) fn of(self, p: Point2<PanelFrame>) -> f64 {
        match self {
            Way::AlongU => p.x,
            Way::AlongV => p.y,
        }
    }

    pub(super) fn other(self) -> Way {
        match self {
            Way::AlongU => Way::AlongV,
            Way::AlongV => Way::AlongU,
        }
    }

    /// 0 for u, 1 for v.
    pub(super) fn index(self) -> usize {
        match self {
            Way::AlongU => 0,
            Way::AlongV => 1,
        }
    }
}

/// A line along which a panel is carried.
#[derive(Clone, Debug)]
pub(super) struct Line {
    /// The way that a span has which ends on this line.
    pub(super) ends: Way,
    /// mm along that way.
    pub(super) at: f64,
    /// mm along the line.
    pub(super) from: f64,
    /// mm along the line.
    pub(super) to: f64,
    /// The joint there; `None` under a lid.
    pub(super) joint: Option<String>,
    /// Whether that joint's bolts carry it; else it stands on something.
    pub(super) hangs: bool,
    /// Whether an angle holds it there against turning about the line.
    pub(super) keeps_level: bool,
}

/// A panel's stretch between what carries it, at a place.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Span {
    /// Carried at both ends.
    Between {
        /// mm between the lines.
        length: f64,
        /// mm from the first line to the place.
        at: f64,
    },
    /// Carried at one end, free at the other.
    Arm {
        /// mm from the line to the place.
        at: f64,
        /// mm from the line to the free edge.
        length: f64,
        /// The joint that keeps it level; `None` where the panel runs on beyond the line.
        joint: Option<String>,
        /// mm that it runs on.
        beyond: f64,
    },
}

/// The lines that carry a board. A lid that lies on the floor has none, and needs none.
pub(super) fn lines(layout: &Layout, id: BoardId) -> Vec<Line> {
    let board = layout.board(id);
    let met = layout.meetings.iter().filter_map(|meeting| of_meeting(layout, id, meeting));
    let hatch = layout.hatches.iter().filter(|hatch| hatch.lid == id);
    met.chain(hatch.flat_map(|hatch| under_lid(board, hatch))).collect()
}

/// The line along which a joint carries a board.
fn of_meeting(layout: &Layout, id: BoardId, meeting: &Meeting) -> Option<Line> {
    let (own_edge, other) = if meeting.edge == id {
        (true, meeting.face)
    } else if meeting.face == id {
        (false, meeting.edge)
    } else {
        return None;
    };
    let (board, other) = (layout.board(id), layout.board(other));
    // Strips under hatches and what lies flat carry nothing by themselves.
    if other.normal().z.abs() > 0.5 || other.role == Role::Front {
        return None;
    }
    let middle = board.aabb.low.z + board.thickness() / 2.0;
    let below = other.aabb.high.z <= middle;
    let stands_on = !own_edge && below;
    let ends = [0.0, meeting.length].map(|along| {
        let p: Point3<VehicleFrame> = meeting.start + meeting.along * along;
        board.placement.to_panel(p).xy()
    });
    let own = line(ends)?;
    let keeps_level = meeting.plan.kind == JointKind::Angle;
    Some(Line { joint: Some(meeting.name.clone()), hangs: !stands_on, keeps_level, ..own })
}

/// A line between two places that only bears.
fn line([a, b]: [Point2<PanelFrame>; 2]) -> Option<Line> {
    let along = if (b.x - a.x).abs() > (b.y - a.y).abs() { Way::AlongU } else { Way::AlongV };
    let (from, to) = (along.of(a).min(along.of(b)), along.of(a).max(along.of(b)));
    let ends = along.other();
    let at = f64::midpoint(ends.of(a), ends.of(b));
    (to > from).then_some(Line { ends, at, from, to, joint: None, hangs: false, keeps_level: false })
}

/// The rims of the opening on whose strips a lid lies.
fn under_lid(lid: &Board, hatch: &HatchSummary) -> Vec<Line> {
    let (low, high) = hatch.opening;
    let z = lid.aabb.low.z;
    let place = |x: f64, y: f64| lid.placement.to_panel(Point3::new(x, y, z)).xy();
    let corners = [(low.x, low.y), (low.x, high.y), (high.x, high.y), (high.x, low.y)];
    let [right_rear, left_rear, left_front, right_front] = corners.map(|(x, y)| place(x, y));
    let side = |side: &&str| {
        line(match *side {
            "rear" => [right_rear, left_rear],
            "front" => [right_front, left_front],
            "left" => [left_rear, left_front],
            _ => [right_rear, right_front],
        })
    };
    hatch.sides.iter().filter_map(side).collect()
}

/// mm. An opening that is no wider either way is bridged by what is around it; it only makes a strip narrower.
const BRIDGED: f64 = 60.0;

/// Where material runs without a break through `p` along a way: mm before and after it.
pub(super) fn material(board: &Board, p: Point2<PanelFrame>, way: Way) -> Option<(f64, f64)> {
    let (low, high) = board.shape.bounds();
    let (from, to) = (way.of(low), way.of(high));
    let at = way.of(p);
    let stroke = Stroke { start: p - way.vector() * (at - from), along: way.vector(), length: to - from };
    let here = at - from;
    let broken = board.openings.iter().filter(|opening| !is_bridged(opening));
    let found = broken.fold(stroke.inside(&board.shape), |left, opening| {
        stretches::less(&left, &stroke.inside(&opening.path), stroke.length)
    });
    let own = found.into_iter().find(|(a, b)| *a <= here + SAME_LENGTH && here <= *b + SAME_LENGTH)?;
    Some(((here - own.0).max(0.0), (own.1 - here).max(0.0)))
}

fn is_bridged(opening: &Opening) -> bool {
    let (low, high) = opening.path.bounds();
    high.x - low.x <= BRIDGED && high.y - low.y <= BRIDGED
}

/// mm that small openings take of a strip around a place: those that lie as near to its line as `half`.
pub(super) fn taken(board: &Board, p: Point2<PanelFrame>, way: Way, half: f64) -> f64 {
    let across = way.other();
    let small = board.openings.iter().filter(|opening| is_bridged(opening));
    let near = small.filter_map(|opening| {
        let (low, high) = opening.path.bounds();
        let off = (across.of(low) - across.of(p)).max(across.of(p) - across.of(high));
        (off < half).then_some(across.of(high) - across.of(low))
    });
    near.fold(0.0, f64::max)
}

/// The free span through a place along a way; `None` where nothing carries it that way.
pub(super) fn span(board: &Board, lines: &[Line], p: Point2<PanelFrame>, way: Way) -> Option<Span> {
    let (before, after) = material(board, p, way)?;
    let (at, across) = (way.of(p), way.other().of(p));
    let met = lines.iter().filter(|line| line.ends == way);
    let here = met.filter(|line| (line.from - NEAR_END..=line.to + NEAR_END).contains(&across));
    // A line at the very edge lies beyond the material by half a thickness of what it stands on.
    let (mut back, mut ahead) = (None, None);
    for line in here {
        let off = line.at - at;
        let (side, off, reach) =
            if off <= 0.0 { (&mut back, -off, before) } else { (&mut ahead, off, after) };
        let nearer = side.is_none_or(|(nearest, _)| off < nearest);
        if off <= reach + NEAR_END && nearer {
            *side = Some((off, line));
        }
    }
    // A panel that runs on beyond the line keeps itself level; else an angle does.
    let arm = |(off, line): (f64, &Line), free: f64, beyond: f64| {
        let length = off + free;
        if beyond >= 2.0 * length {
            return Some(Span::Arm { at: off, length, joint: None, beyond });
        }
        let joint = line.joint.clone().filter(|_| line.keeps_level)?;
        Some(Span::Arm { at: off, length, joint: Some(joint), beyond: 0.0 })
    };
    match (back, ahead) {
        (Some(back), Some(ahead)) => Some(Span::Between { length: back.0 + ahead.0, at: back.0 }),
        (Some(back), None) => arm(back, after, before - back.0),
        (None, Some(ahead)) => arm(ahead, before, after - ahead.0),
        (None, None) => None,
    }
}

/// The bay around a place that is carried on all four sides and has no opening: its sides along u and v.
pub(super) fn bay(board: &Board, lines: &[Line], p: Point2<PanelFrame>) -> Option<[f64; 2]> {
    let [u, v] = Way::BOTH.map(|way| match span(board, lines, p, way) {
        Some(Span::Between { length, at }) => Some((way.of(p) - at, way.of(p) - at + length)),
        _ => None,
    });
    let sides = [u?, v?];
    let covered = |way: Way| {
        let (own, across) = (sides[way.index()], sides[way.other().index()]);
        [own.0, own.1].iter().all(|at| {
            let carries = |line: &&Line| {
                line.ends == way
                    && (line.at - at).abs() < SAME_LENGTH
                    && line.from <= across.0 + NEAR_END
                    && line.to >= across.1 - NEAR_END
            };
            lines.iter().any(|line| carries(&line))
        })
    };
    let open = board.openings.iter().filter(|opening| !is_bridged(opening)).any(|opening| {
        let (low, high) = opening.path.bounds();
        let within = |way: Way| {
            let own = sides[way.index()];
            way.of(high) > own.0 + NEAR_END && way.of(low) < own.1 - NEAR_END
        };
        Way::BOTH.into_iter().all(within)
    });
    let all = Way::BOTH.into_iter().all(covered) && !open;
    all.then(|| sides.map(|(from, to)| to - from))
}
