//! Readings of a scale, as asked for.

use crate::diag::At;

/// What a scale said.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Weighed {
    /// What was on it.
    pub(crate) of: At<String>,
    /// kg.
    pub(crate) mass: f64,
    /// kg that the scale tells apart.
    pub(crate) resolution: f64,
}
