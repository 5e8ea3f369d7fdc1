//! What the kit weighs and where its weight acts.
//!
//! Takes the finished kit and the panels' figures; gives a mass and a centre for every part, sums by carcase
//! and for the whole. Each part's mass is rounded to the milligram that tables print, and sums are sums of the
//! rounded masses, so what is printed adds up.

mod inertia;
mod lighter;
mod states;
mod weighed;

pub(crate) use lighter::Saving;
pub(crate) use states::{Content, Open, State};
pub(crate) use weighed::{AsWeighed, as_weighed};

use crate::catalogue::Catalogue;
use crate::geom::{Aabb, Point3, Vector3, VehicleFrame};
use crate::joints::Kit;
use crate::layout::{BoardId, BodyId};
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
    /// Every kind, in the order of tables.
    pub(crate) const ALL: [PartKind; 6] = [
        PartKind::Panel,
        PartKind::Angle,
        PartKind::Slide,
        PartKind::Hardware,
        PartKind::Fixture,
        PartKind::Turnbuckle,
    ];

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
        Sum::of_masses(parts.into_iter().map(|part| (part.mass, part.centre)))
    }

    /// The sum of some masses at their places.
    pub(crate) fn of_masses(masses: impl Iterator<Item = (f64, Point3<VehicleFrame>)>) -> Self {
        let mut mass = 0.0;
        let mut moment: Vector3<VehicleFrame> = Vector3::zero();
        for (own, centre) in masses {
            mass += own;
            moment += centre.to_vector() * own;
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
    /// Where all of it acts, shut.
    pub(crate) centre: Point3<VehicleFrame>,
}

/// All masses of a kit.
#[derive(Clone, Debug)]
pub(crate) struct Masses {
    /// Panels, angles, slides, hardware, turnbuckles, fixtures; each in the kit's order.
    pub(crate) parts: Vec<PartMass>,
    /// Equipment, and what lies in drawers.
    pub(crate) contents: Vec<Content>,
    /// By carcase id, its drawers included.
    pub(crate) carcases: Vec<(String, Sum)>,
    /// By drawer: what moves when it is opened, without the slides.
    pub(crate) drawers: Vec<(BodyId, Sum)>,
    /// By drawer: what its slides carry.
    pub(crate) carried: Vec<Carried>,
    /// By carcase id, with what is in it and in its drawers.
    pub(crate) loaded: Vec<(String, Sum)>,
    /// Empty and loaded, shut and drawn out.
    pub(crate) states: Vec<State>,
    /// kg m2 about the axes forward, to the left and up through the kit's centre of gravity; empty, shut.
    pub(crate) inertia: [f64; 3],
    /// By board of the kit what the next lighter one of its thickness would save.
    pub(crate) lighter: Vec<Saving>,
    /// The kit.
    pub(crate) total: Sum,
}

/// Weighs a kit. `figures` are the panels', in their order.
pub(crate) fn weigh(kit: &Kit, figures: &[PlateFigures], catalogue: &Catalogue) -> Masses {
    let mut parts = panels(kit, figures);
    let lighter = lighter::savings(kit, &mut parts, catalogue);
    parts.extend(fittings(kit));
    let layout = &kit.layout;
    let carcase = |part: &PartMass| layout.body(part.body).carcase.as_str();
    let mut ids: Vec<&str> = layout.bodies.iter().map(|body| body.carcase.as_str()).collect();
    ids.sort_unstable();
    ids.dedup();
    // Equipment at a place of its own is a body without a part of the kit.
    ids.retain(|id| parts.iter().any(|part| carcase(part) == *id && part.mass > 0.0));
    let contents = states::contents(layout);
    let own = |id: &str| -> Vec<(f64, Point3<VehicleFrame>)> {
        let own = parts.iter().filter(|part| carcase(part) == id);
        own.map(|part| (part.mass, part.centre)).collect()
    };
    let held = |id: &str| -> Vec<(f64, Point3<VehicleFrame>)> {
        let held = contents.iter().filter(|held| layout.body(held.body).carcase == id);
        held.map(|held| (held.mass, held.centre)).collect()
    };
    let sum = |id: &str, held: Vec<_>| (id.to_owned(), Sum::of_masses(own(id).into_iter().chain(held)));
    let carcases = ids.iter().map(|&id| sum(id, Vec::new())).collect();
    let loaded = ids.iter().map(|&id| sum(id, held(id))).collect();
    let drawers = layout
        .drawers
        .iter()
        .map(|drawer| (drawer.body, Sum::of(parts.iter().filter(|part| part.body == drawer.body))));
    let drawers: Vec<(BodyId, Sum)> = drawers.collect();
    let carried = carried(kit, &drawers, &contents);
    let states = states::states(layout, &parts, &contents);
    let total = Sum::of(&parts);
    let inertia = [0.0; 3];
    let mut masses =
        Masses { parts, contents, carcases, drawers, carried, loaded, states, inertia, lighter, total };
    masses.inertia = inertia::of_kit(kit, figures, &masses);
    masses
}

/// What each drawer's slides carry.
fn carried(kit: &Kit, drawers: &[(BodyId, Sum)], contents: &[Content]) -> Vec<Carried> {
    let carried = kit.layout.drawers.iter().zip(drawers).map(|(drawer, (_, sum))| {
        let on_it = kit.layout.fixtures.iter().filter(|fixture| fixture.body == drawer.body);
        let of_equipment = on_it.filter(|fixture| !fixture.is_of_kit());
        let equipment: f64 = of_equipment.map(|fixture| fixture.mass + fixture.fill).sum();
        let held = contents.iter().filter(|held| held.body == drawer.body);
        let all = std::iter::once((sum.mass, sum.centre)).chain(held.map(|held| (held.mass, held.centre)));
        let (own, centre) = (sum.mass, Sum::of_masses(all).centre);
        Carried { own, equipment, full: own + equipment + drawer.load, centre }
    });
    carried.collect()
}

/// What is not a panel: angles, slides, hardware, turnbuckles, fixtures.
fn fittings(kit: &Kit) -> Vec<PartMass> {
    let part = |name: &str, kind, body, mass, centre| PartMass {
        name: name.to_owned(),
        kind,
        body,
        mass: rounded(mass, MASS_DECIMALS),
        centre,
        lighter: None,
    };
    let angles = kit.angles.iter().map(|angle| {
        let centre = middle(angle.legs[0].joined(angle.legs[1]));
        part(&angle.name, PartKind::Angle, angle.body, angle.mass(), centre)
    });
    let slides = kit.layout.mounts.iter().map(|mount| {
        let body = kit.layout.board(mount.carcase_board).body;
        let centre = middle(mount.fixed.joined(mount.moving));
        part(&mount.name, PartKind::Slide, body, mount.slide.mass_pair / 2.0, centre)
    });
    let ties = kit.ties.iter().map(|tie| {
        part(&tie.name, PartKind::Turnbuckle, tie.body, tie.turnbuckle.mass(), tie.from.lerp(tie.to, 0.5))
    });
    let fixtures = kit.layout.fixtures.iter().filter(|fixture| fixture.is_of_kit());
    let fixtures = fixtures
        .map(|fixture| part(&fixture.name, PartKind::Fixture, fixture.body, fixture.mass, fixture.centre));
    angles.chain(slides).chain(hardware(kit)).chain(ties).chain(fixtures).collect()
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::example_kits;

    fn board(mass: f64, centre: [f64; 3]) -> PartMass {
        PartMass {
            name: String::new(),
            kind: PartKind::Panel,
            body: BodyId(0),
            mass,
            centre: Point3::new(centre[0], centre[1], centre[2]),
            lighter: None,
        }
    }

    /// By hand, 680 kg/m3: base and top of 900 x 1000 x 15 at z 7.5 and 292.5, two sides of 900 x 270 x 15, a back of 970 x 270 x
    /// 12 at x 894: 25.4543 kg, centre (487.278, 500, 150).
    #[test]
    fn a_box_of_five_boards() {
        let kg = |a: f64, b: f64, t: f64| a * b * t * 680e-9;
        let parts = [
            board(kg(900.0, 1000.0, 15.0), [450.0, 500.0, 7.5]),
            board(kg(900.0, 1000.0, 15.0), [450.0, 500.0, 292.5]),
            board(kg(900.0, 270.0, 15.0), [450.0, 7.5, 150.0]),
            board(kg(900.0, 270.0, 15.0), [450.0, 992.5, 150.0]),
            board(kg(970.0, 270.0, 12.0), [894.0, 500.0, 150.0]),
        ];
        let sum = Sum::of(&parts);
        assert!((sum.mass - 25.4543).abs() < 1e-4, "{sum:?}");
        let Point3 { x, y, z, .. } = sum.centre;
        assert!(
            (x - 487.278).abs() < 1e-3 && (y - 500.0).abs() < 1e-9 && (z - 150.0).abs() < 1e-9,
            "{sum:?}"
        );
    }

    /// A drawer of 3 kg that comes out by 700 moves the centre of a kit of 30 kg by a tenth of that, and back again.
    #[test]
    fn what_is_drawn_out_moves_the_centre() {
        let text = "bay: {width: 1040, depth: 1050, height: 800}\ncarcases:\n  - {id: main, width: 1000, depth: 900, height: 300, panel: \
                    birch-12, columns: [{id: a, drawer: {slide: heavy-700, load: 20}}, {id: b, drawer: {slide: heavy-700}}]}\n";
        let kit = example_kits::finished(text);
        let masses = &kit.masses;
        let state = |loaded, open: Open| {
            masses.states.iter().find(|state| state.loaded == loaded && state.open == open).unwrap().sum
        };
        let shut = state(false, Open::Shut);
        assert!(
            (shut.mass - masses.total.mass).abs() < 1e-9
                && (shut.centre - masses.total.centre).length() < 1e-9
        );
        let (body, drawer) = masses.drawers[0];
        let travel = kit.kit.layout.body(body).travel;
        let out = state(false, Open::One("main-a".into()));
        let by = travel.x * drawer.mass / shut.mass;
        assert!(travel.x < -600.0 && (out.centre.x - shut.centre.x - by).abs() < 1e-6);
        let loaded = state(true, Open::Shut);
        assert!((loaded.mass - shut.mass - 20.0).abs() < 1e-9);
        let all = state(true, Open::All);
        let moved = masses.drawers.iter().map(|(_, sum)| sum.mass).sum::<f64>() + 20.0;
        assert!((all.centre.x - loaded.centre.x - travel.x * moved / loaded.mass).abs() < 1e-6);
        assert_eq!(masses.states.len(), 2 * 4);
    }

    /// The next lighter board of 12 mm than birch is poplar, in this catalogue; savings of panels add up to those of the board.
    #[test]
    fn lighter_boards_save_what_their_areas_weigh_less() {
        let kit = example_kits::finished(example_kits::ANGLES);
        let [saving] = &kit.masses.lighter[..] else { panic!("{:?}", kit.masses.lighter) };
        let of_parts: f64 =
            kit.masses.parts.iter().filter_map(|part| part.lighter.as_ref()).map(|own| own.1).sum();
        assert!((saving.saves - of_parts).abs() < 1e-9);
        let panels: f64 =
            kit.masses.parts.iter().filter(|part| part.kind == PartKind::Panel).map(|part| part.mass).sum();
        // 8.34 and 6.0 kg/m2.
        assert!(
            saving.from == "birch-12" && (saving.saves / panels - (1.0 - 500.0 / 695.0)).abs() < 1e-6,
            "{saving:?}"
        );
    }

    /// Two kits that are one mirrored: the same moments; each is no more than mass times the square of the farthest corner.
    #[test]
    fn inertia_is_that_of_boards_and_distances() {
        let kit = example_kits::finished(example_kits::ANGLES);
        let [x, y, z] = kit.masses.inertia;
        let far =
            kit.kit.panels.iter().map(|panel| panel.plate().aabb()).reduce(Aabb::joined).unwrap().size();
        let most = kit.masses.total.mass * far.square_length() / 4.0 * 1e-6;
        assert!(x > 0.0 && y > 0.0 && z > 0.0 && x.max(y).max(z) < most, "{:?}", kit.masses.inertia);
        // Of any body two moments are no less than the third.
        assert!(x + y > z && y + z > x && x + z > y);
    }
}
