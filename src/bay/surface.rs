//! The surfaces of a bay, each as ways out of what lies behind it.

use crate::diag::Span;
use crate::geom::tolerance::TOUCH;
use crate::geom::{Aabb, FAR, Profile};
use crate::spec::{Arch, Bay, Clearances, Side};

/// Something that the kit must not reach into: the seat back, an arch, a latch.
#[derive(Clone, Debug)]
pub(crate) struct Surface {
    /// What it is of.
    pub(crate) of: Thing,
    /// As findings call it, with its article.
    pub(crate) name: String,
    /// Where the spec gives it.
    pub(crate) span: Span,
    /// mm that the kit keeps from it.
    pub(crate) clearance: f64,
    /// The directions in which a part comes clear of it; at least one. A part reaches into it if it does so by all
    /// of them, as deep as by the shortest. The first decides exactly whether it does at all.
    pub(crate) ways: Vec<Way>,
}

/// What a surface is of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Thing {
    /// The seat back or bulkhead.
    SeatBack,
    /// The closed tailgate or doors.
    Door,
    /// A side.
    Side(Side),
    /// The roof lining.
    Roof,
    /// What the kit stands on.
    Floor,
    /// A wheel arch.
    Arch,
    /// A latch or striker.
    Latch,
}

/// A coordinate of the vehicle frame.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Axis {
    /// Forward.
    X,
    /// To the left.
    Y,
    /// Up.
    Z,
}

/// A direction out of something, and where that begins.
#[derive(Clone, Debug)]
pub(crate) struct Way {
    /// Along which axis it leads.
    pub(crate) axis: Axis,
    /// +1 if it leads towards greater coordinates, -1 if towards less.
    pub(crate) sign: f64,
    /// Along the axis, what lies behind the surface is no longer than this; [`ALL`] where it has no other end.
    pub(crate) within: [f64; 2],
    /// The flat pieces of the surface that this way leads through.
    pub(crate) facets: Vec<Facet>,
}

/// A flat piece of a surface over a convex piece of the plane of the two other axes.
#[derive(Clone, Debug)]
pub(crate) struct Facet {
    /// Corners in the plane of the two other axes (in the order x, y, z), counter-clockwise, with the surface's
    /// coordinate along the way's axis.
    pub(crate) corners: Vec<[f64; 3]>,
    /// Least and greatest of the first coordinate, then of the second.
    pub(crate) bounds: [[f64; 2]; 2],
}

impl Axis {
    /// The two other axes, by index, then its own.
    pub(crate) fn others(self) -> (usize, usize, usize) {
        match self {
            Axis::X => (1, 2, 0),
            Axis::Y => (0, 2, 1),
            Axis::Z => (0, 1, 2),
        }
    }
}

impl Facet {
    /// Counter-clockwise corners, whichever way round they come.
    fn new(mut corners: Vec<[f64; 3]>) -> Self {
        let n = corners.len();
        let doubled: f64 = (0..n)
            .map(|i| {
                let ([a, b, _], [c, d, _]) = (corners[i], corners[(i + 1) % n]);
                a * d - b * c
            })
            .sum();
        if doubled < 0.0 {
            corners.reverse();
        }
        let bounds = [0, 1].map(|k| {
            let own = corners.iter().map(|corner| corner[k]);
            own.fold([f64::INFINITY, f64::NEG_INFINITY], |[low, high], s| [low.min(s), high.max(s)])
        });
        Facet { corners, bounds }
    }

    /// A rectangle with one coordinate.
    fn level([a0, a1]: [f64; 2], [b0, b1]: [f64; 2], value: f64) -> Self {
        Facet::new(vec![[a0, b0, value], [a1, b0, value], [a1, b1, value], [a0, b1, value]])
    }
}

/// Everywhere along an axis.
pub(crate) const ALL: [f64; 2] = [-FAR, FAR];

/// All surfaces of a bay; those with a clearance grown by it if `grown`. In the order in which findings name them.
pub(crate) fn surfaces(bay: &Bay, clearances: &Clearances, grown: bool) -> Vec<Surface> {
    let by = |clearance: f64| if grown { clearance } else { 0.0 };
    let surface = |of: Thing, name: &str, span: Span, clearance: f64, ways: Vec<Way>| Surface {
        of,
        name: name.to_owned(),
        span,
        clearance,
        ways,
    };
    let seat = clearances.seat_back.value;
    let mut all = vec![surface(
        Thing::SeatBack,
        "the seat back",
        bay.seat_back.span,
        seat,
        vec![lengthwise(&bay.seat_back.value.grown(0.0, -by(seat)), -1.0)],
    )];
    let door = clearances.door.value;
    let profile = bay.door.value.grown(0.0, by(door));
    all.push(surface(Thing::Door, "the closed door", bay.door.span, door, vec![lengthwise(&profile, 1.0)]));
    let trim = clearances.trim.value;
    for (side, relief) in [(Side::Left, &bay.left), (Side::Right, &bay.right)] {
        let facets = relief.value.triangles().into_iter().map(|triangle| {
            Facet::new(triangle.map(|[x, z, reach]| [x, z, side.sign() * (reach - by(trim))]).to_vec())
        });
        let way = Way { axis: Axis::Y, sign: -side.sign(), within: ALL, facets: facets.collect() };
        all.push(surface(
            Thing::Side(side),
            &format!("the {} side", side.word()),
            relief.span,
            trim,
            vec![way],
        ));
    }
    let roof = bay.roof.value.grown(0.0, -by(trim));
    let facets = spans(&roof)
        .map(|[a, b]| Facet::new(vec![[a.0, -FAR, a.1], [b.0, -FAR, b.1], [b.0, FAR, b.1], [a.0, FAR, a.1]]));
    let way = Way { axis: Axis::Z, sign: -1.0, within: ALL, facets: facets.collect() };
    all.push(surface(Thing::Roof, "the roof", bay.roof.span, trim, vec![way]));
    let way = Way { axis: Axis::Z, sign: 1.0, within: ALL, facets: vec![Facet::level(ALL, ALL, 0.0)] };
    all.push(surface(Thing::Floor, "the floor", bay.span, 0.0, vec![way]));
    let arch = clearances.arch.value;
    for one in &bay.arches {
        let name = format!("the {} wheel arch", one.side.word());
        all.push(surface(Thing::Arch, &name, one.span, arch, arch_ways(one, by(arch))));
    }
    let latch = clearances.latch.value;
    for (i, one) in bay.latches.iter().enumerate() {
        let name = if bay.latches.len() == 1 { "the latch".to_owned() } else { format!("latch {}", i + 1) };
        all.push(surface(Thing::Latch, &name, one.span, latch, latch_ways(one.value, by(latch))));
    }
    all
}

/// Out of a latch box: forward, to both sides, up and down. Where its sides only touch is not inside.
fn latch_ways(latch: Aabb, grown: f64) -> Vec<Way> {
    let (low, high) = (latch.low, latch.high);
    // What is behind the rear edge belongs to one solid with the box.
    let x = [-FAR, high.x + grown];
    let (y, z) = ([low.y - grown, high.y + grown], [low.z - grown, high.z + grown]);
    let level = |axis, sign, a: [f64; 2], b: [f64; 2], within: [f64; 2]| {
        let value = if sign > 0.0 { within[1] } else { within[0] };
        Way { axis, sign, within, facets: vec![Facet::level(inside(a), inside(b), value)] }
    };
    vec![
        level(Axis::X, 1.0, y, z, x),
        level(Axis::Y, 1.0, x, z, y),
        level(Axis::Y, -1.0, x, z, y),
        level(Axis::Z, 1.0, x, y, z),
        level(Axis::Z, -1.0, x, y, z),
    ]
}

/// A range less its rims.
fn inside([low, high]: [f64; 2]) -> [f64; 2] {
    [low + TOUCH, high - TOUCH]
}

/// A surface across the whole bay whose x goes with z.
fn lengthwise(profile: &Profile, sign: f64) -> Way {
    let facets = spans(profile).map(|[a, b]| {
        // In the plane (y, z).
        Facet::new(vec![[-FAR, a.0, a.1], [FAR, a.0, a.1], [FAR, b.0, b.1], [-FAR, b.0, b.1]])
    });
    Way { axis: Axis::X, sign, within: ALL, facets: facets.collect() }
}

/// The straight pieces of a profile (station, value), level ones out to [`FAR`] at both ends.
fn spans(profile: &Profile) -> impl Iterator<Item = [(f64, f64); 2]> {
    let points = profile.points();
    let (first, last) = (points[0], points[points.len() - 1]);
    let mut all = vec![(-FAR, first.1)];
    all.extend_from_slice(points);
    all.push((FAR, last.1));
    (1..all.len()).map(move |i| [all[i - 1], all[i]])
}

/// Out of an arch: inwards, upwards, and past its two ends. Where its sides only touch is not inside.
fn arch_ways(arch: &Arch, grown: f64) -> Vec<Way> {
    let sign = arch.side.sign();
    let face = sign * (arch.from_centre.value - grown);
    let outward = inside(if sign > 0.0 { [face, FAR] } else { [-FAR, face] });
    let profile = arch.profile.grown(grown, grown);
    let points = profile.points();
    let (from, to, top) = (points[0].0, points[points.len() - 1].0, profile.greatest());
    let piece = |pair: &[(f64, f64)]| {
        let x = [pair[0].0.max(from + TOUCH), pair[1].0.min(to - TOUCH)];
        x.map(|x| (x, profile.at(x)))
    };
    let pieces: Vec<[(f64, f64); 2]> = points.windows(2).map(piece).collect();
    let inwards = pieces.iter().map(|&[a, b]| {
        let (high_a, high_b) = (a.1 - TOUCH, b.1 - TOUCH);
        Facet::new(vec![[a.0, -FAR, face], [b.0, -FAR, face], [b.0, high_b, face], [a.0, high_a, face]])
    });
    let upwards = pieces.iter().map(|&[a, b]| {
        let [y0, y1] = outward;
        Facet::new(vec![[a.0, y0, a.1], [b.0, y0, b.1], [b.0, y1, b.1], [a.0, y1, a.1]])
    });
    let (inwards, upwards) = (inwards.collect(), upwards.collect());
    // Past the ends an arch counts as high as its highest place: never less than there is.
    let end = |sign, x| {
        let facets = vec![Facet::level(outward, [-FAR, top - TOUCH], x)];
        Way { axis: Axis::X, sign, within: [from, to], facets }
    };
    vec![
        Way { axis: Axis::Y, sign: -sign, within: ALL, facets: inwards },
        Way { axis: Axis::Z, sign: 1.0, within: ALL, facets: upwards },
        end(-1.0, from),
        end(1.0, to),
    ]
}
