//! The ways in for one thing: straight along x, lying on its back and tilted up inside, through a door in a side.
//!
//! Each way is a row of straight moves, and a box on a straight way along an axis sweeps a box: those are held
//! against the bay's surfaces. What is searched is where the moves turn: the best lift and few others. A way that is
//! found is one; where none is found there may still be a cleverer one.

use super::passage::{self, Gate, Pass, Tight};
use crate::bay::{Surface, Thing, surfaces};
use crate::geom::tolerance::SAME_LENGTH;
use crate::geom::{Aabb, FAR, Plate, Point3, Vector3, VehicleFrame};
use crate::spec::{Bay, Design, Opening, Side, SideDoor};

/// The bay as it is entered: what is behind the closed door, and the floor, are no obstacles to what is carried.
pub(super) struct Room<'a> {
    pub(super) bay: &'a Bay,
    /// Sides, roof and arches.
    around: Vec<Surface>,
    seat_back: Vec<Surface>,
    /// mm to spare in an opening.
    pub(super) spare: f64,
}

/// Something that is brought in: its plates and their boxes, where they belong.
pub(super) type Piece = Vec<(Plate, Aabb)>;

/// What is left on a way that was found.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Left {
    /// mm left in the width, both sides together.
    pub(crate) width: f64,
    /// mm left in the height.
    pub(crate) height: f64,
    /// mm that the thing is lifted above where it belongs, while it goes through; negative below it.
    pub(crate) lift: f64,
}

/// Why something does not go straight through the opening at the rear.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(crate) struct Lack {
    /// mm lacking in the width, with and without what is to be spared; zero if none.
    pub(crate) width: (f64, f64),
    /// mm lacking in the height, likewise.
    pub(crate) height: (f64, f64),
    /// z above the floor where the width lacks.
    pub(crate) z: f64,
    /// Whether a wheel arch takes the width.
    pub(crate) arch: bool,
}

impl<'a> Room<'a> {
    pub(super) fn new(design: &'a Design) -> Self {
        let bay = &design.vehicle.bay;
        let (mut around, mut seat_back) = (Vec::new(), Vec::new());
        for surface in surfaces(bay, &design.clearances, false) {
            match surface.of {
                Thing::SeatBack => seat_back.push(surface),
                Thing::Side(_) | Thing::Roof | Thing::Arch => around.push(surface),
                Thing::Door | Thing::Floor | Thing::Latch => {}
            }
        }
        Room { bay, around, seat_back, spare: design.clearances.opening.value }
    }

    /// Straight in along x, then down to its place.
    pub(super) fn straight(&self, opening: &Opening, piece: &Piece) -> Result<Left, Lack> {
        let boxes: Vec<Aabb> = piece.iter().map(|(_, aabb)| *aabb).collect();
        let gate = Gate { opening, bay: self.bay, spare: self.spare };
        let bare = Gate { spare: 0.0, ..gate };
        let (range, bare_range) = (passage::lifts(&gate, &boxes), passage::lifts(&bare, &boxes));
        let lacking = |range: (f64, f64)| (range.0 - range.1).max(0.0);
        let height = (lacking(range), lacking(bare_range));
        let level = |range: (f64, f64)| (range.0, range.1.max(range.0));
        let all = passage::passes(&gate, &boxes, level(range));
        let best = widest(&all);
        let mut lack = Lack { height, ..Lack::default() };
        if best.width() < -SAME_LENGTH {
            let bare = widest(&passage::passes(&bare, &boxes, level(bare_range)));
            let Tight { z, arch } = best.tight;
            lack = Lack { width: (-best.width(), (-bare.width()).max(0.0)), z, arch, ..lack };
        }
        if height.0 > SAME_LENGTH || lack.width.0 > 0.0 {
            return Err(lack);
        }
        let enough: Vec<Pass> = all.into_iter().filter(|pass| pass.width() >= -SAME_LENGTH).collect();
        let by_lift = |a: &&Pass, b: &&Pass| a.lift.total_cmp(&b.lift);
        let nearest = enough.iter().min_by(|a, b| a.lift.abs().total_cmp(&b.lift.abs()));
        let tries = [nearest, Some(&best), enough.iter().min_by(by_lift), enough.iter().max_by(by_lift)];
        let way = tries.into_iter().flatten().find(|pass| self.reaches_place(piece, pass));
        let way = way.ok_or(lack)?;
        let room = passage::passes(&bare, &boxes, (way.lift, way.lift));
        Ok(Left { width: widest(&room).width(), height: bare_range.1 - bare_range.0, lift: way.lift })
    }

    /// From the opening, along x, to the place.
    fn reaches_place(&self, piece: &Piece, pass: &Pass) -> bool {
        // As far to the left as it may be at least and at most; as near as may be to where it belongs.
        let aside = 0.0_f64.clamp(-pass.right, pass.left.max(-pass.right));
        let by = Vector3::new(0.0, aside, pass.lift);
        let comes = piece.iter().all(|(_, aabb)| {
            let mut way = moved(*aabb, by);
            way.low.x = 0.0;
            way.high.x <= 0.0 || self.clear(way)
        });
        if !comes {
            return false;
        }
        // Down at its place; or just inside the opening, and from there along the floor.
        let rear = piece.iter().map(|(_, aabb)| aabb.low.x).fold(f64::INFINITY, f64::min).max(0.0);
        self.comes_down(piece, by, 0.0)
            || self.comes_down(piece, by, rear)
                && piece.iter().all(|(_, aabb)| self.clear(aabb.swept(Vector3::new(-rear, 0.0, 0.0))))
    }

    /// Whether it comes from where it is carried down to its level, so far short of its place.
    fn comes_down(&self, piece: &Piece, by: Vector3<VehicleFrame>, short: f64) -> bool {
        let start = by - Vector3::new(short, 0.0, 0.0);
        piece.iter().all(|(plate, aabb)| {
            let mut lifted = plate.clone();
            lifted.placement.origin += start;
            let at = moved(*aabb, start);
            let beside = at.swept(Vector3::new(0.0, -by.y, 0.0));
            let down = moved(*aabb, Vector3::new(-short, 0.0, 0.0)).swept(Vector3::new(0.0, 0.0, by.z));
            // Over an arch and out of it one comes upwards, so what stands clear below is clear on its way there.
            let sides = |surface: &&Surface| matches!(surface.of, Thing::Side(_));
            self.seat_back.iter().all(|surface| surface.overlap(&lifted, at).is_none())
                && (by.y.abs() < SAME_LENGTH || self.clear(beside))
                && self.around.iter().filter(sides).all(|surface| apart(surface, down))
        })
    }

    /// Whether a box is clear of what is around.
    fn clear(&self, aabb: Aabb) -> bool {
        self.around.iter().all(|surface| apart(surface, aabb))
    }

    /// In on its back, tilted up inside about its lower edge away from the door, then along x to its place.
    pub(super) fn tilted(&self, opening: &Opening, piece: &Piece) -> Option<Left> {
        let all = around(piece);
        let size = all.size();
        let diagonal = size.x.hypot(size.z);
        let seat = &self.bay.seat_back.value;
        let farthest = seat.points().iter().map(|point| point.1).fold(f64::INFINITY, f64::min) - size.z;
        [all.high.x, size.x, farthest].into_iter().find_map(|pivot| {
            let swept = Aabb {
                low: Point3::new(pivot - size.x, all.low.y, 0.0),
                high: Point3::new(pivot + size.z, all.high.y, diagonal + self.spare),
            };
            let fits =
                swept.low.x >= -SAME_LENGTH && self.tips_up(pivot, (size.x, size.z)) && self.clear(swept);
            let forward = Vector3::new(all.high.x - pivot, 0.0, 0.0);
            let goes_on = || piece.iter().all(|(_, aabb)| self.clear(moved(*aabb, -forward).swept(forward)));
            if !fits || !goes_on() {
                return None;
            }
            self.straight(opening, &on_its_back(piece, all, pivot)).ok()
        })
    }

    /// Whether what lies on its back from `pivot` on, so deep and high, is clear of the seat back while it is tilted
    /// up: seen from the side it sweeps all up to x = pivot + high, and a circle above that.
    fn tips_up(&self, pivot: f64, (deep, high): (f64, f64)) -> bool {
        let square = deep * deep + high * high;
        let reach = |z: f64| if z <= deep { high } else { (square - z * z).max(0.0).sqrt() };
        let seat = &self.bay.seat_back.value;
        let breaks: Vec<f64> = seat.points().iter().map(|point| point.0).collect();
        let mut heights = vec![0.0, deep, square.sqrt()];
        heights.extend(&breaks);
        // Along a straight piece the circle comes nearest where it runs alike.
        heights.extend(breaks.windows(2).map(|pair| {
            let slope = (seat.at(pair[1]) - seat.at(pair[0])) / (pair[1] - pair[0]);
            (-slope * (square / (1.0 + slope * slope)).sqrt()).clamp(pair[0], pair[1])
        }));
        let swept = heights.into_iter().filter(|&z| z >= 0.0 && z * z <= square + SAME_LENGTH);
        swept.into_iter().all(|z| pivot + reach(z) <= seat.at(z) + SAME_LENGTH)
    }

    /// In through a door in a side, then along x to its place.
    pub(super) fn sideways(&self, door: &SideDoor, piece: &Piece) -> Option<Left> {
        let all = around(piece);
        let size = all.size();
        let from = door.from.value - all.low.x;
        let to = door.from.value + door.width.value - all.high.x;
        let (least, most) = (door.sill.value.max(0.0) - all.low.z, door.height.value - all.high.z);
        let left = Left {
            width: door.width.value - size.x,
            height: door.height.value - door.sill.value - size.z,
            lift: 0.0,
        };
        if left.width < self.spare - SAME_LENGTH || most - least < self.spare - SAME_LENGTH {
            return None;
        }
        let (from, to) = (from + self.spare / 2.0, to - self.spare / 2.0);
        let over_arches = self.bay.arches.iter().map(|arch| arch.profile.greatest() - all.low.z);
        let lifts: Vec<f64> = [least]
            .into_iter()
            .chain(over_arches)
            .filter(|lift| (least..=most - self.spare).contains(lift))
            .collect();
        let places = [0.0_f64.clamp(from.min(to), to.max(from)), from, to];
        let tries = places.into_iter().flat_map(|along| lifts.iter().map(move |&lift| (along, lift)));
        let way = tries.into_iter().find(|&(along, lift)| self.comes_from(door.side, piece, along, lift))?;
        Some(Left { lift: way.1, ..left })
    }

    fn comes_from(&self, side: Side, piece: &Piece, along: f64, lift: f64) -> bool {
        let at = Vector3::new(along, 0.0, lift);
        let out = Vector3::new(0.0, side.sign() * FAR, 0.0);
        piece.iter().all(|(_, aabb)| {
            let inside = moved(*aabb, at);
            let way = inside.swept(out);
            let comes =
                self.around.iter().chain(&self.seat_back).filter(|surface| surface.of != Thing::Side(side));
            comes.into_iter().all(|surface| apart(surface, way))
                && self.clear(inside.swept(Vector3::new(-along, 0.0, 0.0)))
        }) && self.comes_down(piece, Vector3::new(0.0, 0.0, lift), 0.0)
    }
}

fn apart(surface: &Surface, aabb: Aabb) -> bool {
    surface.overlap(&Plate::filling(aabb), aabb).is_none()
}

fn moved(aabb: Aabb, by: Vector3<VehicleFrame>) -> Aabb {
    Aabb { low: aabb.low + by, high: aabb.high + by }
}

/// The one with most room in the width; of equals the lowest.
fn widest(passes: &[Pass]) -> Pass {
    let nothing =
        Pass { lift: 0.0, left: f64::NEG_INFINITY, right: f64::NEG_INFINITY, tight: Tight::default() };
    passes
        .iter()
        .fold(nothing, |best, pass| if pass.width() > best.width() + SAME_LENGTH { *pass } else { best })
}

/// The box around all of it.
pub(super) fn around(piece: &Piece) -> Aabb {
    Aabb::around(piece.iter().flat_map(|(_, aabb)| [aabb.low, aabb.high]))
}

/// The piece lying on the floor on its back, its lower edge at x = `pivot`: up becomes forward, forward down.
fn on_its_back(piece: &Piece, all: Aabb, pivot: f64) -> Piece {
    let lay = |p: Point3<VehicleFrame>| Point3::new(pivot + p.z - all.low.z, p.y, all.high.x - p.x);
    let boxes = piece.iter().map(|(_, aabb)| Aabb::around([lay(aabb.low), lay(aabb.high)]));
    boxes.map(|aabb| (Plate::filling(aabb), aabb)).collect()
}
