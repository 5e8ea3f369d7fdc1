//! Sheet materials: thicknesses, density, moduli, stock sizes.
//!
//! Takes rows of `data/materials.yaml`, gives [`Material`]s. Knows nothing of panels: a panel's mass is its
//! volume at the actual thickness times [`Material::density`].

use crate::spec::{BoardKind, Defect};
use serde::Deserialize;

/// One material in one thickness.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Material {
    /// What a spec calls it, e.g. `birch-12`.
    pub(crate) id: String,
    /// The material without the thickness, e.g. `birch`.
    pub(crate) family: String,
    /// For tables, e.g. `birch plywood`.
    pub(crate) title: String,
    /// mm. The thickness it is sold as.
    pub(crate) nominal: f64,
    /// mm. The thickness that the sheet has: what joints, slots and solids use.
    pub(crate) actual: f64,
    /// The mass that its source publishes.
    pub(crate) published: PublishedMass,
    /// kg/m2 of film on each face, on top of the published mass.
    pub(crate) film_per_face: f64,
    /// Whether the two directions in the sheet differ, so that panels must keep theirs.
    pub(crate) grain: bool,
    /// `MPa`. Modulus of elasticity in bending along the face grain, where known.
    pub(crate) e_along: Option<f64>,
    /// `MPa`. The same across the face grain.
    pub(crate) e_across: Option<f64>,
    /// What it bears, as far as that is known.
    pub(crate) strength: Strengths,
    /// Sizes of sheet that it is sold in; the first is the default.
    pub(crate) stock: Vec<StockSize>,
    /// Where thickness, mass and moduli come from.
    pub(crate) source: String,
    /// Where the stock sizes come from.
    pub(crate) stock_source: String,
}

/// What a sheet bears, in `MPa` and kg/m3; what is `None` is not known, and nothing that needs it is checked.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(crate) struct Strengths {
    /// What sort of board it is.
    pub(crate) kind: Option<BoardKind>,
    /// Bending strength along the face grain: characteristic for boards, the yield strength for metals.
    pub(crate) bending_along: Option<f64>,
    /// The same across the face grain.
    pub(crate) bending_across: Option<f64>,
    /// Shear modulus in the sheet's plane.
    pub(crate) shear_modulus: Option<f64>,
    /// Shear strength in the sheet's plane, characteristic.
    pub(crate) panel_shear: Option<f64>,
    /// Shear strength between the plies, across the sheet's plane, characteristic.
    pub(crate) planar_shear: Option<f64>,
    /// Compressive strength across the plane, characteristic.
    pub(crate) flat_compression: Option<f64>,
    /// Characteristic density of a board.
    pub(crate) characteristic_density: Option<f64>,
    /// Tensile strength of a metal.
    pub(crate) tensile: Option<f64>,
}

/// A mass as published, with the thickness that it refers to.
#[derive(Clone, Copy, Debug, PartialEq, Deserialize)]
pub(crate) enum PublishedMass {
    /// kg/m3 times the nominal thickness: how makers publish plywood, whose real thickness is smaller.
    #[serde(rename = "density_at_nominal_kg_m3")]
    DensityAtNominal(f64),
    /// kg/m3 of the solid.
    #[serde(rename = "density_at_actual_kg_m3")]
    DensityAtActual(f64),
    /// kg/m2 of the sheet.
    #[serde(rename = "areal_kg_m2")]
    Areal(f64),
}

/// A size of sheet that can be bought, or one that is left over.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct StockSize {
    /// For tables and files, e.g. `2440x1220`; the first figure is along the face grain.
    pub(crate) name: String,
    /// mm along the face grain.
    #[serde(rename = "length_mm")]
    pub(crate) length: f64,
    /// mm across the face grain.
    #[serde(rename = "width_mm")]
    pub(crate) width: f64,
    /// What one costs, in the workshop's currency.
    #[serde(skip)]
    pub(crate) price: Option<f64>,
    /// How many there are; `None` for any number.
    #[serde(skip)]
    pub(crate) quantity: Option<u32>,
    /// Where no part may lie.
    #[serde(skip)]
    pub(crate) defects: Vec<Defect>,
    /// Left over from earlier work.
    #[serde(skip)]
    pub(crate) offcut: bool,
}

impl Material {
    /// kg/m2 of the sheet, film included.
    pub(crate) fn areal_mass(&self) -> f64 {
        let bare = match self.published {
            PublishedMass::DensityAtNominal(density) => density * self.nominal / 1000.0,
            PublishedMass::DensityAtActual(density) => density * self.actual / 1000.0,
            PublishedMass::Areal(mass) => mass,
        };
        bare + 2.0 * self.film_per_face
    }

    /// kg/m3 of the solid as it is modelled: at the actual thickness, so that a full sheet has the published
    /// mass whatever thickness that was published for.
    ///
    /// Birch of 18 mm nominal, 17.7 mm actual, published as 685 at nominal: 696.6 kg/m3.
    pub(crate) fn density(&self) -> f64 {
        self.areal_mass() * 1000.0 / self.actual
    }
}

/// `data/materials.yaml` as written.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct MaterialFile {
    families: Vec<MaterialGroup>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct MaterialGroup {
    family: String,
    title: String,
    grain: bool,
    stock: Vec<StockSize>,
    stock_source: String,
    kind: Option<BoardKind>,
    shear_modulus_mpa: Option<f64>,
    panel_shear_mpa: Option<f64>,
    planar_shear_mpa: Option<f64>,
    flat_compression_mpa: Option<f64>,
    characteristic_density_kg_m3: Option<f64>,
    tensile_mpa: Option<f64>,
    sheets: Vec<SheetRow>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct SheetRow {
    id: String,
    thickness_mm: f64,
    actual_thickness_mm: f64,
    published_mass: PublishedMass,
    film_per_face_kg_m2: Option<f64>,
    modulus_along_mpa: Option<f64>,
    modulus_across_mpa: Option<f64>,
    bending_along_mpa: Option<f64>,
    bending_across_mpa: Option<f64>,
    source: String,
}

impl MaterialFile {
    /// One [`Material`] a sheet, what its family shares copied into it.
    pub(super) fn rows(self) -> Vec<Material> {
        self.families.into_iter().flat_map(MaterialGroup::rows).collect()
    }
}

impl MaterialGroup {
    fn rows(self) -> Vec<Material> {
        let shared = Strengths {
            kind: self.kind,
            shear_modulus: self.shear_modulus_mpa,
            panel_shear: self.panel_shear_mpa,
            planar_shear: self.planar_shear_mpa,
            flat_compression: self.flat_compression_mpa,
            characteristic_density: self.characteristic_density_kg_m3,
            tensile: self.tensile_mpa,
            ..Strengths::default()
        };
        let MaterialGroup { family, title, grain, stock, stock_source, sheets, .. } = self;
        sheets
            .into_iter()
            .map(|row| Material {
                id: row.id,
                family: family.clone(),
                title: title.clone(),
                nominal: row.thickness_mm,
                actual: row.actual_thickness_mm,
                published: row.published_mass,
                film_per_face: row.film_per_face_kg_m2.unwrap_or(0.0),
                grain,
                e_along: row.modulus_along_mpa,
                e_across: row.modulus_across_mpa,
                strength: Strengths {
                    bending_along: row.bending_along_mpa,
                    bending_across: row.bending_across_mpa,
                    ..shared
                },
                stock: stock.clone(),
                source: row.source,
                stock_source: stock_source.clone(),
            })
            .collect()
    }
}

#[cfg(test)]
mod tests {
    use crate::catalogue::Catalogue;

    /// kg of a full sheet of this size, the way a panel is weighed: solid volume times density.
    fn sheet_mass(id: &str, length: f64, width: f64) -> f64 {
        let material = Catalogue::built_in().material(id).unwrap();
        length * width * material.actual * 1e-9 * material.density()
    }

    /// Masses and mean thicknesses printed in a public birch plywood datasheet.
    #[test]
    fn birch_sheets_weigh_what_is_published_at_the_thickness_that_they_have() {
        for (id, actual, small, large) in [
            ("birch-6", 6.4, 13.0, 20.3),
            ("birch-9", 9.2, 19.0, 29.7),
            ("birch-12", 12.0, 24.8, 38.8),
            ("birch-15", 14.9, 30.8, 48.1),
            ("birch-18", 17.7, 36.7, 57.3),
        ] {
            let material = Catalogue::built_in().material(id).unwrap();
            assert!((material.actual - actual).abs() < 1e-9, "{id}");
            assert!((sheet_mass(id, 1220.0, 2440.0) - small).abs() < 0.051, "{id}");
            assert!((sheet_mass(id, 3050.0, 1525.0) - large).abs() < 0.051, "{id}");
        }
    }

    /// Areal masses read in a builder's public guide.
    #[test]
    fn composite_weighs_its_areal_mass() {
        for (id, areal) in [("composite-3", 3.8), ("composite-4", 5.5), ("composite-6", 7.8)] {
            assert!((sheet_mass(id, 1000.0, 1000.0) - areal).abs() < 1e-9, "{id}");
        }
    }

    #[test]
    fn density_is_that_of_the_real_thickness() {
        let density = |id: &str| Catalogue::built_in().material(id).unwrap().density();
        assert!((density("birch-18") - 685.0 * 18.0 / 17.7).abs() < 1e-9);
        assert!((density("birch-9") - 694.565).abs() < 0.001, "thicker than nominal, so less dense");
        assert!((density("film-faced-12") - 715.0).abs() < 1e-9, "695 + 2 x 120 g/m2 over 12 mm");
        assert!((density("aluminium-3") - 2660.0).abs() < 1e-9);
        assert!((density("composite-4") - 1375.0).abs() < 1e-9);
    }

    #[test]
    fn rows_are_sound() {
        for material in Catalogue::built_in().materials.values() {
            let id = &material.id;
            assert!(material.nominal > 0.0 && (material.actual - material.nominal).abs() < 0.5, "{id}");
            let whole = material.nominal.floor();
            assert_eq!(*id, format!("{}-{whole}", material.family), "the id says family and thickness");
            assert!((300.0..3000.0).contains(&material.density()), "{id}");
            assert!(material.film_per_face >= 0.0, "{id}");
            for modulus in [material.e_along, material.e_across].into_iter().flatten() {
                assert!((100.0..100_000.0).contains(&modulus), "{id}");
            }
            let wooden = ["birch", "poplar", "film-faced"].contains(&material.family.as_str());
            assert_eq!(material.grain, wooden, "{id}");
            if !material.grain {
                assert_eq!(material.e_along, material.e_across, "{id}");
            }
        }
    }

    #[test]
    fn stock_sizes_are_named_by_their_measures() {
        for material in Catalogue::built_in().materials.values() {
            assert!(material.stock.len() >= 2, "{}", material.id);
            for (at, stock) in material.stock.iter().enumerate() {
                assert!(stock.length > 0.0 && stock.width > 0.0);
                assert_eq!(stock.name, format!("{}x{}", stock.length, stock.width));
                assert!(material.stock[..at].iter().all(|other| other.name != stock.name));
            }
        }
    }
}
