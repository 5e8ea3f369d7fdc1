//! Loose curves to closed outlines with their openings.
//!
//! Takes curves in millimetres, gives outer contours counter-clockwise, each with its openings clockwise, or every
//! contour that is open, empty, crossed or forked. Ends are joined within a stated tolerance and never beyond it.

use super::crossing::crossings;
use super::rules::{CONTOUR_EMPTY, CONTOUR_FORKED, CONTOUR_OPEN, DRAWING_TOO_LARGE};
use super::{Fault, shown};
use crate::geom::tolerance::{JOINED, SAME_LENGTH};
use crate::geom::{PanelFrame, Path, Point2, Vertex, snap};
use crate::number::decimal;
use rstar::{AABB, RTree, primitives::GeomWithData};
use std::fmt::Display;

/// Most faults of one kind that are told.
const MOST_TOLD: usize = 10;

/// Most contours of a drawing: what comes after has to find a way through all of them.
const MOST_CONTOURS: usize = 5_000;

/// A part's outer contour and what is cut out of it.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Outline {
    /// Counter-clockwise.
    pub(crate) outline: Path<PanelFrame>,
    /// Clockwise.
    pub(crate) openings: Vec<Path<PanelFrame>>,
}

/// A curve as drawn, with the place where it stands.
#[derive(Clone, Debug)]
pub(super) struct Curve<M> {
    /// Corners; the last one's bulge counts only if the curve is closed.
    pub(super) corners: Vec<Vertex<PanelFrame>>,
    /// Whether the last corner leads back to the first.
    pub(super) closed: bool,
    /// Where it stands.
    pub(super) mark: M,
}

/// A closed contour and where its first piece stands.
#[derive(Clone, Debug)]
pub(super) struct Contour<M> {
    pub(super) path: Path<PanelFrame>,
    pub(super) mark: M,
}

/// The outlines that curves make together, in the order of their first pieces.
pub(super) fn outlines<M: Copy + Display>(curves: Vec<Curve<M>>) -> Result<Vec<Outline>, Vec<Fault>> {
    let (closed, open): (Vec<_>, Vec<_>) =
        curves.into_iter().filter_map(cleaned).partition(|curve| curve.closed);
    let mut faults = Vec::new();
    let mut contours: Vec<Contour<M>> = closed
        .into_iter()
        .map(|curve| Contour { path: Path::new(curve.corners), mark: curve.mark })
        .collect();
    contours.extend(chained(&open, &mut faults));
    if contours.len() > MOST_CONTOURS {
        let message = format!("the drawing has more than {MOST_CONTOURS} contours");
        return Err(vec![Fault::new(
            &DRAWING_TOO_LARGE,
            message,
            "export the part alone, without the drawing around it",
        )]);
    }
    faults.extend(contours.iter().filter_map(empty));
    if faults.is_empty() {
        faults.extend(crossings(&contours));
    }
    if faults.is_empty() { Ok(sorted_out(&contours)) } else { Err(limited(faults)) }
}

/// A curve on the micrometre grid without sides that are shorter than the tolerance; `None` if nothing is left of an
/// open one.
fn cleaned<M: Copy>(curve: Curve<M>) -> Option<Curve<M>> {
    let Curve { corners, mut closed, mark } = curve;
    let mut kept: Vec<Vertex<PanelFrame>> = Vec::with_capacity(corners.len());
    for corner in corners {
        let point = Point2::new(snap(corner.point.x), snap(corner.point.y));
        match kept.last_mut() {
            Some(last) if (last.point - point).length() <= JOINED => last.bulge = corner.bulge,
            _ => kept.push(Vertex { point, bulge: corner.bulge }),
        }
    }
    let meets = |kept: &[Vertex<PanelFrame>]| match kept {
        [first, _, .., last] => (first.point - last.point).length() <= JOINED,
        _ => false,
    };
    if meets(&kept) {
        closed = true;
        kept.pop();
    }
    if !closed && kept.len() < 2 {
        return None;
    }
    for i in 0..kept.len() {
        let next = kept[(i + 1) % kept.len()].point;
        // An arc that rises by less than the precision of lengths is a straight line.
        if (next - kept[i].point).length() / 2.0 * kept[i].bulge.abs() < SAME_LENGTH {
            kept[i].bulge = 0.0;
        }
    }
    Some(Curve { corners: kept, closed, mark })
}

/// A contour without extent in one direction. One that has extent and encloses nothing runs into itself.
fn empty<M: Display>(contour: &Contour<M>) -> Option<Fault> {
    let (low, high) = contour.path.bounds();
    (high.x - low.x <= JOINED || high.y - low.y <= JOINED).then(|| {
        let message = format!("the contour at {} encloses nothing ({})", shown(low), contour.mark);
        Fault::new(&CONTOUR_EMPTY, message, "delete it, or draw it at its true size")
    })
}

/// Open curves joined end to end. Ends that meet no other, or more than one, are faults.
fn chained<M: Copy + Display>(open: &[Curve<M>], faults: &mut Vec<Fault>) -> Vec<Contour<M>> {
    let ends = |curve: usize| {
        let corners = &open[curve].corners;
        [corners[0].point, corners[corners.len() - 1].point]
    };
    let points: Vec<Point2<PanelFrame>> = (0..open.len()).flat_map(ends).collect();
    let tree = RTree::bulk_load(
        points.iter().enumerate().map(|(end, p)| GeomWithData::new([p.x, p.y], end)).collect(),
    );
    let mut partners: Vec<Option<usize>> = vec![None; points.len()];
    for (end, p) in points.iter().enumerate() {
        let near = tree.locate_within_distance([p.x, p.y], JOINED * JOINED).map(|other| other.data);
        let mut near: Vec<usize> = near.filter(|&other| other != end).take(MOST_TOLD).collect();
        near.sort_unstable();
        match near.as_slice() {
            [] => {}
            [one] => partners[end] = Some(*one),
            [first, ..] => {
                // Told once, by the first of the ends that meet.
                if end < *first {
                    let (n, place) = (near.len() + 1, shown(*p));
                    let message = format!("{n} ends meet at {place} ({})", open[end / 2].mark);
                    let help =
                        "a contour has two ends at a corner: delete what is drawn twice or branches off";
                    faults.push(Fault::new(&CONTOUR_FORKED, message, help));
                }
            }
        }
    }
    if !faults.is_empty() {
        return Vec::new();
    }
    let mut walked = vec![false; open.len()];
    let loose = (0..points.len()).filter(|&end| partners[end].is_none());
    for end in loose {
        if walked[end / 2] {
            continue;
        }
        let (_, last) = walk(open, &partners, end, &mut walked);
        faults.push(open_contour(points[end], points[last], [open[end / 2].mark, open[last / 2].mark]));
    }
    let mut contours = Vec::new();
    for curve in 0..open.len() {
        if !walked[curve] {
            let (corners, _) = walk(open, &partners, 2 * curve, &mut walked);
            contours.push(Contour { path: Path::new(corners), mark: open[curve].mark });
        }
    }
    contours
}

/// Corners from the end `from` of a chain to where it stops or comes round, and its last end.
fn walk<M>(
    open: &[Curve<M>],
    partners: &[Option<usize>],
    from: usize,
    walked: &mut [bool],
) -> (Vec<Vertex<PanelFrame>>, usize) {
    let mut corners = Vec::new();
    let mut end = from;
    loop {
        let curve = &open[end / 2].corners;
        walked[end / 2] = true;
        let n = curve.len();
        // The last corner of each piece is the first of the next.
        if end.is_multiple_of(2) {
            corners.extend_from_slice(&curve[..n - 1]);
        } else {
            let back = (1..n).rev().map(|i| Vertex { point: curve[i].point, bulge: -curve[i - 1].bulge });
            corners.extend(back);
        }
        let last = end ^ 1;
        match partners[last] {
            Some(next) if !walked[next / 2] => end = next,
            _ => return (corners, last),
        }
    }
}

fn open_contour<M: Display>(start: Point2<PanelFrame>, end: Point2<PanelFrame>, marks: [M; 2]) -> Fault {
    let gap = decimal((end - start).length(), 3);
    let [from, to] = marks;
    let (start, end) = (shown(start), shown(end));
    let message =
        format!("a contour is open: it starts at {start} ({from}) and ends at {end} ({to}), {gap} mm apart");
    let help = format!("close it; ends within {} mm of each other are joined", decimal(JOINED, 3));
    Fault::new(&CONTOUR_OPEN, message, help)
}

/// Which contour lies in which: those in an even number of others are outer ones, each of the rest is an opening of
/// the smallest that it lies in. No two cross, so any corner answers for the whole.
fn sorted_out<M>(contours: &[Contour<M>]) -> Vec<Outline> {
    let areas: Vec<f64> = contours.iter().map(|contour| contour.path.area().abs()).collect();
    let boxes = contours.iter().enumerate().map(|(i, contour)| {
        let (low, high) = contour.path.bounds();
        GeomWithData::new(rstar::primitives::Rectangle::from_corners([low.x, low.y], [high.x, high.y]), i)
    });
    let tree = RTree::bulk_load(boxes.collect());
    let around = |i: usize| -> Vec<usize> {
        let corner = contours[i].path.vertices()[0].point;
        let over = tree.locate_in_envelope_intersecting(AABB::from_point([corner.x, corner.y]));
        let mut around: Vec<usize> = over
            .map(|other| other.data)
            .filter(|&other| other != i && areas[other] > areas[i] && contours[other].path.contains(corner))
            .collect();
        around.sort_by(|&a, &b| areas[a].total_cmp(&areas[b]));
        around
    };
    let around: Vec<Vec<usize>> = (0..contours.len()).map(around).collect();
    let outer = |i: &usize| around[*i].len().is_multiple_of(2);
    let mut outlines: Vec<(usize, Outline)> = (0..contours.len())
        .filter(outer)
        .map(|i| (i, Outline { outline: contours[i].path.clone().counter_clockwise(), openings: Vec::new() }))
        .collect();
    for i in (0..contours.len()).filter(|i| !outer(i)) {
        // Sorted by index, so the owner is found by halving.
        let owner =
            around[i].first().and_then(|owner| outlines.binary_search_by_key(owner, |(i, _)| *i).ok());
        if let Some(owner) = owner {
            outlines[owner].1.openings.push(contours[i].path.clone().clockwise());
        }
    }
    outlines.into_iter().map(|(_, outline)| outline).collect()
}

/// The first faults, and how many more there are.
fn limited(mut faults: Vec<Fault>) -> Vec<Fault> {
    if let Some(more) = faults.len().checked_sub(MOST_TOLD).filter(|&more| more > 0) {
        faults.truncate(MOST_TOLD);
        if let Some(last) = faults.last_mut() {
            last.message = format!("{}; and {more} more faults", last.message);
        }
    }
    faults
}
