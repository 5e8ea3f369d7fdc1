//! Baywright: from one YAML spec to a drawer system that can be cut, bolted, weighed and driven.

// Geometry and nesting are crates of their own, below all of these, and know none of them.
// Modules stand in the order of the flow; `tests/tidy.rs` holds that each uses only those before it.
mod abreast;
mod diag;
mod import;
mod lettering;
mod typeface;
mod spec;
mod catalogue;
mod bay;
mod layout;
mod joints;
mod solid;
mod cutting;
mod mass;
mod budget;
mod moves;
mod assembly;
mod strength;
mod finished;
mod sheets;
mod loose;
mod export;
mod frozen;
mod compare;
mod checks;
mod accept;
mod build;
mod invariants;
mod live;
mod sweep;
mod cli;
#[cfg(test)]
mod example_kits;
#[cfg(test)]
mod golden;

pub use cli::run;

use baywright_geom::{self as geom, number};
use baywright_nest as nest;
