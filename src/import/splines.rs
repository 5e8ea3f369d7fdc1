//! Splines to chords within a tolerance that holds over the whole curve, not only where somebody looked.
//!
//! Takes control points and knots, gives points. Each stretch between two knots becomes a Bezier curve, which is halved
//! until its control points, between which it lies, are within the tolerance of its chord.

/// Highest degree that is read; drawing programs write 2 or 3, at most about 11.
const MOST_DEGREE: usize = 15;

/// Most halvings of one stretch.
const MOST_HALVINGS: u32 = 12;

/// A point times its weight, and the weight.
pub(super) type Weighted = [f64; 3];

/// A spline as drawn.
#[derive(Clone, Debug)]
pub(super) struct Spline {
    degree: usize,
    knots: Vec<f64>,
    controls: Vec<Weighted>,
}

impl Spline {
    /// A spline of control points with weights and knots; `None` if they contradict each other.
    pub(super) fn new(degree: usize, knots: Vec<f64>, controls: Vec<Weighted>) -> Option<Self> {
        let rising = knots.windows(2).all(|pair| pair[0] <= pair[1]);
        let counted = knots.len() == controls.len() + degree + 1 && controls.len() > degree;
        let positive = controls.iter().all(|control| control[2] > 1e-9);
        let sound = (1..=MOST_DEGREE).contains(&degree) && rising && counted && positive;
        sound.then_some(Spline { degree, knots, controls })
    }

    /// The Bezier curve of these control points: one stretch, all weights alike.
    pub(super) fn bezier<const N: usize>(controls: [(f64, f64); N]) -> Self {
        let knots = [0.0; N].into_iter().chain([1.0; N]).collect();
        Spline { degree: N - 1, knots, controls: controls.iter().map(|&(x, y)| [x, y, 1.0]).collect() }
    }

    /// Points whose chords stay within `chord` of the curve, both ends included.
    pub(super) fn flattened(&self, chord: f64) -> Vec<(f64, f64)> {
        let mut points = Vec::new();
        for span in self.degree..self.controls.len() {
            let (from, to) = (self.knots[span], self.knots[span + 1]);
            if to <= from {
                continue;
            }
            let bezier: Vec<Weighted> = (0..=self.degree).map(|i| self.blossom(span, i, from, to)).collect();
            if points.is_empty() {
                points.push(flat(bezier[0]));
            }
            halve(&bezier, chord, MOST_HALVINGS, &mut points);
        }
        points
    }

    /// The polar form of one stretch at `to` taken `n` times and `from` for the rest: its control point `n` as a
    /// Bezier curve (de Boor's recursion with an argument for each step).
    fn blossom(&self, span: usize, n: usize, from: f64, to: f64) -> Weighted {
        let p = self.degree;
        let mut d: Vec<Weighted> = self.controls[span - p..=span].to_vec();
        for r in 1..=p {
            let u = if r <= n { to } else { from };
            for j in (r..=p).rev() {
                let i = span - p + j;
                let (low, high) = (self.knots[i], self.knots[i + p - r + 1]);
                let t = if high > low { (u - low) / (high - low) } else { 0.0 };
                d[j] = mixed(d[j - 1], d[j], t);
            }
        }
        d[p]
    }
}

fn mixed(a: Weighted, b: Weighted, t: f64) -> Weighted {
    [0, 1, 2].map(|i| a[i] + (b[i] - a[i]) * t)
}

fn flat(p: Weighted) -> (f64, f64) {
    (p[0] / p[2], p[1] / p[2])
}

/// Adds the end of each chord of a Bezier curve.
fn halve(bezier: &[Weighted], chord: f64, halvings: u32, points: &mut Vec<(f64, f64)>) {
    let (start, end) = (flat(bezier[0]), flat(bezier[bezier.len() - 1]));
    let near = bezier.iter().all(|&control| distance(flat(control), start, end) <= chord);
    if near || halvings == 0 {
        points.push(end);
        return;
    }
    let mut level = bezier.to_vec();
    let (mut left, mut right) = (Vec::with_capacity(level.len()), Vec::with_capacity(level.len()));
    while let (Some(&first), Some(&last)) = (level.first(), level.last()) {
        left.push(first);
        right.push(last);
        level = level.windows(2).map(|pair| mixed(pair[0], pair[1], 0.5)).collect();
    }
    right.reverse();
    halve(&left, chord, halvings - 1, points);
    halve(&right, chord, halvings - 1, points);
}

/// Distance from a point to a chord.
fn distance(p: (f64, f64), a: (f64, f64), b: (f64, f64)) -> f64 {
    let (dx, dy) = (b.0 - a.0, b.1 - a.1);
    let length = dx * dx + dy * dy;
    let t = if length > 0.0 { (((p.0 - a.0) * dx + (p.1 - a.1) * dy) / length).clamp(0.0, 1.0) } else { 0.0 };
    (p.0 - a.0 - dx * t).hypot(p.1 - a.1 - dy * t)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A full circle of radius 10 as a rational curve of degree 2 with nine control points, the textbook case.
    #[test]
    fn a_circle_as_a_spline_keeps_its_radius() {
        let half = std::f64::consts::FRAC_1_SQRT_2;
        let corners =
            [(10, 0), (10, 10), (0, 10), (-10, 10), (-10, 0), (-10, -10), (0, -10), (10, -10), (10, 0)];
        let controls = corners.iter().enumerate().map(|(i, &(x, y))| {
            let weight = if i % 2 == 1 { half } else { 1.0 };
            [f64::from(x) * weight, f64::from(y) * weight, weight]
        });
        let knots = [0, 0, 0, 1, 1, 2, 2, 3, 3, 4, 4, 4].map(f64::from).to_vec();
        let spline = Spline { degree: 2, knots, controls: controls.collect() };
        let points = spline.flattened(0.01);
        assert!(points.len() > 30, "{}", points.len());
        for pair in points.windows(2) {
            let middle = f64::midpoint(pair[0].0, pair[1].0).hypot(f64::midpoint(pair[0].1, pair[1].1));
            assert!(
                (pair[1].0.hypot(pair[1].1) - 10.0).abs() < 1e-9 && middle > 9.99 && middle < 10.0,
                "{middle}"
            );
        }
    }

    /// y = x^3 from 0 to 2 as one stretch: control points by hand (0, 0, 0, 8 over thirds).
    #[test]
    fn a_cubic_lies_within_its_chords() {
        let controls = [(0.0, 0.0), (2.0 / 3.0, 0.0), (4.0 / 3.0, 0.0), (2.0, 8.0)];
        let spline = Spline {
            degree: 3,
            knots: [0, 0, 0, 0, 2, 2, 2, 2].map(f64::from).to_vec(),
            controls: controls.iter().map(|&(x, y)| [x, y, 1.0]).collect(),
        };
        let points = spline.flattened(0.001);
        assert!(points.iter().all(|&(x, y)| (y - x.powi(3)).abs() < 1e-12));
        assert_eq!((points[0], points[points.len() - 1]), ((0.0, 0.0), (2.0, 8.0)));
    }
}
