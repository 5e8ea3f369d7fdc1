//! Carcases that stand in each other, or in the way of each other's drawers.
//!
//! Looked at before any bolt is placed: where boards cannot be, no bolt finds its place either, and a finding
//! about bolts would hide the cause.

use super::{Board, Layout, rules};
use crate::diag::{Finding, Findings, Rule};
use crate::geom::Aabb;
use crate::geom::tolerance::TOUCH;
use crate::number::decimal;
use itertools::Itertools;
use std::collections::BTreeMap;

/// Two boards of different carcases that are in each other's way.
struct Clash<'a> {
    rule: &'static Rule,
    first: &'a Board,
    second: &'a Board,
    depth: f64,
}

/// Reports, for each two carcases, the worst overlap of their boards, shut, or else on the way of a drawer.
/// Gives whether there is none.
pub(super) fn carcases_stand_apart(findings: &mut Findings, layout: &Layout) -> bool {
    let mut worst: BTreeMap<(&str, &str), Clash<'_>> = BTreeMap::new();
    let carcase = |board: &Board| layout.body(board.body).carcase.as_str();
    for [first, second] in layout.boards.iter().array_combinations() {
        if carcase(first) == carcase(second) {
            continue;
        }
        let Some(clash) = clash(layout, first, second) else { continue };
        let key = (carcase(first), carcase(second));
        let rank =
            |clash: &Clash<'_>| (std::ptr::eq(clash.rule, &raw const rules::PARTS_OVERLAP), clash.depth);
        if worst.get(&key).is_none_or(|other| rank(&clash) > rank(other)) {
            worst.insert(key, clash);
        }
    }
    for ((one, other), clash) in &worst {
        let depth = decimal(clash.depth, 2);
        let (first, second) = (&clash.first.name, &clash.second.name);
        let message = if std::ptr::eq(clash.rule, &raw const rules::PARTS_OVERLAP) {
            format!("`{first}` and `{second}` reach {depth} mm into each other")
        } else {
            format!("`{first}` and `{second}` meet, {depth} mm deep, when a drawer is opened")
        };
        findings.push(
            Finding::new(clash.rule, clash.first.span, message)
                .on(first)
                .also(clash.second.span, format!("`{second}` comes from here"))
                .help(format!("move `{one}` or `{other}` with `at:`, or make one of them smaller")),
        );
    }
    worst.is_empty()
}

fn clash<'a>(layout: &Layout, first: &'a Board, second: &'a Board) -> Option<Clash<'a>> {
    let found = |rule, depth: f64| (depth > TOUCH).then_some(Clash { rule, first, second, depth });
    let at_rest = found(&rules::PARTS_OVERLAP, first.aabb.overlap(second.aabb));
    at_rest.or_else(|| {
        let swept = |board: &Board| -> Aabb { board.aabb.swept(layout.body(board.body).travel) };
        found(&rules::MOVING_PART_STRIKES, swept(first).overlap(swept(second)))
    })
}
