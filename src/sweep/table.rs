//! The table of a sweep and its text as CSV: a row for each variant, in their order.
//!
//! A piece of a sweep (a share of the variants, or what was done when it was stopped) has a column more, with each variant's
//! number in the whole; its heading says of how many and of which sweep. Plots and merges read these cells and nothing else.

use csv::{ReaderBuilder, WriterBuilder};

/// What a cell is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Column {
    /// Of the kit, kg.
    Mass,
    /// How many there are.
    Panels,
    /// How many are still to be cut.
    Sheets,
    /// Of their area, what parts take, per cent.
    Yield,
    /// Of what is priced.
    Cost,
    /// Of the cost.
    Currency,
    /// Lines of the quote without a price.
    Unpriced,
    /// kg left of the permitted gross mass.
    Gross,
    /// kg left of an axle's limit.
    Axle,
    /// How many.
    Errors,
    /// How many nobody accepted.
    Warnings,
    /// Of the first error.
    Rule,
    /// What the first error says.
    Finding,
}

/// What a row says, behind the values that are varied.
pub(crate) const COLUMNS: [Column; 13] = [
    Column::Mass,
    Column::Panels,
    Column::Sheets,
    Column::Yield,
    Column::Cost,
    Column::Currency,
    Column::Unpriced,
    Column::Gross,
    Column::Axle,
    Column::Errors,
    Column::Warnings,
    Column::Rule,
    Column::Finding,
];

impl Column {
    /// Its heading, with the unit.
    pub(crate) fn heading(self) -> &'static str {
        match self {
            Column::Mass => "mass (kg)",
            Column::Panels => "panels",
            Column::Sheets => "sheets",
            Column::Yield => "sheet yield (%)",
            Column::Cost => "cost",
            Column::Currency => "currency",
            Column::Unpriced => "lines not priced",
            Column::Gross => "least gross margin (kg)",
            Column::Axle => "least axle margin (kg)",
            Column::Errors => "errors",
            Column::Warnings => "warnings",
            Column::Rule => "rule",
            Column::Finding => "finding",
        }
    }

    /// Its name for other software.
    pub(crate) fn key(self) -> &'static str {
        match self {
            Column::Mass => "mass_kg",
            Column::Panels => "panels",
            Column::Sheets => "sheets",
            Column::Yield => "sheet_yield_percent",
            Column::Cost => "cost",
            Column::Currency => "currency",
            Column::Unpriced => "lines_not_priced",
            Column::Gross => "least_gross_margin_kg",
            Column::Axle => "least_axle_margin_kg",
            Column::Errors => "errors",
            Column::Warnings => "warnings",
            Column::Rule => "rule",
            Column::Finding => "finding",
        }
    }
}

/// Of which sweep a piece is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Piece {
    /// How many variants the whole sweep has.
    pub(crate) total: usize,
    /// What tells it from other sweeps: digits of a hash over all that it is made from.
    pub(crate) sweep: String,
}

impl Piece {
    fn heading(&self) -> String {
        format!("variant (of {} in sweep {})", self.total, self.sweep)
    }

    fn read(heading: &str) -> Option<Self> {
        let said = heading.strip_prefix("variant (of ")?.strip_suffix(')')?;
        let (total, sweep) = said.split_once(" in sweep ")?;
        Some(Piece { total: total.parse().ok()?, sweep: sweep.to_owned() })
    }
}

/// A variant's row.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Row {
    /// Number of the variant in the whole sweep, from 0.
    pub(crate) variant: usize,
    /// What is varied.
    pub(crate) values: Vec<String>,
    /// In the order of [`COLUMNS`].
    pub(crate) cells: Vec<String>,
}

impl Row {
    /// The text of a cell.
    pub(crate) fn cell(&self, column: Column) -> &str {
        let at = COLUMNS.iter().position(|own| *own == column);
        at.and_then(|at| self.cells.get(at)).map_or("", String::as_str)
    }

    /// A cell's number, if there is one.
    pub(crate) fn number(&self, column: Column) -> Option<f64> {
        self.cell(column).parse().ok()
    }

    /// The rule for which there is no kit.
    pub(crate) fn rule(&self) -> &str {
        match self.cell(Column::Rule) {
            "" => "no rule, see its finding",
            rule => rule,
        }
    }

    /// Whether there is a kit.
    pub(crate) fn is_feasible(&self) -> bool {
        self.cell(Column::Errors) == "0"
    }
}

/// What came of a sweep, or of a piece of it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Table {
    /// Headings of what is varied, with units.
    pub(crate) varied: Vec<String>,
    /// Of which sweep this is a piece; nothing for a whole one.
    pub(crate) piece: Option<Piece>,
    /// In the order of the variants.
    pub(crate) rows: Vec<Row>,
}

impl Table {
    /// The text of the file.
    pub(crate) fn csv(&self) -> String {
        let mut writer = WriterBuilder::new().from_writer(Vec::new());
        let piece = self.piece.as_ref().map(Piece::heading);
        let headings = COLUMNS.iter().map(|column| column.heading().to_owned());
        let head = piece.into_iter().chain(self.varied.iter().cloned()).chain(headings);
        // Memory takes whatever is written to it.
        writer.write_record(head).ok();
        for row in &self.rows {
            let number = self.piece.as_ref().map(|_| (row.variant + 1).to_string());
            let number = number.as_deref().into_iter();
            let cells = row.values.iter().chain(&row.cells).map(String::as_str);
            writer.write_record(number.chain(cells)).ok();
        }
        String::from_utf8(writer.into_inner().unwrap_or_default()).unwrap_or_default()
    }

    /// Reads a piece; else says why it is none.
    pub(crate) fn read_piece(text: &str) -> Result<Self, String> {
        let none = || "it is no piece of a sweep".to_owned();
        let mut reader = ReaderBuilder::new().has_headers(false).from_reader(text.as_bytes());
        let mut records = reader.records();
        let head = records.next().and_then(Result::ok).ok_or_else(none)?;
        let own = COLUMNS.map(Column::heading);
        let headings: Vec<&str> = head.iter().collect();
        let varied = headings.strip_suffix(&own).ok_or_else(none)?;
        let (piece, varied) = match varied {
            [first, varied @ ..] => (Piece::read(first), varied),
            [] => return Err(none()),
        };
        let Some(piece) = piece else {
            return Err("it is a whole sweep, not a piece of one: it has no column `variant`".to_owned());
        };
        let mut rows = Vec::new();
        for record in records {
            let damaged = |line: usize| format!("row {line} is damaged; make this piece anew");
            let line = rows.len() + 1;
            let record = record.map_err(|_| damaged(line))?;
            let variant = record.get(0).and_then(|number| number.parse::<usize>().ok());
            let variant = variant.filter(|number| (1..=piece.total).contains(number));
            let Some(variant) = variant else { return Err(damaged(line)) };
            let mut cells: Vec<String> = record.iter().skip(1).map(str::to_owned).collect();
            let behind = cells.split_off(varied.len());
            rows.push(Row { variant: variant - 1, values: cells, cells: behind });
        }
        let varied = varied.iter().map(|&heading| heading.to_owned()).collect();
        Ok(Table { varied, piece: Some(piece), rows })
    }
}
