//! A bolt into a nut held in a board's edge, with tabs beside it. No standard has a rule for it: the bolt and its head are those
//! of any bolt, the wood between nut and edge shears in the board's plane, and what acts across the bolt the tabs bear.

use super::super::Job;
use super::super::board::plywood_factor;
use super::bolt::{Acts, On, Place};
use super::{Gives, Resistance};
use crate::geom::Vector3;
use crate::joints::Bolt;
use crate::layout::{BoardId, Meeting, OpeningKind};
use baywright_formulas::timber;

/// The part of the bolt that is used, and every way in which the joint can give there.
pub(super) fn held(
    job: &Job<'_>,
    bolt: &Bolt,
    edge: BoardId,
    acts: Acts,
) -> Result<(f64, Vec<Resistance>), String> {
    let layout = &job.kit.layout;
    let meeting = job.meeting(bolt.joint()).ok_or_else(|| "no joint is known there".to_owned())?;
    let face = Place { job, bolt, board: meeting.face, on: On::Steel(0.0) };
    let pull = Acts { shear: Vector3::zero(), ..acts };
    let (used, mut all) = face.held(pull)?;
    let board = layout.board(edge);
    let strength = &board.material.strength;
    let missing = |what: &str| format!("no {what} of {}", board.material.id);
    let in_plane = strength.panel_shear.ok_or_else(|| missing("shear strength"))?;
    let between_plies = strength.planar_shear.ok_or_else(|| missing("shear strength between plies"))?;
    let factor = plywood_factor(job.settings(), acts.duration, timber::GAMMA_PLYWOOD)?;
    // From the bolt's entry into the edge to the nut.
    let nut = job.kit.panel(edge).nut_slots.iter().find(|slot| job.kit.bolt(slot.bolt).name == bolt.name);
    let half = bolt.hardware.nut.as_ref().map_or(0.0, |nut| nut.height / 2.0);
    let to_edge = |middle| layout.board(edge).shape.distance_to(middle);
    let to_nut = nut.map_or(0.0, |slot| (to_edge(slot.centre) - half).max(0.0));
    let plug = 2.0 * to_nut * board.thickness() * in_plane * factor;
    let n = job.bolts_of(bolt.joint()).len().max(1) as f64;
    let section = tabs(job, meeting) * board.thickness() / n;
    if section <= 0.0 && acts.shear.length() > 0.0 {
        return Err("no tab beside its captive nuts".to_owned());
    }
    let (along, across) = (acts.shear.dot(meeting.along).abs(), acts.shear.dot(board.normal()).abs());
    let wood = [
        (Gives::BeforeNut, plug, acts.tension),
        (Gives::TabsAlong, section * in_plane * factor, along),
        // The greatest stress in a rectangle is half as much again as the mean.
        (Gives::TabsAcross, section * between_plies * factor / 1.5, across),
    ];
    let wood = wood.into_iter().filter(|(_, _, acting)| *acting > 0.0);
    let wood: Vec<Resistance> =
        wood.map(|(gives, force, acting)| Resistance::new(gives, force, acting)).collect();
    let used = wood.iter().map(|way| way.used).fold(used, f64::max);
    all.extend(wood);
    Ok((used, all))
}

/// mm of all tabs of a joint, along it.
fn tabs(job: &Job<'_>, meeting: &Meeting) -> f64 {
    let face = job.kit.panel(meeting.face);
    let along_u = meeting.along.dot(face.placement.axes.u).abs() > 0.5;
    let slots =
        face.openings.iter().filter(|open| open.kind == OpeningKind::TabSlot && open.joint == meeting.name);
    slots
        .map(|open| {
            let (low, high) = open.path.bounds();
            if along_u { high.x - low.x } else { high.y - low.y }
        })
        .sum()
}
