// Finds the sharp edges of a mesh, sorts out what is not seen from afar, and makes a coarse likeness of a small one. Where two faces meet at an angle the mesh has
// its vertices twice, so a sharp edge is one that a single triangle uses.

// Pairs of vertex numbers, to be drawn as lines, and how many of these numbers come before those of edges shorter than `long`
// mm. `least` is the length below which an edge is left out.
export function sharpEdges(given, positions, normals, least, long) {
  const indices = given.length > positions.length / 3 ? given : joined(given, positions, normals);
  const vertices = positions.length / 3;
  const first = new Int32Array(vertices).fill(-1); // of the edges that start at a vertex, the newest
  const far = new Uint32Array(indices.length);
  const next = new Int32Array(indices.length);
  const used = new Uint8Array(indices.length);
  let edges = 0;
  for (let i = 0; i < indices.length; i++) {
    const a = indices[i];
    const b = indices[i % 3 === 2 ? i - 2 : i + 1];
    const low = a < b ? a : b;
    const high = a < b ? b : a;
    let e = first[low];
    while (e >= 0 && far[e] !== high) e = next[e];
    if (e < 0) {
      far[edges] = high;
      next[edges] = first[low];
      first[low] = edges;
      e = edges++;
    }
    used[e]++;
  }
  const pairs = new Uint32Array(edges * 2);
  let at = 0;
  const short = [];
  for (let v = 0; v < vertices; v++) {
    for (let e = first[v]; e >= 0; e = next[e]) {
      if (used[e] !== 1 || shorter(positions, v, far[e], least)) continue;
      if (shorter(positions, v, far[e], long)) {
        short.push(v, far[e]);
      } else {
        pairs[at++] = v;
        pairs[at++] = far[e];
      }
    }
  }
  pairs.set(short, at);
  return { pairs: pairs.slice(0, at + short.length), long: at };
}

// In a mesh that shares no vertices at all every edge would look sharp: those with the same place and normal are made one.
function joined(indices, positions, normals) {
  const firstAt = new Map();
  return indices.map((v) => {
    let key = "";
    for (let i = v * 3; i < v * 3 + 3; i++) key += `${Math.round(positions[i] * 100)} ${Math.round(normals[i] * 500)} `;
    if (!firstAt.has(key)) firstAt.set(key, v);
    return firstAt.get(key);
  });
}

function shorter(positions, a, b, least) {
  if (least === 0) return false;
  const x = positions[a * 3] - positions[b * 3];
  const y = positions[a * 3 + 1] - positions[b * 3 + 1];
  const z = positions[a * 3 + 2] - positions[b * 3 + 2];
  return x * x + y * y + z * z < least * least;
}

// The triangles with those of narrow round walls last, most of them in bores, and how many corners come before those. Of a
// round wall the normals differ from corner to corner; it is narrow where a side is shorter than `least` mm.
export function narrowLast(indices, positions, normals, least) {
  const sorted = new Uint32Array(indices.length);
  const differ = (a, b) => normals[a * 3] !== normals[b * 3] || normals[a * 3 + 1] !== normals[b * 3 + 1]
    || normals[a * 3 + 2] !== normals[b * 3 + 2];
  let front = 0;
  let back = indices.length;
  for (let i = 0; i < indices.length; i += 3) {
    const [a, b, c] = [indices[i], indices[i + 1], indices[i + 2]];
    const narrow = (differ(a, b) || differ(b, c))
      && (shorter(positions, a, b, least) || shorter(positions, b, c, least) || shorter(positions, c, a, least));
    const at = narrow ? back -= 3 : front;
    if (!narrow) front += 3;
    sorted[at] = a;
    sorted[at + 1] = b;
    sorted[at + 2] = c;
  }
  return { sorted, before: front };
}

// The triangles that are left when all vertices in a cube of `cell` mm count as the first of them.
export function coarse(indices, positions, cell) {
  const firstIn = new Map();
  const stands = new Uint32Array(positions.length / 3);
  for (let v = 0; v < stands.length; v++) {
    const [x, y, z] = [0, 1, 2].map((i) => Math.round(positions[v * 3 + i] / cell));
    const key = `${x},${y},${z}`;
    if (!firstIn.has(key)) firstIn.set(key, v);
    stands[v] = firstIn.get(key);
  }
  const left = [];
  for (let i = 0; i < indices.length; i += 3) {
    const a = stands[indices[i]];
    const b = stands[indices[i + 1]];
    const c = stands[indices[i + 2]];
    if (a !== b && b !== c && c !== a) left.push(a, b, c);
  }
  return Uint32Array.from(left);
}
