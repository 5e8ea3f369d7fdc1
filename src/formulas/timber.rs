//! Wood and wood-based boards after EN 1995-1-1: how strength falls with time and damp, creep, what a bolt or a
//! washer may press on, and how far bolts stand from each other and from edges.
//!
//! No standard was read whole: the formulas were read in open implementations and textbooks, as named at each.
//! Strengths are characteristic values; a design value is `k_mod` times it over the partial factor.

use std::f64::consts::PI;

/// Partial factor of plywood in bending, EN 1995-1-1 Table 2.3, read in an open implementation.
pub const GAMMA_PLYWOOD: f64 = 1.2;

/// Partial factor of connections, EN 1995-1-1 Table 2.3, read in an open implementation.
pub const GAMMA_CONNECTION: f64 = 1.3;

/// How damp the wood gets (EN 1995-1-1 2.3.1.3).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ServiceClass {
    /// Dry, heated rooms.
    One,
    /// Under a roof, not heated.
    Two,
    /// Wetter than that.
    Three,
}

/// How long a load lasts in all (EN 1995-1-1 Table 2.1).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Duration {
    /// More than ten years: the thing's own weight.
    Permanent,
    /// Half a year to ten years: stores.
    Long,
    /// A week to half a year.
    Medium,
    /// Less than a week.
    Short,
    /// Moments: braking, a crash.
    Instant,
}

/// Kinds of boards.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Board {
    /// Plywood; for creep that for damp or outdoor use, so that all service classes have values.
    Plywood,
    /// Oriented strand board, OSB/3 or OSB/4.
    Osb,
    /// Particleboard for damp use, P5.
    Particleboard,
    /// Fibreboard of medium density.
    Mdf,
}

/// The share of the strength that is left under loads of a duration, EN 1995-1-1 Table 3.1: plywood read in an open
/// implementation, fibreboard (MDF.LA, dry only) from memory. None where no value is known or the board is not meant for
/// the class.
pub fn k_mod(board: Board, class: ServiceClass, duration: Duration) -> Option<f64> {
    // Permanent, long, medium, short, instantaneous.
    let row = match (board, class) {
        (Board::Plywood, ServiceClass::One | ServiceClass::Two) => [0.60, 0.70, 0.80, 0.90, 1.10],
        (Board::Plywood, ServiceClass::Three) => [0.50, 0.55, 0.65, 0.70, 0.90],
        (Board::Mdf, ServiceClass::One) => [0.20, 0.40, 0.60, 0.80, 1.10],
        _ => return None,
    };
    Some(match duration {
        Duration::Permanent => row[0],
        Duration::Long => row[1],
        Duration::Medium => row[2],
        Duration::Short => row[3],
        Duration::Instant => row[4],
    })
}

/// How much a lasting load's deflection grows by creep, as a share of the first deflection, EN 1995-1-1 Table 3.2,
/// read in an open implementation, fibreboard from memory. None where the board is not meant for the class or no value
/// is known.
pub fn k_def(board: Board, class: ServiceClass) -> Option<f64> {
    match (board, class) {
        (Board::Plywood, ServiceClass::One) => Some(0.80),
        (Board::Plywood, ServiceClass::Two) => Some(1.00),
        (Board::Plywood, ServiceClass::Three) => Some(2.50),
        (Board::Osb, ServiceClass::One) => Some(1.50),
        (Board::Osb, ServiceClass::Two) | (Board::Particleboard | Board::Mdf, ServiceClass::One) => {
            Some(2.25)
        }
        (Board::Particleboard, ServiceClass::Two) => Some(3.00),
        _ => None,
    }
}

/// The deflection in the end, from the first deflections (any unit) under lasting and changing loads:
/// `w_G (1 + k_def) + w_Q (1 + psi2 k_def)`, EN 1995-1-1 2.2.3, read in a handbook. `psi2` is the share of the
/// changing load that lasts (stores: 0.8, from memory).
pub fn final_deflection(permanent_inst: f64, variable_inst: f64, psi2: f64, k_def: f64) -> f64 {
    permanent_inst * (1.0 + k_def) + variable_inst * (1.0 + psi2 * k_def)
}

/// N/mm2: what plywood bears under a bolt of diameter `d` (mm), `rho_k` kg/m3, at every angle to the grain:
/// `0.11 (1 - 0.01 d) rho_k`, EN 1995-1-1 eq. 8.36, read in two open implementations and a paper. Not eq. 8.20,
/// which is for nails and gives far less.
pub fn embedment_plywood(d: f64, rho_k: f64) -> f64 {
    0.11 * (1.0 - 0.01 * d) * rho_k
}

/// N/mm2: what particleboard and OSB of thickness `t` (mm) bear under a bolt of diameter `d` (mm):
/// `50 d^-0.6 t^0.2`, EN 1995-1-1 eq. 8.37, read in an open implementation.
pub fn embedment_chipboard(d: f64, t: f64) -> f64 {
    50.0 * d.powf(-0.6) * t.powf(0.2)
}

/// N/mm2: what solid timber or parallel veneer lumber bears under a bolt of diameter `d` (mm, up to 30), `rho_k`
/// kg/m3, pressed at an angle to the grain: `0.082 (1 - 0.01 d) rho_k / (k90 sin^2 + cos^2)`, EN 1995-1-1
/// eq. 8.31 and 8.32, read in an open implementation. `k90` comes from [`k90_softwood`] and its like.
pub fn embedment_solid(d: f64, rho_k: f64, degrees: f64, k90: f64) -> f64 {
    let (sin, cos) = degrees.to_radians().sin_cos();
    0.082 * (1.0 - 0.01 * d) * rho_k / (k90 * sin * sin + cos * cos)
}

/// How many times softwood bears more along the grain than across it under a bolt of `d` mm: EN 1995-1-1
/// eq. 8.33, read in an open implementation.
pub fn k90_softwood(d: f64) -> f64 {
    1.35 + 0.015 * d
}

/// As [`k90_softwood`], for laminated veneer lumber.
pub fn k90_veneer_lumber(d: f64) -> f64 {
    1.30 + 0.015 * d
}

/// As [`k90_softwood`], for hardwood.
pub fn k90_hardwood(d: f64) -> f64 {
    0.90 + 0.015 * d
}

/// N: what a round washer holds on wood before it sinks in: `3 f_c90 pi/4 (D^2 - hole^2)`, EN 1995-1-1 8.5.2 (2),
/// read in a textbook and in an open implementation. `f_c90` N/mm2 across the board, diameters mm. Under a steel
/// plate the outer diameter is the lesser of 12 times its thickness and 4 bolt diameters.
pub fn pull_through(f_c90: f64, washer_outer: f64, hole: f64) -> f64 {
    3.0 * f_c90 * PI / 4.0 * (washer_outer.powi(2) - hole.powi(2))
}

/// N: as [`pull_through`], under a square washer of `side` mm.
pub fn pull_through_square(f_c90: f64, side: f64, hole: f64) -> f64 {
    3.0 * f_c90 * (side.powi(2) - PI / 4.0 * hole.powi(2))
}

/// How many bolts a row along the grain counts for: `min(n, n^0.9 (a1 / 13 d)^0.25)`, `a1` their spacing and `d`
/// their diameter in mm. EN 1995-1-1 eq. 8.34, read in an open implementation.
pub fn effective_number(n: usize, a1: f64, d: f64) -> f64 {
    let n = n as f64;
    n.min(n.powf(0.9) * (a1 / (13.0 * d)).sqrt().sqrt())
}

/// The least distances of bolts, all mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spacing {
    /// Between bolts along the grain.
    pub a1: f64,
    /// Between bolts across the grain.
    pub a2: f64,
    /// To an end the force pulls towards.
    pub a3_t: f64,
    /// To an end the force does not pull towards.
    pub a3_c: f64,
    /// To an edge the force pushes towards.
    pub a4_t: f64,
    /// To an edge the force does not push towards.
    pub a4_c: f64,
}

/// The least distances in solid timber of bolts of `d` mm that press at an angle to the grain (0 to 90 degrees;
/// any other is folded into it). EN 1995-1-1 Table 8.4, read as formulas in an open implementation.
///
/// For the end that is not pulled the table gives 4 d up to 30 degrees and `(1 + 6 sin) d` beyond, which meet at
/// 30 degrees; the ranges of the angle are from memory.
pub fn timber_spacing(d: f64, degrees: f64) -> Spacing {
    let (sin, cos) = degrees.to_radians().sin_cos();
    let (sin, cos) = (sin.abs(), cos.abs());
    Spacing {
        a1: (4.0 + cos) * d,
        a2: 4.0 * d,
        a3_t: (7.0 * d).max(80.0),
        a3_c: ((1.0 + 6.0 * sin) * d).max(4.0 * d),
        a4_t: ((2.0 + 2.0 * sin) * d).max(3.0 * d),
        a4_c: 3.0 * d,
    }
}

/// The least distances on the wide face of a cross-bonded veneer lumber panel, for bolts of `d` mm that press at
/// an angle to the outer grain: LVL Handbook Europe, Table 5.3, read. The nearest published rule to plywood and
/// meant for thicker bolts than M5 to M10: guidance. The pulled end may come down to 4 d for `d` below 15 mm if
/// the embedment is taken times that distance over 60 mm.
pub fn panel_spacing(d: f64, degrees: f64) -> Spacing {
    let sin = degrees.to_radians().sin().abs();
    Spacing {
        a1: 4.0 * d,
        a2: 4.0 * d,
        a3_t: (4.0 * d).max(60.0),
        a3_c: 4.0 * d,
        a4_t: ((2.0 + 2.0 * sin) * d).max(3.0 * d),
        a4_c: 3.0 * d,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::bolt::yield_moment;
    use crate::near::{close, printed};
    use proptest::prelude::*;

    // Worked out from eq. 8.36, 8.32, 8.37 and 8.30; the densities (birch plywood 630, C24 350) were read.
    #[test]
    fn embedment_by_diameter() {
        let rows = [
            (5.0, "65.835", "27.265", "33.935", "15759"),
            (6.0, "65.142", "26.978", "30.418", "25317"),
            (8.0, "63.756", "26.404", "25.596", "53487"),
            (10.0, "62.370", "25.830", "22.388", "95546"),
            (12.0, "60.984", "25.256", "20.069", "153491"),
        ];
        for (d, plywood, timber, chipboard, moment) in rows {
            printed(embedment_plywood(d, 630.0), plywood);
            printed(embedment_solid(d, 350.0, 0.0, k90_softwood(d)), timber);
            printed(embedment_chipboard(d, 18.0), chipboard);
            printed(yield_moment(800.0, d), moment);
        }
    }

    // Worked out: C27 (370 kg/m3, read) along the grain, C24 across it, by a k90 of 1.53.
    #[test]
    fn embedment_by_grain() {
        printed(embedment_solid(12.0, 370.0, 0.0, k90_softwood(12.0)), "26.699");
        printed(k90_softwood(12.0), "1.53");
        printed(embedment_solid(12.0, 350.0, 90.0, k90_softwood(12.0)), "16.507");
        // By hand from eq. 8.33.
        printed(k90_veneer_lumber(10.0), "1.45");
        printed(k90_hardwood(10.0), "1.05");
    }

    // Worked out by hand from eq. 8.36: what a board bears when the plate alone governs, f_h t d.
    #[test]
    fn plywood_under_a_bolt() {
        printed(embedment_plywood(6.0, 630.0) * 18.0 * 6.0, "7035.3");
        printed(embedment_plywood(8.0, 630.0) * 18.0 * 8.0, "9180.9");
    }

    // Worked out by hand from eq. 8.34.
    #[test]
    fn rows_of_bolts() {
        printed(effective_number(4, 60.0, 12.0), "2.742");
        printed(effective_number(3, 40.0, 8.0), "2.117");
        close(effective_number(1, 1000.0, 8.0), 1.0, 1e-12);
    }

    #[test]
    fn washers_on_wood() {
        // Read in a textbook on timber design (a joint with M12 bolts), which prints 12.6 kN.
        printed(pull_through(2.5, 48.0, 13.0) / 1e3, "12.6");
        printed(pull_through(2.5, 48.0, 13.0), "12576");
        // Worked out by hand: M8 on a washer of 24 and on a square one of 40; M6 on hard plywood.
        printed(pull_through(2.5, 24.0, 9.0), "2915.8");
        printed(pull_through_square(2.5, 40.0, 9.0), "11522.9");
        printed(pull_through(25.1, 18.0, 6.6), "16585");
    }

    // Worked out by hand from the formulas of the tables as read.
    #[test]
    fn distances() {
        let rows = [
            (5.0, [25.0, 20.0, 20.0, 80.0, 20.0, 20.0, 15.0, 15.0, 60.0, 20.0]),
            (6.0, [30.0, 24.0, 24.0, 80.0, 24.0, 24.0, 18.0, 18.0, 60.0, 24.0]),
            (8.0, [40.0, 32.0, 32.0, 80.0, 32.0, 32.0, 24.0, 24.0, 60.0, 32.0]),
            (10.0, [50.0, 40.0, 40.0, 80.0, 40.0, 40.0, 30.0, 30.0, 60.0, 40.0]),
        ];
        for (d, row) in rows {
            let (with, across) = (timber_spacing(d, 0.0), timber_spacing(d, 90.0));
            let panel = panel_spacing(d, 0.0);
            let got = [
                with.a1,
                across.a1,
                with.a2,
                with.a3_t,
                with.a3_c,
                across.a4_t,
                with.a4_t,
                with.a4_c,
                panel.a3_t,
                panel.a1,
            ];
            for (got, want) in got.into_iter().zip(row) {
                close(got, want, 1e-12);
            }
            close(across.a3_c, 7.0 * d, 1e-12);
            close(panel.a3_c, 4.0 * d, 1e-12);
            close(panel.a4_c, 3.0 * d, 1e-12);
            close(panel_spacing(d, 90.0).a4_t, 4.0 * d, 1e-12);
        }
        // The pulled end's 80 mm become 7 d beyond 80/7.
        close(timber_spacing(10.0, 0.0).a3_t, 80.0, 1e-12);
        close(timber_spacing(12.0, 0.0).a3_t, 84.0, 1e-12);
        close(panel_spacing(16.0, 0.0).a3_t, 64.0, 1e-12);
        close(timber_spacing(10.0, 30.0).a3_c, 40.0, 1e-12);
    }

    // Worked out by hand from the formula; the first deflection is that of a birch deck.
    #[test]
    fn creep() {
        let grown = |class| final_deflection(1.40673, 0.0, 0.8, k_def(Board::Plywood, class).unwrap());
        printed(grown(ServiceClass::One), "2.532");
        printed(grown(ServiceClass::Two), "2.813");
        let (lasting, changing) = (0.3 * 1.40673, 0.7 * 1.40673);
        printed(final_deflection(lasting, changing, 0.8, 0.8), "2.3746");
    }

    // Read in the data of an open implementation.
    #[test]
    fn tables_of_time_and_damp() {
        use Duration::{Instant, Long, Medium, Permanent, Short};
        let durations = [Permanent, Long, Medium, Short, Instant];
        let dry = [0.60, 0.70, 0.80, 0.90, 1.10];
        let wet = [0.50, 0.55, 0.65, 0.70, 0.90];
        // From memory.
        let fibreboard = [0.20, 0.40, 0.60, 0.80, 1.10];
        for (i, duration) in durations.into_iter().enumerate() {
            assert_eq!(k_mod(Board::Plywood, ServiceClass::One, duration), Some(dry[i]));
            assert_eq!(k_mod(Board::Plywood, ServiceClass::Two, duration), Some(dry[i]));
            assert_eq!(k_mod(Board::Plywood, ServiceClass::Three, duration), Some(wet[i]));
            assert_eq!(k_mod(Board::Mdf, ServiceClass::One, duration), Some(fibreboard[i]));
            assert_eq!(k_mod(Board::Mdf, ServiceClass::Two, duration), None);
            assert_eq!(k_mod(Board::Osb, ServiceClass::One, duration), None);
        }
        let classes = [ServiceClass::One, ServiceClass::Two, ServiceClass::Three];
        let rows = [
            (Board::Plywood, [Some(0.80), Some(1.00), Some(2.50)]),
            (Board::Osb, [Some(1.50), Some(2.25), None]),
            (Board::Particleboard, [Some(2.25), Some(3.00), None]),
            (Board::Mdf, [Some(2.25), None, None]),
        ];
        for (board, row) in rows {
            assert_eq!(classes.map(|class| k_def(board, class)), row);
        }
        close(GAMMA_PLYWOOD, 1.2, 0.0);
        close(GAMMA_CONNECTION, 1.3, 0.0);
    }

    proptest! {
        #[test]
        fn more_bolts_carry_no_less(n in 1_usize..30, a1 in 10.0..300.0_f64, d in 4.0..16.0_f64) {
            let (fewer, more) = (effective_number(n, a1, d), effective_number(n + 1, a1, d));
            prop_assert!(more >= fewer && fewer <= n as f64);
            prop_assert!(effective_number(n, a1 + 10.0, d) >= fewer);
        }

        #[test]
        fn grain_only_weakens_softwood(d in 4.0..30.0_f64, degrees in 0.0..90.0_f64) {
            let k90 = k90_softwood(d);
            let at = embedment_solid(d, 350.0, degrees, k90);
            prop_assert!(at <= embedment_solid(d, 350.0, 0.0, k90) * (1.0 + 1e-12));
            prop_assert!(at >= embedment_solid(d, 350.0, 90.0, k90) * (1.0 - 1e-12));
            close(embedment_solid(d, 350.0, 180.0 - degrees, k90), at, 1e-9);
        }

        #[test]
        fn bigger_washers_hold_more(outer in 10.0..60.0_f64, hole in 4.0..10.0_f64) {
            prop_assert!(pull_through(2.5, outer + 1.0, hole) > pull_through(2.5, outer, hole));
            prop_assert!(pull_through_square(2.5, outer, hole) > pull_through(2.5, outer, hole));
        }
    }
}
