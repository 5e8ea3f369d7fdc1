//! `kit.json`: the whole kit for other software and for tests, a contract with a version and a schema.
//!
//! Takes a finished kit, gives a document whose numbers are rounded to what is printed, so that what is read
//! back equals it. Decides nothing about the kit.

mod bay;
mod budget;
mod edition;
mod fitting;
mod fixing;
mod model;
mod moves;
mod parts;
mod quote;
mod sheets;
mod strength;

pub(crate) use edition::Edition;
pub(crate) use fitting::Fitting;
pub(crate) use model::{Bore, KitDocument, LayerSet, Panel};
pub(crate) use parts::panels;

use super::cutfile::LayerNames;
use super::drawn::GRID_DECIMALS;
use super::{layers, words};
use crate::finished::Finished;
use crate::geom::{Aabb, Path, Point3, Vector3};
use crate::layout::BodyId;
use crate::mass::{MASS_DECIMALS, Sum};
use crate::number::rounded;
use fitting::Space;
use model::{
    Body, Clearances, Drawer, FittedDensity, Generator, Holding, LighterBoard, Mass, MassOf, MassState, Tool,
    Units, Vehicle, WeighedPart, Workshop,
};
use serde_json::Value;

/// Version of the format. It rises when a field changes its meaning or goes; new fields alone do not raise it.
pub(crate) const VERSION: u32 = 1;

/// Decimals of unit vectors, bulges and shares.
const RATIO_DECIMALS: usize = 12;

/// The document of a kit. `findings` are as `diag::json` gives them.
pub(crate) fn document(finished: &Finished, findings: Value) -> KitDocument {
    let Finished { design, kit, .. } = finished;
    KitDocument {
        name: design.name.value.clone(),
        edition: Some(Edition::of(&finished.edition)),
        version: VERSION,
        generator: Generator {
            name: env!("CARGO_PKG_NAME").to_owned(),
            version: env!("CARGO_PKG_VERSION").to_owned(),
        },
        units: Units { length: "mm".into(), mass: "kg".into(), angle: "degree".into() },
        vehicle: Vehicle {
            name: design.vehicle.name.as_ref().map(|name| name.value.clone()),
            bay: bay::bay(&design.vehicle.bay),
            clearances: clearances(&design.clearances),
            anchors: fixing::anchors(finished),
            reach: fixing::reach(finished),
        },
        workshop: workshop(&design.workshop),
        panels: parts::panels(finished),
        bolts: kit.bolts.iter().map(|bolt| parts::bolt(kit, bolt)).collect(),
        fittings: parts::fittings(finished),
        bodies: kit
            .layout
            .bodies
            .iter()
            .map(|body| Body {
                name: body.name.clone(),
                carcase: body.carcase.clone(),
                travel: vector(body.travel),
            })
            .collect(),
        drawers: drawers(finished),
        cutouts: parts::cutouts(finished),
        tie_downs: parts::tie_downs(finished),
        runs: parts::runs(finished),
        modules: moves::modules(finished),
        together: moves::together(finished),
        sheets: sheets::sheets(finished),
        sheet_totals: sheets::totals(finished),
        layers: layer_set(layers::names(&design.workshop.layers)),
        mass: mass(finished),
        weighed: weighed(finished),
        densities: densities(finished),
        budgets: budget::budgets(finished),
        strength: strength::strength(finished),
        quote: quote::quote(finished),
        findings,
    }
}

/// The document as text: one line for each part, so that two versions of a kit can be compared line by line.
pub(crate) fn write(document: &KitDocument) -> String {
    let value = serde_json::to_value(document);
    assert!(value.is_ok(), "a document of plain structs is written to memory: {value:?}");
    let value = value.unwrap_or_default();
    let fields = value.as_object().into_iter().flatten().map(|(key, value)| {
        let key = Value::from(key.as_str());
        match value.as_array() {
            Some(items) if !items.is_empty() => {
                let lines: Vec<String> = items.iter().map(|item| format!("    {item}")).collect();
                format!("  {key}: [\n{}\n  ]", lines.join(",\n"))
            }
            _ => format!("  {key}: {value}"),
        }
    });
    format!("{{\n{}\n}}\n", fields.collect::<Vec<_>>().join(",\n"))
}

/// JSON Schema of the format.
pub(crate) fn schema() -> Value {
    schemars::schema_for!(KitDocument).to_value()
}

fn workshop(workshop: &crate::spec::Workshop) -> Workshop {
    let tool = &workshop.tool;
    Workshop {
        name: workshop.name.as_ref().map(|name| name.value.clone()),
        currency: workshop.currency.as_ref().map(|currency| currency.value.clone()),
        tool: Tool { diameter: mm(tool.diameter.value), margin: mm(tool.margin.value) },
        trim: mm(workshop.trim.value),
        gap: mm(tool.diameter.value + tool.margin.value),
        hole_class: words::hole_class(workshop.hole_class.value).to_owned(),
        slot_fit: mm(workshop.slot_fit.value),
        slide_allowance: mm(workshop.slide_allowance.value),
        edge_distance: mm(workshop.edge_distance.value),
        dxf_version: words::dxf_version(workshop.dxf_version.value).to_owned(),
        holding: holding(&workshop.holding),
        lift: [workshop.lift.one.value, workshop.lift.two.value].map(kg),
    }
}

fn holding(holding: &crate::spec::Holding) -> Holding {
    Holding {
        small_area: mm(holding.small_area.value),
        small_width: mm(holding.small_width.value),
        method: words::holding_method(holding.method.value).to_owned(),
        tab_width: mm(holding.tabs.width.value),
        tabs_as: words::tabs_as(holding.tabs.shown_as.value).to_owned(),
        skin: mm(holding.skin.value),
    }
}

fn clearances(clearances: &crate::spec::Clearances) -> Clearances {
    Clearances {
        arch: mm(clearances.arch.value),
        seat_back: mm(clearances.seat_back.value),
        door: mm(clearances.door.value),
        latch: mm(clearances.latch.value),
        trim: mm(clearances.trim.value),
        opening: mm(clearances.opening.value),
    }
}

impl Clearances {
    /// As a spec has them.
    pub(crate) fn plain(&self) -> crate::spec::Clearances {
        crate::spec::Clearances {
            arch: bay::read(self.arch),
            seat_back: bay::read(self.seat_back),
            door: bay::read(self.door),
            latch: bay::read(self.latch),
            trim: bay::read(self.trim),
            opening: bay::read(self.opening),
        }
    }
}

fn drawers(finished: &Finished) -> Vec<Drawer> {
    let drawers = finished.kit.layout.drawers.iter().zip(&finished.masses.carried);
    let size = |(x, y, z): (f64, f64, f64)| [mm(x), mm(y), mm(z)];
    drawers
        .map(|(drawer, carried)| Drawer {
            name: drawer.name.clone(),
            kind: words::drawer(drawer.kind).to_owned(),
            bottom: finished.kit.layout.board(drawer.bottom).name.clone(),
            load: kg(drawer.load),
            carried: kg(carried.full),
            slide: drawer.slide.id.clone(),
            opening: [mm(drawer.opening.0), mm(drawer.opening.1)],
            side_space: mm(drawer.side_space),
            box_size: size(drawer.box_size),
            inside: size(drawer.inside),
            clear_above: mm(drawer.clear.0),
            clear_below: mm(drawer.clear.1),
        })
        .collect()
}

fn mass(finished: &Finished) -> Mass {
    let masses = &finished.masses;
    let body = |id: BodyId| finished.kit.layout.body(id).name.clone();
    let by_name =
        |list: &[(String, Sum)]| list.iter().map(|(name, sum)| mass_of(name.clone(), sum)).collect();
    Mass {
        total: masses.total.mass,
        centre: point(masses.total.centre),
        carcases: by_name(&masses.carcases),
        drawers: masses.drawers.iter().map(|(id, sum)| mass_of(body(*id), sum)).collect(),
        loaded: by_name(&masses.loaded),
        states: masses
            .states
            .iter()
            .map(|state| MassState {
                loaded: state.loaded,
                drawn_out: words::open(&state.open).to_owned(),
                mass: state.sum.mass,
                centre: point(state.sum.centre),
            })
            .collect(),
        inertia: masses.inertia.map(kg),
        lighter: masses
            .lighter
            .iter()
            .map(|saving| LighterBoard {
                from: saving.from.clone(),
                to: saving.to.clone(),
                saves: kg(saving.saves),
            })
            .collect(),
    }
}

fn weighed(finished: &Finished) -> Vec<WeighedPart> {
    let weighed = &finished.weighed;
    let readings = weighed.readings.iter().enumerate();
    readings
        .map(|(i, reading)| WeighedPart {
            of: reading.of.clone(),
            weighed: reading.weighed,
            resolution: reading.resolution,
            calculated: kg(reading.calculated),
            unexplained: reading.unexplained,
            suspect: weighed.suspect == Some(i),
        })
        .collect()
}

fn densities(finished: &Finished) -> Vec<FittedDensity> {
    let fitted = finished.weighed.densities.iter();
    fitted
        .map(|density| FittedDensity {
            material: density.material.clone(),
            published: mm(density.published),
            fitted: density.fitted,
        })
        .collect()
}

fn layer_set(names: LayerNames) -> LayerSet {
    let LayerNames { outline, skin, tab, opening, bore, countersink, engraving, note, stock } = names;
    LayerSet { outline, skin, tab, opening, bore, countersink, engraving, note, stock }
}

fn mass_of(name: String, sum: &Sum) -> MassOf {
    MassOf { name, mass: sum.mass, centre: point(sum.centre) }
}

fn mm(length: f64) -> f64 {
    rounded(length, GRID_DECIMALS)
}

fn kg(mass: f64) -> f64 {
    rounded(mass, MASS_DECIMALS)
}

fn ratio(value: f64) -> f64 {
    rounded(value, RATIO_DECIMALS)
}

fn point<F>(p: Point3<F>) -> [f64; 3] {
    [mm(p.x), mm(p.y), mm(p.z)]
}

fn vector<F>(v: Vector3<F>) -> [f64; 3] {
    [mm(v.x), mm(v.y), mm(v.z)]
}

fn space(aabb: Aabb) -> Space {
    Space { low: point(aabb.low), high: point(aabb.high) }
}

fn corners<F: Copy>(path: &Path<F>) -> Vec<[f64; 3]> {
    path.vertices().iter().map(|v| [mm(v.point.x), mm(v.point.y), ratio(v.bulge)]).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::example_kits;

    #[test]
    fn what_is_written_is_read_back_equal() {
        for text in example_kits::ALL {
            let finished = example_kits::finished(text);
            let written = document(&finished, Value::Array(vec![]));
            let read: KitDocument = serde_json::from_str(&write(&written)).unwrap();
            assert_eq!(read, written);
            assert_eq!(read.panels.len(), finished.kit.panels.len());
        }
    }

    #[test]
    fn every_field_is_described_in_the_schema() {
        fn undescribed(at: &str, schema: &Value, found: &mut Vec<String>) {
            for (name, field) in schema["properties"].as_object().into_iter().flatten() {
                if field["description"].is_null() && field["const"].is_null() {
                    found.push(format!("{at}.{name}"));
                }
            }
            match schema {
                Value::Object(map) => map.iter().for_each(|(key, inner)| undescribed(key, inner, found)),
                Value::Array(list) => list.iter().for_each(|inner| undescribed(at, inner, found)),
                _ => {}
            }
        }
        let mut found = Vec::new();
        undescribed("kit", &schema(), &mut found);
        assert_eq!(found, Vec::<String>::new());
        assert!(schema()["$defs"]["Bolt"]["properties"]["held_in"].is_object());
    }

    #[test]
    fn a_part_stands_on_a_line_of_its_own() {
        let finished = example_kits::finished(example_kits::ANGLES);
        let text = write(&document(&finished, Value::Array(vec![])));
        let panels = text.lines().filter(|line| line.starts_with("    {\"name\":\"main-base\"")).count();
        assert_eq!(panels, 1);
        assert!(text.contains("\"findings\": []") && text.ends_with("}\n"));
    }
}
