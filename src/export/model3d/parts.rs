//! Every part of a kit with its shape in a frame of its own and where that stands.

use super::boundary::{Boundary, Vector, across};
use super::look::Look;
use super::shapes::{self, AngleShape};
use crate::catalogue::Hardware;
use crate::finished::with_solid;
use crate::geom::{Aabb, Axes, Placement, Point3, Vector3, VehicleFrame, seen_from_afar, snap};
use crate::joints::{AnglePiece, Bolt, Kit};
use crate::layout::{BodyId, Fixture, FixtureKind, SlideMount};
use crate::mass::PartKind;
use crate::number::decimal;
use crate::solid::SolidSpec;

/// Bores and openings narrower than this are left out of what is plain, mm: a few dots of a screen from some metres away, and most of
/// them filled by bolts and tabs.
const NARROW: f64 = 20.0;

/// mm by which outlines may be off in what is plain.
const NEAR_ENOUGH: f64 = 3.0;

/// How much of a part its shape shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Detail {
    /// Every hole, every step of a bolt.
    Full,
    /// What is seen from some metres away: no small holes and no fine corners, bolts as bars.
    Plain,
}

/// A part before equal shapes are found.
pub(super) struct Part {
    /// Its name.
    pub(super) name: String,
    /// The word for what it is.
    pub(super) kind: &'static str,
    /// How it shows.
    pub(super) look: Look,
    /// What its shape is called in a catalogue, if it has such a name.
    pub(super) designation: Option<String>,
    /// Its solids.
    pub(super) solids: Vec<Boundary>,
    /// Where their frame stands.
    pub(super) placement: Placement,
    /// The body that it moves with.
    pub(super) body: BodyId,
}

/// Every part, kind by kind, in the kit's order.
pub(super) fn all(kit: &Kit, detail: Detail) -> impl Iterator<Item = Part> + '_ {
    let panels = kit.panels.iter().map(move |panel| Part {
        name: panel.name.clone(),
        kind: PartKind::Panel.word(),
        look: Look::Board(panel.material.family.clone()),
        designation: None,
        solids: vec![with_solid(panel, |spec| plate(spec, detail))],
        placement: panel.placement,
        body: panel.body,
    });
    let slides = kit.layout.mounts.iter().flat_map(|mount| {
        let fixed = kit.layout.board(mount.carcase_board).body;
        [("fixed", mount.fixed, fixed), ("moving", mount.moving, mount.drawer)]
            .map(|(member, aabb, body)| slide(mount, member, aabb, body))
    });
    let ties = (0..kit.ties.len()).flat_map(|i| tie(kit, i));
    let fixtures = kit.layout.fixtures.iter().filter(|fixture| !fixture.solids.is_empty()).map(fixture);
    panels
        .chain(kit.angles.iter().map(move |piece| angle(piece, detail)))
        .chain(slides)
        .chain(kit.bolts.iter().map(move |one| bolt(one, detail)))
        .chain(ties)
        .chain(fixtures)
}

/// A panel's plate.
fn plate(spec: &SolidSpec<'_>, detail: Detail) -> Boundary {
    match detail {
        Detail::Full => shapes::plate(spec),
        Detail::Plain => {
            let bores = spec.bores.iter().filter(|bore| bore.diameter >= NARROW).copied().collect();
            let (outline, openings) = seen_from_afar(spec.outline, spec.openings, NEAR_ENOUGH, NARROW);
            shapes::plate(&SolidSpec {
                outline: &outline,
                openings: &openings,
                bores,
                thickness: spec.thickness,
            })
        }
    }
}

/// A member of a slide, as the box that it fills.
fn slide(mount: &SlideMount, member: &str, aabb: Aabb, body: BodyId) -> Part {
    Part {
        name: format!("{}/{member}", mount.name),
        kind: PartKind::Slide.word(),
        look: Look::Slide,
        designation: Some(format!("{} {member}", mount.slide.id)),
        solids: vec![boxed(aabb, aabb.low)],
        placement: upright(aabb.low),
        body,
    }
}

/// A fixture, as the boxes that it fills.
fn fixture(fixture: &Fixture) -> Part {
    let corner = fixture.solids.iter().copied().reduce(Aabb::joined).map_or(Point3::origin(), |all| all.low);
    let (kind, look) = match fixture.kind {
        FixtureKind::Equipment => ("equipment", Look::Equipment),
        FixtureKind::Fitting | FixtureKind::OtherHalf => (PartKind::Fixture.word(), Look::Fitting),
    };
    Part {
        name: fixture.name.clone(),
        kind,
        look,
        designation: (!fixture.item.is_empty()).then(|| fixture.item.clone()),
        solids: fixture.solids.iter().map(|&aabb| boxed(aabb, corner)).collect(),
        placement: upright(corner),
        body: fixture.body,
    }
}

/// A turnbuckle as a rod from eye to eye, and the eye in the vehicle's point as the box around it.
fn tie(kit: &Kit, index: usize) -> [Part; 2] {
    let tie = &kit.ties[index];
    let (kind, look) = (PartKind::Turnbuckle.word(), Look::Hardware);
    let way = tie.to - tie.from;
    let radius = tie.turnbuckle.body / 2.0;
    let designation = format!("{} {}", tie.turnbuckle.standard, tie.turnbuckle.size);
    let rod = Part {
        name: tie.name.clone(),
        kind,
        look: look.clone(),
        designation: Some(designation),
        solids: vec![shapes::turned(&[(0.0, radius), (snap(way.length()), radius)])],
        placement: along(tie.from, way.normalize()),
        body: tie.body,
    };
    let eye = Part {
        name: format!("{}/eye", tie.name),
        kind,
        look,
        designation: Some(format!("{} {}", tie.turnbuckle.eye_standard, tie.turnbuckle.size)),
        solids: vec![boxed(tie.eye, tie.eye.low)],
        placement: upright(tie.eye.low),
        body: tie.body,
    };
    [rod, eye]
}

/// A bolt with its washers and nut, turned from one piece; a plain one is a bar as wide as its head, from end to end.
fn bolt(bolt: &Bolt, detail: Detail) -> Part {
    let Hardware { head, length, .. } = &bolt.hardware;
    let levels = bolt_levels(&bolt.hardware, bolt.grip);
    let (length, grip) = (decimal(*length, 3), decimal(bolt.grip, 3));
    Part {
        name: bolt.name.clone(),
        kind: PartKind::Hardware.word(),
        look: Look::Hardware,
        designation: Some(format!("{} {}x{length}, grip {grip}", head.standard, head.size)),
        solids: vec![match detail {
            Detail::Full => shapes::turned(&levels),
            Detail::Plain => bar(head.width, &levels),
        }],
        placement: along(bolt.origin, bolt.direction),
        body: bolt.body,
    }
}

/// A square bar about w, from the first level to the last.
fn bar(width: f64, levels: &[(f64, f64)]) -> Boundary {
    let (low, high) = (levels[0].0, levels[levels.len() - 1].0);
    let corner = Vector::new(-width / 2.0, -width / 2.0, low);
    shapes::cuboid(Vector::new(width, width, high - low)).moved(corner)
}

/// Levels and radii of a bolt, mm, from its head on; 0 where it enters what it clamps. Hexagons are as wide as across their
/// corners.
fn bolt_levels(hardware: &Hardware, grip: f64) -> Vec<(f64, f64)> {
    let head = &hardware.head;
    let shank = head.diameter / 2.0;
    let mut levels = Levels::default();
    let tip = if head.length_is_overall {
        let depth = head.width / 2.0 - shank;
        levels.0.extend([(0.0, head.width / 2.0), (depth, shank)]);
        hardware.length
    } else {
        let washer = hardware.head_washer.as_ref();
        let under = washer.map_or(0.0, |washer| washer.thickness);
        levels.up_to(-under - head.height, -under, head.width / 2.0);
        if let Some(washer) = washer {
            levels.up_to(-under, 0.0, washer.outer / 2.0);
        }
        hardware.length - under
    };
    let mut level = levels.0[levels.0.len() - 1].0;
    if let Some(nut) = &hardware.nut {
        levels.up_to(level, grip, shank);
        level = level.max(grip);
        for washer in &hardware.nut_washers {
            levels.up_to(level, level + washer.thickness, washer.outer / 2.0);
            level += washer.thickness;
        }
        let (width, height) = nut.ring.map_or((nut.across_corners(), nut.height), |ring| {
            (nut.across_corners().max(ring), nut.height.max(ring))
        });
        levels.up_to(level, level + height, width / 2.0);
        level += height;
    }
    levels.up_to(level, tip, shank);
    levels.0
}

/// Levels and radii as they are stacked.
#[derive(Default)]
struct Levels(Vec<(f64, f64)>);

impl Levels {
    /// Adds a cylinder from a level to a higher one; nothing if it is none.
    fn up_to(&mut self, from: f64, to: f64, radius: f64) {
        let (from, to) = (snap(from), snap(to));
        if to <= from {
            return;
        }
        match self.0.last_mut() {
            // The same cylinder goes on; or, under a countersunk head, the cone ends in it.
            Some(last) if snap(last.1 - radius) == 0.0 => {}
            _ => self.0.push((from, radius)),
        }
        self.0.push((to, radius));
    }
}

/// A piece of angle. Which way it lies shows in the boxes of its legs.
fn angle(piece: &AnglePiece, detail: Detail) -> Part {
    let [edge, face] = piece.legs;
    let thinner = (edge.size() - face.size()).to_array();
    let order = |less: bool| {
        let better = |a: f64, b: f64| if less { a < b } else { a > b };
        (1..3).fold(0, |best, axis| if better(thinner[axis], thinner[best]) { axis } else { best })
    };
    // The leg on the edge board is thin along u, the one on the face board along v.
    let (u, v) = (order(true), order(false));
    let direction = |axis: usize, long: Aabb, thin: Aabb| {
        let beyond = (long.high - thin.high).to_array()[axis] - (thin.low - long.low).to_array()[axis];
        let mut way = [0.0; 3];
        way[axis] = beyond.signum();
        Vector3::<VehicleFrame>::from(way)
    };
    let (along_u, along_v) = (direction(u, face, edge), direction(v, edge, face));
    let along_w = along_u.cross(along_v);
    let whole = edge.joined(face);
    // The heel's outside corner where w begins.
    let ways = (along_u + along_v + along_w).to_array();
    let (low, high) = (whole.low.to_array(), whole.high.to_array());
    let heel: [f64; 3] = std::array::from_fn(|axis| if ways[axis] > 0.0 { low[axis] } else { high[axis] });
    // Holes are measured from the end with the least coordinate.
    let rising = ways[3 - u - v] > 0.0;
    let level = |&hole: &f64| if rising { hole } else { piece.length - hole };
    let shape = AngleShape {
        leg: piece.angle.leg,
        thickness: piece.angle.thickness,
        length: piece.length,
        gauges: piece.gauges,
        holes: match detail {
            Detail::Full => [0, 1].map(|leg: usize| piece.holes[leg].iter().map(level).collect()),
            Detail::Plain => [Vec::new(), Vec::new()],
        },
        hole_diameter: piece.hole_diameter,
    };
    Part {
        name: piece.name.clone(),
        kind: PartKind::Angle.word(),
        look: Look::Angle,
        designation: Some(format!("{}, {} mm", piece.angle.id, decimal(piece.length, 3))),
        solids: vec![shapes::angle(&shape)],
        placement: Placement { origin: heel.into(), axes: Axes { u: along_u, v: along_v, w: along_w } },
        body: piece.body,
    }
}

/// A box with its sides along the vehicle's axes, seen from a place.
fn boxed(aabb: Aabb, from: Point3<VehicleFrame>) -> Boundary {
    let size = aabb.size();
    shapes::cuboid(Vector::new(size.x, size.y, size.z)).moved((aabb.low - from).cast_unit())
}

/// A frame with the vehicle's directions.
fn upright(origin: Point3<VehicleFrame>) -> Placement {
    along(origin, Vector3::new(0.0, 0.0, 1.0))
}

/// A frame whose w points along a unit vector.
fn along(origin: Point3<VehicleFrame>, w: Vector3<VehicleFrame>) -> Placement {
    let u = across(w.cast_unit()).cast_unit();
    Placement { origin, axes: Axes { u, v: w.cross(u), w } }
}
