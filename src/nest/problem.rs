//! The nesting problem on a grid of whole micrometres.
//!
//! Takes parts, stock and clearances in millimetres; gives rectangles and sheets as integers, the gap already
//! in them, so that the search needs no tolerance. Everything is rounded to the safe side: parts outward, gap
//! and trim up, sheets down.
//!
//! The gap is put on the right and upper side of every part and of the usable sheet: two parts whose grown
//! rectangles do not overlap are at least the gap apart, and a part may touch the trimmed edge on each side.

use super::bin::{Bin, Reusable};
use super::{Clearances, CostBy, Part, Placed, Settings, Sheet, Stock, Turns};
use crate::geom::{PanelFrame, Point2, SheetPlacement};

/// A width along the sheet and a height across it, micrometres.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Size {
    /// Along the sheet.
    pub(super) width: i64,
    /// Across the sheet.
    pub(super) height: i64,
}

impl Size {
    /// The size after a quarter turn.
    pub(super) fn turned(self) -> Size {
        Size { width: self.height, height: self.width }
    }

    /// Whether a rectangle of this size goes into one of the size `other`, as it lies.
    pub(super) fn within(self, other: Size) -> bool {
        self.width <= other.width && self.height <= other.height
    }

    /// Square micrometres.
    pub(super) fn area(self) -> i128 {
        i128::from(self.width) * i128::from(self.height)
    }
}

/// Rectangles of one size and one rule of turning: to the search they are the same.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Class {
    /// Size of each, grown by the gap, as the part lies in its own frame.
    pub(super) size: Size,
    /// Whether a quarter turn is allowed.
    pub(super) free: bool,
    /// How many there are.
    pub(super) count: usize,
}

impl Class {
    /// The sizes in which one of these may lie on a sheet of the size `bin`: (size, turned).
    pub(super) fn lies(self, bin: Size) -> impl Iterator<Item = (Size, bool)> {
        let turned = self.free && self.size.width != self.size.height;
        [(self.size, false, true), (self.size.turned(), true, turned)]
            .into_iter()
            .filter(move |&(size, _, allowed)| allowed && size.within(bin))
            .map(|(size, turned, _)| (size, turned))
    }

    /// Whether one of these goes on an empty sheet of the size `bin`.
    pub(super) fn fits(self, bin: Size) -> bool {
        self.lies(bin).next().is_some()
    }
}

/// Where one rectangle of a class lies, micrometres from the lower left corner of the usable sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Spot {
    /// Index of the class.
    pub(super) class: usize,
    /// Along the sheet.
    pub(super) x: i64,
    /// Across the sheet.
    pub(super) y: i64,
    /// Turned by a quarter, counter-clockwise.
    pub(super) turned: bool,
}

/// The parts of one class, in an order that does not depend on the order in which they were given.
#[derive(Clone, Debug)]
pub(super) struct Group {
    /// What the search sees of them.
    pub(super) class: Class,
    members: Vec<Member>,
}

/// A part with the whole-micrometre box around its outline, in its own frame.
#[derive(Clone, Debug)]
struct Member {
    part: usize,
    low: (i64, i64),
    high: (i64, i64),
}

/// Parts and stock, ready for the search.
#[derive(Clone, Debug)]
pub(super) struct Problem {
    /// Parts that fit at least one kind, by size, largest width first.
    pub(super) groups: Vec<Group>,
    /// Kinds of sheet that can hold anything at all, in the order given.
    pub(super) bins: Vec<Bin>,
    /// Indices of the parts that fit none, rising.
    pub(super) too_large: Vec<usize>,
    /// What the kinds' costs are counted in.
    pub(super) cost_by: CostBy,
    /// What of a sheet is worth keeping.
    pub(super) reusable: Reusable,
    /// What is put on every part's right and upper side.
    pub(super) gap: i64,
    trim: i64,
}

impl Problem {
    /// Rounds everything to whole micrometres, to the safe side. A part without a finite outline counts as
    /// too large; a sheet or a clearance without a finite size holds nothing.
    pub(super) fn new(parts: &[Part], stock: &[Stock], clearances: Clearances, settings: &Settings) -> Self {
        let gap = up(clearances.gap).map(|gap| gap.max(0));
        let trim = up(clearances.trim).map(|trim| trim.max(0));
        let cost_by = CostBy::of(stock);
        let stages = settings.most_stages();
        let bins: Vec<Bin> = match (gap, trim) {
            (Some(gap), Some(trim)) => {
                let kinds = stock.iter().enumerate();
                kinds.filter_map(|(index, kind)| Bin::new(index, kind, gap, trim, cost_by, stages)).collect()
            }
            _ => Vec::new(),
        };
        let bins: Vec<Bin> =
            bins.into_iter().enumerate().map(|(number, bin)| Bin { number, ..bin }).collect();
        let cutting = settings.cutting;
        let mut too_large = Vec::new();
        let mut boxed = Vec::new();
        for (index, part) in parts.iter().enumerate() {
            match boxed_part(index, part, gap.unwrap_or(0)) {
                Some((class, member)) if bins.iter().any(|bin| bin.holds(class, cutting)) => {
                    boxed.push((class, member));
                }
                _ => too_large.push(index),
            }
        }
        boxed.sort_by(|(class_a, a), (class_b, b)| {
            let key = |class: &Class, member: &Member| (class.size, class.free, member.low, member.part);
            class_b
                .size
                .cmp(&class_a.size)
                .then(class_a.free.cmp(&class_b.free))
                .then_with(|| parts[a.part].name.cmp(&parts[b.part].name))
                .then_with(|| key(class_a, a).cmp(&key(class_b, b)))
        });
        let (gap, trim) = (gap.unwrap_or(0), trim.unwrap_or(0));
        let reusable = Reusable::new(gap, trim, settings.reusable);
        Problem { groups: grouped(boxed), bins, too_large, cost_by, reusable, gap, trim }
    }

    /// A sheet of the given kind with the parts that the search laid on it. The search's classes are the
    /// groups'; `taken` counts, for each, the parts already handed out.
    pub(super) fn sheet(&self, bin: usize, spots: &[Spot], taken: &mut [usize]) -> Sheet {
        let mut placed = Vec::with_capacity(spots.len());
        for spot in spots {
            let member = &self.groups[spot.class].members[taken[spot.class]];
            taken[spot.class] += 1;
            placed.push(Placed { part: member.part, placement: self.placement(member, *spot) });
        }
        Sheet { stock: self.bins[bin].stock, placed }
    }

    /// The parts that no sheet took, rising.
    pub(super) fn left_out(&self, taken: &[usize]) -> Vec<usize> {
        let rest = self.groups.iter().zip(taken).flat_map(|(group, &taken)| &group.members[taken..]);
        let mut parts: Vec<usize> = rest.map(|member| member.part).collect();
        parts.sort_unstable();
        parts
    }

    /// What the search sees of the parts.
    pub(super) fn classes(&self) -> Vec<Class> {
        self.groups.iter().map(|group| group.class).collect()
    }

    /// The placement that brings the part's box to the spot. Turned by a quarter, u runs up the sheet and v to
    /// the left, so the box's left edge is where the greatest v lies.
    fn placement(&self, member: &Member, spot: Spot) -> SheetPlacement {
        let (x, y) = (self.trim + spot.x, self.trim + spot.y);
        let (x, y, angle) = if spot.turned {
            (x + member.high.1, y - member.low.0, 90.0)
        } else {
            (x - member.low.0, y - member.low.1, 0.0)
        };
        SheetPlacement { x: millimetres(x), y: millimetres(y), angle, flipped: false }
    }
}

/// The part's box, rounded outward, and its class grown by the gap.
fn boxed_part(index: usize, part: &Part, gap: i64) -> Option<(Class, Member)> {
    let (low, high): (Point2<PanelFrame>, Point2<PanelFrame>) = part.outline.bounds();
    let low = (down(low.x)?, down(low.y)?);
    let high = (up(high.x)?, up(high.y)?);
    // A part without extent would take no room; a micrometre keeps every rectangle real.
    let size = Size { width: (high.0 - low.0 + gap).max(1), height: (high.1 - low.1 + gap).max(1) };
    let class = Class { size, free: part.turns == Turns::Free, count: 1 };
    Some((class, Member { part: index, low, high }))
}

/// Neighbours of one class put together.
fn grouped(boxed: Vec<(Class, Member)>) -> Vec<Group> {
    let mut groups: Vec<Group> = Vec::new();
    for (class, member) in boxed {
        match groups.last_mut() {
            Some(group) if group.class.size == class.size && group.class.free == class.free => {
                group.class.count += 1;
                group.members.push(member);
            }
            _ => groups.push(Group { class, members: vec![member] }),
        }
    }
    groups
}

/// Micrometres. What a sum of binary fractions may be off by without counting: 1e-9 mm.
const NOISE: f64 = 1e-6;

/// mm. Larger lengths (a kilometre) are no part and no sheet; below it no product of two leaves an `i64`.
const LONGEST: f64 = 1e6;

/// Whole micrometres, rounded up; `None` if not finite or beyond any sheet.
pub(super) fn up(mm: f64) -> Option<i64> {
    whole((mm * 1000.0 - NOISE).ceil())
}

/// Whole micrometres, rounded down; `None` if not finite or beyond any sheet.
pub(super) fn down(mm: f64) -> Option<i64> {
    whole((mm * 1000.0 + NOISE).floor())
}

fn whole(micrometres: f64) -> Option<i64> {
    // A comparison with NaN is false, so NaN gives none as well.
    if micrometres.abs() <= LONGEST * 1000.0 {
        #[expect(clippy::cast_possible_truncation, reason = "whole and at most 1e9")]
        return Some(micrometres as i64);
    }
    None
}

/// The same length in mm.
pub(super) fn millimetres(micrometres: i64) -> f64 {
    micrometres as f64 / 1000.0
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geom::Path;

    fn part(name: &str, low: (f64, f64), size: (f64, f64)) -> Part {
        Part {
            name: name.to_owned(),
            outline: Path::rectangle(low.0, low.1, low.0 + size.0, low.1 + size.1),
            openings: vec![],
            turns: Turns::Free,
            either_face: false,
        }
    }

    const STOCK: f64 = 1000.0;

    fn stock() -> Vec<Stock> {
        vec![Stock { name: "1000x1000".to_owned(), length: STOCK, width: STOCK, ..Stock::default() }]
    }

    fn problem(parts: &[Part], clearances: Clearances) -> Problem {
        Problem::new(parts, &stock(), clearances, &Settings::ordinary(1))
    }

    #[test]
    fn sizes_are_rounded_to_the_safe_side_and_sums_of_fractions_are_not_noise() {
        assert_eq!((up(0.1 + 0.2), down(0.1 + 0.2)), (Some(300), Some(300)));
        assert_eq!((up(0.3001), down(0.3001)), (Some(301), Some(300)));
        assert_eq!((up(f64::NAN), down(f64::INFINITY), up(-2e6)), (None, None, None));
    }

    #[test]
    fn gap_and_trim_go_into_the_sizes() {
        let problem = Problem::new(
            &[part("a", (0.0, 0.0), (600.0, 400.0))],
            &stock(),
            Clearances { gap: 8.0, trim: 10.0 },
            &Settings::ordinary(1),
        );
        assert_eq!(problem.bins[0].usable, Size { width: 988_000, height: 988_000 });
        assert_eq!(problem.groups[0].class.size, Size { width: 608_000, height: 408_000 });
    }

    #[test]
    fn a_part_as_large_as_the_trimmed_sheet_fits_and_one_a_micrometre_larger_does_not() {
        let clearances = Clearances { gap: 8.0, trim: 10.0 };
        let sizes = [(980.0, 980.0), (980.001, 10.0)];
        let fits = sizes.map(|size| problem(&[part("a", (0.0, 0.0), size)], clearances).too_large);
        assert_eq!(fits, [vec![], vec![0]]);
    }

    #[test]
    fn what_is_not_finite_fits_nowhere() {
        let odd = Part { outline: Path::new(vec![]), ..part("empty", (0.0, 0.0), (1.0, 1.0)) };
        let huge = part("huge", (0.0, 0.0), (f64::INFINITY, 1.0));
        let clearances = Clearances { gap: 8.0, trim: 10.0 };
        assert_eq!(problem(&[odd.clone(), huge], clearances).too_large, [0, 1]);
        let fine = part("fine", (0.0, 0.0), (1.0, 1.0));
        let nan = Clearances { gap: f64::NAN, trim: 10.0 };
        assert_eq!(problem(&[fine], nan).too_large, [0]);
    }

    #[test]
    fn a_placement_brings_the_box_to_its_spot_turned_or_not() {
        // The outline starts at (-30.5, 12): a tab stands out of the panel's origin.
        let parts = [part("a", (-30.5, 12.0), (100.0, 40.0))];
        let problem = problem(&parts, Clearances { gap: 0.0, trim: 10.0 });
        for (turned, size) in [(false, (100.0, 40.0)), (true, (40.0, 100.0))] {
            let spot = Spot { class: 0, x: 5000, y: 7000, turned };
            let sheet = problem.sheet(0, &[spot], &mut [0]);
            let (low, high) = sheet.placed[0].placement.path_to_sheet(&parts[0].outline).bounds();
            let wanted = [15.0, 17.0, 15.0 + size.0, 17.0 + size.1];
            for (found, wanted) in [low.x, low.y, high.x, high.y].into_iter().zip(wanted) {
                assert!((found - wanted).abs() < 1e-9, "turned: {turned}: {found} is not {wanted}");
            }
        }
    }
}
