//! The nesting engines for `tests/benches/packing.rs` and `irregular.rs`, which see only what is public.
//!
//! Not an interface for anybody else: hidden from the documentation and free to change. Takes whole-millimetre
//! rectangles and one sheet, gives counts and places after the independent check.

use crate::geom::{PanelFrame, Path, Point2, SheetPlacement};
use crate::{Clearances, Cutting, Effort, Part, Settings, Stock, Turns, shapes};
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
        openings: Vec::new(),
        turns,
        either_face: false,
    };
    let parts: Vec<Part> = question.rectangles.iter().enumerate().map(part).collect();
    let (length, width) = question.sheet;
    let stock = [Stock { name: "sheet".to_owned(), length, width, ..Stock::default() }];
    let clearances = Clearances { gap: 0.0, trim: 0.0 };
    let settings = Settings {
        cutting: if question.guillotine { Cutting::Guillotine } else { Cutting::Free },
        stages: None,
        effort: Effort {
            proves: true,
            steps: question.steps,
            seed: question.seed,
            streams: question.streams,
            threads: question.threads,
            time_limit: question.time_limit,
        },
        ..Settings::ordinary(parts.len())
    };
    let nesting = crate::nest(&parts, &stock, clearances, &settings);
    let mut faults = crate::faults(&parts, &stock, clearances, &nesting);
    if nesting.cutting != settings.cutting || !nesting.too_large.is_empty() {
        faults.push("the answer is to another question".to_owned());
    }
    let place = |placed: &crate::Placed| {
        let SheetPlacement { x, y, angle, .. } = placed.placement;
        (placed.part, x, y, angle > 0.0)
    };
    let placed = nesting.sheets.iter().map(|sheet| sheet.placed.iter().map(place).collect()).collect();
    Answer { sheets: nesting.sheets.len(), bound: nesting.bound, faults, placed }
}

/// Corners, number and allowed quarter turns of pieces of one kind.
pub type StripKind = (Vec<(f64, f64)>, usize, Vec<u8>);

/// Polygons for a strip of given height, as short as can be.
#[derive(Clone, Debug)]
pub struct StripQuestion<'a> {
    /// Corners, number and allowed quarter turns of each kind.
    pub kinds: &'a [StripKind],
    /// Height of the strip.
    pub height: f64,
    /// Start of the random numbers.
    pub seed: u64,
    /// Pieces that each stream moves.
    pub moves: usize,
    /// Streams side by side, each in a thread.
    pub streams: usize,
    /// Most time.
    pub time_limit: Option<Duration>,
}

/// A strip's length, and for each piece its kind, x, y and quarter turns.
pub type StripAnswer = (f64, Vec<(usize, f64, f64, u8)>);

/// Lays the polygons on the strip; `None` if one of them is none, or goes on it in no turn.
#[must_use]
pub fn strip(question: &StripQuestion) -> Option<StripAnswer> {
    let kind = |(corners, count, quarters): &StripKind| {
        let outline: Path<PanelFrame> = Path::polygon(corners.iter().map(|&(x, y)| Point2::new(x, y)));
        let lies = quarters.iter().map(|&quarters| shapes::Lie { quarters, mirrored: false }).collect();
        Some((shapes::Kind { shape: shapes::Shape::new(&outline, &[], 0.05)?, lies }, *count))
    };
    let micrometres = |mm: f64| {
        #[expect(clippy::cast_possible_truncation, reason = "a strip of less than a kilometre")]
        {
            (mm * 1000.0) as i64
        }
    };
    let (kinds, counts) = question.kinds.iter().map(kind).collect::<Option<Vec<_>>>()?.into_iter().unzip();
    let (length, laid) = shapes::shortest(&shapes::Strip {
        kinds,
        counts,
        height: micrometres(question.height),
        gap: 0,
        seed: question.seed,
        moves: question.moves,
        streams: question.streams,
        time_limit: question.time_limit,
    })?;
    let mm = |micrometres: i64| micrometres as f64 / 1000.0;
    let placed = laid.iter().map(|piece| (piece.kind, mm(piece.x), mm(piece.y), piece.lie.quarters));
    Some((mm(length), placed.collect()))
}
