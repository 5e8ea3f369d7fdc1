//! The bay in `kit.json`: its readings, as lines and surfaces through them. Shape and content.

use super::mm;
use crate::diag::{At, Span};
use crate::geom::{Aabb, Profile, Relief};
use crate::spec;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// A load space, mm: lines through readings, straight in between, level beyond the first and the last.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub(crate) struct Bay {
    /// Clear at the floor where it is narrowest, mm.
    pub(crate) width: f64,
    /// Along the floor, mm.
    pub(crate) depth: f64,
    /// From the floor to the roof where it is lowest, mm.
    pub(crate) height: f64,
    /// The seat back or bulkhead: [z, x]. The bay lies behind it.
    pub(crate) seat_back: Vec<[f64; 2]>,
    /// The closed tailgate's or doors' inner trim: [z, x]. The bay lies ahead of it.
    pub(crate) door: Vec<[f64; 2]>,
    /// The roof lining: [x, z].
    pub(crate) roof: Vec<[f64; 2]>,
    /// The sides, without the arches.
    pub(crate) sides: BaySides,
    /// The wheel arches.
    pub(crate) arches: Vec<Arch>,
    /// What reaches in from the closed door.
    pub(crate) latches: Vec<Latch>,
    /// The opening at the rear, if it was measured.
    pub(crate) opening: Option<Opening>,
    /// The tailgate or doors as they turn.
    pub(crate) leaves: Vec<Leaf>,
    /// Doors in the sides.
    pub(crate) side_doors: Vec<SideDoor>,
    /// Height of the floor's ribs, below z = 0, mm.
    pub(crate) ribs: f64,
    /// Degrees by which the floor falls towards the rear.
    pub(crate) slope: f64,
    /// Height of the folded rear seats, mm, if it was measured.
    pub(crate) folded_seats: Option<f64>,
}

/// The sides of a bay over stations and heights. Each cell between four readings is split into two triangles by the
/// diagonal from its least station and height to its greatest ones.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub(crate) struct BaySides {
    /// x of the left side's stations, mm.
    pub(crate) left_stations: Vec<f64>,
    /// z of the left side's readings, mm.
    pub(crate) left_heights: Vec<f64>,
    /// From the centreline to the left side, mm, by station, then by height.
    pub(crate) left: Vec<Vec<f64>>,
    /// x of the right side's stations, mm.
    pub(crate) right_stations: Vec<f64>,
    /// z of the right side's readings, mm.
    pub(crate) right_heights: Vec<f64>,
    /// From the centreline to the right side, mm, by station, then by height.
    pub(crate) right: Vec<Vec<f64>>,
}

/// A wheel arch: all that is farther from the centreline than its inner face and below its profile.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub(crate) struct Arch {
    /// `left` or `right`.
    pub(crate) side: String,
    /// From the centreline to its inner face, mm.
    pub(crate) from_centre: f64,
    /// Its upper side: [x, z], from its rear end to its front end.
    pub(crate) profile: Vec<[f64; 2]>,
}

/// A box that a latch or striker fills; it begins at the rear edge.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub(crate) struct Latch {
    /// Corner with the least coordinates, mm.
    pub(crate) low: [f64; 3],
    /// Corner with the greatest coordinates, mm.
    pub(crate) high: [f64; 3],
}

/// The opening at the rear.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub(crate) struct Opening {
    /// Clear width: [z, width].
    pub(crate) widths: Vec<[f64; 2]>,
    /// From the floor to its upper edge, mm.
    pub(crate) height: f64,
    /// From the floor to the sill, mm.
    pub(crate) sill: f64,
}

/// A leaf of the tailgate or doors: shut, a box that ends at x = 0; it turns outwards about an edge there.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub(crate) struct Leaf {
    /// What it is called.
    pub(crate) name: String,
    /// The edge about which it turns, at x = 0: `left`, `right`, `top` or `bottom`.
    pub(crate) hinge: String,
    /// Shut: corner with the least coordinates, mm.
    pub(crate) low: [f64; 3],
    /// Shut: corner with the greatest coordinates, mm.
    pub(crate) high: [f64; 3],
    /// Degrees by which it stands open.
    pub(crate) open: f64,
}

/// A rectangular door in a side.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub(crate) struct SideDoor {
    /// `left` or `right`.
    pub(crate) side: String,
    /// Where it begins, forward of the rear edge, mm.
    pub(crate) from: f64,
    /// Along the vehicle, mm.
    pub(crate) width: f64,
    /// From the floor to its upper edge, mm.
    pub(crate) height: f64,
    /// From the floor to its sill, mm.
    pub(crate) sill: f64,
}

fn leaf(leaf: &spec::Leaf) -> Leaf {
    Leaf {
        name: leaf.id.value.clone(),
        hinge: leaf.hinge.word().to_owned(),
        low: super::point(leaf.shut.low),
        high: super::point(leaf.shut.high),
        open: mm(leaf.open.value),
    }
}

fn side_door(door: &spec::SideDoor) -> SideDoor {
    SideDoor {
        side: door.side.word().to_owned(),
        from: mm(door.from.value),
        width: mm(door.width.value),
        height: mm(door.height.value),
        sill: mm(door.sill.value),
    }
}

impl Bay {
    /// The bay as a spec would have it, as far as it is drawn: without points, doors and what must stay in reach.
    pub(crate) fn measured(&self) -> spec::Bay {
        let sides = &self.sides;
        let relief = |stations: &[f64], heights: &[f64], rows: &[Vec<f64>]| {
            read(Relief::new(stations.to_vec(), heights.to_vec(), rows.to_vec()))
        };
        let profile =
            |line: &[[f64; 2]]| Profile::through(line.iter().map(|&[at, value]| (at, value)).collect());
        let side =
            |word: &str| if word == spec::Side::Left.word() { spec::Side::Left } else { spec::Side::Right };
        let arch = |arch: &Arch| spec::Arch {
            side: side(&arch.side),
            from_centre: read(arch.from_centre),
            profile: profile(&arch.profile),
            span: Span::default(),
        };
        let opening = |opening: &Opening| spec::Opening {
            widths: profile(&opening.widths),
            height: read(opening.height),
            sill: read(opening.sill),
            span: Span::default(),
        };
        let latch = |latch: &Latch| read(Aabb { low: latch.low.into(), high: latch.high.into() });
        spec::Bay {
            width: read(self.width),
            depth: read(self.depth),
            height: read(self.height),
            seat_back: read(profile(&self.seat_back)),
            left: relief(&sides.left_stations, &sides.left_heights, &sides.left),
            right: relief(&sides.right_stations, &sides.right_heights, &sides.right),
            roof: read(profile(&self.roof)),
            door: read(profile(&self.door)),
            arches: self.arches.iter().map(arch).collect(),
            latches: self.latches.iter().map(latch).collect(),
            opening: self.opening.as_ref().map(opening),
            leaves: Vec::new(),
            side_doors: Vec::new(),
            ribs: read(self.ribs),
            slope: read(self.slope),
            folded_seats: self.folded_seats.map(read),
            anchors: Vec::new(),
            reach: Vec::new(),
            span: Span::default(),
        }
    }
}

/// A value that stands in no spec.
pub(super) fn read<T>(value: T) -> At<T> {
    At::new(value, Span::default())
}

/// The bay as the spec has it.
pub(super) fn bay(bay: &spec::Bay) -> Bay {
    let (left, right) = (&bay.left.value, &bay.right.value);
    Bay {
        width: mm(bay.width.value),
        depth: mm(bay.depth.value),
        height: mm(bay.height.value),
        seat_back: line(&bay.seat_back.value),
        door: line(&bay.door.value),
        roof: line(&bay.roof.value),
        sides: BaySides {
            left_stations: lengths(left.stations()),
            left_heights: lengths(left.heights()),
            left: rows(left),
            right_stations: lengths(right.stations()),
            right_heights: lengths(right.heights()),
            right: rows(right),
        },
        arches: bay
            .arches
            .iter()
            .map(|arch| Arch {
                side: arch.side.word().to_owned(),
                from_centre: mm(arch.from_centre.value),
                profile: line(&arch.profile),
            })
            .collect(),
        latches: bay
            .latches
            .iter()
            .map(|latch| Latch { low: super::point(latch.value.low), high: super::point(latch.value.high) })
            .collect(),
        opening: bay.opening.as_ref().map(|opening| Opening {
            widths: line(&opening.widths),
            height: mm(opening.height.value),
            sill: mm(opening.sill.value),
        }),
        leaves: bay.leaves.iter().map(leaf).collect(),
        side_doors: bay.side_doors.iter().map(side_door).collect(),
        ribs: mm(bay.ribs.value),
        slope: mm(bay.slope.value),
        folded_seats: bay.folded_seats.map(|height| mm(height.value)),
    }
}

fn line(profile: &Profile) -> Vec<[f64; 2]> {
    profile.points().iter().map(|&(station, value)| [mm(station), mm(value)]).collect()
}

fn lengths(list: &[f64]) -> Vec<f64> {
    list.iter().map(|&length| mm(length)).collect()
}

fn rows(relief: &Relief) -> Vec<Vec<f64>> {
    relief.values().iter().map(|row| lengths(row)).collect()
}
