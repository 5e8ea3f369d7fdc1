//! From what is drawn to a drawing of the `dxf` crate: layers, entities, units, extents, the first view.
//!
//! Gives entities without colour or width of their own: both come from the layer.

use super::DxfVersion;
use crate::export::cutfile::Shape;
use crate::export::drawn::Drawn;
use crate::geom::{Point2, SheetFrame, Vertex as Corner};
use dxf::entities::{Circle, Entity, EntityType, LwPolyline, Polyline, Text, Vertex};
use dxf::enums::{AcadVersion, DrawingUnits, HorizontalTextJustification, Units, VerticalTextJustification};
use dxf::tables::Layer;
use dxf::{Color, Drawing, LwPolylineVertex, Point};

/// The drawing as the crate holds it; `size` is the area shown, mm.
pub(super) fn drawing(drawn: &Drawn, size: (f64, f64), version: DxfVersion) -> Drawing {
    let mut drawing = Drawing::new();
    head(&mut drawing, drawn, size, version);
    for layer in &drawn.layers {
        drawing.add_layer(Layer {
            name: layer.name.clone(),
            color: Color::from_index(layer.look.dxf_colour),
            ..Layer::default()
        });
    }
    for (layer, shape) in &drawn.shapes {
        let name = &drawn.layers[*layer].name;
        let specific = match shape {
            Shape::Closed(path) => polyline(path.vertices(), true, version, &mut drawing),
            Shape::Open(corners) => polyline(corners, false, version, &mut drawing),
            Shape::Circle { centre, diameter } => {
                EntityType::Circle(Circle::new(point(*centre), diameter / 2.0))
            }
            Shape::Text { centre, height, angle, text } => {
                EntityType::Text(centred_text(*centre, *height, *angle, text))
            }
        };
        let mut entity = Entity::new(specific);
        entity.common.layer.clone_from(name);
        drawing.add_entity(entity);
    }
    drawing
}

fn head(drawing: &mut Drawing, drawn: &Drawn, size: (f64, f64), version: DxfVersion) {
    let (low, high) = drawn.bounds;
    let header = &mut drawing.header;
    header.version = match version {
        DxfVersion::R2000 => AcadVersion::R2000,
        DxfVersion::R12 => AcadVersion::R12,
    };
    header.default_drawing_units = Units::Millimeters;
    header.drawing_units = DrawingUnits::Metric;
    header.minimum_drawing_extents = point(low);
    header.maximum_drawing_extents = point(high);
    header.minimum_drawing_limits = Point::origin();
    header.maximum_drawing_limits = Point::new(size.0, size.1, 0.0);
    for view in drawing.view_ports_mut() {
        // So that the file opens with all of it in sight, with a little air.
        view.view_center = Point::new(size.0 / 2.0, size.1 / 2.0, 0.0);
        view.view_height = 1.1 * size.1.max(size.0 / 2.0).max(1.0);
        view.view_port_aspect_ratio = 2.0;
    }
}

fn point(p: Point2<SheetFrame>) -> Point {
    Point::new(p.x, p.y, 0.0)
}

/// A line from corner to corner, and back to the first if it is closed.
fn polyline(
    corners: &[Corner<SheetFrame>],
    closed: bool,
    version: DxfVersion,
    drawing: &mut Drawing,
) -> EntityType {
    match version {
        DxfVersion::R2000 => {
            let vertices = corners.iter().map(|v| LwPolylineVertex {
                x: v.point.x,
                y: v.point.y,
                bulge: v.bulge,
                ..LwPolylineVertex::default()
            });
            let mut line = LwPolyline { vertices: vertices.collect(), ..LwPolyline::default() };
            line.set_is_closed(closed);
            EntityType::LwPolyline(line)
        }
        DxfVersion::R12 => {
            let mut line = Polyline::default();
            line.set_is_closed(closed);
            for v in corners {
                let vertex = Vertex { location: point(v.point), bulge: v.bulge, ..Vertex::default() };
                line.add_vertex(drawing, vertex);
            }
            EntityType::Polyline(line)
        }
    }
}

fn centred_text(centre: Point2<SheetFrame>, height: f64, angle: f64, text: &str) -> Text {
    Text {
        location: point(centre),
        second_alignment_point: point(centre),
        text_height: height,
        rotation: angle,
        // Two percent signs begin a code for a special sign.
        value: text.replace("%%", "% %"),
        horizontal_text_justification: HorizontalTextJustification::Center,
        vertical_text_justification: VerticalTextJustification::Middle,
        ..Text::default()
    }
}
