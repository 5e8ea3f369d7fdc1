//! What the loaded vehicle weighs, scenario by scenario, against what it may weigh.

use super::bars::{Bar, chart};
use super::body::Column::{Figures, Short, Words};
use super::body::{Body, Table, figure, heading, list, paragraph};
use crate::budget::{Budget, DECIMALS, Limited, Verdict};
use crate::export::words;
use crate::finished::Finished;
use crate::number::{decimal, fixed};
use crate::spec::Scenario;

/// All scenarios side by side, then each by itself; nothing for a vehicle that does not say its masses.
pub(super) fn budget(finished: &Finished) -> Body {
    if finished.budgets.is_empty() {
        return Body::none();
    }
    let each: Body = finished.budgets.iter().map(|budget| one(finished, budget)).collect();
    basis(finished) + side_by_side(finished) + each
}

fn kg(mass: f64) -> String {
    fixed(mass, DECIMALS)
}

fn scenario<'a>(finished: &'a Finished, budget: &Budget) -> &'a Scenario {
    &finished.design.scenarios[budget.scenario]
}

fn limits_of(finished: &Finished, budget: &Budget) -> String {
    let limits = finished.design.vehicle.masses.as_ref().map(|masses| &masses.limits);
    let limits = limits.and_then(|limits| limits.get(scenario(finished, budget).limits));
    limits.map(|limits| limits.id.value.clone()).unwrap_or_default()
}

/// What the figures rest on.
fn basis(finished: &Finished) -> Body {
    let Some(masses) = &finished.design.vehicle.masses else { return Body::none() };
    let kerb = &masses.kerb;
    let driver = if kerb.driver > 0.0 {
        format!("a driver of {} kg counted in", decimal(kerb.driver, 1))
    } else {
        "no driver counted in".to_owned()
    };
    let mut items = vec![
        format!(
            "The vehicle by itself: {} kg in front, {} kg at the rear, {}; fuel tank {} % full, {driver}.",
            kg(kerb.front.value),
            kg(kerb.rear.value),
            if kerb.weighed { "as weighed" } else { "from papers, not weighed" },
            decimal(kerb.fuel, 0),
        ),
        format!(
            "The kit: {} kg, {}.",
            kg(finished.masses.total.mass),
            words::weighed(finished.weighed.kit())
        ),
        "Level and rigid, by the lever rule: springs and levelling hitches are left out.".to_owned(),
    ];
    if let Some(people) = &finished.design.people {
        items.push(format!("A person: {} kg ({}).", decimal(people.mass, 1), people.basis));
    }
    paragraph(
        "An arithmetic check on what was entered. The maker's plate and local vehicle law govern; weigh the finished vehicle axle \
         by axle, loaded as it will be used.",
    ) + list(&items)
}

fn verdict(budget: &Budget, what: Limited) -> Option<&Verdict> {
    budget.verdicts.iter().find(|verdict| verdict.what == what)
}

fn side_by_side(finished: &Finished) -> Body {
    let mut table = Table::new([
        Words("Scenario"),
        Short("Limits"),
        Figures("Total kg"),
        Figures("left of gross"),
        Figures("Front kg"),
        Figures("left"),
        Figures("Rear kg"),
        Figures("left"),
        Figures("Front, % of empty"),
        Short("Result"),
    ]);
    for budget in &finished.budgets {
        let left = |what| verdict(budget, what).map_or_else(String::new, |verdict| kg(verdict.margin()));
        table.row([
            scenario(finished, budget).title.clone(),
            limits_of(finished, budget),
            kg(budget.total),
            left(Limited::Gross),
            kg(budget.front),
            left(Limited::Front),
            kg(budget.rear),
            left(Limited::Rear),
            fixed(budget.front_of_kerb(), 1),
            result(finished, budget),
        ]);
    }
    table.body()
}

fn result(finished: &Finished, budget: &Budget) -> String {
    let over: Vec<&str> = budget
        .verdicts
        .iter()
        .filter(|verdict| !verdict.passes())
        .map(|verdict| words::limited(verdict.what))
        .collect();
    let compared = if scenario(finished, budget).comparison { " (only compared)" } else { "" };
    if over.is_empty() { format!("within{compared}") } else { format!("over: {}{compared}", over.join(", ")) }
}

fn one(finished: &Finished, budget: &Budget) -> Body {
    let scenario = scenario(finished, budget);
    let mut verdicts = Table::new([
        Words("What"),
        Figures("Is kg"),
        Figures("May be kg"),
        Figures("Left kg"),
        Short("Result"),
    ]);
    for verdict in &budget.verdicts {
        verdicts.row([
            words::limited(verdict.what).to_owned(),
            kg(verdict.value),
            kg(verdict.limit),
            kg(verdict.margin()),
            if verdict.passes() { "within" } else { "over" }.to_owned(),
        ]);
    }
    let mut lines = Table::new([
        Words("What weighs"),
        Words("Kind"),
        Figures("kg"),
        Figures("mm ahead of the rear axle"),
        Figures("on the front axle kg"),
        Figures("on the rear axle kg"),
    ]);
    for line in &budget.lines {
        lines.row([
            line.name.clone(),
            words::budget_line(line.kind).to_owned(),
            kg(line.mass),
            decimal(line.ahead, 0),
            kg(line.front),
            kg(line.rear),
        ]);
    }
    let sums = [kg(budget.total), String::new(), kg(budget.front), kg(budget.rear)];
    lines.sum(["All".to_owned(), String::new()].into_iter().chain(sums));
    let sides = budget.sides.map_or_else(Body::none, |(left, right)| {
        paragraph(&format!(
            "{} kg stand on the left wheels, {} kg on the right ones; the vehicle by itself is taken as even.",
            kg(left),
            kg(right)
        ))
    });
    let cures = if budget.passes() {
        Body::none()
    } else if budget.cures.is_empty() {
        paragraph("No single change brings it within its limits.")
    } else {
        let cures: Vec<String> = budget.cures.iter().map(words::cure).collect();
        paragraph("Any one of these brings all of it within the limits:") + list(&cures)
    };
    heading(&scenario.title) + verdicts.body() + cures + waterfall(budget) + lines.body() + sides
}

/// From the vehicle by itself to its gross limit, a step for each thing that weighs.
fn waterfall(budget: &Budget) -> Body {
    let (Some(gross), Some(kerb)) = (verdict(budget, Limited::Gross), budget.lines.first()) else {
        return Body::none();
    };
    let (mut reached, mut lowest) = (kerb.mass, kerb.mass);
    let mut bars = Vec::new();
    for line in &budget.lines[1..] {
        let from = reached;
        reached += line.mass;
        lowest = lowest.min(reached);
        let class = if line.mass < 0.0 { "less" } else { "more" };
        bars.push(Bar { class, name: &line.name, ends: (from, reached), value: kg(line.mass) });
    }
    let (class, name) =
        if gross.passes() { ("left", "still free to carry") } else { ("over", "over the limit") };
    bars.push(Bar { class, name, ends: (budget.total, gross.limit), value: kg(gross.margin()) });
    // What the vehicle weighs by itself would dwarf the rest: its bar is cut short.
    let least = lowest - (reached.max(gross.limit) - lowest) * 0.08;
    bars.insert(
        0,
        Bar { class: "base", name: "vehicle by itself", ends: (least, kerb.mass), value: kg(kerb.mass) },
    );
    let words = format!("gross limit {}", kg(gross.limit));
    let canvas = chart(&bars, least, Some((gross.limit, &words)));
    figure("bars", canvas, 0.0, ("From empty to the limit", "kg"), Vec::new()).into()
}
