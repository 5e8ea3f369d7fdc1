//! Line drawings as pieces of SVG: nested sheets, and the kit seen from several sides.
//!
//! Takes a finished design, gives SVG elements to stand inside a page whose style sheet knows the classes
//! (`templates/report.css`). Coordinates are millimetres of the thing drawn. Never a cut file.

mod bay_lines;
mod canvas;
mod cuts;
mod document;
mod label;
mod painter;
mod panel;
pub(crate) mod pens;
mod sheet;
mod view;

pub(crate) use canvas::{Anchor, Canvas, Mark, Shape};
pub(crate) use cuts::{cuts, cuts_file};
pub(crate) use document::of_documents;
pub(crate) use label::{broken, fitted, pieces, text_width, wrapped};
pub(crate) use panel::{FILING, PanelPage, panels};
pub(crate) use sheet::sheet;
pub(crate) use view::{Shown, body, from_tailgate, views};

/// Tag of a drawing's plane: mm of the thing drawn, x right, y up.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Paper {}

/// A point of a drawing.
pub(crate) type Spot = crate::geom::Point2<Paper>;

/// An upright rectangle of a drawing.
pub(crate) type Area = euclid::Box2D<f64, Paper>;

/// The rectangle between two corners, given in any order.
pub(crate) fn area(x0: f64, y0: f64, x1: f64, y1: f64) -> Area {
    Area::from_points([Spot::new(x0, y0), Spot::new(x1, y1)])
}
