//! Runs of cables, hoses and ducts: their way from stop to stop, and a hole with a grommet in every panel that they cross.
//!
//! Takes what the spec asks for, gives boards openings, and grommets as fixtures. A run is straight from stop to stop; where
//! it meets a panel it goes square through it, in the nearest place for its hole. A run through a panel that moves without
//! it gets no hole: a check says that it is in the way.

use super::board::{BoardId, BodyId, Role};
use super::equipment::turned_face;
use super::fixture::{Fixture, FixtureKind};
use super::on_panel::direction;
use super::run_hole::{Girth, Hole};
use super::run_rules as rules;
use super::{CutoutSummary, EquipmentSummary, Layout};
use crate::diag::{Finding, Findings, Rule, Span, did_you_mean};
use crate::geom::tolerance::SAME_LENGTH;
use crate::geom::{Aabb, Point3, Vector3, VehicleFrame};
use crate::number::decimal;
use crate::spec::{Design, Run, RunKind, RunStop, Towards};

/// Most panels that one run crosses; more is a way that turns in circles.
const MOST_CROSSED: usize = 50;
/// kg/mm3 of grommets: rubber with fillers, 1200 kg/m3. From memory.
const RUBBER: f64 = 1.2e-6;

/// A run as laid out.
#[derive(Clone, Debug)]
pub(crate) struct RunSummary {
    /// Its name.
    pub(crate) name: String,
    /// What is led there.
    pub(crate) kind: RunKind,
    /// Where it begins and ends, in words.
    pub(crate) ends: [String; 2],
    /// mm. Diameter of the bundle.
    pub(crate) bundle: f64,
    /// mm. Diameter of its holes.
    pub(crate) hole: f64,
    /// Its way, from place to place, shut.
    pub(crate) way: Vec<Point3<VehicleFrame>>,
    /// The panels that it crosses, in order.
    pub(crate) crossings: Vec<Crossing>,
    /// mm that its ends move away from where they are shut: length that it needs beside its way.
    pub(crate) slack: f64,
    /// The bodies that its ends move with.
    pub(crate) bodies: Vec<BodyId>,
    /// Fixtures that are its own: at its ends, and its grommets.
    pub(crate) fixtures: Vec<usize>,
    /// Whether an end is a battery.
    pub(crate) at_battery: bool,
    /// mm along it from a battery to its fuse or breaker.
    pub(crate) protected_within: Option<f64>,
    /// Whether it lies in a conduit or casing there.
    pub(crate) encased: bool,
    /// Where it is described.
    pub(crate) span: Span,
}

impl RunSummary {
    /// mm along its way, shut, without what its ends take.
    pub(crate) fn length(&self) -> f64 {
        self.way.windows(2).map(|pair| (pair[1] - pair[0]).length()).sum()
    }
}

/// A panel that a run crosses.
#[derive(Clone, Debug)]
pub(crate) struct Crossing {
    /// The panel.
    pub(crate) panel: BoardId,
    /// The middle of the opening, on the face that the run comes to.
    pub(crate) middle: Point3<VehicleFrame>,
    /// The opening: the cut-out's name, or that of the run's own hole.
    pub(crate) opening: String,
}

/// Lays out every run. `None` if one finds no way; the findings say why.
pub(super) fn runs(layout: &mut Layout, findings: &mut Findings, design: &Design) -> Option<()> {
    let mut complete = Some(());
    for run in &design.runs {
        let crossings = Vec::new();
        let mut job =
            Job { layout, findings, design, run, crossings, bodies: Vec::new(), fixtures: Vec::new() };
        complete = complete.and(job.lay_out());
    }
    complete
}

struct Job<'a> {
    layout: &'a mut Layout,
    findings: &'a mut Findings,
    design: &'a Design,
    run: &'a Run,
    crossings: Vec<Crossing>,
    bodies: Vec<BodyId>,
    fixtures: Vec<usize>,
}

/// What a stop is, once it is found.
enum Found {
    Equipment(Box<EquipmentSummary>, Option<Towards>),
    Cutout(CutoutSummary),
    Place(Point3<VehicleFrame>),
}

impl Found {
    /// About where it is.
    fn about(&self) -> Point3<VehicleFrame> {
        match self {
            Found::Equipment(equipment, _) => middle(equipment.aabb),
            Found::Cutout(cutout) => cutout.middles.first().copied().unwrap_or_default(),
            Found::Place(place) => *place,
        }
    }

    fn words(&self) -> String {
        match self {
            Found::Equipment(equipment, _) => equipment.name.clone(),
            Found::Cutout(cutout) => cutout.name.clone(),
            Found::Place(place) => {
                format!("({})", place.to_array().map(|mm| decimal(mm, 1)).join(", "))
            }
        }
    }
}

impl Job<'_> {
    fn lay_out(&mut self) -> Option<()> {
        let last = self.run.stops.len() - 1;
        let found: Vec<Option<Found>> =
            (0..=last).map(|i| self.find(&self.run.stops[i], i == 0 || i == last)).collect();
        let found = found.into_iter().collect::<Option<Vec<Found>>>()?;
        let mut way = self.way(&found)?;
        self.keeps_off_panels(&way)?;
        let mut at = 0;
        while at + 1 < way.len() {
            let Some((panel, place)) = self.first_crossing(way[at], way[at + 1]) else {
                at += 1;
                continue;
            };
            let heading = way[at + 1] - way[at];
            let hole = self.hole((panel, place), heading)?;
            way.splice(at + 1..=at, hole.mouths());
            self.cut(&hole);
        }
        let equipment = |found: &Found| match found {
            Found::Equipment(equipment, _) => Some((**equipment).clone()),
            _ => None,
        };
        let at_ends: Vec<EquipmentSummary> =
            [&found[0], &found[last]].into_iter().filter_map(equipment).collect();
        self.fixtures.extend(at_ends.iter().map(|equipment| equipment.fixture));
        let ends = [way[0], way[way.len() - 1]];
        let slack = self
            .bodies
            .iter()
            .map(|&body| ends.iter().map(|&end| (self.open(body, end) - end).length()).fold(0.0, f64::max));
        self.layout.runs.push(RunSummary {
            name: self.run.id.value.clone(),
            kind: self.run.kind,
            ends: [found[0].words(), found[last].words()],
            bundle: self.run.bundle,
            hole: 2.0 * self.girth().radius,
            slack: slack.sum(),
            way,
            crossings: std::mem::take(&mut self.crossings),
            bodies: std::mem::take(&mut self.bodies),
            fixtures: std::mem::take(&mut self.fixtures),
            at_battery: at_ends.iter().any(|equipment| equipment.battery.is_some()),
            protected_within: self.run.protected_within.map(|within| within.value),
            encased: self.run.encased,
            span: self.run.span,
        });
        Some(())
    }

    /// What goes through its holes, which are no smaller than the tool that cuts them.
    fn girth(&self) -> Girth {
        let (bundle, wall) = (self.run.bundle, self.run.wall);
        let tool = self.design.workshop.tool.diameter.value;
        Girth { radius: (bundle / 2.0 + wall).max(tool / 2.0), wall, bundle }
    }

    /// What a stop names. Between its ends a run goes through cut-outs, not through equipment.
    fn find(&mut self, stop: &RunStop, is_end: bool) -> Option<Found> {
        let (name, face) = match stop {
            RunStop::At(place) => return Some(Found::Place(*place)),
            RunStop::Of(name, face) => (name, *face),
        };
        let layout = &self.layout;
        let equipment = layout.equipment.iter().find(|one| is_end && one.name == name.value);
        let cutout = || layout.cutouts.iter().find(|cutout| cutout.name == name.value);
        let found = (equipment.cloned().map(|equipment| Found::Equipment(Box::new(equipment), face)))
            .or_else(|| cutout().cloned().map(Found::Cutout));
        if found.is_none() {
            let equipment = layout.equipment.iter().filter(|_| is_end).map(|one| one.name.as_str());
            let known: Vec<&str> =
                equipment.chain(layout.cutouts.iter().map(|cutout| cutout.name.as_str())).collect();
            let what = if is_end { "equipment or cut-out" } else { "cut-out" };
            let message = format!("no {what} is called `{}`", name.value);
            let help = did_you_mean(&name.value, known.iter().copied()).unwrap_or_else(|| {
                if known.is_empty() {
                    "the kit has none; give a place with `at`".to_owned()
                } else {
                    format!("there are {}", known.join(", "))
                }
            });
            self.fault(&rules::RUN_STOP_UNKNOWN, name.span, message, help);
        }
        found
    }

    /// From place to place, without its own holes.
    fn way(&mut self, found: &[Found]) -> Option<Vec<Point3<VehicleFrame>>> {
        let mut way: Vec<Point3<VehicleFrame>> = Vec::new();
        for (i, stop) in found.iter().enumerate() {
            let is_end = i == 0 || i + 1 == found.len();
            let near = way.last().copied().unwrap_or_else(|| found[1].about());
            match stop {
                Found::Place(place) => way.push(*place),
                Found::Equipment(equipment, face) => {
                    self.bodies.push(self.layout.fixtures[equipment.fixture].body);
                    way.push(self.at_face(equipment, *face, near));
                }
                Found::Cutout(cutout) => {
                    let off = |i: usize| (cutout.middles[i] - near).length();
                    let nearest = (0..cutout.middles.len()).min_by(|&a, &b| off(a).total_cmp(&off(b)));
                    let place = nearest.map(|i| (cutout, i));
                    way.extend(self.at_cutout(place?, near, is_end)?);
                }
            }
        }
        Some(way)
    }

    /// Before and behind the opening of this number of a cut-out, coming from `near`; at an end of the run one of the two.
    fn at_cutout(
        &mut self,
        (cutout, number): (&CutoutSummary, usize),
        near: Point3<VehicleFrame>,
        is_end: bool,
    ) -> Option<Vec<Point3<VehicleFrame>>> {
        let middle = cutout.middles[number];
        let (out, mouth) = (direction(cutout.facing), self.girth().mouth());
        let (before, behind) = (middle + out * mouth, middle - out * (cutout.through + mouth));
        let from_before = (before - near).length() <= (behind - near).length();
        if is_end {
            self.bodies.push(self.layout.board(cutout.host).body);
            // What is set into it is connected behind it.
            let connected = middle - out * (cutout.behind.max(cutout.through) + mouth);
            let is_open = cutout.behind <= cutout.through;
            return Some(vec![if from_before && is_open { before } else { connected }]);
        }
        let opening = cutout.openings[number].clone();
        self.passes(cutout, &opening)?;
        let mut panels: Vec<BoardId> = (0..self.layout.boards.len()).map(BoardId).collect();
        panels.retain(|&id| self.layout.board(id).openings.iter().any(|one| one.joint == opening));
        let depth = |id: BoardId| {
            let (low, high) = self.layout.board(id).aabb.reach(-out);
            if from_before { low } else { -high }
        };
        panels.sort_by(|&a, &b| depth(a).total_cmp(&depth(b)));
        let mut passed = 0.0;
        for panel in panels {
            let from = if from_before { passed } else { cutout.through - passed };
            let middle = middle - out * from;
            passed += self.layout.board(panel).thickness();
            self.crossings.push(Crossing { panel, middle, opening: opening.clone() });
        }
        Some(if from_before { vec![before, behind] } else { vec![behind, before] })
    }

    /// The middle of a face of equipment: the one that is asked for, or the side nearest to where the run goes on.
    fn at_face(
        &self,
        equipment: &EquipmentSummary,
        face: Option<Towards>,
        near: Point3<VehicleFrame>,
    ) -> Point3<VehicleFrame> {
        let half = equipment.aabb.size() / 2.0;
        let at = |out: Vector3<VehicleFrame>| {
            middle(equipment.aabb) + Vector3::new(half.x * out.x, half.y * out.y, half.z * out.z)
        };
        let turns = self.design.equipment.iter().find(|one| one.id.value == equipment.name);
        if let Some(face) = face {
            return at(direction(turned_face(face, turns.map_or(0, |one| one.turns))));
        }
        let sides =
            [Towards::Rear, Towards::Front, Towards::Left, Towards::Right].map(|side| at(direction(side)));
        let by_distance = |a: &Point3<VehicleFrame>, b: &Point3<VehicleFrame>| {
            (*a - near).length().total_cmp(&(*b - near).length())
        };
        sides.into_iter().min_by(by_distance).unwrap_or(near)
    }

    /// The bundle goes through a cut-out, beside the runs that go through it already, and gas alone.
    fn passes(&mut self, cutout: &CutoutSummary, opening: &str) -> Option<()> {
        let least = cutout.size[0].min(cutout.size[1]);
        let goes_through =
            |run: &&RunSummary| run.crossings.iter().any(|crossing| crossing.opening == opening);
        let others: Vec<&RunSummary> = self.layout.runs.iter().filter(goes_through).collect();
        let gas = self.run.kind == RunKind::Gas || others.iter().any(|run| run.kind == RunKind::Gas);
        if let Some(other) = others.first().filter(|_| gas) {
            let message =
                format!("`{}` and `{}` go through `{opening}` together", self.run.id.value, other.name);
            let help = "lead gas through an opening of its own";
            self.fault(&rules::GAS_NOT_ALONE, self.run.span, message, help.to_owned());
            return None;
        }
        // Two bundles of one size fill half of the circle around them.
        let squares =
            others.iter().map(|run| run.bundle * run.bundle).sum::<f64>() + self.run.bundle * self.run.bundle;
        let share = if others.is_empty() { 1.0 } else { 0.5 };
        if squares <= share * least * least + SAME_LENGTH {
            return Some(());
        }
        let bundle = decimal(self.run.bundle, 1);
        let beside = match others.len() {
            0 => String::new(),
            1 => format!(" beside `{}`", others[0].name),
            n => format!(" beside {n} others"),
        };
        let message = format!(
            "a bundle of {bundle} mm does not go through `{opening}`, {} mm wide{beside}",
            decimal(least, 1)
        );
        let help = "make the cut-out larger, or leave it out of `via`: then the run gets a hole of its own";
        self.fault(&rules::RUN_TOO_THICK, self.run.span, message, help.to_owned());
        None
    }

    /// No stop lies in the wood of a panel.
    fn keeps_off_panels(&mut self, way: &[Point3<VehicleFrame>]) -> Option<()> {
        let within = |place: &Point3<VehicleFrame>| {
            self.layout.boards.iter().find(|board| {
                let p = board.placement.to_panel(*place);
                let (low, high) = (SAME_LENGTH, board.thickness() - SAME_LENGTH);
                (low..=high).contains(&p.z) && board.has_material(p.xy(), 0.0)
            })
        };
        let found = way.iter().find_map(|place| Some((place, within(place)?.name.clone())));
        let Some((place, board)) = found else { return Some(()) };
        let place = place.to_array().map(|mm| decimal(mm, 1)).join(", ");
        let message = format!("the stop at ({place}) lies in the wood of `{board}`");
        let help = "move it off the panel; a run gets its hole where it crosses one";
        self.fault(&rules::RUN_STOP_IN_PANEL, self.run.span, message, help.to_owned());
        None
    }

    /// Whether a board moves without the run, or lies loose: it gets no hole.
    fn moves_without(&self, id: BoardId) -> bool {
        let board = self.layout.board(id);
        let moves = self.layout.body(board.body).moves() && !self.bodies.contains(&board.body);
        moves || board.role == Role::Lid
    }

    /// The first panel that a straight stretch crosses, and where.
    fn first_crossing(
        &self,
        from: Point3<VehicleFrame>,
        to: Point3<VehicleFrame>,
    ) -> Option<(BoardId, Point3<VehicleFrame>)> {
        let through: Vec<&str> = self.crossings.iter().map(|crossing| crossing.opening.as_str()).collect();
        let ids = (0..self.layout.boards.len()).map(BoardId).filter(|id| !self.moves_without(*id));
        let crossing = |id: BoardId| {
            let share = self.layout.board(id).crossed_by(from, to, &through)?;
            Some((share, id))
        };
        let first = ids.filter_map(crossing).min_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
        first.map(|(share, id)| (id, from.lerp(to, share)))
    }

    fn hole(
        &mut self,
        (panel, place): (BoardId, Point3<VehicleFrame>),
        heading: Vector3<VehicleFrame>,
    ) -> Option<Hole> {
        let many = self.crossings.len() >= MOST_CROSSED;
        let passable: Vec<bool> =
            (0..self.layout.boards.len()).map(|i| !self.moves_without(BoardId(i))).collect();
        let hole = Hole::find(self.layout, &passable, (panel, place), heading, self.girth());
        if let Some(hole) = hole.filter(|_| !many) {
            return Some(hole);
        }
        let board = &self.layout.board(panel).name;
        let at = place.to_array().map(|mm| decimal(mm, 1)).join(", ");
        let message = if many {
            format!("it crosses more than {MOST_CROSSED} panels")
        } else {
            format!(
                "no place for a hole of {} mm in `{board}` near where the run meets it, at ({at})",
                decimal(2.0 * self.girth().radius, 1)
            )
        };
        let help = "lead it elsewhere with `via`, through places in the vehicle or cut-outs, or give it a thinner bundle";
        self.fault(&rules::RUN_HOLE_WITHOUT_PLACE, self.run.span, message, help.to_owned());
        None
    }

    /// Cuts a hole and puts its grommet in.
    fn cut(&mut self, hole: &Hole) {
        let own = self.crossings.iter().filter(|crossing| crossing.opening.starts_with(&self.hole_name("")));
        let own: std::collections::BTreeSet<&str> = own.map(|crossing| crossing.opening.as_str()).collect();
        let name = self.hole_name(&(own.len() + 1).to_string());
        let mut passed = 0.0;
        for &panel in &hole.panels {
            let middle = hole.middle - hole.out * passed;
            passed += self.layout.board(panel).thickness();
            let opening = hole.opening(self.layout.board(panel), &name);
            self.layout.boards[panel.0].openings.push(opening);
            self.crossings.push(Crossing { panel, middle, opening: name.clone() });
        }
        self.fixtures.push(self.layout.fixtures.len());
        let grommet = self.grommet(hole, name);
        self.layout.fixtures.push(grommet);
    }

    /// A sleeve through the panels, and a lip as wide and as thick as its wall on either face.
    fn grommet(&self, hole: &Hole, name: String) -> Fixture {
        let Girth { radius, wall, bundle } = self.girth();
        let what = if self.run.kind == RunKind::Duct { "duct collar" } else { "grommet" };
        let ring = |outer: f64| std::f64::consts::PI * (outer * outer - bundle * bundle / 4.0);
        let volume = ring(radius) * hole.through + 2.0 * ring(radius + wall) * wall;
        let [outside, panel, inside] = [2.0 * radius, hole.through, bundle].map(|mm| decimal(mm, 1));
        Fixture {
            name,
            kind: FixtureKind::Fitting,
            title: format!("{what}, {outside} mm hole in {panel} mm of panel, {inside} mm inside"),
            item: what.replace(' ', "-"),
            host: hole.panels.first().copied(),
            body: self.layout.board(hole.panels[0]).body,
            solids: hole.lips().to_vec(),
            bolts: Vec::new(),
            mass: volume * RUBBER,
            fill: 0.0,
            centre: hole.middle - hole.out * (hole.through / 2.0),
            span: self.run.span,
        }
    }

    fn hole_name(&self, number: &str) -> String {
        format!("{}-hole-{number}", self.run.id.value)
    }

    /// Where a place is once its body is open.
    fn open(&self, body: BodyId, place: Point3<VehicleFrame>) -> Point3<VehicleFrame> {
        let body = self.layout.body(body);
        body.swing.map_or(place + body.travel, |swing| swing.point(place))
    }

    fn fault(&mut self, rule: &'static Rule, span: Span, message: String, help: String) {
        self.findings.push(Finding::new(rule, span, message).on(&self.run.id.value).help(help));
    }
}

fn middle(aabb: Aabb) -> Point3<VehicleFrame> {
    aabb.low + aabb.size() / 2.0
}
