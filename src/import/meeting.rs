//! Where two sides, straight or arcs, meet away from a corner that they share.

use crate::geom::tolerance::{JOINED, MEETING, SAME_LENGTH};
use crate::geom::{self, Arc, PanelFrame, Path, Point2, Vector2, Vertex};

type Point = Point2<PanelFrame>;

/// One side of a contour.
#[derive(Clone, Copy, Debug)]
pub(super) struct Side {
    a: Point,
    b: Point,
    bulge: f64,
    /// Index of its contour.
    pub(super) contour: usize,
    /// Which side of how many.
    index: (usize, usize),
}

impl Side {
    /// A side of a contour: its ends and bulge, and which of how many it is.
    pub(super) fn new((a, b, bulge): (Point, Point, f64), contour: usize, index: (usize, usize)) -> Self {
        Side { a, b, bulge, contour, index }
    }

    /// Its smallest box.
    pub(super) fn bounds(&self) -> (Point, Point) {
        // There and back along the chord: the box of the side itself.
        Path::new(vec![Vertex { point: self.a, bulge: self.bulge }, Vertex { point: self.b, bulge: 0.0 }])
            .bounds()
    }

    /// A place where the sides meet, corners that they share and their neighbourhood left out.
    pub(super) fn meets(&self, other: &Side) -> Option<Point> {
        let shared = self.shared(other);
        let mut places = match (self.arc(), other.arc()) {
            (None, None) => lines(self, other),
            (Some(arc), None) => line_and_circle(other, &arc),
            (None, Some(arc)) => line_and_circle(self, &arc),
            (Some(one), Some(two)) => circles(&one, &two),
        };
        // Sides that lie on each other meet at an end or in the middle of one of them.
        places.extend([self.a, self.b, self.middle(), other.a, other.b, other.middle()]);
        let on_both = |p: &Point| self.distance(*p) <= MEETING && other.distance(*p) <= MEETING;
        let apart = |p: &Point| shared.iter().all(|&corner| !self.beside(other, corner, *p));
        places
            .into_iter()
            .filter(|p| on_both(p) && apart(p))
            .min_by(|p, q| p.x.total_cmp(&q.x).then(p.y.total_cmp(&q.y)))
    }

    /// Whether a meeting at `p` is only the common corner, or the two running on from it within the tolerance.
    fn beside(&self, other: &Side, corner: Point, p: Point) -> bool {
        (p - corner).length() <= JOINED || {
            let onward = self.leaving(corner).dot(other.leaving(corner)) < 0.0;
            onward && other.distance(self.between(corner, p)) <= JOINED
        }
    }

    /// The corners that two sides of one contour share.
    fn shared(&self, other: &Side) -> Vec<Point> {
        if self.contour != other.contour {
            return Vec::new();
        }
        let n = self.index.1;
        let mut shared = Vec::new();
        if (self.index.0 + 1) % n == other.index.0 {
            shared.push(self.b);
        }
        if (other.index.0 + 1) % n == self.index.0 {
            shared.push(self.a);
        }
        shared
    }

    fn arc(&self) -> Option<Arc<PanelFrame>> {
        (self.bulge != 0.0).then(|| Arc::new(self.a, self.b, self.bulge))
    }

    fn distance(&self, p: Point) -> f64 {
        geom::Side::new(self.a, self.b, self.bulge).distance_to(p)
    }

    fn middle(&self) -> Point {
        self.arc().map_or_else(|| self.a.lerp(self.b, 0.5), |arc| arc.at(0.5))
    }

    /// The middle of the way along the side from one of its ends to `p` on it.
    fn between(&self, corner: Point, p: Point) -> Point {
        match self.arc() {
            None => corner.lerp(p, 0.5),
            Some(arc) => {
                let turn = |q: Point| {
                    let angle = (q - arc.centre).y.atan2((q - arc.centre).x) - arc.start;
                    let along = if arc.included > 0.0 { angle } else { -angle };
                    along.rem_euclid(std::f64::consts::TAU) / arc.included.abs()
                };
                let from = if (corner - self.a).length() <= (corner - self.b).length() { 0.0 } else { 1.0 };
                arc.at(f64::midpoint(from, turn(p).min(1.0)))
            }
        }
    }

    /// Unit vector along the side, away from one of its ends.
    fn leaving(&self, corner: Point) -> Vector2<PanelFrame> {
        let forward = (corner - self.a).length() <= (corner - self.b).length();
        let towards = match self.arc() {
            None if forward => self.b - self.a,
            None => self.a - self.b,
            Some(arc) => {
                let radius = corner - arc.centre;
                let left = Vector2::new(-radius.y, radius.x);
                if (arc.included > 0.0) == forward { left } else { -left }
            }
        };
        towards.try_normalize().unwrap_or_default()
    }
}

/// The corner at which a contour turns back on itself, if the second side goes back along the first.
pub(super) fn fold(one: &Side, other: &Side) -> Option<Point> {
    one.shared(other).into_iter().find(|&corner| {
        let (a, b) = (one.leaving(corner), other.leaving(corner));
        let alike = a.dot(b) > 0.0 && a.cross(b).abs() < SAME_LENGTH;
        // Straight against an arc that touches it: a spike, but not of nothing.
        alike
            && (one.bulge == 0.0) == (other.bulge == 0.0)
            && other.distance(one.between(corner, one.far(corner))) <= JOINED
    })
}

impl Side {
    /// The end that is not `corner`.
    fn far(&self, corner: Point) -> Point {
        if (corner - self.a).length() <= (corner - self.b).length() { self.b } else { self.a }
    }
}

fn lines(one: &Side, other: &Side) -> Vec<Point> {
    let (d, e) = (one.b - one.a, other.b - other.a);
    let cross = d.cross(e);
    // Parallel lines meet, if at all, at an end.
    if cross.abs() <= f64::EPSILON * d.length() * e.length() {
        return Vec::new();
    }
    vec![one.a + d * ((other.a - one.a).cross(e) / cross)]
}

fn line_and_circle(line: &Side, arc: &Arc<PanelFrame>) -> Vec<Point> {
    let Some(along) = (line.b - line.a).try_normalize() else { return Vec::new() };
    let foot = line.a + along * (arc.centre - line.a).dot(along);
    let away = (foot - arc.centre).length();
    if away > arc.radius + MEETING {
        return Vec::new();
    }
    let half = (arc.radius * arc.radius - away * away).max(0.0).sqrt();
    vec![foot + along * half, foot - along * half]
}

fn circles(one: &Arc<PanelFrame>, two: &Arc<PanelFrame>) -> Vec<Point> {
    let between = two.centre - one.centre;
    let Some(along) = between.try_normalize() else { return Vec::new() };
    let d = between.length();
    let x = (d * d + one.radius * one.radius - two.radius * two.radius) / (2.0 * d);
    if x.abs() > one.radius + MEETING {
        return Vec::new();
    }
    let half = (one.radius * one.radius - x * x).max(0.0).sqrt();
    let across = Vector2::new(-along.y, along.x) * half;
    vec![one.centre + along * x + across, one.centre + along * x - across]
}
