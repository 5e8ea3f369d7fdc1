//! What a board bears by design: its strengths with the factors of its material and of how long a load stays.

use crate::catalogue::Material;
use crate::spec::{BoardKind, StrengthSettings};
use baywright_formulas::timber::{self, Board, Duration, ServiceClass};

/// Partial factor of a metal that yields: EN 1999-1-1, from memory.
pub(super) const GAMMA_METAL: f64 = 1.1;
/// Partial factor of fibreboard: EN 1995-1-1 Table 2.3, from memory.
const GAMMA_FIBREBOARD: f64 = 1.3;
/// Poisson's ratio of plywood in its plane: low; handbooks give 0.02 to 0.08.
const POISSON_PLYWOOD: f64 = 0.05;
/// Of fibreboard and of metals.
const POISSON: f64 = 0.3;

/// Moduli and bending strengths of one material, u along its face grain.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Sheet {
    /// What sort it is.
    pub(crate) kind: BoardKind,
    /// mm.
    pub(crate) thickness: f64,
    /// `MPa`, along u and along v.
    pub(crate) modulus: [f64; 2],
    /// `MPa`, along u and along v.
    pub(crate) bending: [f64; 2],
    /// `MPa`.
    pub(crate) shear_modulus: f64,
    /// Which grain of it is not known, so that both ways count as the worse one.
    pub(crate) grain_unknown: bool,
    class: ServiceClass,
}

/// Factor from characteristic to design values of plywood and of what bears in it, with a partial factor, under a load that stays
/// so long.
pub(super) fn plywood_factor(
    settings: &StrengthSettings,
    duration: Duration,
    gamma: f64,
) -> Result<f64, String> {
    let known = timber::k_mod(Board::Plywood, service_class(settings), duration);
    known.map(|k_mod| k_mod / gamma).ok_or_else(|| "no k_mod".to_owned())
}

/// The service class that the workshop set.
fn service_class(settings: &StrengthSettings) -> ServiceClass {
    let class = settings.service_class.value;
    if class < 1.5 {
        ServiceClass::One
    } else if class < 2.5 {
        ServiceClass::Two
    } else {
        ServiceClass::Three
    }
}

impl Sheet {
    /// A material as it counts; or what is not known of it.
    pub(super) fn of(material: &Material, settings: &StrengthSettings) -> Result<Self, String> {
        let strength = &material.strength;
        let kind = strength.kind.ok_or_else(|| format!("no strength data of {}", material.id))?;
        let missing = |what: &str| format!("no {what} of {}", material.id);
        let e = [material.e_along, material.e_across];
        let [Some(e_u), Some(e_v)] = e else { return Err(missing("modulus of elasticity")) };
        let [Some(f_u), Some(f_v)] = [strength.bending_along, strength.bending_across] else {
            return Err(missing("bending strength"));
        };
        let shear_modulus = strength.shear_modulus.ok_or_else(|| missing("shear modulus"))?;
        let grain_unknown = kind == BoardKind::Plywood && !material.grain;
        let (modulus, bending) =
            if grain_unknown { ([e_u.min(e_v); 2], [f_u.min(f_v); 2]) } else { ([e_u, e_v], [f_u, f_v]) };
        let sheet = Sheet {
            kind,
            thickness: material.actual,
            modulus,
            bending,
            shear_modulus,
            grain_unknown,
            class: service_class(settings),
        };
        if sheet.k_mod(Duration::Short).is_none() || sheet.k_def().is_none() {
            return Err(format!("no k_mod of {} in the service class that is set", material.id));
        }
        Ok(sheet)
    }

    fn board(&self) -> Option<Board> {
        match self.kind {
            BoardKind::Plywood => Some(Board::Plywood),
            BoardKind::Mdf => Some(Board::Mdf),
            BoardKind::Aluminium => None,
        }
    }

    /// Factor for how long a load stays; 1 for a metal.
    pub(crate) fn k_mod(&self, duration: Duration) -> Option<f64> {
        self.board().map_or(Some(1.0), |board| timber::k_mod(board, self.class, duration))
    }

    /// Creep; none in a metal.
    pub(crate) fn k_def(&self) -> Option<f64> {
        self.board().map_or(Some(0.0), |board| timber::k_def(board, self.class))
    }

    /// `MPa` in bending by design along u and along v, under a load that stays so long.
    pub(crate) fn design_bending(&self, duration: Duration) -> [f64; 2] {
        let factor = self.k_mod(duration).unwrap_or(0.0) / self.gamma();
        self.bending.map(|strength| strength * factor)
    }

    /// Partial factor of the material: EN 1995-1-1 Table 2.3, fibreboard from memory.
    pub(crate) fn gamma(&self) -> f64 {
        match self.kind {
            BoardKind::Plywood => timber::GAMMA_PLYWOOD,
            BoardKind::Mdf => GAMMA_FIBREBOARD,
            BoardKind::Aluminium => GAMMA_METAL,
        }
    }

    /// Poisson's ratio.
    pub(crate) fn poisson(&self) -> f64 {
        if self.kind == BoardKind::Plywood { POISSON_PLYWOOD } else { POISSON }
    }
}
