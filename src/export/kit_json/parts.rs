//! Panels, bolts and fittings of `kit.json`.

use super::fitting::{Crossing, Cutout, Engraving, Finish, Fitting, Run, TieDown};
use super::model::{Bolt, Bore, Countersink, NutSlot, Opening, Panel, Washer};
use super::{corners, kg, mm, point, ratio, space, words};
use crate::catalogue;
use crate::finished::Finished;
use crate::geom::{PanelFrame, Point2};
use crate::joints::coating::Coating;
use crate::joints::{self, Kit};
use crate::layout::{self, BoardId, FixtureKind};

/// Every panel, in the kit's order.
pub(crate) fn panels(finished: &Finished) -> Vec<Panel> {
    let kit = &finished.kit;
    let all = kit.panels.iter().zip(&finished.figures).zip(&finished.masses.parts);
    all.enumerate()
        .map(|(i, ((panel, figures), mass))| {
            let (low, high) = panel.outline.bounds();
            let body = kit.layout.body(panel.body);
            Panel {
                name: panel.name.clone(),
                role: words::role(panel.role).to_owned(),
                carcase: body.carcase.clone(),
                body: body.name.clone(),
                material: panel.material.id.clone(),
                thickness: mm(panel.material.actual),
                nominal_thickness: mm(panel.material.nominal),
                density: ratio(panel.material.density()),
                grain: panel.material.grain,
                placement: placement(panel),
                size: [mm(high.x - low.x), mm(high.y - low.y)],
                outline: corners(&panel.outline),
                finishes: kit.coatings_of(BoardId(i)).map(finish).collect(),
                engravings: panel.engravings.iter().map(engraving).collect(),
                openings: panel
                    .openings
                    .iter()
                    .map(|opening| Opening {
                        kind: opening.kind.word().to_owned(),
                        joint: opening.joint.clone(),
                        points: corners(&opening.path),
                    })
                    .collect(),
                nut_slots: panel
                    .nut_slots
                    .iter()
                    .map(|slot| NutSlot {
                        u: mm(slot.centre.x),
                        v: mm(slot.centre.y),
                        bolt: kit.bolt(slot.bolt).name.clone(),
                    })
                    .collect(),
                bores: panel.bores.iter().map(|hole| bore(kit, hole)).collect(),
                area: mm(figures.net_area),
                volume: mm(figures.volume),
                mass: mass.mass,
                centre: point(mass.centre),
            }
        })
        .collect()
}

fn finish(coating: &Coating) -> Finish {
    let (coat, finish) = (&coating.coat, &coating.coat.finish);
    Finish {
        name: coat.name.clone(),
        kind: finish.id.clone(),
        face: words::face(coat.face_a).to_owned(),
        thickness: mm(finish.thickness),
        under_bolt: mm(finish.under_bolt),
        wraps: coat.wraps,
        area: mm(coating.on_face),
        edges: mm(coating.on_edges),
        areal_mass: ratio(finish.mass + finish.adhesive),
        mass: kg(coating.mass()),
        bare: coating.bare.iter().map(|aabb| space(*aabb)).collect(),
    }
}

/// Lengths of the matrix on the grid of all lengths, directions with more decimals.
fn placement(panel: &joints::Panel) -> [[f64; 4]; 4] {
    panel.placement.matrix().map(|[u, v, w, origin]| [ratio(u), ratio(v), ratio(w), mm(origin)])
}

fn bore(kit: &Kit, bore: &joints::Bore) -> Bore {
    Bore {
        u: mm(bore.centre.x),
        v: mm(bore.centre.y),
        diameter: mm(bore.diameter),
        depth: None,
        face: "A".to_owned(),
        bolt: kit.bolt(bore.bolt).name.clone(),
        countersink: bore
            .countersink
            .map(|sink| Countersink { diameter: mm(sink.diameter), depth: mm(sink.depth) }),
    }
}

/// One bolt with its hardware.
pub(super) fn bolt(kit: &Kit, bolt: &joints::Bolt) -> Bolt {
    let hardware = &bolt.hardware;
    let direction = bolt.direction;
    Bolt {
        name: bolt.name.clone(),
        purpose: words::purpose(bolt.purpose).to_owned(),
        origin: point(bolt.origin),
        direction: [ratio(direction.x), ratio(direction.y), ratio(direction.z)],
        thread: hardware.thread.size.clone(),
        diameter: mm(hardware.thread.diameter),
        length: mm(hardware.length),
        grip: mm(bolt.grip),
        head: words::head(hardware.head.kind).to_owned(),
        head_standard: hardware.head.standard.clone(),
        head_washer: hardware.head_washer.as_ref().map(washer),
        nut: hardware.nut.as_ref().map(|nut| words::nut(nut.kind).to_owned()),
        nut_standard: hardware.nut.as_ref().map(|nut| nut.standard.clone()),
        nut_washers: hardware.nut_washers.iter().map(washer).collect(),
        proud: mm(hardware.proud),
        panels: bolt.panels.iter().map(|&id| kit.panel(id).name.clone()).collect(),
        slack: [mm(bolt.slack.0), mm(bolt.slack.1)],
        held_in: bolt.held_in.map(|id| kit.panel(id).name.clone()),
        mass: kg(hardware.mass()),
    }
}

fn washer(washer: &catalogue::Washer) -> Washer {
    Washer {
        kind: words::washer(washer.kind).to_owned(),
        standard: washer.standard.clone(),
        outer: mm(washer.outer),
        thickness: mm(washer.thickness),
    }
}

/// Angles, slides, turnbuckles, fixtures.
pub(super) fn fittings(finished: &Finished) -> Vec<Fitting> {
    let kit = &finished.kit;
    let name_of = |id| kit.layout.body(id).name.clone();
    let angles = kit.angles.iter().map(|angle| Fitting::Angle {
        name: angle.name.clone(),
        section: angle.angle.id.clone(),
        length: mm(angle.length),
        holes: [0, 1].map(|leg: usize| angle.holes[leg].iter().map(|&at| mm(at)).collect()),
        hole_diameter: mm(angle.hole_diameter),
        legs: angle.legs.map(space),
        mass: kg(angle.mass()),
        body: name_of(angle.body),
    });
    let slides = kit.layout.mounts.iter().map(|mount| Fitting::Slide {
        name: mount.name.clone(),
        slide: mount.slide.id.clone(),
        rating_pair: mount.slide.rating_pair.map(kg),
        travel: mm(mount.slide.travel),
        mass: kg(mount.slide.mass_pair / 2.0),
        body: name_of(kit.layout.board(mount.carcase_board).body),
        drawer: name_of(mount.drawer),
        space: space(mount.fixed.joined(mount.moving)),
    });
    let ties = kit.ties.iter().map(|tie| Fitting::Turnbuckle {
        name: tie.name.clone(),
        size: tie.turnbuckle.size.clone(),
        from: point(tie.from),
        to: point(tie.to),
        length: mm((tie.to - tie.from).length()),
        mass: kg(tie.turnbuckle.mass()),
        body: name_of(tie.body),
        bolt: kit.bolt(tie.bolt).name.clone(),
        eye: space(tie.eye),
    });
    let fixtures = kit.layout.fixtures.iter().map(|fixture| Fitting::Fixture {
        name: fixture.name.clone(),
        title: fixture.title.clone(),
        item: fixture.item.clone(),
        equipment: fixture.kind == FixtureKind::Equipment,
        fill: kg(fixture.fill),
        mass: kg(fixture.mass),
        body: name_of(fixture.body),
        spaces: fixture.solids.iter().copied().map(space).collect(),
    });
    angles.chain(slides).chain(ties).chain(fixtures).collect()
}

fn engraving(engraving: &layout::Engraving) -> Engraving {
    let stroke = |stroke: &Vec<Point2<PanelFrame>>| stroke.iter().map(|p| [mm(p.x), mm(p.y)]).collect();
    Engraving {
        kind: words::engraving(engraving.kind).to_owned(),
        name: engraving.name.clone(),
        text: engraving.text.clone(),
        height: mm(engraving.height),
        strokes: engraving.strokes.iter().map(stroke).collect(),
    }
}

/// Every cut-out.
pub(super) fn cutouts(finished: &Finished) -> Vec<Cutout> {
    let layout = &finished.kit.layout;
    let cutouts = layout.cutouts.iter().map(|cutout| Cutout {
        name: cutout.name.clone(),
        panel: layout.board(cutout.host).name.clone(),
        what: cutout.what.clone(),
        size: cutout.size.map(mm),
        facing: words::towards(cutout.facing).to_owned(),
        middles: cutout.middles.iter().copied().map(point).collect(),
        behind: mm(cutout.behind),
        free_area: mm(cutout.free_area),
    });
    cutouts.collect()
}

/// Every tie-down.
pub(super) fn tie_downs(finished: &Finished) -> Vec<TieDown> {
    let layout = &finished.kit.layout;
    let tie_downs = layout.tie_downs.iter().map(|one| TieDown {
        name: one.name.clone(),
        panel: layout.board(one.host).name.clone(),
        title: one.title.clone(),
        middles: one.middles.iter().copied().map(point).collect(),
        rating: one.rating,
        strap_angle: one.strap_angle,
        holds: one.masses().map(kg),
    });
    tie_downs.collect()
}

/// Every run.
pub(super) fn runs(finished: &Finished) -> Vec<Run> {
    let layout = &finished.kit.layout;
    let crossing = |crossing: &layout::Crossing| Crossing {
        panel: layout.board(crossing.panel).name.clone(),
        opening: crossing.opening.clone(),
        middle: point(crossing.middle),
    };
    let runs = layout.runs.iter().map(|run| Run {
        name: run.name.clone(),
        kind: run.kind.word().to_owned(),
        ends: run.ends.clone(),
        bundle: mm(run.bundle),
        hole: mm(run.hole),
        way: run.way.iter().copied().map(point).collect(),
        length: mm(run.length()),
        slack: mm(run.slack),
        protected_within: run.protected_within.map(mm),
        crossings: run.crossings.iter().map(crossing).collect(),
    });
    runs.collect()
}
