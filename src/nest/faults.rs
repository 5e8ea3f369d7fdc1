//! Says what is wrong with a packing; run at every `make` on what the search returned.
//!
//! Takes parts, stock, clearances and a packing; gives a sentence for each fault. Works on the true bounds of
//! the placed outlines in millimetres and shares nothing with the search. Distances are those of the outlines'
//! bounding rectangles: never larger than the true ones.

use super::cuttable::inseparable;
use super::{Clearances, Cutting, Nesting, Part, Placed, Sheet, Stock, Turns};
use crate::geom::tolerance::SAME_LENGTH;
use crate::geom::{Path, Point2, SheetFrame};

/// mm. A part is too large for certain if it is so by more than rounding to micrometres can make it.
const SURELY: f64 = 0.005;

/// Everything wrong with the packing; empty if every part lies on exactly one sheet or is rightly called too
/// large, inside the trimmed sheet, at least the gap from its neighbours, face A up unless either
/// may be, its grain kept; for a saw,
/// everything parted by cuts from edge to edge.
pub(crate) fn faults(
    parts: &[Part],
    stock: &[Stock],
    clearances: Clearances,
    nesting: &Nesting,
) -> Vec<String> {
    let mut faults = count_faults(parts, nesting);
    for (number, sheet) in (1_usize..).zip(&nesting.sheets) {
        match stock.get(sheet.stock) {
            Some(kind) => {
                faults.extend(sheet_faults(parts, kind, clearances, sheet, nesting.cutting, number));
            }
            None => faults.push(format!("sheet {number} is of stock {}, which does not exist", sheet.stock)),
        }
    }
    for &part in &nesting.too_large {
        let fits =
            |kind: &&Stock| parts.get(part).is_some_and(|part| surely_fits(part, kind, clearances.trim));
        if let Some(kind) = stock.iter().find(fits) {
            faults.push(format!("part `{}` is called too large but fits {}", parts[part].name, kind.name));
        }
    }
    if nesting.bound > nesting.sheets.len() {
        faults.push(format!(
            "the lower bound is {} sheets but {} were used",
            nesting.bound,
            nesting.sheets.len()
        ));
    }
    faults
}

/// Parts that are on no sheet, on several, or unknown.
fn count_faults(parts: &[Part], nesting: &Nesting) -> Vec<String> {
    let mut faults = Vec::new();
    let mut times = vec![0_usize; parts.len()];
    let placed = nesting.sheets.iter().flat_map(|sheet| &sheet.placed).map(|placed| placed.part);
    for part in placed.chain(nesting.too_large.iter().copied()) {
        match times.get_mut(part) {
            Some(times) => *times += 1,
            None => faults.push(format!("part {part} does not exist")),
        }
    }
    for (part, times) in parts.iter().zip(times) {
        if times != 1 {
            faults.push(format!("part `{}` is accounted for {times} times instead of once", part.name));
        }
    }
    faults
}

/// Whether the part goes on an empty sheet of this kind in an allowed turn, by more than rounding.
fn surely_fits(part: &Part, kind: &Stock, trim: f64) -> bool {
    let (low, high) = part.outline.bounds();
    let size = high - low;
    let (length, width) = (kind.length - 2.0 * trim - SURELY, kind.width - 2.0 * trim - SURELY);
    // An outline without vertices has no bounds and is rightly on no sheet.
    size.x >= 0.0
        && ((size.x <= length && size.y <= width)
            || (part.turns == Turns::Free && size.y <= length && size.x <= width))
}

/// A placed part's name and the rectangle around it, on the sheet.
#[derive(Clone, Copy, Debug)]
pub(super) struct Outlined<'a> {
    /// The part's name.
    pub(super) name: &'a str,
    /// Lower left corner.
    pub(super) low: Point2<SheetFrame>,
    /// Upper right corner.
    pub(super) high: Point2<SheetFrame>,
}

fn sheet_faults(
    parts: &[Part],
    kind: &Stock,
    clearances: Clearances,
    sheet: &Sheet,
    cutting: Cutting,
    number: usize,
) -> Vec<String> {
    let mut faults = Vec::new();
    if sheet.placed.is_empty() {
        faults.push(format!("sheet {number} is empty"));
    }
    let mut boxes = Vec::with_capacity(sheet.placed.len());
    for placed in &sheet.placed {
        // A part that does not exist has been reported with the counts.
        let Some(part) = parts.get(placed.part) else { continue };
        faults.extend(turn_fault(part, *placed).map(|fault| format!("sheet {number}: {fault}")));
        let outline: Path<SheetFrame> = placed.placement.path_to_sheet(&part.outline);
        let (low, high) = outline.bounds();
        let trim = clearances.trim - SAME_LENGTH;
        let inside =
            low.x >= trim && low.y >= trim && high.x <= kind.length - trim && high.y <= kind.width - trim;
        if !inside {
            faults.push(format!(
                "sheet {number}: part `{}` is not inside the trim of {} mm",
                part.name, clearances.trim
            ));
        }
        boxes.push(Outlined { name: &part.name, low, high });
    }
    if cutting == Cutting::Guillotine
        && let Some(names) = inseparable(&boxes, clearances.gap)
    {
        faults.push(format!("sheet {number}: no cut from edge to edge parts `{}`", names.join("`, `")));
    }
    faults.extend(
        gap_faults(boxes, clearances.gap).into_iter().map(|fault| format!("sheet {number}: {fault}")),
    );
    faults
}

/// A flip, a turn against the grain or one that is no quarter.
fn turn_fault(part: &Part, placed: Placed) -> Option<String> {
    let placement = placed.placement;
    if placement.flipped && !part.either_face {
        return Some(format!("part `{}` is flipped", part.name));
    }
    let step = match part.turns {
        Turns::Fixed => 360.0,
        Turns::GrainKept => 180.0,
        Turns::Free => 90.0,
    };
    // Not `!= 0`: an angle that is not a number must be a fault too.
    let kept = placement.angle.rem_euclid(step).abs() <= f64::EPSILON;
    (!kept).then(|| {
        format!("part `{}` is turned by {} degrees, which it may not be", part.name, placement.angle)
    })
}

/// Pairs nearer than the gap. Swept from left to right, so that only parts that share a stretch of the sheet's
/// length are compared.
fn gap_faults(mut boxes: Vec<Outlined>, gap: f64) -> Vec<String> {
    boxes.sort_by(|a, b| a.low.x.total_cmp(&b.low.x));
    let mut faults = Vec::new();
    for (i, a) in boxes.iter().enumerate() {
        for b in boxes[i + 1..].iter().take_while(|b| b.low.x - a.high.x < gap) {
            let distance = distance(a, b);
            if distance < gap - SAME_LENGTH {
                let how = if distance < 0.0 {
                    format!("overlap by {:.4} mm", -distance)
                } else {
                    format!("are {distance:.4} mm apart, less than the gap of {gap} mm")
                };
                faults.push(format!("parts `{}` and `{}` {how}", a.name, b.name));
            }
        }
    }
    faults
}

/// Distance between two rectangles, mm; negative, by how far they reach into each other, if they overlap.
fn distance(a: &Outlined, b: &Outlined) -> f64 {
    let along = (b.low.x - a.high.x).max(a.low.x - b.high.x);
    let across = (b.low.y - a.high.y).max(a.low.y - b.high.y);
    if along > 0.0 && across > 0.0 { along.hypot(across) } else { along.max(across) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geom::{Path, SheetPlacement};

    const CLEARANCES: Clearances = Clearances { gap: 8.0, trim: 10.0 };

    fn part(name: &str, turns: Turns) -> Part {
        let outline = Path::rectangle(0.0, 0.0, 300.0, 200.0);
        Part { name: name.to_owned(), outline, openings: vec![], turns, either_face: false }
    }

    fn setting() -> (Vec<Part>, Vec<Stock>, Nesting) {
        let parts = vec![part("left", Turns::GrainKept), part("right", Turns::Free)];
        let stock =
            vec![Stock { name: "1000x500".to_owned(), length: 1000.0, width: 500.0, ..Stock::default() }];
        let at = |part, x, y| Placed { part, placement: SheetPlacement { x, y, angle: 0.0, flipped: false } };
        let placed = vec![at(0, 10.0, 10.0), at(1, 318.0, 10.0)];
        let nesting = Nesting { sheets: vec![Sheet { stock: 0, placed }], bound: 1, ..Nesting::default() };
        (parts, stock, nesting)
    }

    /// The faults of the good packing with something planted in it.
    fn planted(plant: impl Fn(&mut Nesting)) -> Vec<String> {
        let (parts, stock, mut nesting) = setting();
        plant(&mut nesting);
        faults(&parts, &stock, CLEARANCES, &nesting)
    }

    fn assert_one(found: &[String], words: &str) {
        assert!(found.len() == 1 && found[0].contains(words), "looked for `{words}`: {found:?}");
    }

    #[test]
    fn a_good_packing_has_none() {
        assert_eq!(planted(|_| ()), Vec::<String>::new());
    }

    #[test]
    fn parts_missing_twice_or_unknown() {
        assert_one(&planted(|n| n.sheets[0].placed.truncate(1)), "`right` is accounted for 0 times");
        let twice = planted(|n| n.too_large.push(0));
        assert!(twice.iter().any(|fault| fault.contains("`left` is accounted for 2 times")), "{twice:?}");
        let unknown = planted(|n| n.sheets[0].placed[0].part = 9);
        assert!(unknown.iter().any(|fault| fault.contains("part 9 does not exist")), "{unknown:?}");
    }

    #[test]
    fn places_outside_the_trim_on_each_side() {
        for (x, y) in [(9.999, 10.0), (10.0, 9.999), (690.001, 10.0), (10.0, 290.001)] {
            let found = planted(|n| {
                n.sheets[0].placed.truncate(1);
                n.too_large.push(1);
                n.sheets[0].placed[0].placement.x = x;
                n.sheets[0].placed[0].placement.y = y;
            });
            assert!(found[0].contains("`left` is not inside the trim of 10 mm"), "({x}, {y}): {found:?}");
        }
    }

    #[test]
    fn gaps_a_micrometre_short_and_overlaps() {
        assert_one(&planted(|n| n.sheets[0].placed[1].placement.x -= 0.001), "7.9990 mm apart");
        assert_one(&planted(|n| n.sheets[0].placed[1].placement.x = 20.0), "overlap by 200.0000 mm");
        // Corner to corner the straight distance counts: 3-4-5 apart is too near, 6-8-10 is not.
        let corner = |dx, dy| {
            planted(|n| {
                n.sheets[0].placed[1].placement.x = 310.0 + dx;
                n.sheets[0].placed[1].placement.y = 210.0 + dy;
            })
        };
        assert_one(&corner(3.0, 4.0), "5.0000 mm apart");
        assert_eq!(corner(6.0, 8.0), Vec::<String>::new());
    }

    #[test]
    fn grain_flips_and_slants() {
        let turned = |which: usize, angle, x, y| {
            planted(|n| {
                n.sheets[0].placed[which].placement = SheetPlacement { x, y, angle, flipped: false };
            })
        };
        assert_one(&turned(0, 90.0, 850.0, 130.0), "`left` is turned by 90 degrees");
        assert_eq!(turned(0, 180.0, 980.0, 250.0), Vec::<String>::new());
        assert_eq!(turned(1, 270.0, 700.0, 400.0), Vec::<String>::new());
        assert_one(&turned(1, 45.0, 770.0, 130.0), "`right` is turned by 45 degrees");
        let turn_over = |n: &mut Nesting| {
            n.sheets[0].placed[1].placement.flipped = true;
            n.sheets[0].placed[1].placement.x += 300.0;
        };
        assert_one(&planted(turn_over), "`right` is flipped");
        let (mut parts, stock, mut nesting) = setting();
        turn_over(&mut nesting);
        parts[1].either_face = true;
        assert_eq!(faults(&parts, &stock, CLEARANCES, &nesting), Vec::<String>::new());
        parts[0].turns = Turns::Fixed;
        nesting.sheets[0].placed[0].placement =
            SheetPlacement { x: 310.0, y: 210.0, angle: 180.0, flipped: false };
        assert_one(&faults(&parts, &stock, CLEARANCES, &nesting), "`left` is turned by 180 degrees");
    }

    #[test]
    fn a_packing_that_a_saw_cannot_cut() {
        // Side by side: the cut between them goes through.
        assert_eq!(planted(|n| n.cutting = Cutting::Guillotine), Vec::<String>::new());
        // Four in a wheel with a hole in the middle, 300 x 200 and turned.
        let parts = ["a", "b", "c", "d"].map(|name| part(name, Turns::Free));
        let stock = [Stock { name: "600x600".to_owned(), length: 600.0, width: 600.0, ..Stock::default() }];
        let at =
            |part, x, y, angle| Placed { part, placement: SheetPlacement { x, y, angle, flipped: false } };
        let placed = vec![
            at(0, 10.0, 10.0, 0.0),
            at(1, 518.0, 10.0, 90.0),
            at(2, 218.0, 318.0, 0.0),
            at(3, 210.0, 218.0, 90.0),
        ];
        let sheet = Sheet { stock: 0, placed };
        let mut nesting = Nesting { sheets: vec![sheet], bound: 1, ..Nesting::default() };
        assert_eq!(faults(&parts, &stock, CLEARANCES, &nesting), Vec::<String>::new());
        nesting.cutting = Cutting::Guillotine;
        assert_one(&faults(&parts, &stock, CLEARANCES, &nesting), "no cut from edge to edge parts `a`");
    }

    #[test]
    fn a_wrong_bound_an_empty_sheet_and_an_unknown_stock() {
        assert_one(&planted(|n| n.bound = 2), "the lower bound is 2 sheets but 1 were used");
        let empty = Sheet { stock: 0, placed: vec![] };
        assert_one(&planted(|n| n.sheets.push(empty.clone())), "sheet 2 is empty");
        assert_one(&planted(|n| n.sheets[0].stock = 4), "stock 4, which does not exist");
    }

    #[test]
    fn a_part_wrongly_called_too_large() {
        let found = planted(|n| {
            n.sheets[0].placed.pop();
            n.too_large.push(1);
        });
        assert_one(&found, "`right` is called too large but fits 1000x500");
    }
}
