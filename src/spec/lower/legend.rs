//! Legends.

use super::on_panel::{Written, on_panel};
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
    let Some(list) = list else { return Vec::new() };
    reader.counted(list, MOST);
    let read: Vec<_> = list.value().iter().map(|raw| one(reader, raw)).collect();
    let legends: Vec<Legend> = read.into_iter().flatten().collect();
    reader.differing(legends.iter().map(|legend| &legend.on.id), "legends");
    legends
}

fn one(reader: &mut Reader<'_>, place: &Place<raw::Legend>) -> Option<Legend> {
    let (raw, span) = (place.value(), reader.span(place));
    let on = on_panel(
        reader,
        span,
        &Written {
            id: &raw.id,
            panel: raw.panel.as_ref(),
            front_of: raw.front_of.as_ref(),
            middle: raw.middle.as_ref(),
            edge: raw.edge.as_ref(),
            repeat: None,
            facing: raw.facing.as_ref(),
        },
    );
    let text = reader.sentence(&raw.text);
    let height = reader.length_or(raw.height.as_ref(), HEIGHT, USUAL, span);
    let upright = raw.upright.as_ref().is_some_and(|upright| *upright.value());
    Some(Legend { on: on?, text, height, upright })
}
