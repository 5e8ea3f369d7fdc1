//! Hinges, latches and strikers of doors: what is bolted to strip, door and the board opposite.

use super::board::{BoardId, BodyId, Opening, OpeningKind};
use super::carcase::{Builder, FORWARD};
use super::door::Plan;
use super::door_rules as rules;
use super::fixture::{Fixture, FixtureBolt, FixtureKind};
use crate::catalogue::{Hinge, Latch};
use crate::diag::Span;
use crate::geom::tolerance::SAME_LENGTH;
use crate::geom::{Aabb, Path, Point3};
use crate::number::decimal;
use crate::spec::Door;

/// mm of edge for each further hinge. Common practice, no source.
const EDGE_PER_HINGE: f64 = 600.0;

/// mm from a door's corner to its first hinge's end, at least. Common practice, no source.
const HINGE_FROM_CORNER: f64 = 25.0;

impl Builder<'_> {
    /// The hinges, each in two halves; gives their number.
    pub(super) fn hinges(
        &mut self,
        name: &str,
        door: &Door,
        plan: &Plan,
        hinge: &Hinge,
        (strip, panel): (BoardId, BoardId),
    ) -> Option<usize> {
        let (low, high) = plan.door.reach(plan.along);
        let edge = high - low;
        let more = (edge / EDGE_PER_HINGE).floor();
        let count = door.count.map_or(2.0 + more, |count| f64::from(count.value));
        let margin = HINGE_FROM_CORNER + hinge.length / 2.0;
        let (from, to) = (low + margin, high - margin);
        if to - from < (count - 1.0) * (hinge.length + 10.0) {
            let message = format!(
                "its edge of {} mm is too short for {} hinges of {} mm",
                decimal(edge, 1),
                decimal(count, 0),
                decimal(hinge.length, 1)
            );
            let help = "take fewer or shorter hinges, or a larger door";
            self.door_fault(&rules::DOOR_DOES_NOT_FIT, name, door, message, help);
            return None;
        }
        let step = (to - from) / (count - 1.0);
        let places = std::iter::successors(Some(from), |at| Some(at + step));
        let places: Vec<f64> = places.take_while(|at| *at <= to + SAME_LENGTH).collect();
        for (i, middle) in places.iter().enumerate() {
            for (board, side, half) in [(strip, 1.0, "hinge"), (panel, -1.0, "hinge-leaf")] {
                let name = format!("{name}-{half}-{}", i + 1);
                let body = self.layout.board(board).body;
                let fixture = half_hinge(
                    (plan, hinge),
                    (*middle, side),
                    board,
                    bare(name, (body, Some(board)), door.span),
                );
                self.layout.fixtures.push(fixture);
            }
        }
        Some(places.len())
    }

    /// The latch in the door and its striker on the board opposite the hinges.
    pub(super) fn latch(
        &mut self,
        name: &str,
        door: &Door,
        plan: &Plan,
        latch: &Latch,
        panel: BoardId,
    ) -> Option<()> {
        let (free, _) = plan.door.reach(plan.out);
        let (low, high) = plan.door.reach(plan.along);
        let along = door.latch_at.map_or(f64::midpoint(low, high), |at| low + at.value);
        let (half_out, half_along) = plan.across_and_along(latch.plate.map(|side| side / 2.0));
        let least = (latch.striker.length / 2.0).max(half_along);
        if along - least < low || along + least > high || latch.from_edge < half_out {
            let message = format!(
                "its latch lies {} mm from the end of its edge of {} mm; {} mm are needed on either side",
                decimal((along - low).min(high - along), 1),
                decimal(high - low, 1),
                decimal(least, 1)
            );
            let help = "move it with `latch_at`, or take a smaller latch";
            self.door_fault(&rules::DOOR_DOES_NOT_FIT, name, door, message, help);
            return None;
        }
        let joint = format!("{name}-latch");
        let middle = (free + latch.from_edge, along);
        let board = self.layout.board(panel);
        let centre = board.placement.to_panel(plan.at(middle.0, middle.1)).xy();
        let (body, path) = (board.body, Path::circle(centre, latch.opening / 2.0).clockwise());
        let opening = Opening { kind: OpeningKind::Cutout, path, joint: joint.clone() };
        self.layout.boards[panel.0].openings.push(opening);
        let fixture = in_door((plan, latch), middle, panel, bare(joint, (body, Some(panel)), door.span));
        self.layout.fixtures.push(fixture);
        let name = format!("{name}-striker");
        let fixture = striker((plan, latch), along, bare(name, (self.body, Some(plan.boards.1)), door.span));
        self.layout.fixtures.push(fixture);
        Some(())
    }
}

/// One half of a hinge whose middle is at `middle` mm along the axis, on the strip's side (1) or the door's (-1). The
/// knuckle counts with the fixed half.
fn half_hinge(
    (plan, hinge): (&Plan, &Hinge),
    (middle, side): (f64, f64),
    board: BoardId,
    bare: Fixture,
) -> Fixture {
    let axis = plan.axis();
    let solid = |from: f64, to: f64, depth: f64| {
        let half = hinge.length / 2.0;
        let flat = Aabb::around([
            plan.at(axis + side * from, middle - half),
            plan.at(axis + side * to, middle + half),
        ]);
        Aabb { low: flat.low - FORWARD * depth, high: flat.high }
    };
    let radius = hinge.knuckle / 2.0;
    let leaf = solid(radius, hinge.leaf, hinge.thickness);
    let knuckle = (side > 0.0).then(|| solid(-radius, radius, hinge.knuckle));
    let bolts = hinge.bolts.iter().map(|at| FixtureBolt {
        boards: vec![board],
        size: hinge.bolt.clone(),
        origin: plan.at(axis + side * hinge.line, middle + at) - FORWARD * hinge.thickness,
        direction: FORWARD,
        flange: hinge.thickness,
        spreader: 0.0,
    });
    Fixture {
        kind: if side > 0.0 { FixtureKind::Fitting } else { FixtureKind::OtherHalf },
        title: hinge.title.clone(),
        item: hinge.id.clone(),
        mass: hinge.mass / 2.0,
        bolts: bolts.collect(),
        centre: leaf.low + leaf.size() / 2.0,
        solids: std::iter::once(leaf).chain(knuckle).collect(),
        ..bare
    }
}

/// The latch in its opening.
fn in_door(
    (plan, latch): (&Plan, &Latch),
    (out, along): (f64, f64),
    panel: BoardId,
    bare: Fixture,
) -> Fixture {
    let thickness = plan.front.size().x;
    let flat = |o: f64, a: f64| Aabb::around([plan.at(out - o, along - a), plan.at(out + o, along + a)]);
    let (half_out, half_along) = plan.across_and_along(latch.plate.map(|side| side / 2.0));
    let plate = flat(half_out, half_along);
    let plate = Aabb { low: plate.low - FORWARD * latch.flange, high: plate.high };
    let behind = flat(latch.opening / 2.0, latch.opening / 2.0);
    let behind = (latch.behind > thickness)
        .then(|| Aabb { low: behind.low + FORWARD * thickness, high: behind.high + FORWARD * latch.behind });
    let bolts = latch.bolts.iter().map(|at| {
        let (o, a) = plan.across_and_along(*at);
        FixtureBolt {
            boards: vec![panel],
            size: latch.bolt.clone(),
            origin: plan.at(out + o, along + a) - FORWARD * latch.flange,
            direction: FORWARD,
            flange: latch.flange,
            spreader: 0.0,
        }
    });
    Fixture {
        title: latch.title.clone(),
        item: latch.id.clone(),
        mass: latch.mass,
        bolts: bolts.collect(),
        centre: plan.at(out, along),
        solids: std::iter::once(plate).chain(behind).collect(),
        ..bare
    }
}

/// A plate on the inner face of the board opposite, behind the shut door.
fn striker((plan, latch): (&Plan, &Latch), along: f64, bare: Fixture) -> Fixture {
    let striker = &latch.striker;
    let from = plan.front.size().x + striker.behind;
    let corner = |depth: f64, o: f64, a: f64| plan.at(plan.opposite + o, along + a) + FORWARD * depth;
    let half = striker.length / 2.0;
    let solid =
        Aabb::around([corner(from, 0.0, -half), corner(from + striker.depth, striker.thickness, half)]);
    let bolts = striker.bolts.iter().map(|at| FixtureBolt {
        boards: vec![plan.boards.1],
        size: striker.bolt.clone(),
        origin: corner(from + striker.depth / 2.0, striker.thickness, *at),
        direction: -plan.out,
        flange: striker.thickness,
        spreader: 0.0,
    });
    Fixture {
        kind: FixtureKind::OtherHalf,
        title: format!("striker of the {}", latch.title),
        item: latch.id.clone(),
        bolts: bolts.collect(),
        centre: solid.low + solid.size() / 2.0,
        solids: vec![solid],
        ..bare
    }
}

/// A fitting of a door without bolts and mass.
pub(super) fn bare(name: String, (body, host): (BodyId, Option<BoardId>), span: Span) -> Fixture {
    Fixture {
        name,
        kind: FixtureKind::Fitting,
        title: String::new(),
        item: String::new(),
        host,
        body,
        solids: Vec::new(),
        bolts: Vec::new(),
        mass: 0.0,
        fill: 0.0,
        centre: Point3::origin(),
        span,
    }
}
