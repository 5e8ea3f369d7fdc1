//! Nesting of true shapes for a router: arcs, openings, parts inside openings of others.
//!
//! Takes shapes as polygons on the micrometre grid, gives places that are exactly free of overlap. Knows nothing
//! of panels or files; the rectangle engine beside it does the rest. See [`strip`] for one sheet without end.

mod convex;
mod forbidden;
mod lot;
mod ring;
mod separate;
mod shape;
mod strip;

pub(crate) use lot::Kind;
pub(crate) use ring::{Lie, Point};
pub(crate) use shape::Shape;
pub(crate) use strip::{Strip, shortest};
