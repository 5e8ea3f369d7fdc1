//! The whole flow, from texts to a finished design that can be exported.

use crate::catalogue::Catalogue;
use crate::cutting::{SheetMaterial, Workpiece};
use crate::diag::{Findings, Rule, Sources};
use crate::finished::{Edition, Finished, FrozenSheet, SheetGroup, stock_of, with_solid};
use crate::frozen::{self, Frozen};
use crate::geom::SheetPlacement;
use crate::joints::Kit;
use crate::nest::{Effort, Part, Turns};
use crate::sheets::{self, ToLay, Watch};
use crate::solid::PlateFigures;
use crate::spec::{Design, Input, NestingEffort, NestingWish, Open};
use crate::{
    abreast, accept, assembly, budget, catalogue, checks, export, joints, layout, mass, moves, nest, solid,
    spec, strength,
};
use std::collections::{BTreeMap, BTreeSet};

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

/// How panels are laid on sheets.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Laying {
    /// As the design asks for.
    AsAsked,
    /// With this effort and without a time limit, whatever the design asks for: sheets do not depend on what else the
    /// machine does. Where nothing is searched nothing is proved either, since nobody is told how few sheets there can be.
    With(NestingEffort),
    /// Not at all: there are no sheets, and nothing is found about them.
    None,
}

/// Runs every stage. Errors stop it after the stage that finds them, all of that stage's together.
pub(crate) fn build(input: &Input<'_>, open: &mut Open<'_>, laying: Laying, watch: &mut Watch<'_>) -> Built {
    let mut findings = Findings::default();
    let mut sources = Sources::default();
    let given = [Some(input.design), input.vehicle, input.workshop];
    let mut inputs: Vec<String> = given.iter().flatten().map(|text| export::text_hash(text.text)).collect();
    let mut noted = |from: &str, path: &str| {
        let (name, text) = open(from, path)?;
        inputs.push(export::text_hash(&text));
        Ok((name, text))
    };
    let mut design = spec::read(&mut findings, &mut sources, input, &mut noted);
    if let (Some(design), Laying::With(effort)) = (&mut design, laying) {
        design.nesting.effort.value = effort;
        design.nesting.time_limit = None;
    }
    let inputs = export::inputs_hash(&inputs);
    let finished = design.and_then(|design| finish(&mut findings, (design, inputs), laying, watch));
    let finished = finished.filter(|_| !findings.has_errors());
    Built { sources, findings: findings.sorted(), finished }
}

fn finish(
    findings: &mut Findings,
    (design, inputs): (Design, String),
    laying: Laying,
    watch: &mut Watch<'_>,
) -> Option<Finished> {
    let revision = design.revision.as_ref().map(|revision| revision.value.clone());
    let edition = Edition { revision, inputs };
    let rules = all_rules();
    accept::check(findings, &design.accept, &rules);
    let catalogue = Catalogue::for_workshop(findings, &design.workshop);
    let layout = layout::lay_out(findings, &design, &catalogue)?;
    let kit = joints::join(findings, &design, &catalogue, layout)?;
    let figures: Vec<PlateFigures> =
        kit.panels.iter().map(|panel| with_solid(panel, solid::figures)).collect();
    let frozen = frozen::sheets(findings, &design, &kit);
    let groups = match laying {
        Laying::None => Vec::new(),
        Laying::With(_) => sheet_groups(&design, &kit, &frozen, false, watch),
        Laying::AsAsked => sheet_groups(&design, &kit, &frozen, true, watch),
    };
    let masses = mass::weigh(&kit, &figures, &catalogue);
    let (assembly, (moves, strength)) = abreast::both(
        || assembly::plan(&kit),
        || (moves::study(&design, &kit, &masses), strength::check(&design, &kit, &masses, &catalogue)),
    );
    let weighed = mass::as_weighed(&design.weighed, &kit, &masses);
    let budgets = budget::budgets(&design, &kit, &masses);
    let finished = Finished {
        edition,
        design,
        kit,
        figures,
        masses,
        weighed,
        budgets,
        moves,
        assembly,
        strength,
        groups,
        rules,
    };
    checks::run(findings, &finished);
    accept::apply(findings, &finished.design.accept, &finished.rules);
    Some(finished)
}

/// Panels by material, nested; materials in order of their id. What lies on frozen sheets is not nested again.
fn sheet_groups(
    design: &Design,
    kit: &Kit,
    frozen: &[Frozen],
    proves: bool,
    watch: &mut Watch<'_>,
) -> Vec<SheetGroup> {
    let cut: BTreeSet<usize> =
        frozen.iter().flat_map(|sheet| &sheet.placed).map(|(panel, _)| *panel).collect();
    let mut by_material: BTreeMap<&str, Vec<usize>> = BTreeMap::new();
    for (i, panel) in kit.panels.iter().enumerate() {
        by_material.entry(&panel.material.id).or_default().push(i);
    }
    by_material
        .into_values()
        .map(|mut panels| {
            panels.sort_by_key(|panel| cut.contains(panel));
            let nested = panels.iter().filter(|panel| !cut.contains(panel)).count();
            let effort = Effort { proves, ..effort(design.nesting, nested) };
            sheet_group(design, kit, (panels, nested), (frozen, effort), watch)
        })
        .collect()
}

/// The panels of one material, of which the first `nested` are to be laid on sheets.
fn sheet_group(
    design: &Design,
    kit: &Kit,
    (panels, nested): (Vec<usize>, usize),
    (frozen, effort): (&[Frozen], Effort),
    watch: &mut Watch<'_>,
) -> SheetGroup {
    let material = &kit.panels[panels[0]].material;
    let workpieces: Vec<Workpiece<'_>> = panels.iter().map(|&i| Workpiece::of(&kit.panels[i])).collect();
    let taken: Vec<&str> = frozen.iter().map(|sheet| sheet.name.as_str()).collect();
    let job = ToLay {
        material: SheetMaterial::of(material),
        parts: panels.iter().map(|&i| part(&kit.panels[i])).collect(),
        panels,
        workpieces: &workpieces,
        nested,
        stock: material.stock.iter().map(stock_of).collect(),
        workshop: &design.workshop,
        effort,
        taken: &taken,
    };
    let mut group = sheets::laid(job, watch);
    let shop = sheets::shop(&design.workshop, &workpieces);
    let own = frozen.iter().filter(|sheet| sheet.material == material.id);
    let frozen = own.map(|sheet| {
        let place = |&(panel, placement): &(usize, SheetPlacement)| {
            let part = group.panels.iter().position(|&own| own == panel)?;
            Some(nest::Placed { part, placement })
        };
        let lying = nest::Sheet { stock: 0, placed: sheet.placed.iter().filter_map(place).collect() };
        FrozenSheet {
            name: sheet.name.clone(),
            edition: sheet.edition.clone(),
            stock: sheet.stock.clone(),
            clearances: sheet.clearances,
            plan: sheets::plan(&lying, &sheet.stock, sheet.clearances, &shop),
            sheet: lying,
        }
    });
    group.frozen = frozen.collect();
    group
}

/// A panel as the nesting sees it.
fn part(panel: &joints::Panel) -> Part {
    Part {
        name: panel.name.clone(),
        outline: panel.outline.clone(),
        openings: panel.openings.iter().map(|opening| opening.path.clone()).collect(),
        turns: if panel.material.grain { Turns::GrainKept } else { Turns::Free },
        // Face A is the face that is machined, and the one that shows.
        either_face: false,
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
        .chain(joints::rules::RULES)
        .chain(joints::anchor_rules::RULES)
        .chain(frozen::RULES)
        .chain(accept::RULES)
        .copied()
        .chain(layout::all_rules())
        .chain(checks::RULES.iter().map(|check| check.rule))
        .collect();
    rules.sort_by_key(|rule| rule.name);
    rules.dedup_by_key(|rule| rule.name);
    rules
}

#[cfg(test)]
mod anchor_tests;
#[cfg(test)]
mod cutout_tests;
#[cfg(test)]
mod door_tests;
#[cfg(test)]
mod equipment_tests;
#[cfg(test)]
mod finish_tests;
#[cfg(test)]
mod hatch_tests;
#[cfg(test)]
mod rule_tests;
#[cfg(test)]
mod run_tests;
#[cfg(test)]
mod tests;
#[cfg(test)]
mod legend_tests;
#[cfg(test)]
mod mark_tests;
#[cfg(test)]
mod quote_tests;
#[cfg(test)]
mod tie_down_tests;
#[cfg(test)]
mod tray_tests;
#[cfg(test)]
mod vented_tests;
#[cfg(test)]
mod wing_tests;
