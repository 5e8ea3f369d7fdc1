//! What the sheets are cut with: router or panel saw, and the saw's blade and stages.

use super::{Limits, Reader};
use crate::diag::{At, Finding, Span};
use crate::number::decimal;
use crate::spec::model::{Cutting, Saw};
use crate::spec::raw;
use crate::spec::rules;
use crate::spec::value::Place;

/// mm. A panel saw's blade of the ordinary kind: common practice, no source.
const KERF: f64 = 3.2;
/// Rip, cross, and one cut more: common practice, no source.
const STAGES: u32 = 3;
/// mm. Several times what any saw's blade takes (common practice, no source): more is a slip of the unit.
const KERFS: Limits = Limits::more_than_zero(12.0, " mm");
/// More stages than a sawyer can keep apart.
const MOST_STAGES: Limits = Limits::from_zero(20.0, " stages");

/// What the sheets are cut with.
pub(super) fn cutting(
    reader: &mut Reader<'_>,
    place: Option<&Place<raw::Cutting>>,
    outer: Span,
) -> At<Cutting> {
    let read = |cutting: &raw::Cutting| match cutting {
        raw::Cutting::Router => Cutting::Router,
        raw::Cutting::Saw => Cutting::Saw,
    };
    place.map_or(At::new(Cutting::Router, outer), |place| reader.plain(place, read))
}

/// The saw.
pub(super) fn saw(reader: &mut Reader<'_>, place: Option<&Place<raw::Saw>>, outer: Span) -> Saw {
    let raw = place.map(Place::value);
    let span = place.map_or(outer, |place| reader.span(place));
    let stages = raw.and_then(|saw| saw.stages.as_ref());
    let stages = stages.and_then(|stages| reader.limited(stages, 1.0, MOST_STAGES));
    Saw {
        kerf: reader.length_or(raw.and_then(|saw| saw.kerf.as_ref()), KERFS, KERF, span),
        stages: stages.map_or(At::new(STAGES, span), |stages| counted(reader, stages)),
    }
}

/// A whole number of stages with which a part can be cut out of a sheet.
fn counted(reader: &mut Reader<'_>, stages: At<f64>) -> At<u32> {
    let number = decimal(stages.value, 3);
    let fault = if stages.value.fract() != 0.0 {
        Some(format!("{number} is no whole number of stages"))
    } else if stages.value < 2.0 {
        Some(format!(
            "stages: {number} cuts no part out of a sheet: its length and its width take one stage each"
        ))
    } else {
        None
    };
    if let Some(fault) = fault {
        let finding = Finding::new(&rules::OUT_OF_RANGE, stages.span, fault);
        reader
            .findings
            .push(finding.help("give a whole number, 2 at least; 3 lets a strip hold parts of unlike width"));
    }
    // The limits hold it between 0 and 20; the way through text keeps the conversion checked.
    stages.map(|stages| decimal(stages, 0).parse().unwrap_or_default())
}
