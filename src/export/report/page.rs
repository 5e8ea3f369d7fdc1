//! Pieces of HTML: escaped text, sections with anchors, tables, figures.
//!
//! Every text goes in through [`escaped`]; only functions of this file write tags around what others give.

use super::body::{Block, Body, Column, Figure, Table};
use crate::export::picture::{PanelPage, pens};
use std::fmt::Write;

/// Looks of the page, put into it.
const STYLE: &str = include_str!("../../../templates/report.css");

/// A page: title block, table of contents, those sections that say something. `kind` says in the window's title what it is a report of.
pub(super) fn whole(name: &str, kind: &str, title_block: &str, sections: &[Section]) -> String {
    with_drawings(name, kind, title_block, sections, &[])
}

/// The same with the panels' drawings as its last section, if there are any.
pub(super) fn with_drawings(
    name: &str,
    kind: &str,
    title_block: &str,
    sections: &[Section],
    panels: &[PanelPage],
) -> String {
    let mut contents = String::new();
    let told = || sections.iter().filter(|section| !section.body.is_empty());
    for Section { id, title, .. } in told() {
        let _ = writeln!(contents, "<li><a href=\"#{id}\">{title}</a></li>");
    }
    let mut body: String = told().map(Section::html).collect();
    let mut style = STYLE.to_owned();
    if !panels.is_empty() {
        contents.push_str("<li><a href=\"#drawings\">Panel drawings</a></li>\n");
        body.push_str(&drawings(panels));
        let marks = panels.iter().flat_map(|page| page.canvas.marks());
        let classes = marks.map(|mark| mark.class.as_str()).collect();
        let _ = write!(style, ".drawing {{\n{}}}\n", pens::style(&classes));
    }
    let name = escaped(name);
    format!(
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n\
         <meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n\
         <meta name=\"color-scheme\" content=\"light dark\">\n<title>{name}: {kind}</title>\n\
         <style>\n{style}</style>\n</head>\n<body>\n{title_block}<nav aria-label=\"Contents\">\n<h2>Contents</h2>\n<ol>\n\
         {contents}</ol>\n</nav>\n<main>\n{body}</main>\n</body>\n</html>\n",
    )
}

/// A figure for each page of the panels' drawings.
fn drawings(panels: &[PanelPage]) -> String {
    let figure = |mut all: String, page: &PanelPage| {
        let drawing = page.element();
        let _ = writeln!(all, "<figure class=\"drawing\">\n{drawing}\n</figure>");
        all
    };
    let figures = panels.iter().fold(String::new(), figure);
    format!("<section id=\"drawings\">\n<h2>Panel drawings</h2>\n{figures}</section>\n")
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
    /// What it says.
    pub(super) body: Body,
}

impl Section {
    /// The section as HTML.
    pub(super) fn html(&self) -> String {
        let Section { id, title, body } = self;
        format!("<section id=\"{id}\">\n<h2>{title}</h2>\n{}</section>\n", written(body))
    }
}

/// Blocks as HTML.
pub(super) fn written(body: &Body) -> String {
    body.0.iter().map(block).collect()
}

fn block(block: &Block) -> String {
    match block {
        Block::Paragraph(text) => format!("<p>{}</p>\n", escaped(text)),
        Block::Heading(text) => format!("<h3>{}</h3>\n", escaped(text)),
        Block::List(items) => {
            let items = items.iter().fold(String::new(), |mut all, item| {
                let _ = writeln!(all, "<li>{}</li>", escaped(item));
                all
            });
            format!("<ul>\n{items}</ul>\n")
        }
        Block::Table(table) => table_of(table),
        Block::Figure(figure) => figure_of(figure),
        Block::Row(figures) => {
            format!("<div class=\"views\">\n{}</div>\n", figures.iter().map(figure_of).collect::<String>())
        }
        Block::Group { class, body } => format!("<div class=\"{class}\">\n{}</div>\n", written(body)),
        Block::Terms { class, terms } => {
            let terms: String = terms.iter().map(term).collect();
            format!("<dl class=\"{class}\">\n{terms}</dl>\n")
        }
    }
}

fn term((name, value, note): &(String, String, String)) -> String {
    let note = if note.is_empty() { String::new() } else { format!("<small>{}</small>", escaped(note)) };
    format!("<div><dt>{}</dt><dd>{}{note}</dd></div>\n", escaped(name), escaped(value))
}

fn table_of(table: &Table) -> String {
    let class = |column: &Column| match column {
        Column::Words(_) | Column::Headed(_) => "",
        Column::Short(_) => " class=\"s\"",
        Column::Figures(_) | Column::Counted(_) => " class=\"n\"",
    };
    let row = |cells: &Vec<String>| {
        let cells = table.columns.iter().zip(cells).fold(String::new(), |mut row, (column, cell)| {
            // A list in a cell has a line for each entry.
            let text = escaped(cell).replace('\n', "<br>");
            let _ = write!(row, "<td{}>{text}</td>", class(column));
            row
        });
        format!("<tr>{cells}</tr>\n")
    };
    let heads = table.columns.iter().fold(String::new(), |mut heads, column| {
        let _ = write!(heads, "<th scope=\"col\"{}>{}</th>", class(column), escaped(column.heading()));
        heads
    });
    let rows: String = table.rows.iter().map(row).collect();
    let sums: String = table.sums.iter().map(row).collect();
    let foot = if sums.is_empty() { String::new() } else { format!("<tfoot>\n{sums}</tfoot>\n") };
    format!(
        "<div class=\"scroll\"><table>\n<thead><tr>{heads}</tr></thead>\n<tbody>\n{rows}</tbody>\n{foot}</table></div>\n"
    )
}

/// A drawing with its caption.
fn figure_of(figure: &Figure) -> String {
    let Figure { class, canvas, full, title, note, key } = figure;
    let note = if note.is_empty() { String::new() } else { format!(" <span>{}</span>", escaped(note)) };
    let entries = key.iter().fold(String::new(), |mut entries, (number, name)| {
        let _ = write!(entries, "<li><b>{number}</b> {}</li>", escaped(name));
        entries
    });
    let key = if entries.is_empty() { entries } else { format!("<ul class=\"key\">{entries}</ul>\n") };
    format!(
        "<figure class=\"{class}\">\n<div class=\"scroll\">{}</div>\n<figcaption><b>{}</b>{note}</figcaption>\n{key}</figure>\n",
        canvas.svg(title, *full),
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
        let html = written(&table.body());
        assert!(html.contains("<tr><td>a<br>b</td><td class=\"n\">1</td></tr>"), "{html}");
        assert_eq!(written(&Table::new([Column::Words("x")]).body()), "<p>None.</p>\n");
    }
}
