//! Bolts of a joint that stand too far from each other, or too near.

use std::collections::BTreeMap;

use crate::diag::{Finding, Findings, Rule, Severity};
use crate::finished::Finished;
use crate::geom::tolerance::SAME_LENGTH;
use crate::joints::{Bolt, Kit, LEAST_PITCH, Purpose};
use crate::layout::BoardId;
use crate::number::decimal;

pub(super) static RULE: Rule = Rule {
    name: "bolt-spacing",
    severity: Severity::Warning,
    finds: "Two neighbouring bolts in one row of a corner joint that are more than 200 mm apart, or two bolts of any joint nearer to each other than 4 bolt diameters.",
    why: "Between distant bolts the joint gapes and creaks; between crowded ones the wood splits along the row.",
    failing: "\
bay: {width: 1040, depth: 1050, height: 800}
bolts: {spacing: 300}
carcases:
  - {id: main, width: 1000, depth: 900, height: 300, panel: birch-12, cell: {open: {}}}
",
    passing: "\
bay: {width: 1040, depth: 1050, height: 800}
bolts: {spacing: 150}
carcases:
  - {id: main, width: 1000, depth: 900, height: 300, panel: birch-12, cell: {open: {}}}
",
    source: "200 mm: common practice, no source; 4 d: EN 1995-1-1 Table 8.4, a1 for bolts across the grain (from memory)",
};

/// mm between two neighbouring bolts of a row, at most.
const MOST: f64 = 200.0;

pub(super) fn run(finished: &Finished, findings: &mut Findings) {
    for ((joint, panels), bolts) in rows(&finished.kit) {
        let needed = LEAST_PITCH * bolts[0].hardware.thread.diameter;
        let nearest = distances(&bolts).min_by(f64::total_cmp);
        if let Some(distance) = nearest.filter(|distance| distance + SAME_LENGTH < needed) {
            let message = format!(
                "two {} bolts of `{joint}` are {} mm apart; they need {} mm",
                bolts[0].hardware.thread.size,
                decimal(distance, 1),
                decimal(needed, 1)
            );
            let finding = Finding::new(&RULE, bolts[0].span, message).on(joint);
            findings.push(finding.help("move one of them with `at:`, or take a smaller bolt"));
        }
        // Two faces bolted together have bolts all over, in columns; a corner has one row on each board.
        let is_row = panels.len() == 1;
        let widest = if is_row { steps(&bolts).max_by(f64::total_cmp) } else { None };
        if let Some(distance) = widest.filter(|distance| distance - SAME_LENGTH > MOST) {
            let message = format!(
                "two neighbouring bolts of `{joint}` are {} mm apart; {MOST} mm are usual at most",
                decimal(distance, 1)
            );
            let finding = Finding::new(&RULE, bolts[0].span, message).on(joint);
            findings.push(finding.help("ask for a smaller `spacing`, or place them with `at:`"));
        }
    }
}

/// Bolts by joint and by the panels that they pass: on a corner angle each leg has its own.
fn rows(kit: &Kit) -> BTreeMap<(&str, &[BoardId]), Vec<&Bolt>> {
    let mut rows: BTreeMap<(&str, &[BoardId]), Vec<&Bolt>> = BTreeMap::new();
    for bolt in kit.bolts.iter().filter(|bolt| bolt.purpose == Purpose::Joint) {
        rows.entry((bolt.joint(), bolt.panels.as_slice())).or_default().push(bolt);
    }
    rows
}

/// mm between every two bolts.
fn distances<'a>(bolts: &'a [&Bolt]) -> impl Iterator<Item = f64> + 'a {
    let pairs = bolts.iter().enumerate().flat_map(|(i, a)| bolts[..i].iter().map(move |b| (a, b)));
    pairs.map(|(a, b)| (a.origin - b.origin).length())
}

/// mm between neighbours along a row. A row runs along one axis, so the order of sums is the order along it.
fn steps(bolts: &[&Bolt]) -> impl Iterator<Item = f64> + use<> {
    let mut along: Vec<f64> =
        bolts.iter().map(|bolt| bolt.origin.x + bolt.origin.y + bolt.origin.z).collect();
    along.sort_by(f64::total_cmp);
    (1..along.len()).map(move |i| along[i] - along[i - 1])
}
