//! The sections that are mostly drawings: the kit in its bay, and the sheets.

use super::body::{Block, Body, Figure, figure, heading, paragraph};
use crate::export::picture::{self, Shown};
use crate::export::words;
use crate::finished::{CutSet, Finished, NamedSheet, SheetGroup};
use crate::nest::{CostBy, Cutting};
use crate::number::{decimal, fixed};
use std::fmt::Write;

/// The kit from all sides.
pub(super) fn kit(finished: &Finished) -> Body {
    let (slanting, straight): (Vec<_>, Vec<_>) =
        picture::views(finished).into_iter().partition(|view| view.slanting);
    let mut html = paragraph(
        "The dashed outline is the bay as measured, at its narrowest and, from above, at the floor with the seat back \
         at the kit's height; full lines are wheel arches and latches, dash-dotted is the opening, dotted lines are \
         the clearances. Dimensions are in millimetres. Of the kit, what stands behind something else is not drawn.",
    );
    if !finished.kit.layout.runs.is_empty() {
        html.push(paragraph("Bold lines are cables, hoses and ducts, drawn over what hides them, in the drawings with all shut."));
    }
    for view in slanting {
        html.push(figure("lead", view.canvas, 0.0, (view.title, view.note), Vec::new()).into());
    }
    let (open, shut): (Vec<_>, Vec<_>) = straight.into_iter().partition(|view| view.open);
    html + row(shut) + row(open)
}

/// Drawings of one scale, two beside each other.
fn row(views: Vec<Shown>) -> Body {
    let full = views.iter().map(|view| view.canvas.size()).fold(0.0, |full: f64, (width, height)| {
        // A drawing stands in half a page's width and must not be taller than the page.
        full.max(width).max(height / 2.2)
    });
    let figures: Vec<Figure> = views
        .into_iter()
        .map(|view| figure("view", view.canvas, full, (view.title, view.note), Vec::new()))
        .collect();
    if figures.is_empty() { Body::none() } else { Block::Row(figures).into() }
}

/// Every sheet with what lies on it.
pub(super) fn sheets(set: &CutSet<'_>) -> Body {
    let mut html = Body::none();
    for group in set.groups {
        html.push(group_of(set, group));
    }
    html
}

fn group_of(set: &CutSet<'_>, group: &SheetGroup) -> Body {
    let material = &group.material;
    let sheets = &group.nesting.sheets;
    let currency = set.workshop.currency.as_ref().map(|currency| currency.value.as_str());
    let thickness = material.thickness.map(|(_, actual)| format!("{} mm", decimal(actual, 2)));
    let title = Some(material.title.clone()).filter(|title| !title.is_empty());
    let known: Vec<String> = title.into_iter().chain(thickness).collect();
    let known = if known.is_empty() { String::new() } else { format!(" ({})", known.join(", ")) };
    let mut html = heading(&format!("{}{known}", material.id));
    let gap = decimal(group.clearances.gap, 2);
    let between = match group.nesting.cutting {
        Cutting::Free => format!("{gap} mm stay between parts"),
        Cutting::Guillotine => format!("a saw's blade takes {gap} mm between them"),
    };
    let usage = group.usage();
    html.push(paragraph(&format!(
        "{}; {}{}. Parts cover {} % of the area; {}, {} mm along the edge are not used (dashed \
         line). Face A of every part is up.",
        count(sheets.len(), "sheet"),
        words::proof(&group.nesting, &group.stock, currency),
        already_cut(group),
        fixed(usage.share() * 100.0, 1),
        between,
        decimal(group.clearances.trim, 2),
    )));
    html.push(remarks(group));
    for named in group.sheets() {
        let NamedSheet { name, sheet, stock, plan, frozen, .. } = named;
        let picture = picture::sheet(group, &set.workpieces, named);
        let title = format!("Sheet {name}");
        let yield_share = fixed(named.usage(&group.parts).share() * 100.0, 1);
        let parts = count(sheet.placed.len(), "part");
        let travel = fixed(plan.travel * 1e-3, 2);
        let cut = if frozen { "cut already, " } else { "" };
        let stock = &stock.name;
        let mut note = format!("{cut}{stock}, {parts}, {yield_share} % used, {travel} m travel in the air");
        if let Some(largest) = group.offcuts(&named).first() {
            let _ = write!(note, "; {} x {} mm left", decimal(largest.length, 1), decimal(largest.width, 1));
        }
        let (width, height) = picture.canvas.size();
        // A narrow sheet drawn to the full width of the page would be taller than the page.
        let full = width.max(height * 0.8);
        html.push(figure("sheet", picture.canvas, full, (&title, &note), picture.key).into());
    }
    html
}

/// How many sheets more are cut already, and what that makes of the other figures.
pub(super) fn already_cut(group: &SheetGroup) -> String {
    match group.frozen.len() {
        0 => String::new(),
        number => format!(" for what is not on the {} cut already", count(number, "sheet")),
    }
}

/// What the reader of the sheets must know beside their figures.
fn remarks(group: &SheetGroup) -> Body {
    let mut told = Vec::new();
    if group.sheets().any(|named| !named.frozen && !group.offcuts(&named).is_empty()) {
        told.push("What is worth keeping of a sheet is shaded and stands in offcuts.yaml.");
    }
    if group.sheets().any(|named| !named.stock.defects.is_empty()) {
        told.push("Zones with a dashed edge are defects: no part lies there, and the gap is kept from them.");
    }
    if group.stock.iter().any(|kind| kind.price.is_some()) && group.nesting.cost.by == CostBy::Area {
        told.push("Some sheets have no price, so sheets are compared by area.");
    }
    if group.nested > 0 && !words::is_proved(&group.nesting, &group.stock) {
        told.push(
            "Nothing better was found, and it is not proved that there is nothing better: what is said to be impossible goes \
             by how much of a sheet the parts take at the least, not by every way in which they can lie beside each other. \
             `nesting: {effort: long}` looks longer.",
        );
    }
    if group.settings.effort.time_limit.is_some() {
        told.push("The search had a time limit: another run may lay the parts out otherwise.");
    }
    if told.is_empty() { Body::none() } else { paragraph(&told.join(" ")) }
}

/// A number with its noun.
pub(super) fn count(number: usize, noun: &str) -> String {
    format!("{number} {noun}{}", if number == 1 { "" } else { "s" })
}
