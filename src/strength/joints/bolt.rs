//! What one bolt holds where it stands: the bolt itself, the wood around it, the metal on the wood, the washer on the wood.

use super::super::Job;
use super::super::board::{GAMMA_METAL, plywood_factor};
use super::{Gives, Resistance};
use crate::catalogue::{Angle, HeadKind, Washer};
use crate::geom::stretches::Stroke;
use crate::geom::{Point3, Vector2, Vector3, VehicleFrame};
use crate::joints::Bolt;
use crate::layout::{Board, BoardId};
use crate::spec::{BoardKind, BoltClass};
use baywright_formulas::bolt::{self, Bearing, Steel};
use baywright_formulas::johansen::{self, Fastener, Mode, Plate};
use baywright_formulas::timber::{self, Duration};
use std::sync::Arc;

/// mm from a bolt to the end of a board towards which it presses, from which on the wood bears in full: LVL Handbook Europe,
/// cross-bonded panels; less counts in proportion, as that table allows.
pub(crate) const FULL_END: f64 = 60.0;

/// What lies on the wood at a bolt's shear plane.
#[derive(Clone, Debug)]
pub(super) enum On {
    /// Another board.
    Board(BoardId),
    /// Steel, mm thick.
    Steel(f64),
    /// A leg of an angle.
    Leg(Arc<Angle>),
}

/// What acts on a bolt.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Acts {
    /// N across its axis.
    pub(super) shear: Vector3<VehicleFrame>,
    /// N along it.
    pub(super) tension: f64,
    /// How long it stays.
    pub(super) duration: Duration,
}

/// A bolt with a board that it holds and what lies on that board.
pub(super) struct Place<'a> {
    pub(super) job: &'a Job<'a>,
    pub(super) bolt: &'a Bolt,
    pub(super) board: BoardId,
    pub(super) on: On,
}

impl Place<'_> {
    fn board(&self) -> &Board {
        self.job.kit.layout.board(self.board)
    }

    fn steel(&self) -> Steel {
        match self.job.settings().bolts.value {
            BoltClass::Class46 => bolt::CLASS_4_6,
            BoltClass::Class88 => bolt::CLASS_8_8,
            BoltClass::A2_70 => bolt::A2_70,
        }
    }

    /// Every way in which it can give, and the part used with shear and tension together. What is not known is told.
    pub(super) fn held(&self, acts: Acts) -> Result<(f64, Vec<Resistance>), String> {
        let area = self.bolt.hardware.thread.stress_area;
        let (shear, tension) = (acts.shear.length(), acts.tension);
        let steel = self.steel();
        let sheared = Resistance::new(Gives::BoltAcross, bolt::shear(steel, area), shear);
        let torn = Resistance::new(Gives::BoltAlong, bolt::tension(steel, area), tension);
        let mut used = bolt::combined(sheared.used, torn.used);
        let mut all = vec![sheared, torn];
        let mut wood = Vec::new();
        let pulled = self.pulled_through(acts.duration)?.filter(|_| tension > 0.0);
        wood.extend(pulled.map(|force| Resistance::new(Gives::Washer, force, tension)));
        if shear > 0.0 {
            let (gives, force) = self.bears(acts)?;
            wood.push(Resistance::new(gives, force, shear));
        }
        used = used.max(wood.iter().map(|way| way.used).sum());
        all.extend(wood);
        if let On::Leg(angle) = &self.on {
            let leg = self.leg(angle, shear, tension)?;
            used = leg.iter().map(|way| way.used).fold(used, f64::max);
            all.extend(leg);
        }
        Ok((used, all))
    }

    /// What a leg of aluminium bears: the hole's rim, and the leg where it is bent off.
    fn leg(&self, angle: &Angle, shear: f64, tension: f64) -> Result<[Resistance; 2], String> {
        let missing = || format!("no strength of {}", angle.id);
        let (tensile, yields) =
            (angle.tensile.ok_or_else(missing)?, angle.yield_strength.ok_or_else(missing)?);
        let rim = self.rim(angle.thickness, tensile, angle.leg - angle.gauge);
        // A plastic hinge at the heel, as wide as the bolt stands off it to either side.
        let arm = angle.gauge - angle.thickness;
        let bent = yields / GAMMA_METAL * angle.thickness.powi(2) / 4.0 * 2.0 * angle.gauge / arm.max(1.0);
        Ok([Resistance::new(Gives::AngleHole, rim, shear), Resistance::new(Gives::AngleLeg, bent, tension)])
    }

    /// N that the rim of the bolt's hole bears in metal so thick and so strong, an edge `edge` mm away.
    fn rim(&self, thickness: f64, tensile: f64, edge: f64) -> f64 {
        let thread = &self.bolt.hardware.thread;
        let bearing = Bearing {
            d: thread.diameter,
            d0: thread.clearance_medium,
            thickness,
            f_u: tensile,
            f_ub: self.steel().f_ub,
            e1: edge,
            e2: edge,
            p1: None,
            p2: None,
        };
        bearing.resistance()
    }

    /// N at which the smaller of what lies under head and nut is drawn through the wood; nothing if neither lies on wood.
    fn pulled_through(&self, duration: Duration) -> Result<Option<f64>, String> {
        let Some(characteristic) = self.axial()? else { return Ok(None) };
        Ok(Some(characteristic * self.wood_factor(duration)?))
    }

    /// The characteristic value of that.
    fn axial(&self) -> Result<Option<f64>, String> {
        // Through a metal sheet no washer is drawn.
        if self.board().material.strength.kind == Some(BoardKind::Aluminium) {
            return Ok(None);
        }
        let hardware = &self.bolt.hardware;
        let outer = |washer: &Washer| washer.outer;
        let sunk = hardware.head.kind == HeadKind::Countersunk;
        let under_head = if sunk {
            // As a flat head of its width: no rule says more of a sunk one.
            Some(hardware.head.width)
        } else {
            hardware.head_washer.as_ref().filter(|washer| lies_on_wood(washer)).map(outer)
        };
        let under_nut = hardware.nut_washers.first().filter(|washer| lies_on_wood(washer)).map(outer);
        let spreader = self.spreader().map(|thickness| {
            let d = hardware.thread.diameter;
            (12.0 * thickness).min(4.0 * d)
        });
        let widths = [under_head, spreader.or(under_nut)];
        let Some(width) = widths.into_iter().flatten().reduce(f64::min) else { return Ok(None) };
        let board = self.board();
        let strength = board.material.strength.flat_compression;
        let strength = strength.ok_or_else(|| format!("no compressive strength of {}", board.material.id))?;
        Ok(Some(timber::pull_through(strength, width, hardware.thread.clearance_medium)))
    }

    /// mm of the steel plate under the nut of a fixture's bolt.
    fn spreader(&self) -> Option<f64> {
        let fixture = &self.job.kit.layout.fixtures[self.bolt.fixture?];
        let spreader = fixture.bolts.iter().map(|bolt| bolt.spreader).fold(0.0, f64::max);
        (spreader > 0.0).then_some(spreader)
    }

    /// Factor from characteristic to design values of a bolt in wood.
    fn wood_factor(&self, duration: Duration) -> Result<f64, String> {
        plywood_factor(self.job.settings(), duration, timber::GAMMA_CONNECTION)
    }

    /// What the wood, or the metal sheet, around the bolt bears across it.
    fn bears(&self, acts: Acts) -> Result<(Gives, f64), String> {
        let board = self.board();
        if board.material.strength.kind == Some(BoardKind::Aluminium) {
            let tensile = board.material.strength.tensile;
            let tensile = tensile.ok_or_else(|| format!("no tensile strength of {}", board.material.id))?;
            let edge = board.to_edge(board.placement.to_panel(self.bolt.origin).xy());
            return Ok((Gives::SheetHole, self.rim(board.thickness(), tensile, edge)));
        }
        let thread = &self.bolt.hardware.thread;
        let fastener = Fastener {
            d: thread.diameter,
            yield_moment: bolt::yield_moment(self.steel().f_ub, thread.diameter),
            axial: self.axial()?.unwrap_or(0.0),
        };
        let own = self.embedment(board, acts.shear)?;
        let steel = |thickness| johansen::steel_wood(Plate::Of(thickness), own, board.thickness(), &fastener);
        let modes: Vec<Mode> = match &self.on {
            On::Steel(thickness) => steel(*thickness),
            On::Leg(angle) => steel(angle.thickness),
            On::Board(other) => {
                let other = self.job.kit.layout.board(*other);
                let theirs = self.embedment(other, acts.shear)?;
                johansen::wood_wood(own, board.thickness(), theirs, other.thickness(), &fastener)
            }
        };
        let mode = johansen::governing(&modes);
        Ok((Gives::Wood(mode.letter), mode.force * self.wood_factor(acts.duration)?))
    }

    /// `MPa` that the wood of a board bears at the bolt, less near an end towards which it presses.
    fn embedment(&self, board: &Board, shear: Vector3<VehicleFrame>) -> Result<f64, String> {
        let strength = &board.material.strength;
        if strength.kind != Some(BoardKind::Plywood) {
            return Err(format!("no published rule for bolts in {}", board.material.id));
        }
        let density = strength.characteristic_density;
        let density = density.ok_or_else(|| format!("no characteristic density of {}", board.material.id))?;
        let full = timber::embedment_plywood(self.bolt.hardware.thread.diameter, density);
        Ok(full * (to_end(board, self.bolt.origin, shear) / FULL_END).min(1.0))
    }
}

/// Whether a washer is of the wide kind that lies on wood.
fn lies_on_wood(washer: &Washer) -> bool {
    washer.kind != crate::catalogue::WasherKind::Plain
}

/// mm from a place to the nearer end of a board's material along a direction, either way.
fn to_end(board: &Board, place: Point3<VehicleFrame>, along: Vector3<VehicleFrame>) -> f64 {
    let axes = &board.placement.axes;
    let flat = Vector2::new(along.dot(axes.u), along.dot(axes.v));
    if flat.length() <= f64::EPSILON {
        return FULL_END;
    }
    let p = board.placement.to_panel(place).xy();
    let d = flat.normalize();
    let ends = [d, -d].map(|along| {
        let stroke = Stroke { start: p, along, length: FULL_END };
        board.material_along(&stroke).first().filter(|first| first.0 < 1.0).map_or(0.0, |first| first.1)
    });
    ends[0].min(ends[1])
}
