//! The vehicle's bay as a model of its own, for looking at the kit in its place.
//!
//! Takes the bay's surfaces as they were measured, gives bytes as `glb.rs` does for the kit. Surfaces are cut off at the box
//! around the bay.

use super::glb::{Buffers, LENGTH_DECIMALS, TO_METRES, container};
use super::look::linear;
use super::mesh::Mesh;
use crate::bay::{Axis, Facet, Thing, surfaces};
use crate::geom::{PanelFrame, Path, Point2, Point3, Vector3, within_rectangle};
use crate::number::rounded;
use crate::spec::{Bay, Clearances};
use serde_json::{Value, json};

/// Colour of everything in it: a grey that stays behind the kit's colours.
const GREY: [u8; 3] = [0x9E, 0xA3, 0xA8];

/// The bytes of the file.
pub(crate) fn write(bay: &Bay, clearances: &Clearances) -> Vec<u8> {
    let (width, depth, height) = (bay.width.value, bay.depth.value, bay.height.value);
    let room = [[0.0, depth], [-width / 2.0, width / 2.0], [0.0, height]];
    let mut buffers = Buffers::default();
    let (mut nodes, mut meshes) = (vec![Value::Null], Vec::new());
    for surface in surfaces(bay, clearances, false) {
        let mut mesh = Mesh::default();
        for way in &surface.ways {
            for facet in &way.facets {
                add(&mut mesh, way.axis, way.sign, facet, room);
            }
        }
        if mesh.triangles.is_empty() {
            continue;
        }
        let kind = match surface.of {
            Thing::Arch => "arch",
            Thing::Door | Thing::Latch => "door",
            Thing::SeatBack | Thing::Side(_) | Thing::Roof | Thing::Floor => "bay",
        };
        nodes.push(json!({"name": surface.name, "mesh": meshes.len(), "extras": {"kind": kind}}));
        meshes.push(buffers.mesh(&surface.name, &mesh, Some(0)));
    }
    let children: Vec<usize> = (1..nodes.len()).collect();
    nodes[0] = json!({"name": "bay", "matrix": TO_METRES, "children": children});
    let [red, green, blue] = linear(GREY).map(|part| rounded(part, 4));
    let document = json!({
        "asset": {"version": "2.0", "generator": "baywright"},
        "scene": 0,
        "scenes": [{"name": "bay", "nodes": [0]}],
        "nodes": nodes,
        "meshes": meshes,
        "materials": [{
            "name": "bay",
            "doubleSided": true,
            "pbrMetallicRoughness": {"baseColorFactor": [red, green, blue, 1.0], "metallicFactor": 0.0, "roughnessFactor": 0.9},
        }],
        "accessors": buffers.accessors,
        "bufferViews": buffers.views,
        "buffers": [{"byteLength": buffers.bytes.len()}],
    });
    container(&document, &buffers.bytes)
}

/// Adds what of a facet lies within the room, as triangles that look along the surface's free side.
fn add(mesh: &mut Mesh, axis: Axis, sign: f64, facet: &Facet, room: [[f64; 2]; 3]) {
    let (first, second, own) = axis.others();
    let flat = Path::<PanelFrame>::polygon(facet.corners.iter().map(|c| Point2::new(c[0], c[1])));
    let [low, high] = [0, 1].map(|end| Point2::new(room[first][end], room[second][end]));
    let inside = within_rectangle(&flat, low, high);
    let level = plane(&facet.corners);
    let places: Vec<Point3<PanelFrame>> = inside
        .vertices()
        .iter()
        .map(|vertex| {
            let mut place = [0.0; 3];
            place[first] = vertex.point.x;
            place[second] = vertex.point.y;
            let [least, most] = room[own];
            place[own] = level(vertex.point.x, vertex.point.y).clamp(least, most);
            Point3::from(place.map(|mm| rounded(mm, LENGTH_DECIMALS)))
        })
        .collect();
    for i in 1..places.len().saturating_sub(1) {
        let corners = [places[0], places[i], places[i + 1]];
        let normal = (corners[1] - corners[0]).cross(corners[2] - corners[0]);
        if normal.length() < 1e-6 {
            continue;
        }
        let normal = normal.normalize();
        let towards = normal.to_array()[own] * sign;
        let (corners, normal): (_, Vector3<PanelFrame>) =
            if towards < 0.0 { ([corners[0], corners[2], corners[1]], -normal) } else { (corners, normal) };
        let from = mesh.positions.len();
        mesh.positions.extend(corners);
        mesh.normals.extend([normal; 3]);
        mesh.triangles.push([from, from + 1, from + 2]);
    }
}

/// The height of the plane through a facet's corners over a place.
fn plane(corners: &[[f64; 3]]) -> impl Fn(f64, f64) -> f64 {
    let [a, b, c] = [corners[0], corners[1], corners[2]];
    let (u, v) = ([b[0] - a[0], b[1] - a[1], b[2] - a[2]], [c[0] - a[0], c[1] - a[1], c[2] - a[2]]);
    let area = u[0] * v[1] - u[1] * v[0];
    let slope = [u[2] * v[1] - u[1] * v[2], u[0] * v[2] - u[2] * v[0]].map(|part| part / area);
    move |x, y| a[2] + slope[0] * (x - a[0]) + slope[1] * (y - a[1])
}
