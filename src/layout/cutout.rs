//! Cut-outs: openings right through a panel, for air, cables and fittings.
//!
//! Takes the laid-out boards, gives them openings, so that every joint finds its bolts a place beside them; fittings
//! become fixtures with bolts, and the room behind is kept free. A cut-out lies in the plane of its panel: `across` to
//! the right and `up`, seen from the side that it faces.

use super::board::{Board, BoardId, Opening, OpeningKind};
use super::cutout_rules as rules;
use super::fixture::{Fixture, FixtureBolt, FixtureKind, KeepFree};
use super::hatch::legs;
use super::on_panel::{Face, Finder, fault, on_board, towards};
use super::{Layout, SlideMount};
use crate::catalogue::{Catalogue, PanelFitting};
use crate::diag::{Findings, Rule};
use crate::geom::rounded::{self, Corner};
use crate::geom::tolerance::{SAME_LENGTH, TOUCH};
use crate::geom::{Aabb, Arc as Round, PanelFrame, Path, Point2, Point3, Vector2, VehicleFrame};
use crate::number::decimal;
use crate::spec::{Cutout, CutoutShape, Design, Towards};
use std::sync::Arc;

/// mm of panel that must stay between a cut-out and an edge or another opening. Common practice, no source.
pub(crate) const LEAST_WEB: f64 = 10.0;

/// mm before and behind a panel in which nothing fixed may stand over a cut-out.
const AROUND: f64 = 1.0;

/// A cut-out as laid out: what its user wants to know.
#[derive(Clone, Debug)]
pub(crate) struct CutoutSummary {
    /// Its name.
    pub(crate) name: String,
    /// The panel that it is in.
    pub(crate) host: BoardId,
    /// What it is, in words.
    pub(crate) what: String,
    /// What its openings are called in their panels.
    pub(crate) openings: Vec<String>,
    /// mm. Width and height of one.
    pub(crate) size: [f64; 2],
    /// The middle of each, on the face that it faces.
    pub(crate) middles: Vec<Point3<VehicleFrame>>,
    /// mm2. Free area of all: what the fitting says, else all that is cut out.
    pub(crate) free_area: f64,
    /// mm of panel that it goes through.
    pub(crate) through: f64,
    /// The way that it faces.
    pub(crate) facing: Towards,
    /// mm that are free behind the face.
    pub(crate) behind: f64,
}

/// Lays out every cut-out. `None` if one does not fit; the findings say why.
pub(super) fn cutouts(
    layout: &mut Layout,
    findings: &mut Findings,
    design: &Design,
    catalogue: &Catalogue,
) -> Option<()> {
    let mut complete = Some(());
    for cutout in &design.cutouts {
        let mut job = Job { layout, findings, design, catalogue, cutout };
        complete = complete.and(job.lay_out());
    }
    complete
}

/// One cut-out on its way into the layout.
struct Job<'a> {
    layout: &'a mut Layout,
    findings: &'a mut Findings,
    design: &'a Design,
    catalogue: &'a Catalogue,
    cutout: &'a Cutout,
}

impl Job<'_> {
    fn finder(&mut self) -> Finder<'_> {
        Finder { layout: self.layout, findings: self.findings, on: &self.cutout.on }
    }

    fn lay_out(&mut self) -> Option<()> {
        let cutout = self.cutout;
        let fitting = match &cutout.shape {
            CutoutShape::Fitting(id) => Some(self.catalogue.find_panel_fitting(self.findings, id)),
            _ => None,
        };
        let place = self.finder().find();
        // Both names are looked up before either ends it.
        let (fitting, (host, face)) = (fitting.map_or(Some(None), |found| found.map(Some))?, place?);
        let shape = self.shape(fitting.as_deref())?;
        let (low, high) = shape.bounds();
        let middles = self.finder().middles((host, &face), high - low)?;
        let centred = shape.translated(-low.lerp(high, 0.5).to_vector());
        let hosts = self.hosts(host, &face);
        let half = (high - low) / 2.0;
        let thickness: f64 = hosts.iter().map(|id| self.layout.board(*id).thickness()).sum();
        for id in &hosts {
            let board = self.layout.board(*id).clone();
            let paths: Vec<_> =
                middles.iter().map(|middle| on_board(&board, &face, &at(&centred, *middle))).collect();
            self.stays_on_panel(&board, &paths)?;
        }
        for middle in &middles {
            let over = face.over(*middle - half, *middle + half, AROUND, thickness + AROUND);
            self.nothing_lies_there(&hosts, over)?;
        }
        self.keep(&hosts, &face, (&middles, &centred), fitting);
        Some(())
    }

    /// The panel, and with `through` those that lie flat against its other face.
    fn hosts(&self, host: BoardId, face: &Face) -> Vec<BoardId> {
        let mut hosts = vec![host];
        let plane = |id: BoardId, out: f64| {
            let Aabb { low, high } = self.layout.board(id).aabb;
            let along = face.out * out;
            low.to_vector().dot(along).max(high.to_vector().dot(along))
        };
        while let Some(&last) = hosts.last().filter(|_| self.cutout.through) {
            let back = -plane(last, -1.0);
            let next = self.layout.face_meetings.iter().find_map(|meeting| {
                let other = match (meeting.head == last, meeting.nut == last) {
                    (true, _) => meeting.nut,
                    (_, true) => meeting.head,
                    _ => return None,
                };
                let lies_behind = (plane(other, 1.0) - back).abs() <= SAME_LENGTH;
                (lies_behind && !hosts.contains(&other)).then_some(other)
            });
            match next {
                Some(next) => hosts.push(next),
                None => break,
            }
        }
        hosts
    }

    /// The shape of one opening, seen from before it, anywhere in the plane.
    fn shape(&mut self, fitting: Option<&PanelFitting>) -> Option<Path<PanelFrame>> {
        let tool = self.design.workshop.tool.diameter.value / 2.0;
        let origin = Point2::origin();
        let rectangle = |width: f64, height: f64, radius: f64| {
            let corners = [(0.0, 0.0), (width, 0.0), (width, height), (0.0, height)];
            rounded::closed(&corners.map(|(x, y)| Corner { point: Point2::new(x, y), radius })).ok()
        };
        let path = match (&self.cutout.shape, fitting) {
            (CutoutShape::Round(diameter), _) => Some(Path::circle(origin, diameter.value / 2.0)),
            (CutoutShape::Rectangle { width, height, radius }, _) => {
                rectangle(width.value, height.value, radius.map_or(tool, |radius| radius.value))
            }
            (CutoutShape::Slot { length, width, upright }, _) => {
                let (length, width) = (length.value, width.value);
                let (x, y) = if *upright { (width, length) } else { (length, width) };
                rectangle(x, y, width / 2.0)
            }
            (CutoutShape::Free { path, .. }, _) => Some(path.clone()),
            (CutoutShape::Fitting(_), Some(fitting)) => match fitting.opening.diameter {
                Some(diameter) => Some(Path::circle(origin, diameter / 2.0)),
                None => {
                    rectangle(fitting.opening.width, fitting.opening.height, fitting.opening.radius.max(tool))
                }
            },
            (CutoutShape::Fitting(_), None) => None,
        };
        let tightest = path.as_ref().map_or(0.0, tightest_corner);
        if tightest + SAME_LENGTH < tool {
            let message = if path.is_none() {
                format!(
                    "this shape is too small for its round corners; the tool's radius is {} mm",
                    decimal(tool, 2)
                )
            } else {
                format!(
                    "its tightest corner has a radius of {} mm, the tool one of {} mm",
                    decimal(tightest, 2),
                    decimal(tool, 2)
                )
            };
            let help = "give its corners more `radius`, make it larger, or take a smaller tool";
            self.fault(&rules::CUTOUT_CORNER_TOO_TIGHT, message, help);
            return None;
        }
        path
    }

    /// Every opening lies within the panel and leaves enough of it.
    fn stays_on_panel(&mut self, board: &Board, paths: &[Path<PanelFrame>]) -> Option<()> {
        for (i, path) in paths.iter().enumerate() {
            let inside = path.vertices().iter().all(|vertex| board.has_material(vertex.point, 0.0));
            let others = board.openings.iter().map(|opening| &opening.path).chain(&paths[..i]);
            let web = std::iter::once(&board.shape).chain(others).map(|other| path.apart(other));
            let web = if inside { web.fold(f64::INFINITY, f64::min) } else { 0.0 };
            // An opening around another one is as wrong as one over its edge.
            let around = board.openings.iter().any(|opening| swallows(path, &opening.path))
                || paths[..i].iter().any(|other| swallows(path, other) || swallows(other, path));
            if web + SAME_LENGTH >= LEAST_WEB && !around {
                continue;
            }
            let message = if inside && web > TOUCH && !around {
                format!(
                    "the opening comes within {} mm of an edge or another opening of `{}`; {LEAST_WEB} mm must stay",
                    decimal(web, 1),
                    board.name
                )
            } else {
                format!("the opening does not lie within `{}`, or lies over another opening", board.name)
            };
            let (low, high) = board.shape.bounds();
            let [length, width] = [high.x - low.x, high.y - low.y].map(|length| decimal(length, 1));
            let help = format!("move it or make it smaller; the panel is {length} x {width} mm");
            self.fault(&rules::CUTOUT_OFF_PANEL, message, help);
            return None;
        }
        Some(())
    }

    /// No other panel ends on the panel there, and no slide or angle lies on it.
    fn nothing_lies_there(&mut self, hosts: &[BoardId], over: Aabb) -> Option<()> {
        let host = hosts[0];
        let bodies: Vec<_> = hosts.iter().map(|id| self.layout.board(*id).body).collect();
        let boards = self.layout.boards.iter().enumerate();
        let boards =
            boards.filter(|(i, other)| bodies.contains(&other.body) && !hosts.contains(&BoardId(*i)));
        let boards = boards.map(|(_, other)| (&other.name, other.aabb));
        let angles = legs(self.layout).map(|(meeting, leg)| (&meeting.name, leg));
        let on_hosts =
            |mount: &&SlideMount| [mount.carcase_board, mount.box_board].iter().any(|id| hosts.contains(id));
        let slides = self.layout.mounts.iter().filter(on_hosts);
        let slides = slides.map(|mount| (&mount.name, mount.fixed.joined(mount.moving)));
        let blocking = boards.chain(angles).chain(slides).find(|(_, room)| room.overlap(over) > TOUCH);
        let Some(name) = blocking.map(|(name, _)| name.clone()) else { return Some(()) };
        let message = format!("`{name}` lies where `{}` would be cut out", self.layout.board(host).name);
        let help =
            "move the cut-out or make it smaller; `through: true` cuts panels that lie flat behind, too";
        self.fault(&rules::CUTOUT_BLOCKED, message, help);
        None
    }

    /// Puts openings, fixtures and the room behind into the layout.
    fn keep(
        &mut self,
        hosts: &[BoardId],
        face: &Face,
        (middles, centred): (&[Point2<PanelFrame>], &Path<PanelFrame>),
        fitting: Option<Arc<PanelFitting>>,
    ) {
        let cutout = self.cutout;
        let (low, high) = centred.bounds();
        let behind = cutout.behind.map(|behind| behind.value);
        let behind = behind.or(fitting.as_ref().map(|fitting| fitting.behind)).unwrap_or_default();
        let thickness: f64 = hosts.iter().map(|id| self.layout.board(*id).thickness()).sum();
        let body = self.layout.board(hosts[0]).body;
        for (i, middle) in middles.iter().enumerate() {
            let name = cutout.on.name(i);
            for id in hosts {
                let path = on_board(self.layout.board(*id), face, &at(centred, *middle)).clockwise();
                let opening = Opening { kind: OpeningKind::Cutout, path, joint: name.clone() };
                self.layout.boards[id.0].openings.push(opening);
            }
            let (low, high) = (*middle + low.to_vector(), *middle + high.to_vector());
            let room = (behind > thickness).then(|| face.over(low, high, -thickness, behind));
            match &fitting {
                Some(fitting) => self.fixture(hosts, face, (*middle, room), (name, fitting)),
                None => self.layout.kept_free.extend(room.map(|aabb| KeepFree {
                    name: format!("{name} (room behind)"),
                    aabb,
                    body,
                    for_air: false,
                    span: cutout.on.span,
                })),
            }
        }
        let given = fitting.as_ref().and_then(|fitting| fitting.air).map(|air| air * 100.0);
        let free = given.unwrap_or_else(|| centred.area().abs()) * middles.len() as f64;
        let size = high - low;
        self.layout.cutouts.push(CutoutSummary {
            name: cutout.on.id.value.clone(),
            host: hosts[0],
            what: fitting.map_or_else(|| word(&cutout.shape).to_owned(), |fitting| fitting.title.clone()),
            openings: (0..middles.len()).map(|i| cutout.on.name(i)).collect(),
            size: [size.x, size.y],
            middles: middles.iter().map(|middle| face.at(*middle)).collect(),
            free_area: free,
            through: thickness,
            facing: towards(face.out),
            behind,
        });
    }

    /// A fitting in its opening.
    fn fixture(
        &mut self,
        hosts: &[BoardId],
        face: &Face,
        (middle, room): (Point2<PanelFrame>, Option<Aabb>),
        (name, fitting): (String, &Arc<PanelFitting>),
    ) {
        let plate = fitting.plate.filter(|_| fitting.flange > 0.0).map(|[width, height]| {
            let half = Vector2::new(width, height) / 2.0;
            face.over(middle - half, middle + half, fitting.flange, 0.0)
        });
        let bolts = fitting.bolts.iter().map(|[x, y]| FixtureBolt {
            boards: hosts.to_vec(),
            size: fitting.bolt.clone().unwrap_or_default(),
            origin: face.at(middle + Vector2::new(*x, *y)) + face.out * fitting.flange,
            direction: -face.out,
            flange: fitting.flange,
            spreader: 0.0,
        });
        self.layout.fixtures.push(Fixture {
            name,
            kind: FixtureKind::Fitting,
            title: fitting.title.clone(),
            item: fitting.id.clone(),
            host: Some(hosts[0]),
            body: self.layout.board(hosts[0]).body,
            solids: plate.into_iter().chain(room).collect(),
            bolts: bolts.collect(),
            mass: fitting.mass,
            fill: 0.0,
            centre: face.at(middle),
            span: self.cutout.on.span,
        });
    }

    fn fault(&mut self, rule: &'static Rule, message: String, help: impl Into<String>) {
        fault(self.findings, &self.cutout.on, rule, (message, help));
    }
}

/// A path around the origin, with its middle elsewhere.
fn at(centred: &Path<PanelFrame>, middle: Point2<PanelFrame>) -> Path<PanelFrame> {
    centred.translated(middle.to_vector())
}

/// Whether one path runs around the other.
fn swallows(path: &Path<PanelFrame>, other: &Path<PanelFrame>) -> bool {
    other.vertices().iter().any(|vertex| path.contains(vertex.point))
}

/// mm. The least radius of a corner into which a tool inside a counter-clockwise path must go: 0 for a sharp one,
/// infinite for none.
fn tightest_corner(path: &Path<PanelFrame>) -> f64 {
    let sides: Vec<_> = path.sides().collect();
    let n = sides.len();
    let arcs =
        sides.iter().filter(|side| side.2 > 0.0).map(|(a, b, bulge)| Round::new(*a, *b, *bulge).radius);
    let sharp = (0..n).any(|i| {
        let (into, out) = (ends(sides[i]).1, ends(sides[(i + 1) % n]).0);
        into.cross(out) > SHARP
    });
    if sharp { 0.0 } else { arcs.fold(f64::INFINITY, f64::min) }
}

/// Sine of the turn from which on a corner is one.
const SHARP: f64 = 1e-3;

/// Directions in which a side begins and ends.
fn ends(
    (a, b, bulge): (Point2<PanelFrame>, Point2<PanelFrame>, f64),
) -> (Vector2<PanelFrame>, Vector2<PanelFrame>) {
    let chord = (b - a).normalize();
    // Half the included angle lies between chord and tangent; its tangent of a half is the bulge.
    let (cos, sin) = ((1.0 - bulge * bulge) / (1.0 + bulge * bulge), 2.0 * bulge / (1.0 + bulge * bulge));
    let turned = |sin: f64| Vector2::new(chord.x * cos - chord.y * sin, chord.x * sin + chord.y * cos);
    (turned(-sin), turned(sin))
}

fn word(shape: &CutoutShape) -> &'static str {
    match shape {
        CutoutShape::Round(_) => "round",
        CutoutShape::Rectangle { .. } => "rectangle",
        CutoutShape::Slot { .. } => "slot",
        CutoutShape::Free { .. } => "outline",
        CutoutShape::Fitting(_) => "fitting",
    }
}
