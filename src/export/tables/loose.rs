//! The cut list of loose parts: what was asked for, and on which sheets it lies.

use super::{LENGTH_DECIMALS, csv};
use crate::export::cut_files::sheets_of_each;
use crate::export::words;
use crate::loose::LooseParts;
use crate::number::{decimal, fixed};

const HEAD: [&str; 11] = [
    "part",
    "quantity",
    "material",
    "thickness (mm)",
    "length (mm)",
    "width (mm)",
    "grain",
    "face",
    "openings",
    "area (m2)",
    "sheets",
];

/// One row for each part, in the list's order; the area is that of one piece.
pub(crate) fn loose_cut_list(loose: &LooseParts) -> String {
    let sheets = sheets_of_each(&loose.groups);
    let rows = loose.parts.iter().enumerate().map(|(i, part)| {
        let (length, width) = part.size;
        [
            part.name.clone(),
            part.quantity.to_string(),
            part.material.id.clone(),
            part.material.thickness.map_or_else(String::new, |(_, actual)| decimal(actual, LENGTH_DECIMALS)),
            decimal(length, LENGTH_DECIMALS),
            decimal(width, LENGTH_DECIMALS),
            words::grain(part.grain).to_owned(),
            if part.either_face { "either" } else { "up" }.to_owned(),
            part.shape.openings.len().to_string(),
            fixed(part.area() * 1e-6, 4),
            sheets.get(&i).cloned().unwrap_or_default(),
        ]
    });
    csv(HEAD, rows)
}
