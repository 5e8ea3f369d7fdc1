//! How panels are laid on sheets: effort, seed, time limit.

use super::workshop::whole;
use super::{Limits, Reader};
use crate::diag::{At, Finding};
use crate::spec::model::{NestingEffort, NestingWish};
use crate::spec::raw;
use crate::spec::rules::{self, shown};
use crate::spec::value::{Amount, Place};

/// Steps of each stream; more than can be waited for.
const STEPS: Limits = Limits::from_zero(100_000_000.0, " steps");
/// Any number that is written the same by all programs.
const SEED: Limits = Limits::from_zero(1_000_000_000.0, "");
/// Up to a day.
const SECONDS: Limits = Limits::more_than_zero(86_400.0, " s");

/// The design's wishes; what it leaves out stands at the place of the map, or of the file.
pub(crate) fn nesting(reader: &mut Reader<'_>, place: Option<&Place<raw::Nesting>>) -> NestingWish {
    let raw = place.map(Place::value);
    let span = place.map_or(reader.whole(), |place| reader.span(place));
    let effort = raw.and_then(|raw| raw.effort.as_ref()).map(|place| effort(reader, place));
    let seed = reader.some_number(raw.and_then(|raw| raw.seed.as_ref()), SEED);
    NestingWish {
        effort: effort.unwrap_or(At::new(NestingEffort::Standard, span)),
        seed: seed.map_or(At::new(1, span), |seed| whole(reader, seed, "seed")),
        time_limit: reader.some_number(raw.and_then(|raw| raw.time_limit.as_ref()), SECONDS),
    }
}

fn effort(reader: &mut Reader<'_>, place: &Place<Amount>) -> At<NestingEffort> {
    let span = reader.span(place);
    let level = match place.value() {
        Amount::Number(_) => {
            let steps = reader.some_number(Some(place), STEPS).unwrap_or(At::new(0.0, span));
            NestingEffort::Steps(whole(reader, steps, "number of steps").value)
        }
        Amount::Text(text) => match text.as_str() {
            "quick" => NestingEffort::Quick,
            "standard" => NestingEffort::Standard,
            "long" => NestingEffort::Long,
            other => {
                let message = format!("`{}` is no effort", shown(other));
                let help = "write quick, standard, long or a number of steps";
                reader.findings.push(Finding::new(&rules::UNKNOWN_WORD, span, message).help(help));
                NestingEffort::Standard
            }
        },
    };
    At::new(level, span)
}
