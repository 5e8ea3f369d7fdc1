//! Finishes as written.

use super::cutout::FromEdges;
use crate::spec::value::{Amount, Place};
use schemars::JsonSchema;
use serde::Deserialize;

/// What covers faces of panels: carpet, a mat, laminate, paint.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "finish")]
pub(crate) struct Finish {
    /// Its name, unique in the kit.
    pub(crate) id: Place<String>,
    /// What it is, from the catalogue, e.g. `carpet`.
    pub(crate) kind: Place<String>,
    /// Names of the panels that it is on; `*` stands for any run of characters.
    pub(crate) panels: Place<Vec<Place<String>>>,
    /// The faces that it is on. Default: a.
    pub(crate) faces: Option<Place<Faces>>,
    /// Whether it is taken round the edges that lie free. Default: as is ordinary for the finish.
    pub(crate) wrap: Option<Place<bool>>,
    /// Widths of strips along the panels' edges that stay bare.
    pub(crate) bare: Option<Place<FromEdges>>,
}

/// Faces of a panel.
#[derive(Clone, Copy, Debug, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub(crate) enum Faces {
    /// Face A, which is up while the panel is cut, and shows.
    A,
    /// Face B, the other one.
    B,
    /// Both faces.
    Both,
}

/// A finish that a workshop adds to the catalogue.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "finish data")]
pub(crate) struct FinishData {
    /// What people call it.
    pub(crate) title: Option<Place<String>>,
    /// At rest (length).
    pub(crate) thickness: Option<Place<Amount>>,
    /// What is left of it under a head, a washer or a nut (length). Default: its thickness.
    pub(crate) under_bolt: Option<Place<Amount>>,
    /// g/m2 without adhesive.
    pub(crate) mass: Option<Place<Amount>>,
    /// g/m2 of adhesive. Default: none.
    pub(crate) adhesive: Option<Place<Amount>>,
    /// Width of the roll or sheet that it is cut from (length); left out for what is brushed or sprayed on.
    pub(crate) roll: Option<Place<Amount>>,
    /// Whether it is ordinarily taken round free edges. Default: false.
    pub(crate) wraps: Option<Place<bool>>,
    /// Where the values come from.
    pub(crate) source: Option<Place<String>>,
}
