//! Bolts as such, and the metal they bear on: EN 1993-1-8, EN 1999-1-1 and EN 1995-1-1, as read on several
//! pages and in open implementations; how hard a bolt may be tightened.
//!
//! Resistances of metal are design values, with the partial factor 1.25 in them.

/// Partial factor of bolts and of metal under bolts, EN 1993-1-8 Table 2.1, read in worked examples.
pub const GAMMA_BOLT: f64 = 1.25;

/// N mm: the moment at which a bolt of `d` mm yields on the wood, `0.3 f_u d^2.6`, `f_u` N/mm2; EN 1995-1-1
/// eq. 8.30, read in a textbook and an open implementation. Its numbers are fitted: no plain plastic moment.
pub fn yield_moment(f_u: f64, d: f64) -> f64 {
    0.3 * f_u * d.powf(2.6)
}

/// A bolt's steel.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Steel {
    /// N/mm2, its tensile strength.
    pub f_ub: f64,
    /// The share of it that counts in shear through the thread.
    pub alpha_v: f64,
}

/// Class 8.8: 800 N/mm2, EN 1993-1-8 Table 3.4, read.
pub const CLASS_8_8: Steel = Steel { f_ub: 800.0, alpha_v: 0.6 };

/// Class 4.6: 400 N/mm2, EN 1993-1-8 Table 3.4, read.
pub const CLASS_4_6: Steel = Steel { f_ub: 400.0, alpha_v: 0.6 };

/// Stainless A2-70: 700 N/mm2 (ISO 3506-1, read); 0.5 in shear, as EN 1999-1-1 has it for A4-70 (read in a
/// calculation sheet). Later editions of EN 1993-1-4 allow 0.6 (from memory).
pub const A2_70: Steel = Steel { f_ub: 700.0, alpha_v: 0.5 };

/// N: design shear in one plane through the thread, `alpha_v f_ub A_s / 1.25`, stress area mm2; EN 1993-1-8
/// Table 3.4, read on four pages.
pub fn shear(steel: Steel, stress_area: f64) -> f64 {
    steel.alpha_v * steel.f_ub * stress_area / GAMMA_BOLT
}

/// N: design tension, `0.9 f_ub A_s / 1.25`, stress area mm2; EN 1993-1-8 Table 3.4, read on four pages.
pub fn tension(steel: Steel, stress_area: f64) -> f64 {
    0.9 * steel.f_ub * stress_area / GAMMA_BOLT
}

/// How far a bolt is used by shear and tension together, each given as the share of what it resists:
/// `V + T / 1.4`, and never less than the tension alone. Fine up to 1. EN 1993-1-8 Table 3.4, read.
pub fn combined(shear_ratio: f64, tension_ratio: f64) -> f64 {
    (shear_ratio + tension_ratio / 1.4).max(tension_ratio)
}

/// A bolt's hole in metal, for what the metal bears along the force. EN 1993-1-8 Table 3.4, read; EN 1999-1-1
/// Table 8.5 has the same form (from memory). For a hole that is not at an end or edge the distance to it is
/// [`f64::INFINITY`].
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bearing {
    /// mm, the bolt's diameter.
    pub d: f64,
    /// mm, the hole's diameter.
    pub d0: f64,
    /// mm, of the metal.
    pub thickness: f64,
    /// N/mm2, tensile strength of the metal.
    pub f_u: f64,
    /// N/mm2, tensile strength of the bolt.
    pub f_ub: f64,
    /// mm, from the hole's middle to the end along the force.
    pub e1: f64,
    /// mm, to the edge across the force.
    pub e2: f64,
    /// mm, to the next hole along the force.
    pub p1: Option<f64>,
    /// mm, to the next hole across the force.
    pub p2: Option<f64>,
}

impl Bearing {
    /// What edges and neighbours across the force leave: `min(2.8 e2/d0 - 1.7, 1.4 p2/d0 - 1.7, 2.5)`, not below 0.
    pub fn k1(&self) -> f64 {
        let edge = 2.8 * self.e2 / self.d0 - 1.7;
        let next = self.p2.map_or(f64::INFINITY, |p2| 1.4 * p2 / self.d0 - 1.7);
        edge.min(next).clamp(0.0, 2.5)
    }

    /// What ends and neighbours along the force leave: `min(e1/3d0, p1/3d0 - 1/4, f_ub/f_u, 1)`, not below 0.
    pub fn alpha_b(&self) -> f64 {
        let end = self.e1 / (3.0 * self.d0);
        let next = self.p1.map_or(f64::INFINITY, |p1| p1 / (3.0 * self.d0) - 0.25);
        end.min(next).min(self.f_ub / self.f_u).clamp(0.0, 1.0)
    }

    /// N: the design resistance `k1 alpha_b f_u d t / 1.25`.
    pub fn resistance(&self) -> f64 {
        self.k1() * self.alpha_b() * self.f_u * self.d * self.thickness / GAMMA_BOLT
    }
}

/// N: the force a bolt of `d` mm clamps with when tightened by `torque` (N mm): `T / (K d)`, `k` about 0.2 for dry
/// threads. A rule of thumb, good to a third either way.
pub fn clamp_force(torque: f64, k: f64, d: f64) -> f64 {
    torque / (k * d)
}

/// N mm: the torque that clamps with `force` (N): `K F d`, see [`clamp_force`].
pub fn torque(force: f64, k: f64, d: f64) -> f64 {
    k * force * d
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::near::{close, printed};
    use crate::timber::{pull_through, pull_through_square};
    use proptest::prelude::*;
    use std::f64::consts::PI;

    // Worked out from eq. 8.30.
    #[test]
    fn yielding() {
        printed(yield_moment(800.0, 8.0), "53487");
        printed(yield_moment(700.0, 8.0), "46801");
        printed(yield_moment(400.0, 12.0), "76745");
    }

    // Worked out by hand; stress areas of M8, M10 and M12 read, of M4 to M6 from memory.
    #[test]
    fn single_bolts() {
        let rows = [
            (8.78, "3371.5", "5057.3"),
            (14.2, "5452.8", "8179.2"),
            (20.1, "7718.4", "11577.6"),
            (36.6, "14054.4", "21081.6"),
            (58.0, "22272.0", "33408.0"),
        ];
        for (area, sideways, along) in rows {
            printed(shear(CLASS_8_8, area), sideways);
            printed(tension(CLASS_8_8, area), along);
        }
        let stainless =
            [(20.1, "5628.0", "10130.4"), (36.6, "10248.0", "18446.4"), (58.0, "16240.0", "29232.0")];
        for (area, sideways, along) in stainless {
            printed(shear(A2_70, area), sideways);
            printed(tension(A2_70, area), along);
        }
        // By hand: M12 4.6.
        printed(shear(CLASS_4_6, 84.3), "16185.6");
    }

    // Read in the verification tests of an open library for joints: M20 8.8 in two planes through the thread and
    // through the shank (kN), M20 10.9 in tension.
    #[test]
    fn verified_elsewhere() {
        printed(2.0 * shear(CLASS_8_8, 244.794) / 1e3, "188.002");
        printed(2.0 * shear(CLASS_8_8, PI * 100.0) / 1e3, "241.274");
        printed(tension(Steel { f_ub: 1000.0, alpha_v: 0.5 }, 245.0) / 1e3, "176.4");
    }

    // By hand from the two conditions.
    #[test]
    fn shear_and_tension_together() {
        close(combined(0.3, 0.7), 0.8, 1e-12);
        close(combined(0.0, 0.9), 0.9, 1e-12);
        close(combined(0.5, 0.0), 0.5, 1e-12);
    }

    fn bearing() -> Bearing {
        Bearing {
            d: 20.0,
            d0: 22.0,
            thickness: 9.0,
            f_u: 410.0,
            f_ub: 800.0,
            e1: 30.0,
            e2: 35.0,
            p1: Some(60.0),
            p2: Some(90.0),
        }
    }

    #[test]
    fn metal_under_bolts() {
        // Read in a calculation sheet: the end bolt, then the factor of an inner one.
        printed(bearing().alpha_b(), "0.4545");
        printed(bearing().k1(), "2.5");
        printed(bearing().resistance() / 1e3, "67.09");
        printed(Bearing { e1: f64::INFINITY, ..bearing() }.alpha_b(), "0.659");
        // Read on a reference page: M20 at an end and within, at an edge and within.
        let at_end = Bearing { e1: 40.0, p1: None, e2: 30.0, p2: None, f_u: 470.0, ..bearing() };
        printed(at_end.alpha_b(), "0.606");
        printed(at_end.k1(), "2.118");
        let within =
            Bearing { e1: f64::INFINITY, p1: Some(70.0), e2: f64::INFINITY, p2: Some(60.0), ..at_end };
        printed(within.alpha_b(), "0.811");
        printed(within.k1(), "2.118");
    }

    // Worked out by hand: 3 mm of aluminium with 275 MPa under M6 and M8, class 8.8.
    #[test]
    fn aluminium_under_bolts() {
        let bare = Bearing { thickness: 3.0, f_u: 275.0, p1: None, p2: None, ..bearing() };
        let six = Bearing { d: 6.0, d0: 6.6, e1: 12.0, e2: 10.0, ..bare };
        printed(six.alpha_b(), "0.60606");
        close(six.resistance(), 6000.0, 1e-9);
        let eight = Bearing { d: 8.0, d0: 9.0, e1: 20.0, e2: 20.0, ..bare };
        printed(eight.k1(), "2.5");
        printed(eight.alpha_b(), "0.7407");
        printed(eight.resistance(), "9777.8");
        // By hand: weak bolts, and an edge too near to bear anything.
        close(Bearing { f_ub: 110.0, ..eight }.alpha_b(), 0.4, 1e-12);
        close(Bearing { e2: 5.0, ..eight }.resistance(), 0.0, 1e-12);
    }

    // Worked out by hand: M8 with 25 N m, which a washer of 24 on plywood cannot take.
    #[test]
    fn tightening() {
        let clamp = clamp_force(25_000.0, 0.2, 8.0);
        close(clamp, 15_625.0, 1e-9);
        printed(clamp / (PI / 4.0 * (24.0_f64.powi(2) - 8.4_f64.powi(2))), "39.4");
        printed(torque(pull_through(2.5, 24.0, 9.0), 0.2, 8.0) / 1e3, "4.67");
        printed(torque(pull_through(2.5, 24.0, 9.0), 0.2, 8.0) / 2e3, "2.33");
        printed(torque(pull_through_square(2.5, 40.0, 9.0), 0.2, 8.0) / 1e3, "18.4");
    }

    proptest! {
        #[test]
        fn more_metal_bears_no_less(e1 in 5.0..60.0_f64, e2 in 5.0..60.0_f64, p in 10.0..90.0_f64) {
            let some = Bearing { e1, e2, p1: Some(p), p2: Some(p), ..bearing() };
            for more in [
                Bearing { e1: e1 + 1.0, ..some },
                Bearing { e2: e2 + 1.0, ..some },
                Bearing { p1: None, ..some },
                Bearing { p2: None, ..some },
                Bearing { thickness: 10.0, ..some },
            ] {
                prop_assert!(more.resistance() >= some.resistance());
            }
            prop_assert!((0.0..=2.5).contains(&some.k1()) && (0.0..=1.0).contains(&some.alpha_b()));
        }

        #[test]
        fn use_only_grows(v in 0.0..2.0_f64, t in 0.0..2.0_f64, more in 0.0..1.0_f64) {
            prop_assert!(combined(v + more, t) >= combined(v, t) && combined(v, t + more) >= combined(v, t));
            prop_assert!(combined(v, t) >= v.max(t));
        }
    }
}
