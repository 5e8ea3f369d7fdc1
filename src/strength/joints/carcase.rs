//! Joints that carry what a carcase weighs: on its base, under its deck, to the module beside it.

use super::super::Job;
use super::super::manoeuvres::{self, Manoeuvre, Tipped};
use super::{Group, Loaded};
use crate::geom::{Vector3, VehicleFrame};
use crate::joints::Bolt;
use crate::layout::{BoardId, BodyId, Meeting, Role};
use crate::mass::Sum;
use baywright_formulas::timber::Duration;

/// What of a body counts by the name of the panel, or of what it stands or lies on, with its contents.
fn mass_of(job: &Job<'_>, counts: impl Fn(BodyId, &str) -> bool) -> Sum {
    let parts = job.masses.parts.iter().filter(|part| counts(part.body, &part.name));
    let name = |board: BoardId| job.kit.layout.board(board).name.as_str();
    let contents = job.masses.contents.iter();
    let contents = contents.filter(|content| counts(content.body, content.on.map_or("", name)));
    let parts = parts.map(|part| (part.mass, part.centre));
    Sum::of_masses(parts.chain(contents.map(|content| (content.mass, content.centre))))
}

/// Bolts of a joint through one of its boards.
fn bolts_in<'a>(job: &Job<'a>, meeting: &Meeting, board: BoardId) -> Vec<&'a Bolt> {
    let own = job.bolts_of(&meeting.name).iter().copied();
    own.filter(|bolt| bolt.panels.contains(&board) || bolt.held_in == Some(board)).collect()
}

/// Joints between a lying board of a carcase and the uprights that stand on it or under it.
fn joints_of<'a>(job: &Job<'a>, lying: BoardId) -> Vec<(&'a Meeting, BoardId)> {
    let layout = &job.kit.layout;
    let upright = |id: BoardId| {
        let board = layout.board(id);
        board.normal().z.abs() < 0.5 && matches!(board.role, Role::Side | Role::Divider | Role::Back)
    };
    let met = layout.meetings.iter().filter_map(move |meeting| {
        let other = if meeting.edge == lying {
            meeting.face
        } else if meeting.face == lying {
            meeting.edge
        } else {
            return None;
        };
        upright(other).then_some((meeting, other))
    });
    met.collect()
}

/// What stands on a base, held by the joints between it and the uprights.
pub(super) fn on_bases<'a>(job: &Job<'a>) -> Vec<Group<'a>> {
    let layout = &job.kit.layout;
    let bases = (0..layout.boards.len()).map(BoardId).filter(|&id| layout.board(id).role == Role::Base);
    bases
        .flat_map(|base| {
            let board = layout.board(base);
            let carcase = &layout.body(board.body).carcase;
            let counts =
                |body: BodyId, name: &str| layout.body(body).carcase == *carcase && name != board.name;
            let sum = mass_of(job, counts);
            held_at(job, base, &sum, "what stands on it")
        })
        .collect()
}

/// A deck with what stands on it, held by the joints under it.
pub(super) fn decks<'a>(job: &Job<'a>) -> Vec<Group<'a>> {
    let layout = &job.kit.layout;
    let decks = (0..layout.boards.len()).map(BoardId).filter(|&id| layout.board(id).role == Role::Deck);
    decks
        .flat_map(|deck| {
            let board = layout.board(deck);
            let sum = mass_of(job, |body, name| body == board.body && name == board.name);
            held_at(job, deck, &sum, "deck and what stands on it")
        })
        .collect()
}

/// A mass that the joints of one lying board hold in braking and cornering: a group for each joint, leg and manoeuvre.
fn held_at<'a>(job: &Job<'a>, lying: BoardId, sum: &Sum, what: &str) -> Vec<Group<'a>> {
    let joints = joints_of(job, lying);
    let in_lying: Vec<&Bolt> = joints.iter().flat_map(|(meeting, _)| bolts_in(job, meeting, lying)).collect();
    let in_upright: Vec<&Bolt> =
        joints.iter().flat_map(|(meeting, other)| bolts_in(job, meeting, *other)).collect();
    let mut groups = Vec::new();
    for manoeuvre in manoeuvres::level() {
        let case = format!("{}, {what}", manoeuvre.does);
        for bolts in [&in_lying, &in_upright] {
            let shared = shared_over(job, bolts, &manoeuvre, (lying, sum));
            for (meeting, _) in &joints {
                let of_joint = |bolt: &&Bolt| bolt.joint() == meeting.name;
                let ones = bolts.iter().zip(&shared).filter(|(bolt, _)| of_joint(bolt));
                let ones: Vec<Loaded<'_>> = ones.map(|(bolt, acts)| Loaded::by(bolt, *acts)).collect();
                if !ones.is_empty() {
                    groups.push(Group {
                        name: meeting.name.clone(),
                        case: case.clone(),
                        duration: Duration::Instant,
                        bolts: ones,
                    });
                }
            }
        }
    }
    groups
}

/// The force at each bolt: an even part along the floor, and up what keeps the mass from tipping about the outermost bolts ahead.
fn shared_over(
    job: &Job<'_>,
    bolts: &[&Bolt],
    manoeuvre: &Manoeuvre,
    (lying, sum): (BoardId, &Sum),
) -> Vec<Vector3<VehicleFrame>> {
    let settings = job.settings();
    let plane = job.kit.layout.board(lying).aabb;
    let tipped = Tipped {
        manoeuvre,
        force: manoeuvre.force(sum.mass, settings.restraint_factor.value),
        sum: *sum,
        counted: settings.weight_counted.value,
        level: if sum.centre.z > plane.high.z { plane.high.z } else { plane.low.z },
        edge: bolts.iter().map(|bolt| manoeuvre.ahead(bolt.origin)).fold(f64::NEG_INFINITY, f64::max),
    };
    let each = manoeuvre.along * (tipped.force / bolts.len().max(1) as f64);
    let tensions = tipped.tensions(bolts.iter().map(|bolt| bolt.origin));
    tensions.into_iter().map(|tension| each + Vector3::new(0.0, 0.0, tension)).collect()
}

/// Carcases bolted to each other through their faces: the lighter one hangs on the other.
pub(super) fn beside<'a>(job: &Job<'a>) -> Vec<Group<'a>> {
    let layout = &job.kit.layout;
    let carcase = |id: BoardId| layout.body(layout.board(id).body).carcase.as_str();
    let mut groups = Vec::new();
    for meeting in &layout.face_meetings {
        let (one, other) = (carcase(meeting.head), carcase(meeting.nut));
        let moves = |id: BoardId| layout.body(layout.board(id).body).moves();
        if one == other || moves(meeting.head) || moves(meeting.nut) {
            continue;
        }
        let loaded =
            |id: &str| job.masses.loaded.iter().find(|(own, _)| own == id).map_or(0.0, |(_, sum)| sum.mass);
        let mass = loaded(one).min(loaded(other));
        let bolts = job.bolts_of(&meeting.name);
        for manoeuvre in manoeuvres::level() {
            let force = manoeuvre.force(mass, job.settings().restraint_factor.value);
            let each = manoeuvre.along * (force / bolts.len().max(1) as f64);
            groups.push(Group {
                name: meeting.name.clone(),
                case: format!("{}, the lighter module", manoeuvre.does),
                duration: Duration::Instant,
                bolts: bolts.iter().map(|bolt| Loaded::by(bolt, each)).collect(),
            });
        }
    }
    groups
}
