// The strip below the view: what the picked part is, and the way to open its body, find it elsewhere, or let it go.

import { byId, make, say, sizeText, trim } from "./dom.js";

// `viewer` may be null. `unpick()` lets the part go.
export function prepareStrip(viewer, unpick) {
  byId("unpick").addEventListener("click", unpick);
  byId("open-one").addEventListener("click", () => {
    const { body } = byId("open-one").dataset;
    viewer.openOne.set(body, opening(viewer, body) > 0 ? 0 : 1);
    viewer.repose();
    showOpening(viewer, body);
  });
  for (const [id, selector] of [["to-sheet", "#sheets-body g.picked"], ["to-row", "#parts-body tr.picked"]]) {
    byId(id).addEventListener("click", () => {
      const found = document.querySelector(selector);
      found?.scrollIntoView({ block: "center" });
      (found?.querySelector("button") ?? found)?.focus({ preventScroll: true });
    });
  }
}

const opening = (viewer, body) => viewer.openOne.get(body) ?? viewer.openAll;

export function showPicked(name, kit, viewer) {
  byId("unpicked").hidden = name !== null;
  byId("picked").hidden = name === null;
  if (name === null) return;
  const part = kit?.parts.find((p) => p.name === name);
  const solid = viewer?.part(name);
  say(byId("picked-name"), name);
  const mark = byId("picked-mark");
  mark.hidden = !part?.changed;
  mark.className = `tag ${part?.changed ?? ""}`;
  say(mark, part?.changed ?? "");
  const pair = ([what, value]) => make("div", {}, make("dt", {}, what), make("dd", {}, value));
  byId("picked-facts").replaceChildren(...facts(part, solid).map(pair));
  byId("to-sheet").hidden = !part?.sheet;
  byId("to-row").hidden = !part;
  showOpening(viewer, solid?.extras.body);
}

function facts(part, solid) {
  if (!part) return [["kind", solid?.extras.kind ?? "unknown"], ["body", solid?.extras.body ?? "–"]];
  return [
    ["kind", part.kind],
    ["material", part.material || "–"],
    part.size && ["size", `${sizeText(part.size)} mm`],
    part.mass !== null && ["mass", `${trim(part.mass, 3)} kg`],
    part.bolts > 0 && ["bolts", String(part.bolts)],
    part.sheet && ["sheet", part.sheet],
    part.body && ["body", part.body],
  ].filter(Boolean);
}

// The button is there only for a body that can open.
export function showOpening(viewer, body) {
  const button = byId("open-one");
  const opens = ({ extras }) => extras.body === body && (extras.travel || extras.hinge);
  const moves = body !== undefined && viewer?.kit.parts.some(opens);
  button.hidden = !moves;
  if (!moves) return;
  button.dataset.body = body;
  say(button, opening(viewer, body) > 0 ? `Shut ${body}` : `Open ${body}`);
}
