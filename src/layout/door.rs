//! Doors of lockers: a fixed strip beside the hinges, the door, its hinges, latch and striker.
//!
//! All of it is worked out for hinges on any of four sides in the plane of the fronts: `out` leads from the door's middle
//! to its hinges, `along` runs along the axis. So turning a door over moves everything and forgets nothing.

use super::board::{Board, BoardId, Body, BodyId, Role};
use super::carcase::{Builder, FORWARD, LEFT, REARWARD, Room, UP};
use super::door_hardware::bare;
use super::door_rules as rules;
use super::fixture::{Fixture, KeepFree};
use super::on_panel::direction;
use crate::catalogue::{Hinge, Material};
use crate::diag::{Finding, Rule};
use crate::geom::tolerance::SAME_LENGTH;
use crate::geom::{Aabb, Point3, Swing, Vector3, VehicleFrame};
use crate::number::decimal;
use crate::spec::{Door, FrontStyle, Towards};
use std::sync::Arc;

/// A door as laid out.
#[derive(Clone, Debug)]
pub(crate) struct DoorSummary {
    /// Its name: the cell's.
    pub(crate) name: String,
    /// Its body.
    pub(crate) body: BodyId,
    /// Its panel.
    pub(crate) panel: BoardId,
    /// Where its hinges are.
    pub(crate) hinge: Towards,
    /// mm, width and height.
    pub(crate) size: [f64; 2],
    /// What its hinges are, and how many.
    pub(crate) hinges: (String, usize),
    /// What its latch is, and the N that it holds.
    pub(crate) latch: (String, f64),
    /// What holds it open, and with how many N.
    pub(crate) stay: Option<(String, f64)>,
    /// How it turns.
    pub(crate) swing: Swing,
}

/// The plane of a door.
pub(super) struct Plan {
    /// From the door's middle to its hinges.
    pub(super) out: Vector3<VehicleFrame>,
    /// Along the axis, leftward or up.
    pub(super) along: Vector3<VehicleFrame>,
    /// Over strip and door.
    pub(super) front: Aabb,
    /// The strip.
    pub(super) strip: Aabb,
    /// The door.
    pub(super) door: Aabb,
    /// The boards beside it: where the hinges are, and opposite.
    pub(super) boards: (BoardId, BoardId),
    /// The face of the board opposite, mm along `out`.
    pub(super) opposite: f64,
}

impl Plan {
    /// A place in the fronts' outer plane: mm along `out` and `along` in the vehicle.
    pub(super) fn at(&self, out: f64, along: f64) -> Point3<VehicleFrame> {
        Point3::new(self.front.low.x, 0.0, 0.0) + self.out * out + self.along * along
    }

    /// A width and a height on the fronts as mm along `out` and `along`.
    pub(super) fn across_and_along(&self, [width, height]: [f64; 2]) -> (f64, f64) {
        if self.along.z > 0.5 { (width, height) } else { (height, width) }
    }

    /// mm along `out` of the axis: the middle of the gap.
    pub(super) fn axis(&self) -> f64 {
        f64::midpoint(self.strip.reach(self.out).0, self.door.reach(self.out).1)
    }
}

impl Builder<'_> {
    /// The boards, hinges and latch of the door of a cell.
    pub(super) fn door(&mut self, name: &str, room: &Room, door: &Door) -> Option<()> {
        let material = self.catalogue.find_material(self.findings, &door.panel);
        let hinge = self.catalogue.find_hinge(self.findings, &door.hinges);
        let latch = self.catalogue.find_latch(self.findings, &door.latch);
        let stay = door.stay.as_ref().map(|stay| self.catalogue.find_stay(self.findings, stay));
        let stay = stay.map_or(Some(None), |stay| stay.map(Some));
        let (material, hinge, latch, stay) = (material?, hinge?, latch?, stay?);
        let plan = self.plan_of(room, door, &material);
        self.hinge_holds(name, door, (&hinge, &material), &plan)?;
        let pivot = plan.at(plan.axis(), 0.0) - FORWARD * (hinge.knuckle / 2.0);
        let swing = swing(door.hinge.value, pivot, door.open.value);
        let (strip, panel) = self.door_boards(name, door, (&plan, swing), &material);
        if door.style == FrontStyle::Inset {
            self.keep_gap_free(name, room, door, &plan);
        }
        let hinges = self.hinges(name, door, &plan, &hinge, (strip, panel))?;
        self.latch(name, door, &plan, &latch, panel)?;
        if let Some(stay) = &stay {
            self.layout.fixtures.push(Fixture {
                title: stay.title.clone(),
                item: stay.id.clone(),
                mass: stay.mass,
                // Its ends are not placed; it lies somewhere behind the door.
                centre: plan.door.low + plan.door.size() / 2.0,
                ..bare(format!("{name}-stay"), (self.body, None), door.span)
            });
        }
        let size = plan.door.size();
        self.layout.doors.push(DoorSummary {
            name: name.to_owned(),
            body: self.layout.board(panel).body,
            panel,
            hinge: door.hinge.value,
            size: [size.y, size.z],
            hinges: (hinge.title.clone(), hinges),
            latch: (latch.title.clone(), latch.hold),
            stay: stay.map(|stay| (stay.title.clone(), stay.force)),
            swing,
        });
        Some(())
    }

    /// The strip, bolted to the board where the hinges are, and the door, a body of its own.
    fn door_boards(
        &mut self,
        name: &str,
        door: &Door,
        (plan, swing): (&Plan, Swing),
        material: &Arc<Material>,
    ) -> (BoardId, BoardId) {
        let board = |part: &str, body, aabb| {
            let name = format!("{name}-{part}");
            Board::filling(name, Role::Front, body, Arc::clone(material), aabb, REARWARD, door.span)
        };
        let strip = self.push(board("strip", self.body, plan.strip));
        match door.style {
            FrontStyle::Overlay => self.meet(plan.boards.0, strip, &[-plan.out]),
            FrontStyle::Inset => self.meet(strip, plan.boards.0, &[FORWARD]),
        }
        let body = BodyId(self.layout.bodies.len());
        let carcase = self.carcase.id.value.clone();
        let travel = Vector3::zero();
        self.layout.bodies.push(Body {
            name: name.to_owned(),
            carcase,
            travel,
            drop: 0.0,
            swing: Some(swing),
        });
        (strip, self.push(board("door", body, plan.door)))
    }

    /// Where strip and door lie.
    fn plan_of(&self, room: &Room, door: &Door, material: &Material) -> Plan {
        let gap = self.carcase.fronts.gap.value;
        let out = direction(door.hinge.value);
        let along = if out.z.abs() > 0.5 { LEFT } else { UP };
        let front = match door.style {
            FrontStyle::Overlay => self.overlay_front(room, material.actual),
            FrontStyle::Inset => {
                let mut front = room.aabb;
                front.high.x = front.low.x + material.actual;
                front
            }
        };
        let (hinged, opposite) = match door.hinge.value {
            Towards::Left => (room.left, room.right),
            Towards::Right => (room.right, room.left),
            Towards::Up => (room.above, room.below),
            _ => (room.below, room.above),
        };
        // The strip's width is counted in the opening, so that the angle behind it finds the same room in either style.
        let inner = room.aabb.reach(out).1 - door.strip.value;
        let spread = |from: (f64, f64), across: (f64, f64)| {
            let corner = |o: f64, a: f64| Point3::new(front.low.x, 0.0, 0.0) + out * o + along * a;
            let low = Aabb::around([corner(from.0, across.0), corner(from.1, across.1)]);
            Aabb { low: low.low, high: low.high + FORWARD * (front.high.x - front.low.x) }
        };
        let (whole, across) = (front.reach(out), front.reach(along));
        let inset = if door.style == FrontStyle::Inset { gap } else { 0.0 };
        let strip = spread((inner, whole.1), across);
        let leaf = spread((whole.0 + inset, inner - gap), (across.0 + inset, across.1 - inset));
        Plan {
            out,
            along,
            front,
            strip,
            door: leaf,
            boards: (hinged, opposite),
            opposite: room.aabb.reach(out).0,
        }
    }

    /// No angle may lie in the gap round an inset door: its corners swing out a little as it turns.
    fn keep_gap_free(&mut self, name: &str, room: &Room, door: &Door, plan: &Plan) {
        let (open, leaf) = (room.aabb, plan.door);
        let slab = |edit: &dyn Fn(&mut Aabb)| {
            let mut slab =
                Aabb { low: open.low, high: Point3::new(plan.front.high.x, open.high.y, open.high.z) };
            edit(&mut slab);
            slab
        };
        let slabs = [
            slab(&|slab| slab.low.y = leaf.high.y),
            slab(&|slab| slab.high.y = leaf.low.y),
            slab(&|slab| slab.low.z = leaf.high.z),
            slab(&|slab| slab.high.z = leaf.low.z),
        ];
        // The strip lies on the side of the hinges.
        let free = slabs.into_iter().filter(|slab| slab.overlap(plan.strip) <= SAME_LENGTH);
        let body = self.body;
        self.layout.kept_free.extend(free.map(|aabb| KeepFree {
            name: format!("{name} (gap round its door)"),
            aabb,
            body,
            for_air: false,
            span: door.span,
        }));
    }

    /// Whether door and strip can carry the hinges.
    fn hinge_holds(
        &mut self,
        name: &str,
        door: &Door,
        (hinge, material): (&Hinge, &Material),
        plan: &Plan,
    ) -> Option<()> {
        if material.actual + SAME_LENGTH < hinge.least_panel {
            let message = format!(
                "`{}` is {} mm thick; {} needs {} mm",
                material.id,
                decimal(material.actual, 2),
                hinge.title,
                decimal(hinge.least_panel, 1)
            );
            self.door_fault(
                &rules::HINGE_PANEL_TOO_THIN,
                name,
                door,
                message,
                "take a thicker `panel`, or lighter `hinges`",
            );
            return None;
        }
        if door.open.value > hinge.opens {
            let message = format!(
                "it is to open by {} degrees; {} opens by {}",
                decimal(door.open.value, 1),
                hinge.title,
                decimal(hinge.opens, 1)
            );
            self.door_fault(
                &rules::DOOR_OPENS_TOO_FAR,
                name,
                door,
                message,
                "open it less, or take other `hinges`",
            );
            return None;
        }
        let Some(message) = self.hinge_lacks_room(door, hinge, plan) else { return Some(()) };
        self.door_fault(
            &rules::DOOR_DOES_NOT_FIT,
            name,
            door,
            message,
            "change `strip`, the gap, the hinges, or the cell's size",
        );
        None
    }

    /// What the strip, the gap or the door has too little of for the hinge; in words.
    fn hinge_lacks_room(&self, door: &Door, hinge: &Hinge, plan: &Plan) -> Option<String> {
        let (strip, leaf) = (plan.strip.reach(plan.out), plan.door.reach(plan.out));
        let angle = self.design.joints.angle.as_ref().and_then(|angle| self.catalogue.angle(&angle.value));
        let angle = angle.or_else(|| self.catalogue.angle(super::defaults::CARCASE_ANGLE));
        let leg = angle.map_or(0.0, |angle| angle.leg);
        let needed = leg + self.catalogue.washer_radius(&hinge.bolt) + hinge.line;
        let least = (needed + 1.0).ceil();
        // The axis lies in the middle of the gap, the bolts as far from it as the hinge's maker drilled.
        let diameter = self.catalogue.thread(&hinge.bolt).map_or(0.0, |thread| thread.diameter);
        let to_edge = self.design.workshop.edge_distance.value * diameter;
        let gap = self.carcase.fronts.gap.value;
        let most = 2.0 * (hinge.line - to_edge);
        let lacks = if door.strip.value + SAME_LENGTH < needed {
            Some(format!(
                "a strip of {} mm has no room for a hinge's nuts beside the angle that holds it: {} mm are needed",
                decimal(door.strip.value, 1),
                decimal(least, 1)
            ))
        } else if gap > most + SAME_LENGTH {
            Some(format!(
                "with {} mm between strip and door the bolts of {} come {} mm from their edges; {} mm are needed, a gap of {} mm at \
                 most (`fronts: gap`)",
                decimal(gap, 2),
                hinge.title,
                decimal(hinge.line - gap / 2.0, 2),
                decimal(to_edge, 2),
                decimal(most, 2)
            ))
        } else if leaf.1 - leaf.0 < 2.0 * hinge.leaf + LEAST_DOOR {
            Some(format!("{} mm are left for the door", decimal(leaf.1 - leaf.0, 1)))
        } else {
            None
        };
        lacks.filter(|_| strip.1 > strip.0)
    }

    pub(super) fn door_fault(
        &mut self,
        rule: &'static Rule,
        name: &str,
        door: &Door,
        message: String,
        help: &str,
    ) {
        self.findings.push(Finding::new(rule, door.span, message).on(name).help(help));
    }
}

/// mm of door beside its hinges' leaf, at least.
const LEAST_DOOR: f64 = 60.0;

/// The turn from shut to open, outwards: positive turns lead from z to x about y, and from x to y about z.
fn swing(hinge: Towards, pivot: Point3<VehicleFrame>, degrees: f64) -> Swing {
    match hinge {
        Towards::Left => Swing { axis: 2, pivot, degrees: -degrees },
        Towards::Right => Swing { axis: 2, pivot, degrees },
        Towards::Up => Swing { axis: 1, pivot, degrees },
        _ => Swing { axis: 1, pivot, degrees: -degrees },
    }
}
