//! A DXF as records of (code, value) pairs, read one after the other so that a large file takes no memory of its own.
//!
//! Takes bytes, gives records that begin with code 0, each with the line where it stands, or says why this is no DXF.
//! Knows nothing of what a record means.

use crate::import::Fault;
use crate::import::rules::{COORDINATE_BAD, DRAWING_UNREADABLE};
use std::borrow::Cow;

/// Most values of one record: a polyline of a hundred thousand corners.
const MOST_PAIRS: usize = 600_000;

/// Characters of a value that a message repeats.
const SHOWN: usize = 30;

/// A value with its code.
#[derive(Clone, Copy, Debug)]
pub(super) struct Pair<'a> {
    /// What the value is.
    pub(super) code: u16,
    /// Without blanks around it.
    value: &'a [u8],
    /// Line of the value, from 1.
    line: usize,
}

impl Pair<'_> {
    /// The value as text.
    pub(super) fn text(&self) -> Cow<'_, str> {
        String::from_utf8_lossy(self.value)
    }

    /// The value as a finite number.
    pub(super) fn number(&self) -> Result<f64, Fault> {
        let number = std::str::from_utf8(self.value).ok().and_then(|text| text.parse::<f64>().ok());
        number.filter(|number| number.is_finite()).ok_or_else(|| {
            let shown: String = self.text().chars().take(SHOWN).filter(|c| !c.is_control()).collect();
            let message = format!("line {}: `{shown}` is no finite number", self.line);
            Fault::new(&COORDINATE_BAD, message, "draw that part of the drawing again and save the file anew")
        })
    }

    /// The value as a whole number; 0 if it is none.
    pub(super) fn whole(&self) -> i64 {
        std::str::from_utf8(self.value).ok().and_then(|text| text.parse().ok()).unwrap_or(0)
    }
}

/// Pairs from one of code 0 up to the next.
#[derive(Clone, Debug, Default)]
pub(super) struct Record<'a> {
    /// The value of code 0: `SECTION`, `LINE`.
    pub(super) kind: Cow<'a, str>,
    /// Line of the kind, from 1.
    pub(super) line: usize,
    /// The others.
    pub(super) pairs: Vec<Pair<'a>>,
}

impl Record<'_> {
    /// The first value with a code.
    pub(super) fn first(&self, code: u16) -> Option<&Pair<'_>> {
        self.pairs.iter().find(|pair| pair.code == code)
    }

    /// The first value with a code as text, or an empty one.
    pub(super) fn text(&self, code: u16) -> Cow<'_, str> {
        self.first(code).map_or(Cow::Borrowed(""), Pair::text)
    }

    /// The first value with a code as a number, or the default of the format.
    pub(super) fn number(&self, code: u16, default: f64) -> Result<f64, Fault> {
        self.first(code).map_or(Ok(default), Pair::number)
    }

    /// The first value with a code as a whole number, or 0.
    pub(super) fn whole(&self, code: u16) -> i64 {
        self.first(code).map_or(0, Pair::whole)
    }
}

/// Reads records.
#[derive(Debug)]
pub(super) struct Records<'a> {
    rest: &'a [u8],
    /// Lines read so far.
    line: usize,
    /// The pair of code 0 that ended the record before.
    head: Option<Pair<'a>>,
}

impl<'a> Records<'a> {
    /// The records of a file, once it looks like a DXF in text form.
    pub(super) fn new(bytes: &'a [u8]) -> Result<Self, Fault> {
        let refused = |what: &str, help: &str| Err(Fault::new(&DRAWING_UNREADABLE, what, help));
        let bytes = bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(bytes);
        if bytes.iter().all(u8::is_ascii_whitespace) {
            return refused("the file is empty", "export the drawing again");
        }
        if bytes.iter().take(64).any(|&byte| byte == 0) {
            return refused(
                "it is no text: a binary DXF or another kind of file",
                "save it as a DXF in text (ASCII) form",
            );
        }
        let mut records = Records { rest: bytes, line: 0, head: None };
        // Remarks may stand before the first section.
        let first = loop {
            match records.pair() {
                Ok(Some(pair)) if pair.code == 999 => {}
                other => break other,
            }
        };
        match first {
            Ok(Some(pair)) if pair.code == 0 && pair.value == b"SECTION" => {
                records.head = Some(pair);
                Ok(records)
            }
            _ => refused(
                "it is no DXF: it does not begin with a section",
                "give a DXF file; a DWG must be saved as DXF first",
            ),
        }
    }

    /// The next record; `None` at the file's end mark.
    pub(super) fn next(&mut self) -> Result<Option<Record<'a>>, Fault> {
        let Some(head) = self.head.take() else { return Ok(None) };
        if head.value == b"EOF" {
            return Ok(None);
        }
        let mut record =
            Record { kind: String::from_utf8_lossy(head.value), line: head.line, pairs: Vec::new() };
        loop {
            match self.pair()? {
                None => {
                    let message = format!("the file stops at line {} without its end mark `EOF`", self.line);
                    return Err(Fault::new(
                        &DRAWING_UNREADABLE,
                        message,
                        "it was not copied or saved whole; export it again",
                    ));
                }
                Some(pair) if pair.code == 0 => {
                    self.head = Some(pair);
                    return Ok(Some(record));
                }
                Some(_) if record.pairs.len() >= MOST_PAIRS => {
                    let message =
                        format!("line {}: `{}` has more than {MOST_PAIRS} values", record.line, record.kind);
                    return Err(Fault::new(
                        &DRAWING_UNREADABLE,
                        message,
                        "divide it, or draw it with arcs instead of many short lines",
                    ));
                }
                Some(pair) => record.pairs.push(pair),
            }
        }
    }

    fn pair(&mut self) -> Result<Option<Pair<'a>>, Fault> {
        let Some(code) = self.next_line() else { return Ok(None) };
        if code.is_empty() && self.rest.iter().all(u8::is_ascii_whitespace) {
            return Ok(None);
        }
        let Some(code) = std::str::from_utf8(code).ok().and_then(|text| text.parse().ok()) else {
            let message = format!("line {} should hold a group code and does not", self.line);
            return Err(Fault::new(
                &DRAWING_UNREADABLE,
                message,
                "the file is damaged, or no DXF in text form; export it again",
            ));
        };
        let Some(value) = self.next_line() else { return Ok(None) };
        Ok(Some(Pair { code, value, line: self.line }))
    }

    fn next_line(&mut self) -> Option<&'a [u8]> {
        if self.rest.is_empty() {
            return None;
        }
        self.line += 1;
        let end = self.rest.iter().position(|&byte| byte == b'\n');
        let (line, rest) = match end {
            Some(end) => (&self.rest[..end], &self.rest[end + 1..]),
            None => (self.rest, &[][..]),
        };
        self.rest = rest;
        Some(line.trim_ascii())
    }
}
