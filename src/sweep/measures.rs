//! What is measured of a variant: mass, panels, sheets, cost, margins, findings, as the cells of its row.

use super::table::{COLUMNS, Column};
use crate::budget::{Budget, DECIMALS, Limited, Verdict};
use crate::build::Built;
use crate::diag::Counts;
use crate::export::order::CENTS;
use crate::export::quote;
use crate::finished::{Finished, SheetGroup};
use crate::nest::Usage;
use crate::number::fixed;
use std::any::Any;
use std::panic::{AssertUnwindSafe, catch_unwind};

/// Decimals of a mass, kg: a gram.
const MASS: usize = 3;

/// The cells of the row of a variant that `build` builds. Where the program falls over it, that is a row as well, which says
/// that it is our fault: the variants beside it are none the worse for it.
pub(crate) fn measured(build: impl FnOnce() -> Built) -> Vec<String> {
    // What fell over is dropped, and nothing of it is seen again.
    let cells = catch_unwind(AssertUnwindSafe(|| cells(&build())));
    cells.unwrap_or_else(|panic| fallen(&*panic))
}

/// The cells of a variant that the program fell over: an error without a rule, since rules are about designs.
fn fallen(panic: &(dyn Any + Send)) -> Vec<String> {
    let said = panic.downcast_ref::<String>().map(String::as_str);
    let said = said.or_else(|| panic.downcast_ref::<&str>().copied()).unwrap_or("no reason given");
    let cell = |column: &Column| match column {
        Column::Errors => "1".to_owned(),
        Column::Finding => format!(
            "this is a fault of baywright, not of the design: {said}; please report it together with the spec"
        ),
        _ => String::new(),
    };
    COLUMNS.iter().map(cell).collect()
}

/// The cells of a variant's row, in the order of [`COLUMNS`]. Without a kit only the findings are filled in, with the first
/// error; of what nobody priced or limited nothing is said.
pub(super) fn cells(built: &Built) -> Vec<String> {
    COLUMNS.iter().map(|column| cell(*column, built)).collect()
}

fn cell(column: Column, built: &Built) -> String {
    let counts = Counts::of(&built.findings);
    let first = built.findings.iter().find(|finding| finding.is_error());
    match column {
        Column::Errors => counts.errors.to_string(),
        Column::Warnings => counts.warnings.to_string(),
        Column::Rule => first.map_or_else(String::new, |finding| finding.rule.name.to_owned()),
        Column::Finding => first.map_or_else(String::new, |finding| finding.message.clone()),
        _ => built.finished.as_ref().and_then(|finished| measure(column, finished)).unwrap_or_default(),
    }
}

fn measure(column: Column, finished: &Finished) -> Option<String> {
    let priced = || {
        let quote = quote::quote(finished);
        quote.lines.iter().any(|line| line.amount.is_some()).then_some(quote)
    };
    match column {
        Column::Mass => Some(fixed(finished.masses.total.mass, MASS)),
        Column::Panels => Some(finished.kit.panels.len().to_string()),
        Column::Sheets => {
            let sheets = finished.groups.iter().map(|group| group.nesting.sheets.len());
            Some(sheets.sum::<usize>().to_string())
        }
        Column::Yield => {
            let groups = finished.groups.iter();
            let all = groups.map(SheetGroup::usage);
            let sum =
                |sum: Usage, one: Usage| Usage { used: sum.used + one.used, sheet: sum.sheet + one.sheet };
            Some(fixed(100.0 * all.fold(Usage::default(), sum).share(), 1))
        }
        Column::Cost => priced().map(|quote| fixed(quote.total, CENTS)),
        Column::Currency => {
            priced()?;
            finished.design.workshop.currency.as_ref().map(|currency| currency.value.clone())
        }
        Column::Unpriced => Some(quote::quote(finished).unpriced.to_string()),
        Column::Gross => least_margin(finished, &[Limited::Gross]),
        Column::Axle => least_margin(finished, &[Limited::Front, Limited::Rear]),
        Column::Errors | Column::Warnings | Column::Rule | Column::Finding => None,
    }
}

/// kg that are left of some limits in the scenario that leaves least; those that are only compared do not count.
fn least_margin(finished: &Finished, limits: &[Limited]) -> Option<String> {
    let counts = |budget: &&Budget| {
        finished.design.scenarios.get(budget.scenario).is_some_and(|scenario| !scenario.comparison)
    };
    let verdicts = finished.budgets.iter().filter(counts).flat_map(|budget| &budget.verdicts);
    let margins = verdicts.filter(|verdict| limits.contains(&verdict.what)).map(Verdict::margin);
    margins.min_by(f64::total_cmp).map(|margin| fixed(margin, DECIMALS))
}
