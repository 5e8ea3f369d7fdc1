//! Checks of strength in `kit.json`. Shape and content: with the masses and places of the rest of the document all that is needed
//! to work them out again.

use super::{kg, mm, vector};
use crate::finished::Finished;
use crate::layout::BoardId;
use crate::number::rounded;
use crate::strength::{self, Gives, Method, Outcome, Press, Sheet, Way, setting_rows};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// Whether the kit holds: arithmetic on what was entered, no certificate. N, mm, `MPa`, kg.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub(crate) struct Strength {
    /// Part of the slides' rating that may be used.
    pub(crate) slide_factor: f64,
    /// Factors and limits.
    pub(crate) settings: Vec<StrengthSetting>,
    /// Lying panels.
    pub(crate) panels: Vec<PanelStrength>,
    /// Slides.
    pub(crate) slides: Vec<SlideStrength>,
    /// What drawers and trays take.
    pub(crate) takes: Vec<TakesStrength>,
    /// Latches.
    pub(crate) latches: Vec<LatchStrength>,
    /// Loose modules with drawers out.
    pub(crate) tipping: Vec<Tipping>,
    /// Groups of bolts.
    pub(crate) joints: Vec<JointStrength>,
    /// Points of the vehicle.
    pub(crate) anchors: Vec<AnchorStrength>,
    /// Equipment under straps.
    pub(crate) straps: Vec<StrapStrength>,
}

/// A factor or a limit.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub(crate) struct StrengthSetting {
    /// Its key in the workshop's `strength`.
    pub(crate) key: String,
    /// With its unit.
    pub(crate) value: String,
    /// What it rests on.
    pub(crate) basis: String,
}

/// A lying panel.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub(crate) struct PanelStrength {
    /// Its name.
    pub(crate) panel: String,
    /// The part used; null if it was not checked.
    pub(crate) used: Option<f64>,
    /// Why it was not checked.
    pub(crate) unknown: Option<String>,
    /// Its material; null if it was not checked.
    pub(crate) sheet: Option<SheetStrength>,
    /// Each load by itself, at its worst place.
    pub(crate) loads: Vec<PanelLoadStrength>,
    /// What acts together.
    pub(crate) cases: Vec<PanelCaseStrength>,
    /// kg at the limit of the worst case.
    pub(crate) at_limit: Option<f64>,
    /// The thinnest board of the family that would do.
    pub(crate) would_do: Option<String>,
}

/// A material as it counts: along u, along v.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub(crate) struct SheetStrength {
    /// mm.
    pub(crate) thickness: f64,
    /// Moduli of elasticity.
    pub(crate) modulus: [f64; 2],
    /// Bending strengths, characteristic.
    pub(crate) bending: [f64; 2],
    /// Shear modulus.
    pub(crate) shear_modulus: f64,
    /// Poisson's ratio.
    pub(crate) poisson: f64,
    /// Partial factor.
    pub(crate) gamma: f64,
    /// Creep.
    pub(crate) k_def: f64,
}

/// One load on a panel, without factors.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub(crate) struct PanelLoadStrength {
    /// What it is.
    pub(crate) what: String,
    /// kg.
    pub(crate) mass: f64,
    /// `strip`, `arm` or `plate`.
    pub(crate) method: String,
    /// `u` or `v`.
    pub(crate) way: String,
    /// Whether it is spread over the panel.
    pub(crate) spread: bool,
    /// Its middle on the panel.
    pub(crate) place: [f64; 2],
    /// Span or arm; of a plate its sides along u and v.
    pub(crate) spans: [f64; 2],
    /// From the line that carries it to its middle, along the strip; of a plate from its corner along u and v.
    pub(crate) at: [f64; 2],
    /// Of the load along the strip; of a plate along u and v.
    pub(crate) length: [f64; 2],
    /// Of the strip that bears it.
    pub(crate) width: f64,
    /// N; N/mm on a strip under a spread load.
    pub(crate) force: f64,
    /// N mm on the strip; N mm/mm of a plate.
    pub(crate) moments: [f64; 2],
    /// `MPa`.
    pub(crate) stresses: [f64; 2],
    /// mm, at once.
    pub(crate) sag: f64,
}

/// Loads that act together.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub(crate) struct PanelCaseStrength {
    /// What it is.
    pub(crate) name: String,
    /// On the loads.
    pub(crate) factor: f64,
    /// For how long they stay.
    pub(crate) k_mod: f64,
    /// Stress over strength.
    pub(crate) stress_used: f64,
    /// Sag over what it may be.
    pub(crate) sag_used: Option<f64>,
}

/// One slide of a pair, without factors.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub(crate) struct SlideStrength {
    /// Its name.
    pub(crate) slide: String,
    /// The drawer or tray.
    pub(crate) drawer: String,
    /// N that it bears.
    pub(crate) weight: f64,
    /// mm from the centre of gravity of what is drawn out back to the slide's front end.
    pub(crate) beyond: f64,
    /// mm from its front end to the bolts of the fixed member.
    pub(crate) bolts: Vec<f64>,
    /// N down on each with the drawer out.
    pub(crate) out: Vec<f64>,
    /// N down on each bolt of the moving member.
    pub(crate) moving: Vec<f64>,
    /// Carried over what the pair may carry; null without a rating.
    pub(crate) used: Option<f64>,
}

/// What may be put in a drawer or on a tray.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub(crate) struct TakesStrength {
    /// Its name.
    pub(crate) drawer: String,
    /// kg evenly spread, beside itself and the equipment that stands on it; null if nothing of it was checked.
    pub(crate) most: Option<f64>,
    /// What gives first beyond them: slides, latch, panel (its bottom), joint (bolts of its slides), loose module (which tips).
    pub(crate) first: Option<String>,
    /// What could not be checked, so that it may take less.
    pub(crate) unknown: Vec<String>,
}

/// A latch.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub(crate) struct LatchStrength {
    /// Of which drawer, tray or door.
    pub(crate) name: String,
    /// kg.
    pub(crate) mass: f64,
    /// N that it must hold.
    pub(crate) needed: f64,
    /// N that it holds.
    pub(crate) holds: Option<f64>,
    /// N on the closed stop, forward.
    pub(crate) stop: f64,
    /// Needed over what it holds.
    pub(crate) used: Option<f64>,
}

/// A loose module.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub(crate) struct Tipping {
    /// Its carcases.
    pub(crate) module: String,
    /// The drawer that is out; null for all.
    pub(crate) drawer: Option<String>,
    /// kg that stay and mm behind the edge.
    pub(crate) stays: [f64; 2],
    /// kg that are out and mm before the edge.
    pub(crate) out: [f64; 2],
    /// How many times it is held; null if nothing tips it.
    pub(crate) factor: Option<f64>,
    /// N down at the far end of its base.
    pub(crate) hold_down: f64,
}

/// A group of bolts.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub(crate) struct JointStrength {
    /// The joint, slide, fixture or point.
    pub(crate) name: String,
    /// The load.
    pub(crate) case: String,
    /// Bolts that share it.
    pub(crate) bolts: usize,
    /// The bolt that is worst off.
    pub(crate) worst: String,
    /// N across it.
    pub(crate) shear: f64,
    /// N along it.
    pub(crate) tension: f64,
    /// Ways in which it can give.
    pub(crate) resistances: Vec<JointResistance>,
    /// What gives first.
    pub(crate) governing: String,
    /// The part used; null if it was not checked.
    pub(crate) used: Option<f64>,
    /// Why it was not checked.
    pub(crate) unknown: Option<String>,
}

/// A way in which a joint can give.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub(crate) struct JointResistance {
    /// What gives.
    pub(crate) what: String,
    /// The formula by name.
    pub(crate) formula: String,
    /// N, by design.
    pub(crate) force: f64,
    /// The part used.
    pub(crate) used: f64,
}

/// A point of the vehicle.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub(crate) struct AnchorStrength {
    /// The point.
    pub(crate) point: String,
    /// The carcase that it holds.
    pub(crate) carcase: String,
    /// Whether by a turnbuckle.
    pub(crate) tied: bool,
    /// kg of the module, loaded.
    pub(crate) mass: f64,
    /// Its centre of gravity.
    pub(crate) centre: [f64; 3],
    /// x, y, z from which its bases reach, then to which.
    pub(crate) base: [[f64; 3]; 2],
    /// Braking, reversing, cornering, up.
    pub(crate) cases: Vec<AnchorCaseStrength>,
    /// N at 20 times gravity forward; for information, never a pass.
    pub(crate) crash: f64,
    /// N.
    pub(crate) rating: Option<f64>,
    /// The worst case over the rating.
    pub(crate) used: Option<f64>,
    /// Why it was not checked.
    pub(crate) unknown: Option<String>,
}

/// What one case does to a point.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub(crate) struct AnchorCaseStrength {
    /// Where the load goes.
    pub(crate) way: String,
    /// Parts of gravity.
    pub(crate) share: f64,
    /// N along the floor: x, y, z.
    pub(crate) shear: [f64; 3],
    /// N off the floor.
    pub(crate) tension: f64,
    /// N in all; of a turnbuckle along itself.
    pub(crate) force: f64,
}

/// Equipment under straps.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub(crate) struct StrapStrength {
    /// What it is.
    pub(crate) name: String,
    /// kg, full.
    pub(crate) mass: f64,
    /// Straps that it has.
    pub(crate) straps: usize,
    /// By friction forward, rearward, sideways.
    pub(crate) by_friction: [f64; 3],
    /// Pulling back at 45 degrees, forward, rearward, sideways.
    pub(crate) direct: [f64; 3],
    /// Straps over it that are wanted.
    pub(crate) wanted: f64,
}

fn figure(value: f64) -> f64 {
    rounded(value, 6)
}

fn used(outcome: &Outcome) -> Option<f64> {
    outcome.used().filter(|used| used.is_finite()).map(figure)
}

fn unknown(outcome: &Outcome) -> Option<String> {
    match outcome {
        Outcome::Used(_) => None,
        Outcome::Unknown(why) => Some(why.clone()),
    }
}

/// All checks.
pub(super) fn strength(finished: &Finished) -> Strength {
    let checks = &finished.strength;
    let settings = setting_rows(&finished.design.workshop.strength).into_iter().map(|row| StrengthSetting {
        key: row.key.to_owned(),
        value: row.value,
        basis: row.basis.to_owned(),
    });
    Strength {
        slide_factor: figure(finished.design.slide_factor.value),
        settings: settings.collect(),
        panels: checks.panels.iter().map(|check| panel(finished, check)).collect(),
        slides: checks.drawers.iter().flat_map(|check| slides(finished, check)).collect(),
        takes: checks.takes.iter().map(|one| takes(finished, one)).collect(),
        latches: checks.latches.iter().map(latch).collect(),
        tipping: checks.tipping.iter().map(tipping).collect(),
        joints: checks.joints.iter().map(joint).collect(),
        anchors: checks.anchors.iter().map(anchor).collect(),
        straps: checks
            .straps
            .iter()
            .map(|check| StrapStrength {
                name: check.name.clone(),
                mass: kg(check.mass),
                straps: check.straps,
                by_friction: check.by_friction.map(figure),
                direct: check.direct.map(figure),
                wanted: figure(check.wanted),
            })
            .collect(),
    }
}

fn board(finished: &Finished, id: BoardId) -> String {
    finished.kit.layout.board(id).name.clone()
}

fn panel(finished: &Finished, check: &strength::PanelCheck) -> PanelStrength {
    let sheet = |sheet: Sheet| SheetStrength {
        thickness: mm(sheet.thickness),
        modulus: sheet.modulus.map(figure),
        bending: sheet.bending.map(figure),
        shear_modulus: figure(sheet.shear_modulus),
        poisson: sheet.poisson(),
        gamma: sheet.gamma(),
        k_def: sheet.k_def().unwrap_or(0.0),
    };
    let cases = check.cases.iter().map(|case| PanelCaseStrength {
        name: case.together.name().to_owned(),
        factor: figure(case.factor),
        k_mod: figure(case.k_mod),
        stress_used: figure(case.stress_used),
        sag_used: case.sag_used.map(figure),
    });
    PanelStrength {
        panel: board(finished, check.board),
        used: used(&check.outcome),
        unknown: unknown(&check.outcome),
        sheet: check.sheet.map(sheet),
        loads: check.results.iter().map(load).collect(),
        cases: cases.collect(),
        at_limit: check.at_limit.map(figure),
        would_do: check.would_do.clone(),
    }
}

fn load(one: &strength::PanelResult) -> PanelLoadStrength {
    let method = match one.method {
        Method::Strip => "strip",
        Method::Arm => "arm",
        Method::Plate => "plate",
    };
    PanelLoadStrength {
        what: one.item.what.clone(),
        mass: kg(one.item.mass),
        method: method.to_owned(),
        way: if one.way == Way::AlongU { "u" } else { "v" }.to_owned(),
        spread: one.item.press == Press::Spread,
        place: [mm(one.place.x), mm(one.place.y)],
        spans: one.spans.map(mm),
        at: one.at.map(mm),
        length: one.length.map(mm),
        width: figure(one.width),
        force: figure(one.force),
        moments: one.moments.map(figure),
        stresses: one.stresses.map(figure),
        sag: figure(one.sag),
    }
}

fn slides<'a>(
    finished: &'a Finished,
    check: &'a strength::DrawerCheck,
) -> impl Iterator<Item = SlideStrength> + 'a {
    let layout = &finished.kit.layout;
    check.slides.iter().map(|slide| SlideStrength {
        slide: layout.mounts[slide.mount].name.clone(),
        drawer: layout.drawers[check.drawer].name.clone(),
        weight: figure(slide.weight),
        beyond: mm(check.beyond),
        bolts: slide.bolts.iter().copied().map(mm).collect(),
        out: slide.out.iter().copied().map(figure).collect(),
        moving: slide.moving.iter().copied().map(figure).collect(),
        used: used(&check.outcome),
    })
}

fn takes(finished: &Finished, one: &strength::Takes) -> TakesStrength {
    TakesStrength {
        drawer: finished.kit.layout.drawers[one.drawer].name.clone(),
        most: one.most.map(|(most, _)| figure(most)),
        first: one.most.map(|(_, first)| first.word().to_owned()),
        unknown: one.unknown.iter().map(|kind| kind.word().to_owned()).collect(),
    }
}

fn latch(check: &strength::LatchCheck) -> LatchStrength {
    LatchStrength {
        name: check.name.clone(),
        mass: kg(check.mass),
        needed: figure(check.needed),
        holds: check.holds.map(figure),
        stop: figure(check.stop),
        used: used(&check.outcome),
    }
}

fn tipping(check: &strength::TippingCheck) -> Tipping {
    Tipping {
        module: check.module.clone(),
        drawer: check.drawer.clone(),
        stays: [kg(check.stays.0), mm(check.stays.1)],
        out: [kg(check.out.0), mm(check.out.1)],
        factor: Some(check.factor).filter(|factor| factor.is_finite()).map(figure),
        hold_down: figure(check.hold_down),
    }
}

fn joint(check: &strength::JointCheck) -> JointStrength {
    let resistances = check.resistances.iter().map(|way| JointResistance {
        what: way.gives.name(),
        formula: way.gives.formula().to_owned(),
        force: figure(way.force),
        used: figure(way.used),
    });
    JointStrength {
        name: check.name.clone(),
        case: check.case.clone(),
        bolts: check.bolts,
        worst: check.worst.clone(),
        shear: figure(check.shear),
        tension: figure(check.tension),
        resistances: resistances.collect(),
        governing: check.first().map(Gives::name).unwrap_or_default(),
        used: used(&check.outcome),
        unknown: unknown(&check.outcome),
    }
}

fn anchor(check: &strength::AnchorCheck) -> AnchorStrength {
    let cases = check.cases.iter().map(|case| AnchorCaseStrength {
        way: case.way.to_owned(),
        share: case.share,
        shear: case.shear.to_array().map(figure),
        tension: figure(case.tension),
        force: figure(case.force),
    });
    AnchorStrength {
        point: check.point.clone(),
        carcase: check.carcase.clone(),
        tied: check.tied,
        mass: kg(check.mass),
        centre: check.centre.to_array().map(mm),
        base: [vector(check.base.low.to_vector()), vector(check.base.high.to_vector())],
        cases: cases.collect(),
        crash: figure(check.crash.force),
        rating: check.rating.map(figure),
        used: used(&check.outcome),
        unknown: unknown(&check.outcome),
    }
}
