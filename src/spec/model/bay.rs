//! The load space as measured, in millimetres, checked for sense: lines and surfaces through the readings.
//!
//! x forward from the closed tailgate's inner trim at the floor, y left from the centreline, z up from what the kit
//! stands on. What a surface is to the kit is the stage `bay`'s affair.

use super::{Anchor, Reach};
use crate::diag::{At, Span};
use crate::geom::{Aabb, Profile, Relief};

/// The load space.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Bay {
    /// mm of clear width at the floor where it is narrowest: between the wheel arches, if there are any.
    pub(crate) width: At<f64>,
    /// mm along the floor.
    pub(crate) depth: At<f64>,
    /// mm from the floor to the roof where it is lowest.
    pub(crate) height: At<f64>,
    /// x of the seat back or bulkhead, by z.
    pub(crate) seat_back: At<Profile>,
    /// mm from the centreline to the left side, by x and z; without the arches.
    pub(crate) left: At<Relief>,
    /// mm from the centreline to the right side, by x and z; without the arches.
    pub(crate) right: At<Relief>,
    /// z of the roof lining, by x.
    pub(crate) roof: At<Profile>,
    /// x of the closed tailgate's inner trim, by z.
    pub(crate) door: At<Profile>,
    /// Left, then right.
    pub(crate) arches: Vec<Arch>,
    /// What reaches into the bay from the closed tailgate, in the order of the text: boxes that begin at the rear
    /// edge.
    pub(crate) latches: Vec<At<Aabb>>,
    /// The opening at the rear.
    pub(crate) opening: Option<Opening>,
    /// The doors at the rear as they turn, in the order of the text.
    pub(crate) leaves: Vec<Leaf>,
    /// Doors in the sides, in the order of the text.
    pub(crate) side_doors: Vec<SideDoor>,
    /// mm. Height of the floor's ribs, below z = 0.
    pub(crate) ribs: At<f64>,
    /// Degrees by which the floor falls towards the rear.
    pub(crate) slope: At<f64>,
    /// mm of the folded rear seats above the floor.
    pub(crate) folded_seats: Option<At<f64>>,
    /// Threaded points, by name.
    pub(crate) anchors: Vec<Anchor>,
    /// What must stay in reach, by name.
    pub(crate) reach: Vec<Reach>,
    /// Where the bay is described.
    pub(crate) span: Span,
}

/// A side of the vehicle.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Side {
    /// y > 0.
    Left,
    /// y < 0.
    Right,
}

/// A wheel arch: everything farther from the centreline than its inner face and lower than its profile.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Arch {
    /// Which one.
    pub(crate) side: Side,
    /// mm from the centreline to its inner face.
    pub(crate) from_centre: At<f64>,
    /// z of its upper side by x, from its first station to its last.
    pub(crate) profile: Profile,
    /// Where it is described.
    pub(crate) span: Span,
}

/// The opening at the rear.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Opening {
    /// mm of clear width, by z.
    pub(crate) widths: Profile,
    /// mm from the floor to its upper edge.
    pub(crate) height: At<f64>,
    /// mm from the floor to the sill's upper side.
    pub(crate) sill: At<f64>,
    /// Where it is described.
    pub(crate) span: Span,
}

/// A tailgate or door as it turns: shut, a board from the plane x = 0 rearward.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Leaf {
    /// What it is called.
    pub(crate) id: At<String>,
    /// The edge about which it turns, in the plane x = 0.
    pub(crate) hinge: Hinge,
    /// What it fills shut.
    pub(crate) shut: Aabb,
    /// Degrees by which it stands open.
    pub(crate) open: At<f64>,
    /// Where it is described.
    pub(crate) span: Span,
}

/// The edge of a leaf about which it turns.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Hinge {
    /// The edge with the greatest y.
    Left,
    /// The edge with the least y.
    Right,
    /// The edge with the greatest z.
    Top,
    /// The edge with the least z.
    Bottom,
}

/// A rectangular door in a side.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct SideDoor {
    /// In which side.
    pub(crate) side: Side,
    /// x of its rear edge.
    pub(crate) from: At<f64>,
    /// mm along the vehicle.
    pub(crate) width: At<f64>,
    /// z of its upper edge.
    pub(crate) height: At<f64>,
    /// z of its sill.
    pub(crate) sill: At<f64>,
    /// Where it is described.
    pub(crate) span: Span,
}

/// Room that the kit keeps from the bay's surfaces, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Clearances {
    /// To a wheel arch.
    pub(crate) arch: At<f64>,
    /// To the seat back, along the bay.
    pub(crate) seat_back: At<f64>,
    /// To the closed tailgate, along the bay.
    pub(crate) door: At<f64>,
    /// To a latch box, all round.
    pub(crate) latch: At<f64>,
    /// To the sides and the roof lining.
    pub(crate) trim: At<f64>,
    /// To spare in the width and in the height of an opening on the way in, both sides together.
    pub(crate) opening: At<f64>,
}

impl Arch {
    /// z of its upper side at a station, if it is there.
    pub(crate) fn top_at(&self, x: f64) -> Option<f64> {
        let points = self.profile.points();
        (points[0].0..=points[points.len() - 1].0).contains(&x).then(|| self.profile.at(x))
    }
}

impl Bay {
    /// x of the seat back at a height.
    pub(crate) fn length_at(&self, z: f64) -> f64 {
        self.seat_back.value.at(z)
    }

    /// mm from the centreline to the narrowest place on one side at a height, arches included.
    pub(crate) fn reach_at(&self, side: Side, z: f64) -> f64 {
        let relief = if side == Side::Left { &self.left } else { &self.right };
        let arches = self.arches.iter().filter(|arch| arch.side == side && z < arch.profile.greatest());
        arches.map(|arch| arch.from_centre.value).fold(relief.value.along(z).least(), f64::min)
    }

    /// mm from the centreline to what is nearest on one side at a place: the side itself, or an arch that is higher.
    pub(crate) fn reach(&self, side: Side, x: f64, z: f64) -> f64 {
        let relief = if side == Side::Left { &self.left } else { &self.right };
        let arches = self.arches.iter().filter(|arch| arch.side == side);
        let higher = arches.filter(|arch| arch.top_at(x).is_some_and(|top| top > z));
        higher.map(|arch| arch.from_centre.value).fold(relief.value.along(z).at(x), f64::min)
    }

    /// mm between the narrowest places of both sides at a height, arches included.
    pub(crate) fn width_at(&self, z: f64) -> f64 {
        self.reach_at(Side::Left, z) + self.reach_at(Side::Right, z)
    }
}

impl Hinge {
    /// `left`, `right`, `top` or `bottom`.
    pub(crate) fn word(self) -> &'static str {
        match self {
            Hinge::Left => "left",
            Hinge::Right => "right",
            Hinge::Top => "top",
            Hinge::Bottom => "bottom",
        }
    }
}

impl Side {
    /// `left` or `right`.
    pub(crate) fn word(self) -> &'static str {
        match self {
            Side::Left => "left",
            Side::Right => "right",
        }
    }

    /// +1 for the left, where y is positive, -1 for the right.
    pub(crate) fn sign(self) -> f64 {
        match self {
            Side::Left => 1.0,
            Side::Right => -1.0,
        }
    }
}
