//! Modules that nothing holds to the vehicle: whether open drawers tip them.

use super::{Job, Outcome};
use crate::diag::Span;
use crate::geom::tolerance::SAME_LENGTH;
use crate::layout::{GRAVITY, Role};
use baywright_formulas::group;
use std::collections::BTreeSet;

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

/// Carcases that are bolted to each other, by their ids, each group in order.
pub(super) fn modules(job: &Job<'_>) -> Vec<BTreeSet<String>> {
    let mut groups: Vec<BTreeSet<String>> =
        job.masses.carcases.iter().map(|(id, _)| BTreeSet::from([id.clone()])).collect();
    for bolt in &job.kit.bolts {
        let ids = bolt.panels.iter().map(|&id| &job.kit.layout.body(job.kit.panel(id).body).carcase);
        let ids: BTreeSet<String> = ids.cloned().collect();
        if ids.len() < 2 {
            continue;
        }
        let (joined, rest): (Vec<_>, Vec<_>) = groups.into_iter().partition(|group| !group.is_disjoint(&ids));
        groups = rest;
        groups.push(joined.into_iter().flatten().collect());
    }
    groups.sort();
    groups
}

/// Modules that no point of the vehicle holds, by the ids of their carcases.
pub(super) fn loose(job: &Job<'_>) -> Vec<String> {
    let modules = modules(job);
    let free = modules.iter().filter(|module| !is_held(job, module));
    free.map(|module| module.iter().cloned().collect::<Vec<_>>().join(" + ")).collect()
}

/// Whether a point of the vehicle holds a module.
fn is_held(job: &Job<'_>, module: &BTreeSet<String>) -> bool {
    job.kit.anchorages.iter().any(|anchorage| module.contains(&anchorage.carcase))
}

/// Every loose module with each drawer out, and with all.
pub(super) fn check(job: &Job<'_>) -> Vec<TippingCheck> {
    modules(job).iter().flat_map(|module| one(job, module)).collect()
}

fn one(job: &Job<'_>, module: &BTreeSet<String>) -> Vec<TippingCheck> {
    let layout = &job.kit.layout;
    if is_held(job, module) {
        return Vec::new();
    }
    let own = |body| module.contains(&layout.body(body).carcase);
    let bases: Vec<_> =
        layout.boards.iter().filter(|board| board.role == Role::Base && own(board.body)).collect();
    let edge = bases.iter().map(|board| board.aabb.low.x).fold(f64::INFINITY, f64::min);
    let far = bases.iter().map(|board| board.aabb.high.x).fold(f64::NEG_INFINITY, f64::max);
    let drawers: Vec<usize> = (0..layout.drawers.len()).filter(|&i| own(layout.drawers[i].body)).collect();
    if bases.is_empty() || drawers.is_empty() {
        return Vec::new();
    }
    let checks = super::drawers::check(job);
    let stays = |out: &[usize]| {
        let shut = |body| !out.iter().any(|&i| layout.drawers[i].body == body);
        let parts = job.masses.parts.iter().filter(|part| own(part.body) && shut(part.body));
        parts.fold((0.0, 0.0), |(mass, moment), part| {
            (mass + part.mass, moment + part.mass * (part.centre.x - edge))
        })
    };
    let case = |out: &[usize], drawer: Option<String>| {
        let (mass, moment) = stays(out);
        let (mut away, mut tips) = (0.0, 0.0);
        for &i in out {
            let check = &checks[i];
            away += check.carried;
            tips += check.carried * (edge - (check.centre.x + layout.body(layout.drawers[i].body).travel.x));
        }
        let tips = f64::max(tips, 0.0);
        let factor = if tips > 0.0 { group::tipping_factor(moment, tips) } else { f64::INFINITY };
        let wanted = job.settings().tipping_factor.value;
        let missing = (wanted * tips - moment).max(0.0) * GRAVITY;
        TippingCheck {
            module: module.iter().cloned().collect::<Vec<_>>().join(" + "),
            drawer,
            stays: (mass, if mass > 0.0 { moment / mass } else { 0.0 }),
            out: (away, if away > 0.0 { tips / away } else { 0.0 }),
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
