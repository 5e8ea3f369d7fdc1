// What the graphics card holds of one model: each shared mesh once, and a row of numbers for every part that stands for it.
// A mesh whose bytes did not change from one state to the next keeps its buffers; what is no longer used is let go.

import { sharpEdges } from "./edges.js";
import { emptyBox, middleOf, takeIn, writePose } from "./pose.js";

export const ROW = 20; // numbers per instance: three rows of the placement, colour, facts
const BYTES = ROW * 4;
const NO_EDGES = new Set(["hardware"]); // bolts are small; their edges would blacken them

export class Solids {
  constructor(gl) {
    this.gl = gl;
    this.shapes = new Map(); // by key
    this.order = [];
    this.parts = [];
    this.rows = new Float32Array(0);
    this.buffer = gl.createBuffer();
    this.box = emptyBox();
    this.dirty = false;
  }

  // Takes a model from readGlb. `firstNumber` is the number of its first part (0 is nothing).
  load(model, firstNumber = 1) {
    const edged = new Set();
    const users = model.primitives.map(() => []);
    model.parts.forEach((part, i) => {
      for (const p of part.primitives) {
        users[p].push(i);
        if (!NO_EDGES.has(part.extras.kind)) edged.add(p);
      }
    });
    const old = this.shapes;
    this.shapes = new Map();
    this.order = [];
    this.parts = model.parts.map((part) => ({ ...part, at: [], box: emptyBox(), apart: [0, 0, 0], mark: 0 }));
    let total = 0;
    for (const list of users) total += list.length;
    this.rows = new Float32Array(total * ROW);
    let first = 0;
    model.primitives.forEach((primitive, p) => {
      if (users[p].length === 0) return;
      const shape = this.keep(old, primitive, edged.has(p));
      for (const [k, i] of users[p].entries()) {
        const at = (first + k) * ROW;
        this.parts[i].at.push({ at, primitive });
        this.rows.set(primitive.colour, at + 12);
        this.rows[at + 16] = firstNumber + i;
      }
      this.place(shape, first, users[p].length);
      this.order.push(shape);
      first += users[p].length;
    });
    for (const shape of old.values()) this.drop(shape);
    this.measure();
    this.dirty = true;
  }

  // The shape of a primitive: the old one where the bytes are the same. It then looks at the new buffer, so that the old
  // model's memory is not held.
  keep(old, primitive, edged) {
    const { key, positions, normals, indices } = primitive;
    let shape = old.get(key);
    const alike = shape && shape.edged === edged && same(shape.positions, positions)
      && same(shape.normals, normals) && same(shape.indices, indices);
    if (alike) {
      old.delete(key);
    } else {
      shape = this.upload(primitive, edged);
    }
    Object.assign(shape, { positions, normals, indices });
    this.shapes.set(key, shape);
    return shape;
  }

  upload({ positions, normals, indices }, edged) {
    const gl = this.gl;
    // After the triangles come, in the same buffer, the edges.
    const ends = edged ? sharpEdges(indices, positions, normals) : new Uint32Array(0);
    gl.bindVertexArray(null);
    const vertices = gl.createBuffer();
    gl.bindBuffer(gl.ARRAY_BUFFER, vertices);
    gl.bufferData(gl.ARRAY_BUFFER, positions.byteLength + normals.byteLength, gl.STATIC_DRAW);
    gl.bufferSubData(gl.ARRAY_BUFFER, 0, positions);
    gl.bufferSubData(gl.ARRAY_BUFFER, positions.byteLength, normals);
    const elements = gl.createBuffer();
    gl.bindBuffer(gl.ELEMENT_ARRAY_BUFFER, elements);
    gl.bufferData(gl.ELEMENT_ARRAY_BUFFER, indices.byteLength + ends.byteLength, gl.STATIC_DRAW);
    gl.bufferSubData(gl.ELEMENT_ARRAY_BUFFER, 0, indices);
    if (ends.length) gl.bufferSubData(gl.ELEMENT_ARRAY_BUFFER, indices.byteLength, ends);
    return { vertices, elements, edged, corners: indices.length, ends: ends.length, array: null, first: -1, count: 0 };
  }

  // Points a shape at its instances, which start with number `first`.
  place(shape, first, count) {
    shape.count = count;
    if (shape.array && shape.first === first) return;
    const gl = this.gl;
    shape.array ??= gl.createVertexArray();
    shape.first = first;
    gl.bindVertexArray(shape.array);
    gl.bindBuffer(gl.ELEMENT_ARRAY_BUFFER, shape.elements);
    gl.bindBuffer(gl.ARRAY_BUFFER, shape.vertices);
    gl.enableVertexAttribArray(0);
    gl.vertexAttribPointer(0, 3, gl.FLOAT, false, 0, 0);
    gl.enableVertexAttribArray(1);
    gl.vertexAttribPointer(1, 3, gl.FLOAT, false, 0, shape.positions.byteLength);
    gl.bindBuffer(gl.ARRAY_BUFFER, this.buffer);
    for (let k = 0; k < 5; k++) {
      gl.enableVertexAttribArray(2 + k);
      gl.vertexAttribPointer(2 + k, 4, gl.FLOAT, false, BYTES, first * BYTES + k * 16);
      gl.vertexAttribDivisor(2 + k, 1);
    }
    gl.bindVertexArray(null);
  }

  drop(shape) {
    this.gl.deleteBuffer(shape.vertices);
    this.gl.deleteBuffer(shape.elements);
    this.gl.deleteVertexArray(shape.array);
  }

  // The boxes of all parts when shut, and how far each moves per unit of pulling apart: from its module's middle, and the
  // module from the kit's.
  measure() {
    const rows = new Float32Array(12);
    const whole = emptyBox();
    const modules = new Map();
    for (const part of this.parts) {
      writePose(rows, 0, part.place, part.extras, 0, [0, 0, 0]);
      for (const { primitive } of part.at) takeIn(part.box, rows, 0, primitive.min, primitive.max);
      if (!modules.has(part.module)) modules.set(part.module, emptyBox());
      for (const box of [whole, modules.get(part.module)]) {
        for (let i = 0; i < 3; i++) {
          box[i] = Math.min(box[i], part.box[i]);
          box[i + 3] = Math.max(box[i + 3], part.box[i + 3]);
        }
      }
    }
    const centre = middleOf(whole);
    for (const part of this.parts) {
      const near = middleOf(modules.get(part.module));
      const own = middleOf(part.box);
      part.apart = own.map((v, i) => 0.9 * (v - near[i]) + 0.7 * (near[i] - centre[i]));
    }
    this.shut = whole;
  }

  // Places all parts; `openOf(body)` is 0..1, `apart` 0..1, `shown(kind)` says which are there at all.
  pose(openOf, apart, shown) {
    this.box = emptyBox();
    const move = [0, 0, 0];
    for (const part of this.parts) {
      const open = openOf(part.extras.body);
      for (let i = 0; i < 3; i++) move[i] = part.apart[i] * apart;
      for (const { at, primitive } of part.at) {
        if (!shown(part.extras.kind)) {
          this.rows.fill(0, at, at + 12);
          continue;
        }
        writePose(this.rows, at, part.place, part.extras, open, move);
        takeIn(this.box, this.rows, at, primitive.min, primitive.max);
      }
    }
    this.dirty = true;
  }

  // Sets each part's mark (0, 1 changed, 2 new) and whether it is picked.
  tell(markOf, picked) {
    for (const part of this.parts) {
      part.mark = markOf(part.name);
      for (const { at } of part.at) {
        this.rows[at + 17] = part.mark;
        this.rows[at + 18] = part.name === picked ? 1 : 0;
      }
    }
    this.dirty = true;
  }

  alpha(of) {
    for (const part of this.parts) for (const { at } of part.at) this.rows[at + 15] = of(part.extras.kind);
    this.dirty = true;
  }

  send() {
    if (!this.dirty) return;
    this.dirty = false;
    const gl = this.gl;
    gl.bindBuffer(gl.ARRAY_BUFFER, this.buffer);
    gl.bufferData(gl.ARRAY_BUFFER, this.rows, gl.DYNAMIC_DRAW);
  }

  // `toEye`, the way to the eye, is for an order that saves work.
  faces(toEye = null) {
    const gl = this.gl;
    for (const shape of toEye ? this.nearestFirst(toEye) : this.order) {
      gl.bindVertexArray(shape.array);
      gl.drawElementsInstanced(gl.TRIANGLES, shape.corners, gl.UNSIGNED_INT, 0, shape.count);
    }
  }

  // The shapes by the nearest of their parts, so that what hides the most is drawn first; bolts, which hide little, last.
  nearestFirst(toEye) {
    const [x, y, z] = toEye;
    const near = (at) => x * this.rows[at + 3] + y * this.rows[at + 7] + z * this.rows[at + 11];
    for (const shape of this.order) {
      shape.near = -Infinity;
      for (let k = 0; k < shape.count; k++) shape.near = Math.max(shape.near, near((shape.first + k) * ROW));
    }
    return [...this.order].sort((a, b) => Number(b.edged) - Number(a.edged) || b.near - a.near);
  }

  edges(shapes = this.order) {
    const gl = this.gl;
    for (const shape of shapes) {
      if (shape.ends === 0) continue;
      gl.bindVertexArray(shape.array);
      gl.drawElementsInstanced(gl.LINES, shape.ends, gl.UNSIGNED_INT, shape.corners * 4, shape.count);
    }
  }

  // The shapes that parts fulfilling `test` use.
  shapesOf(test) {
    const found = new Set();
    for (const part of this.parts.filter(test)) {
      for (const { primitive } of part.at) found.add(this.shapes.get(primitive.key));
    }
    return found;
  }
}

// Whether two arrays hold the same bits.
function same(a, b) {
  if (a.length !== b.length) return false;
  const x = new Uint32Array(a.buffer, a.byteOffset, a.length);
  const y = new Uint32Array(b.buffer, b.byteOffset, b.length);
  for (let i = 0; i < x.length; i++) if (x[i] !== y[i]) return false;
  return true;
}
