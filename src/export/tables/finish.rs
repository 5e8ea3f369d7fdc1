//! Pieces of finishes, by finish and panel.

use super::{LENGTH_DECIMALS, csv};
use crate::export::words;
use crate::finished::Finished;
use crate::mass::MASS_DECIMALS;
use crate::number::{decimal, fixed};

const HEAD: [&str; 11] = [
    "finish",
    "kind",
    "panel",
    "face",
    "piece across (mm)",
    "piece up (mm)",
    "covers (m2)",
    "of it edges (m2)",
    "goes round edges",
    "adhesive (kg)",
    "mass (kg)",
];

/// One row for each covered face, panel by panel.
pub(crate) fn finish(finished: &Finished) -> String {
    let kit = &finished.kit;
    let rows = kit.coatings.iter().map(|coating| {
        let (coat, area) = (&coating.coat, coating.area());
        let (_, adhesive) = coat.finish.masses_of(area);
        let [across, up] = coating.piece.map(|length| decimal(length, LENGTH_DECIMALS));
        [
            coat.name.clone(),
            coat.finish.id.clone(),
            kit.panel(coating.panel).name.clone(),
            words::face(coat.face_a).to_owned(),
            across,
            up,
            fixed(area * 1e-6, 4),
            fixed(coating.on_edges * 1e-6, 4),
            if coat.wraps { "yes" } else { "no" }.to_owned(),
            fixed(adhesive, MASS_DECIMALS),
            fixed(coating.mass(), MASS_DECIMALS),
        ]
    });
    csv(HEAD, rows)
}
