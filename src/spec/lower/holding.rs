//! How small parts are held, raw to model: the workshop's key `holding`.

use super::{Limits, Reader, SIZE};
use crate::diag::{At, Finding, Span};
use crate::number::decimal;
use crate::spec::model::{Holding, HoldingMethod, TabCount, Tabs, TabsAs};
use crate::spec::raw;
use crate::spec::rules;
use crate::spec::value::Place;

/// mm2: up to a sheet of ten metres.
const AREA: Limits = Limits::from_zero(1e8, " mm2");
/// mm. A part wider than a metre is not small.
const WIDTH: Limits = Limits::from_zero(1000.0, " mm");
/// mm. Less breaks under the tool, more cannot be cut off by hand.
const TAB: Limits = Limits { least: 0.5, above: false, most: 50.0, unit: " mm" };
/// One tab lets a part turn about it.
const TABS: Limits = Limits { least: 2.0, above: false, most: 20.0, unit: " tabs" };
/// mm. Thinner than a sheet's own tolerance is no skin.
const SKIN: Limits = Limits { least: 0.1, above: false, most: 5.0, unit: " mm" };

/// All of it, with defaults at the map that leaves them out.
pub(super) fn holding(reader: &mut Reader<'_>, place: Option<&Place<raw::Holding>>, outer: Span) -> Holding {
    let raw = place.map(Place::value);
    let span = place.map_or(outer, |place| reader.span(place));
    let small = raw.and_then(|holding| holding.small.as_ref()).map(Place::value);
    let square = reader.unit * reader.unit;
    let small_area = small.and_then(|small| small.area.as_ref());
    let small_area = small_area.and_then(|area| reader.limited(area, square, AREA));
    let method = raw.and_then(|holding| holding.method.as_ref()).map(|method| {
        reader.plain(method, |method| match method {
            raw::HoldingMethod::Tabs => HoldingMethod::Tabs,
            raw::HoldingMethod::Skin => HoldingMethod::Skin,
            raw::HoldingMethod::None => HoldingMethod::None,
        })
    });
    let skin = raw.and_then(|holding| holding.skin.as_ref()).map(Place::value);
    Holding {
        small_area: small_area.unwrap_or(At::new(45_000.0, span)),
        small_width: reader.length_or(small.and_then(|small| small.width.as_ref()), WIDTH, 80.0, span),
        method: method.unwrap_or(At::new(HoldingMethod::Tabs, span)),
        tabs: tabs(reader, raw.and_then(|holding| holding.tabs.as_ref()), span),
        skin: reader.length_or(skin.and_then(|skin| skin.thickness.as_ref()), SKIN, 0.5, span),
    }
}

fn tabs(reader: &mut Reader<'_>, place: Option<&Place<raw::Tabs>>, outer: Span) -> Tabs {
    let raw = place.map(Place::value);
    let span = place.map_or(outer, |place| reader.span(place));
    let spacing = reader.some_length(raw.and_then(|tabs| tabs.spacing.as_ref()), SIZE);
    let number = reader.some_number(raw.and_then(|tabs| tabs.number.as_ref()), TABS);
    if let (Some(spacing), Some(number)) = (spacing, number) {
        let finding =
            Finding::new(&rules::TABS_UNCLEAR, number.span, "both `spacing` and `number` are given");
        reader.findings.push(finding.also(spacing.span, "the spacing").help("keep one of them"));
    }
    let count = match number {
        Some(number) => TabCount::Number(whole(reader, number)),
        None => TabCount::Spacing(spacing.map_or(200.0, |spacing| spacing.value)),
    };
    let shown_as = raw.and_then(|tabs| tabs.shown_as.as_ref()).map(|shown_as| {
        reader.plain(shown_as, |shown_as| match shown_as {
            raw::TabsAs::Gaps => TabsAs::Gaps,
            raw::TabsAs::Layer => TabsAs::Layer,
        })
    });
    Tabs {
        width: reader.length_or(raw.and_then(|tabs| tabs.width.as_ref()), TAB, 6.0, span),
        count,
        shown_as: shown_as.unwrap_or(At::new(TabsAs::Layer, span)),
    }
}

/// A number of tabs, which is whole.
fn whole(reader: &mut Reader<'_>, number: At<f64>) -> u32 {
    if number.value.fract() != 0.0 {
        let message = format!("{} is no whole number of tabs", decimal(number.value, 3));
        reader.findings.push(Finding::new(&rules::OUT_OF_RANGE, number.span, message));
    }
    // The limits hold it between 2 and 20; the way through text keeps the conversion checked.
    decimal(number.value, 0).parse().unwrap_or_default()
}
