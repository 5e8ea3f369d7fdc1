//! The openings of the space in which people live and gas is burnt, against what gas appliances and sleepers need.

use crate::layout::EquipmentSummary;
use crate::spec::Design;

/// mm within which an opening lies of the floor, or of the roof: AS/NZS 5601.2:2020 section 7 (read in public guides).
pub(crate) const NEAR_FLOOR_AND_ROOF: f64 = 150.0;

/// Air of a living space, mm2 and MJ/h.
#[derive(Clone, Copy, Debug)]
pub(crate) struct LivingAir {
    /// MJ/h of the appliances that are not sealed from the room.
    pub(crate) rate: f64,
    /// What all openings together must have; half low, half high.
    pub(crate) needed: f64,
    /// What lies near the floor has.
    pub(crate) low: f64,
    /// What lies near the roof has.
    pub(crate) high: f64,
}

/// The air of the vehicle's living space, where equipment burns gas. `None` without such equipment or such a space.
pub(super) fn living_air(design: &Design, equipment: &[EquipmentSummary]) -> Option<LivingAir> {
    let living = design.vehicle.living.as_ref()?;
    let burns: Vec<_> = equipment.iter().filter_map(|equipment| equipment.burns).collect();
    if burns.is_empty() {
        return None;
    }
    let rate = burns.iter().filter(|burns| !burns.room_sealed).map(|burns| burns.rate).sum();
    let roof = design.vehicle.bay.height.value;
    let area = |counts: &dyn Fn((f64, f64)) -> bool| {
        living.vents.iter().filter(|vent| counts(vent.heights)).map(|vent| vent.area).sum()
    };
    Some(LivingAir {
        rate,
        needed: living.vents_needed(rate),
        low: area(&|(_, top)| top <= NEAR_FLOOR_AND_ROOF),
        high: area(&|(bottom, _)| bottom >= roof - NEAR_FLOOR_AND_ROOF),
    })
}
