//! YAML text to a typed design, every value with its place.

mod expression;
mod model;

pub(crate) use model::*;
