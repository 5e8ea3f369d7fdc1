//! What the points of the vehicle hold in braking, cornering and over bumps, each against the rating that the user gives.
//!
//! Every module is rigid and stands on its base. A force acts at its centre of gravity; it is shared among the points that can
//! take it, with what it turns about, and tips the module about the edge towards which it acts.

use super::manoeuvres::{self, Manoeuvre, Tipped};
use super::modules::Module;
use super::{Job, Outcome};
use crate::diag::Span;
use crate::geom::{Aabb, Point3, Vector3, VehicleFrame};
use crate::joints::{Anchorage, BoltId};
use crate::layout::{Role, around};
use crate::mass::Sum;
use baywright_formulas::group;

/// Part of a turnbuckle's pull that must work in a direction before it counts there.
const WORKS: f64 = 0.3;
/// Times gravity of a crash, shown where people sit ahead of the load; never a pass.
const CRASH: f64 = 20.0;

/// How the reason begins where in some direction no point can hold a module.
pub(crate) const NOT_HELD: &str = "no point holds it";

/// What one case does to a point.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct AnchorCase {
    /// Where the load goes, in words.
    pub(crate) way: &'static str,
    /// Parts of gravity.
    pub(crate) share: f64,
    /// N along the floor.
    pub(crate) shear: Vector3<VehicleFrame>,
    /// N off the floor.
    pub(crate) tension: f64,
    /// N in all; of a turnbuckle along itself.
    pub(crate) force: f64,
}

/// A point of the vehicle with what it must hold.
#[derive(Clone, Debug)]
pub(crate) struct AnchorCheck {
    /// Name of the point.
    pub(crate) point: String,
    /// Carcase that it holds.
    pub(crate) carcase: String,
    /// The bolt into it, or the one of the turnbuckle's eye.
    pub(crate) bolt: BoltId,
    /// Whether a turnbuckle holds it.
    pub(crate) tied: bool,
    /// kg of its module, loaded, and where they act.
    pub(crate) mass: f64,
    /// The module's centre of gravity.
    pub(crate) centre: Point3<VehicleFrame>,
    /// The box around the module's bases: it tips about their edges.
    pub(crate) base: Aabb,
    /// Braking, reversing, cornering to both sides, up; times the factor for restraint.
    pub(crate) cases: Vec<AnchorCase>,
    /// Forward at 20 times gravity, without a factor: for information.
    pub(crate) crash: AnchorCase,
    /// N that the user gives.
    pub(crate) rating: Option<f64>,
    /// The worst case over the rating.
    pub(crate) outcome: Outcome,
    /// Where it is described.
    pub(crate) span: Span,
}

/// A point with what holds there.
struct Held<'a> {
    anchorage: &'a Anchorage,
    /// In plan, and the level at which it holds.
    at: Point3<VehicleFrame>,
    /// Unit vector along which a turnbuckle pulls what it holds; `None` for a bolt, which holds every way.
    pull: Option<Vector3<VehicleFrame>>,
}

impl Held<'_> {
    /// The part of its force that works against a movement; a bolt's is all of it.
    fn works(&self, against: Vector3<VehicleFrame>) -> f64 {
        self.pull.map_or(1.0, |pull| pull.dot(-against))
    }
}

/// A module as a rigid body.
struct Rigid<'a> {
    sum: Sum,
    base: Aabb,
    held: Vec<Held<'a>>,
}

impl AnchorCheck {
    /// Which point holds what.
    pub(crate) fn name(&self) -> String {
        format!("{} at {}", self.carcase, self.point)
    }
}

/// Every point that holds a carcase.
pub(super) fn check(job: &Job<'_>) -> Vec<AnchorCheck> {
    job.modules.iter().filter_map(|module| rigid(job, module)).flat_map(|rigid| points(job, &rigid)).collect()
}

fn rigid<'a>(job: &Job<'a>, module: &Module) -> Option<Rigid<'a>> {
    let layout = &job.kit.layout;
    let own = job.kit.anchorages.iter().filter(|anchorage| module.has(&anchorage.carcase));
    let held: Vec<Held<'a>> = own
        .map(|anchorage| {
            let tie = anchorage.tie.map(|tie| &job.kit.ties[tie]);
            let at = tie.map_or(job.kit.bolt(anchorage.bolt).origin, |tie| tie.to);
            let pull = tie.map(|tie| (tie.from - tie.to).normalize());
            Held { anchorage, at, pull }
        })
        .collect();
    let loaded = job.masses.loaded.iter().filter(|(id, _)| module.has(id));
    let sum = Sum::of_masses(loaded.map(|(_, sum)| (sum.mass, sum.centre)));
    let bases = || {
        let own = |body| module.has(&layout.body(body).carcase);
        layout
            .boards
            .iter()
            .filter(move |board| matches!(board.role, Role::Base | Role::Floor) && own(board.body))
    };
    let known = !held.is_empty() && sum.mass > 0.0 && bases().next().is_some();
    known.then(|| Rigid { sum, base: around(bases()), held })
}

fn points(job: &Job<'_>, rigid: &Rigid<'_>) -> Vec<AnchorCheck> {
    let settings = job.settings();
    let (factor, counted) = (settings.restraint_factor.value, settings.weight_counted.value);
    let ways = manoeuvres::all();
    let cases: Vec<Option<Vec<AnchorCase>>> =
        ways.iter().map(|way| case(rigid, way, factor, counted)).collect();
    // Braking beyond all measure: nothing is multiplied, and all of the weight counts.
    let crash = Manoeuvre { share: CRASH, ..ways[0] };
    let crashed = case(rigid, &crash, 1.0, 1.0);
    let none = AnchorCase { way: crash.goes, share: CRASH, shear: Vector3::zero(), tension: 0.0, force: 0.0 };
    let unheld: Vec<&str> =
        ways.iter().zip(&cases).filter(|(_, case)| case.is_none()).map(|(way, _)| way.goes).collect();
    let one = |(i, held): (usize, &Held<'_>)| {
        let own: Vec<AnchorCase> = cases.iter().flatten().map(|case| case[i]).collect();
        let rating =
            job.design.vehicle.bay.anchors.iter().find(|anchor| anchor.id.value == held.anchorage.point);
        let rating = rating.and_then(|anchor| anchor.rating).map(|rating| rating.value);
        let worst = own.iter().map(|case| case.force).fold(0.0, f64::max);
        AnchorCheck {
            point: held.anchorage.point.clone(),
            carcase: held.anchorage.carcase.clone(),
            bolt: held.anchorage.bolt,
            tied: held.pull.is_some(),
            mass: rigid.sum.mass,
            centre: rigid.sum.centre,
            base: rigid.base,
            cases: own,
            crash: crashed.as_ref().map_or(none, |crash| crash[i]),
            rating,
            outcome: match rating {
                _ if !unheld.is_empty() => Outcome::Unknown(format!("{NOT_HELD} {}", unheld.join(", "))),
                None => Outcome::Unknown("nothing says what the point bears".to_owned()),
                Some(rating) => Outcome::Used(worst / rating),
            },
            span: job.kit.bolt(held.anchorage.bolt).span,
        }
    };
    rigid.held.iter().enumerate().map(one).collect()
}

/// One case: for each point what it holds; `None` if no point can.
fn case(rigid: &Rigid<'_>, way: &Manoeuvre, factor: f64, counted: f64) -> Option<Vec<AnchorCase>> {
    let Rigid { sum, base, held } = rigid;
    let force = way.force(sum.mass, factor);
    let z = Vector3::new(0.0, 0.0, 1.0);
    let able = |d: Vector3<VehicleFrame>| -> Vec<usize> {
        (0..held.len()).filter(|&i| held[i].works(d) >= WORKS).collect()
    };
    let (hold, upright) = (able(way.along), able(z));
    if hold.is_empty() {
        return None;
    }
    let mut shears = vec![Vector3::zero(); held.len()];
    let mut tensions = vec![0.0; held.len()];
    if way.is_level() {
        let places: Vec<(f64, f64)> = hold.iter().map(|&i| (held[i].at.x, held[i].at.y)).collect();
        let d = way.along * force;
        let shared = group::eccentric(&places, (d.x, d.y), (sum.centre.x, sum.centre.y));
        for (&i, share) in hold.iter().zip(shared) {
            shears[i] = Vector3::new(share.0, share.1, 0.0);
        }
        // It tips about the edge of its base that lies ahead.
        let edge = way.ahead(base.low).max(way.ahead(base.high));
        let tipped = Tipped { manoeuvre: way, force, sum: *sum, counted, level: base.low.z, edge };
        if tipped.moment() > 0.0 && upright.iter().all(|&i| tipped.lever(held[i].at) <= 0.0) {
            return None;
        }
        for (&i, tension) in upright.iter().zip(tipped.tensions(upright.iter().map(|&i| held[i].at))) {
            tensions[i] = tension;
        }
    } else {
        for &i in &hold {
            tensions[i] = force / hold.len() as f64;
        }
    }
    let one = |(i, held): (usize, &Held<'_>)| {
        let (shear, tension) = (shears[i], tensions[i]);
        let force = if held.pull.is_none() {
            (shear.square_length() + tension * tension).sqrt()
        } else {
            // A turnbuckle pulls along itself, so that its part in each direction is what is asked of it.
            let along = shear.length() / held.works(way.along).max(WORKS);
            along.max(tension / held.works(z).max(WORKS))
        };
        AnchorCase { way: way.goes, share: way.share, shear, tension, force }
    };
    Some(held.iter().enumerate().map(one).collect())
}
