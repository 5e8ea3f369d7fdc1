//! What the kit weighs and where its weight acts.
//!
//! Takes the finished kit and the panels' figures; gives a mass and a centre for every part, sums by carcase
//! and for the whole. Each part's mass is rounded to the milligram that tables print, and sums are sums of the
//! rounded masses, so what is printed adds up.

mod lighter;

pub(crate) use lighter::Saving;

use crate::catalogue::Catalogue;
use crate::geom::{Aabb, Point3, Vector3, VehicleFrame};
use crate::joints::Kit;
use crate::layout::{BoardId, BodyId, FixtureKind};
use crate::number::rounded;
use crate::solid::PlateFigures;

/// Decimals of a mass in kg wherever one is printed: a milligram.
pub(crate) const MASS_DECIMALS: usize = 6;

/// What sort of part it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum PartKind {
    /// A panel with its finish.
    Panel,
    /// A piece of aluminium angle.
    Angle,
    /// One slide of a pair.
    Slide,
    /// Bolts, washers and nuts of one body.
    Hardware,
    /// Something set into a panel or standing on it.
    Fixture,
    /// A turnbuckle with the eye bolt in the vehicle's point.
    Turnbuckle,
}

impl PartKind {
    /// The word in tables.
    pub(crate) fn word(self) -> &'static str {
        match self {
            PartKind::Panel => "panel",
            PartKind::Angle => "angle",
            PartKind::Slide => "slide",
            PartKind::Hardware => "hardware",
            PartKind::Fixture => "fixture",
            PartKind::Turnbuckle => "turnbuckle",
        }
    }
}

/// One part's mass.
#[derive(Clone, Debug)]
pub(crate) struct PartMass {
    /// The part's name.
    pub(crate) name: String,
    /// What it is.
    pub(crate) kind: PartKind,
    /// The body that it moves with; a slide counts with its carcase.
    pub(crate) body: BodyId,
    /// kg, rounded to [`MASS_DECIMALS`].
    pub(crate) mass: f64,
    /// Its centre of gravity with all drawers shut.
    pub(crate) centre: Point3<VehicleFrame>,
    /// For a panel the next lighter board of its thickness, and kg that it would save.
    pub(crate) lighter: Option<(String, f64)>,
}

/// A sum of masses with their common centre of gravity.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Sum {
    /// kg.
    pub(crate) mass: f64,
    /// Centre of gravity; the origin for no mass at all.
    pub(crate) centre: Point3<VehicleFrame>,
}

impl Sum {
    /// The sum of some parts: masses add, moments add.
    fn of<'a>(parts: impl IntoIterator<Item = &'a PartMass>) -> Self {
        let mut mass = 0.0;
        let mut moment: Vector3<VehicleFrame> = Vector3::zero();
        for part in parts {
            mass += part.mass;
            moment += part.centre.to_vector() * part.mass;
        }
        let centre = if mass > 0.0 { (moment / mass).to_point() } else { Point3::origin() };
        Sum { mass: rounded(mass, MASS_DECIMALS), centre }
    }
}

/// What a pair of slides carries, kg.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Carried {
    /// Panels, angles, hardware, fittings.
    pub(crate) own: f64,
    /// Equipment that stands on it, filled.
    pub(crate) equipment: f64,
    /// All of it, with what the spec puts into it.
    pub(crate) full: f64,
}

/// All masses of a kit.
#[derive(Clone, Debug)]
pub(crate) struct Masses {
    /// Panels, angles, slides, hardware, turnbuckles, fixtures; each in the kit's order.
    pub(crate) parts: Vec<PartMass>,
    /// By carcase id, its drawers included.
    pub(crate) carcases: Vec<(String, Sum)>,
    /// By drawer: what moves when it is opened, without the slides.
    pub(crate) drawers: Vec<(BodyId, Sum)>,
    /// By drawer: what its slides carry.
    pub(crate) carried: Vec<Carried>,
    /// By board of the kit what the next lighter one of its thickness would save.
    pub(crate) lighter: Vec<Saving>,
    /// The kit.
    pub(crate) total: Sum,
}

/// Weighs a kit. `figures` are the panels', in their order.
pub(crate) fn weigh(kit: &Kit, figures: &[PlateFigures], catalogue: &Catalogue) -> Masses {
    let mut parts = panels(kit, figures);
    let lighter = lighter::savings(kit, &mut parts, catalogue);
    parts.extend(kit.angles.iter().map(|angle| PartMass {
        name: angle.name.clone(),
        kind: PartKind::Angle,
        body: angle.body,
        mass: rounded(angle.mass(), MASS_DECIMALS),
        centre: middle(angle.legs[0].joined(angle.legs[1])),
        lighter: None,
    }));
    parts.extend(kit.layout.mounts.iter().map(|mount| PartMass {
        name: mount.name.clone(),
        kind: PartKind::Slide,
        body: kit.layout.board(mount.carcase_board).body,
        mass: rounded(mount.slide.mass_pair / 2.0, MASS_DECIMALS),
        centre: middle(mount.fixed.joined(mount.moving)),
        lighter: None,
    }));
    parts.extend(hardware(kit));
    parts.extend(kit.ties.iter().map(|tie| PartMass {
        name: tie.name.clone(),
        kind: PartKind::Turnbuckle,
        body: tie.body,
        mass: rounded(tie.turnbuckle.mass(), MASS_DECIMALS),
        centre: tie.from.lerp(tie.to, 0.5),
        lighter: None,
    }));
    let fittings = kit.layout.fixtures.iter().filter(|fixture| fixture.kind != FixtureKind::Equipment);
    parts.extend(fittings.map(|fixture| PartMass {
        name: fixture.name.clone(),
        kind: PartKind::Fixture,
        body: fixture.body,
        mass: rounded(fixture.mass, MASS_DECIMALS),
        centre: fixture.centre,
        lighter: None,
    }));
    let carcase = |part: &PartMass| kit.layout.body(part.body).carcase.as_str();
    let mut ids: Vec<&str> = kit.layout.bodies.iter().map(|body| body.carcase.as_str()).collect();
    ids.sort_unstable();
    ids.dedup();
    let carcases = ids
        .into_iter()
        .map(|id| (id.to_owned(), Sum::of(parts.iter().filter(|part| carcase(part) == id))))
        // Equipment at a place of its own is a body without a part of the kit.
        .filter(|(_, sum)| sum.mass > 0.0)
        .collect();
    let drawers = kit
        .layout
        .drawers
        .iter()
        .map(|drawer| (drawer.body, Sum::of(parts.iter().filter(|part| part.body == drawer.body))));
    let drawers: Vec<(BodyId, Sum)> = drawers.collect();
    let carried = kit.layout.drawers.iter().zip(&drawers).map(|(drawer, (_, sum))| {
        let on_it = || kit.layout.fixtures.iter().filter(|fixture| fixture.body == drawer.body);
        let of_equipment = on_it().filter(|fixture| fixture.kind == FixtureKind::Equipment);
        let equipment: f64 = of_equipment.map(|fixture| fixture.mass + fixture.fill).sum();
        let own = sum.mass;
        Carried { own, equipment, full: own + equipment + drawer.load }
    });
    let carried = carried.collect();
    Masses { carcases, drawers, carried, lighter, total: Sum::of(&parts), parts }
}

fn panels(kit: &Kit, figures: &[PlateFigures]) -> Vec<PartMass> {
    let panels = kit.panels.iter().zip(figures).enumerate();
    panels
        .map(|(i, (panel, figures))| {
            // mm3 and kg/m3.
            let mut mass = figures.volume * panel.material.density() * 1e-9;
            let mut centre = panel.placement.to_vehicle(figures.centroid);
            for coating in kit.coatings_of(BoardId(i)) {
                mass += coating.mass();
                centre = centre.lerp(coating.centre, coating.mass() / mass);
            }
            let (name, mass) = (panel.name.clone(), rounded(mass, MASS_DECIMALS));
            PartMass { name, kind: PartKind::Panel, body: panel.body, mass, centre, lighter: None }
        })
        .collect()
}

/// Bolts with washers and nuts, one line for each body.
fn hardware(kit: &Kit) -> Vec<PartMass> {
    let bodies = kit.layout.bodies.iter().enumerate();
    bodies
        .filter_map(|(i, body)| {
            let bolts = kit.bolts.iter().filter(|bolt| bolt.body == BodyId(i));
            let mut mass = 0.0;
            let mut moment: Vector3<VehicleFrame> = Vector3::zero();
            for bolt in bolts {
                let own = bolt.hardware.mass();
                mass += own;
                moment += (bolt.origin + bolt.direction * (bolt.grip / 2.0)).to_vector() * own;
            }
            (mass > 0.0).then(|| PartMass {
                name: format!("{}-hardware", body.name),
                kind: PartKind::Hardware,
                body: BodyId(i),
                mass: rounded(mass, MASS_DECIMALS),
                centre: (moment / mass).to_point(),
                lighter: None,
            })
        })
        .collect()
}

fn middle(aabb: Aabb) -> Point3<VehicleFrame> {
    aabb.low + aabb.size() / 2.0
}
