//! Loose parts: a cut list or a folder of drawings onto sheets, without a kit around them.
//!
//! Takes rows, a way to open the drawings that they name, and the stock; gives parts with their sheets, or findings.
//! Knows no bolts; opens nothing itself.

mod rules;
#[cfg(test)]
mod tests;

use crate::catalogue::{Catalogue, Material};
use crate::cutting::{SheetMaterial, Workpiece};
use crate::diag::{At, Finding, Findings, Span};
use crate::finished::{CutSet, SheetGroup, stock_of};
use crate::geom::{PanelFrame, Path, Point2, Vertex};
use crate::import::cut_list::{Body, Grain, Row};
use crate::import::{Outline, drawing};
use crate::nest::{Effort, Part, Stock, Turns};
use crate::number::decimal;
use crate::sheets::{self, ToLay, Told, Watch};
use crate::spec::Workshop;
pub(crate) use rules::RULES;
use rules::{FILE_UNREADABLE, STOCK_USED_UP, TOO_LARGE, WITHOUT_STOCK};
use std::collections::{BTreeMap, BTreeSet};

/// What sheets are called where the list names no material.
const UNNAMED: &str = "board";

/// Longest name of a file, characters: as long as a part's name may be.
const LONGEST_FILE: usize = 60;

/// Opens a drawing by its name in the list, or says why not.
pub(crate) type Open<'a> = dyn FnMut(&str) -> Result<Vec<u8>, String> + 'a;

/// How parts are to be laid.
pub(crate) struct Wanted<'a> {
    /// What the parts are called together.
    pub(crate) name: &'a str,
    /// Tool or saw, trim, layers, DXF version, own materials.
    pub(crate) workshop: Workshop,
    /// What can be used for every material; empty takes the catalogue's sheets by the material's name.
    pub(crate) stock: Vec<Stock>,
    /// How long to look for better layouts of so many parts.
    pub(crate) effort: &'a dyn Fn(usize) -> Effort,
    /// Whether parts may be turned at all.
    pub(crate) turn: bool,
    /// Unit and layers of drawings.
    pub(crate) reading: drawing::Reading<'a>,
}

/// Parts of a list, laid on sheets.
#[derive(Debug)]
pub(crate) struct LooseParts {
    /// What they are called together.
    pub(crate) name: String,
    /// Layers and DXF version.
    pub(crate) workshop: Workshop,
    /// The distinct parts, in the list's order.
    pub(crate) parts: Vec<LoosePart>,
    /// Sheets, one group for each material; a part stands in its group as often as it is wanted.
    pub(crate) groups: Vec<SheetGroup>,
}

/// A part of a list.
#[derive(Clone, Debug)]
pub(crate) struct LoosePart {
    /// As the list has it.
    pub(crate) name: String,
    /// Name of its file, without the ending.
    pub(crate) file: String,
    /// What it is cut from.
    pub(crate) material: SheetMaterial,
    /// As it lies along a sheet.
    pub(crate) shape: Outline,
    /// mm along and across the part, as listed or drawn.
    pub(crate) size: (f64, f64),
    /// How many.
    pub(crate) quantity: usize,
    /// How its length lies to the grain.
    pub(crate) grain: Grain,
    /// How it may be turned on the sheet.
    turns: Turns,
    /// May be laid face down.
    pub(crate) either_face: bool,
    /// Where the list asks for it.
    span: Span,
}

impl LoosePart {
    fn workpiece(&self) -> Workpiece<'_> {
        Workpiece {
            name: &self.name,
            file: &self.file,
            material: self.material.clone(),
            outline: &self.shape.outline,
            openings: self.shape.openings.iter().collect(),
            engravings: &[],
            bores: &[],
        }
    }

    /// mm2 of one piece, openings left out.
    pub(crate) fn area(&self) -> f64 {
        // Openings run clockwise, so their areas count less than nothing.
        self.shape.outline.area() + self.shape.openings.iter().map(Path::area).sum::<f64>()
    }
}

impl LooseParts {
    /// What is cut.
    pub(crate) fn cut_set(&self) -> CutSet<'_> {
        let workpieces = self.parts.iter().map(LoosePart::workpiece).collect();
        CutSet { name: &self.name, edition: None, workshop: &self.workshop, workpieces, groups: &self.groups }
    }
}

/// Reads the drawings, sorts the parts by material and lays them. `None` when there is an error; the findings say
/// which.
pub(crate) fn lay(
    findings: &mut Findings,
    rows: Vec<Row>,
    open: &mut Open<'_>,
    wanted: Wanted<'_>,
    watch: &mut Watch<'_>,
) -> Option<LooseParts> {
    let catalogue = Catalogue::for_workshop(findings, &wanted.workshop);
    let kept = shaped(findings, rows, open, wanted.reading);
    if findings.has_errors() {
        return None;
    }
    let mut groups: BTreeMap<(String, u64), Vec<usize>> = BTreeMap::new();
    let mut names = Names::default();
    let mut parts: Vec<LoosePart> = Vec::new();
    for (row, shape) in kept {
        let material = row.material.as_ref().map_or_else(String::new, |material| material.value.clone());
        // The bits of a thickness, so that equal ones are one; 0 is none.
        let key = (material, row.thickness.map_or(0, f64::to_bits));
        groups.entry(key).or_default().push(parts.len());
        parts.push(part(row, shape, &mut names, wanted.turn));
    }
    let mut laid = Vec::new();
    let mut ids = Names::default();
    for ((material, thickness), members) in groups {
        let thickness = (thickness != 0).then(|| f64::from_bits(thickness));
        let known = catalogue.material(&material).map(|known| &**known);
        let known =
            known.filter(|known| thickness.is_none_or(|mm| [known.nominal, known.actual].contains(&mm)));
        let material = material_of(
            &material,
            thickness,
            known,
            &mut ids,
            members.iter().any(|&i| parts[i].turns != Turns::Free),
        );
        for &i in &members {
            parts[i].material = material.clone();
        }
        let stock = if wanted.stock.is_empty() {
            known.map(|known| known.stock.iter().map(stock_of).collect()).unwrap_or_default()
        } else {
            wanted.stock.clone()
        };
        if stock.is_empty() {
            findings.push(without_stock(&material, &parts[members[0]], &catalogue));
            continue;
        }
        let group = group(&parts, &members, material, stock, &wanted, watch);
        findings_of(findings, &group, &parts);
        laid.push(group);
    }
    let loose = LooseParts { name: wanted.name.to_owned(), workshop: wanted.workshop, parts, groups: laid };
    (!findings.has_errors()).then_some(loose)
}

/// Rows with their outlines; a row whose drawing cannot be read is left out, and the findings say why.
fn shaped(
    findings: &mut Findings,
    rows: Vec<Row>,
    open: &mut Open<'_>,
    reading: drawing::Reading<'_>,
) -> Vec<(Row, Outline)> {
    let mut shapes: BTreeMap<String, Option<Outline>> = BTreeMap::new();
    let mut kept = Vec::new();
    for row in rows {
        let shape = match &row.body {
            Body::Rectangle { length, width } => {
                Some(Outline { outline: Path::rectangle(0.0, 0.0, *length, *width), openings: Vec::new() })
            }
            // A drawing that several rows name is read once, and its faults are told once.
            Body::Drawing(name) => shapes
                .entry(name.value.clone())
                .or_insert_with(|| drawn(findings, name, open, reading))
                .clone(),
        };
        kept.extend(shape.map(|shape| (row, shape)));
    }
    kept
}

/// The outline in a drawing.
fn drawn(
    findings: &mut Findings,
    name: &At<String>,
    open: &mut Open<'_>,
    reading: drawing::Reading<'_>,
) -> Option<Outline> {
    let file = &name.value;
    let bytes = match open(file) {
        Ok(bytes) => bytes,
        Err(why) => {
            let finding = Finding::new(&FILE_UNREADABLE, name.span, format!("cannot read `{file}`: {why}"));
            findings.push(finding.on(file).help("a drawing is looked for beside the cut list"));
            return None;
        }
    };
    match drawing::read_one(&bytes, reading) {
        Ok(outline) => Some(outline),
        Err(faults) => {
            for fault in faults {
                findings.push(fault.found(name.span, file));
            }
            None
        }
    }
}

fn part(row: Row, shape: Outline, names: &mut Names, turn: bool) -> LoosePart {
    let (low, high) = shape.outline.bounds();
    let size = (high.x - low.x, high.y - low.y);
    let turns = match (turn && row.turn, row.grain) {
        (false, _) => Turns::Fixed,
        (true, Grain::Free) => Turns::Free,
        (true, Grain::Kept | Grain::Across) => Turns::GrainKept,
    };
    LoosePart {
        file: names.one(&row.name.value),
        // Known once the parts are sorted by it.
        material: SheetMaterial { id: String::new(), title: String::new(), thickness: None, grain: false },
        shape: if row.grain == Grain::Across { across(&shape) } else { shape },
        size,
        quantity: row.quantity,
        grain: row.grain,
        turns,
        either_face: row.either_face,
        span: row.name.span,
        name: row.name.value,
    }
}

/// A shape turned by a quarter, so that its length lies across the sheet.
fn across(shape: &Outline) -> Outline {
    let turned = |path: &Path<PanelFrame>| {
        let corner =
            |v: &Vertex<PanelFrame>| Vertex { point: Point2::new(-v.point.y, v.point.x), bulge: v.bulge };
        Path::new(path.vertices().iter().map(corner).collect())
    };
    Outline { outline: turned(&shape.outline), openings: shape.openings.iter().map(turned).collect() }
}

fn material_of(
    name: &str,
    thickness: Option<f64>,
    known: Option<&Material>,
    ids: &mut Names,
    grain: bool,
) -> SheetMaterial {
    if let Some(known) = known {
        return SheetMaterial { id: ids.one(&known.id), grain, ..SheetMaterial::of(known) };
    }
    let name = if name.is_empty() { UNNAMED } else { name };
    let id = thickness.map_or_else(|| name.to_owned(), |mm| format!("{name}-{}", decimal(mm, 2)));
    SheetMaterial { id: ids.one(&id), title: String::new(), thickness: thickness.map(|mm| (mm, mm)), grain }
}

fn group(
    parts: &[LoosePart],
    members: &[usize],
    material: SheetMaterial,
    stock: Vec<Stock>,
    wanted: &Wanted<'_>,
    watch: &mut Watch<'_>,
) -> SheetGroup {
    let panels: Vec<usize> =
        members.iter().flat_map(|&i| std::iter::repeat_n(i, parts[i].quantity)).collect();
    let to_nest = |&i: &usize| {
        let LoosePart { name, shape, turns, either_face, .. } = &parts[i];
        Part {
            name: name.clone(),
            outline: shape.outline.clone(),
            openings: shape.openings.clone(),
            turns: *turns,
            either_face: *either_face,
        }
    };
    let workpieces: Vec<Workpiece<'_>> = panels.iter().map(|&i| parts[i].workpiece()).collect();
    let job = ToLay {
        material,
        parts: panels.iter().map(to_nest).collect(),
        nested: panels.len(),
        effort: (wanted.effort)(panels.len()),
        panels,
        workpieces: &workpieces,
        stock,
        workshop: &wanted.workshop,
        taken: &[],
    };
    sheets::laid(job, watch)
}

/// What found no place.
fn findings_of(findings: &mut Findings, group: &SheetGroup, parts: &[LoosePart]) {
    // Of parts that are alike the first speaks for all.
    let too_large: BTreeMap<usize, usize> =
        group.nesting.too_large.iter().rev().map(|&part| (group.panels[part], part)).collect();
    for (i, part) in too_large {
        let Told { message, would_do } = sheets::too_large(group, &group.parts[part]);
        let help = format!("{would_do}; or divide the part");
        findings.push(Finding::new(&TOO_LARGE, parts[i].span, message).on(&parts[i].name).help(help));
    }
    let first = group.nesting.left_out.first().map(|&part| &parts[group.panels[part]]);
    if let (Some(Told { message, would_do }), Some(first)) = (sheets::used_up(group), first) {
        findings.push(Finding::new(&STOCK_USED_UP, first.span, message).on(&first.name).help(would_do));
    }
}

fn without_stock(material: &SheetMaterial, first: &LoosePart, catalogue: &Catalogue) -> Finding {
    let message = format!("no sheets are known for `{}`, the material of `{}`", material.id, first.name);
    let known = catalogue.names(crate::catalogue::Kind::Material);
    let near = crate::diag::nearest(&material.id, known).map(|near| format!("did you mean `{near}`? or "));
    let help = format!(
        "{}say --sheet 2440x1220, or give the material's stock in a workshop file",
        near.unwrap_or_default()
    );
    Finding::new(&WITHOUT_STOCK, first.span, message).on(&first.name).help(help)
}

/// Names that files can have, each given once.
#[derive(Debug, Default)]
struct Names(BTreeSet<String>);

impl Names {
    /// A name like `wanted` that a file can have on every system: letters, digits, `-`, `_` and `.` inside.
    fn one(&mut self, wanted: &str) -> String {
        let sign = |c: char| if c.is_ascii_alphanumeric() || matches!(c, '_' | '.') { c } else { '-' };
        let safe: String = wanted.chars().map(sign).take(LONGEST_FILE).collect();
        let safe = safe.trim_matches(['-', '.']);
        let safe = if safe.is_empty() { "part" } else { safe };
        let mut name = safe.to_owned();
        let mut n = 2_usize;
        // Some systems do not tell upper from lower case.
        while !self.0.insert(name.to_lowercase()) {
            name = format!("{safe}-{n}");
            n += 1;
        }
        name
    }
}
