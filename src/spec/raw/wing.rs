//! Wings and hatches as written.

use super::{NotchSide, Units};
use crate::spec::value::{Amount, Place};
use schemars::JsonSchema;
use serde::Deserialize;

/// A panel that fills the room between a carcase and the vehicle's side, bolted to the carcase on an angle. Its shape
/// is either measured (`points`) or drawn (`outline`).
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "wing")]
pub(crate) struct Wing {
    /// Name of the panel; with `side: both` of two panels, NAME-left and NAME-right.
    pub(crate) id: Place<String>,
    /// On which side of the carcase. `both` makes true mirror images, where the bay is as wide on both sides.
    pub(crate) side: Place<NotchSide>,
    /// Id of the carcase that it lies beside and is bolted to. Default: the only one.
    pub(crate) beside: Option<Place<String>>,
    /// From the floor to its upper face (length). Default: level with the carcase's deck.
    pub(crate) top: Option<Place<Amount>>,
    /// Catalogue name of its material. Default: that of the carcase's deck.
    pub(crate) panel: Option<Place<String>>,
    /// The vehicle's side as measured along the panel, from one end of the panel to the other. From the first and the
    /// last point the panel's ends run straight across to the carcase.
    pub(crate) points: Option<Place<Vec<Place<WingPoint>>>>,
    /// From the measured line to the panel's edge (length). Default: `clearances: trim`.
    pub(crate) clearance: Option<Place<Amount>>,
    /// The panel's edge as it is to be cut, from a drawing.
    pub(crate) outline: Option<Place<DrawnOutline>>,
    /// Openings with lids, for lockers below it.
    pub(crate) hatches: Option<Place<Vec<Place<Hatch>>>>,
}

/// A measured place of the vehicle's side.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "wing point")]
pub(crate) struct WingPoint {
    /// From the bay's rear edge forward (length).
    pub(crate) x: Place<Amount>,
    /// From the centreline outward, positive on either side (length).
    pub(crate) y: Place<Amount>,
    /// Radius by which the vehicle's side is round here, where straight lines through the points would meet in a
    /// corner (length). Default: 0.
    pub(crate) fillet: Option<Place<Amount>>,
}

/// A closed outline from a drawing (DXF or SVG), seen from above: x forward, y to the vehicle's left.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "drawn outline")]
pub(crate) struct DrawnOutline {
    /// The drawing, from the folder of the design.
    pub(crate) file: Place<String>,
    /// Unit of the drawing, for one that does not say it itself; it goes before what the drawing says.
    pub(crate) units: Option<Place<Units>>,
    /// Where the drawing's origin lies in the vehicle. Default: at the bay's rear edge, on the centreline.
    pub(crate) at: Option<Place<PlanPosition>>,
}

/// A place in the vehicle, seen from above.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "plan position")]
pub(crate) struct PlanPosition {
    /// From the bay's rear edge forward (length). Default: 0.
    pub(crate) x: Option<Place<Amount>>,
    /// From the centreline, left positive (length). Default: 0.
    pub(crate) y: Option<Place<Amount>>,
}

/// Openings with loose lids in a carcase. The lid of a base that lies on the floor lies there, too, and needs no ledge.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "carcase hatches")]
pub(crate) struct CarcaseHatches {
    /// In the upper panel.
    pub(crate) deck: Option<Place<Vec<Place<Hatch>>>>,
    /// In the lower panel.
    pub(crate) base: Option<Place<Vec<Place<Hatch>>>>,
}

/// A rectangular opening with a lid that lies loose on a ledge, flush with the panel around it.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "hatch")]
pub(crate) struct Hatch {
    /// Its middle, forward of the bay's rear edge (length).
    pub(crate) x: Place<Amount>,
    /// Its middle: in a wing outward from the centreline, positive on either side; in a carcase left of it, negative to
    /// the right (length).
    pub(crate) y: Place<Amount>,
    /// Of the opening, forward (length).
    pub(crate) length: Place<Amount>,
    /// Of the opening, across (length).
    pub(crate) width: Place<Amount>,
    /// Between the lid and the opening, all round (length). Default: 3 mm.
    pub(crate) gap: Option<Place<Amount>>,
    /// How far the strips under the rim reach into the opening (length). Default: 20 mm.
    pub(crate) ledge: Option<Place<Amount>>,
    /// Diameter of the hole in the lid by which it is lifted out (length). Default: 30 mm.
    pub(crate) finger_hole: Option<Place<Amount>>,
}
