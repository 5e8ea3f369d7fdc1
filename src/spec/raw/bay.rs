//! The load space as written: what a tape measured, key by key. Ranges and sense are `lower`'s.

use schemars::JsonSchema;
use serde::Deserialize;

use super::{Anchor, Reach};
use crate::spec::value::{Amount, Place};

/// The load space as measured: x forward from the closed tailgate's inner trim at the floor, left and right from the
/// centreline, z up from what the kit stands on. Plain numbers or arithmetic without names. Only depth, height and
/// a width are needed; with nothing else the bay is a box.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "bay")]
pub(crate) struct Bay {
    /// Clear width at the floor where it is narrowest: between the wheel arches, if there are any (length). May be
    /// left out where `sides` are given.
    pub(crate) width: Option<Place<Amount>>,
    /// Along the floor, from the closed tailgate's inner trim to the seat back or bulkhead (length).
    pub(crate) depth: Place<Amount>,
    /// From the floor to the roof lining where it is lowest (length).
    pub(crate) height: Place<Amount>,
    /// How the seat back or bulkhead leans. Default: upright.
    pub(crate) seat_back: Option<Place<SeatBack>>,
    /// The side lines, at stations and heights. Default: upright, half the width from the centreline.
    pub(crate) sides: Option<Place<Sides>>,
    /// The wheel arches; left and right are seldom alike.
    pub(crate) arches: Option<Place<Arches>>,
    /// Height of the roof lining at stations, where it is not level.
    pub(crate) roof: Option<Place<Vec<Place<RoofReading>>>>,
    /// The closed tailgate or doors, from inside. Default: upright at x = 0.
    pub(crate) door: Option<Place<Door>>,
    /// The opening that everything must go in through.
    pub(crate) opening: Option<Place<Opening>>,
    /// Doors in the sides that something can go in through.
    pub(crate) side_doors: Option<Place<Vec<Place<SideDoor>>>>,
    /// Ribs and slope of the floor, for the report.
    pub(crate) floor: Option<Place<Floor>>,
    /// Height of the folded rear seats above the floor, for the report and for `bay.folded_seats` (length).
    pub(crate) folded_seats: Option<Place<Amount>>,
    /// Threaded points that the kit may be bolted to, and those that hold people.
    pub(crate) anchors: Option<Place<Vec<Place<Anchor>>>>,
    /// Room that must stay in reach.
    pub(crate) reach: Option<Place<Vec<Place<Reach>>>>,
}

/// How the seat back or bulkhead stands: a rake, lengths at heights, or both where they agree.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "seat_back")]
pub(crate) struct SeatBack {
    /// Degrees from upright; positive leans into the bay going up.
    pub(crate) rake: Option<Place<Amount>>,
    /// Lengths at heights above the floor, lowest first.
    pub(crate) lengths: Option<Place<Vec<Place<LengthReading>>>>,
    /// Height of its upper end, from which it counts as upright (length). Default: it goes on in its line.
    pub(crate) top: Option<Place<Amount>>,
}

/// The bay's length at a height.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "length reading")]
pub(crate) struct LengthReading {
    /// Above the floor (length).
    pub(crate) z: Place<Amount>,
    /// From x = 0, the tailgate's inner trim at the floor, to the seat back at this height (length).
    pub(crate) length: Place<Amount>,
}

/// The sides: the same heights at every station, so that there are cells between them.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "sides")]
pub(crate) struct Sides {
    /// Heights above the floor, lowest first (lengths).
    pub(crate) heights: Place<Vec<Place<Amount>>>,
    /// Stations from the rear forward; with one only, the sides are the same all along.
    pub(crate) stations: Place<Vec<Place<Station>>>,
}

/// The sides at one place along the bay: widths, or left and right apart.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "station")]
pub(crate) struct Station {
    /// Forward of the rear edge (length).
    pub(crate) x: Place<Amount>,
    /// From side to side, at each height (lengths); half of it lies on each side of the centreline.
    pub(crate) widths: Option<Place<Vec<Place<Amount>>>>,
    /// From the centreline to the left side, at each height (lengths).
    pub(crate) left: Option<Place<Vec<Place<Amount>>>>,
    /// From the centreline to the right side, at each height (lengths).
    pub(crate) right: Option<Place<Vec<Place<Amount>>>>,
}

/// The wheel arches.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "arches")]
pub(crate) struct Arches {
    /// The left one.
    pub(crate) left: Option<Place<Arch>>,
    /// The right one.
    pub(crate) right: Option<Place<Arch>>,
}

/// A wheel arch: a box (`from`, `to`, `height`) or a profile seen from the side, as far in as `from_centre`.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "arch")]
pub(crate) struct Arch {
    /// From the centreline to its inner face (length).
    pub(crate) from_centre: Place<Amount>,
    /// Where it begins, forward of the rear edge (length).
    pub(crate) from: Option<Place<Amount>>,
    /// Where it ends (length).
    pub(crate) to: Option<Place<Amount>>,
    /// Above the floor (length).
    pub(crate) height: Option<Place<Amount>>,
    /// Height at stations, instead of the three above.
    pub(crate) profile: Option<Place<Vec<Place<RoofReading>>>>,
}

/// A height at a station.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "height reading")]
pub(crate) struct RoofReading {
    /// Forward of the rear edge (length).
    pub(crate) x: Place<Amount>,
    /// Above the floor (length).
    pub(crate) z: Place<Amount>,
}

/// The closed tailgate or doors, from inside.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "door")]
pub(crate) struct Door {
    /// Where its inner trim stands at heights, lowest first.
    pub(crate) profile: Option<Place<Vec<Place<DoorReading>>>>,
    /// Latches, strikers, posts and the like that reach further in.
    pub(crate) latches: Option<Place<Vec<Place<Latch>>>>,
    /// The tailgate or doors as they turn: each leaf as a flat board in the door's plane, x = 0, and rearward of it.
    pub(crate) leaves: Option<Place<Vec<Place<Leaf>>>>,
}

/// A tailgate or one of several doors, shut: a board behind the door's plane that turns about one of its edges.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "leaf")]
pub(crate) struct Leaf {
    /// What it is called, e.g. tailgate.
    pub(crate) id: Place<String>,
    /// The edge about which it turns, in the door's plane.
    pub(crate) hinge: Place<Hinge>,
    /// Its right edge, left of the centreline; negative is to the right (length).
    pub(crate) from: Place<Amount>,
    /// Its left edge, likewise (length).
    pub(crate) to: Place<Amount>,
    /// Its lower edge above the floor (length).
    pub(crate) bottom: Place<Amount>,
    /// Its upper edge above the floor (length).
    pub(crate) top: Place<Amount>,
    /// Through the leaf, from the door's plane rearward (length).
    pub(crate) thickness: Place<Amount>,
    /// Degrees by which it stands open while the kit is used: 90 for a tailgate let down to the level.
    pub(crate) open: Place<Amount>,
}

/// The edge of a leaf about which it turns.
#[derive(Clone, Copy, Debug, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub(crate) enum Hinge {
    /// The vehicle's left edge, at `to`.
    Left,
    /// The vehicle's right edge, at `from`.
    Right,
    /// The upper edge.
    Top,
    /// The lower edge.
    Bottom,
}

/// A door in a side: a rectangle.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "side door")]
pub(crate) struct SideDoor {
    /// The side that it is in.
    pub(crate) side: Place<DoorSide>,
    /// Where it begins, forward of the rear edge (length).
    pub(crate) from: Place<Amount>,
    /// Clear width along the vehicle (length).
    pub(crate) width: Place<Amount>,
    /// From the floor to its upper edge (length).
    pub(crate) height: Place<Amount>,
    /// How high its sill stands above the floor (length). Default 0.
    pub(crate) sill: Option<Place<Amount>>,
}

/// A side of the vehicle.
#[derive(Clone, Copy, Debug, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub(crate) enum DoorSide {
    /// The vehicle's left.
    Left,
    /// The vehicle's right.
    Right,
}

/// Where the closed door stands at a height.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "door reading")]
pub(crate) struct DoorReading {
    /// Above the floor (length).
    pub(crate) z: Place<Amount>,
    /// Forward of the rear edge; negative is behind it (length).
    pub(crate) x: Place<Amount>,
}

/// A box that a latch or striker fills.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "latch")]
pub(crate) struct Latch {
    /// How far it reaches into the bay, forward of the rear edge (length).
    pub(crate) reach: Place<Amount>,
    /// Its middle, left of the centreline; negative is to the right (length). Default 0.
    pub(crate) y: Option<Place<Amount>>,
    /// Its lower end above the floor (length). Default 0.
    pub(crate) z: Option<Place<Amount>>,
    /// Across the bay (length).
    pub(crate) width: Place<Amount>,
    /// Upwards (length).
    pub(crate) height: Place<Amount>,
}

/// The opening at the rear.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "opening")]
pub(crate) struct Opening {
    /// Clear widths at heights, lowest first.
    pub(crate) widths: Place<Vec<Place<OpeningReading>>>,
    /// From the floor to its upper edge (length).
    pub(crate) height: Place<Amount>,
    /// How high the sill stands above the floor (length). Default 0.
    pub(crate) sill: Option<Place<Amount>>,
}

/// The opening's width at a height.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "opening reading")]
pub(crate) struct OpeningReading {
    /// Above the floor (length).
    pub(crate) z: Place<Amount>,
    /// Clear width (length).
    pub(crate) width: Place<Amount>,
}

/// The floor, which the kit stands on.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "floor")]
pub(crate) struct Floor {
    /// Height of its ribs; z = 0 is on top of them (length). Default 0.
    pub(crate) ribs: Option<Place<Amount>>,
    /// Degrees; positive falls towards the rear, as the vehicle stands unladen. Default 0.
    pub(crate) slope: Option<Place<Amount>>,
}

/// Room that the kit keeps from the bay's surfaces. Plain numbers or arithmetic without names.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "clearances")]
pub(crate) struct Clearances {
    /// To a wheel arch (length). Default 8 mm.
    pub(crate) arch: Option<Place<Amount>>,
    /// To the seat back or bulkhead, along the bay (length). Default 12 mm.
    pub(crate) seat_back: Option<Place<Amount>>,
    /// To the closed tailgate or doors, along the bay (length). Default 25 mm, which is also where carcases
    /// without `at` stand.
    pub(crate) door: Option<Place<Amount>>,
    /// To a latch or striker, all round (length). Default 15 mm.
    pub(crate) latch: Option<Place<Amount>>,
    /// To the sides and the roof lining (length). Default 4 mm.
    pub(crate) trim: Option<Place<Amount>>,
    /// To spare in the width, and in the height, of an opening that a carcase goes in through: both sides together
    /// (length). Default 15 mm.
    pub(crate) opening: Option<Place<Amount>>,
}
