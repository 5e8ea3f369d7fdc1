//! Bolted joints under the loads that reach them: slides, carcases on their bases, decks, hung panels, equipment, fronts,
//! modules beside each other, points of the vehicle.
//!
//! Each group takes its forces from statics and shares them among its bolts; the bolt that is worst off speaks for its group.
//! The boxes' own corners bear what a latch pulls; joints that no load case reaches are not listed.

mod bolt;
mod captive;
mod carcase;
mod gives;
mod loads;

pub(crate) use bolt::FULL_END;
pub(crate) use gives::{Gives, Resistance};

use super::anchors::AnchorCheck;
use super::drawers::{DrawerCheck, LatchCheck};
use super::panels::PanelCheck;
use super::{Job, Outcome};
use crate::diag::Span;
use crate::geom::{Vector3, VehicleFrame};
use crate::joints::{Bolt, Purpose};
use crate::layout::BoardId;
use crate::spec::JointKind;
use baywright_formulas::timber::Duration;
use bolt::{Acts, On, Place};
use std::sync::Arc;

/// What a slide is bolted by: its fixed and its moving member.
pub(super) const MEMBERS: [&str; 2] = ["fixed", "moving"];

/// The name of the bolts of a slide's member.
pub(super) fn of_member(mount: &str, member: &str) -> String {
    format!("{mount} {member}")
}

/// A group of bolts under its worst case.
#[derive(Clone, Debug)]
pub(crate) struct JointCheck {
    /// The joint, slide, fixture or point.
    pub(crate) name: String,
    /// The load, in words.
    pub(crate) case: String,
    /// Bolts that share it.
    pub(crate) bolts: usize,
    /// Thread size.
    pub(crate) size: String,
    /// The bolt that is worst off.
    pub(crate) worst: String,
    /// N across that bolt.
    pub(crate) shear: f64,
    /// N along it.
    pub(crate) tension: f64,
    /// Ways in which it can give.
    pub(crate) resistances: Vec<Resistance>,
    /// The part used, shear and tension together.
    pub(crate) outcome: Outcome,
    /// Where it is described.
    pub(crate) span: Span,
}

impl JointCheck {
    /// What gives first; `None` if it was not checked.
    pub(crate) fn first(&self) -> Option<Gives> {
        let most = self.resistances.iter().max_by(|a, b| a.used.total_cmp(&b.used));
        most.map(|way| way.gives)
    }
}

/// What acts on one bolt of a group.
#[derive(Clone, Debug)]
struct Loaded<'a> {
    bolt: &'a Bolt,
    shear: Vector3<VehicleFrame>,
    tension: f64,
}

impl<'a> Loaded<'a> {
    /// A bolt under a force any way: along its axis it pulls, whichever end it acts at.
    fn by(bolt: &'a Bolt, force: Vector3<VehicleFrame>) -> Self {
        let along = force.dot(bolt.direction);
        Loaded { bolt, shear: force - bolt.direction * along, tension: along.abs() }
    }
}

/// A load on a group of bolts.
struct Group<'a> {
    name: String,
    case: String,
    duration: Duration,
    bolts: Vec<Loaded<'a>>,
}

/// Every group that a load reaches, the worst case of each.
pub(super) fn check(
    job: &Job<'_>,
    panels: &[PanelCheck],
    (drawers, latches): (&[DrawerCheck], &[LatchCheck]),
    anchors: &[AnchorCheck],
) -> Vec<JointCheck> {
    let mut groups = loads::slides(job, drawers);
    groups.extend(carcase::on_bases(job));
    groups.extend(carcase::decks(job));
    groups.extend(loads::hung(job, panels));
    groups.extend(loads::equipment(job));
    groups.extend(loads::tie_downs(job));
    groups.extend(loads::fronts(job, latches));
    groups.extend(carcase::beside(job));
    groups.extend(loads::anchors(job, anchors));
    let checked = crate::abreast::each(groups.len(), |i| judged(job, &groups[i]));
    let mut worst: Vec<JointCheck> = Vec::new();
    for check in checked.into_iter().flatten() {
        let known = worst.iter_mut().find(|known| known.name == check.name);
        match known {
            // What is not known about one case stays told whatever the others give.
            Some(known) if rank(&check.outcome) > rank(&known.outcome) => *known = check,
            Some(_) => {}
            None => worst.push(check),
        }
    }
    worst
}

/// What fails comes first, then what is not known, then what is used most.
fn rank(outcome: &Outcome) -> f64 {
    match outcome {
        Outcome::Used(used) if *used > 1.0 => 2.0 + used,
        Outcome::Unknown(_) => 2.0,
        Outcome::Used(used) => *used,
    }
}

/// The bolt of a group that is worst off.
fn judged(job: &Job<'_>, group: &Group<'_>) -> Option<JointCheck> {
    let one = |on: &Loaded<'_>| {
        let acts = Acts { shear: on.shear, tension: on.tension, duration: group.duration };
        let held = held(job, on.bolt, acts);
        let (outcome, resistances) = match held {
            Ok((used, resistances)) => (Outcome::Used(used), resistances),
            Err(why) => (Outcome::Unknown(why), Vec::new()),
        };
        JointCheck {
            name: group.name.clone(),
            case: group.case.clone(),
            bolts: group.bolts.len(),
            size: on.bolt.hardware.thread.size.clone(),
            worst: on.bolt.name.clone(),
            shear: on.shear.length(),
            tension: on.tension,
            resistances,
            outcome,
            span: on.bolt.span,
        }
    };
    group.bolts.iter().map(one).max_by(|a, b| rank(&a.outcome).total_cmp(&rank(&b.outcome)))
}

/// The part of a bolt that is used where it is worst: at each board that it passes.
fn held(job: &Job<'_>, bolt: &Bolt, acts: Acts) -> Result<(f64, Vec<Resistance>), String> {
    if let Some(edge) = bolt.held_in {
        return captive::held(job, bolt, edge, acts);
    }
    let places: Vec<(BoardId, On)> = match bolt.purpose {
        Purpose::Joint => joint_places(job, bolt)?,
        Purpose::SlideFixed | Purpose::SlideMoving => {
            let wall = bolt
                .slides
                .iter()
                .map(|&i| job.kit.layout.mounts[i].slide.wall)
                .fold(f64::INFINITY, f64::min);
            bolt.panels.iter().map(|&board| (board, On::Steel(wall))).collect()
        }
        Purpose::Fixture => {
            let flange = bolt.fixture.and_then(|i| {
                job.kit.layout.fixtures[i].bolts.iter().map(|bolt| bolt.flange).reduce(f64::min)
            });
            let flange = flange.unwrap_or(0.0);
            bolt.panels.iter().map(|&board| (board, On::Steel(flange))).collect()
        }
        Purpose::Anchor => bolt.panels.iter().map(|&board| (board, On::Steel(0.0))).collect(),
    };
    let mut worst: Option<(f64, Vec<Resistance>)> = None;
    for (board, on) in places {
        let own = Place { job, bolt, board, on }.held(acts)?;
        if worst.as_ref().is_none_or(|worst| own.0 > worst.0) {
            worst = Some(own);
        }
    }
    worst.ok_or_else(|| "it passes through no board".to_owned())
}

/// For a joint's bolt the boards that it passes and what lies on each.
fn joint_places(job: &Job<'_>, bolt: &Bolt) -> Result<Vec<(BoardId, On)>, String> {
    if let Some(meeting) = job.meeting(bolt.joint()) {
        return match (meeting.plan.kind, &meeting.plan.angle) {
            (JointKind::Angle, Some(angle)) => {
                Ok(bolt.panels.iter().map(|&board| (board, On::Leg(Arc::clone(angle)))).collect())
            }
            _ => Err("no angle is known at this joint".to_owned()),
        };
    }
    match bolt.panels[..] {
        [one, other] => Ok(vec![(one, On::Board(other))]),
        _ => Err("more than two boards on one bolt".to_owned()),
    }
}
