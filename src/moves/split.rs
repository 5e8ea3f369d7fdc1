//! At which divider a carcase can be split so that both pieces go in.

use super::entry::goes_in;
use super::ways::{Piece, Room};
use crate::geom::tolerance::SAME_LENGTH;
use crate::geom::{Aabb, Plate};
use crate::joints::Kit;
use crate::joints::solids::Solid;
use crate::layout::{Board, Role};
use crate::spec::Design;

/// Dividers that reach from base to deck, with whether both pieces go in. Each piece keeps the divider as its side:
/// where it stood there are two boards then.
pub(super) fn dividers(
    design: &Design,
    kit: &Kit,
    room: &Room<'_>,
    solids: &[&Solid],
    id: &str,
) -> Vec<(String, bool)> {
    let boards = kit.layout.boards.iter().filter(|board| kit.layout.body(board.body).carcase == id);
    let own: Vec<&Board> = boards.collect();
    let level = |role: Role| own.iter().find(|board| board.role == role);
    let (Some(base), Some(deck)) = (level(Role::Base), level(Role::Deck)) else { return Vec::new() };
    let through = |board: &&&Board| {
        let reaches = board.aabb.low.z <= base.aabb.high.z + SAME_LENGTH
            && board.aabb.high.z >= deck.aabb.low.z - SAME_LENGTH;
        board.role == Role::Divider && reaches
    };
    let whole = own.iter().filter(through).map(|divider| {
        let clipped = |least: f64, most: f64| -> Piece {
            let part = |solid: &&Solid| {
                let mut aabb = solid.aabb;
                (aabb.low.y, aabb.high.y) = (aabb.low.y.max(least), aabb.high.y.min(most));
                (aabb.high.y > aabb.low.y + SAME_LENGTH).then(|| (Plate::filling(aabb), aabb))
            };
            solids.iter().filter_map(part).collect()
        };
        let Aabb { low, high } = divider.aabb;
        let pieces = [clipped(low.y, f64::INFINITY), clipped(f64::NEG_INFINITY, high.y)];
        let fits = pieces.iter().all(|piece| goes_in(design, room, piece).is_some());
        (divider.name.clone(), fits)
    });
    whole.collect()
}
