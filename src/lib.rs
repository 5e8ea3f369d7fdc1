//! Baywright: from one YAML spec to a drawer system that can be cut, bolted, weighed and driven.

// Modules stand in the order of the flow; `tests/tidy.rs` holds that each uses only those before it.
mod diag;
mod export;
mod geom;
mod nest;
mod solid;
