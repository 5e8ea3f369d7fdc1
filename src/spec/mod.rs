//! YAML text to a typed design, every value with its place.
//!
//! Takes texts, gives a [`Design`] or findings, all faults at once. Opens no file itself: the vehicle and the
//! workshop file come through a function of the caller's. The way: text -> tree -> shape against the schema ->
//! the structs that mirror the YAML -> the design in millimetres.

mod bay_rules;
mod cutout_rules;
pub(crate) mod equipment_rules;
mod expression;
mod letter_rules;
mod lower;
mod model;
mod numbers;
mod raw;
mod rules;
mod load_rules;
mod run_rules;
mod schema;
mod shape;
mod tree;
mod value;
mod wing_rules;

use std::collections::BTreeMap;
use std::sync::LazyLock;

use serde::de::DeserializeOwned;
use serde_json::Value;

use crate::diag::{At, Finding, Findings, Rule, SourceId, Sources, Span};
use crate::number::decimal;
use lower::{Reader, Values};
pub(crate) use model::*;
pub(crate) use numbers::{Numbers, Spot, replaced};
use value::FileOr;

/// Every rule of this stage.
pub(crate) static RULES: LazyLock<Vec<&Rule>> = LazyLock::new(|| {
    rules::RULES
        .iter()
        .chain(&bay_rules::RULES)
        .chain(&wing_rules::RULES)
        .chain(&cutout_rules::RULES)
        .chain(&equipment_rules::RULES)
        .chain(&run_rules::RULES)
        .chain(&load_rules::RULES)
        .copied()
        .chain([&letter_rules::LETTERS_NOT_PRINTED])
        .collect()
});

/// The version of the spec language that is read.
const VERSION: f64 = 1.0;

/// Most frozen sheets of a kit, and most kits that they come from.
const MOST_FROZEN: usize = 1000;

/// Opens a file by the name of the file that points to it (as findings show it) and its path as written there,
/// relative to that file. Gives the name that findings show and the text, or the reason why not.
pub(crate) type Open<'a> = dyn FnMut(&str, &str) -> Result<(String, String), String> + 'a;

/// A text and the name that findings show for it.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Text<'a> {
    /// As the user gave it.
    pub(crate) name: &'a str,
    /// The text.
    pub(crate) text: &'a str,
}

/// What a design is read from.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Input<'a> {
    /// The design file.
    pub(crate) design: Text<'a>,
    /// The kit's name where the design gives none: the file's name.
    pub(crate) fallback_name: &'a str,
    /// A vehicle file to use instead of the design's own vehicle.
    pub(crate) vehicle: Option<Text<'a>>,
    /// A workshop file to use instead of the design's own workshop.
    pub(crate) workshop: Option<Text<'a>>,
}

/// Reads a design. `None` when there is an error; the findings say which.
pub(crate) fn read(
    findings: &mut Findings,
    sources: &mut Sources,
    input: &Input<'_>,
    open: &mut Open<'_>,
) -> Option<Design> {
    let mut own = Findings::default();
    let design = design(&mut own, sources, input, open).filter(|_| !own.has_errors());
    let mut faults = own.sorted();
    if let Some(first) = faults.get(rules::MOST_LISTED).map(|finding| finding.at) {
        faults.truncate(rules::MOST_LISTED);
        let message = format!("there are more faults than the {} listed", rules::MOST_LISTED);
        let finding = Finding::new(&rules::TOO_MANY_FAULTS, first, message);
        faults.push(finding.help("is this the right file, and is it indented as it should be?"));
    }
    for fault in faults {
        findings.push(fault);
    }
    design
}

/// Reads a workshop file by itself. `None` when there is an error.
pub(crate) fn read_workshop(
    findings: &mut Findings,
    sources: &mut Sources,
    text: Text<'_>,
) -> Option<Workshop> {
    let file = load(findings, sources, text, &schema::WORKSHOP)?;
    let workshop = lower::workshop(&mut file.reader(findings, None, 1.0), &file.raw, file.whole());
    (!findings.has_errors()).then_some(workshop)
}

/// JSON Schema of the design file.
pub(crate) fn schema() -> Value {
    schema::DESIGN.clone()
}

/// JSON Schema of a vehicle file.
pub(crate) fn vehicle_schema() -> Value {
    schema::VEHICLE.clone()
}

/// JSON Schema of a workshop's stock file.
pub(crate) fn stock_schema() -> Value {
    schema::STOCK.clone()
}

/// JSON Schema of a workshop file.
pub(crate) fn workshop_schema() -> Value {
    schema::WORKSHOP.clone()
}

/// A file that has the right shape.
struct File<T> {
    /// As findings show it.
    name: String,
    source: SourceId,
    text: String,
    extents: BTreeMap<u32, u32>,
    raw: T,
}

impl<T> File<T> {
    fn reader<'a>(&'a self, findings: &'a mut Findings, values: Option<&'a Values>, unit: f64) -> Reader<'a> {
        let (text, extents) = (self.text.as_str(), &self.extents);
        Reader { findings, source: self.source, text, extents, unit, values }
    }

    fn whole(&self) -> Span {
        Span { source: self.source, ..Span::default() }
    }
}

fn design(
    findings: &mut Findings,
    sources: &mut Sources,
    input: &Input<'_>,
    open: &mut Open<'_>,
) -> Option<Design> {
    let file: File<raw::Spec> = load(findings, sources, input.design, &schema::DESIGN)?;
    let unit = lower::millimetres(file.raw.units.as_ref(), 1.0);
    let vehicle = vehicle(findings, sources, input, &file, unit, open);
    // What follows from a faulty bay would only be faulty again.
    let bay = vehicle.as_ref().map(|vehicle| &vehicle.bay).filter(|_| !findings.has_errors());
    let workshop = workshop(findings, sources, input, &file, unit, open);
    let mut reader = file.reader(findings, None, unit);
    let clearances = lower::clearances(&mut reader, file.raw.clearances.as_ref(), file.whole());
    let values = lower::resolve(&mut reader, file.raw.sizes.as_ref(), bay, &clearances);
    let mut reader = file.reader(findings, Some(&values), unit);
    let name = name(&mut reader, &file, input.fallback_name);
    let joints = lower::joints(&mut reader, file.raw.joints.as_ref());
    let bolts = lower::bolts(&mut reader, file.raw.bolts.as_ref());
    let slide_factor = lower::slide_factor(&mut reader, file.raw.slide_factor.as_ref(), file.whole());
    let carcases = lower::carcases(&mut reader, &file.raw.carcases);
    let floors = lower::floors(&mut reader, file.raw.floors.as_ref());
    let removable = lower::names(&mut reader, file.raw.removable.as_ref());
    let mut opened = |path: &str| open(&file.name, path).map(|(_, text)| text);
    let trim = clearances.trim.value;
    let wings = lower::wings(&mut reader, file.raw.wings.as_ref(), (&carcases, trim), &mut opened);
    let tool_radius = workshop.as_ref().map_or(0.0, |workshop| workshop.tool.diameter.value / 2.0);
    let cutouts = lower::cutouts(&mut reader, file.raw.cutouts.as_ref(), tool_radius, &mut opened);
    let tie_downs = lower::tie_downs(&mut reader, file.raw.tie_downs.as_ref());
    let finishes = lower::finishes(&mut reader, file.raw.finishes.as_ref());
    let legends = lower::legends(&mut reader, file.raw.legends.as_ref());
    let equipment = lower::equipment(&mut reader, file.raw.equipment.as_ref());
    let runs = lower::runs(&mut reader, file.raw.runs.as_ref());
    let (people, loads) = lower::loads(&mut reader, &file.raw, vehicle.as_ref());
    let masses = vehicle.as_ref().and_then(|vehicle| vehicle.masses.as_ref());
    let scenarios = lower::scenarios(&mut reader, file.raw.scenarios.as_ref(), &loads, masses);
    let weighed = lower::weighed(&mut reader, file.raw.weighed.as_ref());
    let nesting = lower::nesting(&mut reader, file.raw.nesting.as_ref());
    let frozen = frozen(&mut reader, &file, open);
    Some(Design {
        name,
        revision: file.raw.revision.as_ref().map(|place| reader.short_sentence(place)),
        // Before what ends it early, so that their faults are told, too.
        panel_loads: lower::panel_loads(&mut reader, file.raw.panel_loads.as_ref()),
        accept: lower::accept(&mut reader, file.raw.accept.as_ref()),
        vehicle: vehicle?,
        slide_factor,
        clearances,
        workshop: workshop?,
        joints,
        bolts,
        carcases,
        floors,
        removable,
        wings,
        cutouts,
        finishes,
        legends,
        tie_downs,
        equipment,
        runs,
        people,
        loads,
        scenarios,
        weighed,
        nesting,
        frozen,
    })
}

/// Sheets that are cut already, with the text of the kit that they come from.
fn frozen(reader: &mut Reader<'_>, file: &File<raw::Spec>, open: &mut Open<'_>) -> Vec<FrozenKit> {
    let nesting = file.raw.nesting.as_ref().map(value::Place::value);
    let Some(list) = nesting.and_then(|nesting| nesting.frozen.as_ref()) else { return Vec::new() };
    reader.counted(list, MOST_FROZEN);
    let mut kits = Vec::new();
    for raw in list.value().iter().map(value::Place::value) {
        reader.counted(&raw.sheets, MOST_FROZEN);
        let sheets: Vec<At<String>> = raw.sheets.value().iter().map(|name| reader.name(name)).collect();
        let kit = reader.sentence(&raw.kit);
        match open(&file.name, &kit.value) {
            Ok((_, text)) => kits.push(FrozenKit { kit, text, sheets }),
            Err(reason) => reader.findings.push(unreadable(&kit.value, kit.span, &reason)),
        }
    }
    reader.differing(kits.iter().flat_map(|kit| &kit.sheets), "frozen sheets");
    kits
}

/// A file that the design names and that cannot be read.
fn unreadable(path: &str, place: Span, reason: &str) -> Finding {
    let message = format!("cannot read `{}`: {reason}", rules::shown(path));
    let finding = Finding::new(&rules::FILE_UNREADABLE, place, message);
    finding.help("the path is taken from the folder of the design file")
}

fn name(reader: &mut Reader<'_>, file: &File<raw::Spec>, fallback: &str) -> At<String> {
    if let Some(name) = &file.raw.name {
        return reader.name(name);
    }
    reader.name_at(fallback, file.whole());
    At::new(fallback.to_owned(), file.whole())
}

fn vehicle(
    findings: &mut Findings,
    sources: &mut Sources,
    input: &Input<'_>,
    file: &File<raw::Spec>,
    unit: f64,
    open: &mut Open<'_>,
) -> Option<Vehicle> {
    let mut reader = file.reader(findings, None, unit);
    if let (Some(bay), Some(vehicle)) = (&file.raw.bay, &file.raw.vehicle) {
        let finding =
            Finding::new(&rules::BAY_UNCLEAR, reader.span(bay), "both `bay` and `vehicle` are given");
        let finding = finding.also(reader.span(vehicle), "the vehicle has a bay too");
        reader.findings.push(finding.help("keep one of them"));
        // It is not used, but its faults are told all the same.
        lower::bay(&mut reader, bay);
    }
    let other = match (input.vehicle, &file.raw.vehicle, &file.raw.bay) {
        (Some(text), _, _) => load(findings, sources, text, &schema::VEHICLE)?,
        (None, Some(place), _) => match place.value() {
            FileOr::Map(raw) => return Some(lower::vehicle(&mut reader, raw)),
            FileOr::File(path) => {
                let place = reader.span(place);
                follow(findings, sources, (&file.name, path), place, open, &schema::VEHICLE)?
            }
        },
        (None, None, Some(bay)) => {
            let bay = lower::bay(&mut reader, bay);
            return Some(Vehicle { name: None, bay, living: None, masses: None });
        }
        (None, None, None) => {
            let finding =
                Finding::new(&rules::BAY_UNCLEAR, file.whole(), "neither `bay` nor `vehicle` is given");
            findings.push(finding.help("add `bay: {width: .., depth: .., height: ..}` as measured"));
            return None;
        }
    };
    Some(lower::vehicle(&mut other.reader(findings, None, 1.0), &other.raw))
}

fn workshop(
    findings: &mut Findings,
    sources: &mut Sources,
    input: &Input<'_>,
    file: &File<raw::Spec>,
    unit: f64,
    open: &mut Open<'_>,
) -> Option<Workshop> {
    let mut reader = file.reader(findings, None, unit);
    let other = match (input.workshop, &file.raw.workshop) {
        (Some(text), _) => load(findings, sources, text, &schema::WORKSHOP)?,
        (None, None) => return Some(lower::default_workshop(&mut reader)),
        (None, Some(place)) => {
            let span = reader.span(place);
            match place.value() {
                FileOr::Map(raw) => {
                    let workshop = lower::workshop(&mut reader, raw, span);
                    return with_shelf(findings, sources, workshop, file, raw, open);
                }
                FileOr::File(path) => {
                    follow(findings, sources, (&file.name, path), span, open, &schema::WORKSHOP)?
                }
            }
        }
    };
    let workshop = lower::workshop(&mut other.reader(findings, None, 1.0), &other.raw, other.whole());
    with_shelf(findings, sources, workshop, &other, &other.raw, open)
}

/// The workshop with the stock file that it names, if it names one. `file` is where it says so.
fn with_shelf<T>(
    findings: &mut Findings,
    sources: &mut Sources,
    mut workshop: Workshop,
    file: &File<T>,
    raw: &raw::Workshop,
    open: &mut Open<'_>,
) -> Option<Workshop> {
    if let Some(place) = &raw.stock
        && let FileOr::File(path) = place.value()
    {
        let span = file.reader(findings, None, 1.0).span(place);
        let list: File<raw::StockList> =
            follow(findings, sources, (&file.name, path), span, open, &schema::STOCK)?;
        workshop.shelf = lower::shelf(&mut list.reader(findings, None, 1.0), &list.raw);
    }
    Some(workshop)
}

/// Loads a file that another one names.
fn follow<T: DeserializeOwned>(
    findings: &mut Findings,
    sources: &mut Sources,
    (from, path): (&str, &str),
    place: Span,
    open: &mut Open<'_>,
    schema: &Value,
) -> Option<File<T>> {
    match open(from, path) {
        Ok((name, text)) => load(findings, sources, Text { name: &name, text: &text }, schema),
        Err(reason) => {
            findings.push(unreadable(path, place, &reason));
            None
        }
    }
}

/// Loads a text. `None` when its shape is at fault; the findings say how.
fn load<T: DeserializeOwned>(
    findings: &mut Findings,
    sources: &mut Sources,
    file: Text<'_>,
    schema: &Value,
) -> Option<File<T>> {
    let source = sources.add(file.name, file.text);
    let tree = sound_tree(findings, source, file.text, schema)?;
    letter_rules::check(findings, &tree);
    let mut extents = BTreeMap::new();
    tree::extents(&tree, &mut extents);
    match tree::parse(file.text) {
        Ok(raw) => {
            Some(File { name: file.name.to_owned(), source, text: file.text.to_owned(), extents, raw })
        }
        Err(error) => {
            findings.push(tree::fault(source, file.text, &error));
            None
        }
    }
}

/// A text as a tree. `None` when it is no YAML, of another version, or its shape is at fault; the findings say how.
fn sound_tree(findings: &mut Findings, source: SourceId, text: &str, schema: &Value) -> Option<tree::Node> {
    let tree = tree::read(findings, source, text)?;
    other_version(findings, &tree)?;
    let mut faults = Findings::default();
    tree::check(&mut faults, &tree);
    let shaped = shape::check(&mut faults, &tree, schema) && !faults.has_errors();
    for fault in faults.sorted() {
        findings.push(fault);
    }
    shaped.then_some(tree)
}

/// Another version's keys may mean other things, so it is the only finding.
fn other_version(findings: &mut Findings, tree: &tree::Node) -> Option<()> {
    match tree.get("baywright") {
        Some(tree::Node { kind: tree::Kind::Number(number), span }) if number.total_cmp(&VERSION).is_ne() => {
            let message = format!("this is version {} of the spec language", decimal(*number, 3));
            let finding = Finding::new(&rules::OTHER_VERSION, *span, message);
            findings.push(finding.help("this program reads version 1: `baywright: 1`"));
            None
        }
        _ => Some(()),
    }
}

#[cfg(test)]
mod tests;
