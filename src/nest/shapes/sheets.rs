//! Pieces on sheets: a sheet emptied into the others, or one cleared towards its far end.
//!
//! Takes pieces where they lie free of each other, gives them elsewhere, free of each other again by the exact
//! check, or nothing. Pieces may move between the sheets, into openings of others, around defects. Effort is
//! counted in moves; only a deadline that is asked for reads a clock.

use super::apart::are_apart;
use super::lot::{Kind, Lot};
use super::ring::{Lie, Point};
use super::separate::{Patience, Place, Separation};
use super::shape::Shape;
use super::strip::GAP_TOLERANCE;
use crate::random::Random;
use std::time::Instant;

/// A sheet inside its trim; its corner is the origin of the places on it.
#[derive(Clone, Debug)]
pub(super) struct Board {
    /// Micrometres along the sheet.
    pub length: i64,
    /// Micrometres across it.
    pub height: i64,
    /// Corners of rectangles from which pieces keep the gap.
    pub defects: Vec<(Point, Point)>,
}

/// A piece on a sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Piece {
    /// Index of its kind.
    pub kind: usize,
    /// Index of the sheet.
    pub board: usize,
    /// How it lies.
    pub lie: Lie,
    /// Where its origin comes to lie.
    pub at: Point,
}

/// How long to look.
#[derive(Clone, Copy, Debug)]
pub(super) struct Limits {
    /// Start of the random numbers.
    pub seed: u64,
    /// Pieces that each stream moves.
    pub moves: usize,
    /// Streams; part of the result.
    pub streams: usize,
    /// Threads that run them; they change nothing but the time.
    pub threads: usize,
    /// When to stop; gives up repeatability.
    pub deadline: Option<Instant>,
}

/// Shapes, sheets, and what may not overlap.
#[derive(Debug)]
pub(super) struct Yard {
    lot: Lot,
    kinds: Vec<Kind>,
    boards: Vec<Board>,
    /// Kinds and places of the defects, which come after the pieces.
    defects: Vec<(usize, usize)>,
    gap: i64,
}

/// Share of the sheets that shapes can fill at best, to spare hopeless trials: no packing of the published
/// instances reaches it.
const FILLED_AT_BEST: f64 = 0.96;

impl Yard {
    /// Sheets and pieces of these kinds, given by kind. `None` if the shapes are too many and too finely drawn.
    pub(super) fn new(
        mut kinds: Vec<Kind>,
        mut kind_of: Vec<usize>,
        boards: Vec<Board>,
        gap: i64,
    ) -> Option<Self> {
        let mut defects = Vec::new();
        for (number, board) in boards.iter().enumerate() {
            for &(low, high) in &board.defects {
                let lies = vec![Lie { quarters: 0, mirrored: false }];
                kinds.push(Kind { shape: Shape::rectangle(low, high)?, lies });
                defects.push((number, kinds.len() - 1));
                kind_of.push(kinds.len() - 1);
            }
        }
        let lot = Lot::new(&kinds, kind_of, gap, GAP_TOLERANCE)?;
        Some(Yard { lot, kinds, boards, defects, gap })
    }

    /// The pieces with nothing on the sheet `board`.
    pub(super) fn emptied(&self, pieces: &[Piece], board: usize, limits: &Limits) -> Option<Vec<Piece>> {
        let area = |kept: &dyn Fn(usize) -> bool| -> f64 {
            let boards = self.boards.iter().enumerate().filter(|(number, _)| kept(*number));
            boards.map(|(_, board)| board.length as f64 * board.height as f64).sum()
        };
        let used: f64 =
            pieces.iter().map(|piece| self.lot.sides[piece.kind] * self.lot.sides[piece.kind]).sum();
        if used > FILLED_AT_BEST * area(&|number| number != board) {
            return None;
        }
        let found = every(limits, &|seed| {
            let mut search = self.search(pieces, seed)?;
            search.close(board);
            if !scatter(&mut search, pieces, board) {
                return None;
            }
            let over = |search: &Separation| over(search, limits);
            let patience = Patience { passes: usize::MAX, strikes: 1 };
            search.settle(patience, &over).then(|| self.pieces(&search, pieces))
        });
        found.into_iter().find(|pieces| self.are_free(pieces))
    }

    /// The pieces with the sheet `board` used to a lesser length, as short as can be found.
    pub(super) fn shortened(&self, pieces: &[Piece], board: usize, limits: &Limits) -> Option<Vec<Piece>> {
        let mut found = every(limits, &|seed| {
            let mut search = self.search(pieces, seed)?;
            let first = self.length_on(&search, board, pieces.len());
            let mut best = (first, search.places.clone());
            let mut shrink = 0.1;
            let over = |search: &Separation| over(search, limits);
            while shrink > 0.003 && !over(&search) {
                let length = (best.0 * (1.0 - shrink)).floor();
                search.bins[board][0] = length;
                search.forget_weights();
                if pushed_in(&mut search, &best.1, board)
                    && search.settle(Patience { passes: 60, strikes: 1 }, &over)
                {
                    best = (self.length_on(&search, board, pieces.len()), search.places.clone());
                } else {
                    shrink *= 0.5;
                }
            }
            search.bins[board][0] = self.boards[board].length as f64;
            search.set_places(&best.1);
            (best.0 < first).then(|| (best.0, self.pieces(&search, pieces)))
        });
        found.sort_by(|a, b| a.0.total_cmp(&b.0));
        found.into_iter().map(|(_, pieces)| pieces).find(|pieces| self.are_free(pieces))
    }

    /// The pieces where they lie, and the defects, which stay.
    fn search(&self, pieces: &[Piece], seed: u64) -> Option<Separation<'_>> {
        let bins = self.boards.iter().map(|board| [board.length as f64, board.height as f64]).collect();
        let mut places = Vec::with_capacity(pieces.len() + self.defects.len());
        for piece in pieces {
            let variant = self.lot.variant(piece.kind, piece.lie)?;
            places.push(Place { bin: piece.board, variant, x: piece.at.x as f64, y: piece.at.y as f64 });
        }
        for &(bin, kind) in &self.defects {
            places.push(Place { bin, variant: self.lot.choices[kind][0], x: 0.0, y: 0.0 });
        }
        Some(Separation::new(&self.lot, bins, &places, pieces.len(), Random::new(seed)))
    }

    /// Where the pieces lie now.
    fn pieces(&self, search: &Separation, before: &[Piece]) -> Vec<Piece> {
        let moved = |(piece, place): (&Piece, &Place)| {
            #[expect(clippy::cast_possible_truncation, reason = "whole and at most LONGEST")]
            let at = Point { x: place.x as i64, y: place.y as i64 };
            Piece { kind: piece.kind, board: place.bin, lie: self.lot.variants[place.variant].lie, at }
        };
        before.iter().zip(&search.places).map(moved).collect()
    }

    /// How far the pieces on a sheet reach.
    fn length_on(&self, search: &Separation, board: usize, n_pieces: usize) -> f64 {
        let on = search.places[..n_pieces].iter().filter(|place| place.bin == board);
        on.map(|place| place.x + self.lot.variants[place.variant].high[0]).fold(0.0, f64::max)
    }

    /// Whether all pieces lie on their sheets and a gap from each other and from defects: exact.
    pub(super) fn are_free(&self, pieces: &[Piece]) -> bool {
        let placed = |kind: &Kind, lie: Lie, at: Point| -> (Vec<Vec<Point>>, Point, Point) {
            let moved = |ring: &Vec<Point>| lie.apply_to(ring).into_iter().map(|p| p.plus(at)).collect();
            let (a, b) = (lie.apply(kind.shape.low).plus(at), lie.apply(kind.shape.high).plus(at));
            let low = Point { x: a.x.min(b.x), y: a.y.min(b.y) };
            let high = Point { x: a.x.max(b.x), y: a.y.max(b.y) };
            (kind.shape.pieces.iter().map(moved).collect(), low, high)
        };
        let mut all = Vec::with_capacity(pieces.len() + self.defects.len());
        for piece in pieces {
            let kind = &self.kinds[piece.kind];
            let (rings, low, high) = placed(kind, piece.lie, piece.at);
            let board = &self.boards[piece.board];
            if low.x < 0 || low.y < 0 || high.x > board.length || high.y > board.height {
                return false;
            }
            all.push((piece.board, rings, low, high, kind.shape.slack));
        }
        let still = Lie { quarters: 0, mirrored: false };
        for &(board, kind) in &self.defects {
            let (rings, low, high) = placed(&self.kinds[kind], still, Point { x: 0, y: 0 });
            all.push((board, rings, low, high, 0));
        }
        let n_pieces = pieces.len();
        (0..n_pieces).all(|i| {
            let (board, rings, low, high, slack) = &all[i];
            all[i + 1..].iter().all(|(other_board, others, other_low, other_high, other_slack)| {
                // Boxes of the true outlines are exact: where those are apart, rounding does not matter.
                board != other_board
                    || other_low.x - high.x >= self.gap
                    || low.x - other_high.x >= self.gap
                    || other_low.y - high.y >= self.gap
                    || low.y - other_high.y >= self.gap
                    || are_apart(rings, others, self.gap + slack + other_slack)
            })
        })
    }
}

/// Every stream's find, in the order of the streams; threads decide nothing.
fn every<T: Send>(limits: &Limits, run: &(dyn Fn(u64) -> Option<T> + Sync)) -> Vec<T> {
    let streams = limits.streams.max(1);
    let seed = |number: usize| limits.seed.wrapping_mul(0x9E37_79B9_7F4A_7C15).wrapping_add(number as u64);
    let numbers: Vec<usize> = (0..streams).collect();
    let share = streams.div_ceil(limits.threads.max(1));
    let mut found = Vec::new();
    std::thread::scope(|scope| {
        let some =
            |numbers: &[usize]| numbers.iter().filter_map(|&number| run(seed(number))).collect::<Vec<T>>();
        let handles: Vec<_> = numbers.chunks(share).map(|chunk| scope.spawn(move || some(chunk))).collect();
        found.extend(handles.into_iter().filter_map(|handle| handle.join().ok()).flatten());
    });
    found
}

fn over(search: &Separation, limits: &Limits) -> bool {
    search.moves >= limits.moves || limits.deadline.is_some_and(|deadline| Instant::now() >= deadline)
}

/// The pieces of a sheet on random places of others; false if one of them goes on none.
fn scatter(search: &mut Separation, pieces: &[Piece], board: usize) -> bool {
    (0..pieces.len()).filter(|&piece| pieces[piece].board == board).all(|piece| search.throw(piece))
}

/// Brings the places inside their sheets after the sheet `board` was made shorter; false if a piece goes on no
/// sheet any more.
fn pushed_in(search: &mut Separation, places: &[Place], board: usize) -> bool {
    let mut pushed = places.to_vec();
    let mut homeless = Vec::new();
    for (piece, place) in pushed.iter_mut().enumerate().filter(|(_, place)| place.bin == board) {
        match search.range(board, place.variant) {
            Some((low, high)) => place.x = place.x.clamp(low[0], high[0]),
            None => homeless.push(piece),
        }
    }
    search.set_places(&pushed);
    homeless.into_iter().all(|piece| search.throw(piece))
}
