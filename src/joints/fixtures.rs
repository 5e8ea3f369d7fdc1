//! Bolts of what is set into panels or stands on them: their places are given by its maker.

use super::model::Purpose;
use super::place::{Candidate, Placer};
use super::rules;
use crate::catalogue::hardware::Bearing;
use crate::diag::Finding;
use crate::layout::{Fixture, FixtureBolt};

impl Placer<'_> {
    /// The bolts of every fixture, fixture by fixture.
    pub(super) fn fixture_bolts(&mut self) {
        let layout = self.layout;
        for (index, fixture) in layout.fixtures.iter().enumerate() {
            for (i, bolt) in fixture.bolts.iter().enumerate() {
                self.fixture_bolt((index, fixture), bolt, format!("{}/{}", fixture.name, i + 1));
            }
        }
    }

    fn fixture_bolt(&mut self, (index, fixture): (usize, &Fixture), bolt: &FixtureBolt, name: String) {
        let boards: f64 = bolt.boards.iter().map(|id| self.layout.board(*id).thickness()).sum();
        // Where no nut has room behind the panel, its sunk head lies there and the nut on the fixture.
        let from_behind = bolt.spreader <= 0.0
            && bolt.boards.last().is_some_and(|&last| self.is_flush(last, bolt.direction, &bolt.size));
        // What lies under flange and spreader is left bare.
        let last = bolt.boards.last().map(|&last| self.layout.board(last));
        let finish = last.filter(|_| !from_behind && bolt.spreader <= 0.0);
        let finish = finish.map_or(0.0, |board| board.under_bolt(bolt.direction, bolt.origin));
        let grip = boards + bolt.flange + bolt.spreader + finish;
        let hardware = if from_behind {
            self.catalogue.joint_hardware(&bolt.size, grip, true, Bearing::Metal)
        } else {
            let under_nut = if bolt.spreader > 0.0 { Bearing::Metal } else { Bearing::Board };
            self.catalogue.fixture_hardware(&bolt.size, grip, under_nut)
        };
        let hardware = match hardware {
            Ok(hardware) => hardware,
            Err(least) => return self.no_length(&name, fixture.span, &bolt.size, grip, least),
        };
        let (origin, direction, mut panels) = (bolt.origin, bolt.direction, bolt.boards.clone());
        let (origin, direction) = if from_behind {
            panels.reverse();
            (origin + direction * grip, -direction)
        } else {
            (origin, direction)
        };
        let candidate = Candidate {
            purpose: Purpose::Fixture,
            direction,
            hardware,
            grip,
            panels,
            held_in: None,
            body: fixture.body,
            slides: Vec::new(),
            angles: Vec::new(),
            fixture: Some(index),
            padding: 0.0,
            slack: (0.0, 0.0),
            span: fixture.span,
        };
        if let Some(owner) = self.met_exactly(&candidate, origin) {
            let message = format!("a bolt of `{}` meets {}", fixture.name, self.owner_name(owner));
            let finding = Finding::new(&rules::FIXTURE_BOLT_BLOCKED, fixture.span, message).on(&fixture.name);
            self.findings.push(finding.help("move it, or what stands there"));
            return;
        }
        self.keep(&candidate, origin, name);
    }
}
