//! Joints that one thing loads: a drawer its slides, a panel what it hangs by, equipment its feet, a latch the front.

use super::super::Job;
use super::super::anchors::AnchorCheck;
use super::super::drawers::{DrawerCheck, LatchCheck};
use super::super::manoeuvres::{self, Tipped};
use super::super::panels::{PanelCheck, PanelResult, Press, Stays, hung_by};
use super::{Group, Loaded, MEMBERS, of_member};
use crate::geom::{Vector3, VehicleFrame};
use crate::joints::{Bolt, Purpose};
use crate::layout::{BoardId, GRAVITY, Meeting, RESTRAINT_CASES, Role};
use crate::mass::Sum;
use baywright_formulas::group;
use baywright_formulas::timber::Duration;

/// mm within which a bolt is the one of a slide's hole.
const AT_HOLE: f64 = 0.5;

fn down(force: f64) -> Vector3<VehicleFrame> {
    Vector3::new(0.0, 0.0, -force)
}

/// Both members of every slide: out, on a rough track, in braking.
pub(super) fn slides<'a>(job: &Job<'a>, drawers: &[DrawerCheck]) -> Vec<Group<'a>> {
    let (layout, settings) = (&job.kit.layout, job.settings());
    let [forward, ..] = RESTRAINT_CASES;
    let mut groups = Vec::new();
    for check in drawers {
        for slide in &check.slides {
            let mount = &layout.mounts[slide.mount];
            let bolt_at = |purpose: Purpose, x: f64| {
                job.kit.bolts.iter().find(|bolt| {
                    bolt.purpose == purpose
                        && bolt.slides.contains(&slide.mount)
                        && (bolt.origin.x - x).abs() < AT_HOLE
                })
            };
            let shut = group::line_reactions(&slide.bolts, slide.weight, check.centre.x - mount.fixed.low.x);
            let braking = slide.weight * forward.share * settings.restraint_factor.value;
            let members = [
                (Purpose::SlideFixed, mount.fixed.low.x, &mount.slide.fixed, &shut, &slide.out, MEMBERS[0]),
                (
                    Purpose::SlideMoving,
                    mount.moving.low.x,
                    &mount.slide.moving,
                    &slide.moving,
                    &slide.moving,
                    MEMBERS[1],
                ),
            ];
            for (purpose, start, holes, shut, out, member) in members {
                let bolts: Vec<Option<&Bolt>> = holes.iter().map(|at| bolt_at(purpose, start + at)).collect();
                let ahead = Vector3::new(braking / holes.len() as f64, 0.0, 0.0);
                let times = |on: &[f64], factor: f64| on.iter().map(|&n| down(n * factor)).collect();
                let braked: Vec<_> = shut.iter().map(|&n| down(n) + ahead).collect();
                let (pulled, shaken) = (settings.drawer_out.value, settings.rough_track.value);
                let cases: [(&str, Duration, Vec<_>); 3] = [
                    ("drawn out", Duration::Short, times(out, pulled)),
                    ("shut, on a rough track", Duration::Instant, times(shut, shaken)),
                    ("shut, in braking", Duration::Instant, braked),
                ];
                for (case, duration, forces) in cases {
                    let ones = bolts
                        .iter()
                        .zip(forces)
                        .filter_map(|(bolt, shear)| Some(Loaded { bolt: (*bolt)?, shear, tension: 0.0 }));
                    let (name, case) = (of_member(&mount.name, member), case.to_owned());
                    groups.push(Group { name, case, duration, bolts: ones.collect() });
                }
            }
        }
    }
    groups
}

/// Panels that hang by their joints: each of those bears half of what is spread, and all of what stands near it. Where a panel
/// reaches out from one line, the joint there keeps it level, too.
pub(super) fn hung<'a>(job: &Job<'a>, panels: &[PanelCheck]) -> Vec<Group<'a>> {
    let (layout, settings) = (&job.kit.layout, job.settings());
    let mut groups = Vec::new();
    for check in panels {
        let (hung, alone) = hung_by(layout, check.board);
        let level = check.results.iter().filter_map(|result| result.held_by.clone());
        let mut joints: Vec<String> = hung.iter().cloned().chain(level).collect();
        joints.sort();
        joints.dedup();
        for joint in joints {
            let hangs = hung.contains(&joint);
            let share = if alone { 1.0 } else { 0.5 };
            let down = |result: &PanelResult| match result.item.press {
                _ if !hangs => 0.0,
                Press::Spread => result.item.mass * share,
                _ => result.item.mass,
            };
            // N mm that turn it about the joint.
            let turns = |result: &PanelResult| {
                let arm = match result.item.press {
                    _ if result.held_by.as_ref() != Some(&joint) => 0.0,
                    Press::Spread => result.spans[0] / 2.0,
                    _ => result.at[0],
                };
                result.item.mass * GRAVITY * arm
            };
            let sum = |of: &dyn Fn(&PanelResult) -> f64, with_moment: bool| -> f64 {
                let there = |one: &&PanelResult| with_moment || one.item.stays != Stays::Moment;
                check.results.iter().filter(there).map(of).sum()
            };
            let cases = [
                ("on a rough track", settings.rough_track.value, false, Duration::Instant),
                ("with what is on it for a moment", settings.load_factor.value, true, Duration::Short),
            ];
            for (case, factor, with_moment, duration) in cases {
                let (mass, turning) = (sum(&down, with_moment), sum(&turns, with_moment));
                let forces = (mass * GRAVITY * factor, turning * factor);
                let case = format!("{}, {case}", layout.board(check.board).name);
                groups.extend(hangs_by(job, check.board, &joint, forces).map(|bolts| Group {
                    name: joint.clone(),
                    case: case.clone(),
                    duration,
                    bolts,
                }));
            }
        }
    }
    groups.retain(|group| !group.bolts.is_empty());
    groups
}

/// The bolts of a joint by which a panel hangs, in the panel and in what holds it: N down, N mm that turn it about the joint.
fn hangs_by<'a>(
    job: &Job<'a>,
    panel: BoardId,
    joint: &str,
    (weight, turning): (f64, f64),
) -> impl Iterator<Item = Vec<Loaded<'a>>> {
    let low = job.kit.layout.board(panel).aabb.low.z;
    // An angle over the panel pulls at its bolts, one under it bears it.
    let pulls = !bears(job, low, joint);
    let gauge = gauge(job, joint);
    let bolts = job.bolts_of(joint);
    [true, false].into_iter().map(move |own| {
        let through: Vec<&Bolt> =
            bolts.iter().copied().filter(|bolt| bolt.panels.contains(&panel) == own).collect();
        let n = through.len().max(1) as f64;
        let one = |bolt: &'a Bolt| {
            let upright = bolt.direction.z.abs() > 0.5;
            let pry = gauge.map_or(0.0, |gauge| turning / n / gauge);
            let (shear, tension) = match (upright, pulls) {
                (true, true) => (Vector3::zero(), weight / n + pry),
                (true, false) => (Vector3::zero(), pry),
                (false, _) => (down(weight / n), pry),
            };
            Loaded { bolt, shear, tension }
        };
        through.into_iter().map(one).collect()
    })
}

/// Whether the angle of a joint lies under a panel's lower face.
fn bears(job: &Job<'_>, low: f64, joint: &str) -> bool {
    let own = job.kit.angles.iter().filter(|piece| piece.name.starts_with(&format!("{joint}/")));
    own.flat_map(|piece| piece.legs).all(|leg| leg.low.z < low)
}

/// mm of a joint's angle from its heel to the line of holes; nothing without an angle.
fn gauge(job: &Job<'_>, joint: &str) -> Option<f64> {
    job.meeting(joint)?.plan.angle.as_ref().map(|angle| angle.gauge)
}

/// Equipment on its feet, in braking and cornering and over a bump.
pub(super) fn equipment<'a>(job: &Job<'a>) -> Vec<Group<'a>> {
    let (layout, settings) = (&job.kit.layout, job.settings());
    let mut groups = Vec::new();
    for one in layout.equipment.iter().filter(|one| one.foot_bolts > 0) {
        let fixture = &layout.fixtures[one.fixture];
        let bolts = job.bolts_of(&fixture.name);
        let n = bolts.len().max(1) as f64;
        for manoeuvre in manoeuvres::all() {
            let force = manoeuvre.force(one.full, settings.restraint_factor.value);
            // It tips about the edge of its own box.
            let tipped = Tipped {
                manoeuvre: &manoeuvre,
                force,
                sum: Sum { mass: one.full, centre: fixture.centre },
                counted: settings.weight_counted.value,
                level: one.aabb.low.z,
                edge: manoeuvre.ahead(one.aabb.low).max(manoeuvre.ahead(one.aabb.high)),
            };
            let even = manoeuvre.along * (force / n);
            let acting: Vec<(Vector3<VehicleFrame>, f64)> = if manoeuvre.is_level() {
                let tensions = tipped.tensions(bolts.iter().map(|bolt| bolt.origin));
                tensions.into_iter().map(|tension| (even, tension)).collect()
            } else {
                vec![(Vector3::zero(), even.length()); bolts.len()]
            };
            let ones = bolts.iter().zip(acting);
            groups.push(Group {
                name: one.name.clone(),
                case: manoeuvre.does.to_owned(),
                duration: Duration::Instant,
                bolts: ones.map(|(bolt, (shear, tension))| Loaded { bolt, shear, tension }).collect(),
            });
        }
    }
    groups
}

/// Tie-downs pulled to what they are to hold, or to their rating.
pub(super) fn tie_downs<'a>(job: &Job<'a>) -> Vec<Group<'a>> {
    let layout = &job.kit.layout;
    let mut groups = Vec::new();
    for one in &layout.tie_downs {
        let (off, along) = one.strap_angle.to_radians().sin_cos();
        let pull = one.holds.map_or(one.rating, |mass| {
            let asked = RESTRAINT_CASES.map(|case| one.pull(mass, &case));
            let asked = asked.into_iter().fold(0.0, f64::max);
            (asked * job.settings().restraint_factor.value).min(one.rating)
        });
        let across =
            if one.out.z.abs() > 0.5 { Vector3::new(1.0, 0.0, 0.0) } else { Vector3::new(0.0, 0.0, 1.0) };
        // Of several alike the first speaks for all.
        let first = [one.name.clone(), format!("{}-1", one.name)];
        let bolts = first.iter().map(|name| job.bolts_of(name)).find(|bolts| !bolts.is_empty());
        let bolts = bolts.unwrap_or_default();
        let n = bolts.len().max(1) as f64;
        let ones = bolts.iter().map(|bolt| Loaded {
            bolt,
            shear: across * (pull * along / n),
            tension: pull * off / n,
        });
        let case = if one.holds.is_some() { "pulled by what it is to hold" } else { "pulled to its rating" };
        groups.push(Group {
            name: one.name.clone(),
            case: case.to_owned(),
            duration: Duration::Instant,
            bolts: ones.collect(),
        });
    }
    groups.retain(|group| !group.bolts.is_empty());
    groups
}

/// What a latch holds goes through the front into the box: bolts of the front, corners of the box.
pub(super) fn fronts<'a>(job: &Job<'a>, latches: &[LatchCheck]) -> Vec<Group<'a>> {
    let layout = &job.kit.layout;
    let mut groups = Vec::new();
    for drawer in &layout.drawers {
        let Some(latch) = latches.iter().find(|latch| latch.name == drawer.name) else { continue };
        let body = |id: BoardId| layout.board(id).body == drawer.body;
        let faces = layout.face_meetings.iter().filter(|meeting| body(meeting.head) && body(meeting.nut));
        groups.extend(faces.map(|meeting| pull(&meeting.name, latch.needed, job.bolts_of(&meeting.name))));
        let ends = (0..layout.boards.len()).map(BoardId);
        let ends = ends.filter(|&id| body(id) && layout.board(id).role == Role::BoxEnd);
        let rear = |id: &BoardId| layout.board(*id).aabb.low.x;
        let Some(front) = ends.min_by(|a, b| rear(a).total_cmp(&rear(b))) else { continue };
        let corners: Vec<&Meeting> =
            layout.meetings.iter().filter(|meeting| is_corner(job, meeting, front)).collect();
        for meeting in &corners {
            let half = latch.needed / corners.len() as f64;
            let (own, other): (Vec<&Bolt>, Vec<&Bolt>) =
                job.bolts_of(&meeting.name).iter().partition(|bolt| bolt.panels.contains(&front));
            groups.extend([own, other].map(|bolts| pull(&meeting.name, half, &bolts)));
        }
    }
    groups.retain(|group| !group.bolts.is_empty());
    groups
}

/// Whether a joint is a corner of a box's front with one of its sides.
fn is_corner(job: &Job<'_>, meeting: &Meeting, front: BoardId) -> bool {
    let side = |id: BoardId| job.kit.layout.board(id).role == Role::BoxSide;
    (meeting.edge == front && side(meeting.face)) || (meeting.face == front && side(meeting.edge))
}

/// Bolts that share a pull rearward.
fn pull<'a>(name: &str, force: f64, bolts: &[&'a Bolt]) -> Group<'a> {
    let each = Vector3::new(-force / bolts.len().max(1) as f64, 0.0, 0.0);
    let bolts = bolts.iter().map(|bolt| Loaded::by(bolt, each)).collect();
    Group {
        name: name.to_owned(),
        case: "what its latch holds".to_owned(),
        duration: Duration::Instant,
        bolts,
    }
}

/// The wood at the points of the vehicle, in the worst of their cases.
pub(super) fn anchors<'a>(job: &Job<'a>, checks: &[AnchorCheck]) -> Vec<Group<'a>> {
    let mut groups = Vec::new();
    for check in checks {
        let bolt = job.kit.bolt(check.bolt);
        for case in &check.cases {
            let (shear, tension) = if check.tied {
                // The eye's bolt goes through an upright: what the turnbuckle pulls along the floor pulls at it.
                let along = bolt.direction * case.shear.dot(bolt.direction);
                (case.shear - along + Vector3::new(0.0, 0.0, case.tension), along.length())
            } else {
                (case.shear, case.tension)
            };
            groups.push(Group {
                name: check.name(),
                case: format!("{} at {} g", case.way, case.share),
                duration: Duration::Instant,
                bolts: vec![Loaded { bolt, shear, tension }],
            });
        }
    }
    groups
}
