//! Two pages that go out of the shop: what the driver must know of the kit, and what an inspecting engineer asks for.

use super::body::Column::{Figures, Short, Words};
use super::body::{Body, Table, heading, list, paragraph};
use super::fixing;
use crate::export::words;
use crate::finished::Finished;
use crate::joints::Purpose;
use crate::layout::{GRAVITY, RESTRAINT_CASES};
use crate::number::{decimal, fixed};
use crate::strength::Kind;
use std::collections::BTreeMap;

/// For the customer: what each thing may carry, how to look after it, what to mind.
pub(super) fn handover(finished: &Finished) -> Body {
    paragraph("For whoever drives with the kit. Keep this page in the vehicle.")
        + drawers(finished)
        + panels(finished)
        + straps(finished)
        + heading("Care")
        + list(&CARE.map(str::to_owned))
        + heading("Before driving")
        + list(&BEFORE_DRIVING.map(str::to_owned))
}

/// Common practice, no source; the first interval of bolts as in the cautions.
const CARE: [&str; 5] = [
    "Tighten all bolts again after the first 100 km, after 1000 km and then once a year: timber settles under them.",
    "Look at slides, latches, hinges and straps at every service; what is bent or worn is replaced, not bent back.",
    "Wipe up water at once. Do not wash the kit out with a hose: plywood swells.",
    "Do not drill into it or cut it: holes near bolts, slides and points that hold it make it weaker than it looks.",
    "After a crash, or when it was ever loaded beyond these figures, have the kit and its points looked at before it carries anything \
     again.",
];

/// Of the cautions what a driver does.
const BEFORE_DRIVING: [&str; 4] = [
    "Shut and latch every drawer, tray and door, and look again.",
    "Tie down what stands on decks and trays. Nothing loose behind people.",
    "Heavy things low and near the axle; open one loaded drawer at a time.",
    "Weigh the vehicle as you drive it, each axle by itself: its plate governs, not this page.",
];

fn drawers(finished: &Finished) -> Body {
    let mut table = Table::new([
        Words("Drawer or tray"),
        Figures("May carry kg"),
        Words("Limited by"),
        Figures("Comes out mm"),
        Words("Stands on it"),
    ]);
    let layout = &finished.kit.layout;
    let part = |kind: &Kind| match kind {
        Kind::Panel => "bottom",
        Kind::Joint => "bolts of its slides",
        Kind::LooseModule => "its module, which tips",
        other => other.word(),
    };
    for (takes, carried) in finished.strength.takes.iter().zip(&finished.masses.carried) {
        let drawer = &layout.drawers[takes.drawer];
        // Rounded down: never more than was worked out.
        let most = takes.most.map_or_else(|| "unknown".to_owned(), |(most, _)| decimal(most.floor(), 0));
        let first = takes.most.map(|(_, first)| part(&first).to_owned());
        let unknown = takes.unknown.iter().map(|kind| format!("{} not checked", part(kind)));
        let gives: Vec<String> = first.into_iter().chain(unknown).collect();
        let equipment = if carried.equipment > 0.0 {
            format!("{} kg, counted already", fixed(carried.equipment, 1))
        } else {
            String::new()
        };
        table.row([drawer.name.clone(), most, gives.join("; "), decimal(drawer.slide.travel, 0), equipment]);
    }
    let note = format!(
        "What may be put in, spread over the bottom, beside the drawer itself and what stands on it. Slides count with {} of \
         their rating.",
        decimal(finished.design.slide_factor.value, 2)
    );
    if layout.drawers.is_empty() {
        Body::none()
    } else {
        heading("Drawers and trays") + paragraph(&note) + table.body()
    }
}

/// Decks, shelves and lids: what each bears in the case that asks most of it. Bottoms stand with their drawers.
fn panels(finished: &Finished) -> Body {
    let mut table = Table::new([Words("Panel"), Figures("Bears kg"), Words("when")]);
    let bottom = |board| finished.kit.layout.drawers.iter().any(|drawer| drawer.bottom == board);
    for check in finished.strength.panels.iter().filter(|check| !bottom(check.board)) {
        let (Some(worst), Some(bears)) = (check.worst(), check.at_limit) else { continue };
        let name = finished.kit.layout.board(check.board).name.clone();
        table.row([name, decimal(bears.floor(), 0), worst.together.name().to_owned()]);
    }
    if table.rows.is_empty() {
        return Body::none();
    }
    heading("Decks, shelves, lids")
        + paragraph(
            "By arithmetic, for the loads that were asked about. What is not listed bears nothing but itself.",
        )
        + table.body()
}

fn straps(finished: &Finished) -> Body {
    let ties = &finished.kit.layout.tie_downs;
    if ties.is_empty() {
        return Body::none();
    }
    let ways = RESTRAINT_CASES.map(|case| case.way);
    let mut table = Table::new([
        Words("Tie-down"),
        Figures("Points"),
        Figures("One strap holds kg"),
        Words("in its weakest way"),
    ]);
    for tie in ties {
        let masses = tie.masses();
        let weakest = (0..masses.len()).min_by(|&a, &b| masses[a].total_cmp(&masses[b])).unwrap_or(0);
        table.row([
            tie.name.clone(),
            tie.middles.len().to_string(),
            decimal(masses[weakest].floor(), 0),
            ways[weakest].to_owned(),
        ]);
    }
    heading("Tie-downs")
        + paragraph("Against hard braking and cornering, not a crash. Straps must be rated for as much.")
        + table.body()
}

/// For an inspecting engineer: what holds the kit, with what, against what, and what was left alone.
pub(super) fn inspection(finished: &Finished) -> Body {
    let edition = &finished.edition;
    paragraph(&format!(
        "Worked out from inputs with the hash {}. Nothing here is certified; it says what was designed, for somebody licensed to judge.",
        edition.inputs
    )) + fixing::anchors(finished)
        + restraint(finished)
        + bolts(finished)
        + heading("Seats, belts, child restraints")
        + paragraph(&seats(finished))
}

/// Forces on each carcase with all that is in it, beside what its points are rated for.
fn restraint(finished: &Finished) -> Body {
    let kit = &finished.kit;
    let mut table = Table::new([
        Words("Carcase"),
        Figures("Loaded kg"),
        Figures("Points"),
        Figures("Their ratings together N"),
    ]);
    let mut columns = Vec::new();
    for case in RESTRAINT_CASES {
        columns.push(format!("{} g {}: N", case.share, case.way));
    }
    table.columns.extend(columns.into_iter().map(super::body::Column::Counted));
    for (id, loaded) in &finished.masses.loaded {
        let points: Vec<_> = kit.anchorages.iter().filter(|anchorage| anchorage.carcase == *id).collect();
        let ratings: Option<f64> = points
            .iter()
            .map(|anchorage| {
                let anchors = &finished.design.vehicle.bay.anchors;
                let anchor = anchors.iter().find(|anchor| anchor.id.value == anchorage.point)?;
                anchor.rating.map(|rating| rating.value)
            })
            .sum();
        let mut row = vec![id.clone(), fixed(loaded.mass, 1), points.len().to_string()];
        row.push(
            ratings
                .filter(|_| !points.is_empty())
                .map_or_else(|| "not known".to_owned(), |sum| decimal(sum, 0)),
        );
        row.extend(RESTRAINT_CASES.map(|case| decimal(loaded.mass * case.share * GRAVITY, 0)));
        table.row(row);
    }
    heading("What braking and cornering ask for")
        + paragraph(&format!(
            "Mass times share times {GRAVITY} m/s2, each way by itself, through the centre of gravity: no friction, no overturning, no \
             sharing between points, no prying. A carcase without points of its own is bolted to another, which carries both. Ratings \
             are those that the vehicle's maker gives for one point in one direction; their sum is no strength of the whole."
        ))
        + table.body()
}

/// Bolts by what they are for, and by designation.
fn bolts(finished: &Finished) -> Body {
    let mut counts: BTreeMap<(&str, String), usize> = BTreeMap::new();
    for bolt in &finished.kit.bolts {
        let purpose = match bolt.purpose {
            Purpose::Anchor => "to the vehicle",
            Purpose::Joint => "panel to panel",
            Purpose::SlideFixed | Purpose::SlideMoving => "slides",
            Purpose::Fixture => "fittings and equipment",
        };
        let bolted = &bolt.hardware;
        let name = words::designation(&bolted.head.standard, &bolted.thread.size, Some(bolted.length));
        *counts.entry((purpose, name)).or_default() += 1;
    }
    let mut table = Table::new([Words("For"), Short("Bolt"), Figures("Number")]);
    for ((purpose, bolt), number) in counts {
        table.row([purpose.to_owned(), bolt, number.to_string()]);
    }
    heading("Bolts") + table.body()
}

fn seats(finished: &Finished) -> String {
    let anchors = &finished.design.vehicle.bay.anchors;
    let people = anchors.iter().filter(|anchor| anchor.kind.value.holds_people());
    let used: Vec<&str> = people
        .filter(|anchor| finished.kit.anchorages.iter().any(|anchorage| anchorage.point == anchor.id.value))
        .map(|anchor| anchor.id.value.as_str())
        .collect();
    if used.is_empty() {
        "The design fixes nothing to a point of a seat, a belt or a child restraint, takes none of them out and drills nothing of the \
         vehicle. That is what the design says; how the kit was fitted is to be seen on the vehicle."
            .to_owned()
    } else {
        format!(
            "The design uses points that hold people: {}. The spec refers to an engineer's approval for each, which nobody has seen here.",
            used.join(", ")
        )
    }
}
