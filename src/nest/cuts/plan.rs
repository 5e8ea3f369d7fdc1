//! Which cuts part a piece, stage by stage.
//!
//! Takes a piece with what lies on it and the direction of the first stage; gives for each stage the cuts of every
//! piece, those of one piece in the order of its rest. In every stage a piece is cut wherever a cut touches no part:
//! no way of cutting takes fewer stages.

use super::{Area, Cut, Edge, Outcome, Runs, What};

/// A part on the sheet.
#[derive(Clone, Copy, Debug)]
pub(super) struct Laid {
    /// Its index.
    pub(super) part: usize,
    /// Its rectangle.
    pub(super) area: Area,
}

/// What the saw takes and what is worth keeping.
#[derive(Clone, Copy, Debug)]
pub(super) struct Saw<'a> {
    /// Micrometres that the blade takes.
    pub(super) kerf: i64,
    /// Micrometres, long and short side of the least offcut.
    pub(super) smallest: [i64; 2],
    /// What of the sheet must not be used: a piece that has some of it is not kept.
    pub(super) defects: &'a [Area],
}

impl Saw<'_> {
    /// What a piece without parts is.
    fn spare(self, area: Area) -> What {
        let (a, b) = (area.extent(0), area.extent(1));
        let large = a.max(b) >= self.smallest[0] && a.min(b) >= self.smallest[1];
        if large && !self.defects.iter().any(|defect| defect.overlaps(area)) {
            What::Offcut(0)
        } else {
            What::Waste
        }
    }
}

/// A piece that is to be cut.
#[derive(Clone, Debug)]
struct Piece {
    number: usize,
    area: Area,
    laid: Vec<Laid>,
}

/// The cuts of each stage, piece by piece; none if there is a piece that no cut in the direction of its stage
/// divides. `first` is the axis that the first stage divides: 0 along the sheet, 1 across.
pub(super) fn plan(whole: Area, laid: &[Laid], first: usize, saw: Saw) -> Option<Vec<Vec<Vec<Cut>>>> {
    let mut pieces = vec![Piece { number: 0, area: whole, laid: laid.to_vec() }];
    if matches!(laid, [one] if one.area == whole) {
        pieces.clear();
    }
    let mut numbers = 0;
    let mut stages: Vec<Vec<Vec<Cut>>> = Vec::new();
    while !pieces.is_empty() {
        let axis = if stages.len().is_multiple_of(2) { first } else { 1 - first };
        let mut next = Vec::new();
        let mut chains = Vec::with_capacity(pieces.len());
        for piece in pieces {
            let slabs = slabs(&piece, axis, saw.kerf);
            let outcomes = slabs.into_iter().map(|slab| outcome(slab, &mut numbers, &mut next)).collect();
            let cutting =
                Cutting { piece: piece.number, stage: stages.len() + 1, axis, saw, slabs: outcomes };
            let cuts = cutting.cuts(piece.area);
            if cuts.is_empty() {
                return None;
            }
            chains.push(cuts);
        }
        stages.push(chains);
        pieces = next;
    }
    Some(stages)
}

/// Parts that no cut across the axis divides, with the slab of the piece that they take.
fn slabs(piece: &Piece, axis: usize, kerf: i64) -> Vec<(Area, Vec<Laid>)> {
    let mut laid = piece.laid.clone();
    laid.sort_by_key(|one| (one.area.low[axis], one.area.high[axis], one.part));
    let mut slabs: Vec<(Area, Vec<Laid>)> = Vec::new();
    for one in laid {
        let (low, high) = (one.area.low[axis], one.area.high[axis]);
        match slabs.last_mut() {
            Some((area, laid)) if low < area.high[axis] + kerf => {
                *area = area.between(axis, area.low[axis], high.max(area.high[axis]));
                laid.push(one);
            }
            _ => slabs.push((piece.area.between(axis, low, high), vec![one])),
        }
    }
    slabs
}

/// What a slab is: a part, or a piece for the next stage.
fn outcome((area, laid): (Area, Vec<Laid>), numbers: &mut usize, next: &mut Vec<Piece>) -> Outcome {
    if let [one] = laid[..]
        && one.area == area
    {
        return Outcome { what: What::Part(one.part), area };
    }
    *numbers += 1;
    next.push(Piece { number: *numbers, area, laid });
    Outcome { what: What::Piece(*numbers), area }
}

/// The cutting of one piece in one stage.
#[derive(Debug)]
struct Cutting<'a> {
    piece: usize,
    stage: usize,
    axis: usize,
    saw: Saw<'a>,
    /// What is to come out of it, from its low end.
    slabs: Vec<Outcome>,
}

impl Cutting<'_> {
    /// The cuts in turn, each of them through what the one before left.
    fn cuts(&self, whole: Area) -> Vec<Cut> {
        let (axis, kerf) = (self.axis, self.saw.kerf);
        let mut cuts = Vec::new();
        let mut rest = whole;
        for (i, slab) in self.slabs.iter().enumerate() {
            let (low, high) = (slab.area.low[axis], slab.area.high[axis]);
            if low > rest.low[axis] {
                let after = rest.between(axis, low, rest.high[axis]);
                let strip = rest.between(axis, rest.low[axis], low - kerf);
                cuts.push(if strip.extent(axis) > 0 {
                    let strip = Outcome { what: self.saw.spare(strip), area: strip };
                    self.cut(rest, true, strip, self.left(after, i))
                } else {
                    // Less than the blade takes cannot be measured from this side.
                    let nothing = Outcome { what: What::Nothing, area: rest.between(axis, low, low) };
                    self.cut(rest, false, self.left(after, i), nothing)
                });
                rest = after;
            }
            if high < rest.high[axis] {
                let after = rest.between(axis, (high + kerf).min(rest.high[axis]), rest.high[axis]);
                cuts.push(self.cut(rest, true, *slab, self.left(after, i + 1)));
                rest = after;
            }
        }
        cuts
    }

    /// What is left of the piece when the slabs from the given one on are still in it.
    fn left(&self, area: Area, from: usize) -> Outcome {
        let what = match self.slabs.get(from..) {
            _ if area.extent(self.axis) <= 0 => What::Nothing,
            Some([last]) if last.area == area => last.what,
            None | Some([]) => self.saw.spare(area),
            Some(_) => What::Rest,
        };
        Outcome { what, area }
    }

    fn cut(&self, whole: Area, from_low: bool, kept: Outcome, beyond: Outcome) -> Cut {
        let (runs, against) = match (self.axis, from_low) {
            (0, true) => (Runs::Across, Edge::Left),
            (0, false) => (Runs::Across, Edge::Right),
            (_, true) => (Runs::Along, Edge::Lower),
            (_, false) => (Runs::Along, Edge::Upper),
        };
        Cut {
            stage: self.stage,
            piece: self.piece,
            whole,
            runs,
            against,
            kept,
            beyond,
            fence: kept.area.extent(self.axis),
            kerf: self.saw.kerf,
        }
    }
}
