//! The whole flow, from texts to a finished design that can be exported.

use crate::catalogue::Catalogue;
use crate::diag::{Findings, Rule, Sources};
use crate::finished::{Finished, SheetGroup, with_solid};
use crate::joints::Kit;
use crate::nest::{Clearances, Part, Stock, Turns};
use crate::solid::PlateFigures;
use crate::spec::{Design, Input, Open};
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

/// Runs every stage. Errors stop it after the stage that finds them, all of that stage's together.
pub(crate) fn build(input: &Input<'_>, open: &mut Open<'_>) -> Built {
    let mut findings = Findings::default();
    let mut sources = Sources::default();
    let design = spec::read(&mut findings, &mut sources, input, open);
    let finished = design.and_then(|design| finish(&mut findings, design));
    let finished = finished.filter(|_| !findings.has_errors());
    Built { sources, findings: findings.sorted(), finished }
}

fn finish(findings: &mut Findings, design: Design) -> Option<Finished> {
    let rules = all_rules();
    accept::check(findings, &design.accept, &rules);
    let catalogue = Catalogue::for_workshop(findings, &design.workshop);
    let layout = layout::lay_out(findings, &design, &catalogue)?;
    let kit = joints::join(findings, &design, &catalogue, layout)?;
    let figures: Vec<PlateFigures> =
        kit.panels.iter().map(|panel| with_solid(panel, solid::figures)).collect();
    let groups = sheet_groups(&design, &kit);
    let masses = mass::weigh(&kit, &figures);
    let finished = Finished { design, kit, figures, masses, groups, rules };
    checks::run(findings, &finished);
    accept::apply(findings, &finished.design.accept, &finished.rules);
    Some(finished)
}

/// Panels by material, nested; materials in order of their id.
fn sheet_groups(design: &Design, kit: &Kit) -> Vec<SheetGroup> {
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
            let stock: Vec<Stock> = material
                .stock
                .iter()
                .map(|size| Stock {
                    name: size.name.clone(),
                    length: size.length,
                    width: size.width,
                    ..Stock::default()
                })
                .collect();
            let nesting = nest::nest(&parts, &stock, clearances, &nest::Settings::ordinary(parts.len()));
            SheetGroup { material, panels, parts, stock, clearances, nesting }
        })
        .collect()
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
