//! What is bought besides sheets: bolts, washers, nuts, angle by the metre, slides by the pair.

use super::{LENGTH_DECIMALS, csv};
use crate::export::words;
use crate::finished::Finished;
use crate::number::decimal;
use crate::spec::Spares;
use std::collections::BTreeMap;

const HEAD: [&str; 9] =
    ["standard", "kind", "size", "length (mm)", "needed", "spares", "order", "unit", "remark"];

/// What a piece without an insert needs so that it does not turn by itself.
const THREAD_LOCK: &str = "with thread lock";

/// A line of small hardware; the order of the fields is the order of the rows.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
struct Piece {
    /// Bolts first, then washers, then nuts.
    rank: u8,
    standard: String,
    kind: String,
    /// Micrometres of diameter, so that M10 comes after M6.
    diameter: u64,
    size: String,
    /// Micrometres; 0 for what has no length.
    length: u64,
    remark: &'static str,
}

/// All hardware of a kit.
pub(crate) fn hardware(finished: &Finished) -> String {
    let mut rows = small_pieces(finished);
    rows.extend(angles(finished));
    rows.extend(slides(finished));
    csv(HEAD, rows)
}

/// Bolts, washers, nuts: they get lost, so there are spares.
fn small_pieces(finished: &Finished) -> Vec<[String; 9]> {
    let mut counts: BTreeMap<Piece, u32> = BTreeMap::new();
    for bolt in &finished.kit.bolts {
        let hardware = &bolt.hardware;
        let mut add = |rank, standard: &str, kind: String, length: f64, remark| {
            let piece = Piece {
                rank,
                standard: standard.to_owned(),
                kind,
                diameter: micrometres(hardware.thread.diameter),
                size: hardware.thread.size.clone(),
                length: micrometres(length),
                remark,
            };
            *counts.entry(piece).or_default() += 1;
        };
        let head = &hardware.head;
        let over_all = if head.length_is_overall { "length over all" } else { "" };
        add(0, &head.standard, format!("bolt ({})", words::head(head.kind)), hardware.length, over_all);
        for washer in hardware.head_washer.iter().chain(&hardware.nut_washers) {
            add(1, &washer.standard, format!("washer ({})", words::washer(washer.kind)), 0.0, "");
        }
        let nut = &hardware.nut;
        let remark = if words::nut_locks_itself(nut.kind) { "" } else { THREAD_LOCK };
        add(2, &nut.standard, format!("nut ({})", words::nut(nut.kind)), 0.0, remark);
    }
    let spares = &finished.design.workshop.spares;
    counts
        .into_iter()
        .map(|(piece, needed)| {
            let extra = spare_pieces(needed, spares);
            [
                piece.standard,
                piece.kind,
                piece.size,
                if piece.length == 0 { String::new() } else { mm(piece.length) },
                needed.to_string(),
                extra.to_string(),
                (needed + extra).to_string(),
                "pcs".to_owned(),
                piece.remark.to_owned(),
            ]
        })
        .collect()
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

/// Slides by the pair.
fn slides(finished: &Finished) -> Vec<[String; 9]> {
    let mut pairs: BTreeMap<(&str, u64), u32> = BTreeMap::new();
    for drawer in &finished.kit.layout.drawers {
        *pairs.entry((&drawer.slide.family, micrometres(drawer.slide.length))).or_default() += 1;
    }
    let id = |family: &str, length: u64| {
        let of = |slide: &str, own: f64| slide == family && micrometres(own) == length;
        let drawers = &finished.kit.layout.drawers;
        let found = drawers.iter().find(|drawer| of(&drawer.slide.family, drawer.slide.length));
        found.map_or_else(String::new, |drawer| drawer.slide.id.clone())
    };
    pairs
        .into_iter()
        .map(|((family, length), count)| {
            let count = count.to_string();
            let (size, length) = (id(family, length), mm(length));
            let (kind, unit) = ("slide".to_owned(), "pairs".to_owned());
            [String::new(), kind, size, length, count.clone(), "0".to_owned(), count, unit, String::new()]
        })
        .collect()
}

/// Per cent rounded up, but never fewer than the workshop's least number.
fn spare_pieces(needed: u32, spares: &Spares) -> u32 {
    let share = (f64::from(needed) * spares.percent.value / 100.0).ceil().clamp(0.0, 1e9);
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped, whole")]
    let share = share as u32;
    share.max(spares.at_least.value)
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
    use crate::diag::{At, Span};
    use crate::example_kits::{ALL, ANGLES, CAPTIVE_NUTS, finished};

    fn needed(rows: &[Vec<String>], kind: &str) -> usize {
        rows.iter().filter(|row| row[1].starts_with(kind)).map(|row| row[4].parse::<usize>().unwrap()).sum()
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
            assert_eq!(2 * needed(&rows, "slide"), kit.kit.layout.mounts.len());
            let cut: f64 = kit.kit.angles.iter().map(|angle| angle.length).sum();
            let bought: f64 =
                rows.iter().filter(|row| row[7] == "m").map(|row| row[4].parse::<f64>().unwrap()).sum();
            assert!((bought * 1000.0 - cut).abs() < 1.0, "{bought} {cut}");
        }
    }

    #[test]
    fn nuts_without_an_insert_ask_for_thread_lock_and_others_do_not() {
        let rows = rows(&(hardware(&finished(CAPTIVE_NUTS)) + &hardware(&finished(ANGLES))));
        let remarks = |kind: &str| -> Vec<&str> {
            rows.iter().filter(|row| row[1] == kind).map(|row| row[8].as_str()).collect()
        };
        assert_eq!(remarks("nut (hexagon)").first(), Some(&THREAD_LOCK));
        assert_eq!(remarks("nut (low-lock)").first(), Some(&""));
    }

    #[test]
    fn spares_are_rounded_up_and_never_below_the_least() {
        let spares = Spares { percent: At::new(5.0, Span::default()), at_least: At::new(2, Span::default()) };
        for (needed, extra) in [(1, 2), (40, 2), (41, 3), (100, 5), (101, 6)] {
            assert_eq!(spare_pieces(needed, &spares), extra, "{needed}");
        }
    }
}
