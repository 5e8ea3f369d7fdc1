//! Every tolerance of the crate, with its unit, its reason and who relies on it.

/// mm. Two lengths that differ by less are the same: a thousandth of the micrometre grid of [`super::snap`],
/// a million times what summing a hundred binary fractions can lose. Used wherever lengths are compared.
pub const SAME_LENGTH: f64 = 1e-6;

/// mm. An arc that stands off its chord by no more is the chord: a thousandth of [`SAME_LENGTH`], so that it
/// decides nothing, and enough that the circle through a sheet's length of it still has a finite radius.
pub const NEARLY_STRAIGHT: f64 = 1e-9;

/// mm. Solids that reach into each other by less only touch. Larger than what flattening arcs and the integer
/// grid of `geo`'s booleans can move an edge, a tenth of what a router holds. Used by overlap tests.
pub const TOUCH: f64 = 0.01;

/// mm. Greatest distance between an arc and the chord that replaces it where an algorithm needs straight
/// edges. Used by containment and overlap tests and by pictures, never by cut files.
pub const CHORD: f64 = 0.005;

/// mm. Greatest distance between an arc and the chords that stand for it in a mesh: what the eye does not see of a panel, and
/// few enough triangles that a kit turns smoothly. Used by the model for viewers, never by what is cut.
pub const MESH_CHORD: f64 = 0.1;

/// mm. An axis and the centre of its hole that are nearer are concentric; the contract of `kit.json` promises
/// 0.1 mm, the model itself must hold a hundredth of that.
pub const CONCENTRIC: f64 = 0.001;

/// mm. Ends of drawn lines that are nearer to each other are one corner, and curves that are neither lines nor arcs
/// are replaced by chords that stay within it: a tenth of what a router holds. Used by the reader of drawings.
pub const JOINED: f64 = 0.01;

/// mm. Lines of a drawing that come nearer to each other meet: far below what a machine can tell, far above what
/// computing the place of a crossing loses. Used by the reader of drawings.
pub const MEETING: f64 = 1e-5;

/// mm of paper between an arc and the chords that are printed for it: finer than any printer.
pub const DRAWN_ARC: f64 = 0.01;
