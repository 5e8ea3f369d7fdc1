//! The space in which people live and gas is burnt, as asked for.

use crate::diag::{At, Span};

/// A living space.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Living {
    /// How many sleep in it.
    pub(crate) berths: At<u32>,
    /// Openings to the outside that nobody can shut, in the order of the text.
    pub(crate) vents: Vec<LivingVent>,
    /// Where it is described.
    pub(crate) span: Span,
}

/// An opening of the vehicle to the outside.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct LivingVent {
    /// Its name.
    pub(crate) id: At<String>,
    /// mm2.
    pub(crate) area: f64,
    /// mm above the floor: its lower and its upper edge.
    pub(crate) heights: (f64, f64),
}

impl Living {
    /// mm2 of all openings together that gas appliances of `rate` MJ/h ask for, those apart that are sealed from the room:
    /// the greater of 4000 and 610 U + 650 P with P berths (AS/NZS 5601.2:2020 section 7, read in public guides).
    pub(crate) fn vents_needed(&self, rate: f64) -> f64 {
        (610.0 * rate + 650.0 * f64::from(self.berths.value)).max(4000.0)
    }
}
