//! The place of a run's hole in a panel, and in those that lie flat behind it: the nearest one to where the run meets it.
//!
//! Takes the boards with what is laid out on them so far. A hole keeps off edges, openings and what is bolted to the panel,
//! and its mouths off equipment and what moves there.

use super::Layout;
use super::board::{Board, BoardId, Opening, OpeningKind};
use super::fixture::FixtureKind;
use super::hatch::legs;
use crate::geom::tolerance::{SAME_LENGTH, TOUCH};
use crate::geom::{Aabb, Path, Point3, Vector3, VehicleFrame};

/// mm of panel that stay around a hole, and between it and what is bolted to the panel. Common practice, from memory.
pub(crate) const RUN_CLEAR: f64 = 20.0;
/// mm between places that are tried.
const STEP: f64 = 5.0;
/// Steps by which a hole gives way along the panel at most: 150 mm. A decision of this project.
const STEPS: i32 = 30;
/// mm along a panel's normal within which things are looked at.
const BESIDE: f64 = 250.0;

/// What goes through a hole.
#[derive(Clone, Copy, Debug)]
pub(super) struct Girth {
    /// mm. Of the hole.
    pub(super) radius: f64,
    /// mm. Of the grommet; its lips are as wide and as thick.
    pub(super) wall: f64,
    /// mm. Diameter of the bundle.
    pub(super) bundle: f64,
}

impl Girth {
    /// mm before a face where the run turns from its way into its hole: it lies along the face there, on the lip.
    pub(super) fn mouth(self) -> f64 {
        self.wall + self.bundle / 2.0
    }
}

/// A hole through one or several panels.
#[derive(Clone, Debug)]
pub(super) struct Hole {
    /// The panels, from where the run comes.
    pub(super) panels: Vec<BoardId>,
    /// Its middle, on the face that the run comes to.
    pub(super) middle: Point3<VehicleFrame>,
    /// Out of that face.
    pub(super) out: Vector3<VehicleFrame>,
    /// mm of panel.
    pub(super) through: f64,
    girth: Girth,
}

/// What a hole has to keep off, and mm that it keeps.
struct Obstacle {
    aabb: Aabb,
    board: Option<BoardId>,
    clear: f64,
}

impl Hole {
    /// The hole nearest to `place` in a board; `passable` says of each board whether it may have one.
    pub(super) fn find(
        layout: &Layout,
        passable: &[bool],
        (panel, place): (BoardId, Point3<VehicleFrame>),
        heading: Vector3<VehicleFrame>,
        girth: Girth,
    ) -> Option<Hole> {
        let board = layout.board(panel);
        let normal = board.normal();
        let out = if heading.dot(normal) > 0.0 { -normal } else { normal };
        let obstacles = obstacles(layout, passable, board, girth.radius);
        // Whole millimetres from the panel's corner.
        let p = board.placement.to_panel(place);
        let base = (p.x.round(), p.y.round());
        let w = if out.dot(normal) > 0.0 { board.thickness() } else { 0.0 };
        let at = |(i, j): (i32, i32)| {
            let (x, y) = (base.0 + f64::from(i) * STEP, base.1 + f64::from(j) * STEP);
            board.placement.to_vehicle(Point3::new(x, y, w))
        };
        tries().into_iter().map(at).find_map(|middle| {
            let hole = Hole::at(layout, passable, (panel, girth), (middle, out))?;
            hole.is_sound(layout, &obstacles).then_some(hole)
        })
    }

    /// The hole at a place, with the panels that lie flat behind the first; `None` if one of them may have none.
    fn at(
        layout: &Layout,
        passable: &[bool],
        (panel, girth): (BoardId, Girth),
        (middle, out): (Point3<VehicleFrame>, Vector3<VehicleFrame>),
    ) -> Option<Hole> {
        let through = layout.board(panel).thickness();
        let mut hole = Hole { panels: vec![panel], middle, out, through, girth };
        loop {
            let face = middle - out * hole.through;
            let lies_there = |board: &Board| {
                let p = board.placement.to_panel(face);
                let near = if out.dot(board.normal()) > 0.0 { board.thickness() } else { 0.0 };
                board.normal().dot(out).abs() > 0.5
                    && (p.z - near).abs() <= SAME_LENGTH
                    && board.has_material(p.xy(), 0.0)
            };
            let Some(next) = layout.boards.iter().position(lies_there) else { return Some(hole) };
            if hole.panels.contains(&BoardId(next)) || !passable[next] {
                return None;
            }
            hole.panels.push(BoardId(next));
            hole.through += layout.board(BoardId(next)).thickness();
        }
    }

    fn is_sound(&self, layout: &Layout, obstacles: &[Obstacle]) -> bool {
        let Girth { radius, wall, bundle } = self.girth;
        let before = self.girth.mouth() + bundle / 2.0;
        let has_wood = |id: &BoardId| {
            let board = layout.board(*id);
            board.has_material(board.placement.to_panel(self.middle).xy(), radius + RUN_CLEAR)
        };
        self.panels.iter().all(has_wood)
            && obstacles.iter().all(|obstacle| {
                let own = obstacle.board.is_some_and(|board| self.panels.contains(&board));
                own || self.around(radius + wall.max(obstacle.clear), before).overlap(obstacle.aabb) <= TOUCH
            })
    }

    /// The box around it, so wide beside its middle, so far before and behind the panels.
    fn around(&self, beside: f64, before: f64) -> Aabb {
        let flat = |along: f64| if along.abs() > 0.5 { 0.0 } else { beside };
        let half = Vector3::new(flat(self.out.x), flat(self.out.y), flat(self.out.z));
        let ends = [self.middle + self.out * before, self.middle - self.out * (self.through + before)];
        Aabb::around(ends.into_iter().flat_map(|end| [end - half, end + half]))
    }

    /// Where a run goes in and comes out.
    pub(super) fn mouths(&self) -> [Point3<VehicleFrame>; 2] {
        let mouth = self.girth.mouth();
        [self.middle + self.out * mouth, self.middle - self.out * (self.through + mouth)]
    }

    /// Boxes around the grommet's lips on either face.
    pub(super) fn lips(&self) -> [Aabb; 2] {
        let wall = self.girth.wall;
        let lip = |end: f64| {
            let hole = Hole { middle: self.middle - self.out * end, through: wall, ..self.clone() };
            hole.around(self.girth.radius + wall, 0.0)
        };
        [lip(-wall), lip(self.through)]
    }

    /// The opening in one of its panels.
    pub(super) fn opening(&self, board: &Board, name: &str) -> Opening {
        let centre = board.placement.to_panel(self.middle).xy();
        Opening {
            kind: OpeningKind::Cutout,
            path: Path::circle(centre, self.girth.radius).clockwise(),
            joint: name.to_owned(),
        }
    }
}

/// Steps along the panel, the nearest first.
fn tries() -> Vec<(i32, i32)> {
    let square = |(i, j): (i32, i32)| i * i + j * j;
    let mut tries: Vec<(i32, i32)> = (-STEPS..=STEPS)
        .flat_map(|i| (-STEPS..=STEPS).map(move |j| (i, j)))
        .filter(|step| square(*step) <= STEPS * STEPS)
        .collect();
    tries.sort_by_key(|&step| (square(step), step));
    tries
}

/// All that is near a board, or comes there.
fn obstacles(layout: &Layout, passable: &[bool], board: &Board, radius: f64) -> Vec<Obstacle> {
    let out = board.normal();
    let reach = f64::from(STEPS) * STEP + radius + RUN_CLEAR;
    let wide = |along: f64| if along.abs() > 0.5 { BESIDE } else { reach };
    let margin = Vector3::new(wide(out.x), wide(out.y), wide(out.z));
    let near = Aabb { low: board.aabb.low - margin, high: board.aabb.high + margin };
    let bolted = |aabb: Aabb| Obstacle { aabb, board: None, clear: RUN_CLEAR };
    let boards = layout.boards.iter().enumerate().map(|(i, other)| {
        let body = layout.body(other.body);
        let aabb = match (passable[i], body.swing) {
            (true, _) => other.aabb,
            (false, Some(swing)) => swing.swept(other.aabb),
            (false, None) => other.aabb.swept(body.travel),
        };
        // Beside a board that stands on this one are the bolts that join them.
        let clear = if passable[i] { RUN_CLEAR } else { 0.0 };
        Obstacle { aabb, board: Some(BoardId(i)), clear }
    });
    let angles = legs(layout).map(|(_, leg)| bolted(leg));
    let slides = layout.mounts.iter().map(|mount| bolted(mount.fixed.joined(mount.moving)));
    let fixtures = layout.fixtures.iter().flat_map(|fixture| {
        let clear = if fixture.kind == FixtureKind::Equipment { 0.0 } else { RUN_CLEAR };
        let body = layout.body(fixture.body);
        fixture.solids.iter().map(move |aabb| {
            let aabb = if body.slides() { aabb.swept(body.travel) } else { *aabb };
            Obstacle { aabb, board: None, clear }
        })
    });
    let all = boards.chain(angles).chain(slides).chain(fixtures);
    all.filter(|obstacle| obstacle.aabb.overlap(near) > TOUCH).collect()
}
