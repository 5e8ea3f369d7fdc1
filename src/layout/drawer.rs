//! One drawer: the chain from its opening to its box, its slides, and its boards.

use super::board::{BoardId, Body, BodyId, Role};
use super::carcase::{Builder, REARWARD, Room};
use super::meeting::{Meeting, side_behind};
use super::{DrawerSummary, SlideMount, defaults, rules};
use crate::catalogue::hardware::Bearing;
use crate::catalogue::{Angle, Material, Slide, SlideChoice};
use crate::diag::{Finding, Rule, Span};
use crate::geom::tolerance::SAME_LENGTH;
use crate::geom::{Aabb, Point3, Vector3, VehicleFrame, snap};
use crate::number::decimal;
use crate::spec::{Drawer, DrawerKind, FrontStyle};
use std::sync::Arc;

/// What the corners of an opening take from it.
#[derive(Clone, Copy, Debug, Default)]
struct Corners {
    /// mm that a box must stay away from the board below or above, if it reaches over the angle's leg.
    stack: f64,
    /// mm of the upright that the angle covers, so that no slide can lie there.
    leg: f64,
}

/// A drawer's chain of dimensions, worked out.
struct Chain {
    slide: Arc<Slide>,
    side_space: f64,
    box_aabb: Aabb,
    /// mm above the bay floor.
    slide_centre: f64,
}

/// Materials of a drawer.
pub(super) struct Materials {
    pub(super) panel: Arc<Material>,
    pub(super) bottom: Arc<Material>,
    /// Of the false front, if there is one.
    pub(super) front: Option<Arc<Material>>,
}

impl Builder<'_> {
    /// All boards and slides of the drawer called `name` in `room`.
    pub(super) fn drawer(&mut self, name: &str, room: &Room, drawer: &Drawer) -> Option<()> {
        let (materials, choice) = self.drawer_choice(drawer)?;
        let chain = self.chain(name, room, drawer, &materials, choice)?;
        let travel = REARWARD * chain.slide.travel;
        let carcase = self.carcase.id.value.clone();
        let drop = chain.slide.drop;
        self.comes_clear(name, room, drawer, &chain)?;
        let body = BodyId(self.layout.bodies.len());
        self.layout.bodies.push(Body { name: name.to_owned(), carcase, travel, drop, swing: None });
        let boards = self.drawer_boards(name, body, room, drawer, &materials, chain.box_aabb);
        self.mounts(name, body, room, &chain, (boards.left, boards.right), drawer.slide.span);
        self.summarise(name, (body, boards.bottom), room, &chain, &materials, drawer);
        Some(())
    }

    /// What the drawer's names stand for. All are looked up, so that every unknown one is reported.
    pub(super) fn drawer_choice(&mut self, drawer: &Drawer) -> Option<(Materials, SlideChoice)> {
        let ids = [&drawer.panel, &drawer.bottom];
        let [panel, bottom] = ids.map(|id| self.catalogue.find_material(self.findings, id));
        let front = drawer.front.as_ref().map(|id| self.catalogue.find_material(self.findings, id));
        let choice = self.catalogue.find_slide(self.findings, &drawer.slide);
        let front = front.map_or(Some(None), |front| front.map(Some));
        Some((Materials { panel: panel?, bottom: bottom?, front: front? }, choice?))
    }

    /// From the opening to the box.
    fn chain(
        &mut self,
        name: &str,
        room: &Room,
        drawer: &Drawer,
        materials: &Materials,
        choice: SlideChoice,
    ) -> Option<Chain> {
        let Aabb { low, high } = room.aabb;
        let x0 = match (self.carcase.fronts.style.value, &materials.front) {
            (FrontStyle::Inset, Some(front)) => low.x + front.actual,
            (FrontStyle::Overlay, _) | (_, None) => low.x,
        };
        let slide = self.slide(name, drawer, choice, high.x - x0 - defaults::BACK_STOP_GAP)?;
        let depth = drawer.depth.map_or(defaults::SLIDE_SETBACK + slide.length, |depth| depth.value);
        let side_space = slide.thickness + self.design.workshop.slide_allowance.value;
        let corners = |open: bool, board: BoardId| {
            if open { Corners::default() } else { self.corners(room, board, side_space) }
        };
        let above = corners(room.open_above, room.above);
        let below = corners(room.open_below, room.below);
        let clear_above = drawer.clear_above.value.max(above.stack);
        let clear_below = drawer.clear_below.value.max(below.stack);
        let room_height = high.z - low.z - clear_above - clear_below;
        let height = drawer.box_height.map(|height| height.value);
        let height =
            height.unwrap_or_else(|| own_height(drawer.kind, &slide, materials).unwrap_or(room_height));
        let box_aabb = Aabb {
            low: Point3::new(x0, low.y + side_space, low.z + clear_below),
            high: Point3::new(x0 + depth, high.y - side_space, low.z + clear_below + height),
        };
        let width = box_aabb.size().y;
        let inside = (width - 2.0 * materials.panel.actual, height - materials.bottom.actual);
        if inside.0.min(inside.1) < defaults::LEAST_INSIDE || height > room_height + SAME_LENGTH {
            let [width, height, room_height] = [width, height, room_height].map(|length| decimal(length, 2));
            let message = format!(
                "the drawer's box would be {width} mm wide and {height} mm high; the opening leaves {room_height} mm of height"
            );
            self.fault(&rules::DRAWER_BOX_DOES_NOT_FIT, drawer.span, name, message,
                "make the opening larger, the box lower, or take thinner slides or another joint at the corners");
            return None;
        }
        // The sides that carry the slides end under a flat tray's platform.
        let sides_end = match drawer.kind {
            DrawerKind::Flat => box_aabb.high.z - materials.bottom.actual,
            DrawerKind::Box | DrawerKind::Lipped => box_aabb.high.z,
        };
        let window = (
            (low.z + below.leg + slide.height / 2.0).max(box_aabb.low.z + defaults::SLIDE_TO_BOX_EDGE),
            (high.z - above.leg - slide.height / 2.0).min(sides_end - defaults::SLIDE_TO_BOX_EDGE),
        );
        let slide_centre = self.slide_centre(name, room, drawer, &slide, box_aabb.low.z, window)?;
        Some(Chain { slide, side_space, box_aabb, slide_centre })
    }

    /// A tray that is to stand clear of its carcase does so when it is open.
    fn comes_clear(&mut self, name: &str, room: &Room, drawer: &Drawer, chain: &Chain) -> Option<()> {
        let Some(span) = drawer.comes_clear else { return Some(()) };
        let needed = chain.box_aabb.high.x - room.aabb.low.x;
        let travel = chain.slide.travel;
        if travel + SAME_LENGTH >= needed {
            return Some(());
        }
        let [travel, needed] = [travel, needed].map(|length| decimal(length, 2));
        let message =
            format!("its slides let it out by {travel} mm; its rear end is clear from {needed} mm on");
        let help = "take slides that come out further than they are long (`overtravel`), or a shorter tray";
        self.fault(&rules::TRAY_STAYS_INSIDE, span, name, message, help);
        None
    }

    /// The slide that the spec names, or the longest of the family that fits; checked against the room.
    fn slide(&mut self, name: &str, drawer: &Drawer, choice: SlideChoice, room: f64) -> Option<Arc<Slide>> {
        let depth = drawer.depth.map_or(f64::INFINITY, |depth| depth.value);
        let fits = |slide: &Slide| slide.length + defaults::SLIDE_SETBACK <= room.min(depth) + SAME_LENGTH;
        let slide = match choice {
            SlideChoice::One(slide) => slide,
            SlideChoice::Family(family) => {
                // Lengths rise within a family, so the last that fits is the longest.
                let longest = family.iter().rfind(|slide| fits(slide)).or(family.first());
                Arc::clone(longest?)
            }
        };
        let [length, room_told] = [slide.length, room].map(|length| decimal(length, 2));
        if !fits(&slide) || drawer.depth.is_some_and(|depth| depth.value > room + SAME_LENGTH) {
            let wanted = if depth.is_finite() {
                format!(" and a box of {} mm", decimal(depth, 2))
            } else {
                String::new()
            };
            let message = format!("a slide of {length} mm{wanted} in a space {room_told} mm deep");
            let help = format!(
                "the box must be at least {} mm longer than the slide and end {} mm before what stands behind it; take a shorter slide, a longer box or a deeper carcase",
                decimal(defaults::SLIDE_SETBACK, 1),
                decimal(defaults::BACK_STOP_GAP, 1)
            );
            self.fault(&rules::SLIDE_LONGER_THAN_SPACE, drawer.slide.span, name, message, help);
            return None;
        }
        if slide.rating_pair.is_none() {
            let message = format!("the slide `{}` has no rating at its length of {length} mm", slide.id);
            self.fault(
                &rules::SLIDE_WITHOUT_RATING,
                drawer.slide.span,
                name,
                message,
                "give `rating_pair` for it in the workshop file, from the supplier's sheet",
            );
            return None;
        }
        Some(slide)
    }

    /// What the joints at the board above or below take from the room's corners.
    fn corners(&self, room: &Room, board: BoardId, side_space: f64) -> Corners {
        let mut corners = Corners::default();
        for upright in [room.left, room.right] {
            let Some(meeting) = self.meeting(upright, board) else { continue };
            let Some(angle) = &meeting.plan.angle else { continue };
            corners.leg = corners.leg.max(angle.leg + defaults::MOVING_CLEARANCE);
            if !points_into(room, self, meeting) || angle.leg <= side_space {
                continue;
            }
            let size = meeting.plan.size.as_ref().map_or(&angle.bolt, |size| &size.value);
            let level = self.leg_and_nut(angle, board, size);
            let beside = self.leg_and_nut(angle, upright, size);
            let stack =
                if beside > side_space { level.max(angle.leg + defaults::MOVING_CLEARANCE) } else { level };
            corners.stack = corners.stack.max(snap(stack.ceil()));
        }
        corners
    }

    /// mm that an angle's leg on a board, and the nuts on it, stand out from the board, with clearance for what
    /// moves past them.
    fn leg_and_nut(&self, angle: &Angle, board: BoardId, size: &str) -> f64 {
        let board = self.layout.board(board);
        let stack = board.thickness() + angle.thickness;
        // A side may yet turn out to stand against another module, and its heads to lie flush: the higher counts.
        // Without hardware the joint is a finding later on; the leg is there in any case.
        let height = [false, self.catalogue.sinks_into(board.thickness(), size)]
            .into_iter()
            .filter_map(|flush| self.catalogue.joint_hardware(size, stack, flush, Bearing::Metal).ok())
            .map(|hardware| hardware.nut_height())
            .fold(0.0, f64::max);
        angle.thickness + height + defaults::MOVING_CLEARANCE
    }

    fn meeting(&self, a: BoardId, b: BoardId) -> Option<&Meeting> {
        self.layout.meetings.iter().find(|m| (m.edge, m.face) == (a, b) || (m.edge, m.face) == (b, a))
    }

    /// Height of the slide's centre line: as given, or the middle of the box; moved out of the way of a slide
    /// on the other face of the same upright with which it cannot share bolts.
    fn slide_centre(
        &mut self,
        name: &str,
        room: &Room,
        drawer: &Drawer,
        slide: &Slide,
        box_bottom: f64,
        window: (f64, f64),
    ) -> Option<f64> {
        let wanted = drawer.slide_height.map(|height| box_bottom + height.value);
        let low_enough = wanted.unwrap_or(window.0) <= window.1 + SAME_LENGTH;
        if !low_enough || wanted.unwrap_or(window.1) < window.0 - SAME_LENGTH {
            let [height, from, to] =
                [slide.height, window.0 - box_bottom, window.1 - box_bottom].map(|length| decimal(length, 2));
            let message = format!(
                "a slide {height} mm high must have its centre between {from} and {to} mm above the box's underside, clear of corner angles and box edges"
            );
            let span = drawer.slide_height.map_or(drawer.slide.span, |height| height.span);
            self.fault(&rules::SLIDE_HIGHER_THAN_SPACE, span, name, message,
                "make the opening or the box higher, move `slide_height`, take a lower slide, or another joint at the corners");
            return None;
        }
        if wanted.is_some() {
            return wanted;
        }
        let middle = snap(f64::midpoint(window.0, window.1));
        let half = (window.1 - window.0) / 2.0;
        let n = (half / defaults::STAGGER_STEP).floor();
        let steps = (0..).map(f64::from).take_while(|&i| i <= n).map(|i| i * defaults::STAGGER_STEP);
        let steps = steps.flat_map(|step| [middle + step, middle - step]);
        // Slides back to back share their bolts where they are alike and as high.
        let alike =
            self.layout.mounts.iter().filter(|mount| mount.slide.id == slide.id).map(|mount| mount.height);
        let alike: Vec<f64> = alike.filter(|height| (window.0..=window.1).contains(height)).collect();
        let mut candidates = std::iter::once(middle).chain(alike).chain(steps);
        candidates.find(|&centre| self.slide_may_stand(room, slide, centre)).or(Some(middle))
    }

    /// Whether slides at this height agree with what stands on the uprights' other faces: shelves, and slides with
    /// which they cannot share bolts. Two modules' sides against each other count as one upright.
    fn slide_may_stand(&self, room: &Room, slide: &Slide, centre: f64) -> bool {
        let reach = self.catalogue.washer_radius(&slide.bolt) + defaults::MOVING_CLEARANCE;
        [room.left, room.right].into_iter().all(|upright| {
            let behind = side_behind(self.layout, upright).map(|(behind, _)| behind);
            let walls: Vec<BoardId> = std::iter::once(upright).chain(behind).collect();
            let thickness = walls.iter().map(|&wall| self.layout.board(wall).thickness()).sum();
            let shelf = walls.iter().any(|&wall| self.shelf_behind(wall, centre, reach));
            let mut mounts = self.layout.mounts.iter().filter(|mount| walls.contains(&mount.carcase_board));
            !shelf
                && mounts.all(|mount| {
                    let apart = (mount.height - centre).abs();
                    let alike = apart < SAME_LENGTH && mount.slide.id == slide.id;
                    let clear = mount.slide.height.max(slide.height) / 2.0 + reach;
                    alike && self.catalogue.shared_slide_hardware(thickness, &mount.slide, slide).is_ok()
                        || apart >= clear
                })
        })
    }

    /// Whether a shelf ends on an upright within `reach` mm of a height: where it stands no nut can be.
    fn shelf_behind(&self, upright: BoardId, height: f64, reach: f64) -> bool {
        let meetings = self.layout.meetings.iter().filter(|meeting| meeting.face == upright);
        meetings.map(|meeting| self.layout.board(meeting.edge)).any(|board| {
            board.role == Role::Shelf
                && board.aabb.low.z < height + reach
                && board.aabb.high.z > height - reach
        })
    }

    fn mounts(
        &mut self,
        name: &str,
        drawer: BodyId,
        room: &Room,
        chain: &Chain,
        sides: (BoardId, BoardId),
        span: Span,
    ) {
        let slide = &chain.slide;
        let x = chain.box_aabb.low.x + defaults::SLIDE_SETBACK;
        let (half, z) = (slide.thickness / 2.0, chain.slide_centre);
        let member = |y0: f64, y1: f64| Aabb {
            low: Point3::new(x, y0, z - slide.height / 2.0),
            high: Point3::new(x + slide.length, y1, z + slide.height / 2.0),
        };
        let (left, right) = (room.aabb.high.y, room.aabb.low.y);
        let pairs = [
            (
                "left",
                room.left,
                sides.0,
                member(left - half, left),
                member(left - 2.0 * half, left - half),
                -1.0,
            ),
            (
                "right",
                room.right,
                sides.1,
                member(right, right + half),
                member(right + half, right + 2.0 * half),
                1.0,
            ),
        ];
        for (hand, carcase_board, box_board, fixed, moving, side) in pairs {
            self.layout.mounts.push(SlideMount {
                name: format!("{name}-slide-{hand}"),
                slide: Arc::clone(slide),
                carcase_board,
                box_board,
                drawer,
                fixed,
                moving,
                height: z,
                side,
                span,
            });
        }
    }

    fn summarise(
        &mut self,
        name: &str,
        (body, bottom): (BodyId, BoardId),
        room: &Room,
        chain: &Chain,
        m: &Materials,
        drawer: &Drawer,
    ) {
        let (opening, outer) = (room.aabb.size(), chain.box_aabb.size());
        let ends = 2.0 * m.panel.actual;
        self.layout.drawers.push(DrawerSummary {
            name: name.to_owned(),
            kind: drawer.kind,
            bottom,
            load: drawer.load.map_or(0.0, |load| load.value),
            latch: drawer.latch.map(|latch| latch.value),
            body,
            slide: Arc::clone(&chain.slide),
            opening: (opening.y, opening.z),
            side_space: chain.side_space,
            box_size: (outer.y, outer.z, outer.x),
            inside: (outer.y - ends, outer.z - m.bottom.actual, outer.x - ends),
            clear: (room.aabb.high.z - chain.box_aabb.high.z, chain.box_aabb.low.z - room.aabb.low.z),
            span: drawer.span,
        });
    }

    fn fault(&mut self, rule: &'static Rule, span: Span, on: &str, message: String, help: impl Into<String>) {
        self.findings.push(Finding::new(rule, span, message).on(on).help(help));
    }
}

/// mm. Height of a tray that does not say one: what its slide needs. A box takes what the opening leaves.
fn own_height(kind: DrawerKind, slide: &Slide, materials: &Materials) -> Option<f64> {
    match kind {
        DrawerKind::Box => None,
        DrawerKind::Lipped | DrawerKind::Flat => {
            Some(slide.height + materials.bottom.actual + TRAY_OVER_SLIDE)
        }
    }
}

/// mm by which a tray's sides and platform are higher than its slides, at least: room for the corner angles. Common
/// practice, no source.
const TRAY_OVER_SLIDE: f64 = 20.0;

/// Whether the angle of a joint, on the side where it goes first, lies in this room.
fn points_into(room: &Room, builder: &Builder<'_>, meeting: &Meeting) -> bool {
    let edge: Vector3<VehicleFrame> = centre(builder.layout.board(meeting.edge).aabb);
    let towards_room = centre(room.aabb) - edge;
    meeting.inside.first().is_some_and(|inside| inside.dot(towards_room) > 0.0)
}

fn centre(aabb: Aabb) -> Vector3<VehicleFrame> {
    (aabb.low.to_vector() + aabb.high.to_vector()) / 2.0
}
