//! Pages as a PDF: every mark of their canvases with its pen, text with its font in the file.
//!
//! Takes pages in mm, y up; gives bytes. No clock: the same pages give the same bytes.

use super::letters::Letters;
use super::{Bookmark, Leaf};
use crate::export::picture::pens::{self, Pen};
use crate::export::picture::{Anchor, Area, Canvas, Mark, Shape, Spot};
use crate::geom::tolerance::DRAWN_ARC;
use crate::typeface;
use krilla::Document;
use krilla::color::rgb;
use krilla::destination::XyzDestination;
use krilla::geom::{Path, PathBuilder, Point, Transform};
use krilla::metadata::Metadata;
use krilla::num::NormalizedF32;
use krilla::outline::{Outline, OutlineNode};
use krilla::page::PageSettings;
use krilla::paint::{Fill, FillRule, Stroke, StrokeDash};
use krilla::surface::Surface;
use krilla::text::{Font, TextDirection};

/// Points of 1/72 in to a mm.
const POINTS: f64 = 72.0 / 25.4;
/// What PDF counts in has 32 bits; pages are no larger than metres.
#[expect(clippy::cast_possible_truncation, reason = "a thousandth of a point is enough")]
fn points(mm: f64) -> f32 {
    (mm * POINTS) as f32
}

/// Tangents of a cubic that is a quarter circle, as part of its radius: 4/3 (sqrt(2) - 1).
const QUARTER: f32 = 0.552_284_8;

/// Both weights of the font, and how wide they are.
struct Fonts<'a> {
    plain: Font,
    bold: Font,
    letters: &'a Letters,
}

/// The document. `title` is what a reader's window says; nothing only if the fonts could not be read, which would be our own fault.
pub(super) fn pdf(
    title: &str,
    leaves: &[Leaf<'_>],
    bookmarks: &[Bookmark],
    letters: &Letters,
) -> Option<Vec<u8>> {
    let font = |bytes: &'static [u8]| Font::new(bytes.to_vec().into(), 0);
    let [plain, bold] = typeface::files();
    let fonts = Fonts { plain: font(plain)?, bold: font(bold)?, letters };
    let mut document = Document::new();
    document.set_metadata(
        Metadata::new().title(title.to_owned()).creator("Baywright".to_owned()).language("en".to_owned()),
    );
    for leaf in leaves {
        let (width, height) = leaf.paper;
        let settings = PageSettings::from_wh(points(width), points(height))?;
        let mut page = document.start_page_with(settings);
        let mut surface = page.surface();
        let whole = View { scale: 1.0, from: Spot::zero(), to: Spot::zero(), height };
        for (canvas, shape) in &leaf.pictures {
            picture(&mut surface, canvas, *shape, height, &fonts);
        }
        for mark in leaf.canvas.marks() {
            draw(&mut surface, mark, &whole, &fonts);
        }
        surface.finish();
        page.finish();
    }
    let mut outline = Outline::new();
    for bookmark in bookmarks {
        let top = XyzDestination::new(bookmark.page, Point::from_xy(0.0, 0.0));
        outline.push_child(OutlineNode::new(bookmark.title.clone(), top));
    }
    document.set_outline(outline);
    document.finish().ok()
}

/// How a canvas lies on the page.
struct View {
    /// mm of paper for a mm of it.
    scale: f64,
    /// This place of it ...
    from: Spot,
    /// ... is here on the paper.
    to: Spot,
    /// mm of the page.
    height: f64,
}

impl View {
    /// A place in points from the page's upper left corner.
    fn at(&self, p: Spot) -> (f32, f32) {
        let on_paper = self.to + (p - self.from) * self.scale;
        (points(on_paper.x), points(self.height - on_paper.y))
    }

    fn long(&self, mm: f64) -> f32 {
        points(mm * self.scale)
    }
}

fn picture(surface: &mut Surface<'_>, canvas: &Canvas, shape: Area, height: f64, fonts: &Fonts<'_>) {
    let shown = canvas.shown();
    let view = View { scale: shape.width() / shown.width(), from: shown.min, to: shape.min, height };
    for mark in canvas.marks() {
        draw(surface, mark, &view, fonts);
    }
}

fn draw(surface: &mut Surface<'_>, mark: &Mark, view: &View, fonts: &Fonts<'_>) {
    let path = match &mark.shape {
        Shape::Text { label, anchor } => {
            let (colour, bold) = pens::text(&mark.class);
            let font = if bold { &fonts.bold } else { &fonts.plain };
            surface.set_stroke(None);
            surface.set_fill(Some(fill(colour)));
            for (line, base) in label.placed_lines(*anchor) {
                let line = fonts.letters.known(line);
                let width = fonts.letters.width(&line, label.size, bold);
                let back = match anchor {
                    Anchor::Start => 0.0,
                    Anchor::Middle => width / 2.0,
                    Anchor::End => width,
                };
                let (x, y) = if label.upright { (base.x, base.y - back) } else { (base.x - back, base.y) };
                text(surface, &line, Spot::new(x, y), (label.size, label.upright), font, view);
            }
            return;
        }
        Shape::Rectangle(area) => {
            let corners =
                [area.min, Spot::new(area.max.x, area.min.y), area.max, Spot::new(area.min.x, area.max.y)];
            lines(&corners, true, view)
        }
        Shape::Circle { centre, radius } => circle(view.at(*centre), view.long(*radius)),
        Shape::Lines { points, closed } => lines(points, *closed, view),
        Shape::Contour(path) => lines(&path.flattened(DRAWN_ARC / view.scale), true, view),
    };
    let Pen { fill: inside, stroke, dash } = pens::pen(&mark.class);
    let Some(path) = path else { return };
    let open = matches!(&mark.shape, Shape::Lines { closed: false, .. });
    surface.set_fill(inside.filter(|_| !open).map(fill));
    surface.set_stroke(stroke.map(|(colour, width)| {
        Stroke {
            paint: rgb::Color::new(colour.0, colour.1, colour.2).into(),
            width: points(width),
            dash: (!dash.is_empty())
                .then(|| StrokeDash { array: dash.iter().copied().map(points).collect(), offset: 0.0 }),
            ..Stroke::default()
        }
    }));
    if inside.is_some() || stroke.is_some() {
        surface.draw_path(&path);
    }
}

fn fill(colour: pens::Colour) -> Fill {
    let paint = rgb::Color::new(colour.0, colour.1, colour.2).into();
    Fill { paint, opacity: NormalizedF32::ONE, rule: FillRule::default() }
}

fn lines(points: &[Spot], closed: bool, view: &View) -> Option<Path> {
    let mut path = PathBuilder::new();
    for (i, point) in points.iter().enumerate() {
        let (x, y) = view.at(*point);
        if i == 0 {
            path.move_to(x, y);
        } else {
            path.line_to(x, y);
        }
    }
    if closed {
        path.close();
    }
    path.finish()
}

fn circle((x, y): (f32, f32), r: f32) -> Option<Path> {
    let k = r * QUARTER;
    let mut path = PathBuilder::new();
    path.move_to(x + r, y);
    path.cubic_to(x + r, y + k, x + k, y + r, x, y + r);
    path.cubic_to(x - k, y + r, x - r, y + k, x - r, y);
    path.cubic_to(x - r, y - k, x - k, y - r, x, y - r);
    path.cubic_to(x + k, y - r, x + r, y - k, x + r, y);
    path.close();
    path.finish()
}

/// A line of text that starts at a place of its baseline.
fn text(
    surface: &mut Surface<'_>,
    line: &str,
    at: Spot,
    (size, upright): (f64, bool),
    font: &Font,
    view: &View,
) {
    let (x, y) = view.at(at);
    let size = view.long(size);
    if upright {
        // A quarter turn to the left: along becomes up.
        surface.push_transform(&Transform::from_row(0.0, -1.0, 1.0, 0.0, x, y));
        surface.draw_text(Point::from_xy(0.0, 0.0), font.clone(), size, line, false, TextDirection::Auto);
        surface.pop();
    } else {
        surface.draw_text(Point::from_xy(x, y), font.clone(), size, line, false, TextDirection::Auto);
    }
}
