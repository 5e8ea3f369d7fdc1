//! A page for each panel: its face A to scale with running dimensions, its edge, what is drilled and cut into it, a title block.
//!
//! Takes a finished design, gives pages in mm of paper. Everything is measured from the lower left corner of the rectangle around
//! the panel as it lies with face A up, so that a tape can check it.

mod frame;
mod holes;
mod ladder;

use super::canvas::{Along, Anchor, Canvas};
use super::label::{Label, text_width, wrapped};
use super::{Area, Paper, Spot, area};
use crate::export::cut_files::sheets_of_each;
use crate::export::words;
use crate::finished::Finished;
use crate::geom::{PanelFrame, Path, Point2};
use crate::joints::Panel;
use crate::number::{decimal, fixed};
pub(crate) use frame::FILING;
use frame::{Field, field};
use holes::Kind;
use ladder::{Ladder, said};
use std::collections::BTreeMap;

/// Scales of ISO 5455, 1 to so many.
const SCALES: [f64; 6] = [1.0, 2.0, 5.0, 10.0, 20.0, 50.0];
/// Height of a line of the list below a drawing, and size of its text, mm of paper.
const LINE: f64 = 3.6;
const SIZE: f64 = 2.3;
/// Most of the free height that the list may take, and mm between its columns.
const LIST: f64 = 0.42;
const GUTTER: f64 = 4.0;
/// Share of a line's room that bold text may use by the estimate for plain text.
const BOLD: f64 = 0.88;
/// mm of paper between the view of the edge and what stands beside it.
const BESIDE: f64 = 6.0;
/// mm above the drawing for scale and grain, and the size of those words.
const HEAD: f64 = 6.0;
const HEAD_SIZE: f64 = 2.6;
/// Rows of the title block.
const BLOCK: usize = 3;

/// A page of a panel's drawing.
#[derive(Debug)]
pub(crate) struct PanelPage {
    /// The panel's name.
    pub(crate) name: String,
    /// From 1; more than one where the list of holes is long.
    pub(crate) number: usize,
    /// mm across and up.
    pub(crate) paper: (f64, f64),
    /// The page.
    pub(crate) canvas: Canvas,
}

impl PanelPage {
    /// The page as a file of its own.
    pub(crate) fn file(&self) -> String {
        self.canvas.page(&self.title(), self.paper)
    }

    /// The page as an element of the report.
    pub(crate) fn element(&self) -> String {
        self.canvas.page_within(&self.title(), self.paper)
    }

    fn title(&self) -> String {
        format!("Panel {}", self.name)
    }
}

/// All pages, panel by panel.
pub(crate) fn panels(finished: &Finished) -> Vec<PanelPage> {
    let sheets = sheets_of_each(&finished.groups);
    let kit = &finished.kit;
    (0..kit.panels.len()).flat_map(|i| pages(finished, i, &sheets)).collect()
}

/// The pages of one panel, upright or lying, whichever has room for the larger scale.
fn pages(finished: &Finished, index: usize, sheets: &BTreeMap<usize, String>) -> Vec<PanelPage> {
    let (across, up) = finished.design.workshop.paper.size;
    let panel = &finished.kit.panels[index];
    let plans = [(across, up), (up, across)].map(|paper| Plan::new(panel, paper));
    let [upright, lying] = plans;
    let plan = if lying.scale() > upright.scale() { lying } else { upright };
    plan.drawn(finished, index, sheets)
}

/// What goes where on the pages of a panel.
#[derive(Debug)]
struct Plan<'a> {
    panel: &'a Panel,
    /// mm across and up.
    paper: (f64, f64),
    kinds: Vec<Kind>,
    /// The list below the drawing; lines that begin something are marked.
    lines: Vec<(bool, String)>,
    /// How many of them stand on the first page and on each further one.
    most: (usize, usize),
    /// What frame and title block leave.
    free: Area,
    /// mm, width of a column of the list.
    column: f64,
}

impl<'a> Plan<'a> {
    fn new(panel: &'a Panel, paper: (f64, f64)) -> Self {
        let (low, _) = panel.outline.bounds();
        let kinds = holes::kinds(&panel.bores, (low.x, low.y));
        let free = frame::inside(paper, BLOCK);
        let column = (free.width() - 3.0 * GUTTER) / 2.0;
        let lines = lines(panel, &kinds, column);
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "mm of paper, above 0")]
        let most = |height: f64| 2 * ((height / LINE) as usize);
        let most = (most(free.height() * LIST), most(free.height() - 2.0 * LINE).max(1));
        Plan { panel, paper, kinds, lines, most, free, column }
    }

    /// The lines of the first page's list.
    fn first(&self) -> &[(bool, String)] {
        &self.lines[..self.lines.len().min(self.most.0)]
    }

    /// mm that the list takes on the first page.
    fn list(&self) -> f64 {
        self.first().len().div_ceil(2) as f64 * LINE
    }

    /// The room of the drawing.
    fn room(&self) -> Area {
        let foot = self.free.min.y + if self.lines.is_empty() { 0.0 } else { self.list() + LINE };
        area(self.free.min.x + 2.0, foot + 2.0, self.free.max.x - 2.0, self.free.max.y - HEAD)
    }

    /// mm of paper for a mm of the panel.
    fn scale(&self) -> f64 {
        View::new(self.panel, &self.kinds, self.room()).scale
    }

    fn drawn(&self, finished: &Finished, index: usize, sheets: &BTreeMap<usize, String>) -> Vec<PanelPage> {
        let rest = &self.lines[self.first().len()..];
        let count = 1 + rest.len().div_ceil(self.most.1);
        let third_angle = finished.design.workshop.paper.third_angle;
        let name = self.panel.name.clone();
        let page = |number: usize| {
            let mut canvas = Canvas::new(ladder::SIZE);
            frame::draw(
                &mut canvas,
                self.paper,
                &block(finished, index, sheets, (number, count)),
                third_angle,
            );
            PanelPage { name: name.clone(), number, paper: self.paper, canvas }
        };
        let mut first = page(1);
        let canvas = &mut first.canvas;
        let left = self.free.min.x + GUTTER;
        let top = Spot::new(left, self.free.min.y + self.list() + LINE * 0.3);
        write_list(canvas, self.first(), top, self.column);
        let view = View::new(self.panel, &self.kinds, self.room());
        view.draw(canvas, self.panel, &self.kinds, third_angle);
        self.head(canvas, view.scale);
        let mut pages = vec![first];
        for (i, lines) in rest.chunks(self.most.1).enumerate() {
            let mut further = page(i + 2);
            write_list(&mut further.canvas, lines, Spot::new(left, self.free.max.y - LINE), self.column);
            pages.push(further);
        }
        pages
    }

    /// Above the drawing: the scale, and which way the face grain runs.
    fn head(&self, canvas: &mut Canvas, scale: f64) {
        let level = self.free.max.y - HEAD / 2.0;
        let said = format!("scale 1 : {}", decimal(1.0 / scale, 0));
        canvas.words("value", &said, Spot::new(self.free.min.x + 1.5, level), HEAD_SIZE, Anchor::Start);
        if !self.panel.material.grain {
            return;
        }
        let text = "face grain";
        let from = self.free.max.x - 40.0 - text_width(text, HEAD_SIZE);
        canvas.words("value", text, Spot::new(from, level), HEAD_SIZE, Anchor::Start);
        let (start, end) = (self.free.max.x - 37.0, self.free.max.x - 7.0);
        canvas.double_arrow("line", (start, end), level, 2.0);
    }
}

/// Lines in two columns, the left one filled first, downwards from `top`.
fn write_list(canvas: &mut Canvas, lines: &[(bool, String)], top: Spot, column: f64) {
    let half = lines.len().div_ceil(2).max(1);
    for (i, (bold, line)) in lines.iter().enumerate() {
        let x = top.x + (column + GUTTER) * (i / half) as f64;
        let at = Spot::new(x, top.y - LINE * (i % half) as f64 - LINE / 2.0);
        canvas.words(if *bold { "head" } else { "value" }, line, at, SIZE, Anchor::Start);
    }
}

/// What is drilled, cut and engraved, in lines no wider than a column; those that begin something are marked.
fn lines(panel: &Panel, kinds: &[Kind], column: f64) -> Vec<(bool, String)> {
    let (low, _) = panel.outline.bounds();
    let plain = |line: &str| text_width(line, SIZE);
    let mut lines = Vec::new();
    for kind in kinds {
        let head = format!("{}: {}", kind.letter, kind.words());
        lines.extend(wrapped(&head, column * BOLD, plain).into_iter().map(|line| (true, line)));
        for row in kind.rows() {
            lines.extend(wrapped(&row, column, plain).into_iter().map(|line| (false, line)));
        }
    }
    if !panel.openings.is_empty() {
        lines.push((true, "Openings, from - to".to_owned()));
    }
    for opening in &panel.openings {
        let (a, b) = opening.path.bounds();
        let spans = [(a.x - low.x, b.x - low.x), (a.y - low.y, b.y - low.y)];
        let [right, up] = spans.map(|(from, to)| format!("{} - {}", said(from), said(to)));
        let row = format!("{} right, {} up: {}", right, up, words::opening(opening.kind));
        lines.extend(wrapped(&row, column, plain).into_iter().map(|line| (false, line)));
    }
    for engraving in &panel.engravings {
        let row = format!("engraved, {} mm high: {}", decimal(engraving.height, 1), engraving.text);
        lines.extend(wrapped(&row, column, plain).into_iter().map(|line| (false, line)));
    }
    lines
}

/// The title block.
fn block(
    finished: &Finished,
    index: usize,
    sheets: &BTreeMap<usize, String>,
    (number, count): (usize, usize),
) -> Vec<Vec<Field>> {
    let panel = &finished.kit.panels[index];
    let (low, high) = panel.outline.bounds();
    let material = &panel.material;
    let board =
        format!("{}: {}", material.title, words::board(&material.id, material.nominal, material.actual));
    let size = format!("{} x {} mm", decimal(high.x - low.x, 2), decimal(high.y - low.y, 2));
    let grain = if material.grain { "along the length" } else { "none" };
    let mass = finished.masses.parts.get(index).map_or(0.0, |part| part.mass);
    let twins = twins(finished, index);
    let quantity = if twins.is_empty() { "1".to_owned() } else { format!("1, like {}", twins.join(", ")) };
    let shop = finished.design.workshop.name.as_ref().map_or(String::new(), |name| name.value.clone());
    vec![
        vec![
            field("Panel", &panel.name, 5.0),
            field("Kit", format!("{}, {}", finished.design.name.value, finished.edition.words()), 5.4),
            field("Page", format!("{number} of {count}"), 1.4),
        ],
        vec![
            field("Material", board, 6.4),
            field("Size", size, 3.4),
            field("Face grain", grain, 2.6),
            field("Mass", format!("{} kg", fixed(mass, 3)), 2.2),
        ],
        vec![
            field("Quantity", quantity, 4.6),
            field("On sheet", sheets.get(&index).cloned().unwrap_or_default(), 3.0),
            field("Workshop", shop, 3.0),
            field("Drawn", "face A up, mm", 2.6),
        ],
    ]
}

/// Other panels that are cut alike: the same material, contour and holes.
fn twins(finished: &Finished, index: usize) -> Vec<String> {
    let own = &finished.kit.panels[index];
    let others = finished.kit.panels.iter().enumerate().filter(|(i, other)| {
        *i != index
            && other.material.id == own.material.id
            && other.outline == own.outline
            && other
                .openings
                .iter()
                .map(|opening| &opening.path)
                .eq(own.openings.iter().map(|opening| &opening.path))
            && other.bores.len() == own.bores.len()
            && other.bores.iter().zip(&own.bores).all(|(a, b)| {
                a.centre == b.centre
                    && a.diameter.to_bits() == b.diameter.to_bits()
                    && a.countersink == b.countersink
            })
    });
    others.map(|(_, other)| other.name.clone()).collect()
}

/// The four sides' places: holes below and on the left, contour and openings above and on the right.
fn ladders(panel: &Panel, kinds: &[Kind], room: (f64, f64)) -> [Ladder; 4] {
    let (low, high) = panel.outline.bounds();
    let (length, width) = (high.x - low.x, high.y - low.y);
    let contours = std::iter::once((true, &panel.outline))
        .chain(panel.openings.iter().map(|opening| (false, &opening.path)));
    let (mut above, mut right, mut openings) = (Vec::new(), Vec::new(), (Vec::new(), Vec::new()));
    for (outline, path) in contours {
        if outline {
            above.extend(path.vertices().iter().map(|vertex| vertex.point.x - low.x));
            right.extend(path.vertices().iter().map(|vertex| vertex.point.y - low.y));
        } else {
            let (a, b) = path.bounds();
            openings.0.extend([a.x - low.x, b.x - low.x]);
            openings.1.extend([a.y - low.y, b.y - low.y]);
        }
    }
    let all = |places: &mut dyn Iterator<Item = f64>, whole: f64| -> Vec<f64> {
        places.chain([0.0, whole]).collect()
    };
    let places = || kinds.iter().flat_map(|kind| kind.places.iter().copied());
    // Of too many places first the contour's are left out, then all but the whole: they stand in the list or in the cut file.
    let fitting = |along, beyond, tries: Vec<Vec<f64>>, room: f64, whole: f64| {
        let mut tries = tries.into_iter().map(|places| Ladder::new(along, beyond, places));
        let fits = |ladder: &Ladder| ladder.places.len() <= Ladder::most(room);
        tries.find(fits).unwrap_or_else(|| Ladder::new(along, beyond, vec![0.0, whole]))
    };
    let more = |contour: Vec<f64>, openings: Vec<f64>, along: Along, room: f64, whole: f64| {
        let both = contour.iter().chain(&openings).copied().collect();
        let mut ladder = fitting(along, true, vec![both, openings], room, whole);
        // Nothing but the whole stands on the other side already.
        let inner = |place: &f64| *place > 0.05 && *place < whole - 0.05;
        if !ladder.places.iter().any(inner) {
            ladder.places.clear();
        }
        ladder
    };
    [
        fitting(Along::X, false, vec![all(&mut places().map(|p| p.0), length)], room.0, length),
        fitting(Along::Y, false, vec![all(&mut places().map(|p| p.1), width)], room.1, width),
        more(above, openings.0, Along::X, room.0, length),
        more(right, openings.1, Along::Y, room.1, width),
    ]
}

/// Where the views of a panel stand.
#[derive(Debug)]
struct View {
    /// mm of paper for a mm of the panel.
    scale: f64,
    /// What may be drawn on.
    room: Area,
    ladders: [Ladder; 4],
    /// mm that the views take with their dimensions.
    taken: (f64, f64),
}

impl View {
    /// The largest scale that fits.
    fn new(panel: &Panel, kinds: &[Kind], room: Area) -> Self {
        let (low, high) = panel.outline.bounds();
        let (length, width) = (high.x - low.x, high.y - low.y);
        let at = |scale: f64| {
            // Numbers beside the panel stay clear of those above and below it.
            let ladders = ladders(panel, kinds, (room.width(), width * scale + 2.0 * ladder::CORNER));
            let [below, left, above, right] = &ladders;
            let edge = 2.0 * BESIDE + panel.material.actual * scale;
            let taken = (
                left.depth() + right.depth() + edge + length * scale,
                below.depth() + above.depth() + width * scale,
            );
            View { scale, room, ladders, taken }
        };
        let fits = |view: &View| view.taken.0 <= room.width() && view.taken.1 <= room.height();
        let smallest = 1.0 / SCALES[SCALES.len() - 1];
        SCALES.into_iter().map(|scale| at(1.0 / scale)).find(fits).unwrap_or_else(|| at(smallest))
    }

    fn draw(&self, canvas: &mut Canvas, panel: &Panel, kinds: &[Kind], third_angle: bool) {
        let View { scale, room, ladders, taken } = self;
        let [below, left, _, right] = ladders;
        let (low, high) = panel.outline.bounds();
        let thick = panel.material.actual * scale;
        let edge = 2.0 * BESIDE + thick;
        let x =
            room.min.x + (room.width() - taken.0) / 2.0 + left.depth() + if third_angle { 0.0 } else { edge };
        let y = room.min.y + (room.height() - taken.1) / 2.0 + below.depth();
        let thing = area(x, y, x + (high.x - low.x) * scale, y + (high.y - low.y) * scale);
        for ladder in ladders {
            let span = match ladder.along {
                Along::X => (room.min.x + 1.5, room.max.x - 1.5),
                Along::Y => (thing.min.y - ladder::CORNER, thing.max.y + ladder::CORNER),
            };
            ladder.draw(canvas, thing, *scale, span);
        }
        let beside = if third_angle {
            thing.max.x + right.depth() + BESIDE
        } else {
            thing.min.x - left.depth() - BESIDE - thick
        };
        edge_view(canvas, panel, area(beside, thing.min.y, beside + thick, thing.max.y));
        face(canvas, panel, kinds, *scale, thing);
    }
}

/// Face A: contour, openings, holes with their letters, engraving.
fn face(canvas: &mut Canvas, panel: &Panel, kinds: &[Kind], scale: f64, thing: Area) {
    let (low, _) = panel.outline.bounds();
    let on_paper = |p: Point2<PanelFrame>| {
        Spot::new(thing.min.x + (p.x - low.x) * scale, thing.min.y + (p.y - low.y) * scale)
    };
    let moved = |path: &Path<PanelFrame>| -> Path<Paper> { path.moved(on_paper) };
    canvas.contour("part", moved(&panel.outline));
    let mut taken = Vec::new();
    for opening in &panel.openings {
        let path = moved(&opening.path);
        let (low, high) = path.bounds();
        taken.push(Area::new(low, high));
        canvas.contour("cut", path);
    }
    for stroke in panel.engravings.iter().flat_map(|engraving| &engraving.strokes) {
        let spots: Vec<Spot> = stroke.iter().map(|p| on_paper(*p)).collect();
        taken.push(Area::from_points(&spots));
        canvas.line("lettering", &spots);
    }
    let mut marked = Vec::new();
    for kind in kinds {
        let half = kind.diameters.1.unwrap_or(kind.diameters.0).max(kind.diameters.0) / 2.0 * scale;
        for &(u, v) in &kind.places {
            let at = on_paper(Point2::new(low.x + u, low.y + v));
            if let Some(sink) = kind.diameters.1 {
                canvas.circle("sink", at, sink / 2.0 * scale);
            }
            canvas.circle("cut", at, kind.diameters.0 / 2.0 * scale);
            marked.push((at, half, kind.letter.as_str()));
        }
    }
    for label in holes::letters(&marked, thing, &taken) {
        canvas.label("letter", &label);
    }
}

/// The edge, as seen from the right: face A on its left.
fn edge_view(canvas: &mut Canvas, panel: &Panel, shape: Area) {
    canvas.rectangle("part", shape);
    let middle = shape.center();
    let words = |text: String, x: f64, y: f64| {
        let centre = Spot::new(x, y);
        Label { lines: vec![text], centre, size: SIZE, upright: false }
    };
    let half = shape.width() / 2.0 + 1.8;
    canvas.label("number", &words("A".to_owned(), middle.x - half, middle.y));
    canvas.label("number", &words("B".to_owned(), middle.x + half, middle.y));
    let thick = decimal(panel.material.actual, 2);
    canvas.label("number", &words(thick, middle.x, shape.max.y + SIZE));
}

#[cfg(test)]
mod tests {
    use super::super::canvas::Shape;
    use super::*;
    use crate::example_kits::{self as example, ALL};

    /// No text on another, none outside its frame, and a letter at each hole; on paper of either size, upright or lying.
    #[test]
    fn texts_stand_clear_of_each_other_and_inside_their_frame() {
        for (spec, shop) in ALL.iter().flat_map(|spec| {
            [(spec, ""), (spec, "workshop: {paper: {size: letter, projection: third-angle}}\n")]
        }) {
            if !shop.is_empty() && spec.contains("workshop:") {
                continue;
            }
            let finished = example::finished(&format!("{spec}\n{shop}"));
            let pages = panels(&finished);
            for page in &pages {
                let frame = frame::inside(page.paper, 0);
                let mut areas: Vec<Area> = Vec::new();
                for mark in page.canvas.marks() {
                    let Shape::Text { label, .. } = &mark.shape else { continue };
                    let area = label.area();
                    assert!(frame.contains_box(&area), "{}: {label:?} leaves its frame", page.name);
                    let other = areas.iter().find(|other| other.intersects(&area));
                    assert!(other.is_none(), "{}: {label:?} meets {other:?}", page.name);
                    areas.push(area);
                }
            }
            for panel in &finished.kit.panels {
                let own: Vec<_> = pages.iter().filter(|page| page.name == panel.name).collect();
                assert_eq!(
                    own.iter().map(|page| page.number).collect::<Vec<_>>(),
                    (1..=own.len()).collect::<Vec<_>>()
                );
                let letters = own[0].canvas.marks().iter().filter(|mark| mark.class == "letter").count();
                assert_eq!(letters, panel.bores.len(), "{}", panel.name);
            }
        }
    }

    /// Three by hand: a board of 1028 x 900 has no place at 1 : 5 on upright A4, none lying; a side of 900 x 276 has one lying.
    #[test]
    fn the_largest_scale_that_fits_is_taken() {
        let finished = example::finished(example::ANGLES);
        let scale = |name: &str| {
            let panel = finished.kit.panels.iter().find(|panel| panel.name == name).unwrap();
            [(210.0, 297.0), (297.0, 210.0)]
                .map(|paper| decimal(1.0 / Plan::new(panel, paper).scale(), 0).parse::<u32>().unwrap())
        };
        assert_eq!(scale("main-deck"), [10, 10]);
        assert_eq!(scale("main-side-left"), [10, 5]);
    }
}
