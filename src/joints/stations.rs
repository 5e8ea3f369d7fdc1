//! Where along a joint its bolts go.

use crate::geom::snap;

/// mm from a joint's end to its first bolt, at most. Common practice, no source.
const MOST_FROM_END: f64 = 50.0;

/// Bolt diameters from a joint's end to its first bolt, at least. Common practice, no source.
pub(super) const LEAST_FROM_END: f64 = 4.0;

/// Bolt diameters between two bolts, at least: the EN 1995-1-1 Table 8.4 value across the grain.
pub(crate) const LEAST_PITCH: f64 = 4.0;

/// Evenly spread positions along a length: the first and last near the ends, no two further apart than
/// `spacing`. One in the middle where two would crowd each other; none where not even one keeps its distance
/// from both ends.
///
/// Example: 800 mm, M6, spacing 150: 40, 160, 280, ... 760.
pub(super) fn spread(length: f64, diameter: f64, spacing: f64) -> Vec<f64> {
    let least = LEAST_FROM_END * diameter;
    if length < 2.0 * least {
        return Vec::new();
    }
    let from_end = (length / 5.0).clamp(least, MOST_FROM_END.max(least));
    let run = length - 2.0 * from_end;
    if run < least {
        return vec![snap(length / 2.0)];
    }
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a spec's lengths are bounded"
    )]
    let n = (run / spacing - 1e-9).ceil().max(1.0) as u32;
    (0..=n).map(|i| snap(from_end + run * f64::from(i) / f64::from(n))).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn spread_keeps_ends_and_spacing(length in 10_u32..3000, d in prop::sample::select(vec![4.0, 5.0, 6.0, 8.0]), spacing in 60_u32..400) {
            let (length, spacing) = (f64::from(length), f64::from(spacing));
            let stations = spread(length, d, spacing);
            for pair in stations.windows(2) {
                prop_assert!(pair[1] - pair[0] <= spacing + 0.002 && pair[1] - pair[0] >= 2.0 * d);
            }
            if let (Some(first), Some(last)) = (stations.first(), stations.last()) {
                prop_assert!(*first >= LEAST_FROM_END * d - 0.001 && length - last >= LEAST_FROM_END * d - 0.001);
                prop_assert!((first - (length - last)).abs() < 0.002);
            }
        }
    }
}
