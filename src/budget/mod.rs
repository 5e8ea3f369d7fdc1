//! What the loaded vehicle weighs, axle by axle, against what it may weigh.
//!
//! Takes the design, the kit as laid out and its masses; gives a [`Budget`] for each scenario. Only reports. Lever rule: the
//! vehicle stands level and rigid on two axles; springs and levelling hitches are left out.
//!
//! With `x` forward of the rear axle and wheelbase `L` a mass `m` puts `m x / L` on the front axle and the rest on the rear one
//! (body builders' manuals of truck makers, read). Every line is rounded to [`DECIMALS`], and sums are sums of rounded lines, so
//! what is printed adds up.

mod cure;
#[cfg(test)]
mod tests;

pub(crate) use cure::Cure;

use crate::geom::{Point3, VehicleFrame};
use crate::joints::Kit;
use crate::layout::FixtureKind;
use crate::mass::Masses;
use crate::number::rounded;
use crate::spec::{Design, EquipmentFill, LoadKind, MassLimits, Scenario, VehicleMasses};

/// Decimals of a mass in kg in a budget.
pub(crate) const DECIMALS: usize = 2;

/// What a line of a budget is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum LineKind {
    /// The vehicle without the kit.
    Kerb,
    /// Of the vehicle, beside the kit.
    Load(LoadKind),
    /// A carcase with its drawers, slides and wings.
    Kit,
    /// Equipment in the kit.
    Equipment,
    /// What a drawer or a tray holds.
    Drawer,
}

/// One thing that weighs.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Line {
    /// Its name.
    pub(crate) name: String,
    /// What it is.
    pub(crate) kind: LineKind,
    /// kg; less than 0 for what was taken out.
    pub(crate) mass: f64,
    /// mm forward of the rear axle.
    pub(crate) ahead: f64,
    /// mm to the left of the centreline.
    pub(crate) left: f64,
    /// kg that it puts on the front axle.
    pub(crate) front: f64,
    /// kg that it puts on the rear axle.
    pub(crate) rear: f64,
}

/// What is held against a limit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Limited {
    /// The vehicle with all that it carries, the ball load with it.
    Gross,
    /// The front axle.
    Front,
    /// The rear axle.
    Rear,
    /// The vehicle and its trailer.
    Combination,
    /// The tow ball.
    Ball,
    /// The roof.
    Roof,
}

/// A value against its limit, kg.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Verdict {
    /// Of what.
    pub(crate) what: Limited,
    /// What it is.
    pub(crate) value: f64,
    /// What it may be.
    pub(crate) limit: f64,
}

impl Verdict {
    /// kg that are left; less than 0 if it is too much.
    pub(crate) fn margin(&self) -> f64 {
        rounded(self.limit - self.value, DECIMALS)
    }

    /// Whether it is within the limit.
    pub(crate) fn passes(&self) -> bool {
        self.margin() >= 0.0
    }
}

/// A scenario's masses.
#[derive(Clone, Debug)]
pub(crate) struct Budget {
    /// Index of the scenario.
    pub(crate) scenario: usize,
    /// The vehicle first, then what it carries.
    pub(crate) lines: Vec<Line>,
    /// kg.
    pub(crate) total: f64,
    /// kg on the front axle.
    pub(crate) front: f64,
    /// kg on the rear axle.
    pub(crate) rear: f64,
    /// kg on the left wheels and on the right ones, if the track is known.
    pub(crate) sides: Option<(f64, f64)>,
    /// In the order of [`Limited`]; what has no limit or nothing to hold against it is left out.
    pub(crate) verdicts: Vec<Verdict>,
    /// Single changes that bring all of it within the limits, where something is over one.
    pub(crate) cures: Vec<Cure>,
}

impl Budget {
    /// Whether all is within the limits.
    pub(crate) fn passes(&self) -> bool {
        self.verdicts.iter().all(Verdict::passes)
    }

    /// kg on the front axle, per cent of what it carries without the kit, to a tenth: how far it is unloaded.
    pub(crate) fn front_of_kerb(&self) -> f64 {
        let kerb = self.lines.first().map_or(0.0, |kerb| kerb.front);
        if kerb > 0.0 { rounded(100.0 * self.front / kerb, 1) } else { 0.0 }
    }
}

/// A budget for each scenario of the design, in its order.
pub(crate) fn budgets(design: &Design, kit: &Kit, masses: &Masses) -> Vec<Budget> {
    let Some(vehicle) = &design.vehicle.masses else { return Vec::new() };
    let scenarios = design.scenarios.iter().enumerate();
    scenarios
        .map(|(i, scenario)| {
            let job = Job { design, kit, masses, vehicle, scenario };
            let lines = job.lines();
            let mut budget = judged(i, lines, &job);
            if !budget.passes() {
                budget.cures = cure::cures(&budget, &job);
            }
            budget
        })
        .collect()
}

/// What a budget is made from.
struct Job<'a> {
    design: &'a Design,
    kit: &'a Kit,
    masses: &'a Masses,
    vehicle: &'a VehicleMasses,
    scenario: &'a Scenario,
}

impl Job<'_> {
    fn limits(&self) -> &MassLimits {
        &self.vehicle.limits[self.scenario.limits]
    }

    /// A mass at a place of the vehicle.
    fn line(&self, name: &str, kind: LineKind, mass: f64, at: Point3<VehicleFrame>) -> Line {
        self.ahead(name, kind, mass, at.x - self.vehicle.rear_axle.value, at.y)
    }

    fn ahead(&self, name: &str, kind: LineKind, mass: f64, ahead: f64, left: f64) -> Line {
        let mass = rounded(mass, DECIMALS);
        let front = rounded(mass * ahead / self.vehicle.wheelbase.value, DECIMALS);
        Line { name: name.to_owned(), kind, mass, ahead, left, front, rear: rounded(mass - front, DECIMALS) }
    }

    fn lines(&self) -> Vec<Line> {
        let kerb = &self.vehicle.kerb;
        let [front, rear] = [kerb.front.value, kerb.rear.value].map(|mass| rounded(mass, DECIMALS));
        let mass = rounded(front + rear, DECIMALS);
        let ahead = if mass > 0.0 { front * self.vehicle.wheelbase.value / mass } else { 0.0 };
        let mut lines =
            vec![Line { name: "vehicle".into(), kind: LineKind::Kerb, mass, ahead, left: 0.0, front, rear }];
        let loads = self.scenario.loads.iter().map(|&load| &self.design.loads[load]);
        lines.extend(loads.map(|load| {
            let mass = match load.kind {
                LoadKind::TakenOut => -load.mass,
                LoadKind::Trailer => load.ball,
                _ => load.mass,
            };
            self.line(&load.id.value, LineKind::Load(load.kind), mass, load.at)
        }));
        if self.scenario.kit {
            lines.extend(self.of_kit());
        }
        lines
    }

    /// The kit, its equipment and what its drawers hold.
    fn of_kit(&self) -> Vec<Line> {
        let carcases = &self.masses.carcases;
        let mut lines: Vec<Line> =
            carcases.iter().map(|(id, sum)| self.line(id, LineKind::Kit, sum.mass, sum.centre)).collect();
        let layout = &self.kit.layout;
        let equipment = layout.fixtures.iter().filter(|fixture| fixture.kind == FixtureKind::Equipment);
        let fill = self.scenario.equipment;
        lines.extend(equipment.filter(|_| fill != EquipmentFill::Out).map(|fixture| {
            let held = if fill == EquipmentFill::Full { fixture.fill } else { 0.0 };
            self.line(&fixture.name, LineKind::Equipment, fixture.mass + held, fixture.centre)
        }));
        let drawers = layout.drawers.iter().filter(|drawer| self.scenario.drawers && drawer.load > 0.0);
        lines.extend(drawers.map(|drawer| {
            let bottom = layout.board(drawer.bottom).aabb;
            let middle = bottom.low + bottom.size() / 2.0;
            self.line(&drawer.name, LineKind::Drawer, drawer.load, middle)
        }));
        lines
    }

    /// kg of the trailer, and of it on the ball.
    fn trailer(&self) -> Option<(f64, f64)> {
        let mut loads = self.scenario.loads.iter().map(|&load| &self.design.loads[load]);
        loads.find(|load| load.kind == LoadKind::Trailer).map(|load| (load.mass, load.ball))
    }
}

/// Lines summed and held against the limits.
fn judged(scenario: usize, lines: Vec<Line>, job: &Job<'_>) -> Budget {
    let sum = |of: &dyn Fn(&Line) -> f64| rounded(lines.iter().map(of).sum(), DECIMALS);
    let (total, front, rear) = (sum(&|line| line.mass), sum(&|line| line.front), sum(&|line| line.rear));
    let limits = job.limits();
    let of_roof = |line: &Line| if line.kind == LineKind::Load(LoadKind::Roof) { line.mass } else { 0.0 };
    let trailer = job.trailer();
    let on_ball = sum(&|line| if line.kind == LineKind::Load(LoadKind::Trailer) { line.mass } else { 0.0 });
    let verdict = |what, value, limit: Option<f64>| Some(Verdict { what, value, limit: limit? });
    let limit = |limit: Option<crate::diag::At<f64>>| limit.map(|limit| limit.value);
    let verdicts = [
        verdict(Limited::Gross, total, Some(limits.gross.value)),
        verdict(Limited::Front, front, Some(limits.front.value)),
        verdict(Limited::Rear, rear, Some(limits.rear.value)),
        // What the trailer puts on the ball stands on the vehicle's axles already.
        trailer.and_then(|(mass, ball)| {
            let drawn = rounded(total + mass - ball, DECIMALS);
            verdict(Limited::Combination, drawn, limit(limits.combination))
        }),
        trailer.and_then(|_| verdict(Limited::Ball, on_ball, limit(limits.ball))),
        verdict(Limited::Roof, sum(&of_roof), limit(limits.roof)),
    ];
    let sides = job.vehicle.track.map(|track| {
        let more = sum(&|line| rounded(line.mass * line.left / track.value, DECIMALS));
        let left = rounded(total / 2.0 + more, DECIMALS);
        (left, rounded(total - left, DECIMALS))
    });
    let verdicts = verdicts.into_iter().flatten().collect();
    Budget { scenario, total, front, rear, sides, verdicts, cures: Vec::new(), lines }
}
