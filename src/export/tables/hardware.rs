//! What is bought besides sheets: bolts, washers, nuts, angle by the metre, slides by the pair.

use super::{LENGTH_DECIMALS, csv};
use crate::export::hardware::{Line, bags, lines};
use crate::finished::Finished;
use crate::number::decimal;
use std::collections::BTreeMap;

const HEAD: [&str; 9] =
    ["standard", "kind", "size", "length (mm)", "needed", "spares", "order", "unit", "remark"];

/// All hardware of a kit.
pub(crate) fn hardware(finished: &Finished) -> String {
    let mut rows = pieces(finished);
    rows.extend(angles(finished));
    csv(HEAD, rows)
}

/// What is needed at each step of putting the kit together.
pub(crate) fn hardware_bags(finished: &Finished) -> String {
    let mut rows = Vec::new();
    for (i, bag) in bags(finished).into_iter().enumerate() {
        let number = (i + 1).to_string();
        rows.extend(bag.lines.into_iter().map(|line| {
            [
                number.clone(),
                bag.name.clone(),
                line.standard,
                line.what,
                line.size,
                line.length.map_or_else(String::new, |length| decimal(length, LENGTH_DECIMALS)),
                line.needed.to_string(),
                line.unit.to_owned(),
            ]
        }));
    }
    csv(["bag", "step", "standard", "kind", "size", "length (mm)", "needed", "unit"], rows)
}

/// Bolts, washers, nuts, slides.
fn pieces(finished: &Finished) -> Vec<[String; 9]> {
    let row = |line: Line| {
        [
            line.standard,
            line.what,
            line.size,
            line.length.map_or_else(String::new, |length| decimal(length, LENGTH_DECIMALS)),
            line.needed.to_string(),
            line.spares.to_string(),
            (line.needed + line.spares).to_string(),
            line.unit.to_owned(),
            line.remark,
        ]
    };
    lines(finished).into_iter().map(row).collect()
}

/// Angles by section and length, and how much of each section in all.
fn angles(finished: &Finished) -> Vec<[String; 9]> {
    let mut sections: BTreeMap<&str, BTreeMap<u64, u32>> = BTreeMap::new();
    for piece in &finished.kit.angles {
        let lengths = sections.entry(&piece.angle.id).or_default();
        *lengths.entry(micrometres(piece.length)).or_default() += 1;
    }
    let mut rows = Vec::new();
    for (section, lengths) in sections {
        let row = |kind: &str, length: String, needed: String, unit: &str, remark: &str| {
            let spares = "0".to_owned();
            let order = needed.clone();
            let (kind, unit, remark) = (kind.to_owned(), unit.to_owned(), remark.to_owned());
            [String::new(), kind, section.to_owned(), length, needed, spares, order, unit, remark]
        };
        rows.extend(lengths.iter().rev().map(|(&length, count)| {
            row("angle (cut)", mm(length), count.to_string(), "pcs", "drilled as in kit.json")
        }));
        let total: u64 = lengths.iter().map(|(&length, &count)| length * u64::from(count)).sum();
        let metres = decimal(total as f64 * 1e-6, 3);
        rows.push(row("angle (in all)", String::new(), metres, "m", "the pieces above without saw cuts"));
    }
    rows
}

/// Whole micrometres, so that lengths can be compared and counted.
fn micrometres(length: f64) -> u64 {
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "lengths of parts, mm")]
    let whole = (length * 1000.0).round().clamp(0.0, 1e12) as u64;
    whole
}

fn mm(micrometres: u64) -> String {
    decimal(micrometres as f64 / 1000.0, LENGTH_DECIMALS)
}

#[cfg(test)]
mod tests {
    use super::super::tests::rows;
    use super::*;
    use crate::example_kits::{ALL, finished};

    fn needed(rows: &[Vec<String>], kind: &str) -> usize {
        rows.iter().filter(|row| row[1].ends_with(kind)).map(|row| row[4].parse::<usize>().unwrap()).sum()
    }

    #[test]
    fn every_piece_of_the_kit_is_bought() {
        for text in ALL {
            let kit = finished(text);
            let rows = rows(&hardware(&kit));
            let bolts = &kit.kit.bolts;
            let washers = |bolt: &crate::joints::Bolt| {
                usize::from(bolt.hardware.head_washer.is_some()) + bolt.hardware.nut_washers.len()
            };
            assert_eq!(needed(&rows, "bolt"), bolts.len());
            assert_eq!(needed(&rows, "nut"), bolts.len());
            assert_eq!(needed(&rows, "washer"), bolts.iter().map(washers).sum::<usize>());
            assert_eq!(needed(&rows, "angle (cut)"), kit.kit.angles.len());
            assert_eq!(2 * needed(&rows, "slides"), kit.kit.layout.mounts.len());
            let cut: f64 = kit.kit.angles.iter().map(|angle| angle.length).sum();
            let bought: f64 =
                rows.iter().filter(|row| row[7] == "m").map(|row| row[4].parse::<f64>().unwrap()).sum();
            assert!((bought * 1000.0 - cut).abs() < 1.0, "{bought} {cut}");
        }
    }
}
