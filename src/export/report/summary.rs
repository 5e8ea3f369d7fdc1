//! The head of the report: whose kit it is, and the figures that one asks for first.

use super::body::{Block, Body};
use super::page::escaped;
use super::pictures::already_cut;
use crate::bay::place;
use crate::diag::At;
use crate::export::{hardware, words};
use crate::finished::Finished;
use crate::geom::Aabb;
use crate::layout::around;
use crate::number::{decimal, fixed};
use std::fmt::Write;

/// What is to be minded before anything else.
pub(super) const CAUTION: &str = "Arithmetic on what was entered; no engineer has signed it and nothing here shows that a load is safe in a \
                                  crash.";

/// Name, revision, inputs, vehicle, workshop, version.
pub(super) fn terms(finished: &Finished) -> Vec<(String, String)> {
    let design = &finished.design;
    let named = |name: &Option<At<String>>| {
        name.as_ref().map_or_else(|| "not named".to_owned(), |name| name.value.clone())
    };
    [
        ("Name", design.name.value.clone()),
        ("Revision", named(&design.revision)),
        ("Inputs", finished.edition.short_hash().to_owned()),
        ("Vehicle", named(&design.vehicle.name)),
        ("Workshop", named(&design.workshop.name)),
        ("Made with", format!("Baywright {}", env!("CARGO_PKG_VERSION"))),
        ("Units", "millimetres and kilograms".to_owned()),
    ]
    .map(|(name, value)| (name.to_owned(), value))
    .to_vec()
}

/// What stands at the foot of every printed page: the kit, its revision and its inputs.
pub(super) fn foot(finished: &Finished) -> String {
    format!("{}, {}", finished.design.name.value, finished.edition.words())
}

/// The head of the page, and where the cautions are.
pub(super) fn title_block(finished: &Finished) -> String {
    let terms = terms(finished).into_iter().fold(String::new(), |mut all, (name, value)| {
        let _ = writeln!(all, "<div><dt>{name}</dt><dd>{}</dd></div>", escaped(&value));
        all
    });
    format!(
        "<header>\n<h1>{}</h1>\n<dl>\n{terms}</dl>\n<p class=\"caution\">{CAUTION} Read the <a href=\"#cautions\">cautions</a> before \
         cutting.</p>\n</header>\n",
        escaped(&finished.design.name.value),
    )
}

/// Sizes, counts, mass.
pub(super) fn key_figures(finished: &Finished) -> Body {
    let kit = &finished.kit;
    let mut terms = Vec::new();
    let mut figure = |what: &str, value: &str, note: &str| {
        terms.push((what.to_owned(), value.to_owned(), note.to_owned()));
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
    let (most, unknown) = finished.strength.most_used(kit);
    if let Some((kind, used)) = most.into_iter().max_by(|a, b| a.1.total_cmp(&b.1)) {
        let note =
            format!("of its limit: {}; {unknown} not checked; see \u{201c}Will it hold\u{201d}", kind.word());
        figure("Most used", &format!("{} %", fixed(100.0 * used, 0)), &note);
    }
    Block::Terms { class: "figures", terms }.into()
}

/// The box around a carcase with its fronts, shut.
fn outer(finished: &Finished, carcase: &str) -> Aabb {
    let layout = &finished.kit.layout;
    let own = layout.boards.iter().filter(|board| layout.body(board.body).carcase == carcase);
    around(own)
}
