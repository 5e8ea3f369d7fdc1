//! A run in the way of what moves, or straight through what stands in the kit.

use crate::diag::{Finding, Findings, Rule, Severity};
use crate::finished::Finished;
use crate::geom::{Aabb, Point3, Vector3, VehicleFrame};
use crate::joints::Kit;
use crate::joints::solids::{Part, Solid, name};
use crate::layout::{Role, RunSummary};
use std::collections::BTreeSet;

/// mm of a run that are held against what turns at a time.
const PIECE: f64 = 20.0;

pub(super) static RULE: Rule = Rule {
    name: "run-in-the-way",
    severity: Severity::Error,
    finds: "A run that a drawer, a tray, a door or a lid strikes on its way, with neither end of the run on it.",
    why: "It is cut or torn off the first time that the drawer is opened.",
    failing: "\
bay: {width: 1040, depth: 1050, height: 800}
carcases:
  - {id: main, width: 1000, depth: 900, height: 300, panel: birch-12, cell: {drawer: {slide: heavy-800}}}
runs:
  - {id: feed, kind: cable, bundle: 12, from: {at: {x: 400, y: 300, z: 150}}, to: {at: {x: 400, y: -300, z: 150}}}
",
    passing: "\
bay: {width: 1040, depth: 1050, height: 800}
carcases:
  - {id: main, width: 1000, depth: 900, height: 300, panel: birch-12, cell: {drawer: {slide: heavy-800}}}
runs:
  - {id: feed, kind: cable, bundle: 12, from: {at: {x: 855, y: 300, z: 150}}, to: {at: {x: 855, y: -300, z: 150}}}
",
    source: "arithmetic",
};

pub(super) static THROUGH_PART: Rule = Rule {
    name: "run-through-part",
    severity: Severity::Warning,
    finds: "A run that goes straight through equipment, a slide, an angle, a fitting, or a bolt's head or nut.",
    why: "It is led round that, so it is longer than its row says, and its holes may lie elsewhere.",
    failing: "\
bay: {width: 1040, depth: 1050, height: 800}
carcases:
  - {id: main, width: 1000, depth: 900, height: 320, panel: birch-12, cell: {id: pocket, open: {}}}
equipment:
  - {id: tank, kind: water-tank-20, in: main-pocket}
runs:
  - {id: feed, kind: cable, bundle: 12, from: {at: {x: 450, y: 400, z: 100}}, to: {at: {x: 450, y: -400, z: 100}}}
",
    passing: "\
bay: {width: 1040, depth: 1050, height: 800}
carcases:
  - {id: main, width: 1000, depth: 900, height: 320, panel: birch-12, cell: {id: pocket, open: {}}}
equipment:
  - {id: tank, kind: water-tank-20, in: main-pocket}
runs:
  - {id: feed, kind: cable, bundle: 12, from: {at: {x: 850, y: 400, z: 100}}, to: {at: {x: 850, y: -400, z: 100}}}
",
    source: "arithmetic",
};

pub(super) fn run(finished: &Finished, findings: &mut Findings) {
    for (run, struck) in each(finished, strikes) {
        let message = format!("`{struck}` strikes it on its way");
        let help =
            "lead it elsewhere with `via`, e.g. behind the drawers, or let it begin or end on what moves";
        findings.push(Finding::new(&RULE, run.span, message).on(&run.name).help(help));
    }
}

pub(super) fn through_parts(finished: &Finished, findings: &mut Findings) {
    for (run, part) in each(finished, lies_in) {
        let message = format!("it goes straight through `{part}`");
        let help = "lead it round that with `via`, so that its length and its holes are right";
        findings.push(Finding::new(&THROUGH_PART, run.span, message).on(&run.name).help(help));
    }
}

/// What each run meets in the sense of `meets`, once by its name.
fn each(finished: &Finished, meets: fn(&Kit, &RunSummary, &Solid) -> bool) -> Vec<(&RunSummary, String)> {
    let kit = &finished.kit;
    if kit.layout.runs.is_empty() {
        return Vec::new();
    }
    let solids = kit.solids();
    let met = |run: &RunSummary| -> BTreeSet<String> {
        let met = solids.iter().filter(|solid| meets(kit, run, solid));
        // Of a drawer and its slides and bolts the drawer; of what stands, itself.
        let word = |solid: &Solid| match kit.layout.body(solid.body) {
            body if body.moves() => body.name.clone(),
            _ => name(kit, solid.part),
        };
        met.map(word).collect()
    };
    kit.layout.runs.iter().flat_map(|run| met(run).into_iter().map(move |name| (run, name))).collect()
}

/// Whether a solid that moves without the run strikes it on its way.
fn strikes(kit: &Kit, run: &RunSummary, solid: &Solid) -> bool {
    if run.bodies.contains(&solid.body) || matches!(solid.part, Part::Room(_) | Part::Coat(_)) {
        return false;
    }
    let body = kit.layout.body(solid.body);
    let half = run.bundle / 2.0;
    let mut stretches = run.way.windows(2);
    if let Some(swing) = body.swing {
        return stretches
            .any(|pair| pieces(pair[0], pair[1]).any(|piece| swing.strikes(solid.aabb, grown(piece, half))));
    }
    let is_lid = matches!(solid.part, Part::Panel(id) if kit.panel(id).role == Role::Lid);
    (body.slides() || is_lid) && {
        let way = grown(solid.aabb, half).swept(body.travel).swept(Vector3::new(0.0, 0.0, -body.drop));
        stretches.any(|pair| way.is_crossed_by(pair[0], pair[1]))
    }
}

/// Whether the middle of a run lies in a solid that stands.
fn lies_in(kit: &Kit, run: &RunSummary, solid: &Solid) -> bool {
    let own = matches!(solid.part, Part::Fixture(i) if run.fixtures.contains(&i));
    let counts = match solid.part {
        Part::Angle(_) | Part::Slide(_) | Part::Fixture(_) | Part::Hardware(_) | Part::Tie(_) => !own,
        Part::Panel(_) | Part::Room(_) | Part::Coat(_) | Part::Shank(_) => false,
    };
    // What moves is looked at by the other rule; with its own end it may lie beside it shut.
    counts
        && !kit.layout.body(solid.body).moves()
        && run.way.windows(2).any(|pair| solid.aabb.is_crossed_by(pair[0], pair[1]))
}

fn grown(aabb: Aabb, by: f64) -> Aabb {
    let by = Vector3::new(by, by, by);
    Aabb { low: aabb.low - by, high: aabb.high + by }
}

/// Boxes around short pieces of a straight line.
fn pieces(from: Point3<VehicleFrame>, to: Point3<VehicleFrame>) -> impl Iterator<Item = Aabb> {
    let n = ((to - from).length() / PIECE).ceil().max(1.0);
    let starts = (0..).map(f64::from).take_while(move |i| *i < n);
    starts.map(move |i| Aabb::around([from.lerp(to, i / n), from.lerp(to, (i + 1.0) / n)]))
}
