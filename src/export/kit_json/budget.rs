//! Budgets of `kit.json`.

use super::{mm, ratio};
use crate::budget::{self, DECIMALS};
use crate::export::words;
use crate::finished::Finished;
use crate::number::rounded;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// What the loaded vehicle weighs in a scenario, kg.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub(crate) struct Budget {
    /// The scenario's name.
    pub(crate) scenario: String,
    /// What it is.
    pub(crate) title: String,
    /// Name of the set of limits.
    pub(crate) limits: String,
    /// Whether what is over a limit is only shown.
    pub(crate) comparison: bool,
    /// mm from axle to axle.
    pub(crate) wheelbase: f64,
    /// mm from the middle of a left tyre to that of a right one, if it is known.
    pub(crate) track: Option<f64>,
    /// The vehicle first, then what it carries.
    pub(crate) lines: Vec<BudgetLine>,
    /// Sum of the lines.
    pub(crate) total: f64,
    /// On the front axle.
    pub(crate) front: f64,
    /// On the rear axle.
    pub(crate) rear: f64,
    /// On the left wheels and on the right ones, if the track is known.
    pub(crate) sides: Option<[f64; 2]>,
    /// On the front axle, per cent of what it carries without the kit.
    pub(crate) front_of_kerb: f64,
    /// Against the limits.
    pub(crate) verdicts: Vec<BudgetVerdict>,
    /// Single changes that bring all of it within the limits.
    pub(crate) cures: Vec<String>,
}

/// One thing that weighs.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub(crate) struct BudgetLine {
    /// Its name.
    pub(crate) name: String,
    /// What it is, as the report's table says it.
    pub(crate) kind: String,
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

/// A value against its limit, kg.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub(crate) struct BudgetVerdict {
    /// Of what.
    pub(crate) what: String,
    /// What it is.
    pub(crate) value: f64,
    /// What it may be.
    pub(crate) limit: f64,
    /// What is left.
    pub(crate) margin: f64,
    /// Whether it is within the limit.
    pub(crate) passes: bool,
}

/// A budget for each scenario.
pub(super) fn budgets(finished: &Finished) -> Vec<Budget> {
    finished.budgets.iter().map(|budget| one(finished, budget)).collect()
}

fn one(finished: &Finished, budget: &budget::Budget) -> Budget {
    let scenario = &finished.design.scenarios[budget.scenario];
    let masses = finished.design.vehicle.masses.as_ref();
    let limits = masses.and_then(|masses| masses.limits.get(scenario.limits));
    Budget {
        scenario: scenario.id.clone(),
        title: scenario.title.clone(),
        limits: limits.map(|limits| limits.id.value.clone()).unwrap_or_default(),
        comparison: scenario.comparison,
        wheelbase: masses.map_or(0.0, |masses| mm(masses.wheelbase.value)),
        track: masses.and_then(|masses| masses.track).map(|track| mm(track.value)),
        lines: budget
            .lines
            .iter()
            .map(|line| BudgetLine {
                name: line.name.clone(),
                kind: words::budget_line(line.kind).to_owned(),
                mass: line.mass,
                ahead: mm(line.ahead),
                left: mm(line.left),
                front: line.front,
                rear: line.rear,
            })
            .collect(),
        total: budget.total,
        front: budget.front,
        rear: budget.rear,
        sides: budget.sides.map(|(left, right)| [left, right]),
        front_of_kerb: ratio(budget.front_of_kerb()),
        verdicts: budget
            .verdicts
            .iter()
            .map(|verdict| BudgetVerdict {
                what: words::limited(verdict.what).to_owned(),
                value: rounded(verdict.value, DECIMALS),
                limit: verdict.limit,
                margin: verdict.margin(),
                passes: verdict.passes(),
            })
            .collect(),
        cures: budget.cures.iter().map(words::cure).collect(),
    }
}
