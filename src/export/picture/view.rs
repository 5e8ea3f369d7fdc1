//! The kit in its bay: from the tailgate, from above, from the side, shut and open, and at a slant.
//!
//! Takes a finished design, gives drawings. True proportions; what is hidden is not drawn.

use super::bay_lines::{self, BayLine};
use super::canvas::{Along, Canvas, Dimension};
use super::label::{Label, Place, broken};
use super::painter::{self, Contour, Lines, Look, Solid};
use super::pens;
use super::{Area, Spot};
use crate::export::words;
use crate::finished::Finished;
use crate::geom::tolerance::SAME_LENGTH;
use crate::geom::{Aabb, PanelFrame, Path, Point2, Point3, Vector3, VehicleFrame};
use crate::layout::{Board, BoardId, Body, BodyId, OpeningKind, Role, around};
use crate::number::decimal;
use crate::spec::{Bay, Clearances};

/// Texts are so much smaller than the widest drawing: about 3 mm high where two drawings share a page's width.
const TEXTS_IN_WIDTH: f64 = 36.0;

/// A drawing of the kit.
#[derive(Debug)]
pub(crate) struct Shown {
    /// What one sees, as a caption.
    pub(crate) title: &'static str,
    /// What else there is to say of it; may be empty.
    pub(crate) note: &'static str,
    /// Whether the drawers are open.
    pub(crate) open: bool,
    /// Whether it is seen at a slant, from behind, from the right and from above.
    pub(crate) slanting: bool,
    /// The drawing.
    pub(crate) canvas: Canvas,
}

/// What is drawn: a kit, with the bay around it.
pub(super) struct Subject<'a> {
    /// Boards, fixtures, slides and angles as they are to be seen.
    pub(super) solids: Vec<Solid>,
    /// The box around all of them when everything is shut.
    pub(super) shut: Aabb,
    /// The bay.
    pub(super) bay: &'a Bay,
    /// What is kept from it.
    pub(super) clearances: &'a Clearances,
    /// The ways of cables, hoses and ducts; none where an end of one is elsewhere.
    pub(super) runs: Vec<&'a [Point3<VehicleFrame>]>,
}

impl<'a> Subject<'a> {
    fn of(finished: &'a Finished, open: bool, inside: bool) -> Self {
        let runs = finished.kit.layout.runs.iter().filter(|_| !open);
        Subject {
            solids: solids(finished, open, inside),
            shut: extent(&solids(finished, false, false)),
            bay: &finished.design.vehicle.bay,
            clearances: &finished.design.clearances,
            runs: runs.map(|run| run.way.as_slice()).collect(),
        }
    }
}

/// All drawings of the kit: the slanting one first. Those with drawers shut share a size of text, and so
/// do those with drawers open.
pub(crate) fn views(finished: &Finished) -> Vec<Shown> {
    let (text_shut, text_open) = (text_size(finished, false), text_size(finished, true));
    let moves = finished.kit.layout.bodies.iter().any(Body::moves);
    let slanted = |title, note, open, apart, text| Shown {
        title,
        note,
        open,
        slanting: true,
        canvas: slanting(finished, open, apart, text),
    };
    let mut shown = vec![slanted("The kit, shut", "", false, 0.0, text_shut)];
    if moves {
        shown.push(slanted("The kit, open", "Every drawer and tray fully out.", true, 0.0, text_open));
    }
    let note = "Boards moved off each other; angles, bolts and fittings left off.";
    shown.push(slanted("The kit, taken apart", note, moves, APART, text_open));
    let scenes = [
        (Look::Tailgate, false, false, "From the tailgate", ""),
        (
            Look::Tailgate,
            false,
            true,
            "From the tailgate, fronts left off",
            "Boxes, slides and corner angles.",
        ),
        (Look::Above, false, false, "From above", "The tailgate is at the bottom."),
        (Look::Right, false, false, "From the right side", "The tailgate is on the left."),
        (Look::Above, true, false, "From above, all open", "To show how far they come out."),
        (Look::Right, true, false, "From the right side, all open", "To show how far they come out."),
    ];
    for (look, open, inside, title, note) in scenes {
        if moves || !(open || inside) {
            let text = if open { text_open } else { text_shut };
            let canvas = straight(&Subject::of(finished, open, inside), look, text);
            shown.push(Shown { title, note, open, slanting: false, canvas });
        }
    }
    shown
}

/// mm of the kit that text is high in drawings with drawers shut or open.
fn text_size(finished: &Finished, open: bool) -> f64 {
    text_for(&finished.design.vehicle.bay, &solids(finished, open, false))
}

/// The same for any solids in a bay.
pub(super) fn text_for(bay: &Bay, solids: &[Solid]) -> f64 {
    let size = bay_lines::around(bay).joined(extent(solids)).size();
    size.x.max(size.y).max(size.z) / TEXTS_IN_WIDTH
}

/// The view from the tailgate, shut, as a file.
pub(crate) fn from_tailgate(finished: &Finished) -> String {
    let text = text_size(finished, false);
    let canvas = straight(&Subject::of(finished, false, false), Look::Tailgate, text);
    let style = pens::style(&canvas.marks().iter().map(|mark| mark.class.as_str()).collect());
    canvas.document("From the tailgate", &style)
}

/// A view square onto the bay.
pub(super) fn straight(subject: &Subject<'_>, look: Look, text: f64) -> Canvas {
    let Subject { solids, shut, bay, clearances, runs } = subject;
    let mut canvas = Canvas::new(text);
    let painted = look.painted(solids);
    for (shape, solid) in &painted {
        match look.seen(solid) {
            Some(corners) => canvas.polygon(solid.class, &corners),
            None => canvas.rectangle(solid.class, *shape),
        }
        for corners in look.openings(solid) {
            canvas.polygon("opening", &corners);
        }
        for stroke in look.lines(solid) {
            canvas.line("lettering", &stroke);
        }
    }
    // Over the kit, since arches and side lines may stand before it.
    let drawn = extent(solids);
    draw(&mut canvas, &bay_lines::lines(look, bay, clearances, drawn.high.z));
    draw_runs(&mut canvas, runs, |p| look.spot(p));
    for label in labels(look, &painted, text) {
        canvas.label("name", &label);
    }
    let around = look.area(bay_lines::around(bay));
    measure(&mut canvas, around, look.area(*shut), look.area(drawn));
    canvas
}

/// Names on what can be seen, each clear of whatever lies nearer.
fn labels(look: Look, painted: &[(Area, &Solid)], text: f64) -> Vec<Label> {
    let mut labels: Vec<Label> = Vec::new();
    for (i, (shape, solid)) in painted.iter().enumerate() {
        if solid.texts.is_empty() {
            continue;
        }
        let nearer =
            painted[i + 1..].iter().map(|(nearer, _)| *nearer).filter(|nearer| nearer.intersects(shape));
        let openings = look.openings(solid).into_iter().map(Area::from_points);
        let lettering = look.lines(solid).into_iter().map(Area::from_points);
        let covered = nearer.chain(openings).chain(lettering);
        let place = match look.seen(solid) {
            Some(corners) => Place::partly_covered(Path::polygon(corners).counter_clockwise(), covered),
            None => Place::rectangle(*shape, covered),
        };
        labels.extend(place.fit(&solid.texts, text));
    }
    labels
}

/// Overall sizes: the kit shut and how far it comes out in the first row, the bay in the second.
fn measure(canvas: &mut Canvas, bay: Area, shut: Area, drawn: Area) {
    let text = canvas.text_size();
    let all = Area::new(bay.min.min(drawn.min), bay.max.max(drawn.max));
    let rows = |step: f64| (all.min.y - step * text, all.max.x + step * text);
    let ((x_row, y_row), (x_bay, y_bay)) = (rows(2.0), rows(4.0));
    let mut along = |along: Along, line: f64, thing: f64, from: f64, to: f64| {
        if to - from > SAME_LENGTH {
            canvas.dimension(Dimension { along, from, to, line, thing });
        }
    };
    along(Along::X, x_row, all.min.y, drawn.min.x, shut.min.x);
    along(Along::X, x_row, all.min.y, shut.min.x, shut.max.x);
    along(Along::X, x_bay, all.min.y, bay.min.x, bay.max.x);
    along(Along::Y, y_row, all.max.x, drawn.min.y, shut.min.y);
    along(Along::Y, y_row, all.max.x, shut.min.y, shut.max.y);
    along(Along::Y, y_bay, all.max.x, bay.min.y, bay.max.y);
}

/// mm by which boards stand apart from the middle of their body in the picture of the kit taken apart.
const APART: f64 = 130.0;

/// The kit on the bay's floor, from behind, from the right and from above; with its boards `apart` mm off each other, without
/// what holds them.
fn slanting(finished: &Finished, open: bool, apart: f64, text: f64) -> Canvas {
    if apart == 0.0 {
        return slanted(&Subject::of(finished, open, false), text);
    }
    let mut solids = solids(finished, open, false);
    solids.retain(|solid| solid.class != "metal" && solid.class != "fixture");
    let mut canvas = Canvas::new(text);
    paint(&mut canvas, &taken_apart(finished, solids, apart));
    canvas
}

/// What there is on the bay's floor, from behind, from the right and from above.
pub(super) fn slanted(subject: &Subject<'_>, text: f64) -> Canvas {
    let mut solids = subject.solids.clone();
    solids.retain(|solid| solid.class != "metal");
    let mut canvas = Canvas::new(text);
    draw(&mut canvas, &bay_lines::floor(subject.bay));
    paint(&mut canvas, &solids);
    draw_runs(&mut canvas, &subject.runs, painter::slanting);
    canvas
}

/// The boards of one body off each other, seen at a slant: what is put together at a step.
pub(crate) fn body(finished: &Finished, body: BodyId) -> Canvas {
    let boards = &finished.kit.layout.boards;
    let size = around(boards.iter().filter(|board| board.body == body)).size();
    let all = taken_apart(finished, solids(finished, false, false), size.x.min(size.y).min(size.z) * 0.45);
    let own = all.into_iter().zip(boards).filter(|(_, board)| board.body == body);
    let solids: Vec<Solid> = own.map(|(solid, _)| solid).collect();
    let text = size.x.max(size.y).max(size.z) / TEXTS_IN_WIDTH;
    let mut canvas = Canvas::new(text);
    paint(&mut canvas, &solids);
    canvas
}

/// Solids at a slant, the farthest first.
fn paint(canvas: &mut Canvas, solids: &[Solid]) {
    let shapes: Vec<Vec<Aabb>> = solids.iter().map(Solid::pieces).collect();
    for i in painter::slanting_order(&shapes) {
        for (face, corners) in painter::faces(&solids[i]) {
            canvas.polygon(&format!("{} {face}", solids[i].class), &corners);
        }
        for corners in painter::openings(&solids[i]) {
            canvas.polygon("opening", &corners);
        }
        for stroke in painter::lines(&solids[i]) {
            canvas.line("lettering", &stroke);
        }
    }
}

/// Every board moved off the middle of its body along its own normal. Boards come first among the solids, in their order.
fn taken_apart(finished: &Finished, solids: Vec<Solid>, apart: f64) -> Vec<Solid> {
    let boards = &finished.kit.layout.boards;
    let middle = |aabb: Aabb| aabb.low.to_vector() / 2.0 + aabb.high.to_vector() / 2.0;
    let middles: Vec<Vector3<VehicleFrame>> = (0..finished.kit.layout.bodies.len())
        .map(|body| {
            let own = boards.iter().filter(|board| board.body == BodyId(body));
            middle(around(own))
        })
        .collect();
    let moved = |(solid, board): (Solid, &Board)| {
        let normal = board.normal();
        let off = (middle(board.aabb) - middles[board.body.0]).dot(normal);
        let by = if off.abs() < 1.0 { Vector3::zero() } else { normal * apart * off.signum() };
        solid.moved(by)
    };
    solids.into_iter().zip(boards).map(moved).collect()
}

/// Cables, hoses and ducts, over everything.
fn draw_runs(
    canvas: &mut Canvas,
    runs: &[&[Point3<VehicleFrame>]],
    spot: impl Fn(Point3<VehicleFrame>) -> Spot,
) {
    for run in runs {
        let way: Vec<Spot> = run.iter().map(|place| spot(*place)).collect();
        canvas.line("run", &way);
    }
}

/// The bay's own lines.
fn draw(canvas: &mut Canvas, lines: &[BayLine]) {
    for line in lines {
        if line.closed {
            canvas.polygon(line.class, &line.spots);
        } else {
            canvas.line(line.class, &line.spots);
        }
    }
}

/// The box around some solids.
pub(super) fn extent(solids: &[Solid]) -> Aabb {
    Aabb::around(solids.iter().flat_map(|solid| [solid.shape.low, solid.shape.high]))
}

/// A name, in one line or in several.
pub(super) fn name_texts(name: &str) -> Vec<Vec<String>> {
    [1, 2, 3].map(|n| broken(name, n)).to_vec()
}

/// A drawer's name and how far it comes out.
fn travel_texts(body: &Body) -> Vec<Vec<String>> {
    let out = format!("out {}", decimal(body.travel.length(), 1));
    let with = |n: usize| broken(&body.name, n).into_iter().chain([out.clone()]).collect();
    vec![with(1), with(2), vec![out.clone()]]
}

/// Boards, slides and angles as boxes.
fn solids(finished: &Finished, open: bool, inside: bool) -> Vec<Solid> {
    let kit = &finished.kit;
    let travel = |body: BodyId| if open { kit.layout.body(body).travel } else { Vector3::zero() };
    let moved = |shape: Aabb, by: Vector3<VehicleFrame>| Aabb { low: shape.low + by, high: shape.high + by };
    let has_no_front =
        |body: BodyId| !kit.layout.boards.iter().any(|board| board.body == body && board.role == Role::Front);
    let mut solids = Vec::new();
    for board in &kit.layout.boards {
        if inside && board.role == Role::Front {
            continue;
        }
        let body = kit.layout.body(board.body);
        let text = match board.role {
            Role::Front => Some(if body.moves() { &body.name } else { &board.name }),
            Role::BoxEnd if board.name.ends_with("-front") && (inside || has_no_front(board.body)) => {
                Some(&body.name)
            }
            Role::Deck if !inside => Some(&body.name),
            _ => None,
        };
        let is_floor = matches!(board.role, Role::BoxBottom | Role::Platform);
        let comes_out = open && (is_floor || board.role == Role::BoxSide && board.name.ends_with("-right"));
        let texts =
            if comes_out { travel_texts(body) } else { text.map_or_else(Vec::new, |name| name_texts(name)) };
        let class = class(words::role(board.role));
        let by = travel(board.body);
        let swing = body.swing.filter(|_| open);
        let turned = |contour: Contour| swing.map_or_else(|| contour.clone(), |swing| contour.turned(&swing));
        let whole = board.fills_its_box() && swing.is_none();
        let contour = (!whole).then(|| turned(contour(board, &board.shape, by)));
        // Hatches have their lids in them.
        let cut = board.openings.iter().filter(|opening| opening.kind != OpeningKind::Hatch);
        let openings = cut.map(|opening| turned(self::contour(board, &opening.path, by))).collect();
        let shape = swing
            .map_or_else(|| moved(board.aabb, by), |swing| Aabb::around(swing.turned(board.aabb).corners()));
        let sunk = board.role == Role::Lid;
        let lines = lettering(board, by).filter(|_| swing.is_none());
        solids.push(Solid { class, shape, contour, openings, lines, sunk, texts });
    }
    solids.extend(fittings(finished, open, inside));
    solids
}

/// The class in the style sheet of a panel with this word for its role.
pub(super) fn class(role: &str) -> &'static str {
    match role {
        "front" => "front",
        "box-side" | "box-end" | "box-bottom" | "platform" => "box",
        _ => "carcase",
    }
}

/// Fixtures, slides and angles as boxes. What turns with a door is left off an open one.
fn fittings(finished: &Finished, open: bool, inside: bool) -> Vec<Solid> {
    let kit = &finished.kit;
    let travel = |body: BodyId| if open { kit.layout.body(body).travel } else { Vector3::zero() };
    let moved = |shape: Aabb, by: Vector3<VehicleFrame>| Aabb { low: shape.low + by, high: shape.high + by };
    let mut solids = Vec::new();
    let metal = |shape: Aabb| Solid::plain("metal", shape);
    let left_off = |id: BoardId| inside && kit.layout.board(id).role == Role::Front;
    for fixture in kit.layout.fixtures.iter().filter(|fixture| !fixture.host.is_some_and(left_off)) {
        let by = travel(fixture.body);
        if open && kit.layout.body(fixture.body).swing.is_some() {
            continue;
        }
        let texts = |i: usize| if i == 0 { name_texts(&fixture.name) } else { Vec::new() };
        let boxes = fixture.solids.iter().enumerate();
        solids.extend(
            boxes.map(|(i, &shape)| Solid { texts: texts(i), ..Solid::plain("fixture", moved(shape, by)) }),
        );
    }
    for mount in &kit.layout.mounts {
        solids.push(metal(mount.fixed));
        solids.push(metal(moved(mount.moving, travel(mount.drawer))));
    }
    for piece in &kit.angles {
        solids.extend(piece.legs.map(|leg| metal(moved(leg, travel(piece.body)))));
    }
    solids
}

/// A board's true contour, or that of an opening, in the vehicle.
fn contour(board: &Board, path: &Path<PanelFrame>, by: Vector3<VehicleFrame>) -> Contour {
    let place = |p: Point2<PanelFrame>| board.placement.to_vehicle(Point3::new(p.x, p.y, 0.0)) + by;
    Contour {
        corners: path.flattened(ROUGHLY).into_iter().map(place).collect(),
        through: board.normal() * board.thickness(),
    }
}

/// What is engraved into a board's face A.
fn lettering(board: &Board, by: Vector3<VehicleFrame>) -> Option<Lines> {
    let on_face =
        |p: &Point2<PanelFrame>| board.placement.to_vehicle(Point3::new(p.x, p.y, board.thickness())) + by;
    let strokes = board.engravings.iter().flat_map(|engraving| &engraving.strokes);
    let strokes: Vec<_> = strokes.map(|stroke| stroke.iter().map(on_face).collect()).collect();
    (!strokes.is_empty()).then(|| Lines { out: board.normal(), strokes })
}

/// mm between an arc and the lines that are drawn for it: less than a line is thick.
pub(super) const ROUGHLY: f64 = 0.5;

#[cfg(test)]
mod tests {
    use super::*;
    use crate::example_kits as example;

    #[test]
    fn names_stay_on_what_they_name_and_off_each_other() {
        for spec in [example::ANGLES, example::TOWER, example::SIDE_BY_SIDE] {
            let finished = example::finished(spec);
            for (look, open, inside) in [
                (Look::Tailgate, false, false),
                (Look::Tailgate, false, true),
                (Look::Above, false, false),
                (Look::Above, true, false),
                (Look::Right, true, false),
            ] {
                let solids = solids(&finished, open, inside);
                let painted = look.painted(&solids);
                let labels = labels(look, &painted, 30.0);
                assert!(!labels.is_empty(), "{look:?} {open} {inside}");
                for (i, label) in labels.iter().enumerate() {
                    let area = label.area();
                    assert!(!labels[..i].iter().any(|other| other.area().intersects(&area)), "{label:?}");
                    // What is painted last where the label stands is one thing over the label's whole box.
                    let top = painted.iter().rfind(|(shape, _)| shape.intersects(&area));
                    assert!(top.is_some_and(|(shape, _)| shape.contains_box(&area)), "{label:?}");
                }
            }
        }
    }

    #[test]
    fn open_drawers_are_shown_with_their_travel() {
        let finished = example::finished(example::ANGLES);
        let shown = views(&finished).into_iter();
        let open: Vec<Shown> = shown.filter(|view| view.open && !view.slanting).collect();
        assert_eq!(open.len(), 2);
        for view in open {
            let text = view.canvas.svg(view.title, 0.0);
            assert!(text.contains(">out 800<") || text.contains("out 800</text>"), "{text}");
            assert!(text.contains("900</text>") && text.contains("1050</text>"), "{text}");
        }
    }

    #[test]
    fn a_kit_without_drawers_has_no_open_views() {
        let pocket = "\
bay: {width: 1040, depth: 1050, height: 800}
carcases:
  - {id: main, width: 600, depth: 600, height: 300, panel: birch-12, cell: {open: {}}}
";
        let titles: Vec<&str> = views(&example::finished(pocket)).iter().map(|view| view.title).collect();
        let wanted = [
            "The kit, shut",
            "The kit, taken apart",
            "From the tailgate",
            "From above",
            "From the right side",
        ];
        assert_eq!(titles, wanted);
    }
}
