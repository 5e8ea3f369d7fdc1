//! Moments of inertia of the kit about its own centre of gravity.
//!
//! Takes the kit's parts as they are weighed; panels by their true outlines, fittings as boxes or rods of even mass, bolts as
//! points. Parallel axes add (Steiner's theorem).

use super::{Masses, PartKind};
use crate::geom::{Aabb, Point3, Vector3, VehicleFrame};
use crate::joints::Kit;
use crate::solid::PlateFigures;

/// kg m2 from kg mm2.
const TO_KG_M2: f64 = 1e-6;

/// A symmetric tensor of second moments of mass: xx, yy, zz, kg mm2, of x x, y y, z z. Moments of inertia are sums of two.
#[derive(Clone, Copy, Debug, Default)]
struct Spread([f64; 3]);

impl Spread {
    /// kg at a distance.
    fn point(mass: f64, off: Vector3<VehicleFrame>) -> Self {
        Spread([mass * off.x * off.x, mass * off.y * off.y, mass * off.z * off.z])
    }

    /// A box of even mass about its middle.
    fn block(mass: f64, size: Vector3<VehicleFrame>) -> Self {
        Spread([size.x, size.y, size.z].map(|side| mass * side * side / 12.0))
    }

    fn add(&mut self, other: Spread) {
        for (sum, own) in self.0.iter_mut().zip(other.0) {
            *sum += own;
        }
    }
}

/// kg m2 about the axes through the kit's centre of gravity that run forward, to the left and up; empty, all drawers shut.
pub(super) fn of_kit(kit: &Kit, figures: &[PlateFigures], masses: &Masses) -> [f64; 3] {
    let centre = masses.total.centre;
    let mut all = Spread::default();
    let boxes = boxes(kit);
    for (i, part) in masses.parts.iter().enumerate() {
        let own = match part.kind {
            PartKind::Panel => panel(kit, i, figures, part.mass),
            PartKind::Hardware => bolts(kit, part.body, part.centre),
            _ => boxes[i - kit.panels.len()]
                .map_or(Spread::default(), |aabb| Spread::block(part.mass, aabb.size())),
        };
        all.add(own);
        all.add(Spread::point(part.mass, part.centre - centre));
    }
    let [x, y, z] = all.0;
    [y + z, x + z, x + y].map(|moment| moment * TO_KG_M2)
}

/// A panel about its own centre.
fn panel(kit: &Kit, i: usize, figures: &[PlateFigures], mass: f64) -> Spread {
    let (panel, figures) = (&kit.panels[i], &figures[i]);
    let axes = panel.placement.axes;
    let [uu, vv, uv] = figures.second.map(|moment| moment / figures.net_area);
    let ww = panel.material.actual * panel.material.actual / 12.0;
    let along = |axis: fn(Vector3<VehicleFrame>) -> f64| {
        let (u, v, w) = (axis(axes.u), axis(axes.v), axis(axes.w));
        mass * (u * u * uu + v * v * vv + 2.0 * u * v * uv + w * w * ww)
    };
    Spread([along(|axis| axis.x), along(|axis| axis.y), along(|axis| axis.z)])
}

/// The bolts of a body about their common centre.
fn bolts(kit: &Kit, body: crate::layout::BodyId, centre: Point3<VehicleFrame>) -> Spread {
    let mut all = Spread::default();
    for bolt in kit.bolts.iter().filter(|bolt| bolt.body == body) {
        let at = bolt.origin + bolt.direction * (bolt.grip / 2.0);
        all.add(Spread::point(bolt.hardware.mass(), at - centre));
    }
    all
}

/// The boxes of the parts that follow the panels, in their order; none for hardware.
fn boxes(kit: &Kit) -> Vec<Option<Aabb>> {
    let angles = kit.angles.iter().map(|angle| Some(angle.legs[0].joined(angle.legs[1])));
    let slides = kit.layout.mounts.iter().map(|mount| Some(mount.fixed.joined(mount.moving)));
    let bodies = (0..kit.layout.bodies.len())
        .filter(|&body| kit.bolts.iter().any(|bolt| bolt.body.0 == body))
        .map(|_| None);
    let ties = kit.ties.iter().map(|tie| Some(Aabb::around([tie.from, tie.to])));
    let fixtures = kit.layout.fixtures.iter().filter(|fixture| fixture.is_of_kit());
    let fixtures = fixtures.map(|fixture| fixture.solids.iter().copied().reduce(Aabb::joined));
    angles.chain(slides).chain(bodies).chain(ties).chain(fixtures).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By hand: a board of 600 x 400 x 15 of 680 kg/m3 weighs 2.448 kg and has 0.10608 kg m2 about the axis through its middle
    /// that stands on it, 0.42432 about one through a corner.
    #[test]
    fn a_board_has_the_inertia_of_a_box() {
        let mass: f64 = 0.6 * 0.4 * 0.015 * 680.0;
        let Spread([x, y, _]) = Spread::block(mass, Vector3::new(600.0, 400.0, 15.0));
        assert!((mass - 2.448).abs() < 1e-12 && ((x + y) * TO_KG_M2 - 0.106_08).abs() < 1e-12);
        let Spread([far_x, far_y, _]) = Spread::point(mass, Vector3::new(300.0, 200.0, 0.0));
        assert!(((x + y + far_x + far_y) * TO_KG_M2 - 0.424_32).abs() < 1e-12);
    }
}
