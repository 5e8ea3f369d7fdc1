//! Tie-downs: rings, eyes and tracks that a strap hooks into, with the plate that spreads its pull.
//!
//! Takes rows of `data/tie_downs.yaml`, gives [`TieDownKind`]s. Does not place them.

use serde::Deserialize;

/// A kind of tie-down.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct TieDownKind {
    /// What a spec calls it.
    pub(crate) id: String,
    /// What people call it.
    pub(crate) title: String,
    /// mm. What lies on the panel: width and height.
    #[serde(rename = "plate_mm")]
    pub(crate) plate: [f64; 2],
    /// mm that it stands out of the face, folded.
    #[serde(rename = "height_mm")]
    pub(crate) height: f64,
    /// mm under a bolt's head.
    #[serde(rename = "flange_mm")]
    pub(crate) flange: f64,
    /// Thread size of its bolts.
    pub(crate) bolt: String,
    /// mm. Positions of its bolts from its middle: to the right and up, seen from before it.
    #[serde(rename = "bolts_mm")]
    pub(crate) bolts: Vec<[f64; 2]>,
    /// mm. The steel plate on the panel's other side: width, height, thickness.
    #[serde(rename = "spreader_mm")]
    pub(crate) spreader: [f64; 3],
    /// N. Least pull that it bears, in any direction for which it is made.
    #[serde(rename = "rating_n")]
    pub(crate) rating: f64,
    /// kg, with the spreader.
    #[serde(rename = "mass_kg")]
    pub(crate) mass: f64,
    /// Where the row comes from.
    pub(crate) source: String,
}

/// `data/tie_downs.yaml` as written.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct TieDownFile {
    pub(super) tie_downs: Vec<TieDownKind>,
}

#[cfg(test)]
mod tests {
    use crate::catalogue::Catalogue;

    /// Every bolt has plate and spreader around it; a spreader of steel of that size is not heavier than the whole.
    #[test]
    fn bolts_lie_within_plate_and_spreader() {
        let kinds = &Catalogue::built_in().tie_downs;
        assert_eq!(kinds.len(), 3);
        for kind in kinds.values() {
            let [width, height, thickness] = kind.spreader;
            for [x, y] in &kind.bolts {
                for [w, h] in [kind.plate, [width, height]] {
                    assert!(x.abs() + 8.0 <= w / 2.0 && y.abs() + 8.0 <= h / 2.0, "{}", kind.id);
                }
            }
            // Steel, 7850 kg/m3.
            assert!(width * height * thickness * 7.85e-6 < kind.mass, "{}", kind.id);
        }
    }
}
