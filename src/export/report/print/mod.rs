//! The report on paper: the same sections as the page, and a drawing of every panel, as one PDF with its fonts in it.
//!
//! Takes what the sections say; gives bytes. A cover with name, revision and contents comes first.

mod flow;
mod letters;
mod table;
mod writer;

use super::body::Block;
use super::page::Section;
use crate::export::picture::{Anchor, Area, Canvas, FILING, PanelPage, Spot};
use flow::{EDGE, Flow};
use letters::Letters;

/// A page.
pub(super) struct Leaf<'a> {
    /// mm across and up.
    pub(super) paper: (f64, f64),
    /// What is printed on it, mm from its lower left corner.
    pub(super) canvas: Canvas,
    /// Drawings on it, each with the place that it fills.
    pub(super) pictures: Vec<(&'a Canvas, Area)>,
    /// Whether it has a foot with the kit's name and its number.
    pub(super) foot: bool,
}

/// Pages without sections as a PDF; nothing only if fonts or pages are at fault, which would be ours.
pub(super) fn written(title: &str, leaves: &[Leaf<'_>]) -> Option<Vec<u8>> {
    writer::pdf(title, leaves, &[], &Letters::new()?)
}

/// Where a section begins.
struct Bookmark {
    title: String,
    /// From 0.
    page: usize,
}

/// Sections that begin a page, since they are used by themselves.
const OWN_PAGE: [&str; 8] =
    ["pictures", "sheets", "cuts", "cut-list", "masses", "quote", "handover", "inspection"];
/// A section that is only on the screen: what the rules look for is the same for every kit.
const SCREEN_ONLY: &str = "rules";

/// What stands on the cover and at the foot of every page.
pub(super) struct Cover<'a> {
    /// The kit's name.
    pub(super) name: &'a str,
    /// Name and value, line by line.
    pub(super) terms: &'a [(String, String)],
    /// A sentence of caution.
    pub(super) caution: &'a str,
    /// What the foot of each page says beside its number.
    pub(super) foot: &'a str,
}

/// `report.pdf`; nothing only if fonts or pages are at fault, which would be ours.
pub(super) fn pdf(
    cover: &Cover<'_>,
    sections: &[Section],
    panels: Vec<PanelPage>,
    paper: (f64, f64),
) -> Option<Vec<u8>> {
    let letters = Letters::new()?;
    let told = || sections.iter().filter(|section| !section.body.is_empty());
    let mut flow = Flow::new(&letters, paper);
    for Section { id, title, body } in told().filter(|section| section.id != SCREEN_ONLY) {
        if OWN_PAGE.contains(id) && flow.begun() {
            flow.page();
        }
        flow.section(title, body);
    }
    let Flow { mut leaves, mut bookmarks, .. } = flow;
    if !panels.is_empty() {
        bookmarks.push(Bookmark { title: "Panel drawings".to_owned(), page: leaves.len() });
    }
    leaves.extend(panels.into_iter().map(|page| Leaf {
        paper: page.paper,
        canvas: page.canvas,
        pictures: Vec::new(),
        foot: false,
    }));
    // The contents name pages and take some themselves; how many does not depend on the numbers in them.
    let before = laid_out(&letters, paper, cover, &front(cover, &bookmarks)).len();
    for bookmark in &mut bookmarks {
        bookmark.page += before;
    }
    let front = front(cover, &bookmarks);
    let mut all = laid_out(&letters, paper, cover, &front);
    all.append(&mut leaves);
    let count = all.len();
    for (i, leaf) in all.iter_mut().enumerate().filter(|(_, leaf)| leaf.foot) {
        foot(leaf, cover.foot, (i + 1, count));
    }
    writer::pdf(cover.name, &all, &bookmarks, &letters)
}

/// The cover's pages.
fn laid_out<'a>(
    letters: &'a Letters,
    paper: (f64, f64),
    cover: &Cover<'_>,
    front: &'a [Block],
) -> Vec<Leaf<'a>> {
    let mut flow = Flow::new(letters, paper);
    flow.lines("title", cover.name, (0.0, flow.width()), 9.0);
    flow.take(4.0);
    for block in front {
        flow.block(block);
    }
    flow.leaves
}

/// The cover's blocks: what is known of the set, the caution, the contents with the number of each section's page.
fn front(cover: &Cover<'_>, bookmarks: &[Bookmark]) -> Vec<Block> {
    let term = |(name, value): &(String, String)| (name.clone(), value.clone(), String::new());
    let contents = bookmarks
        .iter()
        .map(|bookmark| (bookmark.title.clone(), format!("page {}", bookmark.page + 1), String::new()));
    vec![
        Block::Terms { class: "figures", terms: cover.terms.iter().map(term).collect() },
        Block::Paragraph(cover.caution.to_owned()),
        Block::Heading("Contents".to_owned()),
        Block::Terms { class: "figures", terms: contents.collect() },
    ]
}

/// The foot of a page.
fn foot(leaf: &mut Leaf<'_>, words: &str, (number, count): (usize, usize)) {
    let (y, size) = (9.0, 2.4);
    leaf.canvas.words("small", words, Spot::new(FILING, y), size, Anchor::Start);
    let right = Spot::new(leaf.paper.0 - EDGE, y);
    leaf.canvas.words("small", &format!("page {number} of {count}"), right, size, Anchor::End);
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_long_table_goes_on_over_the_page_with_its_head() {
        use crate::export::report::body::{Body, Column, Table};
        let mut table = Table::new([Column::Words("Panel"), Column::Figures("mm")]);
        for i in 0..200 {
            table.row([format!("panel-{i}"), i.to_string()]);
        }
        let body: Body = table.body();
        let letters = Letters::new().unwrap();
        let mut flow = Flow::new(&letters, (210.0, 297.0));
        flow.section("Cut list", &body);
        assert!(flow.leaves.len() > 2);
        for leaf in &flow.leaves {
            let texts: Vec<String> = leaf
                .canvas
                .marks()
                .iter()
                .filter_map(|mark| match &mark.shape {
                    crate::export::picture::Shape::Text { label, .. } => Some(label.lines.join(" ")),
                    _ => None,
                })
                .collect();
            assert_eq!(texts.iter().filter(|text| *text == "Panel").count(), 1);
        }
    }
}
