//! YAML text to a typed design, every value with its place.

mod model;

pub(crate) use model::*;
