//! Equipment under straps: how many straps hold it by friction alone, and how many by their pull.

use super::{Job, Outcome};
use crate::diag::Span;
use crate::layout::{EquipmentSummary, GRAVITY, RESTRAINT_CASES};
use baywright_formulas::lashing::{self, TieDown};

/// Degrees between a strap that goes over something and what it stands on: nearly upright at both sides.
const OVER: f64 = 80.0;
/// Degrees between a strap that pulls something back and what it stands on.
pub(crate) const DIRECT: f64 = 45.0;
/// Strap forces on both sides: EN 12195-1:2010.
const BOTH_SIDES: f64 = 2.0;

/// Equipment under straps.
#[derive(Clone, Debug)]
pub(crate) struct StrapCheck {
    /// What it is.
    pub(crate) name: String,
    /// kg, filled.
    pub(crate) mass: f64,
    /// Straps that it has.
    pub(crate) straps: usize,
    /// Straps that hold it by friction: forward, rearward, sideways; before they are rounded up.
    pub(crate) by_friction: [f64; 3],
    /// Straps at [`DIRECT`] degrees that hold it back by their pull alone: forward, rearward, sideways.
    pub(crate) direct: [f64; 3],
    /// Straps over it that are wanted, at least 1.
    pub(crate) wanted: f64,
    /// Straps wanted over those that it has.
    pub(crate) outcome: Outcome,
    /// Where it is described.
    pub(crate) span: Span,
}

/// Equipment that straps and nothing else hold. They go over it, so friction is what holds it; straps that pull it back directly
/// are worked out beside that.
pub(super) fn check(job: &Job<'_>) -> Vec<StrapCheck> {
    let equipment = job.kit.layout.equipment.iter();
    let strapped = equipment.filter(|one| one.straps > 0 && one.bars == 0 && one.foot_bolts == 0);
    strapped.map(|one| check_one(job, one)).collect()
}

fn check_one(job: &Job<'_>, one: &EquipmentSummary) -> StrapCheck {
    let settings = job.settings();
    let weight = one.full * GRAVITY;
    let [forward, rearward, sideways, _] = RESTRAINT_CASES;
    let factor = settings.restraint_factor.value;
    let by_friction = [forward, rearward, sideways].map(|case| {
        let straps = TieDown {
            c: case.share,
            mu: settings.friction.value,
            cz: 1.0,
            fs: factor,
            k: BOTH_SIDES,
            degrees: OVER,
            tension: settings.strap_tension.value,
        };
        lashing::friction_count(weight, &straps)
    });
    let pull = lashing::direct(settings.strap_rating.value, DIRECT, 0.0);
    let direct = [forward, rearward, sideways].map(|case| weight * case.share * factor / pull);
    let wanted = by_friction.into_iter().fold(0.0, f64::max).ceil().max(1.0);
    StrapCheck {
        name: one.name.clone(),
        mass: one.full,
        straps: one.straps,
        by_friction,
        direct,
        wanted,
        outcome: Outcome::Used(wanted / one.straps as f64),
        span: job.kit.layout.fixtures[one.fixture].span,
    }
}
