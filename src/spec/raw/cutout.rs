//! Cut-outs in panels as written.

use super::Units;
use crate::spec::value::{Amount, Place};
use schemars::JsonSchema;
use serde::Deserialize;

/// An opening right through a panel: for air, a cable, a fitting. It has one shape: `round`, `rectangle`, `slot`,
/// `outline` or `fitting`. Widths lie across the vehicle on fronts, backs and lying panels and along it on sides and
/// dividers; heights go up, on lying panels forward.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "cutout")]
pub(crate) struct Cutout {
    /// Its name, unique in the kit.
    pub(crate) id: Place<String>,
    /// Name of the panel that it is in.
    pub(crate) panel: Option<Place<String>>,
    /// Instead of `panel`: the front of this cell, named CARCASE-CELL as its drawer, door or blank is.
    pub(crate) front_of: Option<Place<String>>,
    /// A round hole.
    pub(crate) round: Option<Place<Round>>,
    /// A rectangle with round corners.
    pub(crate) rectangle: Option<Place<Rectangle>>,
    /// A slot with round ends.
    pub(crate) slot: Option<Place<Slot>>,
    /// Any shape, from a drawing or from points.
    pub(crate) outline: Option<Place<FreeShape>>,
    /// Catalogue name of a fitting that is set into the panel and bolted to it: a socket, a vent.
    pub(crate) fitting: Option<Place<String>>,
    /// From the panel's edges to the opening's middle. Default: in the panel's middle.
    pub(crate) middle: Option<Place<FromEdges>>,
    /// Instead of `middle`: from the panel's edges to the opening's own edges.
    pub(crate) edge: Option<Place<FromEdges>>,
    /// Several alike, in rows; the place is that of the whole group.
    pub(crate) repeat: Option<Place<Repeat>>,
    /// Whether panels that lie flat against this one are cut, too: a drawer's box behind its front, the side of the next
    /// carcase. Default: false.
    pub(crate) through: Option<Place<bool>>,
    /// The side from which it is seen and from which a fitting is put in. Default: the panel's face A.
    pub(crate) facing: Option<Place<Facing>>,
    /// Room that must be free behind the panel (length). Default: the fitting's, else 0.
    pub(crate) behind: Option<Place<Amount>>,
}

/// A round hole.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "round")]
pub(crate) struct Round {
    /// Across it (length).
    pub(crate) diameter: Place<Amount>,
}

/// A rectangle with round corners.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "rectangle")]
pub(crate) struct Rectangle {
    /// Of the opening (length).
    pub(crate) width: Place<Amount>,
    /// Of the opening (length).
    pub(crate) height: Place<Amount>,
    /// Of its corners (length). Default: the tool's.
    pub(crate) radius: Option<Place<Amount>>,
}

/// A slot with round ends.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "slot")]
pub(crate) struct Slot {
    /// Over its round ends (length).
    pub(crate) length: Place<Amount>,
    /// Between its straight sides (length).
    pub(crate) width: Place<Amount>,
    /// Whether its length goes up. Default: false.
    pub(crate) upright: Option<Place<bool>>,
}

/// Any shape: a closed outline from a drawing, or points. Seen from the side that it faces, x to the right, y up.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "free shape")]
pub(crate) struct FreeShape {
    /// The drawing (DXF or SVG), from the folder of the design.
    pub(crate) file: Option<Place<String>>,
    /// Unit of the drawing, for one that does not say it itself; it goes before what the drawing says.
    pub(crate) units: Option<Place<Units>>,
    /// Its corners, in order.
    pub(crate) points: Option<Place<Vec<Place<ShapePoint>>>>,
}

/// A corner of a shape.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "shape point")]
pub(crate) struct ShapePoint {
    /// To the right (length).
    pub(crate) x: Place<Amount>,
    /// Upwards (length).
    pub(crate) y: Place<Amount>,
    /// Radius of the corner (length). Default: the tool's.
    pub(crate) radius: Option<Place<Amount>>,
}

/// Distances from a panel's edges, one for each of its two directions at most. Left and right are the vehicle's.
#[derive(Debug, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "from edges")]
pub(crate) struct FromEdges {
    /// From the panel's left edge (length).
    pub(crate) left: Option<Place<Amount>>,
    /// From its right edge (length).
    pub(crate) right: Option<Place<Amount>>,
    /// From its edge at the tailgate's end (length).
    pub(crate) rear: Option<Place<Amount>>,
    /// From its edge at the seats' end (length).
    pub(crate) front: Option<Place<Amount>>,
    /// From its lower edge (length).
    pub(crate) bottom: Option<Place<Amount>>,
    /// From its upper edge (length).
    pub(crate) top: Option<Place<Amount>>,
}

/// Several openings alike.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "repeat")]
pub(crate) struct Repeat {
    /// Beside each other.
    pub(crate) across: Option<Place<Row>>,
    /// One above the other; on lying panels one before the other.
    pub(crate) up: Option<Place<Row>>,
}

/// A row of openings.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "row")]
pub(crate) struct Row {
    /// How many.
    pub(crate) count: Place<Amount>,
    /// From middle to middle (length).
    pub(crate) pitch: Place<Amount>,
}

/// A direction of the vehicle.
#[derive(Clone, Copy, Debug, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub(crate) enum Facing {
    /// To the vehicle's left.
    Left,
    /// To its right.
    Right,
    /// To the tailgate.
    Rear,
    /// To the seats.
    Front,
    /// Up.
    Up,
    /// Down.
    Down,
}
