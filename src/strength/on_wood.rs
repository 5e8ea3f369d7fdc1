//! What bolts on wood ask for: how far they are from edges and from each other beside what the rules for timber and for panels want,
//! and how hard they may be tightened before the washer sinks in.

use super::Job;
use crate::catalogue::WasherKind;
use crate::geom::Contours;
use crate::joints::Panel;
use crate::spec::BoardKind;
use baywright_formulas::bolt;
use baywright_formulas::timber::{self, Spacing};
use std::collections::BTreeMap;

/// Friction of a dry thread: torque over force times diameter. Common practice, no source.
const DRY: f64 = 0.2;

/// All bolts of one thread size in boards of plywood.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct SizeOnWood {
    /// Thread size.
    pub(crate) size: String,
    /// Bores in boards.
    pub(crate) bores: usize,
    /// mm from a bore's middle to the nearest edge, the least of all.
    pub(crate) to_edge: f64,
    /// mm between two bores of a board, the least of all.
    pub(crate) apart: Option<f64>,
    /// What EN 1995-1-1 Table 8.4 wants in timber, along the grain.
    pub(crate) timber: Spacing,
    /// What a handbook wants in cross-bonded panels.
    pub(crate) panel: Spacing,
    /// N m at which the large washer begins to sink in, if the catalogue has one.
    pub(crate) torque: Option<f64>,
}

/// Every thread size that goes through plywood.
pub(super) fn sizes(job: &Job<'_>) -> Vec<SizeOnWood> {
    let mut found: BTreeMap<String, SizeOnWood> = BTreeMap::new();
    let wooden = |panel: &&Panel| panel.material.strength.kind == Some(BoardKind::Plywood);
    for panel in job.kit.panels.iter().filter(wooden) {
        let openings = panel.openings.iter().map(|opening| &opening.path);
        let contours = Contours::of(std::iter::once(&panel.outline).chain(openings));
        for (i, bore) in panel.bores.iter().enumerate() {
            let thread = &job.kit.bolt(bore.bolt).hardware.thread;
            let to_edge = contours.distance_to(bore.centre);
            let others = panel.bores[..i].iter().chain(&panel.bores[i + 1..]);
            let same = others.filter(|other| job.kit.bolt(other.bolt).hardware.thread.size == thread.size);
            let apart = same.map(|other| (other.centre - bore.centre).length()).reduce(f64::min);
            let own = found.entry(thread.size.clone()).or_insert_with(|| SizeOnWood {
                size: thread.size.clone(),
                bores: 0,
                to_edge: f64::INFINITY,
                apart: None,
                timber: timber::timber_spacing(thread.diameter, 0.0),
                panel: timber::panel_spacing(thread.diameter, 0.0),
                torque: torque(job, panel, (&thread.size, thread.diameter, thread.clearance_medium)),
            });
            own.bores += 1;
            own.to_edge = own.to_edge.min(to_edge);
            own.apart = [own.apart, apart].into_iter().flatten().reduce(f64::min);
        }
    }
    found.into_values().collect()
}

/// N m that press the large washer of a size into a panel's wood.
fn torque(job: &Job<'_>, panel: &Panel, (size, diameter, hole): (&str, f64, f64)) -> Option<f64> {
    let washer = job.catalogue.washer(WasherKind::Large, size)?;
    let force = timber::pull_through(panel.material.strength.flat_compression?, washer.outer, hole);
    // The formula gives N mm.
    Some(bolt::torque(force, DRY, diameter) / 1000.0)
}
