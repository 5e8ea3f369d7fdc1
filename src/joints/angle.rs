//! Corners held by an aluminium angle: one bolt through the edge board and one leg, the next through the face
//! board and the other leg, in turns along the joint.

use super::model::{AnglePiece, Purpose};
use super::obstacles::{Owner, Solid};
use super::place::{Candidate, Placer};
use super::shared::{Shared, clear_of_heads};
use super::{rules, stations};
use crate::catalogue::Angle;
use crate::catalogue::hardware::Bearing;
use crate::diag::Finding;
use crate::geom::stretches::{self, Stroke};
use crate::geom::tolerance::TOUCH;
use crate::geom::{Aabb, Point3, Vector3, VehicleFrame};
use crate::layout::Meeting;
use crate::number::decimal;
use std::sync::Arc;

/// mm that an angle stays short of the end of its joint and of what interrupts it.
const END_PLAY: f64 = 1.0;

/// Bolt diameters from a piece's end to a bolt that had to be moved, at least: above the 1.2 hole diameters of
/// EN 1993-1-8 Table 3.3 and enough for a washer.
pub(super) const LEAST_TO_END: f64 = 2.5;

/// The cross-section of an angle at a joint, as directions and thicknesses.
pub(super) struct Section<'m> {
    pub(super) meeting: &'m Meeting,
    pub(super) angle: &'m Arc<Angle>,
    /// From the edge board's mid-plane towards the angle.
    pub(super) inside: Vector3<VehicleFrame>,
    pub(super) edge_thickness: f64,
    face_thickness: f64,
    /// mm of finish under heads on the edge board, and on the face board.
    padding: [f64; 2],
}

impl Section<'_> {
    /// The boxes of both legs from `s0` to `s1` along the joint.
    fn legs(&self, s0: f64, s1: f64) -> [Aabb; 2] {
        self.meeting.legs(self.angle, self.inside, self.edge_thickness, (s0, s1))
    }

    /// Where the axis of a bolt through the edge board and its leg enters, at `s` along the joint.
    fn on_edge_leg(&self, s: f64) -> Point3<VehicleFrame> {
        let m = self.meeting;
        let out = self.inside * (self.edge_thickness / 2.0 + self.padding[0]);
        m.start - out + m.into_edge * self.angle.gauge + m.along * s
    }

    /// Where the axis of a bolt through the face board and its leg enters, at `s` along the joint.
    fn on_face_leg(&self, s: f64) -> Point3<VehicleFrame> {
        let m = self.meeting;
        let out = self.inside * (self.edge_thickness / 2.0 + self.angle.gauge);
        m.start - m.into_edge * (self.face_thickness + self.padding[1]) + out + m.along * s
    }
}

impl Placer<'_> {
    /// Angle pieces and bolts of one joint.
    pub(super) fn angle_joint(&mut self, meeting: &Meeting, angle: &Arc<Angle>) {
        let size = meeting.plan.size.as_ref().map_or_else(|| angle.bolt.clone(), |size| size.value.clone());
        let Some(thread) = self.thread(&size, meeting) else { return };
        let least = 2.0 * stations::LEAST_FROM_END * thread.diameter;
        let sections = meeting.inside.iter().map(|&inside| self.section(meeting, angle, inside, &size));
        let body = self.layout.board(meeting.edge).body;
        let options: Vec<_> = sections
            .map(|section| {
                let shared = self.shareable(&section, &size);
                let pieces = self.free_pieces(&section, body, &shared, least);
                (section, pieces, shared)
            })
            .collect();
        let total = |pieces: &[(f64, f64)]| pieces.iter().map(|piece| piece.1 - piece.0).sum::<f64>();
        // The preferred side unless another has half as much again.
        let Some((section, pieces, shared)) = options
            .iter()
            .reduce(|best, other| if total(&other.1) > 1.5 * total(&best.1) { other } else { best })
        else {
            return;
        };
        let before = self.bolts.len();
        for (number, &(s0, s1)) in pieces.iter().enumerate() {
            self.piece(section, &size, number + 1, (s0, s1), shared);
        }
        self.report_positions_off(meeting, pieces);
        if self.bolts.len() == before {
            self.joint_without_bolts(meeting, "no bolt finds a free place for an angle");
        }
    }

    fn section<'m>(
        &self,
        meeting: &'m Meeting,
        angle: &'m Arc<Angle>,
        inside: Vector3<VehicleFrame>,
        size: &str,
    ) -> Section<'m> {
        let [edge, face] = [meeting.edge, meeting.face].map(|id| self.layout.board(id));
        let mut section = Section {
            meeting,
            angle,
            inside,
            edge_thickness: edge.thickness(),
            face_thickness: face.thickness(),
            padding: [0.0; 2],
        };
        // Of a whole row of bolts the one in the middle says what lies under them.
        let middle = meeting.length / 2.0;
        if !self.is_flush(meeting.edge, -inside, size) {
            section.padding[0] = edge.under_bolt(-inside, section.on_edge_leg(middle));
        }
        if !self.is_flush(meeting.face, -meeting.into_edge, size) {
            section.padding[1] = face.under_bolt(-meeting.into_edge, section.on_face_leg(middle));
        }
        section
    }

    /// Stretches of the joint, at least `least` mm long, where nothing is in the way of both legs.
    fn free_pieces(
        &self,
        section: &Section<'_>,
        body: crate::layout::BodyId,
        shared: &[Shared],
        least: f64,
    ) -> Vec<(f64, f64)> {
        let m = section.meeting;
        let none = |owner: Owner| match owner {
            Owner::Board(id) => id == m.edge || id == m.face,
            Owner::Hardware(bolt) => shared.iter().any(|shared| shared.bolt == bolt),
            Owner::Slide(_) | Owner::Angle(_) | Owner::Shank(_) | Owner::Fixture(_) | Owner::Room(_) => false,
        };
        let mut blocked: Vec<(f64, f64)> = section
            .legs(0.0, m.length)
            .into_iter()
            .flat_map(|leg| {
                self.obstacles.met_by(leg, body, &none).map(|met| {
                    let at = |p: Point3<VehicleFrame>| (p - m.start).dot(m.along);
                    (at(met.region.low) - END_PLAY, at(met.region.high) + END_PLAY)
                })
            })
            .collect();
        blocked.extend(self.without_board(section));
        blocked.sort_by(|a, b| a.0.total_cmp(&b.0));
        blocked.push((m.length - END_PLAY, f64::INFINITY));
        let mut free = Vec::new();
        let mut from = END_PLAY;
        for (start, end) in blocked {
            let piece = clear_of_heads((from, start), shared);
            if piece.1 - piece.0 >= least {
                free.push(piece);
            }
            from = from.max(end);
        }
        free
    }

    /// Stretches of the joint where a notch or a slanted side leaves a leg without a board behind it.
    fn without_board(&self, section: &Section<'_>) -> Vec<(f64, f64)> {
        let m = section.meeting;
        let to_heel = section.edge_thickness / 2.0;
        let legs = [(m.edge, m.into_edge, 0.0, 0.0), (m.face, section.inside, to_heel, m.face_from)];
        let mut there = vec![(0.0, m.length)];
        for (board, across, heel, begins) in legs {
            let board = self.layout.board(board);
            for out in [begins + TOUCH, section.angle.leg] {
                let start = board.placement.to_panel(m.start + across * (heel + out)).xy();
                let along = board.placement.direction_to_panel(m.along).xy();
                let stroke = Stroke { start, along, length: m.length };
                there = stretches::common(&there, &board.material_along(&stroke));
            }
        }
        let ends = there.iter().flat_map(|&(from, to)| [from, to]);
        let ends: Vec<f64> = std::iter::once(0.0).chain(ends).chain([m.length]).collect();
        ends.chunks(2).map(|gap| (gap[0], gap[1])).filter(|gap| gap.1 > gap.0).collect()
    }

    /// One piece of angle from `s0` to `s1`, with its bolts.
    fn piece(
        &mut self,
        section: &Section<'_>,
        size: &str,
        number: usize,
        (s0, s1): (f64, f64),
        shared: &[Shared],
    ) {
        let m = section.meeting;
        let index = self.angles.len();
        let Some(edge) = self.leg_candidate(section, size, index, true) else { return };
        let Some(face) = self.leg_candidate(section, size, index, false) else { return };
        let (body, hole_diameter) = (edge.body, self.clearance_hole(&edge.hardware.thread));
        let n_before = self.bolts.len();
        let shared: Vec<&Shared> = shared.iter().filter(|shared| (s0..=s1).contains(&shared.at)).collect();
        let short = self.lengthened(&shared, m.into_edge * section.angle.thickness);
        let given: Vec<f64> = shared.iter().map(|shared| shared.at - s0).collect();
        let holes = self.piece_bolts(section, [edge, face], (s0, s1), given);
        if holes.iter().any(Vec::is_empty) {
            // An angle held on one leg only holds nothing: take back what was placed.
            self.take_back(n_before);
            for (bolt, before) in short {
                self.replace(bolt, before);
            }
            return;
        }
        let face_gauge = shared.first().map_or(section.angle.gauge, |shared| shared.gauge);
        let legs = section.legs(s0, s1);
        for aabb in legs {
            self.obstacles.add(Solid { aabb, body, owner: Owner::Angle(index) });
        }
        self.angles.push(AnglePiece {
            name: format!("{}/angle-{number}", m.name),
            angle: Arc::clone(section.angle),
            length: s1 - s0,
            body,
            panels: [m.edge, m.face],
            legs,
            gauges: [section.angle.gauge, face_gauge],
            holes,
            hole_diameter,
            span: m.plan.span,
        });
    }

    /// The bolts of a piece, in turns through its legs; gives the holes of both legs, mm from the piece's start.
    /// Where bolts that were there before hold the leg on the face board, at `shared`, it gets no others.
    fn piece_bolts(
        &mut self,
        section: &Section<'_>,
        bolts: [Candidate; 2],
        (s0, s1): (f64, f64),
        shared: Vec<f64>,
    ) -> [Vec<f64>; 2] {
        let m = section.meeting;
        let [edge, face] = bolts;
        let diameter = edge.hardware.thread.diameter;
        let given = m.plan.at.as_ref();
        let wanted: Vec<f64> = match given {
            Some(at) => at.value.iter().map(|at| at.value).filter(|at| (s0..=s1).contains(at)).collect(),
            None => stations::spread(s1 - s0, diameter, m.plan.spacing).into_iter().map(|s| s0 + s).collect(),
        };
        let margin = LEAST_TO_END * diameter;
        let apart = stations::LEAST_PITCH * diameter;
        let allowed = |others: &[f64], s: f64| {
            s >= s0 + margin && s <= s1 - margin && others.iter().all(|other| (s - s0 - other).abs() >= apart)
        };
        let own_on_face = shared.is_empty();
        let mut holes = [Vec::new(), shared];
        let stagger = edge.hardware.nut_radius() + face.hardware.nut_radius() + 2.0 * END_PLAY;
        // A lone pair of bolts stands about the middle of its piece.
        let alone = if wanted.len() == 1 && given.is_none() { stagger / 2.0 } else { 0.0 };
        for (i, s) in wanted.iter().map(|s| s - alone).enumerate() {
            let on_edge = section.on_edge_leg(s);
            let shift = match given {
                Some(at) => {
                    self.report_blocked(&edge, on_edge, &m.name, s, at.span);
                    Some(0.0)
                }
                None => self.free_shift(&edge, on_edge, m.along, |shift| allowed(&holes[0], s + shift)),
            };
            if let Some(shift) = shift {
                self.keep_on_leg(m, &edge, on_edge + m.along * shift);
                holes[0].push(s + shift - s0);
            }
            if !own_on_face {
                continue;
            }
            // The other leg's bolt goes towards the middle of the piece.
            let s = if 2 * i < wanted.len() { s + stagger } else { s - stagger };
            let on_face = section.on_face_leg(s);
            if let Some(shift) =
                self.free_shift(&face, on_face, m.along, |shift| allowed(&holes[1], s + shift))
            {
                self.keep_on_leg(m, &face, on_face + m.along * shift);
                holes[1].push(s + shift - s0);
            }
        }
        for leg in &mut holes {
            leg.sort_by(f64::total_cmp);
        }
        holes
    }

    fn keep_on_leg(&mut self, m: &Meeting, candidate: &Candidate, origin: Point3<VehicleFrame>) {
        let prefix = format!("{}/", m.name);
        let number = 1 + self.bolts.iter().rev().take_while(|bolt| bolt.name.starts_with(&prefix)).count();
        self.keep(candidate, origin, format!("{prefix}{number}"));
    }

    /// The bolt through one board and the leg on it: `on_edge` for the edge board's.
    fn leg_candidate(
        &mut self,
        section: &Section<'_>,
        size: &str,
        angle_index: usize,
        on_edge: bool,
    ) -> Option<Candidate> {
        let m = section.meeting;
        let (board, direction, thickness, padding) = if on_edge {
            (m.edge, section.inside, section.edge_thickness, section.padding[0])
        } else {
            (m.face, m.into_edge, section.face_thickness, section.padding[1])
        };
        let stack = padding + thickness + section.angle.thickness;
        let flush = self.is_flush(board, -direction, size);
        match self.catalogue.joint_hardware(size, stack, flush, Bearing::Metal) {
            Ok(hardware) => Some(Candidate {
                purpose: Purpose::Joint,
                direction,
                hardware,
                grip: stack,
                panels: vec![board],
                held_in: None,
                body: self.layout.board(board).body,
                slides: Vec::new(),
                angles: vec![angle_index],
                fixture: None,
                padding,
                slack: (0.0, 0.0),
                span: m.plan.span,
            }),
            Err(least) => {
                self.no_length(&m.name, m.plan.span, size, stack, least);
                None
            }
        }
    }

    /// Positions given outright that lie on no piece of angle.
    fn report_positions_off(&mut self, meeting: &Meeting, pieces: &[(f64, f64)]) {
        for at in meeting.plan.at.iter().flat_map(|at| &at.value) {
            if !pieces.iter().any(|piece| (piece.0..=piece.1).contains(&at.value)) {
                let free: Vec<String> =
                    pieces.iter().map(|p| format!("{} to {}", decimal(p.0, 1), decimal(p.1, 1))).collect();
                let message = format!(
                    "`{}`: no angle lies at {} mm along its {} mm",
                    meeting.name,
                    decimal(at.value, 2),
                    decimal(meeting.length, 2)
                );
                self.findings.push(
                    Finding::new(&rules::BOLT_POSITION_OFF_JOINT, at.span, message)
                        .on(&meeting.name)
                        .help(format!("free are {} mm", free.join(", "))),
                );
            }
        }
    }
}
