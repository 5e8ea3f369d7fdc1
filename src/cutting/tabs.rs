//! Holding tabs: where they go on an outline, and what is drawn of them.
//!
//! Takes an outline begun where the tool goes in; places are mm along it from there. A tab stands on a straight
//! side, clear of corners, of the tool's way in, of bores and of openings: it is broken or sawn off afterwards.

use super::Workpiece;
use super::lead_in::side_length;
use super::{Shop, gap_width};
use crate::geom::{PanelFrame, Path, Point2, SheetFrame, Vector2, Vertex};
use crate::spec::TabCount;

/// mm between a tab's gap and the next corner, bore or opening, at least: common practice, no source.
const CLEAR: f64 = 5.0;

/// mm between places that are tried.
const STEP: f64 = 2.0;

/// Most tabs of a part.
const MOST: usize = 40;

/// Most places that are tried on one side.
const MOST_TRIED: f64 = 2000.0;

/// A place for a tab: mm along the outline, and the point.
type Candidate = (f64, Point2<PanelFrame>);

/// Where the tabs of a part go, rising. As even as the outline allows, the tool's way in midway between two; fewer
/// than asked for where there is no place.
pub(super) fn places(panel: &Workpiece<'_>, outline: &Path<PanelFrame>, shop: &Shop<'_>) -> Vec<f64> {
    let clear = gap_width(shop.holding, shop.tool) / 2.0 + CLEAR;
    let candidates: Vec<Candidate> =
        candidates(outline, clear).into_iter().filter(|&(_, p)| is_clear(panel, p, clear)).collect();
    let whole: f64 = outline.sides().map(|(a, b, bulge)| side_length(a, b, bulge)).sum();
    let count = match shop.holding.tabs.count {
        TabCount::Number(number) => number as usize,
        TabCount::Spacing(spacing) => spaced(whole, spacing),
    };
    let apart = (whole / (2.0 * count as f64)).max(2.0 * clear);
    let around = |a: f64, b: f64| {
        let away = (a - b).abs();
        away.min(whole - away)
    };
    let mut chosen: Vec<f64> = Vec::with_capacity(count);
    for i in 0..count {
        let wanted = (i as f64 + 0.5) * whole / count as f64;
        let free = candidates.iter().filter(|(s, _)| chosen.iter().all(|&other| around(*s, other) >= apart));
        let nearest = free.min_by(|(a, _), (b, _)| around(*a, wanted).total_cmp(&around(*b, wanted)));
        chosen.extend(nearest.map(|&(s, _)| s));
    }
    chosen.sort_by(f64::total_cmp);
    chosen
}

/// How many tabs stand no farther apart than `spacing` along an outline of this length.
fn spaced(whole: f64, spacing: f64) -> usize {
    (2..MOST).find(|&count| count as f64 * spacing >= whole).unwrap_or(MOST)
}

/// Places on straight sides, `clear` of both ends.
fn candidates(outline: &Path<PanelFrame>, clear: f64) -> Vec<Candidate> {
    let mut candidates = Vec::new();
    let mut start = 0.0;
    for (a, b, bulge) in outline.sides() {
        let length = side_length(a, b, bulge);
        let room = length - 2.0 * clear;
        if bulge == 0.0 && room >= 0.0 {
            let step = STEP.max(room / MOST_TRIED);
            let mut at = 0.0;
            while at <= room {
                let s = clear + at;
                candidates.push((start + s, a + (b - a) * (s / length)));
                at += step;
            }
        }
        start += length;
    }
    candidates
}

/// Whether a tab there pulls on no bore and no opening.
fn is_clear(panel: &Workpiece<'_>, p: Point2<PanelFrame>, clear: f64) -> bool {
    let off_bores = panel.bores.iter().all(|bore| (bore.centre - p).length() >= clear + bore.widest() / 2.0);
    off_bores && panel.openings.iter().all(|opening| opening.distance_to(p) >= clear)
}

/// What is left of a closed path when a gap of this width is left open at each of the places: open lines, in the
/// order of the path, the first from where it begins.
pub(crate) fn pieces(path: &Path<SheetFrame>, middles: &[f64], gap: f64) -> Vec<Vec<Vertex<SheetFrame>>> {
    let mut pieces = vec![Vec::new()];
    let mut middles = middles.iter().copied().peekable();
    let mut start = 0.0;
    let push = |pieces: &mut Vec<Vec<Vertex<SheetFrame>>>, point, bulge| {
        if let Some(piece) = pieces.last_mut() {
            piece.push(Vertex { point, bulge });
        }
    };
    for (a, b, bulge) in path.sides() {
        let length = side_length(a, b, bulge);
        push(&mut pieces, a, bulge);
        while let Some(s) = middles.next_if(|&s| s < start + length) {
            let at = |s: f64| a + (b - a) * ((s - start) / length);
            push(&mut pieces, at(s - gap / 2.0), 0.0);
            pieces.push(Vec::new());
            push(&mut pieces, at(s + gap / 2.0), 0.0);
        }
        start += length;
    }
    if let Some(begin) = path.vertices().first() {
        push(&mut pieces, begin.point, 0.0);
    }
    pieces
}

/// mm. A tool narrower than this has no way that could be drawn: parts without a gap between them.
const NO_WIDTH: f64 = 0.01;

/// mm that the mark of such a tool's tab reaches into the part. Not outwards: there lies the neighbour, whose own mark
/// could be the very same.
const INTO_PART: f64 = 1.0;

/// The mark of a tab: a rectangle outside the outline, counter-clockwise, as long as the tab and as deep as the middle
/// of the tool's way.
pub(crate) fn mark(
    outline: &Path<PanelFrame>,
    middle: f64,
    width: f64,
    tool: f64,
) -> Option<Path<PanelFrame>> {
    let mut start = 0.0;
    for (a, b, bulge) in outline.sides() {
        let length = side_length(a, b, bulge);
        if middle < start + length {
            let along: Vector2<PanelFrame> = (b - a) / length;
            let depth = if tool < NO_WIDTH { -INTO_PART } else { tool / 2.0 };
            let out = Vector2::new(along.y, -along.x) * depth;
            let point = a + along * (middle - start);
            let (from, to) = (point - along * (width / 2.0), point + along * (width / 2.0));
            return Some(Path::polygon([from, from + out, to + out, to]).counter_clockwise());
        }
        start += length;
    }
    None
}
