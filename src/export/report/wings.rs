//! Wings: each measured point against the panel's edge, and what lies below the panels; hatches, in
//! wings and in carcases.

use super::body::Column::{Figures, Words};
use super::body::{Body, Table, heading, paragraph};
use crate::bay;
use crate::export::words;
use crate::finished::Finished;
use crate::geom::{Path, Point2, Point3, VehicleFrame};
use crate::layout::{Board, HatchSummary, WingSummary};
use crate::number::{decimal, fixed};

/// All of it; nothing in a kit without wings.
pub(super) fn wings(finished: &Finished) -> Body {
    let wings = &finished.kit.layout.wings;
    if wings.is_empty() {
        return Body::none();
    }
    let mut html = measured(finished, wings);
    html.push(heading("Lockers below"));
    html.push(paragraph(
        "Room is from the floor or the wheel arch up to the panel, between the carcase and the vehicle's side as \
         measured: good to a few per cent, hardware and strips not taken off.",
    ));
    let mut rooms = Table::new([Words("Wing"), Figures("Room below, about l")]);
    for wing in wings {
        let board = finished.kit.layout.board(wing.board);
        let below = bay::litres(&finished.design.vehicle.bay, wing.side, &plan(board), board.aabb.low.z);
        rooms.row([board.name.clone(), decimal(below, 0)]);
    }
    html + rooms.body()
}

fn measured(finished: &Finished, wings: &[WingSummary]) -> Body {
    let mut table = Table::new([
        Words("Wing"),
        Figures("Point"),
        Figures("x forward"),
        Figures("y outward"),
        Figures("Fillet"),
        Figures("To the edge"),
        Figures("Clearance"),
        Figures("Off by"),
        Words("Remark"),
    ]);
    let mm = |length: f64| decimal(length, 2);
    for wing in wings {
        let clearance = wing.clearance.unwrap_or_default();
        for (i, place) in wing.points.iter().enumerate() {
            table.row([
                finished.kit.layout.board(wing.board).name.clone(),
                (i + 1).to_string(),
                mm(place.at.x),
                mm(place.at.y.abs()),
                mm(place.fillet),
                fixed(place.distance, 2),
                mm(clearance),
                fixed(place.distance - clearance, 2),
                words::residual(place, clearance).to_owned(),
            ]);
        }
    }
    paragraph(
        "From each measured point to the nearest place of the panel's edge. At outside corners the edge is farther from \
         the point than from the lines; a round corner's point is where its lines would meet.",
    ) + table.body()
}

/// Every hatch; nothing in a kit without.
pub(super) fn hatches(finished: &Finished) -> Body {
    let layout = &finished.kit.layout;
    if layout.hatches.is_empty() {
        return Body::none();
    }
    let wing_of = |hatch: &HatchSummary| layout.wings.iter().find(|wing| wing.board == hatch.host);
    let in_wings = layout.hatches.iter().any(|hatch| wing_of(hatch).is_some());
    let depths = if in_wings { vec![Figures("Least depth"), Figures("Most depth")] } else { Vec::new() };
    let mut table = Table::new(
        [
            Words("Lid"),
            Figures("Opening l x w"),
            Figures("Ledge"),
            Words("Strips at"),
            Figures("Finger hole"),
        ]
        .into_iter()
        .chain(depths),
    );
    for hatch in &layout.hatches {
        let size = hatch.opening.1 - hatch.opening.0;
        let (ledge, strips) = match hatch.sides.as_slice() {
            [] => (String::new(), "none: it lies on the floor".to_owned()),
            sides => (decimal(hatch.ledge, 1), sides.join(", ")),
        };
        let mut row = vec![
            layout.board(hatch.lid).name.clone(),
            format!("{} x {}", decimal(size.x, 1), decimal(size.y, 1)),
            ledge,
            strips,
            decimal(hatch.finger_hole, 1),
        ];
        if let Some(wing) = wing_of(hatch) {
            let top = layout.board(wing.board).aabb.high.z;
            let (least, most) = bay::depths(&finished.design.vehicle.bay, wing.side, hatch.opening, top);
            row.extend([decimal(least, 0), decimal(most, 0)]);
        } else if in_wings {
            row.extend([String::new(), String::new()]);
        }
        table.row(row);
    }
    let mut words = "Lids lie loose on strips that are bolted under the rim.".to_owned();
    if in_wings {
        words += " Depth under those of wings is from the panel's upper face straight down to the floor or the wheel arch.";
    }
    paragraph(&words) + table.body()
}

/// A lying board's contour in the vehicle's plan.
fn plan(board: &Board) -> Path<VehicleFrame> {
    board.shape.moved(|p| {
        let place = board.placement.to_vehicle(Point3::new(p.x, p.y, 0.0));
        Point2::new(place.x, place.y)
    })
}
