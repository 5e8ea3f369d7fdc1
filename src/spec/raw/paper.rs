//! The workshop's key `paper` as written.

use schemars::JsonSchema;
use serde::Deserialize;

use crate::spec::value::{Amount, Place};

/// What drawings and lists are printed on.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "paper")]
pub(crate) struct Paper {
    /// Default: a4.
    pub(crate) size: Option<Place<PaperSize>>,
    /// On which side of a drawing the view from the right stands. Default: first-angle.
    pub(crate) projection: Option<Place<Projection>>,
    /// How labels stand on their sheet. Default: 3 columns of 8.
    pub(crate) labels: Option<Place<Labels>>,
}

/// How labels stand on a sheet.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "labels")]
pub(crate) struct Labels {
    /// Default: 3.
    pub(crate) columns: Option<Place<Amount>>,
    /// Default: 8.
    pub(crate) rows: Option<Place<Amount>>,
    /// What the sheet leaves free on the left and on the right (length). Default: 0.
    pub(crate) margin_sides: Option<Place<Amount>>,
    /// What it leaves free above and below (length). Default: 0.
    pub(crate) margin_ends: Option<Place<Amount>>,
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
