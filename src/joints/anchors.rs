//! What holds a carcase to the vehicle: bolts down through its base into points that are there, and turnbuckles.
//!
//! The vehicle decides where these bolts are, so they are placed before all others. A point that was measured with
//! some tolerance gets a slot as much larger than the hole, under a spreader washer.

use super::anchor_rules as rules;
use super::model::{Anchorage, BoltId, Purpose, Tie};
use super::place::{Candidate, Placer};
use crate::catalogue::{Hardware, hardware};
use crate::diag::{Finding, Rule, did_you_mean};
use crate::geom::tolerance::SAME_LENGTH;
use crate::geom::{Aabb, Point3, Vector3, VehicleFrame};
use crate::layout::{BoardId, BodyId, Role};
use crate::number::decimal;
use crate::spec::{Anchor, Carcase, Fixing, Turnbuckle};
use std::sync::Arc;

/// Degrees that a point may lean for a bolt through a level base: beyond, its head bears on one edge. Common practice,
/// no source.
const MOST_LEAN: f64 = 3.0;

/// One fixing with everything that it names.
#[derive(Clone, Copy)]
struct Job<'a> {
    carcase: &'a Carcase,
    fixing: &'a Fixing,
    anchor: &'a Anchor,
}

impl Job<'_> {
    /// The bolt's name: `CARCASE+POINT`.
    fn name(&self) -> String {
        format!("{}+{}", self.carcase.id.value, self.anchor.id.value)
    }

    fn finding(&self, rule: &'static Rule, message: String, help: impl Into<String>) -> Finding {
        let finding = Finding::new(rule, self.fixing.span, message).on(self.name());
        finding.also(self.anchor.span, "the point is described here").help(help)
    }

    fn held(&self, bolt: BoltId, tie: Option<usize>) -> Anchorage {
        Anchorage {
            point: self.anchor.id.value.clone(),
            carcase: self.carcase.id.value.clone(),
            engineer: self.fixing.engineer.as_ref().map(|reference| reference.value.clone()),
            bolt,
            tie,
        }
    }
}

impl Placer<'_> {
    /// Everything that holds carcases to the vehicle, carcase by carcase.
    pub(super) fn anchors(&mut self) -> Vec<Anchorage> {
        let design = self.design;
        let mut held = Vec::new();
        for carcase in &design.carcases {
            for fixing in &carcase.anchors {
                let known = &design.vehicle.bay.anchors;
                let Some(anchor) = known.iter().find(|anchor| anchor.id.value == fixing.point.value) else {
                    let message = format!("the bay has no anchor called `{}`", fixing.point.value);
                    let names = known.iter().map(|anchor| anchor.id.value.as_str());
                    let finding = Finding::new(&rules::UNKNOWN_ANCHOR, fixing.point.span, message);
                    self.findings.push(match did_you_mean(&fixing.point.value, names) {
                        Some(help) => finding.help(help),
                        None => finding.help("the vehicle's `anchors` list the points that were measured"),
                    });
                    continue;
                };
                let job = Job { carcase, fixing, anchor };
                if anchor.kind.value.holds_people() && fixing.engineer.is_none() {
                    let what = anchor.kind.value.words();
                    let message = format!("`{}` is a {what}: nothing may be bolted to it", anchor.id.value);
                    let help = "take another point; where a licensed engineer has approved it, give the reference as `engineer:`";
                    self.findings.push(job.finding(&rules::ANCHOR_HOLDS_PEOPLE, message, help));
                    continue;
                }
                held.extend(match &fixing.turnbuckle {
                    None => self.bolted_down(job),
                    Some(turnbuckle) => self.tied(job, turnbuckle),
                });
            }
        }
        held
    }

    /// A bolt down through the base, and what lies under it, into the point.
    fn bolted_down(&mut self, job: Job<'_>) -> Option<Anchorage> {
        let anchor = job.anchor;
        if anchor.slope.value > MOST_LEAN {
            let message = format!(
                "`{}` leans {} degrees; the head of a bolt through the level base would bear on one edge",
                anchor.id.value,
                decimal(anchor.slope.value, 1)
            );
            let help = "hold the carcase there with `turnbuckle: {panel: .., z: ..}`";
            self.findings.push(job.finding(&rules::ANCHOR_LEANS, message, help));
            return None;
        }
        let panels = self.boards_over(job)?;
        let base = self.layout.board(panels[0]);
        let padding = base.under_bolt(Vector3::new(0.0, 0.0, 1.0), anchor.place);
        let top = base.aabb.high.z + padding;
        let origin = Point3::new(anchor.place.x, anchor.place.y, top);
        let hardware = self.bolt_for(job, top - anchor.place.z)?;
        let thread = hardware.thread.clone();
        let play = (self.clearance_hole(&thread) - thread.diameter) / 2.0;
        let slack = |off: f64| if off > play + SAME_LENGTH { off } else { 0.0 };
        let slack = (slack(anchor.tolerance.0), slack(anchor.tolerance.1));
        self.keeps_its_edge(job, &panels, origin, thread.diameter, slack)?;
        let candidate = Candidate {
            purpose: Purpose::Anchor,
            direction: Vector3::new(0.0, 0.0, -1.0),
            grip: top - anchor.place.z,
            body: self.layout.board(panels[0]).body,
            panels,
            held_in: None,
            slides: Vec::new(),
            angles: Vec::new(),
            fixture: None,
            padding,
            slack,
            span: job.fixing.span,
            hardware,
        };
        self.kept(job, &candidate, origin).map(|bolt| job.held(bolt, None))
    }

    /// The level boards over the point, from the carcase's base down; a finding if there is no base.
    fn boards_over(&mut self, job: Job<'_>) -> Option<Vec<BoardId>> {
        let (place, carcase) = (job.anchor.place, &job.carcase.id.value);
        let over = |id: &BoardId| {
            let board = self.layout.board(*id);
            let here = board.placement.to_panel(place).xy();
            board.normal().z.abs() > 0.5 && board.shape.contains(here)
        };
        let ids = (0..self.layout.boards.len()).map(BoardId);
        let all: Vec<BoardId> = ids.filter(over).collect();
        let base = all.iter().copied().find(|&id| {
            let board = self.layout.board(id);
            board.role == Role::Base && self.layout.body(board.body).carcase == *carcase
        });
        let Some(base) = base else {
            let message = format!(
                "`{}` at x = {}, y = {} mm is not under the base of `{carcase}`",
                job.anchor.id.value,
                decimal(place.x, 1),
                decimal(place.y, 1)
            );
            let help = "place the carcase over it, or hold it there with `turnbuckle: {panel: .., z: ..}`";
            self.findings.push(job.finding(&rules::ANCHOR_NOT_UNDER_BASE, message, help));
            return None;
        };
        let top = self.layout.board(base).aabb.high.z;
        let mut stack: Vec<BoardId> =
            all.into_iter().filter(|&id| self.layout.board(id).aabb.high.z <= top + SAME_LENGTH).collect();
        stack.sort_by(|&a, &b| self.layout.board(b).aabb.high.z.total_cmp(&self.layout.board(a).aabb.high.z));
        Some(stack)
    }

    /// The bolt for `stack` mm over the point; a finding if none does.
    fn bolt_for(&mut self, job: Job<'_>, stack: f64) -> Option<Hardware> {
        let anchor = job.anchor;
        let size = &anchor.thread.value;
        let (message, help) = match anchor.depth {
            None => (
                format!("how deep a bolt may go into `{}` is not known", anchor.id.value),
                "measure it with a rod and give it as `depth`".to_owned(),
            ),
            Some(depth) => match hardware::choose_into_thread(self.catalogue, size, stack, depth.value) {
                Ok(hardware) => return Some(hardware),
                Err(least) if least > 0.0 => (
                    format!(
                        "no {size} bolt holds {} mm and goes into `{}` at least its diameter and at most {} mm",
                        decimal(stack, 2),
                        anchor.id.value,
                        decimal(depth.value, 2)
                    ),
                    format!(
                        "at least {} mm of bolt are needed; pack the base up or down, or hold it with a turnbuckle",
                        decimal(least, 1)
                    ),
                ),
                Err(_) => (
                    format!("the catalogue has no bolt or spreader washer of size {size}"),
                    "points of M6, M8 and M10 can be bolted to".to_owned(),
                ),
            },
        };
        self.findings.push(job.finding(&rules::ANCHOR_WITHOUT_BOLT, message, help));
        None
    }

    /// Hole or slot must lie far enough inside every panel, and under the washer.
    fn keeps_its_edge(
        &mut self,
        job: Job<'_>,
        panels: &[BoardId],
        origin: Point3<VehicleFrame>,
        diameter: f64,
        slack: (f64, f64),
    ) -> Option<()> {
        let least = self.design.workshop.edge_distance.value * diameter;
        let longest = slack.0.max(slack.1);
        for &id in panels {
            let board = self.layout.board(id);
            let to_edge = board.to_edge(board.placement.to_panel(origin).xy()) - longest;
            if to_edge < least - SAME_LENGTH {
                let message = format!(
                    "`{}` is {} mm from the edge of `{}`; {} mm are needed",
                    job.anchor.id.value,
                    decimal(to_edge, 1),
                    board.name,
                    decimal(least, 1)
                );
                let help = "move the carcase or its edge, or hold it with a turnbuckle";
                self.findings.push(job.finding(&rules::ANCHOR_NOT_UNDER_BASE, message, help));
                return None;
            }
        }
        let most = self.catalogue.spreader_radius(&job.anchor.thread.value) - diameter;
        if longest > most + SAME_LENGTH {
            let message = format!(
                "a slot for {} mm either way is longer than the spreader washer covers; {} mm is the most",
                decimal(longest, 1),
                decimal(most, 1)
            );
            let help = "measure the point better, from two sides, and give a smaller `tolerance`";
            self.findings.push(job.finding(&rules::ANCHOR_WITHOUT_BOLT, message, help));
            return None;
        }
        Some(())
    }

    /// Keeps a bolt whose place is given; a finding if something stands there.
    fn kept(&mut self, job: Job<'_>, candidate: &Candidate, origin: Point3<VehicleFrame>) -> Option<BoltId> {
        if let Some(owner) = self.met_exactly(candidate, origin) {
            let message = format!("the bolt at `{}` meets {}", job.anchor.id.value, self.owner_name(owner));
            let help =
                "move the carcase, or what stands there; a side gets room with a notch without `depth`";
            self.findings.push(job.finding(&rules::ANCHOR_BLOCKED, message, help));
            return None;
        }
        self.keep(candidate, origin, job.name());
        Some(BoltId(self.bolts.len() - 1))
    }

    /// A turnbuckle from an eye in the point to an eye on an upright panel.
    fn tied(&mut self, job: Job<'_>, wanted: &Turnbuckle) -> Option<Anchorage> {
        let size = &job.anchor.thread.value;
        let Some(turnbuckle) = self.catalogue.turnbuckle(size).map(Arc::clone) else {
            let message = format!("there is no turnbuckle for a point of {size}");
            self.findings.push(job.finding(
                &rules::ANCHOR_WITHOUT_BOLT,
                message,
                "points of M8 and M10 can be tied to",
            ));
            return None;
        };
        let (panel, origin, inwards) = self.eye_place(job, wanted)?;
        let board = self.layout.board(panel);
        let (padding, outside) = (board.under_bolt(inwards, origin), board.under_bolt(-inwards, origin));
        let thickness = board.thickness() + padding + outside;
        let hardware = match self.catalogue.eye_hardware(size, thickness) {
            Ok(hardware) => hardware,
            Err(least) => {
                self.no_length(&job.name(), job.fixing.span, size, thickness, least);
                return None;
            }
        };
        let to_eye = outside + hardware.nut_height() - turnbuckle.eye_ring / 2.0;
        let candidate = Candidate {
            purpose: Purpose::Anchor,
            direction: -inwards,
            grip: thickness,
            body: self.layout.board(panel).body,
            panels: vec![panel],
            held_in: None,
            slides: Vec::new(),
            angles: Vec::new(),
            fixture: None,
            padding,
            slack: (0.0, 0.0),
            span: job.fixing.span,
            hardware,
        };
        let bolt = self.kept(job, &candidate, origin + inwards * (thickness - outside))?;
        let tie = self.tie(job, turnbuckle, (bolt, candidate.body), origin - inwards * to_eye)?;
        self.ties.push(tie);
        Some(job.held(bolt, Some(self.ties.len() - 1)))
    }

    /// The turnbuckle between the eye in the point and the one at `to`; a finding if it does not reach.
    fn tie(
        &mut self,
        job: Job<'_>,
        turnbuckle: Arc<crate::catalogue::Turnbuckle>,
        (bolt, body): (BoltId, BodyId),
        to: Point3<VehicleFrame>,
    ) -> Option<Tie> {
        let (place, ring) = (job.anchor.place, turnbuckle.eye_ring);
        let from = place + Vector3::new(0.0, 0.0, ring / 2.0);
        let length = (to - from).length();
        if !(turnbuckle.shortest..=turnbuckle.longest).contains(&length) {
            let [length, shortest, longest] =
                [length, turnbuckle.shortest, turnbuckle.longest].map(|mm| decimal(mm, 1));
            let message = format!(
                "the eyes at `{}` are {length} mm apart; the turnbuckle spans {shortest} to {longest} mm",
                job.anchor.id.value
            );
            let help = "move the eye on the panel: `z` and `at`";
            self.findings.push(job.finding(&rules::TURNBUCKLE_LENGTH, message, help));
            return None;
        }
        let half = Vector3::new(ring / 2.0, ring / 2.0, 0.0);
        let eye = Aabb { low: place - half, high: place + half + Vector3::new(0.0, 0.0, ring) };
        Some(Tie { name: format!("{}/turnbuckle", job.name()), turnbuckle, from, to, bolt, eye, body })
    }

    /// The panel that an eye is bolted to, where on its outer face, and the direction into it.
    fn eye_place(
        &mut self,
        job: Job<'_>,
        wanted: &Turnbuckle,
    ) -> Option<(BoardId, Point3<VehicleFrame>, Vector3<VehicleFrame>)> {
        let carcase = &job.carcase.id.value;
        let upright = |id: &BoardId| {
            let board = self.layout.board(*id);
            let own = self.layout.body(board.body);
            board.normal().z.abs() < 0.5 && own.carcase == *carcase && !own.moves()
        };
        let known: Vec<BoardId> = (0..self.layout.boards.len()).map(BoardId).filter(upright).collect();
        let Some(&id) = known.iter().find(|&&id| self.layout.board(id).name == wanted.panel.value) else {
            let message = format!("`{carcase}` has no upright panel called `{}`", wanted.panel.value);
            let names: Vec<&str> = known.iter().map(|&id| self.layout.board(id).name.as_str()).collect();
            let help = format!("it has {}", names.join(", "));
            let finding = Finding::new(&rules::UNKNOWN_ANCHOR, wanted.panel.span, message).on(job.name());
            self.findings.push(finding.help(help));
            return None;
        };
        let board = self.layout.board(id);
        let (point, across) = (job.anchor.place, board.normal().x.abs() > 0.5);
        let low_face = if across { board.aabb.low.x } else { board.aabb.low.y };
        let high_face = if across { board.aabb.high.x } else { board.aabb.high.y };
        // The face on the point's side: a back's towards the seats, a side's towards the vehicle's side.
        let own = if across { point.x } else { point.y };
        let (face, sign) =
            if own >= f64::midpoint(low_face, high_face) { (high_face, -1.0) } else { (low_face, 1.0) };
        let place = if across {
            Point3::new(face, wanted.at.map_or(point.y, |at| at.value), wanted.z.value)
        } else {
            Point3::new(wanted.at.map_or(point.x, |at| at.value), face, wanted.z.value)
        };
        let inwards = if across { Vector3::new(sign, 0.0, 0.0) } else { Vector3::new(0.0, sign, 0.0) };
        let here = board.placement.to_panel(place).xy();
        let diameter = self.catalogue.thread(&job.anchor.thread.value).map_or(0.0, |thread| thread.diameter);
        let least = self.design.workshop.edge_distance.value * diameter;
        if board.to_edge(here) < least - SAME_LENGTH {
            let message = format!(
                "the eye's bolt at {}, {}, {} mm is not {} mm inside `{}`",
                decimal(place.x, 1),
                decimal(place.y, 1),
                decimal(place.z, 1),
                decimal(least, 1),
                board.name
            );
            self.findings.push(job.finding(
                &rules::ANCHOR_NOT_UNDER_BASE,
                message,
                "give another `z` or `at`",
            ));
            return None;
        }
        Some((id, place, inwards))
    }
}
