//! Sheets of `kit.json`.

use super::model::{Placed, Sheet, SheetTotal, Zone};
use super::{mm, ratio};
use crate::export::cut_files::sheet_name;
use crate::finished::Finished;
use crate::nest::{self, CostBy};

/// Every sheet, by material.
pub(super) fn sheets(finished: &Finished) -> Vec<Sheet> {
    let of_group = |group: &crate::finished::SheetGroup| -> Vec<Sheet> {
        let sheets = group.nesting.sheets.iter().enumerate();
        sheets
            .map(|(i, sheet)| Sheet {
                name: sheet_name(group, i),
                material: group.material.id.clone(),
                stock: group.stock[sheet.stock].name.clone(),
                size: [mm(group.stock[sheet.stock].length), mm(group.stock[sheet.stock].width)],
                price: group.stock[sheet.stock].price,
                offcut: group.stock[sheet.stock].offcut,
                defects: group.stock[sheet.stock].defects.iter().map(zone).collect(),
                rests: group.rests(sheet).iter().map(zone).collect(),
                trim: mm(group.clearances.trim),
                gap: mm(group.clearances.gap),
                placed: sheet
                    .placed
                    .iter()
                    .map(|placed| Placed {
                        panel: group.parts[placed.part].name.clone(),
                        x: mm(placed.placement.x),
                        y: mm(placed.placement.y),
                        angle: mm(placed.placement.angle),
                        flipped: placed.placement.flipped,
                    })
                    .collect(),
                used_share: ratio(sheet.usage(&group.parts, &group.stock).share()),
            })
            .collect()
    };
    finished.groups.iter().flat_map(of_group).collect()
}

/// One line for each material.
pub(super) fn totals(finished: &Finished) -> Vec<SheetTotal> {
    let groups = finished.groups.iter();
    groups
        .map(|group| SheetTotal {
            material: group.material.id.clone(),
            sheets: group.nesting.sheets.len(),
            lower_bound: group.nesting.bound,
            cost_in: match group.nesting.cost.by {
                CostBy::Price => "currency".to_owned(),
                CostBy::Area => "mm2".to_owned(),
            },
            cost: mm(group.nesting.cost.used),
            least_cost: mm(group.nesting.cost.least),
            used_share: ratio(group.nesting.usage(&group.parts, &group.stock).share()),
        })
        .collect()
}

fn zone(zone: &nest::Zone) -> Zone {
    Zone { x: mm(zone.x), y: mm(zone.y), length: mm(zone.length), width: mm(zone.width) }
}
