//! What holds the kit to the vehicle, and what stays in reach, in `kit.json`. Shape and content.

use super::{mm, point, space};
use crate::export::kit_json::fitting::Space;
use crate::export::words;
use crate::finished::Finished;
use crate::number::rounded;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// A threaded point of the bay.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub(crate) struct Anchor {
    /// Its name.
    pub(crate) name: String,
    /// `tie-down`, `seat`, `seat-belt`, `child-restraint` or `other`.
    pub(crate) kind: String,
    /// The upper end of its axis, vehicle frame, mm.
    pub(crate) place: [f64; 3],
    /// Thread size.
    pub(crate) thread: String,
    /// How deep a bolt may go in, mm, or null if nobody has measured it.
    pub(crate) depth: Option<f64>,
    /// Degrees by which its axis leans.
    pub(crate) slope: f64,
    /// By how much its place may be off along x and y, either way, mm.
    pub(crate) tolerance: [f64; 2],
    /// N that the vehicle's maker allows, or null.
    pub(crate) rating: Option<f64>,
    /// How the kit uses it, or null.
    pub(crate) used: Option<Anchorage>,
}

/// How a carcase is held by a point of the vehicle.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub(crate) struct Anchorage {
    /// The carcase.
    pub(crate) carcase: String,
    /// The bolt: into the point, or the one that holds the eye on the panel.
    pub(crate) bolt: String,
    /// The turnbuckle, or null.
    pub(crate) turnbuckle: Option<String>,
    /// Reference of an engineer's approval, or null.
    pub(crate) engineer: Option<String>,
}

/// Room that must stay in reach, and what is in it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub(crate) struct Reach {
    /// Its name: a zone's, or that of a point of a seat belt or a child restraint.
    pub(crate) name: String,
    /// The room, vehicle frame.
    pub(crate) room: Space,
    /// Drawers to open.
    pub(crate) open: Vec<String>,
    /// Drawers to take out of their slides.
    pub(crate) take_out: Vec<String>,
    /// Lids to lift out.
    pub(crate) lift_out: Vec<String>,
    /// Panels to take off.
    pub(crate) take_off: Vec<TakenOff>,
    /// Whether a tool is needed.
    pub(crate) tools: bool,
}

/// A panel that comes off.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub(crate) struct TakenOff {
    /// The panel.
    pub(crate) panel: String,
    /// Bolts to undo.
    pub(crate) bolts: usize,
}

/// Every point of the bay.
pub(super) fn anchors(finished: &Finished) -> Vec<Anchor> {
    let kit = &finished.kit;
    let anchors = finished.design.vehicle.bay.anchors.iter();
    anchors
        .map(|anchor| {
            let used = kit.anchorages.iter().find(|anchorage| anchorage.point == anchor.id.value);
            Anchor {
                name: anchor.id.value.clone(),
                kind: words::anchor(anchor.kind.value).to_owned(),
                place: point(anchor.place),
                thread: anchor.thread.value.clone(),
                depth: anchor.depth.map(|depth| mm(depth.value)),
                slope: mm(anchor.slope.value),
                tolerance: [mm(anchor.tolerance.0), mm(anchor.tolerance.1)],
                rating: anchor.rating.map(|rating| rounded(rating.value, 1)),
                used: used.map(|anchorage| Anchorage {
                    carcase: anchorage.carcase.clone(),
                    bolt: kit.bolt(anchorage.bolt).name.clone(),
                    turnbuckle: anchorage.tie.map(|tie| kit.ties[tie].name.clone()),
                    engineer: anchorage.engineer.clone(),
                }),
            }
        })
        .collect()
}

/// Every zone that must stay in reach.
pub(super) fn reach(finished: &Finished) -> Vec<Reach> {
    let zones = finished.moves.zones.iter().filter(|zone| !zone.of_equipment).cloned();
    zones
        .map(|zone| Reach {
            tools: zone.wants_tools(),
            name: zone.name,
            room: space(zone.room),
            open: zone.open,
            take_out: zone.take_out,
            lift_out: zone.lift_out,
            take_off: zone.take_off.into_iter().map(|(panel, bolts)| TakenOff { panel, bolts }).collect(),
        })
        .collect()
}
