//! Parts of `kit.json` that are neither panels nor bolts, and openings in panels: their shape, field by field.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// A box with its sides along the vehicle's axes.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub(crate) struct Space {
    /// The corner with the least x, y and z, mm.
    pub(crate) low: [f64; 3],
    /// The corner with the greatest x, y and z, mm.
    pub(crate) high: [f64; 3],
}

/// A part that is no panel and no bolt.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "kind", rename_all = "kebab-case")]
pub(crate) enum Fitting {
    /// A piece of aluminium angle.
    Angle {
        /// Its name.
        name: String,
        /// Name of the section in the catalogue.
        section: String,
        /// mm.
        length: f64,
        /// Hole positions, mm from the piece's start: in the leg on the edge panel, then in the other leg.
        holes: [Vec<f64>; 2],
        /// mm.
        hole_diameter: f64,
        /// The two legs, in the same order, vehicle frame.
        legs: [Space; 2],
        /// kg, drilled.
        mass: f64,
        /// The body that it moves with.
        body: String,
    },
    /// One slide of a pair.
    Slide {
        /// Its name.
        name: String,
        /// Name in the catalogue.
        slide: String,
        /// kg that the pair bears, or null if nobody says.
        rating_pair: Option<f64>,
        /// mm from shut to fully open.
        travel: f64,
        /// kg of this one.
        mass: f64,
        /// The body that its fixed member is bolted to.
        body: String,
        /// The drawer that its moving member carries.
        drawer: String,
        /// The space that it takes shut, vehicle frame.
        space: Space,
    },
    /// A turnbuckle from an eye in a point of the vehicle to an eye on a panel.
    Turnbuckle {
        /// Its name.
        name: String,
        /// Thread size.
        size: String,
        /// Middle of the eye in the point, vehicle frame, mm.
        from: [f64; 3],
        /// Middle of the eye on the panel, vehicle frame, mm.
        to: [f64; 3],
        /// Between the two, mm.
        length: f64,
        /// kg, with the eye bolt in the point.
        mass: f64,
        /// The body that it holds.
        body: String,
        /// The bolt that holds the eye on the panel.
        bolt: String,
        /// The space that the eye in the point takes, vehicle frame.
        eye: Space,
    },
    /// Something set into a panel or standing on it.
    Fixture {
        /// Its name.
        name: String,
        /// What it is.
        title: String,
        /// Its name in the catalogue; empty for what the design describes by itself.
        item: String,
        /// Whether it is carried in the kit and no part of its mass.
        equipment: bool,
        /// kg, empty.
        mass: f64,
        /// kg of what it holds when it is full.
        fill: f64,
        /// The body that it moves with.
        body: String,
        /// The boxes that it fills shut, vehicle frame.
        spaces: Vec<Space>,
    },
}

/// An opening in a panel, or several alike.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub(crate) struct Cutout {
    /// Its name; of several alike, their `openings` are NAME-1, NAME-2 and so on.
    pub(crate) name: String,
    /// The panel that it is in.
    pub(crate) panel: String,
    /// What is set into it, or its shape.
    pub(crate) what: String,
    /// Width and height of one, mm.
    pub(crate) size: [f64; 2],
    /// The way that it faces: `left`, `right`, `rear`, `front`, `up` or `down`.
    pub(crate) facing: String,
    /// The middle of each on the face, vehicle frame, mm.
    pub(crate) middles: Vec<[f64; 3]>,
    /// Kept free behind the face, mm.
    pub(crate) behind: f64,
    /// Free area of all, mm2.
    pub(crate) free_area: f64,
}

/// A cable, hose, duct or gas pipe.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub(crate) struct Run {
    /// Its name.
    pub(crate) name: String,
    /// `cable`, `hose`, `duct` or `gas`.
    pub(crate) kind: String,
    /// Where it begins and where it ends.
    pub(crate) ends: [String; 2],
    /// Diameter of the bundle, mm.
    pub(crate) bundle: f64,
    /// Diameter of its own holes, mm.
    pub(crate) hole: f64,
    /// Its way shut, from place to place in the vehicle, mm.
    pub(crate) way: Vec<[f64; 3]>,
    /// Along the way, mm.
    pub(crate) length: f64,
    /// What its ends move when all is opened, mm.
    pub(crate) slack: f64,
    /// Along it from a battery to its fuse or breaker, mm.
    pub(crate) protected_within: Option<f64>,
    /// The panels that it crosses, in order.
    pub(crate) crossings: Vec<Crossing>,
}

/// A panel that a run crosses.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub(crate) struct Crossing {
    /// The panel.
    pub(crate) panel: String,
    /// The cut-out, or the run's own hole, among the panel's `openings`.
    pub(crate) opening: String,
    /// Its middle on the face that the run comes to, vehicle frame, mm.
    pub(crate) middle: [f64; 3],
}

/// What a strap hooks into, or several alike.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub(crate) struct TieDown {
    /// Its name; of several alike, their `fittings` are NAME-1, NAME-2 and so on.
    pub(crate) name: String,
    /// The panel that it is on.
    pub(crate) panel: String,
    /// What it is.
    pub(crate) title: String,
    /// The middle of each on the panel's face, vehicle frame, mm.
    pub(crate) middles: Vec<[f64; 3]>,
    /// N that one of them bears.
    pub(crate) rating: f64,
    /// Degrees between the strap and the panel.
    pub(crate) strap_angle: f64,
    /// kg that one strap from one of them holds directly against 0.8 g forward, 0.5 g rearward, 0.5 g sideways, 0.2 g up.
    pub(crate) holds: [f64; 4],
}

/// A text engraved into a panel.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub(crate) struct Engraving {
    /// `legend`, or `part-mark` for the panel's own name.
    pub(crate) kind: String,
    /// The legend's name; of a part mark the panel's.
    pub(crate) name: String,
    /// What it says.
    pub(crate) text: String,
    /// Height of its capitals, mm.
    pub(crate) height: f64,
    /// Open lines on face A, each by its corners, mm in the panel's frame.
    pub(crate) strokes: Vec<Vec<[f64; 2]>>,
}

/// A finish on a face of a panel.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub(crate) struct Finish {
    /// Its name.
    pub(crate) name: String,
    /// Name in the catalogue.
    pub(crate) kind: String,
    /// `A` or `B`.
    pub(crate) face: String,
    /// mm at rest.
    pub(crate) thickness: f64,
    /// mm under a head, a washer or a nut.
    pub(crate) under_bolt: f64,
    /// Whether it goes round the edges that lie free.
    pub(crate) wraps: bool,
    /// mm2 of the face that it covers: all but openings and what other parts bear on.
    pub(crate) area: f64,
    /// mm2 of edges that it covers.
    pub(crate) edges: f64,
    /// g/m2 with adhesive.
    pub(crate) areal_mass: f64,
    /// kg with adhesive.
    pub(crate) mass: f64,
    /// Where on the face it is left off, since something bears there or the spec says so: flat boxes in the vehicle.
    pub(crate) bare: Vec<Space>,
}
