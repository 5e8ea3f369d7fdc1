//! A closed path of straight lines and circular arcs, in one frame.

use super::{Point2, Side, Vector2};

/// A corner of a path and the way to the next one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Vertex<F> {
    /// Where the corner is.
    pub point: Point2<F>,
    /// Tangent of a quarter of the arc's included angle to the next vertex; 0 is a straight line, positive
    /// turns left (counter-clockwise), 1 is a half circle. The convention of DXF group code 42.
    pub bulge: f64,
}

/// A closed path: the last vertex leads back to the first.
#[derive(Clone, Debug, PartialEq)]
pub struct Path<F> {
    vertices: Vec<Vertex<F>>,
}

impl<F: Copy> Path<F> {
    /// The closed path through `vertices`, in their order.
    pub fn new(vertices: Vec<Vertex<F>>) -> Self {
        Path { vertices }
    }

    /// The closed path of straight lines through `points`.
    pub fn polygon(points: impl IntoIterator<Item = Point2<F>>) -> Self {
        Path::new(points.into_iter().map(|point| Vertex { point, bulge: 0.0 }).collect())
    }

    /// A rectangle with its sides along the axes, counter-clockwise from its lower left corner.
    pub fn rectangle(x0: f64, y0: f64, x1: f64, y1: f64) -> Self {
        Path::polygon([(x0, y0), (x1, y0), (x1, y1), (x0, y1)].map(|(x, y)| Point2::new(x, y)))
    }

    /// A circle of two half-circle arcs, counter-clockwise.
    pub fn circle(centre: Point2<F>, radius: f64) -> Self {
        let right = Vertex { point: centre + Vector2::new(radius, 0.0), bulge: 1.0 };
        let left = Vertex { point: centre - Vector2::new(radius, 0.0), bulge: 1.0 };
        Path::new(vec![right, left])
    }

    /// The corners in order.
    pub fn vertices(&self) -> &[Vertex<F>] {
        &self.vertices
    }

    /// Each side as (start, end, bulge).
    pub fn sides(&self) -> impl Iterator<Item = (Point2<F>, Point2<F>, f64)> + '_ {
        let n = self.vertices.len();
        (0..n).map(move |i| {
            let next = self.vertices[(i + 1) % n];
            (self.vertices[i].point, next.point, self.vertices[i].bulge)
        })
    }

    /// The same as lines and arcs that know their distances.
    pub fn curves(&self) -> impl Iterator<Item = Side<F>> + '_ {
        self.sides().map(|(start, end, bulge)| Side::new(start, end, bulge))
    }

    /// Enclosed area in mm2: positive when the path runs counter-clockwise. Exact for arcs: the polygon of the
    /// chords by the shoelace formula, about the first vertex to keep digits, plus each arc's segment.
    pub fn area(&self) -> f64 {
        let Some(first) = self.vertices.first() else { return 0.0 };
        self.sides()
            .map(|(a, b, bulge)| (a - first.point).cross(b - first.point) / 2.0 + segment_area(a, b, bulge))
            .sum()
    }

    /// First moments of the enclosed area about the origin, mm3: (integral of x, integral of y).
    pub fn first_moments(&self) -> Vector2<F> {
        let mut sum = Vector2::new(0.0, 0.0);
        for (a, b, bulge) in self.sides() {
            let cross = a.to_vector().cross(b.to_vector());
            sum += (a.to_vector() + b.to_vector()) * (cross / 6.0);
            if bulge != 0.0 {
                let arc = Arc::new(a, b, bulge);
                // Centroid of a circular segment: 4 r sin^3(t/2) / (3 (t - sin t)) from the centre, on the
                // side of the arc (any handbook of areas).
                let half = arc.included.abs() / 2.0;
                let area = segment_area(a, b, bulge);
                let from_centre =
                    4.0 * arc.radius * half.sin().powi(3) / (3.0 * (2.0 * half - (2.0 * half).sin()));
                sum += (arc.centre.to_vector() + arc.towards_arc() * from_centre) * area;
            }
        }
        sum
    }

    /// Length of the path in mm, arcs by their true length.
    pub fn length(&self) -> f64 {
        let side = |(a, b, bulge): (Point2<F>, Point2<F>, f64)| {
            if bulge == 0.0 {
                return (b - a).length();
            }
            let arc = Arc::new(a, b, bulge);
            arc.radius * arc.included.abs()
        };
        self.sides().map(side).sum()
    }

    /// The smallest axis-aligned rectangle around the path: (lower left, upper right). Arcs count with their
    /// true extent.
    pub fn bounds(&self) -> (Point2<F>, Point2<F>) {
        let none =
            (Point2::new(f64::INFINITY, f64::INFINITY), Point2::new(f64::NEG_INFINITY, f64::NEG_INFINITY));
        self.sides()
            .map(|(a, b, bulge)| Side::new(a, b, bulge).bounds())
            .fold(none, |(low, high), (least, most)| (low.min(least), high.max(most)))
    }

    /// The same path run the other way.
    #[must_use]
    pub fn reversed(&self) -> Self {
        let n = self.vertices.len();
        let vertices = (0..n)
            .map(|i| Vertex {
                point: self.vertices[(n - i) % n].point,
                bulge: -self.vertices[n - 1 - i].bulge,
            })
            .collect();
        Path { vertices }
    }

    /// The path run counter-clockwise.
    #[must_use]
    pub fn counter_clockwise(self) -> Self {
        if self.area() < 0.0 { self.reversed() } else { self }
    }

    /// The path run clockwise.
    #[must_use]
    pub fn clockwise(self) -> Self {
        if self.area() > 0.0 { self.reversed() } else { self }
    }

    /// Corner points with every arc replaced by chords that stay within `chord` mm of it. The first point is
    /// not repeated at the end.
    pub fn flattened(&self, chord: f64) -> Vec<Point2<F>> {
        self.flat(chord, |_| true)
    }

    /// The same, but of arcs that lie outside a rectangle the ends only: whatever is cut out of the rectangle is the same.
    pub fn flattened_near(&self, chord: f64, (low, high): (Point2<F>, Point2<F>)) -> Vec<Point2<F>> {
        self.flat(chord, |side| {
            let (least, most) = side.bounds();
            least.x <= high.x && most.x >= low.x && least.y <= high.y && most.y >= low.y
        })
    }

    fn flat(&self, chord: f64, counts: impl Fn(&Side<F>) -> bool) -> Vec<Point2<F>> {
        let mut points = Vec::with_capacity(self.vertices.len());
        for (a, b, bulge) in self.sides() {
            points.push(a);
            if bulge != 0.0 && counts(&Side::new(a, b, bulge)) {
                let arc = Arc::new(a, b, bulge);
                let n = arc.n_chords(chord);
                points.extend((1..n).map(|i| arc.at(f64::from(i) / f64::from(n))));
            }
        }
        points
    }

    /// Distance in mm from `p` to the nearest point of the path itself (0 on it), arcs by their true shape.
    pub fn distance_to(&self, p: Point2<F>) -> f64 {
        self.curves().map(|side| side.distance_to(p)).fold(f64::INFINITY, f64::min)
    }

    /// Distance in mm between two paths themselves: 0, but for rounding, where they touch or cross.
    pub fn apart(&self, other: &Self) -> f64 {
        let (one, other): (Vec<Side<F>>, Vec<Side<F>>) = (self.curves().collect(), other.curves().collect());
        one.iter().flat_map(|a| other.iter().map(|b| a.distance(b))).fold(f64::INFINITY, f64::min)
    }

    /// Whether `p` lies inside the path (either orientation); on the path itself either answer may come.
    pub fn contains(&self, p: Point2<F>) -> bool {
        self.curves().map(|side| side.turns_about(p)).sum::<i32>() != 0
    }

    /// A counter-clockwise path with every inside corner between two straight lines rounded by `radius` mm, as far
    /// as both lines are long enough for it.
    #[must_use]
    pub fn with_round_inside_corners(&self, radius: f64) -> Self {
        let n = self.vertices.len();
        let mut vertices = Vec::with_capacity(n);
        for (i, vertex) in self.vertices.iter().enumerate() {
            let (before, after) = (self.vertices[(i + n - 1) % n], self.vertices[(i + 1) % n]);
            let (into, out) = (vertex.point - before.point, after.point - vertex.point);
            let turn = into.cross(out).atan2(into.dot(out));
            // From the corner to where the arc begins: the tangent of half the turn, times the radius.
            let reach = radius * (turn / -2.0).tan();
            let straight = before.bulge == 0.0 && vertex.bulge == 0.0;
            if turn > -1e-9 || !straight || 2.0 * reach > into.length().min(out.length()) {
                vertices.push(*vertex);
                continue;
            }
            let start = vertex.point - into.normalize() * reach;
            vertices.push(Vertex { point: start, bulge: (turn / 4.0).tan() });
            vertices.push(Vertex { point: vertex.point + out.normalize() * reach, bulge: 0.0 });
        }
        Path { vertices }
    }

    /// The path seen in a mirror: its points where `place` puts them, arcs and direction turned round, so that a
    /// counter-clockwise path stays one.
    pub fn mirrored<G: Copy>(&self, place: impl Fn(Point2<F>) -> Point2<G>) -> Path<G> {
        let mirrored = self.vertices.iter().map(|v| Vertex { point: place(v.point), bulge: -v.bulge });
        Path::new(mirrored.collect()).reversed()
    }

    /// The path in another frame, which `place` leads to by a motion in the plane.
    pub fn moved<G: Copy>(&self, place: impl Fn(Point2<F>) -> Point2<G>) -> Path<G> {
        Path::new(self.vertices.iter().map(|v| Vertex { point: place(v.point), bulge: v.bulge }).collect())
    }

    /// The path with every point moved by `offset`.
    #[must_use]
    pub fn translated(&self, offset: Vector2<F>) -> Self {
        Path::new(self.vertices.iter().map(|v| Vertex { point: v.point + offset, bulge: v.bulge }).collect())
    }
}

/// Area between an arc and its chord, positive when the bulge is.
fn segment_area<F>(a: Point2<F>, b: Point2<F>, bulge: f64) -> f64 {
    if bulge == 0.0 {
        return 0.0;
    }
    let included = 4.0 * bulge.atan();
    let radius = (b - a).length() * (1.0 + bulge * bulge) / (4.0 * bulge.abs());
    radius * radius * (included - included.sin()) / 2.0
}

/// A circular arc, worked out from its chord and bulge.
pub struct Arc<F> {
    /// Centre of the circle.
    pub centre: Point2<F>,
    /// Radius, mm.
    pub radius: f64,
    /// Angle of the start point seen from the centre, radians.
    pub start: f64,
    /// Included angle, radians, positive counter-clockwise.
    pub included: f64,
}

impl<F: Copy> Arc<F> {
    /// The arc from `a` to `b` with the given (non-zero) bulge.
    pub fn new(a: Point2<F>, b: Point2<F>, bulge: f64) -> Self {
        let chord = b - a;
        let to_centre = Vector2::new(-chord.y, chord.x) * ((1.0 - bulge * bulge) / (4.0 * bulge));
        let centre = a + chord / 2.0 + to_centre;
        let from_centre = a - centre;
        Arc {
            centre,
            radius: from_centre.length(),
            start: from_centre.y.atan2(from_centre.x),
            included: 4.0 * bulge.atan(),
        }
    }

    /// The point at the share `t` (0 to 1) of the way along the arc.
    pub fn at(&self, t: f64) -> Point2<F> {
        let angle = self.start + self.included * t;
        self.centre + Vector2::new(angle.cos(), angle.sin()) * self.radius
    }

    /// How many equal chords keep within `chord` mm of the arc.
    pub fn n_chords(&self, chord: f64) -> u32 {
        let step = 2.0 * (1.0 - (chord / self.radius).min(1.0)).acos();
        let n = (self.included.abs() / step.max(1e-3)).ceil().max(1.0);
        // The step is at least a milliradian, so n stays below 7000.
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "1 <= n < 7000")]
        {
            n as u32
        }
    }

    /// Unit vector from the centre towards the middle of the arc.
    fn towards_arc(&self) -> Vector2<F> {
        let middle = self.start + self.included / 2.0;
        Vector2::new(middle.cos(), middle.sin())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::PanelFrame;
    use proptest::prelude::*;
    use std::f64::consts::PI;

    type P = Path<PanelFrame>;

    fn rounded(w: f64, h: f64, r: f64) -> P {
        let quarter = (PI / 8.0).tan();
        let corner = |x: f64, y: f64, bulge: f64| Vertex { point: Point2::new(x, y), bulge };
        P::new(vec![
            corner(r, 0.0, 0.0),
            corner(w - r, 0.0, quarter),
            corner(w, r, 0.0),
            corner(w, h - r, quarter),
            corner(w - r, h, 0.0),
            corner(r, h, quarter),
            corner(0.0, h - r, 0.0),
            corner(0.0, r, quarter),
        ])
    }

    #[test]
    fn a_circle_has_its_textbook_area_length_and_bounds() {
        let circle = P::circle(Point2::new(3.0, 4.0), 5.0);
        assert!((circle.area() - 25.0 * PI).abs() < 1e-9);
        assert!((circle.length() - 10.0 * PI).abs() < 1e-9);
        let (low, high) = circle.bounds();
        assert!(
            (low - Point2::new(-2.0, -1.0)).length() < 1e-9 && (high - Point2::new(8.0, 9.0)).length() < 1e-9
        );
    }

    #[test]
    fn rounded_corners_take_their_share_of_the_area() {
        // 600 x 400 with corners r 6 loses 4 (1 - pi/4) r^2 = 30.903 mm2 (plane geometry).
        let area = rounded(600.0, 400.0, 6.0).area();
        assert!((area - (240_000.0 - 30.903)).abs() < 1e-3, "{area}");
    }

    #[test]
    fn an_inside_corner_is_rounded_and_an_outside_corner_is_not() {
        // An L of 100 x 100 less 60 x 60; the round corner keeps (1 - pi/4) r^2 of the void (plane geometry).
        let corners = [(0, 0), (100, 0), (100, 40), (40, 40), (40, 100), (0, 100)];
        let sharp = P::polygon(corners.map(|(x, y)| Point2::new(f64::from(x), f64::from(y))));
        let round = sharp.with_round_inside_corners(3.0);
        assert!((round.area() - 6400.0 - (1.0 - PI / 4.0) * 9.0).abs() < 1e-9, "{}", round.area());
        assert_eq!(round.vertices().len(), 7);
        // Two slanted lines that turn right by 60 degrees: r^2 (tan 30 - pi/6) stays.
        let (sin, cos) = 60_f64.to_radians().sin_cos();
        let points =
            [(0.0, 0.0), (100.0, 0.0), (100.0 + 50.0 * cos, -50.0 * sin), (200.0, 80.0), (0.0, 80.0)];
        let sharp = P::polygon(points.map(|(x, y)| Point2::new(x, y)));
        let added = sharp.with_round_inside_corners(5.0).area() - sharp.area();
        assert!((added - 25.0 * (30_f64.to_radians().tan() - PI / 6.0)).abs() < 1e-9, "{added}");
    }

    #[test]
    fn a_half_disc_has_its_centroid_at_4r_over_3_pi() {
        let half = P::new(vec![
            Vertex { point: Point2::new(-3.0, 0.0), bulge: 0.0 },
            Vertex { point: Point2::new(3.0, 0.0), bulge: 1.0 },
        ]);
        let centroid = half.first_moments() / half.area();
        assert!(centroid.x.abs() < 1e-12 && (centroid.y - 4.0 * 3.0 / (3.0 * PI)).abs() < 1e-12);
    }

    #[test]
    fn inside_and_distance_follow_the_arcs() {
        // A 100 x 50 obround: straight sides 50 long, half-circle ends.
        let end = |x: f64, y: f64, bulge: f64| Vertex { point: Point2::new(x, y), bulge };
        let obround = P::new(vec![
            end(25.0, 0.0, 0.0),
            end(75.0, 0.0, 1.0),
            end(75.0, 50.0, 0.0),
            end(25.0, 50.0, 1.0),
        ]);
        for (x, y, inside) in [
            (98.0, 25.0, true),
            (98.0, 4.0, false),
            (50.0, 49.0, true),
            (50.0, 51.0, false),
            (2.0, 25.0, true),
        ] {
            assert_eq!(obround.contains(Point2::new(x, y)), inside, "({x}, {y})");
        }
        // On the chord between the two arcs of a circle, either way round.
        let circle = P::circle(Point2::new(0.0, 0.0), 100.0);
        for circle in [circle.reversed(), circle] {
            for (x, inside) in [(30.0, true), (-30.0, true), (0.0, true), (130.0, false), (-130.0, false)] {
                assert_eq!(circle.contains(Point2::new(x, 0.0)), inside, "{x}");
            }
        }
        assert!((obround.distance_to(Point2::new(90.0, 25.0)) - 10.0).abs() < 1e-9);
        assert!((obround.distance_to(Point2::new(50.0, 20.0)) - 20.0).abs() < 1e-9);
    }

    proptest! {
        /// Against the crate geo on the flattened path, for points that are not on it.
        #[test]
        fn what_is_inside_is_inside_the_flattened_path(
            bulges in prop::collection::vec(prop::sample::select(vec![0.0, 0.4, -0.4, 0.9, -0.3]), 6),
            x in -12_i32..30, y in -12_i32..22,
        ) {
            use geo::Contains;
            let corners = [(0.0, 0.0), (9.0, 0.0), (18.0, 2.0), (18.0, 10.0), (9.0, 10.0), (0.0, 10.0)];
            let vertices = corners.iter().zip(bulges);
            let path = P::new(vertices.map(|(&(x, y), bulge)| Vertex { point: Point2::new(x, y), bulge }).collect());
            let p = Point2::new(f64::from(x), f64::from(y));
            let ring = path.flattened(1e-4).into_iter().map(|p| (p.x, p.y)).collect();
            let flat = geo::Polygon::new(geo::LineString::from_iter::<Vec<(f64, f64)>>(ring), vec![]);
            if path.distance_to(p) > 1e-3 {
                prop_assert_eq!(path.contains(p), flat.contains(&geo::Point::new(p.x, p.y)));
            }
        }

        #[test]
        fn area_is_unchanged_by_moving_and_restarting_and_negated_by_reversing(
            w in 1_i32..50, h in 1_i32..50, dx in -9_i32..9, start in 0_usize..8,
        ) {
            let path = rounded(f64::from(w) * 10.0, f64::from(h) * 10.0, 2.0);
            let mut turned = path.translated(Vector2::new(f64::from(dx) * 100.0, 7.0)).vertices().to_vec();
            turned.rotate_left(start);
            let moved = P::new(turned);
            prop_assert!((moved.area() - path.area()).abs() < 1e-6);
            prop_assert!((path.reversed().area() + path.area()).abs() < 1e-6);
            prop_assert!((path.reversed().length() - path.length()).abs() < 1e-6);
        }
    }
}
