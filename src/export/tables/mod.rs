//! Tables as comma-separated values (RFC 4180, but with LF): a head row with units, one row for each thing.

mod cut_list;
mod cuts;
mod finish;
mod hardware;
mod loose;
mod mass;
mod order;
mod wings;

pub(super) use cut_list::cut_list;
pub(super) use cuts::cuts;
pub(super) use finish::finish;
pub(super) use hardware::{hardware, hardware_bags};
pub(super) use loose::loose_cut_list;
pub(super) use mass::mass;
pub(super) use order::order;
pub(super) use wings::wings;

/// Decimals of a length in mm in a table: a tenth of what a router holds.
const LENGTH_DECIMALS: usize = 2;

/// Rows of fields to the text of a file.
fn csv<const N: usize>(head: [&str; N], rows: impl IntoIterator<Item = [String; N]>) -> String {
    let mut text = line(head.map(str::to_owned));
    for row in rows {
        text.push_str(&line(row));
    }
    text
}

fn line<const N: usize>(fields: [String; N]) -> String {
    fields.map(|field| quoted(&field)).join(",") + "\n"
}

/// A field with what would break the row put in quotes.
fn quoted(field: &str) -> String {
    if field.contains([',', '"', '\n', '\r']) {
        format!("\"{}\"", field.replace('"', "\"\""))
    } else {
        field.to_owned()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The fields of rows without quotes or line ends inside a field.
    pub(super) fn rows(text: &str) -> Vec<Vec<String>> {
        let fields = |row: &str| {
            let mut fields = vec![String::new()];
            let mut in_quotes = false;
            for c in row.chars() {
                match c {
                    '"' => in_quotes = !in_quotes,
                    ',' if !in_quotes => fields.push(String::new()),
                    _ => fields.last_mut().unwrap().push(c),
                }
            }
            fields
        };
        text.lines().skip(1).map(fields).collect()
    }

    #[test]
    fn what_would_break_a_row_is_quoted() {
        let text = csv(["a", "b"], [["1,2".to_owned(), "say \"x\"".to_owned()]]);
        assert_eq!(text, "a,b\n\"1,2\",\"say \"\"x\"\"\"\n");
    }
}
