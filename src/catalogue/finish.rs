//! Finishes: carpet, mats, laminate, paint on the faces of panels.
//!
//! Takes rows of `data/finishes.yaml`, gives [`Finish`]es. Does not lay them on anything.

use serde::Deserialize;

/// What covers a face.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Finish {
    /// What a spec calls it.
    pub(crate) id: String,
    /// What people call it.
    pub(crate) title: String,
    /// mm at rest.
    #[serde(rename = "thickness_mm")]
    pub(crate) thickness: f64,
    /// mm that are left of it under a head, a washer or a nut.
    #[serde(rename = "under_bolt_mm")]
    pub(crate) under_bolt: f64,
    /// g/m2 without adhesive.
    #[serde(rename = "mass_g_m2")]
    pub(crate) mass: f64,
    /// g/m2 of adhesive.
    #[serde(rename = "adhesive_g_m2")]
    pub(crate) adhesive: f64,
    /// mm. Width of the roll or sheet that it is cut from; none for what is brushed or sprayed on.
    #[serde(rename = "roll_mm")]
    pub(crate) roll: Option<f64>,
    /// Whether it is ordinarily taken round free edges.
    pub(crate) wraps: bool,
    /// Where the row comes from.
    pub(crate) source: String,
}

impl Finish {
    /// kg of `area` mm2, and of the adhesive under it.
    pub(crate) fn masses_of(&self, area: f64) -> (f64, f64) {
        // g/m2 over mm2: 1e-3 kg by 1e-6 m2.
        (area * self.mass * 1e-9, area * self.adhesive * 1e-9)
    }
}

/// `data/finishes.yaml` as written.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct FinishFile {
    pub(super) finishes: Vec<Finish>,
}

#[cfg(test)]
mod tests {
    use crate::catalogue::Catalogue;

    #[test]
    fn nothing_grows_under_a_bolt_and_a_square_metre_weighs_what_the_row_says() {
        let finishes = &Catalogue::built_in().finishes;
        assert_eq!(finishes.len(), 5);
        for finish in finishes.values() {
            assert!(finish.under_bolt <= finish.thickness && finish.under_bolt > 0.0, "{}", finish.id);
        }
        let (carpet, adhesive) = finishes["carpet"].masses_of(1e6);
        assert!((carpet - 0.4).abs() < 1e-12 && (adhesive - 0.12).abs() < 1e-12);
    }
}
