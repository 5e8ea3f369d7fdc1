// Reads a kit or a bay from glTF 2.0 binary: its primitives as byte ranges of the one buffer (nothing is copied), and its
// parts with their places in the vehicle frame (mm; x forward, y left, z up), which is the frame below the root node.

const MAGIC = 0x46546c67;
const FLOAT = 5126;
const UINT = 5125;

export function readGlb(buffer) {
  const head = new DataView(buffer);
  if (head.getUint32(0, true) !== MAGIC) throw new Error("the model is not glTF binary");
  const length = head.getUint32(12, true);
  const json = JSON.parse(new TextDecoder().decode(new Uint8Array(buffer, 20, length)));
  const binary = 28 + length;

  const primitives = [];
  const ofMesh = json.meshes.map((mesh) => mesh.primitives.map((p, i) => {
    primitives.push(readPrimitive(json, buffer, binary, p, `${mesh.name}#${i}`));
    return primitives.length - 1;
  }));

  const parts = [];
  for (const root of json.scenes[json.scene ?? 0].nodes) {
    const node = json.nodes[root];
    // The root's own matrix leads to metres, y up; all work here is done before it.
    if (node.mesh !== undefined) gather(json, ofMesh, root, null, "", parts);
    else for (const child of node.children ?? []) gather(json, ofMesh, child, null, "", parts);
  }
  return { primitives, parts };
}

function readPrimitive(json, buffer, binary, primitive, key) {
  const view = (index, type) => {
    const accessor = json.accessors[index];
    if (accessor.componentType !== type) throw new Error(`the model's ${key} has numbers of another form`);
    const at = binary + (json.bufferViews[accessor.bufferView].byteOffset ?? 0) + (accessor.byteOffset ?? 0);
    const n = accessor.count * (accessor.type === "VEC3" ? 3 : 1);
    return type === FLOAT ? new Float32Array(buffer, at, n) : new Uint32Array(buffer, at, n);
  };
  const bounds = json.accessors[primitive.attributes.POSITION];
  const material = json.materials?.[primitive.material];
  return {
    key,
    positions: view(primitive.attributes.POSITION, FLOAT),
    normals: view(primitive.attributes.NORMAL, FLOAT),
    indices: view(primitive.indices, UINT),
    min: bounds.min,
    max: bounds.max,
    colour: shown(material?.pbrMetallicRoughness?.baseColorFactor ?? [0.3, 0.3, 0.3, 1]),
  };
}

// A colour in shares of light, as glTF has it, in the shares that a screen takes.
const shown = ([r, g, b, a]) => [r ** (1 / 2.2), g ** (1 / 2.2), b ** (1 / 2.2), a];

// Goes down the tree; `place` is the product of the matrices above, null as long as there were none.
function gather(json, ofMesh, index, place, module, parts) {
  const node = json.nodes[index];
  const own = node.matrix ? (place ? times(place, node.matrix) : node.matrix) : place;
  if (node.mesh !== undefined) {
    parts.push({ name: node.name, module, place: own ?? IDENTITY, primitives: ofMesh[node.mesh], extras: node.extras ?? {} });
  }
  const below = node.mesh === undefined ? node.name : module;
  for (const child of node.children ?? []) gather(json, ofMesh, child, own, below, parts);
}

const IDENTITY = [1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1];

export function times(a, b) {
  const c = new Array(16);
  for (let col = 0; col < 4; col++) {
    for (let row = 0; row < 4; row++) {
      let sum = 0;
      for (let k = 0; k < 4; k++) sum += a[k * 4 + row] * b[col * 4 + k];
      c[col * 4 + row] = sum;
    }
  }
  return c;
}
