//! Bolts of slides: every fixing hole of both members is a through-bolt.
//!
//! The head lies in the member's channel, washer and nut on the far face of the panel. Two slides back to back
//! on one upright share a bolt where their holes line up: head in one channel, a thin nut in the other.

use super::model::Purpose;
use super::obstacles::Owner;
use super::place::{Candidate, Placer};
use super::rules;
use crate::catalogue::Hardware;
use crate::diag::Finding;
use crate::geom::tolerance::CONCENTRIC;
use crate::geom::{Aabb, Point3, Vector3, VehicleFrame};
use crate::layout::{BoardId, SlideMount};
use crate::number::decimal;

/// A fixing hole of a member that lies against a panel.
struct Fixing {
    mount: usize,
    /// Number of the hole, from the front.
    number: usize,
    /// On the panel's face.
    point: Point3<VehicleFrame>,
    /// From the panel's face into the panel.
    into: Vector3<VehicleFrame>,
}

impl Placer<'_> {
    /// Bolts of all slides.
    pub(super) fn slide_bolts(&mut self) {
        for index in 0..self.layout.mounts.len() {
            self.moving_member(index);
        }
        let mut fixings: Vec<Fixing> = Vec::new();
        for (index, mount) in self.layout.mounts.iter().enumerate() {
            let y = if mount.side > 0.0 { mount.fixed.low.y } else { mount.fixed.high.y };
            fixings.extend(mount.slide.fixed.iter().enumerate().map(|(i, at)| Fixing {
                mount: index,
                number: i + 1,
                point: Point3::new(mount.fixed.low.x + at, y, mount.height),
                into: Vector3::new(0.0, -mount.side, 0.0),
            }));
        }
        let mut shared = vec![false; fixings.len()];
        for i in 0..fixings.len() {
            if shared[i] {
                continue;
            }
            let partner =
                (i + 1..fixings.len()).find(|&j| !shared[j] && self.line_up(&fixings[i], &fixings[j]));
            if let Some(j) = partner {
                shared[j] = true;
            }
            self.fixed_member(&fixings[i], partner.map(|j| &fixings[j]));
        }
    }

    /// Whether two fixings lie opposite each other on one upright.
    fn line_up(&self, a: &Fixing, b: &Fixing) -> bool {
        let apart = b.point - a.point;
        if (apart - a.into * apart.dot(a.into)).length() >= CONCENTRIC {
            return false;
        }
        let board = |fixing: &Fixing| self.layout.mounts[fixing.mount].carcase_board;
        board(a) == board(b) || self.layout.side_behind(board(a)) == Some(board(b))
    }

    /// One bolt of the member on the carcase, perhaps shared with the slide on the other face.
    fn fixed_member(&mut self, fixing: &Fixing, partner: Option<&Fixing>) {
        let mount = &self.layout.mounts[fixing.mount];
        let other = partner.map(|partner| &self.layout.mounts[partner.mount].slide);
        // Another module's side behind this one is bolted through, too, where it is that large.
        let behind = self.layout.side_behind(mount.carcase_board).filter(|&behind| {
            let Aabb { low, high } = self.layout.board(behind).aabb;
            let p = fixing.point;
            p.x > low.x && p.x < high.x && p.z > low.z && p.z < high.z
        });
        let walls: Vec<BoardId> = std::iter::once(mount.carcase_board).chain(behind).collect();
        let far = walls.last().filter(|_| other.is_none());
        let finish = far.map_or(0.0, |&wall| self.layout.board(wall).under_bolt(fixing.into, fixing.point));
        let boards: f64 = walls.iter().map(|&wall| self.layout.board(wall).thickness()).sum();
        let thickness = boards + finish;
        let hardware = match other {
            Some(other) => self.catalogue.shared_slide_hardware(thickness, &mount.slide, other),
            None => self.catalogue.slide_hardware(thickness, &mount.slide),
        };
        let bolt = SlideBolt {
            name: format!("{}-fixed/{}", mount.name, fixing.number),
            boards: walls,
            between: thickness + mount.slide.wall + other.map_or(0.0, |other| other.wall),
            slides: std::iter::once(fixing.mount).chain(partner.map(|partner| partner.mount)).collect(),
            purpose: Purpose::SlideFixed,
        };
        self.slide_bolt(fixing, bolt, hardware);
    }

    /// The bolts of the member on the drawer.
    fn moving_member(&mut self, index: usize) {
        let mount = &self.layout.mounts[index];
        let board = mount.box_board;
        let outer = self.layout.board(board).aabb;
        let y = if mount.side > 0.0 { outer.low.y } else { outer.high.y };
        for (i, at) in mount.slide.moving.iter().enumerate() {
            let fixing = Fixing {
                mount: index,
                number: i + 1,
                point: Point3::new(mount.moving.low.x + at, y, mount.height),
                into: Vector3::new(0.0, mount.side, 0.0),
            };
            let finish = self.layout.board(board).under_bolt(fixing.into, fixing.point);
            let thickness = self.layout.board(board).thickness() + finish;
            let bolt = SlideBolt {
                name: format!("{}-moving/{}", mount.name, i + 1),
                boards: vec![board],
                between: thickness + mount.slide.wall,
                slides: vec![index],
                purpose: Purpose::SlideMoving,
            };
            let hardware = self.catalogue.slide_hardware(thickness, &mount.slide);
            self.slide_bolt(&fixing, bolt, hardware);
        }
    }

    fn slide_bolt(&mut self, fixing: &Fixing, bolt: SlideBolt, hardware: Result<Hardware, f64>) {
        let mount = &self.layout.mounts[fixing.mount];
        let (name, stack) = (bolt.name, bolt.between);
        let hardware = match hardware {
            Ok(hardware) => hardware,
            Err(least) => {
                self.no_length(&name, mount.span, &mount.slide.bolt, stack, least);
                return;
            }
        };
        self.check_head_room(mount, &hardware, &name);
        let origin = fixing.point - fixing.into * mount.slide.wall;
        let candidate = Candidate {
            purpose: bolt.purpose,
            direction: fixing.into,
            grip: stack,
            body: self.layout.board(bolt.boards[0]).body,
            panels: bolt.boards,
            held_in: None,
            slides: bolt.slides,
            angles: Vec::new(),
            fixture: None,
            padding: 0.0,
            slack: (0.0, 0.0),
            span: mount.span,
            hardware,
        };
        if let Some(owner) = self.met_at(&candidate, origin) {
            let what = self.owner_name(owner);
            let message = format!("the bolt `{name}` meets {what}");
            let help = match owner {
                Owner::Slide(_) => {
                    "two slides back to back must be alike, so that they share bolts, or stand at different heights: set `slide_height` of one of them"
                }
                _ => "set `slide_height`, or move what stands in its way",
            };
            let finding = Finding::new(&rules::SLIDE_BOLT_BLOCKED, mount.span, message).on(&mount.name);
            self.findings.push(finding.help(help));
        }
        self.keep(&candidate, origin, name);
    }

    fn check_head_room(&mut self, mount: &SlideMount, hardware: &Hardware, name: &str) {
        let (height, room) = (hardware.head.height, mount.slide.head_room);
        if height > room {
            let [height, room] = [height, room].map(|length| decimal(length, 2));
            let message = format!(
                "the head of `{name}` is {height} mm high; the channel of `{}` leaves {room} mm",
                mount.slide.id
            );
            self.findings.push(
                Finding::new(&rules::HEAD_HIGHER_THAN_CHANNEL, mount.span, message)
                    .on(&mount.name)
                    .help("take a slide with more room in its channel, or one with smaller bolts"),
            );
        }
    }
}

/// A slide's bolt, but for its place and hardware.
struct SlideBolt {
    name: String,
    /// From the slide outwards.
    boards: Vec<BoardId>,
    /// mm from head to nut: channels, boards, a finish on the far face.
    between: f64,
    slides: Vec<usize>,
    purpose: Purpose,
}
