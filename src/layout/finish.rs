//! Finishes: which faces of which boards are covered.
//!
//! Takes what the spec asks for, gives boards their coats. What is left bare, since other parts bear there, is seen once all
//! parts are there.

use super::Layout;
use super::board::{Board, BoardId};
use super::cutout_rules::PANEL_UNKNOWN;
use super::finish_rules as rules;
use super::join::matches;
use super::on_panel::{Face, direction, towards};
use crate::catalogue::{Catalogue, Finish};
use crate::diag::{Finding, Findings, Span, did_you_mean};
use crate::geom::{PanelFrame, Point2, Point3, Vector2, Vector3, VehicleFrame};
use crate::number::decimal;
use crate::spec::{Design, FinishWish, FinishedFaces};
use std::sync::Arc;

/// A finish on one face of a board.
#[derive(Clone, Debug)]
pub(crate) struct Coat {
    /// Name that the spec gives the finish.
    pub(crate) name: String,
    /// What it is.
    pub(crate) finish: Arc<Finish>,
    /// Whether it is on face A.
    pub(crate) face_a: bool,
    /// Whether it is taken round free edges.
    pub(crate) wraps: bool,
    /// mm that stay bare along the edges where u and v are least, and where they are greatest.
    pub(crate) bare: [[f64; 2]; 2],
    /// Where it is asked for.
    pub(crate) span: Span,
}

impl Coat {
    /// The rectangle between its bare strips on a board: lower left and upper right corner.
    pub(crate) fn between_strips(&self, board: &Board) -> (Point2<PanelFrame>, Point2<PanelFrame>) {
        let (low, high) = board.shape.bounds();
        (low + Vector2::from(self.bare[0]), high - Vector2::from(self.bare[1]))
    }
}

impl Board {
    /// The coat on the face that looks `out`.
    pub(crate) fn coat(&self, out: Vector3<VehicleFrame>) -> Option<&Coat> {
        let square_on = self.normal().dot(out);
        self.coats.iter().find(|coat| square_on.abs() > 0.5 && coat.face_a == (square_on > 0.0))
    }

    /// mm of finish that are left under a head or nut that bears on the face that looks `out`, at a place.
    pub(crate) fn under_bolt(&self, out: Vector3<VehicleFrame>, place: Point3<VehicleFrame>) -> f64 {
        let Some(coat) = self.coat(out) else { return 0.0 };
        let p = self.placement.to_panel(place).xy();
        let (low, high) = coat.between_strips(self);
        let covered = (low.x..=high.x).contains(&p.x) && (low.y..=high.y).contains(&p.y);
        if covered { coat.finish.under_bolt } else { 0.0 }
    }
}

/// Gives boards their coats. `None` if a finish is for no panel, or for a face that has one; the findings say so.
pub(super) fn finishes(
    layout: &mut Layout,
    findings: &mut Findings,
    design: &Design,
    catalogue: &Catalogue,
) -> Option<()> {
    let mut complete = Some(());
    for wish in &design.finishes {
        let finish = catalogue.find_finish(findings, &wish.kind);
        let boards = boards(layout, findings, wish);
        let (Some(finish), Some(boards)) = (finish, boards) else {
            complete = None;
            continue;
        };
        for id in boards {
            let done = coat(layout, findings, (wish, &finish), id);
            complete = complete.and(done);
        }
    }
    complete
}

/// The boards that a finish is for; each pattern is for one at least.
fn boards(layout: &Layout, findings: &mut Findings, wish: &FinishWish) -> Option<Vec<BoardId>> {
    let mut wanted = vec![false; layout.boards.len()];
    let mut complete = Some(());
    for pattern in &wish.panels {
        let mut any = false;
        for (board, wanted) in layout.boards.iter().zip(&mut wanted) {
            if matches(&pattern.value, &board.name) {
                (*wanted, any) = (true, true);
            }
        }
        if !any {
            let message = format!("no panel is called `{}`", pattern.value);
            let names = layout.boards.iter().map(|board| board.name.as_str());
            let help = did_you_mean(&pattern.value, names);
            let help =
                help.unwrap_or_else(|| "the cut list names every panel; `*` stands for any signs".to_owned());
            findings.push(Finding::new(&PANEL_UNKNOWN, pattern.span, message).on(&wish.id.value).help(help));
            complete = None;
        }
    }
    complete?;
    Some(wanted.iter().enumerate().filter(|(_, wanted)| **wanted).map(|(i, _)| BoardId(i)).collect())
}

fn coat(
    layout: &mut Layout,
    findings: &mut Findings,
    (wish, finish): (&FinishWish, &Arc<Finish>),
    id: BoardId,
) -> Option<()> {
    let board = layout.board(id);
    let bare = bare(findings, wish, board)?;
    let faces: &[bool] = match wish.faces {
        FinishedFaces::A => &[true],
        FinishedFaces::B => &[false],
        FinishedFaces::Both => &[true, false],
    };
    for &face_a in faces {
        let board = &mut layout.boards[id.0];
        if let Some(other) = board.coats.iter().find(|coat| coat.face_a == face_a) {
            let face = if face_a { "A" } else { "B" };
            let message = format!("face {face} of `{}` has the finish `{}` already", board.name, other.name);
            let finding = Finding::new(&rules::FINISH_TWICE, wish.span, message).on(&wish.id.value);
            findings.push(
                finding
                    .also(other.span, "the other finish is here")
                    .help("name the panels or the `faces` of one of them"),
            );
            return None;
        }
        board.coats.push(Coat {
            name: wish.id.value.clone(),
            finish: Arc::clone(finish),
            face_a,
            // Round an edge it goes once.
            wraps: wish.wrap.unwrap_or(finish.wraps) && (face_a || faces.len() == 1),
            bare,
            span: wish.span,
        });
    }
    Some(())
}

/// The bare strips of a board, at the least u and v and at the greatest.
fn bare(findings: &mut Findings, wish: &FinishWish, board: &Board) -> Option<[[f64; 2]; 2]> {
    let mut bare = [[0.0; 2]; 2];
    for (edge, width) in &wish.bare {
        let way = board.placement.direction_to_panel(direction(*edge));
        let along = if way.x.abs() > 0.5 {
            0
        } else if way.y.abs() > 0.5 {
            1
        } else {
            let face = Face::of(board, board.normal());
            let has = [face.right, -face.right, face.up, -face.up].map(|way| towards(way).edge()).join(", ");
            let message = format!("`{}` has no {} edge", board.name, edge.edge());
            let finding = Finding::new(&PANEL_UNKNOWN, width.span, message).on(&wish.id.value);
            findings.push(finding.help(format!("its edges are {has}")));
            return None;
        };
        bare[usize::from([way.x, way.y][along] > 0.0)][along] = width.value;
    }
    let (low, high) = board.shape.bounds();
    for (along, length) in [high.x - low.x, high.y - low.y].into_iter().enumerate() {
        let taken = bare[0][along] + bare[1][along];
        if taken >= length {
            let message = format!(
                "strips of {} mm in all leave nothing of `{}`, {} mm wide there",
                decimal(taken, 1),
                board.name,
                decimal(length, 1)
            );
            let finding = Finding::new(&rules::FINISH_LEAVES_NOTHING, wish.span, message).on(&wish.id.value);
            findings.push(finding.help("make the strips under `bare` narrower, or leave the panel out"));
            return None;
        }
    }
    Some(bare)
}
