//! How sheets are cut: the order, where the tool goes in, and which parts are held how.

use super::body::Column::{Figures, Short, Words};
use super::body::{Body, Table, paragraph};
use super::pictures::count;
use crate::cutting::{Hold, PartPlan, Workpiece};
use crate::finished::{CutSet, NamedSheet, SheetGroup};
use crate::number::decimal;
use crate::spec::{HoldingMethod, TabsAs, Workshop};

/// What holds for every sheet, and a table of the small parts.
pub(super) fn holding(set: &CutSet<'_>) -> Body {
    let workshop = set.workshop;
    let holding = &workshop.holding;
    let mut html = paragraph(
        "The cut files have everything in cutting order: of each part its holes and openings, then its outline. A \
         part inside another's opening comes before that opening, and a small part before its larger neighbours, \
         while what is around it is still whole. Beyond that the way in the air is kept short; it is not proved \
         shortest. Contours begin in the middle of a long straight side.",
    );
    html.push(paragraph(&format!(
        "A part is small if its area is below {} mm2 or its lesser side below {} mm. {} What falls out of openings is \
         not held.",
        decimal(holding.small_area.value, 0),
        decimal(holding.small_width.value, 1),
        method(workshop),
    )));
    let mut table = Table::new([
        Words("Small part"),
        Short("Sheet"),
        Figures("Length"),
        Figures("Width"),
        Words("Held by"),
    ]);
    for group in set.groups {
        for named in group.sheets() {
            for part in &named.plan.parts {
                rows(&mut table, set, (group, named), part);
            }
        }
    }
    html + table.body()
}

fn rows(table: &mut Table, set: &CutSet<'_>, (group, named): (&SheetGroup, NamedSheet<'_>), part: &PartPlan) {
    let Some(placed) = named.sheet.placed.get(part.placed) else { return };
    let panel = &set.workpieces[group.panels[placed.part]];
    if let Some(by) = held_by(panel, &part.hold, set.workshop) {
        let (low, high) = panel.outline.bounds();
        let sizes = [high.x - low.x, high.y - low.y].map(|side| decimal(side, 1));
        let [length, width] = sizes;
        table.row([panel.name.to_owned(), named.name.to_owned(), length, width, by]);
    }
}

/// What the operator has to know about the workshop's way.
fn method(workshop: &Workshop) -> String {
    let holding = &workshop.holding;
    let width = decimal(holding.tabs.width.value, 2);
    match holding.method.value {
        HoldingMethod::None => "Nothing in the files holds small parts.".to_owned(),
        HoldingMethod::Skin => format!(
            "Outlines of small parts lie on a layer of their own and are cut to its depth; {} mm stay. A second pass \
             or a knife frees them.",
            decimal(holding.skin.value, 2)
        ),
        HoldingMethod::Tabs if holding.tabs.shown_as.value == TabsAs::Gaps => format!(
            "Outlines of small parts are left open at the tabs: by {width} mm and the tool's diameter of {} mm, since \
             the tool takes half of that more at each end.",
            decimal(workshop.tool.diameter.value, 2)
        ),
        HoldingMethod::Tabs => format!(
            "Outlines of small parts are closed; marks on a layer of their own show where {width} mm are to be left \
             standing. Set the tabs in the machine's program: nothing holds by the mark alone."
        ),
    }
}

/// How a small part is held; nothing for a part that is not small.
fn held_by(panel: &Workpiece<'_>, hold: &Hold, workshop: &Workshop) -> Option<String> {
    match hold {
        Hold::Size => None,
        Hold::Nothing => Some("nothing".to_owned()),
        Hold::Skin => Some(format!(
            "skin of {} mm in {} mm",
            decimal(workshop.holding.skin.value, 2),
            panel.material.thickness.map_or_else(String::new, |(_, actual)| decimal(actual, 2))
        )),
        Hold::Tabs(middles) => Some(count(middles.len(), "tab")),
    }
}
