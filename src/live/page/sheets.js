// The sheets with their parts, drawn from the path data of the state. A part is a button: one click picks it.

import { byId, keep, make, makeSvg, rove, say, trim } from "./dom.js";

const WORDS = { changed: "changed", new: "new" };

export function prepareSheets(onPick) {
  const body = byId("sheets-body");
  const partOf = (event) => event.target.closest("g[data-name]");
  body.addEventListener("click", (event) => {
    const part = partOf(event);
    if (part) onPick(part.dataset.name);
  });
  body.addEventListener("keydown", (event) => {
    const part = partOf(event);
    if (!part) return;
    if (rove(event, () => [...part.parentNode.querySelectorAll("g[data-name]")])) return;
    if (event.key !== "Enter" && event.key !== " ") return;
    event.preventDefault();
    onPick(part.dataset.name);
  });
}

export function showSheets(kit, picked) {
  // While a kit's sheets are not laid yet, the former ones stay, so that nothing jumps; they are said to be former.
  const former = kit.sheets === null && byId("sheets-body").firstChild !== null;
  byId("sheets-body").classList.toggle("former", former);
  say(byId("nesting"), said(kit, former));
  if (kit.sheets === null) return;
  const numbers = new Map(kit.parts.map((part, i) => [part.name, i + 1]));
  const items = kit.sheets.map((sheet) => ({ ...sheet, numbers: sheet.parts.map((part) => numbers.get(part.name) ?? null) }));
  keep(byId("sheets-body"), items, (sheet) => sheet.name, draw);
  pickOnSheets(picked);
}

function said(kit, former) {
  if (former) return "of the kit before; those of this one are being laid";
  if (kit.sheets === null) return "being laid";
  return kit.nesting === "improving" ? "a better nesting is being looked for" : "";
}

export function pickOnSheets(name) {
  for (const part of byId("sheets-body").querySelectorAll("g[data-name]")) {
    const is = part.dataset.name === name;
    part.classList.toggle("picked", is);
    part.setAttribute("aria-pressed", String(is));
  }
}

function draw(sheet) {
  const { length, width } = sheet;
  const text = `${sheet.material}, ${trim(length, 1)} × ${trim(width, 1)} mm, ${trim(sheet.used * 100, 1)} % used`;
  return make("figure", { class: "sheet", "data-sheet": sheet.name },
    make("figcaption", {}, make("strong", {}, sheet.name), `: ${text}`),
    makeSvg("svg", { viewBox: `0 0 ${length} ${width}`, role: "group", "aria-label": `Sheet ${sheet.name}, ${text}` },
      ...sheet.parts.map((part, i) => partOn(part, i, sheet.numbers[i], Math.max(length / 44, width / 34)))));
}

function partOn(part, i, number, letter) {
  const word = WORDS[part.changed] ?? "";
  const label = labelFor(part, number, letter);
  return makeSvg("g", {
    "data-name": part.name, class: word || null, role: "button", tabindex: i === 0 ? "0" : "-1",
    "aria-pressed": "false", "aria-label": word ? `${part.name}, ${word}` : part.name,
  },
    makeSvg("title", {}, word ? `${part.name} (${word})` : part.name),
    makeSvg("path", { d: part.path }),
    label && makeSvg("text", {
      x: label.x, y: label.y, "font-size": trim(letter, 1), transform: label.lies ? null : `rotate(-90 ${label.x} ${label.y})`,
    }, label.text));
}

// The longest text that finds room in the part, with its place: the name, else the number, else none. Tried first is the
// place that the state names, then a grid of others; a text that fits no way lying is tried upright.
function labelFor(part, number, letter) {
  const rings = ringsOf(part.path);
  if (!rings?.length) return null;
  const room = { outline: rings[0], box: boxOf(rings[0]), openings: rings.slice(1).map(boxOf) };
  const { box } = room;
  for (const text of [part.name, number === null ? null : String(number)]) {
    if (!text) continue;
    const long = text.length * letter * 0.58 + letter * 0.5;
    const high = letter * 1.25;
    for (const [across, down, lies] of [[long, high, true], [high, long, false]]) {
      if (across > box[2] - box[0] || down > box[3] - box[1]) continue;
      const place = placeFor(room, [part.x, part.y], across / 2, down / 2);
      if (place) return { text, x: trim(place[0], 1), y: trim(place[1], 1), lies };
    }
  }
  return null;
}

const STEPS = [0.5, 0.35, 0.65, 0.2, 0.8, 0.1, 0.9];

function placeFor({ outline, box, openings }, first, across, down) {
  const free = (x, y) => {
    if (openings.some((o) => o[0] < x + across && o[2] > x - across && o[1] < y + down && o[3] > y - down)) return false;
    for (const i of [0, -1, 1, -0.5, 0.5]) {
      for (const j of [0, -1, 1]) if (!inside(outline, x + i * across, y + j * down)) return false;
    }
    return true;
  };
  if (free(...first)) return first;
  for (const v of STEPS) {
    for (const u of STEPS) {
      const x = box[0] + across + u * (box[2] - box[0] - 2 * across);
      const y = box[1] + down + v * (box[3] - box[1] - 2 * down);
      if (free(x, y)) return [x, y];
    }
  }
  return null;
}

// Whether a point is within a ring: a line from it to the right crosses the ring an odd number of times.
function inside(ring, x, y) {
  let is = false;
  for (let i = 0, j = ring.length - 2; i < ring.length; j = i, i += 2) {
    if (ring[i + 1] > y === ring[j + 1] > y) continue;
    const crossing = ring[i] + ((ring[j] - ring[i]) * (y - ring[i + 1])) / (ring[j + 1] - ring[i + 1]);
    if (x < crossing) is = !is;
  }
  return is;
}

// The corners of a path's rings, x and y in turn, the outline first; null where it has other commands than straight lines
// between points.
function ringsOf(path) {
  if (/[^MLZ\d\s.,e-]/.test(path)) return null;
  return path.split("M").slice(1).map((ring) => ring.match(/-?[\d.]+(?:e-?\d+)?/g).map(Number));
}

function boxOf(ring) {
  const box = [Infinity, Infinity, -Infinity, -Infinity];
  for (let i = 0; i < ring.length; i += 2) {
    box[0] = Math.min(box[0], ring[i]);
    box[1] = Math.min(box[1], ring[i + 1]);
    box[2] = Math.max(box[2], ring[i]);
    box[3] = Math.max(box[3], ring[i + 1]);
  }
  return box;
}
