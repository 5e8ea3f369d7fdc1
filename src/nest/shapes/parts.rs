//! Parts on sheets laid by their rectangles, laid closer by their true shapes.
//!
//! Takes parts, stock and a packing that is free of faults; gives the same parts on fewer sheets, or with more of
//! a sheet left over, or nothing. A kit of rectangles costs no time: only where a part fills clearly less than its
//! rectangle, or another could lie in one of its openings, is anything tried. The result does not depend on
//! threads, nor on the order of the parts, since that of the packing does not.

use super::lot::Kind;
use super::ring::{LONGEST, Lie, Point};
use super::shape::Shape;
use super::sheets::{Board, Limits, Piece, Yard};
use crate::free_space::unoccupied;
use crate::geom::SheetPlacement;
use crate::problem::{Size, down, millimetres, up};
use crate::room::Rect;
use crate::{Clearances, Cutting, Part, Placed, Settings, Sheet, Stock, Turns};
use std::time::Instant;

/// mm between an arc and the straight sides around it.
const ARC_TOLERANCE: f64 = 0.05;

/// A part that fills more of its rectangle counts as that: the search would be slower and win next to nothing.
const FILLS: f64 = 0.97;

/// Most parts that are moved about at once; of larger packings the emptiest sheets.
const MOST_PIECES: usize = 300;

/// Sheets that are tried to be emptied, the emptiest first.
const TRIED: usize = 2;

/// Moves of a part for one step of the effort that is asked for: a step takes off and lays several rectangles.
const MOVES_A_STEP: usize = 2;

/// The sheets with the parts laid closer; `None` if nothing better is found. `least` is a proven number of sheets,
/// below which none is tried; `begun` is where a time limit starts.
pub(crate) fn improved(
    parts: &[Part],
    stock: &[Stock],
    clearances: Clearances,
    settings: &Settings,
    sheets: &[Sheet],
    least: usize,
    begun: Instant,
) -> Option<Vec<Sheet>> {
    let effort = settings.effort;
    if settings.cutting != Cutting::Free || effort.steps == 0 {
        return None;
    }
    let limits = Limits {
        seed: effort.seed,
        moves: effort.steps.saturating_mul(MOVES_A_STEP),
        streams: effort.streams,
        threads: effort.threads,
        deadline: effort.time_limit.map(|limit| begun + limit),
    };
    let mut best: Option<Vec<Sheet>> = None;
    loop {
        let now = best.as_deref().unwrap_or(sheets);
        let Some(floor) = Floor::new(parts, stock, clearances, now) else { return best };
        let by_fill = floor.by_fill();
        let fewer = by_fill
            .iter()
            .take(TRIED)
            .filter(|_| now.len() > least.max(1))
            .find_map(|&board| Some((board, floor.yard.emptied(&floor.pieces, board, &limits)?)));
        let Some((board, pieces)) = fewer else {
            let board = by_fill.first().copied().unwrap_or(0);
            let before = floor.largest_free(&floor.pieces, board);
            let shorter = floor.yard.shortened(&floor.pieces, board, &limits);
            let better = shorter.filter(|pieces| floor.largest_free(pieces, board) > before);
            return better.map(|pieces| floor.sheets(now, &pieces)).or(best);
        };
        let mut fewer = floor.sheets(now, &pieces);
        fewer.remove(floor.boards[board]);
        best = Some(fewer);
    }
}

/// Some sheets of a packing, in whole micrometres.
struct Floor<'a> {
    parts: &'a [Part],
    yard: Yard,
    pieces: Vec<Piece>,
    /// For each piece, its part.
    part_of: Vec<usize>,
    /// For each kind, its shape's box and area.
    kinds: Vec<(Point, Point, i64)>,
    /// For each board, the sheet.
    boards: Vec<usize>,
    sizes: Vec<Board>,
    gap: i64,
    trim: i64,
}

impl<'a> Floor<'a> {
    /// The emptiest sheets with their parts; `None` if true shapes could not help.
    fn new(parts: &'a [Part], stock: &[Stock], clearances: Clearances, sheets: &[Sheet]) -> Option<Self> {
        let (gap, trim) = (up(clearances.gap)?.max(0), up(clearances.trim)?.max(0));
        let boards = chosen(parts, stock, sheets);
        let on = |board: &usize| sheets[*board].placed.iter().map(|placed| placed.part);
        let smallest = boards.iter().flat_map(on).filter_map(|part| shortest_side(&parts[part])).min()?;
        let mut known: Vec<usize> = Vec::new();
        let (mut kinds, mut pieces, mut part_of) = (Vec::new(), Vec::new(), Vec::new());
        let mut shaped = false;
        for (board, &sheet) in boards.iter().enumerate() {
            for placed in &sheets[sheet].placed {
                let part = &parts[placed.part];
                let kind = if let Some(kind) = known.iter().position(|&other| alike(&parts[other], part)) {
                    kind
                } else {
                    let (shape, is_shaped) = shape_of(part, smallest + 2 * gap)?;
                    shaped |= is_shaped;
                    known.push(placed.part);
                    kinds.push(Kind { shape, lies: lies(part) });
                    known.len() - 1
                };
                let (lie, at) = lying(placed.placement, trim)?;
                pieces.push(Piece { kind, board, lie, at });
                part_of.push(placed.part);
            }
        }
        if !shaped {
            return None;
        }
        let sizes: Vec<Board> =
            boards.iter().map(|&sheet| board(&stock[sheets[sheet].stock], trim)).collect::<Option<_>>()?;
        let boxes =
            kinds.iter().map(|kind| (kind.shape.low, kind.shape.high, kind.shape.doubled_area())).collect();
        let kind_of = pieces.iter().map(|piece| piece.kind).collect();
        let yard = Yard::new(kinds, kind_of, sizes.clone(), gap)?;
        Some(Floor { parts, yard, pieces, part_of, kinds: boxes, boards, sizes, gap, trim })
    }

    /// The boards, the one filled least first.
    fn by_fill(&self) -> Vec<usize> {
        let used = |board: usize| -> f64 {
            let on = self.pieces.iter().filter(|piece| piece.board == board);
            let area: i64 = on.map(|piece| self.kinds[piece.kind].2 / 2).sum();
            area as f64 / (self.sizes[board].length as f64 * self.sizes[board].height as f64)
        };
        let mut order: Vec<usize> = (0..self.boards.len()).collect();
        order.sort_by(|&a, &b| used(a).total_cmp(&used(b)).then(b.cmp(&a)));
        order
    }

    /// Area of the largest rectangle on a board that no part's box reaches.
    fn largest_free(&self, pieces: &[Piece], board: usize) -> i128 {
        let size =
            Size { width: self.sizes[board].length + self.gap, height: self.sizes[board].height + self.gap };
        let grown = |low: Point, high: Point| Rect {
            x: low.x,
            y: low.y,
            size: Size { width: high.x - low.x + self.gap, height: high.y - low.y + self.gap },
        };
        let on = pieces.iter().filter(|piece| piece.board == board);
        let mut taken: Vec<Rect> = on
            .map(|piece| self.box_of(piece))
            .chain(self.sizes[board].defects.iter().copied())
            .map(|(low, high)| grown(low, high))
            .collect();
        taken.sort_by_key(|rect| (rect.x, rect.y));
        unoccupied(size, &taken).iter().map(|rect| rect.size.area()).max().unwrap_or(0)
    }

    fn box_of(&self, piece: &Piece) -> (Point, Point) {
        let (low, high, _) = self.kinds[piece.kind];
        let (a, b) = (piece.lie.apply(low).plus(piece.at), piece.lie.apply(high).plus(piece.at));
        (Point { x: a.x.min(b.x), y: a.y.min(b.y) }, Point { x: a.x.max(b.x), y: a.y.max(b.y) })
    }

    /// All sheets, those of this floor with the pieces where they lie now.
    fn sheets(&self, before: &[Sheet], pieces: &[Piece]) -> Vec<Sheet> {
        let mut sheets = before.to_vec();
        for (board, &sheet) in self.boards.iter().enumerate() {
            let mut on: Vec<usize> =
                (0..pieces.len()).filter(|&piece| pieces[piece].board == board).collect();
            on.sort_by_key(|&piece| (self.box_of(&pieces[piece]), &self.parts[self.part_of[piece]].name));
            let placed = |piece: usize| Placed {
                part: self.part_of[piece],
                placement: self.placement(&pieces[piece]),
            };
            sheets[sheet].placed = on.into_iter().map(placed).collect();
        }
        sheets
    }

    fn placement(&self, piece: &Piece) -> SheetPlacement {
        SheetPlacement {
            x: millimetres(piece.at.x + self.trim),
            y: millimetres(piece.at.y + self.trim),
            angle: f64::from(piece.lie.quarters) * 90.0,
            flipped: piece.lie.mirrored,
        }
    }
}

/// The sheets to work on, in their order: the emptiest, as many as hold no more than so many parts.
fn chosen(parts: &[Part], stock: &[Stock], sheets: &[Sheet]) -> Vec<usize> {
    let fill = |sheet: &Sheet| {
        let used: f64 = sheet.placed.iter().map(|placed| parts[placed.part].outline.area().abs()).sum();
        used / (stock[sheet.stock].length * stock[sheet.stock].width)
    };
    let mut order: Vec<(f64, usize)> =
        sheets.iter().map(fill).enumerate().map(|(i, fill)| (fill, i)).collect();
    order.sort_by(|a, b| a.0.total_cmp(&b.0).then(b.1.cmp(&a.1)));
    let mut held = 0;
    let mut chosen: Vec<usize> = order
        .into_iter()
        .map(|(_, sheet)| sheet)
        .take_while(|&sheet| {
            held += sheets[sheet].placed.len();
            held <= MOST_PIECES
        })
        .collect();
    chosen.sort_unstable();
    chosen
}

/// Whether two parts are the same to the search.
fn alike(a: &Part, b: &Part) -> bool {
    a.outline == b.outline && a.openings == b.openings && a.turns == b.turns && a.either_face == b.either_face
}

/// Micrometres of the shorter side of a part's rectangle.
fn shortest_side(part: &Part) -> Option<i64> {
    let (low, high) = part.outline.bounds();
    up((high.x - low.x).min(high.y - low.y))
}

/// The shape to lay a part by, and whether that is more than a rectangle. Openings smaller than `usable`
/// micrometres either way are filled: nothing goes into them.
fn shape_of(part: &Part, usable: i64) -> Option<(Shape, bool)> {
    let (low, high) = part.outline.bounds();
    let (low, high) = (Point { x: down(low.x)?, y: down(low.y)? }, Point { x: up(high.x)?, y: up(high.y)? });
    let openings: Vec<_> = part
        .openings
        .iter()
        .filter(|opening| {
            let (low, high) = opening.bounds();
            (high.x - low.x).min(high.y - low.y) * 1000.0 >= usable as f64
        })
        .cloned()
        .collect();
    let of_box = (high.x - low.x) as f64 * (high.y - low.y) as f64 / 1e6;
    let shaped = !openings.is_empty() || part.outline.area().abs() < FILLS * of_box;
    let shape =
        Some(()).filter(|()| shaped).and_then(|()| Shape::new(&part.outline, &openings, ARC_TOLERANCE));
    match shape {
        Some(shape) => Some((shape, true)),
        None => Some((Shape::rectangle(low, high)?, false)),
    }
}

/// The lies that a part may take.
fn lies(part: &Part) -> Vec<Lie> {
    let quarters: &[u8] = match part.turns {
        Turns::Fixed => &[0],
        Turns::GrainKept => &[0, 2],
        Turns::Free => &[0, 1, 2, 3],
    };
    let faces: &[bool] = if part.either_face { &[false, true] } else { &[false] };
    faces
        .iter()
        .flat_map(|&mirrored| quarters.iter().map(move |&quarters| Lie { quarters, mirrored }))
        .collect()
}

/// A placement in quarter turns and whole micrometres from the corner of the trimmed sheet.
fn lying(placement: SheetPlacement, trim: i64) -> Option<(Lie, Point)> {
    let quarters = [0_u8, 1, 2, 3]
        .into_iter()
        .find(|&quarters| (placement.angle - f64::from(quarters) * 90.0).abs() <= f64::EPSILON)?;
    let at = Point { x: down(placement.x)? - trim, y: down(placement.y)? - trim };
    Some((Lie { quarters, mirrored: placement.flipped }, at))
}

/// The sheet inside its trim; `None` if it is longer than the engine's numbers.
fn board(stock: &Stock, trim: i64) -> Option<Board> {
    let (length, height) = (down(stock.length)? - 2 * trim, down(stock.width)? - 2 * trim);
    let defects = stock
        .defects
        .iter()
        .map(|zone| {
            let low = Point { x: down(zone.x)? - trim, y: down(zone.y)? - trim };
            let high = Point { x: up(zone.x + zone.length)? - trim, y: up(zone.y + zone.width)? - trim };
            Some((low, high))
        })
        .collect::<Option<_>>()?;
    (length <= LONGEST && height <= LONGEST).then_some(Board { length, height, defects })
}
