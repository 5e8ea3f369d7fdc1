//! Every panel in the way of a run has an opening where the run goes through it.

use crate::finished::Finished;
use crate::number::decimal;

/// mm between places of a run that are looked at.
const STEP: f64 = 0.5;

pub(super) fn faults(finished: &Finished) -> Vec<String> {
    let kit = &finished.kit;
    let mut faults = Vec::new();
    for run in &kit.layout.runs {
        for pair in run.way.windows(2) {
            let steps = ((pair[1] - pair[0]).length() / STEP).ceil().max(1.0);
            let shares = (0..).map(f64::from).take_while(|i| *i <= steps).map(|i| i / steps);
            let places: Vec<_> = shares.map(|share| pair[0].lerp(pair[1], share)).collect();
            for panel in &kit.panels {
                let in_wood = places.iter().find(|place| {
                    let p = panel.placement.to_panel(**place);
                    let within = p.z > STEP / 10.0 && p.z < panel.material.actual - STEP / 10.0;
                    let p = p.xy();
                    let cut = || panel.openings.iter().any(|opening| opening.path.contains(p));
                    within && panel.outline.contains(p) && !cut()
                });
                if let Some(place) = in_wood {
                    let at = place.to_array().map(|mm| decimal(mm, 1)).join(", ");
                    faults.push(format!("`{}` meets the wood of `{}` at ({at})", run.name, panel.name));
                }
            }
        }
    }
    faults
}
