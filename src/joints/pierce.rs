//! Holes from bolts: every board that a bolt's axis passes through gets its hole from it.

use super::model::{Bolt, BoltId, Bore, Countersink};
use crate::geom::rounded;
use crate::geom::tolerance::{CONCENTRIC, TOUCH};
use crate::geom::{Aabb, Point3, Vector3, VehicleFrame};
use crate::layout::{Board, BoardId, Layout, Opening, OpeningKind};
use rstar::{AABB, RTree, primitives::GeomWithData, primitives::Rectangle};

/// Holes of diameter `diameter(bolt)` in every board that a bolt's grip passes square through: the board, and its
/// hole.
pub(super) fn pierce(
    layout: &Layout,
    bolts: &[Bolt],
    diameter: impl Fn(&Bolt) -> f64,
) -> Vec<(BoardId, Bore)> {
    let tree = RTree::bulk_load(
        layout
            .boards
            .iter()
            .enumerate()
            .map(|(i, board)| {
                let (low, high) = (board.aabb.low, board.aabb.high);
                let corners = Rectangle::from_corners([low.x, low.y, low.z], [high.x, high.y, high.z]);
                GeomWithData::new(corners, BoardId(i))
            })
            .collect(),
    );
    let mut bores = Vec::new();
    for (i, bolt) in bolts.iter().enumerate() {
        let id = BoltId(i);
        let (from, to) = (bolt.origin, bolt.origin + bolt.direction * bolt.grip);
        let around = Aabb::around([from, to]);
        let (low, high) = (around.low, around.high);
        let window = AABB::from_corners([low.x, low.y, low.z], [high.x, high.y, high.z]);
        let mut met: Vec<BoardId> =
            tree.locate_in_envelope_intersecting(window).map(|entry| entry.data).collect();
        met.sort_unstable();
        for board in met {
            let Some(face_a_first) = goes_through(layout.board(board), from, to, bolt.direction) else {
                continue;
            };
            let (head, bore) = (&bolt.hardware.head, diameter(bolt));
            let sunk = head.length_is_overall && face_a_first && bolt.panels.first() == Some(&board);
            let depth = (head.width - bore) / 2.0;
            let countersink = sunk.then_some(Countersink { diameter: head.width, depth });
            let centre = layout.board(board).placement.to_panel(from).xy();
            bores.push((board, Bore { centre, diameter: bore, countersink, bolt: id }));
        }
    }
    bores
}

/// Whether an axis goes square through both faces of a board; then, whether it enters by face A.
fn goes_through(
    board: &Board,
    from: Point3<VehicleFrame>,
    to: Point3<VehicleFrame>,
    direction: Vector3<VehicleFrame>,
) -> Option<bool> {
    let square_on = board.normal().dot(direction);
    let (a, b) = (board.placement.to_panel(from), board.placement.to_panel(to));
    let through = square_on.abs() > 0.999_999
        && a.z.min(b.z) <= CONCENTRIC
        && a.z.max(b.z) >= board.thickness() - CONCENTRIC
        && board.has_material(a.xy(), TOUCH);
    through.then_some(square_on < 0.0)
}

/// The slot that stands in for a bolt's round hole, `diameter` mm wide, in a level board; `None` for a round hole.
pub(super) fn slot(board: &Board, bolt: &Bolt, diameter: f64) -> Option<Opening> {
    let (along, across) = bolt.slack;
    if along <= 0.0 && across <= 0.0 {
        return None;
    }
    let centre = board.placement.to_panel(bolt.origin).xy();
    let radius = diameter / 2.0;
    let slack = board.placement.direction_to_panel(Vector3::new(along, across, 0.0)).xy().abs();
    let path = rounded::slot(centre, slack, radius).ok()?;
    Some(Opening { kind: OpeningKind::BoltSlot, path: path.clockwise(), joint: bolt.name.clone() })
}
