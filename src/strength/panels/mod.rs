//! Lying panels in bending: decks, shelves, drawer bottoms, trays, lids, wings.
//!
//! A panel is taken as strips that span between what carries it, along the grain or across it, whichever bears more: no real
//! plate does worse. Where it is carried on four sides and the strip would not do, the series for a plate counts instead, for
//! plywood with two stiffnesses. Of each load the worst place is looked for.

mod bending;
mod loads;
mod spans;

pub(crate) use bending::{Method, PanelResult};
pub(crate) use spans::Way;

use super::board::Sheet;
use super::{Job, Outcome};
use crate::catalogue::Material;
use crate::diag::Span;
use crate::layout::{BoardId, Layout, Role};
use baywright_formulas::timber::{Duration, final_deflection};
use bending::Panel;
use loads::{Item, Stays};
use std::sync::Arc;

/// A lying panel with all its cases.
#[derive(Clone, Debug)]
pub(crate) struct PanelCheck {
    /// The panel.
    pub(crate) board: BoardId,
    /// Each load by itself, at its worst place.
    pub(crate) results: Vec<PanelResult>,
    /// What acts together. Empty if it was not checked.
    pub(crate) cases: Vec<PanelCase>,
    /// The worst of the cases.
    pub(crate) outcome: Outcome,
    /// kg that the worst case's load may be, before it is at its limit.
    pub(crate) at_limit: Option<f64>,
    /// The thinnest board of the same family that would do, by its catalogue name.
    pub(crate) would_do: Option<String>,
    /// Its material as it counts; nothing where that is not known.
    pub(crate) sheet: Option<Sheet>,
    /// Where it is described.
    pub(crate) span: Span,
}

/// Loads that act together.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct PanelCase {
    /// What it is.
    pub(crate) name: &'static str,
    /// Multiplied with the loads.
    pub(crate) factor: f64,
    /// How long it stays, as EN 1995-1-1 has it.
    pub(crate) duration: &'static str,
    /// Factor for how long it stays.
    pub(crate) k_mod: f64,
    /// Sum of stress over strength.
    pub(crate) stress_used: f64,
    /// Sum of sag over what it may be; `None` where only strength counts.
    pub(crate) sag_used: Option<f64>,
}

impl PanelCase {
    /// The greater of both.
    pub(crate) fn used(&self) -> f64 {
        self.sag_used.map_or(self.stress_used, |sag| sag.max(self.stress_used))
    }
}

/// Every lying panel that could sag.
pub(super) fn check(job: &Job<'_>) -> Vec<PanelCheck> {
    let boards = (0..job.kit.layout.boards.len()).map(BoardId);
    let lying = boards.filter(|&id| {
        let board = job.kit.layout.board(id);
        let kinds = [Role::Deck, Role::Shelf, Role::BoxBottom, Role::Platform, Role::Lid, Role::Wing];
        board.normal().z.abs() > 0.5 && kinds.contains(&board.role) && !lies_on_floor(job, id)
    });
    let lying: Vec<BoardId> = lying.collect();
    crate::abreast::each(lying.len(), |i| one(job, lying[i]))
}

/// The joints that a panel hangs by, and whether one of them is the only thing that carries it.
pub(super) fn hung_by(layout: &Layout, id: BoardId) -> (Vec<String>, bool) {
    let lines = spans::lines(layout, id);
    let joints = lines.iter().filter(|line| line.hangs).filter_map(|line| line.joint.clone()).collect();
    (joints, lines.len() == 1)
}

/// Whether a lid lies on the floor.
fn lies_on_floor(job: &Job<'_>, id: BoardId) -> bool {
    job.kit.layout.hatches.iter().any(|hatch| hatch.lid == id && hatch.sides.is_empty())
}

fn one(job: &Job<'_>, id: BoardId) -> PanelCheck {
    let layout = &job.kit.layout;
    let board = layout.board(id);
    let unknown = |why: String| PanelCheck {
        board: id,
        results: Vec::new(),
        cases: Vec::new(),
        outcome: Outcome::Unknown(why),
        at_limit: None,
        would_do: None,
        sheet: None,
        span: board.span,
    };
    let sheet = match Sheet::of(&board.material, job.settings()) {
        Ok(sheet) => sheet,
        Err(why) => return unknown(why),
    };
    let panel = Panel { board, lines: spans::lines(layout, id) };
    if panel.lines.is_empty() {
        return unknown("nothing is known to carry it".to_owned());
    }
    let items = loads::items(job, id);
    let found: Option<Vec<PanelResult>> = items.iter().map(|item| panel.worst(&sheet, item)).collect();
    let Some(results) = found else {
        return unknown("somewhere neither two lines nor an angle carry it directly".to_owned());
    };
    let cases = cases(job, &sheet, &items, &results);
    let used = cases.iter().map(PanelCase::used).fold(0.0, f64::max);
    let at_limit = at_limit(job, &sheet, (&items, &results), &cases);
    let would_do = would_do(job, &panel, &items);
    PanelCheck {
        board: id,
        results,
        cases,
        outcome: Outcome::Used(used),
        at_limit,
        would_do,
        sheet: Some(sheet),
        span: board.span,
    }
}

/// What acts together: what stays there, the same on a rough track, what is there for a moment.
fn cases(job: &Job<'_>, sheet: &Sheet, items: &[Item], results: &[PanelResult]) -> Vec<PanelCase> {
    let settings = job.settings();
    let stays = |item: &Item| item.stays != Stays::Moment;
    let case = |name, factor, duration, of: &dyn Fn(&Item) -> bool, sag: Option<f64>| {
        let own = || items.iter().zip(results).filter(|(item, _)| of(item));
        PanelCase {
            name,
            factor,
            duration: duration_word(duration),
            k_mod: sheet.k_mod(duration).unwrap_or(0.0),
            stress_used: own().map(|(_, result)| result.stress_used(sheet, duration) * factor).sum(),
            sag_used: sag,
        }
    };
    let lasting: f64 = items
        .iter()
        .zip(results)
        .map(|(item, result)| {
            let k_def = sheet.k_def().unwrap_or(0.0);
            let (permanent, variable) = match item.stays {
                Stays::Own => (result.sag, 0.0),
                Stays::Stored => (0.0, result.sag),
                Stays::Moment => (0.0, 0.0),
            };
            let sag = final_deflection(permanent, variable, settings.stored_part.value, k_def);
            sag * settings.sag_lasting.value / result.sag_span()
        })
        .sum();
    let mut cases = vec![
        case("at rest", settings.load_factor.value, Duration::Long, &stays, Some(lasting)),
        case("on a rough track", settings.rough_track.value, Duration::Instant, &stays, None),
    ];
    if items.iter().any(|item| !stays(item)) {
        let moment = items.iter().zip(results).filter(|(item, _)| !stays(item));
        let sag = moment
            .map(|(_, result)| result.sag * settings.sag_moment.value / result.sag_span())
            .fold(0.0, f64::max);
        cases.push(case("for a moment", settings.load_factor.value, Duration::Short, &|_| true, Some(sag)));
    }
    cases
}

fn duration_word(duration: Duration) -> &'static str {
    match duration {
        Duration::Permanent => "permanent",
        Duration::Long => "long",
        Duration::Medium => "medium",
        Duration::Short => "short",
        Duration::Instant => "instantaneous",
    }
}

/// kg of what is put on the panel that bring it to its limit in its worst case: in proportion, its own weight apart.
fn at_limit(
    job: &Job<'_>,
    sheet: &Sheet,
    (items, results): (&[Item], &[PanelResult]),
    all: &[PanelCase],
) -> Option<f64> {
    let worst = (0..all.len()).max_by(|&a, &b| all[a].used().total_cmp(&all[b].used()))?;
    let own: Vec<usize> = (0..items.len()).filter(|&i| items[i].stays == Stays::Own).collect();
    let (items_own, results_own): (Vec<Item>, Vec<PanelResult>) =
        own.iter().map(|&i| (items[i].clone(), results[i].clone())).unzip();
    let base = cases(job, sheet, &items_own, &results_own);
    let base = base.get(worst).map_or(0.0, |case| {
        if all[worst].used() > all[worst].stress_used {
            case.sag_used.unwrap_or(0.0)
        } else {
            case.stress_used
        }
    });
    let counted = |item: &&Item| item.stays != Stays::Own && (worst == 2 || item.stays == Stays::Stored);
    let mass: f64 = items.iter().filter(counted).map(|item| item.mass).sum();
    let imposed = all[worst].used() - base;
    (mass > 0.0 && imposed > 0.0).then(|| (mass * (1.0 - base) / imposed).max(0.0))
}

/// The thinnest board of the same family that would do.
fn would_do(job: &Job<'_>, panel: &Panel<'_>, items: &[Item]) -> Option<String> {
    let family = &panel.board.material.family;
    let mut boards: Vec<&Arc<Material>> =
        job.catalogue.materials.values().filter(|material| material.family == *family).collect();
    boards.sort_by(|a, b| a.actual.total_cmp(&b.actual).then_with(|| a.id.cmp(&b.id)));
    let does = |material: &&&Arc<Material>| {
        let Ok(sheet) = Sheet::of(material, job.settings()) else { return false };
        let items: Vec<Item> =
            items.iter().map(|item| item.of_board(&panel.board.material, material)).collect();
        let Some(results) = items.iter().map(|item| panel.worst(&sheet, item)).collect::<Option<Vec<_>>>()
        else {
            return false;
        };
        cases(job, &sheet, &items, &results).iter().all(|case| case.used() <= 1.0)
    };
    boards.iter().find(does).map(|material| material.id.clone())
}
