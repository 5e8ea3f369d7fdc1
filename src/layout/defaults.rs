//! What a builder would take where the spec says nothing. Common practice, no source, unless stated.

/// Angle section at the corners of a carcase. Its gauge of 18 mm keeps an M6 bolt three diameters from the
/// board's edge.
pub(super) const CARCASE_ANGLE: &str = "angle-30x30x3";

/// Angle section at the corners of a drawer box.
pub(super) const DRAWER_ANGLE: &str = "angle-20x20x2";

/// mm. Most that two neighbouring bolts of a corner may be apart.
pub(crate) const BOLT_SPACING: f64 = 150.0;

/// mm between the back of a drawer box and what stands behind it.
pub(super) const BACK_STOP_GAP: f64 = 10.0;

/// mm from the front of a drawer box to the front end of its slides.
pub(super) const SLIDE_SETBACK: f64 = 2.0;

/// mm that moving parts keep from hardware beyond its calculated extent: bolts stand a little proud, angles
/// are sawn and bent with tolerance.
pub(crate) const MOVING_CLEARANCE: f64 = 1.0;

/// mm. Most and least by which the side space may exceed the slide's thickness, each side: tighter drags and
/// wears, wider rattles and pulls the members apart (a slide maker's public help page).
pub(crate) const SIDE_PLAY: std::ops::RangeInclusive<f64> = 0.2..=0.5;

/// mm. A drawer box smaller than this inside holds nothing.
pub(super) const LEAST_INSIDE: f64 = 30.0;

/// mm from a slide's centre line to the edge of the box side that carries it: three diameters of its M5 bolts.
pub(super) const SLIDE_TO_BOX_EDGE: f64 = 15.0;

/// mm by which a slide is moved up or down, step by step, away from one on the other face of its upright.
pub(super) const STAGGER_STEP: f64 = 5.0;
