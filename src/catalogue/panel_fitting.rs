//! Fittings that are set into an opening of a panel: sockets, switches, vents, grommets.
//!
//! Takes rows of `data/panel_fittings.yaml`, gives [`PanelFitting`]s. Does not place them.

use serde::Deserialize;

/// A fitting set into a panel and bolted to it.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct PanelFitting {
    /// What a spec calls it.
    pub(crate) id: String,
    /// What people call it.
    pub(crate) title: String,
    /// The opening that it needs.
    #[serde(rename = "opening_mm")]
    pub(crate) opening: FittingOpening,
    /// mm. What lies on the panel's face: width and height.
    #[serde(rename = "plate_mm")]
    pub(crate) plate: Option<[f64; 2]>,
    /// mm. Thickness of that plate.
    #[serde(rename = "flange_mm", default)]
    pub(crate) flange: f64,
    /// mm. Room that it takes behind the panel's face, the panel's thickness included.
    #[serde(rename = "behind_mm")]
    pub(crate) behind: f64,
    /// Thread size of its bolts; needed if it has any.
    pub(crate) bolt: Option<String>,
    /// mm. Positions of its bolts from the opening's middle: to the right and up, seen from the front.
    #[serde(rename = "bolts_mm", default)]
    pub(crate) bolts: Vec<[f64; 2]>,
    /// cm2. Free area for air.
    #[serde(rename = "air_cm2")]
    pub(crate) air: Option<f64>,
    /// kg.
    #[serde(rename = "mass_kg")]
    pub(crate) mass: f64,
    /// Where the row comes from.
    pub(crate) source: String,
}

/// The opening that a fitting needs, mm.
#[derive(Clone, Copy, Debug, Default, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct FittingOpening {
    /// Of a round one.
    pub(crate) diameter: Option<f64>,
    /// Of a rectangle.
    #[serde(default)]
    pub(crate) width: f64,
    /// Of a rectangle.
    #[serde(default)]
    pub(crate) height: f64,
    /// Of a rectangle's corners.
    #[serde(default)]
    pub(crate) radius: f64,
}

impl FittingOpening {
    /// mm. Width and height of the opening.
    pub(crate) fn size(&self) -> [f64; 2] {
        self.diameter.map_or([self.width, self.height], |diameter| [diameter; 2])
    }
}

/// `data/panel_fittings.yaml` as written.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct PanelFittingFile {
    pub(super) fittings: Vec<PanelFitting>,
}

#[cfg(test)]
mod tests {
    use crate::catalogue::Catalogue;

    /// Bolts lie under the plate and three diameters of M4 (12 mm) off the opening, as every panel wants them.
    #[test]
    fn bolts_lie_between_opening_and_plates_edge() {
        for fitting in Catalogue::built_in().panel_fittings.values() {
            assert_eq!(fitting.bolts.is_empty(), fitting.bolt.is_none(), "{}", fitting.id);
            let [width, height] = fitting.opening.size();
            for [x, y] in &fitting.bolts {
                let plate = fitting.plate.unwrap();
                assert!(x.abs() + 4.0 < plate[0] / 2.0 && y.abs() + 4.0 < plate[1] / 2.0, "{}", fitting.id);
                let off = match fitting.opening.diameter {
                    Some(diameter) => x.hypot(*y) - diameter / 2.0,
                    None => (x.abs() - width / 2.0).max(y.abs() - height / 2.0),
                };
                assert!(off >= 12.0, "{}: {off}", fitting.id);
            }
        }
    }
}
