//! The solid of a plate, twice: built face by face by an independent kernel, and as exact figures from the
//! plane outlines.
//!
//! Takes outline, openings, bores and thickness; gives a shell that can be asked whether it is closed and how
//! many holes go through it, and area, volume and centroid. Knows nothing of materials, bolts or files.

#[cfg(test)]
mod integral;
mod shell;
mod validate;
mod volume;

pub(crate) use shell::build;
pub(crate) use volume::{PlateFigures, figures};

use crate::geom::{PanelFrame, Path, Point2};
use std::fmt;

/// One of the two faces of a plate.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum PlateFace {
    /// The face at w = thickness, up on the machine bed.
    A,
    /// The face at w = 0.
    B,
}

/// What a plate's solid is made from.
#[derive(Clone, Debug)]
pub(crate) struct SolidSpec<'a> {
    /// Outer contour, counter-clockwise seen from face A.
    pub(crate) outline: &'a Path<PanelFrame>,
    /// Through openings other than round bores, clockwise.
    pub(crate) openings: &'a [Path<PanelFrame>],
    /// Round bores; all go through.
    pub(crate) bores: Vec<RoundHole>,
    /// mm.
    pub(crate) thickness: f64,
}

/// A round bore through a plate.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct RoundHole {
    /// Where its axis stands.
    pub(crate) centre: Point2<PanelFrame>,
    /// mm.
    pub(crate) diameter: f64,
    /// A cone in which a countersunk head lies.
    pub(crate) countersink: Option<Countersink>,
}

/// A cone that widens a bore towards one face.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Countersink {
    /// mm, at the surface.
    pub(crate) diameter: f64,
    /// mm from the surface to where the cone meets the bore.
    pub(crate) depth: f64,
    /// Which surface.
    pub(crate) face: PlateFace,
}

impl RoundHole {
    /// Radius where the bore comes out of a face, mm.
    fn radius_at(&self, face: PlateFace) -> f64 {
        match self.countersink {
            Some(countersink) if countersink.face == face => countersink.diameter / 2.0,
            _ => self.diameter / 2.0,
        }
    }

    /// Greatest radius at any depth, mm.
    fn widest(&self) -> f64 {
        self.radius_at(PlateFace::A).max(self.radius_at(PlateFace::B))
    }
}

/// A contour of the plate, to say which one is at fault. Indices count from 0, in the order given.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Contour {
    /// The outer contour.
    Outline,
    /// An opening.
    Opening(usize),
    /// A bore.
    Bore(usize),
}

impl fmt::Display for Contour {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Contour::Outline => write!(f, "the outline"),
            Contour::Opening(index) => write!(f, "opening {}", index + 1),
            Contour::Bore(index) => write!(f, "bore {}", index + 1),
        }
    }
}

/// What is wrong with a plate that has no solid.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Flaw {
    /// The thickness is not a length above zero.
    Thickness,
    /// Fewer than two corners, a side without length, or a number that is not finite.
    Degenerate(Contour),
    /// The contour runs the wrong way round.
    WrongWay(Contour),
    /// Two contours, or one with itself, meet.
    Meet(Contour, Contour),
    /// An opening or a bore lies outside the outline.
    Outside(Contour),
    /// One opening lies within another.
    Within(Contour, Contour),
    /// A countersink is not wider than its bore, or not shallower than the plate.
    Countersink(Contour),
    /// The kernel refused what passed every check here; its own words.
    Kernel(String),
}

/// Why a plate has no solid, and where.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct SolidFault {
    /// What is wrong.
    pub(crate) flaw: Flaw,
    /// Where on the panel, mm.
    pub(crate) at: Point2<PanelFrame>,
}

impl fmt::Display for SolidFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match &self.flaw {
            Flaw::Thickness => write!(f, "the thickness is not a length above zero")?,
            Flaw::Degenerate(contour) => {
                write!(f, "{contour} has a side without length or a size that is no number")?;
            }
            Flaw::WrongWay(contour) => write!(f, "{contour} runs the wrong way round")?,
            Flaw::Meet(one, other) if one == other => write!(f, "{one} meets itself")?,
            Flaw::Meet(one, other) => write!(f, "{one} meets {other}")?,
            Flaw::Outside(contour) => write!(f, "{contour} lies outside the outline")?,
            Flaw::Within(one, other) => write!(f, "{one} lies within {other}")?,
            Flaw::Countersink(contour) => {
                write!(f, "the countersink of {contour} must be wider than it and shallower than the plate")?;
            }
            Flaw::Kernel(words) => write!(f, "the solid could not be built: {words}")?,
        }
        write!(f, ", at u {:.3} v {:.3}", self.at.x, self.at.y)
    }
}
