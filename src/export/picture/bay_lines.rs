//! The bay around the kit: its outline, arches, latches, opening and clearances as lines of a drawing.
//!
//! Takes the measured bay, gives lines by class. From the tailgate and from above, the sides are drawn where they
//! matter to the kit: at their narrowest, and at the floor.

use super::Spot;
use super::painter::{Look, slanting};
use crate::geom::{Aabb, Point3, Profile, VehicleFrame};
use crate::spec::{Arch, Bay, Clearances, Side};

/// A line of the bay.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct BayLine {
    /// Class in the style sheet: `bay`, `arch`, `hole` or `keep`.
    pub(super) class: &'static str,
    /// Its corners.
    pub(super) spots: Vec<Spot>,
    /// Whether it leads back to its start.
    pub(super) closed: bool,
}

/// The box around the bay.
pub(super) fn around(bay: &Bay) -> Aabb {
    let side = |side: Side| {
        let relief = if side == Side::Left { &bay.left } else { &bay.right };
        relief.value.values().iter().flatten().copied().fold(0.0, f64::max)
    };
    let behind = bay.door.value.least().min(0.0);
    let ahead = bay.seat_back.value.greatest();
    Aabb {
        low: Point3::new(behind, -side(Side::Right), 0.0),
        high: Point3::new(ahead, side(Side::Left), bay.roof.value.greatest()),
    }
}

/// The lines of a view. `top` is the kit's highest place.
pub(super) fn lines(look: Look, bay: &Bay, clearances: &Clearances, top: f64) -> Vec<BayLine> {
    match look {
        Look::Tailgate => tailgate(bay, clearances),
        Look::Above => above(bay, clearances, top),
        Look::Right => right(bay, clearances),
    }
}

/// The floor and the arches' feet, for the slanting view.
pub(super) fn floor(bay: &Bay) -> Vec<BayLine> {
    let mut lines = vec![closed("bay", floor_outline(bay).into_iter().map(slanting))];
    for arch in &bay.arches {
        lines.push(closed("arch", foot(bay, arch, 0.0).into_iter().map(slanting)));
    }
    lines
}

fn closed(class: &'static str, spots: impl IntoIterator<Item = Spot>) -> BayLine {
    BayLine { class, spots: spots.into_iter().collect(), closed: true }
}

fn open(class: &'static str, spots: impl IntoIterator<Item = Spot>) -> BayLine {
    BayLine { class, spots: spots.into_iter().collect(), closed: false }
}

/// Stations of a profile strictly between two places, with the two.
fn stations(profile: &Profile, from: f64, to: f64) -> Vec<f64> {
    let inner = profile.points().iter().map(|point| point.0).filter(|s| *s > from && *s < to);
    std::iter::once(from).chain(inner).chain([to]).collect()
}

/// Distance from the centreline to a side's narrowest place, by height, from the floor to `roof`: (z, y).
fn side_by_height(bay: &Bay, side: Side, roof: f64, kept: f64) -> Vec<(f64, f64)> {
    let relief = if side == Side::Left { &bay.left } else { &bay.right };
    let inner = relief.value.heights().iter().copied().filter(|z| *z > 0.0 && *z < roof);
    let heights = std::iter::once(0.0).chain(inner).chain([roof]);
    heights.map(|z| (z, side.sign() * (relief.value.along(z).least() - kept))).collect()
}

fn tailgate(bay: &Bay, clearances: &Clearances) -> Vec<BayLine> {
    let trim = clearances.trim.value;
    let outline = |class, kept: f64| {
        let roof = bay.roof.value.least() - kept;
        let left = side_by_height(bay, Side::Left, roof, kept);
        let right = side_by_height(bay, Side::Right, roof, kept);
        closed(class, left.into_iter().chain(right.into_iter().rev()).map(|(z, y)| Spot::new(-y, z)))
    };
    let mut lines = vec![outline("bay", 0.0), outline("keep", trim)];
    for arch in &bay.arches {
        for (class, kept) in [("arch", 0.0), ("keep", clearances.arch.value)] {
            let face = arch.side.sign() * (arch.from_centre.value - kept);
            let outer = foot(bay, arch, 0.0).iter().map(|p| p.y.abs()).fold(0.0, f64::max);
            let (outer, high) = (arch.side.sign() * outer, arch.profile.greatest() + kept);
            lines
                .push(open(class, [(face, 0.0), (face, high), (outer, high)].map(|(y, z)| Spot::new(-y, z))));
        }
    }
    for latch in &bay.latches {
        lines.push(latch_box(Look::Tailgate, latch.value));
    }
    if let Some(opening) = &bay.opening {
        let (sill, top) = (opening.sill.value, opening.height.value);
        let half = |z: f64| opening.widths.at(z) / 2.0;
        let heights = stations(&opening.widths, sill, top);
        let left = heights.iter().map(|&z| Spot::new(-half(z), z));
        let right = heights.iter().rev().map(|&z| Spot::new(half(z), z));
        lines.push(closed("hole", left.chain(right)));
    }
    lines
}

fn above(bay: &Bay, clearances: &Clearances, top: f64) -> Vec<BayLine> {
    let on_paper = |p: Point3<VehicleFrame>| Spot::new(-p.y, p.x);
    let mut lines = vec![closed("bay", floor_outline(bay).into_iter().map(on_paper))];
    for arch in &bay.arches {
        lines.push(closed("arch", foot(bay, arch, 0.0).into_iter().map(on_paper)));
        lines.push(closed("keep", foot(bay, arch, clearances.arch.value).into_iter().map(on_paper)));
    }
    lines.extend(bay.latches.iter().map(|latch| latch_box(Look::Above, latch.value)));
    // The seat back as far as the kit is high, and the door, each with its clearance.
    let heights = stations(&bay.seat_back.value, 0.0, top.max(1.0));
    let seat = heights.iter().map(|&z| bay.length_at(z)).fold(f64::INFINITY, f64::min);
    let door = stations(&bay.door.value, 0.0, top.max(1.0))
        .iter()
        .map(|&z| bay.door.value.at(z))
        .fold(f64::NEG_INFINITY, f64::max);
    let side = |side: &Profile, x: f64| side.at(x);
    let (left, right) = (bay.left.value.along(0.0), bay.right.value.along(0.0));
    for x in [seat - clearances.seat_back.value, door + clearances.door.value] {
        lines.push(open("keep", [Spot::new(-side(&left, x), x), Spot::new(side(&right, x), x)]));
    }
    lines.push(open("bay", [Spot::new(-side(&left, seat), seat), Spot::new(side(&right, seat), seat)]));
    lines
}

fn right(bay: &Bay, clearances: &Clearances) -> Vec<BayLine> {
    let outline = |class, seat: f64, door: f64, trim: f64| {
        let seat_back = |z: f64| bay.length_at(z) - seat;
        let tailgate = |z: f64| bay.door.value.at(z) + door;
        let roof_at = |x: f64| bay.roof.value.at(x) - trim;
        let (rear, front) = (roof_at(tailgate(bay.height.value)), roof_at(seat_back(bay.height.value)));
        let mut spots: Vec<Spot> = stations(&bay.seat_back.value, 0.0, front)
            .into_iter()
            .map(|z| Spot::new(seat_back(z), z))
            .collect();
        let (from, to) = (tailgate(rear), seat_back(front));
        let roof = stations(&bay.roof.value, from.min(to), to);
        spots.extend(roof.into_iter().rev().map(|x| Spot::new(x, roof_at(x))));
        spots.extend(
            stations(&bay.door.value, 0.0, rear).into_iter().rev().map(|z| Spot::new(tailgate(z), z)),
        );
        closed(class, spots)
    };
    let mut lines = vec![
        outline("bay", 0.0, 0.0, 0.0),
        outline("keep", clearances.seat_back.value, clearances.door.value, clearances.trim.value),
    ];
    for arch in &bay.arches {
        for (class, kept) in [("arch", 0.0), ("keep", clearances.arch.value)] {
            let profile = arch.profile.grown(kept, kept);
            let points = profile.points();
            let (first, last) = (points[0], points[points.len() - 1]);
            let ends = |s: (f64, f64)| Spot::new(s.0, 0.0);
            let top = points.iter().map(|&(x, z)| Spot::new(x, z));
            lines.push(open(class, std::iter::once(ends(first)).chain(top).chain([ends(last)])));
        }
    }
    lines.extend(bay.latches.iter().map(|latch| latch_box(Look::Right, latch.value)));
    lines
}

fn latch_box(look: Look, latch: Aabb) -> BayLine {
    let area = look.area(latch);
    let (low, high) = (area.min, area.max);
    closed("arch", [low, Spot::new(high.x, low.y), high, Spot::new(low.x, high.y)])
}

/// The floor's outline: door, left side, seat back, right side, at z = 0.
fn floor_outline(bay: &Bay) -> Vec<Point3<VehicleFrame>> {
    let (from, to) = (bay.door.value.at(0.0), bay.seat_back.value.at(0.0));
    let along = |side: Side| -> Vec<Point3<VehicleFrame>> {
        let relief = if side == Side::Left { &bay.left } else { &bay.right };
        let profile = relief.value.along(0.0);
        let at = |x: f64| Point3::new(x, side.sign() * profile.at(x), 0.0);
        stations(&profile, from, to).into_iter().map(at).collect()
    };
    along(Side::Left).into_iter().chain(along(Side::Right).into_iter().rev()).collect()
}

/// An arch's foot on the floor, grown by what is kept from it.
fn foot(bay: &Bay, arch: &Arch, kept: f64) -> Vec<Point3<VehicleFrame>> {
    let relief = if arch.side == Side::Left { &bay.left } else { &bay.right };
    let profile = relief.value.along(0.0);
    let points = arch.profile.points();
    let (from, to) = (points[0].0 - kept, points[points.len() - 1].0 + kept);
    let face = arch.side.sign() * (arch.from_centre.value - kept);
    let outer = stations(&profile, from, to).into_iter();
    let outer = outer.map(|x| Point3::new(x, arch.side.sign() * profile.at(x), 0.0));
    let inner = [Point3::new(to, face, 0.0), Point3::new(from, face, 0.0)];
    outer.chain(inner).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::example_kits;

    #[test]
    fn a_plain_bay_is_a_rectangle_in_every_view() {
        let finished = example_kits::finished(example_kits::ANGLES);
        let (bay, clearances) = (&finished.design.vehicle.bay, &finished.design.clearances);
        let box_of = |look| {
            let lines = lines(look, bay, clearances, 300.0);
            let area = super::super::Area::from_points(lines[0].spots.iter().copied());
            format!("{:?} {:?}", area.min.to_tuple(), area.max.to_tuple())
        };
        assert_eq!(box_of(Look::Tailgate), "(-520.0, 0.0) (520.0, 800.0)");
        assert_eq!(box_of(Look::Above), "(-520.0, 0.0) (520.0, 1050.0)");
        assert_eq!(box_of(Look::Right), "(0.0, 0.0) (1050.0, 800.0)");
        assert_eq!(around(bay).size(), crate::geom::Vector3::new(1050.0, 1040.0, 800.0));
    }
}
