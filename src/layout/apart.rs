//! Carcases that stand in each other, or in the way of each other's drawers.
//!
//! Looked at before any bolt is placed: where boards cannot be, no bolt finds its place either, and a finding
//! about bolts would hide the cause.

use super::{Board, Layout, Role, rules};
use crate::catalogue::{Catalogue, HeadKind, WasherKind};
use crate::diag::{Finding, Findings, Rule};
use crate::geom::Aabb;
use crate::geom::tolerance::{SAME_LENGTH, TOUCH};
use crate::number::decimal;
use crate::spec::JointKind;
use itertools::Itertools;
use std::collections::BTreeMap;

/// Two boards of different carcases that are in each other's way.
struct Clash<'a> {
    rule: &'static Rule,
    first: &'a Board,
    second: &'a Board,
    depth: f64,
}

/// Reports, for each two carcases, the worst overlap of their boards, shut, or else on the way of a drawer.
/// Gives whether there is none.
pub(super) fn carcases_stand_apart(findings: &mut Findings, layout: &Layout) -> bool {
    let mut worst: BTreeMap<(&str, &str), Clash<'_>> = BTreeMap::new();
    let carcase = |board: &Board| layout.body(board.body).carcase.as_str();
    for [first, second] in layout.boards.iter().array_combinations() {
        if carcase(first) == carcase(second) {
            continue;
        }
        let Some(clash) = clash(layout, first, second) else { continue };
        let key = (carcase(first), carcase(second));
        let rank =
            |clash: &Clash<'_>| (std::ptr::eq(clash.rule, &raw const rules::PARTS_OVERLAP), clash.depth);
        if worst.get(&key).is_none_or(|other| rank(&clash) > rank(other)) {
            worst.insert(key, clash);
        }
    }
    for ((one, other), clash) in &worst {
        let depth = decimal(clash.depth, 2);
        let (first, second) = (&clash.first.name, &clash.second.name);
        let message = if std::ptr::eq(clash.rule, &raw const rules::PARTS_OVERLAP) {
            format!("`{first}` and `{second}` reach {depth} mm into each other")
        } else {
            format!("`{first}` and `{second}` meet, {depth} mm deep, when a drawer is opened")
        };
        findings.push(
            Finding::new(clash.rule, clash.first.span, message)
                .on(first)
                .also(clash.second.span, format!("`{second}` comes from here"))
                .help(format!("move `{one}` or `{other}` with `at:`, or make one of them smaller")),
        );
    }
    worst.is_empty()
}

/// Reports sides of different carcases between which the hardware of one of them has no room. Sides that touch
/// are bolted together and need none. Gives whether there is no such pair.
pub(super) fn hardware_has_room(findings: &mut Findings, layout: &Layout, catalogue: &Catalogue) -> bool {
    let sides = layout.boards.iter().enumerate().filter(|(_, board)| board.role == Role::Side);
    let mut room = true;
    for [(i, a), (j, b)] in sides.array_combinations() {
        let low = a.aabb.low.max(b.aabb.low);
        let high = a.aabb.high.min(b.aabb.high);
        let (facing, gap) = (high.x - low.x > TOUCH && high.z - low.z > TOUCH, low.y - high.y);
        // Looking away from each other, with their own carcases between them, they have all the room they want.
        let outwards = (b.aabb.low.y - a.aabb.low.y) * a.normal().y > 0.0;
        if a.body == b.body || !facing || !outwards || gap <= SAME_LENGTH {
            continue;
        }
        let needed = outside(layout, catalogue, i).max(outside(layout, catalogue, j));
        if gap + SAME_LENGTH < needed {
            room = false;
            let message = format!(
                "{} mm between `{}` and `{}`; bolt heads or nuts there stand out {} mm",
                decimal(gap, 2),
                a.name,
                b.name,
                decimal(needed, 2)
            );
            findings.push(
                Finding::new(&rules::CARCASES_TOO_CLOSE, a.span, message)
                    .on(&a.name)
                    .also(b.span, format!("`{}` comes from here", b.name))
                    .help(
                        "stand them against each other, so that they are bolted together, or further apart",
                    ),
            );
        }
    }
    room
}

/// mm that hardware on the outer face of a side stands out at least: heads of its corners, nuts of its slides.
fn outside(layout: &Layout, catalogue: &Catalogue, side: usize) -> f64 {
    let board = &layout.boards[side];
    let heads = layout.meetings.iter().filter(|meeting| {
        meeting.face.0 == side || meeting.edge.0 == side && meeting.plan.kind == JointKind::Angle
    });
    let head = heads.filter_map(|meeting| {
        let size = meeting.plan.size.as_ref().map(|size| size.value.clone());
        let size = size.or_else(|| meeting.plan.angle.as_ref().map(|angle| angle.bolt.clone()))?;
        let (head, washer) =
            (catalogue.head(HeadKind::Button, &size)?, catalogue.washer(WasherKind::Large, &size)?);
        Some(head.height + washer.thickness)
    });
    let mounts = layout.mounts.iter().filter(|mount| mount.carcase_board.0 == side);
    let nuts = mounts.filter_map(|mount| catalogue.slide_hardware(board.thickness(), &mount.slide).ok());
    head.chain(nuts.map(|hardware| hardware.nut_height())).fold(0.0, f64::max)
}

fn clash<'a>(layout: &Layout, first: &'a Board, second: &'a Board) -> Option<Clash<'a>> {
    let found = |rule, depth: f64| (depth > TOUCH).then_some(Clash { rule, first, second, depth });
    let at_rest = found(&rules::PARTS_OVERLAP, first.aabb.overlap(second.aabb));
    at_rest.or_else(|| {
        let swept = |board: &Board| -> Aabb { board.aabb.swept(layout.body(board.body).travel) };
        // Each on its way against the other shut.
        let depth = swept(first).overlap(second.aabb).max(first.aabb.overlap(swept(second)));
        found(&rules::MOVING_PART_STRIKES, depth)
    })
}
