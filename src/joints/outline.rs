//! A panel's outer contour: a rectangle with tabs standing out of its edges and nut slots cut into them.

use crate::geom::{PanelFrame, Path, Point2, Vector2, Vertex};
use crate::layout::{Board, Meeting};
use std::f64::consts::{FRAC_PI_8, SQRT_2};

/// Something on an edge.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Feature {
    /// Stands out of the edge.
    Tab {
        /// mm along the edge.
        length: f64,
        /// mm out of the edge.
        projection: f64,
        /// mm. Radius of the relief at both shoulders.
        relief: f64,
    },
    /// A T-shaped slot, open to the edge.
    NutSlot {
        /// mm. Width of the stem.
        stem: f64,
        /// mm from the edge to the bar.
        bar_start: f64,
        /// mm of the bar, square on the edge.
        bar_height: f64,
        /// mm of the bar along the edge, over its rounded ends.
        bar_length: f64,
        /// mm from the edge to the stem's end.
        depth: f64,
        /// mm. Radius in inside corners.
        radius: f64,
    },
}

impl Feature {
    /// Half of what the feature takes along the edge, mm.
    pub(super) fn half_width(self) -> f64 {
        match self {
            Feature::Tab { length, .. } => length / 2.0,
            Feature::NutSlot { bar_length, .. } => bar_length / 2.0,
        }
    }
}

/// A side of a panel's rectangle, in counter-clockwise order.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Side {
    /// v = 0, run towards larger u.
    Bottom,
    /// Greatest u.
    Right,
    /// Greatest v.
    Top,
    /// u = 0.
    Left,
}

/// A feature at its place on a panel's contour.
#[derive(Clone, Copy, Debug)]
pub(super) struct EdgeFeature {
    side: Side,
    /// mm from the side's start, in counter-clockwise direction.
    at: f64,
    feature: Feature,
}

impl EdgeFeature {
    /// The feature at `s` mm along a joint whose edge board is `board`.
    pub(super) fn new(meeting: &Meeting, board: &Board, s: f64, feature: Feature) -> Self {
        let p = board.placement.to_panel(meeting.start + meeting.along * s);
        let outwards = -board.placement.direction_to_panel(meeting.into_edge);
        let (length, width) = board.size;
        let (side, at) = if outwards.y < -0.5 {
            (Side::Bottom, p.x)
        } else if outwards.x > 0.5 {
            (Side::Right, p.y)
        } else if outwards.y > 0.5 {
            (Side::Top, length - p.x)
        } else {
            (Side::Left, width - p.y)
        };
        EdgeFeature { side, at, feature }
    }
}

/// The contour of a rectangle `length` x `width` with features on its edges, counter-clockwise.
pub(super) fn contour(length: f64, width: f64, features: &[EdgeFeature]) -> Path<PanelFrame> {
    let mut features = features.to_vec();
    features.sort_by(|a, b| a.side.cmp(&b.side).then(a.at.total_cmp(&b.at)));
    let sides = [
        (Side::Bottom, Point2::new(0.0, 0.0), Vector2::new(1.0, 0.0)),
        (Side::Right, Point2::new(length, 0.0), Vector2::new(0.0, 1.0)),
        (Side::Top, Point2::new(length, width), Vector2::new(-1.0, 0.0)),
        (Side::Left, Point2::new(0.0, width), Vector2::new(0.0, -1.0)),
    ];
    let mut pen = Pen { vertices: Vec::new() };
    for (side, start, along) in sides {
        let edge = Edge { start, along, inwards: Vector2::new(-along.y, along.x) };
        pen.line_to(start);
        for feature in features.iter().filter(|feature| feature.side == side) {
            pen.feature(edge, feature.at, feature.feature);
        }
    }
    Path::new(pen.vertices)
}

/// A clockwise rectangular slot with reliefs in its corners, from its counter-clockwise corners.
///
/// Relief: a circle of the tool's radius r through the corner, its centre on the bisector: it takes sqrt(2) r
/// from each side and reaches 0.29 r past it. A slot narrower than two reliefs gets round ends instead, beyond
/// the corners. (Plane geometry.)
pub(super) fn relieved_slot(corners: [Point2<PanelFrame>; 4], radius: f64) -> Path<PanelFrame> {
    let ring = Path::polygon(corners).counter_clockwise();
    let points: Vec<Point2<PanelFrame>> = ring.vertices().iter().map(|vertex| vertex.point).collect();
    let mut vertices = Vec::new();
    for i in 0..4 {
        let (before, corner, after) = (points[(i + 3) % 4], points[i], points[(i + 1) % 4]);
        let reach = (radius * SQRT_2).min((before - corner).length() / 2.0).min((after - corner).length() / 2.0);
        // Counter-clockwise round a void, so the relief bulges to the right of its chord: outwards.
        vertices.push(Vertex { point: corner + (before - corner).normalize() * reach, bulge: 1.0 });
        vertices.push(Vertex { point: corner + (after - corner).normalize() * reach, bulge: 0.0 });
    }
    Path::new(vertices).clockwise()
}

#[derive(Clone, Copy)]
struct Edge {
    start: Point2<PanelFrame>,
    along: Vector2<PanelFrame>,
    inwards: Vector2<PanelFrame>,
}

impl Edge {
    /// The point `s` along the edge and `depth` into the panel.
    fn at(self, s: f64, depth: f64) -> Point2<PanelFrame> {
        self.start + self.along * s + self.inwards * depth
    }
}

/// Draws a contour with the panel on its left.
struct Pen {
    vertices: Vec<Vertex<PanelFrame>>,
}

/// A half circle to the left: the relief at an inside corner, cut into the panel.
const RELIEF: f64 = -1.0;

impl Pen {
    fn line_to(&mut self, point: Point2<PanelFrame>) {
        self.vertices.push(Vertex { point, bulge: 0.0 });
    }

    /// A point from which an arc leads to the next one.
    fn arc_from(&mut self, point: Point2<PanelFrame>, bulge: f64) {
        self.vertices.push(Vertex { point, bulge });
    }

    fn feature(&mut self, edge: Edge, at: f64, feature: Feature) {
        match feature {
            Feature::Tab { length, projection, relief } => {
                let (s0, s1, reach) = (at - length / 2.0, at + length / 2.0, relief * SQRT_2);
                self.arc_from(edge.at(s0 - reach, 0.0), RELIEF);
                self.line_to(edge.at(s0, -reach));
                self.line_to(edge.at(s0, -projection));
                self.line_to(edge.at(s1, -projection));
                self.arc_from(edge.at(s1, -reach), RELIEF);
                self.line_to(edge.at(s1 + reach, 0.0));
            }
            Feature::NutSlot { stem, bar_start, bar_height, bar_length, depth, radius: r } => {
                // A quarter turn to the right, round the tool.
                let corner = -FRAC_PI_8.tan();
                let (stem, bar, top) = (stem / 2.0, bar_length / 2.0, bar_start + bar_height);
                for (left, right) in [(-1.0, true), (1.0, false)] {
                    let x = |distance: f64| at + left * distance;
                    let mut half = vec![
                        (x(stem), 0.0, 0.0),
                        (x(stem), bar_start, 0.0),
                        (x(bar - r), bar_start, corner),
                        (x(bar), bar_start + r, 0.0),
                        (x(bar), top - r, corner),
                        (x(bar - r), top, 0.0),
                        (x(stem), top, 0.0),
                        (x(stem), depth - r, corner),
                        (x(stem - r), depth, 0.0),
                    ];
                    if !right {
                        half.reverse();
                        // Run backwards, an arc starts at what was its end.
                        for i in 1..half.len() {
                            half[i - 1].2 = if [0, 2, 4].contains(&(i - 1)) && i < 7 || i == 1 { corner } else { 0.0 };
                        }
                    }
                    for (s, d, bulge) in half {
                        self.arc_from(edge.at(s, d), bulge);
                    }
                }
            }
        }
    }
}
