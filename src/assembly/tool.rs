//! Whether a tool gets to a bolt: the room that drivers, spanners and keys take, against what stands there.
//!
//! A driver or socket comes straight along the bolt's axis. A spanner or an L-shaped key comes from beside it and must
//! swing far enough to be set on again. Each end of a bolt that has to be turned or held gives the ways in which it can
//! be, each with what is in the way.

use crate::catalogue::{Hardware, NutKind, across_corners};
use crate::geom::tolerance::TOUCH;
use crate::geom::{Aabb, Axes, Bounds, PanelFrame, Placement, Plate, Point2, Point3, Vector3, VehicleFrame};
use crate::joints::solids::Part;
use crate::joints::{Bolt, BoltId};
use crate::layout::BodyId;
use std::collections::BTreeSet;
use std::f64::consts::TAU;
use std::sync::LazyLock;

/// Diameter and length of a driver with its bit holder or socket, mm (common practice, no source).
const DRIVER: (f64, f64) = (25.0, 120.0);
/// mm by which a socket, or the bit of a driver, is wider than the corners of its hexagon (common practice, no source).
const SLIM: f64 = 4.0;
/// mm that a slim socket or bit reaches from its ratchet or handle (common practice, no source).
const EXTENSION: f64 = 100.0;
/// Diameter and height of a small ratchet's head, mm (common practice, no source).
const RATCHET: (f64, f64) = (22.0, 40.0);
/// Length and width of an open spanner's handle, in widths across flats (common practice, no source).
const HANDLE: (f64, f64) = (12.0, 0.9);
/// How far its jaws reach beyond the nut's axis, how far back from it, and how wide they are, in widths across flats (common
/// practice, no source).
const JAWS: (f64, f64, f64) = (0.55, 1.05, 2.1);
/// Fingers on the outer half of a handle: mm across it, and mm away from the panel (a decision of this project).
const FINGERS: (f64, f64) = (50.0, 40.0);
/// Width across flats, short arm and long arm of hexagon keys, mm (ISO 2936, from memory).
const KEYS: [(f64, f64, f64); 9] = [
    (2.0, 16.0, 50.0),
    (2.5, 18.0, 56.0),
    (3.0, 20.0, 63.0),
    (4.0, 25.0, 70.0),
    (5.0, 28.0, 80.0),
    (6.0, 32.0, 90.0),
    (8.0, 36.0, 100.0),
    (10.0, 40.0, 112.0),
    (12.0, 45.0, 125.0),
];
/// Directions in which a handle is looked at, evenly round.
const DIRECTIONS: usize = 24;
/// How many neighbouring directions must be free: a key is set on again every 60 degrees, an open spanner, turned over, every
/// 30.
const SWING: (usize, usize) = (5, 3);
/// mm between an arc and the chords that stand for it here.
const CHORD: f64 = 0.1;
/// mm between places at which a tool is looked at.
const STEP: f64 = 5.0;

/// An end of a bolt.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum End {
    /// Its head.
    Head,
    /// Its nut.
    Nut,
}

/// One way to get a tool to an end: what is in its way.
pub(super) type InTheWay = BTreeSet<usize>;

/// An end of a bolt that wants a tool.
#[derive(Debug)]
pub(super) struct Access {
    /// Which end.
    pub(super) end: End,
    /// For each way to get a tool there the solids in its way, by index; a free way has none.
    pub(super) ways: Vec<InTheWay>,
}

/// The box beyond which no tool of a bolt reaches.
pub(super) fn reach(bolt: &Bolt) -> Aabb {
    let head = bolt.hardware.head.key;
    let key = bolt.hardware.nut.as_ref().map_or(head, |nut| nut.across_flats.max(head));
    let straight = DRIVER.1.max(EXTENSION + RATCHET.1);
    let arm = KEYS[KEYS.len() - 1].2.max(HANDLE.0 * key) + FINGERS.0;
    let stack = bolt.hardware.head_height() + bolt.hardware.nut_height() + bolt.padding;
    let margin = straight.max(arm) + stack;
    let round = Vector3::new(margin, margin, margin);
    let ends = [bolt.origin, bolt.origin + bolt.direction * bolt.grip];
    Aabb::around(ends.into_iter().flat_map(|end| [end - round, end + round]))
}

/// The ends of a bolt that want a tool. `near` are the solids that may be in the way, with what the caller calls them.
pub(super) fn accesses(bolt: &Bolt, near: &[(usize, &Obstacle)]) -> Vec<Access> {
    let own = |solid: &Obstacle| match solid.part {
        Part::Slide(i) => bolt.slides.contains(&i),
        Part::Fixture(i) => bolt.fixture == Some(i),
        _ => false,
    };
    let near: Vec<_> = near.iter().filter(|(_, solid)| !own(solid)).copied().collect();
    let mut accesses = vec![head(bolt, &near)];
    accesses.extend(nut(bolt, &near));
    accesses
}

fn head(bolt: &Bolt, near: &[(usize, &Obstacle)]) -> Access {
    let head = &bolt.hardware.head;
    let out = -bolt.direction;
    let washer = bolt.hardware.head_washer.as_ref().map_or(0.0, |washer| washer.thickness);
    let by_hexagon = head.socket_depth <= 0.0;
    let foot = if by_hexagon { washer } else { bolt.hardware.head_height() };
    let at = bolt.origin + out * (foot + bolt.padding);
    let mut ways = straight(at, out, head.key, near);
    if ways.iter().all(|way| !way.is_empty()) {
        if by_hexagon {
            ways.extend(swings(near, (out, SWING.1), |way| spanner(at, out, way, head.key, head.height)));
        } else {
            let key = KEYS.iter().find(|key| key.0 >= head.key).unwrap_or(&KEYS[KEYS.len() - 1]);
            // Its short arm stands in the socket whichever way the long one goes.
            let (elbow, short) = (at + out * (key.1 - key.0), Flat::Disc(key.0 / 2.0));
            let upright = met(&Piece { at, flat: short, out, length: key.1 }, near);
            let ways_of_arm = swings(near, (out, SWING.0), |way| key_arm(elbow, out, way, *key));
            ways.extend(ways_of_arm.into_iter().map(|way| &way | &upright));
        }
    }
    Access { end: End::Head, ways }
}

/// A nut that lies outside a panel; one that is held in a slot and an eye, which its hook holds, want no tool.
fn nut(bolt: &Bolt, near: &[(usize, &Obstacle)]) -> Option<Access> {
    let nut = bolt.hardware.nut.as_ref().filter(|nut| bolt.held_in.is_none() && nut.kind != NutKind::Eye)?;
    let out = bolt.direction;
    let washers: f64 = bolt.hardware.nut_washers.iter().map(|washer| washer.thickness).sum();
    let at = bolt.origin + out * (bolt.grip + washers);
    let mut ways = straight(at, out, nut.across_flats, near);
    if ways.iter().all(|way| !way.is_empty()) {
        ways.extend(swings(near, (out, SWING.1), |way| spanner(at, out, way, nut.across_flats, nut.height)));
    }
    Some(Access { end: End::Nut, ways })
}

/// A bolt's head and nut with their washers, as round as they are, where they stand out of the panels.
pub(super) fn ends_of(id: BoltId, bolt: &Bolt) -> Vec<Obstacle> {
    let Hardware { head, head_washer, nut_washers, nut, proud, .. } = &bolt.hardware;
    let mut rods: Vec<(Point3<VehicleFrame>, Vector3<VehicleFrame>, f64, f64)> = Vec::new();
    if bolt.solids.head.is_some() {
        let mut at = bolt.origin - bolt.direction * bolt.padding;
        if let Some(washer) = head_washer {
            rods.push((at, -bolt.direction, washer.outer, washer.thickness));
            at -= bolt.direction * washer.thickness;
        }
        rods.push((at, -bolt.direction, head.width, head.height));
    }
    if let (Some(_), Some(nut)) = (bolt.solids.nut, nut) {
        let mut at = bolt.origin + bolt.direction * bolt.grip;
        for washer in nut_washers {
            rods.push((at, bolt.direction, washer.outer, washer.thickness));
            at += bolt.direction * washer.thickness;
        }
        let height = (nut.height + proud).max(nut.ring.unwrap_or(0.0));
        rods.push((at, bolt.direction, nut.across_corners(), height));
    }
    rods.into_iter().map(|rod| round(id, bolt, rod)).collect()
}

fn round(
    id: BoltId,
    bolt: &Bolt,
    (at, along, diameter, height): (Point3<VehicleFrame>, Vector3<VehicleFrame>, f64, f64),
) -> Obstacle {
    let [u, _] = across(along);
    let radius = diameter / 2.0;
    Obstacle {
        part: Part::Hardware(id),
        body: bolt.body,
        aabb: around_disc(at, along, radius).swept(along * height),
        placement: Placement { origin: at, axes: Axes::from_length_and_face(u, along) },
        thickness: height,
        shape: Shape::Disc(radius),
    }
}

/// Part of a tool: a flat shape square to the bolt's axis, drawn out along it.
#[derive(Clone, Copy, Debug)]
struct Piece {
    /// The middle of a disc, or of the end of a bar.
    at: Point3<VehicleFrame>,
    /// The flat shape.
    flat: Flat,
    /// Unit vector away from the panel.
    out: Vector3<VehicleFrame>,
    /// mm along `out`.
    length: f64,
}

/// A shape of a [`Piece`].
#[derive(Clone, Copy, Debug)]
enum Flat {
    /// Its radius, mm.
    Disc(f64),
    /// The way that it goes, a unit vector, its length and its width, mm.
    Bar(Vector3<VehicleFrame>, f64, f64),
}

impl Piece {
    /// The box around its places, drawn out.
    fn aabb(&self) -> Aabb {
        let (out, at) = (self.out, self.at);
        let flat = match self.flat {
            Flat::Disc(radius) => around_disc(at, out, radius - TOUCH),
            Flat::Bar(way, length, width) => {
                let side = out.cross(way) * (width / 2.0);
                let ends = [at, at + way * length];
                Aabb::around(ends.into_iter().flat_map(|end| [end - side, end + side]))
            }
        };
        flat.swept(out * self.length)
    }

    /// Places at its lower end, its rim among them; a disc's a little within, so that what it only touches is not in its way.
    fn places(&self) -> Vec<Point3<VehicleFrame>> {
        let at = self.at;
        match self.flat {
            Flat::Disc(radius) => {
                let rim = radius - TOUCH;
                let half = directions(self.out).step_by(3).map(|way| way * (rim / 2.0));
                let whole = directions(self.out).map(|way| way * rim);
                std::iter::once(at).chain(half.chain(whole).map(|by| at + by)).collect()
            }
            Flat::Bar(way, length, width) => {
                let side = self.out.cross(way);
                let steps = (length / STEP).ceil();
                let along =
                    (0..).map(f64::from).take_while(|i| *i <= steps).map(|i| at + way * (length * i / steps));
                along
                    .flat_map(|p| [-0.5, -0.25, 0.0, 0.25, 0.5].map(|share| p + side * (share * width)))
                    .collect()
            }
        }
    }
}

/// The box around a disc square to `out`.
fn around_disc(at: Point3<VehicleFrame>, out: Vector3<VehicleFrame>, radius: f64) -> Aabb {
    let half = Vector3::from(out.to_array().map(|along| radius * (1.0 - along * along).max(0.0).sqrt()));
    Aabb { low: at - half, high: at + half }
}

/// Two unit vectors square to each other and to `out`.
fn across(out: Vector3<VehicleFrame>) -> [Vector3<VehicleFrame>; 2] {
    let some = if out.x.abs() < 0.9 { Vector3::new(1.0, 0.0, 0.0) } else { Vector3::new(0.0, 1.0, 0.0) };
    let first = out.cross(some).normalize();
    [first, out.cross(first)]
}

/// Unit vectors square to `out`, evenly round.
fn directions(out: Vector3<VehicleFrame>) -> impl Iterator<Item = Vector3<VehicleFrame>> {
    static ROUND: LazyLock<[(f64, f64); DIRECTIONS]> = LazyLock::new(|| {
        std::array::from_fn(|i| {
            let (sin, cos) = (TAU * i as f64 / DIRECTIONS as f64).sin_cos();
            (cos, sin)
        })
    });
    let [a, b] = across(out);
    ROUND.iter().map(move |&(cos, sin)| a * cos + b * sin)
}

/// What is in the way of a tool that comes along the axis: of a stout driver, else of a slim socket or bit.
fn straight(
    at: Point3<VehicleFrame>,
    out: Vector3<VehicleFrame>,
    key: f64,
    near: &[(usize, &Obstacle)],
) -> Vec<InTheWay> {
    let slim = f64::midpoint(across_corners(key), SLIM);
    let rod = |at, radius, length| Piece { at, flat: Flat::Disc(radius), out, length };
    let stout = met(&rod(at, slim.max(DRIVER.0 / 2.0), DRIVER.1), near);
    if stout.is_empty() {
        return vec![stout];
    }
    let (radius, height) = (RATCHET.0 / 2.0, RATCHET.1);
    let slim = [rod(at, slim, EXTENSION), rod(at + out * EXTENSION, radius, height)];
    vec![stout, slim.iter().flat_map(|piece| met(piece, near)).collect()]
}

/// An open spanner on a hexagon that stands on `at`, and the fingers that turn it.
fn spanner(
    at: Point3<VehicleFrame>,
    out: Vector3<VehicleFrame>,
    way: Vector3<VehicleFrame>,
    key: f64,
    thickness: f64,
) -> [Piece; 3] {
    let (ahead, behind, across) = JAWS;
    let (length, width) = (HANDLE.0 * key, HANDLE.1 * key);
    let bar = |at, length, width| Piece { at, flat: Flat::Bar(way, length, width), out, length: thickness };
    [
        bar(at - way * (ahead * key), (ahead + behind) * key, across * key),
        bar(at, length, width),
        fingers(at, out, way, length),
    ]
}

/// The long arm of a hexagon key whose elbow is at `at`, and the fingers that turn it.
fn key_arm(
    at: Point3<VehicleFrame>,
    out: Vector3<VehicleFrame>,
    way: Vector3<VehicleFrame>,
    (key, _, long): (f64, f64, f64),
) -> [Piece; 2] {
    [Piece { at, flat: Flat::Bar(way, long, key), out, length: key }, fingers(at, out, way, long)]
}

/// Fingers on a handle of this length.
fn fingers(
    at: Point3<VehicleFrame>,
    out: Vector3<VehicleFrame>,
    way: Vector3<VehicleFrame>,
    length: f64,
) -> Piece {
    let (width, height) = FINGERS;
    Piece { at: at + way * (length / 2.0), flat: Flat::Bar(way, length / 2.0, width), out, length: height }
}

/// What is in the way of a handle, for each run of so many neighbouring directions.
fn swings<const N: usize>(
    near: &[(usize, &Obstacle)],
    (out, wanted): (Vector3<VehicleFrame>, usize),
    pieces: impl Fn(Vector3<VehicleFrame>) -> [Piece; N],
) -> Vec<InTheWay> {
    let per_way: Vec<InTheWay> =
        directions(out).map(|way| pieces(way).iter().flat_map(|piece| met(piece, near)).collect()).collect();
    let n = per_way.len();
    let runs =
        (0..n).map(|first| (0..wanted).flat_map(|i| per_way[(first + i) % n].iter().copied()).collect());
    runs.collect()
}

/// The solids that a piece would reach into.
fn met(piece: &Piece, near: &[(usize, &Obstacle)]) -> InTheWay {
    let room = piece.aabb();
    let mut candidates = near.iter().filter(|(_, solid)| room.overlap(solid.aabb) > TOUCH).peekable();
    if candidates.peek().is_none() {
        return InTheWay::new();
    }
    let places = piece.places();
    candidates.filter(|(_, solid)| reaches_into(piece, &places, solid)).map(|(i, _)| *i).collect()
}

fn reaches_into(piece: &Piece, places: &[Point3<VehicleFrame>], solid: &Obstacle) -> bool {
    let out = solid.placement.direction_to_panel(piece.out);
    let top = solid.thickness - TOUCH;
    let flat = places.iter().map(|&p| solid.placement.to_panel(p));
    if out.z.abs() > 0.999 {
        let through = |w: f64| {
            let (low, high) = if out.z > 0.0 { (w, w + piece.length) } else { (w - piece.length, w) };
            low < top && high > TOUCH
        };
        return flat.filter(|p| through(p.z)).any(|p| solid.has(p.xy()));
    }
    let steps = (piece.length / STEP).ceil().max(1.0);
    for p in flat {
        let mut i = 0.0;
        while i <= steps {
            let q = p + out * (piece.length * i / steps);
            if q.z > TOUCH && q.z < top && solid.has(q.xy()) {
                return true;
            }
            i += 1.0;
        }
    }
    false
}

/// A solid that a tool may meet, ready to be asked often.
#[derive(Debug)]
pub(super) struct Obstacle {
    pub(super) part: Part,
    pub(super) body: BodyId,
    pub(super) aabb: Aabb,
    placement: Placement,
    thickness: f64,
    shape: Shape,
}

/// The flat shape of an [`Obstacle`].
#[derive(Debug)]
enum Shape {
    /// Around the plate's origin, mm.
    Disc(f64),
    /// Outline and openings as polygons, and the rectangle around them: inside is what an odd number of them encloses.
    Rings(Bounds<PanelFrame>, Vec<Vec<Point2<PanelFrame>>>),
}

impl Obstacle {
    pub(super) fn new(part: Part, body: BodyId, plate: &Plate) -> Self {
        let paths = std::iter::once(&plate.outline).chain(&plate.openings);
        let rings = paths.map(|path| path.flattened(CHORD)).collect();
        Obstacle {
            part,
            body,
            aabb: plate.aabb(),
            placement: plate.placement,
            thickness: plate.thickness,
            shape: Shape::Rings(plate.outline.bounds(), rings),
        }
    }

    /// Whether there is material at a place of the plate.
    fn has(&self, p: Point2<PanelFrame>) -> bool {
        let (low, high, rings) = match &self.shape {
            Shape::Disc(radius) => return p.to_vector().square_length() < radius * radius,
            Shape::Rings((low, high), rings) => (low, high, rings),
        };
        if p.x <= low.x || p.x >= high.x || p.y <= low.y || p.y >= high.y {
            return false;
        }
        let mut inside = false;
        for ring in rings {
            let mut from = ring[ring.len() - 1];
            for &to in ring {
                if (from.y > p.y) != (to.y > p.y) {
                    let x = from.x + (p.y - from.y) / (to.y - from.y) * (to.x - from.x);
                    inside ^= x > p.x;
                }
                from = to;
            }
        }
        inside
    }
}
