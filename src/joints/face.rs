//! Faces bolted together: false fronts on their boxes, modules side by side.

use super::model::Purpose;
use super::place::{Candidate, Placer};
use super::stations;
use crate::catalogue::hardware::Bearing;
use crate::geom::{Aabb, Vector3, VehicleFrame};
use crate::layout::FaceMeeting;
use itertools::Itertools;

/// Thread size for a false front on its box.
const FRONT_SIZE: &str = "M5";

/// Thread size for two modules.
const MODULE_SIZE: &str = "M6";

impl Placer<'_> {
    /// Bolts through both boards, in rows and columns over their common face.
    pub(super) fn face_joint(&mut self, meeting: &FaceMeeting) {
        let (head, nut) = (self.layout.board(meeting.head), self.layout.board(meeting.nut));
        let default = if self.layout.body(head.body).moves() { FRONT_SIZE } else { MODULE_SIZE };
        let size = meeting.plan.size.as_ref().map_or(default, |size| size.value.as_str());
        let direction = self.towards(meeting);
        let flush = self.is_flush(meeting.head, -direction, size);
        let middle = meeting.contact.low + meeting.contact.size() / 2.0;
        let padding = if flush { 0.0 } else { head.under_bolt(-direction, middle) };
        let stack = padding + head.thickness() + nut.thickness() + nut.under_bolt(direction, middle);
        let hardware = match self.catalogue.joint_hardware(size, stack, flush, Bearing::Board) {
            Ok(hardware) => hardware,
            Err(least) => {
                self.no_length(&meeting.name, meeting.plan.span, size, stack, least);
                return;
            }
        };
        let diameter = hardware.thread.diameter;
        let candidate = Candidate {
            purpose: Purpose::Joint,
            direction,
            hardware,
            grip: stack,
            panels: vec![meeting.head, meeting.nut],
            held_in: None,
            body: head.body,
            slides: Vec::new(),
            angles: Vec::new(),
            fixture: None,
            padding,
            slack: (0.0, 0.0),
            span: meeting.plan.span,
        };
        let (long, short) = in_plane(meeting.contact, direction);
        let spacing = meeting.plan.spacing;
        let size = meeting.contact.size();
        let columns = stations::spread(size.dot(long), diameter, 2.0 * spacing);
        let rows = stations::spread(size.dot(short), diameter, spacing);
        let head_face = -direction * (head.thickness() + padding);
        let mut number = 0;
        for (&row, &column) in rows.iter().cartesian_product(&columns) {
            let start = meeting.contact.low + long * column + short * row + head_face;
            let least = stations::LEAST_FROM_END * diameter;
            let within = |shift: f64| (least..=size.dot(long) - least).contains(&(column + shift));
            if let Some(shift) = self.free_shift(&candidate, start, long, within) {
                number += 1;
                self.keep(&candidate, start + long * shift, format!("{}/{number}", meeting.name));
            }
        }
        if number < 2 {
            self.too_few_on_face(meeting, number);
        }
    }

    /// From the head's board to the nut's.
    fn towards(&self, meeting: &FaceMeeting) -> Vector3<VehicleFrame> {
        let (head, nut) = (self.layout.board(meeting.head), self.layout.board(meeting.nut));
        let apart = (nut.aabb.low + nut.aabb.size() / 2.0) - (head.aabb.low + head.aabb.size() / 2.0);
        let normal = head.normal();
        normal * normal.dot(apart).signum()
    }
}

/// The two directions within a flat box, the longer first.
fn in_plane(contact: Aabb, normal: Vector3<VehicleFrame>) -> (Vector3<VehicleFrame>, Vector3<VehicleFrame>) {
    let axes = [Vector3::new(1.0, 0.0, 0.0), Vector3::new(0.0, 1.0, 0.0), Vector3::new(0.0, 0.0, 1.0)];
    let size = contact.size();
    let mut plane = axes.into_iter().filter(|axis| axis.dot(normal).abs() < 0.5);
    let (a, b) = (plane.next().unwrap_or(axes[0]), plane.next().unwrap_or(axes[1]));
    if size.dot(a) >= size.dot(b) { (a, b) } else { (b, a) }
}
