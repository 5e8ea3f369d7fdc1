//! Published formulas for strength and stiffness, each with its source: plates and strips in bending, bolts in wood and metal,
//! groups of bolts, slides, lashings. Plain numbers in, plain numbers out.
//!
//! Units: N, mm, MPa, degrees; masses in kg. Nothing here knows a panel, a kit or a file format.
