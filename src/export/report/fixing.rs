//! What holds the kit to the vehicle, and how what must stay in reach is reached.

use super::body::Column::{Figures, Words};
use super::body::{Body, Table, heading, paragraph};
use crate::finished::Finished;
use crate::joints::{Anchorage, Kit};
use crate::number::decimal;
use crate::spec::Anchor;

/// Points, then zones; empty if the bay has neither.
pub(super) fn fixing(finished: &Finished) -> Body {
    anchors(finished) + floors(finished) + zones(finished)
}

/// The vehicle's points and what is held there; nothing if none are listed.
pub(super) fn anchors(finished: &Finished) -> Body {
    let anchors = &finished.design.vehicle.bay.anchors;
    if anchors.is_empty() {
        return Body::none();
    }
    let kit = &finished.kit;
    let mut table = Table::new([
        Words("Point"),
        Words("What it is"),
        Figures("x mm"),
        Figures("y mm"),
        Words("Held there"),
        Words("With"),
        Words("Hole"),
        Figures("Packed mm"),
    ]);
    let mut approvals = Body::none();
    for anchor in anchors {
        let used = kit.anchorages.iter().find(|anchorage| anchorage.point == anchor.id.value);
        let (held, with, hole) = match used {
            None => ("nothing".to_owned(), String::new(), String::new()),
            Some(anchorage) => (anchorage.carcase.clone(), with(kit, anchorage), hole(kit, anchorage)),
        };
        let packed = used.map_or_else(String::new, |anchorage| decimal(packing(kit, anchorage), 1));
        table.row([
            anchor.id.value.clone(),
            what(anchor),
            decimal(anchor.place.x, 1),
            decimal(anchor.place.y, 1),
            held,
            with,
            hole,
            packed,
        ]);
        if let Some(reference) = used.and_then(|anchorage| anchorage.engineer.as_ref()) {
            approvals.push(paragraph(&format!(
                "{} is used with an engineer's approval that the spec refers to: {reference}. This report has not seen it.",
                anchor.id.value
            )));
        }
    }
    paragraph(
        "Bolts go into points that the vehicle has; nothing is drilled. Ratings are the vehicle maker's, one point and \
         one direction at a time. Tighten from inside the carcase, drawers out, before the upper bolts are drawn up.",
    ) + table.body()
        + approvals
}

fn what(anchor: &Anchor) -> String {
    let rating = anchor.rating.map_or_else(
        || "rating not given".to_owned(),
        |rating| format!("rated {} N", decimal(rating.value, 0)),
    );
    format!("{}, {}, {rating}", anchor.kind.value.words(), anchor.thread.value)
}

fn with(kit: &Kit, anchorage: &Anchorage) -> String {
    let hardware = &kit.bolt(anchorage.bolt).hardware;
    let bolt = format!("{} x {}", hardware.thread.size, decimal(hardware.length, 1));
    match anchorage.tie.map(|tie| &kit.ties[tie]) {
        None => format!("{bolt}, spreader washer, {} mm in the thread", decimal(hardware.proud, 1)),
        Some(tie) => format!(
            "turnbuckle, {} mm between its eyes; eye nut on {bolt}",
            decimal((tie.to - tie.from).length(), 1)
        ),
    }
}

fn hole(kit: &Kit, anchorage: &Anchorage) -> String {
    let bolt = kit.bolt(anchorage.bolt);
    let panels: Vec<&str> = bolt.panels.iter().map(|&id| kit.panel(id).name.as_str()).collect();
    let kind = match bolt.slack {
        (0.0, 0.0) => "round".to_owned(),
        (x, y) => format!("slot, {} mm along and {} mm across either way", decimal(x, 1), decimal(y, 1)),
    };
    format!("{kind}, in {}", panels.join(", "))
}

/// mm between the point and the lowest panel over it: what must lie around the bolt there, so that drawing it up does
/// not bend the panel.
fn packing(kit: &Kit, anchorage: &Anchorage) -> f64 {
    let bolt = kit.bolt(anchorage.bolt);
    match anchorage.tie.map(|tie| &kit.ties[tie]) {
        Some(_) => 0.0,
        None => {
            bolt.grip
                - bolt.padding
                - bolt.panels.iter().map(|&id| kit.panel(id).material.actual).sum::<f64>()
        }
    }
}

/// mm between two packers under a false floor, at most. Common practice, no source.
const PACKED_EVERY: f64 = 300.0;

/// False floors and what lies under them, between the ribs.
fn floors(finished: &Finished) -> Body {
    let floors = &finished.design.floors;
    if floors.is_empty() {
        return Body::none();
    }
    let bay = &finished.design.vehicle.bay;
    let mut table = Table::new([
        Words("Floor"),
        Figures("Length mm"),
        Figures("Width mm"),
        Words("Packers across at x mm"),
    ]);
    for floor in floors {
        let length = floor.to.value - floor.from.value;
        let mut stations = Vec::new();
        let pieces = (length / PACKED_EVERY).ceil().max(1.0);
        let mut i = 0.0;
        while i <= pieces {
            stations.push(decimal(floor.from.value + length * i / pieces, 0));
            i += 1.0;
        }
        let at =
            if bay.ribs.value > 0.0 { stations.join(", ") } else { "none: the floor has no ribs".to_owned() };
        table.row([floor.id.value.clone(), decimal(length, 1), decimal(floor.width.value, 1), at]);
    }
    let ribs = decimal(bay.ribs.value, 1);
    let slope = decimal(bay.slope.value, 2);
    let falls = if bay.slope.value == 0.0 {
        String::new()
    } else {
        format!(
            " The vehicle's floor falls {slope} degrees to the rear and the kit follows it: drawers want to run out by \
             themselves when nothing latches them."
        )
    };
    let told = format!(
        "A false floor lies on the ribs; packers {ribs} mm high between them carry it where no rib does.{falls}"
    );
    heading("False floors") + paragraph(&told) + table.body()
}

fn zones(finished: &Finished) -> Body {
    let zones = &finished.moves.zones;
    if zones.is_empty() {
        return Body::none();
    }
    let mut table = Table::new([Words("What"), Words("How it is reached"), Words("Tools")]);
    for zone in zones {
        let mut steps = Vec::new();
        if !zone.open.is_empty() {
            steps.push(format!("open {}", zone.open.join(", ")));
        }
        if !zone.take_out.is_empty() {
            steps.push(format!("take {} out of its slides", zone.take_out.join(", ")));
        }
        steps.extend(zone.lift_out.iter().map(|lid| format!("lift {lid} out")));
        steps.extend(
            zone.take_off.iter().map(|(panel, bolts)| format!("take {panel} off: {bolts} bolts to undo")),
        );
        let how = if steps.is_empty() { "free".to_owned() } else { steps.join("; ") };
        let what = zone.point.map_or_else(|| zone.name.clone(), |what| format!("{}, {what}", zone.name));
        let tools = if zone.wants_tools() { "with tools" } else { "none" };
        table.row([what, how, tools.to_owned()]);
    }
    heading("What stays in reach") + table.body()
}
