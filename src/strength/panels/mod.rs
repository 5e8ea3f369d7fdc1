//! Lying panels in bending: decks, shelves, drawer bottoms, trays, lids, wings.
//!
//! A panel is taken as strips that span between what carries it, along the grain or across it, whichever bears more: no real
//! plate does worse. Where it is carried on four sides and the strip would not do, the series for a plate counts instead, for
//! plywood with two stiffnesses. Of each load the worst place is looked for.

mod bending;
mod loads;
mod spans;

pub(crate) use bending::{AT_EDGE, INSIDE, INSIDE_FROM, Method, PanelResult};
#[cfg(test)]
pub(crate) use loads::CLIMBED;
pub(crate) use loads::{Item, Press, Stays};
pub(crate) use spans::Way;

use super::board::Sheet;
use super::{Job, Outcome};
use crate::catalogue::Material;
use crate::diag::Span;
use crate::layout::{BoardId, Layout, Role};
use crate::spec::StrengthSettings;
use baywright_formulas::timber::{Duration, final_deflection};
use bending::Panel;
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
    /// The load that does most in the worst case.
    pub(crate) greatest: Option<Item>,
    /// kg that the worst case's load may be, before it is at its limit.
    pub(crate) at_limit: Option<f64>,
    /// The thinnest board of the same family that would do, by its catalogue name.
    pub(crate) would_do: Option<String>,
    /// Its material as it counts; nothing where that is not known.
    pub(crate) sheet: Option<Sheet>,
    /// Where it is described.
    pub(crate) span: Span,
}

impl PanelCheck {
    /// The case that uses most of it.
    pub(crate) fn worst(&self) -> Option<&PanelCase> {
        worst(&self.cases)
    }
}

fn worst(cases: &[PanelCase]) -> Option<&PanelCase> {
    cases.iter().max_by(|a, b| a.used().total_cmp(&b.used()))
}

/// Which loads act together, and how.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Together {
    /// What stays there.
    AtRest,
    /// The same, shaken.
    RoughTrack,
    /// With what is there for a moment.
    Moment,
}

/// Loads that act together.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct PanelCase {
    /// Which.
    pub(crate) together: Together,
    /// Multiplied with the loads.
    pub(crate) factor: f64,
    /// Factor for how long they stay.
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

    /// Whether sag comes before stress.
    pub(crate) fn sags(&self) -> bool {
        self.sag_used.is_some_and(|sag| sag > self.stress_used)
    }

    /// What one of its loads adds to the greater of both.
    fn used_by(&self, settings: &StrengthSettings, sheet: &Sheet, result: &PanelResult) -> f64 {
        if self.sags() {
            self.together.sag_by(settings, sheet, result).unwrap_or(0.0)
        } else {
            self.together.stress_by(settings, sheet, result)
        }
    }
}

impl Together {
    /// In words.
    pub(crate) fn name(self) -> &'static str {
        match self {
            Together::AtRest => "at rest",
            Together::RoughTrack => "on a rough track",
            Together::Moment => "for a moment",
        }
    }

    /// For how long the loads stay, as EN 1995-1-1 has it, in words.
    pub(crate) fn duration_word(self) -> &'static str {
        match self {
            Together::AtRest => "long",
            Together::RoughTrack => "instantaneous",
            Together::Moment => "short",
        }
    }

    fn duration(self) -> Duration {
        match self {
            Together::AtRest => Duration::Long,
            Together::RoughTrack => Duration::Instant,
            Together::Moment => Duration::Short,
        }
    }

    fn factor(self, settings: &StrengthSettings) -> f64 {
        match self {
            Together::AtRest | Together::Moment => settings.load_factor.value,
            Together::RoughTrack => settings.rough_track.value,
        }
    }

    /// Whether a load that stays so long is there.
    fn has(self, stays: Stays) -> bool {
        self == Together::Moment || stays != Stays::Moment
    }

    /// The part of the panel's strength that a load uses.
    fn stress_by(self, settings: &StrengthSettings, sheet: &Sheet, result: &PanelResult) -> f64 {
        result.stress_used(sheet, self.duration()) * self.factor(settings)
    }

    /// The part of the sag that may be which a load gives; `None` where only strength counts.
    fn sag_by(self, settings: &StrengthSettings, sheet: &Sheet, result: &PanelResult) -> Option<f64> {
        let by = |sag: f64, limit: f64| sag * limit / result.sag_span();
        let k_def = sheet.k_def().unwrap_or(0.0);
        let lasting =
            |permanent, variable| final_deflection(permanent, variable, settings.stored_part.value, k_def);
        match (self, result.item.stays) {
            (Together::RoughTrack, _) => None,
            (Together::AtRest, Stays::Own) => Some(by(lasting(result.sag, 0.0), settings.sag_lasting.value)),
            (Together::AtRest, Stays::Stored) => {
                Some(by(lasting(0.0, result.sag), settings.sag_lasting.value))
            }
            (Together::Moment, Stays::Moment) => Some(by(result.sag, settings.sag_moment.value)),
            (Together::AtRest, Stays::Moment) | (Together::Moment, _) => Some(0.0),
        }
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
        greatest: None,
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
    let cases = cases(job, &sheet, &results);
    let used = worst(&cases).map_or(0.0, PanelCase::used);
    let greatest = greatest(job, &sheet, &results, &cases);
    let at_limit = at_limit(job, &sheet, &results, &cases);
    let would_do = would_do(job, &panel, &items);
    PanelCheck {
        board: id,
        results,
        cases,
        outcome: Outcome::Used(used),
        greatest,
        at_limit,
        would_do,
        sheet: Some(sheet),
        span: board.span,
    }
}

/// Every case; what is there for a moment makes one only where something is.
fn cases(job: &Job<'_>, sheet: &Sheet, results: &[PanelResult]) -> Vec<PanelCase> {
    let settings = job.settings();
    let one = |together: Together| {
        let own = || results.iter().filter(move |result| together.has(result.item.stays));
        PanelCase {
            together,
            factor: together.factor(settings),
            k_mod: sheet.k_mod(together.duration()).unwrap_or(0.0),
            stress_used: own().map(|result| together.stress_by(settings, sheet, result)).sum(),
            sag_used: own().map(|result| together.sag_by(settings, sheet, result)).sum(),
        }
    };
    let mut cases = vec![one(Together::AtRest), one(Together::RoughTrack)];
    if results.iter().any(|result| result.item.stays == Stays::Moment) {
        cases.push(one(Together::Moment));
    }
    cases
}

/// The load that does most in the worst case.
fn greatest(job: &Job<'_>, sheet: &Sheet, results: &[PanelResult], cases: &[PanelCase]) -> Option<Item> {
    let case = worst(cases)?;
    let there = results.iter().filter(|result| case.together.has(result.item.stays));
    let by = |result: &PanelResult| case.used_by(job.settings(), sheet, result);
    there.max_by(|a, b| by(a).total_cmp(&by(b))).map(|result| result.item.clone())
}

/// kg of what is put on the panel that bring it to its limit in its worst case: in proportion, its own weight apart.
fn at_limit(job: &Job<'_>, sheet: &Sheet, results: &[PanelResult], cases: &[PanelCase]) -> Option<f64> {
    let (settings, case) = (job.settings(), worst(cases)?);
    let together = case.together;
    let (own, put): (Vec<&PanelResult>, Vec<&PanelResult>) =
        results.iter().partition(|result| result.item.stays == Stays::Own);
    let by = |result: &&PanelResult| case.used_by(settings, sheet, result);
    let base: f64 = own.iter().map(by).sum();
    let counted = put.iter().filter(|result| together.has(result.item.stays));
    let mass: f64 = counted.map(|result| result.item.mass).sum();
    let imposed = case.used() - base;
    (mass > 0.0 && imposed > 0.0).then(|| (mass * (1.0 - base) / imposed).max(0.0))
}

/// kg that may lie for long on a panel, evenly spread, beside itself and all that bears on it but a drawer's content; `None` if the
/// panel is not checked.
pub(super) fn takes(job: &Job<'_>, check: &PanelCheck) -> Option<f64> {
    let layout = &job.kit.layout;
    let sheet = check.sheet.as_ref()?;
    let panel = Panel { board: layout.board(check.board), lines: spans::lines(layout, check.board) };
    let kilogram =
        Item { what: loads::IN_IT.to_owned(), mass: 1.0, press: Press::Spread, stays: Stays::Stored };
    let unit = cases(job, sheet, &[panel.worst(sheet, &kilogram)?]);
    let there: Vec<PanelResult> =
        check.results.iter().filter(|result| result.item.what != loads::IN_IT).cloned().collect();
    let limits = cases(job, sheet, &there).into_iter().flat_map(|there| {
        let unit = unit.iter().find(|unit| unit.together == there.together);
        let stress = unit.map(|unit| (1.0 - there.stress_used) / unit.stress_used);
        let sag = unit.and_then(|unit| Some((1.0 - there.sag_used?) / unit.sag_used?));
        [stress, sag].into_iter().flatten()
    });
    limits.reduce(f64::min).map(|kg| kg.max(0.0))
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
        cases(job, &sheet, &results).iter().all(|case| case.used() <= 1.0)
    };
    boards.iter().find(does).map(|material| material.id.clone())
}
