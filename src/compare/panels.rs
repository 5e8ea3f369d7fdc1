//! Which panels are cut again, which are only elsewhere, and which have another name now.
//!
//! Takes the panels of two documents, gives each a place in one list. Two panels are the same cut if their numbers are
//! the same as `kit.json` prints them, in whatever order contours, holes and corners are listed there.

use super::model::{Board, Difference, Panels, Piece, Recut, Renamed};
use crate::export::kit_json::{Bore, Panel};
use std::collections::{BTreeMap, BTreeSet};

/// A number as it is printed, for comparing only: two are the same number or they are not.
type Digits = u64;

/// A list of corners or the like.
type Corners = Vec<[Digits; 3]>;

/// What a panel's engravings of one kind come to: the corners of their lines.
type Lines = Vec<Vec<Vec<[Digits; 2]>>>;

/// All that decides how a panel is cut, in an order of its own.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
struct Cut {
    material: String,
    thickness: Digits,
    size: [Digits; 2],
    contour: Corners,
    openings: Vec<Corners>,
    /// Place, diameter, depth, face.
    bores: Vec<[Digits; 5]>,
    /// Place, diameter, depth, face.
    countersinks: Vec<[Digits; 5]>,
    legends: Lines,
}

/// A panel with what decides how it is cut.
struct Seen<'a> {
    panel: &'a Panel,
    cut: Cut,
    /// The part mark says its name, so it is no part of what two panels of different names have in common.
    marks: Lines,
}

/// What becomes of the panels.
pub(crate) fn compare(old: &[Panel], new: &[Panel]) -> Panels {
    let (old, new) = (by_name(old), by_name(new));
    let mut panels = Panels::default();
    let mut used: BTreeSet<&str> = BTreeSet::new();
    let mut wanted: Vec<&Seen<'_>> = Vec::new();
    for (&name, seen) in &new {
        match old.get(name) {
            Some(before) if before.cut == seen.cut && before.marks == seen.marks => {
                used.insert(name);
                let list = if finish(before.panel) != finish(seen.panel) {
                    &mut panels.refinished
                } else if before.panel.placement != seen.panel.placement {
                    &mut panels.moved
                } else {
                    &mut panels.unchanged
                };
                list.push(name.to_owned());
            }
            _ => wanted.push(seen),
        }
    }
    // What is left of the old kit, by how it is cut; of several alike the first name goes first.
    let mut left: BTreeMap<&Cut, Vec<&Seen<'_>>> = BTreeMap::new();
    for seen in old.values().rev().filter(|seen| !used.contains(seen.panel.name.as_str())) {
        left.entry(&seen.cut).or_default().push(seen);
    }
    let mut recut = BTreeSet::new();
    for seen in wanted {
        let name = seen.panel.name.as_str();
        // Under its own name a panel of the same cut differs in its mark only, and is cut again.
        let other = left.get_mut(&seen.cut).filter(|_| !same_but_for_mark(&old, seen)).and_then(Vec::pop);
        if let Some(other) = other {
            used.insert(&other.panel.name);
            let other_mark = other.marks != seen.marks;
            panels.renamed.push(Renamed { old: other.panel.name.clone(), new: name.to_owned(), other_mark });
        } else if let Some(before) = old.get(name) {
            recut.insert(name);
            panels.recut.push(again(before, seen));
        } else {
            panels.new.push(piece(seen.panel));
        }
    }
    let unused = old.values().filter(|seen| !used.contains(seen.panel.name.as_str()));
    let gone = unused.filter(|seen| !recut.contains(seen.panel.name.as_str()));
    panels.gone = gone.map(|seen| piece(seen.panel)).collect();
    panels
}

fn by_name(panels: &[Panel]) -> BTreeMap<&str, Seen<'_>> {
    let seen = |panel| Seen { panel, cut: cut(panel), marks: lines(panel, true) };
    panels.iter().map(|panel| (panel.name.as_str(), seen(panel))).collect()
}

fn same_but_for_mark(old: &BTreeMap<&str, Seen<'_>>, seen: &Seen<'_>) -> bool {
    old.get(seen.panel.name.as_str()).is_some_and(|before| before.cut == seen.cut)
}

/// A number as it is printed. Nought is nought, whatever its sign.
fn digits(value: f64) -> Digits {
    (value + 0.0).to_bits()
}

fn cut(panel: &Panel) -> Cut {
    let face = |bore: &Bore| digits(if bore.face == "A" { 0.0 } else { 1.0 });
    let hole = |bore: &Bore, diameter: f64, depth: f64| {
        [digits(bore.u), digits(bore.v), digits(diameter), digits(depth), face(bore)]
    };
    // A hole right through has no depth; no other has one below nought.
    let bores = panel.bores.iter().map(|bore| hole(bore, bore.diameter, bore.depth.unwrap_or(-1.0)));
    let sinks = panel.bores.iter().filter_map(|bore| {
        let sink = bore.countersink.as_ref()?;
        Some(hole(bore, sink.diameter, sink.depth))
    });
    Cut {
        material: panel.material.clone(),
        thickness: digits(panel.thickness),
        size: panel.size.map(digits),
        contour: contour(&panel.outline),
        openings: sorted(panel.openings.iter().map(|opening| contour(&opening.points))),
        bores: sorted(bores),
        countersinks: sorted(sinks),
        legends: lines(panel, false),
    }
}

/// The corners of a closed path, from one that does not depend on where the path was begun.
fn contour(points: &[[f64; 3]]) -> Corners {
    let mut corners: Corners = points.iter().map(|corner| corner.map(digits)).collect();
    if let Some(first) = (0..corners.len()).min_by_key(|&i| corners[i]) {
        corners.rotate_left(first);
    }
    corners
}

/// The lines of the part marks, or of all other engravings.
fn lines(panel: &Panel, marks: bool) -> Lines {
    let engravings = panel.engravings.iter().filter(|engraving| (engraving.kind == "part-mark") == marks);
    let stroke = |stroke: &Vec<[f64; 2]>| stroke.iter().map(|corner| corner.map(digits)).collect();
    sorted(engravings.map(|engraving| engraving.strokes.iter().map(stroke).collect()))
}

fn sorted<T: Ord>(items: impl Iterator<Item = T>) -> Vec<T> {
    let mut items: Vec<T> = items.collect();
    items.sort();
    items
}

/// What covers a panel, as far as it does not depend on where the panel is.
fn finish(panel: &Panel) -> Vec<(&str, &str, bool, [Digits; 3])> {
    sorted(panel.finishes.iter().map(|finish| {
        let sizes = [finish.thickness, finish.area, finish.edges].map(digits);
        (finish.kind.as_str(), finish.face.as_str(), finish.wraps, sizes)
    }))
}

/// A panel that is cut again.
fn again(old: &Seen<'_>, new: &Seen<'_>) -> Recut {
    let (a, b) = (&old.cut, &new.cut);
    let differs = [
        (Difference::Material, a.material != b.material),
        (Difference::Thickness, a.thickness != b.thickness),
        (Difference::Size, a.size != b.size),
        (Difference::Contour, a.contour != b.contour),
        (Difference::Openings, a.openings != b.openings),
        (Difference::Bores, a.bores != b.bores),
        (Difference::Countersinks, a.countersinks != b.countersinks),
        (Difference::Engravings, a.legends != b.legends || old.marks != new.marks),
    ];
    Recut {
        name: new.panel.name.clone(),
        differs: differs.iter().filter(|(_, differs)| *differs).map(|(difference, _)| *difference).collect(),
        old: board(old.panel),
        new: board(new.panel),
        bores_gone: lacking(&a.bores, &b.bores),
        bores_new: lacking(&b.bores, &a.bores),
    }
}

/// How many of the sorted `items` have no like among the sorted `others`.
fn lacking<T: Ord>(items: &[T], others: &[T]) -> usize {
    let mut others = others.iter().peekable();
    let has_like = |item: &&T| {
        while others.next_if(|other| other < item).is_some() {}
        others.next_if(|other| other == item).is_some()
    };
    items.len() - items.iter().filter(has_like).count()
}

fn piece(panel: &Panel) -> Piece {
    Piece { name: panel.name.clone(), board: board(panel) }
}

fn board(panel: &Panel) -> Board {
    Board { material: panel.material.clone(), thickness: panel.thickness, size: panel.size }
}
