// One model as a single mesh, every part moved to its place beforehand. A processor that stands in for a graphics card takes each
// part's draw by itself, which costs it more than the triangles do: here there is one draw for all faces and one for all edges.

import { sharpEdges } from "./edges.js";
import { ROW, Solids } from "./solids.js";

const SHORT = 13; // mm: edges below are a dot or two, most boards' own thickness among them
const BYTES = 36; // per corner: place and normal in the vehicle frame, colour, facts

export class Merged extends Solids {
  constructor(gl) {
    super(gl);
    this.array = gl.createVertexArray();
    this.corners = gl.createBuffer();
    this.elements = gl.createBuffer();
    gl.bindVertexArray(this.array);
    gl.bindBuffer(gl.ELEMENT_ARRAY_BUFFER, this.elements);
    gl.bindBuffer(gl.ARRAY_BUFFER, this.corners);
    const attributes = [[0, 3, gl.FLOAT, false, 0], [1, 3, gl.FLOAT, false, 12],
      [5, 4, gl.UNSIGNED_BYTE, true, 24], [6, 4, gl.UNSIGNED_SHORT, false, 28]];
    for (const [place, size, type, shares, at] of attributes) {
      gl.enableVertexAttribArray(place);
      gl.vertexAttribPointer(place, size, type, shares, BYTES, at);
    }
    gl.bindVertexArray(null);
  }

  load(model, firstNumber = 1) {
    super.load(model, firstNumber);
    // The corners of all instances one after the other; all triangles, then shape by shape the edges.
    const sum = (of) => this.order.reduce((all, shape) => all + shape.count * of(shape), 0);
    this.total = sum((shape) => shape.positions.length / 3);
    this.faceEnds = sum((shape) => shape.indices.length);
    const elements = new Uint32Array(this.faceEnds + sum((shape) => shape.sharp.length));
    let [face, edge, corner] = [0, this.faceEnds, 0];
    for (const shape of this.order) {
      shape.from = edge;
      shape.ends = shape.count * shape.sharp.length;
      for (let k = 0; k < shape.count; k++) {
        for (const v of shape.indices) elements[face++] = corner + v;
        for (const v of shape.sharp) elements[edge++] = corner + v;
        corner += shape.positions.length / 3;
      }
    }
    const gl = this.gl;
    gl.bindVertexArray(this.array);
    gl.bufferData(gl.ELEMENT_ARRAY_BUFFER, elements, gl.STATIC_DRAW);
    gl.bindVertexArray(null);
    this.edgeEnds = elements.length - this.faceEnds;
  }

  upload({ positions, normals, indices }, edged) {
    return { edged, sharp: edged ? sharpEdges(indices, positions, normals, SHORT) : new Uint32Array(0), count: 0, first: 0 };
  }

  place(shape, first, count) {
    Object.assign(shape, { first, count });
  }

  drop() {}

  send() {
    if (!this.dirty) return;
    this.dirty = false;
    const buffer = new ArrayBuffer(this.total * BYTES);
    const lengths = new Float32Array(buffer);
    const bytes = new Uint8ClampedArray(buffer);
    const facts = new Uint16Array(buffer);
    let at = 0; // corner
    for (const { positions, normals, first, count } of this.order) {
      for (let row = first * ROW; row < (first + count) * ROW; row += ROW) {
        const [a, b, c, d, e, f, g, h, i, j, k, l, red, green, blue, alpha, number, mark, picked] =
          this.rows.subarray(row, row + ROW);
        for (let v = 0; v < positions.length; v += 3, at++) {
          const [x, y, z] = [positions[v], positions[v + 1], positions[v + 2]];
          const [nx, ny, nz] = [normals[v], normals[v + 1], normals[v + 2]];
          const number4 = at * (BYTES / 4);
          lengths[number4] = a * x + b * y + c * z + d;
          lengths[number4 + 1] = e * x + f * y + g * z + h;
          lengths[number4 + 2] = i * x + j * y + k * z + l;
          lengths[number4 + 3] = a * nx + b * ny + c * nz;
          lengths[number4 + 4] = e * nx + f * ny + g * nz;
          lengths[number4 + 5] = i * nx + j * ny + k * nz;
          const byte = at * BYTES + 24;
          bytes[byte] = red * 255;
          bytes[byte + 1] = green * 255;
          bytes[byte + 2] = blue * 255;
          bytes[byte + 3] = alpha * 255;
          const fact = at * (BYTES / 2) + 14;
          facts[fact] = number;
          facts[fact + 1] = mark;
          facts[fact + 2] = picked;
        }
      }
    }
    const gl = this.gl;
    gl.bindBuffer(gl.ARRAY_BUFFER, this.corners);
    gl.bufferData(gl.ARRAY_BUFFER, buffer, gl.DYNAMIC_DRAW);
  }

  faces() {
    this.draw(this.gl.TRIANGLES, 0, this.faceEnds);
  }

  edges(shapes = null) {
    const parts = shapes ? [...shapes].map((shape) => [shape.from, shape.ends]) : [[this.faceEnds, this.edgeEnds]];
    for (const [from, ends] of parts) this.draw(this.gl.LINES, from, ends);
  }

  draw(mode, from, ends) {
    if (!ends) return;
    const gl = this.gl;
    gl.bindVertexArray(this.array);
    // All corners stand where they belong.
    gl.vertexAttrib4f(2, 1, 0, 0, 0);
    gl.vertexAttrib4f(3, 0, 1, 0, 0);
    gl.vertexAttrib4f(4, 0, 0, 1, 0);
    gl.drawElements(mode, ends, gl.UNSIGNED_INT, from * 4);
  }
}
