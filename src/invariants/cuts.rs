//! The cuts of every sawn sheet, done one after the other, leave exactly the parts.
//!
//! Takes a finished kit, gives a sentence for each fault. Knows the pieces by their sizes only: what a cut leaves
//! follows from the fence and the kerf, not from where anything lies on the sheet.

use crate::finished::Finished;
use crate::geom::tolerance::SAME_LENGTH;
use crate::nest::{Area, Cut, CutList, Cutting, Part, Runs, Sheet, Stock, What};
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
            let found = match group.stock.get(sheet.stock) {
                Some(stock) => {
                    of_sheet(&Sawn { parts: &group.parts, stock, sheet, kerf: group.clearances.gap }, list)
                }
                None => vec!["of no stock".to_owned()],
            };
            let stages = list.cuts.last().map_or(0, |cut| cut.stage);
            if group.nesting.stages.is_some_and(|most| stages > most) {
                faults.push(format!("cuts of {} {number}: {stages} stages", group.material.id));
            }
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
fn lying(sawn: &Sawn, part: usize) -> Option<Sides> {
    let placed = sawn.sheet.placed.iter().find(|placed| placed.part == part)?;
    let (low, high) = sawn.parts.get(part)?.outline.bounds();
    let (length, width) = (high.x - low.x, high.y - low.y);
    // Upright after a quarter turn, one way or the other.
    let upright = (placed.placement.angle.rem_euclid(180.0) - 90.0).abs() < 1.0;
    Some(if upright { (width, length) } else { (length, width) })
}

/// A sheet that is cut with a saw.
#[derive(Clone, Copy, Debug)]
struct Sawn<'a> {
    parts: &'a [Part],
    stock: &'a Stock,
    sheet: &'a Sheet,
    /// mm.
    kerf: f64,
}

fn of_sheet(sawn: &Sawn, list: &CutList) -> Vec<String> {
    let Sawn { stock, sheet, kerf, .. } = *sawn;
    let mut faults = Vec::new();
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
        for (outcome, leaves) in [cut.kept, cut.beyond].into_iter().zip(left(cut, piece, kerf)) {
            let there = leaves.0 > SAME_LENGTH && leaves.1 > SAME_LENGTH;
            if there == (outcome.what == What::Nothing) || (there && !same(leaves, sides(outcome.area))) {
                say("leaves another size than it says");
            }
            let fresh = match outcome.what {
                What::Part(part) => {
                    if !lying(sawn, part).is_some_and(|wanted| same(wanted, leaves)) {
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
    // A sheet that is one part as it comes needs no cut.
    if list.cuts.is_empty() {
        let all = |part: usize| lying(sawn, part).is_some_and(|size| same(size, (stock.length, stock.width)));
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geom::{Path, SheetPlacement};
    use crate::nest::{Clearances, Effort, Nesting, Placed, Settings, Turns, cutting_lists, nest};
    use proptest::prelude::*;

    /// A piece cut up at random by cuts from edge to edge, in steps of 0.7 mm: corner, then length and width. Pieces
    /// that are not cut on lose something at each side and are parts.
    fn cut_up(
        tape: &mut impl Iterator<Item = u32>,
        piece: [i32; 4],
        kerf: i32,
        depth: u32,
        parts: &mut Vec<[i32; 4]>,
    ) {
        let mut draw = |below: i32| i32::try_from(tape.next().unwrap_or(0)).unwrap_or(0) % below.max(1);
        let [x, y, length, width] = piece;
        let (axis, at) = (draw(2), draw(100));
        let whole = if axis == 0 { length } else { width };
        let first = whole * (10 + at * 8 / 10) / 100;
        if depth == 0 || draw(5) == 0 || first < 8 || whole - first - kerf < 8 {
            let lost = [draw(3), draw(3), draw(3), draw(3)];
            let (length, width) = (length - lost[0] - lost[1], width - lost[2] - lost[3]);
            if length > 0 && width > 0 {
                parts.push([x + lost[0], y + lost[2], length, width]);
            }
            return;
        }
        let (low, high) = if axis == 0 {
            ([x, y, first, width], [x + first + kerf, y, length - first - kerf, width])
        } else {
            ([x, y, length, first], [x, y + first + kerf, length, width - first - kerf])
        };
        cut_up(tape, low, kerf, depth - 1, parts);
        cut_up(tape, high, kerf, depth - 1, parts);
    }

    /// A sheet cut up at random, of 1400 x 700 mm with 14 mm trimmed, and its cutting list.
    fn random(tape: &[u32], kerf: i32, trim: i32) -> (Vec<Part>, Stock, Sheet, f64, CutList) {
        let mm = |steps: i32| crate::geom::snap(f64::from(steps) * 0.7);
        let mut rectangles = Vec::new();
        let inside = [trim, trim, 2000 - 2 * trim, 1000 - 2 * trim];
        cut_up(&mut tape.iter().copied(), inside, kerf, 6, &mut rectangles);
        let stock = Stock { name: "sheet".to_owned(), length: mm(2000), width: mm(1000), ..Stock::default() };
        let (mut parts, mut placed) = (Vec::new(), Vec::new());
        for (part, [x, y, length, width]) in rectangles.into_iter().enumerate() {
            // Every other part lies turned.
            let turned = part % 2 == 1;
            let (u, v) = if turned { (width, length) } else { (length, width) };
            let outline = Path::rectangle(0.0, 0.0, mm(u), mm(v));
            parts.push(Part {
                name: format!("part-{part}"),
                outline,
                openings: Vec::new(),
                either_face: false,
                turns: Turns::Free,
            });
            let (x, angle) = if turned { (mm(x + length), 90.0) } else { (mm(x), 0.0) };
            placed.push(Placed { part, placement: SheetPlacement { x, y: mm(y), angle, flipped: false } });
        }
        let sheet = Sheet { stock: 0, placed };
        let clearances = Clearances { gap: mm(kerf), trim: mm(trim) };
        let sheets = vec![sheet.clone()];
        let nesting = Nesting { sheets, cutting: Cutting::Guillotine, ..Nesting::default() };
        let settings = Settings { reusable: (300.0, 200.0), ..Settings::ordinary(1) };
        let mut lists = cutting_lists(&parts, std::slice::from_ref(&stock), &nesting, clearances, &settings);
        let list = lists.remove(0);
        (parts, stock, sheet, clearances.gap, list)
    }

    proptest! {
        /// Whatever cuts from edge to edge made, the list takes apart again, and nothing is lost: parts, offcuts,
        /// waste and kerfs add up to the sheet.
        #[test]
        fn a_list_cuts_exactly_what_lies_there(
            tape in prop::collection::vec(any::<u32>(), 4..300), kerf in 0..7_i32, trim in 0..4_i32,
        ) {
            let (parts, stock, sheet, kerf, list) = random(&tape, kerf, trim * 6);
            prop_assume!(!parts.is_empty());
            let sawn = Sawn { parts: &parts, stock: &stock, sheet: &sheet, kerf };
            prop_assert_eq!(of_sheet(&sawn, &list), Vec::<String>::new());
            let area = |sides: Sides| sides.0 * sides.1;
            let mut sum = 0.0;
            for cut in &list.cuts {
                let left = [cut.kept, cut.beyond].map(|side| area(sides(side.area)));
                sum += area(sides(cut.whole)) - left[0] - left[1];
                for (side, left) in [cut.kept, cut.beyond].iter().zip(left) {
                    sum += if matches!(side.what, What::Rest | What::Piece(_)) { 0.0 } else { left };
                }
            }
            let whole = if list.cuts.is_empty() { 0.0 } else { stock.length * stock.width };
            prop_assert!((sum - whole).abs() < 1e-3, "{sum} of {whole}");
        }

        /// What the search lays for a saw has a list in as many stages as it was allowed.
        #[test]
        fn every_nested_sheet_has_a_list_in_its_stages(
            sizes in prop::collection::vec((3_i32..40, 3_i32..40, any::<bool>()), 1..30), stages in 2_usize..5,
        ) {
            let part = |(i, &(length, width, free)): (usize, &(i32, i32, bool))| Part {
                name: format!("part-{i}"),
                outline: Path::rectangle(0.0, 0.0, f64::from(length) * 20.1, f64::from(width) * 20.1),
                openings: Vec::new(), either_face: false, turns: if free { Turns::Free } else { Turns::GrainKept }
            };
            let parts: Vec<Part> = sizes.iter().enumerate().map(part).collect();
            let stock = vec![Stock { name: "sheet".to_owned(), length: 1500.0, width: 900.0, ..Stock::default() }];
            let clearances = Clearances { gap: 3.2, trim: 8.0 };
            let effort = Effort { steps: 100, ..Effort::ordinary(parts.len()) };
            let settings = Settings { cutting: Cutting::Guillotine, stages: Some(stages), effort, ..Settings::ordinary(1) };
            let nesting = nest(&parts, &stock, clearances, &settings);
            let lists = cutting_lists(&parts, &stock, &nesting, clearances, &settings);
            prop_assert_eq!(lists.len(), nesting.sheets.len());
            for (sheet, list) in nesting.sheets.iter().zip(lists) {
                let sawn = Sawn { parts: &parts, stock: &stock[0], sheet, kerf: 3.2 };
                prop_assert_eq!(of_sheet(&sawn, &list), Vec::<String>::new());
                prop_assert!(list.stages() <= stages);
            }
        }
    }

    #[test]
    fn planted_faults_are_found() {
        let tape: Vec<u32> = (0..300).map(|i: u32| i.wrapping_mul(2_654_435_761) >> 7).collect();
        let (parts, stock, sheet, kerf, list) = random(&tape, 4, 10);
        let sawn = Sawn { parts: &parts, stock: &stock, sheet: &sheet, kerf };
        assert!(list.stages() > 2 && parts.len() > 5);
        assert_eq!(of_sheet(&sawn, &list), Vec::<String>::new());
        let of = |wanted: fn(&What) -> bool| list.cuts.iter().position(|cut| wanted(&cut.kept.what)).unwrap();
        let (part, piece) =
            (of(|what| matches!(what, What::Part(_))), of(|what| matches!(what, What::Piece(_))));
        let plant = |spoil: &dyn Fn(&mut Vec<Cut>), fault: &str| {
            let mut spoiled = list.clone();
            spoil(&mut spoiled.cuts);
            let found = of_sheet(&sawn, &spoiled);
            assert!(found.iter().any(|f| f.contains(fault)), "{fault}: {found:?}");
        };
        plant(&|cuts| cuts.truncate(cuts.len() - 1), "left uncut");
        plant(&|cuts| cuts.swap(piece, part), "out of its stage");
        plant(&|cuts| cuts[part].piece = 999, "not there");
        plant(&|cuts| cuts[part].whole = cuts[0].whole, "misstates the piece");
        plant(&|cuts| cuts[part].kept.what = What::Waste, "come out");
        plant(&|cuts| cuts[part].kept.what = What::Nothing, "another size than it says");
        plant(&|cuts| cuts[part].kept.area = cuts[0].kept.area, "another size than it says");
        plant(&|cuts| cuts[piece].kept.what = What::Part(0), "to another size");
        let rest = list.cuts.iter().position(|cut| cut.stage > 0 && cut.beyond.what == What::Rest).unwrap();
        plant(&|cuts| cuts[rest].kept.what = What::Rest, "twice");
        let other = Sawn { kerf: kerf + 0.001, ..sawn };
        assert!(!of_sheet(&other, &list).is_empty(), "a blade that takes a micrometre more");
    }
}
