//! The cutting list of a sheet for a panel saw: numbered cuts in an order that can be done.
//!
//! Takes parts as they lie on a sheet, gives every cut with the piece that it divides, the setting of the fence and
//! what comes of it, down to the last trimming. Works on whole micrometres from the placements alone, so that with
//! the kerf taken off all sizes come out exact; never moves a part. What no saw can cut has no list.

mod order;
mod plan;

use super::problem::{down, millimetres, up};
use super::{Clearances, Part, Sheet, Stock};
use crate::geom::{Point2, SheetFrame};
use plan::{Laid, Saw};
use std::cmp::Reverse;

/// What a list is made for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Sawing {
    /// The gap is the blade's kerf.
    pub(crate) clearances: Clearances,
    /// Most stages of cuts; none: as many as it takes.
    pub(crate) stages: Option<usize>,
    /// mm, both sides of the least piece that is kept as an offcut, either way round.
    pub(crate) smallest: (f64, f64),
}

/// All cuts of a sheet.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct CutList {
    /// In order; the first is cut 1.
    pub(crate) cuts: Vec<Cut>,
}

impl CutList {
    /// mm of all cuts together.
    pub(crate) fn length(&self) -> f64 {
        self.cuts.iter().map(Cut::length).sum()
    }

    /// How often the fence is set: cuts in a row at one distance count once.
    pub(crate) fn settings(&self) -> usize {
        let same = |a: &Cut, b: &Cut| (a.runs, a.fence) == (b.runs, b.fence);
        self.cuts.chunk_by(same).count()
    }

    /// Stages, the trimming of the sheet's edges apart.
    pub(crate) fn stages(&self) -> usize {
        self.cuts.last().map_or(0, |cut| cut.stage)
    }
}

/// Which way a cut runs on the sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Runs {
    /// Along the sheet's length: divides the piece's width.
    Along,
    /// Across it: divides the piece's length.
    Across,
}

/// An edge of a piece as it lies in the picture of the sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Edge {
    /// Where x is least.
    Left,
    /// Where x is greatest.
    Right,
    /// Where y is least.
    Lower,
    /// Where y is greatest.
    Upper,
}

/// One cut through the whole of a piece.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Cut {
    /// 0 trims the sheet's edges; from 1 on, all cuts of a stage run one way and those of the next the other.
    pub(crate) stage: usize,
    /// The piece that it divides: 0 is the sheet, others are numbered in the order in which they come about.
    pub(crate) piece: usize,
    /// The piece before the cut.
    pub(crate) whole: Area,
    /// Which way it runs.
    pub(crate) runs: Runs,
    /// The edge that lies against the fence.
    pub(crate) against: Edge,
    /// What lies between the fence and the blade.
    pub(crate) kept: Outcome,
    /// What lies beyond the blade.
    pub(crate) beyond: Outcome,
    /// Micrometres between the fence and the blade.
    fence: i64,
    kerf: i64,
}

impl Cut {
    /// mm from the fence to the near side of the blade.
    pub(crate) fn fence(&self) -> f64 {
        millimetres(self.fence)
    }

    /// mm that the blade goes through material.
    pub(crate) fn length(&self) -> f64 {
        match self.runs {
            Runs::Along => self.whole.length(),
            Runs::Across => self.whole.width(),
        }
    }

    /// The middle of what the blade takes, from the lower or left end.
    pub(crate) fn line(&self) -> [Point2<SheetFrame>; 2] {
        let (low, high) = (self.whole.low(), self.whole.high());
        let half = millimetres(self.kerf) / 2.0;
        let (across, at) = match self.against {
            Edge::Left => (true, self.kept.area.high().x + half),
            Edge::Right => (true, self.kept.area.low().x - half),
            Edge::Lower => (false, self.kept.area.high().y + half),
            Edge::Upper => (false, self.kept.area.low().y - half),
        };
        if across {
            [Point2::new(at, low.y), Point2::new(at, high.y)]
        } else {
            [Point2::new(low.x, at), Point2::new(high.x, at)]
        }
    }
}

/// What lies on one side of a cut.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Outcome {
    /// What it is.
    pub(crate) what: What,
    /// Where it lay on the sheet; without extent if there is nothing.
    pub(crate) area: Area,
}

/// What a cut leaves on one side.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum What {
    /// A finished part: its index among the parts that were nested.
    Part(usize),
    /// A piece to be cut in the next stage.
    Piece(usize),
    /// The rest of the piece that was divided, to be cut on in this stage.
    Rest,
    /// Worth keeping; numbered from 1 in the order in which they come about.
    Offcut(usize),
    /// Not worth keeping.
    Waste,
    /// The blade took all of it.
    Nothing,
}

/// An upright rectangle of the sheet: micrometres by axis, along the sheet and across.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Area {
    low: [i64; 2],
    high: [i64; 2],
}

impl Area {
    /// mm along the sheet.
    pub(crate) fn length(self) -> f64 {
        millimetres(self.extent(0))
    }

    /// mm across the sheet.
    pub(crate) fn width(self) -> f64 {
        millimetres(self.extent(1))
    }

    /// Lower left corner.
    pub(crate) fn low(self) -> Point2<SheetFrame> {
        Point2::new(millimetres(self.low[0]), millimetres(self.low[1]))
    }

    /// Upper right corner.
    pub(crate) fn high(self) -> Point2<SheetFrame> {
        Point2::new(millimetres(self.high[0]), millimetres(self.high[1]))
    }

    fn extent(self, axis: usize) -> i64 {
        self.high[axis] - self.low[axis]
    }

    /// The rectangle with other ends along one axis.
    fn between(mut self, axis: usize, low: i64, high: i64) -> Self {
        (self.low[axis], self.high[axis]) = (low, high);
        self
    }

    fn square_micrometres(self) -> i128 {
        i128::from(self.extent(0)) * i128::from(self.extent(1))
    }
}

/// The cuts that part a sheet; none if it cannot be parted by cuts from edge to edge.
///
/// First the edges are trimmed, if there is a trim. Then either direction may begin: of the two lists that result,
/// those in the allowed stages go first, then the one with the largest offcut, the shorter cuts, the fewer stages.
pub(crate) fn cutting_list(parts: &[Part], stock: &Stock, sheet: &Sheet, sawing: Sawing) -> Option<CutList> {
    let Clearances { gap, trim } = sawing.clearances;
    let (length, width) = sawing.smallest;
    let (kerf, trim) = (up(gap)?, up(trim)?);
    let saw = Saw { kerf, smallest: [up(length.max(width))?, up(length.min(width))?] };
    let whole = Area { low: [0, 0], high: [down(stock.length)?, down(stock.width)?] };
    let laid = sheet.placed.iter().map(|placed| {
        let (low, high) = placed.placement.path_to_sheet(&parts.get(placed.part)?.outline).bounds();
        let area = Area { low: [down(low.x)?, down(low.y)?], high: [up(high.x)?, up(high.y)?] };
        Some(Laid { part: placed.part, area })
    });
    let laid: Vec<Laid> = laid.collect::<Option<_>>()?;
    let (mut cuts, inner) = edge_trim(whole, trim, kerf);
    let plans = [0, 1].into_iter().filter_map(|first| plan::plan(inner, &laid, first, saw));
    let best = plans.min_by_key(|stages| {
        let of_all = || stages.iter().flatten().flatten();
        let offcut = |outcome: &Outcome| matches!(outcome.what, What::Offcut(_));
        let offcuts = of_all().flat_map(|cut| [cut.kept, cut.beyond]).filter(offcut);
        let largest = offcuts.map(|outcome| outcome.area.square_micrometres()).max().unwrap_or(0);
        let length: i64 = of_all().map(|cut| cut.whole.extent(usize::from(cut.runs == Runs::Across))).sum();
        (sawing.stages.is_some_and(|most| stages.len() > most), Reverse(largest), length, stages.len())
    })?;
    cuts.extend(best.into_iter().flat_map(order::in_order));
    number(&mut cuts);
    Some(CutList { cuts })
}

/// The cuts that take the trim off: one long edge, the other from it, then the ends in the same way. And what is left.
fn edge_trim(whole: Area, trim: i64, kerf: i64) -> (Vec<Cut>, Area) {
    let mut left = whole;
    let mut cuts = Vec::new();
    if trim == 0 {
        return (cuts, left);
    }
    for against in [Edge::Upper, Edge::Lower, Edge::Right, Edge::Left] {
        let (axis, from_high) = match against {
            Edge::Left => (0, false),
            Edge::Right => (0, true),
            Edge::Lower => (1, false),
            Edge::Upper => (1, true),
        };
        let (low, high) = (left.low[axis], left.high[axis]);
        let (kept, beyond) = if from_high {
            (left.between(axis, low + trim, high), left.between(axis, low, (low + trim - kerf).max(low)))
        } else {
            (left.between(axis, low, high - trim), left.between(axis, (high - trim + kerf).min(high), high))
        };
        let taken = if beyond.extent(axis) > 0 { What::Waste } else { What::Nothing };
        cuts.push(Cut {
            stage: 0,
            piece: 0,
            whole: left,
            runs: if axis == 0 { Runs::Across } else { Runs::Along },
            against,
            kept: Outcome { what: What::Rest, area: kept },
            beyond: Outcome { what: taken, area: beyond },
            fence: kept.extent(axis),
            kerf,
        });
        left = kept;
    }
    (cuts, left)
}

/// Gives pieces and offcuts their numbers in the order in which the cuts make them.
fn number(cuts: &mut [Cut]) {
    let mut pieces = vec![0];
    let mut offcuts = 0;
    for cut in cuts {
        let of =
            |pieces: &[usize], piece: usize| pieces.iter().position(|&known| known == piece).unwrap_or(0);
        cut.piece = of(&pieces, cut.piece);
        for outcome in [&mut cut.kept, &mut cut.beyond] {
            match &mut outcome.what {
                What::Piece(piece) => {
                    pieces.push(*piece);
                    *piece = pieces.len() - 1;
                }
                What::Offcut(number) => {
                    offcuts += 1;
                    *number = offcuts;
                }
                What::Part(_) | What::Rest | What::Waste | What::Nothing => {}
            }
        }
    }
}
