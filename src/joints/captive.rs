//! Corners held by tabs, slots and captive nuts: all of it can be cut flat on the bed.
//!
//! The edge board carries tabs that stand in slots of the face board, and T-shaped slots open to its edge. A
//! bolt goes through the face board and along the edge board's mid-plane into a nut held in the T's bar. Slots
//! and shoulders get relief for the round tool.

use super::model::{BoltId, NutSlot, Purpose};
use super::outline::{EdgeFeature, Feature, relieved_slot};
use super::place::{Candidate, Placer};
use super::{rules, stations};
use crate::catalogue::{Nut, hardware};
use crate::diag::Finding;
use crate::geom::{Point3, VehicleFrame, snap};
use crate::layout::{BoardId, Meeting, Opening, OpeningKind};
use crate::number::decimal;
use itertools::Itertools;

/// mm along the joint that a tab takes, at most. Common practice, no source.
const LONGEST_TAB: f64 = 60.0;

/// mm of edge between a tab or its relief and a nut slot, at least: what is left must hold. Common practice,
/// no source.
const LEAST_WEB: f64 = 8.0;

/// Bolt diameters of board between the edge and the nut. Common practice, no source.
const TO_NUT: f64 = 2.5;

/// mm by which the bar of a nut slot is longer than the nut is wide, and higher than it is high.
const NUT_PLAY: f64 = 0.3;

/// mm of flat board on each side of the stem that the nut pulls against, at least. Common practice, no source.
const LEAST_SHOULDER: f64 = 0.7;

/// mm that a slot is wider than the tool that cuts it, so that the tool can move.
const TOOL_PLAY: f64 = 0.1;

/// mm of stem beyond the bolt's end.
const BEYOND_BOLT: f64 = 2.0;

/// What a captive-nut joint adds to panels, beyond its bolts.
#[derive(Debug, Default)]
pub(super) struct Cuts {
    /// Tabs and nut slots along edges.
    pub(super) features: Vec<(BoardId, EdgeFeature)>,
    /// Slots for tabs.
    pub(super) openings: Vec<(BoardId, Opening)>,
    /// Nuts held in slots.
    pub(super) nut_slots: Vec<(BoardId, NutSlot)>,
}

impl Placer<'_> {
    /// Bolts, tabs and slots of one joint.
    pub(super) fn captive_joint(&mut self, meeting: &Meeting, cuts: &mut Cuts) {
        let (edge, face) = (self.layout.board(meeting.edge), self.layout.board(meeting.face));
        let (edge_thickness, face_thickness) = (edge.thickness(), face.thickness());
        let size = meeting.plan.size.as_ref().map(|size| size.value.clone());
        let Some(size) = size.or_else(|| self.catalogue.largest_captive_nut(edge_thickness)) else {
            self.nut_too_wide(meeting, "M4", edge_thickness);
            return;
        };
        let Some(thread) = self.thread(&size, meeting) else { return };
        let to_nut = TO_NUT * thread.diameter;
        let flush = self.is_flush(meeting.face, -meeting.into_edge, &size);
        let middle = meeting.start + meeting.along * (meeting.length / 2.0);
        let padding = if flush { 0.0 } else { face.under_bolt(-meeting.into_edge, middle) };
        let before = face_thickness + padding;
        let hardware = match hardware::choose_captive(self.catalogue, &size, before, to_nut, flush) {
            Ok(hardware) => hardware,
            Err(least) => {
                self.no_length(&meeting.name, meeting.plan.span, &size, before + to_nut, least);
                return;
            }
        };
        let Some(nut) = hardware.nut.clone() else { return };
        if nut.across_corners() > edge_thickness {
            self.nut_too_wide(meeting, &size, edge_thickness);
            return;
        }
        let Some(slot) = self.nut_slot(meeting, &hardware, &nut, to_nut) else { return };
        let candidate = Candidate {
            purpose: Purpose::Joint,
            direction: meeting.into_edge,
            grip: before + to_nut,
            panels: vec![meeting.face],
            held_in: Some(meeting.edge),
            body: edge.body,
            slides: Vec::new(),
            angles: Vec::new(),
            fixture: None,
            padding,
            slack: (0.0, 0.0),
            span: meeting.plan.span,
            hardware,
        };
        let placed = self.captive_bolts(meeting, &candidate, before);
        if placed.is_empty() {
            self.joint_without_bolts(meeting, "no bolt finds a free place");
            return;
        }
        let nut_depth = to_nut + nut.height / 2.0;
        for &(s, bolt) in &placed {
            cuts.features.push((meeting.edge, EdgeFeature::new(meeting, edge, s, slot)));
            let centre =
                edge.placement.to_panel(meeting.start + meeting.along * s + meeting.into_edge * nut_depth);
            cuts.nut_slots.push((meeting.edge, NutSlot { centre: centre.xy(), bolt }));
        }
        self.tabs(meeting, &placed, slot.half_width(), face_thickness, cuts);
    }

    /// Bolts along the joint: their positions and ids.
    fn captive_bolts(&mut self, m: &Meeting, candidate: &Candidate, before_edge: f64) -> Vec<(f64, BoltId)> {
        let diameter = candidate.hardware.thread.diameter;
        let least = stations::LEAST_FROM_END * diameter;
        let wanted: Vec<f64> = match &m.plan.at {
            Some(at) => at.value.iter().map(|at| at.value).collect(),
            None => stations::spread(m.length, diameter, m.plan.spacing),
        };
        let origin = |s: f64| m.start - m.into_edge * before_edge + m.along * s;
        let mut placed: Vec<(f64, BoltId)> = Vec::new();
        for s in wanted {
            let within = |shift: f64| (least..=m.length - least).contains(&(s + shift));
            let shift = match m.plan.at {
                Some(ref at) if (0.0..=m.length).contains(&s) => {
                    self.report_blocked(candidate, origin(s), &m.name, s, at.span);
                    Some(0.0)
                }
                Some(ref at) => {
                    let message =
                        format!("{} mm lies beyond this joint of {} mm", decimal(s, 2), decimal(m.length, 2));
                    let finding = Finding::new(&rules::BOLT_POSITION_OFF_JOINT, at.span, message).on(&m.name);
                    self.findings.push(finding.help(format!("between 0 and {} mm", decimal(m.length, 2))));
                    None
                }
                None => self.free_shift(candidate, origin(s), m.along, within),
            };
            let Some(shift) = shift else { continue };
            placed.push((s + shift, BoltId(self.bolts.len())));
            self.keep(candidate, origin(s + shift), format!("{}/{}", m.name, placed.len()));
        }
        placed
    }

    /// Tabs between the bolts, and the slots that take them. A tool that cuts the nut's slot cuts these, too: the
    /// nut fits in the board's thickness, and a tab's slot is at least that wide.
    fn tabs(&self, m: &Meeting, placed: &[(f64, BoltId)], nut_half: f64, projection: f64, cuts: &mut Cuts) {
        let (edge, face) = (self.layout.board(m.edge), self.layout.board(m.face));
        let relief = self.design.workshop.tool.diameter.value / 2.0;
        let mut stops: Vec<f64> = placed.iter().map(|&(s, _)| s).collect();
        stops.sort_by(f64::total_cmp);
        let keep_off = nut_half + LEAST_WEB + relief * std::f64::consts::SQRT_2;
        for (before, after) in stops.into_iter().tuple_windows() {
            let room = after - before - 2.0 * keep_off;
            let length = snap(room.min(LONGEST_TAB));
            if length < 2.0 * relief * std::f64::consts::SQRT_2 + LEAST_WEB {
                continue;
            }
            let middle = snap(f64::midpoint(before, after));
            let tab = Feature::Tab { length, projection, relief };
            cuts.features.push((m.edge, EdgeFeature::new(m, edge, middle, tab)));
            let fit = self.design.workshop.slot_fit.value;
            let corner = |along: f64, across: f64| -> Point3<VehicleFrame> {
                let thickness = edge.normal() * (across * (edge.thickness() + fit) / 2.0);
                m.start + m.along * (middle + along * (length + fit) / 2.0) + thickness
            };
            let ring = [(-1.0, -1.0), (1.0, -1.0), (1.0, 1.0), (-1.0, 1.0)]
                .map(|(along, across)| face.placement.to_panel(corner(along, across)).xy());
            let path = relieved_slot(ring, relief);
            cuts.openings.push((m.face, Opening { kind: OpeningKind::TabSlot, path, joint: m.name.clone() }));
        }
    }

    /// The T-shaped slot for a nut; a finding if the tool cannot cut it so that the nut is held.
    fn nut_slot(&mut self, m: &Meeting, h: &hardware::Hardware, nut: &Nut, to_nut: f64) -> Option<Feature> {
        let tool = &self.design.workshop.tool.diameter;
        let narrowest = tool.value + TOOL_PLAY;
        let (radius, half_nut) = (tool.value / 2.0, nut.height / 2.0);
        let stem = self.clearance_hole(&h.thread).max(narrowest);
        let bar_height = (nut.height + NUT_PLAY).max(narrowest);
        // The bar's ends are rounded by the tool. The nut's corners must lie inside them: where the corner is
        // within the rounding, the bar is longer by what the arc takes there.
        let flat = 0.5 * (bar_height - tool.value);
        let rise = (half_nut - flat).max(0.0);
        let to_arc = 0.5 * (nut.across_flats + NUT_PLAY) - (radius * radius - rise * rise).max(0.0).sqrt();
        let shoulder = to_arc - stem / 2.0;
        if shoulder < LEAST_SHOULDER {
            let message = format!(
                "a tool of {} mm leaves {} mm of flat shoulder beside the stem for an {} nut {} mm wide; {} mm are needed",
                decimal(tool.value, 2),
                decimal(shoulder.max(0.0), 2),
                h.thread.size,
                decimal(nut.across_flats, 1),
                decimal(LEAST_SHOULDER, 1)
            );
            self.findings.push(
                Finding::new(&rules::NUT_SLOT_NARROWER_THAN_TOOL, m.plan.span, message)
                    .on(&m.name)
                    .also(tool.span, "the tool is given here")
                    .help("take a thinner tool, a larger bolt, or an angle at this joint"),
            );
            return None;
        }
        let length = h.length - h.head_washer.as_ref().map_or(0.0, |washer| washer.thickness);
        let beyond_face = length - self.layout.board(m.face).thickness();
        let bar_end = to_nut + bar_height;
        Some(Feature::NutSlot {
            stem: snap(stem),
            bar_start: to_nut,
            bar_height: snap(bar_height),
            bar_length: snap(2.0 * (to_arc + radius)),
            depth: snap((beyond_face + BEYOND_BOLT).max(bar_end + radius)),
            radius,
        })
    }

    fn nut_too_wide(&mut self, m: &Meeting, size: &str, thickness: f64) {
        let nut = self.catalogue.nut(crate::catalogue::NutKind::Hex, size);
        let across = nut.map_or(0.0, Nut::across_corners);
        let message = format!(
            "an {size} nut is {} mm across its corners; the panel `{}` is {} mm thick",
            decimal(across, 2),
            self.layout.board(m.edge).name,
            decimal(thickness, 2)
        );
        self.findings.push(
            Finding::new(&rules::NUT_WIDER_THAN_PANEL, m.plan.span, message)
                .on(&m.name)
                .help("take a smaller bolt, a thicker panel, or an angle at this joint"),
        );
    }
}
