//! Lashings: how many straps hold by friction, and what a direct lashing holds.
//!
//! EN 12195-1 as a lashing supplier and a haulage association print it, and the Australian guide to load
//! restraint; neither was read whole. Their accelerations stand for braking and cornering, not for a crash.

/// Straps over a load that press it down, and the case they are for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TieDown {
    /// The acceleration along the deck, as a share of gravity: 0.8 forward, 0.5 else.
    pub c: f64,
    /// The friction number of load and deck.
    pub mu: f64,
    /// The acceleration down, as a share of gravity: 1.0 on the road.
    pub cz: f64,
    /// The safety factor: 1.25 forward, 1.1 else.
    pub fs: f64,
    /// How many of a strap's two sides count: 2 (edition 2010) or 1.5 (edition 2003).
    pub k: f64,
    /// Between strap and deck.
    pub degrees: f64,
    /// N, the force the tensioner leaves in a strap.
    pub tension: f64,
}

/// How many straps hold a thing of `weight` (N) by friction, before rounding up:
/// `(c - mu cz) W fs / (k mu sin(alpha) F_T)`, EN 12195-1, its form read on a lashing supplier's page. None are
/// needed (0) where friction alone holds; a rule may ask for one all the same. Without friction, or with flat or
/// loose straps, there is no number that is enough: infinite.
pub fn friction_count(weight: f64, straps: &TieDown) -> f64 {
    let missing = straps.c - straps.mu * straps.cz;
    if missing <= 0.0 {
        return 0.0;
    }
    let each = straps.k * straps.mu * straps.degrees.to_radians().sin() * straps.tension;
    if each > 0.0 { missing * weight * straps.fs / each } else { f64::INFINITY }
}

/// How hard straps must press a load down for 0.8 g forward, as a multiple of its weight: `0.8 / mu - 1`, and not
/// below 0.2. The rule `mu (W + N) >= 0.8 W` was read in the Australian guide; infinite without friction.
pub fn down_force_ratio(mu: f64) -> f64 {
    if mu > 0.0 { (0.8 / mu - 1.0).max(0.2) } else { f64::INFINITY }
}

/// N: what a direct lashing of a `rating` (N) holds along a direction on the deck: the rating times the cosines
/// of its angles to the deck and, seen from above, to the direction. Nothing against a direction it leads away from.
pub fn direct(rating: f64, degrees_to_deck: f64, degrees_to_direction: f64) -> f64 {
    (rating * degrees_to_deck.to_radians().cos() * degrees_to_direction.to_radians().cos()).max(0.0)
}

/// The share of a direct lashing's force that works along a direction: how far it runs that way over its length.
/// Read in the Australian guide to load restraint.
pub fn angle_effect(run: f64, length: f64) -> f64 {
    run / length
}

/// kg: the lashing capacity each of `chains` alike chains needs for a `mass` (kg) held against `share` of
/// gravity: `a m / (n AE)`, read in the Australian guide to load restraint for two chains.
pub fn chain_capacity(mass: f64, share: f64, angle_effect: f64, chains: usize) -> f64 {
    share * mass / (chains as f64 * angle_effect)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::near::{close, printed};
    use proptest::prelude::*;

    const G: f64 = 9.81;

    fn forward() -> TieDown {
        TieDown { c: 0.8, mu: 0.4, cz: 1.0, fs: 1.25, k: 2.0, degrees: 60.0, tension: 3500.0 }
    }

    // Worked out by hand from the formula.
    #[test]
    fn straps_by_friction() {
        printed(friction_count(300.0 * G, &forward()), "0.607");
        printed(friction_count(300.0 * G, &TieDown { c: 0.5, fs: 1.1, ..forward() }), "0.134");
        printed(friction_count(2000.0 * G, &forward()), "4.046");
        printed(friction_count(2000.0 * G, &TieDown { k: 1.5, ..forward() }), "5.394");
        close(friction_count(2000.0 * G, &TieDown { mu: 0.8, ..forward() }), 0.0, 0.0);
        printed(friction_count(300.0 * G, &TieDown { cz: 0.8, ..forward() }), "0.728");
        assert!(friction_count(1.0, &TieDown { mu: 0.0, ..forward() }).is_infinite());
    }

    // Worked out by hand from a rule that was read; the last is its floor.
    #[test]
    fn pressing_down() {
        for (mu, ratio) in [(0.2, "3.000"), (0.3, "1.667"), (0.4, "1.000"), (0.6, "0.333"), (0.8, "0.200")] {
            printed(down_force_ratio(mu), ratio);
        }
        assert!(down_force_ratio(0.0).is_infinite());
    }

    #[test]
    fn chains() {
        // The angle effect was read (a roller in a guide), the capacity worked out by hand: 8 t at .8 g.
        close(angle_effect(1.5, 2.0), 0.75, 1e-12);
        printed(chain_capacity(8000.0, 0.8, 0.75, 2), "4266.7");
        // Worked out with the angle effect of the guide's own table.
        printed(chain_capacity(8000.0, 0.8, 0.70, 2), "4571");
        // Read in a regulator's case study: a loader of 15 t, sideways.
        printed(angle_effect(3400.0, 3500.0), "0.97");
        printed(angle_effect(300.0, 3500.0), "0.086");
        printed(chain_capacity(15_000.0, 0.5, angle_effect(300.0, 3500.0), 2), "43750");
    }

    // By hand: cosines of 60 and 0 degrees.
    #[test]
    fn straight_lashings() {
        close(direct(1000.0, 60.0, 0.0), 500.0, 1e-12);
        close(direct(1000.0, 60.0, 60.0), 250.0, 1e-12);
        close(direct(1000.0, 0.0, 120.0), 0.0, 0.0);
    }

    proptest! {
        #[test]
        fn more_friction_needs_no_more_straps(mu in 0.05..0.9_f64, degrees in 5.0..90.0_f64) {
            let straps = TieDown { mu, degrees, ..forward() };
            let count = friction_count(1000.0, &straps);
            let more = [
                TieDown { mu: mu + 0.05, ..straps },
                TieDown { tension: 4000.0, ..straps },
                TieDown { degrees: (degrees + 5.0).min(90.0), ..straps },
            ];
            for other in more {
                prop_assert!(friction_count(1000.0, &other) <= count * (1.0 + 1e-12));
            }
            // With as many straps, friction holds what was asked for.
            let pressed = count * straps.k * degrees.to_radians().sin() * straps.tension / straps.fs;
            prop_assert!(mu * (1000.0 + pressed) >= 800.0 * (1.0 - 1e-9));
            prop_assert!(mu * (1.0 + down_force_ratio(mu)) >= 0.8 - 1e-12);
            prop_assert!(direct(1000.0, degrees, 30.0) <= 1000.0);
        }
    }
}
