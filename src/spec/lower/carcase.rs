//! Carcases, their cells and drawers, joints and bolts, accepted warnings.

use super::{GAP, Limits, POSITION, Reader, SIZE, door, fixing, wing};
use crate::diag::{At, Finding, Span};
use crate::spec::expression::Known;
use crate::spec::model::{
    Accept, Back, Bolts, Carcase, Cell, CellSize, Content, Drawer, DrawerKind, FrontStyle, Fronts, JointKind,
    Joints, NamedJoint, Notch, OpenTop, Panels, Position,
};
use crate::spec::raw;
use crate::spec::rules::{self, shown};
use crate::spec::value::{Amount, Place};

/// Most carcases of a kit.
const MOST_CARCASES: usize = 100;
/// Most cells of one row or column.
const MOST_CELLS: usize = 100;
/// Most notches of a carcase.
const MOST_NOTCHES: usize = 20;
/// A seat back leans less than this, degrees. Common practice, no source.
const RAKE: Limits = Limits::from_zero(45.0, " degrees");
/// Longest pattern for joints' names, characters: two panels' names and a plus.
const LONGEST_PATTERN: usize = 200;
/// A share of the room that is left.
const SHARE: Limits = Limits::more_than_zero(1000.0, "");
/// What a drawer holds.
pub(super) const LOAD: Limits = Limits::from_zero(2000.0, " kg");
/// What a latch holds.
const LATCH: Limits = Limits::more_than_zero(100_000.0, " N");
/// A part of a rating.
const FACTOR: Limits = Limits::more_than_zero(1.0, "");
/// Of a slide's rating, where the spec says nothing: makers advise a margin for mobile use; the figure is common practice,
/// no source.
const SLIDE_FACTOR: f64 = 0.7;
/// mm between a front and its neighbour, where the spec says nothing.
const FRONT_GAP: f64 = 3.0;
/// mm above and below a drawer's box, where the spec says nothing.
const CLEAR_ABOVE: f64 = 15.0;
const CLEAR_BELOW: f64 = 10.0;

/// All carcases, by id.
pub(crate) fn carcases(reader: &mut Reader<'_>, list: &Place<Vec<Place<raw::Carcase>>>) -> Vec<Carcase> {
    reader.counted(list, MOST_CARCASES);
    let mut carcases: Vec<Carcase> = list.value().iter().map(|raw| carcase(reader, raw)).collect();
    reader.differing(carcases.iter().map(|carcase| &carcase.id), "carcases");
    carcases.sort_by(|a, b| a.id.value.cmp(&b.id.value));
    carcases
}

/// Most that slides may carry, as a part of their rating.
pub(crate) fn slide_factor(reader: &mut Reader<'_>, amount: Option<&Place<Amount>>, span: Span) -> At<f64> {
    reader.some_number(amount, FACTOR).unwrap_or(At::new(SLIDE_FACTOR, span))
}

/// Joints at one level.
pub(crate) fn joints(reader: &mut Reader<'_>, raw: Option<&raw::Joints>) -> Joints {
    let Some(raw) = raw else { return Joints::default() };
    let entries = raw.named.as_ref().map(|named| named.0.as_slice()).unwrap_or_default();
    let mut named: Vec<NamedJoint> = entries.iter().map(|(key, raw)| named_joint(reader, key, raw)).collect();
    named.sort_by_key(|joint| joint.pattern.span);
    Joints {
        corner: raw.corner.as_ref().map(|kind| reader.plain(kind, |kind| joint_kind(*kind))),
        angle: reader.some_name(raw.angle.as_ref()),
        named,
    }
}

/// Bolts at one level.
pub(crate) fn bolts(reader: &mut Reader<'_>, raw: Option<&raw::Bolts>) -> Bolts {
    let Some(raw) = raw else { return Bolts::default() };
    Bolts {
        size: reader.some_thread(raw.size.as_ref()),
        spacing: reader.some_length(raw.spacing.as_ref(), SIZE),
        at: reader.some_lengths(raw.at.as_ref(), GAP),
    }
}

/// Accepted warnings, in the order of the text.
pub(crate) fn accept(reader: &mut Reader<'_>, list: Option<&Vec<Place<raw::Accept>>>) -> Vec<Accept> {
    let list = list.map(Vec::as_slice).unwrap_or_default();
    let accept = |place: &Place<raw::Accept>| {
        let raw = place.value();
        Accept {
            rule: reader.name(&raw.rule),
            on: reader.some_sentence(raw.on.as_ref()),
            reason: reader.sentence(&raw.reason),
            span: reader.span(place),
        }
    };
    list.iter().map(accept).collect()
}

fn joint_kind(raw: raw::JointKind) -> JointKind {
    match raw {
        raw::JointKind::Angle => JointKind::Angle,
        raw::JointKind::CaptiveNut => JointKind::CaptiveNut,
        raw::JointKind::Face => JointKind::Face,
    }
}

fn named_joint(reader: &mut Reader<'_>, key: &Place<String>, raw: &raw::NamedJoint) -> NamedJoint {
    let pattern = reader.plain(key, String::clone);
    let sign = |c: char| c.is_ascii_alphanumeric() || matches!(c, '-' | '_' | '*');
    let part = |part: &str| !part.is_empty() && part.chars().all(sign);
    let sound = pattern.value.len() <= LONGEST_PATTERN
        && match pattern.value.split_once('+') {
            Some((a, b)) => part(a) && part(b),
            None => part(&pattern.value) && pattern.value.contains('*'),
        };
    if !sound {
        let message = format!("`{}` is no joint's name", shown(&pattern.value));
        let help = "a joint is called PANEL+PANEL, where * stands for any run of characters, e.g. `main-*+main-back`";
        reader.findings.push(Finding::new(&rules::BAD_NAME, pattern.span, message).help(help));
    }
    NamedJoint {
        pattern,
        kind: raw.kind.as_ref().map(|kind| reader.plain(kind, |kind| joint_kind(*kind))),
        angle: reader.some_name(raw.angle.as_ref()),
        bolts: bolts(reader, raw.bolts.as_ref()),
    }
}

fn carcase(reader: &mut Reader<'_>, place: &Place<raw::Carcase>) -> Carcase {
    let raw = place.value();
    let span = reader.span(place);
    let back = back(reader, raw.back.as_ref(), span);
    let panels = panels(reader, raw, back.is_some(), span);
    let defaults = DrawerDefaults::new(reader, raw, &panels);
    let rake = reader.some_number(raw.rake.as_ref(), RAKE);
    let carcase = Carcase {
        id: reader.name(&raw.id),
        width: reader.length(&raw.width, SIZE),
        depth: reader.length(&raw.depth, SIZE),
        height: reader.length(&raw.height, SIZE),
        at: position(reader, raw.at.as_ref(), span),
        back,
        overhang: reader.length_or(raw.overhang.as_ref(), GAP, 0.0, span),
        rake: rake.unwrap_or(At::new(0.0, span)),
        notches: notches(reader, raw.notches.as_ref()),
        deck_hatches: wing::hatches(reader, raw.hatches.as_ref().and_then(|hatches| hatches.deck.as_ref())),
        base_hatches: wing::hatches(reader, raw.hatches.as_ref().and_then(|hatches| hatches.base.as_ref())),
        anchors: fixing::fixings(reader, raw.anchors.as_ref()),
        fronts: fronts(reader, raw.fronts.as_ref(), span),
        joints: joints(reader, raw.joints.as_ref()),
        bolts: bolts(reader, raw.bolts.as_ref()),
        drawer_joints: joints(reader, raw.drawers.as_ref().and_then(|drawers| drawers.joints.as_ref())),
        cell: inside(reader, raw, &defaults, span),
        panels,
        span,
    };
    let mut ids = Vec::new();
    cell_ids(&carcase.cell, &mut ids);
    reader.differing(ids.into_iter(), "cells of this carcase");
    carcase
}

fn position(reader: &mut Reader<'_>, place: Option<&Place<raw::Position>>, outer: Span) -> Position {
    let raw = place.map(Place::value);
    let span = place.map_or(outer, |place| reader.span(place));
    // As far from the closed tailgate as everything is kept.
    let to_door = reader.values.and_then(|values| values.value("clearances.door"));
    let to_door = to_door.unwrap_or_default() * reader.unit;
    Position {
        x: reader.length_or(raw.and_then(|at| at.x.as_ref()), POSITION, to_door, span),
        y: reader.length_or(raw.and_then(|at| at.y.as_ref()), POSITION, 0.0, span),
        z: reader.length_or(raw.and_then(|at| at.z.as_ref()), POSITION, 0.0, span),
    }
}

/// Notches by place in the text, one for each side.
fn notches(reader: &mut Reader<'_>, list: Option<&Place<Vec<Place<raw::Notch>>>>) -> Vec<Notch> {
    let Some(list) = list else { return Vec::new() };
    reader.counted(list, MOST_NOTCHES);
    let mut notches = Vec::new();
    for place in list.value() {
        let raw = place.value();
        let sides: &[bool] = match raw.side.value() {
            raw::NotchSide::Left => &[true],
            raw::NotchSide::Right => &[false],
            raw::NotchSide::Both => &[true, false],
        };
        let notch = Notch {
            left: true,
            from: reader.length(&raw.from, POSITION),
            to: reader.length(&raw.to, POSITION),
            height: reader.length(&raw.height, SIZE),
            depth: reader.length_or(raw.depth.as_ref(), SIZE, 0.0, reader.span(place)),
            span: reader.span(place),
        };
        notches.extend(sides.iter().map(|&left| Notch { left, ..notch }));
    }
    notches
}

fn back(reader: &mut Reader<'_>, place: Option<&Place<raw::Back>>, outer: Span) -> Option<Back> {
    let raw = place.map(Place::value);
    let span = place.map_or(outer, |place| reader.span(place));
    let inset = reader.length_or(raw.and_then(|back| back.inset.as_ref()), GAP, 0.0, span);
    let omit = raw.and_then(|back| back.omit.as_ref()).is_some_and(|omit| *omit.value());
    (!omit).then_some(Back { inset })
}

fn fronts(reader: &mut Reader<'_>, place: Option<&Place<raw::Fronts>>, outer: Span) -> Fronts {
    let raw = place.map(Place::value);
    let span = place.map_or(outer, |place| reader.span(place));
    let style = raw.and_then(|fronts| fronts.style.as_ref()).map(|style| {
        reader.plain(style, |style| match style {
            raw::FrontStyle::Overlay => FrontStyle::Overlay,
            raw::FrontStyle::Inset => FrontStyle::Inset,
        })
    });
    Fronts {
        style: style.unwrap_or(At::new(FrontStyle::Overlay, span)),
        gap: reader.length_or(raw.and_then(|fronts| fronts.gap.as_ref()), GAP, FRONT_GAP, span),
    }
}

/// The material of every kind of panel, or one finding that names those without.
fn panels(reader: &mut Reader<'_>, raw: &raw::Carcase, has_back: bool, span: Span) -> Panels {
    let general = reader.some_name(raw.panel.as_ref());
    let mut missing = Vec::new();
    let none = raw::Panels::default();
    let given = raw.panels.as_ref().unwrap_or(&none);
    let mut one = |kind: &'static str, place: Option<&Place<String>>, needed: bool| {
        let name = reader.some_name(place).or_else(|| general.clone());
        if name.is_none() && needed {
            missing.push(kind);
        }
        name.unwrap_or(At::new(String::new(), span))
    };
    let panels = Panels {
        base: one("base", given.base.as_ref(), true),
        deck: one("deck", given.deck.as_ref(), true),
        sides: one("sides", given.sides.as_ref(), true),
        dividers: one("dividers", given.dividers.as_ref(), true),
        shelves: one("shelves", given.shelves.as_ref(), true),
        back: one("back", given.back.as_ref(), has_back),
        fronts: one("fronts", given.fronts.as_ref(), true),
    };
    if !missing.is_empty() {
        let message = format!("no material for {}", missing.join(", "));
        let finding = Finding::new(&rules::MATERIAL_MISSING, span, message);
        reader.findings.push(finding.help("give `panel: NAME` for all that `panels` does not name"));
    }
    panels
}

/// What a drawer takes from its carcase.
struct DrawerDefaults {
    panel: At<String>,
    bottom: Option<At<String>>,
    front: At<String>,
    style: FrontStyle,
    clear_above: Option<At<f64>>,
    clear_below: Option<At<f64>>,
}

impl DrawerDefaults {
    fn new(reader: &mut Reader<'_>, raw: &raw::Carcase, panels: &Panels) -> Self {
        let none = raw::Drawers::default();
        let drawers = raw.drawers.as_ref().unwrap_or(&none);
        let general = raw.panel.as_ref().map(|panel| reader.plain(panel, String::clone));
        let panel = reader.some_name(drawers.panel.as_ref()).or(general);
        DrawerDefaults {
            panel: panel.unwrap_or_else(|| panels.sides.clone()),
            bottom: reader.some_name(drawers.bottom.as_ref()),
            front: panels.fronts.clone(),
            style: style(raw),
            clear_above: reader.some_length(drawers.clear_above.as_ref(), GAP),
            clear_below: reader.some_length(drawers.clear_below.as_ref(), GAP),
        }
    }
}

/// How the carcase's fronts stand to its edges.
fn style(raw: &raw::Carcase) -> FrontStyle {
    let style = raw.fronts.as_ref().and_then(|fronts| fronts.value().style.as_ref());
    match style.map(Place::value) {
        Some(raw::FrontStyle::Inset) => FrontStyle::Inset,
        Some(raw::FrontStyle::Overlay) | None => FrontStyle::Overlay,
    }
}

/// The cell that fills a carcase.
fn inside(reader: &mut Reader<'_>, raw: &raw::Carcase, defaults: &DrawerDefaults, span: Span) -> Cell {
    let whole = CellSize::Share(At::new(1.0, span));
    let content = match (&raw.columns, &raw.rows, &raw.cell) {
        (Some(list), None, None) => Content::Columns(cells(reader, list, defaults, false)),
        (None, Some(list), None) => Content::Rows(cells(reader, list, defaults, true)),
        (None, None, Some(place)) => {
            let unused = place.value().size.as_ref().or(place.value().share.as_ref());
            if let Some(unused) = unused {
                let message = "the only cell fills its carcase; it takes no size";
                reader.findings.push(Finding::new(
                    &rules::CELL_CONTENT_UNCLEAR,
                    reader.span(unused),
                    message,
                ));
            }
            return cell(reader, place, defaults, true);
        }
        (columns, rows, cell) => {
            let given =
                [columns.is_some(), rows.is_some(), cell.is_some()].iter().filter(|given| **given).count();
            let message = format!("a carcase has one of columns, rows and cell; this one has {given}");
            let finding = Finding::new(&rules::CELL_CONTENT_UNCLEAR, span, message);
            reader.findings.push(finding.help("an empty carcase is `cell: {open: {}}`"));
            Content::Open
        }
    };
    Cell { id: None, size: whole, shelf: true, open_top: None, content, span }
}

fn cells(
    reader: &mut Reader<'_>,
    list: &Place<Vec<Place<raw::Cell>>>,
    defaults: &DrawerDefaults,
    rows: bool,
) -> Vec<Cell> {
    reader.counted(list, MOST_CELLS);
    let last = list.value().len().saturating_sub(1);
    let cells = list.value().iter().enumerate();
    cells.map(|(i, raw)| cell(reader, raw, defaults, !rows || i == last)).collect()
}

/// `last` is a cell that has no row below it.
fn cell(reader: &mut Reader<'_>, place: &Place<raw::Cell>, defaults: &DrawerDefaults, last: bool) -> Cell {
    let raw = place.value();
    let span = reader.span(place);
    if let (Some(size), Some(share)) = (&raw.size, &raw.share) {
        let message = "a cell has a size or a share, not both";
        let finding = Finding::new(&rules::CELL_CONTENT_UNCLEAR, reader.span(share), message);
        reader.findings.push(finding.also(reader.span(size), "its size"));
    }
    let size = match (&raw.size, &raw.share) {
        (Some(size), _) => CellSize::Clear(reader.length(size, SIZE)),
        (None, share) => {
            let share = reader.some_number(share.as_ref(), SHARE);
            CellSize::Share(share.unwrap_or(At::new(1.0, span)))
        }
    };
    let mut contents: Vec<(&str, Content)> = Vec::new();
    if let Some(raw) = &raw.drawer {
        contents.push(("drawer", Content::Drawer(Box::new(drawer(reader, raw, defaults)))));
    }
    if let Some(raw) = &raw.tray {
        contents.push(("tray", Content::Drawer(Box::new(tray(reader, raw, defaults)))));
    }
    if let Some(raw) = &raw.door {
        let door = door::door(reader, raw, (&defaults.front, defaults.style));
        contents.push(("door", Content::Door(Box::new(door))));
    }
    if raw.open.is_some() {
        contents.push(("open", Content::Open));
    }
    if raw.blank.is_some() {
        contents.push(("blank", Content::Blank));
    }
    if let Some(list) = &raw.columns {
        contents.push(("columns", Content::Columns(cells(reader, list, defaults, false))));
    }
    if let Some(list) = &raw.rows {
        contents.push(("rows", Content::Rows(cells(reader, list, defaults, true))));
    }
    if contents.len() != 1 {
        let found: Vec<&str> = contents.iter().map(|(name, _)| *name).collect();
        let found = if found.is_empty() { "none".to_owned() } else { found.join(" and ") };
        let message = format!(
            "a cell holds one of drawer, tray, door, open, blank, columns and rows; this one has {found}"
        );
        let finding = Finding::new(&rules::CELL_CONTENT_UNCLEAR, span, message);
        reader.findings.push(finding.help("an empty pocket is `open: {}`"));
    }
    let content = contents.pop().map_or(Content::Open, |(_, content)| content);
    if let Some(shelf) = raw.shelf.as_ref().filter(|_| last) {
        let message = "no row lies below this cell, and so no shelf";
        let finding = Finding::new(&rules::CELL_CONTENT_UNCLEAR, reader.span(shelf), message);
        reader.findings.push(finding.help("`shelf` is for the upper one of two `rows`"));
    }
    let open_top = raw.open_top.as_ref().map(|place| OpenTop {
        depth: reader.some_length(place.value().depth.as_ref(), SIZE),
        span: reader.span(place),
    });
    let shelf = raw.shelf.as_ref().is_none_or(|shelf| *shelf.value());
    Cell { id: reader.some_name(raw.id.as_ref()), size, shelf, open_top, content, span }
}

fn drawer(reader: &mut Reader<'_>, place: &Place<raw::Drawer>, defaults: &DrawerDefaults) -> Drawer {
    let raw = place.value();
    let span = reader.span(place);
    let own_panel = reader.some_name(raw.panel.as_ref());
    let panel = own_panel.unwrap_or_else(|| defaults.panel.clone());
    let bottom = reader.some_name(raw.bottom.as_ref()).or_else(|| defaults.bottom.clone());
    let above = reader.some_length(raw.clear_above.as_ref(), GAP).or(defaults.clear_above);
    let below = reader.some_length(raw.clear_below.as_ref(), GAP).or(defaults.clear_below);
    Drawer {
        kind: DrawerKind::Box,
        slide: reader.name(&raw.slide),
        depth: reader.some_length(raw.depth.as_ref(), SIZE),
        box_height: reader.some_length(raw.box_height.as_ref(), SIZE),
        slide_height: reader.some_length(raw.slide_height.as_ref(), GAP),
        clear_above: above.unwrap_or(At::new(CLEAR_ABOVE, span)),
        clear_below: below.unwrap_or(At::new(CLEAR_BELOW, span)),
        bottom: bottom.unwrap_or_else(|| panel.clone()),
        panel,
        front: Some(reader.some_name(raw.front.as_ref()).unwrap_or_else(|| defaults.front.clone())),
        comes_clear: None,
        load: reader.some_number(raw.load.as_ref(), LOAD),
        latch: reader.some_number(raw.latch.as_ref(), LATCH),
        joints: joints(reader, raw.joints.as_ref()),
        span,
    }
}

fn tray(reader: &mut Reader<'_>, place: &Place<raw::Tray>, defaults: &DrawerDefaults) -> Drawer {
    let raw = place.value();
    let span = reader.span(place);
    let panel = reader.some_name(raw.panel.as_ref()).unwrap_or_else(|| defaults.panel.clone());
    let below = reader.some_length(raw.clear_below.as_ref(), GAP).or(defaults.clear_below);
    let clear = raw.comes_clear.as_ref().filter(|clear| *clear.value());
    Drawer {
        kind: match raw.style.as_ref().map(Place::value) {
            None | Some(raw::TrayStyle::Lipped) => DrawerKind::Lipped,
            Some(raw::TrayStyle::Flat) => DrawerKind::Flat,
        },
        slide: reader.name(&raw.slide),
        depth: reader.some_length(raw.depth.as_ref(), SIZE),
        box_height: reader.some_length(raw.height.as_ref(), SIZE),
        slide_height: reader.some_length(raw.slide_height.as_ref(), GAP),
        clear_above: At::new(0.0, span),
        clear_below: below.unwrap_or(At::new(CLEAR_BELOW, span)),
        bottom: reader.some_name(raw.platform.as_ref()).unwrap_or_else(|| panel.clone()),
        panel,
        front: reader.some_name(raw.front.as_ref()),
        comes_clear: clear.map(|clear| reader.span(clear)),
        load: reader.some_number(raw.load.as_ref(), LOAD),
        latch: reader.some_number(raw.latch.as_ref(), LATCH),
        joints: joints(reader, raw.joints.as_ref()),
        span,
    }
}

/// The ids of a cell and of all cells in it.
fn cell_ids<'a>(cell: &'a Cell, ids: &mut Vec<&'a At<String>>) {
    ids.extend(&cell.id);
    if let Content::Columns(cells) | Content::Rows(cells) = &cell.content {
        for cell in cells {
            cell_ids(cell, ids);
        }
    }
}
