//! Boxes on paper: which way one looks, and in which order boxes are painted so that the nearer hides the
//! farther.
//!
//! Takes axis-aligned boxes that do not reach into each other, which is what a kit is made of; gives flat shapes
//! from back to front.

use super::{Area, Spot};
use crate::geom::tolerance::SAME_LENGTH;
use crate::geom::{Aabb, Path, Point3, Swing, Vector3, VehicleFrame};
use itertools::Itertools;

/// Where the reader stands, looking square onto a face of the bay.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Look {
    /// Behind the vehicle: the left side is on the left.
    Tailgate,
    /// Over it: the tailgate is at the bottom of the page, the left side on the left.
    Above,
    /// On the vehicle's right: the tailgate is on the left.
    Right,
}

/// A box of the kit, to be painted.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Solid {
    /// Class in the style sheet.
    pub(super) class: &'static str,
    /// The box that it fills, or that is around it.
    pub(super) shape: Aabb,
    /// Its contour, where it is less than its box.
    pub(super) contour: Option<Contour>,
    /// What is cut out of it: corners on its lower face, and the way to the other.
    pub(super) openings: Vec<Contour>,
    /// Lines on it, and the way that they face.
    pub(super) lines: Option<Lines>,
    /// Whether it fills an opening of another, level with it, so that its edges are not seen.
    pub(super) sunk: bool,
    /// Text on it, best first; may be empty.
    pub(super) texts: Vec<Vec<String>>,
}

/// Lettering on a face.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Lines {
    /// Out of the face.
    pub(super) out: Vector3<VehicleFrame>,
    /// Open lines.
    pub(super) strokes: Vec<Vec<Point3<VehicleFrame>>>,
}

/// The contour of a flat solid that is no box.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Contour {
    /// Corners on one of its faces, counter-clockwise seen from the other.
    pub(super) corners: Vec<Point3<VehicleFrame>>,
    /// From that face to the other.
    pub(super) through: Vector3<VehicleFrame>,
}

/// Most corners along an axis for which a contour is cut into pieces.
const MOST_STEPS: usize = 12;

impl Solid {
    /// A box with nothing on it.
    pub(super) fn plain(class: &'static str, shape: Aabb) -> Self {
        Solid {
            class,
            shape,
            contour: None,
            openings: Vec::new(),
            lines: None,
            sunk: false,
            texts: Vec::new(),
        }
    }

    /// The same somewhere else.
    pub(super) fn moved(mut self, by: Vector3<VehicleFrame>) -> Self {
        let along = |contour: &mut Contour| contour.corners.iter_mut().for_each(|corner| *corner += by);
        self.shape = Aabb { low: self.shape.low + by, high: self.shape.high + by };
        self.contour.iter_mut().for_each(along);
        self.openings.iter_mut().for_each(along);
        for stroke in self.lines.iter_mut().flat_map(|lines| &mut lines.strokes) {
            for point in stroke {
                *point += by;
            }
        }
        self
    }

    /// The boxes that make it up: of a notched board its rectangles, of any other its box.
    pub(super) fn pieces(&self) -> Vec<Aabb> {
        let Some(contour) = &self.contour else { return vec![self.shape] };
        let axes = [Vector3::new(1.0, 0.0, 0.0), Vector3::new(0.0, 1.0, 0.0), Vector3::new(0.0, 0.0, 1.0)];
        let in_plane: Vec<_> =
            axes.into_iter().filter(|axis| axis.dot(contour.through).abs() < SAME_LENGTH).collect();
        let [u, v] = in_plane[..] else { return vec![self.shape] };
        let steps = |axis: Vector3<VehicleFrame>| {
            let along = contour.corners.iter().map(|corner| corner.to_vector().dot(axis));
            along.sorted_by(f64::total_cmp).dedup_by(|a, b| b - a < ROUND_OFF).collect::<Vec<f64>>()
        };
        let (us, vs) = (steps(u), steps(v));
        if us.len() > MOST_STEPS || vs.len() > MOST_STEPS {
            return vec![self.shape];
        }
        let flat = |p: &Point3<VehicleFrame>| Spot::new(p.to_vector().dot(u), p.to_vector().dot(v));
        let outline = Path::polygon(contour.corners.iter().map(flat));
        let cells = us.windows(2).flat_map(|us| vs.windows(2).map(move |vs| (us, vs)));
        let filled = cells.filter(|(us, vs)| {
            outline.contains(Spot::new(f64::midpoint(us[0], us[1]), f64::midpoint(vs[0], vs[1])))
        });
        let w = self.shape.size().dot(Vector3::new(1.0, 1.0, 1.0) - u - v);
        let base = self.shape.low.to_vector().component_mul(Vector3::new(1.0, 1.0, 1.0) - u - v);
        let across = (Vector3::new(1.0, 1.0, 1.0) - u - v) * w;
        let corner = |u_at: f64, v_at: f64| (base + u * u_at + v * v_at).to_point();
        filled.map(|(us, vs)| Aabb::around([corner(us[0], vs[0]), corner(us[1], vs[1]) + across])).collect()
    }
}

/// mm between corners that count as one: the tool leaves inside corners round.
const ROUND_OFF: f64 = 12.0;

impl Look {
    /// Where a contour is seen as it is, its corners on paper; seen from its edge it is as good as its box.
    pub(super) fn seen(self, solid: &Solid) -> Option<Vec<Spot>> {
        let contour = solid.contour.as_ref()?;
        let origin = Point3::origin();
        let face_on = (self.spot(origin + contour.through) - self.spot(origin)).square_length() < SAME_LENGTH;
        face_on.then(|| contour.corners.iter().map(|&corner| self.spot(corner)).collect())
    }

    /// The openings of a solid that is seen face on, their corners on paper.
    pub(super) fn openings(self, solid: &Solid) -> Vec<Vec<Spot>> {
        let origin = Point3::origin();
        let face_on = |contour: &&Contour| {
            (self.spot(origin + contour.through) - self.spot(origin)).square_length() < SAME_LENGTH
        };
        let shown = solid.openings.iter().filter(face_on);
        shown.map(|contour| contour.corners.iter().map(|&corner| self.spot(corner)).collect()).collect()
    }

    /// The lines on a solid's face that looks at the reader, on paper.
    pub(super) fn lines(self, solid: &Solid) -> Vec<Vec<Spot>> {
        let towards_reader = match self {
            Look::Tailgate => Vector3::new(-1.0, 0.0, 0.0),
            Look::Above => Vector3::new(0.0, 0.0, 1.0),
            Look::Right => Vector3::new(0.0, -1.0, 0.0),
        };
        lines_seen(solid, towards_reader, |p| self.spot(p))
    }

    /// A point of the vehicle on paper.
    pub(super) fn spot(self, p: Point3<VehicleFrame>) -> Spot {
        match self {
            Look::Tailgate => Spot::new(-p.y, p.z),
            Look::Above => Spot::new(-p.y, p.x),
            Look::Right => Spot::new(p.x, p.z),
        }
    }

    /// A box on paper.
    pub(super) fn area(self, shape: Aabb) -> Area {
        Area::from_points([self.spot(shape.low), self.spot(shape.high)])
    }

    /// How near the box's face is to the reader; greater is nearer.
    fn nearness(self, shape: Aabb) -> f64 {
        match self {
            Look::Tailgate => -shape.low.x,
            Look::Above => shape.high.z,
            Look::Right => -shape.low.y,
        }
    }

    /// The solids that can be seen, the farthest first. What a single nearer one hides wholly is left out.
    pub(super) fn painted(self, solids: &[Solid]) -> Vec<(Area, &Solid)> {
        let mut order: Vec<(Area, &Solid)> =
            solids.iter().map(|solid| (self.area(solid.shape), solid)).collect();
        order.sort_by(|a, b| self.nearness(a.1.shape).total_cmp(&self.nearness(b.1.shape)));
        let hidden = |i: usize| {
            let shape = order[i].0.inflate(-SAME_LENGTH, -SAME_LENGTH);
            let whole = |solid: &Solid| self.seen(solid).is_none();
            order[i + 1..].iter().any(|(nearer, solid)| whole(solid) && nearer.contains_box(&shape))
        };
        (0..order.len()).filter(|&i| !hidden(i)).map(|i| order[i]).collect()
    }
}

/// Sine and cosine of 30 degrees: how far to the right of the tailgate the reader of a slanting view stands.
const ROUND: (f64, f64) = (0.5, 0.866_025_403_784_438_6);
/// Sine and cosine of 25 degrees: how far above the floor.
const UP: (f64, f64) = (0.422_618_261_740_699_4, 0.906_307_787_036_65);

/// A point of the vehicle as seen from behind, from the right and from above, without perspective.
pub(super) fn slanting(p: Point3<VehicleFrame>) -> Spot {
    let across = ROUND.0 * p.x - ROUND.1 * p.y;
    let away = ROUND.1 * p.x + ROUND.0 * p.y;
    Spot::new(across, UP.0 * away + UP.1 * p.z)
}

/// Towards the reader of the slanting view.
const READER: Vector3<VehicleFrame> = Vector3::new(-ROUND.1 * UP.1, -ROUND.0 * UP.1, UP.0);

/// The faces of a solid that the slanting view shows, each with its tone: rear, right, upper.
pub(super) fn faces(solid: &Solid) -> Vec<(&'static str, Vec<Spot>)> {
    let mut faces = match &solid.contour {
        Some(contour) => contour.faces(),
        None => box_faces(solid.shape).to_vec(),
    };
    // The upper one is the last.
    if solid.sunk { faces.split_off(faces.len() - 1) } else { faces }
}

/// The openings of a solid as the slanting view shows them: on the face that looks at the reader.
pub(super) fn openings(solid: &Solid) -> Vec<Vec<Spot>> {
    let shown = solid.openings.iter().map(|contour| {
        let by = if contour.through.dot(READER) > 0.0 { contour.through } else { Vector3::zero() };
        contour.corners.iter().map(|&corner| slanting(corner + by)).collect()
    });
    shown.collect()
}

/// The lines on a solid's face as the slanting view shows them.
pub(super) fn lines(solid: &Solid) -> Vec<Vec<Spot>> {
    lines_seen(solid, READER, slanting)
}

fn lines_seen(
    solid: &Solid,
    towards_reader: Vector3<VehicleFrame>,
    spot: impl Fn(Point3<VehicleFrame>) -> Spot,
) -> Vec<Vec<Spot>> {
    let seen = solid.lines.iter().filter(|lines| lines.out.dot(towards_reader) > 0.2);
    seen.flat_map(|lines| &lines.strokes).map(|stroke| stroke.iter().map(|&p| spot(p)).collect()).collect()
}

impl Contour {
    /// The same after a turn.
    pub(super) fn turned(&self, swing: &Swing) -> Self {
        let to = |corner: &Point3<VehicleFrame>| swing.point(*corner);
        let first = self.corners.first().copied().unwrap_or_default();
        let through = swing.point(first + self.through) - swing.point(first);
        Contour { corners: self.corners.iter().map(to).collect(), through }
    }

    /// Those of the edges that look at the reader, and over them the face that does.
    fn faces(&self) -> Vec<(&'static str, Vec<Spot>)> {
        let tone = |normal: Vector3<VehicleFrame>| match normal {
            normal if normal.z > normal.x.abs().max(normal.y.abs()) => "upper",
            normal if normal.x.abs() > normal.y.abs() => "rear",
            _ => "right",
        };
        let mut faces = Vec::new();
        for (&a, &b) in self.corners.iter().circular_tuple_windows() {
            let outwards = (b - a).cross(self.through);
            if outwards.dot(READER) > 0.0 {
                let quad = [a, b, b + self.through, a + self.through].map(slanting);
                faces.push((tone(outwards), quad.to_vec()));
            }
        }
        let nearer = if self.through.dot(READER) > 0.0 { self.through } else { Vector3::zero() };
        let normal = if nearer == Vector3::zero() { -self.through } else { self.through };
        faces.push((tone(normal), self.corners.iter().map(|&corner| slanting(corner + nearer)).collect()));
        faces
    }
}

fn box_faces(shape: Aabb) -> [(&'static str, Vec<Spot>); 3] {
    let Aabb { low, high } = shape;
    let corners =
        |points: [(f64, f64, f64); 4]| points.map(|(x, y, z)| slanting(Point3::new(x, y, z))).to_vec();
    [
        (
            "rear",
            corners([
                (low.x, low.y, low.z),
                (low.x, high.y, low.z),
                (low.x, high.y, high.z),
                (low.x, low.y, high.z),
            ]),
        ),
        (
            "right",
            corners([
                (low.x, low.y, low.z),
                (high.x, low.y, low.z),
                (high.x, low.y, high.z),
                (low.x, low.y, high.z),
            ]),
        ),
        (
            "upper",
            corners([
                (low.x, low.y, high.z),
                (high.x, low.y, high.z),
                (high.x, high.y, high.z),
                (low.x, high.y, high.z),
            ]),
        ),
    ]
}

/// Whether `b` stands before `a` in the slanting view. Boxes apart along two axes that say different things
/// hide nothing of each other, so neither stands before the other.
fn stands_before(b: Aabb, a: Aabb) -> bool {
    let at_most = |low: f64, high: f64| low <= high + SAME_LENGTH;
    let before = [at_most(b.high.x, a.low.x), at_most(b.high.y, a.low.y), at_most(a.high.z, b.low.z)];
    let behind = [at_most(a.high.x, b.low.x), at_most(a.high.y, b.low.y), at_most(b.high.z, a.low.z)];
    before.contains(&true) && !behind.contains(&true)
}

/// The same for solids in pieces. Where their boxes reach into each other, pieces decide: what stands in the notch of a
/// deck is before the deck if it is before the largest piece that says anything.
fn comes_before(b: &[Aabb], a: &[Aabb]) -> bool {
    let area = |aabb: Aabb| {
        let size = aabb.size();
        size.x * size.y + size.y * size.z + size.z * size.x
    };
    let pairs = || a.iter().flat_map(|&a| b.iter().map(move |&b| (a, b)));
    let weight = |says: fn(Aabb, Aabb) -> bool| {
        let saying = pairs().filter(|&(a, b)| says(a, b));
        saying.map(|(a, b)| area(a).min(area(b))).fold(0.0, f64::max)
    };
    weight(|a, b| stands_before(b, a)) > weight(stands_before)
}

/// The order in which solids are painted in the slanting view, as indices: always one that none left stands
/// behind. Solids in a ring (each before the next) go on with the first that is left.
pub(super) fn slanting_order(shapes: &[Vec<Aabb>]) -> Vec<usize> {
    let n = shapes.len();
    let mut behind_it: Vec<usize> = vec![0; n];
    let mut before_it: Vec<Vec<usize>> = vec![Vec::new(); n];
    for a in 0..n {
        for b in 0..n {
            if a != b && comes_before(&shapes[b], &shapes[a]) {
                before_it[a].push(b);
                behind_it[b] += 1;
            }
        }
    }
    let mut left: std::collections::BTreeSet<usize> = (0..n).collect();
    let mut free: std::collections::BTreeSet<usize> = (0..n).filter(|&i| behind_it[i] == 0).collect();
    let mut order = Vec::with_capacity(n);
    while let Some(next) = free.pop_first().or_else(|| left.first().copied()) {
        left.remove(&next);
        order.push(next);
        for &nearer in &before_it[next] {
            behind_it[nearer] = behind_it[nearer].saturating_sub(1);
            if behind_it[nearer] == 0 && left.contains(&nearer) {
                free.insert(nearer);
            }
        }
    }
    order
}

#[cfg(test)]
mod tests {
    use super::super::area;
    use super::*;

    fn cube(low: (f64, f64, f64), size: f64) -> Aabb {
        let low = Point3::new(low.0, low.1, low.2);
        Aabb { low, high: low + crate::geom::Vector3::new(size, size, size) }
    }

    #[test]
    fn the_nearer_is_painted_later_and_what_it_hides_is_left_out() {
        let near = Solid::plain("near", cube((0.0, 0.0, 0.0), 100.0));
        let far = Solid::plain("far", cube((200.0, 50.0, 0.0), 100.0));
        let hidden = Solid::plain("hidden", cube((150.0, 10.0, 10.0), 20.0));
        let classes = |look: Look| -> Vec<_> {
            let solids = [near.clone(), far.clone(), hidden.clone()];
            look.painted(&solids).iter().map(|(_, solid)| solid.class).collect()
        };
        assert_eq!(classes(Look::Tailgate), ["far", "near"]);
        assert_eq!(classes(Look::Right), ["far", "hidden", "near"]);
    }

    /// An upright plate whose upper end leans: from the right one sees its true shape, from above its box; what lies
    /// behind its missing corner is not hidden.
    #[test]
    fn a_leaning_plate_shows_its_shape_and_hides_only_with_it() {
        let corner = |x: f64, z: f64| Point3::new(x, 0.0, z);
        let corners = vec![corner(0.0, 0.0), corner(100.0, 0.0), corner(60.0, 100.0), corner(0.0, 100.0)];
        let through = Vector3::new(0.0, 12.0, 0.0);
        let high = Point3::new(100.0, 12.0, 100.0);
        let contour = Some(Contour { corners, through });
        let plate = Solid { contour, ..Solid::plain("plate", Aabb { low: Point3::origin(), high }) };
        let seen = Look::Right.seen(&plate).unwrap();
        assert_eq!(seen[2], Spot::new(60.0, 100.0));
        assert_eq!(Look::Above.seen(&plate), None);
        let behind = Solid::plain("behind", cube((85.0, 20.0, 85.0), 10.0));
        let shown = [plate.clone(), behind];
        assert_eq!(Look::Right.painted(&shown).len(), 2);
        // Rear, upper and right: the leaning edge looks away.
        let tones: Vec<_> = faces(&plate).iter().map(|(tone, _)| *tone).collect();
        assert_eq!(tones.iter().filter(|tone| **tone == "right").count(), 1);
        assert!(tones.contains(&"rear") && tones.contains(&"upper") && tones.len() == 3, "{tones:?}");
    }

    #[test]
    fn of_a_lid_in_its_opening_only_the_upper_face_shows() {
        let lid = Solid::plain("lid", cube((0.0, 0.0, 0.0), 100.0));
        assert_eq!(faces(&lid).len(), 3);
        let tones = |solid: &Solid| faces(solid).iter().map(|(tone, _)| *tone).collect::<Vec<_>>();
        assert_eq!(tones(&Solid { sunk: true, ..lid.clone() }), ["upper"]);
        let corner = |x: f64, y: f64| Point3::new(x, y, 0.0);
        let corners = vec![corner(0.0, 0.0), corner(90.0, 0.0), corner(0.0, 90.0)];
        let contour = Some(Contour { corners, through: Vector3::new(0.0, 0.0, 12.0) });
        assert_eq!(tones(&Solid { sunk: true, contour, ..lid }), ["upper"]);
    }

    #[test]
    fn left_is_left_from_the_tailgate_and_the_tailgate_is_left_from_the_right() {
        let shape = Aabb { low: Point3::new(0.0, 400.0, 0.0), high: Point3::new(900.0, 500.0, 300.0) };
        assert_eq!(Look::Tailgate.area(shape), area(-500.0, 0.0, -400.0, 300.0));
        assert_eq!(Look::Above.area(shape), area(-500.0, 0.0, -400.0, 900.0));
        assert_eq!(Look::Right.area(shape), area(0.0, 0.0, 900.0, 300.0));
    }

    #[test]
    fn the_slanting_order_paints_what_stands_behind_first() {
        // On the floor, on top of it, behind it, to its right.
        let shapes = [
            cube((0.0, 0.0, 0.0), 10.0),
            cube((0.0, 0.0, 10.0), 10.0),
            cube((10.0, 0.0, 0.0), 10.0),
            cube((0.0, -10.0, 0.0), 10.0),
        ];
        let order = slanting_order(&shapes.map(|shape| vec![shape]));
        let place = |i: usize| order.iter().position(|&at| at == i).unwrap();
        assert!(place(2) < place(0) && place(0) < place(1) && place(0) < place(3), "{order:?}");
    }

    #[test]
    fn a_ring_of_boxes_is_painted_all_the_same() {
        // Three bars, each lying before one and behind another.
        let bar = |low: (f64, f64, f64), high: (f64, f64, f64)| Aabb {
            low: Point3::new(low.0, low.1, low.2),
            high: Point3::new(high.0, high.1, high.2),
        };
        let shapes = [
            bar((0.0, 0.0, 0.0), (3.0, 1.0, 1.0)),
            bar((2.0, -2.0, 1.0), (3.0, 1.0, 2.0)),
            bar((0.0, -2.0, 0.5), (1.0, -0.5, 3.0)),
        ];
        let mut order = slanting_order(&shapes.map(|shape| vec![shape]));
        order.sort_unstable();
        assert_eq!(order, [0, 1, 2]);
    }
}
