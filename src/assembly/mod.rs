//! How a kit is put together: which bolt goes in at which step, panels in an order in which a tool gets to every bolt.
//!
//! Takes the kit, gives its steps in the order of work. Within a step the order of the panels is found backwards: the panel
//! that comes off first is one whose bolts can all be undone with everything else still in place; so the last to go on.

mod order;
#[cfg(test)]
mod tests;
mod tool;

pub(crate) use order::Early;
pub(crate) use tool::End;
use tool::Obstacle;

use crate::abreast;
use crate::geom::Aabb;
use crate::joints::solids::Part;
use crate::joints::{Bolt, BoltId, Kit, Purpose};
use crate::layout::{BoardId, BodyId, FixtureKind};
use std::collections::{BTreeMap, BTreeSet};

/// The steps of a kit.
#[derive(Debug)]
pub(crate) struct Assembly {
    /// In the order of work; steps at which nothing is bolted are left out.
    pub(crate) steps: Vec<Task>,
    /// For each bolt its step, by index.
    of_bolt: Vec<usize>,
    /// What no tool gets to at its step.
    pub(crate) unreachable: Vec<Unreachable>,
}

/// One step.
#[derive(Debug)]
pub(crate) struct Task {
    /// What is done.
    pub(crate) step: Step,
    /// Panels in the order in which they go on; empty where none is added.
    pub(crate) panels: Vec<BoardId>,
    /// Bolts that are tightened before a panel of this step goes on, since no tool gets to them afterwards.
    pub(crate) early: Vec<Early>,
}

/// A bolt that no tool gets to at its step.
#[derive(Debug)]
pub(crate) struct Unreachable {
    /// The bolt.
    pub(crate) bolt: BoltId,
    /// Which end of it.
    pub(crate) end: End,
    /// What is in the way of the tool that has the least in its way.
    pub(crate) by: Vec<Part>,
    /// When it could be put in instead: at an earlier step, before this panel goes on.
    pub(crate) cure: Option<(usize, BoardId)>,
}

/// A step of putting a kit together, in the order of work.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Step {
    /// The panels of a drawer or tray.
    Drawer(BodyId),
    /// The panels of a carcase or another body that stays where it is.
    Carcase(BodyId),
    /// What is set into panels, hinged or strapped: by the body of the carcase.
    Fittings(BodyId),
    /// The slides of a drawer or tray, both members.
    Slides(BodyId),
    /// Carcases to each other.
    Modules,
    /// Wings and what belongs to them.
    Wings,
    /// To the vehicle.
    Vehicle,
}

impl Step {
    /// The body whose panels are put together at it.
    pub(crate) fn built(self) -> Option<BodyId> {
        match self {
            Step::Drawer(body) | Step::Carcase(body) => Some(body),
            Step::Slides(_) | Step::Fittings(_) | Step::Modules | Step::Wings | Step::Vehicle => None,
        }
    }

    /// What is done, in words.
    pub(crate) fn words(self, kit: &Kit) -> String {
        let name = |body: BodyId| kit.layout.body(body).name.as_str();
        match self {
            Step::Drawer(body) | Step::Carcase(body) => format!("put {} together", name(body)),
            Step::Slides(body) => format!("slides of {}", name(body)),
            Step::Fittings(body) => format!("fittings, hinges and straps of {}", name(body)),
            Step::Modules => "carcases to each other".to_owned(),
            Step::Wings => "wings, ledges and lids".to_owned(),
            Step::Vehicle => "to the vehicle".to_owned(),
        }
    }
}

impl Assembly {
    /// The step at which a bolt is put in.
    pub(crate) fn step_of(&self, bolt: BoltId) -> Step {
        self.steps[self.of_bolt[bolt.0]].step
    }

    /// The number of that step, from 1.
    pub(crate) fn number_of(&self, bolt: BoltId) -> usize {
        self.of_bolt[bolt.0] + 1
    }
}

/// Steps, orders, and what no tool gets to.
pub(crate) fn plan(kit: &Kit) -> Assembly {
    let of_bolt: Vec<Step> = kit.bolts.iter().map(|bolt| step_of(kit, bolt)).collect();
    let mut used: BTreeSet<Step> = of_bolt.iter().copied().collect();
    // Slides and fittings without a bolt of their own are put in all the same.
    used.extend(kit.layout.drawers.iter().map(|drawer| Step::Slides(drawer.body)));
    let fittings = kit.layout.fixtures.iter().filter(|f| f.kind == FixtureKind::Fitting);
    used.extend(fittings.map(|fixture| Step::Fittings(home(kit, fixture.body))));
    used.extend((!kit.ties.is_empty()).then_some(Step::Vehicle));
    let steps: Vec<Step> = used.into_iter().collect();
    let index: BTreeMap<Step, usize> = steps.iter().enumerate().map(|(i, step)| (*step, i)).collect();
    // Boxes around heads and nuts would be wider than they are; the others are never in the way.
    let solids = kit.solids().iter().filter(|solid| {
        matches!(solid.part, Part::Panel(_) | Part::Angle(_) | Part::Slide(_) | Part::Fixture(_))
    });
    let mut solids: Vec<Obstacle> =
        solids.map(|solid| Obstacle::new(solid.part, solid.body, &solid.plate)).collect();
    solids.extend(kit.bolts.iter().enumerate().flat_map(|(i, bolt)| tool::ends_of(BoltId(i), bolt)));
    let mut assembly = Assembly {
        steps: Vec::new(),
        of_bolt: of_bolt.iter().map(|step| index[step]).collect(),
        unreachable: Vec::new(),
    };
    let mut of_body = vec![Vec::new(); kit.layout.bodies.len()];
    for (i, solid) in solids.iter().enumerate() {
        of_body[solid.body.0].push((i, solid.aabb));
    }
    let mut of_step = vec![Vec::new(); steps.len()];
    for (i, &step) in assembly.of_bolt.iter().enumerate() {
        of_step[step].push(BoltId(i));
    }
    for (&step, own) in steps.iter().zip(of_step) {
        let scene = Scene { kit, solids: &solids, of_body: &of_body, of_bolt: &of_bolt, step };
        let bolts = abreast::each(own.len(), |i| (own[i], scene.accesses(own[i])));
        let task = if let Some(body) = step.built() {
            order::of_body(&scene, body, &bolts, &mut assembly.unreachable)
        } else {
            order::at_once(&scene, &bolts, &assembly.steps, &mut assembly.unreachable);
            Task { step, panels: Vec::new(), early: Vec::new() }
        };
        assembly.steps.push(task);
    }
    assembly
}

/// What stands around the bolts of a step.
struct Scene<'a> {
    kit: &'a Kit,
    solids: &'a [Obstacle],
    /// For each body its solids, by index, with their boxes: a bolt is nowhere near most of them.
    of_body: &'a [Vec<(usize, Aabb)>],
    /// The step of each bolt.
    of_bolt: &'a [Step],
    step: Step,
}

impl Scene<'_> {
    /// The ends of a bolt that want a tool, with what is in the way.
    fn accesses(&self, id: BoltId) -> Vec<tool::Access> {
        let bolt = self.kit.bolt(id);
        let mut bodies: BTreeSet<BodyId> =
            bolt.panels.iter().map(|panel| self.kit.panel(*panel).body).chain([bolt.body]).collect();
        if self.step == Step::Vehicle {
            let all = self.kit.layout.bodies.iter().enumerate();
            bodies.extend(all.filter(|(_, body)| !body.moves()).map(|(i, _)| BodyId(i)));
        }
        let reach = tool::reach(bolt);
        let solids = bodies.iter().flat_map(|body| &self.of_body[body.0]);
        let near: Vec<_> = solids
            .filter(|(_, aabb)| reach.overlap(*aabb) > 0.0)
            .map(|&(i, _)| (i, &self.solids[i]))
            .filter(|(_, solid)| self.is_there(id, solid.part))
            .collect();
        tool::accesses(bolt, &near)
    }

    /// Whether a part is there when a bolt is put in, as far as the step goes.
    fn is_there(&self, bolt: BoltId, part: Part) -> bool {
        match part {
            Part::Panel(id) => self.step >= Step::Wings || !self.kit.panel(id).role.is_fitted_inside(),
            Part::Angle(i) => {
                let fitted = |id: &BoardId| self.kit.panel(*id).role.is_fitted_inside();
                self.step >= Step::Wings || !self.kit.angles[i].panels.iter().any(fitted)
            }
            Part::Slide(_) => self.step >= Step::Modules,
            // Equipment comes last.
            Part::Fixture(i) => {
                self.step >= Step::Fittings(BodyId(0))
                    && self.kit.layout.fixtures[i].kind != FixtureKind::Equipment
            }
            Part::Hardware(other) => other != bolt && self.of_bolt[other.0] <= self.step,
            Part::Room(_) | Part::Tie(_) | Part::Coat(_) | Part::Shank(_) => false,
        }
    }

    /// The panels that must be there for a part to be.
    fn panels_of(&self, part: Part) -> Vec<BoardId> {
        match part {
            Part::Panel(id) => vec![id],
            Part::Angle(i) => self.kit.angles[i].panels.to_vec(),
            Part::Hardware(bolt) => self.kit.bolt(bolt).panels.clone(),
            _ => Vec::new(),
        }
    }
}

/// The step at which a bolt is put in.
fn step_of(kit: &Kit, bolt: &Bolt) -> Step {
    let layout = &kit.layout;
    let carcase = |id: &BoardId| &layout.body(layout.board(*id).body).carcase;
    let across = bolt.panels.windows(2).any(|pair| carcase(&pair[0]) != carcase(&pair[1]));
    match bolt.purpose {
        Purpose::Anchor => Step::Vehicle,
        Purpose::Fixture => Step::Fittings(home(kit, bolt.body)),
        Purpose::SlideFixed | Purpose::SlideMoving => {
            Step::Slides(bolt.slides.first().map_or(bolt.body, |&slide| layout.mounts[slide].drawer))
        }
        Purpose::Joint if kit.holds_what_is_fitted_inside(bolt) => Step::Wings,
        Purpose::Joint if across => Step::Modules,
        Purpose::Joint if layout.body(bolt.body).moves() => Step::Drawer(bolt.body),
        Purpose::Joint => Step::Carcase(bolt.body),
    }
}

/// The body of the carcase that a body belongs to; its own if there is none.
pub(crate) fn home(kit: &Kit, body: BodyId) -> BodyId {
    let bodies = &kit.layout.bodies;
    let carcase = &kit.layout.body(body).carcase;
    bodies.iter().position(|other| other.name == *carcase).map_or(body, BodyId)
}
