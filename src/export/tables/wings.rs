//! Every measured point of the wings against the panel's edge.

use super::{LENGTH_DECIMALS, csv};
use crate::export::words;
use crate::finished::Finished;
use crate::number::fixed;

const HEAD: [&str; 9] = [
    "wing",
    "side",
    "point",
    "x forward (mm)",
    "y outward (mm)",
    "fillet (mm)",
    "to the edge (mm)",
    "clearance (mm)",
    "remark",
];

/// One row for each point, in the order of the spec, from the tailgate forward; none for drawn wings.
pub(crate) fn wings(finished: &Finished) -> String {
    let layout = &finished.kit.layout;
    let mm = |length: f64| fixed(length, LENGTH_DECIMALS);
    let rows = layout.wings.iter().flat_map(|wing| {
        let clearance = wing.clearance.unwrap_or_default();
        wing.points.iter().enumerate().map(move |(i, place)| {
            [
                layout.board(wing.board).name.clone(),
                wing.side.word().to_owned(),
                (i + 1).to_string(),
                mm(place.at.x),
                mm(place.at.y.abs()),
                mm(place.fillet),
                mm(place.distance),
                mm(clearance),
                words::residual(place, clearance).to_owned(),
            ]
        })
    });
    csv(HEAD, rows)
}
