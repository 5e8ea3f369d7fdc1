//! A panel's outer contour: its board's shape with tabs standing out of its edges and nut slots cut into them.

use crate::geom::tolerance::SAME_LENGTH;
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

/// A feature at its place on a panel's contour.
#[derive(Clone, Copy, Debug)]
pub(super) struct EdgeFeature {
    /// Middle of the feature, on the edge.
    at: Point2<PanelFrame>,
    feature: Feature,
}

impl EdgeFeature {
    /// The feature at `s` mm along a joint whose edge board is `board`.
    pub(super) fn new(meeting: &Meeting, board: &Board, s: f64, feature: Feature) -> Self {
        EdgeFeature { at: board.placement.to_panel(meeting.start + meeting.along * s).xy(), feature }
    }
}

/// A board's shape with features on its straight edges, counter-clockwise.
pub(super) fn contour(shape: &Path<PanelFrame>, features: &[EdgeFeature]) -> Path<PanelFrame> {
    let mut pen = Pen { vertices: Vec::new() };
    for (start, end, bulge) in shape.sides() {
        pen.arc_from(start, bulge);
        if bulge != 0.0 || start == end {
            continue;
        }
        let along = (end - start).normalize();
        let edge = Edge { start, along, inwards: Vector2::new(-along.y, along.x) };
        let place = |feature: &EdgeFeature| {
            let (from_start, length) = (feature.at - start, (end - start).length());
            let on_edge = from_start.cross(along).abs() < SAME_LENGTH;
            let s = from_start.dot(along);
            (on_edge && s > 0.0 && s < length).then_some((s, feature.feature))
        };
        let mut here: Vec<(f64, Feature)> = features.iter().filter_map(place).collect();
        here.sort_by(|a, b| a.0.total_cmp(&b.0));
        for (s, feature) in here {
            pen.feature(edge, s, feature);
        }
    }
    Path::new(pen.vertices)
}

/// A clockwise rectangular slot that a sharp-cornered tab goes into, from its counter-clockwise corners, the
/// first side being its length.
///
/// Relief: a circle of the tool's radius r through the corner, its centre on the bisector: it takes sqrt(2) r
/// from each side and reaches 0.29 r past it. A slot narrower than two such reliefs is longer by r at each end
/// instead, with rounded corners beyond the tab. (Plane geometry.)
pub(super) fn relieved_slot(corners: [Point2<PanelFrame>; 4], radius: f64) -> Path<PanelFrame> {
    let along = (corners[1] - corners[0]).normalize();
    let narrow = (corners[2] - corners[1]).length() < 2.0 * radius * SQRT_2;
    let longer = if narrow { radius } else { 0.0 };
    let corners = [
        corners[0] - along * longer,
        corners[1] + along * longer,
        corners[2] + along * longer,
        corners[3] - along * longer,
    ];
    let ring = Path::polygon(corners).counter_clockwise();
    let points: Vec<Point2<PanelFrame>> = ring.vertices().iter().map(|vertex| vertex.point).collect();
    // Counter-clockwise round a void: a relief is a half circle bulging out through the corner, a rounded
    // corner a quarter circle inside it.
    let (reach, bulge) = if narrow { (radius, FRAC_PI_8.tan()) } else { (radius * SQRT_2, 1.0) };
    let mut vertices = Vec::new();
    for i in 0..4 {
        let (before, corner, after) = (points[(i + 3) % 4], points[i], points[(i + 1) % 4]);
        vertices.push(Vertex { point: corner + (before - corner).normalize() * reach, bulge });
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
                let rows = [
                    (-stem, 0.0, 0.0),
                    (-stem, bar_start, 0.0),
                    (r - bar, bar_start, corner),
                    (-bar, bar_start + r, 0.0),
                    (-bar, top - r, corner),
                    (r - bar, top, 0.0),
                    (-stem, top, 0.0),
                    (-stem, depth - r, corner),
                    (r - stem, depth, 0.0),
                    (stem - r, depth, corner),
                    (stem, depth - r, 0.0),
                    (stem, top, 0.0),
                    (bar - r, top, corner),
                    (bar, top - r, 0.0),
                    (bar, bar_start + r, corner),
                    (bar - r, bar_start, 0.0),
                    (stem, bar_start, 0.0),
                    (stem, 0.0, 0.0),
                ];
                for (s, d, bulge) in rows {
                    self.arc_from(edge.at(at + s, d), bulge);
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_relief_takes_the_textbook_area_outside_the_corner() {
        // Area that a relief of radius r removes outside a square corner: r^2 (pi/2 - 1) = 0.5708 r^2 (plane
        // geometry): half circle of diameter 2r less the triangle with legs sqrt(2) r.
        let corners = [(0.0, 0.0), (60.0, 0.0), (60.0, 12.2), (0.0, 12.2)].map(|(x, y)| Point2::new(x, y));
        let slot = relieved_slot(corners, 3.0);
        let expected = 60.0 * 12.2 + 4.0 * 9.0 * (std::f64::consts::FRAC_PI_2 - 1.0);
        assert!((slot.area() + expected).abs() < 1e-9, "{}", slot.area());
        // The corner itself lies on the contour.
        assert!(slot.distance_to(corners[2]) < 1e-9);
    }

    #[test]
    fn a_narrow_slot_is_rounded_beyond_the_tab() {
        let corners = [(0.0, 0.0), (60.0, 0.0), (60.0, 6.4), (0.0, 6.4)].map(|(x, y)| Point2::new(x, y));
        let slot = relieved_slot(corners, 3.0);
        let (low, high) = slot.bounds();
        assert!((low.x + 3.0).abs() < 1e-9 && (high.x - 63.0).abs() < 1e-9 && (high.y - 6.4).abs() < 1e-9);
        assert!(corners.iter().all(|&corner| slot.distance_to(corner) < 1e-9));
    }

    #[test]
    fn features_change_the_area_by_their_own() {
        let board: Path<PanelFrame> = Path::rectangle(0.0, 0.0, 400.0, 200.0);
        assert!((contour(&board, &[]).area() - 80_000.0).abs() < 1e-9);
        let r = 1.5;
        let slot = Feature::NutSlot {
            stem: 6.6,
            bar_start: 15.0,
            bar_height: 5.5,
            bar_length: 11.0,
            depth: 34.0,
            radius: r,
        };
        // Stem, plus the bar beside it, less what the tool leaves in six inside corners: (1 - pi/4) r^2 each.
        let cut = 6.6 * 34.0 + (11.0 - 6.6) * 5.5 - 6.0 * (1.0 - std::f64::consts::FRAC_PI_4) * r * r;
        let tab = Feature::Tab { length: 60.0, projection: 12.0, relief: r };
        let bite = r * r * (std::f64::consts::FRAC_PI_2 - 1.0);
        for at in [(100.0, 0.0), (400.0, 100.0), (300.0, 200.0), (0.0, 100.0)] {
            let at = Point2::new(at.0, at.1);
            let one = |feature| contour(&board, &[EdgeFeature { at, feature }]);
            assert!((one(slot).area() - (80_000.0 - cut)).abs() < 1e-6);
            assert!((one(tab).area() - (80_000.0 + 720.0 - 2.0 * bite)).abs() < 1e-6);
        }
    }
}
