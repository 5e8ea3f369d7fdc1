//! Pieces of HTML: escaped text, sections with anchors, tables, figures.
//!
//! Every text goes in through [`escaped`]; only functions of this file write tags around what others give.

use std::fmt::Write;

/// Looks of the page, put into it.
const STYLE: &str = include_str!("../../../templates/report.css");

/// A page: title block, table of contents, those sections that say something. `kind` says in the window's title what it is a report of.
pub(super) fn whole(name: &str, kind: &str, title_block: &str, sections: &[Section]) -> String {
    let mut contents = String::new();
    let told = || sections.iter().filter(|section| !section.body.is_empty());
    for Section { id, title, .. } in told() {
        let _ = writeln!(contents, "<li><a href=\"#{id}\">{title}</a></li>");
    }
    let body: String = told().map(Section::html).collect();
    let name = escaped(name);
    format!(
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n\
         <meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n\
         <meta name=\"color-scheme\" content=\"light dark\">\n<title>{name}: {kind}</title>\n\
         <style>\n{STYLE}</style>\n</head>\n<body>\n{title_block}<nav aria-label=\"Contents\">\n<h2>Contents</h2>\n<ol>\n\
         {contents}</ol>\n</nav>\n<main>\n{body}</main>\n</body>\n</html>\n",
    )
}

/// A text for an element or an attribute. Control characters, which HTML does not allow, become spaces.
pub(super) fn escaped(text: &str) -> String {
    let mut safe = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '&' => safe.push_str("&amp;"),
            '<' => safe.push_str("&lt;"),
            '>' => safe.push_str("&gt;"),
            '"' => safe.push_str("&quot;"),
            '\'' => safe.push_str("&#39;"),
            c if c.is_control() && c != '\n' => safe.push(' '),
            c => safe.push(c),
        }
    }
    safe
}

/// A part of the page with a heading that the table of contents leads to.
#[derive(Debug)]
pub(super) struct Section {
    /// Anchor: letters and hyphens.
    pub(super) id: &'static str,
    /// Heading.
    pub(super) title: &'static str,
    /// HTML.
    pub(super) body: String,
}

impl Section {
    /// The section as HTML.
    pub(super) fn html(&self) -> String {
        let Section { id, title, body } = self;
        format!("<section id=\"{id}\">\n<h2>{title}</h2>\n{body}</section>\n")
    }
}

/// A paragraph of plain text.
pub(super) fn paragraph(text: &str) -> String {
    format!("<p>{}</p>\n", escaped(text))
}

/// A smaller heading of plain text.
pub(super) fn heading(text: &str) -> String {
    format!("<h3>{}</h3>\n", escaped(text))
}

/// Sentences, each with its point.
pub(super) fn list(items: &[String]) -> String {
    let mut list = String::from("<ul>\n");
    for item in items {
        list += "<li>";
        list += &escaped(item);
        list += "</li>\n";
    }
    list + "</ul>\n"
}

/// How a column stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Column {
    /// Names and words, to the left; may be broken anywhere.
    Words(&'static str),
    /// Standards, sizes and the like, to the left, never broken.
    Short(&'static str),
    /// Figures, to the right, never broken.
    Figures(&'static str),
}

impl Column {
    /// Its class as an attribute, and its heading.
    fn parts(self) -> (&'static str, &'static str) {
        match self {
            Column::Words(text) => ("", text),
            Column::Short(text) => (" class=\"s\"", text),
            Column::Figures(text) => (" class=\"n\"", text),
        }
    }
}

/// A table of texts.
#[derive(Debug)]
pub(super) struct Table {
    columns: Vec<Column>,
    body: String,
    foot: String,
}

impl Table {
    /// A table without rows.
    pub(super) fn new(columns: impl IntoIterator<Item = Column>) -> Self {
        Table { columns: columns.into_iter().collect(), body: String::new(), foot: String::new() }
    }

    /// A table of words whose headings are worked out.
    pub(super) fn headed(heads: impl IntoIterator<Item = String>, rows: &[Vec<String>]) -> String {
        let heads = heads.into_iter().fold(String::new(), |mut all, head| {
            let _ = write!(all, "<th scope=\"col\">{}</th>", escaped(&head));
            all
        });
        let mut table = Table::new(std::iter::repeat_n(Column::Words(""), rows.first().map_or(0, Vec::len)));
        for row in rows {
            table.row(row);
        }
        table.whole(&heads)
    }

    /// Adds a row, one text for each column.
    pub(super) fn row<T: AsRef<str>>(&mut self, cells: impl IntoIterator<Item = T>) {
        let row = self.cells(cells);
        self.body.push_str(&row);
    }

    /// Adds a row of sums, below all others.
    pub(super) fn sum<T: AsRef<str>>(&mut self, cells: impl IntoIterator<Item = T>) {
        let row = self.cells(cells);
        self.foot.push_str(&row);
    }

    fn cells<T: AsRef<str>>(&self, cells: impl IntoIterator<Item = T>) -> String {
        let cells = self.columns.iter().zip(cells).fold(String::new(), |mut row, (column, cell)| {
            // A list in a cell has a line for each entry.
            let text = escaped(cell.as_ref()).replace('\n', "<br>");
            let class = column.parts().0;
            let _ = write!(row, "<td{class}>{text}</td>");
            row
        });
        format!("<tr>{cells}</tr>\n")
    }

    /// The table as HTML; a sentence instead of a table without rows.
    pub(super) fn html(&self) -> String {
        if self.body.is_empty() {
            return paragraph("None.");
        }
        let heads = self.columns.iter().fold(String::new(), |mut heads, column| {
            let (class, text) = column.parts();
            let _ = write!(heads, "<th scope=\"col\"{class}>{}</th>", escaped(text));
            heads
        });
        self.whole(&heads)
    }

    fn whole(&self, heads: &str) -> String {
        let foot =
            if self.foot.is_empty() { String::new() } else { format!("<tfoot>\n{}</tfoot>\n", self.foot) };
        format!(
            "<div class=\"scroll\"><table>\n<thead><tr>{heads}</tr></thead>\n<tbody>\n{}</tbody>\n{foot}</table></div>\n",
            self.body
        )
    }
}

/// A picture (an SVG element) with its caption; `more` is HTML below it.
pub(super) fn figure(class: &str, svg: &str, title: &str, note: &str, more: &str) -> String {
    let note = if note.is_empty() { String::new() } else { format!(" <span>{}</span>", escaped(note)) };
    format!(
        "<figure class=\"{class}\">\n<div class=\"scroll\">{svg}</div>\n<figcaption><b>{}</b>{note}</figcaption>\n{more}</figure>\n",
        escaped(title)
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn text_cannot_become_a_tag() {
        assert_eq!(escaped("<b a='\"'>&\u{7}"), "&lt;b a=&#39;&quot;&#39;&gt;&amp; ");
    }

    #[test]
    fn a_table_has_a_cell_for_each_column_and_a_line_for_each_entry() {
        let mut table = Table::new([Column::Words("panel"), Column::Figures("mm")]);
        table.row(["a\nb", "1"]);
        let html = table.html();
        assert!(html.contains("<tr><td>a<br>b</td><td class=\"n\">1</td></tr>"), "{html}");
        assert_eq!(Table::new([Column::Words("x")]).html(), "<p>None.</p>\n");
    }
}
