//! Says what is wrong with a packing; run at every `make` on what the search returned.
//!
//! Takes parts, stock, clearances and a packing; gives a sentence for each fault. Works on the true contours, lines
//! and arcs, in millimetres, and shares nothing with the search. A length may fall short by
//! [`SAME_LENGTH`], a millionth of a millimetre: thousands of times what
//! rounding does to lengths on a sheet, a thousandth of the grid of the search, and nothing to a tool.

use super::cuttable::{inseparable, least_stages};
use super::stock_faults::stock_faults;
use super::{Clearances, Cutting, Nesting, Part, Placed, Sheet, Stock, Turns};
use crate::geom::tolerance::SAME_LENGTH;
use crate::geom::{Path, Point2, Region, SheetFrame};

/// mm. A part is too large for certain if it is so by more than rounding to micrometres can make it.
const SURELY: f64 = 0.005;

/// Everything wrong with the packing; empty if every part lies on exactly one sheet or is rightly called too
/// large; inside the trimmed sheet, the gap from defects and from its neighbours (of which it may hold some in its
/// openings), turned only as it may be and face A up unless either may be; if no sheet is used that is not
/// in stock; and, for a saw, everything parted by cuts from edge to edge.
pub fn faults(parts: &[Part], stock: &[Stock], clearances: Clearances, nesting: &Nesting) -> Vec<String> {
    let mut faults = count_faults(parts, nesting);
    faults.extend(stock_faults(stock, nesting));
    for (number, sheet) in (1_usize..).zip(&nesting.sheets) {
        match stock.get(sheet.stock) {
            Some(kind) => {
                faults.extend(sheet_faults(parts, kind, clearances, sheet, nesting, number));
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
    let on_none = nesting.too_large.iter().chain(&nesting.left_out);
    for part in placed.chain(on_none.copied()) {
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

/// Whether the part goes on an empty sheet of this kind in an allowed turn, by more than rounding. With defects
/// nothing is certain.
fn surely_fits(part: &Part, kind: &Stock, trim: f64) -> bool {
    let (low, high) = part.outline.bounds();
    let size = high - low;
    let (length, width) = (kind.length - 2.0 * trim - SURELY, kind.width - 2.0 * trim - SURELY);
    // An outline without vertices has no bounds and is rightly on no sheet.
    // A defect may be what keeps it off: of such a sheet nothing is said.
    size.x >= 0.0
        && kind.defects.is_empty()
        && kind.quantity != Some(0)
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
    nesting: &Nesting,
    number: usize,
) -> Vec<String> {
    let mut faults = Vec::new();
    if sheet.placed.is_empty() {
        faults.push("nothing lies on it".to_owned());
    }
    let mut laid = Vec::with_capacity(sheet.placed.len());
    for placed in &sheet.placed {
        // A part that does not exist has been reported with the counts.
        let Some(part) = parts.get(placed.part) else { continue };
        if !is_finite(part, *placed) {
            faults.push(format!("part `{}` has a place or a corner that is no number", part.name));
            continue;
        }
        let one = Laid::new(part, *placed);
        faults.extend(turn_fault(part, *placed));
        faults.extend(place_faults(&one, kind, clearances));
        laid.push(one);
    }
    if nesting.cutting == Cutting::Guillotine {
        let boxes: Vec<Outlined> = laid.iter().map(Laid::outlined).collect();
        faults.extend(saw_fault(&boxes, kind, clearances, nesting.stages));
    }
    faults.extend(gap_faults(laid, clearances.gap));
    faults.into_iter().map(|fault| format!("sheet {number}: {fault}")).collect()
}

/// Whether every figure of a part and its place is a number: comparisons with others would all come out false.
fn is_finite(part: &Part, placed: Placed) -> bool {
    let mut corners = std::iter::once(&part.outline).chain(&part.openings).flat_map(Path::vertices);
    let placement = placed.placement;
    corners.all(|corner| corner.point.is_finite() && corner.bulge.is_finite())
        && [placement.x, placement.y, placement.angle].iter().all(|figure| figure.is_finite())
}

/// A part as it lies on the sheet.
struct Laid<'a> {
    name: &'a str,
    material: Region<SheetFrame>,
}

impl<'a> Laid<'a> {
    fn new(part: &'a Part, placed: Placed) -> Self {
        let on_sheet = |path: &Path<_>| placed.placement.path_to_sheet(path);
        let openings = part.openings.iter().map(on_sheet).collect();
        Laid { name: &part.name, material: Region::new(on_sheet(&part.outline), openings) }
    }

    fn outlined(&self) -> Outlined<'a> {
        let (low, high) = self.material.bounds();
        Outlined { name: self.name, low, high }
    }
}

/// A part over the trim, or nearer to a defect than the gap: the tool cuts around it.
fn place_faults(laid: &Laid, kind: &Stock, clearances: Clearances) -> Vec<String> {
    let mut faults = Vec::new();
    let (low, high) = laid.material.bounds();
    let least = clearances.trim - SAME_LENGTH;
    let inside =
        low.x >= least && low.y >= least && high.x <= kind.length - least && high.y <= kind.width - least;
    if !inside {
        faults.push(format!("part `{}` is not inside the trim of {} mm", laid.name, clearances.trim));
    }
    for zone in &kind.defects {
        let outline = Path::rectangle(zone.x, zone.y, zone.x + zone.length, zone.y + zone.width);
        let defect = Laid { name: "a defect", material: Region::new(outline, Vec::new()) };
        faults.extend(pair_fault(laid, &defect, clearances.gap));
    }
    faults
}

/// What a saw cannot part at all, or not in so many stages.
fn saw_fault(
    boxes: &[Outlined],
    kind: &Stock,
    clearances: Clearances,
    stages: Option<usize>,
) -> Option<String> {
    let Clearances { gap, trim } = clearances;
    if let Some(names) = inseparable(boxes, gap) {
        return Some(format!("no cut from edge to edge parts `{}`", names.join("`, `")));
    }
    let ends = (Point2::new(trim, trim), Point2::new(kind.length - trim, kind.width - trim));
    let (needed, most) = (least_stages(boxes, ends, gap)?, stages?);
    (needed > most).then(|| format!("takes {needed} stages of cuts, more than {most}"))
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
    let kept = placement.angle.rem_euclid(step).abs() <= f64::EPSILON;
    (!kept).then(|| {
        format!("part `{}` is turned by {} degrees, which it may not be", part.name, placement.angle)
    })
}

/// Pairs nearer than the gap. Swept from left to right, so that only parts that share a stretch of the sheet's
/// length are looked at, and of those only the ones whose boxes are near; a part in another's opening is.
fn gap_faults(mut laid: Vec<Laid>, gap: f64) -> Vec<String> {
    laid.sort_by(|a, b| a.outlined().low.x.total_cmp(&b.outlined().low.x));
    let mut faults = Vec::new();
    for (i, a) in laid.iter().enumerate() {
        let (low, high) = a.material.bounds();
        for b in laid[i + 1..].iter().take_while(|b| b.outlined().low.x - high.x < gap) {
            let (other_low, other_high) = b.material.bounds();
            if other_low.y - high.y < gap && low.y - other_high.y < gap {
                faults.extend(pair_fault(a, b, gap));
            }
        }
    }
    faults
}

fn pair_fault(a: &Laid, b: &Laid, gap: f64) -> Option<String> {
    let how = match (a.material.shared(&b.material), a.material.approach(&b.material, gap - SAME_LENGTH)) {
        (Some(at), _) => format!("overlap at ({:.3}, {:.3})", at.x, at.y),
        (None, Some(distance)) => format!("are {distance:.6} mm apart, less than the gap of {gap} mm"),
        (None, None) => return None,
    };
    Some(format!("parts `{}` and `{}` {how}", a.name, b.name))
}

#[cfg(test)]
mod tests {
    use super::super::Cost;
    use super::*;
    use crate::geom::SheetPlacement;
    use crate::model::Zone;

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
        let cost = cost_of(&nesting, &stock);
        (parts, stock, Nesting { cost, ..nesting })
    }

    /// By area, nothing being known of cheaper packings.
    fn cost_of(nesting: &Nesting, stock: &[Stock]) -> Cost {
        let kinds = nesting.sheets.iter().filter_map(|sheet| stock.get(sheet.stock));
        Cost { used: kinds.map(|kind| kind.length * kind.width).sum(), ..Cost::default() }
    }

    /// The faults of the good packing with something planted in it.
    fn planted(plant: impl Fn(&mut Nesting)) -> Vec<String> {
        let (parts, stock, mut nesting) = setting();
        plant(&mut nesting);
        nesting.cost = cost_of(&nesting, &stock);
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
        assert_one(&planted(|n| n.sheets[0].placed[1].placement.x -= 0.001), "7.999000 mm apart");
        // Two millionths of a millimetre count, half of one does not.
        assert_one(&planted(|n| n.sheets[0].placed[1].placement.x -= 2e-6), "7.999998 mm apart");
        assert_eq!(planted(|n| n.sheets[0].placed[1].placement.x -= 5e-7), Vec::<String>::new());
        assert_one(&planted(|n| n.sheets[0].placed[1].placement.x = 20.0), "`left` and `right` overlap at");
        // Corner to corner the straight distance counts: 3-4-5 apart is too near, 6-8-10 is not.
        let corner = |dx, dy| {
            planted(|n| {
                n.sheets[0].placed[1].placement.x = 310.0 + dx;
                n.sheets[0].placed[1].placement.y = 210.0 + dy;
            })
        };
        assert_one(&corner(3.0, 4.0), "5.000000 mm apart");
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
        nesting.cost = cost_of(&nesting, &stock);
        assert_eq!(faults(&parts, &stock, CLEARANCES, &nesting), Vec::<String>::new());
        nesting.cutting = Cutting::Guillotine;
        assert_one(&faults(&parts, &stock, CLEARANCES, &nesting), "no cut from edge to edge parts `a`");
    }

    #[test]
    fn a_packing_that_takes_a_saw_too_many_stages() {
        // Two of one size side by side on 1000 x 500: apart, then cut to length and width.
        let sawn = |stages| {
            planted(|n| {
                n.cutting = Cutting::Guillotine;
                n.stages = stages;
            })
        };
        assert_eq!(sawn(Some(2)), Vec::<String>::new());
        assert_eq!(sawn(None), Vec::<String>::new());
        assert_one(&sawn(Some(1)), "sheet 1: takes 2 stages of cuts, more than 1");
    }

    #[test]
    fn a_wrong_bound_an_empty_sheet_and_an_unknown_stock() {
        assert_one(&planted(|n| n.bound = 2), "the lower bound is 2 sheets but 1 were used");
        let empty = Sheet { stock: 0, placed: vec![] };
        assert_one(&planted(|n| n.sheets.push(empty.clone())), "sheet 2: nothing lies on it");
        assert_one(&planted(|n| n.sheets[0].stock = 4), "stock 4, which does not exist");
    }

    /// A ring in a plate of 300 x 200: a round opening of radius 80 about its middle.
    fn ring() -> Part {
        let opening = Path::circle(Point2::new(150.0, 100.0), 80.0).clockwise();
        Part { openings: vec![opening], ..part("ring", Turns::Free) }
    }

    /// What is found of two parts, the first at (10, 10) and the second's origin at (x, y).
    fn of_two(first: Part, second: Part, x: f64, y: f64) -> Vec<String> {
        let (_, stock, mut nesting) = setting();
        let second_place = &mut nesting.sheets[0].placed[1].placement;
        (second_place.x, second_place.y) = (x, y);
        faults(&[first, second], &stock, CLEARANCES, &nesting)
    }

    #[test]
    fn a_part_in_an_opening_counts_from_contour_to_contour() {
        let disc = |radius: f64| Part {
            name: "disc".to_owned(),
            outline: Path::circle(Point2::new(0.0, 0.0), radius),
            ..part("", Turns::Fixed)
        };
        // The opening's middle lies at (160, 110) on the sheet: 72 leave 8 all round, less than a millionth counts.
        assert_eq!(of_two(ring(), disc(72.0), 160.0, 110.0), Vec::<String>::new());
        assert_one(&of_two(ring(), disc(72.0), 160.1, 110.0), "`ring` and `disc` are 7.900000 mm apart");
        assert_one(&of_two(ring(), disc(72.1), 160.0, 110.0), "7.900000 mm apart");
        // 3-4-5 off the middle: 80 - 60 - 5 = 15 are left, off by 15 only 5.
        assert_eq!(of_two(ring(), disc(60.0), 163.0, 114.0), Vec::<String>::new());
        assert_one(&of_two(ring(), disc(60.0), 169.0, 122.0), "5.000000 mm apart");
        assert_one(&of_two(ring(), disc(60.0), 190.0, 110.0), "overlap at");
        // In the material of the plate, and around all of it.
        assert_one(&of_two(ring(), disc(10.0), 40.0, 40.0), "overlap at");
        let beside = of_two(ring(), disc(200.0), 210.0, 210.0);
        assert_one(&beside, "overlap at");
    }

    #[test]
    fn rounded_neighbours_may_lie_where_their_boxes_overlap() {
        let disc = |name: &str| Part {
            name: name.to_owned(),
            outline: Path::circle(Point2::new(0.0, 0.0), 100.0),
            ..part("", Turns::Free)
        };
        // Centres 6-8-10 apart, times 20.8: 208 - 200 leaves 8.
        let at = |dx: f64, dy: f64| {
            let (_, stock, mut nesting) = setting();
            nesting.sheets[0].placed[0].placement =
                SheetPlacement { x: 150.0, y: 150.0, angle: 0.0, flipped: false };
            nesting.sheets[0].placed[1].placement =
                SheetPlacement { x: 150.0 + dx, y: 150.0 + dy, angle: 90.0, flipped: false };
            faults(&[disc("one"), disc("other")], &stock, CLEARANCES, &nesting)
        };
        assert_eq!(at(6.0 * 20.8, 8.0 * 20.8), Vec::<String>::new());
        assert_one(&at(6.0 * 20.7, 8.0 * 20.7), "7.000000 mm apart");
    }

    #[test]
    fn parts_on_a_defect_and_defects_in_an_opening() {
        let found = |x: f64, y: f64, side: f64| {
            let (_, mut stock, mut nesting) = setting();
            stock[0].defects = vec![Zone { x, y, length: side, width: side }];
            nesting.sheets[0].placed.truncate(1);
            faults(&[ring()], &stock, CLEARANCES, &nesting)
        };
        assert_one(&found(300.0, 200.0, 50.0), "`ring` and `a defect` overlap at");
        // The gap from the plate and a micrometre less; in the opening, where a square of half side 40, 40 reaches
        // 56.569 from the middle, 23.431 from the rim, and one of 52 reaches 73.539, 6.461 from it.
        assert_eq!(found(318.0, 10.0, 50.0), Vec::<String>::new());
        assert_one(&found(317.999, 10.0, 50.0), "are 7.999000 mm apart");
        assert_eq!(found(160.0 - 40.0, 110.0 - 40.0, 80.0), Vec::<String>::new());
        assert_one(&found(160.0 - 52.0, 110.0 - 52.0, 104.0), "are 6.46");
        // A defect all around it, and one all within its material.
        assert_one(&found(0.0, 0.0, 500.0), "overlap at");
        assert_one(&found(20.0, 20.0, 5.0), "overlap at");
    }

    #[test]
    fn what_is_no_number() {
        assert_one(
            &planted(|n| n.sheets[0].placed[1].placement.x = f64::NAN),
            "`right` has a place or a corner",
        );
        let mut odd = ring();
        odd.openings.push(Path::circle(Point2::new(f64::NAN, 0.0), 1.0));
        assert_one(&of_two(odd, part("other", Turns::Free), 318.0, 10.0), "`ring` has a place or a corner");
    }

    /// Ten thousand rings with a disc each, in rows: a judge that compared every pair would not be done.
    #[test]
    fn ten_thousand_parts_are_judged_in_a_moment() {
        let disc = Part { outline: Path::circle(Point2::new(0.0, 0.0), 72.0), ..part("disc", Turns::Free) };
        let mut parts = Vec::new();
        let mut placed = Vec::new();
        for number in 0..5000_u32 {
            let (x, y) = (10.0 + 308.0 * f64::from(number % 100), 10.0 + 208.0 * f64::from(number / 100));
            for (one, x, y) in [(ring(), x, y), (disc.clone(), x + 150.0, y + 100.0)] {
                let placement = SheetPlacement { x, y, angle: 0.0, flipped: false };
                placed.push(Placed { part: parts.len(), placement });
                parts.push(one);
            }
        }
        let stock = [Stock { length: 40_000.0, width: 20_000.0, ..Stock::default() }];
        let mut nesting =
            Nesting { sheets: vec![Sheet { stock: 0, placed }], bound: 1, ..Nesting::default() };
        nesting.cost = cost_of(&nesting, &stock);
        assert_eq!(faults(&parts, &stock, CLEARANCES, &nesting), Vec::<String>::new());
        nesting.sheets[0].placed[7777].placement.x += 0.1;
        assert_one(&faults(&parts, &stock, CLEARANCES, &nesting), "7.900000 mm apart");
    }

    #[test]
    fn a_part_wrongly_called_too_large() {
        let found = planted(|n| {
            n.sheets[0].placed.pop();
            n.too_large.push(1);
        });
        assert_one(&found, "`right` is called too large but fits 1000x500");
        // With none left, or with a defect, it may be.
        let (parts, stock, mut nesting) = setting();
        nesting.sheets.clear();
        (nesting.bound, nesting.too_large, nesting.cost) = (0, vec![0, 1], Cost::default());
        let zone = Zone { x: 0.0, y: 0.0, length: 1.0, width: 1.0 };
        let none = Stock { quantity: Some(0), ..stock[0].clone() };
        let spoiled = Stock { defects: vec![zone], ..stock[0].clone() };
        assert_eq!(faults(&parts, &[none, spoiled], CLEARANCES, &nesting), Vec::<String>::new());
    }
}
