//! The cutting list of a sheet for a panel saw: numbered cuts in an order that can be done.
//!
//! Takes parts as they lie on a sheet, gives every cut with the piece that it divides, the setting of the fence and
//! what comes of it, down to the last trimming. Works on whole micrometres from the placements alone, so that with
//! the kerf taken off all sizes come out exact; never moves a part. What no saw can cut has no list.

mod order;
mod plan;

use super::problem::{down, millimetres, up};
use super::{Clearances, Cutting, Nesting, Part, Settings, Sheet, Stock, Zone};
use crate::geom::{Point2, SheetFrame};
use plan::{Laid, Saw};
use std::cmp::Reverse;

/// What a list is made for.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Sawing {
    /// The gap is the blade's kerf.
    clearances: Clearances,
    /// Most stages of cuts; none: as many as it takes.
    stages: Option<usize>,
    /// mm, both sides of the least piece that is kept as an offcut, either way round.
    smallest: (f64, f64),
}

/// All cuts of a sheet.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct CutList {
    /// In order; the first is cut 1.
    pub cuts: Vec<Cut>,
}

impl CutList {
    /// mm of all cuts together.
    pub fn length(&self) -> f64 {
        self.cuts.iter().map(Cut::length).sum()
    }

    /// How often the fence is set: cuts in a row at one distance count once.
    pub fn settings(&self) -> usize {
        let same = |a: &Cut, b: &Cut| (a.runs, a.fence) == (b.runs, b.fence);
        self.cuts.chunk_by(same).count()
    }

    /// What the cuts leave that is worth keeping, the largest first.
    pub fn offcuts(&self) -> Vec<Zone> {
        let outcomes = self.cuts.iter().flat_map(|cut| [cut.kept, cut.beyond]);
        let offcuts = outcomes.filter(|outcome| matches!(outcome.what, What::Offcut(_)));
        let mut zones: Vec<Zone> = offcuts.map(|outcome| outcome.area.zone()).collect();
        zones.sort_by(|a, b| (b.length * b.width).total_cmp(&(a.length * a.width)));
        zones
    }

    /// Stages, the trimming of the sheet's edges apart.
    pub fn stages(&self) -> usize {
        self.cuts.last().map_or(0, |cut| cut.stage)
    }
}

/// Which way a cut runs on the sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Runs {
    /// Along the sheet's length: divides the piece's width.
    Along,
    /// Across it: divides the piece's length.
    Across,
}

/// An edge of a piece as it lies in the picture of the sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Edge {
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
pub struct Cut {
    /// 0 trims the sheet's edges; from 1 on, all cuts of a stage run one way and those of the next the other.
    pub stage: usize,
    /// The piece that it divides: 0 is the sheet, others are numbered in the order in which they come about.
    pub piece: usize,
    /// The piece before the cut.
    pub whole: Area,
    /// Which way it runs.
    pub runs: Runs,
    /// The edge that lies against the fence.
    pub against: Edge,
    /// What lies between the fence and the blade.
    pub kept: Outcome,
    /// What lies beyond the blade.
    pub beyond: Outcome,
    /// Micrometres between the fence and the blade.
    fence: i64,
    kerf: i64,
}

impl Cut {
    /// mm from the fence to the near side of the blade.
    pub fn fence(&self) -> f64 {
        millimetres(self.fence)
    }

    /// mm that the blade goes through material.
    pub fn length(&self) -> f64 {
        match self.runs {
            Runs::Along => self.whole.length(),
            Runs::Across => self.whole.width(),
        }
    }

    /// The middle of what the blade takes, from the lower or left end.
    pub fn line(&self) -> [Point2<SheetFrame>; 2] {
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
pub struct Outcome {
    /// What it is.
    pub what: What,
    /// Where it lay on the sheet; without extent if there is nothing.
    pub area: Area,
}

/// What a cut leaves on one side.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum What {
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
pub struct Area {
    low: [i64; 2],
    high: [i64; 2],
}

impl Area {
    /// mm along the sheet.
    pub fn length(self) -> f64 {
        millimetres(self.extent(0))
    }

    /// mm across the sheet.
    pub fn width(self) -> f64 {
        millimetres(self.extent(1))
    }

    /// Lower left corner.
    pub fn low(self) -> Point2<SheetFrame> {
        Point2::new(millimetres(self.low[0]), millimetres(self.low[1]))
    }

    /// Upper right corner.
    pub fn high(self) -> Point2<SheetFrame> {
        Point2::new(millimetres(self.high[0]), millimetres(self.high[1]))
    }

    fn zone(self) -> Zone {
        let low = self.low();
        Zone { x: low.x, y: low.y, length: self.length(), width: self.width() }
    }

    fn extent(self, axis: usize) -> i64 {
        self.high[axis] - self.low[axis]
    }

    /// The rectangle with other ends along one axis.
    fn between(mut self, axis: usize, low: i64, high: i64) -> Self {
        (self.low[axis], self.high[axis]) = (low, high);
        self
    }

    /// Whether the two have more than edges in common.
    fn overlaps(self, other: Area) -> bool {
        (0..2).all(|axis| self.low[axis] < other.high[axis] && other.low[axis] < self.high[axis])
    }

    fn square_micrometres(self) -> i128 {
        i128::from(self.extent(0)) * i128::from(self.extent(1))
    }
}

/// The cuts of every sheet of a nesting for a saw; none for a router.
pub fn cutting_lists(
    parts: &[Part],
    stock: &[Stock],
    nesting: &Nesting,
    clearances: Clearances,
    settings: &Settings,
) -> Vec<CutList> {
    if nesting.cutting == Cutting::Free {
        return Vec::new();
    }
    let sawing = Sawing { clearances, stages: nesting.stages, smallest: settings.reusable };
    let list = |sheet: &Sheet| cutting_list(parts, stock.get(sheet.stock)?, sheet, sawing);
    nesting.sheets.iter().map(|sheet| list(sheet).unwrap_or_default()).collect()
}

/// The cuts that part a sheet; none if it cannot be parted by cuts from edge to edge.
///
/// First the edges are trimmed, if there is a trim. Then either direction may begin: of the two lists that result,
/// those in the allowed stages go first, then the one with the largest offcut, the shorter cuts, the fewer stages.
fn cutting_list(parts: &[Part], stock: &Stock, sheet: &Sheet, sawing: Sawing) -> Option<CutList> {
    let Clearances { gap, trim } = sawing.clearances;
    let (length, width) = sawing.smallest;
    let (kerf, trim) = (up(gap)?, up(trim)?);
    let defects = stock.defects.iter().map(|zone| {
        let high = [up(zone.x + zone.length)?, up(zone.y + zone.width)?];
        Some(Area { low: [down(zone.x)?, down(zone.y)?], high })
    });
    let defects: Vec<Area> = defects.collect::<Option<_>>()?;
    let smallest = [up(length.max(width))?, up(length.min(width))?];
    let saw = Saw { kerf, smallest, defects: &defects };
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
    if let ([one], Some(last)) = (&laid[..], cuts.last_mut().filter(|_| best.is_empty())) {
        // The trimmed sheet is the part.
        last.kept.what = What::Part(one.part);
    }
    cuts.extend(best.iter().flat_map(|chains| order::in_order(chains)));
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
        cut.piece = pieces.iter().position(|&known| known == cut.piece).unwrap_or(0);
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

#[cfg(test)]
mod tests {
    use super::super::{Placed, Turns, Zone};
    use super::*;
    use crate::geom::{Path, SheetPlacement};

    /// The list of parts that lie with their lower left corners at the given points.
    fn list(sheet: (f64, f64), sawing: Sawing, parts: &[(f64, f64, f64, f64)]) -> Option<CutList> {
        let stock = Stock { name: "sheet".to_owned(), length: sheet.0, width: sheet.1, ..Stock::default() };
        let part = |&(_, _, length, width): &(f64, f64, f64, f64)| Part {
            name: "part".to_owned(),
            outline: Path::rectangle(0.0, 0.0, length, width),
            openings: Vec::new(),
            either_face: false,
            turns: Turns::GrainKept,
        };
        let placed = |(part, &(x, y, ..)): (usize, &(f64, f64, f64, f64))| Placed {
            part,
            placement: SheetPlacement { x, y, angle: 0.0, flipped: false },
        };
        let on_it = Sheet { stock: 0, placed: parts.iter().enumerate().map(placed).collect() };
        cutting_list(&parts.iter().map(part).collect::<Vec<_>>(), &stock, &on_it, sawing)
    }

    fn sawing(kerf: f64, trim: f64, stages: usize) -> Sawing {
        let clearances = Clearances { gap: kerf, trim };
        Sawing { clearances, stages: Some(stages), smallest: (400.0, 250.0) }
    }

    /// Stage, piece, direction, fence, then both sides: short enough to be written down by hand.
    fn told(list: &CutList) -> Vec<String> {
        let side = |side: &Outcome| format!("{:?} {}x{}", side.what, side.area.length(), side.area.width());
        let cuts = list.cuts.iter();
        cuts.map(|cut| {
            let (kept, beyond) = (side(&cut.kept), side(&cut.beyond));
            format!("{} {} {:?} {}: {kept} | {beyond}", cut.stage, cut.piece, cut.runs, cut.fence())
        })
        .collect()
    }

    /// 1000 x 500, 10 trimmed, a blade of 4: inside, 980 x 480. Two of 400 x 200 one above the other, beside them
    /// one of 300 x 480, whose height leaves the first stage no choice.
    #[test]
    fn a_list_worked_out_by_hand() {
        let parts = [(10.0, 10.0, 400.0, 200.0), (10.0, 214.0, 400.0, 200.0), (414.0, 10.0, 300.0, 480.0)];
        let list = list((1000.0, 500.0), sawing(4.0, 10.0, 3), &parts).unwrap();
        assert_eq!(
            told(&list),
            [
                "0 0 Along 490: Rest 1000x490 | Waste 1000x6",
                "0 0 Along 480: Rest 1000x480 | Waste 1000x6",
                "0 0 Across 990: Rest 990x480 | Waste 6x480",
                "0 0 Across 980: Rest 980x480 | Waste 6x480",
                "1 0 Across 400: Piece(1) 400x480 | Rest 576x480",
                "1 0 Across 300: Part(2) 300x480 | Offcut(1) 272x480",
                "2 1 Along 200: Part(0) 400x200 | Rest 400x276",
                "2 1 Along 200: Part(1) 400x200 | Waste 400x72",
            ]
        );
        // 2 x 1000 + 490 + 480 along, less what is trimmed: 1000 + 1000 + 480 + 480 + 480 + 480 + 400 + 400.
        assert_eq!((list.length(), list.settings(), list.stages()), (4720.0, 7, 2));
        assert_eq!(list.cuts[4].line(), [Point2::new(412.0, 10.0), Point2::new(412.0, 490.0)]);
        assert_eq!(list.cuts[0].line(), [Point2::new(0.0, 8.0), Point2::new(1000.0, 8.0)]);
    }

    #[test]
    fn what_is_less_than_the_blade_takes_is_measured_from_the_other_side() {
        // 1 is left before the part and 2 behind it; the trim of 3 is less than the blade's 4.
        let list = list((506.0, 206.0), sawing(4.0, 3.0, 2), &[(4.0, 3.0, 497.0, 200.0)]).unwrap();
        assert_eq!(
            told(&list)[3..],
            [
                "0 0 Across 500: Rest 500x200 | Nothing 0x200",
                "1 0 Across 499: Rest 499x200 | Nothing 0x200",
                "1 0 Across 497: Part(0) 497x200 | Nothing 0x200",
            ]
        );
        assert_eq!((list.cuts[4].against, list.cuts[5].against), (Edge::Right, Edge::Left));
    }

    #[test]
    fn a_strip_between_parts_comes_off_by_itself() {
        let parts = [(0.0, 0.0, 100.0, 50.0), (130.0, 0.0, 70.0, 50.0)];
        let list = list((200.0, 50.0), sawing(4.0, 0.0, 2), &parts).unwrap();
        assert_eq!(
            told(&list),
            ["1 0 Across 100: Part(0) 100x50 | Rest 96x50", "1 0 Across 22: Waste 22x50 | Part(1) 70x50",]
        );
    }

    /// Two columns, 300 and 200 high, side by side: to keep what is above them whole takes a stage before they are
    /// parted.
    #[test]
    fn the_largest_offcut_is_kept_whole_if_the_stages_allow_it() {
        let parts = [(0.0, 0.0, 500.0, 300.0), (504.0, 0.0, 496.0, 200.0)];
        let first =
            |stages| told(&list((1000.0, 600.0), sawing(4.0, 0.0, stages), &parts).unwrap())[0].clone();
        assert_eq!(first(3), "1 0 Along 300: Piece(1) 1000x300 | Offcut(1) 1000x296");
        assert_eq!(first(2), "1 0 Across 500: Piece(1) 500x600 | Piece(2) 496x600");
    }

    /// Columns of 100, 200 and 100: the pieces' cuts at 60 stand together though they lie in different pieces, and 50
    /// waits until the second piece has come to it.
    #[test]
    fn one_setting_serves_several_pieces() {
        let parts = [
            (0.0, 0.0, 100.0, 60.0),
            (0.0, 60.0, 100.0, 50.0),
            (100.0, 0.0, 200.0, 60.0),
            (100.0, 60.0, 200.0, 60.0),
            (300.0, 0.0, 90.0, 80.0),
            (300.0, 80.0, 90.0, 50.0),
        ];
        let list = list((400.0, 140.0), sawing(0.0, 0.0, 2), &parts).unwrap();
        let second: Vec<(usize, f64)> =
            list.cuts.iter().filter(|cut| cut.stage == 2).map(|cut| (cut.piece, cut.fence())).collect();
        assert_eq!(second, [(1, 60.0), (2, 60.0), (2, 60.0), (3, 80.0), (3, 50.0), (1, 50.0)]);
    }

    #[test]
    fn what_has_a_defect_is_not_kept() {
        let part = Part {
            name: "part".to_owned(),
            outline: Path::rectangle(0.0, 0.0, 500.0, 500.0),
            openings: Vec::new(),
            turns: Turns::GrainKept,
            either_face: false,
        };
        let placement = SheetPlacement { x: 0.0, y: 0.0, angle: 0.0, flipped: false };
        let sheet = Sheet { stock: 0, placed: vec![Placed { part: 0, placement }] };
        let kept = |x: f64| {
            let defects = vec![Zone { x, y: 100.0, length: 10.0, width: 10.0 }];
            let stock = Stock { length: 1000.0, width: 500.0, defects, ..Stock::default() };
            let list =
                cutting_list(std::slice::from_ref(&part), &stock, &sheet, sawing(4.0, 0.0, 2)).unwrap();
            list.cuts[0].beyond.what
        };
        // The blade goes from 500 to 504; what only touches the piece is not in it.
        assert_eq!([kept(494.0), kept(494.001), kept(990.0)], [What::Offcut(1), What::Waste, What::Waste]);
    }

    #[test]
    fn a_wheel_has_no_list_and_a_whole_sheet_needs_no_cut() {
        let wheel = [
            (0.0, 0.0, 20.0, 10.0),
            (20.0, 0.0, 10.0, 20.0),
            (10.0, 20.0, 20.0, 10.0),
            (0.0, 10.0, 10.0, 20.0),
        ];
        assert_eq!(list((30.0, 30.0), sawing(0.0, 0.0, 9), &wheel), None);
        assert_eq!(
            list((30.0, 20.0), sawing(3.0, 0.0, 2), &[(0.0, 0.0, 30.0, 20.0)]),
            Some(CutList::default())
        );
        let trimmed = list((40.0, 30.0), sawing(3.0, 5.0, 2), &[(5.0, 5.0, 30.0, 20.0)]).unwrap();
        assert_eq!(told(&trimmed)[3..], ["0 0 Across 30: Part(0) 30x20 | Waste 2x20"]);
    }
}
