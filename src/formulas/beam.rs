//! Strips in bending: simply supported spans and cantilevers of rectangular section.
//!
//! Small deflections of a slender straight strip (textbook beam theory); shear deformation is left out, which is
//! fair for spans beyond about 15 thicknesses. A strip across the short span of a board, with the modulus of that
//! direction, bends more than the board held on four edges: it is on the safe side.

/// A strip of a board: its width across the span, its thickness and its modulus along the span.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Strip {
    /// mm, across the span.
    pub width: f64,
    /// mm, in the direction of the load.
    pub thickness: f64,
    /// N/mm2, along the span.
    pub modulus: f64,
}

impl Strip {
    /// N mm2: the stiffness in bending, E I with I = b t^3 / 12.
    pub fn ei(&self) -> f64 {
        self.modulus * self.width * self.thickness.powi(3) / 12.0
    }

    /// mm3: the section modulus b t^2 / 6.
    pub fn section_modulus(&self) -> f64 {
        self.width * self.thickness.powi(2) / 6.0
    }

    /// mm: deflection in the middle of a simply supported `span` (mm) under `per_mm` (N/mm) all along it:
    /// 5 q L^4 / 384 E I, textbook.
    pub fn spread_deflection(&self, per_mm: f64, span: f64) -> f64 {
        5.0 * per_mm * span.powi(4) / (384.0 * self.ei())
    }

    /// mm: the greatest deflection of a simply supported `span` (mm) under a `force` (N) that stands `at` (mm)
    /// from one end: P b (L^2 - b^2)^1.5 / (9 sqrt 3 E I L), b the way to the nearer end; textbook. It is found
    /// beside the force, towards the middle. A force beyond an end counts as on that end.
    pub fn point_deflection(&self, force: f64, span: f64, at: f64) -> f64 {
        let near = at.min(span - at).max(0.0);
        let square = span.powi(2) - near.powi(2);
        force * near * square * square.sqrt() / (9.0 * 3.0_f64.sqrt() * self.ei() * span)
    }

    /// mm: deflection of the free end of a cantilever under a `force` (N) there, `arm` (mm) from where it is
    /// held: P L^3 / 3 E I, textbook.
    pub fn end_deflection(&self, force: f64, arm: f64) -> f64 {
        force * arm.powi(3) / (3.0 * self.ei())
    }

    /// mm: deflection of the free end of a cantilever of length `arm` (mm) under `per_mm` (N/mm) all along it:
    /// q L^4 / 8 E I, textbook.
    pub fn spread_end_deflection(&self, per_mm: f64, arm: f64) -> f64 {
        per_mm * arm.powi(4) / (8.0 * self.ei())
    }

    /// N/mm2: greatest bending stress under a `moment` (N mm) on the whole width, as if the board were of one
    /// material through its thickness.
    pub fn stress(&self, moment: f64) -> f64 {
        moment / self.section_modulus()
    }
}

/// N mm: moment in the middle of a simply supported `span` (mm) under `per_mm` (N/mm): q L^2 / 8, textbook.
pub fn spread_moment(per_mm: f64, span: f64) -> f64 {
    per_mm * span.powi(2) / 8.0
}

/// N mm: the greatest moment on a simply supported `span` (mm) under a `force` (N) spread evenly over `length`
/// (mm) with its middle `at` (mm) from one end. Exact: taken where the shear is zero.
///
/// A load that reaches beyond the span is cut off at its ends and keeps its whole force there, which is on the
/// safe side; one wholly beside the span gives no moment.
pub fn patch_moment(force: f64, span: f64, at: f64, length: f64) -> f64 {
    clipped(span, at, length).map_or(0.0, |(middle, length)| {
        let start = middle - length / 2.0;
        // The support at the start takes this share of the force; the shear is zero that share into the load.
        let share = (span - middle) / span;
        force * (share * start + share * share * length / 2.0)
    })
}

/// The middle and length of what lies within `0..span` of a load of `length` round `middle`; none if it is beside.
pub(crate) fn clipped(span: f64, middle: f64, length: f64) -> Option<(f64, f64)> {
    let (start, end) = ((middle - length / 2.0).max(0.0), (middle + length / 2.0).min(span));
    if start <= 0.0 && end >= span {
        return Some((span / 2.0, span));
    }
    // Whole loads stay as they are, to the last bit.
    let whole = middle - length / 2.0 >= 0.0 && middle + length / 2.0 <= span;
    if whole {
        Some((middle, length))
    } else {
        (start < end).then(|| (f64::midpoint(start, end), end - start))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::near::{close, printed};
    use proptest::prelude::*;

    fn strip(modulus: f64) -> Strip {
        Strip { width: 1.0, thickness: 15.0, modulus }
    }

    // Worked out by hand from the formulas above, and found again by a frame program.
    #[test]
    fn a_wide_strip_and_a_cantilever() {
        let strip = Strip { width: 600.0, thickness: 15.0, modulus: 9000.0 };
        printed(strip.ei(), "1518750000");
        printed(strip.spread_deflection(1.2, 900.0), "6.750");
        printed(strip.stress(spread_moment(1.2, 900.0)), "5.40");
        printed(strip.end_deflection(100.0, 900.0), "16.000");
        // By hand: 1.2 x 900^4 / (8 x 1.51875e9).
        printed(strip.spread_end_deflection(1.2, 900.0), "64.800");
    }

    // Worked out by hand: one millimetre of a deck that spans 600 under 0.002 N/mm2.
    #[test]
    fn strips_of_a_deck() {
        for (modulus, deflection) in [(10_316.0, "1.1632"), (7_184.0, "1.6704"), (9_000.0, "1.3333")] {
            printed(strip(modulus).spread_deflection(0.002, 600.0), deflection);
        }
        printed(spread_moment(0.002, 600.0), "90.000");
        printed(strip(9_000.0).stress(90.0), "2.40");
    }

    // Worked out by hand: the strip that stands in for a plate held on two opposite edges has
    // w / (q a^4 / D) = 5 (1 - nu^2)^-1 / 384 with D = E t^3 / (12 (1 - nu^2)), nu = 0.3.
    #[test]
    fn beside_a_plate_on_two_edges() {
        let strip = strip(9_000.0);
        let stiffness = strip.ei() / (1.0 - 0.09);
        printed(strip.spread_deflection(1.0, 600.0) * stiffness / 600.0_f64.powi(4), "0.01431");
    }

    // By hand, textbook: a force in the middle bends P L^3 / 48 E I and has a moment of P L / 4.
    #[test]
    fn a_force_in_the_middle() {
        let strip = strip(9_000.0);
        let expected = 500.0 * 600.0_f64.powi(3) / (48.0 * strip.ei());
        close(strip.point_deflection(500.0, 600.0, 300.0), expected, 1e-12);
        close(patch_moment(500.0, 600.0, 300.0, 0.0), 500.0 * 600.0 / 4.0, 1e-12);
        // By hand: a third of the way along, b = L/3: P L^3 (8/9)^1.5 / (27 sqrt 3 E I).
        let third =
            500.0 * 600.0_f64.powi(3) * (8.0_f64 / 9.0).powf(1.5) / (27.0 * 3.0_f64.sqrt() * strip.ei());
        close(strip.point_deflection(500.0, 600.0, 200.0), third, 1e-12);
    }

    #[test]
    fn loads_beyond_the_span_are_cut_off() {
        let whole = spread_moment(500.0 / 600.0, 600.0);
        close(patch_moment(500.0, 600.0, 300.0, 600.0), whole, 1e-12);
        close(patch_moment(500.0, 600.0, 400.0, 2000.0), whole, 1e-12);
        close(patch_moment(500.0, 600.0, 0.0, 200.0), patch_moment(500.0, 600.0, 50.0, 100.0), 1e-12);
        close(patch_moment(500.0, 600.0, 900.0, 100.0), 0.0, 1e-12);
    }

    proptest! {
        #[test]
        fn the_moment_is_the_greatest_along_the_span(
            at in 0.0..600.0_f64, length in 1.0..600.0_f64
        ) {
            let most = patch_moment(100.0, 600.0, at, length);
            let (middle, length) = clipped(600.0, at, length).unwrap();
            // The moment at a station, from the forces left of it.
            let moment = |x: f64| {
                let on = (x - (middle - length / 2.0)).clamp(0.0, length);
                let right = (x - (middle + length / 2.0)).max(0.0);
                100.0 * (600.0 - middle) / 600.0 * x - 100.0 / length * on * (on / 2.0 + right)
            };
            let sampled = (0..=6000).map(|i| moment(f64::from(i) / 10.0)).fold(0.0, f64::max);
            prop_assert!(sampled <= most * (1.0 + 1e-9) && sampled >= most * (1.0 - 1e-2));
            let (start, end) = (at, 600.0 - at);
            close(patch_moment(100.0, 600.0, end, length), patch_moment(100.0, 600.0, start, length), 1e-9);
        }

        #[test]
        fn stiffer_with_the_thickness_cubed(thickness in 3.0..40.0_f64, at in 1.0..599.0_f64) {
            let thin = Strip { width: 100.0, thickness, modulus: 9000.0 };
            let thick = Strip { thickness: 2.0 * thickness, ..thin };
            close(thin.point_deflection(9.0, 600.0, at), 8.0 * thick.point_deflection(9.0, 600.0, at), 1e-9);
            close(thin.spread_deflection(9.0, 600.0), 8.0 * thick.spread_deflection(9.0, 600.0), 1e-9);
            close(thin.end_deflection(9.0, at), 8.0 * thick.end_deflection(9.0, at), 1e-9);
            close(thin.spread_end_deflection(9.0, at), 8.0 * thick.spread_end_deflection(9.0, at), 1e-9);
            let middle = thin.point_deflection(9.0, 600.0, 300.0);
            prop_assert!(thin.point_deflection(9.0, 600.0, at) <= middle * (1.0 + 1e-12));
        }
    }
}
