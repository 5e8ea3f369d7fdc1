//! Panels of one material and thickness onto stock sheets.
//!
//! Takes outlines and stock, gives placements and a proven lower bound; knows nothing of bolts or files. The
//! search stands behind [`nest`] and can be replaced without touching anything else; [`faults()`] judges its
//! result independently. In this version a part is the rectangle around its outline.

mod bound;
mod cuttable;
mod dual;
mod effort;
#[cfg(test)]
mod exact;
mod faults;
mod figures;
mod free_space;
mod items;
mod problem;
mod random;
mod repack;
mod room;
mod ruin;
mod search;
mod slices;
mod start;
mod widen;

pub(crate) use effort::{Cutting, Effort, Settings};
pub(crate) use faults::faults;

use crate::geom::{PanelFrame, Path, SheetPlacement};
use problem::{Class, Kind, Problem, Size};
use search::Layout;

/// How a part may be turned against the sheet's length (along which the sheet's face grain runs).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Turns {
    /// The part's u stays along the sheet: 0 or 180 degrees.
    GrainKept,
    /// Quarter turns are allowed.
    Free,
}

/// A part to be cut.
#[derive(Clone, Debug)]
pub(crate) struct Part {
    /// The panel's name.
    pub(crate) name: String,
    /// Outer contour in the panel's frame.
    pub(crate) outline: Path<PanelFrame>,
    /// How it may be turned. A part is never flipped: face A is up.
    pub(crate) turns: Turns,
}

/// A size of sheet that can be bought in any number.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Stock {
    /// Name for tables and files, e.g. `2440x1220`.
    pub(crate) name: String,
    /// mm along the grain.
    pub(crate) length: f64,
    /// mm.
    pub(crate) width: f64,
}

/// What the cutting needs between and around parts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Clearances {
    /// mm between the outlines of two parts: tool diameter plus margin.
    pub(crate) gap: f64,
    /// mm of the sheet's edge, all round, that no part may use.
    pub(crate) trim: f64,
}

/// A part on a sheet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Placed {
    /// Index into the parts that were given.
    pub(crate) part: usize,
    /// Where it lies.
    pub(crate) placement: SheetPlacement,
}

/// One stock sheet with the parts on it.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Sheet {
    /// Index into the stock that was given.
    pub(crate) stock: usize,
    /// The parts, from left to right, those at one x from the bottom up.
    pub(crate) placed: Vec<Placed>,
}

/// A packing of all parts that fit any sheet, with what is known about fewer sheets.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Nesting {
    /// Sheets in order, the least filled of a kind last.
    pub(crate) sheets: Vec<Sheet>,
    /// No packing of the parts that are not too large can use fewer sheets than this: fewer sheets of the kind
    /// that was used, or, where no one kind holds every part, fewer of whichever kinds.
    pub(crate) bound: usize,
    /// Indices of parts that fit no sheet in any allowed turn, rising; they are on none.
    pub(crate) too_large: Vec<usize>,
    /// How every sheet can be cut.
    pub(crate) cutting: Cutting,
}

/// Lays parts of one material and thickness on sheets.
///
/// One kind of sheet serves the whole group if any kind holds every part: the one with the least total area,
/// then with fewer sheets, then the first given. Where no kind holds them all, the kind that holds most parts
/// takes those, and the rest are laid the same way. The result is the same in whatever order the parts are
/// given (parts that are alike in size and name excepted: they may change places).
pub(crate) fn nest(parts: &[Part], stock: &[Stock], clearances: Clearances, settings: &Settings) -> Nesting {
    let problem = Problem::new(parts, stock, clearances);
    let mut taken = vec![0; problem.groups.len()];
    let mut open: Vec<usize> = (0..problem.groups.len()).collect();
    let mut sheets = Vec::new();
    let mut bound = None;
    while !open.is_empty() {
        let Some(Packed { kind, groups, least, layout }) = best_kind(&problem, &open, settings) else {
            break;
        };
        for mut spots in layout {
            spots.sort_by_key(|spot| (spot.x, spot.y));
            sheets.push(problem.sheet(kind, &spots, &groups, &mut taken));
        }
        if groups.len() == problem.groups.len() {
            bound = Some(least);
        }
        open.retain(|group| !groups.contains(group));
    }
    let bound = bound.unwrap_or_else(|| bound_over_kinds(&problem));
    Nesting { sheets, bound, too_large: problem.too_large, cutting: settings.cutting }
}

/// Some of the groups laid on one kind of sheet.
struct Packed {
    kind: Kind,
    groups: Vec<usize>,
    /// Proven least number of these sheets.
    least: usize,
    layout: Layout,
}

impl Packed {
    /// Area of all sheets in square micrometres, then their number: less is better.
    fn cost(&self) -> (i128, usize) {
        (self.kind.area * self.layout.len() as i128, self.layout.len())
    }
}

/// The kind of sheet to use for the open groups, those of them that it takes, and where they lie on it.
fn best_kind(problem: &Problem, open: &[usize], settings: &Settings) -> Option<Packed> {
    let held = |kind: &Kind| -> Vec<usize> {
        open.iter().copied().filter(|&group| problem.groups[group].class.fits(kind.usable)).collect()
    };
    let n_parts = |groups: &[usize]| groups.iter().map(|&g| problem.groups[g].class.count).sum::<usize>();
    let most = problem.kinds.iter().map(|kind| n_parts(&held(kind))).max().filter(|&most| most > 0)?;
    let mut best: Option<Packed> = None;
    for kind in &problem.kinds {
        let groups = held(kind);
        if n_parts(&groups) < most {
            continue;
        }
        let classes: Vec<Class> = groups.iter().map(|&group| problem.groups[group].class).collect();
        let least = bound::lower_bound(&classes, kind.usable);
        if best.as_ref().is_some_and(|best| kind.area * least as i128 > best.cost().0) {
            continue;
        }
        let layout = search::pack(&classes, kind.usable, least, settings);
        let packed = Packed { kind: *kind, groups, least, layout };
        if best.as_ref().is_none_or(|best| packed.cost() < best.cost()) {
            best = Some(packed);
        }
    }
    best
}

/// The bound on a sheet that covers every kind: what fits any mixture of kinds fits as many of these.
fn bound_over_kinds(problem: &Problem) -> usize {
    let classes: Vec<Class> = problem.groups.iter().map(|group| group.class).collect();
    let covering = problem
        .kinds
        .iter()
        .map(|kind| kind.usable)
        .reduce(|a, b| Size { width: a.width.max(b.width), height: a.height.max(b.height) });
    covering.map_or(0, |size| bound::lower_bound(&classes, size))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn part(name: &str, length: f64, width: f64, turns: Turns) -> Part {
        Part { name: name.to_owned(), outline: Path::rectangle(0.0, 0.0, length, width), turns }
    }

    fn stock(sizes: &[(f64, f64)]) -> Vec<Stock> {
        sizes
            .iter()
            .map(|&(length, width)| Stock { name: format!("{length}x{width}"), length, width })
            .collect()
    }

    fn alike(n: usize, length: f64, width: f64, turns: Turns) -> Vec<Part> {
        (0..n).map(|i| part(&format!("panel-{i}"), length, width, turns)).collect()
    }

    fn ordinary(parts: &[Part], stock: &[Stock], clearances: Clearances) -> Nesting {
        nest(parts, stock, clearances, &Settings::ordinary(parts.len()))
    }

    /// The packing, after asserting that nothing is wrong with it.
    fn sound(parts: &[Part], stock: &[Stock], clearances: Clearances) -> Nesting {
        let nesting = nest(parts, stock, clearances, &Settings::ordinary(parts.len()));
        assert_eq!(faults(parts, stock, clearances, &nesting), Vec::<String>::new());
        nesting
    }

    /// How many of one part a sheet holds: grid counts floor((S - 2m + k)/(P + k)), the better of both ways
    /// (arithmetic; m the trim, k the gap). A search must reach at least those; a mixture can hold more.
    #[test]
    fn a_sheet_holds_what_a_grid_holds() {
        let sheet = stock(&[(2440.0, 1220.0)]);
        for (length, width, trim, gap, count) in [
            (600.0, 400.0, 0.0, 3.0, 12),
            (600.0, 400.0, 0.0, 12.0, 10),
            (600.0, 400.0, 10.0, 8.0, 6),
            (600.0, 400.0, 10.0, 6.0, 8),
            (500.0, 300.0, 0.0, 3.0, 16),
            (500.0, 300.0, 10.0, 8.0, 14),
        ] {
            let parts = alike(count, length, width, Turns::Free);
            let nesting = sound(&parts, &sheet, Clearances { gap, trim });
            assert_eq!(nesting.sheets.len(), 1, "{count} of {length} x {width}, trim {trim}, gap {gap}");
        }
        // 12 parts of 600 x 400 use 96.748 % of the sheet.
        let parts = alike(12, 600.0, 400.0, Turns::Free);
        let usage = ordinary(&parts, &sheet, Clearances { gap: 3.0, trim: 0.0 }).usage(&parts, &sheet);
        assert!((usage.share() - 0.967_48).abs() < 5e-6, "{usage:?}");
    }

    #[test]
    fn parts_just_over_half_the_sheet_are_proved_to_need_one_each() {
        let parts = alike(9, 1217.0, 610.0, Turns::GrainKept);
        let nesting = sound(&parts, &stock(&[(2440.0, 1220.0)]), Clearances { gap: 8.0, trim: 0.0 });
        assert_eq!((nesting.sheets.len(), nesting.bound), (9, 9));
    }

    #[test]
    fn the_kind_with_the_least_total_area_is_taken() {
        let clearances = Clearances { gap: 0.0, trim: 0.0 };
        let kinds = stock(&[(1000.0, 1000.0), (500.0, 500.0), (1500.0, 500.0)]);
        // Three of 500 x 500: 1.0, 0.75 or 0.75 m2; of the last two the one with fewer sheets.
        let nesting = sound(&alike(3, 500.0, 500.0, Turns::Free), &kinds, clearances);
        assert_eq!(nesting.sheets.iter().map(|sheet| sheet.stock).collect::<Vec<_>>(), [2]);
        let nesting = sound(&alike(1, 500.0, 500.0, Turns::Free), &kinds, clearances);
        assert_eq!(nesting.sheets.iter().map(|sheet| sheet.stock).collect::<Vec<_>>(), [1]);
    }

    #[test]
    fn parts_that_no_one_kind_holds_together_go_on_several_and_the_largest_on_none() {
        let kinds = stock(&[(3000.0, 500.0), (1500.0, 1500.0)]);
        let mut parts = alike(3, 390.0, 390.0, Turns::GrainKept);
        parts.push(part("rail", 2500.0, 100.0, Turns::GrainKept));
        parts.push(part("deck", 1400.0, 1400.0, Turns::GrainKept));
        parts.push(part("huge", 3000.1, 10.0, Turns::Free));
        let nesting = sound(&parts, &kinds, Clearances { gap: 5.0, trim: 0.0 });
        assert_eq!(nesting.too_large, [5]);
        let used: Vec<usize> = nesting.sheets.iter().map(|sheet| sheet.stock).collect();
        assert_eq!(used, [0, 1]);
    }

    #[test]
    fn grain_decides_whether_a_part_fits() {
        let sheet = stock(&[(2440.0, 1220.0)]);
        let clearances = Clearances { gap: 8.0, trim: 10.0 };
        let tall = |turns| sound(&[part("tall", 300.0, 1300.0, turns)], &sheet, clearances);
        assert_eq!(tall(Turns::GrainKept).too_large, [0]);
        assert_eq!(tall(Turns::Free).sheets[0].placed[0].placement.angle.to_bits(), 90.0_f64.to_bits());
    }

    #[test]
    fn nothing_to_do_and_nothing_to_do_it_on() {
        let clearances = Clearances { gap: 8.0, trim: 10.0 };
        let empty = Nesting { sheets: vec![], bound: 0, too_large: vec![], cutting: Cutting::Free };
        assert_eq!(ordinary(&[], &stock(&[(2440.0, 1220.0)]), clearances), empty);
        let none = Nesting { too_large: vec![0], ..empty };
        assert_eq!(ordinary(&alike(1, 10.0, 10.0, Turns::Free), &[], clearances), none);
        // Trim from both sides leaves nothing of a sheet 20 wide.
        assert_eq!(ordinary(&alike(1, 1.0, 1.0, Turns::Free), &stock(&[(100.0, 20.0)]), clearances), none);
    }

    /// Parts on a coarse grid, so that equal sizes and exact fits are common; outlines start anywhere.
    fn any_parts() -> impl Strategy<Value = Vec<Part>> {
        let one = (1_i32..24, 1_i32..24, -3_i32..3, any::<bool>());
        prop::collection::vec(one, 0..40).prop_map(|sizes| {
            let parts = sizes.into_iter().enumerate().map(|(i, (length, width, low, free))| {
                let (length, width) = (f64::from(length) * 50.0, f64::from(width) * 50.0);
                let low = f64::from(low) * 6.1;
                Part {
                    name: format!("panel-{i}"),
                    outline: Path::rectangle(low, -low, low + length, width - low),
                    turns: if free { Turns::Free } else { Turns::GrainKept },
                }
            });
            parts.collect()
        })
    }

    fn any_stock() -> impl Strategy<Value = Vec<Stock>> {
        prop::collection::vec((2_i32..22, 2_i32..22), 1..4).prop_map(|sizes| {
            let sizes: Vec<(f64, f64)> =
                sizes.into_iter().map(|(l, w)| (f64::from(l) * 50.0, f64::from(w) * 50.0)).collect();
            stock(&sizes)
        })
    }

    fn any_clearances() -> impl Strategy<Value = Clearances> {
        (0_i32..5, 0_i32..3)
            .prop_map(|(gap, trim)| Clearances { gap: f64::from(gap) * 2.1, trim: f64::from(trim) * 5.0 })
    }

    /// A packing with parts by name, so that packings of the same parts in another order can be compared.
    #[derive(Debug, PartialEq)]
    struct ByName {
        sheets: Vec<Vec<(String, SheetPlacement)>>,
        stock: Vec<usize>,
        bound: usize,
        too_large: Vec<String>,
    }

    fn by_name(parts: &[Part], nesting: &Nesting) -> ByName {
        let name = |part: usize| parts[part].name.clone();
        let named = |sheet: &Sheet| sheet.placed.iter().map(|p| (name(p.part), p.placement)).collect();
        let mut too_large: Vec<String> = nesting.too_large.iter().map(|&part| name(part)).collect();
        too_large.sort_unstable();
        ByName {
            sheets: nesting.sheets.iter().map(named).collect(),
            stock: nesting.sheets.iter().map(|sheet| sheet.stock).collect(),
            bound: nesting.bound,
            too_large,
        }
    }

    fn settings(cutting: Cutting, steps: usize, threads: usize) -> Settings {
        Settings { cutting, effort: Effort { steps, seed: 5, streams: 3, threads, time_limit: None } }
    }

    const BOTH: [Cutting; 2] = [Cutting::Free, Cutting::Guillotine];

    /// Four of 3 x 2 around one of 1 x 1 fill 5 x 5, and no saw can cut them.
    #[test]
    fn a_wheel_goes_on_one_sheet_for_a_router_and_on_two_for_a_saw() {
        let mut parts = alike(2, 3.0, 2.0, Turns::GrainKept);
        parts.extend(alike(2, 2.0, 3.0, Turns::GrainKept));
        parts.extend(alike(1, 1.0, 1.0, Turns::GrainKept));
        let clearances = Clearances { gap: 0.0, trim: 0.0 };
        let sheets = BOTH.map(|cutting| {
            nest(&parts, &stock(&[(5.0, 5.0)]), clearances, &settings(cutting, 500, 1)).sheets.len()
        });
        assert_eq!(sheets, [1, 2]);
    }

    #[test]
    fn a_time_limit_stops_the_search() {
        let parts: Vec<Part> = (0..60)
            .map(|i| part(&format!("p{i}"), f64::from(300 + 7 * i), f64::from(900 - 11 * i), Turns::Free))
            .collect();
        let mut settings = settings(Cutting::Free, usize::MAX, 1);
        settings.effort.time_limit = Some(std::time::Duration::from_millis(50));
        let clearances = Clearances { gap: 0.0, trim: 0.0 };
        let nesting = nest(&parts, &stock(&[(2440.0, 1220.0)]), clearances, &settings);
        assert_eq!(faults(&parts, &stock(&[(2440.0, 1220.0)]), clearances, &nesting), Vec::<String>::new());
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(96))]

        #[test]
        fn every_packing_is_sound(parts in any_parts(), stock in any_stock(), clearances in any_clearances()) {
            let nesting = ordinary(&parts, &stock, clearances);
            prop_assert_eq!(faults(&parts, &stock, clearances, &nesting), Vec::<String>::new());
            let placed: usize = nesting.sheets.iter().map(|sheet| sheet.placed.len()).sum();
            prop_assert_eq!(placed + nesting.too_large.len(), parts.len());
            prop_assert!(nesting.usage(&parts, &stock).share() <= 1.0);
            // Coordinates stand on the micrometre grid.
            for placed in nesting.sheets.iter().flat_map(|sheet| &sheet.placed) {
                let SheetPlacement { x, y, .. } = placed.placement;
                prop_assert_eq!((x, y), (crate::geom::snap(x), crate::geom::snap(y)));
            }
        }

        /// A router's packing could be wrong for a saw, so the saw's is checked for more; and threads decide
        /// nothing.
        #[test]
        fn packings_for_a_saw_are_sound_and_threads_change_nothing(
            parts in any_parts(), stock in any_stock(), clearances in any_clearances(),
        ) {
            for cutting in BOTH {
                let one = nest(&parts, &stock, clearances, &settings(cutting, 300, 1));
                prop_assert_eq!(faults(&parts, &stock, clearances, &one), Vec::<String>::new());
                prop_assert_eq!(one.cutting, cutting);
                for threads in [2, 3] {
                    let several = nest(&parts, &stock, clearances, &settings(cutting, 300, threads));
                    prop_assert_eq!(&one, &several);
                }
            }
        }

        /// Against everything tried: up to five rectangles, with and without turns, router and saw.
        #[test]
        fn small_cases_reach_the_optimum(
            sizes in prop::collection::vec((1_i64..6, 1_i64..6, any::<bool>()), 1..6),
        ) {
            let bin = Size { width: 6, height: 5 };
            let classes: Vec<Class> = sizes
                .iter()
                .map(|&(width, height, free)| Class { size: Size { width, height }, free, count: 1 })
                .filter(|class| class.fits(bin))
                .collect();
            let found = BOTH.map(|cutting| search::pack(&classes, bin, bound::lower_bound(&classes, bin), &settings(cutting, 300, 1)).len());
            prop_assert_eq!(found, [exact::fewest_free(&classes, bin), exact::fewest_sawn(&classes, bin)]);
        }

        #[test]
        fn shuffled_parts_give_the_same_packing(
            (parts, shuffled) in any_parts().prop_flat_map(|parts| (Just(parts.clone()), Just(parts).prop_shuffle())),
            stock in any_stock(), clearances in any_clearances(),
        ) {
            let (one, other) = (ordinary(&parts, &stock, clearances), ordinary(&shuffled, &stock, clearances));
            prop_assert_eq!(by_name(&parts, &one), by_name(&shuffled, &other));
        }
    }
}
