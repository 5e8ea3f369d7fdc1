//! YAML text to a typed design, every value with its place.

mod expression;
mod model;
mod raw;
mod value;

pub(crate) use model::*;
