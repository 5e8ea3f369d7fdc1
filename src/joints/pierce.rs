//! Holes from bolts: every board that a bolt's axis passes through gets its hole from it.

use super::model::{Bolt, BoltId, Bore, Countersink};
use crate::geom::tolerance::{CONCENTRIC, TOUCH};
use crate::geom::{Aabb, Point3, Vector3, VehicleFrame};
use crate::layout::{BoardId, Layout};
use rstar::{AABB, RTree, primitives::GeomWithData, primitives::Rectangle};

/// What the axes of all bolts do to the boards.
#[derive(Debug, Default)]
pub(super) struct Pierced {
    /// Hole by hole: the board, and its hole.
    pub(super) bores: Vec<(BoardId, Bore)>,
    /// Bolts whose axis runs into a board otherwise than square through it.
    pub(super) astray: Vec<(BoltId, BoardId)>,
}

/// Holes of diameter `diameter(bolt)` in every board that a bolt's grip passes through.
pub(super) fn pierce(layout: &Layout, bolts: &[Bolt], diameter: impl Fn(&Bolt) -> f64) -> Pierced {
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
    let mut pierced = Pierced::default();
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
            match passage(layout, board, from, to, bolt.direction) {
                Passage::Beside => {}
                Passage::Through { face_a_first } => {
                    let sunk = bolt.hardware.head.length_is_overall && bolt.panels.first() == Some(&board);
                    let head = &bolt.hardware.head;
                    let countersink = (sunk && face_a_first).then_some(Countersink {
                        diameter: head.width,
                        depth: (head.width - diameter(bolt)) / 2.0,
                    });
                    let centre = layout.board(board).placement.to_panel(from).xy();
                    pierced
                        .bores
                        .push((board, Bore { centre, diameter: diameter(bolt), countersink, bolt: id }));
                }
                // A nut held inside a panel: its bolt enters that panel through the edge, beyond the grip's
                // first part.
                Passage::Along if bolt.held_in == Some(board) => {}
                Passage::Along => pierced.astray.push((id, board)),
            }
        }
    }
    pierced
}

/// How a bolt's axis goes by a board.
enum Passage {
    /// It only touches it, or not even that.
    Beside,
    /// Square through both faces.
    Through {
        /// Whether it enters by face A.
        face_a_first: bool,
    },
    /// It ends inside, or runs along the board.
    Along,
}

fn passage(
    layout: &Layout,
    board: BoardId,
    from: Point3<VehicleFrame>,
    to: Point3<VehicleFrame>,
    direction: Vector3<VehicleFrame>,
) -> Passage {
    let board = layout.board(board);
    let square_on = board.normal().dot(direction);
    let (a, b) = (board.placement.to_panel(from), board.placement.to_panel(to));
    let (length, width) = board.size;
    let inside = |p: f64, size: f64| p > TOUCH && p < size - TOUCH;
    let thickness = board.thickness();
    if square_on.abs() > 0.999_999 {
        let (low, high) = (a.z.min(b.z), a.z.max(b.z));
        if !inside(a.x, length) || !inside(a.y, width) || high < TOUCH || low > thickness - TOUCH {
            Passage::Beside
        } else if low <= CONCENTRIC && high >= thickness - CONCENTRIC {
            Passage::Through { face_a_first: square_on < 0.0 }
        } else {
            Passage::Along
        }
    } else {
        let around = (a.min(b), a.max(b));
        let crosses = around.1.x > TOUCH
            && around.0.x < length - TOUCH
            && around.1.y > TOUCH
            && around.0.y < width - TOUCH
            && around.1.z > TOUCH
            && around.0.z < thickness - TOUCH;
        if crosses { Passage::Along } else { Passage::Beside }
    }
}
