//! A loaded vehicle that weighs more than it may, whole or on an axle.

use crate::budget::{Budget, Cure};
use crate::diag::{Finding, Findings, Rule, Severity};
use crate::export::words;
use crate::finished::Finished;
use crate::number::fixed;

pub(super) static RULE: Rule = Rule {
    name: "over-limit",
    severity: Severity::Error,
    finds: "A scenario in which the vehicle, an axle, the tow ball, the roof or the combination is heavier than its limit. The help \
            names single changes that would cure all of it, as far as there are any.",
    why: "It is against the law nearly everywhere, brakes and tyres are not made for it, and insurers do not pay. An axle can be \
          over while the whole is not.",
    failing: "\
vehicle:
  bay: {width: 1040, depth: 1050, height: 800}
  masses:
    wheelbase: 2850
    rear_axle: 540
    kerb: {front: 1235, rear: 1095, fuel: 100, driver: 0, weighed: false}
    limits: [{id: plate, gross: 3060, front: 1460, rear: 1220}]
carcases:
  - {id: main, width: 700, depth: 800, height: 300, panel: birch-12, cell: {id: pocket, open: {}}}
loads:
  - {id: ropes, kind: contents, mass: 120, at: {x: 300, y: 0}}
",
    passing: "\
vehicle:
  bay: {width: 1040, depth: 1050, height: 800}
  masses:
    wheelbase: 2850
    rear_axle: 540
    kerb: {front: 1235, rear: 1095, fuel: 100, driver: 0, weighed: false}
    limits: [{id: plate, gross: 3060, front: 1460, rear: 1820}]
carcases:
  - {id: main, width: 700, depth: 800, height: 300, panel: birch-12, cell: {id: pocket, open: {}}}
loads:
  - {id: ropes, kind: contents, mass: 120, at: {x: 300, y: 0}}
",
    source: "arithmetic; that each axle has a limit of its own: 49 CFR 567 and makers' plates; the usable limit is the least of \
             gross and axle limits (a national regulator's guide)",
};

pub(super) fn run(finished: &Finished, findings: &mut Findings) {
    for budget in &finished.budgets {
        let scenario = &finished.design.scenarios[budget.scenario];
        if scenario.comparison {
            continue;
        }
        for verdict in budget.verdicts.iter().filter(|verdict| !verdict.passes()) {
            let [value, limit, over] =
                [verdict.value, verdict.limit, -verdict.margin()].map(|mass| fixed(mass, 2));
            let message = format!(
                "`{}`: {} is {value} kg, {over} kg over the limit of {limit} kg",
                scenario.id,
                words::limited(verdict.what)
            );
            findings.push(Finding::new(&RULE, scenario.span, message).on(&scenario.id).help(help(budget)));
        }
    }
}

fn help(budget: &Budget) -> String {
    if budget.cures.is_empty() {
        return "no single change cures it; take several loads out, or move them towards the other axle"
            .to_owned();
    }
    let cures: Vec<String> = budget.cures.iter().map(|cure: &Cure| words::cure(cure)).collect();
    let which = if cures.len() == 1 { "this cures it" } else { "any one of these cures it" };
    format!("{which}: {}", cures.join("; "))
}
