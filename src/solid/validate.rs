//! Whether a plate has a solid at all, decided in the plane: the kernel checks nothing of this.
//!
//! Takes a plate, gives the first fault: contours that run the wrong way, meet, or lie in the wrong place.
//! Contours are compared on flattened copies, so two that are nearer than about 0.01 mm may count as meeting;
//! bores by their true circles.

use super::{Contour, Flaw, PlateFace, RoundHole, SolidFault, SolidSpec};
use crate::geom::tolerance::{CHORD, SAME_LENGTH};
use crate::geom::{PanelFrame, Path, Point2, Vertex};
use geo::line_intersection::{LineIntersection, line_intersection};
use geo::{Coord, Line};

type P = Point2<PanelFrame>;

/// Nothing, or the first reason why the plate has no solid.
pub(super) fn validate(spec: &SolidSpec) -> Result<(), SolidFault> {
    let somewhere = spec.outline.vertices().first().map_or(P::origin(), |vertex| vertex.point);
    ensure(spec.thickness.is_finite() && spec.thickness > 0.0, Flaw::Thickness, somewhere)?;
    for (contour, path) in contours(spec) {
        well_formed(contour, path)?;
    }
    nothing_meets(spec)?;
    openings_in_place(spec)?;
    for (index, bore) in spec.bores.iter().enumerate() {
        bore_in_place(spec, Contour::Bore(index), bore)?;
    }
    bores_apart(&spec.bores)
}

fn ensure(holds: bool, flaw: Flaw, at: P) -> Result<(), SolidFault> {
    if holds { Ok(()) } else { Err(SolidFault { flaw, at }) }
}

/// The outline and the openings.
fn contours<'a>(spec: &'a SolidSpec) -> impl Iterator<Item = (Contour, &'a Path<PanelFrame>)> {
    let openings = spec.openings.iter().enumerate().map(|(index, path)| (Contour::Opening(index), path));
    std::iter::once((Contour::Outline, spec.outline)).chain(openings)
}

fn well_formed(contour: Contour, path: &Path<PanelFrame>) -> Result<(), SolidFault> {
    let at = path.vertices().first().map_or(P::origin(), |vertex| vertex.point);
    ensure(path.vertices().len() >= 2, Flaw::Degenerate(contour), at)?;
    for (a, b, bulge) in path.sides() {
        let sound = bulge.is_finite() && (b - a).length().is_finite() && (b - a).length() > SAME_LENGTH;
        ensure(sound, Flaw::Degenerate(contour), a)?;
    }
    let area = if contour == Contour::Outline { path.area() } else { -path.area() };
    ensure(area > 0.0, Flaw::WrongWay(contour), at)
}

/// A side of a contour with its chords and the rectangle around them.
struct Side {
    contour: Contour,
    points: Vec<P>,
    low: P,
    high: P,
}

impl Side {
    fn new(contour: Contour, (a, b, bulge): (P, P, f64)) -> Self {
        // As a path of its own the side leads back in a straight line; its points are the chords' ends.
        let there = Path::new(vec![Vertex { point: a, bulge }, Vertex { point: b, bulge: 0.0 }]);
        let points = there.flattened(CHORD);
        let low = points.iter().fold(a, |low, p| low.min(*p));
        let high = points.iter().fold(a, |high, p| high.max(*p));
        Side { contour, points, low, high }
    }

    fn chords(&self) -> impl Iterator<Item = Line<f64>> + '_ {
        let coord = |p: P| Coord { x: p.x, y: p.y };
        self.points.windows(2).map(move |pair| Line::new(coord(pair[0]), coord(pair[1])))
    }

    fn ends(&self) -> [P; 2] {
        [self.points[0], self.points[self.points.len() - 1]]
    }

    /// A point where this side meets the other, corners that they share left out.
    fn meeting(&self, other: &Side) -> Option<P> {
        let shared = |p: P| {
            let near = |end: &P| (*end - p).length() <= SAME_LENGTH;
            self.contour == other.contour && self.ends().iter().any(near) && other.ends().iter().any(near)
        };
        self.chords()
            .flat_map(|one| other.chords().map(move |two| (one, two)))
            .filter_map(|(one, two)| line_intersection(one, two))
            .flat_map(|found| match found {
                LineIntersection::SinglePoint { intersection: c, .. } => [c, c],
                LineIntersection::Collinear { intersection } => [intersection.start, intersection.end],
            })
            .map(|c| P::new(c.x, c.y))
            .find(|p| !shared(*p))
    }
}

/// No contour meets another or itself. The sides are swept from left to right.
fn nothing_meets(spec: &SolidSpec) -> Result<(), SolidFault> {
    let mut sides: Vec<Side> = contours(spec)
        .flat_map(|(contour, path)| path.sides().map(move |side| Side::new(contour, side)))
        .collect();
    sides.sort_by(|a, b| a.low.x.total_cmp(&b.low.x));
    for (i, one) in sides.iter().enumerate() {
        for other in sides[i + 1..].iter().take_while(|other| other.low.x <= one.high.x) {
            if other.low.y > one.high.y || other.high.y < one.low.y {
                continue;
            }
            if let Some(at) = one.meeting(other) {
                let (first, second) = (one.contour.min(other.contour), one.contour.max(other.contour));
                return Err(SolidFault { flaw: Flaw::Meet(first, second), at });
            }
        }
    }
    Ok(())
}

/// Openings lie within the outline and not within each other. As no contours meet, one corner decides.
fn openings_in_place(spec: &SolidSpec) -> Result<(), SolidFault> {
    for (i, path) in spec.openings.iter().enumerate() {
        let at = path.vertices()[0].point;
        ensure(spec.outline.contains(at), Flaw::Outside(Contour::Opening(i)), at)?;
        for (j, other) in spec.openings.iter().enumerate().filter(|(j, _)| *j != i) {
            ensure(!other.contains(at), Flaw::Within(Contour::Opening(i), Contour::Opening(j)), at)?;
        }
    }
    Ok(())
}

/// A bore has a size, its countersink fits it, and at its widest it clears the outline and the openings.
fn bore_in_place(spec: &SolidSpec, contour: Contour, bore: &RoundHole) -> Result<(), SolidFault> {
    let at = bore.centre;
    let sized =
        bore.diameter > SAME_LENGTH && bore.diameter.is_finite() && at.x.is_finite() && at.y.is_finite();
    ensure(sized, Flaw::Degenerate(contour), at)?;
    if let Some(cone) = bore.countersink {
        let wider = cone.diameter.is_finite() && cone.diameter > bore.diameter + SAME_LENGTH;
        let shallower = cone.depth > SAME_LENGTH && cone.depth < spec.thickness - SAME_LENGTH;
        ensure(wider && shallower, Flaw::Countersink(contour), at)?;
    }
    ensure(spec.outline.contains(at), Flaw::Outside(contour), at)?;
    for (other, path) in contours(spec) {
        ensure(path.distance_to(at) > bore.widest() + SAME_LENGTH, Flaw::Meet(contour, other), at)?;
        if other != Contour::Outline {
            ensure(!path.contains(at), Flaw::Within(contour, other), at)?;
        }
    }
    Ok(())
}

/// No bore meets another. A bore's radius changes with depth as a bent line that sags downward, so the sum of
/// two is greatest at one of the faces: to look there is enough.
fn bores_apart(bores: &[RoundHole]) -> Result<(), SolidFault> {
    let mut order: Vec<usize> = (0..bores.len()).collect();
    let left = |bore: &RoundHole| bore.centre.x - bore.widest();
    order.sort_by(|&a, &b| left(&bores[a]).total_cmp(&left(&bores[b])));
    for (i, &a) in order.iter().enumerate() {
        let (one, right) = (&bores[a], bores[a].centre.x + bores[a].widest());
        for &b in order[i + 1..].iter().take_while(|&&b| left(&bores[b]) <= right) {
            let other = &bores[b];
            let distance = (other.centre - one.centre).length();
            let needed = [PlateFace::A, PlateFace::B].map(|face| one.radius_at(face) + other.radius_at(face));
            let apart = distance > needed[0].max(needed[1]) + SAME_LENGTH;
            let (first, second) = (a.min(b), a.max(b));
            ensure(apart, Flaw::Meet(Contour::Bore(first), Contour::Bore(second)), bores[second].centre)?;
        }
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::solid::Countersink;

    fn hole(x: f64, y: f64, diameter: f64) -> RoundHole {
        RoundHole { centre: P::new(x, y), diameter, countersink: None }
    }

    fn countersunk(x: f64, face: PlateFace) -> RoundHole {
        RoundHole {
            countersink: Some(Countersink { diameter: 12.0, depth: 3.0, face }),
            ..hole(x, 50.0, 6.0)
        }
    }

    /// The flaw of a plate 200 x 100 x 12 with these openings and bores.
    fn flaw(openings: &[Path<PanelFrame>], bores: Vec<RoundHole>) -> Option<Flaw> {
        let outline = Path::rectangle(0.0, 0.0, 200.0, 100.0);
        let spec = SolidSpec { outline: &outline, openings, bores, thickness: 12.0 };
        validate(&spec).err().map(|fault| fault.flaw)
    }

    fn outline_flaw(points: &[(f64, f64)], thickness: f64) -> Option<SolidFault> {
        let outline = Path::polygon(points.iter().map(|&(x, y)| P::new(x, y)));
        validate(&SolidSpec { outline: &outline, openings: &[], bores: vec![], thickness }).err()
    }

    #[test]
    fn a_good_plate_has_no_fault() {
        let slot = Path::rectangle(20.0, 20.0, 60.0, 40.0).clockwise();
        let round = Path::circle(P::new(150.0, 50.0), 30.0).clockwise();
        assert_eq!(flaw(&[slot, round], vec![hole(10.0, 10.0, 6.6), hole(10.0, 90.0, 6.6)]), None);
    }

    #[test]
    fn outlines_that_are_none() {
        let square = [(0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0)];
        let found = |points: &[(f64, f64)]| outline_flaw(points, 5.0).map(|fault| fault.flaw);
        assert_eq!(found(&square), None);
        let backwards: Vec<_> = square.into_iter().rev().collect();
        assert_eq!(found(&backwards), Some(Flaw::WrongWay(Contour::Outline)));
        assert_eq!(found(&[]), Some(Flaw::Degenerate(Contour::Outline)));
        assert_eq!(found(&[(0.0, 0.0), (0.0, 0.0), (5.0, 5.0)]), Some(Flaw::Degenerate(Contour::Outline)));
        assert_eq!(
            found(&[(0.0, 0.0), (f64::NAN, 0.0), (5.0, 5.0)]),
            Some(Flaw::Degenerate(Contour::Outline))
        );
        for thickness in [0.0, -1.0, f64::NAN, f64::INFINITY] {
            assert_eq!(outline_flaw(&square, thickness).map(|fault| fault.flaw), Some(Flaw::Thickness));
        }
    }

    #[test]
    fn an_outline_that_crosses_itself_or_runs_back_on_itself() {
        let bow = [(0.0, 0.0), (40.0, 0.0), (40.0, 30.0), (10.0, -10.0), (0.0, 30.0)];
        let fault = outline_flaw(&bow, 5.0).unwrap();
        assert_eq!(fault.flaw, Flaw::Meet(Contour::Outline, Contour::Outline));
        assert!(fault.at.y.abs() < 1e-9, "{fault}");
        let spike = [(0.0, 0.0), (40.0, 0.0), (40.0, 60.0), (40.0, 30.0), (0.0, 30.0)];
        assert!(outline_flaw(&spike, 5.0).is_some());
        let touching = [(0.0, 0.0), (40.0, 0.0), (40.0, 30.0), (20.0, 0.0), (0.0, 30.0)];
        assert!(outline_flaw(&touching, 5.0).is_some());
    }

    #[test]
    fn openings_that_run_the_wrong_way_or_lie_wrongly() {
        let slot = |x: f64, y: f64| Path::rectangle(x, y, x + 40.0, y + 20.0).clockwise();
        let (o1, o2) = (Contour::Opening(0), Contour::Opening(1));
        assert_eq!(flaw(&[slot(20.0, 20.0).reversed()], vec![]), Some(Flaw::WrongWay(o1)));
        assert_eq!(flaw(&[slot(220.0, 20.0)], vec![]), Some(Flaw::Outside(o1)));
        assert_eq!(flaw(&[slot(180.0, 20.0)], vec![]), Some(Flaw::Meet(Contour::Outline, o1)));
        assert_eq!(flaw(&[slot(160.0, 20.0)], vec![]), Some(Flaw::Meet(Contour::Outline, o1)));
        assert_eq!(flaw(&[slot(20.0, 20.0), slot(50.0, 30.0)], vec![]), Some(Flaw::Meet(o1, o2)));
        let inner = Path::circle(P::new(40.0, 30.0), 5.0).clockwise();
        assert_eq!(flaw(&[slot(20.0, 20.0), inner], vec![]), Some(Flaw::Within(o2, o1)));
    }

    #[test]
    fn bores_that_lie_wrongly() {
        let (b1, b2) = (Contour::Bore(0), Contour::Bore(1));
        assert_eq!(flaw(&[], vec![hole(250.0, 50.0, 6.0)]), Some(Flaw::Outside(b1)));
        assert_eq!(flaw(&[], vec![hole(3.0, 50.0, 6.0)]), Some(Flaw::Meet(b1, Contour::Outline)));
        assert_eq!(flaw(&[], vec![hole(3.01, 50.0, 6.0)]), None);
        assert_eq!(flaw(&[], vec![hole(50.0, 50.0, 6.0), hole(44.0, 50.0, 6.0)]), Some(Flaw::Meet(b1, b2)));
        assert_eq!(flaw(&[], vec![hole(50.0, 50.0, 6.0), hole(43.9, 50.0, 6.0)]), None);
        let slot = Path::rectangle(20.0, 20.0, 60.0, 40.0).clockwise();
        let opening = Contour::Opening(0);
        assert_eq!(
            flaw(std::slice::from_ref(&slot), vec![hole(40.0, 30.0, 6.0)]),
            Some(Flaw::Within(b1, opening))
        );
        assert_eq!(flaw(&[slot], vec![hole(40.0, 42.0, 6.0)]), Some(Flaw::Meet(b1, opening)));
        assert_eq!(flaw(&[], vec![hole(40.0, 42.0, f64::NAN)]), Some(Flaw::Degenerate(b1)));
    }

    #[test]
    fn countersinks_meet_only_on_the_face_that_they_share() {
        let (a, b) = (PlateFace::A, PlateFace::B);
        // Cones 12 wide, 10 apart: they meet on one face; from opposite faces 12 against 6 leaves 1 between.
        let met = Some(Flaw::Meet(Contour::Bore(0), Contour::Bore(1)));
        assert_eq!(flaw(&[], vec![countersunk(50.0, a), countersunk(60.0, a)]), met);
        assert_eq!(flaw(&[], vec![countersunk(50.0, a), countersunk(60.0, b)]), None);
        assert_eq!(flaw(&[], vec![countersunk(50.0, a), countersunk(59.0, b)]), met);
        for (diameter, depth) in [(6.0, 3.0), (12.0, 12.0), (12.0, 0.0), (f64::NAN, 3.0)] {
            let cone = Countersink { diameter, depth, face: a };
            let bore = RoundHole { countersink: Some(cone), ..hole(50.0, 50.0, 6.0) };
            assert_eq!(flaw(&[], vec![bore]), Some(Flaw::Countersink(Contour::Bore(0))));
        }
    }

    #[test]
    fn a_fault_says_what_and_where() {
        let outline = Path::rectangle(0.0, 0.0, 200.0, 100.0);
        let bores = vec![hole(50.0, 50.0, 6.0), hole(53.5, 50.0, 6.0)];
        let fault =
            validate(&SolidSpec { outline: &outline, openings: &[], bores, thickness: 12.0 }).unwrap_err();
        assert_eq!(fault.to_string(), "bore 1 meets bore 2, at u 53.500 v 50.000");
    }
}
