//! Hardware, fittings and sheets, counted by designation in two documents.

use super::model::{Counted, SheetCount};
use crate::export::kit_json::{Fitting, KitDocument};
use crate::number::decimal;
use std::collections::BTreeMap;

/// Kinds in the order in which they are told.
const KINDS: [&str; 9] =
    ["bolt", "washer", "nut", "slides", "angle", "turnbuckle", "fitting", "equipment", "sheet"];

/// What makes two pieces alike: kind, standard or section, size as a number (M10 comes after M8), length, designation.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
struct Key {
    kind: usize,
    standard: String,
    diameter: u64,
    length: u64,
    what: String,
}

/// By key, and within it by what a piece is beside its designation: how it is drilled.
type Counts = BTreeMap<Key, BTreeMap<String, usize>>;

/// Bolts, washers and nuts.
pub(super) fn hardware(old: &KitDocument, new: &KitDocument) -> Vec<Counted> {
    changes(&bolts(old), &bolts(new))
}

/// Slides, angles, turnbuckles, fittings, equipment.
pub(super) fn fittings(old: &KitDocument, new: &KitDocument) -> Vec<Counted> {
    changes(&pieces(old), &pieces(new))
}

/// Sheets by material and size.
pub(super) fn sheets(old: &KitDocument, new: &KitDocument) -> Vec<Counted> {
    changes(&stock(old), &stock(new))
}

/// The sheets of one kit.
pub(super) fn sheets_of(kit: &KitDocument) -> Vec<SheetCount> {
    let count = |(key, drilled): (Key, BTreeMap<String, usize>)| SheetCount {
        what: key.what,
        count: drilled.values().sum(),
    };
    stock(kit).into_iter().map(count).collect()
}

fn key(kind: &str, what: String) -> Key {
    let kind = KINDS.iter().position(|known| *known == kind).unwrap_or(KINDS.len());
    Key { kind, standard: String::new(), diameter: 0, length: 0, what }
}

fn count(counts: &mut Counts, key: Key, drilled: String) {
    *counts.entry(key).or_default().entry(drilled).or_default() += 1;
}

fn bolts(kit: &KitDocument) -> Counts {
    let mut counts = Counts::new();
    for bolt in &kit.bolts {
        let mut add = |kind: &str, standard: &str, length: f64, what: String| {
            // Positive numbers stand in the order of their bits.
            let (diameter, length) = (bolt.diameter.to_bits(), length.to_bits());
            count(
                &mut counts,
                Key { standard: standard.to_owned(), diameter, length, ..key(kind, what) },
                String::new(),
            );
        };
        let length = decimal(bolt.length, 3);
        let what = format!("{} {}x{length} {}", bolt.head_standard, bolt.thread, bolt.head);
        add("bolt", &bolt.head_standard, bolt.length, what);
        for washer in bolt.head_washer.iter().chain(&bolt.nut_washers) {
            let what = format!("{} {} {}", washer.standard, bolt.thread, washer.kind);
            add("washer", &washer.standard, 0.0, what);
        }
        if let Some(nut) = &bolt.nut {
            let standard = bolt.nut_standard.as_deref().unwrap_or_default();
            add("nut", standard, 0.0, format!("{standard} {} {nut}", bolt.thread));
        }
    }
    counts
}

fn pieces(kit: &KitDocument) -> Counts {
    let mut counts = Counts::new();
    for drawer in &kit.drawers {
        count(&mut counts, key("slides", drawer.slide.clone()), String::new());
    }
    for fitting in &kit.fittings {
        match fitting {
            // Slides are counted in pairs, by the drawers that they carry.
            Fitting::Slide { .. } => {}
            Fitting::Angle { section, length, holes, hole_diameter, .. } => {
                let what = format!("{section}, {} mm", decimal(*length, 3));
                let (standard, length) = (section.clone(), length.to_bits());
                let key = Key { standard, length, ..key("angle", what) };
                count(&mut counts, key, format!("{holes:?} {hole_diameter}"));
            }
            Fitting::Turnbuckle { size, .. } => {
                count(&mut counts, key("turnbuckle", size.clone()), String::new());
            }
            Fitting::Fixture { title, item, equipment, .. } => {
                let kind = if *equipment { "equipment" } else { "fitting" };
                let what = if item.is_empty() { title } else { item };
                count(&mut counts, key(kind, what.clone()), String::new());
            }
        }
    }
    counts
}

fn stock(kit: &KitDocument) -> Counts {
    let mut counts = Counts::new();
    for sheet in &kit.sheets {
        let size = sheet.size.map(|side| decimal(side, 3)).join("x");
        let size = if sheet.stock == size { size } else { format!("{} ({size})", sheet.stock) };
        let offcut = if sheet.offcut { ", offcut" } else { "" };
        let frozen = if sheet.frozen { ", cut already" } else { "" };
        count(&mut counts, key("sheet", format!("{} {size}{offcut}{frozen}", sheet.material)), String::new());
    }
    counts
}

/// Every kind of which there are more or fewer, or that is drilled otherwise.
fn changes(old: &Counts, new: &Counts) -> Vec<Counted> {
    let mut keys: Vec<&Key> = old.keys().chain(new.keys()).collect();
    keys.sort();
    keys.dedup();
    let nothing = BTreeMap::new();
    let mut changes = Vec::new();
    for key in keys {
        let [was, is] = [old, new].map(|counts| counts.get(key).unwrap_or(&nothing));
        let [before, now]: [usize; 2] = [was, is].map(|drilled| drilled.values().sum());
        let alike: usize =
            was.iter().map(|(drilled, n)| (*n).min(is.get(drilled).copied().unwrap_or(0))).sum();
        let redrilled = before.min(now) - alike;
        if before != now || redrilled > 0 {
            let kind = KINDS.get(key.kind).copied().unwrap_or_default().to_owned();
            changes.push(Counted { kind, what: key.what.clone(), old: before, new: now, redrilled });
        }
    }
    changes
}
