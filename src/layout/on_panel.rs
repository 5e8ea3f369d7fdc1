//! Where cut-outs, tie-downs and legends are on their panels.
//!
//! Takes what a spec says, gives the panel, the face and places on it: `across` to the right and `up`, seen from the side
//! that it faces; on a lying panel up is forward.

use super::Layout;
use super::board::{Board, BoardId, Role};
use super::carcase::{DOWN, FORWARD, LEFT, REARWARD, RIGHT, UP};
use super::cutout_rules::PANEL_UNKNOWN;
use crate::diag::{Finding, Findings, Rule, did_you_mean};
use crate::geom::{Aabb, PanelFrame, Path, Point2, Point3, Vector2, Vector3, VehicleFrame};
use crate::spec::{OnPanel, PanelHost, Towards};

/// The plane of a face, seen from before it.
#[derive(Clone, Copy, Debug)]
pub(super) struct Face {
    /// Out of the face.
    pub(super) out: Vector3<VehicleFrame>,
    /// To the right.
    pub(super) right: Vector3<VehicleFrame>,
    /// Up; on a lying panel forward.
    pub(super) up: Vector3<VehicleFrame>,
    /// The middle of the panel's box, on the face.
    middle: Point3<VehicleFrame>,
    /// mm. Half the panel's extent to the right and up.
    half: [f64; 2],
}

impl Face {
    /// The face of a board that looks `out`.
    pub(super) fn of(board: &Board, out: Vector3<VehicleFrame>) -> Self {
        let up = up_of(out);
        let right = up.cross(out);
        let size = board.aabb.size();
        let centre = board.aabb.low + size / 2.0;
        let half = [right, up].map(|along| size.dot(abs(along)) / 2.0);
        Face { out, right, up, middle: centre + out * (size.dot(abs(out)) / 2.0), half }
    }

    /// mm. The panel's extent to the right and up.
    pub(super) fn size(&self) -> [f64; 2] {
        self.half.map(|half| 2.0 * half)
    }

    /// A place of the face in the vehicle.
    pub(super) fn at(&self, p: Point2<PanelFrame>) -> Point3<VehicleFrame> {
        self.middle + self.right * p.x + self.up * p.y
    }

    /// The box over a rectangle of the face, from `before` to `behind` mm behind it.
    pub(super) fn over(
        &self,
        low: Point2<PanelFrame>,
        high: Point2<PanelFrame>,
        before: f64,
        behind: f64,
    ) -> Aabb {
        Aabb::around([self.at(low) + self.out * before, self.at(high) - self.out * behind])
    }
}

/// What is up on a face that looks `out`, seen from before it: on a lying panel forward.
pub(crate) fn up_of(out: Vector3<VehicleFrame>) -> Vector3<VehicleFrame> {
    if out.z.abs() > 0.5 { FORWARD } else { UP }
}

/// How the name of a panel that closes a cell goes on after the cell's: a drawer's or tray's front, a blank, a door.
const FRONT_ENDS: [&str; 3] = ["-front", "", "-door"];

/// The cell that a front closes.
fn cell_of(front: &str) -> &str {
    FRONT_ENDS.iter().find_map(|end| front.strip_suffix(end).filter(|_| !end.is_empty())).unwrap_or(front)
}

/// Finds the place of one thing.
pub(super) struct Finder<'a> {
    pub(super) layout: &'a Layout,
    pub(super) findings: &'a mut Findings,
    pub(super) on: &'a OnPanel,
}

impl Finder<'_> {
    /// The panel and its face. `None` if there is no such panel, or it has no such face; the findings say so.
    pub(super) fn find(&mut self) -> Option<(BoardId, Face)> {
        let host = self.host()?;
        let board = self.layout.board(host);
        self.face(board).map(|face| (host, face))
    }

    /// The panel that it is on.
    fn host(&mut self) -> Option<BoardId> {
        let (name, found) = match &self.on.host {
            PanelHost::Panel(name) => (name, self.board_called(&name.value)),
            PanelHost::FrontOf(cell) => {
                let is_front = |id: &BoardId| self.layout.board(*id).role == Role::Front;
                let named = |end: &str| self.board_called(&format!("{}{end}", cell.value)).filter(is_front);
                (cell, FRONT_ENDS.iter().find_map(|end| named(end)))
            }
        };
        if found.is_none() {
            let (message, help) = match &self.on.host {
                PanelHost::Panel(_) => {
                    let names = self.layout.boards.iter().map(|board| board.name.as_str());
                    let help = did_you_mean(&name.value, names);
                    let help = help.unwrap_or_else(|| "the cut list names every panel".to_owned());
                    (format!("no panel is called `{}`", name.value), help)
                }
                PanelHost::FrontOf(_) => {
                    let fronts = self.layout.boards.iter().filter(|board| board.role == Role::Front);
                    let names: Vec<String> =
                        fronts.map(|front| format!("`{}`", cell_of(&front.name))).collect();
                    let message = format!("no front closes a cell called `{}`", name.value);
                    (message, format!("fronts close {}", names.join(", ")))
                }
            };
            fault(self.findings, self.on, &PANEL_UNKNOWN, (message, help));
        }
        found
    }

    fn board_called(&self, name: &str) -> Option<BoardId> {
        self.layout.boards.iter().position(|board| board.name == name).map(BoardId)
    }

    /// The face that it is seen from: face A, unless the spec says another.
    fn face(&mut self, board: &Board) -> Option<Face> {
        let out = self.on.facing.map_or(board.normal(), |facing| direction(facing.value));
        if out.dot(board.normal()).abs() < 0.5 {
            let message = format!(
                "`{}` looks {} and {}, not that way",
                board.name,
                towards(board.normal()).edge(),
                towards(-board.normal()).edge()
            );
            fault(self.findings, self.on, &PANEL_UNKNOWN, (message, "change `facing`, or leave it out"));
            return None;
        }
        Some(Face::of(board, out))
    }

    /// The middle of each on the face, for things of `size` mm. `None` if the panel has no such edge.
    pub(super) fn middles(
        &mut self,
        (host, face): (BoardId, &Face),
        size: Vector2<PanelFrame>,
    ) -> Option<Vec<Point2<PanelFrame>>> {
        let (columns, pitch_across) = self.on.across;
        let (rows, pitch_up) = self.on.up;
        let spread = Vector2::new((columns - 1) as f64 * pitch_across, (rows - 1) as f64 * pitch_up);
        let group = (spread + size) / 2.0;
        let mut middle: Point2<PanelFrame> = Point2::origin();
        for (edge, distance) in &self.on.from {
            let way = direction(*edge);
            let [x, y] = [face.right, face.up].map(|along| along.dot(way));
            let (along, half, own) = if x.abs() > 0.5 {
                (Vector2::new(x, 0.0), face.half[0], group.x)
            } else if y.abs() > 0.5 {
                (Vector2::new(0.0, y), face.half[1], group.y)
            } else {
                let has =
                    [face.right, -face.right, face.up, -face.up].map(|way| towards(way).edge()).join(", ");
                let message = format!("`{}` has no {} edge", self.layout.board(host).name, edge.edge());
                fault(self.findings, self.on, &PANEL_UNKNOWN, (message, format!("its edges are {has}")));
                return None;
            };
            middle += along * (half - distance.value - if self.on.to_middle { 0.0 } else { own });
        }
        let first = middle - spread / 2.0;
        let at = |column: usize, row: usize| {
            first + Vector2::new(column as f64 * pitch_across, row as f64 * pitch_up)
        };
        Some((0..rows).flat_map(|row| (0..columns).map(move |column| at(column, row))).collect())
    }
}

/// Reports what is wrong with something on a panel: what, and the remedy.
pub(super) fn fault(
    findings: &mut Findings,
    on: &OnPanel,
    rule: &'static Rule,
    (message, help): (String, impl Into<String>),
) {
    findings.push(Finding::new(rule, on.span, message).on(&on.id.value).help(help));
}

/// A path of a face on its board, clockwise or not as it comes.
pub(super) fn on_board(board: &Board, face: &Face, path: &Path<PanelFrame>) -> Path<PanelFrame> {
    let place = |p: Point2<PanelFrame>| board.placement.to_panel(face.at(p)).xy();
    if face.out.dot(board.normal()) > 0.0 { path.moved(place) } else { path.mirrored(place) }
}

/// The unit vector of a direction.
pub(super) fn direction(towards: Towards) -> Vector3<VehicleFrame> {
    match towards {
        Towards::Left => LEFT,
        Towards::Right => RIGHT,
        Towards::Rear => REARWARD,
        Towards::Front => FORWARD,
        Towards::Up => UP,
        Towards::Down => DOWN,
    }
}

/// The direction of a unit vector along an axis.
pub(super) fn towards(vector: Vector3<VehicleFrame>) -> Towards {
    let pick = |along: f64, one, other| if along > 0.0 { one } else { other };
    if vector.x.abs() > 0.5 {
        pick(vector.x, Towards::Front, Towards::Rear)
    } else if vector.y.abs() > 0.5 {
        pick(vector.y, Towards::Left, Towards::Right)
    } else {
        pick(vector.z, Towards::Up, Towards::Down)
    }
}

fn abs(vector: Vector3<VehicleFrame>) -> Vector3<VehicleFrame> {
    Vector3::new(vector.x.abs(), vector.y.abs(), vector.z.abs())
}
