//! What was written, read back by other code than wrote it, equals the model.

use crate::export::cut_files::NamedCutFile;
use crate::export::cutfile::{CutFile, LayerNames, Shape};
use crate::export::drawn::written_name;
use crate::export::kit_json::{self, KitDocument};
use crate::export::{Bundle, KIT, layers};
use crate::finished::Finished;
use crate::spec::Layers;
use dxf::entities::{Entity, EntityType};

/// mm that a coordinate may differ by: files keep six decimals.
const SAME: f64 = 2e-6;

pub(super) fn faults(finished: &Finished, bundle: &Bundle) -> Vec<String> {
    let mut faults: Vec<String> = kit_fault(finished, bundle).into_iter().collect();
    faults.extend(drawing_faults(&finished.design.workshop.layers, bundle));
    faults
}

/// Every cut file shows what it was made from.
pub(super) fn drawing_faults(layers: &Layers, bundle: &Bundle) -> Vec<String> {
    let mut faults = Vec::new();
    let names = layers::names(layers);
    for NamedCutFile { stem, file } in &bundle.drawings {
        for (ending, fault) in [("dxf", dxf_fault as FileCheck), ("svg", svg_fault)] {
            let path = format!("{stem}.{ending}");
            let found = match bundle.get(&path) {
                Some(bytes) => fault(file, &names, bytes),
                None => Some("is missing".to_owned()),
            };
            faults.extend(found.map(|fault| format!("{path} {fault}")));
        }
    }
    faults
}

type FileCheck = fn(&CutFile, &LayerNames, &[u8]) -> Option<String>;

/// `kit.json` parses to the document that the kit gives. Its findings are of no stage of the kit and stand as
/// they are.
fn kit_fault(finished: &Finished, bundle: &Bundle) -> Option<String> {
    let bytes = bundle.get(KIT).unwrap_or_default();
    match serde_json::from_slice::<KitDocument>(bytes) {
        Err(error) => Some(format!("{KIT} cannot be read: {error}")),
        Ok(read) => {
            let own = kit_json::document(finished, read.findings.clone());
            (own != read).then(|| format!("{KIT} does not say what the kit is"))
        }
    }
}

/// A shape as both sides can be compared: its layer, and its numbers.
#[derive(Clone, Debug, PartialEq, PartialOrd)]
struct Mark {
    layer: String,
    kind: &'static str,
    numbers: Vec<f64>,
}

impl Mark {
    fn is(&self, other: &Mark) -> bool {
        let near = |(a, b): (&f64, &f64)| (a - b).abs() <= SAME;
        self.layer == other.layer
            && self.kind == other.kind
            && self.numbers.len() == other.numbers.len()
            && self.numbers.iter().zip(&other.numbers).all(near)
    }
}

/// Circles and contours of the DXF are those of the cut file, in its order.
fn dxf_fault(file: &CutFile, names: &LayerNames, bytes: &[u8]) -> Option<String> {
    let drawing = match dxf::Drawing::load(&mut &*bytes) {
        Ok(drawing) => drawing,
        Err(error) => return Some(format!("cannot be read: {error}")),
    };
    let read: Vec<Mark> = drawing.entities().filter_map(read_mark).collect();
    let own: Vec<Mark> = file
        .items
        .iter()
        .filter_map(|item| own_mark(&written_name(&names.of(item.operation)), &item.shape))
        .collect();
    let same = read.len() == own.len() && read.iter().zip(&own).all(|(read, own)| read.is(own));
    (!same).then(|| {
        let at = read.iter().zip(&own).position(|(read, own)| !read.is(own)).unwrap_or(0);
        let (read_count, own_count) = (read.len(), own.len());
        let (read, own) = (read.get(at), own.get(at));
        format!("and the kit differ: {read_count} and {own_count} shapes, {read:?} and {own:?}")
    })
}

fn own_mark(layer: &str, shape: &Shape) -> Option<Mark> {
    let layer = layer.to_owned();
    match shape {
        Shape::Circle { centre, diameter } => {
            Some(Mark { layer, kind: "circle", numbers: vec![centre.x, centre.y, diameter / 2.0] })
        }
        Shape::Closed(path) => {
            let numbers = path.vertices().iter().flat_map(|v| [v.point.x, v.point.y, v.bulge]).collect();
            Some(Mark { layer, kind: "contour", numbers })
        }
        Shape::Open(corners) => {
            let numbers = corners.iter().flat_map(|v| [v.point.x, v.point.y, v.bulge]).collect();
            Some(Mark { layer, kind: "open", numbers })
        }
        Shape::Text { .. } => None,
    }
}

fn read_mark(entity: &Entity) -> Option<Mark> {
    let layer = entity.common.layer.clone();
    match &entity.specific {
        EntityType::Circle(circle) => {
            let numbers = vec![circle.center.x, circle.center.y, circle.radius];
            Some(Mark { layer, kind: "circle", numbers })
        }
        EntityType::LwPolyline(line) => {
            let numbers = line.vertices.iter().flat_map(|v| [v.x, v.y, v.bulge]).collect();
            Some(Mark { layer, kind: if line.is_closed() { "contour" } else { "open" }, numbers })
        }
        EntityType::Polyline(line) => {
            let numbers = line.vertices().flat_map(|v| [v.location.x, v.location.y, v.bulge]).collect();
            Some(Mark { layer, kind: if line.is_closed() { "contour" } else { "open" }, numbers })
        }
        EntityType::Text(_) => None,
        _ => Some(Mark { layer, kind: "other", numbers: Vec::new() }),
    }
}

/// The SVG has as many circles and contours as the cut file.
fn svg_fault(file: &CutFile, _: &LayerNames, bytes: &[u8]) -> Option<String> {
    let text = String::from_utf8_lossy(bytes);
    let count = |wanted: fn(&Shape) -> bool| file.items.iter().filter(|item| wanted(&item.shape)).count();
    let circles = count(|shape| matches!(shape, Shape::Circle { .. }));
    let contours = count(|shape| matches!(shape, Shape::Closed(_) | Shape::Open(_)));
    let found = (text.matches("<circle ").count(), text.matches("<path ").count());
    (found != (circles, contours))
        .then(|| format!("has {} circles and {} paths instead of {circles} and {contours}", found.0, found.1))
}
