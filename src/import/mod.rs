//! What others drew or typed: DXF and SVG drawings to closed outlines with arcs, cut lists to rows.
//!
//! Takes bytes and texts, gives outlines and rows, or every fault at once with its place. Never guesses a unit, never
//! mends a gap wider than its tolerance, never opens a file.

mod contours;
mod crossing;
mod curves;
pub(crate) mod cut_list;
pub(crate) mod drawing;
mod dxf;
mod meeting;
mod rules;
mod splines;
mod svg;

pub(crate) use contours::Outline;
pub(crate) use rules::RULES;

use crate::diag::{Finding, Rule, Span};
use crate::geom::{PanelFrame, Point2};
use crate::number::decimal;

/// What is wrong with a drawing. The place inside the drawing stands in the message; where the drawing is asked for
/// is known to the caller only.
#[derive(Clone, Debug)]
pub(crate) struct Fault {
    /// The kind of fault.
    pub(crate) rule: &'static Rule,
    /// What is wrong, with coordinates and the line in the file.
    pub(crate) message: String,
    /// What to change.
    pub(crate) help: String,
}

impl Fault {
    fn new(rule: &'static Rule, message: impl Into<String>, help: impl Into<String>) -> Self {
        Fault { rule, message: message.into(), help: help.into() }
    }

    /// The fault as a finding at the place that asks for the drawing `name`.
    pub(crate) fn found(self, at: Span, name: &str) -> Finding {
        Finding::new(self.rule, at, format!("`{name}`: {}", self.message)).on(name).help(self.help)
    }
}

/// A place of a drawing, as messages show it.
fn shown(p: Point2<PanelFrame>) -> String {
    format!("({}, {})", decimal(p.x, 3), decimal(p.y, 3))
}
