//! The workshop's key `paper` as written.

use schemars::JsonSchema;
use serde::Deserialize;

use crate::spec::value::Place;

/// What drawings and lists are printed on.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "paper")]
pub(crate) struct Paper {
    /// Default: a4.
    pub(crate) size: Option<Place<PaperSize>>,
    /// On which side of a drawing the view from the right stands. Default: first-angle.
    pub(crate) projection: Option<Place<Projection>>,
}

/// A size of paper.
#[derive(Clone, Copy, Debug, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub(crate) enum PaperSize {
    /// 210 x 297 mm.
    A4,
    /// 8.5 x 11 in.
    Letter,
}

/// How views are arranged (ISO 5456-2).
#[derive(Clone, Copy, Debug, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub(crate) enum Projection {
    /// The view from the right stands on the left.
    FirstAngle,
    /// The view from the right stands on the right.
    ThirdAngle,
}
