//! The kit in space, for CAD systems and for viewers: solids, named and placed in the vehicle's frame.
//!
//! `scene.rs` says what stands where, `boundary.rs` how a solid is described, `step.rs` and `glb.rs` write it; `bay.rs` writes what stands around it. Engravings and
//! finishes are left out.

pub(crate) mod bay;
mod boundary;
mod entities;
pub(crate) mod glb;
mod look;
mod mesh;
mod parts;
mod scene;
mod shapes;
pub(crate) mod step;
#[cfg(test)]
mod tests;

pub(crate) use scene::{Occurrence, Scene};
