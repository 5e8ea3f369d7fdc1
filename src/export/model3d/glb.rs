//! `model.glb`: the kit for viewers (glTF 2.0 in its binary container), one node a part.
//!
//! Takes a [`Scene`]; gives bytes. Meshes are in mm in their own frames, nodes in the vehicle's; the root
//! alone leads to metres with y up. `extras` of a part say what it is and what it moves with.

use super::boundary::Boundary;
use super::look::{Look, colours, linear};
use super::mesh::{self, Fineness, Mesh};
use super::scene::{Definition, Occurrence, Scene};
use crate::abreast;
use crate::geom::Placement;
use crate::layout::Body;
use crate::number::rounded;
use serde_json::{Map, Value, json};
use std::collections::BTreeMap;
use std::sync::Arc;

/// The file's name.
pub(crate) const NAME: &str = "model.glb";

/// From the vehicle frame in mm to metres with x to the left, y up and z forward, column by column (glTF 2.0, 3.4).
pub(super) const TO_METRES: [f64; 16] = [
    0.0, 0.0, 0.001, 0.0, //
    0.001, 0.0, 0.0, 0.0, //
    0.0, 0.001, 0.0, 0.0, //
    0.0, 0.0, 0.0, 1.0,
];

/// Decimals of lengths in mm: those of the grid that meshes are on.
pub(super) const LENGTH_DECIMALS: usize = 3;

/// Decimals of directions and colours.
const RATIO_DECIMALS: usize = 9;

/// Codes of the format: numbers of 4 bytes, corners and their order.
const FLOAT: u32 = 5126;
const UNSIGNED_INT: u32 = 5125;
const ARRAY_BUFFER: u32 = 34962;
const ELEMENT_ARRAY_BUFFER: u32 = 34963;

/// The bytes of the file. `known` saves the triangles of shapes that an earlier file had, and changes nothing else.
pub(crate) fn write(scene: &Scene, known: &mut Meshes) -> Vec<u8> {
    let looks = scene.looks();
    let (names, materials): (Vec<&Look>, Vec<Value>) =
        colours(&looks).into_iter().map(|(look, colour)| (look, material(look, linear(colour)))).unzip();
    let mut buffers = Buffers::default();
    let cut = scene.definitions.iter().zip(known.of(&scene.definitions));
    let meshes: Vec<Value> = cut
        .map(|(shape, mesh)| {
            let look = names.iter().position(|name| **name == shape.look);
            buffers.mesh(&shape.name, &mesh, look)
        })
        .collect();
    let document = json!({
        "asset": {"version": "2.0", "generator": "baywright"},
        "scene": 0,
        "scenes": [{"name": scene.name, "nodes": [0]}],
        "nodes": nodes(scene),
        "meshes": meshes,
        "materials": materials,
        "accessors": buffers.accessors,
        "bufferViews": buffers.views,
        "buffers": [{"byteLength": buffers.bytes.len()}],
    });
    container(&document, &buffers.bytes)
}

/// Triangles of shapes, by the numbers that make the shapes: those of the file that was written last.
#[derive(Debug, Default)]
pub(crate) struct Meshes {
    known: BTreeMap<Vec<u64>, Arc<Mesh>>,
    fineness: Fineness,
}

impl Meshes {
    /// Those of files whose round parts are coarse, to be drawn at once.
    pub(crate) fn coarse() -> Self {
        Meshes { known: BTreeMap::new(), fineness: Fineness::Coarse }
    }

    /// Those of every shape, in their order. What is not known is made side by side, since it takes most of the time of a
    /// file; what is not asked for is forgotten.
    fn of(&mut self, shapes: &[Definition]) -> Vec<Arc<Mesh>> {
        let all = abreast::each(shapes.len(), |i| {
            let solids = &shapes[i].solids;
            let key: Vec<u64> = solids.iter().flat_map(Boundary::key).collect();
            let mesh = self.known.get(&key);
            let mesh = mesh.map_or_else(|| Arc::new(mesh::mesh(solids, self.fineness)), Arc::clone);
            (key, mesh)
        });
        let meshes = all.iter().map(|(_, mesh)| Arc::clone(mesh)).collect();
        self.known = all.into_iter().collect();
        meshes
    }
}

/// The root, then every module with its parts, then the other parts.
fn nodes(scene: &Scene) -> Vec<Value> {
    let mut nodes = vec![Value::Null];
    let mut below_root = Vec::new();
    let mut add = |node| {
        nodes.push(node);
        nodes.len() - 1
    };
    for module in &scene.modules {
        let parts: Vec<usize> =
            module.parts.iter().map(|part| add(part_node(part, scene.body(part)))).collect();
        // A node without children has no list of them.
        let children = if parts.is_empty() { json!({}) } else { json!({"children": parts}) };
        below_root.push(add(with(json!({"name": module.name}), children)));
    }
    below_root.extend(scene.loose.iter().map(|part| add(part_node(part, scene.body(part)))));
    nodes[0] = json!({
        "name": scene.name,
        "matrix": TO_METRES,
        "children": below_root,
        "extras": {"frame": "x forward, y left, z up, mm; this node leads to metres, y up"},
    });
    nodes
}

/// The node of a part.
fn part_node(part: &Occurrence, body: &Body) -> Value {
    json!({
        "name": part.name,
        "mesh": part.definition,
        "matrix": matrix(part.placement),
        "extras": with(json!({"kind": part.kind}), motion(body)),
    })
}

/// The body that a part moves with, and how: straight by so many mm, then perhaps down, or about a hinge. Vehicle frame.
fn motion(body: &Body) -> Value {
    let unit = |v: [f64; 3]| v.map(|part| rounded(part, RATIO_DECIMALS));
    let place = |v: [f64; 3]| v.map(|part| rounded(part, LENGTH_DECIMALS));
    let mut motion = json!({"body": body.name});
    if body.slides() {
        let travel = body.travel.length();
        let direction = unit((body.travel / travel).to_array());
        motion = with(motion, json!({"travel": rounded(travel, LENGTH_DECIMALS), "direction": direction}));
    }
    if body.drop > 0.0 {
        motion = with(motion, json!({"drop": rounded(body.drop, LENGTH_DECIMALS)}));
    }
    if let Some(swing) = body.swing {
        let mut axis = [0.0; 3];
        axis[swing.axis] = 1.0;
        let hinge =
            json!({"at": place(swing.pivot.to_array()), "axis": axis, "degrees": rounded(swing.degrees, 3)});
        motion = with(motion, json!({"hinge": hinge}));
    }
    motion
}

/// Two objects as one.
fn with(mut object: Value, more: Value) -> Value {
    if let (Value::Object(object), Value::Object(more)) = (&mut object, more) {
        object.extend::<Map<String, Value>>(more);
    }
    object
}

/// A motion, column by column.
fn matrix(placement: Placement) -> [f64; 16] {
    let rows = placement.matrix();
    std::array::from_fn(|i| {
        let (row, column) = (i % 4, i / 4);
        let decimals = if column == 3 { LENGTH_DECIMALS } else { RATIO_DECIMALS };
        rounded(rows[row][column], decimals)
    })
}

fn material(look: &Look, [red, green, blue]: [f64; 3]) -> Value {
    let metal = matches!(look, Look::Angle | Look::Slide | Look::Hardware);
    let [red, green, blue] = [red, green, blue].map(|part| rounded(part, 4));
    json!({
        "name": look.name(),
        "pbrMetallicRoughness": {
            "baseColorFactor": [red, green, blue, 1.0],
            "metallicFactor": if metal { 0.3 } else { 0.0 },
            "roughnessFactor": if metal { 0.5 } else { 0.8 },
        },
    })
}

/// What meshes are stored in.
#[derive(Default)]
pub(super) struct Buffers {
    /// The numbers.
    pub(super) bytes: Vec<u8>,
    /// Which bytes belong together.
    pub(super) views: Vec<Value>,
    /// What they mean.
    pub(super) accessors: Vec<Value>,
}

impl Buffers {
    /// Stores a mesh.
    pub(super) fn mesh(&mut self, name: &str, mesh: &Mesh, material: Option<usize>) -> Value {
        let triangles: Vec<[u32; 3]> = mesh
            .triangles
            .iter()
            .map(|corners| corners.map(|i| u32::try_from(i).unwrap_or(u32::MAX)))
            .collect();
        let positions: Vec<[f32; 3]> = mesh.positions.iter().map(|p| p.to_array().map(single)).collect();
        let normals: Vec<[f32; 3]> =
            mesh.normals.iter().map(|n| n.to_array().map(|part| single(on_grid(part)))).collect();
        let bound = |pick: fn(f32, f32) -> f32, from: f32| {
            let all = positions
                .iter()
                .fold([from; 3], |all, p| std::array::from_fn(|axis| pick(all[axis], p[axis])));
            all.map(f64::from)
        };
        let (low, high) = (bound(f32::min, f32::INFINITY), bound(f32::max, f32::NEG_INFINITY));
        let position = self.accessor(
            &positions,
            f32::to_le_bytes,
            ARRAY_BUFFER,
            json!({"componentType": FLOAT, "count": positions.len(), "type": "VEC3", "min": low, "max": high}),
        );
        let normal = self.accessor(
            &normals,
            f32::to_le_bytes,
            ARRAY_BUFFER,
            json!({"componentType": FLOAT, "count": normals.len(), "type": "VEC3"}),
        );
        let indices = self.accessor(
            &triangles,
            u32::to_le_bytes,
            ELEMENT_ARRAY_BUFFER,
            json!({"componentType": UNSIGNED_INT, "count": 3 * triangles.len(), "type": "SCALAR"}),
        );
        json!({
            "name": name,
            "primitives": [{
                "attributes": {"POSITION": position, "NORMAL": normal},
                "indices": indices,
                "material": material,
            }],
        })
    }

    /// Stores numbers in threes; gives their accessor.
    fn accessor<T: Copy>(
        &mut self,
        threes: &[[T; 3]],
        bytes: fn(T) -> [u8; 4],
        target: u32,
        kind: Value,
    ) -> usize {
        let start = self.bytes.len();
        self.bytes.extend(threes.iter().flatten().flat_map(|&number| bytes(number)));
        let length = self.bytes.len() - start;
        self.views.push(json!({"buffer": 0, "byteOffset": start, "byteLength": length, "target": target}));
        self.accessors.push(with(json!({"bufferView": self.views.len() - 1}), kind));
        self.accessors.len() - 1
    }
}

/// A part of a direction to a millionth: what its last digits are, differs from machine to machine.
fn on_grid(part: f64) -> f64 {
    (part * 1e6).round() / 1e6
}

/// The format's own width of a number.
#[expect(
    clippy::cast_possible_truncation,
    reason = "single precision is the format's; a sheet's length keeps a tenth of a micrometre"
)]
fn single(value: f64) -> f32 {
    value as f32
}

/// The binary container: a head, the document, the numbers; each filled up to four bytes.
pub(super) fn container(document: &Value, numbers: &[u8]) -> Vec<u8> {
    let mut text = document.to_string().into_bytes();
    text.resize(text.len().next_multiple_of(4), b' ');
    let mut numbers = numbers.to_vec();
    numbers.resize(numbers.len().next_multiple_of(4), 0);
    let word = |length: usize| u32::try_from(length).unwrap_or(u32::MAX).to_le_bytes();
    let total = 12 + 8 + text.len() + 8 + numbers.len();
    [
        b"glTF".as_slice(),
        &2_u32.to_le_bytes(),
        &word(total),
        &word(text.len()),
        b"JSON",
        &text,
        &word(numbers.len()),
        b"BIN\0",
        &numbers,
    ]
    .concat()
}
