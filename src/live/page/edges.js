// Finds the sharp edges of a mesh. Where two faces meet at an angle the mesh has its vertices twice, so a sharp edge is one that
// a single triangle uses.

// Pairs of vertex numbers, to be drawn as lines; of edges shorter than `least` mm none.
export function sharpEdges(given, positions, normals, least = 0) {
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
  for (let v = 0; v < vertices; v++) {
    for (let e = first[v]; e >= 0; e = next[e]) {
      if (used[e] !== 1 || isShorter(positions, v, far[e], least)) continue;
      pairs[at++] = v;
      pairs[at++] = far[e];
    }
  }
  return pairs.slice(0, at);
}

function isShorter(positions, a, b, least) {
  if (least === 0) return false;
  const x = positions[a * 3] - positions[b * 3];
  const y = positions[a * 3 + 1] - positions[b * 3 + 1];
  const z = positions[a * 3 + 2] - positions[b * 3 + 2];
  return x * x + y * y + z * z < least * least;
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
