//! How much air equipment gets: the free areas of what leads out of the cell that it stands in.
//!
//! Counts cut-outs in the boards around the cell and in its front, an open front and an open top, each below or above the
//! equipment's middle. A cut-out counts unless something stands before it; what lies farther along the way is not looked
//! at.

use crate::geom::{Aabb, Plate, Vector3, VehicleFrame, overlap_depth};
use crate::joints::Kit;
use crate::joints::solids::{Part, Solid, name};
use crate::layout::{BoardId, CellSummary, CutoutSummary, EquipmentSummary, Role};
use crate::spec::Towards;

/// mm that must be free before a cut-out: less was judged too little. One public account, otherwise common practice, no
/// source.
const BEFORE: f64 = 20.0;

/// mm that the upper vents of a gas locker are below its ceiling, at most: 12 inches, Indiana 675 IAC 15-2-74 (read).
pub(crate) const BELOW_CEILING: f64 = 304.8;
/// Part of the locker's floor that its vents have, half of it low and half high: Indiana 675 IAC 15-2-74 (read).
const OF_FLOOR: f64 = 0.02;
/// mm2 that each half has at least: EN 1949 (from memory).
const LEAST: f64 = 5000.0;

/// The air of one piece of equipment, mm2.
#[derive(Clone, Debug)]
pub(crate) struct Airing {
    /// Its index.
    pub(crate) equipment: usize,
    /// What it needs below and above its middle.
    pub(crate) needed: (f64, f64),
    /// What there is below its middle.
    pub(crate) low: f64,
    /// What there is above its middle.
    pub(crate) high: f64,
    /// Cut-outs that do not count, and what stands before them.
    pub(crate) blocked: Vec<(String, String)>,
}

/// All equipment that needs air and stands in a cell.
pub(super) fn airings(kit: &Kit, solids: &[Solid]) -> Vec<Airing> {
    let layout = &kit.layout;
    let needing = layout.equipment.iter().enumerate();
    needing
        .filter_map(|(i, equipment)| {
            let (needed, cell) = (equipment.air?, &layout.cells[equipment.cell?]);
            let mut airing = Airing { equipment: i, needed, low: 0.0, high: 0.0, blocked: Vec::new() };
            open_sides(kit, cell, equipment, &mut airing);
            for cutout in layout.cutouts.iter().filter(|cutout| leads_into(kit, cutout, cell)) {
                through(kit, solids, (cutout, cell), equipment, &mut airing);
            }
            Some(airing)
        })
        .collect()
}

/// mm2 that the lower vents of a cell with gas in it need, and the upper ones.
pub(crate) fn gas_vents(cell: &CellSummary) -> f64 {
    let size = cell.room.size();
    (size.x * size.y * OF_FLOOR / 2.0).max(LEAST)
}

/// The front of a cell: a board that closes it.
pub(crate) fn front(kit: &Kit, cell: &CellSummary) -> Option<BoardId> {
    let closes = |board: &crate::layout::Board| {
        board.role == Role::Front
            && (board.name == cell.name
                || board.name == format!("{}-front", cell.name)
                || board.name == format!("{}-door", cell.name)
                || board.name == format!("{}-false-front", cell.name))
    };
    kit.layout.boards.iter().position(closes).map(BoardId)
}

/// An open front counts less what stands in it, an open top likewise.
fn open_sides(kit: &Kit, cell: &CellSummary, equipment: &EquipmentSummary, airing: &mut Airing) {
    let room = cell.room;
    let middle = equipment.aabb.low.z + equipment.aabb.size().z / 2.0;
    if front(kit, cell).is_none() {
        // Seen from the tailgate: the equipment and the walls of its tray take their part.
        let body = kit.layout.fixtures[equipment.fixture].body;
        let of_tray = kit.layout.boards.iter().filter(|board| board.body == body && body != cell.body);
        let taken = of_tray.map(|board| board.aabb).fold(equipment.aabb, Aabb::joined);
        let free = |low: f64, high: f64| {
            let width = |aabb: Aabb| (aabb.high.y.min(room.high.y) - aabb.low.y.max(room.low.y)).max(0.0);
            let height = (high - low).max(0.0);
            let of_it = (taken.high.z.min(high) - taken.low.z.max(low)).max(0.0);
            height * width(room) - of_it * width(taken)
        };
        airing.low += free(room.low.z, room.high.z.min(middle));
        airing.high += free(room.low.z.max(middle), room.high.z);
    }
    if !cell.covered {
        let (all, own) = (room.size(), equipment.aabb.size());
        airing.high += (all.x * all.y - own.x * own.y).max(0.0);
    }
}

/// Whether a cut-out is in a board around the cell, at the cell's side of it.
pub(crate) fn leads_into(kit: &Kit, cutout: &CutoutSummary, cell: &CellSummary) -> bool {
    let hosts = cell.around.iter().copied().chain(front(kit, cell));
    let near = Vector3::new(1.0, 1.0, 1.0) * (kit.layout.board(cutout.host).thickness() + 1.0);
    let around = Aabb { low: cell.room.low - near, high: cell.room.high + near };
    let inside = |p: &crate::geom::Point3<VehicleFrame>| {
        (around.low.x..=around.high.x).contains(&p.x)
            && (around.low.y..=around.high.y).contains(&p.y)
            && (around.low.z..=around.high.z).contains(&p.z)
    };
    hosts.into_iter().any(|host| host == cutout.host) && cutout.middles.iter().any(inside)
}

/// Adds a cut-out's area, if nothing stands before it on the side away from the cell.
fn through(
    kit: &Kit,
    solids: &[Solid],
    (cutout, cell): (&CutoutSummary, &CellSummary),
    equipment: &EquipmentSummary,
    airing: &mut Airing,
) {
    let board = kit.layout.board(cutout.host);
    let inwards = cell.room.low + cell.room.size() / 2.0 - (board.aabb.low + board.aabb.size() / 2.0);
    let out = if board.normal().dot(inwards) > 0.0 { -board.normal() } else { board.normal() };
    let half = extent(cutout) / 2.0;
    let middle = equipment.aabb.low.z + equipment.aabb.size().z / 2.0;
    for place in &cutout.middles {
        let mut probe = Aabb { low: *place - half, high: *place + half };
        // From the board's outer face on.
        let face = board.aabb.high.to_vector().dot(out).max(board.aabb.low.to_vector().dot(out));
        let to_face = out * (face - place.to_vector().dot(out));
        probe = Aabb::around([probe.low + to_face, probe.high + to_face]);
        probe = probe.joined(Aabb { low: probe.low + out * BEFORE, high: probe.high + out * BEFORE });
        let plate = Plate::filling(probe);
        let before = solids.iter().find(|solid| {
            !matches!(solid.part, Part::Room(_) | Part::Hardware(_) | Part::Shank(_) | Part::Coat(_))
                && solid.part != Part::Panel(cutout.host)
                && !is_its_own(kit, solid.part, cutout)
                && overlap_depth(&plate, &solid.plate).is_some()
        });
        if let Some(solid) = before {
            let entry = (cutout.name.clone(), name(kit, solid.part));
            if !airing.blocked.contains(&entry) {
                airing.blocked.push(entry);
            }
            continue;
        }
        let area = cutout.free_area / cutout.openings.len() as f64;
        *(if place.z < middle { &mut airing.low } else { &mut airing.high }) += area;
    }
}

/// Whether a part is what is set into the cut-out.
fn is_its_own(kit: &Kit, part: Part, cutout: &CutoutSummary) -> bool {
    let Part::Fixture(i) = part else { return false };
    let name = &kit.layout.fixtures[i].name;
    name == &cutout.name || name.strip_prefix(&cutout.name).is_some_and(|rest| rest.starts_with('-'))
}

/// The opening's box, flat.
fn extent(cutout: &CutoutSummary) -> Vector3<VehicleFrame> {
    let [width, height] = cutout.size;
    match cutout.facing {
        Towards::Left | Towards::Right => Vector3::new(width, 0.0, height),
        Towards::Rear | Towards::Front => Vector3::new(0.0, width, height),
        Towards::Up | Towards::Down => Vector3::new(height, width, 0.0),
    }
}
