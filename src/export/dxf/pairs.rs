//! A DXF as what it is: pairs of a code and a value, grouped into records that begin with code 0 or 9.
//!
//! Reads the text that the `dxf` crate wrote and writes ours; every real number is spelled by
//! [`crate::number`] on the way out. Knows nothing of what the records mean.

use crate::export::drawn::{ARC_DECIMALS, GRID_DECIMALS};
use crate::number;

/// Code of a record's type: a section, a table, an entity, an object.
pub(super) const TYPE: u16 = 0;
/// Code of a header variable's name.
const VARIABLE: u16 = 9;
/// Code of the bulge of a polyline's vertex.
const BULGE: u16 = 42;

/// Pairs from one of code 0 or 9 up to the next.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Record {
    /// What follows the first pair.
    pub(super) pairs: Vec<(u16, String)>,
    /// The value of the first pair: `CIRCLE`, `SECTION`, `$INSUNITS`.
    pub(super) kind: String,
    /// Whether it is a header variable.
    pub(super) is_variable: bool,
}

impl Record {
    /// A record of the given type.
    pub(super) fn new(kind: &str, pairs: &[(u16, &str)]) -> Self {
        let pairs = pairs.iter().map(|&(code, value)| (code, value.to_owned())).collect();
        Record { pairs, kind: kind.to_owned(), is_variable: false }
    }

    /// A header variable.
    pub(super) fn variable(name: &str, pairs: &[(u16, &str)]) -> Self {
        Record { is_variable: true, ..Record::new(name, pairs) }
    }

    /// The first value with the given code, or an empty one.
    pub(super) fn value(&self, code: u16) -> &str {
        self.pairs.iter().find(|pair| pair.0 == code).map_or("", |pair| pair.1.as_str())
    }

    /// Gives the first pair with the given code a new value.
    pub(super) fn set(&mut self, code: u16, value: &str) {
        if let Some(pair) = self.pairs.iter_mut().find(|pair| pair.0 == code) {
            value.clone_into(&mut pair.1);
        }
    }
}

/// The records of a text DXF. Lines that are no pairs are left out: the crate writes none.
pub(super) fn from_bytes(bytes: &[u8]) -> Vec<Record> {
    let text = String::from_utf8_lossy(bytes);
    let mut records: Vec<Record> = Vec::new();
    let mut lines = text.lines();
    while let (Some(code), Some(value)) = (lines.next(), lines.next()) {
        let Ok(code) = code.trim().parse::<u16>() else { continue };
        let value = value.trim_end_matches('\r');
        match records.last_mut() {
            Some(record) if code != TYPE && code != VARIABLE => record.pairs.push((code, value.to_owned())),
            _ => records.push(Record {
                pairs: Vec::new(),
                kind: value.to_owned(),
                is_variable: code == VARIABLE,
            }),
        }
    }
    records
}

/// The text of the records: code and value on lines of their own, line ends CRLF.
pub(super) fn to_bytes(records: &[Record]) -> Vec<u8> {
    let mut lines = Vec::new();
    let mut line = |code: u16, value: &str| lines.push(format!("{code:>3}\r\n{value}\r\n"));
    for record in records {
        line(if record.is_variable { VARIABLE } else { TYPE }, &record.kind);
        let has_bulges = matches!(record.kind.as_str(), "LWPOLYLINE" | "VERTEX");
        for (code, value) in &record.pairs {
            let decimals = if has_bulges && *code == BULGE { ARC_DECIMALS } else { GRID_DECIMALS };
            match value.trim().parse::<f64>() {
                Ok(real) if is_real(*code) => line(*code, &spelled(real, decimals)),
                _ => line(*code, value.trim_start()),
            }
        }
    }
    lines.concat().into_bytes()
}

/// Whether a code's values are real numbers, among the codes that are written here (DXF reference, group codes
/// by number; from memory).
fn is_real(code: u16) -> bool {
    matches!(code, 10..=59 | 140..=149 | 210..=239)
}

/// A real number always has a point in a DXF, so that nobody takes it for a whole number.
fn spelled(real: f64, decimals: usize) -> String {
    let text = number::decimal(real, decimals);
    if text.contains('.') { text } else { text + ".0" }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reals_have_a_point_and_bulges_keep_their_digits() {
        let records = [
            Record::variable("$LIMMAX", &[(10, "200.000000000000"), (20, "-0.0")]),
            Record::new("LWPOLYLINE", &[(90, "     2"), (10, "0.123456789"), (42, "0.414213562373")]),
        ];
        let text = String::from_utf8(to_bytes(&records)).unwrap();
        assert_eq!(
            text.replace("\r\n", "|"),
            "  9|$LIMMAX| 10|200.0| 20|0.0|  0|LWPOLYLINE| 90|2| 10|0.123457| 42|0.414213562373|"
        );
    }

    #[test]
    fn what_is_written_reads_back() {
        let records = vec![
            Record::new("SECTION", &[(2, "HEADER")]),
            Record::variable("$ACADVER", &[(1, "AC1015")]),
            Record::new("ENDSEC", &[]),
        ];
        assert_eq!(from_bytes(&to_bytes(&records)), records);
    }
}
