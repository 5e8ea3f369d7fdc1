//! The nesting engine for `tests/benches/packing.rs`, which as a program of its own sees only what is public.
//!
//! Not an interface for anybody else: hidden from the documentation and free to change. Takes whole-millimetre
//! rectangles and one sheet, gives counts and places after the independent check.

use crate::geom::{Path, SheetPlacement};
use crate::nest::{self, Clearances, Cutting, Effort, Part, Settings, Stock, Turns};
use std::time::Duration;

/// One question to the engine.
#[derive(Clone, Debug)]
pub struct Question<'a> {
    /// Length and width of each rectangle.
    pub rectangles: &'a [(f64, f64)],
    /// Length and width of the sheet.
    pub sheet: (f64, f64),
    /// Whether rectangles may be turned by a quarter.
    pub turns: bool,
    /// Whether every cut must go from edge to edge.
    pub guillotine: bool,
    /// Start of the random numbers.
    pub seed: u64,
    /// Most steps of each stream.
    pub steps: usize,
    /// Streams of the search.
    pub streams: usize,
    /// Threads that run them.
    pub threads: usize,
    /// Most time.
    pub time_limit: Option<Duration>,
}

/// What came of it.
#[derive(Clone, Debug, PartialEq)]
pub struct Answer {
    /// Sheets used.
    pub sheets: usize,
    /// Proven least number of sheets.
    pub bound: usize,
    /// What the independent check finds wrong.
    pub faults: Vec<String>,
    /// For each sheet: rectangle, x, y, turned by a quarter.
    pub placed: Vec<Vec<(usize, f64, f64, bool)>>,
}

/// Steps of each stream that so many parts get if nothing else is asked for.
#[must_use]
pub fn ordinary_steps(parts: usize) -> usize {
    Effort::ordinary(parts).steps
}

/// Nests the rectangles and checks the result.
#[must_use]
pub fn nest(question: &Question) -> Answer {
    let turns = if question.turns { Turns::Free } else { Turns::GrainKept };
    let part = |(number, &(length, width)): (usize, &(f64, f64))| Part {
        name: number.to_string(),
        outline: Path::rectangle(0.0, 0.0, length, width),
        turns,
    };
    let parts: Vec<Part> = question.rectangles.iter().enumerate().map(part).collect();
    let (length, width) = question.sheet;
    let stock = [Stock { name: "sheet".to_owned(), length, width }];
    let clearances = Clearances { gap: 0.0, trim: 0.0 };
    let settings = Settings {
        cutting: if question.guillotine { Cutting::Guillotine } else { Cutting::Free },
        effort: Effort {
            steps: question.steps,
            seed: question.seed,
            streams: question.streams,
            threads: question.threads,
            time_limit: question.time_limit,
        },
    };
    let nesting = nest::nest(&parts, &stock, clearances, &settings);
    let mut faults = nest::faults(&parts, &stock, clearances, &nesting);
    if nesting.cutting != settings.cutting || !nesting.too_large.is_empty() {
        faults.push("the answer is to another question".to_owned());
    }
    let place = |placed: &nest::Placed| {
        let SheetPlacement { x, y, angle, .. } = placed.placement;
        (placed.part, x, y, angle > 0.0)
    };
    let placed = nesting.sheets.iter().map(|sheet| sheet.placed.iter().map(place).collect()).collect();
    Answer { sheets: nesting.sheets.len(), bound: nesting.bound, faults, placed }
}
