//! Finishes on finished panels: what they cover, what stays bare, how much of each gap they take.
//!
//! Takes the kit with everything in it, gives [`Coating`]s. A finish is left off wherever another part that does not move
//! against its panel bears, or comes nearer than it is thick: there wood meets wood or metal. Wrapped, it goes round every
//! edge that no such part bears on, and ends at the other face.

use super::Kit;
use super::solids::{Part, Solid, all, is_hinge_of, name};
use crate::geom::stretches;
use crate::geom::tolerance::{SAME_LENGTH, TOUCH};
use crate::geom::{
    Aabb, PanelFrame, Path, Placement, Plate, Point2, Point3, Vector2, Vector3, VehicleFrame, material_less,
    overlap_depth, within_rectangle,
};
use crate::layout::{Board, BoardId, BodyId, Coat, OpeningKind, up_of};

/// mm that stay between a part that moves and what it passes, and round a lid, after all finishes: common practice, no source.
pub(crate) const CLEAR: f64 = 3.0;

/// A finish on a face of a panel.
#[derive(Clone, Debug)]
pub(crate) struct Coating {
    /// The panel.
    pub(crate) panel: BoardId,
    /// What is on it, and on which face.
    pub(crate) coat: Coat,
    /// mm2 of the face that it covers.
    pub(crate) on_face: f64,
    /// mm2 of edges that it covers.
    pub(crate) on_edges: f64,
    /// The middle of it all.
    pub(crate) centre: Point3<VehicleFrame>,
    /// mm. The rectangle that it is cut from, with what goes round edges: across, and up (on a lying panel forward), as seen
    /// from before the face.
    pub(crate) piece: [f64; 2],
    /// Where on the face it is left off, since something bears there or the spec says so.
    pub(crate) bare: Vec<Aabb>,
    /// Its layers: the one on the face, then those on edges.
    pub(crate) layers: Vec<Layer>,
}

impl Coating {
    /// mm2 that it covers, edges included.
    pub(crate) fn area(&self) -> f64 {
        self.on_face + self.on_edges
    }

    /// kg with adhesive.
    pub(crate) fn mass(&self) -> f64 {
        let (own, adhesive) = self.coat.finish.masses_of(self.area());
        own + adhesive
    }
}

/// A flat layer of a finish.
#[derive(Clone, Debug)]
pub(crate) struct Layer {
    /// Away from the panel.
    out: Vector3<VehicleFrame>,
    /// The flat box of the surface under it.
    surface: Aabb,
    /// The layer.
    pub(crate) plate: Plate,
}

/// A gap that finishes make narrower.
#[derive(Clone, Debug)]
pub(crate) struct Gap {
    /// The coating's index.
    pub(crate) coating: usize,
    /// What lies across the gap.
    pub(crate) other: Part,
    /// mm between the bare parts.
    pub(crate) bare: f64,
    /// mm that the finishes on both sides of it take.
    pub(crate) taken: [f64; 2],
}

impl Gap {
    /// mm that are left.
    pub(crate) fn left(&self) -> f64 {
        self.bare - self.taken[0] - self.taken[1]
    }
}

/// mm2. Of a face on which less is left nothing is covered: `*-front` names a drawer's box behind its false front, too.
const LEAST_AREA: f64 = 1.0;

/// Every finish of a kit, panel by panel.
pub(super) fn coatings(kit: &Kit) -> Vec<Coating> {
    let solids = all(kit);
    let boards = kit.layout.boards.iter().enumerate();
    let coats = boards.flat_map(|(i, board)| board.coats.iter().map(move |coat| (BoardId(i), coat)));
    let coatings = coats.map(|(panel, coat)| coating((kit, &solids), panel, coat));
    coatings.filter(|coating| coating.area() > LEAST_AREA).collect()
}

fn coating((kit, solids): (&Kit, &[Solid]), id: BoardId, coat: &Coat) -> Coating {
    let board = kit.layout.board(id);
    let out = if coat.face_a { board.normal() } else { -board.normal() };
    let surface = face_of(board.aabb, out);
    let bears = |solid: &&Solid| {
        solid.part != Part::Panel(id)
            && !matches!(solid.part, Part::Shank(_) | Part::Room(_))
            && !presses(kit, solid.part, id)
            && (fixed(kit, solid.body, board.body) || turns_about(kit, solid.part, id))
    };
    let mut bare: Vec<Aabb> = solids
        .iter()
        .filter(bears)
        .filter_map(|solid| spared(surface, (out, coat), without_tabs(kit, solid)))
        .collect();
    let openings: Vec<Path<PanelFrame>> =
        kit.panel(id).openings.iter().map(|opening| opening.path.clone()).collect();
    let (low, high) = board.shape.bounds();
    let within = coat.between_strips(board);
    let w = if coat.face_a { board.thickness() } else { 0.0 };
    let on_face = |p: Point2<PanelFrame>| board.placement.to_vehicle(Point3::new(p.x, p.y, w));
    bare.extend(strips((low, high), within).map(|ends| Aabb::around(ends.map(on_face))));
    let off: Vec<Path<PanelFrame>> = bare.iter().map(|aabb| rectangle(&board.placement, *aabb)).collect();
    let (on_face, middle) = material_less(&board.shape, &openings, &off);
    let hatches = kit.panel(id).openings.iter().filter(|opening| opening.kind == OpeningKind::Hatch);
    let hatches: Vec<Path<PanelFrame>> = hatches.map(|opening| opening.path.clone()).collect();
    let around = hatches.iter().map(Path::length).sum::<f64>();
    let plate = on_face_plate(board, coat, within, hatches);
    let placement = plate.placement;
    let surface = face_of(plate.aabb(), -out);
    let mut layers = vec![Layer { out, surface, plate }];
    let mut size = within.1 - within.0;
    let mut moment = placement.to_vehicle(Point3::new(middle.x, middle.y, coat.finish.thickness / 2.0));
    let mut on_edges = 0.0;
    if coat.wraps {
        let edges = edges((kit, solids), id, coat);
        on_edges = (around + edges.iter().map(|edge| edge.free).sum::<f64>()) * board.thickness();
        let turned = |way: Vector2<PanelFrame>| {
            edges.iter().any(|edge| edge.outward.dot(way) > 0.5 && edge.free > 0.0)
        };
        let both = |way: Vector2<PanelFrame>| f64::from(u8::from(turned(way)) + u8::from(turned(-way)));
        size += Vector2::new(both(Vector2::new(1.0, 0.0)), both(Vector2::new(0.0, 1.0))) * board.thickness();
        // What goes round the edges lies about the panel's middle.
        let centre = board.aabb.low + board.aabb.size() / 2.0;
        moment = moment.lerp(centre, on_edges / (on_face + on_edges).max(f64::MIN_POSITIVE));
        layers.extend(edges.into_iter().flat_map(|edge| edge.layers));
    }
    let u_is_up = board.placement.axes.u.dot(up_of(out)).abs() > 0.5;
    let piece = if u_is_up { [size.y, size.x] } else { [size.x, size.y] };
    Coating { panel: id, coat: coat.clone(), on_face, on_edges, centre: moment, piece, bare, layers }
}

/// The layer on a face between the bare strips.
fn on_face_plate(
    board: &Board,
    coat: &Coat,
    (from, to): (Point2<PanelFrame>, Point2<PanelFrame>),
    openings: Vec<Path<PanelFrame>>,
) -> Plate {
    let shift = if coat.face_a { board.thickness() } else { -coat.finish.thickness };
    let origin = board.placement.origin + board.placement.axes.w * shift;
    let narrowed = coat.bare != [[0.0; 2]; 2];
    let outline = if narrowed { within_rectangle(&board.shape, from, to) } else { board.shape.clone() };
    Plate {
        outline,
        openings,
        thickness: coat.finish.thickness,
        placement: Placement { origin, ..board.placement },
    }
}

/// An edge of a board that a finish goes round.
struct Edge {
    outward: Vector2<PanelFrame>,
    /// mm of it that are free.
    free: f64,
    /// What lies on them.
    layers: Vec<Layer>,
}

/// The straight edges of a board's contour that a finish goes round; rounded ones have no layer.
fn edges((kit, solids): (&Kit, &[Solid]), id: BoardId, coat: &Coat) -> Vec<Edge> {
    let board = kit.layout.board(id);
    let thickness = board.thickness();
    let in_vehicle = |p: Point2<PanelFrame>, w: f64| board.placement.to_vehicle(Point3::new(p.x, p.y, w));
    let mut edges = Vec::new();
    for (from, to, bulge) in board.shape.sides() {
        let along = (to - from).normalize();
        let outward = Vector2::new(along.y, -along.x);
        let stays_bare = |sign: usize| {
            let towards = if sign == 1 { outward } else { -outward };
            [towards.x, towards.y]
                .into_iter()
                .zip(coat.bare[sign])
                .any(|(way, strip)| way > 0.5 && strip > 0.0)
        };
        if stays_bare(0) || stays_bare(1) {
            continue;
        }
        let out = board.placement.axes.u * outward.x + board.placement.axes.v * outward.y;
        let flat =
            Aabb::around([from, to].into_iter().flat_map(|p| [in_vehicle(p, 0.0), in_vehicle(p, thickness)]));
        let square_on = [out.x, out.y, out.z].iter().any(|way| way.abs() > 0.999_999);
        if !square_on || bulge != 0.0 {
            edges.push(Edge { outward, free: (to - from).length(), layers: Vec::new() });
            continue;
        }
        let direction = board.placement.axes.u * along.x + board.placement.axes.v * along.y;
        let start = in_vehicle(from, 0.0);
        let at = |p: Point3<VehicleFrame>| (p - start).dot(direction);
        let bears = |solid: &&Solid| {
            matches!(solid.part, Part::Panel(other) if other != id) && fixed(kit, solid.body, board.body)
        };
        let met: Vec<(f64, f64)> = solids
            .iter()
            .filter(bears)
            .filter_map(|solid| spared(flat, (out, coat), without_tabs(kit, solid)))
            .map(|aabb| (at(aabb.low).min(at(aabb.high)), at(aabb.low).max(at(aabb.high))))
            .collect();
        let length = (to - from).length();
        let free = stretches::less(&[(0.0, length)], &stretches::either(&met, &[]), length);
        let layer = |&(begins, ends): &(f64, f64)| {
            let across = board.normal() * thickness;
            let ends = [begins, ends].map(|s| start + direction * s);
            let surface = Aabb::around([ends[0], ends[1], ends[0] + across, ends[1] + across]);
            Layer { out, surface, plate: Plate::filling(surface.swept(out * coat.finish.thickness)) }
        };
        let layers = free.iter().map(layer).collect();
        edges.push(Edge { outward, free: free.iter().map(|(from, to)| to - from).sum(), layers });
    }
    edges
}

/// Gaps that finishes make narrower, between parts that move against each other and round lids: of each pair of parts the
/// least, where less than `most` mm are left.
pub(crate) fn gaps(kit: &Kit, most: f64) -> Vec<Gap> {
    let solids = all(kit);
    let mut gaps: Vec<Gap> = Vec::new();
    for (i, coating) in kit.coatings.iter().enumerate() {
        for layer in &coating.layers {
            for solid in &solids {
                let found = gap(kit, (i, layer), solid).filter(|gap| gap.left() < most);
                let Some(found) = found else { continue };
                let same = |gap: &&mut Gap| same_pair(kit, gap, &found);
                match gaps.iter_mut().find(same) {
                    Some(known) if known.left() <= found.left() => {}
                    Some(known) => *known = found,
                    None => gaps.push(found),
                }
            }
        }
    }
    gaps.extend(round_lids(kit).filter(|gap| gap.left() < most));
    gaps
}

/// Whether two gaps are between the same panels, or the same panel and part.
fn same_pair(kit: &Kit, a: &Gap, b: &Gap) -> bool {
    let ends = |gap: &Gap| {
        let mut ends = [name(kit, Part::Panel(kit.coatings[gap.coating].panel)), name(kit, gap.other)];
        ends.sort();
        ends
    };
    ends(a) == ends(b)
}

/// The gap between a layer and a part before it. None where the part is beside it, behind it, or bears on bare wood.
fn gap(kit: &Kit, (index, layer): (usize, &Layer), solid: &Solid) -> Option<Gap> {
    let coating = &kit.coatings[index];
    let own = kit.layout.board(coating.panel);
    match solid.part {
        Part::Shank(_) | Part::Room(_) | Part::Coat(_) => return None,
        Part::Panel(id) if id == coating.panel => return None,
        _ if fixed(kit, solid.body, own.body) || turns_about(kit, solid.part, coating.panel) => return None,
        _ => {}
    }
    let way = |body: BodyId| {
        let travel = kit.layout.body(body).travel;
        // Straight towards each other, shut is the nearest that they come.
        if travel.dot(layer.out).abs() < SAME_LENGTH { travel } else { Vector3::zero() }
    };
    let (surface, theirs) =
        (layer.surface.swept(way(own.body)), without_tabs(kit, solid).swept(way(solid.body)));
    let bare = theirs.reach(layer.out).0 - surface.reach(layer.out).0;
    let shared = common(surface, layer.out, theirs).filter(|_| bare > -TOUCH)?;
    let left_off = |aabb: &Aabb| {
        let grown = Vector3::new(1.0, 1.0, 1.0);
        let (low, high) = (shared.low - (aabb.low - grown), aabb.high + grown - shared.high);
        [low.x, low.y, low.z, high.x, high.y, high.z].iter().all(|within| *within >= 0.0)
    };
    if coating.bare.iter().any(left_off) {
        return None;
    }
    let thickness = coating.coat.finish.thickness;
    let taken = [thickness, across(kit, layer, solid)];
    let gap = Gap { coating: index, other: solid.part, bare: bare.max(0.0), taken };
    let zone = Plate::filling(surface.swept(layer.out * (bare.max(0.0) + CLEAR)));
    let there = match solid.part {
        Part::Panel(_) if way(solid.body) == Vector3::zero() => overlap_depth(&zone, &solid.plate).is_some(),
        _ => true,
    };
    there.then_some(gap)
}

/// mm of finish on the face of the part across a gap.
fn across(kit: &Kit, layer: &Layer, solid: &Solid) -> f64 {
    let Part::Panel(id) = solid.part else { return 0.0 };
    let coatings = kit.coatings.iter().filter(|coating| coating.panel == id);
    let facing = coatings.flat_map(|coating| {
        let thickness = coating.coat.finish.thickness;
        let towards = |other: &&Layer| {
            other.out.dot(layer.out) < -0.5
                && (other.surface.reach(layer.out).0 - without_tabs(kit, solid).reach(layer.out).0).abs()
                    < TOUCH
        };
        coating.layers.iter().filter(towards).map(move |_| thickness)
    });
    facing.fold(0.0, f64::max)
}

/// The gaps round lids in their hatches.
fn round_lids(kit: &Kit) -> impl Iterator<Item = Gap> {
    kit.layout.hatches.iter().filter_map(|hatch| {
        let wrapped =
            |id: BoardId| kit.coatings.iter().position(|coating| coating.panel == id && coating.coat.wraps);
        let coatings = [wrapped(hatch.lid), wrapped(hatch.host)];
        let taken = coatings.map(|i| i.map_or(0.0, |i| kit.coatings[i].coat.finish.thickness));
        let lid = kit.layout.board(hatch.lid).aabb;
        let (low, high) = hatch.opening;
        let sides = [lid.low.x - low.x, lid.low.y - low.y, high.x - lid.high.x, high.y - lid.high.y];
        let bare = sides.into_iter().fold(f64::INFINITY, f64::min);
        let other = Part::Panel(if coatings[0].is_some() { hatch.host } else { hatch.lid });
        let coating = coatings[0].or(coatings[1])?;
        Some(Gap { coating, other, bare, taken })
    })
}

/// The box around a part; of a panel without its tabs, which lie in others.
fn without_tabs(kit: &Kit, solid: &Solid) -> Aabb {
    match solid.part {
        Part::Panel(id) => kit.layout.board(id).aabb,
        _ => solid.aabb,
    }
}

/// Whether a panel is a door and a part one of its hinges: of both leaves what lies on the door is let in.
fn turns_about(kit: &Kit, part: Part, panel: BoardId) -> bool {
    kit.layout.doors.iter().any(|door| door.panel == panel && is_hinge_of(kit, part, door))
}

/// Whether two bodies do not move against each other.
fn fixed(kit: &Kit, a: BodyId, b: BodyId) -> bool {
    a == b || ![a, b].into_iter().any(|body| kit.layout.body(body).moves())
}

/// The flat side of a box that looks `out`.
fn face_of(mut aabb: Aabb, out: Vector3<VehicleFrame>) -> Aabb {
    let positive = out.x + out.y + out.z > 0.0;
    let flat = |low: &mut f64, high: &mut f64| if positive { *low = *high } else { *high = *low };
    if out.x.abs() > 0.5 {
        flat(&mut aabb.low.x, &mut aabb.high.x);
    } else if out.y.abs() > 0.5 {
        flat(&mut aabb.low.y, &mut aabb.high.y);
    } else {
        flat(&mut aabb.low.z, &mut aabb.high.z);
    }
    aabb
}

/// The part of a flat surface that a box lies before; none if it lies beside.
fn common(surface: Aabb, out: Vector3<VehicleFrame>, other: Aabb) -> Option<Aabb> {
    let both = Aabb { low: surface.low.max(other.low), high: surface.high.min(other.high) };
    let size = both.size();
    let beside = [(size.x, out.x), (size.y, out.y), (size.z, out.z)];
    let lies = beside.iter().all(|(extent, way)| way.abs() > 0.5 || *extent > TOUCH);
    let flat =
        |low: f64, high: f64, way: f64, own: (f64, f64)| if way.abs() > 0.5 { own } else { (low, high) };
    let (x0, x1) = flat(both.low.x, both.high.x, out.x, (surface.low.x, surface.high.x));
    let (y0, y1) = flat(both.low.y, both.high.y, out.y, (surface.low.y, surface.high.y));
    let (z0, z1) = flat(both.low.z, both.high.z, out.z, (surface.low.z, surface.high.z));
    lies.then_some(Aabb { low: Point3::new(x0, y0, z0), high: Point3::new(x1, y1, z1) })
}

/// The part of a flat surface that a finish leaves bare for a box before it.
fn spared(surface: Aabb, (out, coat): (Vector3<VehicleFrame>, &Coat), other: Aabb) -> Option<Aabb> {
    let apart = other.reach(out).0 - surface.reach(out).0;
    let thickness = coat.finish.thickness.max(2.0 * TOUCH);
    common(surface, out, other).filter(|_| apart >= -TOUCH && apart < thickness - TOUCH)
}

/// Whether a part is the head or nut of a bolt of a panel, which presses a finish together; the bolt is that much longer.
fn presses(kit: &Kit, part: Part, panel: BoardId) -> bool {
    matches!(part, Part::Hardware(id) if kit.bolt(id).panels.contains(&panel))
}

/// A flat box on a panel's face as a path of the panel.
fn rectangle(placement: &Placement, aabb: Aabb) -> Path<PanelFrame> {
    let [a, b] = [aabb.low, aabb.high].map(|p| placement.to_panel(p).xy());
    Path::rectangle(a.x.min(b.x), a.y.min(b.y), a.x.max(b.x), a.y.max(b.y))
}

/// What lies between two rectangles, one inside the other: four strips at most, by opposite corners.
fn strips(
    (low, high): (Point2<PanelFrame>, Point2<PanelFrame>),
    (from, to): (Point2<PanelFrame>, Point2<PanelFrame>),
) -> impl Iterator<Item = [Point2<PanelFrame>; 2]> {
    let sides = [
        (low.x, low.y, from.x, high.y),
        (to.x, low.y, high.x, high.y),
        (low.x, low.y, high.x, from.y),
        (low.x, to.y, high.x, high.y),
    ];
    let strips = sides.into_iter().filter(|(x0, y0, x1, y1)| x1 - x0 > TOUCH && y1 - y0 > TOUCH);
    strips.map(|(x0, y0, x1, y1)| [Point2::new(x0, y0), Point2::new(x1, y1)])
}
