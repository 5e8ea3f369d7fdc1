//! What pictures are drawn on: shapes go in with y up, an SVG element comes out that shows all of them.
//!
//! Keeps the bounds of everything drawn, texts included by their estimated size, so that nothing is clipped.
//! Colours and stroke widths are the page's, by class.

use super::label::{Label, text_width};
use super::{Area, Paper, Spot, area, pens};
use crate::export::svg::contour;
use crate::geom::Path;
use crate::number::decimal;
use svg::Node;
use svg::node::element::{self, Circle, Element, Rectangle, SVG, Style, Text, Title};

/// Decimals of coordinates: a hundredth of a millimetre cannot be seen at any scale that a page has.
const DECIMALS: usize = 2;

/// Something drawn, and its class in the style sheet.
#[derive(Clone, Debug)]
pub(crate) struct Mark {
    /// One class, or several with spaces between.
    pub(crate) class: String,
    /// What it is.
    pub(crate) shape: Shape,
}

/// What is drawn.
#[derive(Clone, Debug)]
pub(crate) enum Shape {
    /// An upright rectangle.
    Rectangle(Area),
    /// A circle.
    Circle {
        /// Its middle.
        centre: Spot,
        /// mm.
        radius: f64,
    },
    /// Straight lines from point to point, and back to the first where `closed`.
    Lines {
        /// The points.
        points: Vec<Spot>,
        /// Whether it leads back to its start.
        closed: bool,
    },
    /// A closed path of lines and arcs.
    Contour(Path<Paper>),
    /// A text.
    Text {
        /// What it says and where.
        label: Label,
        /// Which end of each line stands where the label says.
        anchor: Anchor,
    },
}

/// Which place of a line of text is given.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Anchor {
    /// Its middle.
    Middle,
    /// Its start, in the reader's own font: the left end of the label's estimated box.
    Start,
    /// Its end: the right end of the box.
    End,
}

/// A drawing in the making.
#[derive(Debug)]
pub(crate) struct Canvas {
    marks: Vec<Mark>,
    bounds: Option<Area>,
    /// mm. Size of the text of dimensions.
    text_size: f64,
}

/// Whether a dimension runs across or up the page.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Along {
    /// From left to right.
    X,
    /// From bottom to top.
    Y,
}

/// A length to be written beside a drawing.
#[derive(Clone, Copy, Debug)]
pub(super) struct Dimension {
    /// Which way it runs.
    pub(super) along: Along,
    /// mm. Where it starts; what it measures starts here too.
    pub(super) from: f64,
    /// mm. Where it ends, not before its start.
    pub(super) to: f64,
    /// mm. Where the line lies on the other axis.
    pub(super) line: f64,
    /// mm. Where the thing measured ends on the other axis; extension lines start there.
    pub(super) thing: f64,
}

impl Canvas {
    /// An empty drawing.
    pub(crate) fn new(text_size: f64) -> Self {
        Canvas { marks: Vec::new(), bounds: None, text_size }
    }

    /// mm. Size of the text of dimensions.
    pub(super) fn text_size(&self) -> f64 {
        self.text_size
    }

    /// A rectangle.
    pub(crate) fn rectangle(&mut self, class: &str, shape: Area) {
        self.mark(class, Shape::Rectangle(shape), shape);
    }

    /// A circle.
    pub(crate) fn circle(&mut self, class: &str, centre: Spot, radius: f64) {
        let covers = Area::new(centre, centre).inflate(radius, radius);
        self.mark(class, Shape::Circle { centre, radius }, covers);
    }

    /// A closed way through some points.
    pub(super) fn polygon(&mut self, class: &str, points: &[Spot]) {
        let covers = Area::from_points(points);
        self.mark(class, Shape::Lines { points: points.to_vec(), closed: true }, covers);
    }

    /// Straight lines from point to point.
    pub(crate) fn line(&mut self, class: &str, points: &[Spot]) {
        let covers = Area::from_points(points);
        self.mark(class, Shape::Lines { points: points.to_vec(), closed: false }, covers);
    }

    /// A closed path with its arcs.
    pub(super) fn contour(&mut self, class: &str, path: Path<Paper>) {
        let (low, high) = path.bounds();
        self.mark(class, Shape::Contour(path), Area::new(low, high));
    }

    /// A text of one or more lines.
    pub(crate) fn label(&mut self, class: &str, label: &Label) {
        self.anchored(class, label, Anchor::Middle);
    }

    /// A text whose lines begin or end where its box does.
    pub(super) fn anchored(&mut self, class: &str, label: &Label, anchor: Anchor) {
        self.mark(class, Shape::Text { label: label.clone(), anchor }, label.area());
    }

    /// A line of text whose middle, start or end is at a place; `at` is at half its height.
    pub(crate) fn words(&mut self, class: &str, text: &str, at: Spot, size: f64, anchor: Anchor) {
        let half = text_width(text, size) / 2.0;
        let x = match anchor {
            Anchor::Middle => at.x,
            Anchor::Start => at.x + half,
            Anchor::End => at.x - half,
        };
        let label = Label { lines: vec![text.to_owned()], centre: Spot::new(x, at.y), size, upright: false };
        self.anchored(class, &label, anchor);
    }

    /// A level line with an arrow at each end, `size` mm long.
    pub(super) fn double_arrow(&mut self, class: &str, (from, to): (f64, f64), level: f64, size: f64) {
        self.line(class, &[Spot::new(from, level), Spot::new(to, level)]);
        for (tip, back) in [(from, size), (to, -size)] {
            let barb = |up: f64| Spot::new(tip + back, level + up * size / 2.0);
            self.line(class, &[barb(1.0), Spot::new(tip, level), barb(-1.0)]);
        }
    }

    fn mark(&mut self, class: &str, shape: Shape, covers: Area) {
        self.reach(covers);
        self.marks.push(Mark { class: class.to_owned(), shape });
    }

    /// Everything drawn, in its order.
    pub(crate) fn marks(&self) -> &[Mark] {
        &self.marks
    }

    /// A dimension line with its number. A number that is wider than its line stands beyond the line's end,
    /// away from the middle of the drawing.
    pub(super) fn dimension(&mut self, dimension: Dimension) {
        let Dimension { along, from, to, line, thing } = dimension;
        let size = self.text_size;
        let spot = |s: f64, across: f64| match along {
            Along::X => Spot::new(s, across),
            Along::Y => Spot::new(across, s),
        };
        let beyond = (line - thing).signum() * size * 0.3;
        for s in [from, to] {
            self.line("dim", &[spot(s, thing), spot(s, line + beyond)]);
            // The tick: a short slanting stroke, the builder's sign for the end of a dimension.
            let half = size * 0.25;
            self.line("tick", &[spot(s - half, line - half), spot(s + half, line + half)]);
        }
        self.line("dim", &[spot(from, line), spot(to, line)]);
        let text = decimal(to - from, 1);
        let width = text_width(&text, size);
        let room = to - from - size * 0.5;
        let middle = if width <= room {
            f64::midpoint(from, to)
        } else if self.bounds.is_some_and(|bounds| {
            let centre = bounds.center();
            f64::midpoint(from, to) < if along == Along::X { centre.x } else { centre.y }
        }) {
            from - size * 0.5 - width / 2.0
        } else {
            to + size * 0.5 + width / 2.0
        };
        let lift = if width <= room { size * 0.7 } else { 0.0 };
        // The number stands above its line, read from below or from the right.
        let centre = match along {
            Along::X => Spot::new(middle, line + lift),
            Along::Y => Spot::new(line - lift, middle),
        };
        let label = Label { lines: vec![text], centre, size, upright: along == Along::Y };
        self.label("number", &label);
    }

    /// All that has been drawn so far, or nothing.
    #[cfg(test)]
    pub(super) fn bounds(&self) -> Option<Area> {
        self.bounds
    }

    /// mm across and up, with the margin.
    pub(crate) fn size(&self) -> (f64, f64) {
        let shown = self.shown();
        (shown.width(), shown.height())
    }

    /// The drawing as an `svg` element. `title` is what a screen reader says; `full` mm are as wide as the
    /// place that it stands in.
    pub(crate) fn svg(&self, title: &str, full: f64) -> String {
        let width = self.size().0;
        let share = if full > 0.0 { (width / full * 100.0).min(100.0) } else { 100.0 };
        let svg = SVG::new().set("style", format!("width:{}%", decimal(share, 2)));
        self.drawn(svg.add(Title::new(title))).to_string()
    }

    /// The drawing as a file of its own, with the style sheet that it needs.
    pub(super) fn document(self, title: &str, style: &str) -> String {
        let svg = self.drawn(SVG::new().add(Title::new(title)).add(Style::new(style)));
        format!("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n{svg}\n")
    }

    /// The drawing as a page of its own, 1:1: coordinates are mm of paper from its lower left corner.
    pub(super) fn page(&self, title: &str, (width, height): (f64, f64)) -> String {
        self.on_paper(title, area(0.0, 0.0, width, height))
    }

    /// The drawing as a page of its own, 1:1, as large as all that is drawn.
    pub(crate) fn own_page(&self, title: &str) -> String {
        self.on_paper(title, self.shown())
    }

    fn on_paper(&self, title: &str, shown: Area) -> String {
        let classes = self.marks.iter().map(|mark| mark.class.as_str()).collect();
        let svg = SVG::new()
            .set("width", format!("{}mm", mm(shown.width())))
            .set("height", format!("{}mm", mm(shown.height())))
            .add(Title::new(title))
            .add(Style::new(pens::style(&classes)));
        let svg = self.marked(svg, shown);
        format!("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n{svg}\n")
    }

    /// The same page as an element within another page; its style stands there, see [`pens::style`].
    pub(super) fn page_within(&self, title: &str, (width, height): (f64, f64)) -> String {
        self.marked(SVG::new().add(Title::new(title)), area(0.0, 0.0, width, height)).to_string()
    }

    fn drawn(&self, svg: SVG) -> SVG {
        let shown = self.shown();
        self.marked(svg, shown)
    }

    fn marked(&self, svg: SVG, shown: Area) -> SVG {
        let view = [shown.min.x, -shown.max.y, shown.width(), shown.height()]
            .map(|number| decimal(number, DECIMALS));
        let mut svg = svg.set("viewBox", view.join(" ")).set("role", "img");
        for mark in &self.marks {
            mark.append_to(&mut svg);
        }
        svg
    }

    /// All that has been drawn, with the margin.
    pub(crate) fn shown(&self) -> Area {
        let margin = self.text_size * 0.3;
        self.bounds.unwrap_or(area(0.0, 0.0, 1.0, 1.0)).inflate(margin, margin)
    }

    fn reach(&mut self, shape: Area) {
        self.bounds = Some(
            self.bounds
                .map_or(shape, |bounds| Area::new(bounds.min.min(shape.min), bounds.max.max(shape.max))),
        );
    }
}

impl Mark {
    /// Adds it as SVG elements: one, or one for each line of a text.
    fn append_to(&self, svg: &mut SVG) {
        let class = self.class.as_str();
        let node: Element = match &self.shape {
            Shape::Rectangle(shape) => Rectangle::new()
                .set("class", class)
                .set("x", mm(shape.min.x))
                .set("y", mm(-shape.max.y))
                .set("width", mm(shape.width()))
                .set("height", mm(shape.height()))
                .into(),
            Shape::Circle { centre, radius } => Circle::new()
                .set("class", class)
                .set("cx", mm(centre.x))
                .set("cy", mm(-centre.y))
                .set("r", mm(*radius))
                .into(),
            Shape::Lines { points, closed } => {
                let steps: Vec<String> = points.iter().map(|p| format!("{} {}", mm(p.x), mm(-p.y))).collect();
                let end = if *closed { "Z" } else { "" };
                element::Path::new().set("class", class).set("d", format!("M{}{end}", steps.join("L"))).into()
            }
            Shape::Contour(path) => {
                let path = path.moved(Spot::cast_unit);
                element::Path::new().set("class", class).set("d", contour(&path, 0.0)).into()
            }
            Shape::Text { label, anchor } => {
                for line in label.placed_lines(*anchor) {
                    svg.append(Element::from(text(class, &line, label, *anchor)));
                }
                return;
            }
        };
        svg.append(node);
    }
}

/// A line of a text as an SVG element.
fn text(class: &str, (line, base): &(&str, Spot), label: &Label, anchor: Anchor) -> Text {
    let (x, y) = (mm(base.x), mm(-base.y));
    let mut node = Text::new(*line)
        .set("class", class)
        .set("x", x.as_str())
        .set("y", y.as_str())
        .set("font-size", mm(label.size));
    if label.upright {
        node.assign("transform", format!("rotate(-90 {x} {y})"));
    }
    match anchor {
        Anchor::Middle => {}
        Anchor::Start => node.assign("style", "text-anchor:start"),
        Anchor::End => node.assign("style", "text-anchor:end"),
    }
    node
}

fn mm(value: f64) -> String {
    decimal(value, DECIMALS)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn dimension(to: f64) -> Dimension {
        Dimension { along: Along::X, from: 0.0, to, line: -20.0, thing: 0.0 }
    }

    #[test]
    fn y_points_up_and_all_that_is_drawn_is_shown() {
        let mut canvas = Canvas::new(10.0);
        canvas.rectangle("part", area(5.0, 10.0, 25.0, 50.0));
        let text = canvas.svg("a < b", 0.0);
        assert!(text.contains(r#"height="40" width="20" x="5" y="-50""#), "{text}");
        assert!(text.contains(r#"viewBox="2 -53 26 46""#) && text.contains("a &lt; b"), "{text}");
    }

    #[test]
    fn a_number_too_wide_for_its_dimension_stands_beyond_its_end() {
        for (to, inside) in [(100.0, true), (8.0, false)] {
            let mut canvas = Canvas::new(10.0);
            canvas.rectangle("part", area(0.0, 0.0, to, 10.0));
            canvas.dimension(dimension(to));
            let bounds = canvas.bounds().unwrap();
            assert_eq!(bounds.max.x < to + 5.0, inside, "{bounds:?}");
        }
    }
}
