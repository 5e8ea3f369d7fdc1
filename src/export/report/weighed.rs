//! What a scale said against what was calculated, and what that tells of the boards.

use super::body::Column::{Figures, Words};
use super::body::{Body, Table, list, paragraph};
use crate::finished::Finished;
use crate::number::{decimal, fixed};

/// Decimals of kg: a gram.
const GRAMS: usize = 3;

/// Readings and densities; nothing for a kit that nobody weighed.
pub(super) fn weighed(finished: &Finished) -> Body {
    let weighed = &finished.weighed;
    if weighed.readings.is_empty() {
        return Body::none();
    }
    let mut table = Table::new([
        Words("On the scale"),
        Figures("Weighed kg"),
        Figures("tells apart kg"),
        Figures("Calculated kg"),
        Figures("Difference kg"),
        Figures("Difference %"),
        Figures("Not explained by densities kg"),
    ]);
    for reading in &weighed.readings {
        let unexplained =
            if weighed.densities.is_empty() { String::new() } else { fixed(reading.unexplained, GRAMS) };
        table.row([
            reading.of.clone(),
            fixed(reading.weighed, GRAMS),
            decimal(reading.resolution, GRAMS),
            fixed(reading.calculated, GRAMS),
            fixed(reading.difference(), GRAMS),
            fixed(reading.percent(), 1),
            unexplained,
        ]);
    }
    table.body() + causes(finished)
}

/// The likeliest causes, and lines for the workshop's file.
fn causes(finished: &Finished) -> Body {
    let weighed = &finished.weighed;
    if weighed.densities.is_empty() {
        return paragraph(
            "Too few readings, or too much alike, to tell why: weigh single panels of each board, and the kit.",
        );
    }
    let mut causes: Vec<String> = weighed
        .densities
        .iter()
        .map(|density| {
            let percent = 100.0 * (density.fitted / density.published - 1.0);
            format!(
                "{}: {} kg/m\u{b3} by the readings, {} % against {} as published. For the workshop file: {}: {{density: {}}}",
                density.material,
                decimal(density.fitted, 0),
                fixed(percent, 1),
                decimal(density.published, 0),
                density.material,
                decimal(density.fitted, 0)
            )
        })
        .collect();
    if let Some(reading) = weighed.suspect.and_then(|suspect| weighed.readings.get(suspect)) {
        let kg = decimal(reading.unexplained.abs(), 2);
        causes.push(if reading.unexplained > 0.0 {
            format!("{} weighs {kg} kg more than the other readings bear out: something is on the scale that the spec does not have.", reading.of)
        } else {
            format!("{} weighs {kg} kg less than the other readings bear out: something of it was not on the scale.", reading.of)
        });
    }
    paragraph("Densities by least squares over all readings; all that is not board counts as calculated.")
        + list(&causes)
}
