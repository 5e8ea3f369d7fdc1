//! The cuts of every sawn sheet, done one after the other, leave exactly the parts.
//!
//! Takes a finished kit, gives a sentence for each fault. Knows the pieces by their sizes only: what a cut leaves
//! follows from the fence and the kerf, not from where anything lies on the sheet.

use crate::finished::{Finished, SheetGroup};
use crate::geom::tolerance::SAME_LENGTH;
use crate::nest::{Area, Cut, CutList, Cutting, Runs, Sheet, What};
use std::collections::{BTreeMap, BTreeSet};

pub(super) fn faults(finished: &Finished) -> Vec<String> {
    let mut faults = Vec::new();
    for group in &finished.groups {
        let wanted =
            if group.nesting.cutting == Cutting::Guillotine { group.nesting.sheets.len() } else { 0 };
        if group.cuts.len() != wanted {
            faults.push(format!("{} cutting lists of {}", group.cuts.len(), group.material.id));
        }
        for (number, (sheet, list)) in (1..).zip(group.nesting.sheets.iter().zip(&group.cuts)) {
            let found = of_sheet(group, sheet, list);
            faults.extend(found.into_iter().map(|f| format!("cuts of {} {number}: {f}", group.material.id)));
        }
    }
    faults
}

/// Along the sheet and across, mm.
type Sides = (f64, f64);

fn same(a: Sides, b: Sides) -> bool {
    (a.0 - b.0).abs() <= SAME_LENGTH && (a.1 - b.1).abs() <= SAME_LENGTH
}

fn sides(area: Area) -> Sides {
    (area.length(), area.width())
}

/// Size of a part as it lies on the sheet.
fn lying(group: &SheetGroup, sheet: &Sheet, part: usize) -> Option<Sides> {
    let placed = sheet.placed.iter().find(|placed| placed.part == part)?;
    let (low, high) = group.parts.get(part)?.outline.bounds();
    let (length, width) = (high.x - low.x, high.y - low.y);
    // Upright after a quarter turn, one way or the other.
    let upright = (placed.placement.angle.rem_euclid(180.0) - 90.0).abs() < 1.0;
    Some(if upright { (width, length) } else { (length, width) })
}

fn of_sheet(group: &SheetGroup, sheet: &Sheet, list: &CutList) -> Vec<String> {
    let mut faults = Vec::new();
    let Some(stock) = group.stock.get(sheet.stock) else { return vec!["of no stock".to_owned()] };
    let mut pieces = BTreeMap::from([(0_usize, (stock.length, stock.width))]);
    let mut parts = BTreeSet::new();
    let (mut stage, mut runs) = (0, None);
    for (number, cut) in (1..).zip(&list.cuts) {
        let mut say = |fault: &str| faults.push(format!("cut {number}: {fault}"));
        if cut.stage < stage || (cut.stage == stage && stage > 0 && runs != Some(cut.runs)) {
            say("out of its stage");
        }
        (stage, runs) = (cut.stage, Some(cut.runs));
        let Some(piece) = pieces.remove(&cut.piece) else {
            say("divides a piece that is not there");
            continue;
        };
        if !same(piece, sides(cut.whole)) {
            say("misstates the piece");
        }
        for (outcome, leaves) in
            [cut.kept, cut.beyond].into_iter().zip(left(cut, piece, group.clearances.gap))
        {
            let there = leaves.0 > SAME_LENGTH && leaves.1 > SAME_LENGTH;
            if there == (outcome.what == What::Nothing) || (there && !same(leaves, sides(outcome.area))) {
                say("leaves another size than it says");
            }
            let fresh = match outcome.what {
                What::Part(part) => {
                    if !lying(group, sheet, part).is_some_and(|wanted| same(wanted, leaves)) {
                        say("cuts a part to another size");
                    }
                    parts.insert(part)
                }
                What::Piece(number) => pieces.insert(number, leaves).is_none(),
                What::Rest => pieces.insert(cut.piece, leaves).is_none(),
                What::Offcut(_) | What::Waste | What::Nothing => true,
            };
            if !fresh {
                say("makes twice what is there once");
            }
        }
    }
    if group.nesting.stages.is_some_and(|most| stage > most) {
        faults.push(format!("{stage} stages"));
    }
    // A sheet that is one part as it comes needs no cut.
    if list.cuts.is_empty() {
        let all = |part: usize| {
            lying(group, sheet, part).is_some_and(|size| same(size, (stock.length, stock.width)))
        };
        parts.extend(sheet.placed.iter().map(|placed| placed.part).filter(|&part| all(part)));
        pieces.clear();
    }
    if !pieces.is_empty() {
        faults.push(format!("{} pieces are left uncut", pieces.len()));
    }
    if parts != sheet.placed.iter().map(|placed| placed.part).collect() {
        faults.push(format!("{} parts of {} come out", parts.len(), sheet.placed.len()));
    }
    faults
}

/// What a cut leaves before and beyond the blade.
fn left(cut: &Cut, (length, width): Sides, kerf: f64) -> [Sides; 2] {
    let fence = cut.fence();
    match cut.runs {
        Runs::Across => [(fence, width), (length - fence - kerf, width)],
        Runs::Along => [(length, fence), (length, width - fence - kerf)],
    }
}
