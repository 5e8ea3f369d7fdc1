//! Hinges, latches and stays of doors.
//!
//! Takes rows of `data/doors.yaml`, gives [`Hinge`]s, [`Latch`]es and [`Stay`]s. Does not place them.

use serde::Deserialize;

/// A butt hinge that lies flat on two fronts.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Hinge {
    /// What a spec calls it.
    pub(crate) id: String,
    /// What people call it.
    pub(crate) title: String,
    /// mm along the axis.
    #[serde(rename = "length_mm")]
    pub(crate) length: f64,
    /// mm from the axis to a leaf's outer edge.
    #[serde(rename = "leaf_mm")]
    pub(crate) leaf: f64,
    /// mm from the axis to the bolts of a leaf.
    #[serde(rename = "line_mm")]
    pub(crate) line: f64,
    /// mm of metal in a leaf.
    #[serde(rename = "thickness_mm")]
    pub(crate) thickness: f64,
    /// mm, diameter of the knuckle; its axis is half of it before the front.
    #[serde(rename = "knuckle_mm")]
    pub(crate) knuckle: f64,
    /// Thread size of its bolts.
    pub(crate) bolt: String,
    /// mm from the middle along the leaf.
    #[serde(rename = "bolts_mm")]
    pub(crate) bolts: Vec<f64>,
    /// mm of panel that its bolts need.
    #[serde(rename = "least_panel_mm")]
    pub(crate) least_panel: f64,
    /// Degrees.
    pub(crate) opens: f64,
    /// kg.
    #[serde(rename = "mass_kg")]
    pub(crate) mass: f64,
    /// Where the row comes from.
    pub(crate) source: String,
}

/// A latch in a door, with its striker on the carcase.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Latch {
    /// What a spec calls it.
    pub(crate) id: String,
    /// What people call it.
    pub(crate) title: String,
    /// mm, diameter of the opening in the door.
    #[serde(rename = "opening_mm")]
    pub(crate) opening: f64,
    /// mm. What lies on the door's face.
    #[serde(rename = "plate_mm")]
    pub(crate) plate: [f64; 2],
    /// mm. Its thickness.
    #[serde(rename = "flange_mm")]
    pub(crate) flange: f64,
    /// mm behind the door's face.
    #[serde(rename = "behind_mm")]
    pub(crate) behind: f64,
    /// mm from the door's free edge to its middle.
    #[serde(rename = "from_edge_mm")]
    pub(crate) from_edge: f64,
    /// Thread size of its bolts.
    pub(crate) bolt: String,
    /// mm from its middle.
    #[serde(rename = "bolts_mm")]
    pub(crate) bolts: Vec<[f64; 2]>,
    /// N that it holds.
    #[serde(rename = "hold_n")]
    pub(crate) hold: f64,
    /// The plate that its tongue goes behind.
    pub(crate) striker: Striker,
    /// kg with its striker.
    #[serde(rename = "mass_kg")]
    pub(crate) mass: f64,
    /// Where the row comes from.
    pub(crate) source: String,
}

/// A striker on the face of a board.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Striker {
    /// mm along the door's edge.
    #[serde(rename = "length_mm")]
    pub(crate) length: f64,
    /// mm into the cell.
    #[serde(rename = "depth_mm")]
    pub(crate) depth: f64,
    /// mm off the board's face.
    #[serde(rename = "thickness_mm")]
    pub(crate) thickness: f64,
    /// mm behind the shut door.
    #[serde(rename = "behind_mm")]
    pub(crate) behind: f64,
    /// Thread size of its bolts.
    pub(crate) bolt: String,
    /// mm from its middle along it.
    #[serde(rename = "bolts_mm")]
    pub(crate) bolts: Vec<f64>,
}

/// A gas strut or stay.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Stay {
    /// What a spec calls it.
    pub(crate) id: String,
    /// What people call it.
    pub(crate) title: String,
    /// N; 0 for one that only folds.
    #[serde(rename = "force_n")]
    pub(crate) force: f64,
    /// kg.
    #[serde(rename = "mass_kg")]
    pub(crate) mass: f64,
    /// Where the row comes from.
    pub(crate) source: String,
}

/// `data/doors.yaml` as written.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct DoorFile {
    pub(super) hinges: Vec<Hinge>,
    pub(super) latches: Vec<Latch>,
    pub(super) stays: Vec<Stay>,
}
