//! The workshop: tool, habits, file formats, and what it adds to the catalogue.

use super::holding::holding;
use super::rates::{price_lists, rates};
use super::{GAP, Limits, POSITION, Reader, SIZE, finish, fitting, millimetres, saw, stock, strength};
use crate::diag::{At, Finding, Span};
use crate::number::decimal;
use crate::spec::model::{
    AngleEntry, BoardKind, DxfVersion, HoleClass, LabelGrid, Layers, Lift, MaterialEntry, Paper, PartMarks,
    SlideEntry, Spares, Tool, Workshop,
};
use crate::spec::raw;
use crate::spec::rules;
use crate::spec::value::{Amount, Entries, FileOr, Place};

/// Up to about twice that of lead (11,340 kg/m3, from memory).
const DENSITY: Limits = Limits::more_than_zero(25_000.0, " kg/m3");
/// Megapascals: up to that of the stiffest fibre.
const MODULUS: Limits = Limits::more_than_zero(1_000_000.0, " MPa");
/// Megapascals: up to that of the strongest steel.
const STRENGTH: Limits = Limits::more_than_zero(5000.0, " MPa");
/// kg.
pub(super) const MASS: Limits = Limits::more_than_zero(10_000.0, " kg");
/// kg/m.
const MASS_PER_METRE: Limits = Limits::more_than_zero(100.0, " kg/m");
/// Bolt diameters; less than half of one would cut the edge.
const DIAMETERS: Limits = Limits { least: 0.5, above: false, most: 20.0, unit: " diameters" };
/// Per cent.
const PERCENT: Limits = Limits::from_zero(1000.0, " %");
/// mm. Heights of part marks.
const MARKS: Limits = Limits { least: 3.0, above: false, most: 20.0, unit: " mm" };
/// Pieces.
const PIECES: Limits = Limits::from_zero(1000.0, "");
/// mm. Default for [`Workshop::smallest_offcut`]: common practice, no source.
const SMALLEST_OFFCUT: (f64, f64) = (600.0, 300.0);

/// A workshop that says nothing: all defaults, at the file as a whole.
pub(crate) fn default_workshop(reader: &mut Reader<'_>) -> Workshop {
    let span = Span { source: reader.source, ..Span::default() };
    lowered(reader, &raw::Workshop::default(), span)
}

/// A workshop, from a map or a file of its own. Its shelf is read only if it stands in it: a file that it names
/// is the caller's to open.
pub(crate) fn workshop(reader: &mut Reader<'_>, raw: &raw::Workshop, span: Span) -> Workshop {
    reader.unit = millimetres(raw.units.as_ref(), reader.unit);
    lowered(reader, raw, span)
}

fn lowered(reader: &mut Reader<'_>, raw: &raw::Workshop, span: Span) -> Workshop {
    let hole_class = raw.hole_class.as_ref().map(|class| {
        reader.plain(class, |class| match class {
            raw::HoleClass::Fine => HoleClass::Fine,
            raw::HoleClass::Medium => HoleClass::Medium,
            raw::HoleClass::Coarse => HoleClass::Coarse,
        })
    });
    let version = raw.dxf.as_ref().and_then(|dxf| dxf.value().version.as_ref()).map(|version| {
        reader.plain(version, |version| match version {
            raw::DxfVersion::R12 => DxfVersion::R12,
            raw::DxfVersion::R2000 => DxfVersion::R2000,
        })
    });
    let edge_distance = reader.some_number(raw.edge_distance.as_ref(), DIAMETERS);
    let currency = reader.some_sentence(raw.currency.as_ref());
    Workshop {
        rates: rates(reader, raw.rates.as_ref()),
        price_lists: price_lists(reader, raw.price_lists.as_ref(), currency.as_ref()),
        name: reader.some_sentence(raw.name.as_ref()),
        tool: tool(reader, raw.tool.as_ref(), span),
        cutting: saw::cutting(reader, raw.cutting.as_ref(), span),
        saw: saw::saw(reader, raw.saw.as_ref(), span),
        trim: reader.length_or(raw.trim.as_ref(), GAP, 10.0, span),
        hole_class: hole_class.unwrap_or(At::new(HoleClass::Medium, span)),
        slide_allowance: reader.length_or(raw.slide_allowance.as_ref(), GAP, 0.35, span),
        slot_fit: reader.length_or(raw.slot_fit.as_ref(), POSITION, 0.2, span),
        spares: spares(reader, raw.spares.as_ref(), span),
        dxf_version: version.unwrap_or(At::new(DxfVersion::R2000, span)),
        layers: layers(reader, raw.layers.as_ref()),
        holding: holding(reader, raw.holding.as_ref(), span),
        edge_distance: edge_distance.unwrap_or(At::new(3.0, span)),
        materials: entries(reader, raw.materials.as_ref(), material, |entry| &entry.id),
        slides: entries(reader, raw.slides.as_ref(), slide, |entry| &entry.id),
        fittings: entries(reader, raw.fittings.as_ref(), fitting::fitting, |entry| &entry.id),
        finishes: entries(reader, raw.finishes.as_ref(), finish::finish, |entry| &entry.id),
        angles: entries(reader, raw.angles.as_ref(), angle, |entry| &entry.id),
        currency,
        shelf: match raw.stock.as_ref().map(Place::value) {
            Some(FileOr::Map(list)) => stock::shelf(reader, list),
            Some(FileOr::File(_)) | None => Vec::new(),
        },
        smallest_offcut: smallest_offcut(reader, raw.offcuts.as_ref(), span),
        lift: lift(reader, raw.lift.as_ref(), span),
        part_marks: raw.part_marks.as_ref().map(|marks| part_marks(reader, marks)),
        paper: paper(reader, raw.paper.as_ref()),
        strength: strength::settings(reader, raw.strength.as_ref()),
    }
}

/// A4 in first-angle projection unless the workshop says otherwise.
fn paper(reader: &mut Reader<'_>, place: Option<&Place<raw::Paper>>) -> Paper {
    let raw = place.map(Place::value);
    let size = match raw.and_then(|raw| raw.size.as_ref()).map(Place::value) {
        Some(raw::PaperSize::Letter) => (215.9, 279.4),
        Some(raw::PaperSize::A4) | None => (210.0, 297.0),
    };
    let projection = raw.and_then(|raw| raw.projection.as_ref()).map(Place::value);
    let labels = raw.and_then(|raw| raw.labels.as_ref()).map(Place::value);
    let count = Limits { least: 1.0, above: false, most: 20.0, unit: "" };
    let mut number = |amount: Option<&Place<Amount>>, default: f64| {
        reader.some_number(amount, count).map_or(default, |number| number.value.floor())
    };
    let columns = number(labels.and_then(|labels| labels.columns.as_ref()), 3.0);
    let rows = number(labels.and_then(|labels| labels.rows.as_ref()), 8.0);
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "whole, from 1 to 20")]
    let (columns, rows) = (columns as usize, rows as usize);
    let mut margin = |amount: Option<&Place<Amount>>| {
        reader.some_length(amount, Limits::from_zero(50.0, " mm")).map_or(0.0, |length| length.value)
    };
    let sides = margin(labels.and_then(|labels| labels.margin_sides.as_ref()));
    let ends = margin(labels.and_then(|labels| labels.margin_ends.as_ref()));
    let third_angle = matches!(projection, Some(raw::Projection::ThirdAngle));
    Paper { size, third_angle, labels: LabelGrid { columns, rows, margin: (sides, ends) } }
}

fn part_marks(reader: &mut Reader<'_>, place: &Place<raw::PartMarks>) -> PartMarks {
    let (raw, span) = (place.value(), reader.span(place));
    PartMarks {
        height: reader.length_or(raw.height.as_ref(), MARKS, 5.0, span),
        fronts: raw.fronts.as_ref().is_some_and(|fronts| *fronts.value()),
    }
}

/// Limits of lifting; defaults are common practice, no source.
fn lift(reader: &mut Reader<'_>, place: Option<&Place<raw::Lift>>, outer: Span) -> Lift {
    let raw = place.map(Place::value);
    let span = place.map_or(outer, |place| reader.span(place));
    let one = reader.some_number(raw.and_then(|lift| lift.one.as_ref()), MASS);
    let two = reader.some_number(raw.and_then(|lift| lift.two.as_ref()), MASS);
    let one = one.unwrap_or(At::new(25.0, span));
    let two = two.unwrap_or(At::new(one.value.max(50.0), span));
    if two.value < one.value {
        let [one, two] = [one.value, two.value].map(|mass| decimal(mass, 3));
        let message = format!("two persons lift {two} kg, one of them {one} kg");
        reader
            .findings
            .push(Finding::new(&rules::OUT_OF_RANGE, span, message).help("give both, `one` the less"));
    }
    Lift { one, two }
}

fn smallest_offcut(
    reader: &mut Reader<'_>,
    place: Option<&Place<raw::Offcuts>>,
    outer: Span,
) -> At<(f64, f64)> {
    let Some(place) = place else { return At::new(SMALLEST_OFFCUT, outer) };
    let list = &place.value().smallest;
    let span = reader.span(list);
    match list.value().as_slice() {
        [length, width] => {
            At::new((reader.length(length, SIZE).value, reader.length(width, SIZE).value), span)
        }
        other => {
            let message = format!("the smallest offcut has {} lengths instead of two", other.len());
            let finding = Finding::new(&rules::OUT_OF_RANGE, span, message);
            reader.findings.push(finding.help("write it like [600, 300]"));
            At::new(SMALLEST_OFFCUT, span)
        }
    }
}

fn tool(reader: &mut Reader<'_>, place: Option<&Place<raw::Tool>>, outer: Span) -> Tool {
    let raw = place.map(Place::value);
    let span = place.map_or(outer, |place| reader.span(place));
    Tool {
        diameter: reader.length_or(raw.and_then(|tool| tool.diameter.as_ref()), SIZE, 6.0, span),
        margin: reader.length_or(raw.and_then(|tool| tool.margin.as_ref()), GAP, 2.0, span),
    }
}

fn spares(reader: &mut Reader<'_>, place: Option<&Place<raw::Spares>>, outer: Span) -> Spares {
    let raw = place.map(Place::value);
    let span = place.map_or(outer, |place| reader.span(place));
    let percent = reader.some_number(raw.and_then(|spares| spares.percent.as_ref()), PERCENT);
    let at_least = reader.some_number(raw.and_then(|spares| spares.at_least.as_ref()), PIECES);
    Spares {
        percent: percent.unwrap_or(At::new(5.0, span)),
        at_least: at_least.map_or(At::new(2, span), |count| whole(reader, count, "number of pieces")),
    }
}

/// A number of something, which is whole.
pub(super) fn whole(reader: &mut Reader<'_>, count: At<f64>, what: &str) -> At<u32> {
    if count.value.fract() != 0.0 {
        let message = format!("{} is no whole {what}", decimal(count.value, 3));
        reader.findings.push(Finding::new(&rules::OUT_OF_RANGE, count.span, message));
    }
    // The limits hold it far below the greatest; the way through text keeps the conversion checked.
    count.map(|count| decimal(count, 0).parse().unwrap_or_default())
}

fn layers(reader: &mut Reader<'_>, raw: Option<&raw::Layers>) -> Layers {
    let Some(raw) = raw else { return Layers::default() };
    Layers {
        outline: reader.some_name(raw.outline.as_ref()),
        opening: reader.some_name(raw.opening.as_ref()),
        bore: reader.some_name(raw.bore.as_ref()),
        countersink: reader.some_name(raw.countersink.as_ref()),
        tab: reader.some_name(raw.tab.as_ref()),
        skin: reader.some_name(raw.skin.as_ref()),
        engraving: reader.some_name(raw.engraving.as_ref()),
        note: reader.some_name(raw.note.as_ref()),
        stock: reader.some_name(raw.stock.as_ref()),
    }
}

/// Catalogue entries, by id.
fn entries<R, T>(
    reader: &mut Reader<'_>,
    list: Option<&Entries<R>>,
    read: fn(&mut Reader<'_>, At<String>, &R) -> T,
    id: fn(&T) -> &At<String>,
) -> Vec<T> {
    let list = list.map(|list| list.0.as_slice()).unwrap_or_default();
    let one = |(key, raw): &(Place<String>, R)| {
        let name = reader.name(key);
        read(reader, name, raw)
    };
    let mut read: Vec<T> = list.iter().map(one).collect();
    reader.differing(read.iter().map(id), "entries");
    read.sort_by(|a, b| id(a).value.cmp(&id(b).value));
    read
}

fn material(reader: &mut Reader<'_>, id: At<String>, raw: &raw::Material) -> MaterialEntry {
    let stock = raw.stock.as_ref().map(|list| stock::rows(reader, list));
    MaterialEntry {
        id,
        family: reader.some_name(raw.family.as_ref()),
        nominal: reader.some_length(raw.nominal.as_ref(), SIZE),
        actual: reader.some_length(raw.actual.as_ref(), SIZE),
        density: reader.some_number(raw.density.as_ref(), DENSITY),
        grain: raw.grain.as_ref().map(|grain| reader.plain(grain, |grain| *grain)),
        e_along: reader.some_number(raw.e_along.as_ref(), MODULUS),
        e_across: reader.some_number(raw.e_across.as_ref(), MODULUS),
        kind: raw.kind.as_ref().map(|kind| {
            reader.plain(kind, |kind| match kind {
                raw::BoardKind::Plywood => BoardKind::Plywood,
                raw::BoardKind::Mdf => BoardKind::Mdf,
                raw::BoardKind::Aluminium => BoardKind::Aluminium,
            })
        }),
        bending_along: reader.some_number(raw.bending_along.as_ref(), STRENGTH),
        bending_across: reader.some_number(raw.bending_across.as_ref(), STRENGTH),
        shear_modulus: reader.some_number(raw.shear_modulus.as_ref(), MODULUS),
        panel_shear: reader.some_number(raw.panel_shear.as_ref(), STRENGTH),
        planar_shear: reader.some_number(raw.planar_shear.as_ref(), STRENGTH),
        flat_compression: reader.some_number(raw.flat_compression.as_ref(), STRENGTH),
        characteristic_density: reader.some_number(raw.characteristic_density.as_ref(), DENSITY),
        tensile: reader.some_number(raw.tensile.as_ref(), STRENGTH),
        stock,
        source: reader.some_sentence(raw.source.as_ref()),
    }
}

fn slide(reader: &mut Reader<'_>, id: At<String>, raw: &raw::Slide) -> SlideEntry {
    SlideEntry {
        id,
        family: reader.some_name(raw.family.as_ref()),
        length: reader.some_length(raw.length.as_ref(), SIZE),
        travel: reader.some_length(raw.travel.as_ref(), SIZE),
        drop: reader.some_length(raw.drop.as_ref(), GAP),
        thickness: reader.some_length(raw.thickness.as_ref(), SIZE),
        height: reader.some_length(raw.height.as_ref(), SIZE),
        rating_pair: reader.some_number(raw.rating_pair.as_ref(), MASS),
        fixed: reader.some_lengths(raw.fixed.as_ref(), GAP),
        moving: reader.some_lengths(raw.moving.as_ref(), GAP),
        bolt: reader.some_thread(raw.bolt.as_ref()),
        wall: reader.some_length(raw.wall.as_ref(), SIZE),
        head_room: reader.some_length(raw.head_room.as_ref(), SIZE),
        mass_pair: reader.some_number(raw.mass_pair.as_ref(), MASS),
        source: reader.some_sentence(raw.source.as_ref()),
    }
}

fn angle(reader: &mut Reader<'_>, id: At<String>, raw: &raw::Angle) -> AngleEntry {
    AngleEntry {
        id,
        leg: reader.some_length(raw.leg.as_ref(), SIZE),
        thickness: reader.some_length(raw.thickness.as_ref(), SIZE),
        gauge: reader.some_length(raw.gauge.as_ref(), SIZE),
        mass_per_metre: reader.some_number(raw.mass_per_metre.as_ref(), MASS_PER_METRE),
        bolt: reader.some_thread(raw.bolt.as_ref()),
        yield_strength: reader.some_number(raw.yield_strength.as_ref(), STRENGTH),
        tensile: reader.some_number(raw.tensile.as_ref(), STRENGTH),
        source: reader.some_sentence(raw.source.as_ref()),
    }
}
