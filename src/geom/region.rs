//! The material of a part: what an outline encloses less its openings; how near two of them come, and whether
//! they share anything.
//!
//! Takes closed paths, gives lengths and points in mm. Works on the true lines and arcs and never flattens, so an
//! answer is off by rounding alone. Boxes keep far sides out of the sums.

use super::side::Side;
use super::tolerance::SAME_LENGTH;
use super::{Path, Point2, Vector2};

/// Lower left and upper right corner of a box.
pub type Bounds<F> = (Point2<F>, Point2<F>);

/// The sides of some closed paths with their boxes, to be asked often how far something is from them.
#[derive(Clone, Debug)]
pub struct Contours<F>(Vec<(Side<F>, Bounds<F>)>);

impl<F: Copy> Contours<F> {
    /// Those of some paths.
    pub fn of<'a>(paths: impl IntoIterator<Item = &'a Path<F>>) -> Self
    where
        F: 'a,
    {
        let sides = paths.into_iter().flat_map(Path::curves);
        Contours(sides.map(|side| (side, side.bounds())).collect())
    }

    /// mm from a point to the nearest of them; infinity where there is none.
    pub fn distance_to(&self, p: Point2<F>) -> f64 {
        self.0.iter().fold(f64::INFINITY, |nearest, (side, bounds)| {
            if apart(*bounds, (p, p)) < nearest { nearest.min(side.distance_to(p)) } else { nearest }
        })
    }
}

/// The material inside an outline and outside its openings.
#[derive(Clone, Debug)]
pub struct Region<F> {
    outline: Path<F>,
    openings: Vec<Path<F>>,
    /// Of the outline and the openings.
    contours: Contours<F>,
    low: Point2<F>,
    high: Point2<F>,
}

impl<F: Copy> Region<F> {
    /// The material of these contours, whichever way they run. The openings lie within the outline, apart from
    /// each other.
    pub fn new(outline: Path<F>, openings: Vec<Path<F>>) -> Self {
        let contours = Contours::of(std::iter::once(&outline).chain(&openings));
        let (low, high) = outline.bounds();
        Region { outline, openings, contours, low, high }
    }

    /// The smallest rectangle around it: (lower left, upper right).
    pub fn bounds(&self) -> (Point2<F>, Point2<F>) {
        (self.low, self.high)
    }

    /// How near the contours of two regions come to each other, mm; none if not nearer than `within`. Says
    /// nothing of whether one lies in the material of the other: see [`Region::shared`].
    pub fn approach(&self, other: &Self, within: f64) -> Option<f64> {
        let theirs: Vec<_> = other.boxed_near(self.bounds(), within).collect();
        let mut nearest = within;
        for (side, bounds) in self.boxed_near(other.bounds(), within) {
            for (near, their_bounds) in &theirs {
                if apart(*their_bounds, *bounds) < nearest {
                    nearest = nearest.min(side.distance(near));
                }
            }
        }
        (nearest < within).then_some(nearest)
    }

    /// A point that lies in the material of both, deeper than lengths are compared (or a corner of the one that
    /// lies wholly inside the other); none if they are apart or only touch.
    ///
    /// If contours that nowhere touch share material, one region has a corner of the other's outline: each
    /// outline lies wholly inside or outside the other's material, and if neither is inside, each lies around
    /// the other's outline, beside it, or in one of its openings. Where contours touch, what they share is
    /// bounded by pieces of contour between one contact and the next, and beside such a piece lies a shared
    /// point.
    pub fn shared(&self, other: &Self) -> Option<Point2<F>> {
        if apart(self.bounds(), other.bounds()) >= -SAME_LENGTH {
            return None;
        }
        if self.approach(other, SAME_LENGTH).is_none() {
            let corner = |one: &Self| one.outline.vertices().first().map(|vertex| vertex.point);
            let of_self = corner(self).filter(|&p| other.has(p));
            return of_self.or_else(|| corner(other).filter(|&p| self.has(p)));
        }
        self.shared_beside(other).or_else(|| other.shared_beside(self))
    }

    /// A shared point beside a piece of this region's contour.
    fn shared_beside(&self, other: &Self) -> Option<Point2<F>> {
        for (side, bounds) in self.boxed_near(other.bounds(), SAME_LENGTH) {
            let mut ends = vec![0.0, 1.0];
            let near = other.sides_near(*bounds, SAME_LENGTH);
            ends.extend(near.flat_map(|near| side.contacts(near, SAME_LENGTH)));
            ends.sort_by(f64::total_cmp);
            for (from, to) in ends.iter().zip(&ends[1..]) {
                // Three places, in case the contours come near each other in one of them.
                for share in [0.5, 0.25, 0.75] {
                    let (p, along) = side.at(from + (to - from) * share);
                    let across = Vector2::new(-along.y, along.x) * (2.0 * SAME_LENGTH / along.length());
                    // Of an opening the material is on either side, as it runs.
                    let found =
                        [p + across, p - across].into_iter().find(|&p| self.has_deep(p) && other.has_deep(p));
                    if found.is_some() {
                        return found;
                    }
                }
            }
        }
        None
    }

    /// Whether the point lies in the material; on a contour either answer may come.
    pub fn has(&self, p: Point2<F>) -> bool {
        let within = p.x >= self.low.x && p.x <= self.high.x && p.y >= self.low.y && p.y <= self.high.y;
        within && self.outline.contains(p) && !self.openings.iter().any(|opening| opening.contains(p))
    }

    fn has_deep(&self, p: Point2<F>) -> bool {
        self.has(p) && self.sides_near((p, p), SAME_LENGTH).all(|side| side.distance_to(p) > SAME_LENGTH)
    }

    /// The sides that may come within `within` of anything inside the rectangle.
    pub fn sides_near(&self, bounds: (Point2<F>, Point2<F>), within: f64) -> impl Iterator<Item = &Side<F>> {
        self.boxed_near(bounds, within).map(|(side, _)| side)
    }

    /// The same, each with its box.
    pub fn boxed_near(&self, bounds: Bounds<F>, within: f64) -> impl Iterator<Item = &(Side<F>, Bounds<F>)> {
        self.contours.0.iter().filter(move |(_, own)| apart(*own, bounds) <= within)
    }
}

/// The smallest rectangle around some points; of none one whose lower left corner lies above the upper right one.
pub fn bounds_of<F: Copy>(points: impl IntoIterator<Item = Point2<F>>) -> Bounds<F> {
    let none = (Point2::new(f64::INFINITY, f64::INFINITY), Point2::new(f64::NEG_INFINITY, f64::NEG_INFINITY));
    points.into_iter().fold(none, |(low, high), p| (low.min(p), high.max(p)))
}

/// How far two rectangles are apart, mm, along the axis where they are so most; negative, by how far they reach
/// into each other, if they overlap. Never more than what lies in them is apart.
pub fn apart<F>(a: Bounds<F>, b: Bounds<F>) -> f64 {
    let along = (b.0.x - a.1.x).max(a.0.x - b.1.x);
    along.max((b.0.y - a.1.y).max(a.0.y - b.1.y))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::polygon::to_polygon;
    use crate::tolerance::CHORD;
    use crate::{PanelFrame, SheetFrame, SheetPlacement, Vertex};
    use geo::{Area, BooleanOps, Distance, Euclidean};
    use proptest::prelude::*;

    type R = Region<PanelFrame>;

    fn rectangle(x: f64, y: f64, length: f64, width: f64) -> Path<PanelFrame> {
        Path::rectangle(x, y, x + length, y + width)
    }

    fn plain(outline: Path<PanelFrame>) -> R {
        Region::new(outline, vec![])
    }

    fn disc(x: f64, y: f64, radius: f64) -> R {
        plain(Path::circle(Point2::new(x, y), radius))
    }

    /// A square plate of 100 with a round opening of radius 40 in its middle.
    fn washer() -> R {
        Region::new(
            rectangle(0.0, 0.0, 100.0, 100.0),
            vec![Path::circle(Point2::new(50.0, 50.0), 40.0).clockwise()],
        )
    }

    /// The distance if nothing is shared; both ways round.
    fn between(a: &R, b: &R) -> Option<f64> {
        let one = a.shared(b).map_or_else(|| a.approach(b, 1000.0), |_| None);
        let other = b.shared(a).map_or_else(|| b.approach(a, 1000.0), |_| None);
        match (one, other) {
            (Some(one), Some(other)) => assert!((one - other).abs() < 1e-9, "{one} {other}"),
            (one, other) => assert_eq!(one, other),
        }
        one
    }

    fn assert_between(a: &R, b: &R, wanted: Option<f64>) {
        let found = between(a, b);
        let same = match (found, wanted) {
            (Some(found), Some(wanted)) => (found - wanted).abs() < 1e-9,
            (found, wanted) => found == wanted,
        };
        assert!(same, "{found:?} is not {wanted:?}");
    }

    #[test]
    fn contours_are_as_far_as_the_nearest_of_their_paths() {
        let paths = [rectangle(0.0, 0.0, 100.0, 60.0), Path::circle(Point2::new(30.0, 30.0), 10.0)];
        let contours = Contours::of(&paths);
        for (x, y, distance) in
            [(30.0, 45.0, 5.0), (90.0, 30.0, 10.0), (30.0, 30.0, 10.0), (103.0, 64.0, 5.0)]
        {
            assert!((contours.distance_to(Point2::new(x, y)) - distance).abs() < 1e-9, "{x} {y}");
        }
        assert!(Contours::<PanelFrame>::of([]).distance_to(Point2::origin()).is_infinite());
    }

    #[test]
    fn a_disc_inside_an_opening_is_as_far_as_the_radii_say() {
        assert_between(&washer(), &disc(50.0, 50.0, 30.0), Some(10.0));
        assert_between(&washer(), &disc(53.0, 54.0, 30.0), Some(5.0));
        assert_between(&washer(), &disc(50.0, 50.0, 40.0), Some(0.0));
        // Larger than the opening, off the middle, all over the plate, in its material.
        assert_between(&washer(), &disc(50.0, 50.0, 40.001), None);
        assert_between(&washer(), &disc(58.0, 56.01, 30.0), None);
        assert_between(&washer(), &disc(50.0, 50.0, 90.0), None);
        assert_between(&washer(), &disc(6.0, 6.0, 4.0), None);
        assert_between(&washer(), &washer(), None);
    }

    #[test]
    fn a_square_in_a_round_opening_reaches_with_its_corners() {
        // Corners at 30, 40 from the middle: 50 is beyond 40; at 18, 24 (30) they are 10 inside.
        let square = |x: f64, y: f64| plain(rectangle(50.0 - x, 50.0 - y, 2.0 * x, 2.0 * y));
        assert_between(&washer(), &square(18.0, 24.0), Some(10.0));
        assert_between(&washer(), &square(30.0, 40.0), None);
        // 24, 32 touches with all four corners.
        assert_between(&washer(), &square(24.0, 32.0), Some(0.0));
    }

    #[test]
    fn rectangles_that_touch_share_nothing_and_a_micrometre_more_does() {
        let plate = plain(rectangle(0.0, 0.0, 100.0, 50.0));
        for (x, y) in [(100.0, 0.0), (100.0, 20.0), (-100.0, -10.0), (30.0, 50.0), (100.0, 50.0)] {
            assert_between(&plate, &plain(rectangle(x, y, 100.0, 50.0)), Some(0.0));
        }
        for (x, y) in [(99.999, 0.0), (99.999, 49.999), (-99.999, 0.0), (0.0, 49.999), (0.0, 0.0)] {
            assert_between(&plate, &plain(rectangle(x, y, 100.0, 50.0)), None);
        }
        // Crossed bars have no corner in each other.
        assert_between(&plate, &plain(rectangle(40.0, -50.0, 10.0, 200.0)), None);
    }

    #[test]
    fn what_touches_from_inside_and_contours_that_run_either_way() {
        let plate = rectangle(0.0, 0.0, 100.0, 50.0);
        assert_between(&plain(plate.clone()), &disc(25.0, 25.0, 25.0), None);
        // A needle whose tip touches the edge: beside the edge nothing shared is deep, beside the needle it is.
        let needle = [(0.0, 25.0), (60.0, 20.0), (60.0, 30.0)].map(|(x, y)| Point2::new(x, y));
        assert_between(&plain(plate.clone()), &plain(Path::polygon(needle)), None);
        // Two of the same, and one beside it, with the outlines run clockwise.
        assert_between(&plain(plate.reversed()), &plain(plate.reversed()), None);
        assert_between(&plain(plate.reversed()), &plain(rectangle(100.0, 0.0, 9.0, 50.0)), Some(0.0));
    }

    #[test]
    fn a_quarter_round_beside_its_hollow_touches_along_the_arc() {
        let quarter = (std::f64::consts::PI / 8.0).tan();
        let corner = |x: f64, y: f64, bulge: f64| Vertex { point: Point2::new(x, y), bulge };
        let hollow = plain(Path::new(vec![
            corner(50.0, 0.0, 0.0),
            corner(100.0, 0.0, 0.0),
            corner(100.0, 100.0, 0.0),
            corner(0.0, 100.0, 0.0),
            corner(0.0, 50.0, -quarter),
        ]));
        let round = |grown: f64| {
            let radius = 50.0 + grown;
            plain(Path::new(vec![
                corner(0.0, 0.0, 0.0),
                corner(radius, 0.0, quarter),
                corner(0.0, radius, 0.0),
            ]))
        };
        assert_between(&hollow, &round(0.0), Some(0.0));
        assert_between(&hollow, &round(-2.0), Some(2.0));
        assert_between(&hollow, &round(0.001), None);
    }

    #[test]
    fn contours_without_corners_have_no_material() {
        assert_eq!(between(&plain(Path::new(vec![])), &washer()), None);
        assert_eq!(plain(Path::new(vec![])).shared(&washer()), None);
    }

    /// Plates with a round or square opening, half rounds and L shapes.
    fn any_part() -> impl Strategy<Value = R> {
        let angle = (std::f64::consts::PI / 8.0).tan();
        let corner =
            |x: i32, y: i32, bulge: f64| Vertex { point: Point2::new(f64::from(x), f64::from(y)), bulge };
        (0_u32..5, 20_i32..60, 20_i32..60, 2_i32..9).prop_map(move |(kind, a, b, rim)| match kind {
            0 => plain(rectangle(0.0, 0.0, f64::from(a), f64::from(b))),
            1 => Region::new(
                rectangle(0.0, 0.0, f64::from(a), f64::from(b)),
                vec![
                    rectangle(f64::from(rim), f64::from(rim), f64::from(a - 2 * rim), f64::from(b - 2 * rim))
                        .clockwise(),
                ],
            ),
            2 => Region::new(
                Path::circle(Point2::new(0.0, 0.0), f64::from(a)),
                vec![Path::circle(Point2::new(0.0, 0.0), f64::from(a - rim)).clockwise()],
            ),
            3 => plain(Path::new(vec![corner(0, 0, 0.0), corner(a, 0, angle), corner(0, b, -0.4)])),
            _ => plain(Path::new(vec![
                corner(0, 0, 0.0),
                corner(a, 0, 0.0),
                corner(a, rim, -angle),
                corner(rim, b, 0.0),
                corner(0, b, 0.0),
            ])),
        })
    }

    fn placed(part: &R, x: i32, y: i32, quarter: i32, flipped: bool) -> Region<SheetFrame> {
        let placement =
            SheetPlacement { x: f64::from(x), y: f64::from(y), angle: f64::from(quarter) * 90.0, flipped };
        Region::new(
            placement.path_to_sheet(&part.outline),
            part.openings.iter().map(|opening| placement.path_to_sheet(opening)).collect(),
        )
    }

    proptest! {
        /// Against `geo` on flattened copies: its distance is off by two chords at most, and what it finds in
        /// common beyond a chord's sliver along the whole contour is shared.
        #[test]
        fn as_geo_says_of_flattened_copies(
            a in any_part(), b in any_part(), x in -90_i32..90, y in -90_i32..90, quarter in 0..4, flipped in any::<bool>(),
        ) {
            let (a, b) = (placed(&a, 0, 0, 0, false), placed(&b, x, y, quarter, flipped));
            let flat = |region: &Region<SheetFrame>| to_polygon(&region.outline, &region.openings, CHORD);
            let (flat_a, flat_b) = (flat(&a), flat(&b));
            let area = flat_a.intersection(&flat_b).unsigned_area();
            let shared = a.shared(&b);
            prop_assert_eq!(shared.is_some(), b.shared(&a).is_some());
            if let Some(p) = shared {
                // Of one that lies wholly in the other's material it is a corner.
                let in_or_on = |region: &Region<SheetFrame>| {
                    region.has_deep(p) || region.contours.0.iter().any(|(side, _)| side.distance_to(p) < 1e-9)
                };
                prop_assert!(in_or_on(&a) && in_or_on(&b) && (a.has_deep(p) || b.has_deep(p)));
            } else {
                let contour = a.outline.length() + a.openings.iter().map(Path::length).sum::<f64>();
                prop_assert!(area < 2.0 * CHORD * contour, "{area} mm2 in common");
                let found = a.approach(&b, f64::INFINITY).unwrap();
                let theirs = Euclidean.distance(&flat_a, &flat_b);
                prop_assert!((found - theirs).abs() < 2.0 * CHORD + 1e-9, "{found} {theirs}");
            }
            if area < 1e-9 {
                // At most a sliver that flattening took away is shared.
                prop_assert!(shared.is_none() || a.approach(&b, 1.0).is_some_and(|d| d < 2.0 * CHORD));
            }
        }
    }
}
