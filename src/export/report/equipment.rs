//! Equipment: where it stands, what it weighs, what holds it, how much air it gets.

use super::body::Column::{Figures, Words};
use super::body::{Body, Table, heading, paragraph};
use crate::finished::Finished;
use crate::layout::EquipmentSummary;
use crate::moves::{BELOW_CEILING, NEAR_FLOOR_AND_ROOF, gas_vents};
use crate::number::{decimal, fixed};
use crate::spec::Chemistry;

/// Every piece of equipment; nothing in a kit without.
pub(super) fn equipment(finished: &Finished) -> Body {
    let equipment = &finished.kit.layout.equipment;
    if equipment.is_empty() {
        return Body::none();
    }
    let mut table = Table::new([
        Words("Equipment"),
        Words("What"),
        Words("Stands"),
        Figures("Length x width x height"),
        Figures("Empty kg"),
        Figures("Full kg"),
        Figures("Litres"),
        Words("Held by"),
        Figures("Lid opens by"),
    ]);
    for one in equipment {
        let size = one.aabb.size();
        table.row([
            one.name.clone(),
            one.title.clone(),
            one.place.clone(),
            [size.x, size.y, size.z].map(|length| decimal(length, 1)).join(" x "),
            fixed(one.empty, 1),
            fixed(one.full, 1),
            if one.liquid > 0.0 { decimal(one.liquid, 1) } else { String::new() },
            held(one),
            one.lid.map_or_else(String::new, |lid| decimal(lid.size().z, 1)),
        ]);
    }
    let sum = |mass: fn(&EquipmentSummary) -> f64| fixed(equipment.iter().map(mass).sum(), 1);
    table.sum([
        "All".to_owned(),
        String::new(),
        String::new(),
        String::new(),
        sum(|one| one.empty),
        sum(|one| one.full),
        String::new(),
        String::new(),
        String::new(),
    ]);
    paragraph(
        "Carried in the kit and no part of its mass. Sizes from the catalogue are generic: measure what was bought before \
         anything is cut.",
    ) + table.body()
        + air(finished)
        + heat(finished)
        + sketch(finished)
}

fn held(one: &EquipmentSummary) -> String {
    let several = |n: usize, word: &str| match n {
        0 => None,
        1 => Some(format!("1 {word}")),
        n => Some(format!("{n} {word}s")),
    };
    let held = [several(one.straps, "strap"), several(one.bars, "bar"), several(one.foot_bolts, "bolt")];
    let held: Vec<String> = held.into_iter().flatten().collect();
    if held.is_empty() { "nothing".to_owned() } else { held.join(", ") }
}

fn air(finished: &Finished) -> Body {
    let airings = &finished.moves.airings;
    if airings.is_empty() {
        return Body::none();
    }
    let mut table = Table::new([
        Words("Equipment"),
        Figures("Needs below cm2"),
        Figures("Has below cm2"),
        Figures("Needs above cm2"),
        Figures("Has above cm2"),
    ]);
    let cm2 = |area: f64| decimal(area / 100.0, 1);
    for airing in airings {
        table.row([
            finished.kit.layout.equipment[airing.equipment].name.clone(),
            cm2(airing.needed.0),
            cm2(airing.low),
            cm2(airing.needed.1),
            cm2(airing.high),
        ]);
    }
    heading("Air")
        + paragraph(
            "Free areas of the cut-outs around the cell, of an open front and of an open top, below and above the \
             equipment's middle. A sketch: follow the maker's guide.",
        )
        + table.body()
}

/// What must stay free of heat; nothing in a kit where nothing gets hot.
fn heat(finished: &Finished) -> Body {
    let layout = &finished.kit.layout;
    let mut table = Table::new([
        Words("Equipment"),
        Figures("Free over its top mm"),
        Figures("Free beside it, above its top, mm"),
        Words("Used"),
    ]);
    let hot: Vec<_> = layout.equipment.iter().filter_map(|one| Some((one, one.heat?.0))).collect();
    if hot.is_empty() {
        return Body::none();
    }
    for (one, heat) in hot {
        let body = layout.body(layout.fixtures[one.fixture].body);
        let used = if body.travel.length() > 0.0 { "drawn out" } else { "where it stands" };
        table.row([one.name.clone(), decimal(heat.above, 1), decimal(heat.beside, 1), used.to_owned()]);
    }
    heading("Heat")
        + paragraph(
            "What the maker asks for; nothing of the kit or the vehicle is nearer while it is used as said here.",
        )
        + table.body()
}

/// Vents for batteries and gas: a sketch for the licensed person; nothing in a kit without.
fn sketch(finished: &Finished) -> Body {
    let layout = &finished.kit.layout;
    let mut table =
        Table::new([Words("Equipment"), Words("For"), Figures("Low cm2"), Figures("High cm2"), Words("By")]);
    let mut any = false;
    let cm2 = |area: f64| decimal(area / 100.0, 1);
    for one in &layout.equipment {
        let mut row = |what: &str, area: Option<f64>, by: &str| {
            any = true;
            let area = area.map_or_else(|| "-".to_owned(), cm2);
            table.row([one.name.clone(), what.to_owned(), area.clone(), area, by.to_owned()]);
        };
        if let Some(battery) = one.battery {
            match battery.chemistry {
                Chemistry::Lithium => {
                    row("lithium battery", None, "clauses of its own: ask the licensed person");
                }
                Chemistry::LeadAcid | Chemistry::LeadAcidSealed => {
                    row(
                        "hydrogen of a lead-acid battery",
                        Some(battery.vent()),
                        "EN 50272-3: Q = 0.05 n I C / 100, A = 28 Q",
                    );
                }
            }
        }
        if let Some(cell) = one.cell.filter(|_| one.gas) {
            let by = format!(
                "2 % of the locker's floor, half low at the floor, half within {BELOW_CEILING} mm of the ceiling (Indiana 675 IAC \
                 15-2-74); 50 cm2 each at least (EN 1949, from memory)"
            );
            row("gas locker", Some(gas_vents(&layout.cells[cell])), &by);
        }
    }
    if let Some(living) = finished.moves.living {
        any = true;
        let by = format!(
            "A = 610 U + 650 P mm2, 4000 at least, with U = {} MJ/h of appliances that are not sealed from the room (AS/NZS \
             5601.2:2020 section 7); half low and half high, within {NEAR_FLOOR_AND_ROOF} mm of floor and roof, never shut",
            decimal(living.rate, 1)
        );
        let half = cm2(living.needed / 2.0);
        table.row(["living space".to_owned(), "gas that burns in it".to_owned(), half.clone(), half, by]);
    }
    if !any {
        return Body::none();
    }
    heading("Batteries and gas: a sketch, check with the licensed person")
        + paragraph(
            "Free areas to the outside of the vehicle. A compartment's lead not to the living space, from which it is sealed. AS/NZS \
             3001.2, AS/NZS 5601.2, EN 721, EN 1949 and NFPA 1192 are among the rules that may apply; nothing here claims that \
             any of them is met. A battery's cables are protected within 200 mm of it (AS/NZS 3001.2).",
        )
        + table.body()
}
