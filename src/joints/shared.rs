//! Bolts that hold two angles: where a leg is to lie on a board's face and the heads of an angle on its other face
//! stand there, the leg goes under those heads, and the bolts get as much longer as it is thick.
//!
//! So a wing's angle and the deck's lie back to back on a carcase's side, and one row of bolts holds both.

use super::angle::{LEAST_TO_END, Section};
use super::model::{Bolt, Purpose};
use super::place::Placer;
use crate::catalogue::Hardware;
use crate::catalogue::hardware::Bearing;
use crate::geom::tolerance::{CONCENTRIC, SAME_LENGTH};
use crate::geom::{Vector3, VehicleFrame};

/// Hole diameters from a hole's centre to a leg's free edge, at least: EN 1993-1-8 Table 3.3 (read on two public pages).
const IN_METAL: f64 = 1.2;

/// mm that a leg ends before a head that is not to hold it.
const END_PLAY: f64 = 1.0;

/// A bolt whose head a leg can go under.
#[derive(Clone, Debug)]
pub(super) struct Shared {
    /// Its index.
    pub(super) bolt: usize,
    /// mm along the joint.
    pub(super) at: f64,
    /// mm from the angle's heel.
    pub(super) gauge: f64,
    /// mm. Half of what its head takes along the joint.
    head: f64,
    /// mm from the end of a piece to its axis, at least.
    to_end: f64,
    /// What holds the stack with the leg.
    hardware: Hardware,
}

impl Placer<'_> {
    /// The bolts of this size through the face board alone whose heads stand where the leg on it is to lie, all at one
    /// distance from the heel, by place along the joint.
    pub(super) fn shareable(&self, section: &Section<'_>, size: &str) -> Vec<Shared> {
        let (m, angle) = (section.meeting, section.angle);
        let candidates = self.bolts.iter().enumerate().filter(|(_, bolt)| {
            bolt.panels == [m.face] && bolt.purpose == Purpose::Joint && bolt.held_in.is_none()
        });
        let mut found: Vec<Shared> = candidates
            .filter_map(|(i, bolt)| {
                let from_start = bolt.origin - m.start;
                let gauge = from_start.dot(section.inside) - section.edge_thickness / 2.0;
                let diameter = bolt.hardware.thread.diameter;
                let head = bolt.hardware.head_radius();
                let hole = self.clearance_hole(&bolt.hardware.thread);
                let lies_under = bolt.solids.head.is_some()
                    && bolt.direction.dot(m.into_edge) < -0.999_999
                    && (from_start.dot(m.into_edge) - bolt.padding).abs() < CONCENTRIC
                    && bolt.hardware.thread.size == size
                    && gauge >= angle.thickness + head - SAME_LENGTH
                    && gauge + IN_METAL * hole <= angle.leg + SAME_LENGTH;
                // The leg bears on the board itself.
                let stack = bolt.grip - bolt.padding + angle.thickness;
                let hardware = self.catalogue.joint_hardware(size, stack, false, Bearing::Metal).ok();
                let at = from_start.dot(m.along);
                let to_end = LEAST_TO_END * diameter;
                let shared = |hardware| Shared { bolt: i, at, gauge, head, to_end, hardware };
                hardware.filter(|_| lies_under).map(shared)
            })
            .collect();
        found.sort_by(|a, b| a.at.total_cmp(&b.at));
        let first = found.first().map(|shared| shared.gauge);
        found.retain(|shared| first.is_some_and(|gauge| (gauge - shared.gauge).abs() < CONCENTRIC));
        found
    }

    /// Lengthens bolts for a leg as thick as `by`, which leads from the face to the heads. Gives them as they were.
    pub(super) fn lengthened(&mut self, shared: &[&Shared], by: Vector3<VehicleFrame>) -> Vec<(usize, Bolt)> {
        let mut before = Vec::new();
        for shared in shared {
            let old = self.bolts[shared.bolt].clone();
            let new = Bolt {
                origin: old.origin + by + old.direction * old.padding,
                grip: old.grip + by.length() - old.padding,
                padding: 0.0,
                hardware: shared.hardware.clone(),
                ..old.clone()
            };
            self.replace(shared.bolt, new);
            before.push((shared.bolt, old));
        }
        before
    }
}

/// A stretch of the joint less what lies beside heads that are too near its ends to hold the leg.
pub(super) fn clear_of_heads((mut from, mut to): (f64, f64), shared: &[Shared]) -> (f64, f64) {
    for head in shared {
        if head.at + head.head > from && head.at < from + head.to_end {
            from = head.at + head.head + END_PLAY;
        }
    }
    for head in shared.iter().rev() {
        if head.at - head.head < to && head.at > to - head.to_end {
            to = head.at - head.head - END_PLAY;
        }
    }
    (from, to)
}
