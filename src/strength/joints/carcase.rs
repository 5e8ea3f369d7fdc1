//! Joints that carry what a carcase weighs: on its base, under its deck, to the module beside it.

use super::super::Job;
use super::{Group, Loaded};
use crate::geom::{Point3, Vector3, VehicleFrame};
use crate::joints::Bolt;
use crate::layout::{BoardId, BodyId, FixtureKind, GRAVITY, Meeting, RESTRAINT_CASES, Role};
use crate::mass::Sum;
use baywright_formulas::group;
use baywright_formulas::timber::Duration;

/// Braking, reversing, cornering: name, part of gravity, where the load goes.
fn ways() -> [(&'static str, f64, Vector3<VehicleFrame>); 4] {
    let [forward, rearward, sideways, _] = RESTRAINT_CASES;
    let (x, y) = (Vector3::new(1.0, 0.0, 0.0), Vector3::new(0.0, 1.0, 0.0));
    [
        ("braking", forward.share, x),
        ("braking in reverse", rearward.share, -x),
        ("cornering, to the left", sideways.share, y),
        ("cornering, to the right", sideways.share, -y),
    ]
}

/// What lies in or on a body's boards, without those that `own` leaves out, with its contents.
fn mass_of(job: &Job<'_>, counts: impl Fn(BodyId, &str) -> bool) -> Sum {
    let layout = &job.kit.layout;
    let parts = job.masses.parts.iter().filter(|part| counts(part.body, &part.name));
    let mut all: Vec<(f64, Point3<VehicleFrame>)> = parts.map(|part| (part.mass, part.centre)).collect();
    let equipment = layout.fixtures.iter().filter(|fixture| fixture.kind == FixtureKind::Equipment);
    let equipment = equipment.filter(|fixture| {
        let host = fixture.host.map_or("", |host| layout.board(host).name.as_str());
        counts(fixture.body, host)
    });
    all.extend(equipment.map(|fixture| (fixture.mass + fixture.fill, fixture.centre)));
    let drawers = layout.drawers.iter().filter(|drawer| counts(drawer.body, ""));
    all.extend(drawers.map(|drawer| {
        let bottom = layout.board(drawer.bottom).aabb;
        (drawer.load, bottom.low + bottom.size() / 2.0)
    }));
    let mass: f64 = all.iter().map(|part| part.0).sum();
    let moment = all.iter().fold(Vector3::zero(), |sum, (m, at)| sum + at.to_vector() * *m);
    Sum { mass, centre: if mass > 0.0 { (moment / mass).to_point() } else { Point3::origin() } }
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

/// A mass that the joints of one lying board hold in braking and cornering: a group for each joint, leg and way.
fn held_at<'a>(job: &Job<'a>, lying: BoardId, sum: &Sum, what: &str) -> Vec<Group<'a>> {
    let joints = joints_of(job, lying);
    let settings = job.settings();
    let plane = job.kit.layout.board(lying).aabb;
    let level = if sum.centre.z > plane.high.z { plane.high.z } else { plane.low.z };
    let in_lying: Vec<&Bolt> = joints.iter().flat_map(|(meeting, _)| bolts_in(job, meeting, lying)).collect();
    let in_upright: Vec<&Bolt> =
        joints.iter().flat_map(|(meeting, other)| bolts_in(job, meeting, *other)).collect();
    let mut groups = Vec::new();
    for (way, share, d) in ways() {
        let force = share * sum.mass * GRAVITY * settings.restraint_factor.value;
        let height = (sum.centre.z - level).max(0.0);
        let case = format!("{way}, {what}");
        for bolts in [&in_lying, &in_upright] {
            let shared = shared_over(bolts, (force, height), d, sum, settings.weight_counted.value);
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
    bolts: &[&Bolt],
    (force, height): (f64, f64),
    d: Vector3<VehicleFrame>,
    sum: &Sum,
    counted: f64,
) -> Vec<Vector3<VehicleFrame>> {
    let ahead = |p: Point3<VehicleFrame>| p.to_vector().dot(d);
    let pivot = bolts.iter().map(|bolt| ahead(bolt.origin)).fold(f64::NEG_INFINITY, f64::max);
    let weight = sum.mass * GRAVITY * counted;
    let moment = group::overturning(force, height, weight, (pivot - ahead(sum.centre)).max(0.0));
    let levers: Vec<f64> = bolts.iter().map(|bolt| pivot - ahead(bolt.origin)).collect();
    let each = force / bolts.len().max(1) as f64;
    let tensions = group::tensions(&levers, moment);
    tensions.into_iter().map(|tension| d * each + Vector3::new(0.0, 0.0, tension)).collect()
}

/// Modules bolted to each other through their faces: the lighter one hangs on the other.
pub(super) fn modules<'a>(job: &Job<'a>) -> Vec<Group<'a>> {
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
        for (way, share, d) in ways() {
            let force =
                share * mass * GRAVITY * job.settings().restraint_factor.value / bolts.len().max(1) as f64;
            groups.push(Group {
                name: meeting.name.clone(),
                case: format!("{way}, the lighter module"),
                duration: Duration::Instant,
                bolts: bolts.iter().map(|bolt| Loaded::by(bolt, d * force)).collect(),
            });
        }
    }
    groups
}
