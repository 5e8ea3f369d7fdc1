// The view in space: draws kit and bay when something changed and never otherwise, cuts them open, and finds what part
// lies under a click.

import { Camera, steer } from "./camera.js";
import { programs } from "./shaders.js";
import { Merged } from "./merged.js";
import { Solids } from "./solids.js";

const MARKS = { "": 0, changed: 1, new: 2 };
const THIN = { bay: 0.06, arch: 0.3, door: 0.06 };
const AXES = { x: 0, y: 1, z: 2 };
// mm from the eye to what it looks at, beyond which the plain model does where no graphics card helps; once it is there, it stays
// until the eye is so much nearer.
const AFAR = 2000;
const NEARER = 0.9;

export class Viewer {
  // `onPick(name or null)` follows a click, `onDetail()` a look for which the other model is the right one. Throws when the browser
  // has no WebGL 2.
  constructor(canvas, onPick, onDetail) {
    this.canvas = canvas;
    this.slow = drawsOnProcessor();
    this.fine = !this.slow; // whether every hole is to be there
    this.onDetail = onDetail;
    this.gl = canvas.getContext("webgl2", { antialias: !this.slow, alpha: false, powerPreference: "high-performance" });
    if (!this.gl) throw new Error("This browser offers no WebGL 2, which the view in space needs.");
    this.camera = new Camera();
    this.marks = new Map();
    this.picked = null;
    this.openAll = 0;
    this.openOne = new Map(); // bodies that were opened on their own
    this.apart = 0;
    this.section = { axis: "", share: 0.5, flip: false };
    this.shown = { bay: true, arch: true, door: true, edges: true, marks: true };
    this.asked = null; // takes back a frame that was asked for
    this.framed = false; // whether a kit was ever fitted into the picture
    this.models = {};
    this.prepare();
    steer(canvas, this.camera, {
      moved: () => this.ask(),
      fit: () => this.fit(),
      clicked: (x, y) => onPick(this.under(x, y)),
    });
    new ResizeObserver(() => this.ask()).observe(canvas);
    canvas.addEventListener("webglcontextlost", (event) => event.preventDefault());
    canvas.addEventListener("webglcontextrestored", () => {
      this.prepare();
      if (this.models.kit) this.show(this.models.kit, this.models.bay, this.marks);
    });
  }

  prepare() {
    const gl = this.gl;
    this.programs = { whole: programs(gl, false), cut: null };
    // Whoever draws on a processor has what is plain in one piece.
    this.kits = { fine: new Solids(gl), plain: this.slow ? new Merged(gl) : new Solids(gl) };
    this.kit = this.kits.plain;
    this.bay = this.slow ? new Merged(gl) : new Solids(gl);
    this.target = gl.createFramebuffer();
    this.targetColour = gl.createRenderbuffer();
    this.targetDepth = gl.createRenderbuffer();
    gl.bindFramebuffer(gl.FRAMEBUFFER, this.target);
    gl.bindRenderbuffer(gl.RENDERBUFFER, this.targetColour);
    gl.renderbufferStorage(gl.RENDERBUFFER, gl.RGBA8, 1, 1);
    gl.framebufferRenderbuffer(gl.FRAMEBUFFER, gl.COLOR_ATTACHMENT0, gl.RENDERBUFFER, this.targetColour);
    gl.bindRenderbuffer(gl.RENDERBUFFER, this.targetDepth);
    gl.renderbufferStorage(gl.RENDERBUFFER, gl.DEPTH_COMPONENT16, 1, 1);
    gl.framebufferRenderbuffer(gl.FRAMEBUFFER, gl.DEPTH_ATTACHMENT, gl.RENDERBUFFER, this.targetDepth);
    gl.bindFramebuffer(gl.FRAMEBUFFER, null);
    this.recolour();
  }

  // Takes the page's colours, which differ between light and dark.
  recolour() {
    const style = getComputedStyle(this.canvas);
    const dye = document.createElement("i");
    this.canvas.after(dye);
    const read = (name) => {
      dye.style.color = `var(--${name})`;
      return rgb(getComputedStyle(dye).color);
    };
    this.colours = {
      ground: rgb(style.backgroundColor), edge: rgb(style.color),
      changed: read("changed"), new: read("new"), picked: read("picked"),
    };
    dye.remove();
    this.ask();
  }

  // Shows models from readGlb; one that is the same object as before is not touched. `marks`: part name -> "changed" | "new".
  show(kit, bay, marks) {
    this.marks = marks;
    const { fine, plain } = this.kits;
    const [now, other] = kit.fine ? [fine, plain] : [plain, fine];
    this.kit = now;
    if (kit !== this.models.kit || now.parts.length === 0) now.load(kit);
    if (other.parts.length > 0) other.load({ primitives: [], parts: [] });
    if (bay !== this.models.bay || this.bay.parts.length === 0) {
      this.bay.load(bay);
      this.bay.alpha((kind) => THIN[kind] ?? 0.1);
    }
    this.models = { kit, bay };
    const bodies = new Set(this.kit.parts.map((part) => part.extras.body));
    for (const body of this.openOne.keys()) if (!bodies.has(body)) this.openOne.delete(body);
    this.repose();
    this.retell();
    if (!this.framed) {
      this.framed = true;
      this.fit();
    }
  }

  repose() {
    const openOf = (body) => this.openOne.get(body) ?? this.openAll;
    this.kit.pose(openOf, this.apart, () => true);
    this.bay.pose(() => 0, 0, (kind) => this.shown[kind] ?? true);
    this.ask();
  }

  retell() {
    this.kit.tell((name) => MARKS[this.marks.get(name) ?? ""], this.picked);
    this.pickedShapes = this.kit.shapesOf((part) => part.name === this.picked);
    this.markedShapes = this.kit.shapesOf((part) => part.mark > 0);
    this.ask();
  }

  pick(name) {
    this.picked = name;
    this.retell();
  }

  part(name) {
    return this.kit.parts.find((part) => part.name === name);
  }

  fit() {
    this.size();
    this.camera.fit(this.everything(this.kit.box));
    this.ask();
  }

  // The kit's box, and the bay's where it is shown.
  everything(kit) {
    const box = [...kit];
    for (let i = 0; i < 3; i++) {
      box[i] = Math.min(box[i], this.bay.box[i]);
      box[i + 3] = Math.max(box[i + 3], this.bay.box[i + 3]);
    }
    return box;
  }

  // The section plane, and where it stands in mm; null when nothing is cut.
  plane() {
    const i = AXES[this.section.axis];
    if (i === undefined || !this.kit.shut) return null;
    const box = this.everything(this.kit.shut);
    const at = box[i] + (box[i + 3] - box[i]) * this.section.share;
    const sign = this.section.flip ? -1 : 1;
    const plane = [0, 0, 0, sign * at];
    plane[i] = sign;
    return { plane, at };
  }

  // Draws with the next frame of the page.
  ask() {
    if (this.asked) return;
    // A page in the background gets no animation frames, but its state must not stand still.
    if (document.hidden) {
      const timer = setTimeout(() => this.now(), 0);
      this.asked = () => clearTimeout(timer);
    } else {
      const frame = requestAnimationFrame(() => this.now());
      this.asked = () => cancelAnimationFrame(frame);
    }
  }

  // Draws at once, so that the drawing is under way while the page goes on. It is shown with the page's next frame.
  now() {
    this.asked?.();
    this.asked = null;
    this.draw();
  }

  // Calls back once the graphics card, or the processor in its place, has worked off all that was asked of it.
  finished(then) {
    const gl = this.gl;
    const fence = gl.fenceSync(gl.SYNC_GPU_COMMANDS_COMPLETE, 0);
    gl.flush();
    const look = () => {
      const open = fence && !gl.isContextLost() && gl.clientWaitSync(fence, 0, 0) === gl.TIMEOUT_EXPIRED;
      if (open) {
        setTimeout(look, 1);
        return;
      }
      gl.deleteSync(fence);
      then();
    };
    setTimeout(look, 0);
  }

  size() {
    const dense = Math.min(window.devicePixelRatio || 1, this.slow ? 1 : 2);
    const width = Math.max(1, Math.round(this.canvas.clientWidth * dense));
    const height = Math.max(1, Math.round(this.canvas.clientHeight * dense));
    if (this.canvas.width !== width) this.canvas.width = width;
    if (this.canvas.height !== height) this.canvas.height = height;
    this.camera.aspect = width / height;
    return dense;
  }

  reach() {
    const box = this.everything(this.kit.box);
    if (!(box[0] <= box[3])) return 1000;
    const t = this.camera.target;
    let reach = 0;
    for (let corner = 0; corner < 8; corner++) {
      reach = Math.max(reach, Math.hypot(...t.map((v, i) => ((corner >> i) & 1 ? box[i + 3] : box[i]) - v)));
    }
    return reach + 10;
  }

  // Takes up the program of that name; those for a section are made when there is one.
  use(name, matrix) {
    if (this.section.axis) this.programs.cut ??= programs(this.gl, true);
    const { program, uniforms } = (this.section.axis ? this.programs.cut : this.programs.whole)[name];
    this.gl.useProgram(program);
    this.gl.uniformMatrix4fv(uniforms.toClip, false, matrix);
    this.gl.uniform4fv(uniforms.plane, this.plane()?.plane ?? [0, 0, 0, 1]);
    return uniforms;
  }

  // Asks for the other model where the look at it has changed so.
  judge() {
    const fine = !this.slow || this.camera.distance < AFAR * (this.fine ? 1 : NEARER);
    if (fine === this.fine || !this.framed) return;
    this.fine = fine;
    this.onDetail();
  }

  draw() {
    const gl = this.gl;
    if (gl.isContextLost()) return;
    this.judge();
    const dense = this.size();
    const matrix = this.camera.matrix(this.reach());
    this.kit.send();
    this.bay.send();
    gl.viewport(0, 0, this.canvas.width, this.canvas.height);
    gl.clearColor(...this.colours.ground, 1);
    gl.depthMask(true); // without it the depths of the last frame would not be cleared
    gl.clear(gl.COLOR_BUFFER_BIT | gl.DEPTH_BUFFER_BIT);
    gl.enable(gl.DEPTH_TEST);
    gl.depthFunc(gl.LEQUAL);
    gl.disable(gl.BLEND);
    // Backs are seen only through a section.
    if (this.section.axis) gl.disable(gl.CULL_FACE);
    else gl.enable(gl.CULL_FACE);
    gl.enable(gl.POLYGON_OFFSET_FILL);
    gl.polygonOffset(1.2, 2);

    const faces = this.use("faces", matrix);
    const { back } = this.camera.basis();
    gl.uniform3fv(faces.toEye, back);
    gl.uniform1f(faces.showMarks, this.shown.marks ? 1 : 0);
    gl.uniform3fv(faces.changedColour, this.colours.changed);
    gl.uniform3fv(faces.newColour, this.colours.new);
    gl.uniform3fv(faces.pickedColour, this.colours.picked);
    gl.uniform1f(faces.grain, dense);
    gl.uniform1f(faces.solid, 1);
    this.kit.faces(back);
    gl.disable(gl.CULL_FACE);
    gl.disable(gl.POLYGON_OFFSET_FILL);

    gl.enable(gl.BLEND);
    gl.blendFunc(gl.SRC_ALPHA, gl.ONE_MINUS_SRC_ALPHA);
    gl.depthMask(false);
    const edges = this.use("edges", matrix);
    gl.uniform3fv(edges.changedColour, this.colours.changed);
    gl.uniform3fv(edges.newColour, this.colours.new);
    gl.uniform3fv(edges.pickedColour, this.colours.picked);
    gl.uniform4f(edges.edgeColour, ...this.colours.edge, 0.6);
    this.line(edges, 0, 0);
    if (this.shown.edges) this.kit.edges();
    this.bay.edges();
    if (this.shown.marks && this.markedShapes?.size) {
      this.thick(edges, 1, 0.7 * dense, () => this.kit.edges(this.markedShapes));
    }

    this.use("faces", matrix);
    gl.uniform1f(faces.solid, 0);
    this.bay.faces();

    if (this.pickedShapes?.size) {
      this.use("edges", matrix);
      gl.disable(gl.DEPTH_TEST);
      this.thick(edges, 2, 1.2 * dense, () => this.kit.edges(this.pickedShapes));
    }
    gl.bindVertexArray(null);
  }

  line(uniforms, dx, dy) {
    this.gl.uniform2f(uniforms.shift, (2 * dx) / this.canvas.width, (2 * dy) / this.canvas.height);
  }

  // Lines are one pixel wide everywhere; a thick one is drawn four times, set apart, or twice where drawing is slow.
  thick(uniforms, which, by, drawIt) {
    this.gl.uniform1i(uniforms.which, which);
    const ways = [[by, 0], [0, by], [-by, 0], [0, -by]];
    for (const [dx, dy] of this.slow ? ways.slice(0, 2) : ways) {
      this.line(uniforms, dx, dy);
      drawIt();
    }
    this.gl.uniform1i(uniforms.which, 0);
    this.line(uniforms, 0, 0);
  }

  // The name of the part under a point of the page: the numbers of all parts, painted into the one pixel there.
  under(clientX, clientY) {
    const gl = this.gl;
    if (gl.isContextLost()) return null;
    const frame = this.canvas.getBoundingClientRect();
    const nx = ((clientX - frame.left) / frame.width) * 2 - 1;
    const ny = 1 - ((clientY - frame.top) / frame.height) * 2;
    const m = this.camera.matrix(this.reach());
    for (let col = 0; col < 4; col++) {
      m[col * 4] = (m[col * 4] - nx * m[col * 4 + 3]) * this.canvas.width;
      m[col * 4 + 1] = (m[col * 4 + 1] - ny * m[col * 4 + 3]) * this.canvas.height;
    }
    this.kit.send();
    gl.bindFramebuffer(gl.FRAMEBUFFER, this.target);
    gl.viewport(0, 0, 1, 1);
    gl.clearColor(0, 0, 0, 0);
    gl.depthMask(true);
    gl.enable(gl.DEPTH_TEST);
    gl.disable(gl.BLEND);
    gl.disable(gl.CULL_FACE);
    gl.clear(gl.COLOR_BUFFER_BIT | gl.DEPTH_BUFFER_BIT);
    this.use("numbers", m);
    this.kit.faces();
    const pixel = new Uint8Array(4);
    gl.readPixels(0, 0, 1, 1, gl.RGBA, gl.UNSIGNED_BYTE, pixel);
    gl.bindFramebuffer(gl.FRAMEBUFFER, null);
    gl.bindVertexArray(null);
    const number = pixel[0] + 256 * pixel[1] + 65536 * pixel[2];
    return number > 0 ? this.kit.parts[number - 1].name : null;
  }
}

// Whether no graphics card helps; a quick picture is then better than a smooth one. Asked of a context of its own, because
// smoothing has to be chosen when a context is made.
function drawsOnProcessor() {
  const gl = document.createElement("canvas").getContext("webgl2");
  if (!gl) return false;
  // Some browsers tell the name plainly, some only by the extension.
  let name = String(gl.getParameter(gl.RENDERER));
  if (name.startsWith("WebKit")) {
    const more = gl.getExtension("WEBGL_debug_renderer_info");
    if (more) name = String(gl.getParameter(more.UNMASKED_RENDERER_WEBGL));
  }
  gl.getExtension("WEBGL_lose_context")?.loseContext();
  return /swiftshader|llvmpipe|softpipe|software|basic render/i.test(name);
}

// The three numbers 0..1 of a computed colour.
function rgb(text) {
  const parts = text.match(/[\d.]+/g).slice(0, 3).map(Number);
  return text.startsWith("color(") ? parts : parts.map((v) => v / 255);
}
