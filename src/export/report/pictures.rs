//! The sections that are mostly drawings: the kit in its bay, and the sheets.

use super::page::{escaped, figure, heading, paragraph};
use super::summary::sheets_needed;
use crate::export::picture::{self, Shown};
use crate::finished::{Finished, SheetGroup};
use crate::number::{decimal, fixed};
use std::fmt::Write;

/// The kit from all sides.
pub(super) fn kit(finished: &Finished) -> String {
    let mut shown = picture::views(finished).into_iter();
    let mut html = paragraph(
        "The dashed outline is the bay as measured, at its narrowest and, from above, at the floor with the seat back \
         at the kit's height; full lines are wheel arches and latches, dash-dotted is the opening, dotted lines are \
         the clearances. Dimensions are in millimetres. Of the kit, what stands behind something else is not drawn.",
    );
    if let Some(first) = shown.next() {
        html.push_str(&figure("lead", &first.canvas.svg(first.title, 0.0), first.title, first.note, ""));
    }
    let (open, shut): (Vec<_>, Vec<_>) = shown.partition(|view| view.open);
    html + &row(shut) + &row(open)
}

/// Drawings of one scale, two beside each other.
fn row(views: Vec<Shown>) -> String {
    let full = views.iter().map(|view| view.canvas.size()).fold(0.0, |full: f64, (width, height)| {
        // A drawing stands in half a page's width and must not be taller than the page.
        full.max(width).max(height / 2.2)
    });
    let figures = views
        .into_iter()
        .map(|view| figure("view", &view.canvas.svg(view.title, full), view.title, view.note, ""))
        .collect::<String>();
    if figures.is_empty() { figures } else { format!("<div class=\"views\">\n{figures}</div>\n") }
}

/// Every sheet with what lies on it.
pub(super) fn sheets(finished: &Finished) -> String {
    let mut html = String::new();
    for group in &finished.groups {
        html.push_str(&group_of(finished, group));
    }
    html
}

fn group_of(finished: &Finished, group: &SheetGroup) -> String {
    let material = &group.material;
    let (sheets, bound) = (&group.nesting.sheets, group.nesting.bound);
    let title = if material.title.is_empty() { &material.id } else { &material.title };
    let mut html = heading(&format!("{} ({title}, {} mm)", material.id, decimal(material.actual, 2)));
    let usage = group.nesting.usage(&group.parts, &group.stock);
    html.push_str(&paragraph(&format!(
        "{}; {}. Parts cover {} % of the area; {} mm stay between parts, {} mm along the edge are not used (dashed \
         line). Face A of every part is up.",
        count(sheets.len(), "sheet"),
        sheets_needed(sheets.len(), bound),
        fixed(usage.share() * 100.0, 1),
        decimal(group.clearances.gap, 2),
        decimal(group.clearances.trim, 2),
    )));
    for (i, sheet) in sheets.iter().enumerate() {
        let picture = picture::sheet(group, &finished.kit, sheet);
        let title = format!("{} sheet {} of {}", material.id, i + 1, sheets.len());
        let stock = group.stock.get(sheet.stock).map_or("", |stock| stock.name.as_str());
        let yield_share = fixed(sheet.usage(&group.parts, &group.stock).share() * 100.0, 1);
        let parts = count(sheet.placed.len(), "part");
        let note = format!("{stock}, {parts}, {yield_share} % used");
        let (width, height) = picture.canvas.size();
        // A narrow sheet drawn to the full width of the page would be taller than the page.
        let full = width.max(height * 0.8);
        html.push_str(&figure("sheet", &picture.canvas.svg(&title, full), &title, &note, &key(&picture.key)));
    }
    html
}

/// Names of the parts that carry only a number.
fn key(key: &[(usize, String)]) -> String {
    if key.is_empty() {
        return String::new();
    }
    let entries = key.iter().fold(String::new(), |mut entries, (number, name)| {
        let _ = write!(entries, "<li><b>{number}</b> {}</li>", escaped(name));
        entries
    });
    format!("<ul class=\"key\">{entries}</ul>\n")
}

/// A number with its noun.
pub(super) fn count(number: usize, noun: &str) -> String {
    format!("{number} {noun}{}", if number == 1 { "" } else { "s" })
}
