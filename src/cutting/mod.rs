//! What the operator of a router decides about a sheet: in which order it is cut, where the tool goes in, and how
//! small parts are held.
//!
//! Takes panels and where they lie, gives a plan for each sheet, in the panels' own frames: it changes no shape,
//! it only says where each contour begins. Knows no file format.

mod workpiece;
mod lead_in;
mod order;
mod tabs;

pub(crate) use tabs::{mark, pieces};
pub(crate) use workpiece::{SheetMaterial, Workpiece};

use crate::geom::{PanelFrame, Path, Point2, SheetFrame, SheetPlacement};
use crate::nest::Sheet;
use crate::spec::{Holding, HoldingMethod};
use order::Stop;

/// A sheet as it is cut.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct SheetPlan {
    /// The parts in cutting order.
    pub(crate) parts: Vec<PartPlan>,
    /// mm that the tool travels in the air, from the sheet's origin to the last cut.
    pub(crate) travel: f64,
}

/// A part as it is cut: its bores, its openings, then its outline, which frees it.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct PartPlan {
    /// Index into the sheet's placed parts.
    pub(crate) placed: usize,
    /// Indices of the panel's bores in order.
    pub(crate) bores: Vec<usize>,
    /// The openings in order, each from where the tool goes in.
    pub(crate) openings: Vec<Path<PanelFrame>>,
    /// The outline from where the tool goes in.
    pub(crate) outline: Path<PanelFrame>,
    /// Whether it is small, and how it is held.
    pub(crate) hold: Hold,
}

/// How a part is held while it is cut free.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Hold {
    /// By its size.
    Size,
    /// Small, and the workshop wants nothing done about it.
    Nothing,
    /// Small, by tabs: mm from the outline's begin to the middle of each. Fewer than two hold nothing.
    Tabs(Vec<f64>),
    /// Small, by a skin.
    Skin,
}

/// What the plans of a material's sheets have in common.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Shop<'a> {
    /// The panels by the index of their part.
    pub(crate) panels: &'a [Workpiece<'a>],
    /// Diameter of the tool, mm.
    pub(crate) tool: f64,
    /// What is small, and how it is held.
    pub(crate) holding: &'a Holding,
    /// Whether a saw cuts the sheets: then nothing moves under a tool.
    pub(crate) sawn: bool,
}

impl Shop<'_> {
    /// Whether a part could move under the tool: by the area that is left of it, or by the lesser side of the box
    /// around it.
    pub(crate) fn is_small(&self, panel: &Workpiece<'_>) -> bool {
        let (low, high) = panel.outline.bounds();
        let width = (high.x - low.x).min(high.y - low.y);
        // Openings run clockwise: their areas are negative.
        let openings: f64 = panel.openings.iter().map(|opening| opening.area()).sum();
        let area = panel.outline.area() + openings;
        !self.sawn && (area < self.holding.small_area.value || width < self.holding.small_width.value)
    }
}

/// The plan of a sheet of `size` whose outlines are `gap` apart, mm. A placed part that does not exist is left out.
///
/// A part inside another's opening is cut before that opening frees its ground. A small part is cut before every
/// larger neighbour: while that one is still whole, the web between the two is as stiff as the sheet. Between
/// those rules the way is short: the nearest next, then turned about while that shortens it.
pub(crate) fn plan(sheet: &Sheet, size: (f64, f64), gap: f64, shop: &Shop<'_>) -> SheetPlan {
    let lying: Vec<Lying> = sheet
        .placed
        .iter()
        .enumerate()
        .filter_map(|(i, placed)| {
            let panel = shop.panels.get(placed.part)?;
            Some(Lying::new(i, panel, placed.placement, shop))
        })
        .collect();
    let outlines: Vec<Path<PanelFrame>> = lying
        .iter()
        .map(|part| {
            let room = |p: Point2<SheetFrame>| room_at(p, part.index, &lying, size);
            lead_in::begun(part.panel.outline, |p| room(part.placement.to_sheet(p)))
        })
        .collect();
    let stops: Vec<Stop> =
        lying.iter().zip(&outlines).map(|(part, outline)| part.on_sheet(first(outline))).collect();
    let mut at = Stop::origin();
    let mut travel = 0.0;
    let mut parts = Vec::with_capacity(lying.len());
    for i in order::route(at, &stops, None, &order_rules(&lying, gap)) {
        let (plan, way) = part_plan(&lying[i], outlines[i].clone(), at, shop);
        travel += way;
        at = stops[i];
        parts.push(plan);
    }
    SheetPlan { parts, travel }
}

/// The plan of a panel by itself, in its own frame. It shows the panel as it is to be: nothing holds it.
pub(crate) fn plan_alone(panel: &Workpiece<'_>) -> PartPlan {
    let placement = SheetPlacement { x: 0.0, y: 0.0, angle: 0.0, flipped: false };
    let outline = lead_in::begun(panel.outline, |_| 0.0);
    let (bores, openings, _) = inside(panel, placement, &outline, Stop::origin());
    PartPlan { placed: 0, bores, openings, outline, hold: Hold::Size }
}

/// A part on the sheet.
struct Lying<'a> {
    /// Index into the sheet's placed parts.
    index: usize,
    panel: &'a Workpiece<'a>,
    placement: SheetPlacement,
    outline: Path<SheetFrame>,
    openings: Vec<Path<SheetFrame>>,
    low: Point2<SheetFrame>,
    high: Point2<SheetFrame>,
    small: bool,
}

impl<'a> Lying<'a> {
    fn new(index: usize, panel: &'a Workpiece<'a>, placement: SheetPlacement, shop: &Shop<'_>) -> Self {
        let outline = placement.path_to_sheet(panel.outline);
        let openings = panel.openings.iter().map(|opening| placement.path_to_sheet(opening)).collect();
        let (low, high) = outline.bounds();
        let small = shop.is_small(panel);
        Lying { index, panel, placement, outline, openings, low, high, small }
    }

    fn on_sheet(&self, p: Point2<PanelFrame>) -> Stop {
        self.placement.to_sheet(p)
    }

    /// mm between the boxes around two parts, along the axis on which they are farther apart.
    fn apart(&self, low: Point2<SheetFrame>, high: Point2<SheetFrame>) -> f64 {
        let x = (self.low.x - high.x).max(low.x - self.high.x);
        let y = (self.low.y - high.y).max(low.y - self.high.y);
        x.max(y)
    }

    /// Whether it lies in one of the other's openings.
    fn lies_in(&self, other: &Lying<'_>) -> bool {
        let within = |low: Point2<SheetFrame>, high: Point2<SheetFrame>| {
            low.x <= self.low.x && low.y <= self.low.y && high.x >= self.high.x && high.y >= self.high.y
        };
        let Some(corner) = self.outline.vertices().first() else { return false };
        within(other.low, other.high)
            && other.openings.iter().any(|opening| {
                let (low, high) = opening.bounds();
                within(low, high) && opening.contains(corner.point)
            })
    }
}

/// Pairs of which the first is cut before the second.
fn order_rules(lying: &[Lying<'_>], gap: f64) -> order::Rules {
    let mut rules = order::Rules::default();
    for (i, part) in lying.iter().enumerate() {
        for (j, other) in lying.iter().enumerate() {
            if i == j || part.apart(other.low, other.high) > 2.0 * gap {
                continue;
            }
            if part.lies_in(other) {
                rules.must.push((i, j));
            } else if part.small && !other.small && !other.lies_in(part) {
                rules.should.push((i, j));
            }
        }
    }
    rules
}

/// How far a point of an outline is from the nearest other contour and from the sheet's edge, mm; no more than
/// counts for the tool's way in.
fn room_at(p: Point2<SheetFrame>, own: usize, lying: &[Lying<'_>], size: (f64, f64)) -> f64 {
    let to_edge = p.x.min(p.y).min(size.0 - p.x).min(size.1 - p.y);
    let mut room = to_edge.min(lead_in::PLENTY);
    for other in lying.iter().filter(|other| other.index != own) {
        if other.apart(p, p) < room {
            for contour in std::iter::once(&other.outline).chain(&other.openings) {
                room = room.min(contour.distance_to(p));
            }
        }
    }
    room
}

/// The plan of one part for a tool that comes from `at`, and the way in the air up to its outline's begin, mm.
fn part_plan(part: &Lying<'_>, outline: Path<PanelFrame>, at: Stop, shop: &Shop<'_>) -> (PartPlan, f64) {
    let (bores, openings, mut travel) = inside(part.panel, part.placement, &outline, at);
    let hold = match shop.holding.method.value {
        _ if !part.small => Hold::Size,
        HoldingMethod::None => Hold::Nothing,
        HoldingMethod::Skin => Hold::Skin,
        HoldingMethod::Tabs => Hold::Tabs(tabs::places(part.panel, &outline, shop)),
    };
    if let Hold::Tabs(middles) = &hold
        && shop.holding.tabs.shown_as.value == crate::spec::TabsAs::Gaps
    {
        travel += middles.len() as f64 * gap_width(shop.holding, shop.tool);
    }
    (PartPlan { placed: part.index, bores, openings, outline, hold }, travel)
}

/// mm of the outline that are left open for a tab: the tool runs with its middle to the end of a line, so that it
/// takes half its diameter more at each end than the line shows.
pub(crate) fn gap_width(holding: &Holding, tool: f64) -> f64 {
    holding.tabs.width.value + tool
}

/// Bores and openings in order for a tool that comes from `at` and goes on to the outline's begin; and the way.
fn inside(
    panel: &Workpiece<'_>,
    placement: SheetPlacement,
    outline: &Path<PanelFrame>,
    mut at: Stop,
) -> (Vec<usize>, Vec<Path<PanelFrame>>, f64) {
    let end = placement.to_sheet(first(outline));
    let mut travel = 0.0;
    let openings: Vec<Path<PanelFrame>> =
        panel.openings.iter().map(|opening| lead_in::begun(opening, |_| 0.0)).collect();
    let centres: Vec<Stop> = panel.bores.iter().map(|bore| placement.to_sheet(bore.centre)).collect();
    let starts: Vec<Stop> = openings.iter().map(|path| placement.to_sheet(first(path))).collect();
    let none = order::Rules::default();
    let bores = order::route(at, &centres, Some(end), &none);
    let sunk = bores.iter().filter(|&&i| panel.bores[i].countersink.is_some());
    let drilled = bores.iter().chain(sunk).map(|&i| centres[i]);
    for stop in drilled {
        travel += (stop - at).length();
        at = stop;
    }
    let order = order::route(at, &starts, Some(end), &none);
    for &i in &order {
        travel += (starts[i] - at).length();
        at = starts[i];
    }
    travel += (end - at).length();
    (bores, order.iter().map(|&i| openings[i].clone()).collect(), travel)
}

/// Where a path begins; the origin of one without corners.
fn first(path: &Path<PanelFrame>) -> Point2<PanelFrame> {
    path.vertices().first().map_or(Point2::origin(), |vertex| vertex.point)
}

#[cfg(test)]
mod tests;
