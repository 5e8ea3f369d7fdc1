//! Equal-leg aluminium angles, the corner pieces that panels are bolted to.
//!
//! Takes rows of `data/angles.yaml`, gives [`Angle`]s. Lengths are cut where joints are made.

use serde::Deserialize;

/// An equal-leg angle, sold by the metre.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Angle {
    /// What a spec calls it, e.g. `angle-30x30x3`.
    pub(crate) id: String,
    /// mm. Width of each leg, outside.
    #[serde(rename = "leg_mm")]
    pub(crate) leg: f64,
    /// mm. Thickness of the legs.
    #[serde(rename = "thickness_mm")]
    pub(crate) thickness: f64,
    /// mm. Distance of the hole line from the heel's outside corner, in both legs.
    #[serde(rename = "gauge_mm")]
    pub(crate) gauge: f64,
    /// Thread size that the gauge line is meant for.
    pub(crate) bolt: String,
    /// E.g. `EN AW-6060`.
    pub(crate) alloy: String,
    /// kg/m3.
    #[serde(rename = "density_kg_m3")]
    pub(crate) density: f64,
    /// `MPa`. Yield strength, if it is known.
    #[serde(rename = "yield_mpa")]
    pub(crate) yield_strength: Option<f64>,
    /// `MPa`. Tensile strength, if it is known.
    #[serde(rename = "tensile_mpa")]
    pub(crate) tensile: Option<f64>,
    /// Where the row comes from.
    pub(crate) source: String,
}

impl Angle {
    /// mm2 of section with sharp corners: `(2 leg - t) t`.
    pub(crate) fn section(&self) -> f64 {
        (2.0 * self.leg - self.thickness) * self.thickness
    }

    /// kg/m. 30x30x3 has 171 mm2 and weighs 0.4617 kg/m.
    pub(crate) fn mass_per_metre(&self) -> f64 {
        self.section() * self.density * 1e-6
    }
}

/// `data/angles.yaml` as written.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct AngleFile {
    pub(super) angles: Vec<Angle>,
}

#[cfg(test)]
mod tests {
    use crate::catalogue::{Catalogue, WasherKind};

    /// By hand: (2 x 20 - 2) 2 = 76, (2 x 25 - 3) 3 = 141, (2 x 30 - 3) 3 = 171, (2 x 40 - 4) 4 = 304 mm2,
    /// times 2700 kg/m3.
    #[test]
    fn angles_weigh_their_section() {
        for (id, mass) in [
            ("angle-20x20x2", 0.2052),
            ("angle-25x25x3", 0.3807),
            ("angle-30x30x3", 0.4617),
            ("angle-40x40x4", 0.8208),
        ] {
            let angle = Catalogue::built_in().angle(id).unwrap();
            assert!((angle.mass_per_metre() - mass).abs() < 1e-9, "{id}");
        }
    }

    /// Common practice, no source: gauge of three bolt diameters. Free edge at least 1.2 d0 (EN 1993-1-8,
    /// table 3.3).
    #[test]
    fn holes_keep_off_the_edge_and_washers_lie_flat() {
        for angle in Catalogue::built_in().angles.values() {
            let id = &angle.id;
            assert_eq!(*id, format!("angle-{}x{}x{}", angle.leg, angle.leg, angle.thickness));
            let thread = Catalogue::built_in().thread(&angle.bolt).unwrap();
            assert!((angle.gauge - 3.0 * thread.diameter).abs() < 1e-9, "{id}");
            assert!((angle.leg - angle.gauge) >= 1.2 * thread.clearance_medium, "{id}");
            let washer = Catalogue::built_in().washer(WasherKind::Plain, &angle.bolt).unwrap();
            assert!(angle.gauge - washer.outer / 2.0 > angle.thickness, "{id}: washer on the other leg");
            assert!((angle.leg - angle.gauge) >= washer.outer / 2.0, "{id}: washer over the edge");
        }
    }
}
