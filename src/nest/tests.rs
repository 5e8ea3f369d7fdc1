//! Packings against brute force, and what must hold of each.

use std::ops::ControlFlow;

use super::problem::Size;
use super::*;
use crate::geom::{Path, SheetPlacement};
use proptest::prelude::*;
use proptest::test_runner::RngSeed;

fn part(name: &str, length: f64, width: f64, turns: Turns) -> Part {
    let outline = Path::rectangle(0.0, 0.0, length, width);
    Part { name: name.to_owned(), outline, openings: vec![], turns, either_face: false }
}

fn stock(sizes: &[(f64, f64)]) -> Vec<Stock> {
    sizes
        .iter()
        .map(|&(length, width)| Stock {
            name: format!("{length}x{width}"),
            length,
            width,
            ..Stock::default()
        })
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
    let empty = Nesting::default();
    assert_eq!(ordinary(&[], &stock(&[(2440.0, 1220.0)]), clearances), empty);
    let none = Nesting { too_large: vec![0], ..empty };
    assert_eq!(ordinary(&alike(1, 10.0, 10.0, Turns::Free), &[], clearances), none);
    // Trim from both sides leaves nothing of a sheet 20 wide.
    assert_eq!(ordinary(&alike(1, 1.0, 1.0, Turns::Free), &stock(&[(100.0, 20.0)]), clearances), none);
}

#[test]
fn the_cheapest_mixture_is_found_and_offcuts_without_a_price_come_first() {
    let priced = |length, price, quantity| Stock {
        price: Some(price),
        quantity,
        ..stock(&[(length, 500.0)])[0].clone()
    };
    let clearances = Clearances { gap: 0.0, trim: 0.0 };
    // Five of 500 x 500: four on 2000 and one on 500 cost 90, five on 500 cost 100, two of 2000 140.
    let kinds = [priced(2000.0, 70.0, None), priced(500.0, 20.0, None)];
    let parts = alike(5, 500.0, 500.0, Turns::Free);
    let nesting = sound(&parts, &kinds, clearances);
    assert_eq!((nesting.cost, nesting.bound), (Cost { by: CostBy::Price, used: 90.0, least: 90.0 }, 2));
    let offcut = Stock { offcut: true, quantity: Some(1), ..stock(&[(1000.0, 500.0)])[0].clone() };
    let kinds = [kinds[0].clone(), kinds[1].clone(), offcut];
    let nesting = sound(&parts, &kinds, clearances);
    assert_eq!((nesting.cost.used, nesting.cost.least), (60.0, 60.0));
    assert_eq!(nesting.sheets.iter().map(|sheet| sheet.stock).collect::<Vec<_>>(), [1, 1, 1, 2]);
}

#[test]
fn what_the_stock_cannot_hold_is_left_out_with_what_is_missing() {
    let few = Stock { quantity: Some(2), ..stock(&[(1000.0, 500.0)])[0].clone() };
    let parts = alike(7, 500.0, 500.0, Turns::Free);
    let nesting = sound(&parts, &[few], Clearances { gap: 0.0, trim: 0.0 });
    assert_eq!((nesting.sheets.len(), nesting.left_out.len(), nesting.bound), (2, 3, 0));
    assert_eq!(nesting.missing, [(0, 2)]);
}

#[test]
fn parts_keep_off_defects_on_router_and_saw() {
    let defects = vec![Zone { x: 300.0, y: 200.0, length: 40.0, width: 30.0 }];
    let kinds = [Stock { defects, ..stock(&[(1000.0, 500.0)])[0].clone() }];
    let clearances = Clearances { gap: 5.0, trim: 10.0 };
    let mut parts = alike(12, 150.0, 100.0, Turns::Free);
    parts.push(part("wide", 700.0, 200.0, Turns::GrainKept));
    // The saw cuts left and right of the zone through, which leaves the largest piece, but none 700 long.
    for (cutting, too_large) in BOTH.into_iter().zip([vec![], vec![12]]) {
        let nesting = nest(&parts, &kinds, clearances, &settings(cutting, 300, 1));
        assert_eq!(faults(&parts, &kinds, clearances, &nesting), Vec::<String>::new());
        assert_eq!(nesting.too_large, too_large);
    }
    // 700 x 260 has room beside the zone, below and above it nowhere.
    let nesting =
        nest(&alike(1, 700.0, 260.0, Turns::GrainKept), &kinds, clearances, &settings(Cutting::Free, 9, 1));
    assert_eq!(nesting.too_large, [0]);
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
                openings: vec![],
                either_face: false,
            }
        });
        parts.collect()
    })
}

/// Some have a price, some are few, some have a defect, some are left over.
fn any_stock() -> impl Strategy<Value = Vec<Stock>> {
    let one = (2_i32..22, 2_i32..22, prop::option::of(1_i32..50), 0_usize..12, 0_i32..20, any::<bool>());
    prop::collection::vec(one, 1..4).prop_map(|kinds| {
        let kinds = kinds.into_iter().map(|(length, width, price, number, at, offcut)| {
            let (length, width, at) = (f64::from(length) * 50.0, f64::from(width) * 50.0, f64::from(at));
            let defect = Zone { x: at * 20.0, y: at * 11.0, length: 30.0, width: 20.0 };
            Stock {
                name: format!("{length}x{width}"),
                length,
                width,
                price: price.map(f64::from),
                quantity: (number < 4).then_some(number),
                defects: vec![defect; usize::from(number % 3 == 0)],
                offcut,
            }
        });
        kinds.collect()
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
    let effort = Effort { steps, seed: 5, streams: 3, threads, time_limit: None, proves: true };
    Settings { cutting, effort, ..Settings::ordinary(1) }
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

/// On 5 x 5: 2 x 5, then 3 x 3 and 3 x 2 of what is left, then 2 x 2 out of the latter: three stages. In two,
/// whatever is cut off the sheet has to be cut up by cuts of one direction.
#[test]
fn what_takes_three_stages_on_one_sheet_takes_two_sheets_in_two() {
    let mut parts = alike(1, 2.0, 5.0, Turns::GrainKept);
    parts.extend(alike(1, 3.0, 3.0, Turns::GrainKept));
    parts.extend(alike(1, 2.0, 2.0, Turns::GrainKept));
    let clearances = Clearances { gap: 0.0, trim: 0.0 };
    let sheets = [Some(2), Some(3), None].map(|stages| {
        let settings = Settings { stages, ..settings(Cutting::Guillotine, 500, 1) };
        nest(&parts, &stock(&[(5.0, 5.0)]), clearances, &settings).sheets.len()
    });
    assert_eq!(sheets, [2, 1, 1]);
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
    // The same cases in each run: a search promises no optimum, so another case may one day be out of its reach.
    #![proptest_config(ProptestConfig { cases: 200, rng_seed: RngSeed::Fixed(7), ..ProptestConfig::default() })]

    /// Against everything tried: several kinds with prices, quantities and a defect.
    #[test]
    fn small_cases_of_several_kinds_reach_the_least_cost(
        sizes in prop::collection::vec((1_i64..5, 1_i64..5, any::<bool>()), 1..5),
        kinds in prop::collection::vec((2_i64..6, 2_i64..6, 1_i32..9, 1_usize..3, (0_i64..4, 0_i64..4)), 1..4),
    ) {
        let parts: Vec<Part> = sizes.iter().map(|&(length, width, free)| {
            part("p", length as f64, width as f64, if free { Turns::Free } else { Turns::GrainKept })
        }).collect();
        let stock: Vec<Stock> = kinds.iter().map(|&(length, width, price, quantity, (x, y))| Stock {
            length: length as f64,
            width: width as f64,
            price: Some(f64::from(price)),
            quantity: Some(quantity),
            defects: vec![Zone { x: x as f64, y: y as f64, length: 1.0, width: 1.0 }; usize::from(x < length && y < width)],
            ..Stock::default()
        }).collect();
        let clearances = Clearances { gap: 0.0, trim: 0.0 };
        let found = nest(&parts, &stock, clearances, &settings(Cutting::Free, 300, 1));
        prop_assert_eq!(faults(&parts, &stock, clearances, &found), Vec::<String>::new());
        // In units instead of micrometres, as the exact answer wants it.
        let bins: Vec<bin::Bin> = kinds.iter().enumerate().map(|(number, &(w, h, price, quantity, (x, y)))| {
            let taken = room::Rect { x, y, size: Size { width: 1, height: 1 } };
            let taken = if x < w && y < h { vec![taken] } else { vec![] };
            let usable = Size { width: w, height: h };
            let free = free_space::unoccupied(usable, &taken).into();
            let plain = bin::Bin::plain(usable);
            bin::Bin { number, stock: number, taken, free, cost: i128::from(price), quantity, ..plain }
        }).collect();
        let classes = sizes.iter().map(|&(width, height, free)| Class { size: Size { width, height }, free, count: 1 });
        let classes: Vec<Class> = classes.filter(|class| bins.iter().any(|bin| bin.holds(*class, Cutting::Free))).collect();
        prop_assert_eq!(found.too_large.len(), sizes.len() - classes.len());
        match exact::cheapest_free(&classes, &bins) {
            Some((cost, _)) => prop_assert_eq!((found.left_out, found.cost.used), (vec![], cost as f64)),
            None => prop_assert!(!found.left_out.is_empty() && !found.missing.is_empty()),
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(96))]

    #[test]
    fn every_packing_is_sound(parts in any_parts(), stock in any_stock(), clearances in any_clearances()) {
        let nesting = ordinary(&parts, &stock, clearances);
        prop_assert_eq!(faults(&parts, &stock, clearances, &nesting), Vec::<String>::new());
        let placed: usize = nesting.sheets.iter().map(|sheet| sheet.placed.len()).sum();
        prop_assert_eq!(placed + nesting.too_large.len() + nesting.left_out.len(), parts.len());
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
        let found = BOTH.map(|cutting| {
            let items = Items::plain(&classes, bin);
            let bound = bin.area() * bound::lower_bound(&classes, bin) as i128;
            search::pack(&items, bound, &settings(cutting, 300, 1), &mut |_| ControlFlow::Continue(())).len()
        });
        prop_assert_eq!(found, [exact::fewest_free(&classes, bin), exact::fewest_sawn(&classes, bin)]);
    }

    /// The same in a set number of stages.
    #[test]
    fn small_cases_in_stages_reach_the_optimum(
        sizes in prop::collection::vec((1_i64..6, 1_i64..6, any::<bool>()), 1..6), stages in 2_usize..5,
    ) {
        let bin = Size { width: 6, height: 5 };
        let classes: Vec<Class> = sizes
            .iter()
            .map(|&(width, height, free)| Class { size: Size { width, height }, free, count: 1 })
            .filter(|class| class.fits(bin))
            .collect();
        let bound = bin.area() * bound::lower_bound(&classes, bin) as i128;
        let settings = Settings { stages: Some(stages), ..settings(Cutting::Guillotine, 300, 1) };
        let bins = [bin::Bin::plain(bin).in_stages(stages)];
        let items = Items::new(&classes, &bins, bin::Reusable::new(0, 0, (0.0, 0.0)));
        let found = search::pack(&items, bound, &settings, &mut |_| ControlFlow::Continue(())).len();
        prop_assert_eq!(found, exact::fewest_staged(&classes, bin, stages));
    }

    /// Stages are kept, with a blade that takes something and sheets that are trimmed.
    #[test]
    fn packings_in_stages_are_sound(
        parts in any_parts(), stock in any_stock(), clearances in any_clearances(), stages in 2_usize..5,
    ) {
        let settings = Settings { stages: Some(stages), ..settings(Cutting::Guillotine, 200, 1) };
        let nesting = nest(&parts, &stock, clearances, &settings);
        prop_assert_eq!(nesting.stages, Some(stages));
        prop_assert_eq!(faults(&parts, &stock, clearances, &nesting), Vec::<String>::new());
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
