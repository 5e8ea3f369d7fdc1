//! Whether the kit holds: panels in bending, slides and latches, bolted joints, what holds it to the vehicle, straps.
//!
//! Takes the design, the kit, its masses and the catalogue; gives [`Strength`]: a row for each check with all that a person needs
//! to work it out again. Only reports. The formulas are those of the crate `baywright-formulas`; what is decided here is which
//! loads act where. Arithmetic on what was entered: no certificate, no crash rating.

mod anchors;
mod board;
mod drawers;
mod joints;
mod manoeuvres;
mod modules;
mod on_wood;
mod panels;
mod settings;
mod straps;
mod takes;
#[cfg(test)]
mod tests;
mod tipping;

pub(crate) use anchors::{AnchorCheck, NOT_HELD};
pub(crate) use board::Sheet;
pub(crate) use drawers::{DrawerCheck, LatchCheck};
pub(crate) use joints::{FULL_END, Gives, JointCheck, Resistance};
pub(crate) use on_wood::SizeOnWood;
pub(crate) use panels::{AT_EDGE, INSIDE, INSIDE_FROM, Item, Method, PanelCheck, PanelResult, Press, Way};
pub(crate) use settings::rows as setting_rows;
pub(crate) use straps::{DIRECT, StrapCheck};
pub(crate) use takes::Takes;
pub(crate) use tipping::TippingCheck;

use crate::catalogue::Catalogue;
use crate::joints::{Bolt, Kit};
use crate::layout::Meeting;
use crate::mass::Masses;
use crate::spec::{Design, StrengthSettings};
use modules::Module;
use std::collections::BTreeMap;

/// What is checked.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Kind {
    /// A lying panel.
    Panel,
    /// The slides of a drawer or tray.
    Slides,
    /// A latch.
    Latch,
    /// A module that nothing holds to the vehicle.
    LooseModule,
    /// A group of bolts.
    Joint,
    /// A point of the vehicle.
    Point,
    /// Straps over equipment.
    Straps,
}

impl Kind {
    /// In words.
    pub(crate) fn word(self) -> &'static str {
        match self {
            Kind::Panel => "panel",
            Kind::Slides => "slides",
            Kind::Latch => "latch",
            Kind::LooseModule => "loose module",
            Kind::Joint => "joint",
            Kind::Point => "point of the vehicle",
            Kind::Straps => "straps",
        }
    }
}

/// All checks of strength.
#[derive(Clone, Debug)]
pub(crate) struct Strength {
    /// Lying panels, in the order of the boards.
    pub(crate) panels: Vec<PanelCheck>,
    /// Drawers and trays, in the order of the layout.
    pub(crate) drawers: Vec<DrawerCheck>,
    /// What they take, in the order of the layout.
    pub(crate) takes: Vec<Takes>,
    /// Latches of drawers, trays and doors.
    pub(crate) latches: Vec<LatchCheck>,
    /// Modules that nothing holds to the vehicle.
    pub(crate) tipping: Vec<TippingCheck>,
    /// Groups of bolts.
    pub(crate) joints: Vec<JointCheck>,
    /// Points of the vehicle.
    pub(crate) anchors: Vec<AnchorCheck>,
    /// Equipment under straps.
    pub(crate) straps: Vec<StrapCheck>,
    /// Thread sizes in plywood: distances and tightening.
    pub(crate) on_wood: Vec<SizeOnWood>,
    /// Modules that no point of the vehicle holds, by the ids of their carcases.
    pub(crate) loose: Vec<String>,
}

/// What came of a check.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Outcome {
    /// What acts over what it may be; more than 1 does not hold.
    Used(f64),
    /// Not checked, and why. Never a pass.
    Unknown(String),
}

impl Outcome {
    /// Whether it was checked and does not hold.
    pub(crate) fn fails(&self) -> bool {
        self.used().is_some_and(|used| used > 1.0)
    }

    /// What acts over what it may be.
    pub(crate) fn used(&self) -> Option<f64> {
        match self {
            Outcome::Used(used) => Some(*used),
            Outcome::Unknown(_) => None,
        }
    }
}

impl Strength {
    /// Of each kind of check the part that is used where it is most, and how much was not checked.
    pub(crate) fn most_used(&self, kit: &Kit) -> (Vec<(Kind, f64)>, usize) {
        let mut most: Vec<(Kind, f64)> = Vec::new();
        let mut unknown = self.loose.len();
        for (kind, _, outcome) in self.outcomes(kit) {
            let Some(used) = outcome.used() else {
                unknown += 1;
                continue;
            };
            match most.iter_mut().find(|(known, _)| *known == kind) {
                Some((_, most)) => *most = most.max(used),
                None => most.push((kind, used)),
            }
        }
        (most, unknown)
    }

    /// Every outcome, with what was checked and its name.
    pub(crate) fn outcomes(&self, kit: &Kit) -> Vec<(Kind, String, &Outcome)> {
        let board = |check: &PanelCheck| kit.layout.board(check.board).name.clone();
        let drawer = |check: &DrawerCheck| kit.layout.drawers[check.drawer].name.clone();
        let panels = self.panels.iter().map(|check| (Kind::Panel, board(check), &check.outcome));
        let drawers = self.drawers.iter().map(|check| (Kind::Slides, drawer(check), &check.outcome));
        let latches = self.latches.iter().map(|check| (Kind::Latch, check.name.clone(), &check.outcome));
        let tipping = self.tipping.iter().map(|check| (Kind::LooseModule, check.name(), &check.outcome));
        let joints = self.joints.iter().map(|check| (Kind::Joint, check.name.clone(), &check.outcome));
        let anchors = self.anchors.iter().map(|check| (Kind::Point, check.name(), &check.outcome));
        let straps = self.straps.iter().map(|check| (Kind::Straps, check.name.clone(), &check.outcome));
        panels
            .chain(drawers)
            .chain(latches)
            .chain(tipping)
            .chain(joints)
            .chain(anchors)
            .chain(straps)
            .collect()
    }
}

/// What every check reads.
#[derive(Clone, Copy)]
struct Job<'a> {
    design: &'a Design,
    kit: &'a Kit,
    masses: &'a Masses,
    catalogue: &'a Catalogue,
    /// The bolts of each joint, slide, fixture or point, by its name.
    bolts: &'a BTreeMap<&'a str, Vec<&'a Bolt>>,
    modules: &'a [Module],
}

impl<'a> Job<'a> {
    /// The bolts of a joint, slide, fixture or point.
    fn bolts_of(&self, name: &str) -> &'a [&'a Bolt] {
        self.bolts.get(name).map(Vec::as_slice).unwrap_or_default()
    }

    /// The joint of this name where an edge stands against a face.
    fn meeting(&self, name: &str) -> Option<&'a Meeting> {
        self.kit.layout.meetings.iter().find(|meeting| meeting.name == name)
    }

    fn settings(&self) -> &'a StrengthSettings {
        &self.design.workshop.strength
    }

    /// Modules that no point of the vehicle holds.
    fn loose(&self) -> impl Iterator<Item = &'a Module> {
        self.modules.iter().filter(|module| !module.is_held(self.kit))
    }
}

/// Runs every check.
pub(crate) fn check(design: &Design, kit: &Kit, masses: &Masses, catalogue: &Catalogue) -> Strength {
    let mut bolts: BTreeMap<&str, Vec<&Bolt>> = BTreeMap::new();
    for bolt in &kit.bolts {
        bolts.entry(bolt.joint()).or_default().push(bolt);
    }
    let modules = modules::modules(kit, masses);
    let job = Job { design, kit, masses, catalogue, bolts: &bolts, modules: &modules };
    let panels = panels::check(&job);
    let drawers = drawers::check(&job);
    let latches = drawers::latches(&job);
    let anchors = anchors::check(&job);
    let joints = joints::check(&job, &panels, (&drawers, &latches), &anchors);
    let tipping = tipping::check(&job, &drawers);
    let takes = takes::all(&job, &panels, (&drawers, &latches), &joints, &tipping);
    Strength {
        panels,
        drawers,
        takes,
        latches,
        tipping,
        joints,
        anchors,
        straps: straps::check(&job),
        on_wood: on_wood::sizes(&job),
        loose: job.loose().map(Module::name).collect(),
    }
}
