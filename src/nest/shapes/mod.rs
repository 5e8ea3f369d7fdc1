//! Nesting of true shapes for a router: arcs, openings, parts inside openings of others.
//!
//! Takes shapes as polygons on the micrometre grid, gives places that are exactly free of overlap. Knows nothing
//! of panels or files; the rectangle engine beside it does the rest. [`strip`] is one sheet without end,
//! [`sheets`] are those of a shop.

mod apart;
mod convex;
mod forbidden;
mod lot;
mod ring;
mod separate;
mod shape;
mod sheets;
mod strip;

pub(crate) use lot::Kind;
pub(crate) use ring::{Lie, Point};
pub(crate) use shape::Shape;
pub(crate) use sheets::{Board, Limits, Piece, Yard};
pub(crate) use strip::{Strip, shortest};
