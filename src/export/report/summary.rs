//! The head of the report: whose kit it is, and the figures that one asks for first.

use super::page::escaped;
use super::pictures::already_cut;
use crate::bay::place;
use crate::diag::At;
use crate::export::{hardware, words};
use crate::finished::Finished;
use crate::geom::Aabb;
use crate::number::{decimal, fixed};
use std::fmt::Write;

/// Name, revision, inputs, vehicle, workshop, version, and where the cautions are.
pub(super) fn title_block(finished: &Finished) -> String {
    let design = &finished.design;
    let named = |name: &Option<At<String>>| {
        name.as_ref().map_or_else(|| "not named".to_owned(), |name| escaped(&name.value))
    };
    format!(
        "<header>\n<h1>{}</h1>\n<dl>\n<div><dt>Name</dt><dd>{}</dd></div>\n\
         <div><dt>Revision</dt><dd>{}</dd></div>\n\
         <div><dt>Inputs</dt><dd>{}</dd></div>\n<div><dt>Vehicle</dt><dd>{}</dd></div>\n\
         <div><dt>Workshop</dt><dd>{}</dd></div>\n<div><dt>Made with</dt><dd>Baywright {}</dd></div>\n\
         <div><dt>Units</dt><dd>millimetres and kilograms</dd></div>\n</dl>\n\
         <p class=\"caution\">Arithmetic on what was entered; no engineer has signed it and nothing here shows that \
         a load is safe in a crash. Read the <a href=\"#cautions\">cautions</a> before cutting.</p>\n</header>\n",
        escaped(&design.name.value),
        escaped(&design.name.value),
        named(&design.revision),
        finished.edition.short_hash(),
        named(&design.vehicle.name),
        named(&design.workshop.name),
        env!("CARGO_PKG_VERSION"),
    )
}

/// Sizes, counts, mass.
pub(super) fn key_figures(finished: &Finished) -> String {
    let kit = &finished.kit;
    let mut list = String::from("<dl class=\"figures\">\n");
    let mut figure = |what: &str, value: &str, note: &str| {
        let note = if note.is_empty() { String::new() } else { format!("<small>{}</small>", escaped(note)) };
        let _ = writeln!(list, "<div><dt>{}</dt><dd>{}{note}</dd></div>", escaped(what), escaped(value));
    };
    let bay = &finished.design.vehicle.bay;
    let size = [bay.width, bay.depth, bay.height].map(|side| decimal(side.value, 1)).join(" x ");
    figure("Bay", &size, "width x depth x height");
    for (id, _) in &finished.masses.carcases {
        let size = outer(finished, id).size();
        let size = [size.y, size.x, size.z].map(|side| decimal(side, 1)).join(" x ");
        figure(&format!("Carcase {id}"), &size, "over all: width x depth x height, shut");
    }
    figure("Panels", &kit.panels.len().to_string(), "");
    figure("Drawers and trays", &kit.layout.drawers.len().to_string(), "");
    let pieces: usize = hardware::lines(finished).iter().map(|line| line.needed).sum();
    figure("Bolts", &kit.bolts.len().to_string(), &format!("{pieces} pieces of hardware without spares"));
    for group in &finished.groups {
        let number = group.nesting.sheets.len();
        let what = format!("Sheets of {}", group.material.id);
        let currency = finished.design.workshop.currency.as_ref().map(|currency| currency.value.as_str());
        let proof = words::proof(&group.nesting, &group.stock, currency);
        figure(&what, &number.to_string(), &format!("{proof}{}", already_cut(group)));
    }
    let total = finished.masses.total;
    figure(
        "Mass of the kit",
        &format!("{} kg", fixed(total.mass, 1)),
        &format!("{}; empty", words::weighed(finished.weighed.kit())),
    );
    figure("Centre of gravity", &place(total.centre), "drawers shut and empty");
    list.push_str("</dl>\n");
    list
}

/// The box around a carcase with its fronts, shut.
fn outer(finished: &Finished, carcase: &str) -> Aabb {
    let layout = &finished.kit.layout;
    let own = layout.boards.iter().filter(|board| layout.body(board.body).carcase == carcase);
    Aabb::around(own.flat_map(|board| [board.aabb.low, board.aabb.high]))
}
