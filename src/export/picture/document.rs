//! Kits drawn from what `kit.json` holds, beside each other: at a slant and from the tailgate, all shut.
//!
//! Takes documents, gives drawings whose texts share a size, so that one scale serves them all. A panel is drawn by its true
//! contour, tabs and all, unless it is a rectangle but for its tabs: those lie in other panels, where they are not seen.

use super::painter::{Contour, Look, Solid};
use super::view::{self, Shown, Subject};
use crate::export::kit_json::{Fitting, KitDocument, Panel};
use crate::geom::tolerance::SAME_LENGTH;
use crate::geom::{Aabb, Axes, PanelFrame, Path, Placement, Point2, Point3, Vector3, VehicleFrame, Vertex};

/// The least share of its rectangle that a panel fills which is drawn as that.
const FILLS: f64 = 0.93;

/// For each kit what it looks like shut: at a slant, from the tailgate.
pub(crate) fn of_documents(kits: &[&KitDocument]) -> Vec<[Shown; 2]> {
    let bays: Vec<_> = kits.iter().map(|kit| kit.vehicle.bay.measured()).collect();
    let clearances: Vec<_> = kits.iter().map(|kit| kit.vehicle.clearances.plain()).collect();
    let solids: Vec<Vec<Solid>> = kits.iter().map(|kit| solids(kit)).collect();
    let texts = bays.iter().zip(&solids).map(|(bay, solids)| view::text_for(bay, solids));
    let text = texts.fold(0.0, f64::max);
    let ways: Vec<Vec<Vec<Point3<VehicleFrame>>>> = kits
        .iter()
        .map(|kit| kit.runs.iter().map(|run| run.way.iter().map(|&at| at.into()).collect()).collect())
        .collect();
    let drawn = bays.iter().zip(&clearances).zip(solids).zip(&ways);
    drawn
        .map(|(((bay, clearances), solids), ways)| {
            let shut = view::extent(&solids);
            let runs = ways.iter().map(Vec::as_slice).collect();
            let subject = Subject { solids, shut, bay, clearances, runs };
            let shown = |title, slanting, canvas| Shown { title, note: "", open: false, slanting, canvas };
            [
                shown("Shut", true, view::slanted(&subject, text)),
                shown("From the tailgate", false, view::straight(&subject, Look::Tailgate, text)),
            ]
        })
        .collect()
}

/// Panels, fixtures, slides and angles.
fn solids(kit: &KitDocument) -> Vec<Solid> {
    let mut solids: Vec<Solid> = kit.panels.iter().map(|panel| of_panel(kit, panel)).collect();
    let boxed = |low: [f64; 3], high: [f64; 3]| Aabb { low: low.into(), high: high.into() };
    for fitting in &kit.fittings {
        match fitting {
            Fitting::Angle { legs, .. } => {
                solids.extend(legs.iter().map(|leg| Solid::plain("metal", boxed(leg.low, leg.high))));
            }
            Fitting::Slide { space, .. } => {
                solids.push(Solid::plain("metal", boxed(space.low, space.high)));
            }
            Fitting::Fixture { name, spaces, .. } => {
                for (i, space) in spaces.iter().enumerate() {
                    let texts = if i == 0 { view::name_texts(name) } else { Vec::new() };
                    let shape = boxed(space.low, space.high);
                    solids.push(Solid { texts, ..Solid::plain("fixture", shape) });
                }
            }
            Fitting::Turnbuckle { .. } => {}
        }
    }
    solids
}

fn of_panel(kit: &KitDocument, panel: &Panel) -> Solid {
    let placement = placement(panel);
    let outline = path(&panel.outline);
    let core = core(&outline);
    let size = core.1 - core.0;
    let fills = outline.area().abs() >= FILLS * size.x * size.y && is_square(placement);
    let (low, high) = if fills { core } else { outline.bounds() };
    let corners = [(low.x, low.y), (high.x, low.y), (high.x, high.y), (low.x, high.y)];
    let in_vehicle = |p: Point2<PanelFrame>, w| placement.to_vehicle(Point3::new(p.x, p.y, w));
    let corners = corners.map(|(u, v)| Point2::new(u, v));
    let shape = Aabb::around(corners.iter().flat_map(|&p| [0.0, panel.thickness].map(|w| in_vehicle(p, w))));
    let contour = |path: &Path<PanelFrame>| Contour {
        corners: path.flattened(view::ROUGHLY).into_iter().map(|p| in_vehicle(p, 0.0)).collect(),
        through: placement.axes.w * panel.thickness,
    };
    // Slots have tabs in them, and hatches lids.
    let cut = panel
        .openings
        .iter()
        .filter(|opening| !matches!(opening.kind.as_str(), "tab-slot" | "bolt-slot" | "hatch"));
    Solid {
        contour: (!fills).then(|| contour(&outline)),
        openings: cut.map(|opening| contour(&path(&opening.points))).collect(),
        sunk: panel.role == "lid",
        texts: name(kit, panel).map_or_else(Vec::new, view::name_texts),
        ..Solid::plain(view::class(&panel.role), shape)
    }
}

/// What is written on a panel: on the front of what slides its name, on a front or deck otherwise the panel's or carcase's.
fn name<'a>(kit: &KitDocument, panel: &'a Panel) -> Option<&'a str> {
    let body = kit.bodies.iter().find(|body| body.name == panel.body);
    let moves = body.is_some_and(|body| body.travel.iter().any(|way| way.abs() > SAME_LENGTH));
    match panel.role.as_str() {
        "front" if moves => Some(&panel.body),
        "front" => Some(&panel.name),
        "deck" => Some(&panel.body),
        _ => None,
    }
}

fn placement(panel: &Panel) -> Placement {
    let m = &panel.placement;
    let column = |i: usize| Vector3::new(m[0][i], m[1][i], m[2][i]);
    Placement {
        origin: Point3::new(m[0][3], m[1][3], m[2][3]),
        axes: Axes::from_length_and_face(column(0), column(2)),
    }
}

/// Whether a panel stands along the vehicle's axes.
fn is_square(placement: Placement) -> bool {
    [placement.axes.u, placement.axes.w]
        .iter()
        .all(|axis| axis.to_array().iter().filter(|part| part.abs() > 1e-6).count() == 1)
}

fn path(corners: &[[f64; 3]]) -> Path<PanelFrame> {
    let vertex = |&[u, v, bulge]: &[f64; 3]| Vertex { point: Point2::new(u, v), bulge };
    Path::new(corners.iter().map(vertex).collect())
}

/// The rectangle of a contour without its tabs: on each side the level at which most of the contour runs along it.
fn core(outline: &Path<PanelFrame>) -> (Point2<PanelFrame>, Point2<PanelFrame>) {
    let (low, high) = outline.bounds();
    let middle = low.lerp(high, 0.5);
    let sides: Vec<_> = outline.sides().filter(|side| side.2 == 0.0).collect();
    let level = |pick: fn(Point2<PanelFrame>) -> (f64, f64), beyond: bool, middle: f64, end: f64| {
        let mut levels: Vec<(f64, f64)> = Vec::new();
        for (a, b, _) in &sides {
            let ((along_a, at), (along_b, other)) = (pick(*a), pick(*b));
            if (at - other).abs() > SAME_LENGTH || (at > middle) != beyond {
                continue;
            }
            let length = (along_b - along_a).abs();
            match levels.iter_mut().find(|(level, _)| (*level - at).abs() < SAME_LENGTH) {
                Some((_, sum)) => *sum += length,
                None => levels.push((at, length)),
            }
        }
        levels.into_iter().max_by(|a, b| a.1.total_cmp(&b.1)).map_or(end, |(level, _)| level)
    };
    let (across, along) = (|p: Point2<PanelFrame>| (p.y, p.x), |p: Point2<PanelFrame>| (p.x, p.y));
    (
        Point2::new(level(across, false, middle.x, low.x), level(along, false, middle.y, low.y)),
        Point2::new(level(across, true, middle.x, high.x), level(along, true, middle.y, high.y)),
    )
}
