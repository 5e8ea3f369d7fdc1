//! All solids of a kit as plates, with the bodies that they move with: what overlap and sweep checks look at.

use super::{BoltId, Kit};
use crate::diag::Span;
use crate::geom::tolerance::TOUCH;
use crate::geom::{Aabb, Plate, Point3, Vector3, VehicleFrame};
use crate::layout::{BoardId, BodyId, DoorSummary, FixtureKind};

/// Whose solid it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Part {
    /// A panel, with its contour and openings.
    Panel(BoardId),
    /// A leg of an angle, by the angle's index.
    Angle(usize),
    /// A half of a slide, by the mount's index.
    Slide(usize),
    /// A fixture, by its index.
    Fixture(usize),
    /// Room that is to stay free, by its index: nothing that is there, but nothing may reach into it.
    Room(usize),
    /// A bolt's head or nut.
    Hardware(BoltId),
    /// A turnbuckle and its eye in the point, by its index.
    Tie(usize),
    /// A finish on a panel, by its index among the coatings.
    Coat(usize),
    /// A bolt's shank; it passes through panels, angles and slides by design.
    Shank(BoltId),
}

/// One solid.
#[derive(Clone, Debug)]
pub(crate) struct Solid {
    /// Whose it is.
    pub(crate) part: Part,
    /// What it moves with.
    pub(crate) body: BodyId,
    /// Its true shape (panels) or its box.
    pub(crate) plate: Plate,
    /// The box around it.
    pub(crate) aabb: Aabb,
}

/// Every solid, shut: panels, angles, slides, heads, nuts and shanks, finishes. Of a finished kit [`Kit::solids`] has them.
pub(super) fn all(kit: &Kit) -> Vec<Solid> {
    let boxed = |part, body, aabb| Solid { part, body, plate: Plate::filling(aabb), aabb };
    let panels = kit.panels.iter().enumerate().map(|(i, panel)| {
        let plate = panel.plate();
        Solid { part: Part::Panel(BoardId(i)), body: panel.body, aabb: plate.aabb(), plate }
    });
    let angles = kit
        .angles
        .iter()
        .enumerate()
        .flat_map(|(i, angle)| angle.legs.map(|leg| boxed(Part::Angle(i), angle.body, leg)));
    let slides = kit.layout.mounts.iter().enumerate().flat_map(|(i, mount)| {
        let fixed = kit.layout.board(mount.carcase_board).body;
        [boxed(Part::Slide(i), fixed, mount.fixed), boxed(Part::Slide(i), mount.drawer, mount.moving)]
    });
    let hardware = kit.bolts.iter().enumerate().flat_map(|(i, bolt)| {
        let ends = [bolt.solids.head, bolt.solids.nut].into_iter().flatten();
        let ends = ends.map(|aabb| boxed(Part::Hardware(BoltId(i)), bolt.body, aabb));
        ends.chain([boxed(Part::Shank(BoltId(i)), bolt.body, bolt.solids.shank)]).collect::<Vec<_>>()
    });
    let ties = kit.ties.iter().enumerate().flat_map(|(i, tie)| {
        let mut eye = tie.eye;
        // What lies in the point itself is the vehicle's.
        eye.low.z = eye.low.z.max(0.0);
        let pieces = along(tie.from, tie.to, tie.turnbuckle.body / 2.0).chain([eye]);
        pieces.map(|aabb| boxed(Part::Tie(i), tie.body, aabb)).collect::<Vec<_>>()
    });
    let fixtures = kit.layout.fixtures.iter().enumerate().flat_map(|(i, fixture)| {
        fixture.solids.iter().map(move |&aabb| boxed(Part::Fixture(i), fixture.body, aabb))
    });
    let rooms = kit.layout.kept_free.iter().enumerate();
    let rooms = rooms.map(|(i, room)| boxed(Part::Room(i), room.body, room.aabb));
    let coatings = kit.coatings.iter().enumerate().flat_map(|(i, coating)| {
        let body = kit.panel(coating.panel).body;
        let solid = move |plate: Plate| Solid { part: Part::Coat(i), body, aabb: plate.aabb(), plate };
        coating.layers.iter().map(move |layer| solid(layer.plate.clone()))
    });
    panels
        .chain(angles)
        .chain(slides)
        .chain(hardware)
        .chain(ties)
        .chain(fixtures)
        .chain(rooms)
        .chain(coatings)
        .collect()
}

/// How many boxes stand in for a rod at a slant.
const PIECES: u8 = 16;

/// Boxes that contain a rod of `radius` mm between two points.
fn along(from: Point3<VehicleFrame>, to: Point3<VehicleFrame>, radius: f64) -> impl Iterator<Item = Aabb> {
    let round = Vector3::new(radius, radius, radius);
    (0..PIECES).map(move |i| {
        let ends = [i, i + 1].map(|i| from.lerp(to, f64::from(i) / f64::from(PIECES)));
        Aabb::around(ends.into_iter().flat_map(|end| [end - round, end + round]))
    })
}

/// Pairs of solids whose boxes, swept by their bodies' travel where `swept` says so, come near each other.
pub(crate) fn near_pairs(
    solids: &[Solid],
    travel: impl Fn(BodyId) -> Vector3<VehicleFrame>,
) -> Vec<(usize, usize)> {
    let boxes: Vec<Aabb> = solids.iter().map(|solid| solid.aabb.swept(travel(solid.body))).collect();
    // In the order in which they begin along an axis, so that of each only those are looked at that begin beside it: along the
    // axis that is least taken up by each.
    let whole =
        boxes.iter().copied().reduce(Aabb::joined).map(|whole| whole.size().to_array()).unwrap_or_default();
    let taken = |axis: usize| {
        boxes.iter().map(|aabb| aabb.size().to_array()[axis]).sum::<f64>() / whole[axis].max(TOUCH)
    };
    let axis = (0..3).min_by(|&a, &b| taken(a).total_cmp(&taken(b))).unwrap_or(0);
    let reach = |i: usize| (boxes[i].low.to_array()[axis], boxes[i].high.to_array()[axis]);
    let mut order: Vec<(f64, usize)> = (0..boxes.len()).map(|i| (reach(i).0, i)).collect();
    order.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut pairs = Vec::new();
    for (k, &(_, i)) in order.iter().enumerate() {
        let (_, end) = reach(i);
        let beside = order[k + 1..].iter().take_while(|(begin, _)| *begin <= end);
        let met = beside.filter(|(_, j)| boxes[i].overlap(boxes[*j]) >= 0.0);
        pairs.extend(met.map(|&(_, j)| (i.min(j), i.max(j))));
    }
    pairs.sort_unstable();
    pairs
}

/// Whether two solids may share space by their nature: halves of one slide, legs of one angle, a bolt's parts
/// in what it holds, a head or nut inside a slide's channel.
pub(crate) fn belong_together(kit: &Kit, a: Part, b: Part) -> bool {
    match (a, b) {
        // Finishes have a rule of their own, which knows where they are left off.
        (Part::Coat(_), _) | (_, Part::Coat(_)) => true,
        (Part::Slide(i), Part::Slide(j))
        | (Part::Angle(i), Part::Angle(j))
        | (Part::Tie(i), Part::Tie(j))
        | (Part::Fixture(i), Part::Fixture(j)) => i == j,
        (Part::Room(room), other) | (other, Part::Room(room)) => does_not_count(kit, room, other),
        (Part::Fixture(fixture), Part::Hardware(bolt)) | (Part::Hardware(bolt), Part::Fixture(fixture)) => {
            kit.bolt(bolt).fixture == Some(fixture)
        }
        (Part::Tie(tie), Part::Hardware(bolt)) | (Part::Hardware(bolt), Part::Tie(tie)) => {
            kit.ties[tie].bolt == bolt
        }
        (Part::Hardware(i) | Part::Shank(i), Part::Hardware(j) | Part::Shank(j)) => i == j,
        (Part::Shank(_), _) | (_, Part::Shank(_)) => true,
        (Part::Slide(slide), Part::Hardware(bolt)) | (Part::Hardware(bolt), Part::Slide(slide)) => {
            kit.bolt(bolt).slides.contains(&slide)
        }
        _ => false,
    }
}

/// Whether a part may be in room that is to stay free: another such room, a shank; in room for air what is small, and what
/// moves with it.
fn does_not_count(kit: &Kit, room: usize, part: Part) -> bool {
    let room = &kit.layout.kept_free[room];
    match part {
        Part::Room(_) | Part::Shank(_) => true,
        Part::Hardware(_) | Part::Angle(_) => room.for_air,
        Part::Fixture(i) => room.for_air && kit.layout.fixtures[i].kind != FixtureKind::Equipment,
        Part::Panel(_) => room.for_air && kit.layout.body(room.body).moves() && body(kit, part) == room.body,
        Part::Slide(_) | Part::Tie(_) | Part::Coat(_) => false,
    }
}

/// Whether a part is a leaf of a door's hinges.
pub(crate) fn is_hinge_of(kit: &Kit, part: Part, door: &DoorSummary) -> bool {
    let fixtures = &kit.layout.fixtures;
    matches!(part, Part::Fixture(i) if fixtures[i].name.starts_with(&format!("{}-hinge-", door.name)))
}

/// The body that a part moves with; of a slide its fixed half's.
pub(crate) fn body(kit: &Kit, part: Part) -> BodyId {
    match part {
        Part::Panel(id) => kit.panel(id).body,
        Part::Angle(i) => kit.angles[i].body,
        Part::Slide(i) => kit.layout.board(kit.layout.mounts[i].carcase_board).body,
        Part::Tie(i) => kit.ties[i].body,
        Part::Fixture(i) => kit.layout.fixtures[i].body,
        Part::Room(i) => kit.layout.kept_free[i].body,
        Part::Coat(i) => kit.panel(kit.coatings[i].panel).body,
        Part::Hardware(id) | Part::Shank(id) => kit.bolt(id).body,
    }
}

/// How a finding calls a part.
pub(crate) fn name(kit: &Kit, part: Part) -> String {
    match part {
        Part::Panel(id) => kit.panel(id).name.clone(),
        Part::Angle(i) => kit.angles[i].name.clone(),
        Part::Slide(i) => kit.layout.mounts[i].name.clone(),
        Part::Tie(i) => kit.ties[i].name.clone(),
        Part::Fixture(i) => kit.layout.fixtures[i].name.clone(),
        Part::Room(i) => kit.layout.kept_free[i].name.clone(),
        Part::Coat(i) => {
            let coating = &kit.coatings[i];
            format!("{} on {}", coating.coat.name, kit.panel(coating.panel).name)
        }
        Part::Hardware(id) | Part::Shank(id) => kit.bolt(id).name.clone(),
    }
}

/// Where the spec asks for a part.
pub(crate) fn span(kit: &Kit, part: Part) -> Span {
    match part {
        Part::Panel(id) => kit.panel(id).span,
        Part::Angle(i) => kit.angles[i].span,
        Part::Slide(i) => kit.layout.mounts[i].span,
        Part::Tie(i) => kit.bolt(kit.ties[i].bolt).span,
        Part::Fixture(i) => kit.layout.fixtures[i].span,
        Part::Room(i) => kit.layout.kept_free[i].span,
        Part::Coat(i) => kit.coatings[i].coat.span,
        Part::Hardware(id) | Part::Shank(id) => kit.bolt(id).span,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn boxes() -> impl Strategy<Value = Vec<([u8; 3], [u8; 3], bool)>> {
        let one = (prop::array::uniform3(0..60_u8), prop::array::uniform3(0..20_u8), any::<bool>());
        prop::collection::vec(one, 0..40)
    }

    proptest! {
        /// Found in any order and along any axis, they are the pairs that looking at all of them gives.
        #[test]
        fn near_pairs_are_all_that_meet(boxes in boxes(), way in 0..3_usize) {
            let solid = |&(low, size, moves): &([u8; 3], [u8; 3], bool)| {
                let low = Point3::from(low.map(f64::from));
                let aabb = Aabb { low, high: low + Vector3::from(size.map(f64::from)) };
                let body = BodyId(usize::from(moves));
                Solid { part: Part::Room(0), body, plate: Plate::filling(aabb), aabb }
            };
            let solids: Vec<Solid> = boxes.iter().map(solid).collect();
            let mut travel = [0.0; 3];
            travel[way] = -30.0;
            let travel = |body: BodyId| Vector3::from(travel) * (body.0 as f64);
            let meet = |i: usize, j: usize| {
                let [a, b] = [i, j].map(|i| solids[i].aabb.swept(travel(solids[i].body)));
                a.overlap(b) >= 0.0
            };
            let n = solids.len();
            let all = (0..n).flat_map(|i| (i + 1..n).map(move |j| (i, j)));
            let expected: Vec<(usize, usize)> = all.filter(|&(i, j)| meet(i, j)).collect();
            prop_assert_eq!(near_pairs(&solids, travel), expected);
        }
    }
}
