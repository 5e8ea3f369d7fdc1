//! The bay in numbers: what was measured, what is kept from it, and the head room above the kit.

use super::body::Column::{Figures, Words};
use super::body::{Body, Table, heading, paragraph};
use crate::finished::Finished;
use crate::geom::{Profile, Relief};
use crate::layout::around;
use crate::number::decimal;
use crate::spec::{Arch, Bay};

/// All readings, then the clearances.
pub(super) fn numbers(finished: &Finished) -> Body {
    let bay = &finished.design.vehicle.bay;
    let mut readings = Table::new([Words("Measured"), Words("Where"), Figures("mm")]);
    let mut row = |what: &str, place: &str, value: String| {
        readings.row([what.to_owned(), place.to_owned(), value]);
    };
    row("Width", "at the floor, where it is narrowest", mm(bay.width.value));
    for (z, x) in bay.seat_back.value.points() {
        row("Length to the seat back", &format!("{} above the floor", mm(*z)), mm(*x));
    }
    for (what, relief) in [("Centreline to left side", &bay.left), ("Centreline to right side", &bay.right)] {
        for (place, value) in of_side(&relief.value) {
            row(what, &place, value);
        }
    }
    for arch in &bay.arches {
        for (what, place, value) in of_arch(arch) {
            row(&what, place, value);
        }
    }
    for (x, z) in bay.roof.value.points() {
        row("Floor to roof", &along(&bay.roof.value, *x), mm(*z));
    }
    for (what, place, value) in of_rear(bay) {
        row(&what, &place, value);
    }
    for (what, place, value) in of_doors(bay) {
        row(&what, &place, value);
    }
    for (what, place, value) in of_floor(finished) {
        row(what, place, value);
    }
    let design = &finished.design;
    let mut kept = Table::new([Words("Clearance"), Words("Measured"), Figures("mm")]);
    let c = &design.clearances;
    for (what, how, value) in [
        ("Panels to a wheel arch", "inwards, upwards and past its ends", c.arch),
        ("Panels to the seat back", "along the bay", c.seat_back),
        ("Panels to the closed door", "along the bay", c.door),
        ("Panels to a latch", "all round", c.latch),
        ("Panels to sides and roof", "across and upwards", c.trim),
        (
            "Carcases to the opening",
            "on the way in: in its width and in its height, both sides together",
            c.opening,
        ),
    ] {
        kept.row([what.to_owned(), how.to_owned(), mm(value.value)]);
    }
    readings.body()
        + heading("What is kept clear")
        + paragraph(
            "Bolts, angles and slides may stand in the clearances, but not in what they are kept from.",
        )
        + kept.body()
}

fn mm(length: f64) -> String {
    decimal(length, 1)
}

/// Where a reading was taken along the bay.
fn along(profile: &Profile, x: f64) -> String {
    match profile.points().len() {
        1 => "everywhere".to_owned(),
        _ => format!("{} ahead of the rear edge", mm(x)),
    }
}

fn of_side(relief: &Relief) -> Vec<(String, String)> {
    let mut rows = Vec::new();
    for (x, values) in relief.stations().iter().zip(relief.values()) {
        for (z, value) in relief.heights().iter().zip(values) {
            let place = match (relief.stations().len(), relief.heights().len()) {
                (1, 1) => "everywhere".to_owned(),
                (1, _) => format!("{} above the floor", mm(*z)),
                _ => format!("{} ahead of the rear edge, {} above the floor", mm(*x), mm(*z)),
            };
            rows.push((place, mm(*value)));
        }
    }
    rows
}

fn of_arch(arch: &Arch) -> Vec<(String, &'static str, String)> {
    let points = arch.profile.points();
    let name = format!("{} wheel arch", if arch.side.sign() > 0.0 { "Left" } else { "Right" });
    vec![
        (name.clone(), "from the centreline to its inner face", mm(arch.from_centre.value)),
        (name.clone(), "begins ahead of the rear edge", mm(points[0].0)),
        (name.clone(), "ends ahead of the rear edge", mm(points[points.len() - 1].0)),
        (name, "highest above the floor", mm(arch.profile.greatest())),
    ]
}

/// Door, latches and opening.
fn of_rear(bay: &Bay) -> Vec<(String, String, String)> {
    let mut rows = Vec::new();
    for (z, x) in bay.door.value.points() {
        let place = match bay.door.value.points().len() {
            1 => "everywhere".to_owned(),
            _ => format!("{} above the floor", mm(*z)),
        };
        rows.push(("Closed door, ahead of the rear edge".to_owned(), place, mm(*x)));
    }
    for latch in &bay.latches {
        let (low, high) = (latch.value.low, latch.value.high);
        let aside = |y: f64| match mm(y.abs()) {
            zero if zero == "0" => "0".to_owned(),
            length if y > 0.0 => format!("{length} left"),
            length => format!("{length} right"),
        };
        let place = format!(
            "reaches in; stands from {} to {}, {} to {} above the floor",
            aside(high.y),
            aside(low.y),
            mm(low.z),
            mm(high.z)
        );
        rows.push(("Latch".to_owned(), place, mm(high.x)));
    }
    if let Some(opening) = &bay.opening {
        for (z, width) in opening.widths.points() {
            rows.push(("Opening, width".to_owned(), format!("{} above the floor", mm(*z)), mm(*width)));
        }
        rows.push(("Opening, upper edge".to_owned(), "above the floor".to_owned(), mm(opening.height.value)));
        rows.push(("Sill".to_owned(), "above the floor".to_owned(), mm(opening.sill.value)));
    }
    rows
}

/// Leaves and side doors.
fn of_doors(bay: &Bay) -> Vec<(String, String, String)> {
    let mut rows = Vec::new();
    for leaf in &bay.leaves {
        let (low, high) = (leaf.shut.low, leaf.shut.high);
        let name = format!("Leaf {}", leaf.id.value);
        let hinge = leaf.hinge.word();
        rows.push((name.clone(), "across".to_owned(), mm(high.y - low.y)));
        rows.push((name.clone(), "through".to_owned(), mm(high.x - low.x)));
        rows.push((name.clone(), "lower edge above the floor".to_owned(), mm(low.z)));
        rows.push((name.clone(), "upper edge above the floor".to_owned(), mm(high.z)));
        rows.push((
            name,
            format!("stands open, hinged at its {hinge} edge"),
            format!("{} degrees", decimal(leaf.open.value, 1)),
        ));
    }
    for door in &bay.side_doors {
        let name = format!("{} side door", if door.side.sign() > 0.0 { "Left" } else { "Right" });
        rows.push((name.clone(), "begins ahead of the rear edge".to_owned(), mm(door.from.value)));
        rows.push((name.clone(), "clear width".to_owned(), mm(door.width.value)));
        rows.push((name.clone(), "sill above the floor".to_owned(), mm(door.sill.value)));
        rows.push((name, "upper edge above the floor".to_owned(), mm(door.height.value)));
    }
    rows
}

/// Floor, folded seats and head room.
fn of_floor(finished: &Finished) -> Vec<(&'static str, &'static str, String)> {
    let bay = &finished.design.vehicle.bay;
    let mut rows = Vec::new();
    if bay.ribs.value > 0.0 {
        rows.push(("Ribs of the floor", "packers between them are as thick", mm(bay.ribs.value)));
    }
    if bay.slope.value != 0.0 {
        let degrees = format!("{} degrees", decimal(bay.slope.value, 2));
        rows.push(("Slope of the floor", "falls towards the rear", degrees));
    }
    if let Some(seats) = bay.folded_seats {
        rows.push(("Folded seats", "above the floor", mm(seats.value)));
    }
    let boards = &finished.kit.layout.boards;
    let kit = around(boards);
    rows.push(("Kit, highest place", "above the floor", mm(kit.high.z)));
    rows.push(("Head room", "from there to the roof where it is lowest", mm(bay.height.value - kit.high.z)));
    rows
}
