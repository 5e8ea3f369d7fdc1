//! Modules that nothing holds to the vehicle: whether open drawers tip them.

use super::drawers::DrawerCheck;
use super::modules::Module;
use super::{Job, Outcome};
use crate::diag::Span;
use crate::geom::tolerance::SAME_LENGTH;
use crate::layout::{GRAVITY, Role};
use crate::mass::Sum;
use baywright_formulas::group;

/// A loose module with its drawers out.
#[derive(Clone, Debug)]
pub(crate) struct TippingCheck {
    /// Ids of its carcases, joined.
    pub(crate) module: String,
    /// The drawer that is out; `None` for all of them.
    pub(crate) drawer: Option<String>,
    /// kg that stay, empty, and mm from the edge about which it tips to their centre.
    pub(crate) stays: (f64, f64),
    /// kg that are out, loaded, and mm that their centre stands before that edge.
    pub(crate) out: (f64, f64),
    /// How many times what tips it is held.
    pub(crate) factor: f64,
    /// N down that would hold it at its far end.
    pub(crate) hold_down: f64,
    /// Wanted factor over this one.
    pub(crate) outcome: Outcome,
    /// Where it is described.
    pub(crate) span: Span,
}

impl TippingCheck {
    /// What is out.
    pub(crate) fn name(&self) -> String {
        self.drawer.clone().unwrap_or_else(|| format!("{}, all drawers", self.module))
    }
}

/// Every loose module with each drawer out, and with all.
pub(super) fn check(job: &Job<'_>, drawers: &[DrawerCheck]) -> Vec<TippingCheck> {
    job.loose().flat_map(|module| one(job, module, drawers)).collect()
}

fn one(job: &Job<'_>, module: &Module, checks: &[DrawerCheck]) -> Vec<TippingCheck> {
    let layout = &job.kit.layout;
    let own = |body| module.has(&layout.body(body).carcase);
    let bases: Vec<_> =
        layout.boards.iter().filter(|board| board.role == Role::Base && own(board.body)).collect();
    let edge = bases.iter().map(|board| board.aabb.low.x).fold(f64::INFINITY, f64::min);
    let far = bases.iter().map(|board| board.aabb.high.x).fold(f64::NEG_INFINITY, f64::max);
    let drawers: Vec<usize> = (0..layout.drawers.len()).filter(|&i| own(layout.drawers[i].body)).collect();
    if bases.is_empty() || drawers.is_empty() {
        return Vec::new();
    }
    let case = |out: &[usize], drawer: Option<String>| {
        let shut = |body| !out.iter().any(|&i| layout.drawers[i].body == body);
        let stays = job.masses.parts.iter().filter(|part| own(part.body) && shut(part.body));
        let stays = Sum::of_masses(stays.map(|part| (part.mass, part.centre)));
        let out = Sum::of_masses(out.iter().map(|&i| {
            let travel = layout.body(layout.drawers[i].body).travel;
            (checks[i].carried, checks[i].centre + travel)
        }));
        let (behind, before) = (stays.centre.x - edge, (edge - out.centre.x).max(0.0));
        let (holds, tips) = (stays.mass * behind, out.mass * before);
        let factor = group::tipping_factor(holds, tips);
        let wanted = job.settings().tipping_factor.value;
        let missing = (wanted * tips - holds).max(0.0) * GRAVITY;
        TippingCheck {
            module: module.name(),
            drawer,
            stays: (stays.mass, behind),
            out: (out.mass, before),
            factor,
            hold_down: missing / (far - edge).max(SAME_LENGTH),
            outcome: Outcome::Used(if factor > 0.0 { wanted / factor } else { f64::INFINITY }),
            span: bases[0].span,
        }
    };
    let single = drawers.iter().map(|&i| case(&[i], Some(layout.drawers[i].name.clone())));
    let mut cases: Vec<TippingCheck> = single.collect();
    if drawers.len() > 1 {
        cases.push(case(&drawers, None));
    }
    cases
}
