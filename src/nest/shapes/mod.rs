//! Nesting of true shapes for a router: arcs, openings, parts inside openings of others.
//!
//! Takes shapes as polygons on the micrometre grid, gives places that are exactly free of overlap. Knows nothing
//! of panels or files; the rectangle engine beside it does the rest. [`strip`] is one sheet without end,
//! [`sheets`] are those of a shop, [`parts`] is where parts and stock come in, and [`sure`] says what bounds may
//! count on.

mod apart;
mod convex;
mod forbidden;
mod lot;
mod parts;
mod ring;
mod separate;
mod shape;
mod sheets;
mod strip;
mod sure;

pub(crate) use lot::Kind;
pub(crate) use parts::improved;
pub(crate) use ring::Lie;
pub(crate) use shape::Shape;
pub(crate) use strip::{Strip, shortest};
pub(crate) use sure::Sure;

#[cfg(test)]
mod tests;
