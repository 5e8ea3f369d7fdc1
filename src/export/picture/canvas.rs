//! What pictures are drawn on: shapes go in with y up, an SVG element comes out that shows all of them.
//!
//! Keeps the bounds of everything drawn, texts included by their estimated size, so that nothing is clipped.
//! Colours and stroke widths are the page's, by class.

use super::label::{Label, text_width};
use super::{Area, Spot, area};
use crate::number::decimal;
use svg::Node;
use svg::node::element::{Circle, Element, Path, Rectangle, SVG, Style, Text, Title};

/// Decimals of coordinates: a hundredth of a millimetre cannot be seen at any scale that a page has.
const DECIMALS: usize = 2;

/// A drawing in the making.
#[derive(Debug)]
pub(crate) struct Canvas {
    nodes: Vec<Element>,
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
    pub(super) fn new(text_size: f64) -> Self {
        Canvas { nodes: Vec::new(), bounds: None, text_size }
    }

    /// mm. Size of the text of dimensions.
    pub(super) fn text_size(&self) -> f64 {
        self.text_size
    }

    /// A rectangle.
    pub(super) fn rectangle(&mut self, class: &str, shape: Area) {
        self.reach(shape);
        let node = Rectangle::new()
            .set("class", class)
            .set("x", mm(shape.min.x))
            .set("y", mm(-shape.max.y))
            .set("width", mm(shape.width()))
            .set("height", mm(shape.height()));
        self.nodes.push(node.into());
    }

    /// A circle.
    pub(super) fn circle(&mut self, class: &str, centre: Spot, radius: f64) {
        self.reach(Area::new(centre, centre).inflate(radius, radius));
        let node = Circle::new()
            .set("class", class)
            .set("cx", mm(centre.x))
            .set("cy", mm(-centre.y))
            .set("r", mm(radius));
        self.nodes.push(node.into());
    }

    /// A closed way through some points.
    pub(super) fn polygon(&mut self, class: &str, points: &[Spot]) {
        self.way(class, points, "Z");
    }

    /// Straight lines from point to point.
    pub(super) fn line(&mut self, class: &str, points: &[Spot]) {
        self.way(class, points, "");
    }

    fn way(&mut self, class: &str, points: &[Spot], end: &str) {
        let steps: Vec<String> = points.iter().map(|p| format!("{} {}", mm(p.x), mm(-p.y))).collect();
        self.commands(class, &format!("M{}{end}", steps.join("L")), Area::from_points(points));
    }

    /// A way given as SVG commands (y down), with the area that it covers.
    pub(super) fn commands(&mut self, class: &str, commands: &str, covers: Area) {
        self.reach(covers);
        self.nodes.push(Path::new().set("class", class).set("d", commands).into());
    }

    /// A text of one or more lines.
    pub(super) fn label(&mut self, class: &str, label: &Label) {
        self.reach(label.area());
        for (line, base) in label.lines.iter().zip(label.baselines()) {
            let (x, y) = (mm(base.x), mm(-base.y));
            let mut node = Text::new(line.as_str())
                .set("class", class)
                .set("x", x.as_str())
                .set("y", y.as_str())
                .set("font-size", mm(label.size));
            if label.upright {
                node.assign("transform", format!("rotate(-90 {x} {y})"));
            }
            self.nodes.push(node.into());
        }
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
    pub(crate) fn svg(self, title: &str, full: f64) -> String {
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

    fn drawn(self, svg: SVG) -> SVG {
        let shown = self.shown();
        let view = [shown.min.x, -shown.max.y, shown.width(), shown.height()]
            .map(|number| decimal(number, DECIMALS));
        let mut svg = svg.set("viewBox", view.join(" ")).set("role", "img");
        for node in self.nodes {
            svg.append(node);
        }
        svg
    }

    fn shown(&self) -> Area {
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
