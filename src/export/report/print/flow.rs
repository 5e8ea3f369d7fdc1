//! Blocks onto pages: one below the other, tables with their heads on every page, drawings whole.

use super::letters::Letters;
use super::table;
use super::{Bookmark, Leaf};
use crate::export::picture::{Anchor, Area, Canvas, FILING, Spot, area};
use crate::export::report::body::{Block, Body, Figure};

/// mm of paper around the print but on the left, where pages are filed.
pub(super) const EDGE: f64 = 12.0;
/// mm below the print for the foot of the page.
const FOOT: f64 = 18.0;
/// Sizes of text, mm; a line is so many times as high.
pub(super) const TEXT: f64 = 3.1;
const SMALL: f64 = 2.5;
const HEADING: f64 = 3.6;
const TITLE: f64 = 5.2;
pub(super) const LINE: f64 = 1.38;
/// mm between blocks.
const GAP: f64 = 3.0;
/// Part of the page's width that the picture of a step takes.
const STEP: f64 = 0.45;
/// Width of a paragraph, mm: longer lines are hard to read.
const MEASURE: f64 = 150.0;

/// Pages being filled.
pub(super) struct Flow<'a> {
    pub(super) letters: &'a Letters,
    paper: (f64, f64),
    /// Pages so far.
    pub(super) leaves: Vec<Leaf<'a>>,
    /// Where sections begin.
    pub(super) bookmarks: Vec<Bookmark>,
    /// mm from the page's lower edge to where the next block begins.
    y: f64,
}

impl<'a> Flow<'a> {
    pub(super) fn new(letters: &'a Letters, paper: (f64, f64)) -> Self {
        let mut flow = Flow { letters, paper, leaves: Vec::new(), bookmarks: Vec::new(), y: 0.0 };
        flow.page();
        flow
    }

    /// Begins a page.
    pub(super) fn page(&mut self) {
        self.leaves.push(Leaf {
            paper: self.paper,
            canvas: Canvas::new(TEXT),
            pictures: Vec::new(),
            foot: true,
        });
        self.y = self.paper.1 - EDGE;
    }

    /// Whether anything stands on this page.
    pub(super) fn begun(&self) -> bool {
        self.y < self.paper.1 - EDGE - 0.01
    }

    /// mm between the left and the right edge of the print.
    pub(super) fn width(&self) -> f64 {
        self.paper.0 - FILING - EDGE
    }

    /// Begins a page if less than so many mm are left on this one, unless it is empty.
    pub(super) fn need(&mut self, height: f64) {
        if self.y - height < FOOT && self.begun() {
            self.page();
        }
    }

    /// mm that are left on this page.
    fn room(&self) -> f64 {
        self.y - FOOT
    }

    /// Takes so many mm from the top of what is left; gives where they begin.
    pub(super) fn take(&mut self, height: f64) -> f64 {
        let top = self.y;
        self.y -= height;
        top
    }

    pub(super) fn canvas(&mut self) -> &mut Canvas {
        // There is a page from the start on.
        let last = self.leaves.len() - 1;
        &mut self.leaves[last].canvas
    }

    /// A line of text that begins, or ends, at x, in a line of height `size * LINE` below `top`.
    pub(super) fn line(&mut self, class: &str, text: &str, (x, top): (f64, f64), size: f64) {
        let at = Spot::new(x, top - size * LINE / 2.0);
        self.canvas().words(class, text, at, size, Anchor::Start);
    }

    /// Lines below each other over the page's breaks.
    pub(super) fn lines(&mut self, class: &str, text: &str, (indent, room): (f64, f64), size: f64) {
        let bold = class == "head" || class == "title";
        for line in self.letters.wrapped(text, size, bold, room) {
            self.need(size * LINE);
            let top = self.take(size * LINE);
            self.line(class, &line, (FILING + indent, top), size);
        }
    }

    /// A section: its title, then what it says.
    pub(super) fn section(&mut self, title: &str, body: &'a Body) {
        if self.begun() {
            self.take(GAP);
        }
        self.need(TITLE * LINE + 30.0);
        let top = self.take(GAP);
        let (left, right) = (FILING, FILING + self.width());
        self.canvas().line("rule", &[Spot::new(left, top), Spot::new(right, top)]);
        self.bookmarks.push(Bookmark { title: title.to_owned(), page: self.leaves.len() - 1 });
        self.lines("title", title, (0.0, self.width()), TITLE);
        self.take(GAP / 2.0);
        self.body(body);
    }

    fn body(&mut self, body: &'a Body) {
        for block in &body.0 {
            self.block(block);
        }
    }

    pub(super) fn block(&mut self, block: &'a Block) {
        match block {
            Block::Paragraph(text) => self.lines("text", text, (0.0, self.width().min(MEASURE)), TEXT),
            Block::Heading(text) => {
                self.take(GAP / 2.0);
                self.need(HEADING * LINE + 15.0);
                self.lines("head", text, (0.0, self.width()), HEADING);
            }
            Block::List(items) => {
                for item in items {
                    self.need(TEXT * LINE);
                    let top = self.y;
                    self.line("text", "\u{2022}", (FILING + 1.0, top), TEXT);
                    self.lines("text", item, (4.5, self.width().min(MEASURE) - 4.5), TEXT);
                }
            }
            Block::Table(one) => table::table(self, one),
            Block::Figure(one) => self.figure(one),
            Block::Row(figures) => figures.chunks(2).for_each(|pair| self.row(pair)),
            Block::Group { body, .. } => self.body(body),
            Block::Terms { terms, .. } => terms.iter().for_each(|term| self.term(term)),
        }
        self.take(GAP);
    }

    /// A name on the left and what is said of it on the right.
    fn term(&mut self, (name, value, note): &(String, String, String)) {
        let column = self.width() * 0.26;
        let room = self.width() - column - 3.0;
        let said = if note.is_empty() { value.clone() } else { format!("{value} ({note})") };
        let lines = self.letters.wrapped(&said, TEXT, false, room).len();
        let names = self.letters.wrapped(name, TEXT, true, column);
        self.need(TEXT * LINE * lines.max(names.len()) as f64);
        let top = self.y;
        for (i, name) in names.iter().enumerate() {
            self.line("head", name, (FILING, top - TEXT * LINE * i as f64), TEXT);
        }
        self.lines("text", &said, (column + 3.0, room), TEXT);
        self.y = self.y.min(top - TEXT * LINE * names.len() as f64) - 0.8;
    }

    /// A drawing as wide as its share of the page, or as fits on one.
    fn figure(&mut self, figure: &'a Figure) {
        let (width, height) = figure.canvas.size();
        let share = match figure.class {
            "step" => STEP,
            _ if figure.full > 0.0 => (width / figure.full).min(1.0),
            _ => 1.0,
        };
        let most = self.paper.1 - EDGE - FOOT - 20.0;
        let wide = (self.width() * share).min(most * width / height);
        let tall = wide * height / width;
        let key = self.key_lines(figure);
        let below = (1.0 + key.len() as f64) * SMALL * LINE + 2.0;
        self.need(tall + below);
        let top = self.take(tall);
        self.place(&figure.canvas, area(FILING, top - tall, FILING + wide, top));
        self.caption(figure, (0.0, self.width()));
        for line in key {
            self.lines("small", &line, (0.0, self.width()), SMALL);
        }
    }

    /// What numbers in a drawing stand for, several to a line.
    fn key_lines(&self, figure: &Figure) -> Vec<String> {
        let entries: Vec<String> =
            figure.key.iter().map(|(number, name)| format!("{number}: {name}")).collect();
        if entries.is_empty() {
            return Vec::new();
        }
        self.letters.wrapped(&entries.join(",  "), SMALL, false, self.width())
    }

    /// Two drawings of one scale beside each other, their feet level.
    fn row(&mut self, figures: &'a [Figure]) {
        let half = (self.width() - 6.0) / 2.0;
        let sizes: Vec<(f64, f64)> = figures
            .iter()
            .map(|figure| {
                let (width, height) = figure.canvas.size();
                let wide = if figure.full > 0.0 { half * (width / figure.full).min(1.0) } else { half };
                (wide, wide * height / width)
            })
            .collect();
        let tall = sizes.iter().map(|size| size.1).fold(0.0, f64::max);
        self.need(tall + 3.0 * SMALL * LINE);
        let top = self.take(tall);
        let below = self.y;
        let mut lowest = below;
        for (i, (figure, (wide, high))) in figures.iter().zip(sizes).enumerate() {
            let indent = (half + 6.0) * i as f64;
            let x = FILING + indent;
            self.place(&figure.canvas, area(x, top - tall, x + wide, top - tall + high));
            self.y = below;
            self.caption(figure, (indent, half));
            lowest = lowest.min(self.y);
        }
        self.y = lowest - GAP / 2.0;
    }

    fn caption(&mut self, figure: &Figure, (indent, room): (f64, f64)) {
        let said = if figure.note.is_empty() {
            figure.title.clone()
        } else {
            format!("{}: {}", figure.title, figure.note)
        };
        self.take(0.8);
        for line in self.letters.wrapped(&said, SMALL, false, room) {
            let top = self.take(SMALL * LINE);
            self.line("note", &line, (FILING + indent, top), SMALL);
        }
    }

    fn place(&mut self, canvas: &'a Canvas, shape: Area) {
        let last = self.leaves.len() - 1;
        self.leaves[last].pictures.push((canvas, shape));
    }

    /// Whether so many mm are left on this page.
    pub(super) fn has(&self, height: f64) -> bool {
        self.room() >= height
    }
}
