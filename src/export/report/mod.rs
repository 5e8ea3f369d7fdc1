//! The report: one HTML page with pictures, tables, findings and cautions.
//!
//! Takes a finished design with its findings and the rules that ran; gives a page that needs no network, no
//! script and no other file. Style sheet: `templates/report.css`. No date: the same design gives the same page.

mod assembly;
mod bars;
mod bay;
mod body;
mod budget;
mod cautions;
mod comparison;
mod cutouts;
mod doors;
mod cuts;
mod equipment;
mod findings;
mod finish;
mod fixing;
mod handover;
mod holding;
mod labels;
mod loose;
mod masses;
mod moves;
mod page;
mod parts;
mod print;
mod quote;
mod pictures;
mod runs;
mod steps;
mod strength;
mod strength_sums;
mod summary;
mod tie_downs;
mod weighed;
mod wings;

use crate::diag::{Finding, Sources};
use crate::export::picture::PanelPage;
use crate::finished::Finished;
pub(crate) use comparison::{Beside, Said, comparison, is_comparison};
pub(crate) use labels::labels;
pub(crate) use loose::html as loose;
use page::Section;

/// The report as a page and on paper: `report.html` and `report.pdf`, both with the panels' drawings.
pub(crate) fn report(
    finished: &Finished,
    findings: &[Finding],
    sources: &Sources,
    panels: Vec<PanelPage>,
) -> (String, Vec<u8>) {
    let sections = sections(finished, findings, sources);
    let name = &finished.design.name.value;
    let title_block = summary::title_block(finished);
    let page = page::with_drawings(name, "drawer kit", &title_block, &sections, &panels);
    let (terms, foot) = (summary::terms(finished), summary::foot(finished));
    let cover = print::Cover { name, terms: &terms, caution: summary::CAUTION, foot: &foot };
    let printed = print::pdf(&cover, &sections, panels, finished.design.workshop.paper.size);
    // Nothing is what an invariant refuses.
    (page, printed.unwrap_or_default())
}

/// What the report says, section by section.
fn sections(finished: &Finished, findings: &[Finding], sources: &Sources) -> Vec<Section> {
    let set = finished.cut_set();
    vec![
        Section { id: "figures", title: "Key figures", body: summary::key_figures(finished) },
        Section { id: "pictures", title: "The kit in its bay", body: pictures::kit(finished) },
        Section { id: "bay", title: "The bay", body: bay::numbers(finished) },
        Section { id: "fixing", title: "Held to the vehicle", body: fixing::fixing(finished) },
        Section { id: "sheets", title: "Sheets", body: pictures::sheets(&set) },
        Section { id: "cuts", title: "Cuts", body: cuts::cuts(&set) },
        Section { id: "holding", title: "Cutting order and holding", body: holding::holding(&set) },
        Section { id: "cut-list", title: "Cut list", body: parts::cut_list(finished) },
        Section { id: "drawers", title: "Drawers and trays", body: assembly::drawers(finished) },
        Section { id: "doors", title: "Doors", body: doors::doors(finished) },
        Section { id: "goes-in", title: "How it goes in", body: moves::goes_in(finished) },
        Section { id: "together", title: "Open together", body: moves::together(finished) },
        Section { id: "wings", title: "Wings", body: wings::wings(finished) },
        Section { id: "hatches", title: "Hatches", body: wings::hatches(finished) },
        Section { id: "equipment", title: "Equipment", body: equipment::equipment(finished) },
        Section { id: "cutouts", title: "Cut-outs", body: cutouts::cutouts(finished) },
        Section { id: "runs", title: "Cables, hoses, ducts", body: runs::runs(finished) },
        Section { id: "tie-downs", title: "Tie-downs", body: tie_downs::tie_downs(finished) },
        Section { id: "finish", title: "Finishes", body: finish::finish(finished) },
        Section { id: "hardware", title: "Hardware", body: parts::hardware(finished) },
        Section { id: "bags", title: "Hardware in bags", body: parts::bags(finished) },
        Section { id: "assembly", title: "Putting it together", body: steps::steps(finished) },
        Section { id: "angles", title: "Angles", body: parts::angles(finished) },
        Section { id: "joints", title: "Joints", body: assembly::joints(finished) },
        Section { id: "masses", title: "Masses", body: masses::masses(finished) },
        Section { id: "weighed", title: "As weighed", body: weighed::weighed(finished) },
        Section { id: "vehicle", title: "What the vehicle may carry", body: budget::budget(finished) },
        Section { id: "strength", title: "Will it hold", body: strength::strength(finished) },
        Section { id: "quote", title: "What it costs", body: quote::quote(finished) },
        Section { id: "order", title: "What to buy", body: quote::orders(finished) },
        Section { id: "findings", title: "Findings", body: findings::findings(findings, sources) },
        Section { id: "rules", title: "Rules that ran", body: findings::rules(findings, &finished.rules) },
        Section { id: "handover", title: "For the driver", body: handover::handover(finished) },
        Section {
            id: "inspection",
            title: "For an inspecting engineer",
            body: handover::inspection(finished),
        },
        Section { id: "strength-sums", title: "Strength, worked out", body: strength_sums::sums(finished) },
        Section { id: "cautions", title: "Cautions", body: cautions::cautions() },
    ]
}

#[cfg(test)]
mod tests {
    use crate::example_kits as example;
    use crate::golden;
    use std::fmt::Write;

    fn report(spec: &str) -> String {
        let built = example::built(spec);
        let finished = built.finished.unwrap();
        super::report(&finished, &built.findings, &built.sources, Vec::new()).0
    }

    #[test]
    fn the_page_has_every_drawing_that_the_paper_has() {
        let built = example::built(example::ANGLES);
        let finished = built.finished.unwrap();
        let panels = crate::export::picture::panels(&finished);
        let n = panels.len();
        let (page, _) = super::report(&finished, &built.findings, &built.sources, panels);
        assert_eq!(page.matches("<figure class=\"drawing\">").count(), n);
        for panel in &finished.kit.panels {
            assert!(page.contains(&format!("<title>Panel {}</title>", panel.name)), "{}", panel.name);
        }
        assert!(page.contains("<a href=\"#drawings\">") && page.contains("<section id=\"drawings\">"));
    }

    /// Each tag of the page as it stands, without its angle brackets, and the text after it.
    fn tags(page: &str) -> impl Iterator<Item = (&str, &str)> {
        let (style, rest) = (page.find("<style>").unwrap(), page.find("</style>").unwrap());
        let text = page[..style].split('<').chain(page[rest..].split('<').skip(1));
        text.skip(1).map(|piece| piece.split_once('>').unwrap())
    }

    #[test]
    fn the_structure_stays() {
        let page = report(example::ANGLES);
        let mut structure = String::new();
        for (tag, text) in tags(&page) {
            let name = tag.split(' ').next().unwrap();
            if matches!(name, "h1" | "h2" | "h3" | "dt" | "th" | "title" | "b" | "section" | "tfoot") {
                let id = tag.split_once("id=").map_or("", |(_, id)| id);
                writeln!(structure, "{name} {id}{}", text.trim()).unwrap();
            }
        }
        golden::check("report/two-drawers-structure.txt", structure.as_bytes());
    }

    #[test]
    fn every_tag_is_closed_where_it_was_opened() {
        let sawn = example::ANGLES.replace("carcases:", "workshop: {cutting: saw}\ncarcases:");
        for spec in [example::ANGLES, example::TOWER, example::SIDE_BY_SIDE, &sawn] {
            let page = report(spec);
            let mut open: Vec<&str> = Vec::new();
            for (tag, _) in tags(&page) {
                let name = tag.split([' ', '\n']).next().unwrap();
                if let Some(name) = name.strip_prefix('/') {
                    if name != "style" {
                        assert_eq!(open.pop(), Some(name));
                    }
                } else if !tag.ends_with('/') && !matches!(name, "!DOCTYPE" | "meta" | "br") {
                    open.push(name);
                }
            }
            assert!(open.is_empty(), "{open:?}");
        }
    }

    #[test]
    fn names_of_the_spec_are_text_only() {
        let page = report(example::SIDE_BY_SIDE);
        assert!(page.contains("Estate &lt;long&gt; &amp; &quot;low&quot;") && !page.contains("<long>"));
    }

    #[test]
    fn the_page_needs_nothing_else() {
        let page = report(example::ANGLES);
        for outside in ["<script", "<link", "<img", " src=", "url(", "@import", "https:"] {
            assert!(!page.contains(outside), "{outside}");
        }
        // The only address is the name of the SVG language, which nobody fetches.
        let addresses = page.matches("http:").count();
        assert_eq!(addresses, page.matches("xmlns=\"http://www.w3.org/2000/svg\"").count());
    }

    #[test]
    fn a_second_run_gives_the_same_page() {
        assert!(report(example::TOWER) == report(example::TOWER));
    }

    #[test]
    fn every_entry_of_the_contents_leads_to_a_section() {
        let page = report(example::ANGLES);
        let targets: Vec<&str> =
            tags(&page).filter_map(|(tag, _)| tag.strip_prefix("a href=\"#")?.strip_suffix('"')).collect();
        assert!(targets.len() > 12, "{targets:?}");
        for target in targets {
            assert!(page.contains(&format!("<section id=\"{target}\">")), "{target}");
        }
    }
}
