//! Runs of cables, hoses and ducts.

use super::on_panel::towards;
use super::{Limits, POSITION, Reader};
use crate::diag::{Finding, Span};
use crate::geom::Point3;
use crate::spec::model::{Run, RunKind, RunStop};
use crate::spec::raw;
use crate::spec::run_rules::RUN_UNCLEAR;
use crate::spec::value::Place;

/// Most runs of a kit, and most stops of a run.
const MOST: usize = 200;
/// What goes through a panel beside other things.
const BUNDLE: Limits = Limits { least: 1.0, above: false, most: 200.0, unit: " mm" };
/// Of a grommet.
const WALL: Limits = Limits { least: 0.5, above: false, most: 20.0, unit: " mm" };
/// mm. Of a grommet, where the spec says nothing. Common practice, no source.
const USUAL_WALL: f64 = 2.0;
/// From a battery to its fuse.
const PROTECTED: Limits = Limits::from_zero(5000.0, " mm");

/// All runs, by place in the text.
pub(crate) fn runs(reader: &mut Reader<'_>, list: Option<&Place<Vec<Place<raw::Run>>>>) -> Vec<Run> {
    let runs = reader.each(list, MOST, one);
    reader.differing(runs.iter().map(|run| &run.id), "runs");
    runs
}

fn one(reader: &mut Reader<'_>, place: &Place<raw::Run>) -> Option<Run> {
    let (raw, span) = (place.value(), reader.span(place));
    let id = reader.name(&raw.id);
    let kind = match raw.kind.value() {
        raw::RunKind::Cable => RunKind::Cable,
        raw::RunKind::Hose => RunKind::Hose,
        raw::RunKind::Duct => RunKind::Duct,
        raw::RunKind::Gas => RunKind::Gas,
    };
    let via = reader.each(raw.via.as_ref(), MOST, |reader, place| Some(stop(reader, place)));
    let (from, to) = (stop(reader, &raw.from), stop(reader, &raw.to));
    let protected_within = reader.some_length(raw.protected_within.as_ref(), PROTECTED);
    if let Some(within) = protected_within.filter(|_| kind != RunKind::Cable) {
        let message = format!("a {} has no fuse", kind.word());
        unclear(reader, within.span, &message, "leave `protected_within` out, or make it a `cable`");
    }
    let stops: Option<Vec<RunStop>> = [from].into_iter().chain(via).chain([to]).collect();
    Some(Run {
        id,
        kind,
        bundle: reader.length(&raw.bundle, BUNDLE).value,
        wall: reader.length_or(raw.wall.as_ref(), WALL, USUAL_WALL, span).value,
        protected_within,
        encased: raw.encased.as_ref().is_some_and(|encased| *encased.value()),
        stops: stops?,
        span,
    })
}

fn stop(reader: &mut Reader<'_>, place: &Place<raw::RunStop>) -> Option<RunStop> {
    let (raw, span) = (place.value(), reader.span(place));
    let face = raw.face.as_ref().map(|face| towards(*face.value()));
    match (&raw.of, &raw.at) {
        (Some(of), None) => Some(RunStop::Of(reader.name(of), face)),
        (None, Some(at)) => {
            if let Some(face) = &raw.face {
                let at = reader.span(face);
                unclear(
                    reader,
                    at,
                    "a place has no face",
                    "leave `face` out, or say which equipment with `of`",
                );
            }
            let at = at.value();
            let [x, y] = [&at.x, &at.y].map(|place| reader.length(place, POSITION).value);
            let z = reader.length_or(at.z.as_ref(), POSITION, 0.0, span).value;
            Some(RunStop::At(Point3::new(x, y, z)))
        }
        (of, _) => {
            let message = if of.is_some() {
                "a stop is `of` something or `at` a place; this one is both"
            } else {
                "a stop is `of` something or `at` a place; this one is neither"
            };
            unclear(reader, span, message, "e.g. `{of: fridge}` or `{at: {x: 900, y: 0, z: 100}}`");
            None
        }
    }
}

fn unclear(reader: &mut Reader<'_>, span: Span, message: &str, help: &str) {
    reader.findings.push(Finding::new(&RUN_UNCLEAR, span, message).help(help));
}
