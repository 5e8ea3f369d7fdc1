//! Single changes that bring an overloaded vehicle within its limits.
//!
//! Each is worked out from what is over and then tried: only those after which nothing is over any more are told.

use super::{Budget, DECIMALS, Job, Limited, Line, LineKind, Verdict, judged};
use crate::number::rounded;
use crate::spec::LoadKind;

/// A single change.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Cure {
    /// Move something forward, or back where it is less than 0.
    Move {
        /// What.
        name: String,
        /// mm forward.
        by: f64,
    },
    /// Take so much less of something.
    Less {
        /// Of what.
        name: String,
        /// kg.
        by: f64,
        /// Whether it is what a trailer puts on the ball.
        ball: bool,
    },
    /// Make the panels of one board from a lighter one.
    Board {
        /// The board's catalogue name.
        from: String,
        /// The lighter one's.
        to: String,
        /// kg that this saves.
        saves: f64,
    },
}

/// mm and kg in which changes are told.
const STEPS: (f64, f64) = (10.0, 1.0);
/// Most that are told of one sort.
const MOST: usize = 3;

/// The changes that help, the smallest first of each sort: moves, less of something, lighter boards.
pub(super) fn cures(budget: &Budget, job: &Job<'_>) -> Vec<Cure> {
    let mut moves: Vec<Cure> = budget.lines.iter().filter_map(|line| moved(budget, job, line)).collect();
    moves.sort_by(|a, b| size(a).total_cmp(&size(b)));
    moves.truncate(MOST);
    let mut less: Vec<Cure> = budget.lines.iter().filter_map(|line| lessened(budget, job, line)).collect();
    less.sort_by(|a, b| size(a).total_cmp(&size(b)));
    less.truncate(MOST);
    let boards = if job.scenario.kit { boards(budget, job) } else { Vec::new() };
    moves.into_iter().chain(less).chain(boards).collect()
}

fn size(cure: &Cure) -> f64 {
    match cure {
        Cure::Move { by, .. } | Cure::Less { by, .. } => by.abs(),
        Cure::Board { saves, .. } => *saves,
    }
}

/// Whether all is within limits with this line in the place of the one of the same name.
fn helps(budget: &Budget, job: &Job<'_>, lines: Vec<Line>) -> bool {
    judged(budget.scenario, lines, job).passes()
}

fn with(budget: &Budget, line: &Line) -> Vec<Line> {
    let mut lines = budget.lines.clone();
    for own in lines.iter_mut().filter(|own| own.name == line.name && own.kind == line.kind) {
        *own = line.clone();
    }
    lines
}

/// What in the vehicle can be moved without changing what it is: equipment and what is carried inside.
fn moved(budget: &Budget, job: &Job<'_>, line: &Line) -> Option<Cure> {
    if !matches!(line.kind, LineKind::Equipment | LineKind::Load(LoadKind::Contents)) || line.mass <= 0.0 {
        return None;
    }
    let over = |what: Limited| {
        let verdict = budget.verdicts.iter().find(|verdict| verdict.what == what);
        verdict.map_or(0.0, |verdict| (-verdict.margin()).max(0.0))
    };
    let (front, rear) = (over(Limited::Front), over(Limited::Rear));
    let (over, sign) = if rear > 0.0 { (rear, 1.0) } else { (front, -1.0) };
    let steps = (over * job.vehicle.wheelbase.value / line.mass / STEPS.0).ceil();
    let by = sign * steps * STEPS.0;
    // It stays within the load space.
    let x = line.ahead + job.vehicle.rear_axle.value + by;
    if over <= 0.0 || !(0.0..=job.design.vehicle.bay.depth.value).contains(&x) {
        return None;
    }
    let moved = job.ahead(&line.name, line.kind, line.mass, line.ahead + by, line.left);
    helps(budget, job, with(budget, &moved)).then(|| Cure::Move { name: line.name.clone(), by })
}

/// How much less of something is enough.
fn lessened(budget: &Budget, job: &Job<'_>, line: &Line) -> Option<Cure> {
    let ball = line.kind == LineKind::Load(LoadKind::Trailer);
    let may = ball
        || matches!(
            line.kind,
            LineKind::Equipment
                | LineKind::Drawer
                | LineKind::Load(LoadKind::Contents | LoadKind::Roof | LoadKind::Accessory)
        );
    if !may || line.mass <= 0.0 {
        return None;
    }
    let forward = line.ahead / job.vehicle.wheelbase.value;
    let share = |what: Limited| match what {
        Limited::Gross => 1.0,
        Limited::Front => forward,
        Limited::Rear => 1.0 - forward,
        // What the ball bears less, the trailer's own axles bear.
        Limited::Combination => f64::from(u8::from(!ball)),
        Limited::Ball => f64::from(u8::from(ball)),
        Limited::Roof => f64::from(u8::from(line.kind == LineKind::Load(LoadKind::Roof))),
    };
    let over = budget.verdicts.iter().filter(|verdict| !verdict.passes());
    let needed = |verdict: &Verdict| {
        let share = share(verdict.what);
        (share > 0.0).then(|| -verdict.margin() / share)
    };
    let needed: Option<Vec<f64>> = over.map(needed).collect();
    let needed = needed?.into_iter().fold(0.0, f64::max);
    let by = (needed / STEPS.1).ceil() * STEPS.1;
    if by > line.mass {
        return None;
    }
    let lighter = job.ahead(&line.name, line.kind, line.mass - by, line.ahead, line.left);
    helps(budget, job, with(budget, &lighter)).then(|| Cure::Less { name: line.name.clone(), by, ball })
}

/// For each board of the kit the next lighter one of the same thickness, if that is enough.
fn boards(budget: &Budget, job: &Job<'_>) -> Vec<Cure> {
    let savings = job.masses.lighter.iter();
    savings
        .filter(|saving| {
            let part = saving.saves / job.masses.total.mass;
            let mut lines = budget.lines.clone();
            for line in lines.iter_mut().filter(|line| line.kind == LineKind::Kit) {
                *line = job.ahead(&line.name, line.kind, line.mass * (1.0 - part), line.ahead, line.left);
            }
            helps(budget, job, lines)
        })
        .map(|saving| Cure::Board {
            from: saving.from.clone(),
            to: saving.to.clone(),
            saves: rounded(saving.saves, DECIMALS),
        })
        .collect()
}
