//! `catalogue`: what a spec can name, as tables for people and as objects for machines.

use std::collections::BTreeMap;
use std::path::Path;

use serde_json::{Map, Value, json};

use super::args::{Format, Section};
use super::error::Error;
use super::table::aligned;
use super::{Output, input};
use crate::catalogue::{Catalogue, HeadKind, NutKind, WasherKind};
use crate::diag::{self, Findings, Sources};
use crate::number::{decimal, rounded};
use crate::spec::{self, Text};

/// Decimals of any figure for machines: finer than any of them is known.
const DECIMALS: usize = 4;

/// Decimals of any figure for people.
const SHOWN_DECIMALS: usize = 3;

/// Rows of one kind of thing. Columns have a head with the unit for people and a key for machines; those without
/// a head are for machines only.
struct Table {
    title: &'static str,
    key: &'static str,
    columns: &'static [(&'static str, &'static str)],
    rows: Vec<Vec<Value>>,
}

/// The built-in catalogue with a workshop's own rows. `None` if the workshop file has errors, which are told.
pub(super) fn catalogue(output: &mut Output, workshop: Option<&Path>) -> Result<Option<Catalogue>, Error> {
    let Some(path) = workshop else { return Ok(Some(Catalogue::built_in().clone())) };
    let file = input::read(path)?;
    let (mut findings, mut sources) = (Findings::default(), Sources::default());
    let text = Text { name: &file.name, text: &file.text };
    let workshop = spec::read_workshop(&mut findings, &mut sources, text);
    let catalogue = workshop.map(|workshop| Catalogue::for_workshop(&mut findings, &workshop));
    let catalogue = catalogue.filter(|_| !findings.has_errors());
    output.tell(&diag::human(&findings.sorted(), &sources, output.colour));
    Ok(catalogue)
}

/// The tables of one section or of all.
pub(super) fn text(catalogue: &Catalogue, section: Option<Section>, format: Format) -> String {
    let mut tables = Vec::new();
    let wanted = |this| section.is_none_or(|section| section == this);
    if wanted(Section::Materials) {
        tables.push(materials(catalogue));
    }
    if wanted(Section::Slides) {
        tables.push(slides(catalogue));
    }
    if wanted(Section::Angles) {
        tables.push(angles(catalogue));
    }
    if wanted(Section::Fittings) {
        tables.push(fittings(catalogue));
        tables.push(tie_downs(catalogue));
        tables.push(finishes(catalogue));
    }
    if wanted(Section::Equipment) {
        tables.push(equipment(catalogue));
    }
    if wanted(Section::Fasteners) {
        tables.extend([threads(catalogue), heads(catalogue), washers(catalogue), nuts(catalogue)]);
    }
    match format {
        Format::Text => tables.iter().map(shown).collect::<Vec<_>>().join("\n"),
        Format::Json => {
            let all: BTreeMap<&str, Vec<Value>> =
                tables.iter().map(|table| (table.key, objects(table))).collect();
            format!("{:#}\n", json!(all))
        }
    }
}

fn shown(table: &Table) -> String {
    let heads: Vec<&str> =
        table.columns.iter().map(|column| column.0).filter(|head| !head.is_empty()).collect();
    let rows: Vec<Vec<String>> = table
        .rows
        .iter()
        .map(|row| {
            let cells = row.iter().zip(table.columns).filter(|(_, (head, _))| !head.is_empty());
            cells.map(|(value, _)| cell(value)).collect()
        })
        .collect();
    format!("{}\n{}", table.title, aligned(&heads, &rows))
}

fn cell(value: &Value) -> String {
    match value {
        Value::Bool(yes) => if *yes { "yes" } else { "no" }.to_owned(),
        Value::Number(number) => decimal(number.as_f64().unwrap_or_default(), SHOWN_DECIMALS),
        Value::String(text) => text.clone(),
        Value::Array(list) => list.iter().map(cell).collect::<Vec<_>>().join(" "),
        // No column holds objects.
        Value::Null | Value::Object(_) => String::new(),
    }
}

fn objects(table: &Table) -> Vec<Value> {
    let keys = table.columns.iter().map(|column| column.1.to_owned());
    table.rows.iter().map(|row| keys.clone().zip(row.iter().cloned()).collect::<Map<_, _>>().into()).collect()
}

/// A figure, rounded so that it is written as it is meant.
fn figure(value: f64) -> Value {
    json!(rounded(value, DECIMALS))
}

fn figures(values: &[f64]) -> Value {
    values.iter().map(|&value| figure(value)).collect()
}

fn materials(catalogue: &Catalogue) -> Table {
    let mut materials: Vec<_> = catalogue.materials.values().collect();
    materials.sort_by(|a, b| a.family.cmp(&b.family).then(a.nominal.total_cmp(&b.nominal)));
    let rows = materials.into_iter().map(|material| {
        let stock: Vec<&str> = material.stock.iter().map(|stock| stock.name.as_str()).collect();
        vec![
            json!(material.id),
            json!(material.title),
            figure(material.nominal),
            figure(material.actual),
            json!(rounded(material.density(), 1)),
            json!(material.grain),
            json!(stock),
            json!(material.e_along),
            json!(material.e_across),
            json!(material.source),
            json!(material.stock_source),
        ]
    });
    Table {
        title: "Sheet materials (the first size of sheet figure is along the grain)",
        key: "materials",
        columns: &[
            ("name", "name"),
            ("material", "title"),
            ("nominal mm", "nominal_mm"),
            ("actual mm", "actual_mm"),
            ("kg/m3", "density_kg_m3"),
            ("grain", "grain"),
            ("sheets mm", "stock"),
            ("", "modulus_along_mpa"),
            ("", "modulus_across_mpa"),
            ("", "source"),
            ("", "stock_source"),
        ],
        rows: rows.collect(),
    }
}

fn slides(catalogue: &Catalogue) -> Table {
    let mut slides: Vec<_> = catalogue.slides.values().collect();
    slides.sort_by(|a, b| a.family.cmp(&b.family).then(a.length.total_cmp(&b.length)));
    let rows = slides.into_iter().map(|slide| {
        vec![
            json!(slide.id),
            json!(slide.family),
            figure(slide.length),
            figure(slide.travel),
            figure(slide.thickness),
            figure(slide.height),
            json!(slide.rating_pair.map(|rating| rounded(rating, DECIMALS))),
            figure(slide.mass_pair),
            json!(slide.bolt),
            figures(&slide.fixed),
            figures(&slide.moving),
            figure(slide.wall),
            figure(slide.head_room),
            json!(slide.source),
        ]
    });
    Table {
        title: "Drawer slides (a spec names one, or a family: then the longest that fits is taken)",
        key: "slides",
        columns: &[
            ("name", "name"),
            ("family", "family"),
            ("length mm", "length_mm"),
            ("travel mm", "travel_mm"),
            ("side mm", "thickness_mm"),
            ("height mm", "height_mm"),
            ("bears kg/pair", "rating_pair_kg"),
            ("mass kg/pair", "mass_pair_kg"),
            ("bolt", "bolt"),
            ("", "fixed_mm"),
            ("", "moving_mm"),
            ("", "wall_mm"),
            ("", "head_room_mm"),
            ("", "source"),
        ],
        rows: rows.collect(),
    }
}

fn angles(catalogue: &Catalogue) -> Table {
    let rows = catalogue.angles.values().map(|angle| {
        vec![
            json!(angle.id),
            figure(angle.leg),
            figure(angle.thickness),
            figure(angle.gauge),
            json!(angle.bolt),
            figure(angle.mass_per_metre()),
            json!(angle.alloy),
            json!(angle.source),
        ]
    });
    Table {
        title: "Aluminium angles",
        key: "angles",
        columns: &[
            ("name", "name"),
            ("leg mm", "leg_mm"),
            ("thickness mm", "thickness_mm"),
            ("holes from heel mm", "gauge_mm"),
            ("largest bolt", "bolt"),
            ("kg/m", "mass_kg_m"),
            ("alloy", "alloy"),
            ("", "source"),
        ],
        rows: rows.collect(),
    }
}

fn fittings(catalogue: &Catalogue) -> Table {
    let rows = catalogue.panel_fittings.values().map(|fitting| {
        let opening = match (fitting.opening.diameter, fitting.opening.size()) {
            (Some(diameter), _) => format!("round {}", decimal(diameter, 1)),
            (None, [width, height]) => format!("{} x {}", decimal(width, 1), decimal(height, 1)),
        };
        vec![
            json!(fitting.id),
            json!(fitting.title),
            json!(opening),
            json!(fitting.plate.map(|[width, height]| format!(
                "{} x {}",
                decimal(width, 1),
                decimal(height, 1)
            ))),
            figure(fitting.behind),
            json!(fitting.bolts.len()),
            json!(fitting.bolt),
            json!(fitting.air.map(|air| rounded(air, DECIMALS))),
            figure(fitting.mass),
            json!(fitting.source),
        ]
    });
    Table {
        title: "Fittings that are set into panels (`cutouts: fitting:`)",
        key: "fittings",
        columns: &[
            ("name", "name"),
            ("fitting", "title"),
            ("opening mm", "opening_mm"),
            ("plate mm", "plate_mm"),
            ("behind mm", "behind_mm"),
            ("bolts", "bolts"),
            ("size", "bolt"),
            ("air cm2", "air_cm2"),
            ("mass kg", "mass_kg"),
            ("", "source"),
        ],
        rows: rows.collect(),
    }
}

fn finishes(catalogue: &Catalogue) -> Table {
    let rows = catalogue.finishes.values().map(|finish| {
        vec![
            json!(finish.id),
            json!(finish.title),
            figure(finish.thickness),
            figure(finish.under_bolt),
            figure(finish.mass),
            figure(finish.adhesive),
            json!(finish.roll.map(|roll| rounded(roll, DECIMALS))),
            json!(finish.wraps),
            json!(finish.source),
        ]
    });
    Table {
        title: "Finishes (`finishes: kind:`)",
        key: "finishes",
        columns: &[
            ("name", "name"),
            ("finish", "title"),
            ("mm", "thickness_mm"),
            ("mm under bolts", "under_bolt_mm"),
            ("g/m2", "mass_g_m2"),
            ("adhesive g/m2", "adhesive_g_m2"),
            ("roll mm", "roll_mm"),
            ("round edges", "wraps"),
            ("", "source"),
        ],
        rows: rows.collect(),
    }
}

fn tie_downs(catalogue: &Catalogue) -> Table {
    let sizes = |sizes: &[f64]| json!(sizes.iter().map(|mm| decimal(*mm, 1)).collect::<Vec<_>>().join(" x "));
    let rows = catalogue.tie_downs.values().map(|kind| {
        vec![
            json!(kind.id),
            json!(kind.title),
            sizes(&kind.plate),
            sizes(&kind.spreader),
            json!(kind.bolts.len()),
            json!(kind.bolt),
            figure(kind.rating),
            figure(kind.mass),
            json!(kind.source),
        ]
    });
    Table {
        title: "Tie-downs (`tie_downs: kind:`)",
        key: "tie_downs",
        columns: &[
            ("name", "name"),
            ("tie-down", "title"),
            ("plate mm", "plate_mm"),
            ("spreader mm", "spreader_mm"),
            ("bolts", "bolts"),
            ("size", "bolt"),
            ("rating N", "rating_n"),
            ("mass kg", "mass_kg"),
            ("", "source"),
        ],
        rows: rows.collect(),
    }
}

fn equipment(catalogue: &Catalogue) -> Table {
    let rows = catalogue.equipment.values().map(|kind| {
        let full = kind.mass.full.unwrap_or(kind.mass.empty + kind.liquid);
        vec![
            json!(kind.id),
            json!(kind.title),
            json!(kind.size.map(|length| decimal(length, 1)).join(" x ")),
            figure(kind.mass.empty),
            figure(full),
            json!(kind.feet.as_ref().map(|feet| format!("{} {}", feet.places.len(), feet.bolt))),
            json!(kind.straps),
            json!(kind.air.as_ref().map(|air| rounded(air.inlet, DECIMALS))),
            json!(kind.source),
        ]
    });
    Table {
        title: "Equipment (`equipment: kind:`; sizes along the bay, across it, up)",
        key: "equipment",
        columns: &[
            ("name", "name"),
            ("equipment", "title"),
            ("size mm", "size_mm"),
            ("empty kg", "empty_kg"),
            ("full kg", "full_kg"),
            ("foot bolts", "feet"),
            ("straps", "straps"),
            ("air cm2", "air_cm2"),
            ("", "source"),
        ],
        rows: rows.collect(),
    }
}

fn threads(catalogue: &Catalogue) -> Table {
    let mut threads: Vec<_> = catalogue.threads.values().collect();
    threads.sort_by(|a, b| a.diameter.total_cmp(&b.diameter));
    let rows = threads.into_iter().map(|thread| {
        vec![
            json!(thread.size),
            figure(thread.pitch),
            figure(thread.clearance_fine),
            figure(thread.clearance_medium),
            figure(thread.clearance_coarse),
            figure(thread.stress_area),
            json!(thread.source),
        ]
    });
    Table {
        title: "Threads and their clearance holes",
        key: "threads",
        columns: &[
            ("size", "size"),
            ("pitch mm", "pitch_mm"),
            ("fine mm", "clearance_fine_mm"),
            ("medium mm", "clearance_medium_mm"),
            ("coarse mm", "clearance_coarse_mm"),
            ("stress area mm2", "stress_area_mm2"),
            ("", "source"),
        ],
        rows: rows.collect(),
    }
}

fn heads(catalogue: &Catalogue) -> Table {
    let mut heads: Vec<_> = catalogue.heads.values().collect();
    heads.sort_by(|a, b| a.kind.cmp(&b.kind).then(a.diameter.total_cmp(&b.diameter)));
    let rows = heads.into_iter().map(|head| {
        let kind = match head.kind {
            HeadKind::Button => "button head",
            HeadKind::Countersunk => "countersunk",
            HeadKind::Hex => "hexagon head",
            HeadKind::Cap => "cap head",
        };
        let lengths = match head.lengths.as_slice() {
            [first, .., last] => format!("{} to {}", decimal(*first, 1), decimal(*last, 1)),
            few => few.iter().map(|length| decimal(*length, 1)).collect(),
        };
        vec![
            json!(kind),
            json!(head.size),
            json!(head.standard),
            figure(head.width),
            figure(head.height),
            figure(head.key),
            json!(lengths),
            figures(&head.lengths),
            json!(head.source),
        ]
    });
    Table {
        title: "Bolts",
        key: "bolts",
        columns: &[
            ("head", "head"),
            ("size", "size"),
            ("standard", "standard"),
            ("width mm", "width_mm"),
            ("height mm", "height_mm"),
            ("key mm", "key_mm"),
            ("lengths mm", "length_range_mm"),
            ("", "lengths_mm"),
            ("", "source"),
        ],
        rows: rows.collect(),
    }
}

fn washers(catalogue: &Catalogue) -> Table {
    let mut washers: Vec<_> = catalogue.washers.values().collect();
    washers.sort_by(|a, b| a.kind.cmp(&b.kind).then(a.inner.total_cmp(&b.inner)));
    let rows = washers.into_iter().map(|washer| {
        let kind = match washer.kind {
            WasherKind::Plain => "plain",
            WasherKind::Large => "large",
            WasherKind::Spreader => "spreader",
        };
        vec![
            json!(kind),
            json!(washer.size),
            json!(washer.standard),
            figure(washer.inner),
            figure(washer.outer),
            figure(washer.thickness),
            json!(washer.source),
        ]
    });
    Table {
        title: "Washers",
        key: "washers",
        columns: &[
            ("kind", "kind"),
            ("size", "size"),
            ("standard", "standard"),
            ("hole mm", "inner_mm"),
            ("outside mm", "outer_mm"),
            ("thickness mm", "thickness_mm"),
            ("", "source"),
        ],
        rows: rows.collect(),
    }
}

fn nuts(catalogue: &Catalogue) -> Table {
    let mut nuts: Vec<_> = catalogue.nuts.values().collect();
    nuts.sort_by(|a, b| a.kind.cmp(&b.kind).then(a.across_flats.total_cmp(&b.across_flats)));
    let rows = nuts.into_iter().map(|nut| {
        let kind = match nut.kind {
            NutKind::Hex => "hexagon",
            NutKind::Lock => "lock",
            NutKind::LowLock => "low lock",
            NutKind::Thin => "thin",
            NutKind::Eye => "eye",
        };
        vec![
            json!(kind),
            json!(nut.size),
            json!(nut.standard),
            figure(nut.across_flats),
            figure(nut.height),
            json!(rounded(1000.0 * nut.mass, 2)),
            json!(nut.source),
        ]
    });
    Table {
        title: "Nuts",
        key: "nuts",
        columns: &[
            ("kind", "kind"),
            ("size", "size"),
            ("standard", "standard"),
            ("across flats mm", "across_flats_mm"),
            ("height mm", "height_mm"),
            ("mass g", "mass_g"),
            ("", "source"),
        ],
        rows: rows.collect(),
    }
}
