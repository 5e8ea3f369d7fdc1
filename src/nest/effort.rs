//! How a nesting is to be made: how it will be cut, and how long to look for better ones.
//!
//! Plain settings, read by the search. Never a clock: only a time limit that is asked for reads one, and says
//! what that costs.

use std::time::Duration;

/// How the sheets will be cut.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Cutting {
    /// A router: parts may lie anywhere.
    #[default]
    Free,
    /// A panel saw: every cut goes straight through the piece that it divides, from edge to edge.
    Guillotine,
}

/// How long the search looks for better packings.
///
/// Counted in steps, not in seconds: the same parts, seed and effort give the same packing on every machine and
/// with any number of threads.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Effort {
    /// Steps of each stream, each of which takes a few parts off and lays them again. 0 leaves the first
    /// packing as it is.
    pub steps: usize,
    /// Where the random numbers start.
    pub seed: u64,
    /// Searches side by side, each with random numbers of its own; part of the result. At least 1 counts.
    pub streams: usize,
    /// Threads that run them; they change nothing but the time.
    pub threads: usize,
    /// Stop after so long, whatever the steps. Gives up repeatability: how many steps go into a second depends
    /// on the machine and on what else it does.
    pub time_limit: Option<Duration>,
    /// Whether to prove how few sheets there can be, and how little they can cost. Without a proof the bounds are 0; a search
    /// stops at what is proved, so this counts only where there is none, at 0 steps.
    pub proves: bool,
}

impl Effort {
    /// What a kit of so many parts gets if nothing else is asked for: about as many steps times parts whatever the
    /// kit's size, since a step takes longer the more parts there are. So a kit of a hundred parts is searched
    /// thoroughly, and one of two thousand is still made in seconds.
    pub fn ordinary(parts: usize) -> Self {
        let steps = (1_000_000 / parts.max(1)).clamp(500, 10_000);
        let threads = std::thread::available_parallelism().map_or(1, std::num::NonZero::get);
        Effort { steps, seed: 1, streams: 4, threads, time_limit: None, proves: true }
    }
}

/// How a nesting is to be made.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Settings {
    /// How the sheets will be cut.
    pub cutting: Cutting,
    /// Most stages of a saw's cuts, a stage being the cuts of all pieces in one direction: the trimming of the
    /// sheet's edges does not count, the last trimming of a part to its size does. At least 2 counts. None: as many
    /// as it takes.
    pub stages: Option<usize>,
    /// How long to look for better packings.
    pub effort: Effort,
    /// mm. The smallest rectangle that is worth keeping of a sheet, either way round.
    pub reusable: (f64, f64),
}

/// mm. The smallest offcut worth keeping if nobody says: common practice, no source.
const SMALLEST_OFFCUT: (f64, f64) = (600.0, 300.0);

impl Settings {
    /// Most stages of cuts, a great number where nothing limits them: a router knows none.
    pub(super) fn most_stages(&self) -> usize {
        match self.cutting {
            Cutting::Free => usize::MAX,
            Cutting::Guillotine => self.stages.unwrap_or(usize::MAX),
        }
    }

    /// For a router, with the effort that a kit of so many parts ordinarily gets.
    pub fn ordinary(parts: usize) -> Self {
        Settings {
            cutting: Cutting::Free,
            stages: None,
            effort: Effort::ordinary(parts),
            reusable: SMALLEST_OFFCUT,
        }
    }
}
