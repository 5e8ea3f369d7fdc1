//! Equipment: where it stands, what it weighs, what holds it, how much air it gets.

use super::page::Column::{Figures, Words};
use super::page::{Table, heading, paragraph};
use crate::finished::Finished;
use crate::layout::EquipmentSummary;
use crate::number::{decimal, fixed};

/// Every piece of equipment; nothing in a kit without.
pub(super) fn equipment(finished: &Finished) -> String {
    let equipment = &finished.kit.layout.equipment;
    if equipment.is_empty() {
        return String::new();
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
    ) + &table.html()
        + &air(finished)
}

fn held(one: &EquipmentSummary) -> String {
    let straps = match one.straps {
        0 => None,
        1 => Some("1 strap".to_owned()),
        n => Some(format!("{n} straps")),
    };
    let feet = (one.foot_bolts > 0).then(|| format!("{} bolts", one.foot_bolts));
    let held: Vec<String> = straps.into_iter().chain(feet).collect();
    if held.is_empty() { "nothing".to_owned() } else { held.join(", ") }
}

fn air(finished: &Finished) -> String {
    let airings = &finished.moves.airings;
    if airings.is_empty() {
        return String::new();
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
        + &paragraph(
            "Free areas of the cut-outs around the cell, of an open front and of an open top, below and above the \
             equipment's middle. A sketch: follow the maker's guide.",
        )
        + &table.html()
}
