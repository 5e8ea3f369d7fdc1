//! Legends.

use super::on_panel::{on_panel, written};
use super::{Limits, Reader};
use crate::spec::model::Legend;
use crate::spec::raw;
use crate::spec::value::Place;

/// Most legends of a kit.
const MOST: usize = 500;
/// mm. Of capitals.
const HEIGHT: Limits = Limits { least: 2.0, above: false, most: 200.0, unit: " mm" };
/// mm of capitals, where the spec says nothing: legible at arm's length. Common practice, no source.
const USUAL: f64 = 6.0;

/// All legends, by place in the text.
pub(crate) fn legends(reader: &mut Reader<'_>, list: Option<&Place<Vec<Place<raw::Legend>>>>) -> Vec<Legend> {
    let legends = reader.each(list, MOST, one);
    reader.differing(legends.iter().map(|legend| &legend.on.id), "legends");
    legends
}

fn one(reader: &mut Reader<'_>, place: &Place<raw::Legend>) -> Option<Legend> {
    let (raw, span) = (place.value(), reader.span(place));
    let on = on_panel(reader, span, &written!(raw, None));
    let text = reader.sentence(&raw.text);
    let height = reader.length_or(raw.height.as_ref(), HEIGHT, USUAL, span);
    let upright = raw.upright.as_ref().is_some_and(|upright| *upright.value());
    Some(Legend { on: on?, text, height, upright })
}
