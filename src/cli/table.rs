//! Plain text for a terminal: aligned columns and wrapped sentences. No colour, no terminal width.

use std::fmt::Write as _;

/// Rows under their heads, aligned; columns whose cells are all numbers stand to the right. `heads` carry the
/// units.
pub(super) fn aligned(heads: &[&str], rows: &[Vec<String>]) -> String {
    let cell = |row: &[String], i: usize| row.get(i).cloned().unwrap_or_default();
    let columns: Vec<(usize, bool)> = (0..heads.len())
        .map(|i| {
            let cells = || rows.iter().map(|row| cell(row, i));
            let width = cells().map(|text| text.chars().count()).max().unwrap_or(0);
            let is_number = |text: String| text.is_empty() || text.parse::<f64>().is_ok();
            (width.max(heads[i].chars().count()), cells().all(is_number))
        })
        .collect();
    let heads: Vec<String> = heads.iter().map(|&head| head.to_owned()).collect();
    let mut text = String::new();
    for row in std::iter::once(&heads).chain(rows) {
        let mut line = String::new();
        for (i, &(width, right)) in columns.iter().enumerate() {
            let cell = cell(row, i);
            let _ = if right { write!(line, "{cell:>width$}  ") } else { write!(line, "{cell:<width$}  ") };
        }
        let _ = writeln!(text, "{}", line.trim_end());
    }
    text
}

/// A sentence after `start`, in lines of at most `width` characters, the further ones set in below it.
pub(super) fn wrapped(start: &str, sentence: &str, width: usize) -> String {
    let indent = start.chars().count();
    let mut text = String::new();
    let mut line = start.to_owned();
    let mut is_empty = true;
    for word in sentence.split_whitespace() {
        if !is_empty && line.chars().count() + 1 + word.chars().count() > width {
            let _ = writeln!(text, "{line}");
            line = " ".repeat(indent);
            is_empty = true;
        }
        if !is_empty {
            line.push(' ');
        }
        line.push_str(word);
        is_empty = false;
    }
    let _ = writeln!(text, "{}", line.trim_end());
    text
}

/// A number with its thing, as English has it: `1 sheet`, `2 sheets`.
pub(super) fn counted(n: usize, one: &str, many: &str) -> String {
    format!("{n} {}", if n == 1 { one } else { many })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn columns_line_up() {
        let rows = [vec!["a".to_owned(), "1".to_owned()], vec!["bcd".to_owned(), "10.5".to_owned()]];
        assert_eq!(aligned(&["id", "mm"], &rows), "id     mm\na       1\nbcd  10.5\n");
    }

    #[test]
    fn sentences_break_between_words() {
        assert_eq!(wrapped("x  ", "one two three", 10), "x  one two\n   three\n");
        assert_eq!(wrapped("x  ", "unbreakable", 5), "x  unbreakable\n");
    }
}
