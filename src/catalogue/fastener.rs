//! Threads, washers and nuts.
//!
//! Takes rows of `data/fasteners.yaml`, gives sizes and masses. Bolts are in [`super::head`]. Chooses nothing:
//! which nut or washer a joint gets is decided where bolts are placed.

use std::collections::BTreeMap;
use std::f64::consts::PI;

use serde::Deserialize;

use super::head::HeadGroup;
use super::thread_of;

/// kg/mm3 of steel, 7.85 kg/dm3 as the mass tables of fastener standards take it.
pub(super) const STEEL_DENSITY: f64 = 7.85e-6;

/// A metric coarse thread with the holes that its bolts pass through.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Thread {
    /// E.g. `M6`.
    pub(crate) size: String,
    /// mm. Nominal diameter.
    #[serde(rename = "diameter_mm")]
    pub(crate) diameter: f64,
    /// mm. ISO 261, coarse.
    #[serde(rename = "pitch_mm")]
    pub(crate) pitch: f64,
    /// mm. Clearance hole, ISO 273 fine.
    #[serde(rename = "clearance_fine_mm")]
    pub(crate) clearance_fine: f64,
    /// mm. Clearance hole, ISO 273 medium: the default.
    #[serde(rename = "clearance_medium_mm")]
    pub(crate) clearance_medium: f64,
    /// mm. Clearance hole, ISO 273 coarse.
    #[serde(rename = "clearance_coarse_mm")]
    pub(crate) clearance_coarse: f64,
    /// mm2. Nominal stress area, ISO 898-1.
    #[serde(rename = "stress_area_mm2")]
    pub(crate) stress_area: f64,
    /// Where the row comes from.
    pub(crate) source: String,
}

impl Thread {
    /// mm. Basic pitch diameter, `d - 0.6495 P` (ISO 724): a threaded rod weighs about as much as a plain one
    /// of this diameter.
    pub(crate) fn pitch_diameter(&self) -> f64 {
        self.diameter - 0.6495 * self.pitch
    }
}

/// Kinds of washer.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub(crate) enum WasherKind {
    /// ISO 7089, about twice the bolt's diameter.
    Plain,
    /// ISO 7093-1, three times the bolt's diameter: on wood.
    Large,
    /// Wider still, over a slot.
    Spreader,
}

/// A washer.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Washer {
    /// Which kind.
    pub(crate) kind: WasherKind,
    /// E.g. `ISO 7089`.
    pub(crate) standard: String,
    /// Thread size that it goes with.
    pub(crate) size: String,
    /// mm. Diameter of the hole.
    pub(crate) inner: f64,
    /// mm. Outside diameter.
    pub(crate) outer: f64,
    /// mm. Nominal thickness (some tables give the largest instead).
    pub(crate) thickness: f64,
    /// Where the row comes from.
    pub(crate) source: String,
}

impl Washer {
    /// kg, in steel: `pi/4 (d2^2 - d1^2) h`; agrees with a public ISO 7089 mass table to its last digit.
    pub(crate) fn mass(&self) -> f64 {
        PI / 4.0 * (self.outer.powi(2) - self.inner.powi(2)) * self.thickness * STEEL_DENSITY
    }
}

/// Kinds of nut.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub(crate) enum NutKind {
    /// ISO 4032.
    Hex,
    /// ISO 7040, with a nylon ring.
    Lock,
    /// DIN 985, with a nylon ring, lower than ISO 7040: never mix their heights.
    LowLock,
    /// ISO 4035.
    Thin,
    /// With a ring above it, for a hook.
    Eye,
}

/// A hexagon nut.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Nut {
    /// Which kind.
    pub(crate) kind: NutKind,
    /// E.g. `ISO 4032`.
    pub(crate) standard: String,
    /// Thread size.
    pub(crate) size: String,
    /// mm. Width across flats, nominal = largest.
    pub(crate) across_flats: f64,
    /// mm. Greatest height.
    pub(crate) height: f64,
    /// mm. Diameter of its ring, which stands on it; `None` for a plain nut.
    pub(crate) ring: Option<f64>,
    /// kg, in steel: published, else `(0.866 s^2 - pi/4 D2^2) m`, which leaves out the chamfers.
    pub(crate) mass: f64,
    /// Where the row comes from.
    pub(crate) source: String,
}

impl Nut {
    /// mm. Across sharp corners, `s / cos 30`: no real nut is wider.
    pub(crate) fn across_corners(&self) -> f64 {
        across_corners(self.across_flats)
    }
}

/// mm across the sharp corners of a hexagon of this width across flats.
pub(crate) fn across_corners(across_flats: f64) -> f64 {
    across_flats * 2.0 / 3.0_f64.sqrt()
}

/// mm2 of a hexagon of this width across flats, `0.866 s^2`.
pub(super) fn hexagon_area(across_flats: f64) -> f64 {
    across_flats.powi(2) * 3.0_f64.sqrt() / 2.0
}

/// A turnbuckle with a hook at each end, and the eye bolt that goes into the vehicle's point.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Turnbuckle {
    /// Thread size of the point, of the eyes and of its own rods.
    pub(crate) size: String,
    /// E.g. `DIN 1480`.
    pub(crate) standard: String,
    /// mm between the hooks' insides, turned shut.
    #[serde(rename = "shortest_mm")]
    pub(crate) shortest: f64,
    /// mm between the hooks' insides, turned out.
    #[serde(rename = "longest_mm")]
    pub(crate) longest: f64,
    /// mm across its body.
    #[serde(rename = "body_mm")]
    pub(crate) body: f64,
    /// Its mass, g.
    pub(crate) mass_g: f64,
    /// Standard of the eye bolt in the point.
    pub(crate) eye_standard: String,
    /// mm of thread that the eye bolt has.
    #[serde(rename = "eye_thread_mm")]
    pub(crate) eye_thread: f64,
    /// mm. Outer diameter of the eye bolt's ring, which is also its height.
    #[serde(rename = "eye_ring_mm")]
    pub(crate) eye_ring: f64,
    /// Mass of the eye bolt, g.
    pub(crate) eye_mass_g: f64,
    /// Where the row comes from.
    pub(crate) source: String,
}

impl Turnbuckle {
    /// kg of turnbuckle and eye bolt.
    pub(crate) fn mass(&self) -> f64 {
        (self.mass_g + self.eye_mass_g) / 1000.0
    }
}

/// `data/fasteners.yaml` as written.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct FastenerFile {
    pub(super) threads: Vec<Thread>,
    pub(super) heads: Vec<HeadGroup>,
    pub(super) washers: Vec<WasherGroup>,
    pub(super) nuts: Vec<NutGroup>,
    /// One row a size.
    pub(super) turnbuckles: Vec<Turnbuckle>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct WasherGroup {
    kind: WasherKind,
    standard: String,
    sizes: Vec<WasherRow>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct WasherRow {
    size: String,
    inner_mm: f64,
    outer_mm: f64,
    thickness_mm: f64,
    source: String,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct NutGroup {
    kind: NutKind,
    standard: String,
    sizes: Vec<NutRow>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct NutRow {
    size: String,
    across_flats_mm: f64,
    height_max_mm: f64,
    mass_g: Option<f64>,
    ring_mm: Option<f64>,
    source: String,
}

/// One [`Washer`] a size of each group.
pub(super) fn washers(groups: Vec<WasherGroup>) -> Vec<Washer> {
    let of_group = |WasherGroup { kind, standard, sizes }: WasherGroup| {
        sizes.into_iter().map(move |row| Washer {
            kind,
            standard: standard.clone(),
            size: row.size,
            inner: row.inner_mm,
            outer: row.outer_mm,
            thickness: row.thickness_mm,
            source: row.source,
        })
    };
    groups.into_iter().flat_map(of_group).collect()
}

/// One [`Nut`] a size of each group.
pub(super) fn nuts(groups: Vec<NutGroup>, threads: &BTreeMap<String, Thread>) -> Vec<Nut> {
    let of_group = |NutGroup { kind, standard, sizes }: NutGroup| {
        sizes.into_iter().map(move |row| Nut {
            kind,
            standard: standard.clone(),
            mass: row.mass_g.map_or_else(
                || solid_nut_mass(row.across_flats_mm, row.height_max_mm, thread_of(threads, &row.size)),
                |grams| grams / 1000.0,
            ),
            size: row.size,
            across_flats: row.across_flats_mm,
            height: row.height_max_mm,
            ring: row.ring_mm,
            source: row.source,
        })
    };
    groups.into_iter().flat_map(of_group).collect()
}

fn solid_nut_mass(across_flats: f64, height: f64, thread: &Thread) -> f64 {
    let bore = PI / 4.0 * thread.pitch_diameter().powi(2);
    (hexagon_area(across_flats) - bore) * height * STEEL_DENSITY
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::catalogue::Catalogue;

    fn near(value: f64, expected: f64) -> bool {
        (value - expected).abs() < 1e-9
    }

    /// ISO 273:1979, three independent public tables; pitches and ISO 898-1 areas, two.
    #[test]
    fn threads_are_the_published_ones() {
        for (size, diameter, pitch, holes, area) in [
            ("M4", 4.0, 0.7, [4.3, 4.5, 4.8], 8.78),
            ("M5", 5.0, 0.8, [5.3, 5.5, 5.8], 14.2),
            ("M6", 6.0, 1.0, [6.4, 6.6, 7.0], 20.1),
            ("M8", 8.0, 1.25, [8.4, 9.0, 10.0], 36.6),
            ("M10", 10.0, 1.5, [10.5, 11.0, 12.0], 58.0),
        ] {
            let thread = Catalogue::built_in().thread(size).unwrap();
            assert!(near(thread.diameter, diameter) && near(thread.pitch, pitch), "{size}");
            assert!(near(thread.clearance_fine, holes[0]), "{size}");
            assert!(near(thread.clearance_medium, holes[1]), "{size}");
            assert!(near(thread.clearance_coarse, holes[2]), "{size}");
            assert!(near(thread.stress_area, area), "{size}");
        }
    }

    #[test]
    fn threads_are_sound() {
        for thread in Catalogue::built_in().threads.values() {
            let size = &thread.size;
            assert_eq!(*size, format!("M{}", thread.diameter));
            assert!(thread.diameter < thread.clearance_fine, "{size}");
            assert!(thread.clearance_fine < thread.clearance_medium, "{size}");
            assert!(thread.clearance_medium < thread.clearance_coarse, "{size}");
            // ISO 898-1: As = pi/4 (d - 0.9382 P)^2, tabulated to three digits.
            let area = PI / 4.0 * (thread.diameter - 0.9382 * thread.pitch).powi(2);
            assert!((area / thread.stress_area - 1.0).abs() < 0.0015, "{size}");
        }
    }

    /// Sizes and masses of ISO 7089 from public tables (M4's mass is the formula's own).
    #[test]
    fn plain_washers_are_the_published_ones() {
        for (size, inner, outer, thickness, grams) in [
            ("M4", 4.3, 9.0, 0.8, 0.308),
            ("M5", 5.3, 10.0, 1.0, 0.443),
            ("M6", 6.4, 12.0, 1.6, 1.02),
            ("M8", 8.4, 16.0, 1.6, 1.83),
            ("M10", 10.5, 20.0, 2.0, 3.57),
        ] {
            let washer = Catalogue::built_in().washer(WasherKind::Plain, size).unwrap();
            assert!(near(washer.inner, inner) && near(washer.outer, outer), "{size}");
            assert!(near(washer.thickness, thickness), "{size}");
            let last_digit = if grams < 1.0 { 0.0005 } else { 0.005 };
            assert!((washer.mass() * 1000.0 - grams).abs() <= last_digit, "{size} {}", washer.mass());
        }
    }

    /// ISO 7093-1 diameters from a public table. Thickness is from memory, so no value of it stands here.
    #[test]
    fn large_washers_have_the_published_diameters() {
        for (size, inner, outer, largest_thickness) in [
            ("M4", 4.3, 12.0, 1.1),
            ("M5", 5.3, 15.0, 1.4),
            ("M6", 6.4, 18.0, 1.8),
            ("M8", 8.4, 24.0, 2.2),
            ("M10", 10.5, 30.0, 2.7),
        ] {
            let washer = Catalogue::built_in().washer(WasherKind::Large, size).unwrap();
            assert!(near(washer.inner, inner) && near(washer.outer, outer), "{size}");
            assert!(washer.thickness < largest_thickness, "{size}: nominal, not largest");
        }
    }

    #[test]
    fn washers_are_sound() {
        for washer in Catalogue::built_in().washers.values() {
            let thread = Catalogue::built_in().thread(&washer.size).unwrap();
            let name = format!("{} {}", washer.standard, washer.size);
            assert!(thread.diameter < washer.inner && washer.inner < washer.outer, "{name}");
            assert!(washer.thickness >= 0.8 && washer.thickness < thread.diameter, "{name}");
            let standard = match washer.kind {
                WasherKind::Plain => "ISO 7089",
                WasherKind::Large => "ISO 7093-1",
                WasherKind::Spreader => "none",
            };
            assert_eq!(washer.standard, standard);
        }
    }

    /// ISO 4032: three public tables. ISO 7040, DIN 985: one each. ISO 4035: one, and memory.
    #[test]
    fn nuts_are_the_published_ones() {
        for (size, across_flats, hex, lock, low_lock, thin) in [
            ("M4", 7.0, 3.2, 6.0, 5.0, 2.2),
            ("M5", 8.0, 4.7, 6.8, 5.0, 2.7),
            ("M6", 10.0, 5.2, 8.0, 6.0, 3.2),
            ("M8", 13.0, 6.8, 9.5, 8.0, 4.0),
            ("M10", 16.0, 8.4, 11.9, 10.0, 5.0),
        ] {
            let nut = |kind| Catalogue::built_in().nut(kind, size).unwrap();
            assert!(near(nut(NutKind::Hex).across_flats, across_flats), "{size}");
            assert!(near(nut(NutKind::Hex).height, hex), "{size}");
            assert!(near(nut(NutKind::Lock).height, lock), "{size}");
            assert!(near(nut(NutKind::LowLock).height, low_lock), "{size}");
            assert!(near(nut(NutKind::Thin).height, thin), "{size}");
        }
    }

    /// DIN 985 masses from a public page; ISO 4032 by the formula, worked by hand for M6:
    /// (86.6025 - pi/4 5.3505^2) 5.2 7.85e-3 = 2.617 g.
    #[test]
    fn nuts_weigh_what_is_published_or_computed() {
        let grams = |kind, size| Catalogue::built_in().nut(kind, size).unwrap().mass * 1000.0;
        for (size, mass) in [("M4", 1.0), ("M5", 1.4), ("M6", 2.4), ("M8", 5.1), ("M10", 10.6)] {
            assert!(near(grams(NutKind::LowLock, size), mass), "{size}");
        }
        for (size, mass) in [("M4", 0.818), ("M5", 1.463), ("M6", 2.617), ("M8", 5.646), ("M10", 10.4)] {
            assert!((grams(NutKind::Hex, size) - mass).abs() < 0.005, "{size}");
        }
    }

    #[test]
    fn nuts_are_sound() {
        for nut in Catalogue::built_in().nuts.values() {
            let thread = Catalogue::built_in().thread(&nut.size).unwrap();
            let name = format!("{} {}", nut.standard, nut.size);
            assert!(nut.across_flats > 1.5 * thread.diameter, "{name}");
            assert!((nut.across_corners() - nut.across_flats / (PI / 6.0).cos()).abs() < 1e-9, "{name}");
            assert!(nut.height > 0.0 && nut.mass > 0.0, "{name}");
            let standard = match nut.kind {
                NutKind::Hex => "ISO 4032",
                NutKind::Lock => "ISO 7040",
                NutKind::LowLock => "DIN 985",
                NutKind::Thin => "ISO 4035",
                NutKind::Eye => "DIN 582",
            };
            assert_eq!(nut.standard, standard);
        }
    }
}
