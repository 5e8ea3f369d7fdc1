//! The report of loose parts: sheets with their pictures, and the cut list.

use super::body::Column::{Figures, Short, Words};
use super::body::{Block, Body, Table, paragraph};
use super::page::{Section, escaped, whole};
use super::{cuts, findings, holding, pictures};
use crate::diag::{Finding, Sources};
use crate::export::cut_files::sheets_of_each;
use crate::export::words;
use crate::loose::LooseParts;
use crate::number::{decimal, fixed};

/// `report.html` of loose parts.
pub(crate) fn html(loose: &LooseParts, found: &[Finding], sources: &Sources) -> String {
    let set = loose.cut_set();
    let sections = [
        Section { id: "figures", title: "Key figures", body: key_figures(loose) },
        Section { id: "sheets", title: "Sheets", body: pictures::sheets(&set) },
        Section { id: "cuts", title: "Cuts", body: cuts::cuts(&set) },
        Section { id: "holding", title: "Cutting order and holding", body: holding::holding(&set) },
        Section { id: "cut-list", title: "Cut list", body: cut_list(loose) },
        Section { id: "findings", title: "Findings", body: findings::findings(found, sources) },
    ];
    let title_block = format!(
        "<header>\n<h1>{}</h1>\n<dl>\n<div><dt>Made with</dt><dd>Baywright {}</dd></div>\n\
         <div><dt>Units</dt><dd>millimetres</dd></div>\n</dl>\n</header>\n",
        escaped(&loose.name),
        env!("CARGO_PKG_VERSION"),
    );
    whole(&loose.name, "sheets", &title_block, &sections)
}

fn key_figures(loose: &LooseParts) -> Body {
    let mut terms = Vec::new();
    let mut figure = |what: &str, value: &str, note: &str| {
        terms.push((what.to_owned(), value.to_owned(), note.to_owned()));
    };
    let pieces: usize = loose.parts.iter().map(|part| part.quantity).sum();
    let distinct = loose.parts.len();
    figure("Parts", &pieces.to_string(), &format!("{distinct} different"));
    let currency = loose.workshop.currency.as_ref().map(|currency| currency.value.as_str());
    for group in &loose.groups {
        let n = group.nesting.sheets.len();
        let what = format!("Sheets of {}", group.material.id);
        figure(&what, &n.to_string(), &words::proof(&group.nesting, &group.stock, currency));
    }
    Block::Terms { class: "figures", terms }.into()
}

fn cut_list(loose: &LooseParts) -> Body {
    let mut table = Table::new([
        Words("Part"),
        Figures("Pieces"),
        Short("Material"),
        Figures("Thick"),
        Figures("Length"),
        Figures("Width"),
        Short("Grain"),
        Short("Face"),
        Figures("Area m2"),
        Words("Sheets"),
    ]);
    let sheets = sheets_of_each(&loose.groups);
    for (i, part) in loose.parts.iter().enumerate() {
        table.row([
            part.name.clone(),
            part.quantity.to_string(),
            part.material.id.clone(),
            part.material.thickness.map_or_else(String::new, |(_, actual)| decimal(actual, 2)),
            decimal(part.size.0, 2),
            decimal(part.size.1, 2),
            words::grain(part.grain).to_owned(),
            if part.either_face { "either" } else { "up" }.to_owned(),
            fixed(part.area() * 1e-6, 4),
            sheets.get(&i).cloned().unwrap_or_default(),
        ]);
    }
    let note = "Length and width are those of the list, or of the drawing as it is drawn; the area is that of one piece. \
                Behind each sheet stands how many pieces lie on it, if there are several.";
    paragraph(note) + table.body()
}
