//! Slides: what they carry against their rating, and how their fixed member pulls at its bolts when the drawer is out. Latches:
//! what they must hold.

use super::{Job, Outcome};
use crate::diag::Span;
use crate::geom::{Point3, VehicleFrame};
use crate::layout::{GRAVITY, RESTRAINT_CASES};
use baywright_formulas::group;

/// A drawer or tray on its slides.
#[derive(Clone, Debug)]
pub(crate) struct DrawerCheck {
    /// Its index in the layout.
    pub(crate) drawer: usize,
    /// kg that its slides carry.
    pub(crate) carried: f64,
    /// kg of the pair's rating, if it is known.
    pub(crate) rating: Option<f64>,
    /// Part of the rating that may be used.
    pub(crate) factor: f64,
    /// Carried over what may be.
    pub(crate) outcome: Outcome,
    /// Centre of gravity of all that is carried, shut.
    pub(crate) centre: Point3<VehicleFrame>,
    /// mm by which the centre stands before the front end of the slides when it is out.
    pub(crate) beyond: f64,
    /// Its slides.
    pub(crate) slides: Vec<SlideForces>,
}

/// One slide of a pair.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct SlideForces {
    /// Its index among the mounts.
    pub(crate) mount: usize,
    /// N of the weight that it bears, without any factor.
    pub(crate) weight: f64,
    /// mm from the slide's front end to the bolts of the fixed member.
    pub(crate) bolts: Vec<f64>,
    /// N down on each of them with the drawer out, without any factor; less than 0 pulls up.
    pub(crate) out: Vec<f64>,
    /// N down on each bolt of the moving member.
    pub(crate) moving: Vec<f64>,
}

/// A latch.
#[derive(Clone, Debug)]
pub(crate) struct LatchCheck {
    /// Of which drawer, tray or door.
    pub(crate) name: String,
    /// kg that pull at it.
    pub(crate) mass: f64,
    /// N in braking while reversing.
    pub(crate) braking: f64,
    /// N on a slope.
    pub(crate) slope: f64,
    /// N that it must hold: the greater of both times the factor.
    pub(crate) needed: f64,
    /// N that it holds, if the spec or the catalogue says so.
    pub(crate) holds: Option<f64>,
    /// N that presses what is shut against its stop in hard braking.
    pub(crate) stop: f64,
    /// Needed over what it holds.
    pub(crate) outcome: Outcome,
    /// Where it is described.
    pub(crate) span: Span,
}

/// Every drawer and tray.
pub(super) fn check(job: &Job<'_>) -> Vec<DrawerCheck> {
    (0..job.kit.layout.drawers.len()).map(|i| one(job, i)).collect()
}

fn one(job: &Job<'_>, index: usize) -> DrawerCheck {
    let layout = &job.kit.layout;
    let drawer = &layout.drawers[index];
    let carried = job.masses.carried[index].full;
    let factor = job.design.slide_factor.value;
    let centre = job.masses.carried[index].centre;
    let travel = layout.body(drawer.body).travel;
    let mounts: Vec<usize> =
        (0..layout.mounts.len()).filter(|&i| layout.mounts[i].drawer == drawer.body).collect();
    let middle = |i: usize| f64::midpoint(layout.mounts[i].fixed.low.y, layout.mounts[i].fixed.high.y);
    let left = mounts.iter().copied().max_by(|&a, &b| middle(a).total_cmp(&middle(b)));
    let right = mounts.iter().copied().min_by(|&a, &b| middle(a).total_cmp(&middle(b)));
    let apart = left.zip(right).map_or(0.0, |(left, right)| middle(left) - middle(right));
    let shares = left.map_or((0.5, 0.5), |left| group::shares(middle(left) - centre.y, apart.max(1.0)));
    let weight = carried * GRAVITY;
    let slides = mounts.iter().map(|&i| {
        let mount = &layout.mounts[i];
        let share = if Some(i) == left { shares.0 } else { shares.1 };
        let force = weight * share;
        let bolts = mount.slide.fixed.clone();
        let out = group::line_reactions(&bolts, force, centre.x + travel.x - mount.fixed.low.x);
        let moving = group::line_reactions(&mount.slide.moving, force, centre.x - mount.moving.low.x);
        SlideForces { mount: i, weight: force, bolts, out, moving }
    });
    let slides: Vec<SlideForces> = slides.collect();
    let front = mounts.first().map_or(0.0, |&i| layout.mounts[i].fixed.low.x);
    DrawerCheck {
        drawer: index,
        carried,
        rating: drawer.slide.rating_pair,
        factor,
        outcome: match drawer.most(factor) {
            Some(most) => Outcome::Used(carried / most),
            None => Outcome::Unknown(format!("no rating of {}", drawer.slide.id)),
        },
        centre,
        beyond: front - (centre.x + travel.x),
        slides,
    }
}

/// Latches of drawers and trays, then of doors.
pub(super) fn latches(job: &Job<'_>) -> Vec<LatchCheck> {
    let layout = &job.kit.layout;
    let drawers = layout.drawers.iter().zip(&job.masses.carried);
    let drawers =
        drawers.map(|(drawer, carried)| latch(job, &drawer.name, carried.full, drawer.latch, drawer.span));
    let doors = layout.doors.iter().map(|door| {
        let own = job.masses.parts.iter().filter(|part| part.body == door.body);
        let mass: f64 = own.map(|part| part.mass).sum();
        latch(job, &door.name, mass, Some(door.latch.1), layout.board(door.panel).span)
    });
    drawers.chain(doors).collect()
}

fn latch(job: &Job<'_>, name: &str, mass: f64, holds: Option<f64>, span: Span) -> LatchCheck {
    let settings = job.settings();
    let [forward, rearward, ..] = RESTRAINT_CASES;
    let weight = mass * GRAVITY;
    let braking = weight * rearward.share;
    let slope = weight * settings.latch_slope.value.to_radians().sin();
    let needed = braking.max(slope) * settings.latch_factor.value;
    LatchCheck {
        name: name.to_owned(),
        mass,
        braking,
        slope,
        needed,
        holds,
        stop: weight * forward.share * settings.restraint_factor.value,
        outcome: match holds {
            Some(holds) => Outcome::Used(needed / holds),
            None => Outcome::Unknown("nothing says what its latch holds".to_owned()),
        },
        span,
    }
}
