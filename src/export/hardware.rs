//! The hardware of a kit, counted: what to order, with spares.
//!
//! Takes a finished design, gives one line for each standard, size and length, in a fixed order. Angles are not
//! in it: they are sawn to length and stand in a list of their own.

use super::words;
use crate::assembly::{Step, home};
use crate::catalogue::{Hardware, HeadKind, NutKind, WasherKind};
use crate::finished::Finished;
use crate::joints::BoltId;
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
    for (_, group, piece) in pieces(finished) {
        count(&mut lines, group, piece);
    }
    let Spares { percent, at_least } = finished.design.workshop.spares;
    for (key, line) in &mut lines {
        if !matches!(key.0, Group::Slide | Group::Fixture) {
            line.spares = spare(line.needed, percent.value, at_least.value);
        }
    }
    lines.into_values().collect()
}

/// The same pieces in bags, one for each step of putting the kit together, in the order of the steps.
pub(crate) fn bags(finished: &Finished) -> Vec<Bag> {
    let mut bags: BTreeMap<Step, BTreeMap<Key, Line>> = BTreeMap::new();
    for (step, group, piece) in pieces(finished) {
        count(bags.entry(step).or_default(), group, piece);
    }
    let bag = |(step, lines): (Step, BTreeMap<Key, Line>)| Bag {
        step,
        name: step.words(&finished.kit),
        lines: lines.into_values().collect(),
    };
    bags.into_iter().map(bag).collect()
}

/// What is needed at one step.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Bag {
    /// The step.
    pub(crate) step: Step,
    /// The same, in words.
    pub(crate) name: String,
    /// What is in it, without spares.
    pub(crate) lines: Vec<Line>,
}

/// Every piece with its step.
fn pieces(finished: &Finished) -> Vec<(Step, Group, Line)> {
    let kit = &finished.kit;
    let mut pieces = Vec::new();
    for (i, bolt) in kit.bolts.iter().enumerate() {
        let step = finished.assembly.step_of(BoltId(i));
        pieces.extend(of_bolt(&bolt.hardware).into_iter().map(|(group, piece)| (step, group, piece)));
    }
    for tie in &kit.ties {
        let turnbuckle = &tie.turnbuckle;
        let eye = line(&turnbuckle.eye_standard, "eye bolt", &turnbuckle.size);
        let remark = "into the vehicle's point".to_owned();
        let eye = Line { length: Some(turnbuckle.eye_thread), remark, ..eye };
        pieces.push((Step::Vehicle, Group::Bolt, eye));
        let [shortest, longest] = [turnbuckle.shortest, turnbuckle.longest].map(|mm| decimal(mm, 1));
        let remark = format!("with two hooks, {shortest} to {longest} mm between them");
        let piece = line(&turnbuckle.standard, "turnbuckle", &turnbuckle.size);
        pieces.push((Step::Vehicle, Group::Turnbuckle, Line { remark, ..piece }));
    }
    for drawer in &kit.layout.drawers {
        let slide = &drawer.slide;
        let pair = Line { unit: "pairs", length: Some(slide.length), ..line("", "drawer slides", &slide.id) };
        pieces.push((Step::Slides(drawer.body), Group::Slide, pair));
    }
    let fittings = kit.layout.fixtures.iter().filter(|fixture| fixture.kind == FixtureKind::Fitting);
    pieces.extend(fittings.map(|fixture| {
        let step = Step::Fittings(home(kit, fixture.body));
        (step, Group::Fixture, line("", &fixture.title, &fixture.item))
    }));
    pieces
}

/// A bolt, its washers and its nut.
fn of_bolt(hardware: &Hardware) -> Vec<(Group, Line)> {
    let Hardware { head, length, head_washer, nut_washers, nut, .. } = hardware;
    let measured = if head.length_is_overall { "over all" } else { "under the head" };
    let remark = format!("length {measured}, {} key {} mm", head.drive, decimal(head.key, 1));
    let piece = line(&head.standard, head_word(head.kind), &head.size);
    let mut pieces = vec![(Group::Bolt, Line { length: Some(*length), remark, ..piece })];
    let washers = head_washer.iter().chain(nut_washers);
    pieces.extend(
        washers.map(|washer| (Group::Washer, line(&washer.standard, washer_word(washer.kind), &washer.size))),
    );
    pieces.extend(nut.iter().map(|nut| {
        let remark = if words::nut_locks_itself(nut.kind) { "" } else { THREAD_LOCK }.to_owned();
        (Group::Nut, Line { remark, ..line(&nut.standard, nut_word(nut.kind), &nut.size) })
    }));
    pieces
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

    /// What is in the bags is what is ordered without spares, line by line.
    #[test]
    fn bags_add_up_to_the_list() {
        for text in [example::ANGLES, example::SIDE_BY_SIDE, CAPTIVE_NUTS] {
            let finished = example::finished(text);
            let mut sums: BTreeMap<(String, String, Option<u64>, String), usize> = BTreeMap::new();
            let key = |line: &Line| {
                let length = line.length.map(|length| whole(length * 1000.0));
                (line.standard.clone(), line.size.clone(), length, line.what.clone())
            };
            let bags = bags(&finished);
            for line in bags.iter().flat_map(|bag| &bag.lines) {
                *sums.entry(key(line)).or_default() += line.needed;
                assert_eq!(line.spares, 0);
            }
            let all: BTreeMap<_, usize> =
                lines(&finished).iter().map(|line| (key(line), line.needed)).collect();
            assert_eq!(sums, all);
            // In each bag every bolt has its nut: captive or not, none goes into the vehicle here.
            for bag in &bags {
                let sum = |end: &str| -> usize {
                    bag.lines.iter().filter(|line| line.what.ends_with(end)).map(|line| line.needed).sum()
                };
                assert_eq!(sum("bolt"), sum("nut"), "{}", bag.name);
            }
        }
    }

    #[test]
    fn each_bolt_is_in_the_bag_of_its_step() {
        // Two carcases against each other, one with a drawer.
        let finished = example::finished(
            "bay: {width: 1240, depth: 1350, height: 900}\n\
             carcases:\n  \
             - {id: left, width: 560, depth: 900, height: 300, at: {y: 280}, panel: birch-12, cell: {drawer: {slide: heavy-500}}}\n  \
             - {id: right, width: 560, depth: 900, height: 700, at: {y: -280}, panel: birch-12, \
             rows: [{open: {}}, {open: {}}]}\n",
        );
        let names: Vec<String> = bags(&finished).into_iter().map(|bag| bag.name).collect();
        let steps = [
            "put left-drawer-1 together",
            "put left together",
            "put right together",
            "slides of left-drawer-1",
            "carcases to each other",
        ];
        assert_eq!(names, steps);
    }

    #[test]
    fn nuts_without_an_insert_ask_for_thread_lock_and_others_do_not() {
        let all = [CAPTIVE_NUTS, example::ANGLES].map(|text| lines(&example::finished(text))).concat();
        let remark = |what: &str| all.iter().find(|line| line.what == what).map(|line| line.remark.as_str());
        assert_eq!(remark("hexagon nut"), Some(THREAD_LOCK));
        assert_eq!(remark("low lock nut"), Some(""));
    }
}
