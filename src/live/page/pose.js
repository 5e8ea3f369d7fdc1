// Where a part stands when its body is partly open and the kit is pulled apart. Pure arithmetic in the vehicle frame, mm.

// The last piece of the slider's way lowers what drops at the end of its slides.
const DROP_FROM = 0.85;

// Writes three rows of a placement to `out` from `at` on: `place` (16, column by column), moved by the opening, then by
// `apart` (3).
export function writePose(out, at, place, extras, open, apart) {
  let dx = apart[0];
  let dy = apart[1];
  let dz = apart[2];
  if (open > 0 && extras.travel) {
    const way = extras.travel * (extras.drop ? Math.min(1, open / DROP_FROM) : open);
    dx += extras.direction[0] * way;
    dy += extras.direction[1] * way;
    dz += extras.direction[2] * way;
  }
  if (open > DROP_FROM && extras.drop) dz -= (extras.drop * (open - DROP_FROM)) / (1 - DROP_FROM);
  for (let row = 0; row < 3; row++) {
    for (let col = 0; col < 4; col++) out[at + row * 4 + col] = place[col * 4 + row];
  }
  if (open > 0 && extras.hinge) turn(out, at, extras.hinge, open);
  out[at + 3] += dx;
  out[at + 7] += dy;
  out[at + 11] += dz;
}

// Turns the rows about the hinge by its share of the full angle.
function turn(out, at, hinge, open) {
  const angle = (hinge.degrees * open * Math.PI) / 180;
  const c = Math.cos(angle);
  const s = Math.sin(angle);
  const size = Math.hypot(...hinge.axis);
  const [x, y, z] = hinge.axis.map((v) => v / size);
  const k = 1 - c;
  const r = [
    c + x * x * k, x * y * k - z * s, x * z * k + y * s,
    y * x * k + z * s, c + y * y * k, y * z * k - x * s,
    z * x * k - y * s, z * y * k + x * s, c + z * z * k,
  ];
  for (let col = 0; col < 4; col++) {
    const far = col === 3 ? 1 : 0;
    const a = out[at + col] - far * hinge.at[0];
    const b = out[at + 4 + col] - far * hinge.at[1];
    const d = out[at + 8 + col] - far * hinge.at[2];
    for (let row = 0; row < 3; row++) {
      out[at + row * 4 + col] = r[row * 3] * a + r[row * 3 + 1] * b + r[row * 3 + 2] * d + far * hinge.at[row];
    }
  }
}

// A box that grows: [low x, y, z, high x, y, z].
export const emptyBox = () => [Infinity, Infinity, Infinity, -Infinity, -Infinity, -Infinity];

// Lets `box` take in the box min..max as it lies under the rows at `at`.
export function takeIn(box, rows, at, min, max) {
  for (let row = 0; row < 3; row++) {
    const r = at + row * 4;
    let middle = rows[r + 3];
    let half = 0;
    for (let col = 0; col < 3; col++) {
      middle += (rows[r + col] * (min[col] + max[col])) / 2;
      half += (Math.abs(rows[r + col]) * (max[col] - min[col])) / 2;
    }
    box[row] = Math.min(box[row], middle - half);
    box[row + 3] = Math.max(box[row + 3], middle + half);
  }
}

export const middleOf = (box) => [(box[0] + box[3]) / 2, (box[1] + box[4]) / 2, (box[2] + box[5]) / 2];
