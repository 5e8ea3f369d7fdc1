//! The search for a packing: a first one, then streams that look for cheaper ones.
//!
//! Takes the rectangles, the kinds of sheet and settings, gives the spots on each sheet. The streams run in
//! rounds, so that what they find meets at points that depend on steps alone: threads decide who runs which
//! stream, never what comes out.

use super::effort::{Cutting, Effort, Settings};
use super::free_space::FreeSpace;
use super::items::Items;
use super::problem::Spot;
use super::rating::rating;
use super::room::Room;
use super::ruin::{Runner, Stream};
use super::start::{self, First};
use super::strips::Strips;
use std::ops::ControlFlow;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::time::Instant;

/// For each sheet, its kind and the spots on it.
pub(super) type Layout = Vec<(usize, Vec<Spot>)>;

/// How far the search has come, for those who wait.
#[derive(Clone, Copy, Debug)]
pub(super) struct Round {
    /// Sheets of the cheapest packing so far.
    pub(super) sheets: usize,
    /// Their usable area, square micrometres.
    pub(super) area: i128,
    /// Steps of each stream that are done, and that there are to be.
    pub(super) done: usize,
    pub(super) steps: usize,
}

/// The best packing found: least left out, then least cost, then most left to keep. `bound` is a proven least cost,
/// at which the search stops. `watch` is told after each round, and may stop it.
pub(super) fn pack(items: &Items, bound: i128, settings: &Settings, watch: &mut Watch<'_>) -> Layout {
    let begun = Instant::now();
    match settings.cutting {
        Cutting::Free => improved(items, start::pack::<FreeSpace>(items), bound, settings, begun, watch),
        Cutting::Guillotine => improved(items, start::pack::<Strips>(items), bound, settings, begun, watch),
    }
}

/// The sheets of a packing of everything; less cost is less.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Whole {
    /// Of all sheets.
    pub(super) cost: i128,
    /// How many.
    pub(super) sheets: usize,
    /// Their usable area.
    pub(super) area: i128,
}

/// The sheets of these kinds together.
pub(super) fn whole(items: &Items, kinds: impl Iterator<Item = usize>) -> Whole {
    kinds.fold(Whole { cost: 0, sheets: 0, area: 0 }, |sum, kind| Whole {
        cost: sum.cost + items.bins[kind].cost,
        sheets: sum.sheets + 1,
        area: sum.area + items.bins[kind].usable.area(),
    })
}

fn held(items: &Items, layout: &Layout) -> Whole {
    whole(items, layout.iter().map(|(kind, _)| *kind))
}

/// What lies on each sheet.
pub(super) fn layout<R: Room>(items: &Items, rooms: &[R]) -> Layout {
    rooms.iter().map(|room| (room.kind(), items.spots(room))).collect()
}

/// Steps of a round; between two rounds the streams learn what the others found.
const ROUND: usize = 500;

/// Steps between two looks at the clock, where there is a time limit.
const STEPS_UNTIMED: usize = 32;

/// Told after a round; says whether to go on.
pub(super) type Watch<'a> = dyn FnMut(Round) -> ControlFlow<()> + 'a;

/// What a stream's rounds must respect.
struct Limits {
    /// Cost below which no packing can go.
    bound: i128,
    /// When to stop.
    deadline: Option<Instant>,
}

fn improved<R: Room>(
    items: &Items,
    first: First<R>,
    bound: i128,
    settings: &Settings,
    begun: Instant,
    watch: &mut Watch<'_>,
) -> Layout {
    let effort = settings.effort;
    let First { best, nearest } = first;
    let mut best = (rating(items, &best), layout(items, &best));
    let whole = best.0.left_out == 0;
    if items.len() == 0 || (whole && best.0.cost <= bound) || effort.steps == 0 {
        return best.1;
    }
    let limits = Limits { bound, deadline: effort.time_limit.map(|limit| begun + limit) };
    let mut streams = streams(items, &nearest, settings);
    let mut cheapest = whole.then(|| held(items, &best.1));
    let mut left = effort.steps;
    while left > 0 && !limits.over() {
        if let Some(Whole { cost, .. }) = cheapest {
            for stream in &mut streams {
                stream.aim_below(cost);
            }
        }
        let steps = left.min(ROUND);
        left -= steps;
        let met = run_round(&mut streams, steps, &limits, effort.threads);
        if let Some(number) = met {
            return streams[number].best().1;
        }
        cheapest = streams.iter().filter_map(|stream| stream.cheapest()).chain(cheapest).min();
        let Whole { sheets, area, .. } = cheapest.unwrap_or_else(|| held(items, &best.1));
        if watch(Round { sheets, area, done: effort.steps - left, steps: effort.steps }).is_break() {
            break;
        }
    }
    // The first of equals: an order that does not depend on who was faster.
    for found in streams.iter().map(|stream| stream.best()) {
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
        // Of each kind of room one keeps room first, the next does not.
        let keeps_room = (number / 2).is_multiple_of(2);
        if settings.cutting == Cutting::Free && number % 2 == 1 {
            Box::new(Stream::new(items, start::plain::<Strips>(items), seed, keeps_room))
        } else {
            Box::new(Stream::new(items, first.to_vec(), seed, keeps_room))
        }
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
        if stream.step() && stream.cheapest().is_some_and(|whole| whole.cost <= limits.bound) {
            met.fetch_min(number, Ordering::Relaxed);
            return;
        }
    }
}
