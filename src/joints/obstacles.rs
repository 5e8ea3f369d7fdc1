//! What already stands where: boards, slides, fixtures, angles and hardware, shut and over the whole travel of drawers.
//!
//! Bolts and angles are placed one after the other, each where it meets nothing that was there before. Boxes
//! are compared, so a place may be refused that a round part would just fit; never the other way round.

use crate::geom::tolerance::TOUCH;
use crate::geom::{Aabb, Point3, Vector3, VehicleFrame};
use crate::layout::{BoardId, BodyId, Layout};
use rstar::{AABB, RTree, RTreeObject};

/// Whose solid it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Owner {
    /// A board.
    Board(BoardId),
    /// A slide, by its index among the mounts.
    Slide(usize),
    /// An angle, by its index.
    Angle(usize),
    /// A fixture, by its index.
    Fixture(usize),
    /// Room that is to stay free, by its index.
    Room(usize),
    /// A bolt's head or nut, by the bolt's index.
    Hardware(usize),
    /// A bolt's shank, by the bolt's index.
    Shank(usize),
}

/// A solid and the body that it moves with.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Solid {
    /// The box that it fills when everything is shut.
    pub(crate) aabb: Aabb,
    /// What it moves with.
    pub(crate) body: BodyId,
    /// Whose it is.
    pub(crate) owner: Owner,
}

/// A solid that something would meet.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Met {
    /// What is met.
    pub(crate) solid: Solid,
    /// The box that it fills, at rest or over its whole travel, whichever is met.
    pub(crate) region: Aabb,
}

#[derive(PartialEq)]
struct Entry {
    solid: Solid,
    swept: Aabb,
}

impl RTreeObject for Entry {
    type Envelope = AABB<[f64; 3]>;

    fn envelope(&self) -> Self::Envelope {
        envelope(self.swept, 0.0)
    }
}

/// All solids placed so far.
pub(crate) struct Obstacles {
    tree: RTree<Entry>,
    travels: Vec<Vector3<VehicleFrame>>,
    clearance: f64,
}

impl Obstacles {
    /// The boards and slides of a layout. Parts of bodies that move against each other keep `clearance` mm.
    pub(crate) fn of_layout(layout: &Layout, clearance: f64) -> Self {
        let travels: Vec<_> = layout.bodies.iter().map(|body| body.travel).collect();
        let boards = layout.boards.iter().enumerate().map(|(i, board)| Solid {
            aabb: board.aabb,
            body: board.body,
            owner: Owner::Board(BoardId(i)),
        });
        let slides = layout.mounts.iter().enumerate().flat_map(|(i, mount)| {
            let fixed = layout.board(mount.carcase_board).body;
            [(mount.fixed, fixed), (mount.moving, mount.drawer)].map(|(aabb, body)| Solid {
                aabb,
                body,
                owner: Owner::Slide(i),
            })
        });
        let fixtures = layout.fixtures.iter().enumerate().flat_map(|(i, fixture)| {
            let solids = fixture.solids.iter();
            solids.map(move |&aabb| Solid { aabb, body: fixture.body, owner: Owner::Fixture(i) })
        });
        let rooms = layout.kept_free.iter().enumerate().filter(|(_, room)| !room.for_air);
        let rooms = rooms.map(|(i, room)| Solid { aabb: room.aabb, body: room.body, owner: Owner::Room(i) });
        let entries =
            boards.chain(slides).chain(fixtures).chain(rooms).map(|solid| entry(&travels, solid)).collect();
        Obstacles { tree: RTree::bulk_load(entries), travels, clearance }
    }

    /// Adds a solid.
    pub(crate) fn add(&mut self, solid: Solid) {
        self.tree.insert(entry(&self.travels, solid));
    }

    /// Takes a solid away again.
    pub(crate) fn remove(&mut self, solid: Solid) {
        self.tree.remove(&entry(&self.travels, solid));
    }

    /// Those solids that `aabb`, moving with `body`, would meet, shut or on the way, except for `ignored` ones.
    pub(crate) fn met_by<'a>(
        &'a self,
        aabb: Aabb,
        body: BodyId,
        ignored: &'a dyn Fn(Owner) -> bool,
    ) -> impl Iterator<Item = Met> + 'a {
        let swept = aabb.swept(self.travels[body.0]);
        self.tree.locate_in_envelope_intersecting(envelope(swept, self.clearance)).filter_map(move |entry| {
            if ignored(entry.solid.owner) {
                return None;
            }
            let at_rest = entry.solid.body == body || (self.still(body) && self.still(entry.solid.body));
            let (region, depth) = if at_rest {
                (entry.solid.aabb, aabb.overlap(entry.solid.aabb))
            } else {
                (entry.swept, swept.overlap(entry.swept) + self.clearance)
            };
            (depth > TOUCH).then_some(Met { solid: entry.solid, region })
        })
    }

    fn still(&self, body: BodyId) -> bool {
        self.travels[body.0] == Vector3::zero()
    }
}

fn entry(travels: &[Vector3<VehicleFrame>], solid: Solid) -> Entry {
    Entry { solid, swept: solid.aabb.swept(travels[solid.body.0]) }
}

fn envelope(aabb: Aabb, margin: f64) -> AABB<[f64; 3]> {
    let m = Vector3::new(margin, margin, margin);
    let corner = |p: Point3<VehicleFrame>| [p.x, p.y, p.z];
    AABB::from_corners(corner(aabb.low - m), corner(aabb.high + m))
}
