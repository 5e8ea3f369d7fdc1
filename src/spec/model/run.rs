//! Runs of cables, hoses and ducts as asked for.

use super::Towards;
use crate::diag::{At, Span};
use crate::geom::{Point3, VehicleFrame};

/// A cable, hose or duct from one place to another.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Run {
    /// Unique in the kit.
    pub(crate) id: At<String>,
    /// What is led there.
    pub(crate) kind: RunKind,
    /// Where it begins, goes through and ends; two at least.
    pub(crate) stops: Vec<RunStop>,
    /// mm. Diameter of the bundle.
    pub(crate) bundle: f64,
    /// mm of grommet around it. Default 2.
    pub(crate) wall: f64,
    /// mm along it from a battery to its fuse or breaker.
    pub(crate) protected_within: Option<At<f64>>,
    /// Whether it lies in a conduit or casing there.
    pub(crate) encased: bool,
    /// Where it is described.
    pub(crate) span: Span,
}

/// What a run is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum RunKind {
    /// Electric wires.
    Cable,
    /// Water, air, waste.
    Hose,
    /// Warm or spent air.
    Duct,
    /// Gas that burns.
    Gas,
}

impl RunKind {
    /// The word in a spec, in tables and in `kit.json`.
    pub(crate) fn word(self) -> &'static str {
        match self {
            RunKind::Cable => "cable",
            RunKind::Hose => "hose",
            RunKind::Duct => "duct",
            RunKind::Gas => "gas",
        }
    }
}

/// Where a run begins, ends or goes through.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum RunStop {
    /// Equipment or a cut-out of this name; of equipment a face, before it is turned.
    Of(At<String>, Option<Towards>),
    /// A place in the vehicle.
    At(Point3<VehicleFrame>),
}
