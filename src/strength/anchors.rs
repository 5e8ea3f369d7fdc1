//! What the points of the vehicle hold in braking, cornering and over bumps, each against the rating that the user gives.
//!
//! Every module is rigid and stands on its base. A force acts at its centre of gravity; it is shared among the points that can
//! take it, with what it turns about, and tips the module about the edge towards which it acts.

use super::tipping::modules;
use super::{Job, Outcome};
use crate::diag::Span;
use crate::geom::{Aabb, Point3, Vector3, VehicleFrame};
use crate::joints::{Anchorage, BoltId};
use crate::layout::{GRAVITY, RESTRAINT_CASES, Role, around};
use baywright_formulas::group;
use std::collections::BTreeSet;

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
struct Module<'a> {
    mass: f64,
    centre: Point3<VehicleFrame>,
    base: Aabb,
    held: Vec<Held<'a>>,
}

/// Every point that holds a carcase.
pub(super) fn check(job: &Job<'_>) -> Vec<AnchorCheck> {
    modules(job).iter().filter_map(|ids| module(job, ids)).flat_map(|module| points(job, &module)).collect()
}

fn module<'a>(job: &Job<'a>, ids: &BTreeSet<String>) -> Option<Module<'a>> {
    let layout = &job.kit.layout;
    let own = job.kit.anchorages.iter().filter(|anchorage| ids.contains(&anchorage.carcase));
    let held: Vec<Held<'a>> = own
        .map(|anchorage| {
            let tie = anchorage.tie.map(|tie| &job.kit.ties[tie]);
            let at = tie.map_or(job.kit.bolt(anchorage.bolt).origin, |tie| tie.to);
            let pull = tie.map(|tie| (tie.from - tie.to).normalize());
            Held { anchorage, at, pull }
        })
        .collect();
    let sums: Vec<_> =
        job.masses.loaded.iter().filter(|(id, _)| ids.contains(id)).map(|(_, sum)| sum).collect();
    let mass: f64 = sums.iter().map(|sum| sum.mass).sum();
    let moment = sums.iter().fold(Vector3::zero(), |all, sum| all + sum.centre.to_vector() * sum.mass);
    let bases = || {
        let own = |body| ids.contains(&layout.body(body).carcase);
        layout
            .boards
            .iter()
            .filter(move |board| matches!(board.role, Role::Base | Role::Floor) && own(board.body))
    };
    let known = !held.is_empty() && mass > 0.0 && bases().next().is_some();
    known.then(|| Module { mass, centre: (moment / mass).to_point(), base: around(bases()), held })
}

fn points(job: &Job<'_>, module: &Module<'_>) -> Vec<AnchorCheck> {
    let factor = job.settings().restraint_factor.value;
    let [forward, rearward, sideways, up] = RESTRAINT_CASES;
    let counted = job.settings().weight_counted.value;
    let (x, y, z) = (Vector3::new(1.0, 0.0, 0.0), Vector3::new(0.0, 1.0, 0.0), Vector3::new(0.0, 0.0, 1.0));
    let ways = [
        ("forward", forward.share, x),
        ("rearward", rearward.share, -x),
        ("to the left", sideways.share, y),
        ("to the right", sideways.share, -y),
        ("up", up.share, z),
    ];
    let cases: Vec<Option<Vec<AnchorCase>>> =
        ways.iter().map(|&(way, share, d)| case(module, (way, share, factor), d, counted)).collect();
    let crash = case(module, ("forward", CRASH, 1.0), x, 1.0);
    let none = AnchorCase { way: "forward", share: CRASH, shear: Vector3::zero(), tension: 0.0, force: 0.0 };
    let one = |(i, held): (usize, &Held<'_>)| {
        let own: Vec<AnchorCase> = cases.iter().flatten().map(|case| case[i]).collect();
        let rating =
            job.design.vehicle.bay.anchors.iter().find(|anchor| anchor.id.value == held.anchorage.point);
        let rating = rating.and_then(|anchor| anchor.rating).map(|rating| rating.value);
        let worst = own.iter().map(|case| case.force).fold(0.0, f64::max);
        let unheld: Vec<&str> =
            ways.iter().zip(&cases).filter(|(_, case)| case.is_none()).map(|(way, _)| way.0).collect();
        AnchorCheck {
            point: held.anchorage.point.clone(),
            carcase: held.anchorage.carcase.clone(),
            bolt: held.anchorage.bolt,
            tied: held.pull.is_some(),
            mass: module.mass,
            centre: module.centre,
            base: module.base,
            cases: own,
            crash: crash.as_ref().map_or(none, |crash| crash[i]),
            rating,
            outcome: match rating {
                _ if !unheld.is_empty() => Outcome::Unknown(format!("{NOT_HELD} {}", unheld.join(", "))),
                None => Outcome::Unknown("nothing says what the point bears".to_owned()),
                Some(rating) => Outcome::Used(worst / rating),
            },
            span: job.kit.bolt(held.anchorage.bolt).span,
        }
    };
    module.held.iter().enumerate().map(one).collect()
}

/// One case: for each point what it holds; `None` if no point can.
fn case(
    module: &Module<'_>,
    (way, share, factor): (&'static str, f64, f64),
    d: Vector3<VehicleFrame>,
    counted: f64,
) -> Option<Vec<AnchorCase>> {
    let weight = module.mass * GRAVITY;
    let force = share * weight * factor;
    let z = Vector3::new(0.0, 0.0, 1.0);
    let level = d.z.abs() < 0.5;
    let mut shears = vec![Vector3::zero(); module.held.len()];
    let able: Vec<usize> = (0..module.held.len()).filter(|&i| module.held[i].works(d) >= WORKS).collect();
    let upright: Vec<usize> = (0..module.held.len()).filter(|&i| module.held[i].works(z) >= WORKS).collect();
    if able.is_empty() {
        return None;
    }
    let mut tensions = vec![0.0; module.held.len()];
    if level {
        let places: Vec<(f64, f64)> =
            able.iter().map(|&i| (module.held[i].at.x, module.held[i].at.y)).collect();
        let shared =
            group::eccentric(&places, (d.x * force, d.y * force), (module.centre.x, module.centre.y));
        for (&i, share) in able.iter().zip(shared) {
            shears[i] = Vector3::new(share.0, share.1, 0.0);
        }
        // It tips about the edge of its base that lies ahead.
        let ahead = |p: Point3<VehicleFrame>| (p - Point3::origin()).dot(d);
        let pivot = ahead(module.base.low).max(ahead(module.base.high));
        let height = module.centre.z - module.base.low.z;
        let behind = (pivot - ahead(module.centre)).max(0.0);
        let moment = group::overturning(force, height, weight * counted, behind);
        let levers: Vec<f64> = upright.iter().map(|&i| (pivot - ahead(module.held[i].at)).max(0.0)).collect();
        if moment > 0.0 && levers.iter().all(|lever| *lever <= 0.0) {
            return None;
        }
        for (&i, tension) in upright.iter().zip(group::tensions(&levers, moment)) {
            tensions[i] = tension;
        }
    } else {
        for &i in &able {
            tensions[i] = force / able.len() as f64;
        }
    }
    let one = |(i, held): (usize, &Held<'_>)| {
        let (shear, tension) = (shears[i], tensions[i]);
        let force = if held.pull.is_none() {
            (shear.square_length() + tension * tension).sqrt()
        } else {
            // A turnbuckle pulls along itself, so that its part in each direction is what is asked of it.
            let along = shear.length() / held.works(d).max(WORKS);
            along.max(tension / held.works(z).max(WORKS))
        };
        AnchorCase { way, share, shear, tension, force }
    };
    Some(module.held.iter().enumerate().map(one).collect())
}
