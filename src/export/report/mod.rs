//! The report: one HTML page with pictures, tables, findings and cautions.
//!
//! Takes a finished design with its findings and the rules that ran; gives a page that needs no network, no
//! script and no other file. Style sheet: `templates/report.css`. No date: the same design gives the same page.

mod assembly;
mod cautions;
mod findings;
mod page;
mod parts;
mod pictures;
mod summary;

use crate::diag::{Finding, Rule, Sources};
use crate::finished::Finished;
use page::{Section, escaped};

/// Looks of the page, put into it.
const STYLE: &str = include_str!("../../../templates/report.css");

/// `report.html`. `rules` are those that ran.
pub(crate) fn html(
    finished: &Finished,
    findings: &[Finding],
    sources: &Sources,
    rules: &[&'static Rule],
) -> String {
    let sections = [
        Section { id: "figures", title: "Key figures", body: summary::key_figures(finished) },
        Section { id: "pictures", title: "The kit in its bay", body: pictures::kit(finished) },
        Section { id: "sheets", title: "Sheets", body: pictures::sheets(finished) },
        Section { id: "cut-list", title: "Cut list", body: parts::cut_list(finished) },
        Section { id: "drawers", title: "Drawers", body: assembly::drawers(finished) },
        Section { id: "hardware", title: "Hardware", body: parts::hardware(finished) },
        Section { id: "angles", title: "Angles", body: parts::angles(finished) },
        Section { id: "joints", title: "Joints", body: assembly::joints(finished) },
        Section { id: "masses", title: "Masses", body: assembly::masses(finished) },
        Section { id: "findings", title: "Findings", body: findings::findings(findings, sources) },
        Section { id: "rules", title: "Rules that ran", body: findings::rules(findings, rules) },
        Section { id: "cautions", title: "Cautions", body: cautions::cautions() },
    ];
    let contents: String = sections
        .iter()
        .map(|Section { id, title, .. }| format!("<li><a href=\"#{id}\">{title}</a></li>\n"))
        .collect();
    let body: String = sections.iter().map(Section::html).collect();
    let name = escaped(&finished.design.name.value);
    format!(
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n\
         <meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n\
         <meta name=\"color-scheme\" content=\"light dark\">\n<title>{name}: drawer kit</title>\n\
         <style>\n{STYLE}</style>\n</head>\n<body>\n{}<nav aria-label=\"Contents\">\n<h2>Contents</h2>\n<ol>\n\
         {contents}</ol>\n</nav>\n<main>\n{body}</main>\n</body>\n</html>\n",
        summary::title_block(finished)
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::export::example;

    #[test]
    fn throw_away_dump() {
        let specs = [
            ("two", example::TWO_DRAWERS.to_owned()),
            ("tower", example::TOWER.to_owned()),
            ("side", example::SIDE_BY_SIDE.to_owned()),
        ];
        for (name, spec) in specs {
            let built = example::built(&spec);
            println!("{}", crate::diag::human(&built.findings, &built.sources, false));
            let Some(finished) = built.finished else { continue };
            let text = html(&finished, &built.findings, &built.sources, &crate::build::all_rules());
            std::fs::write(format!("/tmp/report-{name}.html"), text).unwrap();
        }
    }
}
