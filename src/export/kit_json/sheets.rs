//! Sheets of `kit.json`.

use super::model::{Placed, Sawn, Sheet, SheetTotal, Zone};
use super::{Edition, mm, ratio};
use crate::cutting::{Hold, PartPlan};
use crate::finished::{Finished, NamedSheet, SheetGroup};
use crate::nest::{self, CostBy, Cutting};

/// Every sheet, by material.
pub(super) fn sheets(finished: &Finished) -> Vec<Sheet> {
    finished
        .groups
        .iter()
        .flat_map(|group| group.sheets().map(|named| sheet(finished, group, named)))
        .collect()
}

fn sheet(finished: &Finished, group: &SheetGroup, named: NamedSheet<'_>) -> Sheet {
    let NamedSheet { name, sheet, stock, clearances, plan, frozen, .. } = named;
    let panel = |placed: &crate::nest::Placed| group.parts[placed.part].name.clone();
    let place = |(i, placed): (usize, &crate::nest::Placed)| {
        let (held, tabs) = held(plan.parts.iter().find(|part| part.placed == i));
        Placed {
            panel: panel(placed),
            x: mm(placed.placement.x),
            y: mm(placed.placement.y),
            angle: mm(placed.placement.angle),
            flipped: placed.placement.flipped,
            held: held.to_owned(),
            tabs,
        }
    };
    Sheet {
        name: name.to_owned(),
        edition: named.edition(Some(&finished.edition)).map(Edition::of),
        material: group.material.id.clone(),
        stock: stock.name.clone(),
        size: [mm(stock.length), mm(stock.width)],
        price: stock.price,
        offcut: stock.offcut,
        defects: stock.defects.iter().map(zone).collect(),
        offcuts: group.offcuts(&named).iter().map(zone).collect(),
        trim: mm(clearances.trim),
        gap: mm(clearances.gap),
        frozen,
        saw: (group.nesting.cutting == Cutting::Guillotine && !frozen)
            .then(|| Sawn { kerf: mm(clearances.gap), stages: group.nesting.stages }),
        placed: sheet.placed.iter().enumerate().map(place).collect(),
        used_share: ratio(named.usage(&group.parts).share()),
        order: plan.parts.iter().filter_map(|part| sheet.placed.get(part.placed)).map(panel).collect(),
        travel: mm(plan.travel),
    }
}

/// How a part is held, in a word, and its number of tabs.
fn held(part: Option<&PartPlan>) -> (&'static str, usize) {
    match part.map(|part| &part.hold) {
        Some(Hold::Size) | None => ("size", 0),
        Some(Hold::Nothing) => ("nothing", 0),
        Some(Hold::Skin) => ("skin", 0),
        Some(Hold::Tabs(middles)) => ("tabs", middles.len()),
    }
}

/// One line for each material.
pub(super) fn totals(finished: &Finished) -> Vec<SheetTotal> {
    let groups = finished.groups.iter();
    groups
        .map(|group| SheetTotal {
            material: group.material.id.clone(),
            sheets: group.nesting.sheets.len(),
            frozen: group.frozen.len(),
            lower_bound: group.nesting.bound,
            cost_in: match group.nesting.cost.by {
                CostBy::Price => "currency".to_owned(),
                CostBy::Area => "mm2".to_owned(),
            },
            cost: mm(group.nesting.cost.used),
            least_cost: mm(group.nesting.cost.least),
            used_share: ratio(group.usage().share()),
        })
        .collect()
}

fn zone(zone: &nest::Zone) -> Zone {
    Zone { x: mm(zone.x), y: mm(zone.y), length: mm(zone.length), width: mm(zone.width) }
}
