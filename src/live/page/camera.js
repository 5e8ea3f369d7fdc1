// The eye that goes round the kit: where it stands, what mouse, fingers and keys do to it, and its matrix.
// Vehicle frame in mm: x forward, y left, z up. `yaw` 180 degrees stands behind the tailgate.

const TAN = Math.tan((28 * Math.PI) / 360); // half of the angle of view
const STEEP = Math.PI / 2;

export const VIEWS = {
  tailgate: [Math.PI, 0],
  side: [Math.PI / 2, 0],
  above: [Math.PI, STEEP],
  slanted: [Math.PI * 0.8, 0.42],
};

export class Camera {
  constructor() {
    [this.yaw, this.pitch] = VIEWS.slanted;
    this.target = [500, 0, 400];
    this.distance = 4000;
    this.aspect = 1.5;
  }

  // Unit vectors to the right, up, and from the target to the eye.
  basis() {
    const cy = Math.cos(this.yaw);
    const sy = Math.sin(this.yaw);
    const cp = Math.cos(this.pitch);
    const sp = Math.sin(this.pitch);
    return { right: [-sy, cy, 0], up: [-sp * cy, -sp * sy, cp], back: [cp * cy, cp * sy, sp] };
  }

  turn(dx, dy) {
    this.yaw -= dx;
    this.pitch = Math.max(-STEEP, Math.min(STEEP, this.pitch + dy));
  }

  // Shifts by shares of the picture's height.
  shift(dx, dy) {
    const { right, up } = this.basis();
    const size = 2 * TAN * this.distance;
    for (let i = 0; i < 3; i++) this.target[i] += (-right[i] * dx + up[i] * dy) * size;
  }

  nearer(factor) {
    this.distance = Math.max(60, Math.min(60000, this.distance * factor));
  }

  look(view) {
    [this.yaw, this.pitch] = VIEWS[view];
  }

  // Keeps the direction and takes in the whole box.
  fit(box) {
    if (!(box[0] <= box[3])) return;
    const { right, up, back } = this.basis();
    const tanX = TAN * this.aspect;
    this.target = [(box[0] + box[3]) / 2, (box[1] + box[4]) / 2, (box[2] + box[5]) / 2];
    let need = 100;
    for (let corner = 0; corner < 8; corner++) {
      const d = [0, 1, 2].map((i) => ((corner >> i) & 1 ? box[i + 3] : box[i]) - this.target[i]);
      const along = (v) => d[0] * v[0] + d[1] * v[1] + d[2] * v[2];
      need = Math.max(need, along(back) + Math.abs(along(right)) / tanX, along(back) + Math.abs(along(up)) / TAN);
    }
    this.distance = need * 1.06;
  }

  // The matrix to clip space (16, column by column) with depth enough for a ball of `reach` round the target.
  matrix(reach) {
    const { right, up, back } = this.basis();
    const far = this.distance + reach;
    const near = Math.max(this.distance - reach, far / 2000, 5);
    const eye = this.target.map((v, i) => v + back[i] * this.distance);
    const along = (v) => v[0] * eye[0] + v[1] * eye[1] + v[2] * eye[2];
    const fy = 1 / TAN;
    const fx = fy / this.aspect;
    const a = (far + near) / (near - far);
    const b = (2 * far * near) / (near - far);
    const m = new Float32Array(16);
    for (let i = 0; i < 3; i++) {
      m[i * 4] = fx * right[i];
      m[i * 4 + 1] = fy * up[i];
      m[i * 4 + 2] = a * back[i];
      m[i * 4 + 3] = -back[i];
    }
    m[12] = -fx * along(right);
    m[13] = -fy * along(up);
    m[14] = -a * along(back) + b;
    m[15] = along(back);
    return m;
  }
}

// Lets the pointer and the keys on `canvas` drive `camera`. `on.moved()` follows every change, `on.clicked(x, y)` a click in
// pixels of the page, `on.fit()` and `on.released()` the keys for them.
export function steer(canvas, camera, on) {
  const held = new Map(); // pointers that are down, by id
  let start = null; // where a click began; null once it has become a drag
  let gap = 0;

  canvas.addEventListener("pointerdown", (event) => {
    canvas.setPointerCapture(event.pointerId);
    held.set(event.pointerId, [event.clientX, event.clientY]);
    start = held.size === 1 && event.button === 0 ? [event.clientX, event.clientY] : null;
    gap = spread(held);
  });
  canvas.addEventListener("pointermove", (event) => {
    const last = held.get(event.pointerId);
    if (!last) return;
    const slack = event.pointerType === "touch" ? 9 : 4;
    if (start && Math.hypot(event.clientX - start[0], event.clientY - start[1]) < slack) return;
    start = null;
    const dx = event.clientX - last[0];
    const dy = event.clientY - last[1];
    held.set(event.pointerId, [event.clientX, event.clientY]);
    const height = canvas.clientHeight;
    if (held.size > 1) {
      const now = spread(held);
      if (gap > 0 && now > 0) camera.nearer(gap / now);
      gap = now;
      camera.shift(dx / held.size / height, dy / held.size / height);
    } else if (event.shiftKey || event.buttons & 6) {
      camera.shift(dx / height, dy / height);
    } else {
      camera.turn((dx * 3.2) / height, (dy * 3.2) / height);
    }
    on.moved();
  });
  const release = (event) => {
    if (!held.delete(event.pointerId)) return;
    gap = spread(held);
    if (event.type === "pointerup" && start && held.size === 0) on.clicked(event.clientX, event.clientY);
    start = null;
  };
  canvas.addEventListener("pointerup", release);
  canvas.addEventListener("pointercancel", release);
  canvas.addEventListener("contextmenu", (event) => event.preventDefault());
  canvas.addEventListener("wheel", (event) => {
    event.preventDefault();
    const lines = event.deltaMode === 1 ? 30 : 1;
    camera.nearer(Math.exp(Math.max(-300, Math.min(300, event.deltaY * lines)) * 0.0014));
    on.moved();
  }, { passive: false });
  canvas.addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.altKey || event.metaKey) return;
    const arrow = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }[event.key];
    if (arrow && event.shiftKey) camera.shift(arrow[0] * 0.05, arrow[1] * 0.05);
    else if (arrow) camera.turn(arrow[0] * 0.09, arrow[1] * 0.09);
    else if (event.key === "+" || event.key === "=") camera.nearer(0.9);
    else if (event.key === "-") camera.nearer(1 / 0.9);
    else if (event.key === "0") on.fit();
    else return;
    event.preventDefault();
    on.moved();
  });
}

function spread(held) {
  if (held.size < 2) return 0;
  const [a, b] = held.values();
  return Math.hypot(a[0] - b[0], a[1] - b[1]);
}
