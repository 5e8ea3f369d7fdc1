//! Where cut-outs, tie-downs and legends are on their panels.

use super::workshop::whole;
use super::{GAP, Limits, Reader, SIZE};
use crate::diag::{At, Finding, Span};
use crate::spec::cutout_rules::ON_PANEL_UNCLEAR;
use crate::spec::model::{OnPanel, PanelHost, Towards};
use crate::spec::raw;
use crate::spec::value::Place;

/// Most of one row.
const COUNT: Limits = Limits { least: 1.0, above: false, most: 100.0, unit: "" };

/// The keys that say where something is on a panel.
pub(super) struct Written<'a> {
    pub(super) id: &'a Place<String>,
    pub(super) panel: Option<&'a Place<String>>,
    pub(super) front_of: Option<&'a Place<String>>,
    pub(super) middle: Option<&'a Place<raw::FromEdges>>,
    pub(super) edge: Option<&'a Place<raw::FromEdges>>,
    pub(super) repeat: Option<&'a Place<raw::Repeat>>,
    pub(super) facing: Option<&'a Place<raw::Facing>>,
}

/// The keys of [`Written`] as an entry of a spec has them; what may be repeated has its `repeat` named.
macro_rules! written {
    ($raw:expr, $repeat:expr) => {
        $crate::spec::lower::on_panel::Written {
            id: &$raw.id,
            panel: $raw.panel.as_ref(),
            front_of: $raw.front_of.as_ref(),
            middle: $raw.middle.as_ref(),
            edge: $raw.edge.as_ref(),
            repeat: $repeat,
            facing: $raw.facing.as_ref(),
        }
    };
}
pub(super) use written;

/// A place on a panel. `None` if the panel is not given once; a finding says so.
pub(super) fn on_panel(reader: &mut Reader<'_>, span: Span, raw: &Written<'_>) -> Option<OnPanel> {
    let id = reader.name(raw.id);
    let host = host(reader, raw, span);
    let (from, to_middle) = match (raw.middle, raw.edge) {
        (Some(_), Some(edge)) => {
            let help = "`middle` counts to its middle, `edge` to its own edge: keep one";
            unclear(reader, reader.span(edge), "this has a `middle` and an `edge`", help);
            (Vec::new(), true)
        }
        (Some(place), None) => (distances(reader, place), true),
        (None, Some(place)) => (distances(reader, place), false),
        (None, None) => (Vec::new(), true),
    };
    let repeat = raw.repeat.map(Place::value);
    let across = row(reader, repeat.and_then(|repeat| repeat.across.as_ref()));
    let up = row(reader, repeat.and_then(|repeat| repeat.up.as_ref()));
    let facing = raw.facing.map(|facing| reader.plain(facing, |facing| towards(*facing)));
    Some(OnPanel { id, host: host?, to_middle, from, across, up, facing, span })
}

fn host(reader: &mut Reader<'_>, raw: &Written<'_>, span: Span) -> Option<PanelHost> {
    match (raw.panel, raw.front_of) {
        (Some(panel), None) => Some(PanelHost::Panel(reader.name(panel))),
        (None, Some(cell)) => Some(PanelHost::FrontOf(reader.name(cell))),
        (panel, _) => {
            let given = if panel.is_some() { "both" } else { "neither" };
            let message =
                format!("this needs a `panel`, or the cell that it is in the `front_of`; it has {given}");
            unclear(reader, span, &message, "name the panel as the cut list does, e.g. `panel: main-back`");
            None
        }
    }
}

fn distances(reader: &mut Reader<'_>, place: &Place<raw::FromEdges>) -> Vec<(Towards, At<f64>)> {
    let raw = place.value();
    let mut found = Vec::new();
    for (one, other) in [
        ((Towards::Left, &raw.left), (Towards::Right, &raw.right)),
        ((Towards::Rear, &raw.rear), (Towards::Front, &raw.front)),
        ((Towards::Down, &raw.bottom), (Towards::Up, &raw.top)),
    ] {
        if let (Some(_), Some(second)) = (one.1, other.1) {
            let message = format!(
                "this is placed from one of `{}` and `{}`; it has both",
                one.0.edge(),
                other.0.edge()
            );
            unclear(reader, reader.span(second), &message, "leave one out");
        }
        for (towards, amount) in [one, other] {
            found.extend(reader.some_length(amount.as_ref(), GAP).map(|length| (towards, length)));
        }
    }
    found
}

/// Widths along edges, of which any may be given.
pub(super) fn strips(reader: &mut Reader<'_>, place: &Place<raw::FromEdges>) -> Vec<(Towards, At<f64>)> {
    let raw = place.value();
    let edges = [
        (Towards::Left, &raw.left),
        (Towards::Right, &raw.right),
        (Towards::Rear, &raw.rear),
        (Towards::Front, &raw.front),
        (Towards::Down, &raw.bottom),
        (Towards::Up, &raw.top),
    ];
    let given = |(towards, amount): (Towards, &Option<_>)| {
        reader.some_length(amount.as_ref(), SIZE).map(|length| (towards, length))
    };
    edges.into_iter().filter_map(given).collect()
}

fn row(reader: &mut Reader<'_>, place: Option<&Place<raw::Row>>) -> (usize, f64) {
    let Some(raw) = place.map(Place::value) else { return (1, 0.0) };
    let count = reader.degrees(&raw.count, COUNT);
    let count = whole(reader, count, "number of openings").value as usize;
    (count.max(1), reader.length(&raw.pitch, SIZE).value)
}

pub(super) fn towards(facing: raw::Facing) -> Towards {
    match facing {
        raw::Facing::Left => Towards::Left,
        raw::Facing::Right => Towards::Right,
        raw::Facing::Rear => Towards::Rear,
        raw::Facing::Front => Towards::Front,
        raw::Facing::Up => Towards::Up,
        raw::Facing::Down => Towards::Down,
    }
}

/// Something on a panel is not given, or given twice.
pub(super) fn unclear(reader: &mut Reader<'_>, span: Span, message: &str, help: &str) {
    reader.findings.push(Finding::new(&ON_PANEL_UNCLEAR, span, message).help(help));
}
