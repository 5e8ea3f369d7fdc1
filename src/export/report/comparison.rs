//! Kits beside each other on one page: their pictures in one scale, their figures, what becomes of panels.
//!
//! Takes documents and texts that are decided elsewhere; gives a page that needs no other file. Style sheet: that of reports.

use super::body::{Block, Body, Column, Figure, Table, figure, heading, list, paragraph};
use super::page::{Section, escaped, whole};
use crate::export::kit_json::KitDocument;
use crate::export::picture::{self, Shown};

/// What the window's title says that the page is of; by it a page of ours is known again.
const KIND: &str = "kits compared";

/// A kit on the page.
pub(crate) struct Beside<'a> {
    /// What it is called there, and in the heads of the table.
    pub(crate) title: String,
    /// Its name and state.
    pub(crate) note: String,
    /// The kit.
    pub(crate) kit: &'a KitDocument,
}

/// What the page says beside its pictures.
pub(crate) struct Said {
    /// Heads of the table.
    pub(crate) heads: Vec<String>,
    /// Its rows.
    pub(crate) rows: Vec<Vec<String>>,
    /// Lists with their titles.
    pub(crate) lists: Vec<(String, Vec<String>)>,
}

/// The page.
pub(crate) fn comparison(kits: &[Beside<'_>], said: &Said) -> String {
    let lists = said.lists.iter().map(|(title, items)| heading(title) + list(items));
    let heads = said.heads.iter().cloned();
    let sections = [
        Section { id: "pictures", title: "Pictures", body: pictures(kits) },
        Section { id: "figures", title: "Figures", body: figures(heads, &said.rows) },
        Section { id: "panels", title: "Panels", body: lists.collect() },
    ];
    let name = kits.iter().map(|kit| kit.title.as_str()).collect::<Vec<_>>().join(" | ");
    let term = |kit: &Beside<'_>| {
        format!("<div><dt>{}</dt><dd>{}</dd></div>\n", escaped(&kit.title), escaped(&kit.note))
    };
    let title_block = format!(
        "<header>\n<h1>Kits beside each other</h1>\n<dl>\n{}</dl>\n</header>\n",
        kits.iter().map(term).collect::<String>()
    );
    whole(&name, KIND, &title_block, &sections)
}

/// Whether a text is the beginning of such a page.
pub(crate) fn is_comparison(text: &str) -> bool {
    text.starts_with("<!DOCTYPE html>") && text.contains(&format!(": {KIND}</title>"))
}

/// Each way of looking in a row of its own, all of them in one scale, so that sizes can be compared by eye.
fn pictures(kits: &[Beside<'_>]) -> Body {
    let documents: Vec<&KitDocument> = kits.iter().map(|kit| kit.kit).collect();
    let drawn = picture::of_documents(&documents);
    let full = drawn.iter().flatten().map(|shown| shown.canvas.size().0).fold(0.0, f64::max);
    let one = |shown: Shown, kit: &Beside<'_>| -> Figure {
        let title = format!("{}: {}", kit.title, shown.title.to_lowercase());
        figure("view", shown.canvas, full, (&title, shown.note), Vec::new())
    };
    let (mut slanting, mut straight) = (Vec::new(), Vec::new());
    for ([shut, from_tailgate], kit) in drawn.into_iter().zip(kits) {
        slanting.push(one(shut, kit));
        straight.push(one(from_tailgate, kit));
    }
    paragraph(
        "All drawings have one scale; dimensions are in millimetres. Everything is shut, and tabs are left out. The \
         dashed outline is the bay as measured, dotted lines are the clearances.",
    ) + Block::Row(slanting).into()
        + Block::Row(straight).into()
}

/// A table whose first column has names and the others figures.
fn figures(heads: impl IntoIterator<Item = String>, rows: &[Vec<String>]) -> Body {
    let column = |(i, head)| if i == 0 { Column::Headed(head) } else { Column::Counted(head) };
    let mut table = Table::new(heads.into_iter().enumerate().map(column));
    for row in rows {
        table.row(row);
    }
    Block::Table(table).into()
}
