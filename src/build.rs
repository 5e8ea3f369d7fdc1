//! The whole flow, from texts to a finished design that can be exported.

use crate::catalogue::Catalogue;
use crate::diag::{Findings, Rule, Sources};
use crate::finished::{Finished, SheetGroup, with_solid};
use crate::joints::Kit;
use crate::nest::{Clearances, Effort, Part, Progress, Settings, Stock, Turns, Zone};
use crate::solid::PlateFigures;
use crate::spec::{Design, Input, NestingEffort, NestingWish, Open};
use crate::{accept, catalogue, checks, joints, layout, mass, nest, solid, spec};
use std::collections::BTreeMap;
use std::sync::Arc;

/// What came of a run.
#[derive(Debug)]
pub(crate) struct Built {
    /// The texts that were read.
    pub(crate) sources: Sources,
    /// What was found, in order of place.
    pub(crate) findings: Vec<crate::diag::Finding>,
    /// The design, if there is no error.
    pub(crate) finished: Option<Finished>,
}

/// Told, while the panels of a material are nested, its name and how far that is.
pub(crate) type Watch<'a> = dyn FnMut(&str, Progress) + 'a;

/// Runs every stage. Errors stop it after the stage that finds them, all of that stage's together.
pub(crate) fn build(input: &Input<'_>, open: &mut Open<'_>, watch: &mut Watch<'_>) -> Built {
    let mut findings = Findings::default();
    let mut sources = Sources::default();
    let design = spec::read(&mut findings, &mut sources, input, open);
    let finished = design.and_then(|design| finish(&mut findings, design, watch));
    let finished = finished.filter(|_| !findings.has_errors());
    Built { sources, findings: findings.sorted(), finished }
}

fn finish(findings: &mut Findings, design: Design, watch: &mut Watch<'_>) -> Option<Finished> {
    let rules = all_rules();
    accept::check(findings, &design.accept, &rules);
    let catalogue = Catalogue::for_workshop(findings, &design.workshop);
    let layout = layout::lay_out(findings, &design, &catalogue)?;
    let kit = joints::join(findings, &design, &catalogue, layout)?;
    let figures: Vec<PlateFigures> =
        kit.panels.iter().map(|panel| with_solid(panel, solid::figures)).collect();
    let groups = sheet_groups(&design, &kit, watch);
    let masses = mass::weigh(&kit, &figures);
    let finished = Finished { design, kit, figures, masses, groups, rules };
    checks::run(findings, &finished);
    accept::apply(findings, &finished.design.accept, &finished.rules);
    Some(finished)
}

/// Panels by material, nested; materials in order of their id.
fn sheet_groups(design: &Design, kit: &Kit, watch: &mut Watch<'_>) -> Vec<SheetGroup> {
    let mut by_material: BTreeMap<&str, Vec<usize>> = BTreeMap::new();
    for (i, panel) in kit.panels.iter().enumerate() {
        by_material.entry(&panel.material.id).or_default().push(i);
    }
    let workshop = &design.workshop;
    let gap = workshop.tool.diameter.value + workshop.tool.margin.value;
    let clearances = Clearances { gap, trim: workshop.trim.value };
    by_material
        .into_values()
        .map(|panels| {
            let material = Arc::clone(&kit.panels[panels[0]].material);
            let turns = if material.grain { Turns::GrainKept } else { Turns::Free };
            let part = |&i: &usize| {
                let panel = &kit.panels[i];
                Part {
                    name: panel.name.clone(),
                    outline: panel.outline.clone(),
                    openings: panel.openings.iter().map(|opening| opening.path.clone()).collect(),
                    turns,
                    // Face A is the face that is machined, and the one that shows.
                    either_face: false,
                }
            };
            let parts: Vec<Part> = panels.iter().map(part).collect();
            let stock: Vec<Stock> = material.stock.iter().map(sheet_of).collect();
            let settings = Settings {
                effort: effort(design.nesting, parts.len()),
                reusable: workshop.smallest_offcut.value,
                ..Settings::ordinary(parts.len())
            };
            let mut told = |progress| watch(&material.id, progress);
            let nesting = nest::nest_watched(&parts, &stock, clearances, &settings, &mut told);
            SheetGroup { material, panels, parts, stock, clearances, settings, nesting }
        })
        .collect()
}

/// A stock sheet as the nesting sees it.
fn sheet_of(size: &catalogue::StockSize) -> Stock {
    let zone = |zone: &spec::Defect| Zone { x: zone.x, y: zone.y, length: zone.length, width: zone.width };
    Stock {
        name: size.name.clone(),
        length: size.length,
        width: size.width,
        price: size.price,
        quantity: size.quantity.and_then(|quantity| usize::try_from(quantity).ok()),
        defects: size.defects.iter().map(zone).collect(),
        offcut: size.offcut,
    }
}

/// The effort that the design asks for, for so many parts.
fn effort(wish: NestingWish, parts: usize) -> Effort {
    let ordinary = Effort::ordinary(parts);
    let steps = match wish.effort.value {
        NestingEffort::Quick => 0,
        NestingEffort::Standard => ordinary.steps,
        NestingEffort::Long => ordinary.steps * 10,
        NestingEffort::Steps(steps) => usize::try_from(steps).unwrap_or(usize::MAX),
    };
    let time_limit = wish.time_limit.map(|seconds| std::time::Duration::from_secs_f64(seconds.value));
    Effort { steps, seed: u64::from(wish.seed.value), time_limit, ..ordinary }
}

/// Every rule of every stage, by name.
pub(crate) fn all_rules() -> Vec<&'static Rule> {
    let mut rules: Vec<_> = spec::RULES
        .iter()
        .chain(catalogue::rules::RULES)
        .chain(layout::rules::RULES)
        .chain(joints::rules::RULES)
        .chain(accept::RULES)
        .copied()
        .chain(checks::RULES.iter().map(|check| check.rule))
        .collect();
    rules.sort_by_key(|rule| rule.name);
    rules.dedup_by_key(|rule| rule.name);
    rules
}

#[cfg(test)]
mod rule_tests;
#[cfg(test)]
mod tests;
