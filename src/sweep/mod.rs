//! One design in many variants: which numbers are varied, what is measured of each variant, and how it is shown.
//!
//! Takes what was typed and the text of a design, gives the texts of the variants; from what came of them a [`Table`], as CSV
//! and as a plot. A variant is nothing but a text, so that every rule applies to it. Builds nothing itself and opens no file.

mod measures;
mod merge;
mod plot;
mod table;
mod vary;

pub(crate) use measures::measured;
pub(crate) use merge::merge;
pub(crate) use plot::plot;
pub(crate) use table::{COLUMNS, Column, Piece, Row, Table};
pub(crate) use vary::{Shard, Vary};

use crate::number::decimal;
use crate::spec::{Numbers, Spot, replaced};

/// Most variants of one sweep: some days of work.
pub(crate) const MOST_VARIANTS: usize = 100_000;

/// A design's text with the places of what is varied.
#[derive(Debug)]
pub(crate) struct Variants<'a> {
    text: &'a str,
    varied: Vec<(&'a Vary, Spot)>,
    /// How many there are.
    pub(crate) total: usize,
}

impl<'a> Variants<'a> {
    /// All combinations of what is varied; else why there are none.
    pub(crate) fn new(text: &'a str, numbers: &Numbers<'_>, vary: &'a [Vary]) -> Result<Self, String> {
        let mut varied: Vec<(&Vary, Spot)> = Vec::new();
        for one in vary {
            let spot = numbers.find(&one.name).map_err(|why| format!("--vary {one}: {why}"))?;
            if let Some((other, _)) = varied.iter().find(|(_, other)| other.start == spot.start) {
                let what = if other.name == one.name { "is" } else { "is the same number, and is" };
                return Err(format!(
                    "--vary {one}: `{}` {what} varied by --vary {other} already; leave one of them out",
                    one.name
                ));
            }
            varied.push((one, spot));
        }
        let total = varied.iter().try_fold(1_usize, |total, (one, _)| total.checked_mul(one.count()));
        let counts: Vec<String> = varied.iter().map(|(one, _)| one.count().to_string()).collect();
        let total = total.filter(|&total| total <= MOST_VARIANTS).ok_or_else(|| {
            format!(
                "these are {} variants; {MOST_VARIANTS} is the limit: take larger steps, or vary fewer sizes at a time",
                counts.join(" x ")
            )
        })?;
        Ok(Variants { text, varied, total })
    }

    /// A heading for each thing that is varied, with its unit.
    pub(crate) fn headings(&self) -> Vec<String> {
        let heading = |(vary, spot): &(&Vary, Spot)| match spot.unit {
            Some(unit) => format!("{} ({unit})", vary.name),
            None => vary.name.clone(),
        };
        self.varied.iter().map(heading).collect()
    }

    /// The values of a variant, as they are written. The first thing that is varied changes slowest.
    pub(crate) fn values(&self, variant: usize) -> Vec<String> {
        let mut rest = variant;
        let mut values: Vec<String> = Vec::with_capacity(self.varied.len());
        for (vary, _) in self.varied.iter().rev() {
            values.push(vary.value(rest % vary.count()));
            rest /= vary.count();
        }
        values.reverse();
        values
    }

    /// The design's text with these values.
    pub(crate) fn text(&self, values: &[String]) -> String {
        let spots = self.varied.iter().map(|(_, spot)| *spot);
        let mut numbers: Vec<(Spot, &str)> = spots.zip(values.iter().map(String::as_str)).collect();
        numbers.sort_unstable();
        replaced(self.text, &numbers)
    }
}

/// A measure in few signs, as the plot and the summary show it.
pub(crate) fn short(value: f64) -> String {
    let decimals = match value.abs() {
        large if large >= 1000.0 => 0,
        middle if middle >= 100.0 => 1,
        _ => 2,
    };
    decimal(value, decimals)
}

#[cfg(test)]
mod tests;
