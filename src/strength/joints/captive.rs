//! A bolt into a nut held in a board's edge, with tabs beside it. No standard has a rule for it: the bolt and its head are those
//! of any bolt, the wood between nut and edge shears in the board's plane, and what acts across the bolt the tabs bear.

use super::super::Job;
use super::bolt::{Acts, On, Place, Resistance};
use crate::geom::{PanelFrame, Point2};
use crate::joints::Bolt;
use crate::layout::{BoardId, Meeting, OpeningKind};
use baywright_formulas::timber::{self, Duration};

/// The part of the bolt that is used, and every way in which the joint can give there.
pub(super) fn held(
    job: &Job<'_>,
    bolt: &Bolt,
    edge: BoardId,
    acts: Acts,
) -> Result<(f64, Vec<Resistance>), String> {
    let layout = &job.kit.layout;
    let meeting = layout.meetings.iter().find(|meeting| meeting.name == bolt.joint());
    let meeting = meeting.ok_or_else(|| "no joint is known there".to_owned())?;
    let face = Place { job, bolt, board: meeting.face, on: On::Steel(0.0) };
    let pull = Acts { shear: crate::geom::Vector3::zero(), ..acts };
    let (mut used, mut all) = face.held(pull)?;
    let mut add = |what: &str, formula, force: f64, acting: f64| {
        if acting > 0.0 {
            let own = acting / force.max(f64::MIN_POSITIVE);
            used = used.max(own);
            all.push(Resistance { what: what.to_owned(), formula, force, used: own });
        }
    };
    let board = layout.board(edge);
    let strength = &board.material.strength;
    let missing = |what: &str| format!("no {what} of {}", board.material.id);
    let in_plane = strength.panel_shear.ok_or_else(|| missing("shear strength"))?;
    let between_plies = strength.planar_shear.ok_or_else(|| missing("shear strength between plies"))?;
    let factor = board_factor(job, acts.duration)?;
    // From the bolt's entry into the edge to the nut.
    let nut = job.kit.panel(edge).nut_slots.iter().find(|slot| job.kit.bolt(slot.bolt).name == bolt.name);
    let half = bolt.hardware.nut.as_ref().map_or(0.0, |nut| nut.height / 2.0);
    let to_nut = nut.map_or(0.0, |slot| (to_edge(job, edge, slot.centre) - half).max(0.0));
    let plug = 2.0 * to_nut * board.thickness() * in_plane * factor;
    add("wood between nut and edge sheared", "area times shear strength; no standard", plug, acts.tension);
    let n = job.bolts_of(bolt.joint()).len().max(1) as f64;
    let section = tabs(job, meeting) * board.thickness() / n;
    if section <= 0.0 && acts.shear.length() > 0.0 {
        return Err("no tab beside its captive nuts".to_owned());
    }
    let along = acts.shear.dot(meeting.along).abs();
    add("tabs sheared along", "area times shear strength; no standard", section * in_plane * factor, along);
    let across = acts.shear.dot(board.normal()).abs();
    let through = section * between_plies * factor / 1.5;
    add("tabs sheared between plies", "V = 2/3 A f; no standard", through, across);
    Ok((used, all))
}

/// Factor from characteristic to design values of a board's own strength.
fn board_factor(job: &Job<'_>, duration: Duration) -> Result<f64, String> {
    let class = super::super::board::service_class(job.settings());
    let known = timber::k_mod(timber::Board::Plywood, class, duration);
    known.map(|k_mod| k_mod / timber::GAMMA_PLYWOOD).ok_or_else(|| "no k_mod".to_owned())
}

/// mm from a nut's middle to the nearest edge of its board.
fn to_edge(job: &Job<'_>, edge: BoardId, centre: Point2<PanelFrame>) -> f64 {
    job.kit.layout.board(edge).shape.distance_to(centre)
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
