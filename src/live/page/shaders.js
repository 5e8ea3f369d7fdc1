// The three programs of the view: faces, edges, and the one that paints part numbers to find what was clicked.
// All take a part's place, colour and marks from per-instance attributes. Each is there twice: one stops at the section plane,
// one knows of none. What may leave out a dot is asked of every dot, also of those that something nearer hides.

const PLACED = `#version 300 es
layout(location = 0) in vec3 position;
layout(location = 1) in vec3 normal;
layout(location = 2) in vec4 rowX;
layout(location = 3) in vec4 rowY;
layout(location = 4) in vec4 rowZ;
layout(location = 5) in vec4 colour;
layout(location = 6) in vec4 facts; // number of the part, mark (1 changed, 2 new), picked, unused
uniform mat4 toClip;
uniform vec4 plane; // what lies beyond it is cut away
out float beyond;
void place() {
  vec4 p = vec4(position, 1.0);
  vec3 inVehicle = vec3(dot(rowX, p), dot(rowY, p), dot(rowZ, p));
  beyond = dot(plane.xyz, inVehicle) - plane.w;
  gl_Position = toClip * vec4(inVehicle, 1.0);
}
`;

const FACES_VERTEX = `${PLACED}
out vec3 face;
flat out vec4 tint;
flat out vec2 mark;
void main() {
  place();
  face = vec3(dot(rowX.xyz, normal), dot(rowY.xyz, normal), dot(rowZ.xyz, normal));
  tint = colour;
  mark = facts.yz;
}`;

const FACES_FRAGMENT = `#version 300 es
precision highp float;
precision highp int;
in vec3 face;
in float beyond;
flat in vec4 tint;
flat in vec2 mark;
uniform vec3 toEye;
uniform float showMarks;
uniform vec3 changedColour;
uniform vec3 newColour;
uniform vec3 pickedColour;
uniform float grain; // device pixels per pixel of the page
uniform float solid; // 1: bodies, whose cut is filled; 0: the thin bay
out vec4 paint;
void main() {
  CUT
  vec3 base = tint.rgb;
  vec2 at = gl_FragCoord.xy / grain;
  if (mark.y > 0.5) base = mix(base, pickedColour, 0.72);
  else if (showMarks > 0.5 && mark.x > 1.5) {
    vec2 cell = mod(at, 9.0) - 4.5;
    if (dot(cell, cell) < 5.5) base = newColour;
  } else if (showMarks > 0.5 && mark.x > 0.5) {
    if (mod(at.x + at.y, 11.0) < 3.6) base = changedColour;
  }
  if (solid > 0.5 && !gl_FrontFacing) {
    // The inside shows only where the section opened the body: fill it, finely hatched the other way.
    float stripe = mod(at.x - at.y, 6.0) < 1.6 ? 0.45 : 0.72;
    paint = vec4(mix(base, vec3(0.5), 0.25) * stripe, 1.0);
    return;
  }
  vec3 n = normalize(face);
  if (!gl_FrontFacing) n = -n;
  float light = 0.56 + 0.27 * max(dot(n, toEye), 0.0) + 0.24 * max(dot(n, vec3(-0.42, 0.36, 0.83)), 0.0);
  paint = vec4(base * light, tint.a);
}`;

const EDGES_VERTEX = `${PLACED}
uniform int which; // 0: edges of all; 1: of what is new or changed; 2: of what is picked
uniform vec2 shift; // in clip units, to draw an edge several times side by side
flat out float mark;
void main() {
  place();
  mark = facts.y;
  gl_Position.xy += shift * gl_Position.w;
  bool wanted = which == 0 || (which == 1 && facts.y > 0.5) || (which == 2 && facts.z > 0.5);
  if (!wanted) gl_Position = vec4(2.0, 2.0, 2.0, 1.0);
}`;

const EDGES_FRAGMENT = `#version 300 es
precision highp float;
precision highp int;
in float beyond;
flat in float mark;
uniform int which;
uniform vec4 edgeColour;
uniform vec3 changedColour;
uniform vec3 newColour;
uniform vec3 pickedColour;
out vec4 paint;
void main() {
  CUT
  if (which == 0) paint = edgeColour;
  else if (which == 1) paint = vec4(mark > 1.5 ? newColour : changedColour, 1.0);
  else paint = vec4(pickedColour, 1.0);
}`;

const NUMBERS_VERTEX = `${PLACED}
flat out float number;
void main() {
  place();
  number = facts.x;
}`;

const NUMBERS_FRAGMENT = `#version 300 es
precision highp float;
precision highp int;
in float beyond;
flat in float number;
out vec4 paint;
void main() {
  CUT
  int n = int(number + 0.5);
  paint = vec4(float(n & 255), float((n >> 8) & 255), float((n >> 16) & 255), 255.0) / 255.0;
}`;

// Of the programs for a view with a section or without one.
export function programs(gl, section) {
  const cut = (fragment) => fragment.replace("CUT", section ? "if (beyond > 0.0) discard;" : "");
  return {
    faces: link(gl, FACES_VERTEX, cut(FACES_FRAGMENT)),
    edges: link(gl, EDGES_VERTEX, cut(EDGES_FRAGMENT)),
    numbers: link(gl, NUMBERS_VERTEX, cut(NUMBERS_FRAGMENT)),
  };
}

// A linked program with the places of its uniforms by name.
function link(gl, vertex, fragment) {
  const program = gl.createProgram();
  for (const [type, text] of [[gl.VERTEX_SHADER, vertex], [gl.FRAGMENT_SHADER, fragment]]) {
    const shader = gl.createShader(type);
    gl.shaderSource(shader, text);
    gl.compileShader(shader);
    gl.attachShader(program, shader);
    gl.deleteShader(shader);
  }
  gl.linkProgram(program);
  if (!gl.getProgramParameter(program, gl.LINK_STATUS) && !gl.isContextLost()) {
    throw new Error(`the view's program cannot be used: ${gl.getProgramInfoLog(program)}`);
  }
  const uniforms = {};
  const n = gl.getProgramParameter(program, gl.ACTIVE_UNIFORMS) ?? 0;
  for (let i = 0; i < n; i++) {
    const { name } = gl.getActiveUniform(program, i);
    uniforms[name] = gl.getUniformLocation(program, name);
  }
  return { program, uniforms };
}
