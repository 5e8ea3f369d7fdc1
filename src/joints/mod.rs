//! Placed boards become a kit: bolts, and from them every hole; tabs and slots; angles.
//!
//! Takes the layout, gives the finished [`Kit`]. A hole is never authored: a bolt is placed once, in the
//! vehicle frame, and every panel that its axis passes through gets its hole from it. Order of work: what
//! holds the kit to the vehicle, fixtures and slides (their holes are given), then corners along x, z and y, then faces; each bolt goes where nothing stands.

pub(crate) mod anchor_rules;
mod anchors;
mod angle;
mod captive;
pub(crate) mod coating;
mod face;
mod fixtures;
mod model;
mod obstacles;
pub(crate) mod on_face;
mod outline;
pub(crate) mod part_mark;
mod pierce;
mod place;
pub(crate) mod rules;
mod shared;
mod slides;
pub(crate) mod solids;
mod stations;

#[cfg(test)]
pub(crate) use model::Countersink;
pub(crate) use model::{Anchorage, AnglePiece, Bolt, BoltId, Bore, Kit, NutSlot, Panel, Purpose};
pub(crate) use obstacles::{Obstacles, Owner};
pub(crate) use stations::LEAST_PITCH;

use crate::catalogue::{Catalogue, Kind, Thread};
use crate::diag::{Finding, Findings, Span};
use crate::layout::{BoardId, FaceMeeting, Layout, Meeting, Role};
use crate::number::decimal;
use crate::spec::{Design, HoleClass, JointKind};
use captive::Cuts;
use itertools::izip;
use place::Placer;
use std::sync::OnceLock;

/// Bolts and holes of the whole kit. `None` if a bolt cannot be made; the findings say why.
pub(crate) fn join(
    findings: &mut Findings,
    design: &Design,
    catalogue: &Catalogue,
    layout: Layout,
) -> Option<Kit> {
    let mut placer = Placer {
        design,
        catalogue,
        layout: &layout,
        findings,
        obstacles: Obstacles::of_layout(&layout, crate::layout::MOVING_CLEARANCE),
        bolts: Vec::new(),
        angles: Vec::new(),
        ties: Vec::new(),
    };
    let anchorages = placer.anchors();
    placer.fixture_bolts();
    placer.slide_bolts();
    let mut cuts = Cuts::default();
    for meeting in in_working_order(&layout.meetings) {
        match (meeting.plan.kind, &meeting.plan.angle) {
            (JointKind::Angle, Some(angle)) => placer.angle_joint(meeting, angle),
            (JointKind::Angle, None) => {}
            (JointKind::CaptiveNut, _) => placer.captive_joint(meeting, &mut cuts),
            (JointKind::Face, _) => placer.face_joint_at_corner(meeting),
        }
    }
    for meeting in &layout.face_meetings {
        placer.face_joint(meeting);
    }
    let pierced: Vec<(BoardId, Bore)> =
        pierce::pierce(&layout, &placer.bolts, |bolt| placer.clearance_hole(&bolt.hardware.thread));
    let (bolts, angles, ties) = (placer.bolts, placer.angles, placer.ties);
    let pierced = pierced.into_iter().filter_map(|(id, bore)| {
        let slot = pierce::slot(layout.board(id), &bolts[bore.bolt.0], bore.diameter);
        cuts.openings.extend(slot.iter().map(|slot| (id, slot.clone())));
        slot.is_none().then_some((id, bore))
    });
    let pierced = pierced.collect();
    let panels = finished_panels(&layout, cuts, pierced);
    let mut kit = Kit {
        layout,
        panels,
        bolts,
        angles,
        anchorages,
        ties,
        coatings: Vec::new(),
        solids: OnceLock::new(),
    };
    kit.coatings = coating::coatings(&kit);
    if let Some(wanted) = &design.workshop.part_marks {
        part_mark::add(&mut kit, wanted);
    }
    (!findings.has_errors()).then_some(kit)
}

/// Corners along x first, since they are the longest, then upright ones, then those across; each in the order
/// of the layout.
fn in_working_order(meetings: &[Meeting]) -> Vec<&Meeting> {
    let rank = |meeting: &&Meeting| match meeting.along {
        along if along.x > 0.5 => 0,
        along if along.z > 0.5 => 1,
        _ => 2,
    };
    let mut order: Vec<&Meeting> = meetings.iter().collect();
    order.sort_by_key(rank);
    order
}

/// Panels with the contour, openings and holes that the joints gave them.
fn finished_panels(layout: &Layout, cuts: Cuts, pierced: Vec<(BoardId, Bore)>) -> Vec<Panel> {
    let n = layout.boards.len();
    let mut features = vec![Vec::new(); n];
    let mut openings: Vec<Vec<_>> = layout.boards.iter().map(|board| board.openings.clone()).collect();
    let mut nut_slots = vec![Vec::new(); n];
    let mut bores = vec![Vec::new(); n];
    for (board, feature) in cuts.features {
        features[board.0].push(feature);
    }
    for (board, opening) in cuts.openings {
        openings[board.0].push(opening);
    }
    for (board, slot) in cuts.nut_slots {
        nut_slots[board.0].push(slot);
    }
    for (board, bore) in pierced {
        bores[board.0].push(bore);
    }
    izip!(&layout.boards, features, openings, nut_slots, bores)
        .map(|(board, features, openings, nut_slots, mut bores)| {
            bores.sort_by(|a, b| a.centre.x.total_cmp(&b.centre.x).then(a.centre.y.total_cmp(&b.centre.y)));
            Panel {
                name: board.name.clone(),
                role: board.role,
                body: board.body,
                material: board.material.clone(),
                outline: outline::contour(&board.shape, &features),
                openings,
                engravings: board.engravings.clone(),
                bores,
                nut_slots,
                placement: board.placement,
                span: board.span,
            }
        })
        .collect()
}

impl Placer<'_> {
    /// The thread that a joint's plan asks for; a finding if there is none of that size.
    fn thread(&mut self, size: &str, meeting: &Meeting) -> Option<Thread> {
        if let Some(thread) = self.catalogue.thread(size) {
            return Some(thread.clone());
        }
        let span = meeting.plan.size.as_ref().map_or(meeting.plan.span, |size| size.span);
        let known = self.catalogue.names(Kind::Thread);
        let message = format!("there is no bolt of size `{size}`");
        let help = format!("known are {}", known.join(", "));
        self.findings.push(Finding::new(&rules::UNKNOWN_BOLT_SIZE, span, message).help(help));
        None
    }

    /// mm. Clearance hole for a thread, of the workshop's class (ISO 273).
    fn clearance_hole(&self, thread: &Thread) -> f64 {
        match self.design.workshop.hole_class.value {
            HoleClass::Fine => thread.clearance_fine,
            HoleClass::Medium => thread.clearance_medium,
            HoleClass::Coarse => thread.clearance_coarse,
        }
    }

    fn no_length(&mut self, on: &str, span: Span, size: &str, stack: f64, least: f64) {
        let message = format!(
            "no {size} bolt and nut hold {} mm with one to three threads proud (a length of {} mm or a little more is wanted)",
            decimal(stack, 2),
            decimal(least, 2)
        );
        self.findings.push(
            Finding::new(&rules::NO_BOLT_LENGTH, span, message)
                .on(on)
                .help("take another bolt size or another thickness of panel"),
        );
    }

    fn joint_without_bolts(&mut self, meeting: &Meeting, why: &str) {
        let mut message = format!("`{}`: {why} along its {} mm", meeting.name, decimal(meeting.length, 2));
        let size = meeting.plan.size.as_ref().map(|size| &size.value);
        let size = size.or(meeting.plan.angle.as_ref().map(|angle| &angle.bolt));
        for board in [meeting.edge, meeting.face].map(|id| self.layout.board(id)) {
            let too_thin = size.is_some_and(|size| !self.catalogue.sinks_into(board.thickness(), size));
            if board.flush_face_a && too_thin {
                message = format!(
                    "{message}; heads must lie flush in `{}`, which is too thin for {} ({} mm)",
                    board.name,
                    size.map_or("them", String::as_str),
                    decimal(board.thickness(), 2)
                );
            }
        }
        let help = if self.layout.board(meeting.edge).role == Role::Wing {
            "take a `panel` for the wing that is as thick as the carcase's deck, so that their angles share bolts, \
             or another height with `top`"
        } else {
            "give it more room, take a smaller angle or bolt, or another kind of joint under `joints: named:`"
        };
        self.findings.push(
            Finding::new(&rules::JOINT_WITHOUT_BOLTS, meeting.plan.span, message)
                .on(&meeting.name)
                .help(help),
        );
    }

    fn too_few_on_face(&mut self, meeting: &FaceMeeting, number: usize) {
        let message = format!(
            "`{}`: {number} bolts find a free place on the face that these panels share; two are needed",
            meeting.name
        );
        let help = if [meeting.head, meeting.nut]
            .iter()
            .any(|board| self.layout.board(*board).role == Role::Ledge)
        {
            "its nuts reach below the strip: give a drawer under the hatch more room above it with `clear_above`, or move \
             the hatch"
        } else {
            "make the panels larger or take a smaller bolt under `joints: named:`"
        };
        self.findings.push(
            Finding::new(&rules::JOINT_WITHOUT_BOLTS, meeting.plan.span, message)
                .on(&meeting.name)
                .help(help),
        );
    }

    fn face_joint_at_corner(&mut self, meeting: &Meeting) {
        let message = format!("`{}`: an edge meets a face here; a face joint needs two faces", meeting.name);
        self.findings.push(
            Finding::new(&rules::FACE_JOINT_AT_CORNER, meeting.plan.span, message)
                .on(&meeting.name)
                .help("take `angle` or `captive-nut`"),
        );
    }

    /// How a finding calls what stands somewhere.
    fn owner_name(&self, owner: Owner) -> String {
        match owner {
            Owner::Board(id) => format!("the panel `{}`", self.layout.board(id).name),
            Owner::Slide(i) => format!("the slide `{}`", self.layout.mounts[i].name),
            Owner::Angle(i) => format!("the angle `{}`", self.angles[i].name),
            Owner::Fixture(i) => format!("`{}`", self.layout.fixtures[i].name),
            Owner::Room(i) => format!("`{}`", self.layout.kept_free[i].name),
            Owner::Hardware(i) | Owner::Shank(i) => format!("the bolt `{}`", self.bolts[i].name),
        }
    }
}
