//! Cut lists: a table with a head row, columns in any order, separated by commas, semicolons or tabs.
//!
//! Takes text, gives rows with their places, or every fault at once. Lengths are millimetres with a decimal point; a
//! decimal comma is a fault, because `1,220` may be either of two lengths. Never opens the drawings that rows name.

use super::rules::{
    LIST_COLUMNS, LIST_NAME_TWICE, LIST_QUANTITY, LIST_SIZE_UNCLEAR, LIST_UNREADABLE, LIST_VALUE,
};
use crate::diag::{At, Finding, Findings, Rule, SourceId, Span, did_you_mean};
use csv::{ReaderBuilder, StringRecord};
use std::collections::BTreeMap;

/// Most parts of all rows together.
pub(crate) const MOST_PARTS: usize = 10_000;

/// mm. Longest side that is read.
const LONGEST: f64 = 100_000.0;

/// Most faults that are told; a file of another kind has one in every row.
const MOST_TOLD: usize = 50;

/// Most characters of a name.
const LONGEST_NAME: usize = 60;

/// A row of a cut list.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Row {
    /// Name of the part.
    pub(crate) name: At<String>,
    /// How many, at least 1.
    pub(crate) quantity: usize,
    /// Its size or shape.
    pub(crate) body: Body,
    /// How its length lies to the sheet's grain.
    pub(crate) grain: Grain,
    /// May be turned by half a turn as it lies.
    pub(crate) turn: bool,
    /// Both faces are alike, so it may lie on either.
    pub(crate) either_face: bool,
    /// What it is made of, if the list says.
    pub(crate) material: Option<At<String>>,
    /// mm, if the list says.
    pub(crate) thickness: Option<f64>,
}

/// Size or shape of a part.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Body {
    /// mm.
    Rectangle {
        /// Along the part.
        length: f64,
        /// Across it.
        width: f64,
    },
    /// A DXF or SVG file, as written in the list.
    Drawing(At<String>),
}

/// How a part's length lies to the grain, which runs along the sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Grain {
    /// Along it.
    Kept,
    /// Across it.
    Across,
    /// Either way.
    Free,
}

/// The columns: name, and what `help` says about it.
const COLUMNS: [&str; 10] =
    ["name", "length", "width", "quantity", "grain", "turn", "face", "outline", "material", "thickness"];

/// A cell with its place.
#[derive(Clone, Copy, Debug)]
struct Cell<'a> {
    text: &'a str,
    span: Span,
}

/// Reads a cut list. `None` if there is a fault; the findings say which.
pub(crate) fn read(findings: &mut Findings, source: SourceId, text: &str) -> Option<Vec<Row>> {
    let mut list = Reader { source, faults: Vec::new() };
    let rows = list.rows(text);
    let n = list.faults.len();
    for (i, mut finding) in list.faults.into_iter().take(MOST_TOLD).enumerate() {
        if i + 1 == MOST_TOLD && n > MOST_TOLD {
            finding.message = format!("{}; and {} more faults", finding.message, n - MOST_TOLD);
        }
        findings.push(finding);
    }
    rows.filter(|_| n == 0)
}

struct Reader {
    source: SourceId,
    faults: Vec<Finding>,
}

impl Reader {
    fn fault(
        &mut self,
        rule: &'static Rule,
        span: Span,
        message: impl Into<String>,
        help: impl Into<String>,
    ) {
        self.faults.push(Finding::new(rule, span, message).help(help));
    }

    fn rows(&mut self, text: &str) -> Option<Vec<Row>> {
        let whole = Span { source: self.source, ..Span::default() };
        let separator = separator(text);
        let mut reader = ReaderBuilder::new()
            .has_headers(false)
            .flexible(true)
            .delimiter(separator)
            .from_reader(text.as_bytes());
        let mut records = reader.records().map_while(Result::ok);
        let Some(head) = records.next() else {
            self.fault(
                &LIST_UNREADABLE,
                whole,
                "the cut list is empty",
                "its first row names the columns: name,length,width,quantity",
            );
            return None;
        };
        let columns = self.columns(&cells(text, separator, &head, self.source))?;
        let mut rows = Vec::new();
        let mut seen: BTreeMap<String, Span> = BTreeMap::new();
        let mut parts = 0_usize;
        for record in records {
            let row = cells(text, separator, &record, self.source);
            if row.iter().all(|cell| cell.text.is_empty()) {
                continue;
            }
            let Some(row) = self.row(&row, &columns) else { continue };
            if let Some(first) = seen.get(&row.name.value.to_lowercase()) {
                let message = format!("there is a part `{}` already", row.name.value);
                let finding =
                    Finding::new(&LIST_NAME_TWICE, row.name.span, message).also(*first, "the first one");
                self.faults
                    .push(finding.help("give it a name of its own; alike parts are one row with a quantity"));
            } else {
                seen.insert(row.name.value.to_lowercase(), row.name.span);
            }
            if parts <= MOST_PARTS && parts + row.quantity > MOST_PARTS {
                let message = format!("with this row the list comes to more than {MOST_PARTS} parts");
                self.fault(&LIST_QUANTITY, row.name.span, message, "divide the list");
            }
            parts = parts.saturating_add(row.quantity);
            rows.push(row);
        }
        if rows.is_empty() && self.faults.is_empty() {
            self.fault(
                &LIST_UNREADABLE,
                whole,
                "the cut list has no parts",
                "each row below the columns' names is a part",
            );
        }
        Some(rows)
    }

    /// Where each known column stands; `None` without those that are needed.
    fn columns(&mut self, head: &[Cell<'_>]) -> Option<BTreeMap<&'static str, usize>> {
        let mut columns = BTreeMap::new();
        let mut unknown = false;
        for (i, cell) in head.iter().enumerate() {
            let lower = cell.text.to_lowercase();
            let name = lower.strip_suffix("(mm)").unwrap_or(&lower).trim();
            match COLUMNS.iter().find(|column| **column == name) {
                Some(column) if columns.contains_key(column) => {
                    let message = format!("the column `{column}` stands twice");
                    self.fault(&LIST_COLUMNS, cell.span, message, "delete one of them");
                }
                Some(column) => {
                    columns.insert(*column, i);
                }
                // A table may end in separators.
                None if name.is_empty() => {}
                None => {
                    unknown = true;
                    let known = COLUMNS.into_iter();
                    let help = did_you_mean(name, known).unwrap_or_default();
                    self.fault(&LIST_COLUMNS, cell.span, format!("there is no column `{}`", cell.text), help);
                }
            }
        }
        let missing: Vec<&str> = if columns.contains_key("outline") {
            ["name"].into_iter().filter(|column| !columns.contains_key(column)).collect()
        } else {
            ["name", "length", "width"].into_iter().filter(|column| !columns.contains_key(column)).collect()
        };
        // An unknown column is most often the missing one.
        if !missing.is_empty() && !unknown {
            let span = head.first().map_or(Span::default(), |cell| cell.span);
            let message = format!("the first row names no column {}", ticked(&missing));
            let help =
                "it needs `name`, and `length` and `width` or `outline`; `baywright nest --help` lists all";
            self.fault(&LIST_COLUMNS, span, message, help);
        }
        missing.is_empty().then_some(columns)
    }

    /// One row; `None` if it cannot be read.
    fn row(&mut self, row: &[Cell<'_>], columns: &BTreeMap<&'static str, usize>) -> Option<Row> {
        let faults = self.faults.len();
        let last = columns.values().max().copied().unwrap_or(0);
        if let Some(extra) = row.iter().skip(last + 1).find(|cell| !cell.text.is_empty()) {
            let help =
                "a number needs a decimal point, and a text with a separator in it needs quotation marks";
            self.fault(&LIST_UNREADABLE, extra.span, "the row has more cells than there are columns", help);
        }
        if let Some(broken) = row.iter().find(|cell| cell.text.contains(['\n', '\r'])) {
            let span = Span { end: broken.span.start + 1, ..broken.span };
            self.fault(
                &LIST_UNREADABLE,
                span,
                "the cell goes over several lines",
                "close the quotation mark where the cell ends",
            );
        }
        let start = row.first().map_or(Span::default(), |cell| cell.span);
        let cell = |column: &str| {
            let cell = columns.get(column).and_then(|&i| row.get(i)).copied();
            cell.filter(|cell| !cell.text.is_empty())
        };
        let name = self.name(cell("name"), start);
        let quantity = cell("quantity").map_or(Some(1), |cell| self.quantity(cell));
        let body = self.body(cell, start);
        let grain = self
            .word(cell("grain"), &[("free", Grain::Free), ("kept", Grain::Kept), ("across", Grain::Across)]);
        let turn = self.word(cell("turn"), &[("yes", true), ("no", false)]);
        let either_face = self.word(cell("face"), &[("up", false), ("either", true)]);
        let thickness = cell("thickness").and_then(|cell| self.length(cell, "thickness"));
        if let (Some(cell), Some(false), Some(Grain::Free)) = (cell("turn"), turn, grain) {
            let help = "with `turn` no, say how it lies: grain `kept` or `across`";
            self.fault(
                &LIST_VALUE,
                cell.span,
                "a part whose grain is free may be turned, and this row says no",
                help,
            );
        }
        if self.faults.len() > faults {
            return None;
        }
        Some(Row {
            name: name?,
            quantity: quantity?,
            body: body?,
            grain: grain?,
            turn: turn?,
            either_face: either_face?,
            material: cell("material").map(|cell| At::new(cell.text.to_owned(), cell.span)),
            thickness,
        })
    }

    fn name(&mut self, cell: Option<Cell<'_>>, start: Span) -> Option<At<String>> {
        let Some(cell) = cell else {
            self.fault(&LIST_VALUE, start, "the row has no name", "name every part");
            return None;
        };
        let letters = cell.text.chars().count();
        if letters > LONGEST_NAME || cell.text.chars().any(char::is_control) {
            let message = format!(
                "the name has {letters} characters or unprintable ones; at most {LONGEST_NAME} fit on a part"
            );
            self.fault(&LIST_VALUE, cell.span, message, "shorten it");
            return None;
        }
        Some(At::new(cell.text.to_owned(), cell.span))
    }

    fn quantity(&mut self, cell: Cell<'_>) -> Option<usize> {
        match cell.text.parse::<u64>().map(usize::try_from) {
            Ok(Ok(0)) => {
                self.fault(&LIST_QUANTITY, cell.span, "the quantity is 0", "delete the row, or say how many");
                None
            }
            Ok(Ok(n)) if n <= MOST_PARTS => Some(n),
            Ok(_) => {
                let message =
                    format!("the quantity is {}; a list has at most {MOST_PARTS} parts in all", cell.text);
                self.fault(&LIST_QUANTITY, cell.span, message, "divide the list");
                None
            }
            Err(_) => {
                let message = format!("`{}` is no quantity", cell.text);
                self.fault(&LIST_VALUE, cell.span, message, "a quantity is a whole number from 1 on");
                None
            }
        }
    }

    fn body<'a>(&mut self, cell: impl Fn(&str) -> Option<Cell<'a>>, start: Span) -> Option<Body> {
        match (cell("outline"), cell("length"), cell("width")) {
            (Some(outline), None, None) => {
                Some(Body::Drawing(At::new(outline.text.to_owned(), outline.span)))
            }
            (Some(outline), ..) => {
                let help = "leave length and width empty: they are taken from the drawing";
                self.fault(&LIST_SIZE_UNCLEAR, outline.span, "the row has an outline and a size", help);
                None
            }
            (None, Some(length), Some(width)) => {
                let (length, width) = (self.length(length, "length"), self.length(width, "width"));
                Some(Body::Rectangle { length: length?, width: width? })
            }
            (None, None, None) => {
                self.fault(
                    &LIST_SIZE_UNCLEAR,
                    start,
                    "the row has neither a size nor an outline",
                    "give length and width, or a DXF or SVG file as outline",
                );
                None
            }
            (None, Some(cell), None) | (None, None, Some(cell)) => {
                self.fault(
                    &LIST_SIZE_UNCLEAR,
                    cell.span,
                    "the row has only one of length and width",
                    "give both",
                );
                None
            }
        }
    }

    fn length(&mut self, cell: Cell<'_>, what: &str) -> Option<f64> {
        let text = cell.text;
        let plain = text.strip_suffix("mm").map_or(text, str::trim_end);
        let sign = |c: char| c.is_ascii_digit() || matches!(c, '.' | '-' | '+' | 'e' | 'E');
        let number = plain.parse::<f64>().ok().filter(|number| number.is_finite() && plain.chars().all(sign));
        let shown: String = text.chars().take(40).collect();
        let (message, help) = match number {
            Some(number) if number > 0.0 && number <= LONGEST => return Some(number),
            Some(_) => (
                format!("the {what} is {shown} mm"),
                format!("it must be more than 0 and at most {LONGEST} mm"),
            ),
            None if plain.contains(',') => (
                format!("`{shown}` has a comma"),
                "write a decimal point and nothing between thousands: 1220.5".to_owned(),
            ),
            None => (format!("`{shown}` is no {what}"), "write a number of millimetres: 1220.5".to_owned()),
        };
        self.fault(&LIST_VALUE, cell.span, message, help);
        None
    }

    /// One of the known words; the first if the cell is empty.
    fn word<T: Copy>(&mut self, cell: Option<Cell<'_>>, words: &[(&str, T)]) -> Option<T> {
        let Some(cell) = cell else { return words.first().map(|word| word.1) };
        let found = words.iter().find(|word| word.0.eq_ignore_ascii_case(cell.text));
        if found.is_none() {
            let known: Vec<&str> = words.iter().map(|word| word.0).collect();
            let shown: String = cell.text.chars().take(40).collect();
            let help = did_you_mean(cell.text, known.iter().copied()).unwrap_or_default();
            self.fault(&LIST_VALUE, cell.span, format!("`{shown}` is none of {}", ticked(&known)), help);
        }
        found.map(|word| word.1)
    }
}

fn ticked(names: &[&str]) -> String {
    names.iter().map(|name| format!("`{name}`")).collect::<Vec<_>>().join(", ")
}

/// The separator that stands most often in the first line, of equal ones the comma.
fn separator(text: &str) -> u8 {
    let head = text.trim_start().lines().next().unwrap_or_default();
    let mut best = (0, b',');
    for separator in [b',', b';', b'\t'] {
        let n = head.bytes().filter(|&byte| byte == separator).count();
        if n > best.0 {
            best = (n, separator);
        }
    }
    best.1
}

/// The cells of a record, blanks around them left out, each with its place in the text.
fn cells<'a>(text: &str, separator: u8, record: &'a StringRecord, source: SourceId) -> Vec<Cell<'a>> {
    let bytes = text.as_bytes();
    let start =
        record.position().map_or(0, |position| usize::try_from(position.byte()).unwrap_or(usize::MAX));
    // Line ends between records belong to the next one.
    let mut at = (start..bytes.len()).find(|&i| !matches!(bytes[i], b'\n' | b'\r')).unwrap_or(bytes.len());
    let mut cells = Vec::with_capacity(record.len());
    for field in record {
        let end = end_of_cell(bytes, at, separator);
        let cell = text.get(at..end).unwrap_or_default();
        let (lead, trimmed) = (cell.len() - cell.trim_start().len(), cell.trim());
        let offset = |at: usize| u32::try_from(at).unwrap_or(u32::MAX);
        let span = Span { source, start: offset(at + lead), end: offset(at + lead + trimmed.len()) };
        cells.push(Cell { text: field.trim(), span });
        at = (end + 1).min(bytes.len());
    }
    cells
}

/// Where the cell that begins at `at` ends, as CSV has it: a quotation mark at its start hides separators.
fn end_of_cell(bytes: &[u8], at: usize, separator: u8) -> usize {
    let mut quoted = bytes.get(at) == Some(&b'"');
    let mut i = at + usize::from(quoted);
    while let Some(&byte) = bytes.get(i) {
        if byte == b'"' {
            quoted = !quoted && bytes.get(at) == Some(&b'"');
        } else if !quoted && (byte == separator || byte == b'\n' || byte == b'\r') {
            break;
        }
        i += 1;
    }
    i.min(bytes.len())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::diag::Sources;
    use proptest::prelude::*;

    /// The rows, and what was found as `line:column message`.
    fn list(text: &str) -> (Option<Vec<Row>>, Vec<String>) {
        let (mut findings, mut sources) = (Findings::default(), Sources::default());
        let source = sources.add("parts.csv", text);
        let rows = read(&mut findings, source, text);
        let told = findings.iter().map(|finding| {
            let (line, column) = sources.line_and_column(finding.at);
            format!("{line}:{column} {}", finding.message)
        });
        (rows, told.collect())
    }

    #[test]
    fn columns_come_in_any_order_and_with_any_separator() {
        for separator in [",", ";", "\t"] {
            let text = "Quantity,name,width (mm),length,grain,face,turn,material,thickness\n\
                        4,shelf,300,800.5,kept,either,no,birch,12\n\n,,,,\n,\"back, low\",600,800\n";
            // A tab would be no sign that a part can carry.
            let name = format!("back{} low", separator.trim());
            let text = text.replace("back, low", "BACK").replace(',', separator).replace("BACK", &name);
            let (rows, told) = list(&text);
            assert_eq!(told, Vec::<String>::new(), "{text}");
            let rows = rows.unwrap();
            assert_eq!(
                (rows[0].quantity, rows[0].grain, rows[0].turn, rows[0].either_face),
                (4, Grain::Kept, false, true)
            );
            assert_eq!(rows[0].body, Body::Rectangle { length: 800.5, width: 300.0 });
            assert_eq!(
                (rows[0].material.as_ref().unwrap().value.as_str(), rows[0].thickness),
                ("birch", Some(12.0))
            );
            assert_eq!((rows[1].name.value.as_str(), rows[1].quantity), (name.as_str(), 1));
            assert_eq!((rows[1].grain, rows[1].turn, rows[1].either_face), (Grain::Free, true, false));
        }
    }

    #[test]
    fn all_faults_are_told_at_once_with_their_places() {
        let (rows, told) = list(
            "name;length;width;quantity;grain;outline\n\
             a;1,5;300;1;;\n\
             \"b\";800;0;2;alnog;\n\
             A;800;300;-1;;\n\
             c;800;300;0;kept;\n\
             d;800;300;1000000;kept;\n\
             ;800;300\n\
             e;800;;1;;\n\
             f;800;300;1;;f.dxf\n\
             g;;;1;;\n\
             h;8;9;1;free;;x\n",
        );
        assert_eq!(rows, None);
        assert_eq!(
            told,
            [
                "2:3 `1,5` has a comma",
                "3:9 the width is 0 mm",
                "3:13 `alnog` is none of `free`, `kept`, `across`",
                "4:11 `-1` is no quantity",
                "5:11 the quantity is 0",
                "6:11 the quantity is 1000000; a list has at most 10000 parts in all",
                "7:1 the row has no name",
                "8:3 the row has only one of length and width",
                "9:14 the row has an outline and a size",
                "10:1 the row has neither a size nor an outline",
                "11:15 the row has more cells than there are columns",
            ]
        );
        let (_, told) = list("name,length,width\nside,1,1\nback,1,1\nSide,2,2\n");
        assert_eq!(told, ["4:1 there is a part `Side` already"]);
    }

    #[test]
    fn columns_are_looked_at_first() {
        for (head, said) in [
            ("name,length,widht", vec!["1:13 there is no column `widht`"]),
            ("name,length", vec!["1:1 the first row names no column `width`"]),
            ("length,width", vec!["1:1 the first row names no column `name`"]),
            ("name,length,width,name", vec!["1:19 the column `name` stands twice"]),
            ("", vec!["1:1 the cut list is empty"]),
            ("name,length,width\n", vec!["1:1 the cut list has no parts"]),
        ] {
            assert_eq!(list(head).1, said, "{head}");
        }
        assert!(
            list(&format!("name,length,width,quantity\n{}", "a,1,1,6000\nb,1,1,6000\n")).1[0]
                .contains("3:1 with this row")
        );
    }

    #[test]
    fn a_cell_over_lines_and_a_wrong_file_end_soon() {
        assert!(
            list("name,length,width\n\"a,1,2\nb,3,4\n").1.iter().any(|told| told.contains("several lines"))
        );
        let many = format!("name,length,width\n{}", "a,b,c\n".repeat(200_000));
        let told = list(&many).1;
        assert!(told.len() == MOST_TOLD && told[MOST_TOLD - 1].contains("more faults"), "{}", told.len());
    }

    proptest! {
        #[test]
        fn no_text_makes_it_panic(text in "(name|length|width|outline|[,;\t\"\n\r 0-9a-c.é]){0,60}") {
            list(&text);
            list(&format!("name,length,width\n{text}"));
        }
    }
}
