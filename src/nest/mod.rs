//! Panels of one material and thickness onto stock sheets of several kinds.
//!
//! Takes outlines and stock, gives placements and proven lower bounds; knows nothing of bolts or files. The
//! search stands behind [`nest`] and can be replaced without touching anything else; [`faults()`] judges its
//! result independently. Rectangles come first; `shapes` then takes a router's parts as they truly are.

#[doc(hidden)]
pub mod bench_support;
mod bin;
mod bound;
mod cost_bound;
mod covering;
mod cuts;
mod cuttable;
mod dive;
mod dual;
mod effort;
#[cfg(test)]
mod exact;
mod faults;
mod figures;
mod free_space;
mod inward;
mod items;
mod model;
mod offcuts;
mod pool;
mod problem;
mod random;
mod rating;
mod repack;
mod room;
mod ruin;
mod search;
mod shapes;
mod slices;
mod start;
mod stock_faults;
mod straight_gap;
mod strips;
mod widen;

pub use cuts::{Area, Cut, CutList, Edge, Outcome, Runs, What, cutting_lists};
pub use effort::{Cutting, Effort, Settings};
pub use faults::faults;
pub use figures::Usage;
pub use inward::inward;
pub use model::{Clearances, Cost, CostBy, Nesting, Part, Placed, Sheet, Stock, Turns, Zone};

use baywright_geom as geom;
use cost_bound::Bounds;
use items::Items;
use problem::{Class, Problem};
use search::{Layout, Round};
use shapes::Sure;
use std::cmp::Reverse;
use std::ops::ControlFlow;
use std::time::Instant;

/// How far a nesting has come, for those who wait.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Progress {
    /// Sheets of the best packing so far.
    pub sheets: usize,
    /// Area of the parts' rectangles, the gap in them, as a share of the sheets' inside the trim.
    pub used: f64,
    /// Proven least number of sheets.
    pub bound: usize,
    /// Steps of the search that are done.
    pub done: usize,
    /// Steps to be done.
    pub steps: usize,
}

/// Lays parts of one material and thickness on sheets.
///
/// One packing may use several kinds of sheet. Packings are compared by what found no place (nothing, unless the
/// stock is used up), then by the cost of the sheets used, then by what is left to keep: see
/// [`rating`](rating::rating). The result is the same in whatever order the parts are given (parts that are
/// alike in size and name excepted: they may change places).
pub fn nest(parts: &[Part], stock: &[Stock], clearances: Clearances, settings: &Settings) -> Nesting {
    nest_watched(parts, stock, clearances, settings, &mut |_| ControlFlow::Continue(()))
}

/// As [`nest`]; `watch` is told now and then how far it is. Where it breaks off, the best so far is what there is.
pub fn nest_watched(
    parts: &[Part],
    stock: &[Stock],
    clearances: Clearances,
    settings: &Settings,
    watch: &mut dyn FnMut(Progress) -> ControlFlow<()>,
) -> Nesting {
    let begun = Instant::now();
    let problem = Problem::new(parts, stock, clearances, settings);
    let classes = problem.classes();
    let nothing = Bounds { cost: 0, sheets: 0 };
    let proves = settings.effort.proves || settings.effort.steps > 0;
    let bounds = if proves { cost_bound::bounds(&classes, &problem.bins, settings.cutting) } else { nothing };
    // A saw cuts the rectangles, and its kerf is straight. What holds for those does not hold for the shapes within
    // them, nor where the gap may be measured corner to corner.
    let free = settings.cutting == Cutting::Free && proves;
    let sure = free.then(|| Sure::of(parts, &problem.too_large, clearances)).flatten();
    let proved = match &sure {
        Some(sure) => sure.bounds(&problem.bins),
        None if free => straight_gap::bounds(&classes, &problem.bins, problem.gap, bounds),
        None => bounds,
    };
    let items = Items::new(&classes, &problem.bins, problem.reusable);
    let laid: i128 = classes.iter().map(|class| class.count as i128 * class.size.area()).sum();
    let mut told = |Round { sheets, area, done, steps }: Round| {
        let used = laid as f64 / area.max(1) as f64;
        watch(Progress { sheets, used, bound: proved.sheets, done, steps })
    };
    let mut layout = search::pack(&items, bounds.cost, settings, &mut told);
    // A sheet that costs nothing, an offcut, may be left over empty.
    layout.retain(|(_, spots)| !spots.is_empty());
    let used =
        |spots: &[problem::Spot]| spots.iter().map(|spot| classes[spot.class].size.area()).sum::<i128>();
    layout.sort_by_key(|(bin, spots)| (problem.bins[*bin].stock, Reverse(used(spots))));
    let costs: Vec<(usize, i128)> = problem.bins.iter().map(|bin| (bin.stock, bin.cost)).collect();
    let by = problem.cost_by;
    let mut nesting = finished(problem, &items, layout, proved, settings);
    if sure.is_some() && nesting.left_out.is_empty() {
        let closer =
            shapes::improved(parts, stock, clearances, settings, &nesting.sheets, nesting.bound, begun);
        if let Some(sheets) = closer {
            let cost =
                |sheet: &Sheet| costs.iter().find(|(stock, _)| *stock == sheet.stock).map_or(0, |c| c.1);
            nesting.cost.used = by.shown(sheets.iter().map(cost).sum());
            nesting.sheets = sheets;
        }
    }
    nesting
}

/// The packing in the caller's terms.
fn finished(problem: Problem, items: &Items, layout: Layout, bounds: Bounds, settings: &Settings) -> Nesting {
    let mut taken = vec![0; problem.groups.len()];
    let mut sheets = Vec::with_capacity(layout.len());
    let mut cost = 0;
    for (bin, mut spots) in layout {
        spots.sort_by_key(|spot| (spot.x, spot.y));
        sheets.push(problem.sheet(bin, &spots, &mut taken));
        cost += problem.bins[bin].cost;
    }
    let left_out = problem.left_out(&taken);
    let bounds = if left_out.is_empty() { bounds } else { Bounds { cost: 0, sheets: 0 } };
    let by = problem.cost_by;
    Nesting {
        sheets,
        bound: bounds.sheets,
        cost: Cost { by, used: by.shown(cost), least: by.shown(bounds.cost) },
        missing: missing(&problem, items, &taken, settings),
        too_large: problem.too_large,
        left_out,
        cutting: settings.cutting,
        stages: settings.stages,
    }
}

/// How many more sheets of which kind would hold what no sheet took: a first packing on kinds of which there are
/// any number, offcuts left aside unless nothing else holds a part.
fn missing(problem: &Problem, items: &Items, taken: &[usize], settings: &Settings) -> Vec<(usize, usize)> {
    let rest: Vec<Class> = items
        .classes
        .iter()
        .zip(taken)
        .map(|(class, &taken)| Class { count: class.count - taken, ..*class })
        .filter(|class| class.count > 0)
        .collect();
    let bought = |offcuts: bool| {
        let mut bins = problem.bins.clone();
        bins.retain(|bin| offcuts || bin.kept == 0);
        for (number, bin) in bins.iter_mut().enumerate() {
            (bin.number, bin.quantity) = (number, usize::MAX);
        }
        bins
    };
    let all_fit = |bins: &[bin::Bin]| {
        rest.iter().all(|&class| bins.iter().any(|bin| bin.holds(class, settings.cutting)))
    };
    let bins = Some(bought(false)).filter(|bins| all_fit(bins)).unwrap_or_else(|| bought(true));
    let no_search = Settings { effort: Effort { steps: 0, ..settings.effort }, ..*settings };
    let items = Items::new(&rest, &bins, problem.reusable);
    let mut missing: Vec<(usize, usize)> = Vec::new();
    for (bin, _) in search::pack(&items, 0, &no_search, &mut |_| ControlFlow::Continue(())) {
        let stock = bins[bin].stock;
        match missing.iter_mut().find(|(other, _)| *other == stock) {
            Some((_, count)) => *count += 1,
            None => missing.push((stock, 1)),
        }
    }
    missing.sort_unstable();
    missing
}

#[cfg(test)]
mod tests;
