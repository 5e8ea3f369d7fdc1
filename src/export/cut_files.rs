//! The cut files of a kit or of loose parts: every sheet with its panels, and every panel alone.
//!
//! Takes what is cut, gives [`CutFile`]s without a format. Face A is up throughout, so countersinks can be
//! cut where they stand.

use super::cutfile::{CutFile, Item, Operation, Shape};
use super::drawn::GRID_DECIMALS;
use super::label::{self, Label, Region};
use super::words;
use crate::cutting::{self, Hold, PartPlan, SheetMaterial, Workpiece};
use crate::finished::{CutSet, NamedSheet, SheetGroup};
use crate::geom::{PanelFrame, Path, Point2, SheetFrame, SheetPlacement, Vector2, Vertex, bounds_of};
use crate::number::rounded;
use crate::spec::{Holding, TabsAs, Workshop};
use std::collections::BTreeMap;
use std::fmt::Write;

/// A cut file with its place in the output folder, without the ending.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct NamedCutFile {
    /// E.g. `sheets/birch-12-1` or `parts/main-base`.
    pub(crate) stem: String,
    /// What it shows.
    pub(crate) file: CutFile,
}

/// The sheets on which each panel lies, by the panel's index: `birch-12-1`, with how often if there are several of it.
pub(crate) fn sheets_of_each(groups: &[SheetGroup]) -> BTreeMap<usize, String> {
    let mut sheets: BTreeMap<usize, String> = BTreeMap::new();
    for group in groups {
        for named in group.sheets() {
            let mut times: BTreeMap<usize, usize> = BTreeMap::new();
            for placed in &named.sheet.placed {
                *times.entry(group.panels[placed.part]).or_default() += 1;
            }
            for (panel, times) in times {
                let names = sheets.entry(panel).or_default();
                if !names.is_empty() {
                    names.push_str(", ");
                }
                names.push_str(named.name);
                if times > 1 {
                    let _ = write!(names, " ({times})");
                }
            }
        }
    }
    sheets
}

/// All cut files: sheets by material, then parts in the kit's order.
pub(crate) fn all(set: &CutSet<'_>) -> Vec<NamedCutFile> {
    let labels: Vec<Label<PanelFrame>> =
        set.workpieces.iter().map(|panel| label::place(&region(panel), panel.name)).collect();
    let mut files = Vec::new();
    for group in set.groups {
        for sheet in group.sheets() {
            let file = sheet_file(set, group, sheet, &labels);
            files.push(NamedCutFile { stem: format!("sheets/{}", sheet.name), file });
        }
    }
    for (panel, label) in set.workpieces.iter().zip(&labels) {
        let (low, high) = panel.outline.bounds();
        let placement = SheetPlacement { x: -low.x, y: -low.y, angle: 0.0, flipped: false };
        let mut items = Vec::new();
        add_panel(&mut items, (panel, &cutting::plan_alone(panel)), placement, set.workshop);
        add_label(&mut items, placement, label);
        let title = format!("{} {} ({})", set.name, panel.name, board(&panel.material));
        let size = (high.x - low.x, high.y - low.y);
        let stem = format!("parts/{}", panel.file);
        files.push(NamedCutFile { stem, file: CutFile { title, size, items } });
    }
    files
}

/// The material of a panel to write on.
pub(crate) fn region(panel: &Workpiece<'_>) -> Region<PanelFrame> {
    // The name keeps off what is engraved.
    let lettered = panel.engravings.iter().map(|engraving| {
        let (low, high) = bounds_of(engraving.strokes.iter().flatten().copied());
        Path::rectangle(low.x, low.y, high.x, high.y)
    });
    Region {
        outline: panel.outline.clone(),
        openings: panel.openings.iter().map(|&opening| opening.clone()).chain(lettered).collect(),
        circles: panel.bores.iter().map(|bore| (bore.centre, bore.widest())).collect(),
    }
}

fn sheet_file(
    set: &CutSet<'_>,
    group: &SheetGroup,
    named: NamedSheet<'_>,
    labels: &[Label<PanelFrame>],
) -> CutFile {
    let NamedSheet { name, sheet, stock, clearances, plan, .. } = named;
    let (length, width, trim) = (stock.length, stock.width, clearances.trim);
    let edge: Path<SheetFrame> = Path::rectangle(0.0, 0.0, length, width);
    let mut items = vec![item(Operation::Stock, Shape::Closed(edge.clone()))];
    if trim > 0.0 {
        let line = Path::rectangle(trim, trim, length - trim, width - trim);
        items.push(item(Operation::Stock, Shape::Closed(line)));
    }
    for part in &plan.parts {
        let Some(placed) = sheet.placed.get(part.placed) else { continue };
        let panel = group.panels[placed.part];
        let drawn = (&set.workpieces[panel], part);
        add_panel(&mut items, drawn, placed.placement, set.workshop);
        add_label(&mut items, placed.placement, &labels[panel]);
    }
    let outlines =
        sheet.placed.iter().map(|placed| placed.placement.path_to_sheet(&group.parts[placed.part].outline));
    // The trim line is drawn too, so a note that stands across it could not be read.
    let inside: Path<SheetFrame> = Path::rectangle(trim, trim, length - trim, width - trim);
    // Boxes are enough to keep a remark off the parts, and far fewer sides to look at.
    let boxes = outlines.map(|outline| {
        let (low, high) = outline.bounds();
        Path::rectangle(low.x, low.y, high.x, high.y)
    });
    let free = Region { outline: inside, openings: boxes.collect(), circles: Vec::new() };
    let edition = named.edition(set.edition).map(|edition| format!(", {}", edition.words()));
    let title = format!(
        "{} {}, {}, sheet {name}{}",
        set.name,
        board(&group.material),
        stock.name,
        edition.unwrap_or_default()
    );
    let note = label::place(&free, &title);
    let on_sheet = SheetPlacement { x: 0.0, y: 0.0, angle: 0.0, flipped: false };
    let as_panel = Label {
        centre: Point2::new(note.centre.x, note.centre.y),
        height: note.height,
        upright: note.upright,
        lines: note.lines,
    };
    add_label(&mut items, on_sheet, &as_panel);
    CutFile { title, size: (length, width), items }
}

/// A material with its thickness, if it has one.
fn board(material: &SheetMaterial) -> String {
    let with = |(nominal, actual)| words::board(&material.id, nominal, actual);
    material.thickness.map_or_else(|| material.id.clone(), with)
}

/// A panel with its holes, in the order in which it is cut: what lies inside comes before the outline, which frees
/// the part.
fn add_panel(
    items: &mut Vec<Item>,
    (panel, plan): (&Workpiece<'_>, &PartPlan),
    placement: SheetPlacement,
    workshop: &Workshop,
) {
    for stroke in panel.engravings.iter().flat_map(|engraving| &engraving.strokes) {
        let corner = |p: &Point2<PanelFrame>| Vertex { point: placement.to_sheet(*p), bulge: 0.0 };
        items.push(item(Operation::Engrave, Shape::Open(stroke.iter().map(corner).collect())));
    }
    let bores = plan.bores.iter().filter_map(|&i| panel.bores.get(i));
    for bore in bores.clone() {
        let centre = placement.to_sheet(bore.centre);
        items.push(item(Operation::Bore, Shape::Circle { centre, diameter: bore.diameter }));
    }
    for bore in bores {
        if let Some(sink) = bore.countersink {
            let centre = placement.to_sheet(bore.centre);
            // The depth as `kit.json` has it, so that both come to the same name of the layer.
            let depth = rounded(sink.depth, GRID_DECIMALS);
            let circle = Shape::Circle { centre, diameter: sink.diameter };
            items.push(item(Operation::Countersink { depth }, circle));
        }
    }
    let openings = plan.openings.iter().map(|path| placement.path_to_sheet(path));
    items.extend(openings.map(|path| item(Operation::Opening, Shape::Closed(path))));
    add_outline(items, (panel, plan), placement, workshop);
}

/// The outline as the part is held: whole, to the depth of its skin, with the marks of its tabs or with gaps.
fn add_outline(
    items: &mut Vec<Item>,
    (panel, plan): (&Workpiece<'_>, &PartPlan),
    placement: SheetPlacement,
    workshop: &Workshop,
) {
    let outline = placement.path_to_sheet(&plan.outline);
    let (tool, holding) = (workshop.tool.diameter.value, &workshop.holding);
    match &plan.hold {
        Hold::Size | Hold::Nothing => items.push(item(Operation::Outline, Shape::Closed(outline))),
        Hold::Skin => {
            // Whoever lays loose parts sees to it that the thickness is known.
            let depth = panel.material.thickness.map(|(_, actual)| skin_depth(actual, holding));
            let operation = depth.map_or(Operation::Outline, |depth| Operation::Skin { depth });
            items.push(item(operation, Shape::Closed(outline)));
        }
        Hold::Tabs(middles) if holding.tabs.shown_as.value == TabsAs::Layer || middles.is_empty() => {
            let width = holding.tabs.width.value;
            let marks = middles.iter().filter_map(|&at| cutting::mark(&plan.outline, at, width, tool));
            let marks = marks.map(|mark| Shape::Closed(placement.path_to_sheet(&mark)));
            items.extend(marks.map(|mark| item(Operation::Tab, mark)));
            items.push(item(Operation::Outline, Shape::Closed(outline)));
        }
        Hold::Tabs(middles) => {
            let pieces = cutting::pieces(&outline, middles, cutting::gap_width(holding, tool));
            items.extend(pieces.into_iter().map(|piece| item(Operation::Outline, Shape::Open(piece))));
        }
    }
}

/// mm that a small part's outline is cut: as `kit.json` would have it, so that names of layers agree.
pub(crate) fn skin_depth(thickness: f64, holding: &Holding) -> f64 {
    rounded(thickness - holding.skin.value, GRID_DECIMALS)
}

/// The lines of a label. On a turned part they are turned with it, but never upside down.
fn add_label(items: &mut Vec<Item>, placement: SheetPlacement, label: &Label<PanelFrame>) {
    let up: Vector2<PanelFrame> =
        if label.upright { Vector2::new(-1.0, 0.0) } else { Vector2::new(0.0, 1.0) };
    let mut up = placement.to_sheet(up.to_point()) - placement.to_sheet(Point2::origin());
    let mut angle = (placement.angle + if label.upright { 90.0 } else { 0.0 }).rem_euclid(360.0);
    if angle > 90.0 && angle <= 270.0 {
        angle = (angle + 180.0).rem_euclid(360.0);
        up = -up;
    }
    let centre = placement.to_sheet(label.centre);
    for (line, rise) in label.lines.iter().zip(label.rises()) {
        let shape =
            Shape::Text { centre: centre + up * rise, height: label.height, angle, text: line.clone() };
        items.push(item(Operation::Note, shape));
    }
}

fn item(operation: Operation, shape: Shape) -> Item {
    Item { operation, shape }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::example_kits;

    fn count(file: &CutFile, wanted: impl Fn(&Item) -> bool) -> usize {
        file.items.iter().filter(|item| wanted(item)).count()
    }

    #[test]
    fn a_part_shows_its_outline_holes_sinks_and_name() {
        let finished = example_kits::finished(example_kits::CAPTIVE_NUTS);
        let files = all(&finished.cut_set());
        for panel in &finished.kit.panels {
            let stem = format!("parts/{}", panel.name);
            let file = &files.iter().find(|file| file.stem == stem).unwrap().file;
            let of = |operation: Operation| count(file, |item| item.operation == operation);
            let sinks = count(file, |item| matches!(item.operation, Operation::Countersink { .. }));
            assert_eq!(of(Operation::Outline), 1);
            assert_eq!(of(Operation::Bore), panel.bores.len());
            assert_eq!(of(Operation::Opening), panel.openings.len());
            assert_eq!(sinks, panel.bores.iter().filter(|bore| bore.countersink.is_some()).count());
            assert!(of(Operation::Note) >= 1);
        }
        let sunk = |file: &NamedCutFile| {
            count(&file.file, |item| matches!(item.operation, Operation::Countersink { .. }))
        };
        assert!(files.iter().map(sunk).sum::<usize>() > 0, "no kit here has a countersink");
    }

    #[test]
    fn a_sheet_shows_its_edge_its_trim_line_every_panel_on_it_and_what_it_is() {
        let finished = example_kits::finished(example_kits::ANGLES);
        let files = all(&finished.cut_set());
        let sheets: Vec<_> = files.iter().filter(|file| file.stem.starts_with("sheets/")).collect();
        assert_eq!(sheets[0].stem, "sheets/birch-12-1");
        let outlines = |file: &CutFile| count(file, |item| item.operation == Operation::Outline);
        assert_eq!(sheets.iter().map(|s| outlines(&s.file)).sum::<usize>(), finished.kit.panels.len());
        for sheet in &sheets {
            assert_eq!(count(&sheet.file, |item| item.operation == Operation::Stock), 2);
        }
        let texts: Vec<&str> = sheets[0]
            .file
            .items
            .iter()
            .filter_map(|item| match &item.shape {
                Shape::Text { text, .. } => Some(text.as_str()),
                _ => None,
            })
            .collect();
        assert!(texts.iter().any(|text| text.contains("sheet birch-12-1")), "{texts:?}");
    }

    #[test]
    fn a_label_turns_with_its_part_and_never_stands_on_its_head() {
        let label = Label {
            centre: Point2::new(10.0, 5.0),
            height: 5.0,
            upright: true,
            lines: vec!["a".into(), "b".into()],
        };
        for (part_angle, angle, first) in
            [(0.0, 90.0, (6.0, 5.0)), (90.0, 0.0, (-5.0, 14.0)), (180.0, 90.0, (-14.0, -5.0))]
        {
            let placement = SheetPlacement { x: 0.0, y: 0.0, angle: part_angle, flipped: false };
            let mut items = Vec::new();
            add_label(&mut items, placement, &label);
            let Shape::Text { centre, angle: written, .. } = &items[0].shape else { panic!("no text") };
            assert!((centre.x - first.0).abs() < 1e-9 && (centre.y - first.1).abs() < 1e-9, "{centre:?}");
            assert!((written - angle).abs() < 1e-9, "{written}");
        }
    }
}
