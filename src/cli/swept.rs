//! What came of a sweep, in a few lines for people and as an object for machines.

use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::path::Path;

use serde_json::{Map, Value, json};

use super::args::Format;
use super::table::counted;
use crate::sweep::{COLUMNS, Column, Row, Table};

/// A table and where it was written.
pub(super) struct Told<'a> {
    /// What was swept.
    pub(super) name: &'a str,
    /// What came of it.
    pub(super) table: &'a Table,
    /// The folder.
    pub(super) folder: &'a Path,
    /// How many files are in it.
    pub(super) files: usize,
    /// Whether one of them is a plot.
    pub(super) has_plot: bool,
}

/// What is printed.
pub(super) fn say(told: &Told<'_>, format: Format) -> String {
    match format {
        Format::Text => text(told),
        Format::Json => format!("{:#}\n", machine(told)),
    }
}

fn text(told: &Told<'_>) -> String {
    let Table { varied, piece, rows } = told.table;
    let feasible = rows.iter().filter(|row| row.is_feasible()).count();
    let of = piece.as_ref().map_or_else(String::new, |piece| format!(" of {}", piece.total));
    let mut text = format!(
        "{}: {}{of} over {}, {feasible} without errors\n",
        told.name,
        counted(rows.len(), "variant", "variants"),
        varied.join(" and ")
    );
    for column in [Column::Mass, Column::Sheets, Column::Yield, Column::Cost, Column::Gross, Column::Axle] {
        let numbers = rows.iter().filter_map(|row| Some((row.number(column)?, row)));
        let least = numbers.clone().min_by(|a, b| a.0.total_cmp(&b.0));
        let most = numbers.max_by(|a, b| a.0.total_cmp(&b.0));
        if let (Some((_, least)), Some((_, most))) = (least, most) {
            let [from, to] = [least, most].map(|row| row.cell(column));
            let _ = writeln!(text, "  {}: {from} to {to}", column.heading());
        }
    }
    let mut rules: BTreeMap<&str, usize> = BTreeMap::new();
    for row in rows.iter().filter(|row| !row.is_feasible()) {
        *rules.entry(row.rule()).or_default() += 1;
    }
    for (rule, n) in rules {
        let _ = writeln!(text, "  {} without a kit: {rule}", counted(n, "variant", "variants"));
    }
    if piece.is_some() {
        text.push_str(
            "this is a piece of the sweep; `baywright sweep --merge` joins all of them and draws the plot\n",
        );
    } else if !told.has_plot {
        let _ = writeln!(text, "no plot: {} things are varied, and paper shows one or two", varied.len());
    }
    let _ = writeln!(text, "written to {} ({})", told.folder.display(), counted(told.files, "file", "files"));
    text
}

fn machine(told: &Told<'_>) -> Value {
    let Table { varied, piece, rows } = told.table;
    let feasible = rows.iter().filter(|row| row.is_feasible()).count();
    json!({
        "name": told.name,
        "varied": varied,
        "of": piece.as_ref().map_or(rows.len(), |piece| piece.total),
        "is_piece": piece.is_some(),
        "without_errors": feasible,
        "written": told.folder.display().to_string(),
        "variants": rows.iter().map(row).collect::<Vec<Value>>(),
    })
}

/// A variant: its number, its values in the order of what is varied, and its measures; what there is none of is null.
fn row(row: &Row) -> Value {
    let number = |text: &String| text.parse::<f64>().map_or(Value::Null, |number| json!(number));
    let mut told = Map::new();
    told.insert("variant".to_owned(), json!(row.variant + 1));
    told.insert("values".to_owned(), row.values.iter().map(number).collect());
    for column in COLUMNS {
        let cell = row.cell(column);
        let value = match (column, cell) {
            (_, "") => Value::Null,
            (Column::Currency | Column::Rule | Column::Finding, text) => json!(text),
            (_, number) => match number.parse::<i64>() {
                Ok(whole) => json!(whole),
                Err(_) => number.parse::<f64>().map_or(Value::Null, |number| json!(number)),
            },
        };
        told.insert(column.key().to_owned(), value);
    }
    Value::Object(told)
}
