//! Tie-downs: bolted through a panel to a steel plate on its other side; and what one strap from them can hold.
//!
//! Takes what the spec asks for, adds fixtures with bolts and a summary for reports. A sum about straps that pull directly;
//! friction under the load counts for nothing.

use super::Layout;
use super::board::{Board, BoardId};
use super::carcase::{FORWARD, LEFT, REARWARD, UP};
use super::fixture::{Fixture, FixtureBolt, FixtureKind};
use super::on_panel::{Face, Finder, fault, on_board};
use super::tie_down_rules as rules;
use crate::catalogue::{Catalogue, TieDownKind};
use crate::diag::{Findings, Span};
use crate::geom::{PanelFrame, Path, Point2, Point3, Vector2, Vector3, VehicleFrame};
use crate::number::decimal;
use crate::spec::{Design, TieDown};

/// m/s2. Standard gravity (ISO 80000-3).
pub(crate) const GRAVITY: f64 = 9.806_65;
/// mm. From this nominal thickness on a panel carries a tie-down anywhere. A decision of this project.
const STIFF: f64 = 15.0;
/// mm. So near to a joint a thinner panel does, too. A decision of this project.
const NEAR_JOINT: f64 = 150.0;

/// A way in which a load presses on while the vehicle is driven hard. No crash.
#[derive(Clone, Copy, Debug)]
pub(crate) struct RestraintCase {
    /// Where the load goes, in words.
    pub(crate) way: &'static str,
    /// The force as a part of the load's weight.
    pub(crate) share: f64,
    /// Where the load goes; sideways the other way is as good.
    pub(crate) axis: Vector3<VehicleFrame>,
}

/// Hard braking, braking in reverse, cornering, and up where friction is relied on. Australian load restraint performance
/// standards (Load Restraint Guide 2018).
pub(crate) const RESTRAINT_CASES: [RestraintCase; 4] = [
    RestraintCase { way: "forward", share: 0.8, axis: FORWARD },
    RestraintCase { way: "rearward", share: 0.5, axis: REARWARD },
    RestraintCase { way: "sideways", share: 0.5, axis: LEFT },
    RestraintCase { way: "up", share: 0.2, axis: UP },
];

/// A tie-down as laid out, or several alike.
#[derive(Clone, Debug)]
pub(crate) struct TieDownSummary {
    /// Its name; several alike are NAME-1, NAME-2 and so on.
    pub(crate) name: String,
    /// What it is.
    pub(crate) title: String,
    /// The panel that it is on.
    pub(crate) host: BoardId,
    /// The middle of each, on the panel's face.
    pub(crate) middles: Vec<Point3<VehicleFrame>>,
    /// Out of the face.
    pub(crate) out: Vector3<VehicleFrame>,
    /// N.
    pub(crate) rating: f64,
    /// Degrees between the strap and the panel.
    pub(crate) strap_angle: f64,
    /// mm. Width, height and thickness of the spreader.
    pub(crate) spreader: [f64; 3],
    /// kg that one strap is to hold, if the spec says so.
    pub(crate) holds: Option<f64>,
    /// Where it is described.
    pub(crate) span: Span,
}

impl TieDownSummary {
    /// kg that one strap holds directly in each of the [`RESTRAINT_CASES`], pulled to the rating: with its part off the panel
    /// where the panel looks that way, else with its part along it. F = a m g.
    pub(crate) fn masses(&self) -> [f64; 4] {
        RESTRAINT_CASES.map(|case| self.rating / self.pull(1.0, &case))
    }

    /// N with which a strap pulls at it that holds so many kg in one of the cases by itself.
    pub(crate) fn pull(&self, mass: f64, case: &RestraintCase) -> f64 {
        let (off, along) = self.strap_angle.to_radians().sin_cos();
        let part = if self.out.dot(case.axis).abs() > 0.5 { off } else { along };
        mass * case.share * GRAVITY / part
    }
}

/// Lays out every tie-down. `None` if one does not fit; the findings say why.
pub(super) fn tie_downs(
    layout: &mut Layout,
    findings: &mut Findings,
    design: &Design,
    catalogue: &Catalogue,
) -> Option<()> {
    let mut complete = Some(());
    for tie_down in &design.tie_downs {
        complete = complete.and(Job { layout, findings, tie_down }.lay_out(catalogue));
    }
    complete
}

struct Job<'a> {
    layout: &'a mut Layout,
    findings: &'a mut Findings,
    tie_down: &'a TieDown,
}

impl Job<'_> {
    fn lay_out(&mut self, catalogue: &Catalogue) -> Option<()> {
        let kind = catalogue.find_tie_down(self.findings, &self.tie_down.kind);
        let place = self.finder().find();
        let (kind, (host, face)) = (kind?, place?);
        let size = self.turned(kind.plate);
        let middles = self.finder().middles((host, &face), size)?;
        for (i, middle) in middles.iter().enumerate() {
            let name = self.tie_down.on.name(i);
            self.lies_on_panel((host, &face), *middle, (&name, &kind))?;
            self.is_supported((host, &face), *middle, (&name, &kind))?;
        }
        for (i, middle) in middles.iter().enumerate() {
            self.keep((host, &face), *middle, (self.tie_down.on.name(i), &kind));
        }
        self.layout.tie_downs.push(TieDownSummary {
            name: self.tie_down.on.id.value.clone(),
            title: kind.title.clone(),
            host,
            middles: middles.iter().map(|middle| face.at(*middle)).collect(),
            out: face.out,
            rating: self.tie_down.rating.map_or(kind.rating, |rating| rating.value),
            strap_angle: self.tie_down.strap_angle.value,
            spreader: kind.spreader,
            holds: self.tie_down.holds.map(|mass| mass.value),
            span: self.tie_down.on.span,
        });
        Some(())
    }

    fn finder(&mut self) -> Finder<'_> {
        Finder { layout: self.layout, findings: self.findings, on: &self.tie_down.on }
    }

    /// A vector of the catalogue's row as it lies on the face.
    fn turned(&self, [x, y]: [f64; 2]) -> Vector2<PanelFrame> {
        if self.tie_down.upright { Vector2::new(y, x) } else { Vector2::new(x, y) }
    }

    /// Plate and spreader have panel under all of them.
    fn lies_on_panel(
        &mut self,
        (host, face): (BoardId, &Face),
        middle: Point2<PanelFrame>,
        (name, kind): (&str, &TieDownKind),
    ) -> Option<()> {
        let [width, height, _] = kind.spreader;
        let board = self.layout.board(host);
        let lies = [kind.plate, [width, height]].into_iter().all(|size| {
            let half = self.turned(size) / 2.0;
            let corners = [(-1.0, -1.0), (1.0, -1.0), (1.0, 1.0), (-1.0, 1.0)];
            let corners = corners.map(|(x, y)| middle + Vector2::new(half.x * x, half.y * y));
            board.has_all_of(&on_board(board, face, &Path::polygon(corners)))
        });
        if lies {
            return Some(());
        }
        let [width, height] = [width.max(kind.plate[0]), height.max(kind.plate[1])].map(|mm| decimal(mm, 1));
        let message = format!(
            "not all of plate and spreader of `{name}` ({width} x {height} mm) lies on `{}`",
            board.name
        );
        let across = face.size().map(|mm| decimal(mm, 1)).join(" x ");
        let group =
            if self.tie_down.on.is_several() { "; the place of several is that of all together" } else { "" };
        let help =
            format!("move it off the edge or the opening; the panel is {across} mm, across and up{group}");
        fault(self.findings, &self.tie_down.on, &rules::TIE_DOWN_OFF_PANEL, (message, help));
        None
    }

    /// A thin panel is joined to another one near every bolt.
    fn is_supported(
        &mut self,
        (host, face): (BoardId, &Face),
        middle: Point2<PanelFrame>,
        (name, kind): (&str, &TieDownKind),
    ) -> Option<()> {
        let board = self.layout.board(host);
        if board.material.nominal >= STIFF {
            return Some(());
        }
        let joined: Vec<&Board> = (self.layout.meetings.iter())
            .filter_map(|meeting| match (meeting.edge == host, meeting.face == host) {
                (true, _) => Some(meeting.face),
                (_, true) => Some(meeting.edge),
                _ => None,
            })
            .map(|id| self.layout.board(id))
            .collect();
        let farthest = kind.bolts.iter().map(|bolt| {
            let place = face.at(middle + self.turned(*bolt));
            // Along the face only: how thick the panel is plays no part.
            let off = |other: &&Board| {
                let to = Vector3::new(
                    (other.aabb.low.x - place.x).max(place.x - other.aabb.high.x).max(0.0),
                    (other.aabb.low.y - place.y).max(place.y - other.aabb.high.y).max(0.0),
                    (other.aabb.low.z - place.z).max(place.z - other.aabb.high.z).max(0.0),
                );
                (to - face.out * to.dot(face.out)).length()
            };
            joined.iter().map(off).fold(f64::INFINITY, f64::min)
        });
        let farthest = farthest.fold(0.0, f64::max);
        if farthest <= NEAR_JOINT {
            return Some(());
        }
        let message = format!(
            "a bolt of `{name}` is {} mm from the next panel that `{}` is joined to, and that is sold as only {} mm thick",
            decimal(farthest, 1),
            board.name,
            decimal(board.material.nominal, 1)
        );
        let help = format!(
            "move it to within {NEAR_JOINT} mm of a side, a divider or a back, put it on one of them, or take a panel from {STIFF} mm on"
        );
        fault(self.findings, &self.tie_down.on, &rules::TIE_DOWN_UNSUPPORTED, (message, help));
        None
    }

    fn keep(
        &mut self,
        (host, face): (BoardId, &Face),
        middle: Point2<PanelFrame>,
        (name, kind): (String, &TieDownKind),
    ) {
        let thickness = self.layout.board(host).thickness();
        let [width, height, spreader] = kind.spreader;
        let (plate, back) = (self.turned(kind.plate) / 2.0, self.turned([width, height]) / 2.0);
        let before = face.over(middle - plate, middle + plate, kind.height, 0.0);
        let behind = face.over(middle - back, middle + back, -thickness, thickness + spreader);
        let bolts = kind.bolts.iter().map(|bolt| FixtureBolt {
            boards: vec![host],
            size: kind.bolt.clone(),
            origin: face.at(middle + self.turned(*bolt)) + face.out * kind.flange,
            direction: -face.out,
            flange: kind.flange,
            spreader,
        });
        self.layout.fixtures.push(Fixture {
            name,
            kind: FixtureKind::Fitting,
            title: format!("{} with spreader", kind.title),
            item: kind.id.clone(),
            host: Some(host),
            body: self.layout.board(host).body,
            solids: vec![before, behind],
            bolts: bolts.collect(),
            mass: kind.mass,
            fill: 0.0,
            centre: face.at(middle),
            span: self.tie_down.on.span,
        });
    }
}
