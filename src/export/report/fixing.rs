//! What holds the kit to the vehicle, and how what must stay in reach is reached.

use super::page::Column::{Figures, Words};
use super::page::{Table, heading, paragraph};
use crate::checks::reach;
use crate::finished::Finished;
use crate::joints::{Anchorage, Kit};
use crate::number::decimal;
use crate::spec::Anchor;

/// Points, then zones; empty if the bay has neither.
pub(super) fn fixing(finished: &Finished) -> String {
    anchors(finished) + &zones(finished)
}

fn anchors(finished: &Finished) -> String {
    let anchors = &finished.design.vehicle.bay.anchors;
    if anchors.is_empty() {
        return String::new();
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
    ]);
    let mut approvals = String::new();
    for anchor in anchors {
        let used = kit.anchorages.iter().find(|anchorage| anchorage.point == anchor.id.value);
        let (held, with, hole) = match used {
            None => ("nothing".to_owned(), String::new(), String::new()),
            Some(anchorage) => (anchorage.carcase.clone(), with(kit, anchorage), hole(kit, anchorage)),
        };
        table.row([
            anchor.id.value.clone(),
            what(anchor),
            decimal(anchor.place.x, 1),
            decimal(anchor.place.y, 1),
            held,
            with,
            hole,
        ]);
        if let Some(reference) = used.and_then(|anchorage| anchorage.engineer.as_ref()) {
            approvals += &paragraph(&format!(
                "{} is used with an engineer's approval that the spec refers to: {reference}. This report has not seen it.",
                anchor.id.value
            ));
        }
    }
    paragraph(
        "Bolts go into points that the vehicle has; nothing is drilled. Ratings are the vehicle maker's, one point and \
         one direction at a time. Tighten from inside the carcase, drawers out, before the upper bolts are drawn up.",
    ) + &table.html()
        + &approvals
}

fn what(anchor: &Anchor) -> String {
    let rating = anchor.rating.map_or_else(
        || "rating not given".to_owned(),
        |rating| format!("rated {} N", decimal(rating.value, 0)),
    );
    format!("{}, {}, {rating}", anchor.kind.value.words(), anchor.thread.value)
}

fn with(kit: &Kit, anchorage: &Anchorage) -> String {
    let hardware = &kit.bolt(anchorage.bolt()).hardware;
    let bolt = format!("{} x {}", hardware.thread.size, decimal(hardware.length, 1));
    match anchorage.tie() {
        None => format!("{bolt}, spreader washer, {} mm in the thread", decimal(hardware.proud, 1)),
        Some(tie) => format!(
            "turnbuckle, {} mm between its eyes; eye nut on {bolt}",
            decimal((tie.to - tie.from).length(), 1)
        ),
    }
}

fn hole(kit: &Kit, anchorage: &Anchorage) -> String {
    let bolt = kit.bolt(anchorage.bolt());
    let panels: Vec<&str> = bolt.panels.iter().map(|&id| kit.panel(id).name.as_str()).collect();
    let kind = match bolt.slack {
        (0.0, 0.0) => "round".to_owned(),
        (x, y) => format!("slot, {} mm along and {} mm across either way", decimal(x, 1), decimal(y, 1)),
    };
    format!("{kind}, in {}", panels.join(", "))
}

fn zones(finished: &Finished) -> String {
    let zones = reach::zones(finished);
    if zones.is_empty() {
        return String::new();
    }
    let mut table = Table::new([Words("What"), Words("How it is reached"), Words("Tools")]);
    for zone in &zones {
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
    heading("What stays in reach") + &table.html()
}
