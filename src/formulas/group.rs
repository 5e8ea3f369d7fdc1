//! How a force is shared among bolts and supports by statics alone: rigid members on alike bolts.
//!
//! Lengths in any one unit (mm or m), forces N, moments N times that length. Textbook statics.

/// The forces on bolts at `xs` along a rigid member that bears a `force` at `at`, each positive in the force's
/// direction; negative ones pull the other way.
///
/// `F_i = P/n + P (at - x) (x_i - x) / sum (x_j - x)^2` with x the bolts' mean: textbook. With all bolts in one
/// place no moment can be taken and each gets its share of the force.
pub fn line_reactions(xs: &[f64], force: f64, at: f64) -> Vec<f64> {
    let n = xs.len() as f64;
    let mean = xs.iter().sum::<f64>() / n;
    let squares: f64 = xs.iter().map(|x| (x - mean).powi(2)).sum();
    let moment = if squares > 0.0 { force * (at - mean) / squares } else { 0.0 };
    xs.iter().map(|x| force / n + moment * (x - mean)).collect()
}

/// The forces on bolts at `points` in a plane under a `force` in that plane through the point `at`: the direct
/// share plus what the moment about the bolts' middle asks for, growing with the way from it (elastic method,
/// read on two pages). Each is in the force's sense: their sum is the force.
///
/// With all bolts in one place no moment can be taken and each gets its share of the force.
pub fn eccentric(points: &[(f64, f64)], force: (f64, f64), at: (f64, f64)) -> Vec<(f64, f64)> {
    let n = points.len() as f64;
    let mean = points.iter().fold((0.0, 0.0), |sum, p| (sum.0 + p.0 / n, sum.1 + p.1 / n));
    let arms: Vec<(f64, f64)> = points.iter().map(|p| (p.0 - mean.0, p.1 - mean.1)).collect();
    let squares: f64 = arms.iter().map(|arm| arm.0 * arm.0 + arm.1 * arm.1).sum();
    let moment = (at.0 - mean.0) * force.1 - (at.1 - mean.1) * force.0;
    let turn = if squares > 0.0 { moment / squares } else { 0.0 };
    arms.iter().map(|arm| (force.0 / n - turn * arm.1, force.1 / n + turn * arm.0)).collect()
}

/// N: the tensions of bolts at `levers` from the edge a rigid base turns about, under a `moment`:
/// `T_i = M d_i / sum d_j^2`, textbook. Bolts on the edge hold nothing.
pub fn tensions(levers: &[f64], moment: f64) -> Vec<f64> {
    let squares: f64 = levers.iter().map(|lever| lever * lever).sum();
    let per_lever = if squares > 0.0 { moment / squares } else { 0.0 };
    levers.iter().map(|lever| per_lever * lever).collect()
}

/// The moment bolts have to hold when a `force` at a `height` tips a thing whose `weight` stands
/// `lever_of_weight` behind the edge it turns about: `max(0, F h - W x)`. A weight of 0 is on the safe side.
pub fn overturning(force: f64, height: f64, weight: f64, lever_of_weight: f64) -> f64 {
    (force * height - weight * lever_of_weight).max(0.0)
}

/// The shares (left, right) of a weight that stands `y` from the left of two supports `spacing` apart.
pub fn shares(y: f64, spacing: f64) -> (f64, f64) {
    ((spacing - y) / spacing, y / spacing)
}

/// How many times over what holds a thing outweighs what tips it, both moments; it tips below 1. Without end if
/// nothing tips it.
pub fn tipping_factor(held_moment: f64, tipping_moment: f64) -> f64 {
    if tipping_moment > 0.0 { held_moment / tipping_moment } else { f64::INFINITY }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::near::{close, printed};
    use proptest::prelude::*;

    const G: f64 = 9.81;

    // Worked out by hand (and, for two bolts, found again by a frame program): a drawer of 60 kg on a pair of
    // slides, its middle .45 m outside, bolts behind the cabinet's front. Down is positive.
    #[test]
    fn bolts_of_a_slide() {
        let weight = 60.0 * G / 2.0;
        printed(weight, "294.30");
        let two = line_reactions(&[0.05, 0.85], weight, -0.45);
        printed(two[0], "478.24");
        printed(two[1], "-183.94");
        let doubled = line_reactions(&[0.05, 0.85], 2.0 * weight, -0.45);
        printed(doubled[0], "956.48");
        printed(doubled[1], "-367.88");
        let five = line_reactions(&[0.05, 0.25, 0.45, 0.65, 0.85], weight, -0.45);
        for (got, want) in five.into_iter().zip(["323.73", "191.30", "58.86", "-73.58", "-206.01"]) {
            printed(got, want);
        }
    }

    // Worked out by hand.
    #[test]
    fn a_drawer_off_the_middle() {
        let (left, right) = shares(0.2, 0.6);
        printed(60.0 * G * left, "392.4");
        printed(60.0 * G * right, "196.2");
    }

    // Worked out by hand: a module of 85 kg, one drawer of 60 kg open, then two.
    #[test]
    fn tipping_by_open_drawers() {
        let (held, one) = (85.0 * G * 0.45, 60.0 * G * 0.45);
        printed(held, "375.23");
        printed(one, "264.87");
        printed(tipping_factor(held, one), "1.417");
        printed(2.0 * one, "529.74");
        assert!(tipping_factor(held, 2.0 * one) < 1.0);
        printed(overturning(2.0 * 60.0 * G, 0.45, 85.0 * G, 0.45) / 0.85, "181.77");
        assert!(tipping_factor(held, 0.0).is_infinite());
    }

    // Worked out by hand: a module of 180 kg, .25 m up, .50 m behind the edge, two bolts .95 m from it; at .8 g
    // and at 20 g, with its weight and without.
    #[test]
    fn a_module_on_its_bolts() {
        let weight = 180.0 * G;
        let tension = |share: f64, weight: f64| {
            tensions(&[0.95, 0.95], overturning(share * 180.0 * G, 0.25, weight, 0.50))[0]
        };
        printed(0.8 * weight * 0.25, "353.16");
        printed(weight * 0.50, "882.9");
        close(tension(0.8, weight), 0.0, 1e-12);
        printed(tension(0.8, 0.0), "185.87");
        printed(tension(20.0, weight), "4182.16");
        printed(tension(20.0, 0.0), "4646.84");
        // Shear is a plain share.
        printed(line_reactions(&[0.0; 4], 0.8 * weight, 0.0)[0], "353.16");
        printed(line_reactions(&[0.0; 4], 20.0 * weight, 0.0)[0], "8829.00");
    }

    // Worked out by hand: four bolts at (+-.4, +-.25), 883 N at .3 beside their middle.
    #[test]
    fn a_force_beside_the_middle() {
        let points = [(0.4, 0.25), (0.4, -0.25), (-0.4, 0.25), (-0.4, -0.25)];
        let forces = eccentric(&points, (0.0, 883.0), (0.3, 0.0));
        let most = forces.iter().map(|f| f.0.hypot(f.1)).fold(0.0, f64::max);
        printed(most, "347.86");
        printed(eccentric(&points, (0.0, 883.0), (0.0, 5.0))[2].1, "220.75");
    }

    #[test]
    fn no_lever_no_moment() {
        assert_eq!(line_reactions(&[], 9.0, 1.0), Vec::<f64>::new());
        assert_eq!(line_reactions(&[2.0, 2.0], 9.0, 7.0), vec![4.5, 4.5]);
        assert_eq!(eccentric(&[], (1.0, 1.0), (0.0, 0.0)), vec![]);
        assert_eq!(eccentric(&[(1.0, 1.0); 2], (2.0, 4.0), (9.0, 9.0)), vec![(1.0, 2.0), (1.0, 2.0)]);
        assert_eq!(tensions(&[0.0, 0.0], 9.0), vec![0.0, 0.0]);
    }

    fn place() -> impl Strategy<Value = (f64, f64)> {
        (-500.0..500.0_f64, -500.0..500.0_f64)
    }

    proptest! {
        #[test]
        fn a_row_balances(xs in prop::collection::vec(-900.0..900.0_f64, 2..9), at in -900.0..900.0_f64) {
            prop_assume!(xs.iter().any(|x| (x - xs[0]).abs() > 1.0));
            let forces = line_reactions(&xs, 100.0, at);
            close(forces.iter().sum(), 100.0, 1e-9);
            let moment: f64 = forces.iter().zip(&xs).map(|(f, x)| f * x).sum();
            prop_assert!((moment - 100.0 * at).abs() < 1e-6);
        }

        #[test]
        fn a_plane_balances(points in prop::collection::vec(place(), 2..9), force in place(), at in place()) {
            prop_assume!(points.iter().any(|p| (p.0 - points[0].0).abs() > 1.0));
            let forces = eccentric(&points, force, at);
            let sum = forces.iter().fold((0.0, 0.0), |s, f| (s.0 + f.0, s.1 + f.1));
            prop_assert!((sum.0 - force.0).abs() < 1e-8 && (sum.1 - force.1).abs() < 1e-8);
            let moment: f64 = forces.iter().zip(&points).map(|(f, p)| p.0 * f.1 - p.1 * f.0).sum();
            prop_assert!((moment - (at.0 * force.1 - at.1 * force.0)).abs() < 1e-5);
        }

        #[test]
        fn tensions_hold_the_moment(levers in prop::collection::vec(1.0..900.0_f64, 1..9)) {
            let each = tensions(&levers, 5000.0);
            close(each.iter().zip(&levers).map(|(t, d)| t * d).sum(), 5000.0, 1e-9);
            // One bolt more leaves each with no more.
            let mut more = levers.clone();
            more.push(300.0);
            let eased = tensions(&more, 5000.0);
            prop_assert!(each.iter().zip(&eased).all(|(before, after)| after <= before));
        }

        #[test]
        fn shares_make_a_whole(y in 0.0..600.0_f64) {
            let (left, right) = shares(y, 600.0);
            close(left + right, 1.0, 1e-12);
            close(right * 600.0, y, 1e-9);
        }
    }
}
