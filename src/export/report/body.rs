//! What a section says, without a look: paragraphs, lists, tables, drawings. The HTML page and the printed pages are made from it.

use crate::export::picture::Canvas;
use std::ops::Add;

/// Blocks in their order.
#[derive(Debug, Default)]
pub(super) struct Body(pub(super) Vec<Block>);

/// A piece of a section.
#[derive(Debug)]
pub(super) enum Block {
    /// Plain text.
    Paragraph(String),
    /// A smaller heading.
    Heading(String),
    /// Sentences, each with its point.
    List(Vec<String>),
    /// A table.
    Table(Table),
    /// A drawing.
    Figure(Figure),
    /// Drawings of one scale, two beside each other.
    Row(Vec<Figure>),
    /// A drawing with what belongs to it, kept together.
    Group {
        /// Its look on the page: `cuts` or `build`.
        class: &'static str,
        /// What it holds.
        body: Body,
    },
    /// Names with what is said of each.
    Terms {
        /// Its look on the page: `figures` or `cautions`.
        class: &'static str,
        /// Name, value, note; the note may be empty.
        terms: Vec<(String, String, String)>,
    },
}

/// A drawing with its caption.
#[derive(Debug)]
pub(super) struct Figure {
    /// Its look on the page.
    pub(super) class: &'static str,
    /// The drawing.
    pub(super) canvas: Canvas,
    /// mm of it that take the whole width; 0 for all of it.
    pub(super) full: f64,
    /// What one sees.
    pub(super) title: String,
    /// What else there is to say of it; may be empty.
    pub(super) note: String,
    /// Numbers in it and what they stand for.
    pub(super) key: Vec<(usize, String)>,
}

/// A drawing; `full` as in [`Figure`], `(title, note)` its caption.
pub(super) fn figure(
    class: &'static str,
    canvas: Canvas,
    full: f64,
    (title, note): (&str, &str),
    key: Vec<(usize, String)>,
) -> Figure {
    Figure { class, canvas, full, title: title.to_owned(), note: note.to_owned(), key }
}

impl From<Figure> for Body {
    fn from(figure: Figure) -> Self {
        Block::Figure(figure).into()
    }
}

impl Body {
    /// Nothing said.
    pub(super) fn none() -> Self {
        Body::default()
    }

    /// Whether nothing is said.
    pub(super) fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// Adds what another says.
    pub(super) fn push(&mut self, other: Body) {
        self.0.extend(other.0);
    }
}

impl From<Block> for Body {
    fn from(block: Block) -> Self {
        Body(vec![block])
    }
}

impl Add for Body {
    type Output = Body;

    fn add(mut self, other: Body) -> Body {
        self.push(other);
        self
    }
}

impl FromIterator<Body> for Body {
    fn from_iter<T: IntoIterator<Item = Body>>(bodies: T) -> Self {
        Body(bodies.into_iter().flat_map(|body| body.0).collect())
    }
}

/// A paragraph of plain text.
pub(super) fn paragraph(text: &str) -> Body {
    Block::Paragraph(text.to_owned()).into()
}

/// A smaller heading of plain text.
pub(super) fn heading(text: &str) -> Body {
    Block::Heading(text.to_owned()).into()
}

/// Sentences, each with its point.
pub(super) fn list(items: &[String]) -> Body {
    Block::List(items.to_vec()).into()
}

/// How a column stands.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Column {
    /// Names and words, to the left; may be broken anywhere.
    Words(&'static str),
    /// Standards, sizes and the like, to the left, never broken.
    Short(&'static str),
    /// Figures, to the right, never broken.
    Figures(&'static str),
    /// Words under a heading that is worked out.
    Headed(String),
    /// Figures under a heading that is worked out.
    Counted(String),
}

impl Column {
    /// Its heading.
    pub(super) fn heading(&self) -> &str {
        match self {
            Column::Words(text) | Column::Short(text) | Column::Figures(text) => text,
            Column::Headed(text) | Column::Counted(text) => text,
        }
    }
}

/// A table of texts.
#[derive(Debug)]
pub(super) struct Table {
    /// From left to right.
    pub(super) columns: Vec<Column>,
    /// A text for each column; one with several lines is a list.
    pub(super) rows: Vec<Vec<String>>,
    /// Rows of sums, below all others.
    pub(super) sums: Vec<Vec<String>>,
}

impl Table {
    /// A table without rows.
    pub(super) fn new(columns: impl IntoIterator<Item = Column>) -> Self {
        Table { columns: columns.into_iter().collect(), rows: Vec::new(), sums: Vec::new() }
    }

    /// A table of words whose headings are worked out.
    pub(super) fn headed(heads: impl IntoIterator<Item = String>, rows: &[Vec<String>]) -> Body {
        let mut table = Table::new(heads.into_iter().map(Column::Headed));
        for row in rows {
            table.row(row);
        }
        Block::Table(table).into()
    }

    /// Adds a row, one text for each column.
    pub(super) fn row<T: AsRef<str>>(&mut self, cells: impl IntoIterator<Item = T>) {
        self.rows.push(cells.into_iter().map(|cell| cell.as_ref().to_owned()).collect());
    }

    /// Adds a row of sums, below all others.
    pub(super) fn sum<T: AsRef<str>>(&mut self, cells: impl IntoIterator<Item = T>) {
        self.sums.push(cells.into_iter().map(|cell| cell.as_ref().to_owned()).collect());
    }

    /// The table as a block; a sentence instead of a table without rows.
    pub(super) fn body(self) -> Body {
        if self.rows.is_empty() { paragraph("None.") } else { Block::Table(self).into() }
    }
}
