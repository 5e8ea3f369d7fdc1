//! The hardware of a kit, counted: what to order, with spares.
//!
//! Takes a finished design, gives one line for each standard, size and length, in a fixed order. Angles are not
//! in it: they are sawn to length and stand in a list of their own.

use super::words;
use crate::catalogue::{Hardware, HeadKind, NutKind, WasherKind};
use crate::finished::Finished;
use crate::layout::FixtureKind;
use crate::number::decimal;
use crate::spec::Spares;
use std::collections::BTreeMap;

/// One line of the list.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Line {
    /// E.g. `ISO 7380-1`; empty for slides.
    pub(crate) standard: String,
    /// What it is, in words.
    pub(crate) what: String,
    /// Thread size, or the slide's or fitting's name.
    pub(crate) size: String,
    /// mm, for bolts and slides.
    pub(crate) length: Option<f64>,
    /// Pieces in the kit; pairs of slides.
    pub(crate) needed: usize,
    /// Pieces to buy beyond that.
    pub(crate) spares: usize,
    /// What is counted: `pcs` or `pairs`.
    pub(crate) unit: &'static str,
    /// What else a buyer wants to know; may be empty.
    pub(crate) remark: String,
}

/// What a nut without an insert needs so that it does not turn by itself.
const THREAD_LOCK: &str = "with thread lock";

/// The order of the list.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Group {
    Bolt,
    Washer,
    Nut,
    Turnbuckle,
    Slide,
    Fixture,
}

/// What makes two pieces the same, in the order of the list: group, standard, size as a number (M10 comes after M8),
/// size, length in micrometres, what it is.
type Key = (Group, String, u64, String, Option<u64>, String);

/// All lines: bolts, washers, nuts, turnbuckles, slides, fittings; each by standard, size, length.
pub(crate) fn lines(finished: &Finished) -> Vec<Line> {
    let mut lines = BTreeMap::new();
    for bolt in &finished.kit.bolts {
        let Hardware { head, length, head_washer, nut_washers, nut, .. } = &bolt.hardware;
        let measured = if head.length_is_overall { "over all" } else { "under the head" };
        let remark = format!("length {measured}, {} key {} mm", head.drive, decimal(head.key, 1));
        let piece = line(&head.standard, head_word(head.kind), &head.size);
        count(&mut lines, Group::Bolt, Line { length: Some(*length), remark, ..piece });
        for washer in head_washer.iter().chain(nut_washers) {
            count(&mut lines, Group::Washer, line(&washer.standard, washer_word(washer.kind), &washer.size));
        }
        if let Some(nut) = nut {
            let remark = if words::nut_locks_itself(nut.kind) { "" } else { THREAD_LOCK }.to_owned();
            let piece = line(&nut.standard, nut_word(nut.kind), &nut.size);
            count(&mut lines, Group::Nut, Line { remark, ..piece });
        }
    }
    for tie in &finished.kit.ties {
        let turnbuckle = &tie.turnbuckle;
        let eye = line(&turnbuckle.eye_standard, "eye bolt", &turnbuckle.size);
        let remark = "into the vehicle's point".to_owned();
        count(&mut lines, Group::Bolt, Line { length: Some(turnbuckle.eye_thread), remark, ..eye });
        let [shortest, longest] = [turnbuckle.shortest, turnbuckle.longest].map(|mm| decimal(mm, 1));
        let remark = format!("with two hooks, {shortest} to {longest} mm between them");
        let piece = line(&turnbuckle.standard, "turnbuckle", &turnbuckle.size);
        count(&mut lines, Group::Turnbuckle, Line { remark, ..piece });
    }
    for drawer in &finished.kit.layout.drawers {
        let slide = &drawer.slide;
        let pair = Line { unit: "pairs", length: Some(slide.length), ..line("", "drawer slides", &slide.id) };
        count(&mut lines, Group::Slide, pair);
    }
    let fixtures = finished.kit.layout.fixtures.iter();
    for fixture in fixtures.filter(|fixture| fixture.kind == FixtureKind::Fitting) {
        count(&mut lines, Group::Fixture, line("", &fixture.title, &fixture.item));
    }
    let Spares { percent, at_least } = finished.design.workshop.spares;
    for (key, line) in &mut lines {
        if !matches!(key.0, Group::Slide | Group::Fixture) {
            line.spares = spare(line.needed, percent.value, at_least.value);
        }
    }
    lines.into_values().collect()
}

/// A line for one piece without length and remark.
fn line(standard: &str, what: &str, size: &str) -> Line {
    Line {
        standard: standard.to_owned(),
        what: what.to_owned(),
        size: size.to_owned(),
        length: None,
        needed: 1,
        spares: 0,
        unit: "pcs",
        remark: String::new(),
    }
}

/// Adds a piece to the line of its like.
fn count(lines: &mut BTreeMap<Key, Line>, group: Group, piece: Line) {
    let number = piece.size.trim_start_matches(|c: char| !c.is_ascii_digit()).parse().unwrap_or(0);
    let micrometres = piece.length.map(|length| whole(length * 1000.0));
    let key = (group, piece.standard.clone(), number, piece.size.clone(), micrometres, piece.what.clone());
    lines.entry(key).and_modify(|line| line.needed += 1).or_insert(piece);
}

/// Spare pieces: so many per cent of the need, rounded up, and at least so many.
fn spare(needed: usize, percent: f64, at_least: u32) -> usize {
    // 5 % of 100 must not become 6 because of a binary fraction.
    let share = (needed as f64 * percent / 100.0 - 1e-9).ceil().max(0.0);
    usize::try_from(whole(share)).unwrap_or(usize::MAX).max(at_least as usize)
}

fn whole(value: f64) -> u64 {
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "not negative, far below 2^53"
    )]
    let whole = value.round().max(0.0) as u64;
    whole
}

fn head_word(kind: HeadKind) -> &'static str {
    match kind {
        HeadKind::Button => "button head bolt",
        HeadKind::Countersunk => "countersunk bolt",
        HeadKind::Hex => "hexagon bolt",
        HeadKind::Cap => "cap head bolt",
    }
}

fn washer_word(kind: WasherKind) -> &'static str {
    match kind {
        WasherKind::Plain => "plain washer",
        WasherKind::Large => "large washer",
        WasherKind::Spreader => "spreader washer",
    }
}

fn nut_word(kind: NutKind) -> &'static str {
    match kind {
        NutKind::Hex => "hexagon nut",
        NutKind::Lock => "lock nut",
        NutKind::LowLock => "low lock nut",
        NutKind::Thin => "thin nut",
        NutKind::Eye => "eye nut",
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::example_kits::{self as example, CAPTIVE_NUTS};

    #[test]
    fn spares_are_a_share_rounded_up_and_at_least_so_many() {
        assert_eq!(
            [(100, 5.0, 2), (101, 5.0, 2), (3, 5.0, 2), (3, 0.0, 0)].map(|(n, p, l)| spare(n, p, l)),
            [5, 6, 2, 0]
        );
    }

    #[test]
    fn every_bolt_washer_and_nut_is_counted_once() {
        let finished = example::finished(example::ANGLES);
        let lines = lines(&finished);
        let sum = |end: &str| {
            lines.iter().filter(|line| line.what.ends_with(end)).map(|line| line.needed).sum::<usize>()
        };
        let bolts = &finished.kit.bolts;
        let washers = bolts
            .iter()
            .map(|bolt| usize::from(bolt.hardware.head_washer.is_some()) + bolt.hardware.nut_washers.len());
        assert_eq!((sum("bolt"), sum("nut"), sum("washer")), (bolts.len(), bolts.len(), washers.sum()));
        assert_eq!(sum("slides"), 2);
    }

    #[test]
    fn nuts_without_an_insert_ask_for_thread_lock_and_others_do_not() {
        let all = [CAPTIVE_NUTS, example::ANGLES].map(|text| lines(&example::finished(text))).concat();
        let remark = |what: &str| all.iter().find(|line| line.what == what).map(|line| line.remark.as_str());
        assert_eq!(remark("hexagon nut"), Some(THREAD_LOCK));
        assert_eq!(remark("low lock nut"), Some(""));
    }
}
