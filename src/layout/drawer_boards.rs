//! The boards of a drawer's box or of a tray, and its false front.
//!
//! A tray is a low box whose bottom is called its platform. A flat one's platform lies on sides and ends instead of
//! between them, its corner angles below it.

use super::board::{Board, BoardId, BodyId, Role};
use super::carcase::{Builder, DOWN, FORWARD, LEFT, REARWARD, RIGHT, Room, UP};
use super::drawer::Materials;
use super::join::JointRules;
use crate::catalogue::Material;
use crate::geom::{Aabb, Point3, Vector3, VehicleFrame, snap};
use crate::spec::{Drawer, DrawerKind, FrontStyle, JointKind};
use std::sync::Arc;

/// The boards that later steps ask for.
pub(super) struct DrawerBoards {
    pub(super) left: BoardId,
    pub(super) right: BoardId,
    pub(super) bottom: BoardId,
}

/// What the boards of one drawer have in common.
struct Plan<'a> {
    name: &'a str,
    body: BodyId,
    drawer: &'a Drawer,
    rules: JointRules<'a>,
    /// Over all boards but the false front.
    outer: Aabb,
    /// Of sides and ends: the same without a flat tray's platform.
    walls: Aabb,
}

impl Plan<'_> {
    fn board(
        &self,
        part: &str,
        role: Role,
        material: &Arc<Material>,
        aabb: Aabb,
        face: Vector3<VehicleFrame>,
    ) -> Board {
        let name = match self.drawer.kind {
            DrawerKind::Box => format!("{}-box-{part}", self.name),
            DrawerKind::Lipped | DrawerKind::Flat => format!("{}-{part}", self.name),
        };
        Board::filling(name, role, self.body, Arc::clone(material), aabb, face, self.drawer.span)
    }
}

impl Builder<'_> {
    /// Boards of the box, and the false front.
    pub(super) fn drawer_boards(
        &mut self,
        name: &str,
        body: BodyId,
        room: &Room,
        drawer: &Drawer,
        m: &Materials,
        outer: Aabb,
    ) -> DrawerBoards {
        let rules = JointRules::of_drawer(self.design, self.carcase, drawer);
        let mut walls = outer;
        if drawer.kind == DrawerKind::Flat {
            walls.high.z -= m.bottom.actual;
        }
        let plan = Plan { name, body, drawer, rules, outer, walls };
        let t = m.panel.actual;
        let side = |low: f64, high: f64| {
            let mut aabb = walls;
            (aabb.low.y, aabb.high.y) = (low, high);
            aabb
        };
        let (low, high) = (outer.low.y, outer.high.y);
        let left = plan.board("left", Role::BoxSide, &m.panel, side(high - t, high), LEFT).flush();
        let right = plan.board("right", Role::BoxSide, &m.panel, side(low, low + t), RIGHT).flush();
        let (left, right) = (self.push(left), self.push(right));
        let back_inset = self.inset(&plan, "back", &m.panel);
        let mut end = side(low + t, high - t);
        end.high.x = end.low.x + t;
        let front = self.push(plan.board("front", Role::BoxEnd, &m.panel, end, REARWARD).flush());
        let rear = walls.high.x - back_inset;
        (end.low.x, end.high.x) = (rear - t, rear);
        let back = self.push(plan.board("back", Role::BoxEnd, &m.panel, end, FORWARD));
        for side in [left, right] {
            self.meet_by(&plan.rules, front, side, &[FORWARD]);
            self.meet_by(&plan.rules, back, side, &[REARWARD]);
        }
        let bottom = self.bottom(&plan, m, [left, right, front, back], rear);
        if let Some(material) = &m.front {
            self.false_front(&plan, room, material, front);
        }
        DrawerBoards { left, right, bottom }
    }

    /// The bottom between the walls, or the platform on them.
    fn bottom(&mut self, plan: &Plan<'_>, m: &Materials, walls: [BoardId; 4], rear: f64) -> BoardId {
        let t = m.panel.actual;
        let mut aabb = plan.outer;
        let (part, role, face) = match plan.drawer.kind {
            DrawerKind::Box => ("bottom", Role::BoxBottom, DOWN),
            DrawerKind::Lipped | DrawerKind::Flat => ("platform", Role::Platform, UP),
        };
        if plan.drawer.kind == DrawerKind::Flat {
            aabb.low.z = plan.walls.high.z;
            let platform = self.push(plan.board(part, role, &m.bottom, aabb, face).flush());
            let inside = [RIGHT, LEFT, FORWARD, REARWARD];
            for (wall, inwards) in walls.into_iter().zip(inside) {
                self.meet_by(&plan.rules, wall, platform, &[inwards]);
            }
            return platform;
        }
        let inset = self.inset(plan, part, &m.bottom);
        (aabb.low.x, aabb.high.x) = (aabb.low.x + t, rear - t);
        (aabb.low.y, aabb.high.y) = (aabb.low.y + t, aabb.high.y - t);
        aabb.low.z += inset;
        aabb.high.z = aabb.low.z + m.bottom.actual;
        let bottom = plan.board(part, role, &m.bottom, aabb, face);
        let bottom = self.push(bottom);
        for wall in walls {
            self.meet_by(&plan.rules, bottom, wall, &[UP]);
        }
        bottom
    }

    fn false_front(&mut self, plan: &Plan<'_>, room: &Room, material: &Arc<Material>, behind: BoardId) {
        let aabb = match self.carcase.fronts.style.value {
            FrontStyle::Overlay => self.overlay_front(room, material.actual),
            FrontStyle::Inset => {
                let gap = self.carcase.fronts.gap.value;
                let Aabb { low, high } = room.aabb;
                Aabb {
                    low: Point3::new(low.x, low.y + gap, low.z + gap),
                    high: Point3::new(low.x + material.actual, high.y - gap, high.z - gap),
                }
            }
        };
        let name = match plan.drawer.kind {
            DrawerKind::Box => format!("{}-front", plan.name),
            // A tray's own end has that name.
            DrawerKind::Lipped | DrawerKind::Flat => format!("{}-false-front", plan.name),
        };
        let material = Arc::clone(material);
        let face = Board::filling(name, Role::Front, plan.body, material, aabb, REARWARD, plan.drawer.span);
        let face = self.push(face);
        self.meet_faces(&plan.rules, face, behind);
    }

    /// mm by which the box's back or bottom stands in from the sides' edge: none, unless a bolt along its
    /// mid-plane must keep its distance from that edge.
    fn inset(&mut self, plan: &Plan<'_>, part: &str, material: &Material) -> f64 {
        let stem = if plan.drawer.kind == DrawerKind::Box { "-box" } else { "" };
        let joint = format!("{0}{stem}-{part}+{0}{stem}-left", plan.name);
        if plan.rules.kind(&joint).value != JointKind::CaptiveNut {
            return 0.0;
        }
        let size = self.plan(&plan.rules, &joint).size.map(|size| size.value);
        let size = size.or_else(|| self.catalogue.largest_captive_nut(material.actual));
        let diameter = size.and_then(|size| self.catalogue.thread(&size).map(|thread| thread.diameter));
        let distance = self.design.workshop.edge_distance.value * diameter.unwrap_or(0.0);
        snap((distance - material.actual / 2.0).max(0.0).ceil())
    }
}
