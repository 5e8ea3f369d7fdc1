//! Rectangular plates held on four edges: Navier's double series, also for boards stiffer one way than the other.
//!
//! Small deflections (below half the thickness) of a thin plate (below a quarter of the shorter side), edges free
//! to turn but not to rise. The series and its constants: textbook theory of orthotropic plates. For plywood the
//! isotropic tables are unsafe: it resists twisting little, and bends 1.6 to 2 times as much as they say.

use crate::beam::clipped;
use std::f64::consts::PI;

/// A plate held on its four edges, by its sides and its stiffnesses.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Plate {
    /// mm, the side along x.
    pub a: f64,
    /// mm, the side along y.
    pub b: f64,
    /// N mm: stiffness of a strip along x, per mm of its width.
    pub dx: f64,
    /// N mm: stiffness of a strip along y, per mm of its width.
    pub dy: f64,
    /// N mm: stiffness against twisting together with what bending one way does the other way.
    pub h: f64,
    /// How much a stress along x narrows the plate along y, and a stress along y along x (Poisson's numbers);
    /// the first times `dy` is the second times `dx`.
    pub nu: (f64, f64),
}

/// What a plate bears.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Load {
    /// N/mm2 all over it.
    Spread(f64),
    /// A force spread evenly over a rectangle. What reaches beyond the plate is cut off, the force stays whole.
    /// A rectangle without size is a point: its deflection is right, its moments have no end (they grow with
    /// the number of terms) and mean nothing.
    Patch {
        /// N, the whole force.
        force: f64,
        /// mm, the rectangle's middle from the plate's corner.
        middle: (f64, f64),
        /// mm, the rectangle's sides along x and y.
        size: (f64, f64),
    },
    /// A force spread evenly over a straight line along x or y; cut off as a patch is.
    Line {
        /// N, the whole force.
        force: f64,
        /// mm, the line's middle from the plate's corner.
        middle: (f64, f64),
        /// mm.
        length: f64,
        /// Along x, otherwise along y.
        along_x: bool,
    },
}

/// How a plate bends at one place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bending {
    /// mm.
    pub deflection: f64,
    /// N mm/mm: moment that bends strips along x; over t^2/6 it is the stress along x.
    pub mx: f64,
    /// N mm/mm: moment that bends strips along y.
    pub my: f64,
}

/// Odd terms each way for a load all over the plate: deflection far within 1e-5 up to sides of 1 to 10.
const SPREAD_TERMS: usize = 64;

/// Terms in all for a force on a patch or line: about 300 each way. Leaves 1e-5 of a point's deflection.
const TERMS: f64 = 90_000.0;

/// How many times more terms across a line than along it: its moments settle slowly across it.
const ACROSS: f64 = 10.0;

/// One way's terms: the square of the wave number (1/mm2) and the load's share in it.
type Waves = Vec<(f64, f64)>;

impl Plate {
    /// One material alike in all directions: `modulus` N/mm2, Poisson's number `nu`, thickness mm.
    /// D = E t^3 / (12 (1 - nu^2)), textbook.
    pub fn isotropic(a: f64, b: f64, thickness: f64, modulus: f64, nu: f64) -> Self {
        let d = modulus * thickness.powi(3) / 12.0 / (1.0 - nu * nu);
        Plate { a, b, dx: d, dy: d, h: d, nu: (nu, nu) }
    }

    /// A board with moduli `ex`, `ey` along x and y and `g` against twisting in its plane, all N/mm2. `nu` is
    /// Poisson's number for a stress along x; that for a stress along y is `nu ey / ex`.
    ///
    /// `Dx = Ex t^3 / 12 / (1 - nu_xy nu_yx)`, `Dy` alike, `H = nu_xy Dy + 2 Dxy`, `Dxy = G t^3 / 12`: textbook.
    pub fn orthotropic(a: f64, b: f64, thickness: f64, ex: f64, ey: f64, g: f64, nu: f64) -> Self {
        let cube = thickness.powi(3) / 12.0;
        let other = nu * ey / ex;
        let (dx, dy) = (ex * cube / (1.0 - nu * other), ey * cube / (1.0 - nu * other));
        Plate { a, b, dx, dy, h: nu * dy + 2.0 * g * cube, nu: (nu, other) }
    }

    /// How the plate bends: in its middle under [`Load::Spread`], under the load's middle otherwise.
    ///
    /// Always the same number of terms. Deflections hold within 1e-5, moments under patches of a twentieth of a
    /// side and more and under lines within 0.5 %. A load wholly beside the plate bends nothing.
    pub fn bent(&self, load: &Load) -> Bending {
        match *load {
            Load::Spread(pressure) => {
                // q_mn = 16 q / (pi^2 m n): a load of 4 a b q / pi^2 whose shares are 1/m and 1/n.
                let force = pressure * self.a * self.b * 4.0 / (PI * PI);
                self.summed(force, &odd_waves(self.a), &odd_waves(self.b))
            }
            Load::Patch { force, middle, size } => self.under(force, middle, size, 1.0),
            Load::Line { force, middle, length, along_x: true } => {
                self.under(force, middle, (length, 0.0), 1.0 / ACROSS)
            }
            Load::Line { force, middle, length, along_x: false } => {
                self.under(force, middle, (0.0, length), ACROSS)
            }
        }
    }

    /// Under a force on a rectangle, with `favour` times as many terms along x as along y beside what the sides
    /// and stiffnesses ask for.
    fn under(&self, force: f64, middle: (f64, f64), size: (f64, f64), favour: f64) -> Bending {
        let along = (clipped(self.a, middle.0, size.0), clipped(self.b, middle.1, size.1));
        let (Some(x), Some(y)) = along else {
            return Bending { deflection: 0.0, mx: 0.0, my: 0.0 };
        };
        let (across, up) = self.reach(favour);
        self.summed(force, &load_waves(self.a, x, across), &load_waves(self.b, y, up))
    }

    /// How many terms along x and y, together about [`TERMS`], so that the last ones are alike stiff both ways.
    fn reach(&self, favour: f64) -> (usize, usize) {
        let ratio = self.a / self.b * (self.dy / self.dx).sqrt().sqrt() * favour;
        let across = (TERMS * ratio).sqrt().clamp(60.0, 1500.0).round();
        (whole(across), whole((TERMS / across).round()))
    }

    /// The double series: each pair of waves gives `4 F / (a b) c_m c_n / (Dx p^4 + 2 H p^2 q^2 + Dy q^4)`, with
    /// the wave numbers p and q; the moments follow from its curvatures.
    fn summed(&self, force: f64, along_x: &Waves, along_y: &Waves) -> Bending {
        let (mut deflection, mut curve_x, mut curve_y) = (0.0, 0.0, 0.0);
        for &(p, share) in along_x {
            let (own, mixed) = (self.dx * p * p, 2.0 * self.h * p);
            let (mut sum, mut curved) = (0.0, 0.0);
            for &(q, other) in along_y {
                let term = other / (own + q * (mixed + self.dy * q));
                sum += term;
                curved += q * term;
            }
            deflection += share * sum;
            curve_x += share * p * sum;
            curve_y += share * curved;
        }
        let scale = 4.0 * force / (self.a * self.b);
        Bending {
            deflection: scale * deflection,
            mx: scale * self.dx * (curve_x + self.nu.1 * curve_y),
            my: scale * self.dy * (curve_y + self.nu.0 * curve_x),
        }
    }
}

/// The odd waves of a load all over, read in the middle: shares 1, -1/3, 1/5, ...
fn odd_waves(side: f64) -> Waves {
    (0..SPREAD_TERMS)
        .map(|i| {
            let m = (2 * i + 1) as f64;
            let sign = if i % 2 == 0 { 1.0 } else { -1.0 };
            ((m * PI / side).powi(2), sign / m)
        })
        .collect()
}

/// The first waves of a load (middle, length), read at its middle: the square of the wave's height there, times
/// how much of it is left when averaged over the load's length. In the middle of a side the even waves are
/// nothing, so that only odd ones are taken.
fn load_waves(side: f64, (middle, length): (f64, f64), count: usize) -> Waves {
    let central = (middle / side - 0.5).abs() < 1e-9;
    (0..count)
        .map(|i| {
            let m = if central { 2 * i + 1 } else { i + 1 } as f64;
            let half = m * PI * length / (2.0 * side);
            let left = if half > 0.0 { half.sin() / half } else { 1.0 };
            let height = if central { 1.0 } else { (m * PI * middle / side).sin() };
            ((m * PI / side).powi(2), left * height * height)
        })
        .collect()
}

/// A rounded number as a count.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "rounded, from 60 to 1500")]
fn whole(number: f64) -> usize {
    number as usize
}

#[cfg(test)]
mod tests;
