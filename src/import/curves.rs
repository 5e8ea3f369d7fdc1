//! Curves of a drawing in millimetres, counted and within reach; ellipses as chords.

use super::contours::Curve;
use super::drawing::too_large;
use super::rules::COORDINATE_BAD;
use super::{Fault, shown};
use crate::geom::{PanelFrame, Vertex};
use std::fmt::Display;

/// Most corners of all contours together, blocks counted as often as they are put in.
const MOST_CORNERS: usize = 200_000;

/// mm. Farther from the origin, digits are lost.
const FARTHEST: f64 = 1e6;

/// The curves of a drawing so far.
pub(super) struct Curves<M> {
    curves: Vec<Curve<M>>,
    corners: usize,
}

impl<M> Default for Curves<M> {
    fn default() -> Self {
        Curves { curves: Vec::new(), corners: 0 }
    }
}

impl<M: Copy + Display> Curves<M> {
    /// Adds a curve, if it lies within reach.
    pub(super) fn add(
        &mut self,
        corners: Vec<Vertex<PanelFrame>>,
        closed: bool,
        mark: M,
    ) -> Result<(), Fault> {
        for corner in &corners {
            // A bulge of 10,000 leaves a ten-thousandth of a circle open. What is no number is not within.
            let within =
                corner.point.x.abs().max(corner.point.y.abs()) <= FARTHEST && corner.bulge.abs() <= 1e4;
            if !within || !corner.point.is_finite() {
                let message = format!(
                    "{mark} goes to {}, farther than 1 km from the origin, or bulges beyond a circle",
                    shown(corner.point)
                );
                let help = "move the drawing to the origin; is its unit right?";
                return Err(Fault::new(&COORDINATE_BAD, message, help));
            }
        }
        self.count(corners.len())?;
        self.curves.push(Curve { corners, closed, mark });
        Ok(())
    }

    /// Counts corners that are to come or might have come.
    pub(super) fn count(&mut self, corners: usize) -> Result<(), Fault> {
        self.corners += corners;
        few_enough(self.corners)
    }

    /// All of them, in the order in which they came.
    pub(super) fn into_all(self) -> Vec<Curve<M>> {
        self.curves
    }
}

/// A fault if there are more corners than a drawing may have.
pub(super) fn few_enough(corners: usize) -> Result<(), Fault> {
    if corners > MOST_CORNERS {
        return Err(too_large(&format!("more than {MOST_CORNERS} corners")));
    }
    Ok(())
}

/// A stretch of an ellipse: from the centre `long` times the cosine and `short` times the sine of an angle that goes
/// on from `start` by `sweep` (radians).
#[derive(Clone, Copy, Debug)]
pub(super) struct Swing {
    pub(super) centre: (f64, f64),
    pub(super) long: (f64, f64),
    pub(super) short: (f64, f64),
    pub(super) start: f64,
    pub(super) sweep: f64,
}

impl Swing {
    /// The point at a share of the sweep.
    pub(super) fn at(&self, share: f64) -> (f64, f64) {
        let (sin, cos) = (self.start + self.sweep * share).sin_cos();
        (
            self.centre.0 + self.long.0 * cos + self.short.0 * sin,
            self.centre.1 + self.long.1 * cos + self.short.1 * sin,
        )
    }

    /// Points whose chords stay within `chord` of the curve, both ends included. An ellipse is a circle seen aslant,
    /// so its chords are no farther off than those of a circle about it.
    pub(super) fn chords(self, chord: f64) -> impl Iterator<Item = (f64, f64)> {
        let (long, short) = (self.long.0.hypot(self.long.1), self.short.0.hypot(self.short.1));
        // Conjugate radii that are not at right angles are no longer than this, either.
        let aslant = (self.long.0 * self.short.0 + self.long.1 * self.short.1).abs() > 1e-9 * long * short;
        let radius = if aslant { long.hypot(short) } else { long.max(short) };
        let step = 2.0 * (1.0 - (chord / radius).min(1.0)).acos();
        let n = (self.sweep.abs() / step).ceil().clamp(4.0, MOST_CORNERS as f64);
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "4 <= n <= 200,000")]
        let n = n as u32;
        (0..=n).map(move |i| self.at(f64::from(i) / f64::from(n)))
    }
}
