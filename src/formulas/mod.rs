//! Published formulas for strength and stiffness, each with its source: plates and strips in bending, bolts in
//! wood and metal, groups of bolts, slides, lashings. Plain numbers in, plain numbers out.
//!
//! Units: N, mm, N/mm2, degrees; masses in kg. Nothing here knows a panel, a kit or a file format.
//! "Read" beside a formula means its text was seen in the named place; "from memory" means it was not.

pub mod beam;
pub mod bolt;
pub mod group;
pub mod johansen;
pub mod lashing;
pub mod plate;
pub mod timber;

#[cfg(test)]
mod near;
