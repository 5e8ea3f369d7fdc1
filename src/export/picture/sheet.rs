//! One nested sheet: its edge and trim line, the parts with their holes and openings, names where they fit.

use super::canvas::{Along, Canvas, Dimension};
use super::label::{Label, Place, broken, text_width};
use super::{Spot, area};
use crate::cutting::Workpiece;
use crate::export::cut_files::region;
use crate::export::label::Region;
use crate::finished::{NamedSheet, SheetGroup};
use crate::geom::{PanelFrame, Path, Point2, SheetFrame, Vertex};
use crate::nest::{Placed, Sheet, Zone};
use crate::number::decimal;

/// Texts are so much smaller than the sheet is long: about 3 mm high on an A4 page.
pub(super) const TEXTS_IN_LENGTH: f64 = 62.0;

/// A drawn sheet.
#[derive(Debug)]
pub(crate) struct SheetPicture {
    /// The drawing.
    pub(crate) canvas: Canvas,
    /// Numbers that stand in parts too small for their name, with that name.
    pub(crate) key: Vec<(usize, String)>,
}

/// What is written in a part.
#[derive(Debug)]
struct PartLabel {
    label: Label,
    /// The number and the part's name, if only the number fits.
    keyed: Option<(usize, String)>,
}

/// Draws a sheet of a group.
pub(crate) fn sheet(group: &SheetGroup, workpieces: &[Workpiece<'_>], named: NamedSheet<'_>) -> SheetPicture {
    let (length, width, sheet) = (named.stock.length, named.stock.width, named.sheet);
    let mut canvas = Canvas::new(length.max(width) / TEXTS_IN_LENGTH);
    canvas.rectangle("sheet", area(0.0, 0.0, length, width));
    let trim = named.clearances.trim;
    if trim > 0.0 {
        canvas.rectangle("trim", area(trim, trim, length - trim, width - trim));
    }
    let zones = |canvas: &mut Canvas, class: &str, zones: &[Zone]| {
        for zone in zones {
            canvas.rectangle(class, area(zone.x, zone.y, zone.x + zone.length, zone.y + zone.width));
        }
    };
    zones(&mut canvas, "offcut", &group.offcuts(&named));
    zones(&mut canvas, "defect", &named.stock.defects);
    for placed in &sheet.placed {
        part(&mut canvas, &workpieces[group.panels[placed.part]], placed);
    }
    let mut key = Vec::new();
    for PartLabel { label, keyed } in labels(group, workpieces, sheet, canvas.text_size()) {
        canvas.label("name", &label);
        key.extend(keyed);
    }
    around(&mut canvas, group, (length, width));
    SheetPicture { canvas, key }
}

/// The outline of a part with all that is cut into it.
fn part(canvas: &mut Canvas, panel: &Workpiece<'_>, placed: &Placed) {
    let mut way = |class: &str, path: &Path<SheetFrame>| {
        canvas.contour(class, path.moved(spot));
    };
    way("part", &placed.placement.path_to_sheet(panel.outline));
    for opening in &panel.openings {
        way("cut", &placed.placement.path_to_sheet(opening));
    }
    for stroke in panel.engravings.iter().flat_map(|engraving| &engraving.strokes) {
        let spots: Vec<_> = stroke.iter().map(|&p| spot(placed.placement.to_sheet(p))).collect();
        canvas.line("lettering", &spots);
    }
    for bore in panel.bores {
        let centre = spot(placed.placement.to_sheet(bore.centre));
        if let Some(sink) = bore.countersink {
            canvas.circle("sink", centre, sink.diameter / 2.0);
        }
        canvas.circle("cut", centre, bore.diameter / 2.0);
    }
}

/// A label for each part: what fits of its name and size, else a number.
fn labels(group: &SheetGroup, workpieces: &[Workpiece<'_>], sheet: &Sheet, size: f64) -> Vec<PartLabel> {
    let mut numbered = 0;
    let mut labels = Vec::with_capacity(sheet.placed.len());
    for placed in &sheet.placed {
        let panel = &workpieces[group.panels[placed.part]];
        let place = place_on(panel, placed);
        if let Some(label) = place.fit(&texts(panel), size) {
            labels.push(PartLabel { label, keyed: None });
            continue;
        }
        let number = numbered + 1;
        if let Some(label) = place.squeeze(&number.to_string(), size) {
            numbered = number;
            labels.push(PartLabel { label, keyed: Some((number, panel.name.to_owned())) });
        }
    }
    labels
}

/// What may be written in a part, best first: the name with the size, the name, the name in several lines.
fn texts(panel: &Workpiece<'_>) -> Vec<Vec<String>> {
    let (low, high) = panel.outline.bounds();
    let size = format!("{} x {}", decimal(high.x - low.x, 1), decimal(high.y - low.y, 1));
    named(panel.name, size)
}

/// A name with a size, best first.
pub(super) fn named(name: &str, size: String) -> Vec<Vec<String>> {
    let mut texts: Vec<Vec<String>> = vec![vec![name.to_owned(), size.clone()], vec![name.to_owned()]];
    let mut three = broken(name, 2);
    three.push(size);
    texts.push(three);
    texts.extend([2, 3].map(|n| broken(name, n)));
    texts
}

/// The part's own region on the sheet, for labels.
fn place_on(panel: &Workpiece<'_>, placed: &Placed) -> Place {
    let Region { outline, openings, circles } = region(panel);
    let on_paper = |path: &Path<PanelFrame>| {
        let path = placed.placement.path_to_sheet(path);
        Path::new(path.vertices().iter().map(|v| Vertex { point: spot(v.point), bulge: v.bulge }).collect())
    };
    Place::new(Region {
        outline: on_paper(&outline),
        openings: openings.iter().map(on_paper).collect(),
        circles: circles.into_iter().map(|(p, d)| (spot(placed.placement.to_sheet(p)), d)).collect(),
    })
}

/// The sheet's size and its grain, outside its edge.
pub(super) fn around(canvas: &mut Canvas, group: &SheetGroup, (length, width): (f64, f64)) {
    let size = canvas.text_size();
    let away = size * 2.0;
    canvas.dimension(Dimension { along: Along::X, from: 0.0, to: length, line: -away, thing: 0.0 });
    canvas.dimension(Dimension { along: Along::Y, from: 0.0, to: width, line: -away * 0.7, thing: 0.0 });
    let text = if group.material.grain { "face grain" } else { "no grain: parts may lie either way" };
    let level = width + size * 1.2;
    let text_end = text_width(text, size);
    let label = Label {
        lines: vec![text.to_owned()],
        centre: Spot::new(text_end / 2.0, level),
        size,
        upright: false,
    };
    canvas.label("number", &label);
    if group.material.grain {
        canvas.double_arrow("dim", (text_end + size, text_end + size * 9.0), level, size * 0.6);
    }
}

pub(super) fn spot(p: Point2<SheetFrame>) -> Spot {
    p.cast_unit()
}

#[cfg(test)]
mod tests {
    use super::super::Area;
    use super::*;
    use crate::example_kits as example;
    use crate::finished::Finished;

    /// The labels of every sheet, checked: each inside its part and clear of openings, none on another.
    fn checked_labels(finished: &Finished) -> Vec<Vec<PartLabel>> {
        let mut all = Vec::new();
        let workpieces = finished.cut_set().workpieces;
        for group in &finished.groups {
            for sheet in &group.nesting.sheets {
                let labels = labels(group, &workpieces, sheet, 40.0);
                assert_eq!(labels.len(), sheet.placed.len(), "every part has a label");
                for (placed, PartLabel { label, .. }) in sheet.placed.iter().zip(&labels) {
                    let panel = &workpieces[group.panels[placed.part]];
                    assert!(place_on(panel, placed).holds(label.area()), "{label:?} leaves {}", panel.name);
                }
                let areas: Vec<Area> = labels.iter().map(|part| part.label.area()).collect();
                for (i, area) in areas.iter().enumerate() {
                    assert!(!areas[..i].iter().any(|other| other.intersects(area)), "{area:?}");
                }
                all.push(labels);
            }
        }
        all
    }

    #[test]
    fn labels_stay_in_their_parts_and_off_each_other() {
        for spec in [example::ANGLES, example::TOWER, example::SIDE_BY_SIDE] {
            let labels = checked_labels(&example::finished(spec));
            assert!(labels.iter().flatten().all(|part| part.keyed.is_none()), "all names fit");
        }
    }

    #[test]
    fn a_part_too_small_for_its_name_gets_a_number_with_a_key() {
        // A name without hyphens cannot be broken.
        let long = "acarcaseofanamethatislongerthananyofitsdrawers";
        let finished = example::finished(&example::ANGLES.replace("id: main", &format!("id: {long}")));
        let labels = checked_labels(&finished);
        let numbered: Vec<_> = labels
            .iter()
            .map(|labels| labels.iter().filter_map(|label| label.keyed.clone()).collect::<Vec<_>>())
            .collect();
        assert!(numbered.iter().flatten().count() > 4, "{numbered:?}");
        for key in numbered {
            let numbers: Vec<usize> = key.iter().map(|(number, _)| *number).collect();
            assert_eq!(numbers, (1..=key.len()).collect::<Vec<_>>());
            assert!(key.iter().all(|(_, name)| name.starts_with(long)));
        }
    }

    #[test]
    fn a_sheet_is_drawn_with_all_that_is_cut() {
        let finished = example::finished(example::TOWER);
        let group = &finished.groups[0];
        for named in group.sheets() {
            let nested = named.sheet;
            let panels = nested.placed.iter().map(|placed| &finished.kit.panels[group.panels[placed.part]]);
            let (mut cuts, mut sinks) = (0, 0);
            for panel in panels {
                cuts += panel.openings.len() + panel.bores.len();
                sinks += panel.bores.iter().filter(|bore| bore.countersink.is_some()).count();
            }
            let text = sheet(group, &finished.cut_set().workpieces, named).canvas.svg("sheet", 0.0);
            let number = |class: &str| text.matches(&format!("class=\"{class}\"")).count();
            assert_eq!((number("part"), number("cut"), number("sink")), (nested.placed.len(), cuts, sinks));
            assert_eq!((number("sheet"), number("trim")), (1, 1));
        }
    }
}
