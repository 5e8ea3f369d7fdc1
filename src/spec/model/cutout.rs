//! Cut-outs in panels as asked for, and where they, tie-downs and legends are on their panels.

use crate::diag::{At, Span};
use crate::geom::{PanelFrame, Path};
use serde::Deserialize;

/// Where something is on a panel, or several alike are.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct OnPanel {
    /// Unique in the kit among its kind.
    pub(crate) id: At<String>,
    /// The panel.
    pub(crate) host: PanelHost,
    /// Whether `from` counts to its middle; else to its own edge.
    pub(crate) to_middle: bool,
    /// Distances from the panel's edges, at most one for each direction of a panel; where none is, it is in the middle.
    pub(crate) from: Vec<(Towards, At<f64>)>,
    /// How many beside each other, and mm from middle to middle.
    pub(crate) across: (usize, f64),
    /// How many above each other, and mm from middle to middle.
    pub(crate) up: (usize, f64),
    /// The side that it faces; `None` is the panel's face A.
    pub(crate) facing: Option<At<Towards>>,
    /// Where it is described.
    pub(crate) span: Span,
}

impl OnPanel {
    /// Whether there is more than one.
    pub(crate) fn is_several(&self) -> bool {
        self.across.0 * self.up.0 > 1
    }

    /// Name of the one with this index; of one alone the id.
    pub(crate) fn name(&self, index: usize) -> String {
        let id = &self.id.value;
        if self.is_several() { format!("{id}-{}", index + 1) } else { id.clone() }
    }
}

/// An opening right through a panel, or several alike.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Cutout {
    /// Where it is.
    pub(crate) on: OnPanel,
    /// What it looks like.
    pub(crate) shape: CutoutShape,
    /// Whether what lies flat against the panel is cut, too.
    pub(crate) through: bool,
    /// mm that must be free behind the panel; `None` is what the fitting needs.
    pub(crate) behind: Option<At<f64>>,
}

/// The panel that something is on.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum PanelHost {
    /// The panel of this name.
    Panel(At<String>),
    /// The front of this cell.
    FrontOf(At<String>),
}

/// The shape of a cut-out, mm.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum CutoutShape {
    /// By its diameter.
    Round(At<f64>),
    /// By width, height and the radius of its corners; `None` is the tool's.
    Rectangle {
        /// Across.
        width: At<f64>,
        /// Up.
        height: At<f64>,
        /// Of the corners.
        radius: Option<At<f64>>,
    },
    /// With round ends.
    Slot {
        /// Over the ends.
        length: At<f64>,
        /// Between the sides.
        width: At<f64>,
        /// Whether the length goes up.
        upright: bool,
    },
    /// As drawn, counter-clockwise, seen from the side that it faces: x to the right, y up.
    Free {
        /// With the radii of its corners where it came from points.
        path: Path<PanelFrame>,
        /// Where it is described.
        span: Span,
    },
    /// Name of a fitting in the catalogue.
    Fitting(At<String>),
}

/// A direction of the vehicle.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub(crate) enum Towards {
    /// +y.
    Left,
    /// -y.
    Right,
    /// -x.
    Rear,
    /// +x.
    Front,
    /// +z.
    Up,
    /// -z.
    Down,
}

impl Towards {
    /// The word for a side or face that way.
    pub(crate) fn side(self) -> &'static str {
        match self {
            Towards::Up => "upper",
            Towards::Down => "lower",
            other => other.edge(),
        }
    }

    /// The word for an edge on that side.
    pub(crate) fn edge(self) -> &'static str {
        match self {
            Towards::Left => "left",
            Towards::Right => "right",
            Towards::Rear => "rear",
            Towards::Front => "front",
            Towards::Up => "top",
            Towards::Down => "bottom",
        }
    }
}
