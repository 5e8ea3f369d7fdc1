//! The search for a packing on one kind of sheet: a first packing, then streams that look for fewer sheets.
//!
//! Takes classes, a sheet and settings, gives the spots on each sheet. The streams run in rounds, so that what
//! they find meets at points that depend on steps alone: threads decide who runs which stream, never what comes
//! out.

use super::effort::{Cutting, Effort, Settings};
use super::free_space::FreeSpace;
use super::items::Items;
use super::problem::{Class, Size, Spot};
use super::room::Room;
use super::ruin::{Runner, Stream};
use super::slices::Slices;
use super::start;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::time::Instant;

/// The spots on each sheet.
pub(super) type Layout = Vec<Vec<Spot>>;

/// The best packing found: fewest sheets, then least area on the least filled sheet, then the largest free
/// rectangle kept on it. The least filled sheet comes last. Every class must fit an empty sheet; `bound`
/// is a proven least number of sheets, at which the search stops.
pub(super) fn pack(classes: &[Class], bin: Size, bound: usize, settings: &Settings) -> Layout {
    let stages = match settings.cutting {
        Cutting::Guillotine => settings.stages.unwrap_or(usize::MAX),
        Cutting::Free => usize::MAX,
    };
    let items = Items { stages, ..Items::new(classes, bin) };
    let begun = Instant::now();
    match settings.cutting {
        Cutting::Free => improved(&items, &start::pack::<FreeSpace>(&items), bound, settings, begun),
        Cutting::Guillotine => improved(&items, &start::pack::<Slices>(&items), bound, settings, begun),
    }
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

fn improved<R: Room>(
    items: &Items,
    first: &[R],
    bound: usize,
    settings: &Settings,
    begun: Instant,
) -> Layout {
    let effort = settings.effort;
    let mut best =
        (start::cost(items, first), first.iter().map(|room| items.spots(room)).collect::<Layout>());
    if first.len() <= bound || effort.steps == 0 {
        return best.1;
    }
    let limits = Limits { bound, deadline: effort.time_limit.map(|limit| begun + limit) };
    let mut streams = streams(items, first, settings);
    let mut left = effort.steps;
    while left > 0 && !limits.over() {
        let steps = left.min(ROUND);
        left -= steps;
        let met = run_round(&mut streams, steps, &limits, effort.threads);
        if let Some((_, layout)) = met.and_then(|number| streams[number].best()) {
            return layout;
        }
        let fewest = streams.iter().map(|stream| stream.sheets()).min().unwrap_or(0);
        for stream in &mut streams {
            stream.aim(fewest.saturating_sub(1));
        }
    }
    // The first of equals: an order that does not depend on who was faster.
    for found in streams.iter().filter_map(|stream| stream.best()) {
        if found.0 < best.0 {
            best = found;
        }
    }
    best.1
}

/// The streams. What a saw can cut a router can cut too, and each of the two kinds of room finds packings that
/// the other misses; so for a router every other stream works on slices.
fn streams<'a, R: Room + 'a>(
    items: &'a Items,
    first: &[R],
    settings: &Settings,
) -> Vec<Box<dyn Runner + 'a>> {
    let Effort { seed, streams, .. } = settings.effort;
    let stream = |number: usize| -> Box<dyn Runner + 'a> {
        let seed = seed.wrapping_mul(0x9E37_79B9_7F4A_7C15).wrapping_add(number as u64);
        let mut stream: Box<dyn Runner + 'a> = if settings.cutting == Cutting::Free && number % 2 == 1 {
            Box::new(Stream::new(items, start::plain::<Slices>(items), seed))
        } else {
            Box::new(Stream::new(items, first.to_vec(), seed))
        };
        stream.aim(first.len().saturating_sub(1));
        stream
    };
    (0..streams.max(1)).map(stream).collect()
}

impl Limits {
    fn over(&self) -> bool {
        self.deadline.is_some_and(|deadline| Instant::now() >= deadline)
    }
}

/// A round of every stream; the number of the first one that met the bound. A stream stops once one before it
/// has: that one's packing is taken.
fn run_round(
    streams: &mut [Box<dyn Runner + '_>],
    steps: usize,
    limits: &Limits,
    threads: usize,
) -> Option<usize> {
    let met = AtomicUsize::new(usize::MAX);
    let share = streams.len().div_ceil(threads.max(1));
    let run_all = |numbered: &mut [(usize, &mut Box<dyn Runner + '_>)]| {
        for (number, stream) in numbered {
            run(*number, stream.as_mut(), steps, limits, &met);
        }
    };
    let mut numbered: Vec<_> = streams.iter_mut().enumerate().collect();
    if share == numbered.len() {
        run_all(&mut numbered);
    } else {
        std::thread::scope(|scope| {
            for some in numbered.chunks_mut(share) {
                scope.spawn(|| run_all(some));
            }
        });
    }
    Some(met.into_inner()).filter(|&number| number < streams.len())
}

fn run(number: usize, stream: &mut dyn Runner, steps: usize, limits: &Limits, met: &AtomicUsize) {
    for step in 0..steps {
        if met.load(Ordering::Relaxed) < number || (step % STEPS_UNTIMED == 0 && limits.over()) {
            return;
        }
        if stream.step() && stream.sheets() <= limits.bound {
            met.fetch_min(number, Ordering::Relaxed);
            return;
        }
    }
}
