//! Bolts by the kind of their head: sizes, nominal lengths, thread, mass.
//!
//! Takes rows of `data/fasteners.yaml`, gives [`Head`]s. Which length a joint needs is computed where bolts
//! are placed; here only the next length of the series is picked.

use std::collections::BTreeMap;
use std::f64::consts::PI;

use serde::Deserialize;

use super::fastener::{STEEL_DENSITY, Thread, across_corners, hexagon_area};
use super::thread_of;
use crate::geom::tolerance::SAME_LENGTH;

/// Kinds of head.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub(crate) enum HeadKind {
    /// ISO 7380-1: low, domed.
    Button,
    /// ISO 10642: flush, 90 degrees.
    Countersunk,
    /// ISO 4017: hexagon, threaded up to the head.
    Hex,
    /// ISO 4762: cylindrical.
    Cap,
}

/// How far the thread reaches up the bolt.
#[derive(Clone, Copy, Debug, PartialEq, Deserialize)]
#[serde(rename_all = "snake_case")]
pub(crate) enum ThreadLength {
    /// Up to the head.
    Full,
    /// `2 d` plus so many mm from the tip; shorter bolts are threaded all along.
    TwiceDiameterPlusMm(f64),
}

/// A kind of bolt in one thread size, all its lengths.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Head {
    /// Which kind.
    pub(crate) kind: HeadKind,
    /// E.g. `ISO 7380-1`.
    pub(crate) standard: String,
    /// What turns it, e.g. `hexagon socket`.
    pub(crate) drive: String,
    /// Thread size.
    pub(crate) size: String,
    /// mm. Diameter that the head needs: the theoretical (sharp) one of a countersunk head, the one across
    /// sharp corners of a hexagon head.
    pub(crate) width: f64,
    /// mm. Height of the head.
    pub(crate) height: f64,
    /// mm. Width across flats of the key or spanner.
    pub(crate) key: f64,
    /// mm. Least depth of the socket; 0 without one.
    pub(crate) socket_depth: f64,
    /// mm. Nominal lengths that exist, rising.
    pub(crate) lengths: Vec<f64>,
    /// Whether the nominal length includes the head (countersunk).
    pub(crate) length_is_overall: bool,
    /// How far the thread reaches.
    pub(crate) thread_length: ThreadLength,
    /// mm. Diameter of the thread and of the shank.
    pub(crate) diameter: f64,
    /// mm. Pitch diameter of the thread, for the mass.
    pub(crate) pitch_diameter: f64,
    /// Where the row comes from.
    pub(crate) source: String,
}

impl Head {
    /// The shortest nominal length that is not below `need` (mm), or none if the series ends before.
    pub(crate) fn length_from(&self, need: f64) -> Option<f64> {
        self.lengths.iter().copied().find(|length| *length >= need - SAME_LENGTH)
    }

    /// mm of full thread, from the tip, of a bolt of this nominal length. Short bolts of the partly threaded
    /// standards may have more; none has less.
    pub(crate) fn threaded(&self, length: f64) -> f64 {
        match self.thread_length {
            ThreadLength::Full => self.below_head(length),
            ThreadLength::TwiceDiameterPlusMm(more) => {
                self.below_head(length).min(2.0 * self.diameter + more)
            }
        }
    }

    /// mm of plain shank under the head of a bolt of this nominal length.
    pub(crate) fn shank(&self, length: f64) -> f64 {
        self.below_head(length) - self.threaded(length)
    }

    /// kg of a steel bolt of this nominal length (mm): head, less its socket, plus the shank at `d`, plus the
    /// thread as a rod of its pitch diameter.
    ///
    /// Within 6 % of a public ISO 4762 mass chart but for M5, where the chart is up to 19 % lighter. For ISO
    /// 4017 it is `0.866 s^2 k + pi/4 D2^2 l`.
    pub(crate) fn mass(&self, length: f64) -> f64 {
        let rod = |diameter: f64, length: f64| PI / 4.0 * diameter.powi(2) * length;
        let body = rod(self.pitch_diameter, self.threaded(length)) + rod(self.diameter, self.shank(length));
        (self.head_volume() + body) * STEEL_DENSITY
    }

    /// mm. The nominal length without a head that counts to it.
    fn below_head(&self, length: f64) -> f64 {
        if self.length_is_overall { (length - self.height).max(0.0) } else { length }
    }

    /// mm3 of the head without its socket.
    fn head_volume(&self) -> f64 {
        let (radius, height) = (self.width / 2.0, self.height);
        match self.kind {
            HeadKind::Hex => hexagon_area(self.key) * height,
            HeadKind::Cap => PI * radius.powi(2) * height - self.socket_volume(),
            // A spherical cap; the flat around the socket is neglected.
            HeadKind::Button => {
                PI * height / 6.0 * (3.0 * radius.powi(2) + height.powi(2)) - self.socket_volume()
            }
            // The frustum from the sharp edge down to the shank.
            HeadKind::Countersunk => {
                let neck = self.diameter / 2.0;
                PI * height / 3.0 * (radius.powi(2) + radius * neck + neck.powi(2)) - self.socket_volume()
            }
        }
    }

    fn socket_volume(&self) -> f64 {
        hexagon_area(self.key) * self.socket_depth
    }
}

/// The heads of one standard in `data/fasteners.yaml`, as written.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct HeadGroup {
    kind: HeadKind,
    standard: String,
    drive: String,
    length_is_overall: bool,
    thread: ThreadLength,
    series_mm: Vec<f64>,
    sizes: Vec<HeadRow>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct HeadRow {
    size: String,
    /// Absent for a hexagon head, whose key says it.
    head_diameter_mm: Option<f64>,
    head_height_mm: f64,
    key_mm: f64,
    /// Absent for a hexagon head.
    socket_depth_mm: Option<f64>,
    shortest_mm: f64,
    longest_mm: f64,
    source: String,
}

/// One [`Head`] a size of each group.
pub(super) fn rows(groups: Vec<HeadGroup>, threads: &BTreeMap<String, Thread>) -> Vec<Head> {
    groups.into_iter().flat_map(|group| group.rows(threads)).collect()
}

impl HeadGroup {
    fn rows(mut self, threads: &BTreeMap<String, Thread>) -> Vec<Head> {
        let sizes = std::mem::take(&mut self.sizes);
        sizes
            .into_iter()
            .map(|row| Head {
                kind: self.kind,
                standard: self.standard.clone(),
                drive: self.drive.clone(),
                width: row.head_diameter_mm.unwrap_or_else(|| across_corners(row.key_mm)),
                height: row.head_height_mm,
                key: row.key_mm,
                socket_depth: row.socket_depth_mm.unwrap_or(0.0),
                lengths: (self.series_mm.iter().copied())
                    .filter(|length| (row.shortest_mm..=row.longest_mm).contains(length))
                    .collect(),
                length_is_overall: self.length_is_overall,
                thread_length: self.thread,
                diameter: thread_of(threads, &row.size).diameter,
                pitch_diameter: thread_of(threads, &row.size).pitch_diameter(),
                size: row.size,
                source: row.source,
            })
            .collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::catalogue::Catalogue;

    fn head(kind: HeadKind, size: &str) -> &'static Head {
        Catalogue::built_in().head(kind, size).unwrap()
    }

    fn grams(kind: HeadKind, size: &str, length: f64) -> f64 {
        head(kind, size).mass(length) * 1000.0
    }

    /// Public tables of the four standards, two or more for each but ISO 7380-1.
    #[test]
    fn heads_are_the_published_ones() {
        for (kind, size, diameter, height, key) in [
            (HeadKind::Button, "M4", 7.6, 2.2, 2.5),
            (HeadKind::Button, "M5", 9.5, 2.75, 3.0),
            (HeadKind::Button, "M6", 10.5, 3.3, 4.0),
            (HeadKind::Button, "M8", 14.0, 4.4, 5.0),
            (HeadKind::Button, "M10", 17.5, 5.5, 6.0),
            (HeadKind::Cap, "M4", 7.0, 4.0, 3.0),
            (HeadKind::Cap, "M5", 8.5, 5.0, 4.0),
            (HeadKind::Cap, "M6", 10.0, 6.0, 5.0),
            (HeadKind::Cap, "M8", 13.0, 8.0, 6.0),
            (HeadKind::Cap, "M10", 16.0, 10.0, 8.0),
            (HeadKind::Hex, "M4", 8.0829, 2.8, 7.0),
            (HeadKind::Hex, "M5", 9.2376, 3.5, 8.0),
            (HeadKind::Hex, "M6", 11.5470, 4.0, 10.0),
            (HeadKind::Hex, "M8", 15.0111, 5.3, 13.0),
            (HeadKind::Hex, "M10", 18.4752, 6.4, 16.0),
        ] {
            let head = head(kind, size);
            assert!((head.width - diameter).abs() < 1e-4, "{kind:?} {size}");
            assert!((head.height - height).abs() < 1e-9, "{kind:?} {size}");
            assert!((head.key - key).abs() < 1e-9, "{kind:?} {size}");
        }
    }

    /// ISO 10642, three public pages: theoretical dk = 2.24 d and k = (dk - d) / 2. The DIN 7991 head that
    /// libraries give under this number is smaller.
    #[test]
    fn a_countersunk_head_has_its_theoretical_size() {
        for (size, diameter, height) in [
            ("M4", 8.96, 2.48),
            ("M5", 11.2, 3.1),
            ("M6", 13.44, 3.72),
            ("M8", 17.92, 4.96),
            ("M10", 22.4, 6.2),
        ] {
            let head = head(HeadKind::Countersunk, size);
            assert!((head.width - diameter).abs() < 1e-9, "{size}");
            assert!((head.height - height).abs() < 1e-9, "{size}");
            assert!((head.height - (head.width - head.diameter) / 2.0).abs() < 1e-9, "{size}");
            assert!((head.width - 2.24 * head.diameter).abs() < 1e-9, "{size}");
            assert!(head.length_is_overall);
        }
    }

    #[test]
    fn heads_are_sound() {
        for head in Catalogue::built_in().heads.values() {
            let name = format!("{} {}", head.standard, head.size);
            assert!(head.width > 1.55 * head.diameter && head.height > 0.0, "{name}");
            assert_eq!(head.kind == HeadKind::Hex, head.socket_depth <= 0.0, "{name}");
            assert!(head.socket_depth < head.height, "{name}");
            assert_eq!(head.length_is_overall, head.kind == HeadKind::Countersunk, "{name}");
            let (standard, drive) = match head.kind {
                HeadKind::Button => ("ISO 7380-1", "hexagon socket"),
                HeadKind::Countersunk => ("ISO 10642", "hexagon socket"),
                HeadKind::Hex => ("ISO 4017", "hexagon"),
                HeadKind::Cap => ("ISO 4762", "hexagon socket"),
            };
            assert_eq!((head.standard.as_str(), head.drive.as_str()), (standard, drive));
            assert!(head.lengths.len() >= 9, "{name}");
            assert!(head.lengths.is_sorted_by(|a, b| a < b), "{name}");
            for pair in head.lengths.windows(2) {
                assert!(head.mass(pair[0]) > 0.0 && head.mass(pair[0]) < head.mass(pair[1]), "{name}");
            }
        }
    }

    /// The ends of the series are those of a public table; there is no 75 in any of these standards.
    #[test]
    fn the_next_length_of_the_series_is_picked() {
        let from = |kind, size, need| head(kind, size).length_from(need);
        assert_eq!(from(HeadKind::Hex, "M8", 71.0), Some(80.0));
        assert_eq!(from(HeadKind::Hex, "M6", 49.2), Some(50.0));
        assert_eq!(from(HeadKind::Hex, "M8", 51.2), Some(55.0));
        assert_eq!(from(HeadKind::Hex, "M6", 30.0 + 1e-9), Some(30.0), "rounding does not cost 5 mm");
        assert_eq!(from(HeadKind::Hex, "M6", 30.01), Some(35.0));
        assert_eq!(from(HeadKind::Hex, "M6", 60.5), None);
        assert_eq!(from(HeadKind::Hex, "M6", 1.0), Some(12.0));
        assert_eq!(from(HeadKind::Button, "M10", 81.0), Some(90.0));
        assert_eq!(from(HeadKind::Countersunk, "M6", 41.0), Some(50.0), "no 45 in ISO 10642");
    }

    /// ISO 4762: b = 2d + 12, read in a public table; ISO 4017 has no shank.
    #[test]
    fn the_thread_reaches_as_far_as_the_standard_says() {
        for (size, thread) in [("M4", 20.0), ("M5", 22.0), ("M6", 24.0), ("M8", 28.0), ("M10", 32.0)] {
            let cap = head(HeadKind::Cap, size);
            assert!((cap.threaded(40.0) - thread).abs() < 1e-9, "{size}");
            assert!((cap.shank(40.0) - (40.0 - thread)).abs() < 1e-9, "{size}");
            assert!(cap.shank(16.0).abs() < 1e-9, "{size}");
            assert!(head(HeadKind::Hex, size).shank(40.0).abs() < 1e-9, "{size}");
        }
        let countersunk = head(HeadKind::Countersunk, "M6");
        assert!((countersunk.shank(40.0) - (40.0 - 3.72 - 24.0)).abs() < 1e-9);
    }

    /// A public ISO 4762 (DIN 912) mass chart, kg per 1000. Its M5 column is lighter than any geometry gives.
    #[test]
    fn cap_screws_weigh_about_what_is_published() {
        for (size, within, chart) in [
            ("M4", 0.06, &[(10.0, 1.8), (16.0, 2.3), (20.0, 2.7), (30.0, 3.7), (40.0, 4.7)][..]),
            ("M5", 0.19, &[(10.0, 2.7), (20.0, 4.0), (30.0, 5.6), (40.0, 7.1), (50.0, 8.6)][..]),
            ("M6", 0.06, &[(10.0, 4.7), (16.0, 5.8), (20.0, 6.5), (30.0, 8.3), (60.0, 15.4)][..]),
            ("M8", 0.06, &[(12.0, 10.9), (20.0, 13.4), (30.0, 16.9), (50.0, 24.9), (80.0, 37.0)][..]),
            ("M10", 0.06, &[(16.0, 20.9), (25.0, 25.4), (40.0, 32.9), (60.0, 45.7), (80.0, 58.5)][..]),
        ] {
            for &(length, published) in chart {
                let mass = grams(HeadKind::Cap, size, length);
                assert!((mass / published - 1.0).abs() < within, "{size}x{length}: {mass} {published}");
            }
        }
    }

    /// The formula, worked for the reference table; M6x20 by hand:
    /// (86.6025 x 4 + pi/4 5.3505^2 20) 7.85e-3 = 6.249 g.
    #[test]
    fn hexagon_screws_weigh_what_the_formula_gives() {
        for (size, length, mass) in [
            ("M4", 20.0, 2.48),
            ("M5", 30.0, 5.24),
            ("M6", 20.0, 6.25),
            ("M8", 40.0, 18.83),
            ("M10", 50.0, 36.25),
        ] {
            assert!((grams(HeadKind::Hex, size, length) - mass).abs() < 0.006, "{size}");
        }
    }

    /// Worked by hand. M6 button, 20 long: cap pi 3.3/6 (3 5.25^2 + 3.3^2) = 161.69, socket 13.8564 x 2.08 =
    /// 28.82, rod 22.4842 x 20 = 449.68 mm3. M6 countersunk, 20 long: frustum pi 3.72/3 (6.72^2 + 6.72 3 + 9)
    /// = 289.52, socket 13.8564 x 2.5 = 34.64, rod 22.4842 x 16.28 = 366.04 mm3.
    #[test]
    fn button_and_countersunk_screws_weigh_what_their_shapes_give() {
        assert!((grams(HeadKind::Button, "M6", 20.0) - 4.5730).abs() < 0.001);
        assert!((grams(HeadKind::Countersunk, "M6", 20.0) - 4.8742).abs() < 0.001);
    }
}
