//! The search for a packing on one kind of sheet: a first packing, then streams that look for fewer sheets.
//!
//! Takes classes, a sheet and settings, gives the spots on each sheet. The streams run in rounds, so that what
//! they find meets at points that depend on steps alone: threads decide who runs which stream, never what comes
//! out.

use super::bound;
use super::effort::{Cutting, Effort, Settings};
use super::free_space::FreeSpace;
use super::items::Items;
use super::problem::{Class, Size, Spot};
use super::room::Room;
use super::ruin::Stream;
use super::slices::Slices;
use super::start;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::time::Instant;

/// The spots on each sheet.
pub(super) type Layout = Vec<Vec<Spot>>;

/// The best packing found: fewest sheets, then least area on the least filled sheet, then the largest free
/// rectangle kept on it. The least filled sheet comes last. Every class must fit an empty sheet.
pub(super) fn pack(classes: &[Class], bin: Size, settings: &Settings) -> Layout {
    match settings.cutting {
        Cutting::Free => packed::<FreeSpace>(classes, bin, settings.effort),
        Cutting::Guillotine => packed::<Slices>(classes, bin, settings.effort),
    }
}

fn packed<R: Room>(classes: &[Class], bin: Size, effort: Effort) -> Layout {
    let items = Items::new(classes, bin);
    let begun = Instant::now();
    let first: Vec<R> = start::pack(&items);
    let bound = bound::lower_bound(classes, bin);
    let rooms = if first.len() <= bound { first } else { improved(&items, first, bound, effort, begun) };
    rooms.iter().map(|room| items.spots(room)).collect()
}

/// Steps of a round; between two rounds the streams learn what the others found.
const ROUND: usize = 500;

/// Steps between two looks at the clock, where there is a time limit.
const STEPS_UNTIMED: usize = 32;

/// What a stream's rounds must respect.
struct Limits {
    /// Sheets below which no packing can go.
    bound: usize,
    /// When to stop.
    deadline: Option<Instant>,
}

fn improved<R: Room>(items: &Items, first: Vec<R>, bound: usize, effort: Effort, begun: Instant) -> Vec<R> {
    let limits = Limits { bound, deadline: effort.time_limit.map(|limit| begun + limit) };
    let seed = |number: usize| effort.seed.wrapping_mul(0x9E37_79B9).wrapping_add(number as u64);
    let mut streams: Vec<Stream<R>> =
        (0..effort.streams.max(1)).map(|number| Stream::new(items, &first, seed(number))).collect();
    let mut left = effort.steps;
    while left > 0 {
        let steps = left.min(ROUND);
        left -= steps;
        run_round(&mut streams, steps, &limits, effort.threads);
        // The first of those with the fewest sheets: an order that does not depend on who was faster.
        let Some(best) = streams.iter().map(|stream| stream.whole().len()).min() else { break };
        let Some(found) = streams.iter().find(|stream| stream.whole().len() == best) else { break };
        let found = found.whole().to_vec();
        if best <= bound || limits.over() {
            return start::sorted(items, found);
        }
        for stream in streams.iter_mut().filter(|stream| stream.whole().len() > best) {
            stream.start_from(found.clone());
        }
    }
    streams.into_iter().next().map_or(first, |stream| start::sorted(items, stream.whole().to_vec()))
}

impl Limits {
    fn over(&self) -> bool {
        self.deadline.is_some_and(|deadline| Instant::now() >= deadline)
    }
}

/// A round of every stream. A stream stops once one before it has met the bound: that one's packing is taken.
fn run_round<R: Room>(streams: &mut [Stream<R>], steps: usize, limits: &Limits, threads: usize) {
    let met = AtomicUsize::new(usize::MAX);
    let share = streams.len().div_ceil(threads.max(1));
    let mut numbered: Vec<(usize, &mut Stream<R>)> = streams.iter_mut().enumerate().collect();
    if share == numbered.len() {
        numbered.iter_mut().for_each(|(number, stream)| run(*number, stream, steps, limits, &met));
        return;
    }
    std::thread::scope(|scope| {
        for some in numbered.chunks_mut(share) {
            let met = &met;
            scope.spawn(move || some.iter_mut().for_each(|(number, stream)| run(*number, stream, steps, limits, met)));
        }
    });
}

fn run<R: Room>(number: usize, stream: &mut Stream<R>, steps: usize, limits: &Limits, met: &AtomicUsize) {
    for step in 0..steps {
        if met.load(Ordering::Relaxed) < number || (step % STEPS_UNTIMED == 0 && limits.over()) {
            return;
        }
        if stream.step() && stream.whole().len() <= limits.bound {
            met.fetch_min(number, Ordering::Relaxed);
            return;
        }
    }
}
