//! What was measured at stations, and what lies between: straight lines and split cells.
//!
//! [`Profile`] is a value along one way (a seat back's place by height), [`Relief`] one over a plane (a side of the
//! bay by length and height). Both are defined everywhere: beyond the first and last station the value stays.

/// mm. Farther than anything in a vehicle; where a profile or relief that "stays" ends all the same.
pub const FAR: f64 = 1e5;

/// A value at stations, straight in between, level beyond the ends.
#[derive(Clone, Debug, PartialEq)]
pub struct Profile {
    points: Vec<(f64, f64)>,
}

impl Profile {
    /// The same value everywhere.
    pub fn level(value: f64) -> Self {
        Profile { points: vec![(0.0, value)] }
    }

    /// Through points (station, value), whose stations rise. Without points it is zero everywhere.
    pub fn through(points: Vec<(f64, f64)>) -> Self {
        debug_assert!(points.windows(2).all(|pair| pair[0].0 < pair[1].0), "stations must rise: {points:?}");
        if points.is_empty() { Profile::level(0.0) } else { Profile { points } }
    }

    /// The points (station, value), stations rising; at least one.
    pub fn points(&self) -> &[(f64, f64)] {
        &self.points
    }

    /// The value at a station.
    pub fn at(&self, station: f64) -> f64 {
        let (first, last) = (self.points[0], self.points[self.points.len() - 1]);
        if station <= first.0 {
            return first.1;
        }
        let above = self.points.iter().position(|point| point.0 >= station);
        above.map_or(last.1, |i| straight(self.points[i - 1], self.points[i], station))
    }

    /// The least value.
    pub fn least(&self) -> f64 {
        self.points.iter().map(|point| point.1).fold(f64::INFINITY, f64::min)
    }

    /// The greatest value.
    pub fn greatest(&self) -> f64 {
        self.points.iter().map(|point| point.1).fold(f64::NEG_INFINITY, f64::max)
    }

    /// The same line moved by `along` stations outwards at both ends and by `up` in value: what is grown all
    /// round by a clearance.
    #[must_use]
    pub fn grown(&self, along: f64, up: f64) -> Self {
        let mut points: Vec<(f64, f64)> = self.points.iter().map(|&(s, value)| (s, value + up)).collect();
        let (first, last) = (points[0], points[points.len() - 1]);
        if along > 0.0 {
            points.insert(0, (first.0 - along, first.1));
            points.push((last.0 + along, last.1));
        }
        Profile { points }
    }
}

/// The value at `station` on the straight line through two points.
fn straight(a: (f64, f64), b: (f64, f64), station: f64) -> f64 {
    a.1 + (b.1 - a.1) * ((station - a.0) / (b.0 - a.0))
}

/// A value over a plane, at stations x heights. A cell between four readings is split into two triangles by the
/// diagonal from its least station and height to its greatest ones: a surface of flat pieces, so that the worst
/// place is always at a corner of something.
#[derive(Clone, Debug, PartialEq)]
pub struct Relief {
    stations: Vec<f64>,
    heights: Vec<f64>,
    /// By station, then by height.
    values: Vec<Vec<f64>>,
}

impl Relief {
    /// The same value everywhere.
    pub fn level(value: f64) -> Self {
        Relief { stations: vec![0.0], heights: vec![0.0], values: vec![vec![value]] }
    }

    /// From readings by station, then by height; both rise, and each station has a value for each height.
    pub fn new(stations: Vec<f64>, heights: Vec<f64>, values: Vec<Vec<f64>>) -> Self {
        debug_assert!(stations.len() == values.len() && values.iter().all(|row| row.len() == heights.len()));
        Relief { stations, heights, values }
    }

    /// Where it was measured, rising.
    pub fn stations(&self) -> &[f64] {
        &self.stations
    }

    /// At which heights it was measured, rising.
    pub fn heights(&self) -> &[f64] {
        &self.heights
    }

    /// The readings of each station, by height.
    pub fn values(&self) -> &[Vec<f64>] {
        &self.values
    }

    /// The value along the stations at one height, the breaks on the cells' diagonals included.
    pub fn along(&self, height: f64) -> Profile {
        let last = self.heights.len() - 1;
        let height = height.clamp(self.heights[0], self.heights[last]);
        let j = self.heights.iter().rposition(|&low| low <= height).unwrap_or(0).min(last.saturating_sub(1));
        let share = if last == 0 {
            0.0
        } else {
            (height - self.heights[j]) / (self.heights[j + 1] - self.heights[j])
        };
        let next = (j + 1).min(last);
        let mixed = |low: f64, high: f64| low * (1.0 - share) + high * share;
        let mut points: Vec<(f64, f64)> = Vec::new();
        for (i, (&x, row)) in self.stations.iter().zip(&self.values).enumerate() {
            // On the diagonal, the share of the way along is that of the way up.
            if i > 0 && share > 0.0 && share < 1.0 {
                points.push((mixed(self.stations[i - 1], x), mixed(self.values[i - 1][j], row[next])));
            }
            points.push((x, mixed(row[j], row[next])));
        }
        Profile { points }
    }

    /// Flat pieces (station, height, value) that cover the whole plane as far as [`FAR`].
    pub fn triangles(&self) -> Vec<[[f64; 3]; 3]> {
        let widened = |list: &[f64]| -> Vec<(f64, usize)> {
            let inner = list.iter().copied().enumerate().map(|(i, s)| (s, i));
            let ends = [(-FAR, 0), (FAR, list.len() - 1)];
            let mut all: Vec<(f64, usize)> = inner.chain(ends).collect();
            all.sort_by(|a, b| a.0.total_cmp(&b.0));
            all
        };
        let (stations, heights) = (widened(&self.stations), widened(&self.heights));
        let corner = |(x, i): (f64, usize), (z, j): (f64, usize)| [x, z, self.values[i][j]];
        let mut triangles = Vec::new();
        for x in stations.windows(2) {
            for z in heights.windows(2) {
                let (low, high) = (corner(x[0], z[0]), corner(x[1], z[1]));
                triangles.push([low, corner(x[1], z[0]), high]);
                triangles.push([low, high, corner(x[0], z[1])]);
            }
        }
        triangles
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_profile_is_straight_between_stations_and_level_beyond() {
        let profile = Profile::through(vec![(0.0, 1100.0), (300.0, 1020.0), (600.0, 1000.0)]);
        for (z, x) in [(-5.0, 1100.0), (0.0, 1100.0), (150.0, 1060.0), (450.0, 1010.0), (900.0, 1000.0)] {
            assert!((profile.at(z) - x).abs() < 1e-9, "{z}");
        }
        assert_eq!((profile.least(), profile.greatest()), (1000.0, 1100.0));
        assert_eq!(profile.grown(8.0, 2.0).points()[0], (-8.0, 1102.0));
    }

    #[test]
    fn a_cell_is_split_from_its_least_to_its_greatest_corner() {
        // 0 at the two corners of the diagonal, 10 at the other two: the valley runs along the diagonal.
        let relief = Relief::new(vec![0.0, 100.0], vec![0.0, 200.0], vec![vec![0.0, 10.0], vec![10.0, 0.0]]);
        assert_eq!(relief.along(100.0).points(), [(0.0, 5.0), (50.0, 0.0), (100.0, 5.0)]);
        assert_eq!(relief.along(-1.0).points(), [(0.0, 0.0), (100.0, 10.0)]);
        assert_eq!(relief.along(200.0).points(), [(0.0, 10.0), (100.0, 0.0)]);
        assert_eq!(relief.triangles().len(), 3 * 3 * 2);
        assert_eq!(Relief::level(7.0).along(3.0), Profile::level(7.0));
    }
}
