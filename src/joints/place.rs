//! Places bolts: works out a bolt's solids, looks for a free spot, and keeps what is placed.

use super::model::{AnglePiece, Bolt, BoltSolids, Purpose, Tie};
use super::obstacles::{Obstacles, Owner, Solid};
use super::rules;
use crate::catalogue::{Catalogue, Hardware};
use crate::diag::{Finding, Findings, Span};
use crate::geom::tolerance::SAME_LENGTH;
use crate::geom::{Aabb, Plate, Point3, Vector3, VehicleFrame, overlap_depth};
use crate::layout::{BoardId, BodyId, Layout};
use crate::number::decimal;
use crate::spec::Design;

/// mm by which a bolt is moved along its joint, step by step, when something stands where it should go.
const SHIFT_STEP: f64 = 5.0;

/// mm. A bolt is not moved further than this from where the spacing puts it.
const LONGEST_SHIFT: f64 = 40.0;

/// A bolt that is about to be placed: all but where along its joint.
#[derive(Clone, Debug)]
pub(super) struct Candidate {
    /// What it does.
    pub(super) purpose: Purpose,
    /// From head to nut.
    pub(super) direction: Vector3<VehicleFrame>,
    /// The hardware that holds the stack.
    pub(super) hardware: Hardware,
    /// mm between the bearing faces.
    pub(super) grip: f64,
    /// Panels from head to nut.
    pub(super) panels: Vec<BoardId>,
    /// Panel that holds the nut inside itself.
    pub(super) held_in: Option<BoardId>,
    /// What it moves with.
    pub(super) body: BodyId,
    /// Slides in whose channel its head or nut lies.
    pub(super) slides: Vec<usize>,
    /// Angles whose legs it holds.
    pub(super) angles: Vec<usize>,
    /// The fixture that it holds.
    pub(super) fixture: Option<usize>,
    /// mm of finish under its head.
    pub(super) padding: f64,
    /// mm by which its holes are longer along x and y, either way.
    pub(super) slack: (f64, f64),
    /// Where the spec asks for it.
    pub(super) span: Span,
}

impl Candidate {
    /// The boxes of its parts with its axis entering at `origin`.
    fn solids(&self, origin: Point3<VehicleFrame>) -> BoltSolids {
        solids((self.direction, &self.hardware, self.grip, self.held_in.is_some()), origin)
    }
}

/// Everything that the stage works on.
pub(super) struct Placer<'a> {
    pub(super) design: &'a Design,
    pub(super) catalogue: &'a Catalogue,
    pub(super) layout: &'a Layout,
    pub(super) findings: &'a mut Findings,
    pub(super) obstacles: Obstacles,
    pub(super) bolts: Vec<Bolt>,
    pub(super) angles: Vec<AnglePiece>,
    pub(super) ties: Vec<Tie>,
}

impl Placer<'_> {
    /// The first spot along `along` that is free, nearest to `wanted` first; `allowed` bounds the shift.
    /// Gives the shift, mm.
    pub(super) fn free_shift(
        &self,
        candidate: &Candidate,
        wanted: Point3<VehicleFrame>,
        along: Vector3<VehicleFrame>,
        allowed: impl Fn(f64) -> bool,
    ) -> Option<f64> {
        shifts()
            .filter(|&shift| allowed(shift))
            .find(|&shift| self.is_free(candidate, wanted + along * shift))
    }

    /// Whether nothing stands where the bolt's head, nut and shank would be, and its panels are there.
    pub(super) fn is_free(&self, candidate: &Candidate, origin: Point3<VehicleFrame>) -> bool {
        self.has_material(candidate, origin) && self.met_at(candidate, origin).is_none()
    }

    /// Whether the bolt keeps its distance from the slanted sides and notches of its panels. The straight ends of a
    /// joint are kept by where bolts are wanted along it.
    fn has_material(&self, candidate: &Candidate, origin: Point3<VehicleFrame>) -> bool {
        let diameter = candidate.hardware.thread.diameter;
        let keeps = |id: BoardId, place: Point3<VehicleFrame>| {
            let board = self.layout.board(id);
            let place = board.placement.to_panel(place).xy();
            let least = self.design.workshop.edge_distance.value * diameter;
            let least = if board.fills_its_box() { SAME_LENGTH } else { least };
            board.has_material(place, least - SAME_LENGTH)
        };
        let end = origin + candidate.direction * candidate.hardware.length;
        candidate.panels.iter().all(|&id| keeps(id, origin))
            && candidate.held_in.is_none_or(|id| keeps(id, end))
    }

    /// What stands in the way of a bolt at `origin`.
    pub(super) fn met_at(&self, candidate: &Candidate, origin: Point3<VehicleFrame>) -> Option<Owner> {
        self.met_beside(candidate, origin, &|_| false)
    }

    /// The same for a bolt whose place is given: a board with a notch is in its way only where it has wood.
    pub(super) fn met_exactly(&self, candidate: &Candidate, origin: Point3<VehicleFrame>) -> Option<Owner> {
        let BoltSolids { head, nut, .. } = candidate.solids(origin);
        let ends: Vec<Plate> = [head, nut].into_iter().flatten().map(Plate::filling).collect();
        self.met_beside(candidate, origin, &|id| {
            let board = self.layout.board(id);
            !board.fills_its_box() && ends.iter().all(|end| overlap_depth(end, &board.plate()).is_none())
        })
    }

    fn met_beside(
        &self,
        candidate: &Candidate,
        origin: Point3<VehicleFrame>,
        beside: &dyn Fn(BoardId) -> bool,
    ) -> Option<Owner> {
        let solids = candidate.solids(origin);
        let own = |owner: Owner| match owner {
            Owner::Board(id) => candidate.panels.contains(&id) || candidate.held_in == Some(id) || beside(id),
            Owner::Slide(i) => candidate.slides.contains(&i),
            Owner::Angle(i) => candidate.angles.contains(&i),
            Owner::Fixture(i) => candidate.fixture == Some(i),
            Owner::Hardware(_) | Owner::Shank(_) | Owner::Room(_) => false,
        };
        // Its own panels are no obstacle to head and nut, which only touch them; a shank passes through panels
        // by design, so only other bolts are in its way.
        let shank_only = |owner: Owner| own(owner) || matches!(owner, Owner::Board(_) | Owner::Slide(_));
        let met = |aabb: Aabb, ignored: &dyn Fn(Owner) -> bool| {
            self.obstacles.met_by(aabb, candidate.body, ignored).map(|met| met.solid.owner).min()
        };
        let ends = [solids.head, solids.nut].into_iter().flatten().find_map(|aabb| met(aabb, &own));
        ends.or_else(|| met(solids.shank, &shank_only))
    }

    /// Keeps a bolt at `origin` under a name.
    pub(super) fn keep(&mut self, candidate: &Candidate, origin: Point3<VehicleFrame>, name: String) {
        let solids = candidate.solids(origin);
        for solid in occupied(self.bolts.len(), candidate.body, &solids) {
            self.obstacles.add(solid);
        }
        self.bolts.push(Bolt {
            name,
            purpose: candidate.purpose,
            origin,
            direction: candidate.direction,
            hardware: candidate.hardware.clone(),
            grip: candidate.grip,
            panels: candidate.panels.clone(),
            held_in: candidate.held_in,
            slides: candidate.slides.clone(),
            fixture: candidate.fixture,
            padding: candidate.padding,
            slack: candidate.slack,
            body: candidate.body,
            solids,
            span: candidate.span,
        });
    }

    /// Puts another bolt in the place of the one numbered `number`, its solids worked out anew.
    pub(super) fn replace(&mut self, number: usize, bolt: Bolt) {
        for solid in occupied(number, self.bolts[number].body, &self.bolts[number].solids) {
            self.obstacles.remove(solid);
        }
        let held = bolt.held_in.is_some();
        let solids = solids((bolt.direction, &bolt.hardware, bolt.grip, held), bolt.origin);
        for solid in occupied(number, bolt.body, &solids) {
            self.obstacles.add(solid);
        }
        self.bolts[number] = Bolt { solids, ..bolt };
    }

    /// Takes back every bolt from the one numbered `first` on.
    pub(super) fn take_back(&mut self, first: usize) {
        for (i, bolt) in self.bolts.drain(first..).enumerate() {
            for solid in occupied(first + i, bolt.body, &bolt.solids) {
                self.obstacles.remove(solid);
            }
        }
    }

    /// Reports what stands where the spec wants a bolt, if anything does.
    pub(super) fn report_blocked(
        &mut self,
        candidate: &Candidate,
        origin: Point3<VehicleFrame>,
        joint: &str,
        at: f64,
        span: Span,
    ) {
        if let Some(owner) = self.met_at(candidate, origin) {
            let message = format!("a bolt at {} mm meets {}", decimal(at, 2), self.owner_name(owner));
            let help = "move it, or leave `at:` out and the bolts find their places";
            self.findings
                .push(Finding::new(&rules::BOLT_POSITION_OFF_JOINT, span, message).on(joint).help(help));
        }
    }

    /// Whether a head on this side of the board must lie flush, and can.
    pub(super) fn is_flush(&self, board: BoardId, outwards: Vector3<VehicleFrame>, size: &str) -> bool {
        let board = self.layout.board(board);
        let wanted = board.flush_face_a && board.normal().dot(outwards) > 0.5;
        wanted && self.catalogue.sinks_into(board.thickness(), size)
    }
}

/// The solids of the bolt with this number.
fn occupied(number: usize, body: BodyId, solids: &BoltSolids) -> impl Iterator<Item = Solid> {
    let ends = [solids.head, solids.nut].into_iter().flatten();
    let ends = ends.map(move |aabb| Solid { aabb, body, owner: Owner::Hardware(number) });
    ends.chain(std::iter::once(Solid { aabb: solids.shank, body, owner: Owner::Shank(number) }))
}

/// 0, then further and further to either side.
fn shifts() -> impl Iterator<Item = f64> {
    let steps = (1..).map(f64::from).map(|i| i * SHIFT_STEP).take_while(|&shift| shift <= LONGEST_SHIFT);
    std::iter::once(0.0).chain(steps.flat_map(|shift| [shift, -shift]))
}

/// The boxes of a bolt's parts with its axis entering at `origin`: from its direction, hardware, grip, and whether a
/// panel holds its nut.
fn solids(
    (direction, hardware, grip, held): (Vector3<VehicleFrame>, &Hardware, f64, bool),
    origin: Point3<VehicleFrame>,
) -> BoltSolids {
    let square = |from: f64, to: f64, radius: f64| {
        let across = Vector3::new(1.0 - direction.x.abs(), 1.0 - direction.y.abs(), 1.0 - direction.z.abs());
        let ends = [origin + direction * from, origin + direction * to];
        let side = across * radius;
        Aabb::around(ends.into_iter().flat_map(|end| [end - side, end + side]))
    };
    let head_height = hardware.head_height();
    let radius = hardware.thread.diameter / 2.0;
    let own = hardware.nut.as_ref().filter(|_| !held);
    let nut = own.map(|_| square(grip, grip + hardware.nut_height(), hardware.nut_radius()));
    let in_panel = hardware.nut.as_ref().filter(|_| held);
    let reach = in_panel.map_or(grip, |nut| grip + nut.height + hardware.proud);
    BoltSolids {
        head: (head_height > 0.0).then(|| square(-head_height, 0.0, hardware.head_radius())),
        nut,
        shank: square(0.0, reach, radius),
    }
}
